//! All declarations of all files, by sort, in the order of the files.

use super::listed::{Listed, Said};
use super::names::Names;
use locknut_finding::Findings;
use locknut_syntax::tree::{self, Declaration, Tree, Vocabulary};

/// Declarations by sort. Of two with one name the first is kept, and the second has a finding.
#[derive(Default)]
pub(super) struct Declared<'t> {
    pub(super) kinds: Vec<KindLine<'t>>,
    pub(super) units: Vec<&'t tree::UnitDeclaration>,
    pub(super) elements: Vec<ElementLines<'t>>,
    pub(super) figures: Vec<FigureLine<'t>>,
    pub(super) formulas: Vec<FormulaLine<'t>>,
    pub(super) tables: Vec<&'t tree::Table>,
    pub(super) templates: Vec<&'t tree::Template>,
    pub(super) limits: Vec<LimitLine<'t>>,
    pub(super) things: Vec<&'t tree::Thing>,
    pub(super) models: Vec<&'t tree::Model>,
    pub(super) procedures: Vec<&'t Listed>,
}

/// `kind temperature : differences temperature-difference`
pub(super) struct KindLine<'t> {
    pub(super) name: &'t tree::Name,
    pub(super) attributes: &'t [tree::Attribute],
}

/// `element bolts { … }`
pub(super) struct ElementLines<'t> {
    pub(super) name: &'t tree::Name,
    pub(super) lines: &'t [tree::ElementLine],
    pub(super) doc: Option<&'t String>,
}

/// `thread M8 : …`
pub(super) struct FigureLine<'t> {
    pub(super) keyword: &'t tree::Name,
    pub(super) name: &'t tree::Name,
    pub(super) attributes: &'t [tree::Attribute],
    pub(super) span: locknut_finding::Span,
}

/// `formula belt-tension : force of … = …`
pub(super) struct FormulaLine<'t> {
    pub(super) formula: &'t tree::Formula,
}

/// `value discharge-time = 10 min`
#[derive(Clone, Copy)]
pub(super) struct LimitLine<'t> {
    pub(super) keyword: &'t tree::Name,
    pub(super) name: &'t tree::Name,
    pub(super) limit: &'t tree::Limit,
    pub(super) span: locknut_finding::Span,
}

impl<'t> Declared<'t> {
    /// Sorts what the files declare.
    pub(super) fn of(
        trees: impl IntoIterator<Item = &'t Tree>,
        said: &[&'t Said],
        found: &mut Findings,
    ) -> Self {
        let mut declared = Self::default();
        let mut names = Names::default();
        for declaration in trees.into_iter().flat_map(|tree| &tree.declarations) {
            declared.take(declaration, &mut names, found);
        }
        for procedure in said.iter().flat_map(|said| &said.procedures) {
            let heading = &procedure.heading;
            if names.fresh("procedure", heading.keyword(), &heading.name, found) {
                declared.procedures.push(procedure);
            }
        }
        declared
    }

    fn take(&mut self, declaration: &'t Declaration, names: &mut Names, found: &mut Findings) {
        match declaration {
            Declaration::Model(model) => {
                if names.fresh("model", "model", &model.name, found) {
                    self.models.push(model);
                }
            }
            Declaration::Thing(thing) => {
                // `using` may name either, so instruments and tools share their names.
                let group = if thing.keyword.text == "consumable" { "consumable" } else { "tool" };
                if names.fresh(group, &thing.keyword.text, &thing.name, found) {
                    self.things.push(thing);
                }
            }
            Declaration::Procedure(_) => {}
            Declaration::Limit { keyword, name, limit, span, .. } => {
                if names.fresh("limit", &keyword.text, name, found) {
                    self.limits.push(LimitLine { keyword, name, limit, span: *span });
                }
            }
            Declaration::Vocabulary(vocabulary) => self.take_word(vocabulary, names, found),
        }
    }

    fn take_word(&mut self, word: &'t Vocabulary, names: &mut Names, found: &mut Findings) {
        match word {
            Vocabulary::Kind { name, attributes, .. } => {
                if names.fresh("kind", "kind", name, found) {
                    self.kinds.push(KindLine { name, attributes });
                }
            }
            // One spelling may serve several kinds, in lines of their own: °C is a temperature, and the
            // difference of two. Each kind has it once.
            Vocabulary::Unit(unit) => {
                let fresh = |kind: &tree::Name, names: &mut Names, found: &mut Findings| {
                    names.fresh(&format!("unit of {}", kind.text), "unit", &unit.name, found)
                };
                if unit.kinds.iter().all(|kind| fresh(kind, names, found)) {
                    self.units.push(unit);
                }
            }
            Vocabulary::Element { name, lines, doc, .. } => {
                if names.fresh("element", "element", name, found) {
                    let doc = doc.as_ref();
                    self.elements.push(ElementLines { name, lines, doc });
                }
            }
            Vocabulary::Formula(formula) => {
                if names.fresh("formula", "formula", &formula.name, found) {
                    self.formulas.push(FormulaLine { formula });
                }
            }
            // A table is called as a formula is, so they share their names.
            Vocabulary::Table(table) => {
                if names.fresh("formula", "table", &table.name, found) {
                    self.tables.push(table);
                }
            }
            Vocabulary::Template(template) => {
                if names.fresh("template", "template", &template.name, found) {
                    self.templates.push(template);
                }
            }
            Vocabulary::Figure { keyword, name, attributes, span, .. } => {
                if names.fresh(&keyword.text, &keyword.text, name, found) {
                    self.figures.push(FigureLine { keyword, name, attributes, span: *span });
                }
            }
        }
    }
}

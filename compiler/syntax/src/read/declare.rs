//! Pairs → top-level declarations.

use super::{Build, Pair};
use crate::grammar::Rule;
use crate::tree::{
    Attribute, ClauseValue, Declaration, ElementAct, ElementLine, Formula, Header, Model,
    ModelItem, Name, Part, Procedure, Quantity, Text, Thing, UnitDeclaration, Vocabulary,
};

impl Build {
    pub(super) fn declaration(&mut self, pair: &Pair<'_>) -> Option<Declaration> {
        Some(match pair.as_rule() {
            Rule::model => Declaration::Model(self.model(pair)?),
            Rule::equipment => Declaration::Thing(self.equipment(pair)?),
            Rule::procedure => Declaration::Procedure(std::sync::Arc::new(self.procedure(pair)?)),
            Rule::named_limit => {
                let (keyword, name, limit) = self.named_limit(pair)?;
                Declaration::Limit {
                    keyword,
                    name,
                    limit,
                    doc: self.doc(pair),
                    span: self.span(pair),
                }
            }
            Rule::kind
            | Rule::unit_line
            | Rule::element
            | Rule::formula
            | Rule::table
            | Rule::template
            | Rule::figure => Declaration::Vocabulary(self.vocabulary(pair)?),
            Rule::bad_declaration => {
                self.bad(pair, Rule::only_declaration);
                return None;
            }
            _ => return None,
        })
    }

    fn named_limit(&self, pair: &Pair<'_>) -> Option<(Name, Name, crate::tree::Limit)> {
        let mut inner = pair.clone().into_inner();
        Some((self.name(&inner.next()?), self.name(&inner.next()?), self.limit(&inner.next()?)))
    }

    fn model(&mut self, pair: &Pair<'_>) -> Option<Model> {
        let parts: Vec<Pair<'_>> = pair.clone().into_inner().collect();
        let keyword = self.name(parts.first()?);
        let name = self.name(parts.get(1)?);
        let unread = self.unread;
        let items = parts.iter().skip(2).filter_map(|part| self.model_item(part)).collect();
        let broken = self.unread > unread;
        Some(Model { keyword, name, items, broken, doc: self.doc(pair), span: self.span(pair) })
    }

    fn model_item(&mut self, pair: &Pair<'_>) -> Option<ModelItem> {
        let span = self.span(pair);
        let mut inner = pair.clone().into_inner();
        Some(match pair.as_rule() {
            Rule::title => ModelItem::Title { text: self.text(&inner.next()?), span },
            Rule::made_of => {
                let (mut assemblies, mut at) = (Vec::new(), Vec::new());
                for part in inner {
                    match part.as_rule() {
                        Rule::made_at => {
                            at.extend(part.into_inner().map(|point| self.point_name(&point)));
                        }
                        _ => assemblies.push(self.name(&part)),
                    }
                }
                ModelItem::MadeOf { assemblies, at, span }
            }
            Rule::model_reading => ModelItem::Reading {
                name: self.name(&inner.next()?),
                kind: self.name(&inner.next()?),
                clauses: inner.next().map(|part| self.clauses(&part)).unwrap_or_default(),
                span,
            },
            Rule::series => ModelItem::Series { values: self.names(pair), span },
            Rule::serial => ModelItem::Serial { span },
            Rule::named_limit => {
                let (keyword, name, limit) = self.named_limit(pair)?;
                ModelItem::Limit { keyword, name, limit, span }
            }
            Rule::state => ModelItem::State {
                name: self.name(&inner.next()?),
                values: inner.map(|part| self.name(&part)).collect(),
                doc: self.doc(pair),
                span,
            },
            Rule::change => ModelItem::Change {
                state: self.name(&inner.next()?),
                from: self.name(&inner.next()?),
                to: self.name(&inner.next()?),
                needs: inner.filter_map(|needs| self.clause(&needs)).collect(),
                span,
            },
            Rule::never => self.never(pair)?,
            Rule::hazard => self.hazard(pair)?,
            Rule::safe => {
                ModelItem::SafeToLeave { condition: self.condition(&inner.next()?), span }
            }
            Rule::thing => ModelItem::Element {
                kind: self.name(&inner.next()?),
                name: self.name(&inner.next()?),
                attributes: inner.next().map(|part| self.attributes(&part)).unwrap_or_default(),
                doc: self.doc(pair),
                span,
            },
            Rule::bad_item => {
                self.bad(pair, Rule::only_model_item);
                return None;
            }
            _ => return None,
        })
    }

    fn never(&mut self, pair: &Pair<'_>) -> Option<ModelItem> {
        let span = self.span(pair);
        let mut inner = pair.clone().into_inner();
        let first = inner.next()?;
        Some(match first.as_rule() {
            Rule::act => ModelItem::NeverAct { act: self.act(&first), span },
            _ => ModelItem::NeverState {
                condition: self.condition(&first),
                clauses: inner.next().map(|part| self.clauses(&part)).unwrap_or_default(),
                span,
            },
        })
    }

    fn hazard(&mut self, pair: &Pair<'_>) -> Option<ModelItem> {
        let mut inner = pair.clone().into_inner();
        let signal = self.name(&inner.next()?);
        let text = self.text(&inner.next()?);
        let (mut at, mut condition) = (Vec::new(), None);
        for part in inner {
            match part.as_rule() {
                Rule::hazard_at => at = self.names(&part),
                _ => condition = Some(self.condition(&part)),
            }
        }
        Some(ModelItem::Hazard { signal, text, at, condition, span: self.span(pair) })
    }

    pub(super) fn attributes(&self, pair: &Pair<'_>) -> Vec<Attribute> {
        pair.clone().into_inner().map(|part| self.attribute(&part)).collect()
    }

    fn attribute(&self, pair: &Pair<'_>) -> Attribute {
        let mut parts = Vec::new();
        for part in pair.clone().into_inner() {
            match part.as_rule() {
                Rule::text => parts.push(Part::Text(self.text(&part))),
                Rule::attribute_limit => parts.push(Part::Limit(self.attribute_limit(&part))),
                Rule::class_part | Rule::unit_part | Rule::condition_part => {
                    for inner in part.into_inner() {
                        parts.push(match inner.as_rule() {
                            Rule::condition => Part::Condition(self.condition(&inner)),
                            _ => Part::Word(self.name(&inner)),
                        });
                    }
                }
                _ => parts.push(Part::Word(self.name(&part))),
            }
        }
        Attribute { parts, span: self.span(pair) }
    }

    fn equipment(&mut self, pair: &Pair<'_>) -> Option<Thing> {
        let parts: Vec<Pair<'_>> = pair.clone().into_inner().collect();
        let keyword = self.name(parts.first()?);
        let name = self.name(parts.get(1)?);
        let mut attributes = Vec::new();
        for part in parts.iter().skip(2) {
            if part.as_rule() == Rule::bad_item {
                self.bad(part, Rule::only_equipment_line);
            } else {
                attributes.push(self.attribute(part));
            }
        }
        Some(Thing { keyword, name, attributes, doc: self.doc(pair), span: self.span(pair) })
    }

    fn procedure(&mut self, pair: &Pair<'_>) -> Option<Procedure> {
        let parts: Vec<Pair<'_>> = pair.clone().into_inner().collect();
        let mut procedure = Procedure {
            keyword: self.name(parts.first()?),
            name: self.name(parts.get(1)?),
            on: None,
            headers: Vec::new(),
            items: Vec::new(),
            broken: false,
            doc: self.doc(pair),
            span: self.span(pair),
        };
        let unread = self.unread;
        for part in parts.iter().skip(2) {
            if part.as_rule() == Rule::on_model {
                procedure.on = part.clone().into_inner().next().map(|name| self.name(&name));
            } else if let Some(header) = self.header(part) {
                procedure.headers.push(header);
            } else {
                procedure.items.extend(self.item(part));
            }
        }
        procedure.broken = self.unread > unread;
        Some(procedure)
    }

    fn header(&self, pair: &Pair<'_>) -> Option<Header> {
        let span = self.span(pair);
        let mut inner = pair.clone().into_inner();
        Some(match pair.as_rule() {
            Rule::title => Header::Title { text: self.text(&inner.next()?), span },
            Rule::revision => Header::Revision {
                letter: self.name(&inner.next()?),
                date: inner.next().map(|part| self.name(&part)),
                span,
            },
            Rule::replaces => Header::Replaces {
                letter: self.name(&inner.next()?),
                because: inner.next().and_then(|part| self.because(&part)),
                span,
            },
            Rule::applies => Header::For { condition: self.condition(&inner.next()?), span },
            Rule::crew => Header::Crew { roles: self.names(pair), span },
            Rule::uses => Header::Uses { readings: self.names(pair), span },
            Rule::starts_unknown => {
                Header::StartsUnknown { state: self.name(&inner.next()?), span }
            }
            Rule::starts => Header::Starts { condition: self.condition(&inner.next()?), span },
            Rule::leaves => Header::Leaves {
                condition: self.condition(&inner.next()?),
                because: inner.next().and_then(|part| self.because(&part)),
                span,
            },
            _ => return None,
        })
    }

    fn because(&self, pair: &Pair<'_>) -> Option<Text> {
        match self.clause(pair)?.value {
            ClauseValue::Text(text) => Some(text),
            _ => None,
        }
    }

    fn vocabulary(&mut self, pair: &Pair<'_>) -> Option<Vocabulary> {
        let span = self.span(pair);
        let doc = self.doc(pair);
        let parts: Vec<Pair<'_>> = pair.clone().into_inner().collect();
        let attributes =
            |part: Option<&Pair<'_>>| part.map(|part| self.attributes(part)).unwrap_or_default();
        Some(match pair.as_rule() {
            Rule::kind => Vocabulary::Kind {
                name: self.name(parts.first()?),
                attributes: attributes(parts.get(1)),
                doc,
                span,
            },
            Rule::unit_line => Vocabulary::Unit(self.unit_line(pair)?),
            Rule::formula => Vocabulary::Formula(self.formula(pair)?),
            Rule::table => Vocabulary::Table(self.table(pair)?),
            Rule::template => Vocabulary::Template(self.template(pair)?),
            Rule::figure => Vocabulary::Figure {
                keyword: self.name(parts.first()?),
                name: self.name(parts.get(1)?),
                attributes: attributes(parts.get(2)),
                doc,
                span,
            },
            _ => {
                let name = self.name(parts.first()?);
                let lines =
                    parts.iter().skip(1).filter_map(|part| self.element_line(part)).collect();
                Vocabulary::Element { name, lines, doc, span }
            }
        })
    }

    fn formula(&self, pair: &Pair<'_>) -> Option<Formula> {
        let mut inner = pair.clone().into_inner();
        let (name, kind) = (self.name(&inner.next()?), self.name(&inner.next()?));
        let (mut unit, mut parameters, mut value) = (None, Vec::new(), None);
        for part in inner {
            match part.as_rule() {
                Rule::formula_unit => unit = part.into_inner().next().map(|unit| self.name(&unit)),
                Rule::parameter => {
                    let mut names = part.into_inner();
                    let (name, kind) = (self.name(&names.next()?), self.name(&names.next()?));
                    parameters.push((name, kind));
                }
                _ => value = Some(self.expression(&part)),
            }
        }
        Some(Formula { name, kind, unit, parameters, value: value?, span: self.span(pair) })
    }

    fn unit_line(&self, pair: &Pair<'_>) -> Option<UnitDeclaration> {
        let mut inner = pair.clone().into_inner();
        let mut unit = UnitDeclaration {
            name: self.name(&inner.next()?),
            kinds: Vec::new(),
            factor: None,
            zero: None,
            attributes: Vec::new(),
            doc: self.doc(pair),
            span: self.span(pair),
        };
        for part in inner {
            match part.as_rule() {
                Rule::unit_kinds => unit.kinds = self.names(&part),
                Rule::unit_factor => {
                    let parts: Vec<Pair<'_>> = part.into_inner().collect();
                    let divisor = if parts.len() > 2 {
                        parts.get(1).map(|part| self.number(part))
                    } else {
                        None
                    };
                    unit.factor =
                        Some((self.number(parts.first()?), divisor, self.name(parts.last()?)));
                }
                Rule::unit_zero => unit.zero = self.unit_zero(&part),
                _ => unit.attributes = self.attributes(&part),
            }
        }
        Some(unit)
    }

    fn unit_zero(&self, pair: &Pair<'_>) -> Option<Quantity> {
        let mut inner = pair.clone().into_inner();
        let number = self.number(&inner.next()?);
        let unit = self.name(&inner.next()?);
        Some(Quantity { number, unit: Some(unit), qualifier: None, span: self.span(pair) })
    }

    fn element_line(&mut self, pair: &Pair<'_>) -> Option<ElementLine> {
        let span = self.span(pair);
        let mut inner = pair.clone().into_inner();
        Some(match pair.as_rule() {
            Rule::states => ElementLine::States { values: self.names(pair), span },
            Rule::element_attribute => ElementLine::Attribute { names: self.names(pair), span },
            Rule::mark => ElementLine::Mark { words: self.names(pair), span },
            Rule::relation => ElementLine::Relation {
                name: self.name(&inner.next()?),
                attributes: inner.next().map(|part| self.attributes(&part)).unwrap_or_default(),
                span,
            },
            Rule::element_act => ElementLine::Act(self.element_act(pair)?),
            Rule::element_never => self.element_never(pair),
            Rule::bad_item => {
                self.bad(pair, Rule::only_element_line);
                return None;
            }
            _ => return None,
        })
    }

    fn element_never(&self, pair: &Pair<'_>) -> ElementLine {
        let (mut values, mut unless, mut because) = (Vec::new(), None, None);
        for part in pair.clone().into_inner() {
            match part.as_rule() {
                Rule::values => values = self.names(&part),
                Rule::element_unless => {
                    unless = part.into_inner().next().map(|need| self.condition(&need));
                }
                _ => {
                    if let Some(ClauseValue::Text(text)) = self.clause(&part).map(|one| one.value) {
                        because = Some(text);
                    }
                }
            }
        }
        ElementLine::Never { values, unless, because, span: self.span(pair) }
    }

    fn element_act(&self, pair: &Pair<'_>) -> Option<ElementAct> {
        let mut inner = pair.clone().into_inner();
        let mut act = ElementAct {
            verb: self.name(&inner.next()?),
            from: Vec::new(),
            to: None,
            marks: Vec::new(),
            needs: None,
            attributes: Vec::new(),
            span: self.span(pair),
        };
        for part in inner {
            match part.as_rule() {
                Rule::act_change => {
                    let mut change = part.into_inner();
                    act.from = change.next().map(|from| self.names(&from)).unwrap_or_default();
                    act.from.retain(|from| from.text != "any");
                    act.to = change.next().map(|to| self.name(&to)).filter(|to| to.text != "any");
                }
                Rule::act_marks => act.marks = self.names(&part),
                Rule::act_takes => {
                    act.attributes = part
                        .into_inner()
                        .map(|word| Attribute {
                            parts: vec![Part::Word(self.name(&word))],
                            span: self.span(&word),
                        })
                        .collect();
                }
                _ => act.needs = part.into_inner().next().map(|need| self.condition(&need)),
            }
        }
        Some(act)
    }
}

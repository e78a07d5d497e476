//! Words of the trade: kinds, units, elements, figures, formulas, tables, templates.

use super::Reader;
use crate::tree::{
    Attribute, ElementAct, ElementLine, Formula, Name, Number, Part, Place, Quantity, Table,
    TableRow, Template, TemplateLine, Text, UnitDeclaration, Vocabulary,
};

impl Reader<'_> {
    pub(super) fn vocabulary(&mut self) -> Option<Vocabulary> {
        let from = self.at;
        let doc = self.doc(from);
        match self.word() {
            "kind" => {
                self.keyword("kind")?;
                self.gap()?;
                let name = self.name()?;
                let attributes = self.colon_attributes();
                Some(Vocabulary::Kind { name, attributes, doc, span: self.span(from) })
            }
            "unit" => self.unit_line().map(Vocabulary::Unit),
            "element" => {
                self.keyword("element")?;
                self.gap()?;
                let name = self.name()?;
                self.ws();
                let lines = self.lines(|reader| {
                    let line = reader.element_line()?;
                    reader.item_end()?;
                    Some(line)
                })?;
                Some(Vocabulary::Element { name, lines, doc, span: self.span(from) })
            }
            "formula" => self.formula().map(Vocabulary::Formula),
            "table" => self.table().map(Vocabulary::Table),
            "template" => self.template().map(Vocabulary::Template),
            "thread" | "strength" | "head" | "condition" | "effort" => {
                let keyword = self.any_word()?;
                self.gap()?;
                let name = self.designation()?;
                let attributes = self.colon_attributes();
                let span = self.span(from);
                Some(Vocabulary::Figure { keyword, name, attributes, doc, span })
            }
            _ => None,
        }
    }

    fn unit_line(&mut self) -> Option<UnitDeclaration> {
        let from = self.at;
        self.keyword("unit")?;
        self.gap()?;
        let name = self.unit()?;
        self.sp();
        self.sign(b':')?;
        self.sp();
        let mut kinds = vec![self.name()?];
        self.all(&mut kinds, |reader| {
            reader.comma()?;
            let kind = reader.name()?;
            let goes_on = |reader: &mut Self| {
                reader.sp();
                matches!(reader.peek(), b',' | b'=').then_some(())
            };
            reader.fits(goes_on).then_some(kind)
        });
        let factor = self.attempt(Self::unit_factor);
        let zero = self.attempt(|reader| {
            reader.ws();
            reader.unit_zero()
        });
        let attributes = self.attempt(|reader| {
            reader.comma()?;
            reader.attributes()
        });
        let attributes = attributes.unwrap_or_default();
        let (doc, span) = (self.doc(from), self.span(from));
        Some(UnitDeclaration { name, kinds, factor, zero, attributes, doc, span })
    }

    fn unit_factor(&mut self) -> Option<(Number, Option<Number>, Name)> {
        self.sp();
        self.sign(b'=')?;
        self.sp();
        let number = self.number()?;
        let divisor = self.attempt(|reader| {
            reader.sign(b'/')?;
            reader.number()
        });
        self.gap()?;
        Some((number, divisor, self.unit()?))
    }

    fn unit_zero(&mut self) -> Option<Quantity> {
        let from = self.at;
        self.keywords(&["zero", "at"])?;
        self.gap()?;
        let start = self.at;
        let first = self.number()?;
        let divisor = self.attempt(|reader| {
            reader.sign(b'/')?;
            reader.number()
        });
        let text = match divisor {
            Some(divisor) => format!("{}/{}", first.text, divisor.text),
            None => first.text,
        };
        let number = Number { text, span: self.span(start) };
        self.gap()?;
        let unit = Some(self.unit()?);
        Some(Quantity { number, unit, qualifier: None, span: self.span(from) })
    }

    fn element_line(&mut self) -> Option<ElementLine> {
        let from = self.at;
        match self.word() {
            "states" => {
                self.keyword("states")?;
                self.gap()?;
                Some(ElementLine::States { values: self.comma_names()?, span: self.span(from) })
            }
            "attributes" | "attribute" => {
                self.any_word()?;
                self.gap()?;
                Some(ElementLine::Attribute { names: self.comma_names()?, span: self.span(from) })
            }
            "mark" => {
                self.keyword("mark")?;
                self.gap()?;
                let mut words = vec![self.any_word()?];
                self.all(&mut words, |reader| {
                    reader.gap()?;
                    reader.any_word()
                });
                Some(ElementLine::Mark { words, span: self.span(from) })
            }
            "relation" => {
                self.keyword("relation")?;
                self.gap()?;
                let name = self.name()?;
                let attributes = self.colon_attributes();
                Some(ElementLine::Relation { name, attributes, span: self.span(from) })
            }
            "act" => self.element_act().map(ElementLine::Act),
            "never" => self.element_never(),
            _ => None,
        }
    }

    /// `act slacken : tight or snug -> slack, new takes with needs …`
    fn element_act(&mut self) -> Option<ElementAct> {
        let start = self.at;
        self.keyword("act")?;
        self.gap()?;
        let verb = self.name()?;
        let change = self.attempt(|reader| {
            reader.colon_ws()?;
            reader.act_change()
        });
        let marks = self.attempt(|reader| {
            reader.comma()?;
            reader.comma_names()
        });
        let takes = self.attempt(|reader| {
            reader.ws_comma();
            reader.act_takes()
        });
        let needs = self.attempt(|reader| {
            reader.ws_comma();
            reader.keyword("needs")?;
            reader.ws();
            reader.need()
        });
        let (mut from, to) =
            change.map_or_else(|| (Vec::new(), None), |(from, to)| (from, Some(to)));
        from.retain(|from| from.text != "any");
        Some(ElementAct {
            verb,
            from,
            to: to.filter(|to| to.text != "any"),
            marks: marks.unwrap_or_default(),
            needs,
            attributes: takes.unwrap_or_default(),
            span: self.span(start),
        })
    }

    fn act_change(&mut self) -> Option<(Vec<Name>, Name)> {
        let mut from = vec![self.name()?];
        self.all(&mut from, |reader| {
            reader.gap()?;
            reader.keyword("or")?;
            reader.gap()?;
            reader.name()
        });
        self.sp();
        self.signs("->")?;
        self.sp();
        Some((from, self.name()?))
    }

    fn act_takes(&mut self) -> Option<Vec<Attribute>> {
        self.keyword("takes")?;
        self.gap()?;
        let mut words = vec![self.attribute_word()?];
        self.all(&mut words, |reader| {
            reader.comma()?;
            reader.attribute_word()
        });
        let attribute = |word: Name| Attribute { span: word.span, parts: vec![Part::Word(word)] };
        Some(words.into_iter().map(attribute).collect())
    }

    /// `never open or parted unless each carries is drained because "…"`
    fn element_never(&mut self) -> Option<ElementLine> {
        let from = self.at;
        self.keyword("never")?;
        self.gap()?;
        let values = self.values()?;
        let unless = self.attempt(|reader| {
            reader.ws();
            reader.keyword("unless")?;
            reader.gap()?;
            reader.need()
        });
        let because = self.attempt(|reader| {
            reader.ws_comma();
            reader.worded_text("because")
        });
        Some(ElementLine::Never { values, unless, because, span: self.span(from) })
    }

    fn formula(&mut self) -> Option<Formula> {
        let from = self.at;
        self.keyword("formula")?;
        self.gap()?;
        let name = self.name()?;
        let kind = self.colon_name()?;
        let unit = self.attempt(|reader| {
            reader.gap()?;
            reader.keyword("in")?;
            reader.gap()?;
            reader.unit()
        });
        self.gap()?;
        self.keyword("of")?;
        self.gap()?;
        let parameter = |reader: &mut Self| Some((reader.name()?, reader.colon_name()?));
        let mut parameters = vec![parameter(self)?];
        self.all(&mut parameters, |reader| {
            reader.comma()?;
            parameter(reader)
        });
        self.sp();
        self.sign(b'=')?;
        self.ws();
        let value = self.expression()?;
        Some(Formula { name, kind, unit, parameters, value, span: self.span(from) })
    }

    fn table(&mut self) -> Option<Table> {
        let from = self.at;
        self.keyword("table")?;
        self.gap()?;
        let name = self.name()?;
        let of = self.colon_name()?;
        self.sp();
        self.signs("->")?;
        self.sp();
        let kind = self.name()?;
        self.ws();
        let (rows, between, per) = (Vec::new(), Vec::new(), None);
        let mut table =
            Table { name, of, kind, rows, between, per, broken: false, span: self.span(from) };
        self.lines(|reader| {
            reader.table_entry(&mut table)?;
            while reader
                .attempt(|reader| {
                    reader.comma()?;
                    reader.table_entry(&mut table)
                })
                .is_some()
            {}
            let _comma: Option<()> = reader.sign(b',');
            reader.item_end()
        })?;
        table.span = self.span(from);
        Some(table)
    }

    fn table_entry(&mut self, table: &mut Table) -> Option<()> {
        if let Some(between) = self.attempt(Self::between) {
            table.between.push(between);
        } else if let Some(per) = self.attempt(|reader| reader.worded_text("per")) {
            table.per = Some(per);
        } else {
            let from = self.at;
            let key = self.expression()?;
            self.sp();
            self.signs("->")?;
            self.ws();
            let value = self.limit()?;
            table.rows.push(TableRow { key, value, span: self.span(from) });
        }
        Some(())
    }

    /// What holds between two rows.
    fn between(&mut self) -> Option<Name> {
        let from = self.at;
        let said: &[&[&str]] = &[
            &["between", "in", "proportion"],
            &["between", "nothing"],
            &["take", "next", "lower"],
        ];
        said.iter().find_map(|words| self.attempt(|reader| reader.keywords(words)))?;
        Some(Name { text: self.slice(from).to_owned(), span: self.span(from) })
    }

    fn template(&mut self) -> Option<Template> {
        let from = self.at;
        self.keyword("template")?;
        self.gap()?;
        let name = self.name()?;
        self.ws();
        let lines = self.lines(|reader| {
            let line = reader.template_line()?;
            reader.item_end()?;
            Some(line)
        })?;
        let (doc, span) = (self.doc(from), self.span(from));
        Some(Template { name, lines, broken: false, doc, span })
    }

    fn template_line(&mut self) -> Option<TemplateLine> {
        let from = self.at;
        match self.any_word()?.text.as_str() {
            "rectangle" => {
                self.gap()?;
                let width = self.dimension()?;
                self.sp();
                self.keyword("x")?;
                self.sp();
                let height = self.dimension()?;
                Some(TemplateLine::Rectangle { width, height, span: self.span(from) })
            }
            "disc" => {
                self.gap()?;
                Some(TemplateLine::Disc { diameter: self.dimension()?, span: self.span(from) })
            }
            "notch" => {
                self.gap()?;
                let side = self.name()?;
                self.gap()?;
                let at = self.worded_dimension("at")?;
                self.comma()?;
                let width = self.worded_dimension("width")?;
                self.comma()?;
                let depth = self.worded_dimension("depth")?;
                Some(TemplateLine::Notch { side, at, width, depth, span: self.span(from) })
            }
            "hole" => {
                self.gap()?;
                let diameter = self.dimension()?;
                let place = self.place_behind();
                Some(TemplateLine::Hole { diameter, place, span: self.span(from) })
            }
            "holes" => {
                self.gap()?;
                let count = self.number()?;
                self.gap()?;
                let diameter = self.worded_dimension("of")?;
                self.gap()?;
                self.keywords(&["on", "pitch", "circle"])?;
                self.gap()?;
                let circle = self.dimension()?;
                let place = self.place_behind();
                let first = self.attempt(|reader| {
                    reader.comma()?;
                    reader.keyword("first")?;
                    reader.gap()?;
                    reader.worded_dimension("at")
                });
                let span = self.span(from);
                Some(TemplateLine::Holes { count, diameter, circle, place, first, span })
            }
            "label" => {
                let (text, place) = self.label()?;
                Some(TemplateLine::Label { text, place, span: self.span(from) })
            }
            "wall" => {
                self.gap()?;
                self.keyword("at")?;
                self.gap()?;
                let least = self.worded_dimension("least")?;
                Some(TemplateLine::Wall { least, span: self.span(from) })
            }
            _ => None,
        }
    }

    fn label(&mut self) -> Option<(Text, Place)> {
        self.gap()?;
        let text = self.quoted()?;
        self.gap()?;
        Some((text, self.place()?))
    }

    fn worded_dimension(&mut self, word: &str) -> Option<crate::tree::Expression> {
        self.keyword(word)?;
        self.gap()?;
        self.dimension()
    }

    fn place_behind(&mut self) -> Option<Box<Place>> {
        self.attempt(|reader| {
            reader.gap()?;
            reader.place().map(Box::new)
        })
    }

    /// `at 20 mm, 15 mm`: to the right and upwards
    fn place(&mut self) -> Option<Place> {
        let right = self.worded_dimension("at")?;
        self.comma()?;
        Some(Place { right, up: self.dimension()? })
    }
}

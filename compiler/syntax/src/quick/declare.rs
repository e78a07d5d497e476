//! Models, equipment, procedures.

use super::Reader;
use crate::tree::{
    Attribute, Declaration, Header, Limit, Model, ModelItem, Name, Part, Procedure, Thing,
};
use std::sync::Arc;

impl Reader<'_> {
    pub(super) fn declaration(&mut self) -> Option<Declaration> {
        let from = self.at;
        match self.word() {
            "model" | "assembly" => self.model().map(Declaration::Model),
            "instrument" | "tool" | "consumable" => self.equipment().map(Declaration::Thing),
            "procedure" | "subtask" => {
                self.procedure().map(|procedure| Declaration::Procedure(Arc::new(procedure)))
            }
            "value" | "limit" => {
                let (keyword, name, limit) = self.named_limit()?;
                let (doc, span) = (self.doc(from), self.span(from));
                Some(Declaration::Limit { keyword, name, limit, doc, span })
            }
            _ => self.vocabulary().map(Declaration::Vocabulary),
        }
    }

    fn named_limit(&mut self) -> Option<(Name, Name, Limit)> {
        let keyword = self.one_of(&["value", "limit"])?;
        self.gap()?;
        let name = self.name()?;
        self.sp();
        self.sign(b'=')?;
        self.ws();
        Some((keyword, name, self.limit()?))
    }

    fn model(&mut self) -> Option<Model> {
        let from = self.at;
        let keyword = self.one_of(&["model", "assembly"])?;
        self.gap()?;
        let name = self.name()?;
        self.ws();
        let items = self.lines(|reader| {
            let item = reader.model_item()?;
            reader.item_end()?;
            Some(item)
        })?;
        let (doc, span) = (self.doc(from), self.span(from));
        Some(Model { keyword, name, items, broken: false, doc, span })
    }

    fn model_item(&mut self) -> Option<ModelItem> {
        let worded = match self.word() {
            "title" => self.attempt(Self::title),
            "made" => self.attempt(Self::made_of),
            "reading" => self.attempt(Self::model_reading),
            "series" => self.attempt(Self::series),
            "serial" => self.attempt(Self::serial_number),
            "value" | "limit" => self.attempt(Self::model_limit),
            "state" => self.attempt(Self::state),
            "change" => self.attempt(Self::change),
            "never" => self.attempt(Self::never),
            "danger" | "warning" | "caution" | "notice" => self.attempt(Self::hazard),
            "safe" => self.attempt(Self::safe_to_leave),
            _ => None,
        };
        worded.or_else(|| self.element_of_model())
    }

    fn title(&mut self) -> Option<ModelItem> {
        let from = self.at;
        self.keyword("title")?;
        self.gap()?;
        Some(ModelItem::Title { text: self.quoted()?, span: self.span(from) })
    }

    fn made_of(&mut self) -> Option<ModelItem> {
        let from = self.at;
        self.keywords(&["made", "of"])?;
        self.gap()?;
        let assemblies = self.comma_names()?;
        let at = self.attempt(|reader| {
            reader.gap()?;
            reader.keyword("at")?;
            reader.gap()?;
            reader.points()
        });
        Some(ModelItem::MadeOf { assemblies, at: at.unwrap_or_default(), span: self.span(from) })
    }

    /// `reading air-gap : length needs cover is removed, expect 0.2 .. 1.6 mm`
    fn model_reading(&mut self) -> Option<ModelItem> {
        let from = self.at;
        self.keyword("reading")?;
        self.gap()?;
        let name = self.name()?;
        let kind = self.colon_name()?;
        let clauses = self.clauses_with(&["needs", "makes", "expect"]);
        Some(ModelItem::Reading { name, kind, clauses, span: self.span(from) })
    }

    fn series(&mut self) -> Option<ModelItem> {
        let from = self.at;
        self.keyword("series")?;
        self.gap()?;
        Some(ModelItem::Series { values: self.comma_names()?, span: self.span(from) })
    }

    fn serial_number(&mut self) -> Option<ModelItem> {
        let from = self.at;
        self.keywords(&["serial", "number"])?;
        Some(ModelItem::Serial { span: self.span(from) })
    }

    fn model_limit(&mut self) -> Option<ModelItem> {
        let from = self.at;
        let (keyword, name, limit) = self.named_limit()?;
        Some(ModelItem::Limit { keyword, name, limit, span: self.span(from) })
    }

    fn state(&mut self) -> Option<ModelItem> {
        let from = self.at;
        self.keyword("state")?;
        self.gap()?;
        let name = self.name()?;
        self.colon_ws()?;
        let values = self.comma_names()?;
        let (doc, span) = (self.doc(from), self.span(from));
        Some(ModelItem::State { name, values, doc, span })
    }

    /// `change supply : live -> isolated needs jib is tethered`
    fn change(&mut self) -> Option<ModelItem> {
        let start = self.at;
        self.keyword("change")?;
        self.gap()?;
        let state = self.name()?;
        self.colon_ws()?;
        let from = self.name()?;
        self.ws();
        self.signs("->")?;
        self.ws();
        let to = self.name()?;
        let needs = self.clauses_with(&["needs"]);
        Some(ModelItem::Change { state, from, to, needs, span: self.span(start) })
    }

    fn never(&mut self) -> Option<ModelItem> {
        let from = self.at;
        self.keyword("never")?;
        self.gap()?;
        if let Some(condition) = self.attempt(Self::condition) {
            let clauses = self.clauses_with(&["unless", "because"]);
            return Some(ModelItem::NeverState { condition, clauses, span: self.span(from) });
        }
        Some(ModelItem::NeverAct { act: self.act()?, span: self.span(from) })
    }

    fn hazard(&mut self) -> Option<ModelItem> {
        let from = self.at;
        let signal = self.any_word()?;
        self.sign(b' ')?;
        while self.sign(b' ').is_some() {}
        let text = self.quoted()?;
        let at = self.attempt(|reader| {
            reader.ws();
            reader.keyword("at")?;
            reader.gap()?;
            reader.names()
        });
        let at = at.unwrap_or_default();
        let condition = self.attempt(|reader| {
            reader.ws();
            reader.keyword("while")?;
            reader.ws();
            reader.condition()
        });
        Some(ModelItem::Hazard { signal, text, at, condition, span: self.span(from) })
    }

    fn safe_to_leave(&mut self) -> Option<ModelItem> {
        let from = self.at;
        self.keywords(&["safe", "to", "leave", "when"])?;
        self.ws();
        Some(ModelItem::SafeToLeave { condition: self.condition()?, span: self.span(from) })
    }

    /// An element: its kind is a word of the vocabulary.
    fn element_of_model(&mut self) -> Option<ModelItem> {
        let from = self.at;
        let kind = self.name()?;
        self.gap()?;
        let name = self.name()?;
        let attributes = self.colon_attributes();
        let (doc, span) = (self.doc(from), self.span(from));
        Some(ModelItem::Element { kind, name, attributes, doc, span })
    }

    pub(super) fn colon_ws(&mut self) -> Option<()> {
        self.sp();
        self.sign(b':')?;
        self.ws();
        Some(())
    }

    /// `: KIND`
    pub(super) fn colon_name(&mut self) -> Option<Name> {
        self.sp();
        self.sign(b':')?;
        self.sp();
        self.name()
    }

    /// What stands after the colon, where one stands.
    pub(super) fn colon_attributes(&mut self) -> Vec<Attribute> {
        let attributes = self.attempt(|reader| {
            reader.colon_ws()?;
            reader.attributes()
        });
        attributes.unwrap_or_default()
    }

    pub(super) fn attributes(&mut self) -> Option<Vec<Attribute>> {
        let mut attributes = vec![self.attribute()?];
        self.all(&mut attributes, |reader| {
            reader.comma()?;
            reader.attribute()
        });
        attributes.shrink_to_fit();
        Some(attributes)
    }

    /// An attribute goes on in the next line only before a clause word.
    fn attribute(&mut self) -> Option<Attribute> {
        self.attribute_with(|reader| {
            let goes_on = reader.attempt(|reader| {
                reader.ws();
                super::is_clause_word(reader.word()).then_some(())
            });
            goes_on.or_else(|| reader.gap())
        })
    }

    /// In a block of its own, the end of a line ends an attribute.
    fn line_attribute(&mut self) -> Option<Attribute> {
        self.attribute_with(Self::gap)
    }

    fn attribute_with(
        &mut self,
        mut apart: impl FnMut(&mut Self) -> Option<()>,
    ) -> Option<Attribute> {
        let from = self.at;
        let mut parts = Vec::new();
        self.part(&mut parts)?;
        loop {
            let before = (self.at, parts.len());
            if apart(self).and_then(|()| self.part(&mut parts)).is_none() {
                self.at = before.0;
                parts.truncate(before.1);
                parts.shrink_to_fit();
                return Some(Attribute { parts, span: self.span(from) });
            }
        }
    }

    fn part(&mut self, parts: &mut Vec<Part>) -> Option<()> {
        let worded = match self.word() {
            "class" => self.attempt(|reader| {
                reader.part_behind(|reader| reader.designation().map(Part::Word))
            }),
            "counterpart" => {
                self.attempt(|reader| reader.part_behind(|reader| reader.unit().map(Part::Word)))
            }
            "when" | "while" | "until" | "unless" => self.attempt(|reader| {
                reader.part_behind(|reader| reader.condition().map(Part::Condition))
            }),
            _ => None,
        };
        if let Some(both) = worded {
            parts.extend(both);
            return Some(());
        }
        parts.push(match self.peek() {
            b'"' => Part::Text(self.quoted()?),
            _ if self.fits(Self::unified_thread) => Part::Word(self.attribute_word()?),
            _ => match self.attempt(Self::attribute_limit) {
                Some(limit) => Part::Limit(limit),
                None => Part::Word(self.attribute_word()?),
            },
        });
        Some(())
    }

    fn part_behind(&mut self, part: impl FnOnce(&mut Self) -> Option<Part>) -> Option<[Part; 2]> {
        let word = self.any_word()?;
        self.gap()?;
        Some([Part::Word(word), part(self)?])
    }

    fn equipment(&mut self) -> Option<Thing> {
        let from = self.at;
        let keyword = self.one_of(&["instrument", "tool", "consumable"])?;
        self.gap()?;
        let name = self.name()?;
        let before = self.at;
        self.ws();
        let mut attributes = Vec::new();
        if self.peek() == b'{' {
            self.lines(|reader| {
                attributes.push(reader.line_attribute()?);
                reader.all(&mut attributes, |reader| {
                    reader.comma()?;
                    reader.line_attribute()
                });
                let _comma: Option<()> = reader.sign(b',');
                reader.item_end()
            })?;
        } else {
            self.at = before;
        }
        attributes.shrink_to_fit();
        let (doc, span) = (self.doc(from), self.span(from));
        Some(Thing { keyword, name, attributes, doc, span })
    }

    fn procedure(&mut self) -> Option<Procedure> {
        let from = self.at;
        let keyword = self.one_of(&["procedure", "subtask"])?;
        self.gap()?;
        let name = self.name()?;
        let on = self.attempt(|reader| {
            reader.gap()?;
            reader.keyword("on")?;
            reader.gap()?;
            reader.name()
        });
        self.ws();
        let (mut headers, mut items) = (Vec::new(), Vec::new());
        self.lines(|reader| {
            let header = reader.attempt(|reader| {
                let header = reader.header()?;
                reader.item_end()?;
                Some(header)
            });
            match header {
                Some(header) => headers.push(header),
                None => items.push(reader.item()?),
            }
            Some(())
        })?;
        items.shrink_to_fit();
        let (doc, span) = (self.doc(from), self.span(from));
        Some(Procedure { keyword, name, on, headers, items, broken: false, doc, span })
    }

    fn header(&mut self) -> Option<Header> {
        let from = self.at;
        match self.word() {
            "title" => {
                self.keyword("title")?;
                self.gap()?;
                Some(Header::Title { text: self.quoted()?, span: self.span(from) })
            }
            "revision" => {
                self.keyword("revision")?;
                self.gap()?;
                let letter = self.designation()?;
                let date = self.attempt(|reader| {
                    reader.gap()?;
                    reader.keyword("of")?;
                    reader.gap()?;
                    reader.date()
                });
                Some(Header::Revision { letter, date, span: self.span(from) })
            }
            "replaces" => {
                self.keyword("replaces")?;
                self.gap()?;
                let letter = self.designation()?;
                let because = self.because();
                Some(Header::Replaces { letter, because, span: self.span(from) })
            }
            "for" => {
                self.keyword("for")?;
                self.gap()?;
                Some(Header::For { condition: self.condition()?, span: self.span(from) })
            }
            "crew" => {
                self.keyword("crew")?;
                self.gap()?;
                Some(Header::Crew { roles: self.comma_names()?, span: self.span(from) })
            }
            "uses" => {
                self.keyword("uses")?;
                self.gap()?;
                Some(Header::Uses { readings: self.comma_names()?, span: self.span(from) })
            }
            "starts" => {
                if let Some(unknown) = self.attempt(Self::starts_unknown) {
                    return Some(unknown);
                }
                self.keywords(&["starts", "with"])?;
                self.ws();
                Some(Header::Starts { condition: self.condition()?, span: self.span(from) })
            }
            "leaves" => {
                self.keyword("leaves")?;
                self.ws();
                let condition = self.condition()?;
                let because = self.because();
                Some(Header::Leaves { condition, because, span: self.span(from) })
            }
            _ => None,
        }
    }

    /// `starts with supply unknown`
    fn starts_unknown(&mut self) -> Option<Header> {
        let from = self.at;
        self.keywords(&["starts", "with"])?;
        self.ws();
        let state = self.name()?;
        self.gap()?;
        self.keyword("unknown")?;
        Some(Header::StartsUnknown { state, span: self.span(from) })
    }

    /// `2026-10-02`
    fn date(&mut self) -> Option<Name> {
        let from = self.at;
        for (position, length) in [4, 2, 2].into_iter().enumerate() {
            if position > 0 {
                self.sign(b'-')?;
            }
            for _ in 0..length {
                self.peek().is_ascii_digit().then_some(())?;
                self.at += 1;
            }
        }
        self.name_ends().then(|| Name { text: self.slice(from).to_owned(), span: self.span(from) })
    }
}

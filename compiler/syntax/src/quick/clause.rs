//! Clauses.

use super::Reader;
use crate::tree::{Clause, ClauseValue, Limit, LimitForm, Name, Set, Text};

impl Reader<'_> {
    /// Clauses of one line, which may go on in the next; a comma before one is noise.
    pub(super) fn clauses(&mut self) -> Vec<Clause> {
        self.clauses_of(Self::clause)
    }

    /// The same of those that begin with one of some words.
    pub(super) fn clauses_with(&mut self, words: &[&str]) -> Vec<Clause> {
        self.clauses_of(|reader| {
            words.contains(&reader.word()).then_some(())?;
            reader.clause()
        })
    }

    fn clauses_of(&mut self, mut clause: impl FnMut(&mut Self) -> Option<Clause>) -> Vec<Clause> {
        let mut clauses = Vec::new();
        self.all(&mut clauses, |reader| {
            reader.ws_comma();
            clause(reader)
        });
        clauses.shrink_to_fit();
        clauses
    }

    pub(super) fn clause(&mut self) -> Option<Clause> {
        let from = self.at;
        let text = self.word();
        let value: fn(&mut Self) -> Option<ClauseValue> = match text {
            "because" | "per" | "noting" => Self::text_clause,
            "using" | "by" | "since" => Self::names_clause,
            "with" => Self::with,
            "at" => Self::at_points,
            "expect" | "usually" | "takes" | "turned" => Self::limit_clause,
            "proves" | "makes" | "needs" | "unless" | "while" => Self::condition_clause,
            "prefer" => Self::prefer,
            "from" => Self::set,
            "each" => Self::once,
            "until" => Self::until_done,
            "independent" => Self::independent_of,
            "so" => Self::so_that,
            "where" => Self::where_is,
            "to" => Self::aim,
            "then" => Self::then_to,
            "seen" => Self::seen_from,
            "despite" => Self::despite,
            _ => return None,
        };
        let word = self.named(text);
        let value = value(self)?;
        Some(Clause { word, value, span: self.span(from) })
    }

    fn text_clause(&mut self) -> Option<ClauseValue> {
        self.ws();
        self.quoted().map(ClauseValue::Text)
    }

    fn names_clause(&mut self) -> Option<ClauseValue> {
        self.gap()?;
        self.names().map(ClauseValue::Names)
    }

    fn limit_clause(&mut self) -> Option<ClauseValue> {
        self.gap()?;
        self.limit().map(of_limit)
    }

    fn condition_clause(&mut self) -> Option<ClauseValue> {
        self.gap()?;
        let condition = self.condition()?;
        Some(ClauseValue::Condition(Box::new(condition)))
    }

    /// `with 5 N`, `with NAMES`
    fn with(&mut self) -> Option<ClauseValue> {
        self.gap()?;
        if matches!(self.peek(), b'-' | b'0'..=b'9')
            && let Some(limit) = self.attempt(Self::limit)
        {
            return Some(of_limit(limit));
        }
        self.names().map(ClauseValue::Names)
    }

    fn at_points(&mut self) -> Option<ClauseValue> {
        self.gap()?;
        if matches!(self.word(), "most" | "least" | "the" | "each") {
            return None;
        }
        self.points().map(ClauseValue::Names)
    }

    fn prefer(&mut self) -> Option<ClauseValue> {
        self.gap()?;
        let nearest = self.attempt(|reader| {
            reader.keyword("nearest")?;
            reader.gap()?;
            reader.expression()
        });
        if let Some(value) = nearest {
            let span = value.span();
            return Some(of_limit(Limit { form: LimitForm::Just(value), span }));
        }
        Some(ClauseValue::Names(vec![self.name()?]))
    }

    fn set(&mut self) -> Option<ClauseValue> {
        self.gap()?;
        let set = match self.attempt(Self::set_steps) {
            Some(steps) => steps,
            None => match self.attempt(Self::set_list) {
                Some(list) => list,
                None => Set::Named(self.name()?),
            },
        };
        Some(ClauseValue::Set(Box::new(set)))
    }

    fn set_steps(&mut self) -> Option<Set> {
        let from = self.quantity()?;
        self.sp();
        self.signs("..")?;
        self.sp();
        let to = self.quantity()?;
        self.gap()?;
        self.keywords(&["in", "steps", "of"])?;
        self.gap()?;
        Some(Set::Steps { from, to, step: self.quantity()? })
    }

    fn set_list(&mut self) -> Option<Set> {
        let mut list = vec![self.quantity()?];
        self.all(&mut list, |reader| {
            reader.comma()?;
            reader.quantity()
        });
        Some(Set::List(list))
    }

    /// No size of a stack is taken twice.
    fn once(&mut self) -> Option<ClauseValue> {
        self.gap()?;
        Some(ClauseValue::Names(vec![self.one_of(&["once"])?]))
    }

    /// `until peg is done`
    fn until_done(&mut self) -> Option<ClauseValue> {
        self.gap()?;
        let step = self.name()?;
        self.gap()?;
        self.keywords(&["is", "done"])?;
        Some(ClauseValue::Names(vec![step]))
    }

    fn independent_of(&mut self) -> Option<ClauseValue> {
        self.gap()?;
        self.keyword("of")?;
        self.names_clause()
    }

    fn so_that(&mut self) -> Option<ClauseValue> {
        self.gap()?;
        self.keyword("that")?;
        self.gap()?;
        let name = self.name()?;
        self.gap()?;
        self.keyword("is")?;
        self.gap()?;
        Some(ClauseValue::Target { name, limit: Box::new(self.limit()?) })
    }

    fn where_is(&mut self) -> Option<ClauseValue> {
        self.gap()?;
        let name = self.name()?;
        self.sp();
        self.sign(b'=')?;
        self.ws();
        Some(ClauseValue::Definition { name, value: Box::new(self.expression()?) })
    }

    /// `to 22 ± 2 N·m`, `to NAMES`
    fn aim(&mut self) -> Option<ClauseValue> {
        self.gap()?;
        let begins = matches!(self.peek(), b'-' | b'0'..=b'9')
            || matches!(self.word(), "over" | "under" | "at");
        if begins && let Some(limit) = self.attempt(Self::limit) {
            return Some(of_limit(limit));
        }
        self.names().map(ClauseValue::Names)
    }

    /// A further stage of a tightening: `then to 60 N·m`, `then turned 45°`
    fn then_to(&mut self) -> Option<ClauseValue> {
        self.gap()?;
        if let Some(name) = self.one_of(&["turned"]) {
            self.gap()?;
            return Some(ClauseValue::Target { name, limit: Box::new(self.limit()?) });
        }
        self.keyword("to")?;
        self.limit_clause()
    }

    fn seen_from(&mut self) -> Option<ClauseValue> {
        self.gap()?;
        self.keyword("from")?;
        self.text_clause()
    }

    fn despite(&mut self) -> Option<ClauseValue> {
        self.gap()?;
        let code = self.designation()?;
        Some(ClauseValue::Despite { code, because: self.because() })
    }

    /// `because "…"` behind blanks, where it stands.
    pub(super) fn because(&mut self) -> Option<Text> {
        self.attempt(|reader| {
            reader.ws();
            reader.worded_text("because")
        })
    }

    /// `because "…"`, `noting "…"`, `per "…"`
    pub(super) fn worded_text(&mut self, word: &str) -> Option<Text> {
        self.keyword(word)?;
        self.ws();
        self.quoted()
    }

    /// Names parted by commas; the comma before a clause is not one of them.
    pub(super) fn names(&mut self) -> Option<Vec<Name>> {
        let mut names = vec![self.name()?];
        self.all(&mut names, |reader| {
            reader.comma_in_line()?;
            let name = reader.name()?;
            let defines = |reader: &mut Self| {
                reader.sp();
                reader.sign(b'=')
            };
            (!reader.fits(defines)).then_some(name)
        });
        Some(names)
    }

    pub(super) fn comma_in_line(&mut self) -> Option<()> {
        self.sp();
        self.sign(b',')?;
        self.sp();
        Some(())
    }

    pub(super) fn points(&mut self) -> Option<Vec<Name>> {
        let mut points = vec![self.point_name()?];
        self.all(&mut points, |reader| {
            reader.comma_in_line()?;
            reader.point_name()
        });
        Some(points)
    }

    /// A point may be quoted: its name is the text.
    pub(super) fn point_name(&mut self) -> Option<Name> {
        if self.peek() != b'"' {
            return self.name();
        }
        let text = self.quoted()?;
        Some(Name { text: text.plain(), span: text.span })
    }
}

fn of_limit(limit: Limit) -> ClauseValue {
    ClauseValue::Limit(Box::new(limit))
}

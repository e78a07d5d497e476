//! Acts: verb, objects, clauses, body.

use super::{Reader, is_clause_word};
use crate::tree::{Act, Body, Clause, ClauseValue, Name, Object, Row};
use crate::words::NOT_YET;

impl Reader<'_> {
    /// An act, unless its verb is one of a later version of the language.
    pub(super) fn known_act(&mut self) -> Option<Act> {
        let act = self.act()?;
        (!NOT_YET.iter().any(|(word, _)| *word == act.verb.text)).then_some(act)
    }

    pub(super) fn act(&mut self) -> Option<Act> {
        let from = self.at;
        let mut act = match self.word() {
            "choose" => self
                .attempt(Self::by_table)
                .or_else(|| self.attempt(Self::stacked))
                .or_else(|| self.plain_act())?,
            _ => self.plain_act()?,
        };
        self.all(&mut act.clauses, |reader| {
            reader.comma()?;
            reader.clause()
        });
        let otherwise = self.attempt(|reader| {
            reader.ws();
            reader.choose_otherwise()
        });
        act.clauses.extend(otherwise);
        act.span = self.span(from);
        Some(act)
    }

    fn plain_act(&mut self) -> Option<Act> {
        let verb = self.verb()?;
        let objects = self.objects();
        Some(self.clauses_and_body(verb, objects))
    }

    /// `choose up to 3 of shim`
    fn stacked(&mut self) -> Option<Act> {
        let verb = self.one_of(&["choose"])?;
        self.gap()?;
        self.keywords(&["up", "to"])?;
        self.gap()?;
        let most = self.number()?;
        self.gap()?;
        self.keyword("of")?;
        self.gap()?;
        let objects = vec![Object::UpTo { most, name: self.name()? }];
        Some(self.clauses_and_body(verb, objects))
    }

    fn clauses_and_body(&mut self, verb: Name, objects: Vec<Object>) -> Act {
        let span = verb.span;
        let clauses = self.clauses();
        let mut act = Act { verb, objects, clauses, body: Body::None, span };
        let body = self.attempt(|reader| {
            reader.sp();
            reader.body(&act)
        });
        if let Some(body) = body {
            act.body = body;
        }
        act
    }

    /// `choose shim by gap { at most 0.60 mm -> 0.20 mm … }`
    fn by_table(&mut self) -> Option<Act> {
        let verb = self.one_of(&["choose"])?;
        let objects = self.objects();
        self.gap()?;
        self.keyword("by")?;
        self.gap()?;
        let by = Box::new(self.expression()?);
        let clauses = self.clauses();
        self.sp();
        let from = self.at;
        self.sign(b'{')?;
        let mut rows = Vec::new();
        self.all(&mut rows, Self::row);
        self.ws();
        self.sign(b'}')?;
        if rows.is_empty() {
            return None;
        }
        let span = verb.span;
        let body = Body::Table { by, rows, span: self.span(from) };
        Some(Act { verb, objects, clauses, body, span })
    }

    fn row(&mut self) -> Option<Row> {
        self.ws();
        let from = self.at;
        let guard = self.guard()?;
        self.sp();
        self.signs("->")?;
        self.sp();
        let part = self.quantity()?;
        let span = self.span(from);
        self.eol()?;
        Some(Row { guard, part, span })
    }

    /// A verb is any name but the words that begin another line; `not` before a text.
    fn verb(&mut self) -> Option<Name> {
        let word = self.word();
        let none = match word {
            "" | "step" | "section" | "when" | "accept" | "together" => true,
            "any" => self.fits(|reader| reader.keywords(&["any", "order"])),
            "not" => {
                let behind = self.rest().get(word.len()..).unwrap_or_default();
                let blanks = behind.iter().take_while(|sign| **sign == b' ').count();
                blanks == 0 || behind.get(blanks) != Some(&b'"')
            }
            _ => is_clause_word(word) || word == "without",
        };
        (!none).then(|| self.named(word))
    }

    fn objects(&mut self) -> Vec<Object> {
        let mut objects = Vec::new();
        let apart = |reader: &mut Self| {
            reader.gap()?;
            (!reader.fits(Self::further)).then_some(())?;
            reader.object()
        };
        let Some(first) = self.attempt(apart) else { return objects };
        objects.push(first);
        self.all(&mut objects, |reader| {
            let listed = reader.attempt(|reader| {
                reader.comma()?;
                reader.object()
            });
            listed.or_else(|| reader.attempt(apart))
        });
        objects.shrink_to_fit();
        objects
    }

    /// Words that begin a clause though they may be names elsewhere.
    fn further(&mut self) -> Option<()> {
        match self.word() {
            "turned" => Some(()),
            "seen" => self.keywords(&["seen", "from"]),
            _ => None,
        }
    }

    fn object(&mut self) -> Option<Object> {
        match self.peek() {
            b'"' => self.quoted().map(Object::Text),
            b'0'..=b'9' | b'-' => {
                self.quantity().map(|quantity| Object::Quantity(Box::new(quantity)))
            }
            _ => match self.attempt(Self::named_object) {
                Some(named) => Some(named),
                None => self.quantity().map(|quantity| Object::Quantity(Box::new(quantity))),
            },
        }
    }

    /// `cover-bolts`, `spread = max(gap) - min(gap)`, `engine-number : serial`
    fn named_object(&mut self) -> Option<Object> {
        let name = self.name()?;
        let value = self.attempt(|reader| {
            reader.sp();
            reader.sign(b'=')?;
            reader.ws();
            reader.expression()
        });
        if let Some(value) = value {
            return Some(Object::Definition { name, value: Box::new(value) });
        }
        let kind = self.attempt(|reader| {
            reader.sp();
            reader.sign(b':')?;
            reader.sp();
            reader.name()
        });
        Some(match kind {
            Some(kind) => Object::Typed { name, kind },
            None => Object::Name(name),
        })
    }

    /// The `otherwise` of a `choose`.
    fn choose_otherwise(&mut self) -> Option<Clause> {
        let from = self.at;
        self.keyword("otherwise")?;
        self.ws();
        let outcome = Box::new(self.outcome()?);
        let span = self.span(from);
        let word = Name { text: "otherwise".into(), span };
        Some(Clause { word, value: ClauseValue::Outcome(outcome), span })
    }
}

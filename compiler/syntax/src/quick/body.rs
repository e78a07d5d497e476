//! What follows from a reading: verdicts, substitutes, arms, outcomes.

use super::Reader;
use crate::tree::{
    Accept, Act, Answers, Arm, Body, Clause, ClauseValue, End, Guard, Item, Name, Object, Outcome,
    Substitute, Text,
};

impl Reader<'_> {
    pub(super) fn body(&mut self, of: &Act) -> Option<Body> {
        if self.peek() != b'{' {
            return None;
        }
        if let Some(verdict) = self.attempt(|reader| reader.verdict(of)) {
            return Some(verdict);
        }
        self.arms()
    }

    fn verdict(&mut self, of: &Act) -> Option<Body> {
        let from = self.at;
        self.sign(b'{')?;
        self.ws();
        let (mut accept, mut substitutes) = (None, Vec::new());
        let otherwise = match self.word() {
            "accept" => {
                accept = Some(Box::new(self.accept()?));
                self.eol()?;
                self.ws();
                self.all(&mut substitutes, |reader| {
                    let substitute = reader.substitute(of)?;
                    reader.eol()?;
                    reader.ws();
                    Some(substitute)
                });
                self.attempt(Self::otherwise)
            }
            "otherwise" => Some(self.otherwise()?),
            _ => return None,
        };
        self.ws();
        self.sign(b'}')?;
        Some(Body::Verdict { accept, substitutes, otherwise, span: self.span(from) })
    }

    fn otherwise(&mut self) -> Option<Box<Outcome>> {
        self.keyword("otherwise")?;
        self.ws();
        let outcome = self.outcome()?;
        self.eol()?;
        Some(Box::new(outcome))
    }

    fn accept(&mut self) -> Option<Accept> {
        let from = self.at;
        self.keyword("accept")?;
        self.gap()?;
        let limit = self.limit()?;
        let rule = self.attempt(|reader| {
            reader.ws_comma();
            reader.decision()
        });
        let undecided = rule.as_ref().and_then(|_| {
            self.attempt(|reader| {
                reader.ws();
                reader.sign(b',')?;
                reader.ws();
                let from = reader.at;
                reader.blank_parted(&["undecided", "counts", "as", "outside"])?;
                Some(reader.span(from))
            })
        });
        let per = self.attempt(|reader| {
            reader.ws_comma();
            reader.worded_text("per")
        });
        Some(Accept { limit, rule, undecided, per, span: self.span(from) })
    }

    /// How a limit decides: `guarded` or `as read`.
    fn decision(&mut self) -> Option<Name> {
        if let Some(guarded) = self.one_of(&["guarded"]) {
            return Some(guarded);
        }
        let from = self.at;
        self.blank_parted(&["as", "read"])?;
        Some(Name { text: self.slice(from).to_owned(), span: self.span(from) })
    }

    /// Keywords with blanks, and no tab, between them.
    fn blank_parted(&mut self, words: &[&str]) -> Option<()> {
        for (position, word) in words.iter().enumerate() {
            if position > 0 {
                self.sign(b' ')?;
                while self.sign(b' ').is_some() {}
            }
            self.keyword(word)?;
        }
        Some(())
    }

    /// For whoever lacks the instrument: `or using wear-card accept usable-length`
    fn substitute(&mut self, of: &Act) -> Option<Substitute> {
        let from = self.at;
        self.keyword("or")?;
        self.gap()?;
        let same = self.attempt(|reader| reader.same_quantity(of));
        let (same, act, items) = if let Some(act) = same {
            (true, act, Vec::new())
        } else {
            let (act, items) = self.other_quantity()?;
            (false, act, items)
        };
        let answers = self.attempt(|reader| {
            reader.ws_comma();
            reader.answers()
        });
        Some(Substitute { same, act, items, answers, span: self.span(from) })
    }

    /// The line once more, with another instrument and what is accepted by it.
    fn same_quantity(&mut self, of: &Act) -> Option<Act> {
        let from = self.at;
        let word = self.one_of(&["using"])?;
        self.gap()?;
        let mut names = vec![self.name()?];
        self.all(&mut names, |reader| {
            reader.comma_in_line()?;
            (reader.word() != "accept").then_some(())?;
            reader.name()
        });
        let using = Clause { word, value: ClauseValue::Names(names), span: self.span(from) };
        self.ws_comma();
        let body = accepting(self.accept()?);
        let (verb, objects) = (of.verb.clone(), of.objects.clone());
        Some(Act { verb, objects, clauses: vec![using], body, span: self.span(from) })
    }

    /// A line that measures something else, and what is done before.
    fn other_quantity(&mut self) -> Option<(Act, Vec<Item>)> {
        let from = self.at;
        let verb = self.one_of(&["measure"])?;
        self.gap()?;
        let objects = vec![Object::Name(self.name()?)];
        let clauses = self.clauses();
        self.sp();
        self.sign(b'{')?;
        let mut items = Vec::new();
        self.all(&mut items, |reader| {
            reader.ws();
            (reader.word() != "accept").then_some(())?;
            reader.item()
        });
        self.ws();
        let body = accepting(self.accept()?);
        self.eol()?;
        self.ws();
        self.sign(b'}')?;
        Some((Act { verb, objects, clauses, body, span: self.span(from) }, items))
    }

    /// Which sides of the limit a substitute tells: `answers low only`
    fn answers(&mut self) -> Option<Answers> {
        let from = self.at;
        self.keyword("answers")?;
        self.gap()?;
        let mut sides = vec![self.name()?];
        self.all(&mut sides, |reader| {
            reader.gap()?;
            let _joined = reader.attempt(|reader| {
                reader.keyword("and")?;
                reader.gap()
            });
            reader.name()
        });
        let noting = self.attempt(|reader| {
            reader.ws_comma();
            reader.worded_text("noting")
        });
        Some(Answers { sides, noting, span: self.span(from) })
    }

    fn arms(&mut self) -> Option<Body> {
        let from = self.at;
        self.sign(b'{')?;
        let mut arms = Vec::new();
        self.all(&mut arms, |reader| {
            reader.ws();
            let arm = reader.arm()?;
            reader.eol()?;
            Some(arm)
        });
        self.ws();
        self.sign(b'}')?;
        arms.shrink_to_fit();
        (!arms.is_empty()).then(|| Body::Arms { arms, span: self.span(from) })
    }

    /// `at most 0.2 mm guarded -> go on`
    fn arm(&mut self) -> Option<Arm> {
        let from = self.at;
        let guard = self.guard()?;
        let rule = self.attempt(|reader| {
            reader.gap()?;
            reader.decision()
        });
        self.sp();
        self.signs("->")?;
        self.ws();
        let outcome = self.outcome()?;
        Some(Arm { guard, rule, outcome, span: self.span(from) })
    }

    pub(super) fn guard(&mut self) -> Option<Guard> {
        if let Some(words) = self.attempt(Self::guard_words) {
            return Some(Guard::Words(words));
        }
        Some(Guard::Limit(Box::new(self.limit()?)))
    }

    fn guard_words(&mut self) -> Option<Vec<Name>> {
        (!self.fits(Self::decision)).then_some(())?;
        let mut words = vec![self.name()?];
        self.all(&mut words, |reader| {
            reader.gap()?;
            reader.keyword("or")?;
            reader.gap()?;
            reader.name()
        });
        let ends = self.fits(|reader| {
            reader.sp();
            reader.signs("->")
        }) || self.fits(|reader| {
            reader.gap()?;
            reader.decision()
        });
        ends.then_some(words)
    }

    /// `[block or do SUBTASK] [then] END`
    pub(super) fn outcome(&mut self) -> Option<Outcome> {
        self.deeper(|reader| {
            let from = reader.at;
            let items = match reader.peek() {
                b'{' => Some(reader.lines(Self::item)?),
                _ => reader.attempt(Self::outcome_do).map(|act| vec![act]),
            };
            let Some(items) = items else {
                let end = Some(reader.end()?);
                return Some(Outcome { items: Vec::new(), end, span: reader.span(from) });
            };
            let end = reader.attempt(|reader| {
                reader.ws();
                let _then = reader.attempt(|reader| {
                    reader.keyword("then")?;
                    reader.ws();
                    Some(())
                });
                reader.end()
            });
            Some(Outcome { items, end, span: reader.span(from) })
        })
    }

    fn outcome_do(&mut self) -> Option<Item> {
        let from = self.at;
        let verb = self.one_of(&["do"])?;
        self.gap()?;
        let objects = vec![Object::Name(self.name()?)];
        let at = self.attempt(|reader| {
            reader.gap()?;
            (reader.word() == "at").then(|| reader.clause()).flatten()
        });
        let clauses = at.into_iter().collect();
        let span = self.span(from);
        Some(Item::Act(Act { verb, objects, clauses, body: Body::None, span }))
    }

    fn end(&mut self) -> Option<End> {
        let from = self.at;
        match self.word() {
            "go" => {
                self.keywords(&["go", "on"])?;
                let noting = self.attempt(|reader| {
                    reader.ws();
                    reader.worded_text("noting")
                });
                Some(End::GoOn { noting, span: self.span(from) })
            }
            "repeat" => self.repeat(),
            "refer" => {
                self.keywords(&["refer", "to"])?;
                Some(End::Refer { to: self.text_behind()?, span: self.span(from) })
            }
            "stop" => {
                self.keyword("stop")?;
                Some(End::Stop { text: self.text_behind()?, span: self.span(from) })
            }
            "done" => {
                self.keyword("done")?;
                Some(End::Done { span: self.span(from) })
            }
            _ => None,
        }
    }

    fn text_behind(&mut self) -> Option<Text> {
        self.ws();
        self.quoted()
    }

    /// `repeat STEP up to n times, failing that END`
    fn repeat(&mut self) -> Option<End> {
        let from = self.at;
        self.keyword("repeat")?;
        self.gap()?;
        let step = self.name()?;
        let times = self.attempt(|reader| {
            reader.gap()?;
            reader.keywords(&["up", "to"])?;
            reader.gap()?;
            let times = reader.number()?;
            reader.gap()?;
            reader.one_of(&["times", "time"])?;
            Some(Box::new(times))
        });
        let failing = self.attempt(|reader| {
            reader.sp();
            let _comma: Option<()> = reader.sign(b',');
            reader.ws();
            reader.keywords(&["failing", "that"])?;
            reader.ws();
            reader.outcome().map(Box::new)
        });
        Some(End::Repeat { step, times, failing, span: self.span(from) })
    }
}

/// An accepted limit as the body of a line.
fn accepting(accept: Accept) -> Body {
    let span = accept.span;
    Body::Verdict { accept: Some(Box::new(accept)), substitutes: Vec::new(), otherwise: None, span }
}

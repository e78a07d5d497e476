//! Pairs → what may be read where an instrument is not at hand.

use super::{Build, Pair};
use crate::grammar::Rule;
use crate::tree::{Act, Answers, Body, Clause, ClauseValue, Item, Object, Substitute};

impl Build {
    /// A substitute in the braces of a line.
    pub(super) fn substitute(&mut self, pair: &Pair<'_>, line: &Act) -> Option<Substitute> {
        let mut inner = pair.clone().into_inner();
        let read = inner.next()?;
        let same = read.as_rule() == Rule::same_quantity;
        let (act, items) =
            if same { (self.same_quantity(&read, line), Vec::new()) } else { self.other(&read) };
        let answers = inner.next().map(|answers| self.answers(&answers));
        Some(Substitute { same, act, items, answers, span: self.span(pair) })
    }

    /// The line once more, with another instrument and what is accepted by it.
    fn same_quantity(&self, pair: &Pair<'_>, line: &Act) -> Act {
        let mut act = Act {
            verb: line.verb.clone(),
            objects: line.objects.clone(),
            clauses: Vec::new(),
            body: Body::None,
            span: self.span(pair),
        };
        for part in pair.clone().into_inner() {
            match part.as_rule() {
                Rule::using_it => act.clauses.extend(self.clause(&part)),
                _ => act.body = self.accepts(&part),
            }
        }
        act
    }

    /// A line that measures something else, and what is done before.
    fn other(&mut self, pair: &Pair<'_>) -> (Act, Vec<Item>) {
        let mut items = Vec::new();
        let mut act = Act {
            verb: self.name(pair),
            objects: Vec::new(),
            clauses: Vec::new(),
            body: Body::None,
            span: self.span(pair),
        };
        for part in pair.clone().into_inner() {
            match part.as_rule() {
                Rule::verb_measure => act.verb = self.name(&part),
                Rule::name => act.objects.push(Object::Name(self.name(&part))),
                Rule::act_clauses => act.clauses = self.clauses(&part),
                Rule::accept => act.body = self.accepts(&part),
                _ => items.extend(self.item(&part)),
            }
        }
        (act, items)
    }

    fn accepts(&self, pair: &Pair<'_>) -> Body {
        let accept = self.accept(pair).map(Box::new);
        Body::Verdict { accept, substitutes: Vec::new(), otherwise: None, span: self.span(pair) }
    }

    fn answers(&self, pair: &Pair<'_>) -> Answers {
        let mut answers = Answers { sides: Vec::new(), noting: None, span: self.span(pair) };
        for part in pair.clone().into_inner() {
            match part.as_rule() {
                Rule::name => answers.sides.push(self.name(&part)),
                Rule::noting => {
                    let clause: Option<Clause> = self.clause(&part);
                    if let Some(ClauseValue::Text(text)) = clause.map(|clause| clause.value) {
                        answers.noting = Some(text);
                    }
                }
                _ => {}
            }
        }
        answers
    }
}

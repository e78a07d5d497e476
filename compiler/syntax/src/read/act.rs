//! Pairs → items of a procedure.

use super::{Build, Pair};
use crate::findings::NotYet;
use crate::grammar::Rule;
use crate::tree::{
    Accept, Act, Arm, Body, Clause, ClauseValue, End, Guard, Item, Lane, Limit, LimitForm, Name,
    Object, Outcome, Row, Set, Step,
};
use crate::words::NOT_YET;

/// What is made of each part of a pair, without the room that a list grows ahead of its need: a library keeps all its
/// trees.
fn snug<T>(pair: &Pair<'_>, one: impl FnMut(Pair<'_>) -> Option<T>) -> Vec<T> {
    let parts = pair.clone().into_inner();
    let mut list = Vec::with_capacity(parts.len());
    list.extend(parts.filter_map(one));
    list
}

impl Build {
    /// The items in a pair, broken lines left out (they have findings).
    pub(super) fn items(&mut self, pair: &Pair<'_>) -> Vec<Item> {
        snug(pair, |part| self.item(&part))
    }

    pub(super) fn item(&mut self, pair: &Pair<'_>) -> Option<Item> {
        let span = self.span(pair);
        Some(match pair.as_rule() {
            Rule::section => {
                let title = pair.clone().into_inner().next()?;
                Item::Section { title: self.text(&title), items: self.items(pair), span }
            }
            Rule::step => Item::Step(self.step(pair)),
            Rule::act => Item::Act(self.known_act(pair)?),
            Rule::any_order => Item::AnyOrder { items: self.items(pair), span },
            Rule::together => self.together(pair),
            Rule::unbroken => Item::Unbroken { items: self.items(pair), span },
            Rule::at_each => {
                let mut inner = pair.clone().into_inner();
                let (point, of) = (self.name(&inner.next()?), self.name(&inner.next()?));
                Item::AtEach { point, of, items: self.items(pair), span }
            }
            Rule::free_group => Item::Group { items: self.items(pair), span },
            Rule::when => self.when(pair)?,
            Rule::at_the_end => Item::AtTheEnd { items: self.items(pair), span },
            Rule::bad_item => {
                self.bad(pair, Rule::only_item);
                return None;
            }
            _ => return None,
        })
    }

    fn together(&mut self, pair: &Pair<'_>) -> Item {
        let (mut lanes, mut strays) = (Vec::new(), Vec::new());
        for part in pair.clone().into_inner() {
            if part.as_rule() == Rule::lane {
                lanes.extend(self.lane(&part));
            } else {
                strays.extend(self.item(&part));
            }
        }
        Item::Together { lanes, strays, span: self.span(pair) }
    }

    fn lane(&mut self, pair: &Pair<'_>) -> Option<Lane> {
        let role = self.name(&pair.clone().into_inner().next()?);
        let items = pair.clone().into_inner().skip(1).filter_map(|part| self.item(&part));
        Some(Lane { role, items: items.collect(), span: self.span(pair) })
    }

    /// An act, unless its verb is one of a later version of the language.
    fn known_act(&mut self, pair: &Pair<'_>) -> Option<Act> {
        let act = self.act(pair);
        if let Some((word, what)) = NOT_YET.iter().find(|(word, _)| *word == act.verb.text) {
            self.unread += 1;
            self.found.add(&NotYet { place: act.verb.span, word, what });
            return None;
        }
        Some(act)
    }

    fn when(&mut self, pair: &Pair<'_>) -> Option<Item> {
        let mut inner = pair.clone().into_inner();
        let condition = Box::new(self.condition(&inner.next()?));
        let items = inner.next().map(|part| self.items(&part)).unwrap_or_default();
        let otherwise = inner.next().map(|part| self.items(&part)).unwrap_or_default();
        Some(Item::When { condition, items, otherwise, span: self.span(pair) })
    }

    fn step(&mut self, pair: &Pair<'_>) -> Step {
        let span = self.span(pair);
        let mut step = Step {
            name: None,
            text: None,
            clauses: Vec::new(),
            items: Vec::new(),
            head: span,
            span,
        };
        for part in pair.clone().into_inner() {
            match part.as_rule() {
                Rule::step_head => {
                    step.head = self.span(&part);
                    for word in part.clone().into_inner() {
                        match word.as_rule() {
                            Rule::name => step.name = Some(self.name(&word)),
                            _ => step.text = Some(self.text(&word)),
                        }
                    }
                }
                Rule::step_clauses => step.clauses = self.clauses(&part),
                _ => step.items = self.items(&part),
            }
        }
        step
    }

    pub(super) fn act(&mut self, pair: &Pair<'_>) -> Act {
        let mut act = Act {
            verb: Name { text: String::new(), span: self.span(pair) },
            objects: Vec::new(),
            clauses: Vec::new(),
            body: Body::None,
            span: self.span(pair),
        };
        let mut by = None;
        for part in pair.clone().into_inner() {
            match part.as_rule() {
                Rule::verb | Rule::choosing => act.verb = self.name(&part),
                Rule::up_to_of => act.objects.extend(self.up_to(&part)),
                Rule::decided_by => {
                    let value = part.clone().into_inner().next();
                    by = value.map(|value| Box::new(self.expression(&value)));
                }
                Rule::choice_table => {
                    let rows = snug(&part, |row| self.row(&row));
                    let span = self.span(&part);
                    act.body = by.take().map_or(Body::None, |by| Body::Table { by, rows, span });
                }
                Rule::objects => act.objects = snug(&part, |part| self.object(&part)),
                Rule::act_clauses => act.clauses = self.clauses(&part),
                Rule::after_clauses => act.clauses.extend(self.clauses(&part)),
                Rule::choose_otherwise => {
                    let outcome = part.clone().into_inner().next();
                    let outcome = outcome.map(|outcome| Box::new(self.outcome(&outcome)));
                    let word = Name { text: "otherwise".into(), span: self.span(&part) };
                    act.clauses.extend(outcome.map(|outcome| Clause {
                        word,
                        value: ClauseValue::Outcome(outcome),
                        span: self.span(&part),
                    }));
                }
                Rule::verdict => act.body = self.verdict(&part, &act),
                Rule::arms => act.body = self.arms(&part),
                _ => {}
            }
        }
        act
    }

    /// `up to 3 of shim`
    fn up_to(&self, pair: &Pair<'_>) -> Option<Object> {
        let mut inner = pair.clone().into_inner();
        Some(Object::UpTo { most: self.number(&inner.next()?), name: self.name(&inner.next()?) })
    }

    fn row(&self, pair: &Pair<'_>) -> Option<Row> {
        let mut inner = pair.clone().into_inner();
        let guard = self.guard(&inner.next()?)?;
        Some(Row { guard, part: self.quantity(&inner.next()?), span: self.span(pair) })
    }

    fn object(&self, pair: &Pair<'_>) -> Option<Object> {
        let mut inner = pair.clone().into_inner();
        Some(match pair.as_rule() {
            Rule::named_object => {
                let name = self.name(&inner.next()?);
                match inner.next() {
                    Some(kind) if kind.as_rule() == Rule::kind_name => {
                        Object::Typed { name, kind: self.name(&kind) }
                    }
                    Some(value) => {
                        Object::Definition { name, value: Box::new(self.expression(&value)) }
                    }
                    None => Object::Name(name),
                }
            }
            Rule::text => Object::Text(self.text(pair)),
            Rule::quantity_object => Object::Quantity(Box::new(self.quantity(&inner.next()?))),
            _ => Object::Name(self.name(pair)),
        })
    }

    pub(super) fn clauses(&self, pair: &Pair<'_>) -> Vec<Clause> {
        snug(pair, |part| {
            let clause =
                if part.as_rule() == Rule::clause { part.into_inner().next()? } else { part };
            self.clause(&clause)
        })
    }

    pub(super) fn clause(&self, pair: &Pair<'_>) -> Option<Clause> {
        let mut inner: Vec<Pair<'_>> = pair.clone().into_inner().collect();
        let word = self.name(inner.first()?);
        inner.remove(0);
        let value = match pair.as_rule() {
            Rule::because | Rule::per | Rule::noting | Rule::seen_from => {
                ClauseValue::Text(self.text(inner.first()?))
            }
            Rule::proves | Rule::makes | Rule::needs | Rule::unless | Rule::while_so => {
                ClauseValue::Condition(Box::new(self.condition(inner.first()?)))
            }
            Rule::from_set => ClauseValue::Set(Box::new(self.set(inner.first()?)?)),
            Rule::so_that => ClauseValue::Target {
                name: self.name(inner.first()?),
                limit: Box::new(self.limit(inner.get(1)?)),
            },
            Rule::where_is => ClauseValue::Definition {
                name: self.name(inner.first()?),
                value: Box::new(self.expression(inner.get(1)?)),
            },
            Rule::despite => ClauseValue::Despite {
                code: self.name(inner.first()?),
                because: inner
                    .get(1)
                    .and_then(|because| {
                        because.clone().into_inner().find(|part| part.as_rule() == Rule::text)
                    })
                    .map(|text| self.text(&text)),
            },
            Rule::prefer => self.preference(inner.first()?)?,
            Rule::then_to => self.stage(inner.first()?)?,
            _ => self.names_or_limit(&inner)?,
        };
        Some(Clause { word, value, span: self.span(pair) })
    }

    fn preference(&self, pair: &Pair<'_>) -> Option<ClauseValue> {
        if pair.as_rule() != Rule::nearest {
            return Some(ClauseValue::Names(vec![self.name(pair)]));
        }
        let value = self.expression(&pair.clone().into_inner().next()?);
        let span = value.span();
        Some(ClauseValue::Limit(Box::new(Limit { form: LimitForm::Just(value), span })))
    }

    /// `then to Q` and `then turned A`: the second is told by its own word.
    fn stage(&self, pair: &Pair<'_>) -> Option<ClauseValue> {
        match pair.as_rule() {
            Rule::turned => {
                let limit = pair.clone().into_inner().find(|part| part.as_rule() == Rule::limit)?;
                let word = self.name(&pair.clone().into_inner().next()?);
                let limit = Box::new(self.limit(&limit));
                Some(ClauseValue::Target { name: word, limit })
            }
            _ => Some(ClauseValue::Limit(Box::new(self.limit(pair)))),
        }
    }

    fn names_or_limit(&self, inner: &[Pair<'_>]) -> Option<ClauseValue> {
        let first = inner.first()?;
        Some(match first.as_rule() {
            Rule::limit => ClauseValue::Limit(Box::new(self.limit(first))),
            _ => ClauseValue::Names(inner.iter().map(|part| self.point_name(part)).collect()),
        })
    }

    /// A point may be quoted: its name is the text.
    pub(super) fn point_name(&self, pair: &Pair<'_>) -> Name {
        match pair.as_rule() {
            Rule::text => Name { text: self.text(pair).plain(), span: self.span(pair) },
            _ => self.name(pair),
        }
    }

    fn set(&self, pair: &Pair<'_>) -> Option<Set> {
        let mut inner = pair.clone().into_inner();
        Some(match pair.as_rule() {
            Rule::set_steps => Set::Steps {
                from: self.quantity(&inner.next()?),
                to: self.quantity(&inner.next()?),
                step: self.quantity(&inner.next()?),
            },
            Rule::set_list => Set::List(inner.map(|part| self.quantity(&part)).collect()),
            _ => Set::Named(self.name(pair)),
        })
    }

    fn verdict(&mut self, pair: &Pair<'_>, of: &Act) -> Body {
        let (mut accept, mut substitutes, mut otherwise) = (None, Vec::new(), None);
        for part in pair.clone().into_inner() {
            match part.as_rule() {
                Rule::accept => accept = self.accept(&part).map(Box::new),
                Rule::substitute => substitutes.extend(self.substitute(&part, of)),
                Rule::otherwise => {
                    let outcome = part.clone().into_inner().next();
                    otherwise = outcome.map(|outcome| Box::new(self.outcome(&outcome)));
                }
                _ => {}
            }
        }
        Body::Verdict { accept, substitutes, otherwise, span: self.span(pair) }
    }

    pub(super) fn accept(&self, pair: &Pair<'_>) -> Option<Accept> {
        let mut inner = pair.clone().into_inner();
        let limit = self.limit(&inner.next()?);
        let (mut rule, mut undecided, mut per) = (None, None, None);
        for part in inner {
            if part.as_rule() == Rule::decision {
                rule = Some(self.name(&part));
            } else if part.as_rule() == Rule::undecided {
                undecided = Some(self.span(&part));
            } else if let Some(ClauseValue::Text(text)) = self.clause(&part).map(|per| per.value) {
                per = Some(text);
            }
        }
        Some(Accept { limit, rule, undecided, per, span: self.span(pair) })
    }

    fn arms(&mut self, pair: &Pair<'_>) -> Body {
        Body::Arms { arms: snug(pair, |part| self.arm(&part)), span: self.span(pair) }
    }

    fn arm(&mut self, pair: &Pair<'_>) -> Option<Arm> {
        let mut inner = pair.clone().into_inner();
        let guard = self.guard(&inner.next()?)?;
        let mut next = inner.next()?;
        let mut rule = None;
        if next.as_rule() == Rule::decision {
            rule = Some(self.name(&next));
            next = inner.next()?;
        }
        Some(Arm { guard, rule, outcome: self.outcome(&next), span: self.span(pair) })
    }

    fn guard(&self, pair: &Pair<'_>) -> Option<Guard> {
        let guard = pair.clone().into_inner().next()?;
        Some(match guard.as_rule() {
            Rule::limit => Guard::Limit(Box::new(self.limit(&guard))),
            _ => Guard::Words(self.names(&guard)),
        })
    }

    fn outcome(&mut self, pair: &Pair<'_>) -> Outcome {
        let mut outcome = Outcome { items: Vec::new(), end: None, span: self.span(pair) };
        for part in pair.clone().into_inner() {
            match part.as_rule() {
                Rule::outcome_block => outcome.items = self.items(&part),
                Rule::outcome_do => outcome.items = self.outcome_do(&part).into_iter().collect(),
                _ => outcome.end = self.end(&part),
            }
        }
        outcome
    }

    fn outcome_do(&self, pair: &Pair<'_>) -> Option<Item> {
        let mut inner = pair.clone().into_inner();
        let verb = self.name(&inner.next()?);
        let objects = vec![Object::Name(self.name(&inner.next()?))];
        let clauses = inner.filter_map(|clause| self.clause(&clause)).collect();
        Some(Item::Act(Act { verb, objects, clauses, body: Body::None, span: self.span(pair) }))
    }

    fn end(&mut self, pair: &Pair<'_>) -> Option<End> {
        let pair = pair.clone().into_inner().next()?;
        let span = self.span(&pair);
        let mut inner = pair.clone().into_inner();
        Some(match pair.as_rule() {
            Rule::go_on => {
                let noting = inner
                    .next()
                    .and_then(|part| part.into_inner().find(|text| text.as_rule() == Rule::text));
                End::GoOn { noting: noting.map(|text| self.text(&text)), span }
            }
            Rule::repeat => {
                let step = self.name(&inner.next()?);
                let (mut times, mut failing) = (None, None);
                for part in inner {
                    let first = part.clone().into_inner().next()?;
                    match part.as_rule() {
                        Rule::up_to => times = Some(Box::new(self.number(&first))),
                        _ => failing = Some(Box::new(self.outcome(&first))),
                    }
                }
                End::Repeat { step, times, failing, span }
            }
            Rule::refer => End::Refer { to: self.text(&inner.next()?), span },
            Rule::stop => End::Stop { text: self.text(&inner.next()?), span },
            _ => End::Done { span },
        })
    }
}

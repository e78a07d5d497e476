//! Numbered steps, and lines among steps, which are steps of their own.

use super::super::acts;
use super::super::build::Ways;
use super::super::laying::{Laying, Level, Lines};
use super::super::mention::reading_of;
use super::super::scope::{Rounds, StepHere};
use crate::findings::names::DoubledName;
use crate::findings::people::{LaneFault, NotSideBySide};
use locknut_finding::Span;
use locknut_graph::{
    Act, ActKind, Assertion, Because, By, Effect, Line, LineValue, Moment, NodeId, NodeKind,
    Outline, Prose, StepId, Way, Words,
};
use locknut_quantity::Exact;
use locknut_syntax::tree::{self, Clause, ClauseValue, Condition, Name, Step};

/// What the head of a step, or the only line of one, says.
struct Head<'t> {
    /// A lone reading among the steps can be gone back to by its name.
    name: Option<&'t Name>,
    is_lone_act: bool,
    text: Option<Prose>,
    clauses: &'t [Clause],
    span: Span,
}

/// What the head of the step says for all its lines; what it leaves open, they may add to.
#[derive(Clone, Copy, Debug, Default)]
pub(in super::super) struct HeadSays {
    by: bool,
    takes: bool,
}

impl HeadSays {
    /// Nothing is to be added: a block that only some ways go through.
    pub(in super::super) const ALL: Self = Self { by: true, takes: true };

    fn of(clauses: &[Clause]) -> Self {
        let says = |word: &str| clauses.iter().any(|clause| clause.word.text == word);
        Self { by: says("by"), takes: says("takes") }
    }
}

impl<'w> Laying<'w> {
    pub(super) fn step(&mut self, step: &'w Step, ways: Ways, out: &mut Lines) -> Ways {
        acts::check_step_clauses(self, step);
        let text = step.text.as_ref().map(|text| self.prose(text));
        let clauses = step.clauses.as_slice();
        let head =
            Head { name: step.name.as_ref(), is_lone_act: false, text, clauses, span: step.head };
        self.as_step(&head, ways, out, |laying, ways, inner| {
            let outer = std::mem::take(&mut laying.step_needs);
            laying.step_needs = laying.needs(clauses);
            let acts_before = laying.acts_laid;
            let mut ways = laying.items(&step.items, Level::Lines, ways, inner);
            if laying.acts_laid == acts_before {
                ways = laying.tick(step.head, ways, inner);
            }
            laying.step_needs = outer;
            ways
        })
    }

    /// An act: a line of its step, or a step of its own.
    pub(super) fn act(
        &mut self,
        act: &'w tree::Act,
        level: Level,
        ways: Ways,
        out: &mut Lines,
    ) -> Ways {
        if acts::is_remark(act) {
            return acts::lay(self, act, ways, out);
        }
        if level == Level::Lines {
            self.add_to_step(&act.clauses);
            return acts::lay(self, act, ways, out);
        }
        let head = Head {
            name: reading_of(act),
            is_lone_act: true,
            text: None,
            clauses: &act.clauses,
            span: act.span,
        };
        self.as_step(&head, ways, out, |laying, ways, inner| acts::lay(laying, act, ways, inner))
    }

    fn as_step(
        &mut self,
        head: &Head<'_>,
        ways: Ways,
        out: &mut Lines,
        lines: impl FnOnce(&mut Self, Ways, &mut Lines) -> Ways,
    ) -> Ways {
        let by = match self.by_in_lane(head.clauses) {
            // What stands in a step, a subtask that it does too, is done by whoever does the step.
            By::Anyone => self.people.step_by.clone(),
            own @ (By::All | By::Roles(_)) => own,
        };
        let outer_by = std::mem::replace(&mut self.people.step_by, by);
        let outside = self.build.step;
        let outer_head = std::mem::replace(&mut self.head_says, HeadSays::of(head.clauses));
        let (id, number) = self.begin_step(head);
        self.build.step = Some(id);
        self.people.open_steps.push(id);
        let name = self.own_name(head);
        let (ways, rounds) = self.begin_rounds(name, head.span, ways);
        if let Some(name) = name {
            self.make_known(name, id, rounds);
        }
        self.numbering.enter_step(&number);
        let mut inner = Lines::new();
        let ways = match name {
            Some(name) => self.begin_when_held(&name.text, head.span, ways, &mut inner),
            None => ways,
        };
        let mut ways = lines(self, ways, &mut inner);
        self.numbering.leave();
        if let Some(name) = name {
            ways = self.end_step(&name.text, id, head.span, ways, &mut inner);
        }
        self.build.step = outside;
        self.head_says = outer_head;
        self.people.step_by = outer_by;
        self.people.open_steps.pop();
        out.push(Outline::Step { step: id, items: inner });
        ways
    }

    fn begin_step(&mut self, head: &Head<'_>) -> (StepId, String) {
        let number = self.numbering.next();
        let step = locknut_graph::Step {
            number: number.clone(),
            name: head.name.filter(|_| !head.is_lone_act).map(|name| name.text.clone()),
            text: head.text.clone(),
            by: self.people.step_by.clone(),
            takes: self.takes(head.clauses),
            first: NodeId::new(0),
            span: head.span,
        };
        (self.build.enter_step(step), number)
    }

    /// The name by which other lines may speak of the step; says so where it is taken.
    fn own_name<'t>(&mut self, head: &Head<'t>) -> Option<&'t Name> {
        let name = head.name?;
        let first = self.scope.steps.get(&name.text).map(|step| step.span);
        if head.is_lone_act {
            // A reading that is named twice is said where readings are named.
            let taken = first.is_some() || self.scope.mentions.steps.contains_key(&name.text);
            return Some(name).filter(|_| !taken);
        }
        if let Some(first) = first {
            let (what, name, again) = ("step".to_owned(), name.text.clone(), name.span);
            self.found.add(&DoubledName { what, name, first, again });
            return None;
        }
        Some(name)
    }

    /// Where some line goes back to this step, two nodes stand ahead of it: one at which the rounds
    /// count afresh, and the one to which they come back.
    fn begin_rounds(
        &mut self,
        name: Option<&Name>,
        span: Span,
        ways: Ways,
    ) -> (Ways, Option<Rounds>) {
        let repeated = name.is_some_and(|name| self.scope.mentions.repeated.contains(&name.text));
        if !repeated {
            return (ways, None);
        }
        let afresh = self.build.pass(Vec::new(), span, ways);
        let again = self.build.pass(Vec::new(), span, Ways::out(afresh, Way::Next));
        (Ways::out(again, Way::Next), Some(Rounds { afresh, again }))
    }

    fn make_known(&mut self, name: &Name, id: StepId, rounds: Option<Rounds>) {
        let here = StepHere {
            id,
            place: self.here.place(),
            ended: false,
            unbroken: self.unbroken.len(),
            taken_before: self.taken.len(),
            rounds,
            span: name.span,
        };
        let until = self.scope.holds.values().filter(|hold| hold.until.text == name.text);
        for node in until.flat_map(|hold| &hold.nodes) {
            self.build.say(*node, "step", LineValue::Step(id));
        }
        self.scope.steps.insert(name.text.clone(), here);
    }

    fn end_step(
        &mut self,
        name: &str,
        id: StepId,
        span: Span,
        ways: Ways,
        out: &mut Lines,
    ) -> Ways {
        if let Some(step) = self.scope.steps.get_mut(name) {
            step.ended = true;
        }
        let ways = self.let_go_at_end(name, span, ways, out);
        let mut effects = self.let_go(name);
        if self.scope.mentions.since.contains(name) {
            effects.push(Effect::Mark { moment: Moment::StepEnd(id) });
        }
        if effects.is_empty() || ways.none_left() {
            return ways;
        }
        let ends = self.build.pass(effects, span, ways);
        Ways::out(ends, Way::Next)
    }

    /// A step that says what to do in words alone has one tick box.
    fn tick(&mut self, span: Span, ways: Ways, out: &mut Lines) -> Ways {
        let line = Line { phrase: "act-step".to_owned(), values: [].into(), span };
        let mut act = Act::of(ActKind::Do, line);
        act.assertions.clone_from(&self.step_needs);
        let who = self.who(&[]);
        act.assertions.extend(self.hands(&who));
        self.done_by(&who, span);
        self.acts_laid += 1;
        let node = self.build.place(NodeKind::Act(Box::new(act)), Vec::new(), span, ways);
        out.push(Outline::Line { node });
        Ways::out(node, Way::Next)
    }

    /// What `needs …` asks, each clause as one assertion.
    pub(in super::super) fn needs(&mut self, clauses: &[Clause]) -> Vec<Assertion> {
        let wanted = clauses.iter().filter(|clause| clause.word.text == "needs");
        let mut needs = Vec::new();
        for clause in wanted {
            let ClauseValue::Condition(condition) = &clause.value else { continue };
            needs.extend(self.needed(condition));
        }
        needs
    }

    fn needed(&mut self, condition: &Condition) -> Option<Assertion> {
        let span = condition.span();
        let written = self.written(span);
        let condition = self.condition(condition)?;
        Some(Assertion { condition, because: Because::Needs, written, span })
    }

    /// Who does it.
    pub(in super::super) fn by(clauses: &[Clause]) -> By {
        let by = clauses.iter().find(|clause| clause.word.text == "by");
        let Some(ClauseValue::Names(names)) = by.map(|clause| &clause.value) else {
            return By::Anyone;
        };
        match names.as_slice() {
            [one] if one.text == "all" => By::All,
            [one] if one.text == "anyone" => By::Anyone,
            roles => By::Roles(roles.iter().map(|role| Words::of(&role.text)).collect()),
        }
    }

    /// Who does a step of a lane: the one whose lane it is; says so where the step says otherwise.
    fn by_in_lane(&mut self, clauses: &[Clause]) -> By {
        let by = Self::by(clauses);
        let Some(lane) = self.people.lane.clone() else { return by };
        let own = By::Roles(vec![lane.clone()]);
        if by != By::Anyone && by != own {
            let said = clauses.iter().find(|clause| clause.word.text == "by");
            let at = said.map(|clause| clause.span).unwrap_or_default();
            let fault = LaneFault::Other { lane: lane.said };
            self.found.add(&NotSideBySide { at, fault });
        }
        own
    }

    /// Whom a line inside a step names.
    fn own_by(&mut self, clauses: &[Clause]) -> By {
        if self.people.lane.is_some() { self.by_in_lane(clauses) } else { Self::by(clauses) }
    }

    /// A line inside a step tells of people and time as far as the step's head does not.
    fn add_to_step(&mut self, clauses: &[Clause]) {
        let (by, takes) = (self.own_by(clauses), self.takes(clauses));
        let head = self.head_says;
        let step = self.build.step.and_then(|id| self.build.steps.get_mut(usize::from(id.0)));
        let Some(step) = step else { return };
        if !head.by {
            step.by = together(&step.by, by);
        }
        if let Some((shortest, likely, longest)) = takes.filter(|_| !head.takes) {
            step.takes = Some(match step.takes.take() {
                Some((a, b, c)) => (a + shortest, b + likely, c + longest),
                None => (shortest, likely, longest),
            });
        }
    }

    /// How long it takes: shortest, likely, longest, in seconds.
    pub(in super::super) fn takes(&mut self, clauses: &[Clause]) -> Option<(Exact, Exact, Exact)> {
        let takes = clauses.iter().find(|clause| clause.word.text == "takes")?;
        let ClauseValue::Limit(limit) = &takes.value else { return None };
        self.triple(limit)
    }
}

/// Everyone whom either of them names.
fn together(one: &By, other: By) -> By {
    match (one, other) {
        (By::All, _) | (_, By::All) => By::All,
        (By::Anyone, other) => other,
        (one, By::Anyone) => one.clone(),
        (By::Roles(one), By::Roles(other)) => {
            let mut all = one.clone();
            all.extend(other.into_iter().filter(|role| !one.contains(role)));
            By::Roles(all)
        }
    }
}

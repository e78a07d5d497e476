//! People: who does a line, whose hands are taken, and what somebody else must look at afterwards.

use super::build::Ways;
use super::laying::{Laying, Lines};
use super::mention::{HoldMention, Mentions};
use super::scope::{HoldHere, Scope};
use crate::findings::people::OwnWork;
use crate::world::{Inspected, at_point};
use locknut_finding::Span;
use locknut_graph::{
    Act, ActKind, Assertion, Because, By, Condition, Effect, Interlock, Line, LineValue, NodeId,
    NodeKind, Outline, Prose, Restore, StepId, Surely, Test, Value, Variable, VariableId,
    VariableKind, Way, Words,
};
use locknut_syntax::tree::{Clause, Procedure};
use std::collections::BTreeMap;

/// Values of a hold.
pub(super) const NOT_YET: u8 = 0;
pub(super) const HELD: u8 = 1;
pub(super) const LET_GO: u8 = 2;

/// Values of an inspection.
const NOT_DUE: u8 = 0;
const DUE: u8 = 1;

/// Who is there, and what they have in hand.
#[derive(Debug, Default)]
pub(super) struct People {
    /// The crew; empty where the procedure names none.
    pub(super) crew: Vec<Words>,
    /// Who does the step around, as its head says.
    pub(super) step_by: By,
    /// Whose lane is being laid, where people work side by side.
    pub(super) lane: Option<Words>,
    /// Every hold of the job, those of called subtasks too.
    holds: Vec<Hold>,
    /// Inspections by the thing that they look at.
    inspections: BTreeMap<String, VariableId>,
    /// Steps that are being laid, outermost first.
    pub(super) open_steps: Vec<StepId>,
    /// Everybody who does a line of a step, those of its arms and subtasks too.
    doers: BTreeMap<StepId, Vec<(By, Span)>>,
    /// Steps with an act that somebody must inspect who may have done it, and who.
    pub(super) own_work: Vec<(Option<StepId>, Words)>,
    /// Where somebody signs, and who.
    signs: Vec<(NodeId, Words)>,
}

/// A `hold` line of the job.
#[derive(Clone, Debug)]
struct Hold {
    variable: VariableId,
    by: Words,
    thing: Words,
    span: Span,
}

impl Laying<'_> {
    /// The names of a procedure or subtask that is about to be laid, its holds among them.
    pub(super) fn scope_of(&mut self, procedure: &Procedure, at: Option<String>) -> Scope {
        let mentions = Mentions::of(procedure);
        let unread = procedure.broken;
        let mut scope = Scope { unread, at, mentions, ..Scope::default() };
        for hold in scope.mentions.holds.clone().iter().filter(|hold| !hold.at_each) {
            let here = self.hold_here(hold, &scope);
            scope.holds.extend(here.map(|here| (hold.span, here)));
        }
        scope
    }

    /// The holds of a block that is about to be laid at one point.
    pub(super) fn holds_in(&mut self, block: Span) {
        let inside = |hold: &&HoldMention| {
            hold.span.file == block.file
                && block.start <= hold.span.start
                && hold.span.end <= block.end
        };
        let holds: Vec<_> = self.scope.mentions.holds.iter().filter(inside).cloned().collect();
        let scope = std::mem::take(&mut self.scope);
        let here: Vec<_> =
            holds.iter().map(|hold| (hold.span, self.hold_here(hold, &scope))).collect();
        self.scope = scope;
        for (span, here) in here {
            self.scope.holds.extend(here.map(|here| (span, here)));
        }
    }

    fn hold_here(&mut self, hold: &HoldMention, scope: &Scope) -> Option<HoldHere> {
        let said = hold.at.as_ref().map(|at| scope.points.get(&at.text).unwrap_or(&at.text));
        let stands = |at: &&String| {
            self.model.points.get(&hold.thing.text).is_some_and(|points| points.contains(at))
        };
        let name = match said.or(scope.at.as_ref().filter(stands)) {
            None => hold.thing.text.clone(),
            Some(here) => at_point(&hold.thing.text, here),
        };
        let thing = self.model.things.get(&name)?.words.clone();
        let by = Words::of(hold.by.as_ref()?);
        let variable = self.build.add_variable(variable(
            ["not yet held", "held", "let go"],
            format!("hold-of-{}-by-{}", thing.name, by.name),
            format!("hold of {} by {}", thing.said, by.said),
            VariableKind::Hold { by: by.clone(), thing: thing.clone() },
            hold.span,
        ));
        let begun = Hold { variable, by: by.clone(), thing: thing.clone(), span: hold.span };
        self.people.holds.push(begun);
        let (until, nodes) = (hold.until.clone(), Vec::new());
        let meets = hold.meets(scope.mentions.step_lanes.get(&hold.until.text));
        Some(HoldHere { variable, by, thing, until, meets, nodes, begins: None })
    }

    /// The inspection of a thing; every sign-off by its role settles it, those laid before it too.
    fn inspection(&mut self, name: &str, thing: Words, inspected: &Inspected) -> VariableId {
        if let Some(known) = self.people.inspections.get(name) {
            return *known;
        }
        let said = format!("inspection of {}", thing.said);
        let kind = VariableKind::Inspection { by: inspected.by.clone(), thing };
        let id = self.build.add_variable(variable(
            ["not due", "due"],
            format!("inspection-of-{name}"),
            said,
            kind,
            inspected.span,
        ));
        self.people.inspections.insert(name.to_owned(), id);
        for (sign, _) in self.people.signs.iter().filter(|(_, by)| *by == inspected.by) {
            self.build.also(*sign, Effect::Set { variable: id, value: NOT_DUE });
        }
        id
    }

    /// Notes a sign-off: it settles what is due by then.
    pub(super) fn signed(&mut self, node: NodeId, by: Words) {
        self.people.signs.push((node, by));
    }

    /// Who does a line with these clauses: as it says itself, else as its step says, else whose lane
    /// it stands in.
    pub(super) fn who(&self, clauses: &[Clause]) -> By {
        match (Self::by(clauses), &self.people.step_by, &self.people.lane) {
            (By::Anyone, By::Anyone, Some(lane)) => By::Roles(vec![lane.clone()]),
            (By::Anyone, step, _) => step.clone(),
            (own, ..) => own,
        }
    }

    /// Notes who does a line, for every step that it stands in.
    pub(super) fn done_by(&mut self, by: &By, line: Span) {
        for step in &self.people.open_steps {
            let doers = self.people.doers.entry(*step).or_default();
            if !doers.iter().any(|(known, _)| known == by) {
                doers.push((by.clone(), line));
            }
        }
    }

    /// The first line of a step that somebody of this role may have done.
    pub(super) fn may_have_done(&self, step: StepId, role: &Words) -> Option<Span> {
        let mut doers = self.people.doers.get(&step)?.iter();
        doers.find(|(by, _)| self.may_do(by, role)).map(|(_, line)| *line)
    }

    /// Whether it was told of a line of a step that this role may have to inspect it as their own.
    pub(super) fn inspects_own_work_in(&self, step: StepId, role: &Words) -> bool {
        self.people.own_work.iter().any(|(of, by)| *of == Some(step) && by == role)
    }

    /// Whoever does something with their hands has them free.
    pub(super) fn hands(&self, by: &By) -> Vec<Assertion> {
        let Some(first) = self.people.holds.first() else { return Vec::new() };
        let free = |role: &Words| self.free(role);
        match by {
            By::Roles(roles) => roles.iter().flat_map(free).collect(),
            By::All => self.people.crew.iter().flat_map(free).collect(),
            By::Anyone => {
                let each = self.people.crew.iter();
                let each: Vec<Condition> = each.map(|role| all_of(self.free(role))).collect();
                if each.is_empty() || each.contains(&Condition::All(Vec::new())) {
                    return Vec::new();
                }
                vec![Assertion {
                    condition: Condition::Any(each),
                    because: Because::Hands { who: None, thing: first.thing.clone() },
                    written: "somebody has their hands free".to_owned(),
                    span: first.span,
                }]
            }
        }
    }

    /// What keeps somebody's hands free, hold by hold.
    fn free(&self, role: &Words) -> Vec<Assertion> {
        let own = self.people.holds.iter().filter(|hold| hold.by == *role);
        own.map(|hold| Assertion {
            condition: is(hold.variable, vec![NOT_YET, LET_GO], hold.span),
            because: Because::Hands { who: Some(role.clone()), thing: hold.thing.clone() },
            written: format!("the {} has their hands free", role.said),
            span: hold.span,
        })
        .collect()
    }

    /// At the end of a step, whoever held something until then lets go.
    pub(super) fn let_go(&self, step: &str) -> Vec<Effect> {
        let until = self.scope.holds.values().filter(|hold| hold.until.text == step);
        until.map(|hold| Effect::Set { variable: hold.variable, value: LET_GO }).collect()
    }

    /// A step begins only once everything is held that somebody beside holds for it.
    pub(super) fn begin_when_held(
        &mut self,
        step: &str,
        span: Span,
        mut ways: Ways,
        out: &mut Lines,
    ) -> Ways {
        let for_it = self.scope.holds.values().filter(|hold| hold.meets && hold.until.text == step);
        for hold in for_it.cloned().collect::<Vec<_>>() {
            let held = is(hold.variable, vec![HELD, LET_GO], span);
            let wait = self.build.place(NodeKind::Await(held), Vec::new(), span, ways);
            let values = [("by", hold.by), ("thing", hold.thing)];
            let values = values.map(|(name, words)| (name.to_owned(), LineValue::Words(words)));
            let line = Line { phrase: "act-begin-when-held".into(), values: values.into(), span };
            let begins = Act::of(ActKind::Confirm, line);
            let ways_in = Ways::out(wait, Way::Next);
            let node = self.build.place(NodeKind::Act(Box::new(begins)), Vec::new(), span, ways_in);
            out.push(Outline::Line { node });
            ways = Ways::out(node, Way::Next);
        }
        ways
    }

    /// Whoever held something beside another is told when to let go.
    pub(super) fn let_go_line(&mut self, span: Span, after: NodeId, out: &mut Lines) -> Ways {
        let step = self.scope.holds.get(&span).map(|hold| hold.until.text.clone());
        let known = step.as_ref().and_then(|step| self.scope.steps.get(step)).map(|step| step.id);
        let value = match known {
            Some(step) => LineValue::Step(step),
            // Said once that step is reached.
            None => LineValue::Text(step.unwrap_or_default()),
        };
        let values = [("step".to_owned(), value)].into();
        let line = Line { phrase: "act-let-go".into(), values, span };
        let lets_go = NodeKind::Act(Box::new(Act::of(ActKind::Confirm, line)));
        let node = self.build.place(lets_go, Vec::new(), span, Ways::out(after, Way::Next));
        if let Some(hold) = self.scope.holds.get_mut(&span) {
            hold.nodes.push(node);
        }
        out.push(Outline::Line { node });
        Ways::out(node, Way::Next)
    }

    /// Whoever held something until this step, and is asked for nothing beside it, is told at its end.
    pub(super) fn let_go_at_end(
        &mut self,
        step: &str,
        span: Span,
        mut ways: Ways,
        out: &mut Lines,
    ) -> Ways {
        let alone =
            |hold: &&HoldHere| !hold.meets && hold.until.text == step && hold.begins.is_some();
        let holds: Vec<HoldHere> = self.scope.holds.values().filter(alone).cloned().collect();
        for hold in holds {
            if ways.none_left() {
                break;
            }
            let surely = hold.begins.is_some_and(|place| self.here.has_passed(&place));
            let phrase = if surely { "act-let-go-now" } else { "act-let-go-if-held" };
            let values = [("who", hold.by), ("thing", hold.thing)];
            let values = values.map(|(name, words)| (name.to_owned(), LineValue::Words(words)));
            let line = Line { phrase: phrase.into(), values: values.into(), span };
            let lets_go = NodeKind::Act(Box::new(Act::of(ActKind::Confirm, line)));
            let node = self.build.place(lets_go, Vec::new(), span, ways);
            out.push(Outline::Line { node });
            ways = Ways::out(node, Way::Next);
        }
        ways
    }

    /// What an act on a thing makes due; says so where whoever must look at it may have done it.
    pub(super) fn inspection_due(
        &mut self,
        thing: &str,
        verb: &str,
        act: &[Clause],
        at: Span,
    ) -> Option<Effect> {
        let inspected = self.model.things.get(thing)?.inspected.as_ref()?;
        if !inspected.after.iter().any(|after| after == verb) {
            return None;
        }
        if self.may_do(&self.who(act), &inspected.by) {
            let (role, asked) = (inspected.by.said.clone(), inspected.span);
            self.people.own_work.push((self.build.step, inspected.by.clone()));
            self.found.add(&OwnWork { role, work: at, asked, inspects: true });
        }
        let words = self.model.things.get(thing)?.words.clone();
        let variable = self.inspection(thing, words, inspected);
        Some(Effect::Set { variable, value: DUE })
    }

    /// What a sign-off by this role looks at.
    pub(super) fn inspections_by(&self, role: &Words) -> Vec<Effect> {
        let of_role = |id: &VariableId| {
            let declared = self.build.variables.get(usize::from(id.0));
            declared.is_some_and(
                |one| matches!(&one.kind, VariableKind::Inspection { by, .. } if by == role),
            )
        };
        let own = self.people.inspections.values().filter(|id| of_role(id));
        own.map(|id| Effect::Set { variable: *id, value: NOT_DUE }).collect()
    }

    /// Whether somebody of this role may be the one who does it.
    pub(super) fn may_do(&self, by: &By, role: &Words) -> bool {
        match by {
            By::Roles(roles) => roles.contains(role),
            By::All | By::Anyone => self.people.crew.contains(role),
        }
    }

    /// What the people owe: at *done* nothing is in anybody's hands, and nothing is still to look at.
    pub(super) fn owed_by_people(&self) -> Vec<Restore> {
        let because = None;
        let holds = self.people.holds.iter().map(|hold| Restore {
            variable: hold.variable,
            values: vec![NOT_YET, LET_GO],
            surely: Surely::So,
            because: because.clone(),
            span: hold.span,
        });
        let inspections = self.people.inspections.values().filter_map(|id| {
            let span = self.build.variables.get(usize::from(id.0))?.span;
            let (values, surely) = (vec![NOT_DUE], Surely::So);
            Some(Restore { variable: *id, values, surely, because: None, span })
        });
        holds.chain(inspections).collect()
    }

    /// `held by hand until COND`: with nothing left that fastens it, somebody holds it, or COND.
    pub(super) fn held_by_hand(&self, starts: &BTreeMap<VariableId, Vec<u8>>) -> Vec<Interlock> {
        let held = self.model.things.iter().filter_map(|(name, thing)| {
            let (until, span) = thing.held.as_ref()?;
            let keeps = self.world.keeps_in_place(self.model, name);
            // A job that moves neither the part nor what keeps it leaves it as it is.
            let mut of = keeps.iter().flat_map(Condition::variables);
            let moved = of.any(|of| self.build.writes(of) || starts.contains_key(&of));
            if !moved {
                return None;
            }
            let own = self.people.holds.iter().filter(|hold| hold.thing == thing.words);
            let hold = own.map(|hold| is(hold.variable, vec![HELD], *span));
            let mut good: Vec<Condition> = hold.collect();
            good.push(until.clone());
            good.extend(keeps);
            Some(Interlock {
                holds: Condition::Any(good),
                because: Prose::default(),
                span: *span,
                written: format!("{} hangs loose unless somebody holds it", thing.words.said),
                held: Some(thing.words.clone()),
            })
        });
        held.collect()
    }
}

fn is(variable: VariableId, values: Vec<u8>, span: Span) -> Condition {
    Condition::Test(Test::Is { variable, values, span })
}

fn all_of(assertions: Vec<Assertion>) -> Condition {
    Condition::All(assertions.into_iter().map(|assertion| assertion.condition).collect())
}

fn variable<const N: usize>(
    values: [&str; N],
    name: String,
    said: String,
    kind: VariableKind,
    span: Span,
) -> Variable {
    let value = |said: &str| Value { words: Words::titled(&said.replace(' ', "-"), said), span };
    let values = values.iter().map(|said| value(said)).collect();
    Variable { words: Words { name, said }, values, normal: 0, kind, span }
}

//! What follows from a reading: a block, then where it leads.

use super::super::build::Ways;
use super::super::laying::{Laying, Level, Lines, Stretch, Taken};
use super::super::people::NOT_YET;
use super::super::scope::StepHere;
use super::step::HeadSays;
use crate::findings::flow::{
    BrokenOff, DoneInSubtask, NotDoneBefore, OutOfFreed, Unbounded, UnknownStep,
};
use crate::findings::names::SaysTooLittle;
use crate::world::near::nearest;
use locknut_finding::Span;
use locknut_graph::{Effect, End, Leads, NodeKind, Repeat, Way};
use locknut_syntax::tree::{self, Name, Number, Outcome};

/// A repeat goes back at most so many times: more is no bound that a person would keep.
const MOST_ROUNDS: u32 = 100;

impl<'w> Laying<'w> {
    /// Lays the block of an outcome; the ways that go on behind it, and where it leads in words.
    pub(in super::super) fn outcome(
        &mut self,
        outcome: &'w Outcome,
        mut ways: Ways,
        out: &mut Lines,
    ) -> (Ways, Leads) {
        let mut noted = None;
        if let Some(tree::End::GoOn { noting: Some(noting), .. }) = &outcome.end {
            let noting = self.prose(noting);
            // On the way out of the reading itself: there the record has an entry for it.
            ways.note(&noting);
            noted = Some(noting);
        }
        let head_needs = std::mem::take(&mut self.step_needs);
        let mut ways = self.inside(&outcome.items, ways, out);
        self.step_needs = head_needs;
        let Some(end) = &outcome.end else { return (ways, Leads::On { noting: None }) };
        self.is_reached(&mut ways, end.span());
        self.end(end, noted, ways)
    }

    /// Lays a block that only some ways go through.
    pub(in super::super) fn inside(
        &mut self,
        items: &'w [tree::Item],
        ways: Ways,
        out: &mut Lines,
    ) -> Ways {
        let step = self.build.step.and_then(|id| self.build.steps.get(usize::from(id.0)));
        let number = step.map(|step| step.number.clone()).unwrap_or_default();
        self.numbering.enter_block(&number);
        let head_says = std::mem::replace(&mut self.head_says, HeadSays::ALL);
        let ways = self.items(items, Level::Lines, ways, out);
        self.head_says = head_says;
        self.numbering.leave();
        ways
    }

    fn end(
        &mut self,
        end: &'w tree::End,
        noting: Option<locknut_graph::Prose>,
        ways: Ways,
    ) -> (Ways, Leads) {
        match end {
            tree::End::GoOn { .. } => (ways, Leads::On { noting }),
            tree::End::Stop { text, span } => {
                let text = self.prose(text);
                self.close(End::Stop { text: text.clone() }, *span, ways);
                (Ways::default(), Leads::Stop { text })
            }
            tree::End::Refer { to, span } => {
                let to = self.prose(to);
                self.close(End::Refer { to: to.clone() }, *span, ways);
                (Ways::default(), Leads::Refer { to })
            }
            tree::End::Done { span } => {
                if self.stretch == Stretch::Subtask {
                    self.found.add(&DoneInSubtask { span: *span });
                    return (ways, Leads::On { noting: None });
                }
                self.ends_inside(*span);
                self.last_end = Some(*span);
                let here = self.build.pass(vec![Effect::LeaveBlocks], *span, ways);
                self.to_done.join(Ways::out(here, Way::Next));
                (Ways::default(), Leads::Done)
            }
            tree::End::Repeat { step, times, failing, span } => {
                let written = Back { step, times: times.as_deref(), failing, span: *span };
                self.repeat(&written, ways)
            }
        }
    }

    /// The job ends here.
    pub(in super::super) fn close(&mut self, end: End, span: Span, ways: Ways) {
        self.last_end = Some(span);
        if matches!(end, End::Stop { .. } | End::Refer { .. }) {
            self.ends_inside(span);
        }
        // Until it is said, whoever works beside may do what is next there.
        let ways = if self.people.lane.is_some() {
            Ways::out(self.build.pass(Vec::new(), span, ways), Way::Next)
        } else {
            ways
        };
        self.build.place(NodeKind::End(end), Vec::new(), span, ways);
    }

    /// Notes a line that ends the job; says so where that breaks off work.
    fn ends_inside(&mut self, end: Span) {
        self.ends_laid.push(end);
        if let Some(block) = self.unbroken.last() {
            self.found.add(&BrokenOff::ends(end, *block));
        }
    }

    /// Says so where a reading that may be undecided would have the job wait in the middle of such work.
    pub(in super::super) fn may_wait(&mut self, limit: Span) {
        if let Some(block) = self.unbroken.last() {
            self.found.add(&BrokenOff::waits(limit, *block));
        }
    }

    fn repeat(&mut self, back: &Back<'w>, ways: Ways) -> (Ways, Leads) {
        let times = self.bound(back.times, back.span);
        let step = self.step_to_go_back_to(back.step);
        let (Some(times), Some(step)) = (times, step) else {
            return (Ways::default(), Leads::On { noting: None });
        };
        if let Some(block) = self.unbroken.last().filter(|_| step.unbroken < self.unbroken.len()) {
            self.found.add(&BrokenOff::ends(back.span, *block));
        }
        let Some(rounds) = step.rounds else { return (ways, Leads::On { noting: None }) };
        let repeat = self.build.add_repeat(Repeat { step: step.id, times, span: back.span });
        let node = self.build.place(NodeKind::Repeat(repeat), Vec::new(), back.span, ways);
        self.build.also(rounds.afresh, Effect::Afresh { repeat });
        let again = Ways::with(node, Way::Again, self.void_since(step.taken_before));
        self.build.lead(again, rounds.again);
        self.last_end = Some(back.span);
        let mut inner = Lines::new();
        let failing = Ways::out(node, Way::Failing);
        let (ways, leads) = if let Some(outcome) = back.failing {
            self.outcome(outcome, failing, &mut inner)
        } else {
            self.found.add(&no_end(back.span));
            (Ways::default(), Leads::On { noting: None })
        };
        (ways, Leads::Again { step: step.id, times, failing: Box::new((inner, leads)) })
    }

    fn bound(&mut self, times: Option<&Number>, span: Span) -> Option<u32> {
        let wanted = times.map(|times| (times.text.parse::<u32>(), times.span));
        match wanted {
            Some((Ok(times), _)) if (1..=MOST_ROUNDS).contains(&times) => Some(times),
            given => {
                let given = given.map(|(_, span)| span);
                self.found.add(&Unbounded { span, given, most: MOST_ROUNDS });
                None
            }
        }
    }

    fn step_to_go_back_to(&mut self, name: &Name) -> Option<StepHere> {
        let step = self.step_named(name, false)?;
        if !self.here.has_passed(&step.place) && self.here.in_same_child(&step.place) {
            let (name, at) = (name.text.clone(), name.span);
            self.found.add(&NotDoneBefore { name, at, step: step.span, for_a_wait: false });
            return None;
        }
        if !self.here.in_same_child(&step.place) {
            let (name, at) = (name.text.clone(), name.span);
            self.found.add(&OutOfFreed { name, at, step: step.span });
            return None;
        }
        Some(step)
    }

    /// A step that was entered by now; says so where there is none.
    pub(in super::super) fn step_named(
        &mut self,
        name: &Name,
        for_a_wait: bool,
    ) -> Option<StepHere> {
        if let Some(step) = self.scope.steps.get(&name.text) {
            return Some(step.clone());
        }
        let (text, at) = (name.text.clone(), name.span);
        if let Some(step) = self.scope.mentions.steps.get(&name.text).copied() {
            self.found.add(&NotDoneBefore { name: text, at, step, for_a_wait });
            return None;
        }
        self.unknown_step(name);
        None
    }

    /// Says that the procedure has no step of this name.
    pub(in super::super) fn unknown_step(&mut self, name: &Name) {
        if self.scope.unread {
            // The line that could not be read may be that step.
            return;
        }
        let mentions = &self.scope.mentions;
        let (text, at) = (name.text.clone(), name.span);
        let near = nearest(&text, mentions.steps.keys().map(String::as_str));
        let read_at = self.scope.readings.get(&text).map(|named| named.span);
        self.found.add(&UnknownStep { name: text, at, near, read_at });
    }

    /// What goes void when the job goes back to where so much had been taken.
    fn void_since(&self, taken_before: usize) -> Vec<Effect> {
        let mut effects = Vec::new();
        let mut readings = Vec::new();
        let mut proofs = Vec::new();
        for taken in self.taken.iter().skip(taken_before) {
            match taken {
                Taken::Reading(reading) => readings.push(*reading),
                Taken::Proof(variable) if !proofs.contains(variable) => proofs.push(*variable),
                Taken::Proof(_) => {}
                Taken::Hold(variable) => {
                    effects.push(Effect::Set { variable: *variable, value: NOT_YET });
                }
            }
        }
        effects.push(Effect::Void { readings, proofs });
        effects
    }
}

/// A `repeat` as it is written.
struct Back<'w> {
    step: &'w Name,
    times: Option<&'w Number>,
    failing: &'w Option<Box<Outcome>>,
    span: Span,
}

fn no_end(span: Span) -> SaysTooLittle<'static> {
    SaysTooLittle {
        what: "this repeat".to_owned(),
        lacks: "not what follows when the rounds are used up",
        span,
        consequence: "the technician goes round and round, or makes up an end of their own",
        mend: "add: , failing that refer to \"Technical support\"",
    }
}

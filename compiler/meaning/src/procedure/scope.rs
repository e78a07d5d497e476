//! The names of one procedure: its readings and steps, and the variant of the machine.

use super::here::Place;
use super::mention::Mentions;
use super::variant::Variant;
use crate::world::ReadingScope;
use locknut_finding::Span;
use locknut_graph::{NodeId, ReadingId, StepId, VariableId, Words};
use locknut_quantity::{KindId, Limit, UnitId};
use locknut_syntax::tree::Name;
use std::collections::{BTreeMap, BTreeSet};

/// The names that lines of one procedure or subtask may use.
#[derive(Debug, Default)]
pub(super) struct Scope {
    /// Readings taken by lines above.
    pub(super) readings: BTreeMap<String, Named>,
    /// Their names by position.
    pub(super) names: BTreeMap<ReadingId, String>,
    /// Steps entered by lines above.
    pub(super) steps: BTreeMap<String, StepHere>,
    /// What somebody holds, by the place of the line that says so.
    pub(super) holds: BTreeMap<Span, HoldHere>,
    /// Some line could not be read: it may be the one that a name is missed from.
    pub(super) unread: bool,
    /// Readings that blocks at each point took: more than one, so that no later line can mean one of them.
    pub(super) read_at_points: BTreeSet<String>,
    /// What choices would have chosen that were refused, and told.
    pub(super) refused: BTreeSet<String>,
    /// The points that names stand for, in blocks that are done at each.
    pub(super) points: BTreeMap<String, String>,
    /// The point that a subtask is done at: of what stands there, a name means the one there.
    pub(super) at: Option<String>,
    /// All the points of what a subtask is on that is done at none in particular: it reads at each of them.
    pub(super) at_all: Vec<String>,
    /// What the whole procedure mentions.
    pub(super) mentions: Mentions,
}

/// A reading by its name.
#[derive(Clone, Debug)]
pub(super) struct Named {
    pub(super) id: ReadingId,
    /// None: it is no number (an answer, a serial number, text).
    pub(super) number: Option<(KindId, UnitId)>,
    pub(super) points: Vec<String>,
    /// Of an observation that some condition asks for: its variable.
    pub(super) variable: Option<VariableId>,
    pub(super) answers: Vec<String>,
    /// No accuracy is asked for: nothing may be decided by it.
    pub(super) rough: bool,
    /// What `usually` says at its line.
    pub(super) usually: Option<Limit>,
    /// Where it is read.
    pub(super) span: Span,
}

/// A step that has been entered.
#[derive(Clone, Debug)]
pub(super) struct StepHere {
    pub(super) id: StepId,
    pub(super) place: Place,
    pub(super) ended: bool,
    /// How many blocks of unbroken work it stands in.
    pub(super) unbroken: usize,
    /// How many readings and proofs were taken before it.
    pub(super) taken_before: usize,
    /// Where repeats count afresh, and where they come back to; only where some line goes back to it.
    pub(super) rounds: Option<Rounds>,
    pub(super) span: Span,
}

/// A hold of this procedure or subtask.
#[derive(Clone, Debug)]
pub(super) struct HoldHere {
    pub(super) variable: VariableId,
    pub(super) by: Words,
    pub(super) thing: Words,
    /// The step at whose end it is let go.
    pub(super) until: Name,
    /// Whoever holds and whoever does the step work side by side, and wait for each other.
    pub(super) meets: bool,
    /// Its acts, once they are laid.
    pub(super) nodes: Vec<NodeId>,
    /// Where it begins, once it is laid.
    pub(super) begins: Option<Place>,
}

/// The two nodes at the head of a step that some line goes back to.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rounds {
    pub(super) afresh: NodeId,
    pub(super) again: NodeId,
}

impl Scope {
    /// The points that the lines here are done at.
    pub(super) fn done_at(&self) -> Vec<Words> {
        let mut all: Vec<Words> = Vec::new();
        for point in self.at.iter().chain(self.points.values()).map(|point| Words::of(point)) {
            if !all.contains(&point) {
                all.push(point);
            }
        }
        all
    }
}

/// A scope together with the variant that a condition may ask for.
pub(super) struct InScope<'a> {
    pub(super) scope: &'a Scope,
    pub(super) variant: &'a Variant,
}

impl InScope<'_> {
    fn by_id(&self, reading: ReadingId) -> Option<&Named> {
        self.scope.readings.get(self.scope.names.get(&reading)?)
    }
}

impl ReadingScope for InScope<'_> {
    fn reading(&self, name: &str) -> Option<(ReadingId, KindId, UnitId)> {
        let named = self.scope.readings.get(name)?;
        // What is no number is kept out of sums before this is asked; text may name it.
        let (kind, unit) =
            named.number.unwrap_or((locknut_quantity::Units::NUMBER, locknut_quantity::Units::ONE));
        Some((named.id, kind, unit))
    }

    fn points(&self, reading: ReadingId) -> usize {
        self.by_id(reading).map_or(1, |named| named.points.len().max(1))
    }

    fn point(&self, reading: ReadingId, name: &str) -> Option<usize> {
        let here = self.scope.points.get(name).map_or(name, String::as_str);
        self.by_id(reading)?.points.iter().position(|point| point == here)
    }

    fn observation(
        &self,
        name: &str,
        value: &str,
    ) -> Option<Result<(VariableId, u8), Vec<String>>> {
        let named = self.scope.readings.get(name)?;
        let variable = named.variable?;
        let position = named.answers.iter().position(|answer| answer == value);
        Some(match position.and_then(|position| u8::try_from(position).ok()) {
            Some(position) => Ok((variable, position)),
            None => Err(named.answers.clone()),
        })
    }

    fn series(&self, names: &[String]) -> Option<(VariableId, Vec<u8>)> {
        self.variant.series_values(names)
    }

    fn serial(&self, from: Option<u64>, to: Option<u64>) -> Option<(VariableId, Vec<u8>)> {
        self.variant.serial_values(from, to)
    }

    fn point_here(&self, name: &str) -> Option<String> {
        self.scope.points.get(name).cloned()
    }

    fn done_at(&self) -> Option<&str> {
        self.scope.at.as_deref()
    }

    fn knows_one(&self, points: &[String]) -> bool {
        self.scope.at.iter().chain(&self.scope.at_all).any(|point| points.contains(point))
    }

    fn unread(&self) -> bool {
        self.scope.unread
    }

    fn names(&self) -> Vec<String> {
        self.scope.readings.keys().cloned().collect()
    }
}

//! The state while a procedure is laid out as a graph, and how its pieces are read.

use super::acts::Sealed;
use super::build::{Build, Ways};
use super::coverage::Knowns;
use super::here::{Here, Place};
use super::numbering::Numbering;
use super::people::People;
use super::scope::{InScope, Scope};
use super::settled::Settled;
use super::variant::Variant;
use crate::World;
use crate::findings::hardware::MadeSlippery;
use crate::world::{Model, Reader};
use locknut_finding::{Findings, Span};
use locknut_graph::{Assertion, Moment, NodeId, Outline, ReadingId, VariableId, Verdict};
use locknut_syntax::tree::Item;
use std::collections::{BTreeMap, BTreeSet};

/// Everything that grows or changes while the lines of a procedure are laid one after the other.
///
/// `'w` is the life of the world, whose trees are read in place.
pub(super) struct Laying<'w> {
    pub(super) world: &'w World,
    pub(super) model: &'w Model,
    pub(super) build: Build,
    pub(super) scope: Scope,
    pub(super) here: Here,
    pub(super) settled: Settled,
    /// States that a reading may deny, each with the variable that tells whether one has.
    pub(super) denied: BTreeMap<VariableId, VariableId>,
    /// Acts that are done with the hands at something of the machine.
    pub(super) handled: BTreeSet<NodeId>,
    pub(super) variant: Variant,
    /// What each reading can come to.
    pub(super) knowns: Knowns,
    pub(super) numbering: Numbering,
    /// What the head of the step asks of each of its acts.
    pub(super) step_needs: Vec<Assertion>,
    pub(super) head_says: super::flow::HeadSays,
    /// Procedures and subtasks under way, outermost first.
    pub(super) under_way: Vec<&'w str>,
    pub(super) calls_laid: u16,
    /// Blocks inside blocks, those of called subtasks too.
    pub(super) deep: usize,
    /// Readings and proofs in the order in which they are laid.
    pub(super) taken: Vec<Taken>,
    /// Lines that accept a reading and settle nothing of it: what is outside of them goes on, too.
    pub(super) goes_on: BTreeMap<ReadingId, Vec<Span>>,
    /// What is chosen, and the places in which it was fitted.
    pub(super) fitted: BTreeMap<ReadingId, Vec<Fitted>>,
    /// Acts laid so far.
    pub(super) acts_laid: usize,
    /// Fasteners that something is on that is not for them: where it was put on, and what is told where they are tightened.
    pub(super) spoiled: BTreeMap<String, Vec<(Place, MadeSlippery)>>,
    /// What is worked out, and may have more digits than it is shown with.
    pub(super) rounded: BTreeSet<ReadingId>,
    /// Fasteners that something is put on before they are tightened.
    pub(super) threads: BTreeMap<String, VariableId>,
    /// Fasteners that may be used once only: whether they are new.
    pub(super) used: BTreeMap<String, VariableId>,
    /// Sealed parts by what they stand in or behind.
    pub(super) sealed: Sealed<'w>,
    /// `at the end …`, collected wherever it is written.
    pub(super) at_the_end: Vec<&'w Item>,
    /// Ways that end the job, but for what is done at the end.
    pub(super) to_done: Ways,
    pub(super) stretch: Stretch,
    pub(super) people: People,
    /// States that nobody knew at the start, each with the variable that tells whether it still is so.
    pub(super) unknown: BTreeMap<VariableId, VariableId>,
    /// Blocks of work around that must not be broken off, innermost last.
    pub(super) unbroken: Vec<Span>,
    /// All such blocks, and all lines that end the job, in the order in which they are laid.
    pub(super) unbroken_laid: Vec<Span>,
    pub(super) ends_laid: Vec<Span>,
    /// The line that ended the last way on.
    pub(super) last_end: Option<Span>,
    /// A called subtask could not be read as a whole.
    pub(super) unread: bool,
    pub(super) found: Findings,
}

/// Which part of the job is being laid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stretch {
    Procedure,
    AtTheEnd,
    Subtask,
}

/// Something that a repeat makes void.
#[derive(Clone, Copy, Debug)]
pub(super) enum Taken {
    Reading(ReadingId),
    Proof(VariableId),
    /// A hold that is begun.
    Hold(VariableId),
}

/// A chosen piece in its place.
#[derive(Clone, Debug)]
pub(super) struct Fitted {
    /// Things by their names, with their points.
    pub(super) things: Vec<String>,
    pub(super) span: Span,
    pub(super) place: Place,
}

/// Where items stand: a line among steps is a step of its own, a line inside one is not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Level {
    Steps,
    Lines,
}

/// The written lines so far, as they are printed.
pub(super) type Lines = Vec<Outline>;

impl<'w> Laying<'w> {
    pub(super) fn new(world: &'w World, model: &'w Model) -> Self {
        Self {
            world,
            model,
            build: Build::on(model.variables.clone()),
            scope: Scope::default(),
            here: Here::default(),
            settled: Settled::default(),
            goes_on: BTreeMap::new(),
            denied: BTreeMap::new(),
            handled: BTreeSet::new(),
            variant: Variant::default(),
            knowns: Knowns::new(),
            numbering: Numbering::default(),
            step_needs: Vec::new(),
            head_says: super::flow::HeadSays::default(),
            under_way: Vec::new(),
            calls_laid: 0,
            deep: 0,
            taken: Vec::new(),
            fitted: BTreeMap::new(),
            acts_laid: 0,
            spoiled: BTreeMap::new(),
            rounded: BTreeSet::new(),
            threads: BTreeMap::new(),
            used: BTreeMap::new(),
            sealed: Sealed::of(world, model),
            at_the_end: Vec::new(),
            to_done: Ways::default(),
            stretch: Stretch::Procedure,
            people: People::default(),
            unknown: BTreeMap::new(),
            unbroken: Vec::new(),
            unbroken_laid: Vec::new(),
            ends_laid: Vec::new(),
            last_end: None,
            unread: false,
            found: Findings::default(),
        }
    }

    /// Reads a piece of the tree against what is in scope here.
    pub(super) fn read<T>(&mut self, ask: impl FnOnce(&Reader<'_>, &mut Findings) -> T) -> T {
        let names = InScope { scope: &self.scope, variant: &self.variant };
        let reader = Reader { world: self.world, model: Some(self.model), readings: &names };
        ask(&reader, &mut self.found)
    }

    /// The beginning of a wait beside another person; none where nobody else is at work.
    pub(super) fn wait_begins(&self) -> Option<Moment> {
        self.people.lane.as_ref().and(self.build.step).map(Moment::WaitBegin)
    }

    /// What the source says at a place.
    pub(super) fn written(&mut self, span: Span) -> String {
        self.read(|reader, _| reader.written(span))
    }

    /// Whether a reading is accepted or not, the job goes on behind it.
    pub(super) fn goes_on_anyway(&mut self, node: NodeId) {
        let act = self.build.flow.node_weight(node).and_then(locknut_graph::Node::act);
        let reading = act.and_then(|act| act.kind.reading());
        let verdict = act.and_then(|act| act.kind.verdict());
        if let (Some(reading), Some(Verdict::Accept { limit, .. })) = (reading, verdict) {
            self.goes_on.entry(reading).or_default().push(limit.span);
        }
    }

    /// The lines by which these were accepted to no avail.
    pub(super) fn accepted_in_vain(&self, readings: &BTreeSet<ReadingId>) -> Vec<Span> {
        readings.iter().filter_map(|reading| self.goes_on.get(reading)).flatten().copied().collect()
    }
}

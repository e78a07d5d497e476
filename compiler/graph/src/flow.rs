//! What may follow what.

use crate::{
    Act, Assertion, Condition, Effect, Hazard, Heading, Instrument, Interlock, Material, Outline,
    Prose, Reading, Restore, Step, StepId, Tool, Variable, VariableId, Words,
};
use locknut_finding::Span;
use locknut_quantity::Exact;
use petgraph::Incoming;
use petgraph::graph::DiGraph;
use petgraph::visit::EdgeRef;
use std::borrow::Cow;

/// A node of the flow.
pub type NodeId = petgraph::graph::NodeIndex<u32>;

/// A `repeat` line, by its position in [`StepGraph::repeats`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RepeatId(pub u16);

/// One procedure, complete: everything right of here works from this alone. The default is a job of nothing.
#[derive(Clone, Debug, Default)]
pub struct StepGraph {
    /// Title block.
    pub heading: Heading,
    /// States, elements, tools and variant, those that the procedure or an obligation speaks of.
    pub variables: Vec<Variable>,
    /// Values that a variable may start with; left out: its normal value.
    pub starts: Vec<(VariableId, Vec<u8>)>,
    /// Variables that start proved.
    pub starts_proved: Vec<VariableId>,
    /// Variables that have had their value for so many seconds at the start.
    pub starts_held: Vec<(VariableId, Exact)>,
    /// Readings.
    pub readings: Vec<Reading>,
    /// Instruments used.
    pub instruments: Vec<Instrument>,
    /// Tools used.
    pub tools: Vec<Tool>,
    /// Templates that something used is made from, or that a step asks for.
    pub templates: Vec<std::sync::Arc<crate::Template>>,
    /// Parts and consumables used.
    pub materials: Vec<Material>,
    /// What must never be so.
    pub interlocks: Vec<Interlock>,
    /// Hazards of the model.
    pub hazards: Vec<Hazard>,
    /// When the machine may be left, and the line that says so.
    pub safe_to_leave: (Condition, Span),
    /// Whether its author said so; else it is what is taken where nobody did, and no act is worth doing for it.
    pub leave_said: bool,
    /// What must be so at *done*.
    pub restore: Vec<Restore>,
    /// What must hold at nodes behind a reading that denied a state, besides what they ask themselves.
    pub in_doubt: Vec<(NodeId, Assertion)>,
    /// States by which alone the machine is safe to leave at a node behind a reading that denied them: whether it is safe
    /// there nothing judges.
    pub left_in_doubt: Vec<(NodeId, VariableId)>,
    /// Steps in written order, those of laid-in subtasks too.
    pub steps: Vec<Step>,
    /// Nodes and ways.
    pub flow: DiGraph<Node, Edge, u32>,
    /// Where the job begins.
    pub start: NodeId,
    /// Bounded repeats.
    pub repeats: Vec<Repeat>,
    /// How it is written and printed.
    pub outline: Vec<Outline>,
    /// Strength, capability and wording warnings answered where they stand: code, reason, and the act or
    /// step that they are answered for.
    pub answered: Vec<(String, Prose, Span)>,
    /// The verbs of each element that bring it to a value: for whoever says what would mend a fault.
    pub verbs: std::sync::Arc<Verbs>,
    /// Arms that a reading never takes, by what was settled of it: for whoever says why nobody comes to a step.
    pub never: Vec<NeverTaken>,
}

/// An arm of a `when` that no figure leads into which its reading can have there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NeverTaken {
    /// The branch.
    pub branch: NodeId,
    /// The way into the arm.
    pub way: Way,
    /// What it asks.
    pub asked: Span,
    /// The name of the reading.
    pub reading: String,
    /// All that it can be there: `0 .. 2.00 mm`.
    pub can_be: String,
    /// The line that settled this.
    pub settled: Span,
}

/// Verbs by the element that they are of.
pub type Verbs = std::collections::BTreeMap<String, Vec<Verb>>;

/// An act of an element that brings it to a value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Verb {
    /// As it is written: `tighten`.
    pub word: String,
    /// The values that it starts from; empty: any.
    pub from: Vec<u8>,
    /// The value that it brings about.
    pub to: u8,
    /// It takes a new part.
    pub new: bool,
}

/// A node.
#[derive(Clone, Debug)]
pub struct Node {
    /// What happens here.
    pub kind: NodeKind,
    /// What is brought about by passing it, before any way out is taken.
    pub effects: Vec<Effect>,
    /// The step it belongs to; none for the end of the job.
    pub step: Option<StepId>,
    /// Where it is written.
    pub span: Span,
}

/// What happens at a node.
#[derive(Clone, Debug)]
pub enum NodeKind {
    /// An act. Ways out: `Next`; or by its verdict.
    Act(Box<Act>),
    /// Nothing is asked of anyone: joins, step ends. Way out: `Next`.
    Pass,
    /// `when`: way `Arm(0)` where it holds, else `Arm(1)`.
    Branch(Condition),
    /// Freed children. Ways: `Child(i)` for each not yet done, `Next` after the last.
    AnyOrder { children: usize },
    /// The end of a freed child: back to its `AnyOrder`. No way out of its own.
    ChildDone { order: NodeId },
    /// People side by side, a lane each, node by node in any mixture. Ways: `Child(i)` for the next
    /// node of each lane that is not at its end, `Next` after the last. No lane holds another such block.
    Together { lanes: Vec<Words> },
    /// The end of a lane: back to its `Together`. No way out of its own.
    LaneDone { together: NodeId },
    /// Whoever comes here waits until this is so. Way out: `Next`. The one thing that blocks.
    Await(Condition),
    /// Back to an earlier step while rounds are left (`Again`), else `Failing`.
    Repeat(RepeatId),
    /// A subtask begins: what it `needs` must hold here (its `starts with` and its `for`), and the
    /// values of these variables are owed back as found at its end.
    Enter { call: u16, subtask: String, needs: Vec<Assertion>, as_found: Vec<VariableId> },
    /// A subtask ends, done at a point where one is said. What it owes: as found, but for what it `leaves`.
    Leave {
        call: u16,
        subtask: String,
        at: Option<String>,
        as_found: Vec<VariableId>,
        leaves: Vec<Restore>,
    },
    /// The job ends.
    End(End),
}

/// How the job ends.
#[derive(Clone, Debug)]
pub enum End {
    /// Everything is owed back.
    Done,
    /// Safe to leave is owed.
    Stop { text: Prose },
    /// Safe to leave is owed.
    Refer { to: Prose },
}

/// A way from one node to another.
#[derive(Clone, Debug)]
pub struct Edge {
    /// Which way.
    pub way: Way,
    /// What is brought about by taking it, after the node's own effects.
    pub effects: Vec<Effect>,
    /// `go on noting "…"`: put into the record.
    pub noting: Option<Prose>,
}

/// Which way out of a node.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Way {
    /// The only one.
    Next,
    /// The reading is inside its limit.
    Accepted,
    /// The reading is outside, or nothing fits.
    Otherwise,
    /// This arm.
    Arm(u16),
    /// This freed child, or the next node of this lane.
    Child(u16),
    /// Another round.
    Again,
    /// No rounds left.
    Failing,
}

/// A bounded repeat.
#[derive(Clone, Debug)]
pub struct Repeat {
    /// The step it goes back to.
    pub step: StepId,
    /// How many times at most.
    pub times: u32,
    /// The line.
    pub span: Span,
}

impl Node {
    /// Its act, where it is one.
    pub fn act(&self) -> Option<&Act> {
        if let NodeKind::Act(act) = &self.kind { Some(act) } else { None }
    }
}

impl NodeKind {
    /// What a branch or a place that blocks asks.
    pub fn asks(&self) -> Option<&Condition> {
        if let Self::Branch(condition) | Self::Await(condition) = self {
            Some(condition)
        } else {
            None
        }
    }

    /// The block that a child or a lane goes back to at its end.
    pub fn back_to(&self) -> Option<NodeId> {
        if let Self::ChildDone { order: block } | Self::LaneDone { together: block } = self {
            Some(*block)
        } else {
            None
        }
    }
}

impl StepGraph {
    /// Every effect, of nodes and of ways.
    pub fn effects(&self) -> impl Iterator<Item = &Effect> {
        let of_nodes = self.flow.node_weights().flat_map(|node| &node.effects);
        of_nodes.chain(self.flow.edge_weights().flat_map(|edge| &edge.effects))
    }

    /// Every act.
    pub fn acts(&self) -> impl Iterator<Item = &Act> {
        self.flow.node_weights().filter_map(crate::Node::act)
    }

    /// Every condition that is asked anywhere.
    pub fn conditions(&self) -> Vec<Cow<'_, Condition>> {
        let mut all: Vec<&Condition> =
            self.interlocks.iter().map(|interlock| &interlock.holds).collect();
        let mut owed: Vec<&Restore> = self.restore.iter().collect();
        all.extend(self.hazards.iter().map(|hazard| &hazard.condition));
        all.push(&self.safe_to_leave.0);
        all.extend(self.in_doubt.iter().map(|(_, assertion)| &assertion.condition));
        for node in self.flow.node_weights() {
            all.extend(node.kind.asks());
            if let NodeKind::Leave { leaves, .. } = &node.kind {
                owed.extend(leaves);
            }
            let needs = match &node.kind {
                NodeKind::Act(act) => &act.assertions[..],
                NodeKind::Enter { needs, .. } => needs,
                NodeKind::Pass
                | NodeKind::Branch(_)
                | NodeKind::Await(_)
                | NodeKind::AnyOrder { .. }
                | NodeKind::ChildDone { .. }
                | NodeKind::Together { .. }
                | NodeKind::LaneDone { .. }
                | NodeKind::Repeat(_)
                | NodeKind::Leave { .. }
                | NodeKind::End(_) => &[],
            };
            all.extend(needs.iter().map(|need| &need.condition));
        }
        let owed = owed.into_iter().map(|one| Cow::Owned(one.condition()));
        all.into_iter().map(Cow::Borrowed).chain(owed).collect()
    }

    /// A node; ids come from this graph, so it is always there.
    pub fn node(&self, id: NodeId) -> &Node {
        &self.flow[id]
    }

    /// The ways out of a node, in the order of [`Way`].
    pub fn ways(&self, id: NodeId) -> Vec<(Way, &Edge, NodeId)> {
        let mut ways: Vec<_> = self
            .flow
            .edges(id)
            .map(|edge| (edge.weight().way, edge.weight(), edge.target()))
            .collect();
        ways.sort_by_key(|(way, _, target)| (*way, *target));
        ways
    }

    /// The ways that lead into a node, and from where.
    pub fn ways_into(&self, id: NodeId) -> Vec<(NodeId, Way)> {
        let into = self.flow.edges_directed(id, Incoming);
        let mut ways: Vec<_> = into.map(|edge| (edge.source(), edge.weight().way)).collect();
        ways.sort();
        ways
    }

    /// Where a way leads.
    pub fn follow(&self, id: NodeId, way: Way) -> Option<(&Edge, NodeId)> {
        self.ways(id).into_iter().find(|(this, ..)| *this == way).map(|(_, edge, to)| (edge, to))
    }

    /// A variable; ids come from this graph.
    #[expect(clippy::indexing_slicing, reason = "ids come from this very graph")]
    pub fn variable(&self, id: VariableId) -> &Variable {
        &self.variables[usize::from(id.0)]
    }

    /// A reading; ids come from this graph.
    #[expect(clippy::indexing_slicing, reason = "ids come from this very graph")]
    pub fn reading(&self, id: crate::ReadingId) -> &Reading {
        &self.readings[usize::from(id.0)]
    }

    /// A hazard; ids come from this graph.
    #[expect(clippy::indexing_slicing, reason = "ids come from this very graph")]
    pub fn hazard(&self, id: crate::HazardId) -> &Hazard {
        &self.hazards[usize::from(id.0)]
    }

    /// A step; ids come from this graph.
    #[expect(clippy::indexing_slicing, reason = "ids come from this very graph")]
    pub fn step(&self, id: StepId) -> &Step {
        &self.steps[usize::from(id.0)]
    }
}

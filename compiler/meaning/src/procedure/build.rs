//! The graph as it grows: nodes, and ways out that do not lead anywhere yet.

use super::said;
use locknut_finding::Span;
use locknut_graph::{
    DiGraph, Edge, Effect, Instrument, LineValue, Material, NeverTaken, Node, NodeId, NodeKind,
    Prose, Reading, ReadingId, Repeat, RepeatId, Step, StepId, Template, Tool, Variable,
    VariableId, Way,
};
use locknut_quantity::{Quantity, Units};
use std::sync::Arc;

/// A procedure has at most so many nodes, the ones of called subtasks counted at each call.
pub(super) const MOST_NODES: usize = 20_000;

/// What all nodes together ask, owe and make void has at most so many parts; found by feel, far beyond
/// what any sheet says, so that a thing behind a thousand others does not fill the memory.
pub(super) const MOST_PARTS: usize = 400_000;

/// A way out of a node that does not lead anywhere yet.
#[derive(Clone, Debug)]
pub(super) struct Loose {
    pub(super) from: NodeId,
    pub(super) way: Way,
    pub(super) effects: Vec<Effect>,
    pub(super) noting: Option<Prose>,
}

/// The ways by which whatever comes next is reached.
#[derive(Clone, Debug, Default)]
pub(super) struct Ways {
    /// The job begins here.
    begins: bool,
    loose: Vec<Loose>,
    /// It was said that nothing leads here.
    told: bool,
}

impl Ways {
    /// The beginning of the job.
    pub(super) fn beginning() -> Self {
        Self { begins: true, ..Self::default() }
    }

    /// One way out of a node.
    pub(super) fn out(from: NodeId, way: Way) -> Self {
        Self::with(from, way, Vec::new())
    }

    /// One way out of a node that brings something about.
    pub(super) fn with(from: NodeId, way: Way, effects: Vec<Effect>) -> Self {
        Self { loose: vec![Loose { from, way, effects, noting: None }], ..Self::default() }
    }

    /// Nothing leads on from here.
    pub(super) fn none_left(&self) -> bool {
        !self.begins && self.loose.is_empty()
    }

    /// Nothing leads on from here, and that was not said yet.
    pub(super) fn must_be_told(&self) -> bool {
        self.none_left() && !self.told
    }

    /// It is said now.
    pub(super) fn tell(&mut self) {
        self.told = true;
    }

    /// Whether one of these ways sets or proves a variable.
    pub(super) fn settle(&self, of: VariableId) -> bool {
        self.loose.iter().flat_map(|loose| &loose.effects).any(|effect| settles(effect, of))
    }

    /// Takes further ways in.
    pub(super) fn join(&mut self, other: Self) {
        self.begins |= other.begins;
        self.loose.extend(other.loose);
    }

    /// Brings something more about by whichever of these ways is taken.
    pub(super) fn also(&mut self, effect: &Effect) {
        self.loose.iter_mut().for_each(|loose| loose.effects.push(effect.clone()));
    }

    /// Puts a remark into the record by whichever of these ways is taken.
    pub(super) fn note(&mut self, noting: &Prose) {
        self.loose.iter_mut().for_each(|loose| loose.noting = Some(noting.clone()));
    }
}

/// How many nodes and edges there were at some time.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mark {
    nodes: usize,
    edges: usize,
}

/// The parts of a step graph, growing.
#[derive(Debug, Default)]
pub(super) struct Build {
    pub(super) flow: DiGraph<Node, Edge, u32>,
    pub(super) start: Option<NodeId>,
    pub(super) variables: Vec<Variable>,
    pub(super) readings: Vec<Reading>,
    pub(super) instruments: Vec<Instrument>,
    pub(super) tools: Vec<Tool>,
    pub(super) templates: Vec<Arc<Template>>,
    pub(super) materials: Vec<Material>,
    pub(super) steps: Vec<Step>,
    pub(super) repeats: Vec<Repeat>,
    pub(super) answered: Vec<(String, Prose, Span)>,
    pub(super) never: Vec<NeverTaken>,
    /// Steps whose first node is not there yet.
    entered: Vec<StepId>,
    /// The step that nodes belong to now.
    pub(super) step: Option<StepId>,
    /// What the nodes so far ask, owe and make void.
    parts: usize,
    /// A bound was met: nothing more is laid.
    pub(super) full: bool,
    /// The bound was that on parts.
    pub(super) asks_too_much: bool,
}

impl Build {
    /// Nothing but the variables of the machine.
    pub(super) fn on(variables: Vec<Variable>) -> Self {
        Self { variables, ..Self::default() }
    }

    /// Adds a node, and leads these ways to it.
    pub(super) fn place(
        &mut self,
        kind: NodeKind,
        effects: Vec<Effect>,
        span: Span,
        ways: Ways,
    ) -> NodeId {
        self.parts += parts_of(&kind);
        self.asks_too_much |= self.parts > MOST_PARTS;
        if self.flow.node_count() >= MOST_NODES || self.asks_too_much {
            self.full = true;
            return NodeId::new(0);
        }
        let node = self.flow.add_node(Node { kind, effects, step: self.step, span });
        self.lead(ways, node);
        for step in self.entered.split_off(0) {
            if let Some(step) = self.steps.get_mut(usize::from(step.0)) {
                step.first = node;
            }
        }
        node
    }

    /// Leads ways to a node that is already there.
    pub(super) fn lead(&mut self, ways: Ways, to: NodeId) {
        if self.full {
            return;
        }
        if ways.begins {
            self.start = Some(to);
        }
        for Loose { from, way, effects, noting } in ways.loose {
            self.parts += effects.iter().map(parts_in).sum::<usize>();
            self.flow.add_edge(from, to, Edge { way, effects, noting });
        }
    }

    /// Adds a node at which nobody is asked anything.
    pub(super) fn pass(&mut self, effects: Vec<Effect>, span: Span, ways: Ways) -> NodeId {
        self.place(NodeKind::Pass, effects, span, ways)
    }

    /// Brings something more about at a node.
    pub(super) fn also(&mut self, node: NodeId, effect: Effect) {
        if let Some(node) = self.flow.node_weight_mut(node) {
            node.effects.push(effect);
        }
    }

    /// Gives the line of an act a value that was not known when it was laid.
    pub(super) fn say(&mut self, node: NodeId, name: &str, value: LineValue) {
        if let Some(Node { kind: NodeKind::Act(act), .. }) = self.flow.node_weight_mut(node) {
            act.line.values.insert(name.to_owned(), value);
        }
    }

    /// Whether anything so far writes a variable.
    pub(super) fn writes(&self, of: VariableId) -> bool {
        self.effects_since(Mark { nodes: 0, edges: 0 }).any(|effect| sets(effect, of))
    }

    /// How much is laid by now, to ask later what was laid since.
    pub(super) fn mark(&self) -> Mark {
        Mark { nodes: self.flow.node_count(), edges: self.flow.edge_count() }
    }

    /// Whether what was laid since sets a variable, on some way.
    pub(super) fn sets_since(&self, mark: Mark, of: VariableId) -> bool {
        self.effects_since(mark).any(|effect| sets(effect, of))
    }

    fn effects_since(&self, mark: Mark) -> impl Iterator<Item = &Effect> {
        let nodes = self.flow.node_weights().skip(mark.nodes).flat_map(|node| &node.effects);
        let edges = self.flow.edge_weights().skip(mark.edges).flat_map(|edge| &edge.effects);
        nodes.chain(edges)
    }

    /// What the subtask that begins at a node gives back as it found it.
    pub(super) fn owes_as_found(&mut self, enter: NodeId, owed: &[VariableId]) {
        if let Some(Node { kind: NodeKind::Enter { as_found, .. }, .. }) =
            self.flow.node_weight_mut(enter)
        {
            *as_found = owed.to_vec();
        }
    }

    /// Whether what was laid since sets or proves a variable, on some way.
    pub(super) fn settles_since(&self, mark: Mark, of: VariableId) -> bool {
        self.effects_since(mark).any(|effect| settles(effect, of))
    }

    /// Enters a step: the next node placed is its first.
    pub(super) fn enter_step(&mut self, step: Step) -> StepId {
        let id = StepId(next_id(self.steps.len()));
        self.steps.push(step);
        self.entered.push(id);
        id
    }

    /// Adds a reading.
    pub(super) fn add_reading(&mut self, reading: Reading) -> ReadingId {
        self.readings.push(reading);
        ReadingId(next_id(self.readings.len() - 1))
    }

    /// Adds a variable.
    pub(super) fn add_variable(&mut self, variable: Variable) -> VariableId {
        self.variables.push(variable);
        VariableId(next_id(self.variables.len() - 1))
    }

    /// Adds a bounded repeat.
    pub(super) fn add_repeat(&mut self, repeat: Repeat) -> RepeatId {
        self.repeats.push(repeat);
        RepeatId(next_id(self.repeats.len() - 1))
    }

    /// The position of an instrument in the list of those used.
    pub(super) fn instrument(&mut self, instrument: &Instrument) -> usize {
        position_or_push(&mut self.instruments, instrument)
    }

    /// The position of a tool in the list of those used.
    pub(super) fn tool(&mut self, tool: &Tool) -> usize {
        position_or_push(&mut self.tools, tool)
    }

    /// Lists a template once.
    pub(super) fn template(&mut self, template: &Arc<Template>) {
        if !self.templates.contains(template) {
            self.templates.push(template.clone());
        }
    }

    /// Lists a material; what is needed twice is listed once, with its quantities added up.
    pub(super) fn material(&mut self, material: Material, units: &Units) {
        let same = |known: &&mut Material| {
            known.words == material.words && known.new_part == material.new_part
        };
        let Some(known) = self.materials.iter_mut().find(same) else {
            self.materials.push(material);
            return;
        };
        known.maybe &= material.maybe;
        if known.sizes.is_empty() {
            known.sizes = material.sizes;
        }
        known.quantity = match (known.quantity.take(), material.quantity) {
            (Some(one), Some(other)) => Some(added(units, one, &other)),
            (one, other) => one.or(other),
        };
    }
}

fn sets(effect: &Effect, of: VariableId) -> bool {
    matches!(effect, Effect::Set { variable, .. } if *variable == of)
}

pub(super) fn settles(effect: &Effect, of: VariableId) -> bool {
    matches!(effect, Effect::Set { variable, .. } | Effect::Prove { variable } if *variable == of)
}

fn parts_of(kind: &NodeKind) -> usize {
    match kind {
        NodeKind::Act(act) => act.assertions.len(),
        NodeKind::Enter { needs, as_found, .. } => needs.len() + as_found.len(),
        NodeKind::Leave { leaves, as_found, .. } => leaves.len() + as_found.len(),
        NodeKind::Pass
        | NodeKind::Branch(_)
        | NodeKind::AnyOrder { .. }
        | NodeKind::ChildDone { .. }
        | NodeKind::Together { .. }
        | NodeKind::LaneDone { .. }
        | NodeKind::Await(_)
        | NodeKind::Repeat(_)
        | NodeKind::End(_) => 0,
    }
}

fn parts_in(effect: &Effect) -> usize {
    match effect {
        Effect::Void { readings, proofs } => readings.len() + proofs.len(),
        Effect::Set { .. }
        | Effect::Prove { .. }
        | Effect::Wait { .. }
        | Effect::WaitSince { .. }
        | Effect::Mark { .. }
        | Effect::Take { .. }
        | Effect::Afresh { .. }
        | Effect::LeaveBlocks => 1,
    }
}

/// Both together; where they cannot be added, the first.
fn added(units: &Units, one: Quantity, other: &Quantity) -> Quantity {
    if one.kind != other.kind {
        return one;
    }
    let value = &one.value + &other.value;
    let decimals = one.decimals.max(other.decimals);
    let written = said::value(units, &value, &one, decimals);
    Quantity { value, decimals, written, ..one }
}

fn position_or_push<T: Clone + PartialEq>(all: &mut Vec<T>, one: &T) -> usize {
    all.iter().position(|known| known == one).unwrap_or_else(|| {
        all.push(one.clone());
        all.len() - 1
    })
}

/// Positions stay far below 65,535: nodes are bounded, and each node adds at most a few.
fn next_id(position: usize) -> u16 {
    u16::try_from(position).unwrap_or(u16::MAX)
}

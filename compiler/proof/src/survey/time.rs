//! How long it takes on the plain way, and for whom.

use crate::facts::Time;
use crate::schedule::{self, Activity};
use locknut_graph::{
    ActKind, By, Condition, Effect, End, Marking, Moment, NodeId, NodeKind, StepGraph, StepId,
    Test, VariableId, VariableKind, Way, Words,
};
use locknut_quantity::Exact;
use num_traits::Zero;
use std::collections::{BTreeMap, BTreeSet};

/// Of more variants than that, the times of the first so many are told.
const MOST_VARIANTS: usize = 64;

/// Times along the plain way: every reading accepted, the first arm that goes on, no repeats. Where the variants
/// take different times, from the shortest of all to the longest of all; what is likely is that of the longest.
pub(crate) fn time(graph: &StepGraph) -> Time {
    let all = variants(graph).into_iter().map(|variant| of_variant(graph, variant));
    all.reduce(widest).unwrap_or_default()
}

fn of_variant(graph: &StepGraph, variant: BTreeMap<VariableId, u8>) -> Time {
    let mut walk = Walk::of(graph, variant);
    walk.walk();
    let Walk { activities, done_by, untimed, waits, least_crew, .. } = walk;
    let mut time = Time { least_crew, untimed, ..Time::default() };
    let plan = schedule::plan(&activities);
    if plan.mean.is_zero() {
        return time;
    }
    let ends = [
        schedule::end(&activities, |one| one.takes.0.clone()),
        schedule::end(&activities, |one| one.takes.1.clone()),
        schedule::end(&activities, |one| one.takes.2.clone()),
    ];
    for (by, of) in &done_by {
        let worked = activities.get(*of).map(|one| one.takes.1.clone()).unwrap_or_default();
        let roles = people(graph, by);
        if roles.is_empty() {
            time.anyone += &worked;
        }
        for role in roles {
            *time.work.entry(role).or_default() += &worked;
        }
    }
    let [least, likely, most] = ends;
    time.waits = &likely - schedule::busy(&activities, |at| !waits.contains(&at));
    time.elapsed = Some((least, likely, most));
    (time.mean, time.variance) = (plan.mean, plan.variance);
    time
}

/// The variants that a procedure is for, as far as a branch asks: the value of each part of them.
fn variants(graph: &StepGraph) -> Vec<BTreeMap<VariableId, u8>> {
    let asking = graph.flow.node_weights().filter_map(|node| node.kind.asks());
    let asked: BTreeSet<VariableId> = asking.flat_map(Condition::variables).collect();
    let rigid = (0u16..).map(VariableId).zip(&graph.variables).filter(|(id, variable)| {
        matches!(variable.kind, VariableKind::Series | VariableKind::Serial { .. })
            && asked.contains(id)
    });
    let mut all = vec![BTreeMap::new()];
    for (id, _) in rigid {
        let starts = graph.starts.iter().find(|(of, _)| *of == id);
        let values = starts.map_or_else(|| vec![0], |(_, values)| values.clone());
        let with = |so_far: BTreeMap<VariableId, u8>| {
            values.clone().into_iter().map(move |value| {
                let mut variant = so_far.clone();
                variant.insert(id, value);
                variant
            })
        };
        all = all.into_iter().flat_map(with).take(MOST_VARIANTS).collect();
    }
    all
}

fn widest(one: Time, other: Time) -> Time {
    let likely = |time: &Time| time.elapsed.as_ref().map(|(_, likely, _)| likely.clone());
    let (mut longer, shorter) =
        if likely(&other) > likely(&one) { (other, one) } else { (one, other) };
    if let (Some((least, _, most)), Some((also_least, _, also_most))) =
        (&mut longer.elapsed, shorter.elapsed)
    {
        *least = also_least.min(least.clone());
        *most = also_most.max(most.clone());
    }
    for (role, worked) in shorter.work {
        let most = longer.work.entry(role).or_default();
        *most = worked.max(most.clone());
    }
    longer.anyone = shorter.anyone.max(longer.anyone);
    longer.untimed = shorter.untimed.max(longer.untimed);
    longer.least_crew = shorter.least_crew.max(longer.least_crew);
    longer
}

/// Whether a condition holds of a variant; none where it depends on more than that.
fn holds(condition: &Condition, variant: &BTreeMap<VariableId, u8>) -> Option<bool> {
    let all = |parts: &[Condition]| -> Vec<Option<bool>> {
        parts.iter().map(|part| holds(part, variant)).collect()
    };
    // What decides alone decides; else each part must be known.
    let of = |parts: Vec<Option<bool>>, decides: bool| {
        let decided = parts.contains(&Some(decides));
        (decided || !parts.contains(&None)).then_some(decided == decides)
    };
    match condition {
        Condition::Always(so) => Some(*so),
        Condition::Not(inner) => holds(inner, variant).map(|so| !so),
        Condition::All(parts) => of(all(parts), false),
        Condition::Any(parts) => of(all(parts), true),
        Condition::Test(Test::Is { variable, values, .. }) => {
            Some(values.contains(variant.get(variable)?))
        }
        Condition::Test(Test::Proved { .. } | Test::Held { .. } | Test::Within { .. }) => None,
    }
}

/// Who of the crew works at something; nobody where anyone of several may.
fn people(graph: &StepGraph, by: &By) -> Vec<Words> {
    match by {
        By::Roles(roles) => roles.clone(),
        By::All => graph.heading.crew.clone(),
        By::Anyone => match graph.heading.crew.as_slice() {
            [only] => vec![only.clone()],
            _ => Vec::new(),
        },
    }
}

fn idle(graph: &StepGraph) -> BTreeSet<StepId> {
    let (mut idle, mut busy) = (BTreeSet::new(), BTreeSet::new());
    for node in graph.flow.node_weights() {
        let (Some(step), Some(act)) = (node.step, node.act()) else { continue };
        let holds = node.effects.iter().any(|effect| {
            matches!(effect, Effect::Set { variable, value: 1 }
                if matches!(graph.variable(*variable).kind, VariableKind::Hold { .. }))
        });
        let only =
            if holds || matches!(act.kind, ActKind::Wait { .. }) { &mut idle } else { &mut busy };
        only.insert(step);
    }
    idle.difference(&busy).copied().collect()
}

/// One job on the plain way, turned into a network.
struct Walk<'g> {
    graph: &'g StepGraph,
    activities: Vec<Activity>,
    /// Who is at work in which activity.
    done_by: Vec<(By, usize)>,
    /// The activity of each step that was begun.
    begun: BTreeMap<StepId, usize>,
    /// Steps that are nothing but a wait or a hold: they take no time of their own.
    idle: BTreeSet<StepId>,
    /// Where the values of holds stand.
    holds: BTreeMap<VariableId, u8>,
    /// The activity that let go, or took hold, last.
    turned: BTreeMap<VariableId, usize>,
    /// What must be over before whatever comes next, outside of any lane.
    last: Vec<usize>,
    /// The same in each lane of the block under way, by its number.
    lanes: BTreeMap<u16, Vec<usize>>,
    lane: Option<u16>,
    untimed: usize,
    /// Activities in which nobody is at work.
    waits: BTreeSet<usize>,
    least_crew: usize,
    variant: BTreeMap<VariableId, u8>,
    /// Nodes from which the job goes on to the end of what they stand in.
    onward: BTreeSet<NodeId>,
}

/// Nodes from which some way leads to the end of the job, or of the child or lane, with no round taken again and without
/// `done` on the way.
fn onward(graph: &StepGraph) -> BTreeSet<NodeId> {
    let ends = |node: &NodeId| {
        let kind = &graph.node(*node).kind;
        matches!(kind, NodeKind::End(End::Done)) || kind.back_to().is_some()
    };
    let mut left: Vec<NodeId> = graph.flow.node_indices().filter(ends).collect();
    let mut onward = BTreeSet::new();
    while let Some(node) = left.pop() {
        let here = graph.node(node);
        let back = matches!(here.kind, NodeKind::Repeat(_));
        if back || here.effects.contains(&Effect::LeaveBlocks) || !onward.insert(node) {
            continue;
        }
        left.extend(graph.ways_into(node).into_iter().map(|(from, _)| from));
    }
    onward
}

impl<'g> Walk<'g> {
    fn of(graph: &'g StepGraph, variant: BTreeMap<VariableId, u8>) -> Self {
        Self {
            graph,
            variant,
            onward: onward(graph),
            activities: Vec::new(),
            done_by: Vec::new(),
            begun: BTreeMap::new(),
            idle: idle(graph),
            holds: BTreeMap::new(),
            turned: BTreeMap::new(),
            last: Vec::new(),
            lanes: BTreeMap::new(),
            lane: None,
            untimed: 0,
            waits: BTreeSet::new(),
            least_crew: 1,
        }
    }

    fn walk(&mut self) {
        let graph = self.graph;
        let mut marking = Marking::start(graph);
        // No plain way is longer than all nodes, each passed once, and once more for its lane.
        for _ in 0..graph.flow.node_count().saturating_mul(3) {
            self.pass(marking.at);
            let Some(way) = self.plain_way(&marking) else { break };
            self.block(marking.at, way);
            let Some(next) = marking.take(graph, way) else { break };
            marking = next;
        }
    }

    /// Enters and leaves the lanes of a block.
    fn block(&mut self, at: NodeId, way: Way) {
        let NodeKind::Together { lanes } = &self.graph.node(at).kind else { return };
        match way {
            Way::Child(lane) => {
                self.least_crew = self.least_crew.max(lanes.len());
                let before = self.last.clone();
                self.lanes.entry(lane).or_insert(before);
                self.lane = Some(lane);
            }
            Way::Next
            | Way::Accepted
            | Way::Otherwise
            | Way::Arm(_)
            | Way::Again
            | Way::Failing => {
                self.last = std::mem::take(&mut self.lanes).into_values().flatten().collect();
                self.lane = None;
            }
        }
    }

    fn before(&mut self) -> &mut Vec<usize> {
        match self.lane {
            Some(lane) => self.lanes.entry(lane).or_default(),
            None => &mut self.last,
        }
    }

    fn add(&mut self, takes: (Exact, Exact, Exact), after: Vec<usize>) -> usize {
        self.activities.push(Activity { takes, after });
        self.activities.len() - 1
    }

    fn pass(&mut self, at: NodeId) {
        let graph = self.graph;
        let node = graph.node(at);
        if matches!(node.kind, NodeKind::Together { .. }) {
            return;
        }
        if let NodeKind::Await(condition) = &node.kind {
            let over: Vec<usize> = condition
                .variables()
                .iter()
                .filter_map(|variable| self.turned.get(variable).copied())
                .collect();
            self.before().extend(over);
        }
        if let Some(step) = node.step.filter(|step| !self.begun.contains_key(step)) {
            self.step(step);
        }
        // Whoever signs for what they cannot have done is another one than did it.
        if node.act().is_some_and(|act| !act.signed_apart_from().is_empty()) {
            self.least_crew = self.least_crew.max(2);
        }
        if let Some(ActKind::Wait { seconds, since, .. }) = node.act().map(|act| &act.kind) {
            self.wait(seconds, *since);
        }
        for effect in &node.effects {
            if let Effect::Set { variable, value } = effect
                && matches!(graph.variable(*variable).kind, VariableKind::Hold { .. })
            {
                self.holds.insert(*variable, *value);
                let so_far = self.before().last().copied();
                self.turned.extend(so_far.map(|of| (*variable, of)));
            }
        }
    }

    fn step(&mut self, id: StepId) {
        let step = self.graph.step(id);
        let takes = step.takes.clone();
        if takes.is_none() && !self.idle.contains(&id) {
            self.untimed += 1;
        }
        let after = self.before().clone();
        let of = self.add(takes.unwrap_or_default(), after);
        *self.before() = vec![of];
        self.begun.insert(id, of);
        self.done_by.push((step.by.clone(), of));
        let held: Vec<&Words> = self
            .holds
            .iter()
            .filter(|(_, value)| **value == 1)
            .filter_map(|(hold, _)| match &self.graph.variable(*hold).kind {
                VariableKind::Hold { by, .. } => Some(by),
                VariableKind::State
                | VariableKind::Element { .. }
                | VariableKind::Tool
                | VariableKind::Series
                | VariableKind::Serial { .. }
                | VariableKind::Observation
                | VariableKind::Inspection { .. }
                | VariableKind::Unknown { .. }
                | VariableKind::Denied { .. }
                | VariableKind::DeniedTime { .. } => None,
            })
            .collect();
        // Whoever holds something meanwhile is at work, too.
        let holding = held.iter().map(|by| (By::Roles(vec![(*by).clone()]), of));
        self.done_by.extend(holding);
        let held = held.len();
        let at_once = if let By::Roles(roles) = &step.by { roles.len() } else { 1 };
        self.least_crew = self.least_crew.max(at_once + held);
    }

    fn wait(&mut self, seconds: &Exact, since: Option<Moment>) {
        let from = match since {
            Some(Moment::StepEnd(step)) => self.begun.get(&step).copied(),
            Some(Moment::WaitBegin(_)) | None => None,
        };
        let after = from.map_or_else(|| self.before().clone(), |of| vec![of]);
        let of = self.add((seconds.clone(), seconds.clone(), seconds.clone()), after);
        self.waits.insert(of);
        if from.is_some() {
            self.before().push(of);
        } else {
            *self.before() = vec![of];
        }
    }

    fn plain_way(&self, marking: &Marking) -> Option<Way> {
        let graph = self.graph;
        let ways = marking.ways(graph);
        if let NodeKind::Branch(condition) = &graph.node(marking.at).kind
            && let Some(so) = holds(condition, &self.variant)
        {
            let way = Way::Arm(u16::from(!so));
            return ways.contains(&way).then_some(way);
        }
        let goes_on = |way: &&Way| {
            if let Way::Child(lane) = **way
                && let Some(next) = marking.next_in_lane(lane)
            {
                return !self.blocks(next);
            }
            graph.follow(marking.at, **way).is_some_and(|(_, to)| self.onward.contains(&to))
        };
        ways.iter().find(goes_on).or(ways.first()).copied()
    }

    /// Whether somebody waits at a node for what is not so yet.
    fn blocks(&self, at: NodeId) -> bool {
        let NodeKind::Await(Condition::Test(Test::Is { variable, values, .. })) =
            &self.graph.node(at).kind
        else {
            return false;
        };
        !values.contains(&self.holds.get(variable).copied().unwrap_or_default())
    }
}

//! All duties of a graph, judged in as few explorations as there are different slices.

use crate::duty::{Check, Duty, duties};
use crate::engine::{
    Bits, Cell, Detail, Explored, Index, Look, Move, Slice, System, Walked, Watch,
};
use crate::path::path;
use crate::tell::{Lack, lack};
use locknut_finding::PathPoint;
use locknut_graph::{NodeId, VariableId, Way};
use std::collections::{BTreeMap, BTreeSet};

/// The states for each node that a walk along one line of work may cost before it is given up.
const MOST_ALONG_NODE: usize = 4;

/// A duty that fails on some path.
pub(crate) struct Fault<'g> {
    pub(crate) duty: Duty<'g>,
    /// Where it fails: the act that is judged, or that broke an interlock; none: before the first act.
    pub(crate) node: Option<NodeId>,
    /// How it comes to this.
    pub(crate) path: Vec<PathPoint>,
    /// The nodes of the path with the ways taken, for whoever replays it.
    pub(crate) trail: Vec<(NodeId, Way)>,
    /// The values of what was watched, where it fails.
    pub(crate) values: BTreeMap<VariableId, u8>,
    /// Whether a value, a proof or a time is lacking.
    pub(crate) lack: Lack,
    /// Where people wait for one another.
    pub(crate) waits: Vec<NodeId>,
    /// Freed acts that look alike and fail alike, with the duty that fails at each: told as one.
    pub(crate) alike: Vec<(String, NodeId)>,
}

/// What came of judging all duties.
pub(crate) struct Judged<'g> {
    pub(crate) faults: Vec<Fault<'g>>,
    /// How many duties there are.
    pub(crate) duties: usize,
    /// Variables of each slice that cost more states than are allowed.
    pub(crate) given_up: Vec<BTreeSet<VariableId>>,
}

/// Judges every duty of a graph; faults come in the order of their duties, the shortest path first.
pub(crate) fn judge<'g>(index: &Index<'g>) -> Judged<'g> {
    let all = duties(index.graph);
    let count = all.len();
    let mut groups: BTreeMap<Slice, Vec<Duty<'g>>> = BTreeMap::new();
    for duty in all {
        groups.entry(duty.slice(index)).or_default().push(duty);
    }
    let mut judged = Judged { faults: Vec::new(), duties: count, given_up: Vec::new() };
    let mut groups: Vec<Group<'_, 'g>> =
        groups.into_iter().map(|(slice, duties)| Group::of(index, slice, duties)).collect();
    // Most duties hold: what is seen along one line of work alone is walked once for all of them. Where that does
    // not settle it, each is walked by itself.
    if Group::along_the_line(index, &groups).is_some_and(|all| all.surely_holds()) {
        groups.retain(|group| !group.is_along_the_line());
    }
    for group in groups {
        group.judge(&mut judged);
    }
    judged
}

/// Duties that depend on the same.
struct Group<'i, 'g> {
    index: &'i Index<'g>,
    slice: Slice,
    seen: Bits,
    duties: Vec<Duty<'g>>,
    /// Duties by the node at which they are judged.
    at: BTreeMap<usize, Vec<usize>>,
    /// Duties that are judged everywhere.
    everywhere: Vec<usize>,
}

/// How near a failing state is, and by which move or at which state it fails.
#[derive(Clone, Copy)]
struct Nearest {
    far: u32,
    ends: Ends,
}

#[derive(Clone, Copy)]
enum Ends {
    At(usize),
    By(Move),
}

/// What fails: duty and node, with the nearest way.
type Failing = BTreeMap<(usize, Option<usize>), Nearest>;

/// All states, and what fails in them.
type Seen<'s, 'i, 'g> = (Walked<'s, 'i, 'g>, Failing);

impl<'i, 'g> Group<'i, 'g> {
    fn of(index: &'i Index<'g>, mut slice: Slice, duties: Vec<Duty<'g>>) -> Self {
        let mut at: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        let mut everywhere = Vec::new();
        for (position, duty) in duties.iter().enumerate() {
            match duty.place() {
                Some(node) => at.entry(node.index()).or_default().push(position),
                None => everywhere.push(position),
            }
        }
        let places: Vec<usize> = at.keys().copied().collect();
        let seen = slice.close(index, &places);
        Self { index, slice, seen, duties, at, everywhere }
    }

    /// Those groups as one of which nothing is seen in freed steps and lanes, where states multiply, and that follow
    /// no reading through its arms; none where there are not several.
    fn along_the_line(index: &'i Index<'g>, groups: &[Self]) -> Option<Self> {
        let line: Vec<&Self> = groups.iter().filter(|group| group.is_along_the_line()).collect();
        if line.len() < 2 {
            return None;
        }
        let cells = line.iter().flat_map(|group| group.slice.0.iter().copied());
        let duties = line.iter().flat_map(|group| group.duties.iter().cloned());
        Some(Self::of(index, Slice(cells.collect()), duties.collect()))
    }

    fn is_along_the_line(&self) -> bool {
        !self.index.inner.meets(&self.seen)
            && !self.slice.0.iter().any(|cell| matches!(cell, Cell::Piece(_)))
    }

    /// Whether every duty holds, as far as few states tell.
    fn surely_holds(&self) -> bool {
        let system = self.system(Detail::Verdict);
        let most = self.index.bounds.most.min(MOST_ALONG_NODE * system.nodes.len());
        self.listed(&system, most).is_some_and(|(_, failing)| failing.is_empty())
    }

    fn judge(mut self, judged: &mut Judged<'g>) {
        let system = self.system(Detail::Verdict);
        let bounds = self.index.bounds;
        let walked = if bounds.most == 0 {
            self.drawn(&system)
        } else if self.index.lists(&system) {
            self.listed(&system, bounds.most)
        } else {
            None
        };
        if walked.is_none() && self.duties.len() > 1 {
            // Places in many freed steps keep these apart from each other: one at a time they are counted.
            let duties = std::mem::take(&mut self.duties);
            for duty in duties {
                Group::of(self.index, duty.slice(self.index), vec![duty]).judge(judged);
            }
            return;
        }
        let parts = self.duties.first().map(Duty::parts);
        let parts = parts.filter(|parts| walked.is_none() && parts.len() > 1);
        if let Some(parts) = parts {
            // What must all hold holds where each part does, and each part sees less.
            for duty in parts {
                Group::of(self.index, duty.slice(self.index), vec![duty]).judge(judged);
            }
            return;
        }
        let walked = walked.or_else(|| self.walk_large(&system));
        let Some((walked, failing)) = walked else {
            judged.given_up.push(self.slice.variables());
            return;
        };
        if failing.is_empty() {
            return;
        }
        let as_judged = self.faults(&walked, &failing);
        let Some(mut faults) = self.along_paths() else {
            judged.faults.extend(as_judged);
            return;
        };
        // The verdict is never lost on the way to a better path.
        let alike = faults.iter().flat_map(|fault| fault.alike.iter().map(|(key, _)| key.clone()));
        let shown: BTreeSet<String> =
            faults.iter().map(|fault| fault.duty.key()).chain(alike).collect();
        faults.extend(as_judged.into_iter().filter(|fault| !shown.contains(&fault.duty.key())));
        judged.faults.extend(faults);
    }

    /// The faults again, each with a path that can be gone: every node is walked, and every branch on the
    /// path is decided, those too that do not matter to the fault. None where that costs too much: then
    /// the verdict stands and the path is told as it is.
    fn along_paths(&mut self) -> Option<Vec<Fault<'g>>> {
        loop {
            let system = self.system(Detail::Path);
            let (walked, failing) = self.walk(&system)?;
            let faults = self.faults(&walked, &failing);
            let mut more = false;
            for (node, _) in faults.iter().flat_map(|fault| &fault.trail) {
                if let Some(condition) = self.index.kind(node.index()).asks() {
                    more |= self.slice.watch(self.index, condition, &mut self.seen);
                    more |= self.seen.insert(node.index());
                }
            }
            if !more {
                return Some(faults);
            }
        }
    }

    fn system(&self, detail: Detail) -> System<'i, 'g> {
        let judges = |node: usize| {
            let here = self.at.get(&node).into_iter().flatten();
            here.filter_map(|duty| Some(self.duties.get(*duty)?.alike()))
                .collect::<Vec<_>>()
                .join(";")
        };
        System::build(self.index, &self.slice, &self.seen, &judges, detail, None)
    }

    /// All states of a system, and what fails in them; none where that is too much.
    fn walk<'s>(&self, system: &'s System<'i, 'g>) -> Option<Seen<'s, 'i, 'g>> {
        let few = self.index.lists(system).then(|| self.listed(system, self.index.bounds.most));
        few.flatten().or_else(|| self.walk_large(system))
    }

    /// The same of a system that is likely to have more states than can be listed.
    fn walk_large<'s>(&self, system: &'s System<'i, 'g>) -> Option<Seen<'s, 'i, 'g>> {
        let listed = || self.listed(system, self.index.bounds.most);
        self.drawn(system).or_else(|| if self.index.lists(system) { None } else { listed() })
    }

    /// States one by one, up to so many.
    fn listed<'s>(&self, system: &'s System<'i, 'g>, most: usize) -> Option<Seen<'s, 'i, 'g>> {
        let judging = Judging::of(self, system);
        let mut failing = Failing::new();
        let mut explored = Explored::of(system, most, &mut |_, _, _, _| {});
        if explored.given_up {
            return None;
        }
        // Hardly ever: then it is gone through once more, to learn by which moves.
        if (0..explored.count()).any(|id| judging.breaks(explored.state(id))) {
            explored = Explored::of(system, most, &mut judging.moves(&mut failing));
        }
        let walked = Walked::Listed(explored);
        judging.states(&walked, &mut failing);
        Some((walked, failing))
    }

    /// States as sets.
    fn drawn<'s>(&self, system: &'s System<'i, 'g>) -> Option<Seen<'s, 'i, 'g>> {
        let judging = Judging::of(self, system);
        let mut failing = Failing::new();
        let watch = judging.watch();
        let walked = Walked::drawn(system, &watch, &mut judging.moves(&mut failing))?;
        judging.states(&walked, &mut failing);
        Some((walked, failing))
    }

    fn faults(&self, walked: &Walked<'_, 'i, 'g>, failing: &Failing) -> Vec<Fault<'g>> {
        let system = walked.system();
        let mut faults: Vec<Fault<'g>> = Vec::new();
        // Freed acts that are alike are told once, the nearest of them.
        let mut told: BTreeMap<(String, Option<usize>), usize> = BTreeMap::new();
        let mut by_length: Vec<(&(usize, Option<usize>), &Nearest)> = failing.iter().collect();
        by_length.sort_by_key(|((duty, node), nearest)| (nearest.far, *duty, *node));
        for ((duty, node), nearest) in by_length {
            let Some(duty) = self.duties.get(*duty) else { continue };
            let key = (duty.alike(), node.map(|node| system.peer(node)));
            let node = node.map(NodeId::new);
            if let Some(fault) = told.get(&key).and_then(|position| faults.get_mut(*position)) {
                fault.alike.extend(node.map(|node| (duty.key(), node)));
                continue;
            }
            told.insert(key, faults.len());
            let (mut trail, state) = match nearest.ends {
                Ends::At(id) => walked.way_to(id),
                Ends::By(moved) => walked.way_by(moved),
            };
            if let (Duty::Stuck { .. }, Some(node)) = (duty, node) {
                // Whoever is not told of has finished by then.
                system.unseen(node.index(), &mut trail);
            }
            let shown = if duty.place().is_some() { node } else { None };
            faults.push(Fault {
                duty: duty.clone(),
                node,
                path: path(self.index, &self.seen, &trail, shown),
                values: system.values(&state),
                lack: match duty {
                    Duty::Assertion { assertion, .. } => lack(&assertion.condition, system, &state),
                    Duty::Interlock { interlock } => lack(&interlock.holds, system, &state),
                    // Other than by an upper limit, it is told by how everything stands.
                    Duty::SafeToLeave { part, .. } => match lack(part, system, &state) {
                        upper @ Lack::Upper { .. } => upper,
                        Lack::Value | Lack::Proof(..) | Lack::Time { .. } => Lack::Value,
                    },
                    Duty::Restore { restore, .. } | Duty::Leaves { restore, .. } => {
                        lack(&restore.condition(), system, &state)
                    }
                    Duty::AsFound { .. } | Duty::Taken { .. } | Duty::Stuck { .. } => Lack::Value,
                },
                trail,
                waits: system.waiting(&state).into_iter().map(NodeId::new).collect(),
                alike: Vec::new(),
            });
        }
        // Of those that are alike, some may be reached only after the others: all of them fail.
        for fault in &mut faults {
            let Some(node) = fault.node else { continue };
            let own = system.peer(node.index());
            let known: BTreeSet<NodeId> =
                fault.alike.iter().map(|(_, node)| *node).chain([node]).collect();
            let peers = system.nodes.iter().map(|kept| NodeId::new(kept.node));
            for peer in
                peers.filter(|peer| system.peer(peer.index()) == own && !known.contains(peer))
            {
                let asks = fault.duty.alike();
                let here = self.at.get(&peer.index()).into_iter().flatten().chain(&self.everywhere);
                let same = here
                    .filter_map(|duty| self.duties.get(*duty))
                    .find(|duty| duty.alike() == asks);
                fault.alike.extend(same.map(|duty| (duty.key(), peer)));
            }
        }
        faults
    }
}

/// The duties of a group, made ready to be judged on the states of a system.
struct Judging<'j, 'i, 'g> {
    group: &'j Group<'i, 'g>,
    system: &'j System<'i, 'g>,
    checks: Vec<Check>,
}

impl<'j, 'i, 'g> Judging<'j, 'i, 'g> {
    fn of(group: &'j Group<'i, 'g>, system: &'j System<'i, 'g>) -> Self {
        let checks = group.duties.iter().map(|duty| duty.check(system)).collect();
        Self { group, system, checks }
    }

    fn broken(&self, duty: usize, state: &[u64]) -> bool {
        self.checks.get(duty).is_some_and(|check| check.fails(self.system, state))
    }

    fn breaks(&self, state: &[u64]) -> bool {
        self.group.everywhere.iter().any(|duty| self.broken(*duty, state))
    }

    /// What it goes by.
    fn watch(&self) -> Watch {
        let look = |duty: &usize, node: Option<usize>| {
            self.checks.get(*duty).map(|check| check.look(self.system, node))
        };
        let mut watch = Watch::default();
        for (node, duties) in &self.group.at {
            if let Some(at) = self.system.kept.of(*node) {
                // A state is told with no more than what is looked at, and each duty here is judged on it.
                let looks = duties.iter().filter_map(|duty| look(duty, Some(*node)));
                watch.at.insert(at, looks.reduce(Look::and).into_iter().collect());
            }
        }
        let everywhere = self.group.everywhere.iter().filter_map(|duty| look(duty, None));
        let everywhere = everywhere.fold(Look::default(), Look::and);
        watch.moves = (!self.group.everywhere.is_empty()).then_some(everywhere);
        watch
    }

    /// Notes by which moves a duty that is judged everywhere comes to be broken: afterwards it is the same fault.
    fn moves<'f>(&'f self, failing: &'f mut Failing) -> impl FnMut(&[u64], Move, &[u64], u32) + 'f {
        move |before, moved, after, far| {
            for duty in &self.group.everywhere {
                if self.broken(*duty, after) && !self.broken(*duty, before) {
                    let node = self.system.nodes.get(moved.node).map(|kept| kept.node);
                    note(failing, *duty, node, Nearest { far, ends: Ends::By(moved) });
                }
            }
        }
    }

    /// Notes what fails where somebody stands, and at the start.
    fn states(&self, walked: &Walked<'_, '_, '_>, failing: &mut Failing) {
        let system = self.system;
        let mut here: Vec<Vec<usize>> = vec![Vec::new(); system.nodes.len()];
        for (node, duties) in &self.group.at {
            if let Some(all) = system.kept.of(*node).and_then(|kept| here.get_mut(kept)) {
                all.extend(duties);
            }
        }
        for id in walked.states() {
            let state = walked.state(id);
            if !self.group.at.is_empty() {
                let far = walked.far(id);
                system.standing_at(state, |at| {
                    for duty in here.get(at).into_iter().flatten() {
                        if self.broken(*duty, state) {
                            let node = system.nodes.get(at).map(|kept| kept.node);
                            note(failing, *duty, node, Nearest { far, ends: Ends::At(id) });
                        }
                    }
                });
            }
            // A subtask by itself begins in whatever state its callers owe it; that is judged with them.
            if walked.is_start(id) && !self.group.index.graph.heading.subtask {
                for duty in self.group.everywhere.iter().filter(|duty| self.broken(**duty, state)) {
                    note(failing, *duty, None, Nearest { far: 0, ends: Ends::At(id) });
                }
            }
        }
    }
}

fn note(failing: &mut Failing, duty: usize, node: Option<usize>, found: Nearest) {
    let nearest = failing.entry((duty, node)).or_insert(found);
    if found.far < nearest.far {
        *nearest = found;
    }
}

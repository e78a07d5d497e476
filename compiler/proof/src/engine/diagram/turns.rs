//! What may be done next, told by what it depends on: which slots are looked at before it, which are written by it.
//!
//! What it does to a state is not told here. It is asked of [`Moves`], as the listing of states does, once for each way
//! in which these slots stand.

use super::super::layout::{Asks, Slot};
use super::super::system::{Edge, Kept, Kind, Op, System};

/// Something that may be done next.
pub(super) struct Turn {
    /// Where the job as a whole stands then.
    pub(super) place: usize,
    /// The node that is done.
    pub(super) at: usize,
    pub(super) edges: Vec<usize>,
    /// Slots that what comes of it depends on.
    pub(super) reads: Vec<Slot>,
    /// Nothing comes of it but where these slots hold one of these values.
    pub(super) only: Vec<(Slot, Vec<u64>)>,
}

/// Every turn of a system.
pub(super) fn turns(system: &System<'_, '_>) -> Vec<Turn> {
    let mut turns = Vec::new();
    for (at, kept) in system.nodes.iter().enumerate() {
        let Some(place) = system.place(at) else { continue };
        let mut turn = |edges: Vec<usize>, more: &[Slot], only: Vec<(Slot, Vec<u64>)>| {
            let mut reads = more.to_vec();
            reads.extend(only.iter().map(|(slot, _)| *slot));
            if kept.lane.is_some() {
                reads.push(kept.stands);
            }
            if let Some(flag) = &system.flag {
                reads.push(flag.slot);
                flag.asks.slots(&mut reads);
            }
            for edge in edges.iter().map(|edge| &kept.edges[*edge]) {
                edge.ops.iter().for_each(|op| looks(*op, &mut reads));
                count_of(system, edge, &mut reads);
            }
            distinct(&mut reads);
            turns.push(Turn { place, at, edges, reads, only });
        };
        let mut own: Vec<(Slot, Vec<u64>)> = Vec::new();
        if kept.lane.is_some() {
            own.push((kept.stands, vec![number(at)]));
        }
        let every = || (0..kept.edges.len()).collect::<Vec<_>>();
        match &kept.kind {
            Kind::Plain => every().into_iter().for_each(|edge| turn(vec![edge], &[], own.clone())),
            Kind::Branch(asks) | Kind::Await(asks) => {
                turn(every(), &asks.all_slots(), own);
            }
            Kind::Repeat(rounds, _) => turn(every(), &[*rounds], own),
            Kind::Order { classes, .. } => {
                for class in classes {
                    let open = (0..wide(class.members.len())).collect();
                    let only = own.iter().cloned().chain([(class.done, open)]).collect();
                    turn(class.members.clone(), &[], only);
                }
                let all = classes.iter().map(|class| class.done);
                let full = classes.iter().map(|class| vec![wide(class.members.len())]);
                let last = kept.edges.len().checked_sub(1).into_iter().collect();
                turn(last, &[], own.into_iter().chain(all.zip(full)).collect());
            }
            Kind::Together { lanes, .. } => {
                let all = lanes.iter().map(|(stands, _)| (*stands, system.ends_of_lane(*stands)));
                turn(every(), &[], all.collect());
            }
            Kind::ChildDone { .. } | Kind::LaneDone | Kind::End => {}
        }
    }
    turns
}

/// What an edge of a node writes, whatever stood there before; where the job as a whole stands is left out.
pub(super) fn writes(system: &System<'_, '_>, kept: &Kept, edge: &Edge) -> Vec<Slot> {
    let mut written: Vec<Slot> = edge.ops.iter().map(|op| written(*op)).collect();
    written.extend(system.flag.iter().map(|flag| flag.slot));
    if edge.leaves {
        written.extend(&system.of_blocks);
    }
    let stands = if edge.leaves { system.stands } else { kept.stands };
    if let Some(to) = edge.to {
        arrives(system, stands, to, &mut written);
    }
    written.retain(|slot| *slot != system.stands);
    distinct(&mut written);
    written
}

fn arrives(system: &System<'_, '_>, stands: Slot, to: usize, written: &mut Vec<Slot>) {
    written.push(stands);
    match &system.nodes[to].kind {
        Kind::ChildDone { count, .. } => written.extend(*count),
        Kind::Together { lanes, .. } => {
            for (lane, first) in lanes {
                if let Some(first) = first {
                    arrives(system, *lane, *first, written);
                }
            }
        }
        Kind::Plain
        | Kind::Branch(_)
        | Kind::Await(_)
        | Kind::Repeat(..)
        | Kind::Order { .. }
        | Kind::LaneDone
        | Kind::End => {}
    }
}

/// The end of a child adds to what its class has done.
fn count_of(system: &System<'_, '_>, edge: &Edge, reads: &mut Vec<Slot>) {
    if let Some(Kind::ChildDone { count, .. }) = edge.to.map(|to| &system.nodes[to].kind) {
        reads.extend(*count);
    }
}

/// Slots that a change goes by.
fn looks(op: Op, reads: &mut Vec<Slot>) {
    match op {
        Op::Put(..) | Op::Pick(..) => {}
        Op::Round(slot) | Op::Wait(slot, ..) => reads.push(slot),
        Op::Mark { time, .. } => reads.push(time),
        Op::Since { time, moment, .. } => reads.extend([time, moment]),
        Op::Find { value, .. } => reads.push(value),
    }
}

/// The slot that a change is of.
pub(super) fn written(op: Op) -> Slot {
    match op {
        Op::Put(slot, _) | Op::Pick(slot, _) | Op::Round(slot) | Op::Wait(slot, ..) => slot,
        Op::Since { time, .. } => time,
        Op::Mark { moment, .. } => moment,
        Op::Find { found, .. } => found,
    }
}

impl System<'_, '_> {
    /// Everything that a state holds, but where the job as a whole stands.
    pub(super) fn slots(&self) -> Vec<Slot> {
        self.layout.rooms().iter().copied().filter(|slot| *slot != self.stands).collect()
    }

    /// Where the job as a whole stands while somebody is at a node; none where nobody comes to stand there.
    pub(in super::super) fn place(&self, at: usize) -> Option<usize> {
        match self.nodes[at].lane {
            Some((block, _)) => self.kept.of(block),
            None => Some(at),
        }
    }

    /// Numbers of the nodes at which whoever stands in a lane is done.
    fn ends_of_lane(&self, stands: Slot) -> Vec<u64> {
        self.in_lane(stands, |kind| matches!(kind, Kind::LaneDone))
    }

    /// Numbers of the nodes of a lane that are of some kind.
    pub(in super::super) fn in_lane(
        &self,
        stands: Slot,
        which: impl Fn(&Kind) -> bool,
    ) -> Vec<u64> {
        let nodes = self.nodes.iter().enumerate();
        let here = nodes.filter(|(_, kept)| kept.lane.is_some() && kept.stands == stands);
        here.filter(|(_, kept)| which(&kept.kind)).map(|(at, _)| number(at)).collect()
    }
}

impl Asks {
    /// Slots that decide it in a state: however all else stands, it is as it is there.
    pub(in super::super) fn decided_by(&self, state: &[u64], slots: &mut Vec<Slot>) {
        let parts = match self {
            Self::Not(inner) => return inner.decided_by(state, slots),
            Self::All(parts) | Self::Any(parts) => parts,
            Self::Always(_)
            | Self::Unknown
            | Self::In(..)
            | Self::Piece { .. }
            | Self::Proved(..)
            | Self::Held { .. } => return self.slots(slots),
        };
        let at_once = Some(matches!(self, Self::Any(_)));
        match parts.iter().find(|part| part.hold(state) == at_once) {
            Some(part) => part.decided_by(state, slots),
            None => parts.iter().for_each(|part| part.decided_by(state, slots)),
        }
    }

    fn all_slots(&self) -> Vec<Slot> {
        let mut slots = Vec::new();
        self.slots(&mut slots);
        slots
    }

    /// Everything that it asks about.
    pub(in super::super) fn slots(&self, slots: &mut Vec<Slot>) {
        match self {
            Self::Always(_) | Self::Unknown => {}
            Self::In(slot, _) | Self::Piece { slot, .. } => slots.push(*slot),
            Self::Proved(value, _, proved) => slots.extend([*value, *proved]),
            Self::Held { value, time, .. } => slots.extend([*value, *time]),
            Self::Not(inner) => inner.slots(slots),
            Self::All(parts) | Self::Any(parts) => parts.iter().for_each(|part| part.slots(slots)),
        }
    }
}

/// What stands in a slot where somebody is at a node.
pub(super) fn number(position: usize) -> u64 {
    wide(position) + 1
}

fn wide(count: usize) -> u64 {
    u64::try_from(count).unwrap_or(0)
}

pub(in super::super) fn distinct(slots: &mut Vec<Slot>) {
    let mut known: Vec<Slot> = Vec::with_capacity(slots.len());
    for slot in slots.drain(..) {
        if slot != Slot::NONE && !known.contains(&slot) {
            known.push(slot);
        }
    }
    *slots = known;
}

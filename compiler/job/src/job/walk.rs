//! From node to node: effects are brought about, and nobody is asked where nobody need be.

use super::{Job, set};
use crate::evaluate::{Machine, holds};
use locknut_graph::{Condition, Effect, Marking, Moment, NodeKind, Way};
use locknut_quantity::Exact;
use num_traits::Zero;

impl Job<'_> {
    /// Takes a way, then passes everything at which nobody is asked anything.
    pub(super) fn go(&mut self, way: Way) {
        self.pass(way);
        self.settle();
    }

    pub(super) fn settle(&mut self) {
        while let Some(way) = self.silent_way() {
            self.pass(way);
        }
    }

    /// The way out of a node at which nobody is asked anything.
    fn silent_way(&self) -> Option<Way> {
        if !self.variant.is_empty() {
            return None;
        }
        match &self.graph.node(self.marking.at).kind {
            NodeKind::Act(_) | NodeKind::End(_) => None,
            NodeKind::Branch(condition) => {
                Some(if self.is_so(condition) { Way::Arm(0) } else { Way::Arm(1) })
            }
            NodeKind::Together { .. } => self.silent_lane(),
            NodeKind::AnyOrder { .. } => {
                let ways = self.marking.ways(self.graph);
                // The last child left needs no question.
                if ways.len() == 1 { ways.first().copied() } else { None }
            }
            NodeKind::Pass
            | NodeKind::ChildDone { .. }
            | NodeKind::LaneDone { .. }
            | NodeKind::Await(_)
            | NodeKind::Repeat(_)
            | NodeKind::Enter { .. }
            | NodeKind::Leave { .. } => self.marking.ways(self.graph).first().copied(),
        }
    }

    fn is_so(&self, condition: &Condition) -> bool {
        let machine = Machine {
            values: &self.values,
            proved: &self.proved,
            waited: &self.waited,
            readings: &self.readings,
        };
        holds(condition, &machine)
    }

    /// Lanes in which somebody can go on, or the way on where all are done.
    pub(super) fn open_ways(&self) -> Vec<Way> {
        let mut ways = self.marking.ways(self.graph);
        if let NodeKind::Together { .. } = self.graph.node(self.marking.at).kind {
            ways.retain(|way| {
                let Way::Child(lane) = way else { return true };
                let next = self.marking.next_in_lane(*lane).map(|next| &self.graph.node(next).kind);
                match next {
                    Some(NodeKind::Await(condition)) => self.is_so(condition),
                    _ => true,
                }
            });
        }
        ways
    }

    /// A lane in which nobody is asked anything next, or the only one in which somebody can go on.
    fn silent_lane(&self) -> Option<Way> {
        let ways = self.open_ways();
        if ways.len() == 1 {
            return ways.first().copied();
        }
        ways.into_iter().find(|way| {
            let next = self.marking.take(self.graph, *way);
            next.is_some_and(|next| self.asks_nothing(&next))
        })
    }

    fn asks_nothing(&self, marking: &Marking) -> bool {
        match &self.graph.node(marking.at).kind {
            NodeKind::Act(_) | NodeKind::End(_) => false,
            NodeKind::AnyOrder { .. } => marking.ways(self.graph).len() == 1,
            NodeKind::Pass
            | NodeKind::Branch(_)
            | NodeKind::ChildDone { .. }
            | NodeKind::Together { .. }
            | NodeKind::LaneDone { .. }
            | NodeKind::Await(_)
            | NodeKind::Repeat(_)
            | NodeKind::Enter { .. }
            | NodeKind::Leave { .. } => true,
        }
    }

    fn pass(&mut self, way: Way) {
        let at = self.marking.at;
        let Some(next) = self.marking.take(self.graph, way) else { return };
        let edge =
            self.graph.follow(at, way).map(|(edge, _)| edge.effects.clone()).unwrap_or_default();
        for effect in self.graph.node(at).effects.iter().chain(&edge) {
            self.bring_about(effect);
        }
        self.marking = next;
    }

    fn bring_about(&mut self, effect: &Effect) {
        match effect {
            Effect::Set { variable, value } => {
                set(&mut self.values, *variable, *value);
                set(&mut self.proved, *variable, false);
                set(&mut self.waited, *variable, Exact::zero());
                self.at_moment.values_mut().for_each(|then| set(then, *variable, None));
            }
            Effect::Prove { variable } => set(&mut self.proved, *variable, true),
            Effect::Wait { seconds } => {
                self.waited.iter_mut().for_each(|waited| *waited += seconds);
            }
            Effect::WaitSince { seconds, moment } => self.wait_since(seconds, *moment),
            Effect::Mark { moment } => {
                let then = self.waited.iter().cloned().map(Some).collect();
                self.at_moment.insert(*moment, then);
            }
            Effect::Void { readings, proofs } => {
                self.readings.retain(|reading, _| !readings.contains(reading));
                for variable in proofs {
                    set(&mut self.proved, *variable, false);
                }
            }
            Effect::Take { .. } | Effect::Afresh { .. } | Effect::LeaveBlocks => {}
        }
    }

    /// A floor, not a sum: what was written after that moment gains nothing for certain.
    fn wait_since(&mut self, seconds: &Exact, moment: Moment) {
        let Some(then) = self.at_moment.get(&moment) else { return };
        for (waited, then) in self.waited.iter_mut().zip(then) {
            if let Some(floor) = then.as_ref().map(|then| then + seconds)
                && floor > *waited
            {
                *waited = floor;
            }
        }
    }
}

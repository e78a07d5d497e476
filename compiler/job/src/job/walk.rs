//! From node to node: effects are brought about, and nobody is asked where nobody need be.

use super::{Job, set};
use crate::evaluate::{Machine, holds};
use locknut_graph::{Effect, NodeKind, StepId, Way};
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
                let machine = Machine {
                    values: &self.values,
                    proved: &self.proved,
                    waited: &self.waited,
                    readings: &self.readings,
                };
                Some(if holds(condition, &machine) { Way::Arm(0) } else { Way::Arm(1) })
            }
            NodeKind::AnyOrder { .. } => {
                let ways = self.marking.ways(self.graph);
                // The last child left needs no question.
                if ways.len() == 1 { ways.first().copied() } else { None }
            }
            NodeKind::Pass
            | NodeKind::ChildDone { .. }
            | NodeKind::Repeat(_)
            | NodeKind::Enter { .. }
            | NodeKind::Leave { .. } => self.marking.ways(self.graph).first().copied(),
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
                self.at_step_end.values_mut().for_each(|then| set(then, *variable, None));
            }
            Effect::Prove { variable } => set(&mut self.proved, *variable, true),
            Effect::Wait { seconds } => {
                self.waited.iter_mut().for_each(|waited| *waited += seconds);
            }
            Effect::WaitSince { seconds, step } => self.wait_since(seconds, *step),
            Effect::StepEnds { step } => {
                let then = self.waited.iter().cloned().map(Some).collect();
                self.at_step_end.insert(*step, then);
            }
            Effect::Void { readings, proofs } => {
                self.readings.retain(|reading, _| !readings.contains(reading));
                for variable in proofs {
                    set(&mut self.proved, *variable, false);
                }
            }
            Effect::Take { .. } | Effect::Afresh { .. } => {}
        }
    }

    /// A floor, not a sum: what was written after that step's end gains nothing for certain.
    fn wait_since(&mut self, seconds: &Exact, step: StepId) {
        let Some(then) = self.at_step_end.get(&step) else { return };
        for (waited, then) in self.waited.iter_mut().zip(then) {
            if let Some(floor) = then.as_ref().map(|then| then + seconds)
                && floor > *waited
            {
                *waited = floor;
            }
        }
    }
}

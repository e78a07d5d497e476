//! `together { fitter { … } mate { … } }`: people side by side, a lane each.

use super::super::build::Ways;
use super::super::laying::{Laying, Level, Lines};
use super::{does_something, head};
use crate::findings::people::{LaneFault, NotSideBySide};
use locknut_finding::Span;
use locknut_graph::{NodeKind, Outline, OutlineLane, Way, Words};
use locknut_syntax::tree::{Item, Lane};

impl<'w> Laying<'w> {
    pub(super) fn together(
        &mut self,
        lanes: &'w [Lane],
        strays: &'w [Item],
        span: Span,
        level: Level,
        ways: Ways,
        out: &mut Lines,
    ) -> Ways {
        self.check_lanes(lanes, strays, span);
        if let Some(lane) = &self.people.lane {
            let fault = LaneFault::Inside { lane: lane.said.clone() };
            self.found.add(&NotSideBySide { at: span, fault });
            return ways;
        }
        let roles = lanes.iter().map(|lane| Words::of(&lane.role.text)).collect();
        let block = self.build.place(NodeKind::Together { lanes: roles }, Vec::new(), span, ways);
        let mut outline = Vec::new();
        let mut closed = Vec::new();
        let mut all_end = true;
        for (position, lane) in (0u16..).zip(lanes) {
            let role = Words::of(&lane.role.text);
            let mut inner = Lines::new();
            self.people.lane = Some(role.clone());
            self.here.enter_child();
            let ways =
                self.items(&lane.items, level, Ways::out(block, Way::Child(position)), &mut inner);
            closed.push(self.here.leave());
            self.people.lane = None;
            all_end &= !ways.none_left();
            if !ways.none_left() {
                let done = NodeKind::LaneDone { together: block };
                self.build.place(done, Vec::new(), lane.span, ways);
            }
            outline.push(OutlineLane { by: role, items: inner });
        }
        out.push(Outline::Together { node: block, lanes: outline });
        if !all_end {
            // A lane that always ends the job never lets the block come to its end.
            return Ways::default();
        }
        for lane in closed {
            self.here.is_certain(lane);
        }
        Ways::out(block, Way::Next)
    }

    fn check_lanes(&mut self, lanes: &[Lane], strays: &[Item], span: Span) {
        if lanes.len() < 2 {
            let fault = LaneFault::Few { lanes: lanes.len() };
            self.found.add(&NotSideBySide { at: span, fault });
        }
        for (position, lane) in lanes.iter().enumerate() {
            let role = &lane.role;
            let before = lanes.iter().take(position).find(|other| other.role.text == role.text);
            if let Some(first) = before {
                let fault = LaneFault::Twice { role: role.text.clone(), first: first.role.span };
                self.found.add(&NotSideBySide { at: role.span, fault });
            }
            if !lane.items.iter().any(does_something) {
                let fault = LaneFault::Idle { role: role.text.clone() };
                self.found.add(&NotSideBySide { at: role.span, fault });
            }
        }
        for stray in strays {
            self.found.add(&NotSideBySide { at: head(stray), fault: LaneFault::Stray });
        }
    }
}

//! `together { fitter { … } mate { … } }`: people side by side, a lane each.

use super::super::build::Ways;
use super::super::laying::{Laying, Level, Lines};
use super::{does_something, head};
use crate::findings::flow::BrokenOff;
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
        // Of each lane: work that must not be broken off, and a line that ends the job for all.
        let mut of_lanes: Vec<(Option<Span>, Option<Span>)> = Vec::new();
        for (position, lane) in (0u16..).zip(lanes) {
            let role = Words::of(&lane.role.text);
            let mut inner = Lines::new();
            let (unbroken_before, ends_before) = (self.unbroken_laid.len(), self.ends_laid.len());
            self.people.lane = Some(role.clone());
            self.enter_child();
            let ways =
                self.items(&lane.items, level, Ways::out(block, Way::Child(position)), &mut inner);
            closed.push(self.leave());
            self.people.lane = None;
            of_lanes.push((
                self.unbroken_laid.get(unbroken_before).copied(),
                self.ends_laid.get(ends_before).copied(),
            ));
            all_end &= !ways.none_left();
            if !ways.none_left() {
                let done = NodeKind::LaneDone { together: block };
                self.build.place(done, Vec::new(), lane.span, ways);
            }
            outline.push(OutlineLane { by: role, items: inner });
        }
        self.broken_off_by_others(&of_lanes);
        out.push(Outline::Together { node: block, lanes: outline });
        if !all_end {
            // A lane that always ends the job never lets the block come to its end.
            return Ways::default();
        }
        for lane in closed {
            self.is_certain(&lane);
        }
        Ways::out(block, Way::Next)
    }

    /// Says so where one lane may end the job while another is at work that must not be broken off.
    fn broken_off_by_others(&mut self, lanes: &[(Option<Span>, Option<Span>)]) {
        for (one, (block, _)) in lanes.iter().enumerate() {
            let mut others = lanes.iter().enumerate().filter(|(other, _)| *other != one);
            let end = others.find_map(|(_, (_, end))| *end);
            if let (Some(block), Some(end)) = (*block, end) {
                self.found.add(&BrokenOff::ends(end, block));
            }
        }
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

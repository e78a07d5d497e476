//! Where in the written procedure we are: which arms and freed children are open around us.
//!
//! It answers without walking any path whether something written earlier is certain to have been done.

use super::coverage::Possible;
use locknut_graph::ReadingId;
use std::collections::{BTreeMap, BTreeSet};

/// The stretches that are open now, outermost first.
#[derive(Debug, Default)]
pub(super) struct Here {
    open: Vec<Stretch>,
    /// Closed stretches that every way on has gone through.
    certain: BTreeSet<u32>,
    /// Closed stretches in which the job ends.
    over: BTreeSet<u32>,
    /// Of arms of a `when` that asks for readings alone: what each of them is there.
    asked: BTreeMap<u32, Vec<(ReadingId, Possible)>>,
    next: u32,
    forks: u32,
}

/// What parts the ways, a reading or a `when`: of its arms one is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Fork(u32);

/// A place that was passed.
#[derive(Clone, Debug, Default)]
pub(super) struct Place(Vec<Stretch>);

/// An arm, an outcome's block or a freed child.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Stretch {
    id: u32,
    freed: bool,
    /// Of an arm of a reading, or of a `when` that asks for readings; none: what it is taken for is not known here.
    fork: Option<Fork>,
}

impl Here {
    /// Opens an arm or a block that only some ways go through.
    pub(super) fn enter_arm(&mut self) {
        self.open_stretch(false, None);
    }

    /// Opens an arm of a reading.
    pub(super) fn enter_arm_of(&mut self, fork: Fork) {
        self.open_stretch(false, Some(fork));
    }

    /// Opens an arm of a `when` that asks for readings, with what each of them is there.
    pub(super) fn enter_arm_where(&mut self, fork: Fork, asked: Vec<(ReadingId, Possible)>) {
        self.open_stretch(false, Some(fork));
        self.asked.insert(self.next, asked);
    }

    /// Something that several arms may follow.
    pub(super) fn fork(&mut self) -> Fork {
        self.forks += 1;
        Fork(self.forks)
    }

    /// Opens a freed child.
    pub(super) fn enter_child(&mut self) {
        self.open_stretch(true, None);
    }

    fn open_stretch(&mut self, freed: bool, fork: Option<Fork>) {
        self.next += 1;
        self.open.push(Stretch { id: self.next, freed, fork });
    }

    /// Closes the innermost stretch.
    pub(super) fn leave(&mut self) -> Option<Stretch> {
        self.open.pop()
    }

    /// Every way on has gone through this stretch.
    pub(super) fn is_certain(&mut self, stretch: Option<Stretch>) {
        self.certain.extend(stretch.map(|stretch| stretch.id));
    }

    /// The job ends in this stretch.
    pub(super) fn is_over(&mut self, stretch: Option<Stretch>) {
        self.over.extend(stretch.map(|stretch| stretch.id));
    }

    /// This place.
    pub(super) fn place(&self) -> Place {
        Place(self.open.clone())
    }

    /// Whether a freed child or a lane is open around us: others may come first.
    pub(super) fn is_freed(&self) -> bool {
        self.open.iter().any(|stretch| stretch.freed)
    }

    /// Whether every way on from that place, which stands earlier, goes through here.
    pub(super) fn is_surely_behind(&self, place: &Place) -> bool {
        self.open.iter().all(|stretch| place.0.contains(stretch))
    }

    /// Whether whoever is here has been at that place.
    pub(super) fn has_passed(&self, place: &Place) -> bool {
        self.is_behind(place, &self.place())
    }

    fn is_behind(&self, place: &Place, later: &Place) -> bool {
        let unsure = place.0.iter().filter(|stretch| !self.certain.contains(&stretch.id));
        let mut open = later.0.iter();
        unsure.into_iter().all(|stretch| open.next() == Some(stretch))
    }

    /// Whether that place, which stands earlier, may yet be come to: in a freed child or lane beside this one.
    /// An arm that was not taken is over.
    pub(super) fn may_be_ahead(&self, place: &Place) -> bool {
        let unsure = place.0.iter().filter(|stretch| !self.certain.contains(&stretch.id));
        unsure.into_iter().any(|stretch| stretch.freed && !self.open.contains(stretch))
    }

    /// Whether one way may go through that place and this one.
    pub(super) fn may_share_a_way(&self, place: &Place) -> bool {
        self.may_both_be_passed(place, &self.place())
    }

    /// Whether one way may go through a place and a later one: of the arms of one reading only one is taken, of two readings any.
    /// Of a `when` that asks for more than readings nobody knows here whether it holds together with another.
    pub(super) fn may_both_be_passed(&self, place: &Place, later: &Place) -> bool {
        if place.0.iter().any(|one| self.over.contains(&one.id) && !later.0.contains(one)) {
            return false;
        }
        let around = |stretch: &Stretch| stretch.freed || place.0.contains(stretch);
        if self.is_behind(place, later) || later.0.iter().all(around) {
            return true;
        }
        let same = later.0.iter().zip(&place.0).take_while(|(one, other)| one == other).count();
        let apart = |all: &[Stretch]| -> Vec<Stretch> { all.iter().skip(same).copied().collect() };
        let (one, other) = (apart(&later.0), apart(&place.0));
        let known = |stretch: &&Stretch| stretch.freed || stretch.fork.is_some();
        let all_known = one.iter().chain(&other).filter(known).count() == one.len() + other.len();
        let fork = |all: &[Stretch]| all.first().and_then(|stretch| stretch.fork);
        let both = one.iter().all(|one| other.iter().all(|other| self.may_both_hold(one, other)));
        all_known && both && (fork(&one).is_none() || fork(&one) != fork(&other))
    }

    /// Whether a reading may be what two arms of a `when` ask. Against the arms of a reading nobody holds that here.
    fn may_both_hold(&self, one: &Stretch, other: &Stretch) -> bool {
        let asked = |of: &Stretch| self.asked.get(&of.id);
        match (asked(one), asked(other)) {
            (Some(one), Some(other)) => one.iter().all(|(reading, here)| {
                let same = other.iter().filter(|(other, _)| other == reading);
                same.into_iter().all(|(_, there)| here.within(&there.range).is_some())
            }),
            (None, None) => true,
            (Some(_), None) => other.fork.is_none(),
            (None, Some(_)) => one.fork.is_none(),
        }
    }

    /// Whether that place lies in the same freed child, or both in none.
    pub(super) fn in_same_child(&self, place: &Place) -> bool {
        let freed = |stretches: &[Stretch]| -> Vec<Stretch> {
            stretches.iter().copied().filter(|stretch| stretch.freed).collect()
        };
        freed(&self.open) == freed(&place.0)
    }

    /// Whether any arm or freed child is open.
    pub(super) fn is_inside_anything(&self) -> bool {
        !self.open.is_empty()
    }

    /// Whether only some ways come here.
    pub(super) fn only_on_some_ways(&self) -> bool {
        self.open.iter().any(|stretch| !stretch.freed)
    }
}

#[cfg(test)]
mod tests {
    use super::{Here, Possible};
    use locknut_graph::ReadingId;
    use locknut_quantity::{Exact, Grid, Range};

    #[test]
    fn what_an_arm_did_is_not_certain_behind_it() {
        let mut here = Here::default();
        let before = here.place();
        here.enter_arm();
        let inside = here.place();
        assert!(here.has_passed(&before) && here.has_passed(&inside));
        here.leave();
        assert!(here.has_passed(&before) && !here.has_passed(&inside));
    }

    #[test]
    fn the_only_arm_that_goes_on_is_certain_behind_it() {
        let mut here = Here::default();
        here.enter_arm();
        let inside = here.place();
        let arm = here.leave();
        here.is_certain(arm);
        assert!(here.has_passed(&inside));
    }

    #[test]
    fn two_arms_side_by_side_are_not_known_to_share_a_way() {
        let mut here = Here::default();
        here.enter_arm();
        let first = here.place();
        assert!(here.may_share_a_way(&first));
        here.leave();
        assert!(here.may_share_a_way(&first));
        here.enter_arm();
        assert!(!here.may_share_a_way(&first));
        here.leave();
        here.enter_child();
        let child = here.place();
        here.leave();
        here.enter_child();
        assert!(here.may_share_a_way(&child));
    }

    #[test]
    fn of_the_arms_of_one_reading_one_is_taken_and_of_two_readings_any() {
        let mut here = Here::default();
        let fork = here.fork();
        here.enter_arm_of(fork);
        let first = here.place();
        here.leave();
        here.enter_arm_of(fork);
        assert!(!here.may_share_a_way(&first));
        here.leave();
        let later = here.fork();
        here.enter_arm_of(later);
        assert!(here.may_share_a_way(&first));
        let second = here.place();
        let ended = here.leave();
        assert!(here.may_share_a_way(&second));
        here.is_over(ended);
        assert!(!here.may_share_a_way(&second), "the job ended there");
    }

    #[test]
    fn two_whens_may_both_hold_where_a_reading_may_be_what_both_ask() {
        let mut here = Here::default();
        let tenths = |from: i32, to: i32| {
            let exact = |tenth: i32| Exact::new(tenth.into(), 10.into());
            let grid = Grid::new(exact(0), exact(1));
            let possible = Possible { range: Range::closed(exact(0), exact(50)), grid };
            possible.narrowed(&Range::closed(exact(from), exact(to)))
        };
        let arm = |here: &mut Here, reading: u16, asks: Possible| {
            let fork = here.fork();
            here.enter_arm_where(fork, vec![(ReadingId(reading), asks)]);
            let place = here.place();
            here.leave();
            place
        };
        let low = arm(&mut here, 0, tenths(0, 20));
        let middle = arm(&mut here, 0, tenths(20, 30));
        let high = arm(&mut here, 0, tenths(21, 50));
        let other = arm(&mut here, 1, tenths(0, 1));
        assert!(here.may_both_be_passed(&low, &middle));
        assert!(!here.may_both_be_passed(&low, &high), "no reading is both");
        assert!(
            here.may_both_be_passed(&low, &other),
            "two readings have nothing to do with each other"
        );
        // Between two neighbours of what the instrument shows nothing can be read.
        let half = |from: i32, to: i32| {
            let exact = |part: i32| Exact::new(part.into(), 100.into());
            Possible { range: Range::closed(exact(from), exact(to)), ..tenths(0, 50) }
        };
        let above = arm(&mut here, 0, half(192, 500));
        let below = arm(&mut here, 0, half(0, 198));
        assert!(!here.may_both_be_passed(&above, &below), "1.92 .. 1.98 is never shown in tenths");
        let fork = here.fork();
        here.enter_arm_of(fork);
        let of_reading = here.place();
        here.leave();
        assert!(!here.may_both_be_passed(&low, &of_reading), "nobody knows");
    }

    #[test]
    fn a_freed_sibling_is_certain_only_behind_the_block() {
        let mut here = Here::default();
        here.enter_child();
        let first = here.place();
        let one = here.leave();
        here.enter_child();
        assert!(!here.has_passed(&first) && !here.in_same_child(&first));
        let two = here.leave();
        here.is_certain(one);
        here.is_certain(two);
        assert!(here.has_passed(&first));
        assert!(!here.in_same_child(&first), "no way back into a freed block");
    }
}

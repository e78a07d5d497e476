//! Where in the written procedure we are: which arms and freed children are open around us.
//!
//! It answers without walking any path whether something written earlier is certain to have been done.

use std::collections::BTreeSet;

/// The stretches that are open now, outermost first.
#[derive(Debug, Default)]
pub(super) struct Here {
    open: Vec<Stretch>,
    /// Closed stretches that every way on has gone through.
    certain: BTreeSet<u32>,
    next: u32,
}

/// A place that was passed.
#[derive(Clone, Debug, Default)]
pub(super) struct Place(Vec<Stretch>);

/// An arm, an outcome's block or a freed child.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Stretch {
    id: u32,
    freed: bool,
}

impl Here {
    /// Opens an arm or a block that only some ways go through.
    pub(super) fn enter_arm(&mut self) {
        self.open_stretch(false);
    }

    /// Opens a freed child.
    pub(super) fn enter_child(&mut self) {
        self.open_stretch(true);
    }

    fn open_stretch(&mut self, freed: bool) {
        self.next += 1;
        self.open.push(Stretch { id: self.next, freed });
    }

    /// Closes the innermost stretch.
    pub(super) fn leave(&mut self) -> Option<Stretch> {
        self.open.pop()
    }

    /// Every way on has gone through this stretch.
    pub(super) fn is_certain(&mut self, stretch: Option<Stretch>) {
        self.certain.extend(stretch.map(|stretch| stretch.id));
    }

    /// This place.
    pub(super) fn place(&self) -> Place {
        Place(self.open.clone())
    }

    /// Whether whoever is here has been at that place.
    pub(super) fn has_passed(&self, place: &Place) -> bool {
        let unsure = place.0.iter().filter(|stretch| !self.certain.contains(&stretch.id));
        let mut open = self.open.iter();
        unsure.into_iter().all(|stretch| open.next() == Some(stretch))
    }

    /// Whether that place, which stands earlier, may yet be come to: in a freed child or lane beside this one.
    /// An arm that was not taken is over.
    pub(super) fn may_be_ahead(&self, place: &Place) -> bool {
        let unsure = place.0.iter().filter(|stretch| !self.certain.contains(&stretch.id));
        unsure.into_iter().any(|stretch| stretch.freed && !self.open.contains(stretch))
    }

    /// Whether one way may go through that place and this one: an arm beside which we are may be another of one choice.
    pub(super) fn may_share_a_way(&self, place: &Place) -> bool {
        let around = |stretch: &Stretch| stretch.freed || place.0.contains(stretch);
        self.has_passed(place) || self.open.iter().all(around)
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
    use super::Here;

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

//! `LN7xx` that show while a procedure is laid: work that is badly split among people.

mod ln706_own_work;
mod ln710_not_side_by_side;
mod ln711_held_too_late;
mod ln712_signed_too_early;

pub(crate) use ln706_own_work::OwnWork;
pub(crate) use ln710_not_side_by_side::{LaneFault, NotSideBySide};
pub(crate) use ln711_held_too_late::HeldTooLate;
pub(crate) use ln712_signed_too_early::SignedTooEarly;

use locknut_finding::{Finding, Page};

/// The pages of this family.
pub(crate) const PAGES: &[Page] =
    &[OwnWork::PAGE, NotSideBySide::PAGE, HeldTooLate::PAGE, SignedTooEarly::PAGE];

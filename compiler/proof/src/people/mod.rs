//! People.

mod ln701_not_in_crew;
mod ln703_waiting_for_each_other;

pub(crate) use ln701_not_in_crew::NotInCrew;
pub(crate) use ln703_waiting_for_each_other::WaitingForEachOther;

use locknut_finding::{Finding, Page};

pub(crate) const PAGES: &[Page] = &[NotInCrew::PAGE, WaitingForEachOther::PAGE];

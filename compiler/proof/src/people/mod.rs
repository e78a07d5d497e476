//! People.

mod ln701_not_in_crew;

pub(crate) use ln701_not_in_crew::NotInCrew;

use locknut_finding::{Finding, Page};

pub(crate) const PAGES: &[Page] = &[NotInCrew::PAGE];

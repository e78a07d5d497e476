//! What is printed.

mod ln901_hazard_nowhere;

pub(crate) use ln901_hazard_nowhere::HazardNowhere;

use locknut_finding::{Finding, Page};

pub(crate) const PAGES: &[Page] = &[HazardNowhere::PAGE];

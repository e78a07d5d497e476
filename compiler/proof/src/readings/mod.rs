//! Readings on the paths.

mod ln330_reading_not_taken;
pub mod risk;

pub(crate) use ln330_reading_not_taken::ReadingNotTaken;

use locknut_finding::{Finding, Page};

pub(crate) const PAGES: &[Page] = &[ReadingNotTaken::PAGE];

//! What cannot be said.

mod ln910_missing_phrase;
mod ln911_bad_phrase;
mod ln912_untranslated;

pub(crate) use ln910_missing_phrase::MissingPhrase;
pub(crate) use ln911_bad_phrase::BadPhrase;
pub(crate) use ln912_untranslated::Untranslated;

use locknut_finding::{Finding, Page};

/// The pages of this crate's codes.
pub const PAGES: &[Page] = &[MissingPhrase::PAGE, BadPhrase::PAGE, Untranslated::PAGE];

//! What can be wrong with a file as a whole, and with what its settings ask for.

mod ln190_bad_settings;
mod ln191_unreadable_file;
mod ln192_bad_translations;
mod ln217_lost_in_units;
mod ln355_off_paper;
mod ln356_translated_label;
mod ln914_unknown_language;

pub(crate) use ln190_bad_settings::BadSettings;
pub(crate) use ln191_unreadable_file::UnreadableFile;
pub(crate) use ln192_bad_translations::BadTranslations;
pub(crate) use ln217_lost_in_units::LostInUnits;
pub(crate) use ln355_off_paper::OffPaper;
pub(crate) use ln356_translated_label::TranslatedLabel;
pub(crate) use ln914_unknown_language::UnknownLanguage;

use locknut_finding::{FileId, Finding, Page, Span};

/// The pages of this crate's codes.
pub(crate) const PAGES: &[Page] = &[
    BadSettings::PAGE,
    UnreadableFile::PAGE,
    BadTranslations::PAGE,
    LostInUnits::PAGE,
    OffPaper::PAGE,
    TranslatedLabel::PAGE,
    UnknownLanguage::PAGE,
];

/// The rest of the line at a byte, so that a label has something to stand under.
pub(crate) fn line_at(file: FileId, text: &str, at: usize) -> Span {
    let at = (0..=at.min(text.len())).rev().find(|byte| text.is_char_boundary(*byte)).unwrap_or(0);
    let start =
        text.get(..at).and_then(|before| before.rfind('\n')).map_or(0, |newline| newline + 1);
    let length = text.get(start..).and_then(|rest| rest.find('\n')).unwrap_or(text.len() - start);
    let byte = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
    Span::new(file, byte(start), byte(start + length))
}

//! Fixed words that a layout or the check program needs.

use crate::words::Speaker;
use std::collections::BTreeMap;

/// Their keys; in the phrase tables each is `label-<key>`.
const LABELS: &[&str] = &[
    "step",
    "note",
    "page",
    "of",
    "source",
    "what-for",
    "hazards",
    "for-machines",
    "why-revised",
    "what-you-need",
    "done-by",
    "name",
    "date",
    "signature",
    "machine-serial",
    "job-number",
    "cautions",
    "proved",
    "limit",
    "accept",
    "result",
    "done",
    "enter",
    "wait-over",
    "work-out",
    "edition",
    "save-record",
    "print",
    "new-job",
    "new-job-sure",
    "saved",
    "still-wait",
    "wait-done",
    "no-store",
    "other-tab",
    "record-broken",
    "not-open",
    "empty",
    "signed-as",
    "missing",
    "not-a-number",
    "not-in-range",
    "not-on-digits",
    "not-expected",
    "undecided",
    "undecided-here",
    "not-for",
    "which-series",
    "which-serial",
    "end-done",
    "end-stop",
    "end-refer",
    "stands",
    "procedure",
    "language",
    "goes-on-unbroken",
    "no-script",
    "stands-normal",
];

pub(crate) fn labels(speak: Speaker<'_>) -> BTreeMap<String, String> {
    let all = LABELS.iter();
    let all = all.map(|key| ((*key).to_owned(), speak.phrases.label(&format!("label-{key}"))));
    all.chain([("decimal-sign".to_owned(), speak.phrases.label("decimal-sign"))]).collect()
}

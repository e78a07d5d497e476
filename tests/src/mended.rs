//! What is offered to an author, and what comes of taking it.

use locknut_finding::{Edit, Mend};
use locknut_library::{Checked, check_in_memory};
use std::collections::BTreeMap;

/// A library of one file, checked.
pub fn checked(source: &str) -> Checked {
    check_in_memory(&BTreeMap::from([
        ("library.yaml".to_owned(), "publisher: Kestmoor\n".to_owned()),
        ("one.lkn".to_owned(), source.to_owned()),
    ]))
}

/// The first mend with a change of the first finding of this code.
pub fn first_mend(checked: &Checked, code: &str) -> Option<Mend> {
    let report = checked.reports.iter().find(|report| report.code == code)?;
    report.mends.iter().find(|mend| mend.can_be_applied()).cloned()
}

/// The source once a mend is made in it.
pub fn made(source: &str, edits: &[Edit]) -> String {
    let mut last_first: Vec<&Edit> = edits.iter().collect();
    last_first.sort_by_key(|edit| std::cmp::Reverse((edit.span.start, edit.span.end)));
    let mut changed = source.to_owned();
    for edit in last_first {
        changed.replace_range(edit.span.range(), &edit.text);
    }
    changed
}

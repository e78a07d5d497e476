//! Procedures that are wrong for one and the same line, most often one of a subtask that they all call.

use locknut_finding::{Report, Span};
use std::collections::{BTreeMap, BTreeSet};

/// Code, title and places.
type Key = (&'static str, String, Vec<Span>);

/// What is found of one line on the ways of several procedures is told once, on the shortest way, which is named; and so is
/// what comes of one and the same line of a subtask in each of them.
pub(crate) fn once_with_its_procedures(found: Vec<(Report, String)>) -> Vec<Report> {
    let mut groups: BTreeMap<Key, Vec<(Report, String)>> = BTreeMap::new();
    for (report, name) in found {
        let places: Vec<Span> = report.labels.iter().map(|label| label.span).collect();
        // Where it fails, what asks for it, and where it comes from: the first differs from caller to caller.
        let places = if places.len() > 2 { places.into_iter().skip(1).collect() } else { places };
        groups.entry((report.code, report.title.clone(), places)).or_default().push((report, name));
    }
    let once = groups.into_values().flat_map(|mut group| {
        group.sort_by_key(|(report, name)| (report.path.len(), name.clone()));
        let shown = group.first().map(|(_, name)| name.clone()).unwrap_or_default();
        let others: BTreeSet<&str> =
            group.iter().map(|(_, name)| name.as_str()).filter(|name| *name != shown).collect();
        let others: Vec<&str> = others.into_iter().collect();
        let note = format!("this is the way of {shown}; it is the same in {}", listed(&others));
        let others = others.len();
        let own = group.into_iter().filter(move |(_, name)| *name == shown);
        own.map(move |(mut report, _)| {
            if others > 0 {
                report.note(note.clone());
            }
            report
        })
    });
    once.collect()
}

/// Up to three names; more are counted.
fn listed(names: &[&str]) -> String {
    match names {
        [one, two, three, more @ ..] if !more.is_empty() => {
            format!("{one}, {two}, {three} and {} more", more.len())
        }
        _ => names.join(", "),
    }
}

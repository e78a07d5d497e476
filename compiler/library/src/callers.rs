//! Procedures that are wrong for one and the same line, most often one of a subtask that they all call.

use locknut_finding::{Report, Sources, Span};
use locknut_meaning::World;
use std::collections::{BTreeMap, BTreeSet};

/// Lines that do a subtask that are pointed out at most.
const MOST_LINES: usize = 3;

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
        let (own, left_out): (Vec<_>, Vec<_>) =
            group.into_iter().partition(|(_, name)| *name == shown);
        own.into_iter().map(move |(mut report, _)| {
            for (other, _) in &left_out {
                report.also_by(&other.calls);
            }
            if others > 0 {
                report.note(note.clone());
            }
            report
        })
    });
    once.collect()
}

/// Where something is wrong in a subtask, and only as it is done by some of the lines that do it, these are pointed out.
pub(crate) fn name_calls(reports: &mut [Report], world: &World, sources: &Sources) {
    let mut lines: BTreeMap<String, Vec<(Span, &str)>> = BTreeMap::new();
    for report in reports {
        let calls = std::mem::take(&mut report.calls);
        let mut of: BTreeMap<&str, BTreeSet<Span>> = BTreeMap::new();
        for call in &calls {
            of.entry(&call.subtask).or_default().insert(call.span);
        }
        for (subtask, at_fault) in of {
            let all = lines.entry(subtask.to_owned());
            let all = all.or_insert_with(|| locknut_meaning::lines_that_do(world, subtask));
            let some = all.iter().any(|(line, _)| !at_fault.contains(line));
            let named = all.iter().filter(|(line, _)| some && at_fault.contains(line));
            point_out(report, &named.copied().collect::<Vec<_>>(), sources);
        }
    }
}

fn point_out(report: &mut Report, lines: &[(Span, &str)], sources: &Sources) {
    for (line, caller) in lines.iter().take(MOST_LINES) {
        if report.labels.iter().any(|label| label.span == *line) {
            continue;
        }
        if line.file == report.span().file {
            report.label(*line, format!("as done from here, in {caller}"));
        } else {
            let (at, _) = sources.line_and_column(*line);
            let file = sources.name(line.file);
            report.note(format!("as done from line {at} of {file}, in {caller}"));
        }
    }
    if let Some(more) = lines.len().checked_sub(MOST_LINES).filter(|more| *more > 0) {
        let lines = if more == 1 { "1 more line".into() } else { format!("{more} more lines") };
        report.note(format!("and as done from {lines}"));
    }
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

//! What was not understood goes before what is wrong with the rest, and what follows from it is not told at all: an
//! author mends the cause, and the consequence is gone.

use crate::{FileId, Report, Severity, Sources, Span};
use std::collections::{BTreeMap, BTreeSet};

/// How early something went wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Stage {
    /// The line could not be read.
    Read,
    /// It could be read, and what it says could not be understood: a name, a unit, a verb.
    Meant,
    /// Each word was understood, and they do not fit together.
    Fitted,
    /// All else.
    Judged,
}

/// Codes beside the family `LN1..` that say that something was not understood.
const NOT_MEANT: &[&str] = &["LN201", "LN202", "LN208", "LN420", "LN423"];

/// Codes that say that clauses, objects or braces do not fit their act.
const NOT_FITTED: &[&str] = &["LN421", "LN422", "LN424", "LN425"];

/// A name that nothing declares, and what may have kept a declaration from being read.
const NOT_DECLARED: &str = "LN101";
const BRACE: &str = "LN002";

/// Nothing is told to be without use while some line was not understood: that line may be the use.
const UNUSED: &str = "LN107";

fn stage(report: &Report) -> Stage {
    let code = report.code;
    if report.severity != Severity::Error {
        return Stage::Judged;
    }
    if code.starts_with("LN0") {
        Stage::Read
    } else if code.starts_with("LN1") || NOT_MEANT.contains(&code) {
        Stage::Meant
    } else if NOT_FITTED.contains(&code) {
        Stage::Fitted
    } else {
        Stage::Judged
    }
}

/// Leaves out what only follows from a line that was not understood, and puts what was not understood first; within
/// that, the order is kept.
pub fn causes_first(reports: &mut Vec<Report>, sources: &Sources) {
    let mut causes: BTreeMap<FileId, BTreeSet<(u32, Stage)>> = BTreeMap::new();
    for report in reports.iter().filter(|report| stage(report) != Stage::Judged) {
        let at = report.span();
        causes.entry(at.file).or_default().insert((at.start, stage(report)));
    }
    if causes.is_empty() {
        return;
    }
    let earlier = |place: &Span, than: Stage| {
        let Some(causes) = causes.get(&place.file) else { return false };
        let (from, to) = statement(sources.text(place.file), *place);
        causes.range((from, Stage::Read)..(to, Stage::Read)).any(|(_, stage)| *stage < than)
    };
    reports.retain(|report| {
        let own = stage(report);
        let places = report.labels.iter().map(|label| &label.span).chain(&report.rests_on);
        report.code != UNUSED && !places.into_iter().any(|place| earlier(place, own))
    });
    let unread = unread(reports, sources);
    reports.retain(|report| {
        report.code != NOT_DECLARED
            || !unread.iter().any(|line| declares(line, name(report, sources)))
    });
    told_once(reports, sources);
    reports.sort_by_key(|report| stage(report) == Stage::Judged);
}

/// Lines of which nobody knows what they declare: those that could not be read, and all of a file whose braces do not pair.
fn unread<'s>(reports: &[Report], sources: &'s Sources) -> BTreeSet<&'s str> {
    let mut lines = BTreeSet::new();
    for report in reports.iter().filter(|report| stage(report) == Stage::Read) {
        let text = sources.text(report.span().file);
        if report.code == BRACE {
            lines.extend(text.lines());
        } else {
            let from = report.span().range().start;
            let from = text.get(..from).and_then(|ahead| ahead.rfind('\n')).map_or(0, |at| at + 1);
            lines.extend(text.get(from..).and_then(|rest| rest.lines().next()));
        }
    }
    lines
}

/// Whether a line may be the one that declares a name: `model saw {`, `state mains : live, isolated`.
fn declares(line: &str, name: &str) -> bool {
    let mut words = line.split_whitespace();
    let plain = |word: &str| word.chars().all(|sign| sign.is_alphanumeric() || sign == '-');
    words.next().is_some_and(plain)
        && words.next().is_some_and(|second| second.trim_end_matches([':', '{', '=']) == name)
}

fn name<'s>(report: &Report, sources: &'s Sources) -> &'s str {
    let at = report.span();
    sources.text(at.file).get(at.range()).unwrap_or_default()
}

/// A name of a file that is declared nowhere is one mistake, however often it is used: it is told at its first use.
fn told_once(reports: &mut Vec<Report>, sources: &Sources) {
    let key = |report: &Report| {
        let meant = report.mends.first().map(|mend| mend.text.clone());
        (report.span().file, name(report, sources).to_owned(), meant)
    };
    let mut uses: BTreeMap<_, usize> = BTreeMap::new();
    for report in reports.iter().filter(|report| report.code == NOT_DECLARED) {
        *uses.entry(key(report)).or_default() += 1;
    }
    reports.retain_mut(|report| {
        if report.code != NOT_DECLARED {
            return true;
        }
        let Some(uses) = uses.get_mut(&key(report)) else { return true };
        match std::mem::take(uses) {
            0 => false,
            1 => true,
            more => {
                let places = if more == 2 { "1 more place" } else { &format!("{} more places", more - 1) };
                report.note(format!(
                    "it is written so in {places}: if it is right there, what is wrong is the line that declares it, or that line is missing"
                ));
                true
            }
        }
    });
}

/// The lines that a place lies in, and those by which its statement goes on: deeper in, and not in braces.
fn statement(text: &str, place: Span) -> (u32, u32) {
    let range = place.range();
    let from = text.get(..range.start).and_then(|ahead| ahead.rfind('\n')).map_or(0, |at| at + 1);
    let line_end = |at: usize| {
        text.get(at..).and_then(|rest| rest.find('\n')).map_or(text.len(), |end| at + end)
    };
    let depth = |line: &str| line.len() - line.trim_start().len();
    let own = depth(text.get(from..line_end(from)).unwrap_or_default());
    let mut to = line_end(range.end.max(from).min(text.len()));
    let mut last = text.get(from..to).unwrap_or_default();
    while !last.trim_end().ends_with('{') && to < text.len() {
        let end = line_end(to + 1);
        let next = text.get(to + 1..end).unwrap_or_default();
        if next.trim().is_empty() || depth(next) <= own {
            break;
        }
        (last, to) = (next, end);
    }
    let byte = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
    (byte(from), byte(to).saturating_add(1))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Label;

    fn report(code: &'static str, file: FileId, text: &str, at: &str) -> Report {
        let start = u32::try_from(text.find(at).unwrap_or_default()).unwrap_or_default();
        let span = Span::new(file, start, start + 1);
        let mut report = Report::blank(code, Severity::Error);
        report.labels.push(Label { span, text: String::new() });
        report
    }

    #[test]
    fn what_follows_from_an_unread_line_is_left_out_and_the_rest_comes_after() {
        let text = "limit a = 2 mm\nchoose b\n  so what\nsize 1,2 mm\ntighten c\n";
        let mut sources = Sources::default();
        let file = sources.add("a.lkn", text);
        let of = |code, at| report(code, file, text, at);
        let mut follows = of("LN313", "tighten");
        follows.rests_on.push(of("LN005", "size").span());
        let mut reports = vec![
            of("LN308", "limit"),
            of("LN111", "choose"),
            of("LN001", "so what"),
            of("LN005", "1,2"),
            of("LN204", "size"),
            follows,
        ];
        causes_first(&mut reports, &sources);
        let codes: Vec<&str> = reports.iter().map(|report| report.code).collect();
        assert_eq!(codes, ["LN001", "LN005", "LN308"]);
    }
}

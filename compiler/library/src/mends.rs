//! Mends are tried before they are offered: the change is made in the source, the procedure is read and
//! proved anew, and only what leaves the fault behind and brings no other is told to an author.

use crate::check::{Proved, unanswered};
use locknut_finding::{Change, Edit, FileId, Findings, Mend, Report, Severity, Span};
use locknut_meaning::{Said, World};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A mend consists of at most so many changes: one that is needed for another is tried with it.
const MOST_CHANGES: usize = 3;

/// The library is proved anew for at most so many changes, each costing what its file's procedures cost.
const MOST_TRIED: usize = 400;

/// For one finding at most so many.
const MOST_FOR_ONE: usize = 40;

/// At most so many subtasks are tried.
const MOST_CALLS: usize = 4;

/// Tries what is proposed for each finding and puts what proves before its other mends.
pub(crate) fn try_all(
    reports: &mut Vec<Report>,
    procedures: &[Proved],
    judged: &BTreeMap<String, Vec<Report>>,
    world: &mut World,
    publisher: &str,
) {
    let (left, before) = (MOST_TRIED, BTreeMap::new());
    let mut bench = Bench { procedures, judged, world, publisher, left, before };
    let mut order: Vec<usize> = (0..reports.len()).collect();
    // What goes wrong first is the likeliest cause of what goes wrong later.
    order.sort_by_key(|at| reports.get(*at).map(|report| (report.path.len(), report.span())));
    let mut explained: BTreeSet<(Key, Span)> = BTreeSet::new();
    let mut effects: BTreeSet<usize> = BTreeSet::new();
    for at in order {
        let Some(report) = reports.get_mut(at) else { continue };
        let mut changes = std::mem::take(&mut report.changes);
        if !changes.is_empty() {
            changes.extend(bench.calls(report));
        }
        if explained.contains(&(key(report), report.span())) {
            effects.insert(at);
            continue;
        }
        let Some((mend, also)) = bench.mend(report, &changes) else { continue };
        report.mends.retain(|other| !other.fallback);
        report.mends.insert(0, mend);
        let own = key(report);
        let others = also.iter().filter(|(key, _)| *key != own);
        let codes: BTreeSet<&str> = others.map(|((code, _), _)| *code).collect();
        if !codes.is_empty() {
            let codes: Vec<&str> = codes.into_iter().collect();
            report.note(format!("what comes of it is left out here: {}", codes.join(", ")));
        }
        explained.extend(also);
    }
    let mut at = 0;
    reports.retain(|_| {
        at += 1;
        !effects.contains(&(at - 1))
    });
}

/// Findings of one key are taken as one.
type Key = (&'static str, String);

fn key(report: &Report) -> Key {
    (report.code, report.title.clone())
}

/// Where changes are tried.
struct Bench<'a> {
    procedures: &'a [Proved],
    /// What is wrong with those that were judged just now.
    judged: &'a BTreeMap<String, Vec<Report>>,
    world: &'a mut World,
    publisher: &'a str,
    /// How many more may be tried.
    left: usize,
    /// What is said of each file's procedures as they stand.
    before: BTreeMap<FileId, Told>,
}

/// Findings by code and title, with how often; and what they propose.
#[derive(Clone, Debug, Default)]
struct Told {
    counts: BTreeMap<Key, usize>,
    reports: Vec<Report>,
}

impl Told {
    /// The errors among what was found.
    fn of(found: Findings) -> Self {
        let mut reports = found.sorted();
        reports.retain(|report| report.severity == Severity::Error);
        let mut counts = BTreeMap::new();
        for report in &reports {
            *counts.entry(key(report)).or_default() += 1;
        }
        Self { counts, reports }
    }
}

/// Changes that were made, in the places of the untouched source.
#[derive(Clone, Debug, Default)]
struct Made {
    edits: Vec<Edit>,
    words: Vec<String>,
    /// A line was moved.
    moved: bool,
    /// What is no more said with them.
    ended: BTreeSet<Key>,
}

impl Bench<'_> {
    /// Subtasks on the same model that could be done ahead of where a finding stands.
    fn calls(&self, report: &Report) -> Vec<Change> {
        let at = report.span();
        let own = self.procedures.iter().find(|procedure| procedure.file == at.file);
        let Some(own) = own else { return Vec::new() };
        let subtasks = self.world.procedures.values().filter(|other| {
            let heading = &other.heading;
            heading.subtask
                && heading.on.as_ref().is_some_and(|on| on.text == own.on)
                && heading.name.text != own.name
        });
        let calls =
            subtasks.map(|other| Change::Ahead(at, format!("do {}", other.heading.name.text)));
        calls.take(MOST_CALLS).collect()
    }

    /// A mend that proves, and every finding that it ends.
    fn mend(
        &mut self,
        report: &Report,
        changes: &[Change],
    ) -> Option<(Mend, BTreeSet<(Key, Span)>)> {
        let file = report.span().file;
        let text = self.world.sources.text(file).to_owned();
        let mut left = MOST_FOR_ONE;
        let made = self.search(report, file, &text, changes, &Made::default(), &mut left)?;
        let text = made.words.join(", and ");
        // Only what was tried with it can be ended by it: another procedure may be wrong in the same words.
        let tried = self.before(file).reports.into_iter();
        let ended = tried.map(|report| (key(&report), report.span()));
        let ended = ended.filter(|(key, _)| made.ended.contains(key)).collect();
        Some((Mend { text, edits: made.edits, fallback: false }, ended))
    }

    /// The first of the changes that proves, or that does with others which it makes necessary.
    fn search(
        &mut self,
        report: &Report,
        file: FileId,
        text: &str,
        changes: &[Change],
        so_far: &Made,
        left: &mut usize,
    ) -> Option<Made> {
        let key = key(report);
        let mut close: Vec<(Made, Vec<Report>)> = Vec::new();
        for change in changes {
            if *left == 0 || self.left == 0 {
                break;
            }
            let Some(made) = with(so_far, change, file, report.span(), text) else { continue };
            *left -= 1;
            self.left -= 1;
            let Some(told) = self.told_with(file, &applied(text, &made.edits)) else { continue };
            let before = self.before(file);
            let count = |told: &Told| told.counts.get(&key).copied().unwrap_or(0);
            if count(&told) >= count(&before) {
                continue;
            }
            let more = |(key, count): &(&Key, &usize)| {
                **count > before.counts.get(*key).copied().unwrap_or(0)
            };
            let new: Vec<&Key> = told.counts.iter().filter(more).map(|(key, _)| key).collect();
            if new.is_empty() {
                let gone = before.counts.keys().filter(|key| !told.counts.contains_key(*key));
                let ended = gone.cloned().collect();
                return Some(Made { ended, ..made });
            }
            let new = told.reports.iter().filter(|report| {
                new.iter().any(|(code, title)| report.code == *code && report.title == *title)
            });
            close.push((made, new.cloned().collect()));
        }
        if so_far.words.len() + 1 >= MOST_CHANGES {
            return None;
        }
        // What one change brings with it, another may take away: the one that brings least goes first.
        close.sort_by_key(|(_, new)| new.len());
        for (made, new) in close.into_iter().take(3) {
            let further: Vec<Change> = new
                .first()
                .map(|new| new.changes.iter().filter_map(|change| back(change, &made)).collect())
                .unwrap_or_default();
            let mended = self.search(report, file, text, &further, &made, left);
            if mended.is_some() {
                return mended;
            }
        }
        None
    }

    /// What is said of the procedures that a file has a part in.
    fn before(&mut self, file: FileId) -> Told {
        if let Some(known) = self.before.get(&file) {
            return known.clone();
        }
        let known = self.parts(file).map(|procedure| self.judged.get(&procedure.name));
        let known: Option<Vec<&Vec<Report>>> = known.collect();
        let told = if let Some(known) = known {
            let mut found = Findings::default();
            known.into_iter().flatten().for_each(|report| found.push(report.clone()));
            Told::of(found)
        } else {
            self.told(file)
        };
        self.before.insert(file, told.clone());
        told
    }

    /// The procedures that a file has a part in.
    fn parts(&self, file: FileId) -> impl Iterator<Item = &Proved> {
        self.procedures.iter().filter(move |procedure| procedure.files.contains(&file))
    }

    fn told(&self, file: FileId) -> Told {
        let mut found = Findings::default();
        for Proved { name, .. } in self.parts(file) {
            let (graph, findings) = locknut_meaning::graph_of(self.world, name, self.publisher);
            let broken = findings.has_errors();
            found.extend(findings);
            if let Some(graph) = graph.filter(|_| !broken) {
                let proved = locknut_proof::judge(&graph);
                found.extend(unanswered(proved, &graph.answered));
            }
        }
        Told::of(found)
    }

    /// The same with another text in the file; none where that cannot be read.
    fn told_with(&mut self, file: FileId, text: &str) -> Option<Told> {
        let (tree, findings) = locknut_syntax::parse(file, text);
        if findings.has_errors() {
            return None;
        }
        let text: Arc<str> = text.into();
        let said = Said::of(file, &text, &tree);
        let own = self.world.sources.replace(file, text)?;
        let mut replaced = Vec::new();
        for procedure in said.procedures {
            let name = procedure.heading.name.text.clone();
            replaced.push((name.clone(), self.world.procedures.insert(name, procedure)));
        }
        let told = self.told(file);
        for (name, procedure) in replaced {
            match procedure {
                Some(procedure) => drop(self.world.procedures.insert(name, procedure)),
                None => drop(self.world.procedures.remove(&name)),
            }
        }
        self.world.sources.replace(file, own);
        Some(told)
    }
}

/// A text with edits made in it.
fn applied(text: &str, edits: &[Edit]) -> String {
    let mut sorted: Vec<&Edit> = edits.iter().collect();
    sorted.sort_by_key(|edit| (edit.span.start, edit.span.end));
    let mut changed = String::with_capacity(text.len() + 64);
    let mut at = 0;
    for edit in sorted {
        let range = edit.span.range();
        changed.push_str(text.get(at..range.start).unwrap_or_default());
        changed.push_str(&edit.text);
        at = range.end.max(at);
    }
    changed.push_str(text.get(at..).unwrap_or_default());
    changed
}

/// These changes and one more; none where it cannot be made.
fn with(so_far: &Made, change: &Change, file: FileId, fault: Span, text: &str) -> Option<Made> {
    // Of several changes none is a move: what has to be mended behind a line that moved was better left where it stood.
    let moves = matches!(change, Change::MoveAhead(..) | Change::MoveBehind(..));
    if !so_far.words.is_empty() && (moves || so_far.moved) {
        return None;
    }
    let edits = edits(change, file, text)?;
    let apart = |edit: &Edit| {
        so_far
            .edits
            .iter()
            .all(|other| edit.span.end <= other.span.start || other.span.end <= edit.span.start)
    };
    if !edits.iter().all(apart) {
        return None;
    }
    let mut made = so_far.clone();
    made.moved |= moves;
    made.words.push(words(change, fault, text));
    made.edits.extend(edits);
    Some(made)
}

fn edits(change: &Change, file: FileId, text: &str) -> Option<Vec<Edit>> {
    let insert = |at: u32, what: String| Edit { span: Span::new(file, at, at), text: what };
    let in_file = |span: &Span| span.file == file;
    Some(match change {
        Change::Ahead(of, line) if in_file(of) => {
            vec![insert(of.start, format!("{line}\n{}", indent(text, of.start)))]
        }
        Change::Behind(of, line) if in_file(of) => {
            vec![insert(of.end, format!("\n{}{line}", indent(text, of.start)))]
        }
        Change::Last(of, line) if in_file(of) => {
            vec![insert(of.end.checked_sub(1)?, format!("  {line}\n"))]
        }
        Change::MoveAhead(what, of) if in_file(what) && in_file(of) => {
            let (lines, statement) = lines_of(*what, text)?;
            let depth = indent(text, of.start);
            let moved =
                format!("{}\n{depth}", set_in(statement, &indent(text, what.start), &depth));
            vec![Edit { span: lines, text: String::new() }, insert(of.start, moved)]
        }
        Change::MoveBehind(what, of) if in_file(what) && in_file(of) => {
            let (lines, statement) = lines_of(*what, text)?;
            let depth = indent(text, of.start);
            let moved =
                format!("\n{depth}{}", set_in(statement, &indent(text, what.start), &depth));
            vec![Edit { span: lines, text: String::new() }, insert(of.end, moved)]
        }
        Change::Put(at, text) if in_file(at) => {
            vec![Edit { span: *at, text: text.clone() }]
        }
        Change::Bind(block) if in_file(block) => {
            let rest = text.get(block.range())?;
            let words = rest.find('{')?;
            let end = block.start.checked_add(u32::try_from(words).ok()?)?;
            vec![Edit { span: Span { end, ..*block }, text: String::new() }]
        }
        Change::Ahead(..)
        | Change::Behind(..)
        | Change::Last(..)
        | Change::MoveAhead(..)
        | Change::MoveBehind(..)
        | Change::Put(..)
        | Change::Bind(..) => return None,
    })
}

/// A statement of several lines, set in as far as its new place is.
fn set_in(statement: &str, from: &str, to: &str) -> String {
    statement.replace(&format!("\n{from}"), &format!("\n{to}"))
}

/// The blanks at the beginning of the line that a place lies in.
fn indent(text: &str, at: u32) -> String {
    let start = line_start(text, at);
    let line = text.get(start..).unwrap_or_default();
    line.chars().take_while(|sign| *sign == ' ' || *sign == '\t').collect()
}

fn line_start(text: &str, at: u32) -> usize {
    let at = usize::try_from(at).unwrap_or(usize::MAX);
    text.get(..at).and_then(|before| before.rfind('\n')).map_or(0, |newline| newline + 1)
}

/// Where a statement ends, with the block that its line opens.
fn block_end(what: Span, text: &str) -> usize {
    let end = what.range().end;
    let rest = text.get(end..).unwrap_or_default();
    let line = rest.lines().next().unwrap_or_default();
    if !line.trim_end().ends_with('{') {
        return end;
    }
    let (mut open, mut in_text) = (0_usize, false);
    for (at, sign) in rest.char_indices() {
        match sign {
            '"' => in_text = !in_text,
            '{' if !in_text => open += 1,
            '}' if !in_text => {
                open = open.saturating_sub(1);
                if open == 0 {
                    return end + at + 1;
                }
            }
            _ => {}
        }
    }
    end
}

/// The whole lines of a statement that shares them with nothing else, and the statement.
fn lines_of(what: Span, text: &str) -> Option<(Span, &str)> {
    let range = what.range().start..block_end(what, text);
    let start = line_start(text, what.start);
    let rest = text.get(range.end..)?;
    let end = range.end + rest.find('\n').map_or(rest.len(), |newline| newline + 1);
    let alone = text.get(start..range.start)?.trim().is_empty()
        && text.get(range.end..end)?.trim().is_empty();
    let byte = |at: usize| u32::try_from(at).ok();
    let lines = Span { start: byte(start)?, end: byte(end)?, ..what };
    alone.then(|| text.get(range).map(|statement| (lines, statement)))?
}

/// What is done, told from where the fault stands.
fn words(change: &Change, fault: Span, text: &str) -> String {
    let place = |of: &Span| {
        if of.start == fault.start {
            "this line".to_owned()
        } else {
            let block = text.get(of.range()).is_some_and(|of| of.contains('\n'));
            let what = if block { "the block in line" } else { "line" };
            format!("{what} {}", line(text, *of))
        }
    };
    match change {
        Change::Ahead(of, line) => format!("write `{line}` ahead of {}", place(of)),
        Change::Behind(of, line) => format!("write `{line}` behind {}", place(of)),
        Change::Last(_, line) => format!("write `{line}` at the end"),
        Change::MoveAhead(what, of) => format!("move {} ahead of {}", place(what), place(of)),
        Change::MoveBehind(what, of) => format!("move {} behind {}", place(what), place(of)),
        Change::Put(at, what) => {
            let old = text.get(at.range()).unwrap_or_default();
            if old.is_empty() && at.start == fault.start {
                format!("write `{}` ahead of it", what.trim())
            } else if old.is_empty() {
                let rest = text.get(at.range().start..).unwrap_or_default();
                let of = rest.split_whitespace().next().unwrap_or_default();
                let line = line(text, *at);
                format!("write `{}` ahead of `{of}` in line {line}", what.trim())
            } else {
                format!("write `{what}` instead of `{old}`")
            }
        }
        Change::Bind(block) => format!(
            "take `any order` away in {}: as they are written, they can be done",
            place(block)
        ),
    }
}

fn line(text: &str, of: Span) -> usize {
    text.get(..of.range().start).unwrap_or_default().matches('\n').count() + 1
}

/// A change of an edited text, told in places of the untouched one; none where it speaks of what was
/// put in or taken out.
fn back(change: &Change, made: &Made) -> Option<Change> {
    let span = |span: &Span| -> Option<Span> {
        Some(Span {
            start: place_before(span.start, made)?,
            end: place_before(span.end, made)?,
            ..*span
        })
    };
    Some(match change {
        Change::Ahead(of, line) => Change::Ahead(span(of)?, line.clone()),
        Change::Behind(of, line) => Change::Behind(span(of)?, line.clone()),
        Change::Last(of, line) => Change::Last(span(of)?, line.clone()),
        Change::MoveAhead(what, of) => Change::MoveAhead(span(what)?, span(of)?),
        Change::MoveBehind(what, of) => Change::MoveBehind(span(what)?, span(of)?),
        Change::Put(at, text) => Change::Put(span(at)?, text.clone()),
        Change::Bind(block) => Change::Bind(span(block)?),
    })
}

fn place_before(at: u32, made: &Made) -> Option<u32> {
    let mut edits: Vec<&Edit> = made.edits.iter().collect();
    edits.sort_by_key(|edit| (edit.span.start, edit.span.end));
    let mut moved: i64 = 0;
    for edit in edits {
        let start = i64::from(edit.span.start) + moved;
        let length = i64::try_from(edit.text.len()).ok()?;
        if i64::from(at) < start {
            break;
        }
        if i64::from(at) < start + length {
            return None;
        }
        moved += length - i64::from(edit.span.end - edit.span.start);
    }
    u32::try_from(i64::from(at) - moved).ok()
}

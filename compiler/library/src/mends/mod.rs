//! Mends are tried before they are offered: the change is made in the source, the procedure is read and
//! proved anew, and only what leaves the fault behind and brings no other is told to an author.

mod edits;
mod one_by_one;
mod points;
mod told;

use crate::check::{Proved, unanswered};
use edits::{applied, back, before, edits};
use locknut_finding::{Change, Edit, FileId, Findings, Mend, Report, Severity, Span};
use locknut_meaning::{Said, World};
use points::{Laid, can_be_said, laid_at_points, said_there};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use told::words;

/// A mend consists of at most so many changes: one that is needed for another is tried with it.
const MOST_CHANGES: usize = 3;

/// The library is proved anew for at most so many changes, each costing what its file's procedures cost.
const MOST_TRIED: usize = 400;

/// For one finding at most so many.
const MOST_FOR_ONE: usize = 40;

/// The last station of a path that goes through to the end.
const DONE: &str = "done";

/// What is found where something counts on a short time.
const UPPER_LIMIT: &str = "LN516";

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
    // What goes wrong first is the likeliest cause of what goes wrong later, and what is owed at the end comes last.
    let at_done = |report: &Report| report.path.last().is_some_and(|point| point.text == DONE);
    order.sort_by_key(|at| {
        reports.get(*at).map(|report| (at_done(report), report.path.len(), report.span()))
    });
    let mut explained: BTreeSet<Place> = BTreeSet::new();
    let mut causes: BTreeSet<usize> = BTreeSet::new();
    for at in order {
        let Some(report) = reports.get_mut(at) else { continue };
        let mut changes = std::mem::take(&mut report.changes);
        if !changes.is_empty() {
            let calls = bench.calls(report, &changes);
            changes.extend(calls);
        }
        if explained.contains(&place(report)) {
            continue;
        }
        let Some((mend, also, uncovered)) = bench.mend(report, &changes) else { continue };
        causes.insert(at);
        report.mends.retain(|other| !other.fallback);
        report.mends.insert(0, mend);
        let own = key(report);
        let others = also.iter().filter(|(key, _)| *key != own);
        let codes: BTreeSet<&str> = others.map(|((code, _), _)| *code).collect();
        if !codes.is_empty() {
            let codes: Vec<&str> = codes.into_iter().collect();
            report.note(format!("what comes of it is left out here: {}", codes.join(", ")));
        }
        if let Some(title) = uncovered {
            report.note(format!(
                "behind it something else is wrong, which is told when this is mended: {title}"
            ));
        }
        explained.extend(also);
    }
    // What was tried ahead of its cause, and has no mend of its own, is an effect, too.
    let mut at = 0;
    reports.retain(|report| {
        at += 1;
        causes.contains(&(at - 1)) || !explained.contains(&place(report))
    });
}

/// Findings of one key are taken as one.
type Key = (&'static str, String);

fn key(report: &Report) -> Key {
    (report.code, report.title.clone())
}

/// A finding and all its places: of one rule broken at two lines there are two.
type Place = (Key, Vec<Span>);

fn place(report: &Report) -> Place {
    (key(report), report.labels.iter().map(|label| label.span).collect())
}

/// What proves, with the findings that it ends, and the first that it uncovers.
type Tried = (Mend, BTreeSet<Place>, Option<String>);

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

/// What is to be mended.
#[derive(Clone, Copy)]
struct Fault<'a> {
    report: &'a Report,
    file: FileId,
    text: &'a str,
    tree: &'a locknut_syntax::tree::Tree,
    laid: &'a [Laid],
}

/// Changes that were made, in the places of the untouched source.
#[derive(Clone, Debug, Default)]
struct Made {
    edits: Vec<Edit>,
    words: Vec<String>,
    /// A line was moved.
    moved: bool,
    /// What is no more said with them.
    ended: BTreeSet<Place>,
    /// What was wrong before, too, and is told only with them.
    uncovered: Option<String>,
}

impl Bench<'_> {
    /// Subtasks on the same model that could be done ahead of where a finding stands.
    fn calls(&self, report: &Report, changes: &[Change]) -> Vec<Change> {
        let at = report.span();
        let own = self.procedures.iter().find(|procedure| procedure.file == at.file);
        let Some(own) = own else { return Vec::new() };
        let subtasks = self.world.procedures.values().filter(|other| {
            let heading = &other.heading;
            heading.subtask
                && heading.on.as_ref().is_some_and(|on| on.text == own.on)
                && heading.name.text != own.name
        });
        // What the head says is owed is done at the end.
        let text = self.world.sources.text(at.file).get(at.range()).unwrap_or_default();
        let last =
            |change: &Change| if let Change::Last(of, _) = change { Some(*of) } else { None };
        let at_the_end = changes.iter().find_map(last).filter(|_| text.starts_with("leaves"));
        let calls = subtasks.map(|other| {
            let call = format!("do {}", other.heading.name.text);
            match at_the_end {
                Some(of) => Change::Last(of, call),
                None => Change::Ahead(at, call),
            }
        });
        calls.take(MOST_CALLS).collect()
    }

    /// A mend that proves, every finding that it ends, and what it uncovers.
    fn mend(&mut self, report: &Report, changes: &[Change]) -> Option<Tried> {
        let file = report.span().file;
        let text = self.world.sources.text(file).to_owned();
        let mut left = MOST_FOR_ONE;
        let tree = locknut_syntax::parse(file, &text).0;
        let laid = laid_at_points(&tree, self.world);
        let fault = Fault { report, file, text: &text, tree: &tree, laid: &laid };
        let made = self.search(&fault, changes, &Made::default(), &mut left)?;
        let text = made.words.join(", and ");
        // Only what was tried with it can be ended by it: another procedure may be wrong in the same words.
        let mend = Mend { text, edits: made.edits, fallback: false };
        Some((mend, made.ended, made.uncovered))
    }

    /// The first of the changes that proves, or that does with others which it makes necessary.
    fn search(
        &mut self,
        fault: &Fault<'_>,
        changes: &[Change],
        so_far: &Made,
        left: &mut usize,
    ) -> Option<Made> {
        let Fault { report, file, text, tree, laid } = *fault;
        let key = key(report);
        let mut close: Vec<(Made, Vec<Report>)> = Vec::new();
        // What is done at each point is mended at each; if that does not prove, at the one.
        let said = |change: &Change| [said_there(change, laid), Some(change.clone())];
        let world = &*self.world;
        let changes: Vec<Change> = changes
            .iter()
            .flat_map(said)
            .flatten()
            .filter(|change| can_be_said(change, tree, world))
            .collect();
        for change in &changes {
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
            if new.is_empty() || only_uncovers(change, &new) {
                let ended = ended(&before, &told, &made.edits);
                let uncovered = new.first().map(|(_, title)| title.clone());
                return Some(Made { ended, uncovered, ..made });
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
                .map(|new| {
                    new.changes.iter().filter_map(|change| back(change, &made.edits)).collect()
                })
                .unwrap_or_default();
            let mended = self.search(fault, &further, &made, left);
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

/// Whether what is new was so before, and only covered by the fault: of a rule the first line that breaks it is told.
/// Waiting writes nothing, and makes nothing false but what counts on a short time.
fn only_uncovers(change: &Change, new: &[&Key]) -> bool {
    matches!(change, Change::Ahead(_, line) if line.starts_with("wait "))
        && new.iter().all(|(code, _)| *code != UPPER_LIMIT)
}

/// What was told before and is told no more. What is told of a line that was moved stands for what was told of it before.
fn ended(before_it: &Told, told: &Told, made: &[Edit]) -> BTreeSet<Place> {
    let still = |(own, places): &Place| {
        told.reports.iter().filter(|report| key(report) == *own).any(|report| {
            let spans = report.labels.iter().map(|label| before(label.span, made));
            spans.zip(places).all(|(now, then)| now.is_none_or(|now| now == *then))
        })
    };
    before_it.reports.iter().map(place).filter(|place| !still(place)).collect()
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

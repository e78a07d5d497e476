//! The facts of a finding and the plain report that they fill.

use crate::{FileId, Page, Span};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// How much a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Severity {
    /// The procedure must not be issued: nothing is printed from it.
    Error,
    /// Worth a look before signing; does not change the exit status.
    Warning,
}

/// A small struct of facts that knows how to say itself.
pub trait Finding {
    /// Its code and the page that explains it.
    const PAGE: Page;
    /// An error unless said otherwise.
    const SEVERITY: Severity = Severity::Error;
    /// Fills the report: title, labels, path, consequence, mend.
    fn show(&self, say: &mut Report);
}

/// A place with a few words under it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Label {
    /// Where.
    pub span: Span,
    /// A few words, without a full stop.
    pub text: String,
}

/// One station on the way to a fault, e.g. `step 4 "Measure the air gap"`, `gap above 0.15 mm`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PathPoint {
    /// What a fitter would say of it.
    pub text: String,
    /// Where it is written, if anywhere.
    pub span: Option<Span>,
}

/// A change of the source that would mend it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Edit {
    /// What is replaced; empty to insert.
    pub span: Span,
    /// What stands there afterwards.
    pub text: String,
}

/// What to do about it: words, and where possible an edit that can be applied as it stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Mend {
    /// A sentence without a full stop.
    pub text: String,
    /// The changes of the source, where the compiler knows them; made all at once.
    pub edits: Vec<Edit>,
    /// Said only where no change was found that proves.
    pub fallback: bool,
}

/// A change of a procedure that may mend it. It is tried, and offered only once it is proved.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Change {
    /// A line ahead of a statement.
    Ahead(Span, String),
    /// A line behind a statement.
    Behind(Span, String),
    /// A line as the last of a procedure.
    Last(Span, String),
    /// A statement moves ahead of another.
    MoveAhead(Span, Span),
    /// A statement moves behind another.
    MoveBehind(Span, Span),
    /// A statement is taken away.
    Away(Span),
    /// Words in the place of others, or at an empty place.
    Put(Span, String),
    /// A freed block is done in its written order.
    Bind(Span),
}

/// A line by which a subtask is done, in which something was found.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Call {
    /// The subtask that it does.
    pub subtask: String,
    /// The line.
    pub span: Span,
}

/// A finding, ready to be shown in any form.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Report {
    /// E.g. `LN512`.
    pub code: &'static str,
    /// How much it weighs.
    pub severity: Severity,
    /// What happens in the workshop, in one line, without a full stop.
    pub title: String,
    /// Places; the first is where the finding stands.
    pub labels: Vec<Label>,
    /// The way that leads there; empty where no path is needed.
    pub path: Vec<PathPoint>,
    /// What it would do to people or machine, or why the rule exists (often the author's `because`).
    pub consequence: Option<String>,
    /// What would mend it, the best first.
    pub mends: Vec<Mend>,
    /// Further remarks, each a sentence without a full stop.
    pub notes: Vec<String>,
    /// Places that it rests on and nobody needs to be shown: where something is wrong there, that is the cause.
    pub rests_on: Vec<Span>,
    /// Changes that may mend it, the likeliest first; nobody is told of them before they are tried.
    pub changes: Vec<Change>,
    /// The lines by which what is at fault is done, where that is in a subtask; none: it is so however it is done.
    pub calls: BTreeSet<Call>,
}

impl Report {
    /// Builds the report of a finding.
    pub fn of<F: Finding>(finding: &F) -> Self {
        let mut report = Self::blank(F::PAGE.code(), F::SEVERITY);
        finding.show(&mut report);
        report
    }

    pub(crate) fn blank(code: &'static str, severity: Severity) -> Self {
        Self {
            code,
            severity,
            title: String::new(),
            labels: Vec::new(),
            path: Vec::new(),
            consequence: None,
            mends: Vec::new(),
            notes: Vec::new(),
            rests_on: Vec::new(),
            changes: Vec::new(),
            calls: BTreeSet::new(),
        }
    }

    /// Where the finding stands: its first label.
    pub fn span(&self) -> Span {
        self.labels.first().map(|label| label.span).unwrap_or_default()
    }

    /// Says what happens in the workshop.
    pub fn title(&mut self, text: impl Into<String>) {
        self.title = text.into();
    }

    /// Marks a place; the first one marked is where the finding stands.
    pub fn label(&mut self, span: Span, text: impl Into<String>) {
        self.labels.push(Label { span, text: text.into() });
    }

    /// Names a place that it rests on: where something is wrong there, that is the cause, and this is not told.
    pub fn rests_on(&mut self, span: Span) {
        self.rests_on.push(span);
    }

    /// Tells the way that leads there.
    pub fn path(&mut self, path: &[PathPoint]) {
        self.path = path.to_vec();
    }

    /// Says what it would do to people or machine.
    pub fn consequence(&mut self, text: impl Into<String>) {
        self.consequence = Some(text.into());
    }

    /// Offers a mend in words.
    pub fn mend(&mut self, text: impl Into<String>) {
        self.mends.push(Mend { text: text.into(), edits: Vec::new(), fallback: false });
    }

    /// Offers advice for where no change was found that proves.
    pub fn fallback(&mut self, text: impl Into<String>) {
        self.mends.push(Mend { text: text.into(), edits: Vec::new(), fallback: true });
    }

    /// Offers a mend that can be applied as it stands.
    pub fn mend_with(
        &mut self,
        text: impl Into<String>,
        span: Span,
        replacement: impl Into<String>,
    ) {
        self.mend_with_all(text, vec![Edit { span, text: replacement.into() }]);
    }

    /// The same with several changes, made all at once.
    pub fn mend_with_all(&mut self, text: impl Into<String>, edits: Vec<Edit>) {
        self.mends.push(Mend { text: text.into(), edits, fallback: false });
    }

    /// Hands out every file that it points into, to be put otherwise.
    pub fn each_file(&mut self, mut put: impl FnMut(&mut FileId)) {
        let mut span = |span: &mut Span| put(&mut span.file);
        self.labels.iter_mut().for_each(|label| span(&mut label.span));
        self.path.iter_mut().filter_map(|point| point.span.as_mut()).for_each(&mut span);
        self.rests_on.iter_mut().for_each(&mut span);
        let calls = std::mem::take(&mut self.calls).into_iter().map(|mut call| {
            span(&mut call.span);
            call
        });
        self.calls = calls.collect();
        let edits = self.mends.iter_mut().flat_map(|mend| &mut mend.edits);
        edits.for_each(|edit| span(&mut edit.span));
        for change in &mut self.changes {
            match change {
                Change::Ahead(at, _)
                | Change::Behind(at, _)
                | Change::Last(at, _)
                | Change::Away(at)
                | Change::Put(at, _)
                | Change::Bind(at) => span(at),
                Change::MoveAhead(what, of) | Change::MoveBehind(what, of) => {
                    span(what);
                    span(of);
                }
            }
        }
    }

    /// Says that the same is so at another point.
    fn so_at(&mut self, point: &str) {
        const REMARK: &str = "the same is so at ";
        let own = format!("{REMARK}{point}");
        match self.notes.iter_mut().find(|note| note.starts_with(REMARK)) {
            Some(note) if note.ends_with(&format!(" {point}")) => {}
            Some(note) => note.extend([", at ", point]),
            None => self.notes.push(own),
        }
    }

    /// The same was found by other calls, too.
    pub fn also_by(&mut self, others: &BTreeSet<Call>) {
        if self.calls.is_empty() || others.is_empty() {
            self.calls.clear();
        } else {
            self.calls.extend(others.iter().cloned());
        }
    }

    /// Adds a remark.
    pub fn note(&mut self, text: impl Into<String>) {
        self.notes.push(text.into());
    }
}

/// What the stages found, in any order until [`Findings::sorted`].
#[derive(Clone, Debug, Default)]
pub struct Findings {
    reports: Vec<Report>,
}

impl Findings {
    /// Adds a finding.
    pub fn add<F: Finding>(&mut self, finding: &F) {
        self.reports.push(Report::of(finding));
    }

    /// Proposes changes that may mend what was found last.
    pub fn propose(&mut self, changes: Vec<Change>) {
        if let Some(last) = self.reports.last_mut() {
            last.changes = changes;
        }
    }

    /// Says by which lines the subtask is done in which something was found last.
    pub fn done_by(&mut self, calls: BTreeSet<Call>) {
        if let Some(last) = self.reports.last_mut() {
            last.calls = calls;
        }
    }

    /// What was found from this one on is so where a subtask is done by a line.
    pub fn all_done_by(&mut self, from: usize, call: &Call) {
        for report in self.reports.iter_mut().skip(from) {
            report.calls.insert(call.clone());
        }
    }

    /// Of findings from this one on that say the same, one is kept, and marks the places of the others, too.
    pub fn once_alike(&mut self, from: usize) {
        self.once_alike_where(from, |_| true);
    }

    /// The same of all findings, of one code alone.
    pub fn once_alike_of(&mut self, code: &str) {
        self.once_alike_where(0, |report| report.code == code);
    }

    fn once_alike_where(&mut self, from: usize, wanted: impl Fn(&Report) -> bool) {
        let found = self.reports.split_off(from.min(self.reports.len()));
        for report in found {
            let alike = |known: &&mut Report| {
                let words = |of: &Report| (of.code, of.title.clone(), of.notes.clone());
                words(known) == words(&report)
            };
            match self.reports.iter_mut().skip(from).find(alike) {
                Some(known) if wanted(&report) => {
                    let place = report.span();
                    if known.labels.iter().all(|label| label.span != place) {
                        known.label(place, "and here");
                    }
                }
                Some(_) | None => self.reports.push(report),
            }
        }
    }

    /// Whether something was found under a code from this one on.
    pub fn has(&self, from: usize, code: &str) -> bool {
        self.reports.iter().skip(from).any(|report| report.code == code)
    }

    /// Leaves out what was found at a place under a code.
    pub fn take_back(&mut self, code: &str, place: Span) {
        self.reports.retain(|report| report.code != code || report.span() != place);
    }

    /// Points out a place with what was found from this one on under a code.
    pub fn point_out(&mut self, from: usize, code: &str, span: Span, text: &str) {
        for report in self.reports.iter_mut().skip(from).filter(|report| report.code == code) {
            report.label(span, text);
        }
    }

    /// Marks a further place of what was found last.
    pub fn mark(&mut self, span: Span, text: &str) {
        if let Some(last) = self.reports.last_mut() {
            last.label(span, text);
        }
    }

    /// Adds a remark to what was found last.
    pub fn remark(&mut self, text: &str) {
        if let Some(last) = self.reports.last_mut() {
            last.note(text);
        }
    }

    /// Of findings from this one on, those that were found at the same places before are left out: lines that are laid
    /// once for each of some points are wrong at each of them for one reason. These are of this point.
    pub fn once_at_points(&mut self, from: usize, point: Option<&str>) {
        let found = self.reports.split_off(from.min(self.reports.len()));
        let places = |report: &Report| -> Vec<Span> {
            report.labels.iter().map(|label| label.span).collect()
        };
        for report in found {
            let here = places(&report);
            let known = self.reports.iter_mut().take(from).find(|known| {
                known.code == report.code && !here.is_empty() && places(known) == here
            });
            let Some(known) = known else {
                self.reports.push(report);
                continue;
            };
            known.also_by(&report.calls);
            if let Some(point) = point.filter(|_| known.title != report.title) {
                known.so_at(point);
            }
        }
    }

    /// Adds a finding that is there already.
    pub fn push(&mut self, report: Report) {
        self.reports.push(report);
    }

    /// Takes over what another stage found.
    pub fn extend(&mut self, other: Findings) {
        self.reports.extend(other.reports);
    }

    /// Only those that a test lets through.
    #[must_use]
    pub fn kept(mut self, test: impl Fn(&Report) -> bool) -> Self {
        self.reports.retain(test);
        self
    }

    /// With a remark on each.
    #[must_use]
    pub fn noted(mut self, text: &str) -> Self {
        for report in &mut self.reports {
            report.note(text);
        }
        self
    }

    /// By file, place, code; the same finding is kept once.
    #[must_use]
    pub fn sorted(mut self) -> Vec<Report> {
        self.reports.sort_by(|a, b| {
            (a.span(), a.code, &a.title, a.path.len()).cmp(&(
                b.span(),
                b.code,
                &b.title,
                b.path.len(),
            ))
        });
        self.reports.dedup_by(|again, first| {
            let same = (again.span(), again.code, &again.title)
                == (first.span(), first.code, &first.title);
            if same {
                first.also_by(&again.calls);
            }
            same
        });
        self.reports
    }

    /// As they were found.
    pub fn into_reports(self) -> Vec<Report> {
        self.reports
    }

    /// What was found so far.
    pub fn reports(&self) -> &[Report] {
        &self.reports
    }

    /// Whether any is an error.
    pub fn has_errors(&self) -> bool {
        self.reports.iter().any(|report| report.severity == Severity::Error)
    }
}

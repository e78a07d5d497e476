//! Findings and proofs in a form that outlives a run: files by their names, codes by their letters.

use super::proof::KeptProved;
use crate::Proved;
use locknut_finding::{
    Call, Change, FileId, Label, Mend, Page, PathPoint, Report, Severity, Sources, Span,
};
use locknut_meaning::{Heading, Said};
use locknut_syntax::tree::Name;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

/// What was found out of one procedure.
#[derive(Debug)]
pub(crate) struct Outcome<'b> {
    pub(crate) found: Vec<Report>,
    pub(crate) proved: Option<Proved>,
    /// The same, as it is kept; none where nothing is.
    pub(crate) bytes: Option<Cow<'b, [u8]>>,
}

/// What a file says that need not be read again.
#[derive(Debug)]
pub(crate) struct Recalled {
    pub(crate) headings: Vec<Heading>,
    pub(crate) mentioned: String,
    pub(crate) broken: bool,
    pub(crate) found: Vec<Report>,
}

/// The files of a library, by name. The standard library's are the same in every run of one compiler.
pub(crate) struct Files {
    standard: u32,
    by_name: BTreeMap<String, FileId>,
    names: Vec<String>,
    codes: BTreeMap<&'static str, &'static str>,
}

/// A file as it is kept.
#[derive(Clone, Debug, Serialize, Deserialize)]
enum Place {
    Standard(u32),
    Own(String),
}

/// What is kept of a procedure; places in it count in `files`.
#[derive(Debug, Serialize, Deserialize)]
struct KeptOutcome {
    files: Vec<Place>,
    found: Vec<KeptReport>,
    proved: Option<KeptProved>,
}

/// What is kept of a file; places in it count in `files`.
#[derive(Debug, Serialize, Deserialize)]
struct KeptSaid {
    files: Vec<Place>,
    found: Vec<KeptReport>,
    headings: Vec<KeptHeading>,
    mentioned: String,
    broken: bool,
}

#[derive(Debug, Serialize, Deserialize)]
struct KeptHeading {
    subtask: bool,
    name: KeptName,
    on: Option<KeptName>,
    calls: Vec<String>,
}

#[derive(Debug, Serialize, Deserialize)]
struct KeptName {
    text: String,
    start: u32,
    end: u32,
}

/// A report whose code is told by its letters.
#[derive(Debug, Serialize, Deserialize)]
struct KeptReport {
    code: String,
    severity: Severity,
    title: String,
    labels: Vec<Label>,
    path: Vec<PathPoint>,
    consequence: Option<String>,
    mends: Vec<Mend>,
    notes: Vec<String>,
    rests_on: Vec<Span>,
    changes: Vec<Change>,
    calls: BTreeSet<Call>,
}

impl Files {
    /// The files of a run, the standard library's first.
    pub(super) fn of(sources: &Sources, standard: usize) -> Self {
        let names: Vec<String> =
            sources.files().map(|file| sources.name(file).to_owned()).collect();
        let own = sources.files().zip(&names).skip(standard);
        let by_name = own.map(|(file, name)| (name.clone(), file)).collect();
        let codes = crate::pages().iter().map(Page::code).map(|code| (code, code)).collect();
        Self { standard: u32::try_from(standard).unwrap_or(u32::MAX), by_name, names, codes }
    }

    fn place(&self, file: FileId) -> Option<Place> {
        if file.0 < self.standard {
            return Some(Place::Standard(file.0));
        }
        let name = self.names.get(usize::try_from(file.0).ok()?)?;
        Some(Place::Own(name.clone()))
    }

    fn found_again(&self, places: &[Place]) -> Option<Vec<FileId>> {
        let file = |place: &Place| match place {
            Place::Standard(file) => (*file < self.standard).then_some(FileId(*file)),
            Place::Own(name) => self.by_name.get(name).copied(),
        };
        places.iter().map(file).collect()
    }

    /// What is kept of a procedure's outcome.
    pub(crate) fn keep_outcome(
        &self,
        found: &[Report],
        proved: Option<&Proved>,
    ) -> Option<Vec<u8>> {
        let mut counted = Counted::default();
        let found = found.iter().map(|report| counted.report(report)).collect();
        let proved = proved.cloned().map(|mut proved| {
            proved.each_file(|file| counted.count(file));
            KeptProved::of(proved)
        });
        let files = counted.places(self)?;
        postcard::to_allocvec(&KeptOutcome { files, found, proved }).ok()
    }

    /// What is kept of a file.
    pub(crate) fn keep_said(&self, found: &[Report], said: &Said) -> Option<Vec<u8>> {
        let mut counted = Counted::default();
        let found = found.iter().map(|report| counted.report(report)).collect();
        let headings = said.procedures.iter().map(|one| KeptHeading::of(&one.heading)).collect();
        let (files, mentioned) = (counted.places(self)?, said.mentioned.clone());
        let broken = said.broken;
        postcard::to_allocvec(&KeptSaid { files, found, headings, mentioned, broken }).ok()
    }
}

/// Files in the order in which they are met.
#[derive(Default)]
struct Counted {
    files: Vec<FileId>,
}

impl Counted {
    fn count(&mut self, file: &mut FileId) {
        let known = self.files.iter().position(|other| other == file);
        let at = known.unwrap_or_else(|| {
            self.files.push(*file);
            self.files.len() - 1
        });
        *file = FileId(u32::try_from(at).unwrap_or(u32::MAX));
    }

    fn report(&mut self, report: &Report) -> KeptReport {
        let mut report = report.clone();
        report.each_file(|file| self.count(file));
        let Report {
            code,
            severity,
            title,
            labels,
            path,
            consequence,
            mends,
            notes,
            rests_on,
            changes,
            calls,
        } = report;
        let code = code.to_owned();
        KeptReport {
            code,
            severity,
            title,
            labels,
            path,
            consequence,
            mends,
            notes,
            rests_on,
            changes,
            calls,
        }
    }

    fn places(self, files: &Files) -> Option<Vec<Place>> {
        self.files.into_iter().map(|file| files.place(file)).collect()
    }
}

impl KeptReport {
    fn back(self, files: &Files, counted: &[FileId]) -> Option<Report> {
        let Self {
            code,
            severity,
            title,
            labels,
            path,
            consequence,
            mends,
            notes,
            rests_on,
            changes,
            calls,
        } = self;
        let code = files.codes.get(code.as_str()).copied()?;
        let mut report = Report {
            code,
            severity,
            title,
            labels,
            path,
            consequence,
            mends,
            notes,
            rests_on,
            changes,
            calls,
        };
        let mut all = true;
        report.each_file(|file| all &= back(file, counted));
        all.then_some(report)
    }
}

/// The file that a counted one stands for.
fn back(file: &mut FileId, counted: &[FileId]) -> bool {
    let own = usize::try_from(file.0).ok().and_then(|at| counted.get(at));
    if let Some(own) = own {
        *file = *own;
    }
    own.is_some()
}

impl KeptHeading {
    fn of(heading: &Heading) -> Self {
        let Heading { subtask, name, on, calls } = heading;
        let kept = |name: &Name| {
            let (start, end) = (name.span.start, name.span.end);
            KeptName { text: name.text.clone(), start, end }
        };
        let calls = calls.iter().cloned().collect();
        Self { subtask: *subtask, name: kept(name), on: on.as_ref().map(kept), calls }
    }

    fn back(self, file: FileId) -> Heading {
        let Self { subtask, name, on, calls } = self;
        let back =
            |name: KeptName| Name { text: name.text, span: Span::new(file, name.start, name.end) };
        let calls = calls.into_iter().collect();
        Heading { subtask, name: back(name), on: on.map(back), calls }
    }
}

/// What is kept of a file, found again.
pub(super) fn recall(bytes: &[u8], file: FileId, files: &Files) -> Option<Recalled> {
    let kept: KeptSaid = postcard::from_bytes(bytes).ok()?;
    let counted = files.found_again(&kept.files)?;
    let found = kept.found.into_iter().map(|report| report.back(files, &counted));
    let found = found.collect::<Option<_>>()?;
    let headings = kept.headings.into_iter().map(|heading| heading.back(file)).collect();
    Some(Recalled { headings, mentioned: kept.mentioned, broken: kept.broken, found })
}

/// What is kept of a procedure, found again.
pub(super) fn outcome<'b>(bytes: &'b [u8], files: &Files) -> Option<Outcome<'b>> {
    let kept: KeptOutcome = postcard::from_bytes(bytes).ok()?;
    let counted = files.found_again(&kept.files)?;
    let found = kept.found.into_iter().map(|report| report.back(files, &counted));
    let found = found.collect::<Option<_>>()?;
    let mut proved = match kept.proved {
        Some(proved) => Some(proved.back()?),
        None => None,
    };
    let mut all = true;
    if let Some(proved) = &mut proved {
        proved.each_file(|file| all &= back(file, &counted));
    }
    all.then_some(Outcome { found, proved, bytes: Some(Cow::Borrowed(bytes)) })
}

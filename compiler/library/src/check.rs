//! One library through all stages.

use crate::at_points::once_for_all_points;
use crate::callers::{name_calls, once_with_its_procedures};
use crate::compile::{Compiler, Done};
use crate::compose::{Voice, in_all_languages};
use crate::converted;
use crate::many;
use crate::memory::{Before, Keys, Memory};
use crate::mends;
use crate::on_paper::off_paper;
use crate::read::File;
use crate::shelved::{PhraseFile, Shelved};
use crate::{Disk, Settings, ShelfProblem};
use locknut_finding::{FileId, Findings, Label, Report, Severity, Sources, Span, causes_first};
use locknut_graph::{Prose, StepGraph};
use locknut_meaning::{Said, World};
use locknut_proof::{Covered, Facts, Time, Wanted, Ways};
use std::collections::{BTreeMap, BTreeSet};

/// Where the standard library's tables lie that are read when a library first looks into them.
const TABLES: &str = "stdlib/fasteners/";

/// What came of a library.
#[derive(Debug)]
pub struct Checked {
    /// Every file that a finding may point into.
    pub sources: Sources,
    /// All findings, by file, place and code.
    pub reports: Vec<Report>,
    /// What `library.yaml` says.
    pub settings: Settings,
    /// Units, models, things.
    pub world: World,
    /// Procedures, and subtasks that nobody calls, by name; empty where only the verdict was wanted.
    pub procedures: Vec<Compiled>,
    /// The same, with what was proved of them.
    pub proved: Vec<Proved>,
    /// Fluent files of the library.
    pub phrases: Vec<PhraseFile>,
    /// Translations of the authors' own texts: language, then text as written to text.
    pub translations: BTreeMap<String, BTreeMap<String, String>>,
    /// SHA-256 over the names and bytes of all files, the standard library's too, in hexadecimal; empty where only the
    /// verdict was wanted.
    pub digest: String,
}

/// One procedure that could be made into a graph.
#[derive(Debug)]
pub struct Compiled {
    /// Its name in the source.
    pub name: String,
    /// The file it stands in.
    pub file: FileId,
    /// Its step graph.
    pub graph: StepGraph,
    /// What the walk found out.
    pub facts: Facts,
}

/// What was proved of one procedure: all that is kept of it where no output is wanted.
#[derive(Clone, Debug)]
pub struct Proved {
    /// Its name in the source.
    pub name: String,
    /// The file it stands in.
    pub file: FileId,
    /// Every file that has a part in it, those of the subtasks that it calls too.
    pub files: BTreeSet<FileId>,
    /// The model or assembly that it is on.
    pub on: String,
    /// How much was covered.
    pub covered: Covered,
    /// How long it takes, and for whom.
    pub time: Time,
    /// How many ways lead to *done*; none where they are too many to count.
    pub ways: Option<Ways>,
    /// Warnings that its author has answered: code and reason.
    pub answered: Vec<(String, String)>,
    /// What its lines declare or come to and could not be judged, with the reason.
    pub not_judged: Vec<String>,
    /// Whether something is wrong with it, wherever that stands: then nothing is said to hold of it.
    pub wrong: bool,
    /// Each hazard of the machine, and whether it is printed here.
    pub(crate) hazards: Vec<(Span, bool)>,
    /// Figures of tightenings that its lines give for themselves.
    pub(crate) figures: Vec<locknut_proof::sums::OwnFigure>,
}

impl Proved {
    pub(crate) fn of(compiled: &Compiled) -> Self {
        let Compiled { name, file, graph, facts } = compiled;
        let files = graph.flow.node_weights().map(|node| node.span.file).collect();
        let answered = graph.answered.iter();
        Self {
            name: name.clone(),
            file: *file,
            files,
            on: graph.heading.model_name.clone(),
            covered: facts.covered.clone(),
            time: facts.time.clone(),
            ways: facts.ways.clone(),
            answered: answered.map(|(code, why, _)| (code.clone(), why.written())).collect(),
            not_judged: locknut_proof::not_judged(graph),
            wrong: false,
            hazards: locknut_proof::hazards_printed(graph, facts),
            figures: locknut_proof::sums::own_figures(graph),
        }
    }

    /// Hands out every file that it points into, to be put otherwise.
    pub(crate) fn each_file(&mut self, mut put: impl FnMut(&mut FileId)) {
        put(&mut self.file);
        let files = std::mem::take(&mut self.files).into_iter();
        self.files = files
            .map(|mut file| {
                put(&mut file);
                file
            })
            .collect();
        self.hazards.iter_mut().for_each(|(hazard, _)| put(&mut hazard.file));
        for figure in &mut self.figures {
            put(&mut figure.act.file);
            put(&mut figure.declared.file);
        }
    }
}

impl Checked {
    /// Whether anything is wrong; then nothing is printed.
    pub fn has_errors(&self) -> bool {
        self.reports.iter().any(|report| report.severity == Severity::Error)
    }

    /// A procedure by its name.
    pub fn procedure(&self, name: &str) -> Option<&Compiled> {
        self.procedures.iter().find(|compiled| compiled.name == name)
    }
}

/// Checks the library in a folder.
///
/// Where only the verdict is wanted, what was found out before is taken from the memory as long as nothing changed that
/// could change it, and what is found out now is kept there.
///
/// # Errors
/// Only where files cannot be read at all; whatever an author wrote is a finding.
pub fn check(disk: &Disk, wanted: Wanted, memory: &Memory) -> Result<Checked, ShelfProblem> {
    let files = disk.read()?;
    if wanted == Wanted::Outputs || memory.is_none() {
        return Ok(check_files(files, wanted));
    }
    let (checked, after) = check_again(files, &memory.recall());
    if let Some(after) = after {
        memory.keep(&after);
    }
    Ok(checked)
}

/// Checks files in memory: names to texts.
pub fn check_in_memory(files: &BTreeMap<String, String>) -> Checked {
    check_files(
        files.iter().map(|(name, text)| (name.clone(), text.clone().into_bytes())).collect(),
        Wanted::Outputs,
    )
}

/// Checks files, by name.
pub fn check_files(files: Vec<(String, Vec<u8>)>, wanted: Wanted) -> Checked {
    checked(files, wanted, None).0
}

/// Checks files for the verdict alone, from what an earlier check left (nothing, at first); also what this one
/// leaves, if that is not the same. The result is what [`check_files`] gives.
pub fn check_again(mut files: Vec<(String, Vec<u8>)>, before: &[u8]) -> (Checked, Option<Vec<u8>>) {
    // What is told goes by the order of the files; only by name is it the same whatever files come and go.
    files.sort_by(|(a, _), (b, _)| a.cmp(b));
    checked(files, Wanted::Verdict, Some(before))
}

fn checked(
    files: Vec<(String, Vec<u8>)>,
    wanted: Wanted,
    before: Option<&[u8]>,
) -> (Checked, Option<Vec<u8>>) {
    let mut found = Findings::default();
    let Shelved { sources, standard, own, settings, settings_hash, phrases, translations, digest } =
        Shelved::of(files, wanted, &mut found);
    let before = before.map(|bytes| Before::read(bytes, &sources, standard.len()));
    let of_own = many::each(&own, |source| File::own(*source, before.as_ref(), &sources));
    // The tables of fasteners are the largest part of the standard library, and most libraries need none of them.
    let is_table = |file: &FileId| sources.name(*file).starts_with(TABLES);
    let all_now = of_own.iter().any(File::declares_figures);
    let (unread, now): (Vec<FileId>, Vec<FileId>) =
        standard.iter().partition(|file| !all_now && is_table(file));
    let mut files: Vec<File<'_, '_>> =
        now.iter().map(|file| File::standard(*file, &sources)).collect();
    files.extend(of_own);
    for file in &files {
        file.found.iter().for_each(|report| found.push(report.clone()));
    }
    let said: Vec<&Said> = files.iter().map(|file| &file.said).collect();
    let trees = files.iter().filter_map(|file| file.tree.as_ref());
    let (mut world, findings) = locknut_meaning::build_world(trees, &said, &unread, &sources);
    found.extend(findings);
    if let Some(share) = &settings.least_preload {
        world.least_preload = share.clone();
    }
    let tightenings = locknut_meaning::tightenings(&world);
    found.extend(locknut_proof::sums::figures_found(&tightenings, &world.units));
    found.extend(converted::of_tightenings(&tightenings, &world.units, &settings.units));
    found.extend(off_paper(world.templates.values(), settings.paper));
    let voice = Voice {
        settings: &settings,
        phrases: &phrases,
        translations: &translations,
        units: &world.units,
    };
    found.extend(in_all_languages(voice, &world.templates, &sources));
    // What a record says changes no verdict.
    if wanted == Wanted::Outputs {
        world.notes = voice.notes();
    }
    world.metrology = settings.metrology.clone();

    let shared: BTreeSet<FileId> =
        files.iter().filter(|file| file.tree.is_some()).map(|file| file.id).collect();
    let called = locknut_meaning::called(&world);
    let keys = Keys::of(&world, &sources, &called, settings_hash, &own, &shared);
    let of_own = files.get(now.len()..).unwrap_or_default();
    let (publisher, systems) = (&settings.publisher, &settings.units);
    let compiler = Compiler { world: &world, publisher, called: &called, wanted, systems };
    let outcomes = compiler.all(of_own, before.as_ref().map(|before| (before.files(), &keys)));
    let after = before.as_ref().and_then(|before| before.after(of_own, &outcomes, &sources));
    let mut faulty = faulty_files(&found);
    let (procedures, mut proved, judged) = sorted(outcomes, &mut found);
    // What a procedure prints that could not be compiled is not known.
    if !found.has_errors() {
        let hazards = proved.iter().flat_map(|one| one.hazards.iter().copied());
        let mut of_all = locknut_proof::check_library(hazards);
        let figures = proved.iter().flat_map(|one| &one.figures);
        of_all.extend(locknut_proof::sums::two_torques(figures));
        faulty.extend(faulty_files(&of_all));
        found.extend(of_all);
    }
    let of_all = !faulty.is_disjoint(&shared);
    for one in &mut proved {
        one.wrong |= of_all || !faulty.is_disjoint(&one.files);
    }
    let mut reports = once_for_all_points(found.sorted(), &world);
    causes_first(&mut reports, &sources);
    mends::try_all(&mut reports, &proved, &judged, &mut world, &settings.publisher);
    name_calls(&mut reports, &world, &sources);
    let checked = Checked {
        sources,
        reports,
        settings,
        world,
        procedures,
        proved,
        phrases,
        translations,
        digest,
    };
    (checked, after)
}

/// The files that an error points into.
fn faulty_files(found: &Findings) -> BTreeSet<FileId> {
    let errors = found.reports().iter().filter(|report| report.severity == Severity::Error);
    errors.flat_map(|report| &report.labels).map(|label| label.span.file).collect()
}

/// Procedures and what was proved of them, by name; of two with one name the first. Also what was found to be wrong of
/// those that were judged now.
fn sorted(
    outcomes: Vec<Done<'_>>,
    found: &mut Findings,
) -> (Vec<Compiled>, Vec<Proved>, BTreeMap<String, Vec<Report>>) {
    let (mut procedures, mut proved) = (Vec::new(), Vec::new());
    let mut judged = BTreeMap::new();
    let mut of_ways = Vec::new();
    for done in outcomes {
        let wrong = done.outcome.found.iter().any(|one| one.severity == Severity::Error);
        for report in done.outcome.found {
            if report.path.is_empty() {
                found.push(report);
            } else {
                of_ways.push((report, done.name.clone()));
            }
        }
        if let Some(wrong) = done.judged {
            judged.entry(done.name).or_insert(wrong);
        }
        procedures.extend(done.compiled);
        proved.extend(done.outcome.proved.map(|one| Proved { wrong, ..one }));
    }
    for report in once_with_its_procedures(of_ways) {
        found.push(report);
    }
    procedures.sort_by(|a: &Compiled, b| a.name.cmp(&b.name));
    procedures.dedup_by(|a, b| a.name == b.name);
    proved.sort_by(|a: &Proved, b| a.name.cmp(&b.name));
    proved.dedup_by(|a, b| a.name == b.name);
    (procedures, proved, judged)
}

/// Leaves out warnings that an author has answered where they stand. An error is never answered.
pub(crate) fn unanswered(findings: Findings, answered: &[(String, Prose, Span)]) -> Findings {
    if answered.is_empty() {
        return findings;
    }
    findings.kept(|report| {
        report.severity == Severity::Error
            || !answered.iter().any(|(code, _, at)| {
                let inside = |label: &Label| {
                    label.span.file == at.file
                        && at.start <= label.span.start
                        && label.span.end <= at.end
                };
                report.code == code && report.labels.iter().any(inside)
            })
    })
}

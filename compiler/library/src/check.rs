//! One library through all stages.

use crate::findings::{self, UnreadableFile};
use crate::mends;
use crate::shelf::LARGEST_FILE;
use crate::{Disk, Settings, ShelfProblem, standard};
use locknut_finding::{FileId, Findings, Label, Report, Severity, Sources, Span};
use locknut_graph::{Prose, StepGraph};
use locknut_meaning::World;
use locknut_proof::{Covered, Facts, Time, Wanted, Ways};
use locknut_syntax::tree::{Declaration, Tree};
use rayon::prelude::*;
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};

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
    /// Fluent files of the library: language and text.
    pub phrases: Vec<(String, String)>,
    /// Translations of the authors' own texts: language, then text as written to text.
    pub translations: BTreeMap<String, BTreeMap<String, String>>,
    /// SHA-256 over the names and bytes of all files, the standard library's too, in hexadecimal.
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
#[derive(Debug)]
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
    /// Each hazard of the machine, and whether it is printed here.
    hazards: Vec<(Span, bool)>,
    /// Figures of tightenings that its lines give for themselves.
    figures: Vec<locknut_proof::sums::OwnFigure>,
}

impl Proved {
    fn of(compiled: &Compiled) -> Self {
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
            ways: locknut_proof::ways(graph),
            answered: answered.map(|(code, why, _)| (code.clone(), why.written())).collect(),
            hazards: locknut_proof::hazards_printed(graph, facts),
            figures: locknut_proof::sums::own_figures(graph),
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
/// # Errors
/// Only where files cannot be read at all; whatever an author wrote is a finding.
pub fn check(disk: &Disk, wanted: Wanted) -> Result<Checked, ShelfProblem> {
    Ok(check_files(disk.read()?, wanted))
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
    let mut found = Findings::default();
    let mut shelved = Shelved::default();
    for (name, text) in standard() {
        shelved.take(name, text);
    }
    let standard_files = shelved.lkn.len();
    sort_all(files, &mut shelved, &mut found);
    let Shelved { sources, lkn, settings, phrases, translations, digest } = shelved;

    let parsed: Vec<(FileId, Tree, Findings)> = lkn
        .par_iter()
        .map(|file| {
            let (tree, findings) = locknut_syntax::parse(*file, sources.text(*file));
            (*file, tree, findings)
        })
        .collect();
    let mut trees = Vec::with_capacity(parsed.len());
    for (file, tree, findings) in parsed {
        found.extend(findings);
        trees.push((file, tree));
    }
    let (mut world, findings) = locknut_meaning::build_world(&trees, &sources);
    found.extend(findings);
    if let Some(share) = &settings.least_preload {
        world.least_preload = share.clone();
    }
    let tightenings = locknut_meaning::tightenings(&world);
    found.extend(locknut_proof::sums::figures_found(&tightenings, &world.units));
    world.metrology = settings.metrology.clone();

    let authored = trees.get(standard_files..).unwrap_or_default();
    let (procedures, proved) = compile(&world, authored, &settings.publisher, wanted, &mut found);
    // What a procedure prints that could not be compiled is not known.
    if !found.has_errors() {
        let hazards = proved.iter().flat_map(|one| one.hazards.iter().copied());
        found.extend(locknut_proof::check_library(hazards));
        let figures = proved.iter().flat_map(|one| &one.figures);
        found.extend(locknut_proof::sums::two_torques(figures));
    }
    let mut reports = found.sorted();
    mends::try_all(&mut reports, &proved, &mut world, &settings.publisher);
    Checked { sources, reports, settings, world, procedures, proved, phrases, translations, digest }
}

/// What stays of one procedure: its graph where outputs are wanted, what was proved in any case.
type Kept = (Option<Compiled>, Proved);

fn compile(
    world: &World,
    trees: &[(FileId, Tree)],
    publisher: &str,
    wanted: Wanted,
    found: &mut Findings,
) -> (Vec<Compiled>, Vec<Proved>) {
    let names: Vec<(FileId, String)> = trees
        .iter()
        .flat_map(|(file, tree)| {
            tree.declarations.iter().filter_map(|declaration| match declaration {
                Declaration::Procedure(procedure) => Some((*file, procedure.name.text.clone())),
                Declaration::Model(_)
                | Declaration::Thing(_)
                | Declaration::Limit { .. }
                | Declaration::Vocabulary(_) => None,
            })
        })
        .collect();
    let called = locknut_meaning::called(world);
    // One after the other through all of it: graphs are large, and few are there at a time.
    let results: Vec<(Option<Kept>, Findings)> = names
        .into_par_iter()
        .map(|(file, name)| {
            let (graph, findings) = locknut_meaning::graph_of(world, &name, publisher);
            let answered = graph.as_ref().map(|graph| graph.answered.as_slice());
            let mut findings = unanswered(findings, answered.unwrap_or_default());
            // A called subtask is walked from its callers' values; what is not meant cannot be
            // proved: a graph with holes would only add followers.
            let Some(graph) =
                graph.filter(|graph| !(graph.heading.subtask && called.contains(&name)))
            else {
                return (None, findings);
            };
            if findings.has_errors() {
                return (None, findings);
            }
            let (facts, proved) = locknut_proof::prove(&graph, &world.units, wanted);
            findings.extend(unanswered(proved, &graph.answered));
            for model in locknut_meaning::served(world, &name) {
                let on = on_model(world, &name, publisher, model);
                findings
                    .extend(on.noted(&format!("so it is on the model {model}, which this serves")));
            }
            let compiled = Compiled { name, file, graph, facts };
            let proved = Proved::of(&compiled);
            // A graph is large beside its source: where no output is wanted, it goes as soon as it is proved.
            (Some((Some(compiled).filter(|_| wanted == Wanted::Outputs), proved)), findings)
        })
        .collect();
    let (mut procedures, mut proved) = (Vec::new(), Vec::new());
    for (result, findings) in results {
        found.extend(findings);
        if let Some((compiled, of_it)) = result {
            procedures.extend(compiled);
            proved.push(of_it);
        }
    }
    procedures.sort_by(|a: &Compiled, b| a.name.cmp(&b.name));
    procedures.dedup_by(|a, b| a.name == b.name);
    proved.sort_by(|a: &Proved, b| a.name.cmp(&b.name));
    proved.dedup_by(|a, b| a.name == b.name);
    (procedures, proved)
}

/// What is wrong with a procedure on an assembly when it is done on one of the models made of it.
fn on_model(world: &World, name: &str, publisher: &str, model: &str) -> Findings {
    let (graph, mut found) = locknut_meaning::graph_on(world, name, publisher, model);
    let Some(graph) = graph else { return found };
    if !found.has_errors() {
        found.extend(locknut_proof::judge(&graph));
    }
    unanswered(found, &graph.answered)
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

/// Files sorted by what they are.
#[derive(Default)]
struct Shelved {
    sources: Sources,
    lkn: Vec<FileId>,
    settings: Settings,
    phrases: Vec<(String, String)>,
    translations: BTreeMap<String, BTreeMap<String, String>>,
    digest: String,
}

impl Shelved {
    fn take(&mut self, name: &str, text: &str) {
        if std::path::Path::new(name).extension().is_some_and(|ending| ending == "lkn") {
            let file = self.sources.add(format!("stdlib/{name}"), text);
            self.lkn.push(file);
        }
    }
}

fn sort_all(files: Vec<(String, Vec<u8>)>, shelved: &mut Shelved, found: &mut Findings) {
    let mut hash = Sha256::new();
    for (name, text) in standard() {
        stir(&mut hash, name, text.as_bytes());
    }
    for (name, bytes) in files {
        stir(&mut hash, &name, &bytes);
        if let Some((file, text)) = readable(&name, bytes, &mut shelved.sources, found) {
            sort_in(&name, file, &text, shelved, found);
        }
    }
    shelved.digest =
        hash.finalize().iter().fold(String::new(), |all, byte| all + &format!("{byte:02x}"));
}

/// Names and bytes go in with their lengths, so that no two libraries look alike.
fn stir(hash: &mut Sha256, name: &str, bytes: &[u8]) {
    hash.update(format!("{} {} {}\n", name.len(), bytes.len(), name));
    hash.update(bytes);
}

fn readable(
    name: &str,
    bytes: Vec<u8>,
    sources: &mut Sources,
    found: &mut Findings,
) -> Option<(FileId, String)> {
    if u64::try_from(bytes.len()).is_ok_and(|size| size > LARGEST_FILE) {
        let file = sources.add(name, "");
        found.add(&UnreadableFile::too_large(file, name, LARGEST_FILE));
        return None;
    }
    match String::from_utf8(bytes) {
        Ok(text) => {
            // A byte-order mark is no part of the text.
            let text = text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text);
            Some((sources.add(name, text.clone()), text))
        }
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            let file = sources.add(name, String::from_utf8_lossy(error.as_bytes()));
            found.add(&UnreadableFile::not_utf8(file, name, at));
            None
        }
    }
}

fn sort_in(name: &str, file: FileId, text: &str, shelved: &mut Shelved, found: &mut Findings) {
    let language = |folder: &str, ending: &str| {
        name.strip_prefix(folder).and_then(|rest| rest.strip_suffix(ending)).map(str::to_owned)
    };
    if name == "library.yaml" {
        match Settings::read(text) {
            Ok(settings) => shelved.settings = settings,
            Err(problem) => found.add(&findings::BadSettings::new(file, text, &problem)),
        }
    } else if let Some(language) = language("phrases/", ".ftl") {
        shelved.phrases.push((language, text.to_owned()));
    } else if let Some(language) = language("translations/", ".yaml") {
        match serde_yaml::from_str::<BTreeMap<String, String>>(text) {
            Ok(map) => {
                shelved.translations.insert(language, map);
            }
            Err(error) => found.add(&findings::BadTranslations::new(file, text, &error)),
        }
    } else {
        shelved.lkn.push(file);
    }
}

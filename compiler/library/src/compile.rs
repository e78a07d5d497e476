//! Procedures through meaning and proof, one after the other, unless it is remembered what comes of them.

use crate::check::unanswered;
use crate::converted;
use crate::many;
use crate::memory::{Files, Keys, Outcome};
use crate::read::File;
use crate::shelved::Hash;
use crate::{Compiled, Proved};
use locknut_finding::{FileId, Findings, Report, Severity, Span};
use locknut_graph::{StepGraph, StepId, VariableId, Words};
use locknut_meaning::World;
use locknut_proof::{Facts, Proof, Wanted};
use locknut_quantity::System;
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

/// What procedures are compiled with.
pub(crate) struct Compiler<'w> {
    pub(crate) world: &'w World,
    pub(crate) publisher: &'w str,
    /// Subtasks that somebody calls.
    pub(crate) called: &'w BTreeSet<&'w str>,
    pub(crate) wanted: Wanted,
    /// The unit systems that sheets are printed in.
    pub(crate) systems: &'w [System],
}

/// What came of one procedure.
pub(crate) struct Done<'b> {
    /// Its name in the source.
    pub(crate) name: String,
    /// Where outputs are wanted.
    pub(crate) compiled: Option<Compiled>,
    pub(crate) outcome: Outcome<'b>,
    /// What the outcome came from.
    pub(crate) key: Hash,
    /// It was not remembered.
    pub(crate) fresh: bool,
    /// What was found to be wrong when it was judged, if it was now.
    pub(crate) judged: Option<Vec<Report>>,
}

impl Compiler<'_> {
    /// All procedures of these files, in their order.
    pub(crate) fn all<'b>(
        &self,
        files: &[File<'_, 'b>],
        memory: Option<(&Files, &Keys<'_>)>,
    ) -> Vec<Done<'b>> {
        let all: Vec<(&File<'_, 'b>, usize)> = files
            .iter()
            .flat_map(|file| (0..file.said.procedures.len()).map(move |position| (file, position)))
            .collect();
        // One after the other through all of it: graphs are large, and few are there at a time.
        let done = many::each(&all, |(file, position)| self.one(file, *position, memory));
        done.into_iter().flatten().collect()
    }

    fn one<'b>(
        &self,
        file: &File<'_, 'b>,
        position: usize,
        memory: Option<(&Files, &Keys<'_>)>,
    ) -> Option<Done<'b>> {
        let name = &file.said.procedures.get(position)?.heading.name.text;
        let Some((files, keys)) = memory else {
            let (compiled, proved, judged, findings) = self.compile(file.id, name);
            let outcome = Outcome { found: findings.into_reports(), proved, bytes: None };
            return Some(Done {
                name: name.clone(),
                compiled,
                outcome,
                key: Hash::default(),
                fresh: true,
                judged,
            });
        };
        let (quiet, told) = keys.key(name);
        let known = file.remembered.and_then(|one| one.outcome(position, (&quiet, &told)));
        if let Some(outcome) = known {
            let key = if outcome.found.is_empty() { quiet } else { told };
            let (name, compiled, judged) = (name.clone(), None, None);
            return Some(Done { name, compiled, outcome, key, fresh: false, judged });
        }
        let (compiled, proved, judged, findings) = self.compile(file.id, name);
        let found = findings.into_reports();
        let key = if found.is_empty() { quiet } else { told };
        let bytes = files.keep_outcome(&found, proved.as_ref()).map(Cow::Owned);
        Some(Done {
            name: name.clone(),
            compiled,
            outcome: Outcome { found, proved, bytes },
            key,
            fresh: true,
            judged,
        })
    }

    /// The procedure where outputs are wanted, what was proved of it, what is wrong of all that a change of its lines
    /// may mend, and all that is found.
    fn compile(
        &self,
        file: FileId,
        name: &str,
    ) -> (Option<Compiled>, Option<Proved>, Option<Vec<Report>>, Findings) {
        let world = self.world;
        let (graph, findings) = locknut_meaning::graph_of(world, name, self.publisher);
        let answered = graph.as_ref().map(|graph| graph.answered.as_slice());
        let mut findings = unanswered(findings, answered.unwrap_or_default());
        // A called subtask is walked from its callers' values; what is not meant cannot be
        // proved: a graph with holes would only add followers.
        let graph = graph.filter(|graph| !(graph.heading.subtask && self.called.contains(name)));
        if let Some(graph) = graph.as_ref().filter(|_| findings.has_errors()) {
            findings = with_what_is_not_taken(findings, graph);
        }
        let Some(graph) = graph.filter(|_| !findings.has_errors()) else {
            return (None, None, None, findings);
        };
        let Proof { mut facts, judged, beside } =
            locknut_proof::prove(&graph, &world.units, self.wanted);
        let wrong = |report: &&Report| report.severity == Severity::Error;
        let wrong = judged.reports().iter().filter(wrong).cloned().collect();
        findings.extend(unanswered(judged, &graph.answered));
        findings.extend(unanswered(beside, &graph.answered));
        let converted = converted::of_graph(&graph, &world.units, self.systems);
        findings.extend(unanswered(converted, &graph.answered));
        let mut on_models = Vec::new();
        for model in locknut_meaning::served(world, name) {
            let found = self.on_model(&graph, model, &mut facts).into_reports();
            on_models.extend(found.into_iter().map(|report| (report, model)));
        }
        for report in once_with_its_models(on_models) {
            findings.push(report);
        }
        let compiled = Compiled { name: name.to_owned(), file, graph, facts };
        let proved = Proved::of(&compiled);
        // A graph is large beside its source: where no output is wanted, it goes as soon as it is proved.
        let compiled = Some(compiled).filter(|_| self.wanted == Wanted::Outputs);
        (compiled, Some(proved), Some(wrong), findings)
    }

    /// What is wrong with a procedure on an assembly when it is done on one of the models made of it; where that
    /// model may not be left is marked on the one sheet of all of them.
    fn on_model(&self, sheet: &StepGraph, model: &str, facts: &mut Facts) -> Findings {
        let name = &sheet.heading.name;
        let (graph, mut found) = locknut_meaning::graph_on(self.world, name, self.publisher, model);
        let Some(graph) = graph else { return found };
        if self.wanted == Wanted::Outputs {
            let steps = (0u16..).map(StepId).zip(&graph.steps).map(|(id, _)| id);
            let not_left = locknut_proof::do_not_leave(&graph);
            // What could not be told is taken for the worst.
            let worst = || steps.map(|step| (step, BTreeMap::new())).collect();
            for (step, values) in not_left.unwrap_or_else(worst) {
                let here = facts.do_not_leave.entry(step).or_default();
                // What only that model has, the sheet of all has no name for.
                let known = values.into_iter().filter_map(|(variable, values)| {
                    Some((same(sheet, &graph.variable(variable).words)?, values))
                });
                for (variable, values) in known {
                    here.entry(variable).or_default().extend(values);
                }
            }
        }
        if !found.has_errors() {
            found.extend(locknut_proof::judge(&graph));
        }
        unanswered(found, &graph.answered)
    }
}

/// Codes that say that what a reading may be is more than the line that rests on it covers.
const NOT_COVERED: &[&str] = &["LN215", "LN216", "LN313"];

/// A reading that some path does not take at all is not narrowed there either: where nobody has read it, that is told, and
/// not what it might be.
fn with_what_is_not_taken(findings: Findings, graph: &StepGraph) -> Findings {
    let not_covered = |report: &Report| NOT_COVERED.contains(&report.code);
    let errors = findings.reports().iter().filter(|report| report.severity == Severity::Error);
    // A graph with holes would only add followers.
    if !errors.into_iter().all(not_covered) {
        return findings;
    }
    let not_taken = locknut_proof::not_taken(graph).into_reports();
    let inside =
        |at: Span, line: Span| at.file == line.file && line.start <= at.start && at.end <= line.end;
    let follows =
        |report: &Report| not_taken.iter().any(|cause| inside(report.span(), cause.span()));
    let mut kept = findings.kept(|report| !(not_covered(report) && follows(report)));
    if kept.has_errors() {
        for report in not_taken {
            kept.push(report);
        }
    }
    kept
}

/// The variable of that name.
fn same(graph: &StepGraph, words: &Words) -> Option<VariableId> {
    let mut all = (0u16..).map(VariableId).zip(&graph.variables);
    all.find(|(_, one)| one.words.name == words.name).map(|(id, _)| id)
}

/// What is found of one line on several models is told once, as it is on the first, with the names of all.
fn once_with_its_models(found: Vec<(Report, &str)>) -> Vec<Report> {
    let mut told: Vec<(Report, Vec<&str>)> = Vec::new();
    for (report, model) in found {
        let place = |one: &Report| (one.code, one.labels.first().map(|label| label.span));
        let known = told
            .iter_mut()
            .find(|(one, models)| place(one) == place(&report) && !models.contains(&model));
        match known {
            Some((_, models)) => models.push(model),
            None => told.push((report, vec![model])),
        }
    }
    let noted = told.into_iter().map(|(mut report, models)| {
        report.note(match models.as_slice() {
            [one] => format!("so it is on the model {one}, which this serves"),
            all => format!(
                "so it is on the models {}, which this serves; as it stands on the first",
                all.join(", ")
            ),
        });
        report
    });
    noted.collect()
}

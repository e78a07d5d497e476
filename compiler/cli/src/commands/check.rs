//! `locknut check`: compiles and proves.

use crate::files::{Library, libraries};
use crate::problem::Problem;
use crate::terminal::Terminal;
use clap::{Args, ValueEnum};
use locknut_finding::{Report, data, text};
use std::path::PathBuf;

/// Compile and prove; says in one line each what was proved
#[derive(Debug, Args)]
pub(crate) struct Check {
    /// Libraries, folders or files in them [default: the library here]
    paths: Vec<PathBuf>,
    /// How findings are told
    #[arg(long = "as", value_enum, default_value_t = Form::Text)]
    form: Form,
}

/// How findings are told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Form {
    /// For a person, on standard error
    Text,
    /// For a program, on standard output
    Json,
    /// SARIF 2.1.0, for tools that review code, on standard output
    Sarif,
}

impl Check {
    pub(crate) fn run(&self, terminal: &Terminal) -> Result<bool, Problem> {
        let mut clean = true;
        for library in libraries(&self.paths)? {
            let reports = asked_reports(&library);
            clean &= !library.checked.has_errors();
            match self.form {
                Form::Text => tell(terminal, &library, &reports),
                Form::Json => terminal.result(&data::json(&reports, &library.checked.sources)),
                Form::Sarif => {
                    let pages = locknut_library::pages();
                    terminal.result(&data::sarif(&reports, &library.checked.sources, &pages));
                }
            }
        }
        Ok(clean)
    }
}

/// Findings in the files that were asked for; a fault of a file that they rest on is told, too.
fn asked_reports(library: &Library) -> Vec<Report> {
    let checked = &library.checked;
    let asked = |report: &&Report| {
        report.labels.iter().any(|label| library.asked_for(checked.sources.name(label.span.file)))
    };
    let some: Vec<Report> = checked.reports.iter().filter(asked).cloned().collect();
    if some.is_empty() && checked.has_errors() { checked.reports.clone() } else { some }
}

fn tell(terminal: &Terminal, library: &Library, reports: &[Report]) {
    terminal.reports(reports, &library.checked.sources);
    for procedure in &library.checked.procedures {
        let covered = &procedure.facts.covered;
        let faulty = reports.iter().any(|report| {
            report.severity == locknut_finding::Severity::Error
                && report.labels.iter().any(|label| label.span.file == procedure.file)
        });
        if !faulty && library.asked_for(library.checked.sources.name(procedure.file)) {
            terminal.result(&format!(
                "{}: {} on every path through {} to {}\n",
                procedure.name,
                counted(covered.obligations, "obligation holds", "obligations hold"),
                counted(covered.acts, "act", "acts"),
                counted(covered.ends, "end", "ends")
            ));
            for (code, because, _) in &procedure.graph.answered {
                terminal.result(&format!("  {code} is answered: {}\n", because.written()));
            }
        }
    }
    terminal.message(&text::summary(reports));
}

fn counted(count: usize, one: &str, more: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {more}") }
}

//! `locknut check`: compiles and proves.

use super::{proof, sums};
use crate::files::{Library, libraries};
use crate::problem::Problem;
use crate::terminal::Terminal;
use clap::{Args, ValueEnum};
use locknut_finding::{Report, data, text};
use locknut_library::{Memory, Wanted};
use std::mem::ManuallyDrop;
use std::path::{Path, PathBuf};

/// Compile and prove; says in one line each what was proved
#[derive(Debug, Args)]
pub(crate) struct Check {
    /// Libraries, folders or files in them [default: the library here]
    paths: Vec<PathBuf>,
    /// How findings are told
    #[arg(long = "as", value_enum, default_value_t = Form::Text)]
    form: Form,
    /// What is shown beside the findings
    #[arg(long, value_enum)]
    show: Option<Show>,
    /// Forget what was found out before, and prove everything anew
    #[arg(long)]
    forget: bool,
    /// The folder in which what was found out is remembered; an empty one: nothing is [default: the user's cache]
    #[arg(long, value_name = "DIR", env = "LOCKNUT_MEMORY")]
    memory: Option<std::ffi::OsString>,
}

/// What is shown beside the findings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Show {
    /// Each obligation that was proved with where it is tested, and what is taken for granted
    Proof,
    /// Each calculation: what is given and by whom, the formula, the numbers, what follows
    Sums,
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
        let wanted = if self.show.is_some() { Wanted::Outputs } else { Wanted::Verdict };
        for library in libraries(&self.paths, wanted, |root| self.memory(root))? {
            // The process ends soon: what is never taken apart piece by piece costs no time.
            let library = ManuallyDrop::new(library);
            let reports = asked_reports(&library);
            clean &= !library.checked.has_errors();
            match self.form {
                Form::Text => self.tell(terminal, &library, &reports),
                Form::Json => {
                    let proofs = proof::data(&library, self.show);
                    let sources = &library.checked.sources;
                    terminal.result(&data::json(&reports, &proofs, sources));
                }
                Form::Sarif => {
                    let proofs = proof::data(&library, self.show);
                    let (sources, pages) = (&library.checked.sources, locknut_library::pages());
                    terminal.result(&data::sarif(&reports, &proofs, sources, &pages));
                }
            }
        }
        Ok(clean)
    }

    /// What is remembered of the library in a folder.
    fn memory(&self, root: &Path) -> Memory {
        let folder = match &self.memory {
            Some(named) => Some(PathBuf::from(named)).filter(|named| !named.as_os_str().is_empty()),
            None => cache_folder(),
        };
        let memory = folder.map_or_else(Memory::none, |folder| Memory::of(root, &folder));
        if self.forget {
            memory.forget();
        }
        memory
    }

    fn tell(&self, terminal: &Terminal, library: &Library, reports: &[Report]) {
        terminal.reports(reports, &library.checked.sources);
        for procedure in library.proved() {
            terminal.result(&proof::line(procedure));
            let (whole, sources) =
                (library.checked.procedure(&procedure.name), &library.checked.sources);
            match (whole, self.show) {
                (Some(whole), Some(Show::Proof)) => {
                    terminal.result(&proof::in_full(whole, sources));
                    continue;
                }
                (Some(whole), Some(Show::Sums)) => terminal.result(&sums::in_full(whole, sources)),
                (None, _) | (_, None) => {}
            }
            for open in &procedure.not_judged {
                terminal.result(&format!("  not judged: {open}\n"));
            }
            for (code, because) in &procedure.answered {
                terminal.result(&format!("  {code} is answered: {because}\n"));
            }
        }
        terminal.message(&text::summary(reports));
    }
}

/// Where caches of the user lie (XDG Base Directory Specification: a path that is not absolute is passed over).
#[expect(clippy::disallowed_methods, reason = "the command line is where the environment is read")]
fn cache_folder() -> Option<PathBuf> {
    let named = |name: &str| std::env::var(name).ok().map(PathBuf::from);
    let absolute = |path: &PathBuf| path.is_absolute();
    let home = || named("HOME").filter(absolute).map(|home| home.join(".cache"));
    let caches = named("XDG_CACHE_HOME").filter(absolute).or_else(home);
    let caches = caches.or_else(|| named("LOCALAPPDATA").filter(absolute));
    caches.map(|caches| caches.join("locknut").join("memory"))
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

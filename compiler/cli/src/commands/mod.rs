//! One file a command.

mod build;
mod check;
mod completions;
mod explain;
mod format;
mod graph;
mod new;
mod of_library;
mod print;
mod proof;
mod run;
mod sums;
mod template;

use crate::problem::Problem;
use crate::terminal::Terminal;
use clap::Subcommand;

/// What `locknut` can do.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    New(new::New),
    Check(check::Check),
    Build(build::Build),
    Print(print::Print),
    Template(template::Template),
    Run(run::Run),
    Graph(graph::Graph),
    Explain(explain::Explain),
    Format(format::Format),
    Completions(completions::Completions),
}

impl Command {
    /// Carries it out; `Ok(false)` where the library has errors.
    pub(crate) fn run(&self, terminal: &Terminal) -> Result<bool, Problem> {
        match self {
            Self::New(command) => command.run(terminal),
            Self::Check(command) => command.run(terminal),
            Self::Build(command) => command.run(terminal),
            Self::Print(command) => command.run(terminal),
            Self::Template(command) => command.run(terminal),
            Self::Run(command) => command.run(terminal),
            Self::Graph(command) => command.run(terminal),
            Self::Explain(command) => command.run(terminal),
            Self::Format(command) => command.run(terminal),
            Self::Completions(command) => command.run(terminal),
        }
    }
}

//! `locknut graph`: the step graph.

use crate::files::{self, library_at};
use crate::problem::Problem;
use crate::terminal::Terminal;
use clap::{Args, ValueEnum};
use locknut_finding::text;
use std::path::PathBuf;

/// Show the step graph of a procedure, or its published schema
#[derive(Debug, Args)]
pub(crate) struct Graph {
    /// The procedure, by its name in the source
    #[arg(required_unless_present = "schema")]
    name: Option<String>,
    /// The library's folder [default: the library here]
    #[arg(long, value_name = "DIR")]
    library: Option<PathBuf>,
    /// How it is shown
    #[arg(long = "as", value_enum, default_value_t = Form::Svg)]
    form: Form,
    /// The file that is written [default: standard output]
    #[arg(long, value_name = "FILE")]
    into: Option<PathBuf>,
    /// The JSON Schema of `--as json` instead
    #[arg(long)]
    schema: bool,
}

/// How a graph is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Form {
    /// A picture
    Svg,
    /// DOT, for programs that lay out graphs
    Dot,
    /// Everything, for programs
    Json,
}

impl Graph {
    pub(crate) fn run(&self, terminal: &Terminal) -> Result<bool, Problem> {
        let Some(name) = self.name.as_deref().filter(|_| !self.schema) else {
            self.put(terminal, locknut_data::SCHEMA)?;
            return Ok(true);
        };
        let library = library_at(self.library.as_ref())?;
        let checked = &library.checked;
        let Ok(one) = library.procedure(name) else {
            if checked.has_errors() {
                terminal.reports(&checked.reports, &checked.sources);
                terminal.message(&text::summary(&checked.reports));
                return Ok(false);
            }
            return library.procedure(name).map(|_| true);
        };
        let made = match self.form {
            Form::Svg => locknut_picture::svg(&one.graph),
            Form::Dot => locknut_picture::dot(&one.graph),
            Form::Json => locknut_data::graph_json(&one.graph, &one.facts, &checked.world.units)
                .map_err(|why| Problem::Other(why.to_string()))?,
        };
        self.put(terminal, &made)?;
        Ok(!checked.has_errors())
    }

    fn put(&self, terminal: &Terminal, made: &str) -> Result<(), Problem> {
        if let Some(path) = &self.into {
            return files::write(path, made.as_bytes());
        }
        terminal.result(made);
        Ok(())
    }
}

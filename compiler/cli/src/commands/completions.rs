//! `locknut completions`: what a shell needs to complete commands and options.

use crate::Arguments;
use crate::problem::Problem;
use crate::terminal::Terminal;
use clap::{Args, CommandFactory};
use clap_complete::Shell;

/// Write a completion script for a shell to standard output
#[derive(Debug, Args)]
pub(crate) struct Completions {
    /// Which shell
    #[arg(value_enum)]
    shell: Shell,
}

impl Completions {
    #[expect(clippy::unnecessary_wraps, reason = "every command has this shape")]
    pub(crate) fn run(&self, terminal: &Terminal) -> Result<bool, Problem> {
        let mut script = Vec::new();
        clap_complete::generate(self.shell, &mut Arguments::command(), "locknut", &mut script);
        terminal.result(&String::from_utf8_lossy(&script));
        Ok(true)
    }
}

//! `locknut print`: one sheet.

use crate::files::{self, sound_library_at};
use crate::outputs::{PaperSize, print_sheet, system_word};
use crate::problem::Problem;
use crate::terminal::Terminal;
use clap::{Args, ValueEnum};
use locknut_library::{Paper, compose, off_paper};
use locknut_quantity::System;
use std::path::PathBuf;

/// Print one checklist as PDF
#[derive(Debug, Args)]
pub(crate) struct Print {
    /// The procedure, by its name in the source
    name: String,
    /// The library's folder [default: the library here]
    #[arg(long, value_name = "DIR")]
    library: Option<PathBuf>,
    /// Language, such as en or de [default: the library's]
    #[arg(long)]
    language: Option<String>,
    /// Unit system [default: the library's]
    #[arg(long, value_enum)]
    units: Option<Units>,
    /// Paper [default: the library's]
    #[arg(long, value_enum)]
    paper: Option<PaperSize>,
    /// The file that is written [default: NAME.LANGUAGE.UNITS.pdf here]
    #[arg(long, value_name = "FILE")]
    into: Option<PathBuf>,
    /// The sheet as plain text on standard output instead
    #[arg(long)]
    text: bool,
}

/// A unit system.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Units {
    /// SI and what is used with it
    Si,
    /// US customary
    Us,
}

impl Print {
    pub(crate) fn run(&self, terminal: &Terminal) -> Result<bool, Problem> {
        let Some(library) = sound_library_at(self.library.as_ref(), terminal)? else {
            return Ok(false);
        };
        let checked = &library.checked;
        let one = library.procedure(&self.name)?;
        let language = self.language.as_deref().unwrap_or(&checked.settings.language);
        let system = match self.units {
            Some(Units::Si) => System::Si,
            Some(Units::Us) => System::Us,
            None => checked.settings.units.first().copied().unwrap_or(System::Si),
        };
        let composed = compose(checked, one, language, Some(system));
        let paper = self.paper.map_or(checked.settings.paper, Paper::from);
        let mut findings = composed.findings;
        // Plain text lies on no paper.
        if !self.text {
            findings.extend(off_paper(&one.graph.templates, paper));
        }
        terminal.reports(&findings.clone().sorted(), &checked.sources);
        if findings.has_errors() {
            return Ok(false);
        }
        if self.text {
            terminal.result(&locknut_sheet::text(&composed.sheet));
            return Ok(true);
        }
        let bytes = print_sheet(&composed.sheet, paper, &checked.digest)?;
        let plain = format!("{}.{language}.{}.pdf", self.name, system_word(system));
        let into = self.into.clone().unwrap_or_else(|| PathBuf::from(plain));
        files::write(&into, &bytes)?;
        terminal.message(&format!("{} written", into.display()));
        Ok(true)
    }
}

//! `locknut print`: one sheet.

use super::of_library::OfLibrary;
use crate::outputs::{print_sheet, system_word};
use crate::problem::Problem;
use crate::terminal::Terminal;
use clap::{Args, ValueEnum};
use locknut_library::{compose, off_paper};
use locknut_quantity::System;

/// Print one checklist as PDF
#[derive(Debug, Args)]
pub(crate) struct Print {
    /// The procedure, by its name in the source
    name: String,
    #[command(flatten)]
    of: OfLibrary,
    /// Unit system [default: the library's]
    #[arg(long, value_enum)]
    units: Option<Units>,
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
        let Some(library) = self.of.library(terminal)? else { return Ok(false) };
        let checked = &library.checked;
        let one = library.procedure(&self.name)?;
        let (language, paper) = (self.of.language(checked), self.of.paper(checked));
        let system = match self.units {
            Some(Units::Si) => System::Si,
            Some(Units::Us) => System::Us,
            None => checked.settings.units.first().copied().unwrap_or(System::Si),
        };
        let composed = compose(checked, one, language, Some(system));
        let mut found = composed.findings;
        // Plain text lies on no paper.
        if !self.of.text {
            found.extend(off_paper(&one.graph.templates, paper));
        }
        let text = || locknut_sheet::text(&composed.sheet);
        self.of.hand_out(found, checked, terminal, text, || {
            let name = format!("{}.{language}.{}.pdf", self.name, system_word(system));
            Ok((name, print_sheet(&composed.sheet, paper, &checked.digest)?))
        })
    }
}

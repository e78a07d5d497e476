//! What `print` and `template` ask alike: which library, language, paper and file.

use crate::files::{self, Library, sound_library_at};
use crate::outputs::PaperSize;
use crate::problem::Problem;
use crate::terminal::Terminal;
use clap::Args;
use locknut_finding::Findings;
use locknut_library::{Checked, Paper};
use std::path::PathBuf;

/// Where it comes from, and how it is handed out.
#[derive(Debug, Args)]
pub(crate) struct OfLibrary {
    /// The library's folder [default: the library here]
    #[arg(long, value_name = "DIR")]
    library: Option<PathBuf>,
    /// Language, such as en or de [default: the library's]
    #[arg(long)]
    language: Option<String>,
    /// Paper [default: the library's]
    #[arg(long, value_enum)]
    paper: Option<PaperSize>,
    /// The file that is written [default: one that is named for what is in it, here]
    #[arg(long, value_name = "FILE")]
    into: Option<PathBuf>,
    /// What it says, as plain text on standard output instead
    #[arg(long)]
    pub(crate) text: bool,
}

impl OfLibrary {
    /// The library; none, once its faults are told.
    pub(crate) fn library(&self, terminal: &Terminal) -> Result<Option<Library>, Problem> {
        sound_library_at(self.library.as_ref(), terminal)
    }

    pub(crate) fn language<'a>(&'a self, checked: &'a Checked) -> &'a str {
        self.language.as_deref().unwrap_or(&checked.settings.language)
    }

    pub(crate) fn paper(&self, checked: &Checked) -> Paper {
        self.paper.map_or(checked.settings.paper, Paper::from)
    }

    /// Tells what was found; then the text, or else the file, if nothing is wrong.
    pub(crate) fn hand_out(
        &self,
        found: Findings,
        checked: &Checked,
        terminal: &Terminal,
        text: impl FnOnce() -> String,
        file: impl FnOnce() -> Result<(String, Vec<u8>), Problem>,
    ) -> Result<bool, Problem> {
        let wrong = found.has_errors();
        terminal.reports(&found.sorted(), &checked.sources);
        if wrong {
            return Ok(false);
        }
        if self.text {
            terminal.result(&text());
            return Ok(true);
        }
        let (plain, bytes) = file()?;
        let into = self.into.clone().unwrap_or_else(|| PathBuf::from(plain));
        files::write(&into, &bytes)?;
        terminal.message(&format!("{} written", into.display()));
        Ok(true)
    }
}

//! `locknut new`: a small library that compiles.

use crate::files;
use crate::problem::Problem;
use crate::terminal::Terminal;
use clap::Args;
use std::path::PathBuf;

/// Start a small library that compiles
#[derive(Debug, Args)]
pub(crate) struct New {
    /// The folder that is made
    folder: PathBuf,
}

/// The files of a new library; a test compiles them.
const FILES: &[(&str, &str)] = &[
    ("library.yaml", include_str!("new/library.yaml")),
    ("models/bench-drill.lkn", include_str!("new/bench-drill.lkn")),
    ("replace-belt.lkn", include_str!("new/replace-belt.lkn")),
];

impl New {
    pub(crate) fn run(&self, terminal: &Terminal) -> Result<bool, Problem> {
        let taken = self.folder.exists()
            && (self.folder.is_file()
                || std::fs::read_dir(&self.folder).is_ok_and(|mut inside| inside.next().is_some()));
        if taken {
            return Err(Problem::NotEmpty(self.folder.clone()));
        }
        for (name, text) in FILES {
            files::write(&self.folder.join(name), text.as_bytes())?;
        }
        let folder = self.folder.display();
        terminal.message(&format!(
            "{folder} holds a library of one procedure. Next:\n  \
             locknut check {folder}\n  locknut print replace-belt --library {folder}"
        ));
        Ok(true)
    }
}

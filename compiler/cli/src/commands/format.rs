//! `locknut format`: one layout for sources.

use crate::files;
use crate::problem::Problem;
use crate::terminal::Terminal;
use clap::Args;
use locknut_finding::{Sources, text};
use std::path::{Path, PathBuf};

/// Lay out sources in one way; comments are kept
#[derive(Debug, Args)]
pub(crate) struct Format {
    /// Files, or folders of files [default: this folder]
    paths: Vec<PathBuf>,
    /// Change nothing; exit status 1 where a file is laid out otherwise
    #[arg(long)]
    check: bool,
}

impl Format {
    pub(crate) fn run(&self, terminal: &Terminal) -> Result<bool, Problem> {
        let here = [PathBuf::from(".")];
        let mut clean = true;
        let mut changed = 0;
        for path in if self.paths.is_empty() { &here[..] } else { &self.paths } {
            for file in sources_under(path)? {
                match self.one(terminal, &file)? {
                    Outcome::Same => {}
                    Outcome::Other => changed += 1,
                    Outcome::Faulty => clean = false,
                }
            }
        }
        let told = if self.check { "laid out otherwise" } else { "laid out" };
        terminal
            .message(&format!("{changed} {} {told}", if changed == 1 { "file" } else { "files" }));
        Ok(clean && !(self.check && changed > 0))
    }

    fn one(&self, terminal: &Terminal, file: &Path) -> Result<Outcome, Problem> {
        let bytes = files::read(file)?;
        let Ok(source) = String::from_utf8(bytes) else {
            terminal.message(&format!("{}: not written in UTF-8; left alone", file.display()));
            return Ok(Outcome::Faulty);
        };
        match locknut_syntax::format(&source) {
            Ok(laid_out) if laid_out == source => Ok(Outcome::Same),
            Ok(laid_out) => {
                if self.check {
                    terminal.message(&format!("{} is laid out otherwise", file.display()));
                } else {
                    files::write(file, laid_out.as_bytes())?;
                }
                Ok(Outcome::Other)
            }
            Err(findings) => {
                let mut sources = Sources::default();
                sources.add(file.display().to_string(), source);
                let reports = findings.sorted();
                terminal.reports(&reports, &sources);
                terminal.message(&format!(
                    "{}: {}; left alone",
                    file.display(),
                    text::summary(&reports)
                ));
                Ok(Outcome::Faulty)
            }
        }
    }
}

/// What became of a file.
enum Outcome {
    Same,
    Other,
    Faulty,
}

fn sources_under(path: &Path) -> Result<Vec<PathBuf>, Problem> {
    if path.is_file() {
        return Ok(vec![path.to_path_buf()]);
    }
    let unreadable = |why| Problem::Unreadable { path: path.to_path_buf(), why };
    let mut found = Vec::new();
    for entry in std::fs::read_dir(path).map_err(unreadable)? {
        let inside = entry.map_err(unreadable)?.path();
        let hidden = inside.file_name().is_none_or(|name| name.to_string_lossy().starts_with('.'));
        if hidden || inside.is_symlink() {
            continue;
        }
        if inside.is_dir() {
            found.extend(sources_under(&inside)?);
        } else if inside.extension().is_some_and(|ending| ending == "lkn") {
            found.push(inside);
        }
    }
    found.sort();
    Ok(found)
}

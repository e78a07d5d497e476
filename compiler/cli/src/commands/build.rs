//! `locknut build`: everything that comes out.

use super::proof::counted;
use crate::files::{self, Library, libraries};
use crate::outputs::{Made, OUTPUTS};
use crate::problem::Problem;
use crate::terminal::Terminal;
use clap::Args;
use locknut_finding::{Report, Severity, text};
use locknut_library::{Memory, Wanted};
use locknut_quantity::grouped;
use rayon::prelude::*;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Make everything that comes out of a library: sheets, check programs, step graphs
#[derive(Debug, Args)]
pub(crate) struct Build {
    /// Libraries, folders or files in them [default: the library here]
    paths: Vec<PathBuf>,
    /// The folder that the results go into
    #[arg(long, value_name = "DIR")]
    into: PathBuf,
}

/// In the target folder: what was made from which sources by which compiler, so that nothing is made twice.
const MEMORY: &str = ".built.json";

impl Build {
    pub(crate) fn run(&self, terminal: &Terminal) -> Result<bool, Problem> {
        let mut clean = true;
        for library in libraries(&self.paths, Wanted::Outputs, |_| Memory::none())? {
            clean &= build(&library, &self.into, terminal)?;
        }
        Ok(clean)
    }
}

fn build(library: &Library, into: &Path, terminal: &Terminal) -> Result<bool, Problem> {
    let checked = &library.checked;
    terminal.reports(&checked.reports, &checked.sources);
    if checked.has_errors() {
        terminal.message(&text::summary(&checked.reports));
        terminal.message("nothing was built: a sheet is printed only where every path is proved");
        return Ok(false);
    }
    let asked: Vec<_> = checked
        .procedures
        .iter()
        .filter(|one| {
            !one.graph.heading.subtask && library.asked_for(checked.sources.name(one.file))
        })
        .collect();
    let made_from = this_compiler().map(|own| format!("{} {own}", checked.digest));
    let mut memory = remembered(into);
    let bar = terminal.progress(asked.len() * OUTPUTS.len(), "building");
    let jobs: Vec<_> =
        asked.iter().flat_map(|one| OUTPUTS.iter().map(move |output| (*one, output))).collect();
    let made: Vec<Result<Vec<Made>, Problem>> = jobs
        .into_par_iter()
        .map(|(one, output)| {
            let known = |file: &str| {
                made_from.is_some()
                    && memory.get(file) == made_from.as_ref()
                    && into.join(file).is_file()
            };
            let made = (output.make)(checked, one, &known);
            bar.inc(1);
            made
        })
        .collect();
    bar.finish_and_clear();
    let mut found = Vec::new();
    let mut new = Vec::new();
    let mut kept = 0_usize;
    for made in made {
        for made in made? {
            match made {
                Made::File { name, bytes, findings } => {
                    new.push((name, bytes));
                    found.extend(findings);
                }
                Made::Known => kept += 1,
            }
        }
    }
    found.sort_by_key(|report: &Report| (report.code, report.title.clone()));
    found.dedup_by(|a, b| (a.code, &a.title) == (b.code, &b.title));
    terminal.reports(&found, &checked.sources);
    // A line that cannot be said is missing on the sheet, and whoever works by it does not know.
    if found.iter().any(|report| report.severity == Severity::Error) {
        terminal.message(&text::summary(&found));
        terminal.message(
            "nothing was built: a sheet is printed only where every line of it can be said",
        );
        return Ok(false);
    }
    let written = new.len();
    for (name, bytes) in new {
        files::write(&into.join(&name), &bytes)?;
        match &made_from {
            Some(made_from) => memory.insert(name, made_from.clone()),
            None => memory.remove(&name),
        };
    }
    let text = serde_json::to_vec_pretty(&memory).map_err(|why| Problem::Other(why.to_string()))?;
    files::write(&into.join(MEMORY), &text)?;
    terminal.message(&format!(
        "{}: {} written, {} unchanged, in {}",
        counted(asked.len(), "procedure", "procedures"),
        counted(written, "file", "files"),
        grouped(&kept.to_string()),
        into.display()
    ));
    Ok(true)
}

fn remembered(into: &Path) -> BTreeMap<String, String> {
    let bytes = files::read(&into.join(MEMORY)).unwrap_or_default();
    serde_json::from_slice(&bytes).unwrap_or_default()
}

/// The hash of this very program: another one may print another sheet from the same sources. One that cannot read
/// itself makes everything anew.
fn this_compiler() -> Option<String> {
    let own = std::env::current_exe().ok()?;
    let hash = Sha256::digest(files::read(&own).ok()?);
    Some(hash.iter().fold(String::new(), |all, byte| all + &format!("{byte:02x}")))
}

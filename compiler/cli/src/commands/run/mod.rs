//! `locknut run`: the check program in the terminal.

use crate::files::{self, sound_library_at};
use crate::problem::Problem;
use crate::terminal::Terminal;
use clap::Args;
use locknut_graph::NodeId;
use locknut_job::{Ask, Job, Record, Refused};
use locknut_library::compose;
use std::path::PathBuf;

mod answers;
mod ask;
mod said;
mod words;

use answers::Answers;
use words::Words;

/// Work through a procedure in the terminal, or from a file of answers; gives the job record
#[derive(Debug, Args)]
pub(crate) struct Run {
    /// The procedure, by its name in the source
    name: String,
    /// The library's folder [default: the library here]
    #[arg(long, value_name = "DIR")]
    library: Option<PathBuf>,
    /// Answers from a file instead of from the keyboard
    #[arg(long, value_name = "FILE")]
    answers: Option<PathBuf>,
    /// Language, such as en or de [default: the library's]
    #[arg(long)]
    language: Option<String>,
    /// The file that the record goes into [default: standard output]
    #[arg(long, value_name = "FILE")]
    into: Option<PathBuf>,
}

impl Run {
    pub(crate) fn run(&self, terminal: &Terminal) -> Result<bool, Problem> {
        let Some(library) = sound_library_at(self.library.as_ref(), terminal)? else {
            return Ok(false);
        };
        let checked = &library.checked;
        let one = library.procedure(&self.name)?;
        let language = self.language.as_deref().unwrap_or(&checked.settings.language);
        // Readings are typed in the units of the source, so the sheet is said in them, too.
        let sheet = compose(checked, one, language, None).sheet;
        let job = Job::new(&one.graph, &checked.world.units, &checked.digest);
        let words = Words::of(&sheet, &one.graph);
        let record = match &self.answers {
            Some(path) => scripted(job, path, &words)?,
            None => ask::by_hand(job, &sheet, &words, terminal)?,
        };
        self.save(&record, &words, terminal)?;
        Ok(true)
    }

    fn save(&self, record: &Record, words: &Words, terminal: &Terminal) -> Result<(), Problem> {
        let mut text =
            serde_json::to_string_pretty(record).map_err(|why| Problem::Other(why.to_string()))?;
        text.push('\n');
        match &self.into {
            Some(path) => {
                files::write(path, text.as_bytes())?;
                terminal.message(&format!("{} {}", words.word("record-is-in"), path.display()));
            }
            None => terminal.result(&text),
        }
        Ok(())
    }
}

/// Runs a job from a file: every tick is given, every wait is over, readings come from the file.
fn scripted(job: Job<'_>, path: &std::path::Path, words: &Words) -> Result<Record, Problem> {
    let problem = |why: String| Problem::Answers { path: path.to_path_buf(), why };
    let answers = Answers::read(&files::read(path)?).map_err(problem)?;
    through(job, answers, words).map_err(problem)
}

fn through(mut job: Job<'_>, mut answers: Answers, words: &Words) -> Result<Record, String> {
    loop {
        let ask = job.ask();
        if let Ask::Ended { .. } = ask {
            answers.all_used()?;
            return Ok(job.finish());
        }
        let answer = answers.to(&ask, words)?;
        match job.answer(&answer, &now()) {
            // Undecided: asked again which instrument is used, or read again, as in the terminal.
            Ok(_) | Err(Refused::UndecidedHere) => {}
            Err(Refused::Undecided) if answers.has_more(&ask, words) => {}
            Err(refused) => return Err(format!("{}: {refused}", words.place(&ask))),
        }
    }
}

/// The time as it stands in a record: UTC, to the second.
fn now() -> String {
    jiff::Timestamp::now().strftime("%Y-%m-%dT%H:%M:%SZ").to_string()
}

/// The node that a question belongs to.
fn node_of(ask: &Ask) -> Option<NodeId> {
    match ask {
        Ask::Series { .. } | Ask::Serial { .. } => None,
        Ask::Tick { node }
        | Ask::Wait { node, .. }
        | Ask::Numbers { node, .. }
        | Ask::Answers { node, .. }
        | Ask::Text { node, .. }
        | Ask::Result { node, .. }
        | Ask::Child { node, .. }
        | Ask::Ended { node } => Some(*node),
    }
}

#[cfg(test)]
mod tests;

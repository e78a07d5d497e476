//! Why a command could not be carried out: exit status 2.

use std::path::PathBuf;

/// Why a command could not be carried out.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Problem {
    #[error(transparent)]
    Shelf(#[from] locknut_library::ShelfProblem),
    #[error("{} cannot be written: {why}", path.display())]
    Unwritable { path: PathBuf, why: std::io::Error },
    #[error("{} cannot be read: {why}", path.display())]
    Unreadable { path: PathBuf, why: std::io::Error },
    #[error("there is no procedure {name} in this library{}", near_words(near))]
    NoProcedure { name: String, near: Vec<String> },
    #[error("there is no template {name} in this library{}", near_words(near))]
    NoTemplate { name: String, near: Vec<String> },
    #[error("there is no page for {code}; codes look like LN512")]
    NoPage { code: String },
    #[error("{0} is there already and is not empty; nothing was written")]
    NotEmpty(PathBuf),
    #[error("the sheet of {name} cannot be printed: {why}")]
    Unprintable { name: String, why: String },
    #[error("{path} does not answer the job: {why}", path = path.display())]
    Answers { path: PathBuf, why: String },
    #[error("{0}")]
    Other(String),
}

fn near_words(names: &[String]) -> String {
    if names.is_empty() { String::new() } else { format!("; it has: {}", names.join(", ")) }
}

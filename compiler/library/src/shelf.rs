//! Where a library's files stand.

use crate::many;
use std::path::{Path, PathBuf};

/// The most bytes that one source file may have.
pub(crate) const LARGEST_FILE: u64 = 4 * 1024 * 1024;
/// The most files that a library may have.
pub(crate) const MOST_FILES: usize = 100_000;
/// The deepest that folders may lie in each other.
const DEEPEST_FOLDER: usize = 32;

/// What could not be carried out: no fault of what an author wrote.
#[derive(Debug, thiserror::Error)]
pub enum ShelfProblem {
    /// The folder or file is not there or may not be read.
    #[error("{path} cannot be read: {why}")]
    Unreadable {
        /// Which.
        path: String,
        /// What the system says.
        why: std::io::Error,
    },
    /// No `library.yaml` in the folder or above it.
    #[error(
        "{path} is not in a library: no library.yaml there or in any folder above it \
         (`locknut new DIR` makes a library to start from)"
    )]
    NoLibrary {
        /// The path that was asked for.
        path: String,
    },
    /// More files than a library may have.
    #[error(
        "{path} holds more than {MOST_FILES} files; give each machine family a library of its own"
    )]
    TooMany {
        /// The folder.
        path: String,
    },
}

/// A folder on disk. Nothing outside it is read: links that lead out of it are passed over.
#[derive(Clone, Debug)]
pub struct Disk {
    root: PathBuf,
}

impl Disk {
    /// The library in a folder.
    ///
    /// # Errors
    /// Where the folder cannot be read.
    pub fn open(root: &Path) -> Result<Self, ShelfProblem> {
        let root = root.canonicalize().map_err(|why| unreadable(root, why))?;
        Ok(Self { root })
    }

    /// The folder.
    pub fn root(&self) -> &Path {
        &self.root
    }

    fn gather(
        &self,
        folder: &Path,
        depth: usize,
        names: &mut Vec<String>,
    ) -> Result<(), ShelfProblem> {
        if depth > DEEPEST_FOLDER {
            return Ok(());
        }
        for entry in std::fs::read_dir(folder).map_err(|why| unreadable(folder, why))? {
            let path = entry.map_err(|why| unreadable(folder, why))?.path();
            let hidden =
                path.file_name().is_none_or(|name| name.to_string_lossy().starts_with('.'));
            if hidden || !self.inside(&path) {
                continue;
            }
            if path.is_dir() {
                self.gather(&path, depth + 1, names)?;
            } else if let Ok(name) = path.strip_prefix(&self.root) {
                names.push(name.to_string_lossy().replace('\\', "/"));
            }
            if names.len() > MOST_FILES {
                return Err(ShelfProblem::TooMany { path: self.root.display().to_string() });
            }
        }
        Ok(())
    }

    fn inside(&self, path: &Path) -> bool {
        let link = path.symlink_metadata().is_ok_and(|data| data.file_type().is_symlink());
        !link
            || path.canonicalize().is_ok_and(|real| real.starts_with(&self.root) && real.is_file())
    }
}

impl Disk {
    /// The names and bytes of all files that belong to the library, by name.
    ///
    /// # Errors
    /// Where a folder or file cannot be read, or there are too many.
    pub fn read(&self) -> Result<Vec<(String, Vec<u8>)>, ShelfProblem> {
        let mut names = Vec::new();
        self.gather(&self.root, 0, &mut names)?;
        names.retain(|name| belongs(name));
        names.sort();
        many::each(&names, |name| Ok((name.clone(), self.bytes(name)?))).into_iter().collect()
    }

    #[expect(clippy::disallowed_methods, reason = "the one place where a library's files are read")]
    fn bytes(&self, name: &str) -> Result<Vec<u8>, ShelfProblem> {
        let path = self.root.join(name);
        let size = path.metadata().map_err(|why| unreadable(&path, why))?.len();
        if size > LARGEST_FILE {
            // One byte too many is enough for the finding; the rest is not loaded.
            return Ok(vec![b' '; usize::try_from(LARGEST_FILE).unwrap_or(usize::MAX - 1) + 1]);
        }
        std::fs::read(&path).map_err(|why| unreadable(&path, why))
    }
}

/// The folder of the library that a path lies in: the nearest one upwards with a `library.yaml`.
///
/// # Errors
/// Where the path does not exist, or no such folder is found.
pub fn root_of(path: &Path) -> Result<PathBuf, ShelfProblem> {
    let real = path.canonicalize().map_err(|why| unreadable(path, why))?;
    let found = real.ancestors().find(|folder| folder.join("library.yaml").is_file());
    found
        .map(Path::to_path_buf)
        .ok_or_else(|| ShelfProblem::NoLibrary { path: path.display().to_string() })
}

fn unreadable(path: &Path, why: std::io::Error) -> ShelfProblem {
    ShelfProblem::Unreadable { path: path.display().to_string(), why }
}

fn belongs(name: &str) -> bool {
    let in_folder = |folder: &str, ending: &str| {
        name.strip_prefix(folder).is_some_and(|rest| rest.ends_with(ending))
    };
    name == "library.yaml"
        || Path::new(name).extension().is_some_and(|ending| ending == "lkn")
        || in_folder("phrases/", ".ftl")
        || in_folder("translations/", ".yaml")
}

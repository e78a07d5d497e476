//! Libraries by path, and files written whole or not at all.

use crate::problem::Problem;
use crate::terminal::Terminal;
use locknut_finding::text;
use locknut_graph::Template;
use locknut_library::{Checked, Disk, Memory, Wanted, check, root_of};
use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The libraries that paths lie in, each checked once, with the paths that were asked for.
pub(crate) fn libraries(
    paths: &[PathBuf],
    wanted: Wanted,
    memory: impl Fn(&Path) -> Memory,
) -> Result<Vec<Library>, Problem> {
    let here = [PathBuf::from(".")];
    let paths = if paths.is_empty() { &here } else { paths };
    let mut asked: BTreeMap<PathBuf, Vec<PathBuf>> = BTreeMap::new();
    for path in paths {
        let root = root_of(path)?;
        let real = path.canonicalize().unwrap_or_else(|_gone| path.clone());
        asked.entry(root).or_default().push(real);
    }
    let opened = asked.into_iter().map(|(root, paths)| {
        let memory = memory(&root);
        Library::open(root, paths, wanted, &memory)
    });
    opened.collect()
}

/// A checked library.
#[derive(Debug)]
pub(crate) struct Library {
    pub(crate) root: PathBuf,
    pub(crate) checked: Checked,
    asked: Vec<PathBuf>,
}

impl Library {
    fn open(
        root: PathBuf,
        asked: Vec<PathBuf>,
        wanted: Wanted,
        memory: &Memory,
    ) -> Result<Self, Problem> {
        let checked = check(&Disk::open(&root)?, wanted, memory)?;
        Ok(Self { root, checked, asked })
    }

    /// Whether a file of the library lies under a path that was asked for.
    pub(crate) fn asked_for(&self, file: &str) -> bool {
        let path = self.root.join(file);
        self.asked.iter().any(|asked| path.starts_with(asked))
    }

    /// The procedures that were asked for and of which nothing is wrong.
    pub(crate) fn proved(&self) -> impl Iterator<Item = &locknut_library::Proved> {
        self.checked.proved.iter().filter(|procedure| {
            !procedure.wrong && self.asked_for(self.checked.sources.name(procedure.file))
        })
    }

    /// A procedure by its name.
    pub(crate) fn procedure(&self, name: &str) -> Result<&locknut_library::Compiled, Problem> {
        self.checked.procedure(name).ok_or_else(|| Problem::NoProcedure {
            name: name.to_owned(),
            near: self.checked.procedures.iter().map(|one| one.name.clone()).collect(),
        })
    }

    /// A template by its name.
    pub(crate) fn template(&self, name: &str) -> Result<&Arc<Template>, Problem> {
        let templates = &self.checked.world.templates;
        templates.get(name).ok_or_else(|| Problem::NoTemplate {
            name: name.to_owned(),
            near: templates.keys().cloned().collect(),
        })
    }
}

/// The library that the working folder, or a given folder, lies in.
pub(crate) fn library_at(folder: Option<&PathBuf>) -> Result<Library, Problem> {
    let paths: Vec<PathBuf> = folder.into_iter().cloned().collect();
    let mut all = libraries(&paths, Wanted::Outputs, |_| Memory::none())?;
    all.pop().ok_or_else(|| Problem::Other("no library was named".into()))
}

/// The same, where it has no error; else what is wrong is told, and nothing comes of it.
pub(crate) fn sound_library_at(
    folder: Option<&PathBuf>,
    terminal: &Terminal,
) -> Result<Option<Library>, Problem> {
    let library = library_at(folder)?;
    let checked = &library.checked;
    if checked.has_errors() {
        terminal.reports(&checked.reports, &checked.sources);
        terminal.message(&text::summary(&checked.reports));
        return Ok(None);
    }
    Ok(Some(library))
}

/// Writes a file beside its place and moves it there, so that nobody ever sees half of it.
pub(crate) fn write(path: &Path, bytes: &[u8]) -> Result<(), Problem> {
    let unwritable = |why| Problem::Unwritable { path: path.to_path_buf(), why };
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    std::fs::create_dir_all(folder).map_err(unwritable)?;
    let mut beside = tempfile::NamedTempFile::new_in(folder).map_err(unwritable)?;
    beside.write_all(bytes).map_err(unwritable)?;
    beside.as_file().sync_all().map_err(unwritable)?;
    readable_by_all(&beside).map_err(unwritable)?;
    beside.persist(path).map_err(|failed| unwritable(failed.error))?;
    Ok(())
}

/// A temporary file is private; a result is not.
#[cfg(unix)]
fn readable_by_all(file: &tempfile::NamedTempFile) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.as_file().set_permissions(std::fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn readable_by_all(_file: &tempfile::NamedTempFile) -> std::io::Result<()> {
    Ok(())
}

/// Reads a file that the user named.
#[expect(clippy::disallowed_methods, reason = "a file that the user named on the command line")]
pub(crate) fn read(path: &Path) -> Result<Vec<u8>, Problem> {
    std::fs::read(path).map_err(|why| Problem::Unreadable { path: path.to_path_buf(), why })
}

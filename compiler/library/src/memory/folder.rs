//! Where what was found out before lies: one file a library, in a cache folder of the user's.

use sha2::{Digest, Sha256};
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

/// Larger files are neither read nor written.
const LARGEST: u64 = 1024 * 1024 * 1024;

/// Of so many libraries something is remembered; what was written longest ago goes first.
const MOST_LIBRARIES: usize = 64;

/// How the files are called that are ours in the folder: whole, and being written.
const OURS: [&str; 2] = ["memory", "part"];

/// Where the findings and proofs of a library are kept between runs.
///
/// Nothing here ever fails a check: a folder that cannot be read or written remembers nothing.
#[derive(Clone, Debug)]
pub struct Memory {
    file: Option<PathBuf>,
}

impl Memory {
    /// Remembers nothing.
    pub fn none() -> Self {
        Self { file: None }
    }

    /// The memory of the library at `root`, in a folder for all libraries.
    pub fn of(root: &Path, folder: &Path) -> Self {
        let sum = Sha256::digest(root.as_os_str().as_encoded_bytes());
        let mut name =
            sum.iter().take(16).fold(String::new(), |all, byte| all + &format!("{byte:02x}"));
        name.extend([".", OURS[0]]);
        Self { file: Some(folder.join(name)) }
    }

    /// Whether anything is remembered at all.
    pub(crate) fn is_none(&self) -> bool {
        self.file.is_none()
    }

    /// What an earlier check left; nothing where that cannot be read.
    #[expect(clippy::disallowed_methods, reason = "the one place where the memory is read")]
    pub(crate) fn recall(&self) -> Vec<u8> {
        let Some(file) = &self.file else { return Vec::new() };
        let fits = fs::metadata(file).is_ok_and(|data| data.is_file() && data.len() <= LARGEST);
        if fits { fs::read(file).unwrap_or_default() } else { Vec::new() }
    }

    /// Keeps this in its stead. Written beside and moved there, so that two checks at once leave one of both.
    pub(crate) fn keep(&self, bytes: &[u8]) {
        let Some(file) = &self.file else { return };
        let Some(folder) = file.parent() else { return };
        let small = u64::try_from(bytes.len()).is_ok_and(|size| size <= LARGEST);
        if small && written(folder, file, bytes).is_ok() {
            tidy(folder);
        }
    }

    /// Forgets the library.
    pub fn forget(&self) {
        let gone = self.file.as_ref().map(fs::remove_file);
        // What is not there, or cannot be taken away, is overwritten by the next check or is passed over.
        drop(gone);
    }
}

fn written(folder: &Path, file: &Path, bytes: &[u8]) -> std::io::Result<()> {
    fs::create_dir_all(folder)?;
    let suffix = format!(".{}", OURS[1]);
    let mut beside = tempfile::Builder::new().suffix(&suffix).tempfile_in(folder)?;
    beside.write_all(bytes)?;
    beside.persist(file)?;
    Ok(())
}

/// Takes away what was written longest ago of too many libraries; files that are not ours stay.
fn tidy(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    let ours = entries.flatten().map(|entry| entry.path()).filter(|path| {
        path.extension().is_some_and(|ending| OURS.iter().any(|own| ending == *own))
    });
    let mut dated: Vec<_> = ours
        .filter_map(|path| Some((path.symlink_metadata().ok()?.modified().ok()?, path)))
        .collect();
    dated.sort();
    let too_many = dated.len().saturating_sub(MOST_LIBRARIES);
    for (_, path) in dated.into_iter().take(too_many) {
        // Another check may have taken it away already.
        drop(fs::remove_file(path));
    }
}

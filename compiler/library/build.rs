//! Lists the standard library's files, so that a new one in `stdlib/` needs no Rust.

#![expect(
    clippy::disallowed_methods,
    reason = "a build script has to read folders and write its result"
)]

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    let home = PathBuf::from(env::var("CARGO_MANIFEST_DIR").map_err(io::Error::other)?);
    let root = home.join("../../stdlib").canonicalize()?;
    let mut files = Vec::new();
    gather(&root, &mut files)?;
    files.sort();
    let mut list = String::from("&[\n");
    for file in &files {
        let name = file.strip_prefix(&root).map_err(io::Error::other)?;
        let name = name.to_string_lossy().replace('\\', "/");
        writeln!(list, "    ({name:?}, include_str!({:?})),", file.display().to_string())
            .map_err(io::Error::other)?;
    }
    list.push_str("]\n");
    let out = PathBuf::from(env::var("OUT_DIR").map_err(io::Error::other)?);
    fs::write(out.join("standard.rs"), list)
}

fn gather(folder: &Path, files: &mut Vec<PathBuf>) -> io::Result<()> {
    println!("cargo:rerun-if-changed={}", folder.display());
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            gather(&path, files)?;
        } else if path.extension().is_some_and(|ending| ending == "lkn" || ending == "ftl") {
            println!("cargo:rerun-if-changed={}", path.display());
            files.push(path);
        }
    }
    Ok(())
}

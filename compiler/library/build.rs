//! Lists the standard library's files, so that a new one in `stdlib/` needs no Rust; and makes one hash over all that
//! a verdict comes from beside an author's files, so that nothing is remembered from another compiler.

#![expect(
    clippy::disallowed_methods,
    reason = "a build script has to read folders and write its result"
)]

use sha2::{Digest, Sha256};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;
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
    println!("cargo:rustc-env=LOCKNUT_BUILD={}", build_hash(&home)?);
    fs::write(out.join("standard.rs"), list)
}

/// Every source of this crate and of those that it rests on, the grammar, the standard library, the versions
/// of borrowed crates, the compiler and how it is asked to compile.
fn build_hash(home: &Path) -> io::Result<String> {
    let mut files = Vec::new();
    let manifest = fs::read_to_string(home.join("Cargo.toml"))?;
    let house = manifest.lines().filter_map(|line| line.strip_prefix("locknut-"));
    let house = house.filter_map(|rest| rest.split(['.', ' ', '=']).next());
    for name in house.chain(["library"]) {
        everything(&home.join("..").join(name).join("src"), &mut files)?;
        files.push(home.join("..").join(name).join("Cargo.toml"));
    }
    for name in ["grammar", "stdlib"] {
        everything(&home.join("../..").join(name), &mut files)?;
    }
    files.extend(["Cargo.lock", "Cargo.toml"].map(|name| home.join("../..").join(name)));
    files.push(home.join("build.rs"));
    files.sort();
    let mut hash = Sha256::new();
    for file in files {
        println!("cargo:rerun-if-changed={}", file.display());
        let bytes = fs::read(&file)?;
        hash.update(format!(
            "{} {}\n",
            file.strip_prefix(home).unwrap_or(&file).display(),
            bytes.len()
        ));
        hash.update(bytes);
    }
    for name in ["TARGET", "PROFILE", "OPT_LEVEL", "DEBUG"] {
        hash.update(format!("{name} {}\n", env::var(name).unwrap_or_default()));
    }
    let rustc = env::var("RUSTC").map_err(io::Error::other)?;
    hash.update(Command::new(rustc).arg("-vV").output()?.stdout);
    Ok(hash.finalize().iter().fold(String::new(), |all, byte| all + &format!("{byte:02x}")))
}

fn everything(folder: &Path, files: &mut Vec<PathBuf>) -> io::Result<()> {
    println!("cargo:rerun-if-changed={}", folder.display());
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            everything(&path, files)?;
        } else {
            files.push(path);
        }
    }
    Ok(())
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

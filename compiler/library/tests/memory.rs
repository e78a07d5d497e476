//! The memory on disk: nothing that lies there, or cannot, changes what is told or fails a check.

#![expect(
    clippy::disallowed_methods,
    clippy::expect_used,
    reason = "a test lays files down and looks at them"
)]

use locknut_library::{Disk, Memory, Wanted, check};
use std::fs;
use std::path::Path;

const MODEL: &str = "model mixer { state supply : live, off }\n";
const PROCEDURE: &str = "procedure look on mixer {\n  title \"Look\"\n  revision A\n  crew fitter\n  \
                         step \"Look.\" { confirm \"It is whole.\" }\n}\n";

fn library(root: &Path) -> Disk {
    for (name, text) in
        [("library.yaml", "publisher: Kestmoor\n"), ("mixer.lkn", MODEL), ("look.lkn", PROCEDURE)]
    {
        fs::write(root.join(name), text).expect("it can be written");
    }
    Disk::open(root).expect("it can be read")
}

fn told(disk: &Disk, memory: &Memory) -> String {
    let checked = check(disk, Wanted::Verdict, memory).expect("it can be checked");
    format!("{:#?}{:#?}", checked.reports, checked.proved)
}

fn kept(folder: &Path) -> Vec<std::path::PathBuf> {
    let mut all: Vec<_> =
        fs::read_dir(folder).expect("it is there").flatten().map(|entry| entry.path()).collect();
    all.sort();
    all
}

#[test]
fn one_file_a_library_is_kept_and_forgotten() {
    let (root, folder) = (tempfile::tempdir().expect("one"), tempfile::tempdir().expect("two"));
    let (disk, memory) = (library(root.path()), Memory::of(root.path(), folder.path()));
    let cold = told(&disk, &Memory::none());
    assert!(cold.contains("look"), "{cold}");
    assert_eq!(told(&disk, &memory), cold);
    let [file] = kept(folder.path()).try_into().expect("one file");
    let first = fs::read(&file).expect("it can be read");
    assert_eq!(told(&disk, &memory), cold);
    assert_eq!(fs::read(&file).expect("it can be read"), first, "nothing changed");
    memory.forget();
    assert!(kept(folder.path()).is_empty());
    assert_eq!(told(&disk, &memory), cold);
}

#[test]
fn what_is_damaged_foreign_or_in_the_way_is_passed_over() {
    let (root, folder) = (tempfile::tempdir().expect("one"), tempfile::tempdir().expect("two"));
    let (disk, memory) = (library(root.path()), Memory::of(root.path(), folder.path()));
    let cold = told(&disk, &memory);
    let [file] = kept(folder.path()).try_into().expect("one file");
    let good = fs::read(&file).expect("it can be read");
    let half = good.get(..good.len() / 2).unwrap_or_default().to_vec();
    // Of another compiler: the sum is right, the name of who wrote it is not.
    let mut foreign = good.clone();
    if let Some(letter) = foreign.get_mut(30) {
        *letter = if *letter == b'0' { b'1' } else { b'0' };
    }
    for bytes in [half, foreign, b"something else".to_vec(), Vec::new()] {
        fs::write(&file, &bytes).expect("it can be written");
        assert_eq!(told(&disk, &memory), cold);
        assert_eq!(fs::read(&file).expect("it can be read"), good, "it is kept anew");
    }
    fs::remove_file(&file).expect("it can be removed");
    fs::create_dir(&file).expect("a folder can lie there");
    assert_eq!(told(&disk, &memory), cold);
    // A file where the folder should be: nothing can be written at all.
    let nowhere = Memory::of(root.path(), &root.path().join("look.lkn"));
    assert_eq!(told(&disk, &nowhere), cold);
}

#[test]
fn an_edit_is_seen() {
    let (root, folder) = (tempfile::tempdir().expect("one"), tempfile::tempdir().expect("two"));
    let (disk, memory) = (library(root.path()), Memory::of(root.path(), folder.path()));
    told(&disk, &memory);
    for (name, text) in [
        ("look.lkn", PROCEDURE.replace("crew fitter", "crew mate")),
        ("mixer.lkn", MODEL.replace("model mixer", "model other")),
        ("library.yaml", "publisher: Nobody\n".to_owned()),
    ] {
        let before = fs::read(root.path().join(name)).expect("it can be read");
        fs::write(root.path().join(name), text).expect("it can be written");
        assert_eq!(told(&disk, &memory), told(&disk, &Memory::none()), "{name}");
        fs::write(root.path().join(name), before).expect("it can be written");
        assert_eq!(told(&disk, &memory), told(&disk, &Memory::none()), "{name}");
    }
}

#[test]
fn two_at_once_and_many_libraries_do_no_harm() {
    let folder = tempfile::tempdir().expect("a folder");
    let strange = folder.path().join("notes.txt");
    fs::write(&strange, "mine").expect("it can be written");
    let root = tempfile::tempdir().expect("a folder");
    let disk = library(root.path());
    let cold = told(&disk, &Memory::none());
    std::thread::scope(|scope| {
        for at in 0..80 {
            let (disk, cold, folder) = (&disk, &cold, folder.path());
            let root = root.path().join((at % 70).to_string());
            scope.spawn(move || assert_eq!(told(disk, &Memory::of(&root, folder)), *cold));
        }
    });
    assert_eq!(told(&disk, &Memory::of(root.path(), folder.path())), cold);
    assert!(kept(folder.path()).len() <= 64 + 1, "it grows without end");
    assert!(strange.exists(), "what is not ours stays");
}

//! Whatever is edited: what is told from memory is what is told without.

#![expect(clippy::indexing_slicing, reason = "every position is drawn below the length")]

use locknut_finding::text::{Style, show};
use locknut_library::{Checked, Wanted, check_again, check_files};
use locknut_tests::files;
use std::collections::BTreeMap;

type Library = BTreeMap<String, String>;

const EDITS: usize = 120;

#[test]
fn told_from_memory_as_without() {
    for (folder, seed) in
        [("procedures", 0x9E37_79B9_7F4A_7C15), ("examples", 0x2545_F491_4F6C_DD1D)]
    {
        let whole = files::library(folder);
        let (mut library, mut random) = (whole.clone(), Random(seed));
        let mut memory = Vec::new();
        let mut found_again = 0;
        for edit in 0..EDITS {
            let what = edited(&mut library, &whole, &mut random);
            let (warm, after) = check_again(bytes(&library), &memory);
            found_again += usize::from(memory.len() > 1000);
            memory = after.unwrap_or(memory);
            let cold = check_files(bytes(&library), Wanted::Verdict);
            assert_eq!(all(&warm), all(&cold), "{folder}, edit {edit}: {what}");
            let (again, after) = check_again(bytes(&library), &memory);
            assert_eq!(all(&again), all(&cold), "{folder}, once more after edit {edit}: {what}");
            assert!(
                after.is_none(),
                "{folder}, edit {edit}: nothing changed, and all is kept anew"
            );
        }
        assert!(found_again > EDITS / 2, "little was remembered");
    }
}

#[test]
fn a_damaged_memory_is_none() {
    let library = files::library("examples");
    let (cold, after) = check_again(bytes(&library), &[]);
    let memory = after.expect("something is kept");
    let mut random = Random(7);
    for _ in 0..60 {
        let mut damaged = memory.clone();
        let at = random.below(damaged.len());
        match random.below(3) {
            0 => damaged.truncate(at),
            1 => damaged[at] ^= 1 << random.below(8),
            _ => damaged.extend_from_slice(b"more"),
        }
        let (warm, _) = check_again(bytes(&library), &damaged);
        assert_eq!(all(&warm), all(&cold));
    }
}

#[test]
fn a_new_procedure_and_a_comment_leave_the_others_remembered() {
    let mut library = files::library("procedures");
    let (_, memory) = check_again(bytes(&library), &[]);
    let memory = memory.expect("something is kept");
    let subtask =
        library.iter().find(|(_, text)| text.contains("\nsubtask ")).expect("there is one");
    let (name, text) = (subtask.0.clone(), subtask.1.clone());
    library.insert(name, text + "// One line more.\n");
    let (warm, after) = check_again(bytes(&library), &memory);
    assert_eq!(all(&warm), all(&check_files(bytes(&library), Wanted::Verdict)));
    assert!(after.is_some_and(|after| after != memory));
}

#[test]
fn a_subtask_that_does_something_else_makes_its_callers_new() {
    let subtask = |name: &str, line: &str| {
        format!(
            "subtask {name} on press {{\n  title \"{name}\"\n  leaves mains is isolated or live\n  step \"S.\" {{ {line} }}\n}}\n"
        )
    };
    let mut library = Library::from([
        ("library.yaml".to_owned(), "publisher: Kestmoor\n".to_owned()),
        (
            "press.lkn".to_owned(),
            "model press {\n  title \"Press\"\n  state mains : live, isolated\n  part guard\n  \
             never guard is removed unless mains is isolated because \"the ram comes down\"\n}\n"
                .to_owned(),
        ),
        ("outer.lkn".to_owned(), subtask("outer", "do inner")),
        ("inner.lkn".to_owned(), subtask("inner", "set mains to isolated")),
        (
            "wipe.lkn".to_owned(),
            "procedure wipe on press {\n  title \"Wipe\"\n  do outer\n  step \"Wipe.\" {\n    remove guard\n    fit guard\n  }\n  step \"On.\" { set mains to live }\n}\n"
                .to_owned(),
        ),
    ]);
    let (sound, memory) = check_again(bytes(&library), &[]);
    assert!(!sound.has_errors(), "{}", all(&sound));
    let memory = memory.expect("something is kept");
    library.insert("inner.lkn".to_owned(), subtask("inner", "set mains to live"));
    let (warm, _) = check_again(bytes(&library), &memory);
    let codes: Vec<&str> = warm.reports.iter().map(|report| report.code).collect();
    assert!(codes.contains(&"LN502"), "{codes:?}");
    assert_eq!(all(&warm), all(&check_files(bytes(&library), Wanted::Verdict)));
}

/// All that is told, in every byte.
fn all(checked: &Checked) -> String {
    let style = Style { color: false, width: 100 };
    let reports = checked.reports.iter();
    let told: String = reports.map(|report| show(report, &checked.sources, style)).collect();
    format!("{told}\n{:#?}\n{:#?}", checked.reports, checked.proved)
}

fn bytes(library: &Library) -> Vec<(String, Vec<u8>)> {
    library.iter().map(|(name, text)| (name.clone(), text.clone().into_bytes())).collect()
}

/// One edit, as people make them; most are mended again before long, so that much stays right.
fn edited(library: &mut Library, whole: &Library, random: &mut Random) -> String {
    let names: Vec<String> = library.keys().cloned().collect();
    let name = names[random.below(names.len())].clone();
    let text = library[&name].clone();
    let mut lines: Vec<&str> = text.lines().collect();
    if lines.is_empty() {
        lines.push("");
    }
    let at = random.below(lines.len());
    match random.below(12) {
        0 => {
            lines.remove(at);
            library.insert(name.clone(), lines.join("\n"));
            format!("line {at} of {name} is gone")
        }
        1 => {
            let other = random.below(lines.len());
            lines.swap(at, other);
            library.insert(name.clone(), lines.join("\n"));
            format!("lines {at} and {other} of {name} change places")
        }
        2 => {
            let of = library[&names[random.below(names.len())]].clone();
            let words: Vec<&str> = of.split_whitespace().collect();
            let own: Vec<&str> = lines[at].split_whitespace().collect();
            if let (false, false) = (words.is_empty(), own.is_empty()) {
                let (old, new) = (own[random.below(own.len())], words[random.below(words.len())]);
                let line = lines[at].replacen(old, new, 1);
                lines[at] = &line;
                library.insert(name.clone(), lines.join("\n"));
                return format!("{new} stands for {old} in line {at} of {name}");
            }
            "nothing".to_owned()
        }
        3 if names.len() > 4 => {
            library.remove(&name);
            format!("{name} is gone")
        }
        4 => {
            library.insert(format!("a-{name}"), text.clone());
            format!("{name} is there twice")
        }
        5 if names.len() > 4 => {
            library.remove(&name);
            library.insert(format!("z-{name}"), text.clone());
            format!("{name} has another name")
        }
        6 => {
            library.insert(name.clone(), text.clone() + "\n// A remark.\n");
            format!("a remark in {name}")
        }
        7 => {
            library.insert(name.clone(), format!("// A remark.\n{text}"));
            format!("a remark ahead of {name}")
        }
        _ => {
            library.retain(|name, _| whole.contains_key(name));
            for (name, text) in whole {
                if random.below(3) > 0 {
                    library.insert(name.clone(), text.clone());
                }
            }
            "most is mended".to_owned()
        }
    }
}

/// A xorshift: the same numbers every time.
struct Random(u64);

impl Random {
    fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % u64::try_from(end).unwrap_or(1).max(1)).unwrap_or(0)
    }
}

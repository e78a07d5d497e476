//! The two readings of a file are one: whatever the quick one reads, the grammar reads to the same tree.

#![expect(clippy::disallowed_methods, reason = "a test may be told how long to go on")]

use crate::{comments, parse, parse_by_grammar};
use locknut_finding::FileId;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// Every source of the repository: files of the language, and what stands in fences of pages and cases.
fn sources() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let mut sources = Vec::new();
    for folder in ["stdlib", "procedures", "examples", "tests/cases", "grammar", "compiler"] {
        gather(&root.join(folder), &mut sources);
    }
    sources
}

fn gather(folder: &Path, sources: &mut Vec<(String, String)>) {
    let mut inside: Vec<PathBuf> = std::fs::read_dir(folder)
        .unwrap_or_else(|error| panic!("{}: {error}", folder.display()))
        .map(|entry| entry.unwrap_or_else(|error| panic!("{error}")).path())
        .collect();
    inside.sort();
    for path in inside {
        let ending = path.extension().and_then(|ending| ending.to_str()).unwrap_or("");
        if path.is_dir() {
            gather(&path, sources);
        } else if matches!(ending, "lkn" | "md") {
            let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{error}"));
            let name = path.display().to_string();
            if ending == "lkn" {
                sources.push((name, text));
            } else {
                let fences = text.split("```").skip(1).step_by(2);
                let code = fences.filter_map(|fence| fence.strip_prefix("lkn"));
                sources.extend(code.filter_map(|code| {
                    let (_, code) = code.split_once('\n')?;
                    Some((name.clone(), code.to_owned()))
                }));
            }
        }
    }
}

/// Reads both ways; whether the text is read without a finding, and then by the quick reading.
fn same(name: &str, text: &str) -> bool {
    let (tree, found) = parse(FileId(0), text);
    let (by_grammar, found_by_grammar) = parse_by_grammar(FileId(0), text);
    assert_eq!(format!("{tree:#?}"), format!("{by_grammar:#?}"), "{name}:\n{text}");
    assert_eq!(format!("{found:?}"), format!("{found_by_grammar:?}"), "{name}:\n{text}");
    let sound = found.reports().is_empty();
    let docs = comments::docs(text, &tree.comments);
    let quick = super::read(FileId(0), text, &docs).is_some();
    assert!(quick || !sound, "{name}: declined by the quick reading:\n{text}");
    sound
}

#[test]
fn every_source_is_read_alike_both_ways() {
    let sources = sources();
    let sound = sources.iter().filter(|(name, text)| same(name, text)).count();
    println!("{sound} of {} sources hold no fault of writing", sources.len());
    assert!(sound > 300, "{sound}");
}

#[test]
fn mutated_sources_are_read_alike_both_ways() {
    let seconds = std::env::var("LOCKNUT_HOSTILE_SECONDS").ok().and_then(|text| text.parse().ok());
    let end = Instant::now() + Duration::from_secs(seconds.unwrap_or(3));
    let sources = sources();
    let (mut random, mut tried, mut sound) = (Random(0x9E37_79B9_7F4A_7C15), 0_u32, 0_u32);
    while Instant::now() < end {
        let (name, text) = random.of(&sources);
        let other = &random.of(&sources).1;
        let mutated = random.mutated(text, other);
        tried += 1;
        sound += u32::from(same(name, &mutated));
    }
    println!("{sound} of {tried} mutated sources hold no fault of writing");
    assert!(sound > 10, "{sound} of {tried}");
}

/// A generator of the xorshift sort (Marsaglia 2003): the same numbers every time.
struct Random(u64);

impl Random {
    fn below(&mut self, bound: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        let bound = u64::try_from(bound.max(1)).unwrap_or(1);
        usize::try_from(self.0 % bound).unwrap_or(0)
    }

    fn of<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        let at = self.below(list.len());
        list.get(at).unwrap_or_else(|| panic!("the list is empty"))
    }

    /// The text with a word left out, doubled, exchanged or brought in from another, or a sign or line end moved.
    fn mutated(&mut self, text: &str, other: &str) -> String {
        let mut words: Vec<&str> = split(text);
        let others: Vec<&str> = split(other);
        if words.is_empty() || others.is_empty() {
            return text.to_owned();
        }
        for _ in 0..=self.below(2) {
            let (at, with) = (self.below(words.len()), self.below(words.len()));
            match self.below(6) {
                0 => drop(words.remove(at)),
                1 => words.insert(at, words.get(with).copied().unwrap_or(" ")),
                2 => words.swap(at, with),
                3 => words.insert(at, *self.of(&others)),
                4 => words.insert(at, *self.of(SIGNS)),
                _ => {
                    if let Some(word) = words.get_mut(at) {
                        *word = *self.of(&others);
                    }
                }
            }
            if words.is_empty() {
                break;
            }
        }
        words.concat()
    }
}

/// What the grammar treats apart.
const SIGNS: &[&str] = &[
    " ",
    "\n",
    "\r\n",
    "\t",
    ",",
    ", ",
    " or ",
    " and ",
    " not ",
    " at ",
    " by ",
    " of ",
    " is ",
    "(",
    ")",
    "{",
    "}",
    "\"",
    "\"x\"",
    "//",
    "// x\n",
    "..",
    " .. ",
    "±",
    " +0.2/+0.1 ",
    " -0.1/-0.2 ",
    " 0/-0.1 ",
    " 0.05/0.0 ",
    "/",
    " ± 1",
    "+",
    " + ",
    "-",
    " - ",
    "−",
    "−1",
    "1 000",
    "1/2",
    "^2",
    "%",
    "°",
    "µ",
    " µm",
    "Ω",
    "″",
    "ä",
    "\u{301}",
    "٣",
    "{the x}",
    "{an x}",
    "{{",
    "}}",
    "\\\"",
    "\\\\",
    " guarded",
    " as read",
    ", undecided counts as outside",
    " gauge",
    " difference",
    " -> ",
    "->",
    "=",
    " = ",
    ":",
    " : ",
    "then ",
    "otherwise ",
    " up to 2 times",
    ", failing that stop \"x\"",
    " for under 2 min",
    " turned 45°",
    " seen from \"x\"",
    "not \"x\"",
    " each once",
    " from 1 .. 2 mm in steps of 1 mm",
    "any order {",
    "together {",
    "choose up to 2 of x",
    " 5 % of 2 mm",
];

/// Words, blanks and signs, each apart.
fn split(text: &str) -> Vec<&str> {
    let mut pieces = Vec::new();
    let (mut from, mut sort) = (0, None);
    for (at, sign) in text.char_indices() {
        let own = (sign.is_alphanumeric() || sign == '-').then_some('a').or(Some(sign));
        if sort != own && at > from {
            pieces.extend(text.get(from..at));
            from = at;
        }
        sort = own;
    }
    pieces.extend(text.get(from..));
    pieces
}

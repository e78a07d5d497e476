//! Mutated sources through everything: a result or a finding, never a panic, never a hang.
//!
//! Runs for `LOCKNUT_HOSTILE_SECONDS` (3 unless told). The seed is fixed, so a failure comes again.

#![expect(clippy::indexing_slicing, reason = "every position is drawn below the length")]
#![expect(clippy::disallowed_methods, reason = "a test may be told how long to go on")]
#![expect(clippy::print_stderr, reason = "a test for the terminal")]

use locknut_library::check_in_memory;
use locknut_tests::files;
use locknut_tests::random::Random;
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// A source that takes longer than this hangs, as far as an author can tell.
const LONGEST: Duration = Duration::from_secs(20);

#[test]
fn no_source_brings_it_down() {
    let seconds = std::env::var("LOCKNUT_HOSTILE_SECONDS")
        .ok()
        .and_then(|text| text.parse().ok())
        .unwrap_or(3);
    let libraries: Vec<BTreeMap<String, String>> =
        ["procedures", "examples"].iter().map(|folder| files::library(folder)).collect();
    let current: Arc<Mutex<String>> = Arc::default();
    let began: Arc<AtomicU64> = Arc::default();
    let start = Instant::now();
    watch(start, Arc::clone(&current), Arc::clone(&began));
    let mut random = Random(0x2545_F491_4F6C_DD1D);
    let mut tried = 0_u32;
    while start.elapsed() < Duration::from_secs(seconds) {
        let mut library = libraries[random.below(libraries.len())].clone();
        let names: Vec<String> = library.keys().cloned().collect();
        let name = names[random.below(names.len())].clone();
        let text = library.get_mut(&name).expect("the file is there");
        for _ in 0..=random.below(3) {
            mutate(text, &mut random);
        }
        let told = format!("{name}:\n{text}");
        current.lock().expect("no one panics here").clone_from(&told);
        began.store(
            u64::try_from(start.elapsed().as_millis()).expect("it is short"),
            Ordering::SeqCst,
        );
        let outcome = std::panic::catch_unwind(|| {
            let checked = check_in_memory(&library);
            for report in &checked.reports {
                let style = locknut_finding::text::Style { color: true, width: 80 };
                let _shown = locknut_finding::text::show(report, &checked.sources, style);
            }
            if !checked.has_errors() {
                for procedure in &checked.procedures {
                    let _said = locknut_library::compose(&checked, procedure, "en", None);
                }
            }
            for name in library.keys().filter(|name| {
                std::path::Path::new(name).extension().is_some_and(|ending| ending == "lkn")
            }) {
                let _laid_out = locknut_syntax::format(&library[name]);
            }
        });
        assert!(outcome.is_ok(), "this source panics: {told}");
        tried += 1;
    }
    began.store(u64::MAX, Ordering::SeqCst);
    println!("{tried} mutated libraries in {seconds} s");
    assert!(tried > 5, "only {tried} were tried");
}

/// Ends the test with the source in hand where one hangs.
#[expect(clippy::exit, reason = "a hang can be ended in no other way")]
fn watch(start: Instant, current: Arc<Mutex<String>>, began: Arc<AtomicU64>) {
    std::thread::spawn(move || {
        loop {
            std::thread::sleep(Duration::from_millis(500));
            let since = began.load(Ordering::SeqCst);
            if since == u64::MAX {
                return;
            }
            if start.elapsed().saturating_sub(Duration::from_millis(since)) > LONGEST {
                let source = current.lock().map(|text| text.clone()).unwrap_or_default();
                eprintln!("this source hangs: {source}");
                std::process::exit(101);
            }
        }
    });
}

fn mutate(text: &mut String, random: &mut Random) {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    if lines.is_empty() {
        lines.push(String::new());
    }
    let at = random.below(lines.len());
    match random.below(10) {
        0 => {
            lines.remove(at);
        }
        1 => lines.insert(at, lines[at].clone()),
        2 => {
            let other = random.below(lines.len());
            lines.swap(at, other);
        }
        3 => lines[at] = lines[at].replacen(['{', '}'], "", 1),
        4 => lines[at] = lines[at].replacen('"', "", 1),
        5 => lines[at].push_str(
            [
                " {",
                " }",
                " \"",
                " 1e9 mm",
                " 0,5 mm",
                " or",
                " ..",
                "\u{0}",
                " µΩ°",
                " 99999999999999999999 h",
            ][random.below(10)],
        ),
        6 => {
            let words: Vec<&str> = lines[at].split(' ').collect();
            let word = words[random.below(words.len())].to_owned();
            let other = random.below(lines.len());
            lines[other].push(' ');
            lines[other].push_str(&word);
        }
        7 => {
            let letters: Vec<char> = lines[at].chars().collect();
            let place = random.below(letters.len() + 1);
            let sign = ['-', '.', '{', '%', '7', 'x', ' ', '(', ':', ','][random.below(10)];
            lines[at] = letters[..place].iter().chain([&sign]).chain(&letters[place..]).collect();
        }
        8 => {
            let words: Vec<String> = lines[at].split(' ').map(str::to_owned).collect();
            let from = random.below(words.len());
            lines[at] = words
                .iter()
                .enumerate()
                .filter(|(place, _)| *place != from)
                .map(|(_, word)| word.as_str())
                .collect::<Vec<_>>()
                .join(" ");
        }
        _ => {
            let end = (at + 1 + random.below(8)).min(lines.len());
            let block: Vec<String> = lines[at..end].to_vec();
            let to = random.below(lines.len() + 1);
            lines.splice(to..to, block);
        }
    }
    *text = lines.join("\n");
    text.push('\n');
}

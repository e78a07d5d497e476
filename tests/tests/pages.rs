//! Every page, case and chapter of the reference runs.

use locknut_tests::{check, files, run};

#[test]
fn every_text_says_what_is_so() {
    let mut wrong = Vec::new();
    let texts = files::running_texts();
    assert!(texts.len() > 60, "only {} texts were found", texts.len());
    for path in texts {
        let name = path.strip_prefix(files::root()).unwrap_or(&path).display().to_string();
        for failure in run(&files::text(&path), &check) {
            wrong.push(format!("{name} [{}]: {}", failure.case, failure.what));
        }
    }
    assert!(wrong.is_empty(), "{} failures\n\n{}", wrong.len(), wrong.join("\n----\n"));
}

/// Each code has a page of its own, with what goes wrong, and its mend.
#[test]
fn every_code_has_a_whole_page() {
    let pages = locknut_library::pages();
    let mut seen = std::collections::BTreeSet::new();
    for page in &pages {
        assert!(seen.insert(page.code()), "{} has two pages", page.code());
        assert!(page.title().starts_with(&format!("{}: ", page.code())), "{}", page.file());
        assert!(page.title().len() > 15, "{} has no title", page.file());
        for part in ["## In the workshop", "## How to mend it"] {
            assert!(page.text().contains(part), "{} lacks “{part}”", page.file());
        }
        // What cannot stand in a page is tried elsewhere, and the page says so.
        let runs = page.text().contains(" wrong\n");
        let words = page.text().split_whitespace().collect::<Vec<_>>().join(" ");
        let excused = words.contains("no faulty source to show");
        assert!(runs || excused, "{} does not run", page.file());
    }
    assert!(pages.len() >= 60, "{} codes", pages.len());
}

/// The index of codes in `grammar/codes.md` is generated; `cargo house codes` writes it.
#[test]
fn the_index_of_codes_is_fresh() {
    let written = files::text(&files::root().join("grammar/codes.md"));
    assert_eq!(written, locknut_tests::index::codes(), "run `cargo house codes`");
}

/// Whoever declares an instrument or a table looks its kind up there.
#[test]
fn the_reference_names_every_kind() {
    let reference = files::text(&files::root().join("grammar/reference.md"));
    let kinds = files::text(&files::root().join("stdlib/kinds.lkn"));
    let list = reference
        .lines()
        .skip_while(|line| !line.starts_with("The kinds of the standard library: "));
    let list: String = list.take_while(|line| !line.is_empty()).collect();
    let names = kinds.lines().filter_map(|line| line.strip_prefix("kind ")?.split(' ').next());
    let lacking: Vec<&str> =
        names.clone().filter(|name| !list.contains(&format!("`{name}`"))).collect();
    assert!(names.count() > 20 && lacking.is_empty(), "the reference lacks {lacking:?}");
    let named = list.split('`').skip(1).step_by(2);
    let declared =
        |name: &str| kinds.lines().any(|line| line.split(' ').take(2).eq(["kind", name]));
    assert!(named.clone().all(declared), "the reference names a kind that is none");
}

//! What a contributor repeats: `cargo house bless`, `cargo house codes`, `cargo house map`,
//! `cargo house new-finding LN514 unsafe-stop`.

#![expect(clippy::print_stdout, clippy::print_stderr, reason = "a tool for the terminal")]

use locknut_tests::{bless, files, house, index};
use std::path::Path;
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let done = match words.as_slice() {
        ["bless"] => bless_all(),
        ["codes"] => files::write(&files::root().join("grammar/codes.md"), &index::codes())
            .map_err(|e| e.to_string()),
        ["map"] => map(),
        ["new-finding", code, name] => new_finding(code, name, None),
        ["new-finding", code, name, folder] => new_finding(code, name, Some(folder)),
        _ => Err("say one of: bless · codes · map · new-finding LN514 unsafe-stop".to_owned()),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("house: {why}");
            ExitCode::FAILURE
        }
    }
}

fn bless_all() -> Result<(), String> {
    for path in files::running_texts() {
        let text = files::text(&path);
        let blessed = bless::bless(&text);
        if blessed != text && !text.is_empty() {
            files::write(&path, &blessed).map_err(|why| why.to_string())?;
            println!("{}", path.display());
        }
    }
    Ok(())
}

fn map() -> Result<(), String> {
    let broken = house::broken_promises()?;
    for promise in &broken {
        println!("{promise}");
    }
    if broken.is_empty() { Ok(()) } else { Err(format!("{} promises are broken", broken.len())) }
}

/// The skeleton of a finding: its facts, its words, its page, and its lines in the family's `mod.rs`.
fn new_finding(code: &str, name: &str, folder: Option<&str>) -> Result<(), String> {
    let folder = files::root().join(house::home_of(code, folder)?);
    let number = code.trim_start_matches("LN");
    let snake = format!("ln{number}_{}", name.replace('-', "_"));
    let strukt: String = name
        .split('-')
        .map(|word| {
            word.chars()
                .next()
                .map(|first| first.to_uppercase().chain(word.chars().skip(1)).collect::<String>())
                .unwrap_or_default()
        })
        .collect();
    let source = format!(
        "//! {code}: …\n\nuse locknut_finding::{{Finding, Page, Report, Span, page}};\n\n/// …\npub(crate) struct {strukt} {{\n    pub(crate) place: Span,\n}}\n\nimpl Finding for {strukt} {{\n    const PAGE: Page = page!(\"{code}\", \"{snake}.md\");\n\n    fn show(&self, say: &mut Report) {{\n        say.title(\"…\");\n        say.label(self.place, \"here\");\n        say.consequence(\"…\");\n        say.mend(\"…\");\n    }}\n}}\n"
    );
    let page = format!(
        "# {code}: …\n\n…\n\n```lkn wrong\n…\n```\n\n```message\n```\n\n## In the workshop\n\n…\n\n## How to mend it\n\n```lkn right\n…\n```\n"
    );
    put_new(&folder.join(format!("{snake}.rs")), &source)?;
    put_new(&folder.join(format!("{snake}.md")), &page)?;
    let home = folder.join("mod.rs");
    let text = files::text(&home);
    let text = text.replacen("\nmod ", &format!("\nmod {snake};\nmod "), 1);
    let text = text.replacen(
        "\npub(crate) use ",
        &format!("\npub(crate) use {snake}::{strukt};\npub(crate) use "),
        1,
    );
    let text = match text.rsplit_once("::PAGE,\n") {
        Some((before, after)) => format!("{before}::PAGE,\n    {strukt}::PAGE,\n{after}"),
        None => text,
    };
    files::write(&home, &text).map_err(|why| why.to_string())?;
    println!(
        "{}/{snake}.rs and .md; now call it, fill in the page, then `cargo house bless` and `cargo house codes`",
        folder.display()
    );
    Ok(())
}

fn put_new(path: &Path, text: &str) -> Result<(), String> {
    if path.exists() {
        return Err(format!("{} is there already", path.display()));
    }
    files::write(path, text).map_err(|why| why.to_string())
}

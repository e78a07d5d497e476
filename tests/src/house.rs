//! Promises about what each crate does not know, read off `cargo metadata`.

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

/// What each crate may use of the house; whoever is not named may use nothing of it.
const MAY_USE: &[(&str, &[&str])] = &[
    ("finding", &[]),
    ("quantity", &[]),
    ("syntax", &["finding"]),
    ("graph", &["finding", "quantity"]),
    ("meaning", &["finding", "quantity", "syntax", "graph"]),
    ("proof", &["finding", "quantity", "graph"]),
    ("job", &["quantity", "graph"]),
    ("sheet", &["finding", "quantity", "graph", "proof"]),
    ("print", &["graph", "sheet", "picture"]),
    ("page", &["quantity", "graph", "proof", "sheet", "data", "picture"]),
    ("picture", &["quantity", "graph"]),
    ("data", &["quantity", "graph", "proof"]),
    ("library", &["finding", "quantity", "syntax", "graph", "meaning", "proof", "sheet"]),
];

/// Borrowed libraries that have one door.
const DOORS: &[(&str, &str)] = &[
    ("pest", "syntax"),
    ("pest_derive", "syntax"),
    ("miette", "finding"),
    ("petgraph", "graph"),
    ("biodivine-lib-bdd", "proof"),
    ("typst", "print"),
    ("typst-pdf", "print"),
    ("typst-layout", "print"),
    ("fluent-bundle", "sheet"),
    ("fluent-syntax", "sheet"),
    ("clap", "cli"),
    ("clap_complete", "cli"),
    ("indicatif", "cli"),
    ("rayon", "library"),
];

/// Crates that may use a borrowed library besides its door, and why: `build` works in parallel, too.
const ALSO: &[(&str, &str)] = &[("rayon", "cli")];

/// Every promise that is broken, in words.
///
/// # Errors
/// Where cargo cannot be asked.
pub fn broken_promises() -> Result<Vec<String>, String> {
    let uses = uses()?;
    let may: BTreeMap<&str, BTreeSet<&str>> =
        MAY_USE.iter().map(|(name, used)| (*name, used.iter().copied().collect())).collect();
    let mut broken = Vec::new();
    for (name, used) in &uses {
        for other in used {
            if let Some(house) = other.strip_prefix("locknut-") {
                let free = name == "cli" || name == "tests";
                if !free && !may.get(name.as_str()).is_some_and(|may| may.contains(house)) {
                    broken.push(format!("{name} knows {house}, and has promised not to"));
                }
            }
            for (library, door) in DOORS {
                let also = ALSO.contains(&(library, name.as_str()));
                if other == library && name != door && !also {
                    broken.push(format!("{name} uses {library}, whose one door is {door}"));
                }
            }
        }
    }
    if uses
        .get("tests")
        .is_some_and(|used| used.contains("locknut-print") || used.contains("locknut-cli"))
    {
        broken.push("tests would build the typesetting crates".into());
    }
    Ok(broken)
}

/// What each crate of the house uses, development aside.
fn uses() -> Result<BTreeMap<String, BTreeSet<String>>, String> {
    let output = Command::new("cargo")
        .args(["metadata", "--format-version", "1", "--no-deps", "--offline"])
        .current_dir(crate::files::root())
        .output()
        .map_err(|why| format!("cargo cannot be run: {why}"))?;
    let data: Value = serde_json::from_slice(&output.stdout).map_err(|why| why.to_string())?;
    let mut uses = BTreeMap::new();
    for package in data.get("packages").and_then(Value::as_array).into_iter().flatten() {
        let name = package
            .get("name")
            .and_then(Value::as_str)
            .unwrap_or_default()
            .trim_start_matches("locknut-")
            .to_owned();
        let used: BTreeSet<String> = package
            .get("dependencies")
            .and_then(Value::as_array)
            .into_iter()
            .flatten()
            .filter(|used| used.get("kind").is_some_and(Value::is_null))
            .filter_map(|used| used.get("name").and_then(Value::as_str).map(str::to_owned))
            .collect();
        uses.insert(name, used);
    }
    if uses.len() < 10 {
        return Err(format!("only {} crates were found", uses.len()));
    }
    Ok(uses)
}

/// The folder in which a code's files stand.
///
/// # Errors
/// Where no family has the code.
pub fn home_of(code: &str) -> Result<&'static str, String> {
    if code.starts_with("LN35") {
        return Ok("compiler/meaning/src/findings/templates");
    }
    match code.get(..3) {
        Some("LN0") => Ok("compiler/syntax/src/findings"),
        Some("LN1") => Ok("compiler/meaning/src/findings/names"),
        Some("LN2") => Ok("compiler/meaning/src/findings/quantities"),
        Some("LN3") => Ok("compiler/meaning/src/findings/readings"),
        Some("LN4") => Ok("compiler/proof/src/flow"),
        Some("LN5") => Ok("compiler/proof/src/states"),
        Some("LN6") => Ok("compiler/proof/src/hardware"),
        Some("LN7") => Ok("compiler/proof/src/people"),
        Some("LN9") => Ok("compiler/proof/src/wording"),
        _ => Err(format!("{code} is of no family; codes look like LN514")),
    }
}

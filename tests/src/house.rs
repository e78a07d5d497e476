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

/// The folder in which a new code's files stand: where the codes of its ten stand. Where those of one ten stand in
/// several, or it is the first of its ten, `wanted` says which, by the end of its path.
///
/// # Errors
/// Where the code is taken, its ten stands elsewhere than is wanted, or no folder or more than one has such codes.
pub fn home_of(code: &str, wanted: Option<&str>) -> Result<String, String> {
    let ten = code.get(..4).filter(|_| {
        let digits = code.strip_prefix("LN").unwrap_or_default();
        digits.len() == 3 && digits.chars().all(|digit| digit.is_ascii_digit())
    });
    let ten =
        ten.ok_or_else(|| format!("{code} is no code; codes look like LN514"))?.to_lowercase();
    let hundred = ten.get(..3).unwrap_or_default();
    let own = format!("{}_", code.to_lowercase());
    let mut of_hundred: BTreeSet<String> = BTreeSet::new();
    let mut of_ten: BTreeSet<String> = BTreeSet::new();
    let root = crate::files::root();
    for page in crate::files::below(&root.join("compiler"), "md") {
        let name = page.file_name().map(|name| name.to_string_lossy().into_owned());
        let name = name.filter(|name| name.starts_with(hundred));
        let folder = page.parent().and_then(|folder| folder.strip_prefix(&root).ok());
        let (Some(name), Some(folder)) = (name, folder) else { continue };
        let folder = folder.to_string_lossy().into_owned();
        if name.starts_with(&own) {
            return Err(format!("{code} is taken: {folder}/{name}; take a number that is free"));
        }
        if name.starts_with(&ten) {
            of_ten.insert(folder.clone());
        }
        of_hundred.insert(folder);
    }
    let of = if of_ten.is_empty() { &of_hundred } else { &of_ten };
    let fits = |home: &&String| wanted.is_none_or(|wanted| home.ends_with(wanted));
    let mut homes = of.iter().filter(fits);
    let all = of.iter().map(String::as_str).collect::<Vec<_>>().join(" · ");
    match (homes.next(), homes.next(), wanted) {
        (Some(home), None, _) => Ok(home.clone()),
        (None, ..) if of.is_empty() => Err(format!("no folder has codes like {code}")),
        (None, _, Some(wanted)) => Err(format!(
            "codes like {code} do not stand in {wanted}, they stand in {all}: name that folder, or take a number of its own ten"
        )),
        (Some(_), Some(_), _) | (None, _, None) => {
            Err(format!("say behind the name in which folder it shall stand: {all}"))
        }
    }
}

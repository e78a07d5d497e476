//! The demo library, the examples and a new library come out whole, in every edition.

use locknut_library::{Checked, check_in_memory, compose};
use locknut_quantity::System;
use locknut_tests::files;

fn checked(folder: &str) -> Checked {
    let library = files::library(folder);
    assert!(library.len() >= 3, "{folder} has {} files", library.len());
    check_in_memory(&library)
}

const LIBRARIES: &[&str] = &["procedures", "examples", "compiler/cli/src/commands/new"];

#[test]
fn nothing_is_wrong_with_them() {
    for folder in LIBRARIES {
        let checked = checked(folder);
        let message = locknut_tests::run::message_of(&checked.reports, &checked.sources);
        assert!(checked.reports.is_empty(), "{folder}:\n{message}");
        assert!(!checked.procedures.is_empty(), "{folder} has no procedure");
    }
}

#[test]
fn every_edition_can_be_said_in_full() {
    for folder in LIBRARIES {
        let checked = checked(folder);
        for procedure in &checked.procedures {
            for language in &checked.settings.languages {
                for system in [None, Some(System::Si), Some(System::Us)] {
                    let composed = compose(&checked, procedure, language, system);
                    let said = composed.findings.sorted();
                    let message = locknut_tests::run::message_of(&said, &checked.sources);
                    assert!(said.is_empty(), "{folder} {} {language}:\n{message}", procedure.name);
                }
            }
        }
    }
}

/// What a workshop reads, for reviewers: read a changed snapshot aloud before you accept it.
#[test]
fn sheets_read_as_before() {
    let checked = checked("procedures");
    for procedure in &checked.procedures {
        for (language, system, word) in
            [("en", System::Si, "si"), ("de", System::Si, "si"), ("en", System::Us, "us")]
        {
            let composed = compose(&checked, procedure, language, Some(system));
            let name = format!("{}.{language}.{word}", procedure.name);
            insta::with_settings!({ snapshot_path => "../sheets", prepend_module_to_snapshot => false }, {
                insta::assert_snapshot!(name, locknut_sheet::text(&composed.sheet));
            });
        }
    }
}

#[test]
fn the_step_graph_keeps_its_schema() {
    let schema: serde_json::Value =
        serde_json::from_str(locknut_data::SCHEMA).expect("the schema is JSON");
    let validator = jsonschema::validator_for(&schema).expect("the schema is a schema");
    for folder in LIBRARIES {
        let checked = checked(folder);
        for procedure in &checked.procedures {
            let text =
                locknut_data::graph_json(&procedure.graph, &procedure.facts, &checked.world.units)
                    .expect("JSON");
            let document = serde_json::from_str(&text).expect("JSON");
            let errors: Vec<String> = validator
                .iter_errors(&document)
                .map(|error| format!("{}: {error}", error.instance_path()))
                .collect();
            assert!(errors.is_empty(), "{}: {}", procedure.name, errors.join("\n"));
        }
    }
    // The validator can say no.
    assert!(!validator.is_valid(&serde_json::json!({ "format": "another" })));
}

/// Same input, same bytes, whatever the threads.
#[test]
fn twice_the_same() {
    let (one, other) = (checked("procedures"), checked("procedures"));
    assert_eq!(one.digest, other.digest);
    for (a, b) in one.procedures.iter().zip(&other.procedures) {
        let page = |checked: &Checked, procedure: &locknut_library::Compiled| {
            let sheets: Vec<_> = ["en", "de"]
                .iter()
                .map(|language| compose(checked, procedure, language, Some(System::Si)).sheet)
                .collect();
            locknut_page::page(
                &sheets,
                &procedure.graph,
                &procedure.facts,
                &checked.world.units,
                &checked.digest,
            )
        };
        assert_eq!(page(&one, a), page(&other, b), "{}", a.name);
        assert_eq!(locknut_picture::svg(&a.graph), locknut_picture::svg(&b.graph));
        assert_eq!(locknut_picture::dot(&a.graph), locknut_picture::dot(&b.graph));
    }
}

/// Product: under 300 kB for a hundred steps.
#[test]
fn check_programs_are_small() {
    let checked = checked("procedures");
    for procedure in &checked.procedures {
        let sheets = [compose(&checked, procedure, "en", Some(System::Si)).sheet];
        let page = locknut_page::page(
            &sheets,
            &procedure.graph,
            &procedure.facts,
            &checked.world.units,
            &checked.digest,
        );
        assert!(page.len() < 300_000, "{}: {} bytes", procedure.name, page.len());
        for place in ["{{data}}", "{{script}}", "{{style}}", "{{title}}", "{{policy}}"] {
            assert!(!page.contains(place), "{}: {place} was left", procedure.name);
        }
    }
}

/// A new unit, element or act needs no Rust: a library brings its own hose clamp, with its lines.
#[test]
fn a_library_brings_its_own_element() {
    let files = [
        (
            "clamp.lkn",
            "element hose-clamp {\n  states closed, open\n  act loosen : closed -> open\n  act close : open -> closed takes with\n}\n\
             unit fathom : length = 1.8288 m, per \"two yards\"\n\
             model washer {\n  title \"Washing machine\"\n  hose-clamp drain-clamp\n}\n\
             /// The hose leaks.\nprocedure look-at-hose on washer {\n  title \"Washing machine: look at the hose\"\n  \
             step \"Look at the hose over {0.5 fathom}.\" {\n    loosen drain-clamp\n    close drain-clamp with one-hand\n  }\n}\n",
        ),
        (
            "phrases/en.ftl",
            "hose-clamp-loosen = Let go the { $thing }\nhose-clamp-close = Close the { $thing }\n",
        ),
    ];
    let files = files.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())).collect();
    let checked = check_in_memory(&files);
    let message = locknut_tests::run::message_of(&checked.reports, &checked.sources);
    assert!(checked.reports.is_empty(), "{message}");
    let procedure = checked.procedure("look-at-hose").expect("it was compiled");
    let composed = compose(&checked, procedure, "en", Some(System::Si));
    let text = locknut_sheet::text(&composed.sheet);
    assert!(text.contains("Let go the drain clamp."), "{text}");
    assert!(text.contains("Close the drain clamp"), "{text}");
    assert!(composed.findings.sorted().is_empty());
}

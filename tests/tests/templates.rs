//! Templates of the examples as they are said and drawn; `tests/outside/true_scale.py` and `tests/page` measure them.

use locknut_library::{Paper, check_in_memory, compose, compose_template, off_paper};
use locknut_picture::{TemplateWords, template_sheet};
use locknut_sheet::{TemplateSheet, template_text, text};
use locknut_tests::files;
use std::collections::BTreeMap;

fn drawn(sheet: &TemplateSheet) -> String {
    let [across, down] = &sheet.lines;
    let words = TemplateWords {
        title: &sheet.title,
        lines: [across, down],
        how: &sheet.how,
        labels: &sheet.labels,
    };
    template_sheet(&sheet.template, &words).replace("><", ">\n<")
}

/// What a workshop cuts by: look at a changed drawing before you accept it.
#[test]
fn templates_are_drawn_as_before() {
    let checked = check_in_memory(&files::library("examples"));
    for (name, template) in &checked.world.templates {
        let (sheet, _) = compose_template(&checked, template, "en");
        insta::with_settings!({ snapshot_path => "../sheets", prepend_module_to_snapshot => false }, {
            insta::assert_snapshot!(format!("{name}.en"), format!("{}\n{}", template_text(&sheet), drawn(&sheet)));
        });
    }
}

#[test]
fn a_sheet_carries_what_is_cut_out_for_it() {
    let checked = check_in_memory(&files::library("examples"));
    let one = checked.procedure("look-after-pump").expect("the example is there");
    let composed = compose(&checked, one, "en", None);
    let carried: Vec<&str> =
        composed.sheet.templates.iter().map(|template| template.name.as_str()).collect();
    assert_eq!(carried, ["brush-card", "cover-gasket"]);
    let said = text(&composed.sheet).replace('\u{a0}', " ");
    assert!(said.contains("8 mm wide, 10 mm deep"), "{said}");
    assert!(said.contains("cut from the template “brush card” behind this sheet"), "{said}");
    assert!(said.contains("Cut out the cover gasket"), "{said}");
}

/// The limit is the only place of its figure: a revised limit is a revised card.
#[test]
fn a_revised_limit_changes_the_card() {
    let mut library = files::library("examples");
    let file = library.get_mut("16-cut-it-out.lkn").expect("the example is there");
    assert!(file.contains("at least 8 mm"));
    *file = file.replace("at least 8 mm", "at least 9.5 mm");
    let checked = check_in_memory(&library);
    assert!(!checked.has_errors());
    let template = checked.world.templates.get("brush-card").expect("the template is there");
    let drawn = drawn(&compose_template(&checked, template, "en").0);
    // The middle stays at 20 mm: 20 − 4.75 and 20 + 4.75.
    assert!(drawn.contains("15.250") && drawn.contains("24.750"), "{drawn}");
}

/// A4 holds 285 mm across beside its margins, Letter 267 mm.
#[test]
fn what_fits_is_a_matter_of_the_paper() {
    let text = |width: u32| {
        format!(
            "template card {{ rectangle {width} mm x 20 mm }}\nmodel m {{ title \"M\" }}\nprocedure p on m {{\n title \"P\"\n use template card\n confirm \"It fits.\"\n}}"
        )
    };
    for (width, on_a4, on_letter) in
        [(267, true, true), (268, true, false), (285, true, false), (286, false, false)]
    {
        let settings = "publisher: Kestmoor\nlanguage: en\n";
        for (paper, size, fits) in [("A4", Paper::A4, on_a4), ("Letter", Paper::Letter, on_letter)]
        {
            let library = BTreeMap::from([
                ("library.yaml".to_owned(), format!("{settings}paper: {paper}\n")),
                ("card.lkn".to_owned(), text(width)),
            ]);
            let checked = check_in_memory(&library);
            let codes: Vec<&str> = checked.reports.iter().map(|report| report.code).collect();
            let wanted: &[&str] = if fits { &[] } else { &["LN355"] };
            assert_eq!(codes, wanted, "{width} mm on {paper}");
            let off = off_paper(checked.world.templates.values(), size);
            assert_eq!(off.has_errors(), !fits);
        }
    }
}

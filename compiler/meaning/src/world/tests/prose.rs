//! Text with checked places.

use super::{codes, library, only};

fn hazard(text: &str) -> String {
    format!(
        "model m {{ value gap = 2.5 mm\n limit dead = at most 50 V\n part brake-disc\n warning \"{text}\" }}"
    )
}

#[test]
fn names_and_figures_stand_in_checked_places() {
    let (world, _) = library(&hazard("Hold {the brake-disc} {10 mm} clear of {gap}; {dead}."));
    let text = &world.models["m"].hazards[0].text;
    assert_eq!(text.written(), "Hold the brake disc 10 mm clear of 2.5 mm; at most 50 V.");
    assert_eq!(text.key(), "Hold {1} {2} clear of {3}; {4}.");
    assert_eq!(codes(&hazard("Hold {the brake-disk}.")), ["LN101"]);
    assert_eq!(codes(&hazard("Hold it {10 foo} clear.")), ["LN201"]);
}

#[test]
fn a_raw_number_with_a_unit_is_told_with_its_mend() {
    let cases = [
        ("Hold it 10 mm clear.", "10 mm", "{10 mm}"),
        ("Turn it 45° back.", "45°", "{45°}"),
        ("At 2.5 bar gauge it blows.", "2.5 bar gauge", "{2.5 bar gauge}"),
        ("Leave (3 mm).", "3 mm", "{3 mm}"),
        ("Leave 8 to 12 mm.", "8 to 12 mm", "{8 mm} to {12 mm}"),
        ("Leave 8–12 mm.", "8–12 mm", "{8 mm} to {12 mm}"),
        ("Wait 10min.", "10min", "{10 min}"),
        ("Not over 24 V/DC.", "24 V", "{24 V}"),
        ("Up to 5 %.", "5 %", "{5 %}"),
        ("Under 1/2 inch.", "1/2 inch", "{0.5 inch}"),
        ("Leave 1 3/8 inch.", "1 3/8 inch", "{1.375 inch}"),
        ("Leave ½ inch.", "½ inch", "{0.5 inch}"),
        ("Leave 1½ inch.", "1½ inch", "{1.5 inch}"),
    ];
    for (text, raw, mend) in cases {
        let report = only(&hazard(text));
        assert_eq!(report.code, "LN207", "{text}");
        let edit = report.mends[0].edits.first().expect("a mend that can be applied");
        assert_eq!(edit.text, mend, "{text}");
        let source = hazard(text);
        assert_eq!(source.get(edit.span.range()), Some(raw), "{text}");
    }
}

#[test]
fn numbers_that_are_no_quantities_stand_as_they_are() {
    let fine = [
        "See drawing TS-114 issue 6.",
        "The HC-40 has 3 terminals L1, L2 and L3.",
        "Use M8 bolts of class 8.8 only.",
        "Do steps 4 to 6 again.",
        "Call 112 in 3 cases.",
        "Read 1.",
        "Room 7, second floor.",
        "",
    ];
    for text in fine {
        assert_eq!(codes(&hazard(text)), Vec::<&str>::new(), "{text}");
    }
}

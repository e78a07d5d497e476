//! Elements, kinds, units and figures that a library declares.

use super::{clean, codes, only};
use crate::world::Need;

#[test]
fn an_element_says_its_states_acts_and_needs() {
    let world = clean("");
    let bolts = &world.elements["bolts"];
    assert_eq!(bolts.states, ["tight", "snug", "slack", "out"]);
    let tighten = &bolts.acts["tighten"];
    assert_eq!((tighten.from.as_slice(), tighten.to), ([2, 1].as_slice(), Some(0)));
    assert!(tighten.takes.contains("figure"));
    assert!(bolts.acts["renew"].new && !bolts.acts["fit"].new);
    let marks = bolts.acts["fit"]
        .needs
        .iter()
        .filter(|need| matches!(need, Need::Mark { wanted: false, .. }));
    assert_eq!(marks.count(), 1);
    assert_eq!(bolts.relations["fastens"].inverse.as_deref(), Some("fastened-by"));
    assert_eq!(bolts.relations["fastens"].shares, ["behind"]);
    assert!(bolts.relations["behind"].any_depth);
    let turn = &world.elements["shaft"].acts["turn"];
    assert!(turn.from.is_empty() && turn.to.is_none() && turn.takes.contains("sense"));
    assert_eq!(world.elements["lock"].relations["bars"].bars_while, ["locked"]);
}

#[test]
fn a_vocabulary_is_checked_like_everything_else() {
    let cases = [
        ("element a { states x, y\n act go : x -> z }", "LN109"),
        ("element a { states x, x }", "LN115"),
        ("element a { states x, y\n act go : x -> y\n act go : y -> x }", "LN102"),
        ("element part { states x, y }", "LN102"),
        ("element a { relation on-it : prat }", "LN101"),
        ("element a { relation on-it : part, seen by it thing }", "LN104"),
        ("element a { states x, y\n act go : x -> y needs each fastens is x }", "LN101"),
        (
            "element a { states x, y\n relation on-it : part\n act go : x -> y needs each on-it is x }",
            "LN109",
        ),
        ("element a { states x, y\n act go : x -> y needs shiny }", "LN101"),
        (
            "element a { states x, y\n mark shiny\n mark red\n act go : x -> y needs shiny or red }",
            "LN112",
        ),
        ("element a { states x, y\n act go : x -> y needs supply is live }", "LN112"),
        ("kind warmth : differences warmness", "LN101"),
        ("kind warmth : differences temperature", "LN209"),
        ("kind length", "LN102"),
        ("kind a : diferences length", "LN104"),
        ("unit a : length = 2 mm, speled \"b\"", "LN104"),
        ("unit a : length = 2 mm, counterpart inhc", "LN101"),
        ("thread M99 : diameter 99 foo", "LN201"),
        ("strength 99 : proof", "LN104"),
        ("effort thumb : force 3 .. 8 mm", "LN202"),
    ];
    for (text, code) in cases {
        assert_eq!(codes(text), [code], "{text}");
    }
}

#[test]
fn a_near_miss_offers_the_right_word() {
    let report = only("element a { states shut, open\n act go : shutt -> open }");
    assert_eq!(report.mends[0].edits.first().map(|edit| edit.text.as_str()), Some("shut"));
}

#[test]
fn figures_keep_their_values_words_and_source() {
    let world = clean(
        "thread M99 : diameter 99 mm, pitch 6 mm, per \"a made-up table\"\neffort nudge : force 1 .. 2 N \"a nudge\"",
    );
    let thread = world.figure("thread", "M99").unwrap();
    assert_eq!(thread.values["pitch"].written, "6 mm");
    assert_eq!(thread.source.as_deref(), Some("a made-up table"));
    let effort = world.figure("effort", "nudge").unwrap();
    assert_eq!(effort.words.said, "a nudge");
}

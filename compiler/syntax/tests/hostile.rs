//! Sources that nobody would write: a finding, in no time, and no overflow.

use locknut_finding::FileId;
use locknut_syntax::parse;

fn codes(text: &str) -> Vec<&'static str> {
    let (_, found) = parse(FileId(0), text);
    found.sorted().iter().map(|report| report.code).collect()
}

#[test]
fn deep_and_long() {
    assert_eq!(codes(&"{".repeat(10_000)), ["LN004"]);
    assert_eq!(codes(&"(".repeat(10_000)), ["LN004"]);
    let sum = vec!["1 mm"; 20_000].join(" + ");
    assert_eq!(codes(&format!("value a = {sum}\n")), ["LN004"]);
    let lines = vec!["1 mm"; 20_000].join(" +\n  ");
    assert!(codes(&format!("value a = {lines}\n")).contains(&"LN004"));
    let nots = "not ".repeat(5_000);
    assert_eq!(codes(&format!("model m {{\n  safe to leave when {nots}a is b\n}}\n")), ["LN004"]);
    // Whatever parts the words, and whichever line they stand in.
    for (between, many) in [("\t", 5_000), ("\n", 5_000), (" // and\n// so\n", 5_000)] {
        let nots = format!("not{between}").repeat(many);
        let text = format!("model m {{\n  safe to leave when {nots}a is b\n}}\n");
        assert!(codes(&text).contains(&"LN004"), "{between:?}");
    }
    let lines = vec!["1 mm"; 20_000].join("\n  + ");
    assert!(codes(&format!("value a = {lines}\n")).contains(&"LN004"));
    let shares = "5 % of ".repeat(20_000);
    assert_eq!(codes(&format!("value a = {shares}3 mm\n")), ["LN004"]);
    for between in [" ", "\n  ", "\n // so\n"] {
        let ends = format!("failing that{between}repeat s,{between}").repeat(20_000);
        let text = format!(
            "procedure p on m {{\n  count x {{\n    0 -> repeat s, {ends}failing that stop \"x\"\n  }}\n}}\n"
        );
        assert!(codes(&text).contains(&"LN004"), "{between:?}");
    }
    let _long = codes(&format!("value a = {}\n", "9".repeat(1_000_000)));
    let _names = codes(&"a ".repeat(500_000));
}

#[test]
fn decimal_commas_of_a_range_are_two() {
    let (_, found) = parse(FileId(0), "limit a = 0,2..1,6 mm\n");
    let labels: Vec<_> = found.reports().iter().flat_map(|report| &report.labels).collect();
    let ends: Vec<_> = labels.iter().map(|label| (label.span.start, label.span.end)).collect();
    assert_eq!(ends, [(10, 13), (15, 18)]);
}

#[test]
fn broken_text() {
    assert_eq!(codes("model m {\n  title \"open\n}\n"), ["LN003"]);
    assert_eq!(codes("value a = 1 mm\0\n"), ["LN008"]);
    // A line must not end for its reviewer and go on for the compiler.
    for end in ["\r", "\u{2028}", "\u{2029}"] {
        assert_eq!(codes(&format!("// so{end}value a = 1 mm\n")), ["LN008"]);
    }
    assert!(codes("value a = 1 mm\r\n").is_empty());
    assert!(codes("model m {\n").contains(&"LN002"));
    assert!(codes("}\n").contains(&"LN002"));
    assert!(codes("").is_empty());
    assert!(codes("// only a comment").is_empty());
    assert!(!codes("model").is_empty());
    assert!(!codes("\u{2066}mödel {}").is_empty());
}

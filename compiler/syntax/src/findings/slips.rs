//! What people bring along from other ways of writing, and how it is written here.

/// Words at the beginning of a line.
const WORDS: &[(&str, &str)] = &[
    ("if", "write “when” in the place of “if”, as in: when series B { … }"),
    ("else", "write “otherwise” in the place of “else”"),
    ("parallel", "write: together { FITTER { … } MATE { … } }"),
    (
        "repeat",
        "“repeat” stands where a reading leads, as in: no -> repeat look up to 2 times, failing that stop \"…\"",
    ),
];

/// Signs that stand in no line, and what stands for them.
const SIGNS: &[(&[&str], &str)] = &[
    (
        &["\u{a0}", "\u{202f}", "\u{2007}", "\u{2009}"],
        "there are no-break spaces in this line, as word processors write them: put plain blanks in their place",
    ),
    (&["=>", "\u{2192}"], "an arrow is a hyphen and a greater-than sign: sound -> go on"),
    (
        &[": go on", ": stop", ": done", ": refer to"],
        "an arrow stands ahead of what follows: sound -> go on",
    ),
    (&[">=", "\u{2265}"], "write it in words: at least 8 mm"),
    (&["<=", "\u{2264}"], "write it in words: at most 8 mm"),
    (&["'"], "write texts in straight double quotes: \"…\""),
    (&["(*", "/*"], "a comment begins with //"),
];

/// How a line is written that shows such a habit.
pub(super) fn mend(line: &str) -> Option<&'static str> {
    let plain = without_texts(line);
    let code = plain.trim();
    let first = code.split_whitespace().next()?;
    if let Some((_, mend)) = WORDS.iter().find(|(word, _)| *word == first) {
        return Some(mend);
    }
    let has = |signs: &[&str]| signs.iter().any(|sign| plain.contains(sign));
    if let Some((_, mend)) = SIGNS.iter().find(|(signs, _)| has(signs)) {
        return Some(mend);
    }
    if code.starts_with('#') {
        return Some("a comment begins with //");
    }
    if code.ends_with(';') {
        return Some("take the semicolon out: a line is over where it ends");
    }
    let numbered = first.strip_suffix('.').or_else(|| first.strip_suffix(')'));
    if numbered.is_some_and(|number| number.chars().all(|sign| sign.is_ascii_digit())) {
        return Some("the sheet numbers the steps: write: step \"…\" { … }");
    }
    if first.len() > 1 && first.ends_with(':') {
        return Some("no colon stands behind this word");
    }
    None
}

/// What stands in quotes is the author's own.
fn without_texts(line: &str) -> String {
    let outside = line.split('"').enumerate().filter(|(part, _)| part % 2 == 0);
    outside.map(|(_, text)| text).collect()
}

#[cfg(test)]
mod tests {
    use super::mend;

    #[test]
    fn a_habit_is_known_and_a_text_is_left_alone() {
        assert!(mend("if series B {").is_some_and(|mend| mend.contains("when")));
        assert!(mend("  sound => go on").is_some_and(|mend| mend.contains("->")));
        assert!(mend("accept >= 8 mm").is_some_and(|mend| mend.contains("at least")));
        assert!(mend("3. step \"Look.\"").is_some_and(|mend| mend.contains("numbers")));
        assert!(mend("title: \"Look\"").is_some_and(|mend| mend.contains("colon")));
        assert!(mend("fit\u{a0}guard").is_some_and(|mend| mend.contains("no-break")));
        assert_eq!(mend("step \"It's >= 8; see: go on\" {"), None);
        assert_eq!(mend("fit guard guard"), None);
    }
}

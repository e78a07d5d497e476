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
    (&["\u{2026}", "..."], "a range is written with two points: 0.30 .. 1.60 mm"),
    (&[" max "], "write it in words: at most 8 mm"),
    (&["series =", "series is"], "no sign stands between: when series B { … }"),
    (&[" if not "], "write “unless” in the place of “if not”"),
    (&[", prove "], "write “proves”: measure … using …, proves STATE is VALUE"),
    (&[", answer "], "write “answers”: }, answers low only"),
    (&["is in place"], "a name has no blanks in it: is in-place"),
    (&["'"], "write texts in straight double quotes: \"…\""),
    (&["(*", "/*"], "a comment begins with //"),
];

/// `40 mm +0.2/0.1 mm`, `40 mm +0.2 / -0.1 mm`: a deviation without its sign, or with blanks around the stroke.
fn deviates_unclearly(code: &str) -> bool {
    let digit = |rest: &str| rest.starts_with(|sign: char| sign.is_ascii_digit());
    let signed = |word: &str| word.strip_prefix(['+', '-']).is_some_and(digit);
    let words: Vec<&str> = code.split_whitespace().collect();
    let apart = words.windows(3).any(|three| match three {
        [upper, "/", lower] => signed(upper) && signed(lower),
        _ => false,
    });
    let without_sign = |word: &&str| word.split_once('/').is_some_and(|(_, rest)| digit(rest));
    apart || words.iter().any(|word| signed(word) && without_sign(word))
}

/// `0.9 in`: the word joins the parts of a line, and is no unit.
fn says_in_for_inches(code: &str) -> bool {
    let ends = |rest: &str| {
        let further = rest.trim_start();
        let apart = rest.is_empty() || rest.starts_with([' ', ',', '{', '}', ')']);
        apart && !further.starts_with("steps") && !further.starts_with("proportion")
    };
    code.match_indices(" in").any(|(at, word)| {
        let (before, rest) = (code.get(..at), code.get(at + word.len()..));
        before.is_some_and(|before| before.ends_with(|sign: char| sign.is_ascii_digit()))
            && rest.is_some_and(ends)
    })
}

/// How a line is written that shows such a habit.
pub(super) fn mend(line: &str) -> Option<&'static str> {
    let end = crate::comments::comment_start(line).unwrap_or(line.len());
    let line = line.get(..end).unwrap_or_default().trim_end();
    let plain = without_texts(line);
    let code = plain.trim();
    let first = code.split_whitespace().next()?;
    if quote_inside(line) {
        return Some("a double quote ends a text: inside of one it is written \\\"");
    }
    if let Some((_, mend)) = WORDS.iter().find(|(word, _)| *word == first) {
        return Some(mend);
    }
    let has = |signs: &[&str]| signs.iter().any(|sign| plain.contains(sign));
    if let Some((_, mend)) = SIGNS.iter().find(|(signs, _)| has(signs)) {
        return Some(mend);
    }
    if first == "when" && has(&[" is over ", " is under ", " is at most ", " is at least "]) {
        return Some("a limit stands right behind its reading, without “is”: when gap over 4 mm");
    }
    if deviates_unclearly(code) {
        return Some(
            "each deviation bears its sign, the upper one stands first: 40 mm +0.2/-0.1 mm",
        );
    }
    if says_in_for_inches(code) {
        return Some("inches are written “inch”: 0.9 inch");
    }
    if limit_in_text(line) {
        return Some(
            "braces in a text take a name or one figure: give the limit a name, limit NAME = 22 ± 2 N·m, and write {NAME}",
        );
    }
    if code.starts_with('#') {
        return Some("a comment begins with //");
    }
    if code.ends_with(';') {
        return Some("take the semicolon out: a line is over where it ends");
    }
    if line.ends_with(':') {
        return Some("what belongs to it stands in braces: step \"…\" { … }");
    }
    if line.ends_with('.') {
        return Some("take the full stop out: a line is over where it ends");
    }
    let mut further = code.split_whitespace().skip(1);
    let second = further.next().unwrap_or_default();
    if first == "step" && second.starts_with(|sign: char| sign.is_ascii_digit()) {
        return Some("the sheet numbers the steps: write: step \"…\" { … }");
    }
    if first == "revision" {
        return Some("a day is written with the year first: revision A of 2026-11-01");
    }
    if (first == "crew" || further.next() == Some("and")) && code.contains(" and ") {
        return Some("a comma parts names: crew helper, fitter; remove guard, lid");
    }
    let numbered = first.strip_suffix('.').or_else(|| first.strip_suffix(')'));
    if numbered.is_some_and(|number| number.chars().all(|sign| sign.is_ascii_digit())) {
        return Some("the sheet numbers the steps: write: step \"…\" { … }");
    }
    if first.len() > 1 && first.ends_with(':') {
        return Some("no colon stands behind this word");
    }
    let words: Vec<&str> = code.split_whitespace().collect();
    if words.iter().any(|word| matches!(*word, "UNC" | "UNF" | "UNEF" | "UN")) {
        return Some("a thread is one word, with a hyphen ahead of its series: 5/16-18-UNC");
    }
    // Behind a number they are minutes.
    let number = |word: &str| word.ends_with(|sign: char| sign.is_ascii_digit());
    let least = |two: &[&str]| matches!(two, [before, "min"] if !number(before));
    if words.windows(2).any(least) {
        return Some("write it in words: at least 8 mm");
    }
    left_out(line, code, &words)
}

/// What is not there, or one word too many, in a line whose words are all known.
fn left_out(line: &str, code: &str, words: &[&str]) -> Option<&'static str> {
    let first = words.first().copied().unwrap_or_default();
    let has = |word: &str| words.contains(&word);
    if matches!(first, "step" | "when" | "otherwise" | "at" | "together") && code.contains(" ( ") {
        return Some("lines that belong to it stand in braces: step \"…\" { … }");
    }
    if first == "step" && words.len() > 3 && !line.contains('"') {
        return Some(
            "what the reader is told stands in double quotes: step open \"Open it.\" { … }",
        );
    }
    if matches!(first, "sign" | "note" | "confirm") && line.contains('"') {
        return Some("the text stands first, and clauses behind it: sign \"…\" by foreman");
    }
    if has("accept") && has("otherwise") {
        return Some(
            "otherwise begins a line of its own, under accept; the closing brace stands under it",
        );
    }
    if first == "choose" && code.contains(", otherwise ") {
        return Some(
            "no comma stands ahead of otherwise: … where rest = gap - shim otherwise stop \"…\"",
        );
    }
    let ends = ["go on", "stop", "refer to", "repeat", "done"];
    let leads = ends.iter().any(|end| code.contains(&format!(" {end}")));
    let otherwise = ["otherwise", "or", "accept", "failing", "}", "hold"].contains(&first);
    if leads && !otherwise && !code.contains("->") && !code.contains("is done") {
        return Some("an arrow stands ahead of what follows: sound -> go on");
    }
    if first == "wait" {
        return Some("a wait says how long, and from the end of which step: wait 5 min since off");
    }
    if first.starts_with(|sign: char| sign.is_ascii_digit()) && has("to") {
        return Some(
            "a range has two points, or begins with a word: 1.5 .. 2.5 mm; over 1.5 to 2.5 mm",
        );
    }
    if has("the") {
        return Some("leave “the” out: a thing or a person goes by the name alone");
    }
    is_missing(words).then_some("“is” stands between a thing and what it is: hopper is in-place")
}

/// `unless mains unplugged`: a thing and its value with nothing between them.
fn is_missing(words: &[&str]) -> bool {
    let leads = ["when", "unless", "while", "and", "or", "not", "needs", "proves", "until"];
    let name = |word: &str| {
        let word = word.trim_end_matches(',');
        let signs = |sign: char| sign.is_alphanumeric() || sign == '-';
        word.starts_with(char::is_alphabetic) && word.chars().all(signs)
    };
    let between =
        ["is", "at", "within", "becomes", "comes", "series", "serial", "using", "measure"];
    words.windows(3).any(|three| {
        let [lead, thing, value] = three else { return false };
        let known = |word: &str| leads.contains(&word) || between.contains(&word);
        leads.contains(lead) && name(thing) && name(value) && !known(thing) && !known(value)
    })
}

/// A text that ends in the middle of a word is meant to go on.
fn quote_inside(line: &str) -> bool {
    let (mut in_text, mut escaped) = (false, false);
    let mut signs = line.chars().peekable();
    while let Some(sign) = signs.next() {
        if sign == '"' && !escaped {
            in_text = !in_text;
            if !in_text && signs.peek().is_some_and(|next| next.is_alphanumeric()) {
                return true;
            }
        }
        escaped = sign == '\\' && !escaped;
    }
    false
}

/// `"Set it to {22 ± 2 N·m}."`
fn limit_in_text(line: &str) -> bool {
    let texts = line.split('"').skip(1).step_by(2);
    let braced = texts.flat_map(|text| text.split('{').skip(1));
    let mut inside = braced.filter_map(|rest| Some(rest.split_once('}')?.0));
    inside.any(|inside| {
        ["±", "..", "at least", "at most", "over ", "under ", " +"]
            .iter()
            .any(|sign| inside.contains(sign))
    })
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
        assert!(mend("  measure gap using mic, expect 0.1 .. 0.9 in {").unwrap().contains("inch"));
        assert!(mend("  sizes 2 .. 3 in steps of 1 mm").is_none());
        assert!(mend("  accept 40 mm +0.2/0.1 mm").unwrap().contains("its sign"));
        assert!(mend("  accept 40 mm +0.2 / -0.1 mm").unwrap().contains("its sign"));
        assert!(mend("  accept 40 mm +0.1/-0.2 mm").is_none());
        assert!(mend("  when gap is over 4 mm {").unwrap().contains("when gap over 4 mm"));
        assert!(mend("if series B {").is_some_and(|mend| mend.contains("when")));
        assert!(mend("  sound => go on").is_some_and(|mend| mend.contains("->")));
        assert!(mend("accept >= 8 mm").is_some_and(|mend| mend.contains("at least")));
        assert!(mend("3. step \"Look.\"").is_some_and(|mend| mend.contains("numbers")));
        assert!(mend("title: \"Look\"").is_some_and(|mend| mend.contains("colon")));
        assert!(mend("step \"Close up.\":").is_some_and(|mend| mend.contains("braces")));
        assert!(mend("fit guard.").is_some_and(|mend| mend.contains("full stop")));
        assert!(mend("bolts b : 8 of 5/16-18 UNC dry").is_some_and(|mend| mend.contains("hyphen")));
        assert!(
            mend("note \"Set it to {22 ± 2 N·m}.\"").is_some_and(|mend| mend.contains("braces"))
        );
        let choice = "choose shim from shims where rest = gap - shim, otherwise stop \"none\"";
        assert!(mend(choice).is_some_and(|mend| mend.contains("no comma")));
        assert!(mend("remove lid and guard").is_some_and(|mend| mend.contains("comma")));
        assert!(mend("expect 0.3...1.6 mm").is_some_and(|mend| mend.contains("two points")));
        assert!(mend("never guard is removed if not mains is off").is_some());
        assert!(mend("fit\u{a0}guard").is_some_and(|mend| mend.contains("no-break")));
        assert!(mend("step close \"Close \"up\".\" {").is_some_and(|mend| mend.contains("inside")));
        assert!(mend("at most 1.5 mm go on").is_some_and(|mend| mend.contains("arrow")));
        assert!(
            mend("step off \"Off.\" ( set plug to out )")
                .is_some_and(|mend| mend.contains("braces"))
        );
        assert!(
            mend("never lid is removed unless mains off").is_some_and(|mend| mend.contains("“is”"))
        );
        assert!(
            mend("safe to leave when mains is off or lid in-place")
                .is_some_and(|mend| mend.contains("“is”"))
        );
        assert!(mend("accept min 8 mm").is_some_and(|mend| mend.contains("at least")));
        assert!(mend("wait 5 min since of").is_some_and(|mend| mend.contains("which step")));
        assert!(mend("step \"Off.\" by the fitter { ").is_some_and(|mend| mend.contains("“the”")));
        assert!(mend("1.5 to 2.5 mm -> go on").is_some_and(|mend| mend.contains("over")));
        assert_eq!(mend("when series B or serial at least 7 {"), None);
        assert_eq!(mend("step \"It's >= 8; see: go on\" {"), None);
        assert_eq!(mend("fit guard guard"), None);
    }
}

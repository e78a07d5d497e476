//! LN005: a decimal comma.

use locknut_finding::{Edit, Finding, Page, Report, Span, page};

/// Figures with commas of one line.
pub(crate) struct DecimalComma {
    /// Each with what is written there.
    pub(crate) numbers: Vec<(Span, String)>,
}

/// What a figure with commas may be meant as.
enum Meant {
    One(String),
    /// `1,200`: in thousands, or as a fraction.
    Either(String, String),
}

impl Finding for DecimalComma {
    const PAGE: Page = page!("LN005", "ln005_decimal_comma.md");

    fn show(&self, say: &mut Report) {
        let (mut pointed, mut edits) = (Vec::new(), Vec::new());
        let mut either = Vec::new();
        for (place, written) in &self.numbers {
            let what = match meant(written) {
                Meant::Either(thousands, fraction) => {
                    let what = format!("{thousands}, or {fraction}?");
                    either.push((thousands, fraction));
                    what
                }
                Meant::One(text) => {
                    let first = pointed.is_empty();
                    pointed.push(text.clone());
                    edits.push(Edit { span: *place, text });
                    if first { "a comma parts the items of a list" } else { "here, too" }.to_owned()
                }
            };
            say.label(*place, what);
        }
        if either.is_empty() {
            say.title("decimal point, please");
            say.consequence("0,35 could be read as two numbers, 0 and 35");
        } else {
            say.title("one figure here is a thousand times the other that it could be");
            say.consequence("read one way, a wait of 20 minutes is over in a second");
        }
        for (thousands, fraction) in either {
            // Which of the two nobody but its author knows: neither is put in.
            say.mend(format!(
                "write {thousands} where thousands are meant (a blank parts them), {fraction} where it is a fraction"
            ));
        }
        if !edits.is_empty() {
            say.mend_with_all(format!("write {}", pointed.join(", ")), edits);
        }
    }
}

fn meant(written: &str) -> Meant {
    let signs: Vec<char> = written.chars().filter(|sign| !sign.is_ascii_digit()).collect();
    let parts: Vec<&str> = written.split(['.', ',']).collect();
    let in_threes = |parts: &[&str]| {
        let lead = parts.first().is_some_and(|first| first.len() <= 3 && !first.starts_with('0'));
        lead && parts.iter().skip(1).all(|part| part.len() == 3)
    };
    match (signs.as_slice(), parts.as_slice()) {
        ([','], [whole, fraction]) if in_threes(&parts) => {
            Meant::Either(format!("{whole} {fraction}"), format!("{whole}.{fraction}"))
        }
        ([','], _) => Meant::One(written.replace(',', ".")),
        ([first, .., last], [groups @ .., fraction]) if first != last && in_threes(groups) => {
            Meant::One(format!("{}.{fraction}", groups.join(" ")))
        }
        _ if in_threes(&parts) => Meant::One(parts.join(" ")),
        _ => Meant::One(written.replace(',', ", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::{Meant, meant};

    #[test]
    fn no_figure_becomes_a_thousandth_of_what_is_meant() {
        let of = |written: &str| match meant(written) {
            Meant::One(text) => text,
            Meant::Either(thousands, fraction) => format!("{thousands} or {fraction}"),
        };
        assert_eq!(of("0,35"), "0.35");
        assert_eq!(of("0,350"), "0.350");
        assert_eq!(of("1,5"), "1.5");
        assert_eq!(of("1,200"), "1 200 or 1.200");
        assert_eq!(of("1234,500"), "1234.500");
        assert_eq!(of("1.200,5"), "1 200.5");
        assert_eq!(of("1,200.5"), "1 200.5");
        assert_eq!(of("1,200,500"), "1 200 500");
        assert_eq!(of("1,2,3"), "1, 2, 3");
    }
}

//! LN206: two quantities are multiplied or divided.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A product or quotient whose kind nothing tells.
pub(crate) struct KindsMultiplied {
    /// `multiplied`, `divided`.
    pub(crate) done: &'static str,
    pub(crate) left: (String, Span),
    pub(crate) right: (String, Span),
    /// The kinds that it may be by its dimension.
    pub(crate) gives: Vec<String>,
    /// Whether one of them is a point on a scale, as a temperature is: no formula takes it.
    pub(crate) scale: bool,
}

impl Finding for KindsMultiplied {
    const PAGE: Page = page!("LN206", "ln206_kinds_multiplied.md");

    fn show(&self, say: &mut Report) {
        let (left, right) = (&self.left.0, &self.right.0);
        say.title(format!("nobody can tell what {left} {} by {right} is", self.done));
        say.label(self.right.1, format!("this is {right}"));
        say.label(self.left.1, format!("this is {left}"));
        say.consequence(
            "the sum comes out in no unit that an instrument shows or a limit is written in: a fitter would work it out and hold it against nothing",
        );
        say.note("where nothing says what comes out, a quantity is multiplied by a plain number only, and divided by one or by another of its kind; a temperature not even by that, since its zero is a matter of its scale");
        if self.scale {
            say.mend("work with a difference from a value that has a name, or, for what lies between several temperatures, write mean(…); of decibels add or take off some");
        } else {
            say.mend(by_formula(&self.gives));
        }
    }
}

/// How a product is worked out whose kind is said; of one dimension there may be several kinds.
pub(crate) fn by_formula(gives: &[String]) -> String {
    let kind = gives.first().map_or("KIND", String::as_str);
    let may = match gives {
        [] => String::new(),
        one_or_more => format!(" (by its dimension it may be: {})", one_or_more.join(", ")),
    };
    format!(
        "declare the sum once with the kind that it gives{may}, “formula NAME : {kind} of A : KIND, B : KIND = …”, and call it here"
    )
}

//! LN224: a line expects what its model rules out.

use locknut_finding::{Finding, Page, Report, Span, page};

/// What a line and its model expect of one reading has nothing in common.
pub(crate) struct ExpectedElsewhere {
    pub(crate) name: String,
    /// What the line expects.
    pub(crate) line: String,
    pub(crate) span: Span,
    /// What the model does.
    pub(crate) model: String,
    pub(crate) declared: Span,
}

impl Finding for ExpectedElsewhere {
    const PAGE: Page = page!("LN224", "ln224_expected_elsewhere.md");

    fn show(&self, say: &mut Report) {
        let Self { name, line, model, .. } = self;
        say.title(format!("no {name} is both {line} and {model}"));
        say.label(self.span, format!("{line} is expected here, and nothing else is taken"));
        say.label(self.declared, format!("on this model it comes to {model}"));
        say.consequence(
            "every reading that the machine can give is refused, and the job waits there",
        );
        say.mend("look both figures and their units up again; one of the two is wrong");
        say.mend("where the model is right, leave “expect” out of the line");
    }
}

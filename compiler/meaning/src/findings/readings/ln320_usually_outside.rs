//! LN320: more is usual than is expected at all.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// `usually` reaches outside of `expect`.
pub(crate) struct UsuallyOutside {
    pub(crate) usually: String,
    pub(crate) span: Span,
    pub(crate) expect: String,
    pub(crate) expect_span: Span,
    pub(crate) of: Usual,
}

/// What is said to be usual.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Usual {
    /// A reading, beyond what is taken.
    Read,
    /// A reading, where the instrument shows nothing.
    NeverShown,
    /// What is worked out.
    WorkedOut,
    /// What the rows of a choice go by, worked out from readings.
    Chosen,
    /// It has one end only.
    OneEnd,
}

impl UsuallyOutside {
    /// `usually at most 3 mm`
    pub(crate) fn one_end(usually: &str, span: Span) -> Self {
        let (usually, expect) = (usually.to_owned(), String::new());
        Self { usually, span, expect, expect_span: span, of: Usual::OneEnd }
    }
}

/// What is usual is refused, or breaks the job off.
pub(crate) struct UsuallyRefused {
    pub(crate) name: String,
    pub(crate) usually: String,
    pub(crate) named: Span,
    pub(crate) limit: String,
    pub(crate) span: Span,
    /// By an arm.
    pub(crate) breaks_off: bool,
}

impl Finding for UsuallyRefused {
    const PAGE: Page = UsuallyOutside::PAGE;
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        let Self { name, usually, limit, .. } = self;
        if self.breaks_off {
            say.title(format!("where {name} is as usual, the job breaks off"));
            say.label(self.span, format!("at {limit} it ends here"));
        } else {
            say.title(format!("where {name} is as usual, it is refused"));
            say.label(self.span, format!("this accepts {limit}"));
        }
        say.label(self.named, format!("usually it is {usually}"));
        say.consequence("95 of 100 machines do not pass here: most of them are sound, or one of the two figures is wrong");
        say.mend("look both figures up again at their source");
        say.mend(
            "or, where most machines that come here are bad, leave “usually” out or say so: despite LN320 because \"…\"",
        );
    }
}

impl Finding for UsuallyOutside {
    const PAGE: Page = page!("LN320", "ln320_usually_outside.md");

    fn show(&self, say: &mut Report) {
        if self.of == Usual::OneEnd {
            say.title(format!("“usually {}” has one end", self.usually));
            say.label(self.span, "how far it goes the other way is not said");
            say.consequence(
                "nobody can tell how the machines are spread, and how often the limit misjudges",
            );
            say.mend("give it both ends: usually 2.0 .. 3.5 mm");
            return;
        }
        if self.of == Usual::NeverShown {
            say.title(format!("no reading lies within “usually {}”", self.usually));
            say.label(self.span, "something must fit where it is usual");
            say.label(
                self.expect_span,
                format!("this shows {}, and no digit of it lies there", self.expect),
            );
            say.consequence("what must fit where all is usual would be shown of no reading at all");
            say.mend("write “usually” on the digits that the instrument shows");
            return;
        }
        if self.of == Usual::WorkedOut {
            say.title(format!("“usually {}” reaches outside of what it can come to", self.usually));
            say.label(self.span, "said to be usual");
            say.label(self.expect_span, format!("this comes to {}", self.expect));
            say.consequence(
                "how often its limit misjudges would be told of machines that there are none of",
            );
            say.mend("narrow “usually”, or widen what is expected of the readings");
            return;
        }
        if self.of == Usual::Chosen {
            say.title(format!("“usually {}” reaches outside of what it can come to", self.usually));
            say.label(self.span, "said to be usual");
            say.label(
                self.expect_span,
                format!("what the rows go by comes from here, to {}", self.expect),
            );
            say.consequence("a part would have to fit where no machine ever is");
            say.mend("narrow “usually”, or widen what is expected of the readings");
            return;
        }
        say.title(format!("“usually {}” reaches outside of what is taken at all", self.usually));
        say.label(self.span, "said to be usual");
        say.label(self.expect_span, format!("only {} is taken", self.expect));
        say.consequence("a usual reading would be refused, and the job would wait there");
        say.mend("widen “expect”, or narrow “usually”");
    }
}

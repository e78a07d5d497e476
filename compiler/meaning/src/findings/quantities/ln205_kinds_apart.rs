//! LN205: two kinds of quantity are added, subtracted or compared.

use locknut_finding::{Finding, Page, Report, Span, page};

/// Two values that have no common measure.
pub(crate) struct KindsApart {
    /// What is done with them: `added`, `compared`.
    pub(crate) done: &'static str,
    pub(crate) left: (String, Span),
    pub(crate) right: (String, Span),
    /// Where one is a gauge's own scale.
    pub(crate) own_scale: bool,
    /// Where they are levels in decibels or the like.
    pub(crate) logarithmic: bool,
}

impl Finding for KindsApart {
    const PAGE: Page = page!("LN205", "ln205_kinds_apart.md");

    fn show(&self, say: &mut Report) {
        let (left, right) = (&self.left.0, &self.right.0);
        if self.left.1 == self.right.1 {
            say.title(format!("{left} cannot be {}", self.done));
            say.label(self.left.1, format!("this is {left}"));
        } else {
            say.title(if left == right {
                let kind = left.trim_start_matches("an ").trim_start_matches("a ");
                format!("two figures of the kind {kind} cannot be {}", self.done)
            } else {
                format!("{left} and {right} cannot be {}", self.done)
            });
            say.label(self.right.1, format!("this is {right}"));
            say.label(self.left.1, format!("this is {left}"));
        }
        say.consequence("the figure that comes out means nothing, and looks like one to work by");
        if self.own_scale {
            say.note(
                "a reading on a gauge's own scale can be compared with nothing but that scale",
            );
        }
        if left != right {
            say.mend("bring both to one kind of quantity");
        } else if self.logarithmic {
            say.note("ten decibels more are ten times as much: two of 90 dB make 93 dB together");
            say.mend("judge the greatest, max(…), or each of them");
        } else {
            say.mend("work with their difference, which has a zero of its own");
            if self.done == "added" {
                say.mend("or, for what lies between them, write mean(…)");
            }
        }
    }
}

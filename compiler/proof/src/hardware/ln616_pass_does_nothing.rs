//! LN616: a pass of a tightening that does nothing: it is below one ahead of it, or the nut may take all of it.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A pass of a tightening that does nothing.
pub(crate) struct PassDoesNothing {
    pub(crate) at: Span,
    pub(crate) thing: String,
    pub(crate) pass: String,
    pub(crate) why: WhyNothing,
}

/// Why a pass does nothing.
pub(crate) enum WhyNothing {
    /// One ahead of it is greater.
    Below { before: String },
    /// A self-locking nut may take all of it: what it takes, what the pass brings at least and the wrench whose error
    /// makes it so.
    Taken { greatest: String, least: String, with: Option<String>, declared: Span },
}

impl Finding for PassDoesNothing {
    const PAGE: Page = page!("LN616", "ln616_pass_does_nothing.md");

    fn show(&self, say: &mut Report) {
        let (thing, pass) = (&self.thing, &self.pass);
        match &self.why {
            WhyNothing::Below { before } => {
                say.title(format!("to tighten the {thing} to {pass} does nothing"));
                say.label(self.at, format!("{pass} comes after {before}"));
                say.consequence(format!(
                    "the wrench clicks before anything has moved: the {thing} stay at {before}"
                ));
                say.mend("order the passes from the least torque to the greatest, and end with the maker's figure");
                say.mend("where they are to be slackened in between, write two acts: slacken them, and tighten them again");
            }
            WhyNothing::Taken { greatest, least, with, declared } => {
                say.title(format!(
                    "to tighten the {thing} to {pass} may do nothing: the nut may take all of that"
                ));
                let by = match with {
                    Some(wrench) => format!("for {pass} the {wrench} may bring only {least}"),
                    None => format!("{pass} may be {least}"),
                };
                say.label(self.at, by);
                say.label(*declared, format!("the nut takes up to {greatest} by itself"));
                say.consequence(
                    "the wrench clicks while the nut is still on its way: the parts are not drawn together, and the next pass pulls them aslant",
                );
                say.mend("leave this pass out, or take the maker's figure for it: what the nut takes by itself is part of it");
                say.mend("or correct what this nut takes by itself: prevailing 2 .. 6 N·m");
            }
        }
    }
}

//! LN403: a proof that would cost more than is allowed.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A proof that would cost more than is allowed.
pub(crate) struct TooManyOrders {
    pub(crate) block: Span,
    /// What its steps touch of what was to be proved.
    pub(crate) touched: String,
    pub(crate) most: usize,
    /// People work side by side in it.
    pub(crate) together: bool,
    /// Rules that ask for several of these at once: where each stands, and all that it asks for.
    pub(crate) rules: Vec<(Span, String)>,
}

impl Finding for TooManyOrders {
    const PAGE: Page = page!("LN403", "ln403_too_many_orders.md");

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "this has more orders than can be tried: more than {} states touch {}",
            self.most, self.touched
        ));
        say.label(self.block, "here");
        for (rule, asks) in &self.rules {
            say.label(*rule, format!("this rule asks for {asks} at once"));
        }
        say.consequence("what was not tried is not proved, so nothing is printed");
        say.mend(if self.together {
            "split the block into several, one behind the other: what stands in one is done before the next begins, and less is under way at once"
        } else {
            "give these steps an order, or split the block"
        });
        if !self.rules.is_empty() {
            say.mend("or part the rule: several rules, each over a few of these, are tried one by one, and what two of them never share is not multiplied");
        }
    }
}

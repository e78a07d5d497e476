//! LN403: a proof that would cost more than is allowed.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A proof that would cost more than is allowed.
pub(crate) struct TooManyOrders {
    pub(crate) block: Span,
    pub(crate) touched: String,
    pub(crate) most: usize,
    /// People work side by side in it.
    pub(crate) together: bool,
}

impl Finding for TooManyOrders {
    const PAGE: Page = page!("LN403", "ln403_too_many_orders.md");

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "this has more orders than can be tried: more than {} states touch the {}",
            self.most, self.touched
        ));
        say.label(self.block, "here");
        say.consequence("what was not tried is not proved, so nothing is printed");
        say.mend(if self.together {
            "split the block into several, one behind the other: what stands in one is done before the next begins, and less is under way at once"
        } else {
            "give these steps an order, or split the block"
        });
    }
}

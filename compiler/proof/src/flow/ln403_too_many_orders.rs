//! LN403: a proof that would cost more than is allowed.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A proof that would cost more than is allowed.
pub(crate) struct TooManyOrders {
    pub(crate) block: Span,
    pub(crate) touched: String,
    pub(crate) most: usize,
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
        say.mend("give these steps an order, or split the block");
    }
}

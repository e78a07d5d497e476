//! LN404: how the machine stands after a freed block depends on the order.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// Two freed children leave a state at different values; the later one decides.
pub(crate) struct OrderMatters {
    pub(crate) one: Span,
    pub(crate) other: Span,
    pub(crate) variable: String,
    /// What the first and the second leave it at.
    pub(crate) values: [String; 2],
}

impl Finding for OrderMatters {
    const PAGE: Page = page!("LN404", "ln404_order_matters.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        let [one, other] = &self.values;
        say.title(format!("in one order the {} is left {one}, in another {other}", self.variable));
        say.label(self.other, format!("leaves it {other}"));
        say.label(self.one, format!("leaves it {one}"));
        say.consequence("two technicians who both follow the sheet leave two different machines");
        say.mend("take these steps out of “any order”, in the order that is meant");
    }
}

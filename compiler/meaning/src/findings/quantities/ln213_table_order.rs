//! LN213: the rows of a table do not follow one another.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A row whose key is no greater than that of the row before.
pub(crate) struct TableOrder {
    pub(crate) table: String,
    /// As written.
    pub(crate) key: String,
    pub(crate) place: Span,
    /// The row that it does not fit behind; or that has the same key.
    pub(crate) other: Span,
    pub(crate) doubled: bool,
}

impl Finding for TableOrder {
    const PAGE: Page = page!("LN213", "ln213_table_order.md");

    fn show(&self, say: &mut Report) {
        if self.doubled {
            say.title(format!("{} has two rows for {}", self.table, self.key));
            say.label(self.place, "again here");
            say.label(self.other, "first here");
            say.consequence("of two technicians one goes by the one row and one by the other");
            say.mend("strike the row that is not so");
        } else {
            say.title(format!("the rows of {} are out of order at {}", self.table, self.key));
            say.label(self.place, "less than the row before");
            say.label(self.other, "the row before");
            say.consequence("a wrong digit in a key looks like this, and what stands between two rows is taken from the wrong ones");
            say.mend("look whether a digit is wrong; else put the rows in ascending order");
        }
    }
}

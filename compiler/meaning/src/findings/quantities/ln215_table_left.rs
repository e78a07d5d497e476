//! LN215: what is looked up may lie outside of the table.

use crate::findings::names::listed;
use crate::findings::readings::{accepted_in_vain, nobody_goes_on};
use locknut_finding::{Finding, Page, Report, Span, page};

/// A figure that may lie beyond the first or the last key.
pub(crate) struct TableLeft {
    pub(crate) table: String,
    /// As written; none: a figure that stands there.
    pub(crate) argument: Option<String>,
    pub(crate) place: Span,
    /// What no row covers.
    pub(crate) uncovered: Vec<String>,
    /// The first and the last key.
    pub(crate) keys: String,
    pub(crate) declared: Span,
    /// Whether nothing of what may be handed in has a row.
    pub(crate) apart: bool,
    /// Where it is accepted, and what is outside of it goes on, too.
    pub(crate) in_vain: Vec<Span>,
}

impl Finding for TableLeft {
    const PAGE: Page = page!("LN215", "ln215_table_left.md");

    fn show(&self, say: &mut Report) {
        let uncovered = listed(&self.uncovered, "and");
        say.title(format!("{} says nothing for {uncovered}", self.table));
        say.label(
            self.place,
            match &self.argument {
                Some(argument) => format!("{argument} may be {uncovered} here"),
                None => "no row covers this".to_owned(),
            },
        );
        say.label(self.declared, format!("its keys go from {}", self.keys));
        accepted_in_vain(&self.in_vain, say);
        say.consequence(
            "the technician would guess how the table goes on, where its maker did not measure",
        );
        say.mend(match &self.argument {
            Some(argument) if self.apart => format!(
                "look again what is handed in: nothing that {argument} can be lies from {}",
                self.keys
            ),
            Some(argument) => {
                format!("add rows, or narrow what is expected of {argument}: {}", self.keys)
            }
            None => format!("add rows, or look up something from {}", self.keys),
        });
        nobody_goes_on(&self.in_vain, say);
    }
}

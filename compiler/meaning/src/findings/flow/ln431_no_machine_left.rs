//! LN431: a procedure for no machine at all.

use locknut_finding::{Finding, Page, Report, Span, page};

/// `for` lines that no machine meets together.
pub(crate) struct NoMachineLeft {
    pub(crate) lines: Vec<Span>,
}

impl Finding for NoMachineLeft {
    const PAGE: Page = page!("LN431", "ln431_no_machine_left.md");

    fn show(&self, say: &mut Report) {
        say.title("there is no machine that this is for");
        for (position, line) in self.lines.iter().enumerate() {
            say.label(
                *line,
                if position == 0 { "no machine meets this" } else { "and this as well" },
            );
        }
        say.consequence("no workshop may use the sheet");
        say.mend("several “for” lines must all hold: widen one of them, or take it out");
    }
}

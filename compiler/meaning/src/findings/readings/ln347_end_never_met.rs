//! LN347: a figure beyond all that can come, so that it decides nothing.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A figure beyond all that can come.
pub(crate) struct EndNeverMet {
    /// What is read, worked out or aimed at.
    pub(crate) name: String,
    /// The figure: `20 000 N·m`.
    pub(crate) figure: String,
    pub(crate) span: Span,
    /// All that can come.
    pub(crate) can_be: String,
    pub(crate) of: NeverMet,
}

/// What the figure is.
pub(crate) enum NeverMet {
    /// One end of a limit: what bounds the reading, and the limit without that end.
    End { bounded_by: String, without: String },
    /// What a table gives for an end of a limit, as it is asked.
    LookedUp { bounded_by: String, written: String },
    /// `prefer nearest 3 mm`
    Nearest,
}

impl Finding for EndNeverMet {
    const PAGE: Page = page!("LN347", "ln347_end_never_met.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        let (name, figure, can_be) = (&self.name, &self.figure, &self.can_be);
        say.title(format!("{figure} decides nothing: {name} never comes to it"));
        match &self.of {
            NeverMet::End { bounded_by, without } => {
                say.label(self.span, format!("{name} can only be {can_be}"));
                say.consequence(
                    "where a point or a digit has slipped, the line lets through what it was written to stop",
                );
                say.note(bounded_by.clone());
                say.mend("look the figure up again at its source, or widen what is expected");
                say.mend(format!("or leave that end out: {without}"));
            }
            NeverMet::LookedUp { bounded_by, written } => {
                say.label(
                    self.span,
                    format!("{written} may come to {figure}; {name} can only be {can_be}"),
                );
                say.consequence(
                    "where a point or a digit has slipped in a row, the line lets through there what it was written to stop",
                );
                say.note(bounded_by.clone());
                say.mend("look the rows of the table up again at their source, or widen what is expected");
            }
            NeverMet::Nearest => {
                say.label(self.span, format!("{name} is to be {can_be}"));
                say.consequence(
                    "the fitter is given what lies at one end of what fits, and nobody has said that this is wanted",
                );
                say.mend(format!(
                    "write a figure within {can_be}, or “prefer smallest” or “prefer largest”"
                ));
            }
        }
    }
}

//! LN008: a control sign in a source.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A control sign in a source.
pub(crate) struct ControlSign {
    pub(crate) place: Span,
    pub(crate) code: u32,
}

impl Finding for ControlSign {
    const PAGE: Page = page!("LN008", "ln008_control_sign.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("this file holds a sign that cannot be seen (U+{:04X})", self.code));
        say.label(self.place, "here");
        say.consequence("what cannot be seen cannot be reviewed; nothing in this file is read");
        if matches!(self.code, 0x0D | 0x2028 | 0x2029) {
            say.mend("save the file with plain line ends (LF): this sign ends a line in some editors, and in others it does not");
            return;
        }
        say.mend("take the sign out; it may have come in with a copied text, or the file is no text at all");
    }
}

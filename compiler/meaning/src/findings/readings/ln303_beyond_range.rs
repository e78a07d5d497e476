//! LN303: a limit lies outside of what the instrument shows or can be set to.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A limit that the instrument does not reach.
pub(crate) struct BeyondRange {
    /// What the line does with the limit: `accepts`, `expects`, `asks for`, `is set to`.
    pub(crate) does: &'static str,
    pub(crate) limit: String,
    pub(crate) span: Span,
    /// The end that lies outside.
    pub(crate) end: String,
    pub(crate) instrument: String,
    pub(crate) range: String,
    pub(crate) declared: Span,
    pub(crate) applies: bool,
    /// All that a limit comes to that is worked out or looked up.
    pub(crate) comes_to: Option<String>,
    /// Where a substitute cannot show what its line expects: that line.
    pub(crate) stands_in: Option<Span>,
    /// The one row of a table that alone lies outside.
    pub(crate) row: Option<Span>,
    /// The same figures in the unit of the instrument, where it would show them.
    pub(crate) meant: Option<String>,
}

impl Finding for BeyondRange {
    const PAGE: Page = page!("LN303", "ln303_beyond_range.md");

    fn show(&self, say: &mut Report) {
        let (verb, cannot) =
            if self.applies { ("be set to", "reaches") } else { ("show", "shows") };
        say.title(format!("the {} cannot {verb} {}", self.instrument, self.end));
        if let Some(line) = self.stands_in {
            say.label(self.span, "this is to be read in its place");
            say.label(line, format!("{} is expected here", self.limit));
        } else {
            say.label(self.span, format!("this {} {}", self.does, self.limit));
        }
        say.label(self.declared, format!("it {cannot} {}", self.range));
        if let Some(row) = self.row {
            say.label(row, "this row alone lies beyond it");
        }
        say.consequence(if self.applies {
            "the wrench is forced past its end, or never clicks"
        } else {
            "the technician gets no reading there and has to guess"
        });
        if let Some(comes_to) = &self.comes_to {
            say.note(format!("“{}” comes to {comes_to} where it is widest", self.limit));
            say.mend(match self.row {
                Some(_) => "look that row up again at its source",
                None => "narrow what is expected of the readings that it hangs on",
            });
        }
        if let Some(meant) = &self.meant {
            say.mend(format!("look the unit up again: is {meant} meant?"));
        }
        if self.stands_in.is_some() {
            return say.mend(format!(
                "name a substitute that shows {}, or take this one out",
                self.limit
            ));
        }
        let (one, figure) = if self.applies {
            ("a wrench", "a figure that lies with its tolerance")
        } else {
            ("an instrument", "a limit")
        };
        say.mend(format!(
            "name {one} that {cannot} {}, or write {figure} within {}",
            self.end, self.range
        ));
    }
}

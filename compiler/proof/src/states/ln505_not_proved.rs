//! LN505: something is asked to be proved and no reading has proved it since it was last set.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// Something is asked to be proved and no reading has proved it since it was last set.
pub(crate) struct NotProved {
    pub(crate) act: Option<Span>,
    pub(crate) asked: Span,
    pub(crate) variable: String,
    pub(crate) value: String,
    /// As a line would say it: `proves supply at right is isolated`.
    pub(crate) proves: String,
    pub(crate) path: Vec<PathPoint>,
    pub(crate) because: Option<String>,
}

impl Finding for NotProved {
    const PAGE: Page = page!("LN505", "ln505_not_proved.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("nobody has proved that {} is {}", self.variable, self.value));
        match self.act {
            Some(act) => {
                say.label(act, "reached without the proof");
                say.label(self.asked, "this asks for it to be proved");
            }
            None => say.label(self.asked, "this asks for it to be proved"),
        }
        say.path(&self.path);
        say.consequence(self.because.clone().unwrap_or_else(|| {
            "what was switched off may still be live: a wrong switch, a second feed, a welded contact".into()
        }));
        say.mend(format!(
            "measure it before {}, with `{}` on the reading; whatever sets {} afterwards ends the proof",
            if self.act.is_some() { "this line" } else { "the end" },
            self.proves,
            self.variable
        ));
    }
}

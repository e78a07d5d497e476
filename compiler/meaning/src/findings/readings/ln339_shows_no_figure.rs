//! LN339: an instrument that answers one limit is asked for more than that.

use locknut_finding::{Finding, Page, Report, Span, page};

/// No figure is shown, and one is wanted.
pub(crate) struct ShowsNoFigure {
    name: String,
    span: Span,
    instrument: String,
    declared: Span,
    /// What it answers; none: the limit is to be guarded.
    answers: Option<String>,
}

impl ShowsNoFigure {
    /// There is no `accept` that it could answer.
    pub(crate) fn nothing_to_answer(
        name: String,
        span: Span,
        instrument: String,
        declared: Span,
        answers: String,
    ) -> Self {
        Self { name, span, instrument, declared, answers: Some(answers) }
    }

    /// A guarded limit is read against a narrower one.
    pub(crate) fn cannot_be_guarded(
        name: String,
        span: Span,
        instrument: String,
        declared: Span,
    ) -> Self {
        Self { name, span, instrument, declared, answers: None }
    }
}

impl Finding for ShowsNoFigure {
    const PAGE: Page = page!("LN339", "ln339_shows_no_figure.md");

    fn show(&self, say: &mut Report) {
        let Self { name, instrument, .. } = self;
        if let Some(answers) = &self.answers {
            say.title(format!("the {instrument} shows no figure for {name}"));
            say.label(self.span, "wants a figure");
            say.label(self.declared, format!("answers {answers}, with yes or no"));
            say.consequence("there is nothing to write into the field");
            say.mend(format!("write {{ accept {answers} / otherwise … }}, or use an instrument that shows figures"));
        } else {
            say.title(format!("the {instrument} cannot tell whether {name} is surely inside"));
            say.label(self.span, "this guards the limit against the error of the reading");
            say.label(
                self.declared,
                "made for one limit: it cannot be read against a narrower one",
            );
            say.consequence("near the limit its yes is worth no more than a guess, and the guard is there to end guessing");
            say.mend("use an instrument that shows figures, or write “as read”");
        }
    }
}

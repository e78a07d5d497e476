//! LN335: what a substitute is said to answer is not what it answers.

use crate::findings::names::with_article;
use locknut_finding::{Finding, Page, Report, Span, page};
use locknut_graph::Side;

/// `answers …` does not fit the limits.
pub(crate) struct AnswersOtherwise {
    name: String,
    answers: Span,
    why: Why,
}

enum Why {
    /// None of the words that are known.
    Unknown(String),
    /// The substitute's own limit tells other sides.
    ThanItsLimit(Vec<Side>, (String, Span)),
    /// The line does not ask for that.
    ThanIsAsked((String, Span)),
    /// Its limit has one end, and is said to tell both sides.
    ThanOneEnd((String, Span)),
    /// Its limit has two ends, and is said to tell one side.
    ThanTwoEnds((String, Span)),
}

impl AnswersOtherwise {
    pub(crate) fn unknown(answers: Span, written: String, name: String) -> Self {
        Self { name, answers, why: Why::Unknown(written) }
    }

    pub(crate) fn than_its_limit(
        answers: Span,
        name: String,
        told: &[Side],
        own: (String, Span),
    ) -> Self {
        Self { name, answers, why: Why::ThanItsLimit(told.to_vec(), own) }
    }

    pub(crate) fn than_is_asked(answers: Span, name: String, line: (String, Span)) -> Self {
        Self { name, answers, why: Why::ThanIsAsked(line) }
    }

    pub(crate) fn than_one_end(answers: Span, name: String, own: (String, Span)) -> Self {
        Self { name, answers, why: Why::ThanOneEnd(own) }
    }

    pub(crate) fn than_two_ends(answers: Span, name: String, own: (String, Span)) -> Self {
        Self { name, answers, why: Why::ThanTwoEnds(own) }
    }
}

impl Finding for AnswersOtherwise {
    const PAGE: Page = page!("LN335", "ln335_answers_otherwise.md");

    fn show(&self, say: &mut Report) {
        let name = &self.name;
        let one = with_article(name);
        match &self.why {
            Why::Unknown(written) => {
                say.title(format!("nobody can tell which side of {name} is meant by “{written}”"));
                say.label(self.answers, "neither low nor high");
                say.consequence(
                    "the sheet cannot say what is left open, and the fitter takes it for checked",
                );
                say.mend(format!("write “answers low only” where it finds {one} that is too low, “answers high only” where it finds one that is too high, or “answers low and high”; the trade's own word for it goes behind “noting”"));
            }
            Why::ThanItsLimit(told, (written, span)) => {
                say.title("this substitute is said to tell another side than its limit tells");
                say.label(self.answers, "said here");
                say.label(*span, format!("{written} tells {}", sides(told)));
                say.consequence("what the sheet says of it and what is judged part company");
                say.mend(match told.as_slice() {
                    [Side::Low] => "write “answers low only”",
                    [Side::High] => "write “answers high only”",
                    [] => "give it an end on the side that it is to tell",
                    _ => "take “answers” out: it decides all that the line decides",
                });
            }
            Why::ThanOneEnd((written, span)) => {
                say.title(format!(
                    "one end of this substitute is said to tell both sides of {name}"
                ));
                say.label(self.answers, "said here");
                say.label(*span, format!("{written} has one end"));
                say.consequence(format!(
                    "where it is used, {one} that is far out on the other side passes"
                ));
                say.mend(format!("write “answers low only” where it finds {one} that is too low, “answers high only” where it finds one that is too high; or give its limit both ends"));
            }
            Why::ThanTwoEnds((written, span)) => {
                say.title(format!(
                    "this substitute is said to tell one side of {name}, and its limit has two ends"
                ));
                say.label(self.answers, "said here");
                say.label(*span, format!("{written} has two ends"));
                say.consequence(
                    "nobody can tell what follows of a figure beyond the end that counts for nothing",
                );
                say.mend("take out the end that tells nothing; or, where both tell, write “answers low high”");
            }
            Why::ThanIsAsked((written, span)) => {
                say.title(format!("this substitute tells nothing that is asked of {name}"));
                say.label(self.answers, "tells this");
                say.label(*span, format!("{written} is asked for"));
                say.consequence("whoever lacks the first instrument checks something else, and passes everything");
                say.mend("name the side that the limit of the line has, if the substitute tells it; else take it out");
            }
        }
    }
}

fn sides(told: &[Side]) -> &'static str {
    match told {
        [Side::Low] => "only what is too low",
        [Side::High] => "only what is too high",
        [] => "neither side",
        _ => "both sides",
    }
}

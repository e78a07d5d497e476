//! LN601: an act on an element that is not in a state from which it can be done.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// An act on an element that is not in a state from which it can be done.
pub(crate) struct WrongStateForAct {
    pub(crate) act: Span,
    pub(crate) thing: String,
    pub(crate) wanted: String,
    pub(crate) stands: String,
    pub(crate) since: Option<Span>,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for WrongStateForAct {
    const PAGE: Page = page!("LN601", "ln601_wrong_state_for_act.md");

    fn show(&self, say: &mut Report) {
        say.title(if self.stands.is_empty() {
            "this cannot be done".to_owned()
        } else {
            format!("this cannot be done: {}", self.stands)
        });
        say.label(self.act, format!("only where {}", self.wanted));
        if let Some(since) = self.since {
            say.label(since, format!("{} since here", self.stands));
        }
        say.path(&self.path);
        say.consequence(format!(
            "the fitter finds the {} otherwise than the line says",
            self.thing
        ));
        say.fallback("take this line out, or bring the thing to that state first");
    }
}

/// A special tool is put in at one point while it is in at another, or at several at once.
pub(crate) struct OneTool {
    pub(crate) act: Span,
    pub(crate) tool: String,
    /// Where the line puts it in: the tool with its point.
    pub(crate) here: Vec<String>,
    /// Where it still is in; none where the line alone is at fault.
    pub(crate) still_in: Option<String>,
    pub(crate) wanted: String,
    pub(crate) since: Option<Span>,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for OneTool {
    const PAGE: Page = WrongStateForAct::PAGE;

    fn show(&self, say: &mut Report) {
        let tool = &self.tool;
        say.title(match &self.still_in {
            Some(there) => {
                format!("this cannot be done: there is one {tool}, and {there} is fitted")
            }
            None => format!("this cannot be done: there is one {tool}"),
        });
        say.label(self.act, format!("only where {}", self.wanted));
        if let (Some(since), Some(there)) = (self.since, &self.still_in) {
            say.label(since, format!("{there} fitted since here"));
        }
        say.path(&self.path);
        if let Some(there) = &self.still_in {
            say.consequence(format!(
                "the fitter has no {tool} to put in here: there is one, and {there} is still in"
            ));
            say.fallback(format!("take out {there} first (`remove`), then put it in here"));
        } else if let [first, next, ..] = self.here.as_slice() {
            say.consequence(format!(
                "the fitter has one {tool}, and is to put in {first} and {next}"
            ));
            say.fallback(format!("finish one point before the next: put in {first}, do the work there and take it out again, then put in {next}"));
        }
    }
}

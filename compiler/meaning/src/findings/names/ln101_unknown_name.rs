//! LN101: a name that nothing declares.

use super::{listed, with_article};
use locknut_finding::{Finding, Page, Report, Span, page};

/// A name that nothing of the sort wanted has.
pub(crate) struct UnknownName {
    /// What is looked for: `instrument`, `state, element or tool`.
    pub(crate) wanted: &'static str,
    pub(crate) name: String,
    pub(crate) span: Span,
    /// A known name that is spelled nearly so.
    pub(crate) near: Option<String>,
    /// What the name is, where it is something else: `an instrument`.
    pub(crate) else_is: Option<String>,
}

impl Finding for UnknownName {
    const PAGE: Page = page!("LN101", "ln101_unknown_name.md");

    fn show(&self, say: &mut Report) {
        if let Some(what) = &self.else_is {
            say.title(no_such(self.wanted, &self.name));
            say.label(self.span, format!("{} is {what}", self.name));
            say.consequence(
                "the line means one thing and names another: the fitter would be sent to the wrong one",
            );
        } else {
            nobody_knows(self.wanted, &self.name, self.span, say);
        }
        if let Some(near) = &self.near {
            say.mend_with(format!("did you mean {near}?"), self.span, near);
        } else if self.else_is.is_some() {
            say.mend(format!("name {} here", with_article(self.wanted)));
        } else if let Some(mend) = of_vocabulary(self.wanted) {
            say.mend(mend);
        } else {
            say.mend(format!("declare {}, or name another {}", self.name, self.wanted));
        }
    }
}

/// A figure of a fastener that nobody knows, with several near it: which one it is stands on the drawing.
pub(crate) struct UnknownFigure {
    /// `thread`, `strength class`
    pub(crate) wanted: &'static str,
    pub(crate) name: String,
    pub(crate) span: Span,
    /// Those that come near.
    pub(crate) near: Vec<String>,
}

impl Finding for UnknownFigure {
    const PAGE: Page = UnknownName::PAGE;

    fn show(&self, say: &mut Report) {
        nobody_knows(self.wanted, &self.name, self.span, say);
        let near = listed(&self.near, "or");
        say.mend(format!("look it up again at its source: is {near} meant?"));
    }
}

fn no_such(wanted: &str, name: &str) -> String {
    format!("there is no {wanted} called {name}")
}

fn nobody_knows(wanted: &str, name: &str, span: Span, say: &mut Report) {
    say.title(no_such(wanted, name));
    say.label(span, "declared nowhere that this line can see");
    say.consequence(
        "nobody can tell what the line speaks of: it cannot be printed, and nothing is proved of it",
    );
}

/// Of what the standard library has: what is named there. Nobody declares a kind for one line.
fn of_vocabulary(wanted: &str) -> Option<&'static str> {
    match wanted {
        "kind of quantity" => Some(
            "name a kind of the vocabulary, such as length, force, torque or ratio (a share of something); the reference lists them all",
        ),
        "strength class" => Some(
            "name the class of the bolts, such as 8.8, for nuts, too; or declare a class of your own with its stresses, with a line strength",
        ),
        _ => None,
    }
}

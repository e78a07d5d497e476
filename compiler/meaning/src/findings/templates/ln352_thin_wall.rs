//! LN352: less is left of a template than its author wants.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A wall thinner than stated.
pub(crate) struct ThinWall {
    /// As said.
    pub(crate) template: String,
    pub(crate) place: Span,
    pub(crate) beside: Beside,
    pub(crate) left: String,
    /// What is stated, as written.
    pub(crate) wanted: String,
}

/// What stands on the other side of the wall.
pub(crate) enum Beside {
    Edge,
    Other(Span),
    /// Another hole of the same line.
    OneLine,
}

impl Finding for ThinWall {
    const PAGE: Page = page!("LN352", "ln352_thin_wall.md");

    fn show(&self, say: &mut Report) {
        let (left, wanted) = (&self.left, &self.wanted);
        let between = match &self.beside {
            Beside::Edge => "between a cut and the edge",
            Beside::Other(_) => "between two cuts",
            Beside::OneLine => "between two holes",
        };
        say.title(format!("{between} of the {} only {left} is left", self.template));
        say.label(self.place, format!("at least {wanted} is wanted, and {left} is left"));
        if let Beside::Other(other) = &self.beside {
            say.label(*other, "beside this");
        }
        say.consequence("so thin a wall tears when it is cut or handled, and a gasket leaks there");
        say.mend(format!(
            "leave {wanted} or more: move the cut, make it smaller, or say how little is enough"
        ));
    }
}

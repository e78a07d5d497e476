//! LN710: a block of people side by side that is not one.

use locknut_finding::{Finding, Page, Report, Span, page};

/// `together` whose lanes do not part the work among people.
pub(crate) struct NotSideBySide {
    pub(crate) at: Span,
    pub(crate) fault: LaneFault,
}

/// What is wrong with a lane.
pub(crate) enum LaneFault {
    /// Fewer than two.
    Few { lanes: usize },
    /// One person has two.
    Twice { role: String, first: Span },
    /// Nothing to do in it.
    Idle { role: String },
    /// A line that stands in no lane.
    Stray,
    /// Somebody else is named in it.
    Other { lane: String },
    /// A block inside a lane.
    Inside { lane: String },
}

impl Finding for NotSideBySide {
    const PAGE: Page = page!("LN710", "ln710_not_side_by_side.md");

    fn show(&self, say: &mut Report) {
        match &self.fault {
            LaneFault::Few { lanes } => {
                let there = if *lanes == 0 { "nobody" } else { "only one person" };
                say.title(format!("“together” with {there} in it"));
                say.label(self.at, "people work side by side when there are two of them");
                say.mend("give each person their own lane: together { fitter { … } mate { … } }");
            }
            LaneFault::Twice { role, first } => {
                say.title(format!("the {role} has two lanes"));
                say.label(self.at, "a second lane for the same person");
                say.label(*first, "the first is here");
                say.consequence("nobody can do two things at once");
                say.mend("put the steps of both lanes into one");
            }
            LaneFault::Idle { role } => {
                say.title(format!("the {role} has nothing to do here"));
                say.label(self.at, "this lane is empty");
                say.mend("take the lane out, or write what is done in it");
            }
            LaneFault::Stray => {
                say.title("this line stands in no lane");
                say.label(self.at, "who does it, beside whom?");
                say.mend("put it into one of the lanes, or ahead of the block");
            }
            LaneFault::Other { lane } => {
                say.title(format!("somebody else is named in the lane of the {lane}"));
                say.label(self.at, "this is another person");
                say.consequence("two lanes would claim the same hands");
                say.mend("move the step into that person’s own lane, or behind the block");
            }
            LaneFault::Inside { lane } => {
                say.title(format!("the {lane} cannot split up any further"));
                say.label(self.at, "people side by side, inside the lane of one of them");
                say.mend("give everybody a lane in the outer block");
            }
        }
    }
}

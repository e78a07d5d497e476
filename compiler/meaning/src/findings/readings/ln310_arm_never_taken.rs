//! LN310: an arm that no reading takes.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A dead arm.
pub(crate) struct ArmNeverTaken {
    pub(crate) name: String,
    pub(crate) arm: String,
    pub(crate) span: Span,
    pub(crate) can_be: String,
    pub(crate) bounded_by: String,
}

impl Finding for ArmNeverTaken {
    const PAGE: Page = page!("LN310", "ln310_arm_never_taken.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!("{} never takes the arm “{}”", self.name, self.arm));
        say.label(self.span, format!("it can only be {}", self.can_be));
        say.consequence("what stands behind this arm is never done");
        say.note(self.bounded_by.clone());
        say.mend("look again at what is expected and at the limit of the arm; where no such reading can come, take the arm out");
    }
}

/// What stands behind a way of a `when`.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Behind {
    /// What is done where it is so.
    Holds,
    /// Its `otherwise`.
    Otherwise,
    /// Nothing: there is no `otherwise`.
    Nothing,
}

/// A `when` whose figure never comes out so.
pub(crate) struct NeverSo {
    /// `2 * gap over 60 mm`
    pub(crate) written: String,
    pub(crate) at: Span,
    pub(crate) can_be: String,
    pub(crate) behind: Behind,
}

impl Finding for NeverSo {
    const PAGE: Page = ArmNeverTaken::PAGE;
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        let Self { written, can_be, .. } = self;
        say.title(match self.behind {
            Behind::Otherwise => {
                format!("“{written}” is always so here, and its “otherwise” is never done")
            }
            Behind::Holds => {
                format!("“{written}” is never so here, and what stands behind it is never done")
            }
            Behind::Nothing => format!("“{written}” is always so here, and decides nothing"),
        });
        say.label(self.at, format!("what is asked about can only be {can_be} here"));
        say.consequence(if self.behind == Behind::Nothing {
            "the line looks as if something were left out where it need not be done"
        } else {
            "what was written for this case waits on the sheet for readings that cannot come"
        });
        say.mend("take it out, or correct the figure that is asked, or what the lines before it let through");
    }
}

/// A choice whose `otherwise` is dead.
pub(crate) struct AlwaysFits {
    pub(crate) name: String,
    pub(crate) otherwise: Span,
    pub(crate) rests_on: Vec<Span>,
}

impl Finding for AlwaysFits {
    const PAGE: Page = ArmNeverTaken::PAGE;
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "some {} fits whatever is read, and the “otherwise” is never done",
            self.name
        ));
        say.label(self.otherwise, "nobody comes here");
        self.rests_on.iter().for_each(|span| say.rests_on(*span));
        say.consequence(
            "what was written for this case waits on the sheet for readings that cannot come",
        );
        say.mend("take it out, or expect more at the readings, where more may come");
    }
}

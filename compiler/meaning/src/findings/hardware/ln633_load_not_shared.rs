//! LN633: a load on a whole joint of which nobody can tell what each fastener bears.

use locknut_finding::{Finding, Page, Report, Span, page};
use locknut_graph::Unshared;

/// Why nobody can tell it.
#[derive(Clone, Copy)]
pub(crate) enum WhyNotShared {
    HowMany,
    Nowhere,
    InLine,
}

impl From<Unshared> for WhyNotShared {
    fn from(why: Unshared) -> Self {
        match why {
            Unshared::Nowhere => Self::Nowhere,
            Unshared::InLine => Self::InLine,
        }
    }
}

/// A load that cannot be shared out.
pub(crate) struct LoadNotShared {
    pub(crate) thing: String,
    pub(crate) load: String,
    pub(crate) span: Span,
    pub(crate) why: WhyNotShared,
    /// It is a moment alone: nothing pulls in their middle, and nothing can be shared evenly.
    pub(crate) moment: bool,
}

impl Finding for LoadNotShared {
    const PAGE: Page = page!("LN633", "ln633_load_not_shared.md");

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "nobody can tell what each of the {} bears of {}",
            self.thing, self.load
        ));
        say.label(
            self.span,
            match self.why {
                WhyNotShared::HowMany if self.moment => {
                    "it tips the joint, and nobody says how many hold against it"
                }
                WhyNotShared::HowMany => "it is shared, and nobody says how many they are",
                WhyNotShared::Nowhere => {
                    "it tips the joint, and nobody says how far apart they stand"
                }
                WhyNotShared::InLine => {
                    "it may tip the joint across the line in which they stand, and nothing holds it there"
                }
            },
        );
        say.consequence(
            "the one that bears most is not found: the joint may open there, though all of them together would hold the load",
        );
        match self.why {
            WhyNotShared::HowMany => say.mend("say how many they are: “8 of M10 class 8.8 dry”"),
            WhyNotShared::Nowhere => {
                say.mend("say where they stand: “on pitch circle 180 mm”, “on rectangle 4 x 2 of 240 x 80 mm”, “in a row of 240 mm” or “on points …”");
                if !self.moment {
                    say.mend("or, where it pulls in their middle, “shared evenly”");
                }
            }
            WhyNotShared::InLine if self.moment => {
                say.mend("declare all that hold the joint as one set, “on points …”");
            }
            WhyNotShared::InLine => {
                say.mend("where it pulls along the line, say to which side: “shared at 60 x 0 mm off the middle”");
                say.mend("or declare all that hold the joint as one set, “on points …”");
            }
        }
    }
}

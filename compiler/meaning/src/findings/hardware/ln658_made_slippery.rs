//! LN658: a fastener whose figure is for one condition is brought into another.

use locknut_finding::{Finding, Page, Report, Span, page};

/// Oil on threads that are declared dry, and the like.
pub(crate) struct MadeSlippery {
    pub(crate) act: Span,
    pub(crate) thing: String,
    pub(crate) declared: Span,
    /// `dry`
    pub(crate) is: String,
    /// `oiled`
    pub(crate) becomes: String,
    pub(crate) consumable: String,
    /// What something does that makes them as they are declared: `moly-greases`; none: they are so as delivered.
    pub(crate) made_by: Option<String>,
}

impl Finding for MadeSlippery {
    const PAGE: Page = page!("LN658", "ln658_made_slippery.md");

    fn show(&self, say: &mut Report) {
        let Self { act, thing, declared, is, becomes, consumable, made_by } = self;
        say.title(format!(
            "the {thing} are declared {is}, and with {consumable} they are {becomes}"
        ));
        say.label(*act, format!("{becomes} from here on"));
        say.label(*declared, format!("the figure is for {is} threads"));
        say.consequence("a torque holds for one condition of the threads: in another the bolt stretches or snaps, or the joint stays loose");
        if let Some(does) = made_by {
            say.mend(format!(
                "if {consumable} is what makes them {is}, let its line say so: {{ {does} }}; if not, apply in its place what does"
            ));
            return say.mend(format!("or declare them {becomes} and give the figure for that"));
        }
        say.mend(format!(
            "leave this line out, or declare them {becomes} and give the figure for that"
        ));
    }
}

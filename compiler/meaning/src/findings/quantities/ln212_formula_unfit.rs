//! LN212: a formula does not fit together.

use crate::findings::names::listed;
use locknut_finding::{Finding, Page, Report, Span, page};

/// A formula whose kinds or figures do not fit.
pub(crate) struct FormulaUnfit {
    pub(crate) place: Span,
    pub(crate) fault: FormulaFault,
}

/// How.
pub(crate) enum FormulaFault {
    /// What is added up is not alike.
    Apart { one: String, other: String },
    /// It gives something else than it says.
    GivesOther { gives: String, wanted: String, units: Vec<String> },
    /// A kind that is multiplied with numbers alone.
    NoDimension { of: String },
    /// One name for two figures.
    Twice { name: String },
    /// More or fewer figures are handed in than it works from.
    Count { wants: Vec<String>, given: usize },
    /// Its unit is of another kind.
    Unit { of: String, fitting: Vec<String> },
    /// It divides by 0.
    ByNothing,
    /// Something in it that no formula can have.
    Form,
}

impl Finding for FormulaUnfit {
    const PAGE: Page = page!("LN212", "ln212_formula_unfit.md");

    fn show(&self, say: &mut Report) {
        let place = self.place;
        match &self.fault {
            FormulaFault::Apart { one, other } => {
                say.title(format!("{one} and {other} are added up"));
                say.label(place, "these do not add up");
                say.mend("look which side lacks a factor, or has one too many");
            }
            FormulaFault::GivesOther { gives, wanted, units } => {
                say.title(format!("this formula gives {gives}, and not {wanted}"));
                say.label(
                    place,
                    if units.is_empty() {
                        format!("{wanted} is wanted here")
                    } else {
                        format!("{wanted} is told in {}", listed(units, "or"))
                    },
                );
                say.mend(
                    "look whether a square or a factor is missing, or say the kind that it gives",
                );
            }
            FormulaFault::NoDimension { of } => {
                say.title(format!("a formula cannot work with {of}"));
                say.label(place, "it is multiplied with plain numbers alone");
                say.mend("use a difference, or a kind that is counted from nothing: a temperature difference, a frequency");
            }
            FormulaFault::Twice { name } => {
                say.title(format!("the formula works from two figures called {name}"));
                say.label(place, "again here");
                say.mend("give each a name of its own");
            }
            FormulaFault::Count { wants, given } => {
                say.title(format!(
                    "the formula works from {} figures, and is given {given}",
                    wants.len()
                ));
                say.label(place, format!("it wants {}", listed(wants, "and")));
                say.mend(format!("hand in {}, in this order", listed(wants, "and")));
            }
            FormulaFault::Unit { of, fitting } => {
                say.title(format!("{of} is not shown in this unit"));
                say.label(place, "a unit of another kind, or of none");
                say.mend(format!("write one of {}", listed(fitting, "or")));
            }
            FormulaFault::ByNothing => {
                say.title("this formula divides by 0");
                say.label(place, "nothing comes out of this");
                say.mend("look which figure is missing below the line");
            }
            FormulaFault::Form => {
                say.title("a formula works with figures, +, -, *, / and small powers alone");
                say.label(place, "this is none of them");
                say.mend("work it out where the formula is used, and hand the result in");
            }
        }
        say.consequence(
            "the figure that the technician is held to would be wrong, and would look right",
        );
    }
}

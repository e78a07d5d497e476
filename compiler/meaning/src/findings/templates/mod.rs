//! `LN35x`: templates that cannot be cut, or that say something else than the text.

mod ln350_cut_outside;
mod ln351_cuts_meet;
mod ln352_thin_wall;
mod ln353_template_unfit;
mod ln354_card_apart;

pub(crate) use ln350_cut_outside::{CutOutside, Outside};
pub(crate) use ln351_cuts_meet::{CutsMeet, Meeting};
pub(crate) use ln352_thin_wall::{Beside, ThinWall};
pub(crate) use ln353_template_unfit::{TemplateFault, TemplateUnfit};
pub(crate) use ln354_card_apart::CardApart;

use locknut_finding::{Finding, Page};

/// The pages of this family.
pub(crate) const PAGES: &[Page] =
    &[CutOutside::PAGE, CutsMeet::PAGE, ThinWall::PAGE, TemplateUnfit::PAGE, CardApart::PAGE];

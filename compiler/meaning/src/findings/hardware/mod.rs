//! `LN6xx` that show while an act is read: figures and contents that differ from the machine's.

mod ln633_load_not_shared;
mod ln651_figure_differs;
mod ln652_no_figure;
mod ln653_torque_after_angle;
mod ln654_other_content;
mod ln655_pattern_does_not_fit;
mod ln656_mixed_classes;
mod ln657_not_made;
mod ln658_made_slippery;
mod ln659_turned_too_far;
mod ln660_two_figures;

pub(crate) use ln633_load_not_shared::{LoadNotShared, WhyNotShared};
pub(crate) use ln651_figure_differs::FigureDiffers;
pub(crate) use ln652_no_figure::NoFigure;
pub(crate) use ln653_torque_after_angle::TorqueAfterAngle;
pub(crate) use ln654_other_content::OtherContent;
pub(crate) use ln655_pattern_does_not_fit::PatternDoesNotFit;
pub(crate) use ln656_mixed_classes::MixedClasses;
pub(crate) use ln657_not_made::NotMade;
pub(crate) use ln658_made_slippery::MadeSlippery;
pub(crate) use ln659_turned_too_far::TurnedTooFar;
pub(crate) use ln660_two_figures::TwoFigures;

use locknut_finding::{Finding, Page};

/// The pages of this family.
pub(crate) const PAGES: &[Page] = &[
    LoadNotShared::PAGE,
    FigureDiffers::PAGE,
    NoFigure::PAGE,
    TorqueAfterAngle::PAGE,
    OtherContent::PAGE,
    PatternDoesNotFit::PAGE,
    MixedClasses::PAGE,
    NotMade::PAGE,
    MadeSlippery::PAGE,
    TurnedTooFar::PAGE,
    TwoFigures::PAGE,
];

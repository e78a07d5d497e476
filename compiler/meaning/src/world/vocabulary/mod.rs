//! What a vocabulary declares: kinds, units, elements, figures.

mod element;
mod element_act;
mod figure;
mod kind;
mod unit;

pub(super) use element::{elements, verbs};
pub(super) use figure::figures;
pub(super) use kind::kinds;
pub(super) use unit::units;

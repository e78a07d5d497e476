//! Which acts of an element tighten it, bring it to where it can be tightened, let it go and take it out: told by where
//! they begin and end, so that an element of an author's own is known as well.

use crate::world::{ElementAct, ElementKind};

/// An act that is told how far: `tighten`.
pub(super) fn tightens(act: &ElementAct) -> bool {
    act.takes.contains("figure")
}

/// From outside to where it can be tightened: `fit`, `renew`.
pub(super) fn brings_in(element: &ElementKind, act: &ElementAct) -> bool {
    !act.from.is_empty()
        && !tightens(act)
        && !act.from.iter().any(|from| inside(element, *from))
        && act.to.is_some_and(|to| can_be_tightened(element, to))
}

/// From where it is tight, or can be tightened, to outside: `remove`.
pub(super) fn takes_out(element: &ElementKind, act: &ElementAct) -> bool {
    act.from.iter().any(|from| inside(element, *from))
        && act.to.is_some_and(|to| !inside(element, to))
}

/// From where it is tight to where it is not: `slacken`.
pub(super) fn lets_go(element: &ElementKind, act: &ElementAct) -> bool {
    act.from.iter().any(|from| is_tight(element, *from))
        && act.to.is_some_and(|to| !is_tight(element, to))
}

/// Where it is tight, or can be tightened.
pub(super) fn inside(element: &ElementKind, value: u8) -> bool {
    is_tight(element, value) || can_be_tightened(element, value)
}

fn is_tight(element: &ElementKind, value: u8) -> bool {
    element.acts.values().any(|act| tightens(act) && act.to == Some(value))
}

fn can_be_tightened(element: &ElementKind, value: u8) -> bool {
    element.acts.values().any(|act| tightens(act) && act.from.contains(&value))
}

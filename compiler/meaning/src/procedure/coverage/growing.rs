//! Errors that grow with what is read: of a sum they are taken where its limit lies, and not where it is greatest.
//!
//! Where readings are never below their zero and none counts against another, so much per cent of each of them is no more
//! than so much of the sum: `Σ weight × share × reading ≤ greatest share × Σ weight × reading`. The greatest, the smallest
//! and the mean of several points are off by no more than such a point would be there.

use super::error::Uncertain;
use super::linear::Linear;
use super::{Known, Knowns};
use locknut_graph::{Doubt, InstrumentError};
use locknut_quantity::{Exact, Range};
use num_traits::{Signed, Zero};
use std::collections::BTreeMap;

/// An error of a value that is never below `zero`: no greater than `constant + share × (value − zero)`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Growing {
    constant: Exact,
    share: Exact,
    zero: Exact,
}

impl Growing {
    /// Of what an instrument shows; none where it does not grow, or may lie on both sides of its zero.
    pub(crate) fn of(error: &InstrumentError, shown: &Range) -> Option<Self> {
        let above = shown.lower.as_ref().is_some_and(|lower| lower.value >= error.zero);
        (error.of_reading.is_positive() && above).then(|| Self {
            constant: error.constant(),
            share: error.of_reading.clone(),
            zero: error.zero.clone(),
        })
    }

    /// Of whichever of some is the greatest, or the smallest.
    pub(super) fn of_any(all: &[Uncertain]) -> Option<Self> {
        let all: Option<Vec<&Self>> = all.iter().map(|one| one.grows.as_ref()).collect();
        let all = all?;
        let zero = all.first()?.zero.clone();
        Some(Self {
            constant: all.iter().map(|one| one.constant.clone()).max()?,
            share: all.iter().map(|one| one.share.clone()).max()?,
            zero: Some(zero).filter(|zero| all.iter().all(|one| one.zero == *zero))?,
        })
    }

    /// What it is at a value.
    pub(super) fn at(&self, value: &Exact) -> Exact {
        &self.constant + &self.share * (value - &self.zero).max(Exact::zero())
    }

    /// The same, as limits are guarded with it.
    pub(super) fn doubt(&self) -> Doubt {
        let doubt = Doubt::within(self.constant.clone());
        let bound = (self.constant.clone(), self.share.clone());
        Doubt { bound, zero: self.zero.clone(), ..doubt }
    }
}

impl Linear {
    /// How its error grows with it; none where it does not, where readings that grow count against it, or where of some
    /// reading nothing is stated.
    pub(super) fn grows(&self, knowns: &Knowns) -> Option<Growing> {
        let (mut constant, mut share) = (Exact::zero(), Exact::zero());
        // What of it does not grow, and the zeros of what does: it is never below these.
        let mut rest = Self { constant: self.constant.clone(), terms: BTreeMap::new() };
        for (reading, of_reading) in self.shares() {
            let known: &Known = knowns.get(reading)?;
            let doubt = known.doubt.as_ref()?;
            let Some(grows) = &doubt.grows else {
                let steepest = of_reading.steepest(known.points.max(1));
                constant += doubt.error.as_ref()? * steepest;
                let terms = self.terms.iter().filter(|(atom, _)| atom.reading() == reading);
                rest.terms.extend(terms.map(|(atom, weight)| (*atom, weight.clone())));
                continue;
            };
            if of_reading.weights().any(Signed::is_negative) {
                return None;
            }
            let weight = of_reading.weights().fold(Exact::zero(), |sum, weight| sum + weight);
            constant += &grows.constant * &weight;
            rest.constant += &grows.zero * &weight;
            share = share.max(grows.share.clone());
        }
        if share.is_zero() {
            return None;
        }
        let zero = rest.possible(knowns).range.lower?.value;
        Some(Growing { constant, share, zero })
    }
}

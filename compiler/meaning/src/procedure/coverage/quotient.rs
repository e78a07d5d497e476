//! One sum by another: in each reading it only ever rises or only ever falls while the divisor keeps its sign, so that
//! its ends lie where readings stand at ends of their own, or where what was settled of a sum of them stands at its end.

use super::ends::Ends;
use super::known::Settled;
use super::linear::{Atom, Linear, MOST_SETTLED, MOST_SINGLE_POINTS, linear};
use super::{Knowns, Possible};
use locknut_graph::{Expression, Operator};
use locknut_quantity::{Bound, Exact, Range};
use num_traits::{Signed, Zero};
use std::collections::BTreeSet;

/// Above so many readings the edges between corners are not tried one by one.
const MOST_READINGS_SETTLED: usize = 6;

/// The least and the greatest; none where nothing ties the two sums together, or where the divisor may be nought.
pub(super) fn quotient_ends(of: &Expression, by: &Expression, knowns: &Knowns) -> Option<Ends> {
    let quotient = Quotient { of: linear(of, knowns)?, by: linear(by, knowns)? };
    let atoms = quotient.atoms();
    let touches = |(sum, _): &Settled<'_>| sum.terms.keys().any(|atom| atoms.contains(atom));
    let mut settled: Vec<Settled<'_>> = knowns.settled().filter(touches).collect();
    settled.drain(..settled.len().saturating_sub(MOST_SETTLED));
    let apart = quotient.of.terms.keys().all(|atom| !quotient.by.terms.contains_key(atom));
    if apart && settled.is_empty() {
        return None;
    }
    let whole = sides(&atoms, knowns, MOST_SINGLE_POINTS).map(|sides| corners(&sides));
    let over = settled.into_iter().map(|one| {
        let all: BTreeSet<Atom> = atoms.iter().chain(one.0.terms.keys()).copied().collect();
        Some(within(&sides(&all, knowns, MOST_READINGS_SETTLED)?, one))
    });
    let ends = std::iter::once(whole).chain(over).filter_map(|corners| quotient.over(&corners?));
    ends.reduce(|all, one| all.met(&one))
}

struct Quotient {
    of: Linear,
    by: Linear,
}

impl Quotient {
    fn atoms(&self) -> BTreeSet<Atom> {
        self.of.terms.keys().chain(self.by.terms.keys()).copied().collect()
    }

    /// From the least to the greatest at these corners; none where the divisor changes its sign.
    fn over(&self, corners: &[Corner]) -> Option<Ends> {
        let all: Vec<(Exact, Exact)> =
            corners.iter().map(|corner| (at(&self.of, corner), at(&self.by, corner))).collect();
        let positive = all.iter().all(|(_, by)| by.is_positive());
        let negative = all.iter().all(|(_, by)| by.is_negative());
        let signed = !all.is_empty() && (positive || negative);
        signed.then(|| Ends::around(all.into_iter().map(|(of, by)| of / by)))
    }
}

/// A value for each of some readings.
type Corner = Vec<(Atom, Exact)>;

/// A reading with its ends.
type Side = (Atom, Exact, Exact);

/// The ends of each reading, what was settled of sums with it taken into account; none where one has no end, is no
/// single point, or where there are too many.
fn sides(atoms: &BTreeSet<Atom>, knowns: &Knowns, most: usize) -> Option<Vec<Side>> {
    let side = |atom: &Atom| {
        let Atom::Point(..) = atom else { return None };
        let Ends { low, high } = Ends::of(&Linear::of(*atom).possible(knowns).range);
        Some((*atom, low?, high?))
    };
    if atoms.len() > most {
        return None;
    }
    atoms.iter().map(side).collect()
}

/// Every choice of ends.
fn corners(sides: &[Side]) -> Vec<Corner> {
    sides.iter().fold(vec![Corner::new()], |corners, (atom, low, high)| {
        let with = |corner: &Corner, end: &Exact| {
            let mut corner = corner.clone();
            corner.push((*atom, end.clone()));
            corner
        };
        corners.iter().flat_map(|corner| [with(corner, low), with(corner, high)]).collect()
    })
}

/// The corners of what a settled sum leaves: those inside, and where an edge between two of them meets its ends.
fn within(sides: &[Side], (sum, range): Settled<'_>) -> Vec<Corner> {
    let (all, Ends { low, high }) = (corners(sides), Ends::of(range));
    let inside = |corner: &&Corner| {
        let value = at(sum, corner);
        low.as_ref().is_none_or(|low| *low <= value)
            && high.as_ref().is_none_or(|high| value <= *high)
    };
    let mut left: Vec<Corner> = all.iter().filter(inside).cloned().collect();
    for end in low.iter().chain(&high) {
        for (place, (atom, from, to)) in sides.iter().enumerate() {
            let Some(weight) = sum.terms.get(atom) else { continue };
            let begins =
                |corner: &&Corner| corner.get(place).is_some_and(|(_, value)| value == from);
            for corner in all.iter().filter(begins) {
                let value = from + (end - at(sum, corner)) / weight;
                if *from < value && value < *to {
                    let mut met = corner.clone();
                    met.get_mut(place).into_iter().for_each(|(_, own)| own.clone_from(&value));
                    left.push(met);
                }
            }
        }
    }
    left
}

/// What a sum comes to at a corner.
fn at(sum: &Linear, corner: &Corner) -> Exact {
    let terms = corner.iter().filter_map(|(atom, value)| Some(sum.terms.get(atom)? * value));
    terms.fold(sum.constant.clone(), |sum, term| sum + term)
}

/// The sums that are bounded where an expression is known to lie in a range, each with its own; none where it is
/// neither a sum nor one sum by another that keeps its sign.
pub(crate) fn settled_sums(
    expression: &Expression,
    range: &Range,
    knowns: &Knowns,
) -> Vec<(Linear, Range)> {
    if let Some(sum) = linear(expression, knowns) {
        return vec![(sum, range.clone())];
    }
    let Expression::Binary(Operator::Divide, of, by) = expression else { return Vec::new() };
    let (Some(of), Some(by)) = (linear(of, knowns), linear(by, knowns)) else { return Vec::new() };
    let Possible { range: divisor, .. } = by.possible(knowns);
    let positive = divisor.lower.as_ref().is_some_and(|low| low.value.is_positive());
    let negative = divisor.upper.as_ref().is_some_and(|high| high.value.is_negative());
    if !positive && !negative {
        return Vec::new();
    }
    // of ÷ by ≤ end is of − end × by ≤ 0 where the divisor is positive, and the other way round where it is not.
    let against = |end: &Bound, upper: bool| {
        let less = of.clone().plus(by.clone().times(&-end.value.clone()));
        let nought = Bound { value: Exact::zero(), closed: end.closed };
        let range = if upper == positive {
            Range { lower: None, upper: Some(nought) }
        } else {
            Range { lower: Some(nought), upper: None }
        };
        (less, range)
    };
    let upper = range.upper.iter().map(|end| against(end, true));
    range.lower.iter().map(|end| against(end, false)).chain(upper).collect()
}

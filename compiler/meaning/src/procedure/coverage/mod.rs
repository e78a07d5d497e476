//! What a reading can come to, and whether arms, limits or members cover all of it.
//!
//! Everything is exact and speaks of the digits that the instrument can show: between `at most 0.20`
//! and `at least 0.21` nothing is missing on a gauge that shows hundredths. Pure: no tree, no names.

mod choice;
mod digits;
mod ends;
mod error;
mod growing;
#[cfg(test)]
mod growing_tests;
mod known;
mod linear;
mod pieces;
mod quotient;
#[cfg(test)]
mod settled_tests;
#[cfg(test)]
mod table_tests;
#[cfg(test)]
mod tests;

pub(crate) use choice::{Cover, Subject, cover, idle};
pub(crate) use ends::possible;
pub(crate) use error::{Uncertain, other_side, uncertain};
pub(crate) use growing::Growing;
pub(crate) use known::{Known, Knowns, Rows};
pub(crate) use linear::{Atom, Linear, linear};
pub(crate) use pieces::{Piece, pieces};
pub(crate) use quotient::settled_sums;

use locknut_quantity::{Bound, Exact, Grid, Range};

/// The values that a reading or a computed value may have.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Possible {
    /// From the least to the greatest.
    pub(crate) range: Range,
    /// Between them only these; none: every value.
    pub(crate) grid: Option<Grid>,
}

impl Possible {
    /// One of these, which come in ascending order.
    pub(crate) fn one_of<'a>(values: impl IntoIterator<Item = &'a Exact>) -> Self {
        let mut values = values.into_iter();
        let Some(first) = values.next() else { return Self::default() };
        let (mut last, mut step) = (first, None);
        for value in values {
            last = value;
            let away = value - first;
            step = Some(match step {
                Some(step) => linear::common_step(&step, &away),
                None => away,
            });
        }
        // A single value lies on any grid that it begins.
        let step = step.unwrap_or_else(|| Exact::from_integer(1.into()));
        let grid = Grid::new(first.clone(), step);
        Self { range: Range::closed(first.clone(), last.clone()), grid }
    }

    /// What is possible within a narrower stretch: `usually 0.5 .. 2.9 mm`.
    pub(crate) fn narrowed(&self, to: &Range) -> Self {
        Self { range: self.range.intersect(to), grid: self.grid.clone() }
    }

    /// The part of a range whose values can occur, its ends drawn in to the grid; none where there is
    /// no such value.
    pub(crate) fn within(&self, range: &Range) -> Option<Range> {
        let inside = self.range.intersect(range);
        let drawn = match &self.grid {
            Some(grid) => grid.draw_in(&inside),
            None => inside,
        };
        if drawn.is_empty() { None } else { Some(drawn) }
    }
}

/// A stretch that nothing covers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Gap {
    /// From where the last piece ends to where the next begins.
    pub(crate) between: Range,
    /// The first and the last possible value in it.
    pub(crate) shown: Range,
}

/// The stretches of what is possible that no piece covers, from low to high.
pub(crate) fn uncovered(possible: &Possible, pieces: &[Range]) -> Vec<Gap> {
    let mut gaps = Vec::new();
    let mut add = |from: Option<&Bound>, to: Option<&Bound>| {
        let between = Range { lower: from.cloned(), upper: to.map(beside) };
        let between = possible.range.intersect(&between);
        gaps.extend(possible.within(&between).map(|shown| Gap { between, shown }));
    };
    // Where the stretch begins that is not yet known to be covered.
    let mut from = possible.range.lower.clone();
    for piece in from_low_to_high(pieces) {
        if let Some(lower) = &piece.lower {
            add(from.as_ref(), Some(lower));
        }
        let Some(upper) = &piece.upper else { return gaps };
        let beyond = beside(upper);
        if from.as_ref().is_none_or(|from| begins_before(from, &beyond)) {
            from = Some(beyond);
        }
    }
    add(from.as_ref(), None);
    gaps
}

/// Pairs of pieces that both hold some possible value, with the stretch that they share; for each
/// piece at most one pair.
pub(crate) fn doubled(possible: &Possible, pieces: &[Range]) -> Vec<(usize, usize, Range)> {
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    let lower = |position: &usize| pieces.get(*position).and_then(|piece| piece.lower.clone());
    order.sort_by(|a, b| by_beginning(lower(a).as_ref(), lower(b).as_ref()));
    let mut pairs = Vec::new();
    // Of the pieces so far the one that reaches furthest: whatever is shared, is shared with it.
    let mut furthest: Option<(usize, &Range)> = None;
    for position in order {
        let Some(piece) = pieces.get(position).filter(|piece| !piece.is_empty()) else { continue };
        if let Some((other, reaching)) = furthest
            && let Some(shared) = possible.within(&reaching.intersect(piece))
        {
            pairs.push((other.min(position), other.max(position), shared));
        }
        if furthest.is_none_or(|(_, reaching)| ends_before(reaching, piece)) {
            furthest = Some((position, piece));
        }
    }
    pairs
}

fn from_low_to_high(pieces: &[Range]) -> Vec<&Range> {
    let mut sorted: Vec<&Range> = pieces.iter().filter(|piece| !piece.is_empty()).collect();
    sorted.sort_by(|a, b| by_beginning(a.lower.as_ref(), b.lower.as_ref()));
    sorted
}

/// The end of whatever lies straight beside a range that ends here.
fn beside(bound: &Bound) -> Bound {
    Bound { value: bound.value.clone(), closed: !bound.closed }
}

fn by_beginning(a: Option<&Bound>, b: Option<&Bound>) -> core::cmp::Ordering {
    match (a, b) {
        (None, None) => core::cmp::Ordering::Equal,
        (None, Some(_)) => core::cmp::Ordering::Less,
        (Some(_), None) => core::cmp::Ordering::Greater,
        (Some(a), Some(b)) => a.value.cmp(&b.value).then(b.closed.cmp(&a.closed)),
    }
}

fn begins_before(a: &Bound, b: &Bound) -> bool {
    by_beginning(Some(a), Some(b)).is_lt()
}

fn ends_before(a: &Range, b: &Range) -> bool {
    match (&a.upper, &b.upper) {
        (None, _) => false,
        (Some(_), None) => true,
        (Some(a), Some(b)) => (&a.value, a.closed) < (&b.value, b.closed),
    }
}

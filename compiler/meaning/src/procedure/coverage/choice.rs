//! Whether some member of a choice fits every reading that may occur.

use super::{Atom, Gap, Knowns, Possible, doubled, linear, uncovered};
use locknut_graph::{Expression, ReadingId};
use locknut_quantity::{Bound, Exact, Grid, Range};
use num_traits::{Signed, Zero};

/// What a choice covers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Cover {
    /// What the gaps are told in.
    pub(crate) of: Subject,
    /// Stretches for which no member fits.
    pub(crate) gaps: Vec<Gap>,
    /// Whether the gaps are told in values that an instrument shows one by one.
    pub(crate) grid: Option<Grid>,
    /// Whether no member ever fits.
    pub(crate) never: bool,
    /// Whether more than one member fits for some reading.
    pub(crate) several: bool,
    /// Whether the result depends on what is chosen at all.
    pub(crate) depends: bool,
}

/// What gaps are told in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Subject {
    /// A value of one reading.
    Atom(Atom),
    /// The result as it would be with nothing chosen.
    Bare,
}

/// Follows each member through `value` and looks what its fits leave uncovered; none where `value`
/// is no weighted sum of readings.
pub(crate) fn cover(
    value: &Expression,
    chosen: ReadingId,
    members: &[Exact],
    wanted: &Range,
    knowns: &Knowns,
) -> Option<Cover> {
    let (bare, weight) = linear(value, knowns)?.without(chosen);
    let possible = bare.possible(knowns);
    let fits = members.iter().map(|member| shifted(wanted, &-(&weight * member)));
    // What fits between two digits alone covers nothing, and parts no gap in two.
    let drawn = fits.filter_map(|fit| possible.within(&fit).map(|drawn| (fit, drawn)));
    let (fits, mut drawn): (Vec<Range>, Vec<Range>) = drawn.unzip();
    if weight.is_positive() {
        // The greater the member, the less the rest may be.
        drawn.reverse();
    }
    let never = fits.is_empty();
    let (gaps, several) = match seamless(&possible, &drawn) {
        Some(several) => (Vec::new(), several),
        None => (uncovered(&possible, &fits), !doubled(&possible, &fits).is_empty()),
    };
    let depends = !weight.is_zero();
    let mut terms = bare.terms.iter();
    let told = match (terms.next(), terms.next()) {
        (Some((atom, factor)), None) => Some((*atom, factor.clone())),
        _ => None,
    };
    Some(match told {
        Some((atom, factor)) => {
            let back = |gap: &Gap| Gap {
                between: solved(&gap.between, &bare.constant, &factor),
                shown: solved(&gap.shown, &bare.constant, &factor),
            };
            let grid = possible.grid.and_then(|grid| {
                let origin = (grid.origin() - &bare.constant) / &factor;
                Grid::new(origin, (grid.step() / &factor).abs())
            });
            let mut gaps: Vec<Gap> = gaps.iter().map(back).collect();
            if factor.is_negative() {
                gaps.reverse();
            }
            Cover { of: Subject::Atom(atom), gaps, grid, never, several, depends }
        }
        None => Cover { of: Subject::Bare, gaps, grid: possible.grid, never, several, depends },
    })
}

/// The members that fit for no reading, by position; none are told where `value` is no weighted sum.
pub(crate) fn idle(
    value: &Expression,
    chosen: ReadingId,
    members: &[Exact],
    wanted: &Range,
    knowns: &Knowns,
) -> Vec<usize> {
    let Some(sum) = linear(value, knowns) else { return Vec::new() };
    let (bare, weight) = sum.without(chosen);
    let possible = bare.possible(knowns);
    let never = |member: &Exact| possible.within(&shifted(wanted, &-(&weight * member))).is_none();
    members.iter().enumerate().filter(|(_, member)| never(member)).map(|(at, _)| at).collect()
}

/// Where stretches that are drawn in to the grid, ascending, cover all of it: whether any two of them share
/// a value. None where they leave a gap, or where that is not so plain.
fn seamless(possible: &Possible, drawn: &[Range]) -> Option<bool> {
    let step = possible.grid.as_ref()?.step();
    let all = possible.within(&Range::default())?;
    let mut several = false;
    let mut reached = None;
    for stretch in drawn {
        let lower = &stretch.lower.as_ref()?.value;
        match reached {
            None if *lower == all.lower.as_ref()?.value => {}
            Some(reached) if lower <= reached => several = true,
            Some(reached) if lower - reached <= *step => {}
            _ => return None,
        }
        reached = Some(&stretch.upper.as_ref()?.value);
    }
    (reached == Some(&all.upper.as_ref()?.value)).then_some(several)
}

fn shifted(range: &Range, by: &Exact) -> Range {
    let shift = |bound: &Bound| Bound { value: &bound.value + by, closed: bound.closed };
    Range { lower: range.lower.as_ref().map(shift), upper: range.upper.as_ref().map(shift) }
}

/// The values of an atom for which `constant + factor × atom` lies in the range.
fn solved(range: &Range, constant: &Exact, factor: &Exact) -> Range {
    let solve =
        |bound: &Bound| Bound { value: (&bound.value - constant) / factor, closed: bound.closed };
    let (lower, upper) = (range.lower.as_ref().map(solve), range.upper.as_ref().map(solve));
    if factor.is_negative() { Range { lower: upper, upper: lower } } else { Range { lower, upper } }
}

//! Values in a reader's unit: never rounded outside the written limits, and with no more digits
//! than what was written can bear.
//!
//! The place of the last digit is the greatest that is (a) no coarser than one step of what the
//! author wrote, and (b) fine enough that rounding costs little: of a band at most a fifth of its
//! width, of a one-sided limit at most a twentieth of its figure, of a plain figure at most a
//! hundredth. So `0.15 mm` becomes 0.0059 inch, `1 inch` 25.4 mm and not 25, `60 000 km`
//! 37 280 miles and not 37 282.2715.

#[cfg(test)]
mod tests;

use crate::round::{digits, first_place, ten_to};
use crate::{Bound, Exact, Limit, Quantity, Range, Rounding, System, Unit, UnitId, Units};
use num_traits::{Signed, Zero};

/// A value as a reader sees it. Digits are ASCII; the sheet localises the point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// The digits, e.g. `0.014`.
    pub digits: String,
    /// The unit they are in.
    pub unit: UnitId,
    /// How many digits stand after the point.
    pub decimals: u32,
    /// What the digits say, in base units.
    pub value: Exact,
}

/// Trailing noughts of a figure without a point count as digits up to this many: `60 000` has three.
const DIGITS_OF_A_ROUND_FIGURE: i64 = 3;

/// A quantity in the reader's system (none: as written), rounded to nearest.
pub fn show(units: &Units, quantity: &Quantity, system: Option<System>) -> Shown {
    let turned = Turned::new(units, quantity.unit, system);
    let start = turned.start(quantity.decimals, &[&quantity.value]);
    turned.figure(&quantity.value, start)
}

/// The ends of a limit in the reader's system (none: as written), rounded inward.
///
/// A limit of a single value (`20 mm`) is a figure to set and not a band: it is rounded to nearest,
/// as no other value lies in it.
pub fn show_range(
    units: &Units,
    limit: &Limit,
    system: Option<System>,
) -> (Option<Shown>, Option<Shown>) {
    let turned = Turned::new(units, limit.unit, system);
    let lower = limit.range.lower.as_ref().map(|bound| &bound.value);
    let upper = limit.range.upper.as_ref().map(|bound| &bound.value);
    let start = turned.start(limit.decimals, &limit.range.ends());
    if let Some(value) = limit.range.single() {
        let figure = turned.figure(value, start);
        return (Some(figure.clone()), Some(figure));
    }
    let place = finer_until(start, |place| turned.keeps_enough(&limit.range, place));
    let end = |value: &Exact, rounding| turned.end(value, place, rounding);
    (lower.map(|value| end(value, Rounding::Up)), upper.map(|value| end(value, Rounding::Down)))
}

/// The ends of one arm among others over the same reading, in the reader's system (none: as written).
///
/// Where two arms meet they share one figure, with one digit more than the reading is read with: it goes
/// down where the lower arm takes the figure (`at most 4`, `over 4`), else up. So every reading with
/// those digits lies in the arm in which its exact value lies. Where an arm is a single value, all
/// round to nearest. `decimals` are those of the reading, in the unit in which it is written.
pub fn show_arm(
    units: &Units,
    arm: &Limit,
    all: &[&Limit],
    decimals: u32,
    system: Option<System>,
) -> (Option<Shown>, Option<Shown>) {
    let turned = Turned::new(units, arm.unit, system);
    let of = |limit: &&Limit| Turned::new(units, limit.unit, system);
    if all.iter().map(of).all(|one| one.own) {
        // As written, all with the digits of the finest.
        let decimals = all.iter().map(|limit| limit.decimals).fold(arm.decimals, u32::max);
        return show_range(units, &Limit { decimals, ..arm.clone() }, system);
    }
    // Where one is written in the reader's unit and another is turned into it, they share their digits all the same.
    let places = all.iter().map(|limit| {
        let turned = of(limit);
        let read = decimals_in(units, limit.unit, decimals, turned.unit);
        turned.start(limit.decimals, &limit.range.ends()).min(-i64::from(read) - 1)
    });
    let place = places.min().unwrap_or(0);
    let end = |bound: &Bound| turned.end(&bound.value, place, shared(&bound.value, all));
    (arm.range.lower.as_ref().map(end), arm.range.upper.as_ref().map(end))
}

/// Which way the figure goes at which arms meet.
fn shared(value: &Exact, all: &[&Limit]) -> Rounding {
    let takes = |bound: Option<&Bound>| bound.is_some_and(|it| it.closed && it.value == *value);
    if all.iter().any(|limit| limit.range.single() == Some(value)) {
        Rounding::Nearest
    } else if all.iter().any(|limit| takes(limit.range.lower.as_ref())) {
        Rounding::Up
    } else {
        Rounding::Down
    }
}

/// How many digits after the point a reading needs in another unit, so that one step there is at
/// most one step here: what a field for a reading shows.
pub fn decimals_in(units: &Units, from: UnitId, decimals: u32, to: UnitId) -> u32 {
    if from == to {
        return decimals;
    }
    let step = ten_to(-i64::from(decimals)) * &units.unit(from).factor / &units.unit(to).factor;
    decimals_at(first_place(&step).unwrap_or(0))
}

/// A unit as written, and the one it is turned into.
struct Turned<'u> {
    from: &'u Unit,
    to: &'u Unit,
    unit: UnitId,
    own: bool,
}

impl<'u> Turned<'u> {
    fn new(units: &'u Units, written: UnitId, system: Option<System>) -> Self {
        let unit = units.in_system(written, system);
        Self { from: units.unit(written), to: units.unit(unit), unit, own: unit == written }
    }

    /// The coarsest place that may be shown: the author's own, or no coarser than one of the
    /// author's steps. Above the point only where three digits are left.
    fn start(&self, decimals: u32, values: &[&Exact]) -> i64 {
        if self.own {
            return -i64::from(decimals);
        }
        let step =
            ten_to(self.written_place(decimals, values)) * &self.from.factor / &self.to.factor;
        let place = first_place(&step).unwrap_or(0);
        place.min(round_figure(self.to, values).max(0))
    }

    /// The place of the last digit that the author meant.
    fn written_place(&self, decimals: u32, values: &[&Exact]) -> i64 {
        if decimals > 0 {
            return -i64::from(decimals);
        }
        let most = round_figure(self.from, values);
        let is_round = |place: &i64| {
            let step = ten_to(*place);
            values.iter().all(|value| (self.from.number_of(value) / &step).is_integer())
        };
        (1..=most).rev().find(is_round).unwrap_or(0)
    }

    /// A plain figure, rounded to nearest.
    fn figure(&self, value: &Exact, start: i64) -> Shown {
        let enough = |place| self.loses_little(value, place, Rounding::Nearest, 100);
        self.shown(value, finer_until(start, enough), Rounding::Nearest)
    }

    /// Whether enough of a range is left after its ends are rounded inward.
    fn keeps_enough(&self, range: &Range, place: i64) -> bool {
        let (lower, upper) = (&range.lower, &range.upper);
        match (lower.as_ref(), upper.as_ref(), range.width().filter(Signed::is_positive)) {
            (Some(lower), Some(upper), Some(width)) => {
                let up = self.rounded(&lower.value, place, Rounding::Up);
                let down = self.rounded(&upper.value, place, Rounding::Down);
                let left = (down - up) * &self.to.factor;
                left * whole(5) >= width * whole(4)
            }
            (Some(lower), None, _) => self.loses_little(&lower.value, place, Rounding::Up, 20),
            (None, Some(upper), _) => self.loses_little(&upper.value, place, Rounding::Down, 20),
            // No end, or nothing in it: no number of digits would keep more.
            _ => true,
        }
    }

    /// Whether rounding loses at most one part in so many of a value's size. Where the scale has a
    /// zero of its own (°C), size says nothing, and every place is good enough.
    fn loses_little(&self, value: &Exact, place: i64, rounding: Rounding, parts: u32) -> bool {
        let sized = self.to.zero.is_zero() && self.from.zero.is_zero();
        let number = self.to.number_of(value);
        let lost = (self.rounded(value, place, rounding) - &number).abs();
        !sized || lost * whole(parts) <= number.abs()
    }

    fn rounded(&self, value: &Exact, place: i64, rounding: Rounding) -> Exact {
        rounding.to_place(&self.to.number_of(value), place)
    }

    /// An end of a range: a nought needs no further digits, `0 .. 0.5 mm`.
    fn end(&self, value: &Exact, place: i64, rounding: Rounding) -> Shown {
        let nought = self.rounded(value, place, rounding).is_zero();
        self.shown(value, if nought { place.max(0) } else { place }, rounding)
    }

    fn shown(&self, value: &Exact, place: i64, rounding: Rounding) -> Shown {
        let number = self.rounded(value, place, rounding);
        let decimals = decimals_at(place);
        Shown {
            digits: digits(&number, decimals),
            unit: self.unit,
            decimals,
            value: self.to.value_of(&number),
        }
    }
}

/// The place of the last of three digits, in the smallest of some values.
fn round_figure(unit: &Unit, values: &[&Exact]) -> i64 {
    let first = values.iter().filter_map(|value| first_place(&unit.number_of(value))).min();
    first.map_or(0, |first| first + 1 - DIGITS_OF_A_ROUND_FIGURE)
}

/// The first place from `start` down that is good enough.
fn finer_until(start: i64, enough: impl Fn(i64) -> bool) -> i64 {
    // Each place is ten times finer, so what is lost falls under any share in as many places as
    // the numbers have digits: this ends.
    let mut place = start;
    while !enough(place) {
        place -= 1;
    }
    place
}

fn decimals_at(place: i64) -> u32 {
    u32::try_from(-place).unwrap_or(0)
}

fn whole(number: u32) -> Exact {
    Exact::from_integer(number.into())
}

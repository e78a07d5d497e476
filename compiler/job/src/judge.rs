//! Whether a value may be taken, and what it leads to.

use crate::evaluate::{Readings, Taken, value};
use locknut_graph::{Choice, ComputedLimit, Instrument, Judgement, Prefer, Verdict, Way};
use locknut_quantity::{Bound, Exact, Range, Unit, parse_exact};
use num_traits::Signed;

/// Reads what a person typed, with a decimal point or comma, as a number in a unit.
pub fn typed_number(text: &str, unit: &Unit) -> Option<Exact> {
    let plain = text.trim().replace(['\u{2212}', '–'], "-").replace(',', ".");
    Some(parse_exact(&plain)? * &unit.factor + &unit.zero)
}

/// Whether an instrument can show a value: in its range, on its own digits.
pub fn within(instrument: &Instrument, value: &Exact) -> bool {
    let on_grid = instrument.resolution.as_ref().is_none_or(|step| {
        step.value.is_positive() && ((value - origin(instrument)) / &step.value).is_integer()
    });
    instrument.range.contains(value) && on_grid
}

/// Where the instrument's digits begin to count: a whole unit, so the unit's own zero does not matter.
fn origin(instrument: &Instrument) -> Exact {
    let zero = Exact::from_integer(0.into());
    instrument.range.lower.as_ref().map_or(zero, |bound| {
        let step = instrument.resolution.as_ref().map(|step| step.value.clone());
        // A gauge from 0.03 mm with steps of 0.01 mm counts from 0; a thermometer from its lower end.
        match step {
            Some(step) if (&bound.value / &step).is_integer() => Exact::from_integer(0.into()),
            _ => bound.value.clone(),
        }
    })
}

/// What a reading leads to.
pub(crate) enum Judged {
    /// This way is taken.
    Way(Way),
    /// A guarded limit: the true value may lie on either side.
    Undecided,
}

/// What a verdict makes of a reading; none where no arm covers it.
pub(crate) fn judge(verdict: &Verdict, taken: &Taken, readings: &Readings) -> Option<Judged> {
    match (verdict, taken) {
        (Verdict::None, _) => Some(Judged::Way(Way::Next)),
        (Verdict::Accept { limit, computed }, Taken::Numbers(numbers)) => {
            let range = match computed {
                Some(ends) => limit.limit.range.intersect(&computed_range(ends, readings)?),
                None => limit.limit.range.clone(),
            };
            Some(match locknut_graph::judge(&range, limit.guard.as_ref(), numbers) {
                Judgement::Accepted => Judged::Way(Way::Accepted),
                Judgement::Refused => Judged::Way(Way::Otherwise),
                Judgement::Undecided => Judged::Undecided,
            })
        }
        (Verdict::Arms(arms), taken) => {
            let position = arms.iter().position(|arm| match taken {
                Taken::Numbers(numbers) => arm
                    .range
                    .as_ref()
                    .is_some_and(|limit| numbers.iter().all(|number| limit.range.contains(number))),
                Taken::Answer(answer) => arm.answers.contains(answer),
                Taken::Text(_) => false,
            })?;
            Some(Judged::Way(Way::Arm(u16::try_from(position).ok()?)))
        }
        (Verdict::Accept { .. }, Taken::Answer(_) | Taken::Text(_)) => None,
    }
}

/// The values at which a verdict turns.
pub(crate) fn turns(verdict: &Verdict, readings: &Readings) -> Vec<Exact> {
    let ends = |range: &Range| {
        range.lower.iter().chain(&range.upper).map(|end| end.value.clone()).collect::<Vec<_>>()
    };
    match verdict {
        Verdict::None => Vec::new(),
        Verdict::Accept { limit, computed } => {
            let worked_out = computed.as_ref().and_then(|ends| computed_range(ends, readings));
            let ranges = worked_out.into_iter().chain([limit.limit.range.clone()]);
            let held = |range: Range| match &limit.guard {
                Some(guard) => vec![guard.accepted(&range), guard.not_refused(&range)],
                None => vec![range],
            };
            ranges.flat_map(held).flat_map(|range| ends(&range)).collect()
        }
        Verdict::Arms(arms) => arms
            .iter()
            .filter_map(|arm| arm.range.as_ref())
            .flat_map(|arm| ends(&arm.range))
            .collect(),
    }
}

fn computed_range(ends: &ComputedLimit, readings: &Readings) -> Option<Range> {
    let end = |end: &Option<(locknut_graph::Expression, bool)>| match end {
        Some((expression, closed)) => {
            Some(Some(Bound { value: value(expression, readings)?, closed: *closed }))
        }
        None => Some(None),
    };
    Some(Range { lower: end(&ends.lower)?, upper: end(&ends.upper)? })
}

/// The member of a choice that fits, by its preference; a tie takes the smaller. None: nothing fits.
pub(crate) fn choose(choice: &Choice, readings: &Readings) -> Option<usize> {
    if !choice.rows.is_empty() {
        let reading = value(&choice.value, readings)?;
        return choice
            .rows
            .iter()
            .find(|(row, _)| row.range.contains(&reading))
            .map(|(_, member)| *member);
    }
    let mut best: Option<(usize, Exact)> = None;
    for (position, member) in choice.set.iter().enumerate() {
        let size = &member.size;
        let mut tried = readings.clone();
        tried.insert(choice.reading, Taken::Numbers(vec![size.value.clone()]));
        let Some(result) = value(&choice.value, &tried) else { continue };
        if !choice.range.range.contains(&result) {
            continue;
        }
        let rank = match &choice.prefer {
            Prefer::Smallest => size.value.clone(),
            Prefer::Largest => -size.value.clone(),
            Prefer::Nearest(wanted) => (&result - &wanted.value).abs(),
            Prefer::Fewest => Exact::from_integer(member.pieces.len().into()),
        };
        // Members stand in ascending order, so the first of equals is the smaller.
        if best.as_ref().is_none_or(|(_, least)| rank < *least) {
            best = Some((position, rank));
        }
    }
    best.map(|(position, _)| position)
}

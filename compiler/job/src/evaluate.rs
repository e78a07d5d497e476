//! Expressions and conditions over what has been read so far.

use locknut_graph::{Condition, Expression, Fold, ReadingId, Test};
use locknut_quantity::Exact;
use num_traits::{Signed, Zero};
use std::collections::BTreeMap;

/// What was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Taken {
    /// Values in base units, one a point.
    Numbers(Vec<Exact>),
    /// Position among the answers.
    Answer(u8),
    /// Text, a serial number, a date.
    Text(String),
}

/// The readings taken so far and not made void.
pub type Readings = BTreeMap<ReadingId, Taken>;

/// The state of the machine, as the walk knows it.
pub(crate) struct Machine<'a> {
    pub(crate) values: &'a [u8],
    pub(crate) proved: &'a [bool],
    /// Seconds of waits since each variable was written.
    pub(crate) waited: &'a [Exact],
    pub(crate) readings: &'a Readings,
}

/// The value of an expression; none where a reading is missing or a divisor is zero.
pub(crate) fn value(expression: &Expression, readings: &Readings) -> Option<Exact> {
    match expression {
        Expression::Value(quantity) => Some(quantity.value.clone()),
        Expression::Reading(_) => points(expression, readings)?.into_iter().next(),
        Expression::Point(reading, point) => match readings.get(reading)? {
            Taken::Numbers(numbers) => numbers.get(*point).cloned(),
            Taken::Answer(_) | Taken::Text(_) => None,
        },
        Expression::Fold(fold, parts) => {
            let mut all = Vec::new();
            for part in parts {
                all.extend(points(part, readings)?);
            }
            folded(*fold, &all)
        }
        Expression::Binary(operator, left, right) => {
            operator.of(value(left, readings)?, value(right, readings)?)
        }
        Expression::Negative(inner) => Some(-value(inner, readings)?),
        Expression::LookUp(table, end, of) => table.at(*end, &value(of, readings)?),
    }
}

/// All points of a reading, or the one value of anything else.
fn points(expression: &Expression, readings: &Readings) -> Option<Vec<Exact>> {
    match expression {
        Expression::Reading(reading) => match readings.get(reading)? {
            Taken::Numbers(numbers) => Some(numbers.clone()),
            Taken::Answer(_) | Taken::Text(_) => None,
        },
        Expression::Value(_)
        | Expression::Point(..)
        | Expression::Fold(..)
        | Expression::Binary(..)
        | Expression::Negative(_)
        | Expression::LookUp(..) => Some(vec![value(expression, readings)?]),
    }
}

fn folded(fold: Fold, all: &[Exact]) -> Option<Exact> {
    let sum = || all.iter().fold(Exact::zero(), |sum, one| sum + one);
    let count = Exact::from_integer(all.len().into());
    match fold {
        Fold::Max => all.iter().max().cloned(),
        Fold::Min => all.iter().min().cloned(),
        Fold::Mean if all.is_empty() => None,
        Fold::Mean => Some(sum() / count),
        Fold::Spread => Some(all.iter().max()? - all.iter().min()?),
        Fold::Sum => Some(sum()),
        Fold::Count => Some(count),
        Fold::Abs => all.first().map(Signed::abs),
    }
}

/// Whether a condition holds; what cannot be told (a reading not taken) does not hold.
pub(crate) fn holds(condition: &Condition, machine: &Machine<'_>) -> bool {
    match condition {
        Condition::Always(so) => *so,
        Condition::Not(inner) => !holds(inner, machine),
        Condition::All(parts) => parts.iter().all(|part| holds(part, machine)),
        Condition::Any(parts) => parts.iter().any(|part| holds(part, machine)),
        Condition::Test(test) => passes(test, machine),
    }
}

fn passes(test: &Test, machine: &Machine<'_>) -> bool {
    let has = |variable: &locknut_graph::VariableId, values: &[u8]| {
        machine.values.get(usize::from(variable.0)).is_some_and(|value| values.contains(value))
    };
    match test {
        Test::Is { variable, values, .. } => has(variable, values),
        Test::Proved { variable, values, .. } => {
            has(variable, values) && machine.proved.get(usize::from(variable.0)) == Some(&true)
        }
        Test::Held { variable, values, seconds, under, .. } => {
            let waited = machine.waited.get(usize::from(variable.0));
            let long = waited.is_some_and(|waited| waited >= seconds);
            has(variable, values) && long != *under
        }
        Test::Within { value: of, limit, .. } => {
            value(of, machine.readings).is_some_and(|value| limit.range.contains(&value))
        }
    }
}

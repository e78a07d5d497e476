//! What a table gives: its rows, and how what lies between them is worked out.

use super::{Figure, Given, Judged, Outcome, Sum, Worked};
use locknut_finding::Span;
use locknut_graph::{Act, Between, Table, TableEnd};
use locknut_quantity::{Exact, Limit, Quantity, Units};

/// What lies between two rows is told with so many digits more than its rows.
const MORE_DIGITS: u32 = 2;

/// One sum for each table that an act looks something up in.
pub(super) fn sums(units: &Units, act: &Act, span: Span) -> Vec<Sum> {
    let sum = |table: &Table| Sum {
        what: format!("look-up in {}", table.words.said),
        span,
        steps: Vec::new(),
        given: given(units, table),
        worked: worked(units, table),
        judged: vec![Judged {
            outcome: Outcome::Holds,
            code: None,
            text: judged(table).to_owned(),
        }],
    };
    act.tables().into_iter().map(|table| sum(table)).collect()
}

fn given(units: &Units, table: &Table) -> Vec<Given> {
    let source = match &table.per {
        Some(per) => per.key(),
        None => "as written".to_owned(),
    };
    let row = |(number, (key, value)): (usize, &(Quantity, Limit))| {
        let (lower, upper) = (value.range.lower.as_ref(), value.range.upper.as_ref());
        let ends = lower.or(upper).zip(upper.or(lower));
        let (low, high) = ends?;
        let figure = Figure::between(units, &low.value, &high.value, value.unit, value.decimals);
        let what = format!("what stands at {}", key.written);
        Some(Given { symbol: format!("v{number}"), what, figure, source: source.clone() })
    };
    (1..).zip(&table.rows).filter_map(row).collect()
}

/// Half way between the first two rows, so that anybody can follow; of limits with two ends each end by itself.
fn worked(units: &Units, table: &Table) -> Vec<Worked> {
    if table.between != Between::Proportion {
        return Vec::new();
    }
    let [first, second, ..] = table.rows.as_slice() else { return Vec::new() };
    let band = |(_, limit): &(Quantity, Limit)| {
        limit.range.single().is_none() && limit.range.lower.is_some() && limit.range.upper.is_some()
    };
    let ends: &[(TableEnd, &str)] = if band(first) || band(second) {
        &[(TableEnd::Lower, "lower end of "), (TableEnd::Upper, "upper end of ")]
    } else if first.1.range.upper.is_some() {
        &[(TableEnd::Upper, "")]
    } else {
        &[(TableEnd::Lower, "")]
    };
    ends.iter()
        .filter_map(|(of, said)| half_way(units, table, [first, second], *of, said))
        .collect()
}

fn half_way(
    units: &Units,
    table: &Table,
    [(one, first), (other, second)]: [&(Quantity, Limit); 2],
    of: TableEnd,
    said: &str,
) -> Option<Worked> {
    let two = Exact::from_integer(2.into());
    let key = (&one.value + &other.value) / two;
    let shown = units.unit(one.unit);
    let key_said = locknut_quantity::to_decimal(&shown.number_of(&key), one.decimals + 1);
    let value = table.at(of, &key)?;
    let decimals = first.decimals.max(second.decimals);
    let figure = |value: &Exact, more: u32| {
        Figure::between(units, value, value, first.unit, decimals + more)
    };
    let end = |limit: &Limit| {
        let range = &limit.range;
        let end = match of {
            TableEnd::Lower => range.lower.as_ref(),
            TableEnd::Upper => range.upper.as_ref(),
        };
        end.map(|end| figure(&end.value, 0).said())
    };
    let (from, to) = (end(first)?, end(second)?);
    Some(Worked {
        symbol: "v".into(),
        what: format!("{said}what stands at {key_said} {}", shown.name),
        formula: "v1 + (v2 − v1) · (k − k1) / (k2 − k1)".into(),
        numbers: format!(
            "{from} + ({to} − {from}) · ({key_said} {} − {}) / ({} − {})",
            shown.name, one.written, other.written, one.written
        ),
        figure: figure(&value, MORE_DIGITS),
        source: "the straight line through two points".into(),
    })
}

fn judged(table: &Table) -> &'static str {
    match table.between {
        Between::Proportion => "whatever may be looked up lies between the first and the last row",
        Between::NextLower => {
            "whatever may be looked up has a row at or below it, and one at or above it"
        }
        Between::Nothing => "whatever may be looked up has a row of its own",
    }
}

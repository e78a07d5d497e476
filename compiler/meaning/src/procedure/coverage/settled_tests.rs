//! What was settled of a sum bounds another, and a quotient comes to its ends at the ends of its readings: against brute force.

use super::tests::{binary, reading, value, whole};
use super::{Known, Knowns, linear, possible};
use locknut_graph::{Expression, Operator, ReadingId};
use locknut_quantity::{Exact, Range};
use proptest::prelude::*;

const LEAST: [i64; 3] = [0, 2, 1];
const MOST: [i64; 3] = [4, 6, 3];

/// Three readings in whole steps.
fn knowns() -> Knowns {
    let ids = (0u16..).map(ReadingId);
    let known = |(low, high): (i64, i64)| reading(1, &low.to_string(), &high.to_string(), "1");
    ids.zip(LEAST.into_iter().zip(MOST).map(known)).collect()
}

fn weighted(weights: [i64; 3], constant: i64) -> Expression {
    let terms = (0u16..).zip(weights).map(|(id, weight)| {
        binary(Operator::Multiply, value(whole(weight)), Expression::Reading(ReadingId(id)))
    });
    terms.fold(value(whole(constant)), |sum, term| binary(Operator::Add, sum, term))
}

fn all() -> impl Iterator<Item = [i64; 3]> {
    let [a, b, c] = [0, 1, 2].map(|at: usize| LEAST[at]..=MOST[at]);
    a.flat_map(move |a| {
        let c = c.clone();
        b.clone().flat_map(move |b| c.clone().map(move |c| [a, b, c]))
    })
}

fn comes_to(weights: [i64; 3], constant: i64, at: [i64; 3]) -> i64 {
    weights.iter().zip(at).map(|(weight, value)| weight * value).sum::<i64>() + constant
}

fn least_and_most(values: impl Iterator<Item = Exact> + Clone) -> Option<Range> {
    Some(Range::closed(values.clone().min()?, values.max()?))
}

proptest! {
    #[test]
    fn a_settled_sum_leaves_of_another_all_that_may_come(
        settled in prop::array::uniform3(-2i64..=2),
        other in prop::array::uniform3(-3i64..=3),
        (low, wide) in (-20i64..20, 0i64..20),
    ) {
        let mut knowns = knowns();
        let sum = linear(&weighted(settled, 0), &knowns);
        let before = possible(&weighted(settled, 0), &knowns);
        let accepted = Range::closed(whole(low), whole(low + wide));
        let Some(range) = before.within(&accepted) else { return Ok(()) };
        let narrowed = super::Possible { range, ..before };
        let known = Known { sum, settled: true, ..reading(1, "0", "1", "1") };
        knowns.insert(ReadingId(9), Known { possible: narrowed, ..known });
        let inside = |at: &[i64; 3]| (low..=low + wide).contains(&comes_to(settled, 0, *at));
        let values = all().filter(inside).map(|at| whole(comes_to(other, 1, at)));
        let Some(tried) = least_and_most(values.collect::<Vec<_>>().into_iter()) else { return Ok(()) };
        let told = possible(&weighted(other, 1), &knowns).range;
        prop_assert_eq!(told.intersect(&tried), tried.clone(), "nothing that may come is left out");
        // Of a multiple of what was settled, where each step can be had, it is exact.
        let unit = settled.iter().all(|weight| weight.abs() == 1);
        let multiple = (-3i64..=3).any(|factor| settled.map(|weight| weight * factor) == other);
        if unit && multiple {
            prop_assert_eq!(told, tried);
        }
    }

    #[test]
    fn a_quotient_comes_to_exactly_what_trying_all_readings_gives(
        of in prop::array::uniform3(-2i64..=2),
        by in prop::array::uniform3(0i64..=2),
        (above, below) in (-5i64..5, 1i64..5),
    ) {
        let shared = of.iter().zip(by).any(|(of, by)| *of != 0 && by != 0);
        prop_assume!(shared);
        let quotient = binary(Operator::Divide, weighted(of, above), weighted(by, below));
        let values = all().map(|at| {
            Exact::new(comes_to(of, above, at).into(), comes_to(by, below, at).into())
        });
        let tried = least_and_most(values.collect::<Vec<_>>().into_iter());
        prop_assert_eq!(Some(possible(&quotient, &knowns()).range), tried);
    }
}

//! What was settled of a sum bounds another, and a quotient comes to its ends at the ends of its readings: against brute force.

use super::tests::{binary, reading, value, whole};
use super::{Known, Knowns, linear, possible, settled_sums};
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

/// The same with a sum that was settled: by a reading that stands for it, or by none.
fn settle(
    knowns: &mut Knowns,
    weights: [i64; 3],
    accepted: &Range,
    named: Option<ReadingId>,
) -> bool {
    let Some(sum) = linear(&weighted(weights, 0), knowns) else { return false };
    let before = possible(&weighted(weights, 0), knowns);
    let Some(range) = before.within(accepted) else { return false };
    match named {
        Some(named) => {
            let narrowed = super::Possible { range, ..before };
            let known = Known { sum: Some(sum), settled: true, ..reading(1, "0", "1", "1") };
            knowns.insert(named, Known { possible: narrowed, ..known });
        }
        None => knowns.settle(sum, range),
    }
    true
}

fn ratio(of: i64, by: i64) -> Exact {
    Exact::new(of.into(), by.into())
}

proptest! {
    /// Where each weight of what was settled is one or none, its ends lie on whole readings: then it is exact.
    #[test]
    fn a_settled_sum_leaves_of_another_all_that_may_come(
        settled in prop::array::uniform3(-2i64..=2),
        other in prop::array::uniform3(-3i64..=3),
        (low, wide) in (-20i64..20, 0i64..20),
        named in any::<bool>(),
    ) {
        let mut knowns = knowns();
        let accepted = Range::closed(whole(low), whole(low + wide));
        let named = named.then_some(ReadingId(9));
        if !settle(&mut knowns, settled, &accepted, named) {
            return Ok(());
        }
        let inside = |at: &[i64; 3]| (low..=low + wide).contains(&comes_to(settled, 0, *at));
        let values = all().filter(inside).map(|at| whole(comes_to(other, 1, at)));
        let Some(tried) = least_and_most(values.collect::<Vec<_>>().into_iter()) else { return Ok(()) };
        let told = possible(&weighted(other, 1), &knowns).range;
        prop_assert_eq!(told.intersect(&tried), tried.clone(), "nothing that may come is left out");
        if settled.iter().all(|weight| weight.abs() <= 1) {
            prop_assert_eq!(told, tried);
        }
    }

    #[test]
    fn of_two_settled_sums_nothing_that_may_come_is_left_out(
        (one, two) in (prop::array::uniform3(-2i64..=2), prop::array::uniform3(-2i64..=2)),
        other in prop::array::uniform3(-3i64..=3),
        by in prop::array::uniform3(0i64..=2),
        (low, wide) in (prop::array::uniform2(-12i64..12), prop::array::uniform2(0i64..12)),
    ) {
        let mut knowns = knowns();
        let accepted = |at: usize| Range::closed(whole(low[at]), whole(low[at] + wide[at]));
        if !settle(&mut knowns, one, &accepted(0), Some(ReadingId(9)))
            || !settle(&mut knowns, two, &accepted(1), None)
        {
            return Ok(());
        }
        let within = |sum, place: usize, at: &[i64; 3]| {
            (low[place]..=low[place] + wide[place]).contains(&comes_to(sum, 0, *at))
        };
        let may_come = || all().filter(|at| within(one, 0, at) && within(two, 1, at));
        let sums: Vec<Exact> = may_come().map(|at| whole(comes_to(other, 1, at))).collect();
        let quotients: Vec<Exact> =
            may_come().map(|at| ratio(comes_to(other, 1, at), comes_to(by, 1, at))).collect();
        let quotient = binary(Operator::Divide, weighted(other, 1), weighted(by, 1));
        for (value, tried) in [(weighted(other, 1), sums), (quotient, quotients)] {
            let Some(tried) = least_and_most(tried.into_iter()) else { return Ok(()) };
            prop_assert_eq!(possible(&value, &knowns).range.intersect(&tried), tried.clone());
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
        let values = all().map(|at| ratio(comes_to(of, above, at), comes_to(by, below, at)));
        let tried = least_and_most(values.collect::<Vec<_>>().into_iter());
        prop_assert_eq!(Some(possible(&quotient, &knowns()).range), tried);
    }

    #[test]
    fn a_quotient_comes_to_exactly_what_a_settled_sum_leaves_of_it(
        settled in prop::array::uniform3(-1i64..=1),
        of in prop::array::uniform3(-2i64..=2),
        by in prop::array::uniform3(0i64..=2),
        (above, below) in (-5i64..5, 1i64..5),
        (low, wide) in (-8i64..8, 0i64..8),
    ) {
        // What is settled of a constant leaves everything, and a quotient by one is a sum.
        prop_assume!(settled != [0; 3] && by != [0; 3]);
        let mut knowns = knowns();
        let accepted = Range::closed(whole(low), whole(low + wide));
        if !settle(&mut knowns, settled, &accepted, None) {
            return Ok(());
        }
        let inside = |at: &[i64; 3]| (low..=low + wide).contains(&comes_to(settled, 0, *at));
        let values = all().filter(inside).map(|at| ratio(comes_to(of, above, at), comes_to(by, below, at)));
        let Some(tried) = least_and_most(values.collect::<Vec<_>>().into_iter()) else { return Ok(()) };
        let quotient = binary(Operator::Divide, weighted(of, above), weighted(by, below));
        prop_assert_eq!(possible(&quotient, &knowns).range, tried);
    }

    /// A quotient that was settled is as good as a sum: nothing that may come is left out, and the quotient itself lies in it.
    #[test]
    fn a_settled_quotient_leaves_of_another_value_all_that_may_come(
        of in prop::array::uniform3(-2i64..=2),
        by in prop::array::uniform3(-2i64..=2),
        other in prop::array::uniform3(-3i64..=3),
        (above, below) in (-5i64..5, prop_oneof![1i64..5, -30i64..-20]),
        (low, wide) in (-4i64..4, 0i64..4),
    ) {
        let mut knowns = knowns();
        let quotient = binary(Operator::Divide, weighted(of, above), weighted(by, below));
        let accepted = Range::closed(whole(low), whole(low + wide));
        for (sum, range) in settled_sums(&quotient, &accepted, &knowns) {
            knowns.settle(sum, range);
        }
        let divisor = |at: &[i64; 3]| comes_to(by, below, *at);
        let inside = |at: &[i64; 3]| {
            divisor(at) != 0 && accepted.contains(&ratio(comes_to(of, above, *at), divisor(at)))
        };
        let values = all().filter(inside).map(|at| whole(comes_to(other, 1, at)));
        let Some(tried) = least_and_most(values.collect::<Vec<_>>().into_iter()) else { return Ok(()) };
        let told = possible(&weighted(other, 1), &knowns).range;
        prop_assert_eq!(told.intersect(&tried), tried);
        let keeps_its_sign = all().all(|at| divisor(&at) > 0) || all().all(|at| divisor(&at) < 0);
        if keeps_its_sign {
            let told = possible(&quotient, &knowns).range;
            prop_assert_eq!(told.intersect(&accepted), told);
        }
    }
}

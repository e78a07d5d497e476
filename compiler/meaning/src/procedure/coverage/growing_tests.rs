//! Errors that grow with the reading, against every true value that readings may have.

use super::tests::{binary, reading, value, whole};
use super::{Growing, Known, Knowns, Uncertain, uncertain};
use locknut_graph::{Expression, Fold, InstrumentError, Operator, ReadingId};
use locknut_quantity::Exact;

const MOST: i64 = 4;

/// So much and so many tenths of what is read from `zero` on.
fn error(fixed: i64, tenths: i64, zero: i64) -> InstrumentError {
    InstrumentError {
        fixed: whole(fixed),
        of_reading: whole(tenths) / whole(10),
        of_full_scale: whole(0),
        of_step: whole(0),
        zero: whole(zero),
        full_scale: whole(MOST),
        written: String::new(),
    }
}

fn known(points: usize, error: &InstrumentError, least: i64) -> Known {
    let known = reading(points, &least.to_string(), &MOST.to_string(), "1");
    let range = &known.possible.range;
    let doubt =
        Uncertain { grows: Growing::of(error, range), ..Uncertain::within(error.over(range)) };
    Known { doubt: Some(doubt), ..known }
}

fn knowns() -> Knowns {
    [(ReadingId(0), known(2, &error(1, 2, 0), 0)), (ReadingId(1), known(1, &error(0, 5, -3), -3))]
        .into()
}

fn fold(fold: Fold) -> Expression {
    Expression::Fold(fold, vec![Expression::Reading(ReadingId(0))])
}

/// What is worked out of two points and a reading.
type Sum = fn([&Exact; 3]) -> Exact;

#[test]
fn no_value_is_further_off_than_its_error_at_that_value() {
    let knowns = knowns();
    let single = || Expression::Reading(ReadingId(1));
    let plus = |one, other| binary(Operator::Add, one, other);
    let times = |by, of| binary(Operator::Multiply, value(whole(by)), of);
    let cases: Vec<(Expression, Sum)> = vec![
        (single(), |[_, _, c]| c.clone()),
        (fold(Fold::Max), |[a, b, _]| a.max(b).clone()),
        (fold(Fold::Min), |[a, b, _]| a.min(b).clone()),
        (fold(Fold::Mean), |[a, b, _]| (a + b) / whole(2)),
        (plus(fold(Fold::Max), times(3, single())), |[a, b, c]| a.max(b) + c * whole(3)),
        (plus(plus(fold(Fold::Max), fold(Fold::Mean)), value(whole(-7))), |[a, b, _]| {
            a.max(b) + (a + b) / whole(2) - whole(7)
        }),
        (plus(Expression::Point(ReadingId(0), 1), times(2, single())), |[_, b, c]| {
            b + c * whole(2)
        }),
    ];
    let off = [-1, 0, 1].map(whole);
    for (expression, sum) in cases {
        let grows = uncertain(&expression, &knowns).unwrap().grows.expect("it grows");
        let mut met = false;
        for (a, b, c) in all() {
            let shown = sum([&a, &b, &c]);
            let most = grows.at(&shown);
            for (x, y, z) in signs(&off) {
                let two = |at: &Exact| whole(1) + at / whole(5);
                let half = (&c + whole(3)) / whole(2);
                let (a, b, c) = (&a + x * two(&a), &b + y * two(&b), &c + z * half);
                let wrong = sum([&a, &b, &c]) - &shown;
                assert!(wrong <= most && -&wrong <= most, "{expression:?} at {shown}: {wrong}");
                met |= wrong == most;
            }
        }
        assert!(met, "{expression:?} is never so far off");
    }
}

fn all() -> impl Iterator<Item = (Exact, Exact, Exact)> {
    let points = (0..=MOST).flat_map(|a| (0..=MOST).map(move |b| (a, b)));
    points.flat_map(|(a, b)| (-3..=MOST).map(move |c| (whole(a), whole(b), whole(c))))
}

fn signs(off: &[Exact; 3]) -> impl Iterator<Item = (&Exact, &Exact, &Exact)> {
    let two = off.iter().flat_map(move |x| off.iter().map(move |y| (x, y)));
    two.flat_map(move |(x, y)| off.iter().map(move |z| (x, y, z)))
}

#[test]
fn nothing_is_said_to_grow_where_a_reading_counts_against_another_or_may_be_below_nought() {
    let mut knowns = knowns();
    let grows = |expression: &Expression, knowns: &Knowns| {
        uncertain(expression, knowns).unwrap().grows.is_some()
    };
    let minus = |one, other| binary(Operator::Subtract, one, other);
    let single = || Expression::Reading(ReadingId(1));
    assert!(!grows(&minus(fold(Fold::Max), fold(Fold::Min)), &knowns));
    assert!(!grows(&minus(fold(Fold::Mean), single()), &knowns));
    assert!(!grows(&Expression::Fold(Fold::Abs, vec![single()]), &knowns));
    assert!(grows(&single(), &knowns));
    knowns.insert(ReadingId(1), known(1, &error(0, 5, 0), -3));
    assert!(!grows(&single(), &knowns));
}

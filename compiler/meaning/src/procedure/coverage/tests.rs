//! Coverage against brute force, and against the shim table of a published enumeration.

use super::{
    Atom, Known, Knowns, Possible, Subject, Uncertain, cover, doubled, linear, other_side,
    uncertain, uncovered,
};
use locknut_graph::{Expression, Fold, Operator, ReadingId};
use locknut_quantity::{Bound, Exact, Grid, Quantity, Range, Units, parse_exact};
use proptest::prelude::*;

fn exact(text: &str) -> Exact {
    parse_exact(text).expect("a number")
}

pub(super) fn whole(number: i64) -> Exact {
    Exact::from_integer(number.into())
}

pub(super) fn value(number: Exact) -> Expression {
    let written = number.to_string();
    Expression::Value(Quantity {
        value: number,
        kind: Units::NUMBER,
        unit: Units::ONE,
        decimals: 0,
        written,
    })
}

pub(super) fn binary(operator: Operator, left: Expression, right: Expression) -> Expression {
    Expression::Binary(operator, Box::new(left), Box::new(right))
}

fn fold(fold: Fold, reading: u16) -> Expression {
    Expression::Fold(fold, vec![Expression::Reading(ReadingId(reading))])
}

/// A reading of so many points between two values in steps.
pub(super) fn reading(points: usize, from: &str, to: &str, step: &str) -> Known {
    let grid = Grid::new(whole(0), exact(step));
    let possible = Possible { range: Range::closed(exact(from), exact(to)), grid };
    Known { points, possible, sum: None, doubt: None, expected: false, settled: false, rows: None }
}

// ---- Arms ----------------------------------------------------------------------------------------

#[test]
fn nothing_is_missing_between_neighbouring_digits() {
    let hundredths = reading(1, "0.03", "2", "0.01").possible;
    let up_to = Range::up_to(exact("0.20"), true);
    let from = Range::from(exact("0.21"), true);
    assert!(uncovered(&hundredths, &[up_to.clone(), from]).is_empty());
    let gaps = uncovered(&hundredths, &[up_to, Range::from(exact("0.21"), false)]);
    let missing: Vec<Range> = gaps.into_iter().map(|gap| gap.shown).collect();
    assert_eq!(missing, [Range::closed(exact("0.21"), exact("0.21"))]);
}

#[test]
fn two_closed_ends_share_their_figure() {
    let hundredths = reading(1, "0", "1", "0.01").possible;
    let pieces = [Range::up_to(exact("0.2"), true), Range::from(exact("0.2"), true)];
    let shared = Range::closed(exact("0.2"), exact("0.2"));
    assert_eq!(doubled(&hundredths, &pieces), [(0, 1, shared)]);
    let between = [Range::up_to(exact("0.205"), true), Range::from(exact("0.203"), true)];
    assert!(doubled(&hundredths, &between).is_empty(), "no digit lies in what they share");
}

/// A bound on quarters, so that ends often meet the grid of halves and often do not.
fn bound() -> impl Strategy<Value = Option<Bound>> {
    prop_oneof![
        1 => Just(None),
        5 => (-8i64..=24, any::<bool>()).prop_map(|(quarters, closed)| {
            Some(Bound { value: Exact::new(quarters.into(), 4.into()), closed })
        }),
    ]
}

fn range() -> impl Strategy<Value = Range> {
    (bound(), bound()).prop_map(|(lower, upper)| Range { lower, upper })
}

/// Every half from 0 to 4.
fn halves() -> Possible {
    let grid = Grid::new(whole(0), Exact::new(1.into(), 2.into()));
    Possible { range: Range::closed(whole(0), whole(4)), grid }
}

fn all_halves() -> Vec<Exact> {
    (0..=8).map(|half| Exact::new(half.into(), 2.into())).collect()
}

proptest! {
    #[test]
    fn gaps_are_exactly_the_values_that_no_piece_holds(pieces in prop::collection::vec(range(), 0..5)) {
        let gaps = uncovered(&halves(), &pieces);
        for value in all_halves() {
            let held = pieces.iter().any(|piece| piece.contains(&value));
            let missing = gaps.iter().any(|gap| gap.shown.contains(&value));
            prop_assert_eq!(held, !missing, "{}", value);
        }
        for gap in &gaps {
            prop_assert!(all_halves().iter().any(|value| gap.shown.contains(value)), "an empty gap");
            prop_assert!(gap.between.covers(&gap.shown));
        }
    }

    #[test]
    fn something_is_doubled_exactly_where_two_pieces_hold_one_value(
        pieces in prop::collection::vec(range(), 0..5),
    ) {
        let pairs = doubled(&halves(), &pieces);
        let twice = all_halves().iter().any(|value| {
            pieces.iter().filter(|piece| piece.contains(value)).count() > 1
        });
        prop_assert_eq!(twice, !pairs.is_empty());
        for (one, other, shared) in pairs {
            let value = all_halves().into_iter().find(|value| shared.contains(value));
            let value = value.expect("a shared stretch holds a value");
            prop_assert!(pieces[one].contains(&value) && pieces[other].contains(&value));
        }
    }
}

// ---- Sums ----------------------------------------------------------------------------------------

#[test]
fn using_a_reading_twice_does_not_widen_the_result() {
    let knowns = Knowns::from([(ReadingId(0), reading(3, "0.35", "1.60", "0.01"))]);
    let spread = binary(Operator::Subtract, fold(Fold::Max, 0), fold(Fold::Min, 0));
    let sum = linear(&spread, &knowns).expect("a sum");
    assert_eq!(sum.possible(&knowns).range, Range::closed(whole(0), exact("1.25")));
    let nothing = binary(Operator::Subtract, fold(Fold::Mean, 0), fold(Fold::Mean, 0));
    let sum = linear(&nothing, &knowns).expect("a sum");
    assert_eq!(sum.possible(&knowns).range, Range::closed(whole(0), whole(0)));
}

#[test]
fn an_open_upper_end_leaves_a_spread_from_nothing_up() {
    let mut open = reading(2, "0", "1", "0.1");
    open.possible.range.upper = None;
    let knowns = Knowns::from([(ReadingId(0), open)]);
    let spread = linear(&fold(Fold::Spread, 0), &knowns).expect("a sum");
    assert_eq!(spread.possible(&knowns).range, Range::from(whole(0), true));
}

#[test]
fn a_product_of_two_readings_is_no_sum() {
    let one = reading(1, "0", "1", "0.1");
    let knowns = Knowns::from([(ReadingId(0), one.clone()), (ReadingId(1), one)]);
    let (left, right) = (Expression::Reading(ReadingId(0)), Expression::Reading(ReadingId(1)));
    let product = binary(Operator::Multiply, left, right);
    assert_eq!(linear(&product, &knowns), None);
    assert_eq!(super::possible(&product, &knowns).range, Range::closed(whole(0), whole(1)));
}

/// An expression over a reading of three points (0) and one of a single value (1), both whole.
pub(super) fn sum() -> impl Strategy<Value = Expression> {
    let leaf = prop_oneof![
        (-3i64..=3).prop_map(|number| value(whole(number))),
        Just(Expression::Reading(ReadingId(1))),
        (0usize..3).prop_map(|point| Expression::Point(ReadingId(0), point)),
        prop::sample::select(vec![
            Fold::Max,
            Fold::Min,
            Fold::Mean,
            Fold::Spread,
            Fold::Sum,
            Fold::Count,
        ])
        .prop_map(|which| fold(which, 0)),
    ];
    leaf.prop_recursive(4, 16, 2, |inner| {
        prop_oneof![
            (inner.clone(), inner.clone()).prop_map(|(a, b)| binary(Operator::Add, a, b)),
            (inner.clone(), inner.clone()).prop_map(|(a, b)| binary(Operator::Subtract, a, b)),
            (inner.clone(), -2i64..=2).prop_map(|(a, factor)| binary(
                Operator::Multiply,
                a,
                value(whole(factor))
            )),
            inner.prop_map(|a| Expression::Negative(Box::new(a))),
        ]
    })
}

/// Works an expression out by its definition.
pub(super) fn worked_out(expression: &Expression, points: [i64; 3], single: i64) -> Exact {
    match expression {
        Expression::Value(quantity) => quantity.value.clone(),
        Expression::Reading(_) => whole(single),
        Expression::Point(_, point) => whole(points[*point]),
        Expression::Negative(inner) => -worked_out(inner, points, single),
        Expression::LookUp(table, end, of) => {
            table.at(*end, &worked_out(of, points, single)).expect("inside its keys")
        }
        Expression::Fold(which, _) => {
            let (max, min) = (points.iter().max().unwrap(), points.iter().min().unwrap());
            let sum: i64 = points.iter().sum();
            match which {
                Fold::Max => whole(*max),
                Fold::Min => whole(*min),
                Fold::Mean => Exact::new(sum.into(), 3.into()),
                Fold::Spread => whole(max - min),
                Fold::Sum => whole(sum),
                Fold::Count => whole(3),
                Fold::Abs => panic!("not generated"),
            }
        }
        Expression::Binary(operator, left, right) => {
            let (left, right) =
                (worked_out(left, points, single), worked_out(right, points, single));
            match operator {
                Operator::Add => left + right,
                Operator::Subtract => left - right,
                Operator::Multiply => left * right,
                Operator::Divide => left / right,
            }
        }
    }
}

proptest! {
    #[test]
    fn a_sum_comes_to_exactly_what_trying_all_readings_gives(expression in sum()) {
        let knowns = Knowns::from([
            (ReadingId(0), reading(3, "1", "3", "1")),
            (ReadingId(1), reading(1, "-1", "2", "1")),
        ]);
        let possible = linear(&expression, &knowns).expect("a sum").possible(&knowns);
        let mut all = Vec::new();
        for a in 1..=3 {
            for b in 1..=3 {
                for c in 1..=3 {
                    all.extend((-1..=2).map(|single| worked_out(&expression, [a, b, c], single)));
                }
            }
        }
        let (least, greatest) = (all.iter().min().unwrap(), all.iter().max().unwrap());
        prop_assert_eq!(&possible.range, &Range::closed(least.clone(), greatest.clone()));
        for value in &all {
            prop_assert!(possible.grid.as_ref().is_none_or(|grid| grid.has(value)));
        }
    }
}

// ---- Choices -------------------------------------------------------------------------------------

const SHIMS: [&str; 6] = ["0.20", "0.30", "0.50", "0.80", "1.00", "1.20"];

/// `gap - shim`, the gap measured at one point from 0.35 to 1.60 mm by 0.01 mm.
fn shim_choice(value: &Expression, low: &str, high: &str) -> super::Cover {
    let members: Vec<Exact> = SHIMS.into_iter().map(exact).collect();
    let knowns = Knowns::from([
        (ReadingId(0), reading(1, "0.35", "1.60", "0.01")),
        (
            ReadingId(1),
            Known {
                points: 1,
                possible: Possible::default(),
                sum: None,
                doubt: None,
                expected: false,
                settled: false,
                rows: None,
            },
        ),
    ]);
    cover(value, ReadingId(1), &members, &Range::closed(exact(low), exact(high)), &knowns)
        .expect("a sum")
}

fn left_over(of: Expression) -> Expression {
    binary(Operator::Subtract, of, Expression::Reading(ReadingId(1)))
}

fn gap() -> Expression {
    Expression::Reading(ReadingId(0))
}

/// Handbook row H007 (mark: enumeration, computed): from 0.35 to 1.60 by 0.01, one shim, rest 0.10 to
/// 0.45: no gap is without a shim.
#[test]
fn shims_leave_no_gap_at_a_rest_of_ten_to_forty_five_hundredths() {
    let cover = shim_choice(&left_over(gap()), "0.10", "0.45");
    assert!(cover.gaps.is_empty() && cover.several && !cover.never && cover.depends);
}

/// Handbook row H019 (mark: enumeration, computed): the same set, rest 0.10 to 0.30.
#[test]
fn shims_leave_the_gaps_of_the_enumeration_at_a_rest_of_ten_to_thirty_hundredths() {
    let wanted = [
        "0.81", "0.82", "0.83", "0.84", "0.85", "0.86", "0.87", "0.88", "0.89", "1.51", "1.52",
        "1.53", "1.54", "1.55", "1.56", "1.57", "1.58", "1.59", "1.60",
    ];
    let cover = shim_choice(&left_over(gap()), "0.10", "0.30");
    assert_eq!(cover.of, Subject::Atom(Atom::Point(ReadingId(0), 0)));
    let missing = |value: &Exact| cover.gaps.iter().any(|gap| gap.shown.contains(value));
    let all = (35..=160).map(|hundredths: i64| Exact::new(hundredths.into(), 100.into()));
    let missing: Vec<Exact> = all.filter(missing).collect();
    assert_eq!(missing, wanted.map(exact));
}

/// Handbook rows H008 to H018 (mark: enumeration, computed): for each gap the shims that fit, at a rest
/// of 0.10 to 0.45; the largest is chosen.
#[test]
fn each_gap_has_the_shims_of_the_enumeration() {
    let rows = [
        ("0.35", "0.20", "0.20"),
        ("0.45", "0.20 0.30", "0.30"),
        ("0.64", "0.20 0.30 0.50", "0.50"),
        ("0.65", "0.20 0.30 0.50", "0.50"),
        ("0.66", "0.30 0.50", "0.50"),
        ("0.75", "0.30 0.50", "0.50"),
        ("0.95", "0.50 0.80", "0.80"),
        ("0.96", "0.80", "0.80"),
        ("1.25", "0.80 1.00", "1.00"),
        ("1.45", "1.00 1.20", "1.20"),
        ("1.60", "1.20", "1.20"),
    ];
    for (gap_read, fits, chosen) in rows {
        let fitting: Vec<&str> = SHIMS
            .into_iter()
            .filter(|shim| {
                // The choice among this one shim leaves no gap at this one reading.
                let knowns = Knowns::from([(ReadingId(0), reading(1, gap_read, gap_read, "0.01"))]);
                let rest = Range::closed(exact("0.10"), exact("0.45"));
                let members = [exact(shim)];
                let value = left_over(gap());
                let cover = cover(&value, ReadingId(1), &members, &rest, &with_choice(knowns));
                cover.expect("a sum").gaps.is_empty()
            })
            .collect();
        assert_eq!(fitting.join(" "), fits, "gap {gap_read}");
        assert_eq!(fitting.last(), Some(&chosen), "gap {gap_read}");
    }
}

fn with_choice(mut knowns: Knowns) -> Knowns {
    knowns.insert(
        ReadingId(1),
        Known {
            points: 1,
            possible: Possible::default(),
            sum: None,
            doubt: None,
            expected: false,
            settled: false,
            rows: None,
        },
    );
    knowns
}

#[test]
fn a_mean_of_three_points_comes_between_the_digits() {
    // Shims of 0.30 and 0.56 with a rest of 0.10 to 0.35 meet at 0.65 and 0.66: nothing is missing on
    // hundredths, but a mean of three may be 0.653.
    let members = [exact("0.30"), exact("0.56")];
    let rest = Range::closed(exact("0.10"), exact("0.35"));
    let cover_of = |points: usize, of: Expression| {
        let knowns =
            with_choice(Knowns::from([(ReadingId(0), reading(points, "0.40", "0.90", "0.01"))]));
        cover(&left_over(of), ReadingId(1), &members, &rest, &knowns).expect("a sum")
    };
    assert!(cover_of(1, gap()).gaps.is_empty());
    let of_mean = cover_of(3, fold(Fold::Mean, 0));
    assert_eq!(of_mean.of, Subject::Atom(Atom::Mean(ReadingId(0))));
    let open = |value: &str| Some(Bound { value: exact(value), closed: false });
    let between: Vec<Range> = of_mean.gaps.into_iter().map(|gap| gap.between).collect();
    assert_eq!(between, [Range { lower: open("0.65"), upper: open("0.66") }]);
}

#[test]
fn gaps_are_told_in_the_reading_even_where_it_is_taken_away() {
    // 2 - gap - shim: what the gap must not be is turned round.
    let value = binary(Operator::Subtract, value(whole(2)), left_over(gap()));
    let knowns = with_choice(Knowns::from([(ReadingId(0), reading(1, "0", "2", "0.5"))]));
    let wanted = Range::closed(exact("1"), exact("2"));
    let cover = cover(&value, ReadingId(1), &[whole(0)], &wanted, &knowns).expect("a sum");
    let missing: Vec<Range> = cover.gaps.into_iter().map(|gap| gap.shown).collect();
    assert_eq!(missing, [Range::closed(exact("1.5"), exact("2"))]);
}

#[test]
fn a_result_that_leaves_the_choice_out_does_not_depend_on_it() {
    let cover = shim_choice(&gap(), "0.10", "0.45");
    assert!(!cover.depends);
}

proptest! {
    #[test]
    fn a_choice_covers_exactly_the_readings_for_which_some_member_fits(
        members in prop::collection::btree_set(0i64..=12, 1..5),
        low in 0i64..=6,
        width in 0i64..=6,
        turned in any::<bool>(),
    ) {
        let members: Vec<Exact> = members.into_iter().map(whole).collect();
        let wanted = Range::closed(whole(low), whole(low + width));
        let value = if turned {
            binary(Operator::Subtract, Expression::Reading(ReadingId(1)), gap())
        } else {
            left_over(gap())
        };
        let knowns = with_choice(Knowns::from([(ReadingId(0), reading(1, "0", "16", "1"))]));
        let cover = cover(&value, ReadingId(1), &members, &wanted, &knowns).expect("a sum");
        let mut most = 0;
        for read in (0..=16).map(whole) {
            let fits = members.iter().filter(|member| {
                let rest = if turned { *member - &read } else { &read - *member };
                wanted.contains(&rest)
            });
            let fits = fits.count();
            most = most.max(fits);
            let missing = cover.gaps.iter().any(|gap| gap.shown.contains(&read));
            prop_assert_eq!(fits == 0, missing, "{}", read);
        }
        prop_assert_eq!(cover.never, most == 0);
        prop_assert_eq!(cover.several, most > 1);
    }
}

// ---- Errors --------------------------------------------------------------------------------------

/// The greatest error of a worked-out value over three points that stand far apart, in every order and with
/// every error at one of its ends: for a weighted sum there is no greater.
fn worst(value: impl Fn(&[Exact; 3]) -> Exact) -> Exact {
    let orders = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]];
    let mut worst = whole(0);
    for order in orders {
        let shown = order.map(|place: i64| whole(place * 100));
        for signs in 0..8u8 {
            let mut place = 0;
            let truth = shown.clone().map(|point| {
                let error = if signs >> place & 1 == 1 { whole(1) } else { whole(-1) };
                place += 1;
                point + error
            });
            let away = value(&truth) - value(&shown);
            worst = worst.max(if away < whole(0) { -away } else { away });
        }
    }
    worst
}

#[test]
fn the_greatest_error_of_a_sum_is_the_worst_that_its_readings_can_bring_about() {
    let gap = ReadingId(0);
    let error = Uncertain { uncertainty: Some(whole(1)), ..Uncertain::within(Some(whole(1))) };
    let three = Known { doubt: Some(error), ..reading(3, "-500", "500", "1") };
    let knowns: Knowns = [(gap, three)].into();
    let top = |all: &[Exact; 3]| all.iter().max().unwrap().clone();
    let low = |all: &[Exact; 3]| all.iter().min().unwrap().clone();
    let mean = |all: &[Exact; 3]| all.iter().fold(whole(0), |sum, one| sum + one) / whole(3);
    let minus = |a, b| Expression::Binary(Operator::Subtract, Box::new(a), Box::new(b));
    let plus = |a, b| Expression::Binary(Operator::Add, Box::new(a), Box::new(b));
    let point = |at| Expression::Point(gap, at);
    let cases: Vec<(Expression, Exact)> = vec![
        (fold(Fold::Spread, 0), worst(|all| top(all) - low(all))),
        (fold(Fold::Mean, 0), worst(mean)),
        (minus(fold(Fold::Max, 0), fold(Fold::Mean, 0)), worst(|all| top(all) - mean(all))),
        (minus(fold(Fold::Max, 0), point(0)), worst(|all| top(all) - &all[0])),
        (plus(point(0), point(1)), worst(|all| &all[0] + &all[1])),
        (
            minus(plus(fold(Fold::Min, 0), fold(Fold::Mean, 0)), point(2)),
            worst(|all| low(all) + mean(all) - &all[2]),
        ),
    ];
    for (value, wanted) in cases {
        let found = uncertain(&value, &knowns).unwrap();
        assert_eq!(found.error, Some(wanted), "{value:?}");
    }
    let spread = uncertain(&fold(Fold::Spread, 0), &knowns).unwrap();
    assert_eq!(spread.uncertainty, None, "one of several points may be far out");
    let product = Expression::Binary(Operator::Multiply, Box::new(point(0)), Box::new(point(1)));
    assert_eq!(uncertain(&product, &knowns), None, "nothing is claimed of a product");
}

#[test]
fn a_spread_has_a_side_of_its_own_and_a_reading_only_what_is_expected() {
    let unexpected = reading(3, "0", "500", "1");
    let expected = Known { expected: true, ..unexpected.clone() };
    let knowns: Knowns = [(ReadingId(0), unexpected), (ReadingId(1), expected)].into();
    let lower = |value: &Expression| other_side(value, &knowns).lower.map(|end| end.value);
    assert_eq!(lower(&fold(Fold::Spread, 0)), Some(whole(0)));
    assert_eq!(lower(&fold(Fold::Max, 0)), None);
    assert_eq!(lower(&fold(Fold::Max, 1)), Some(whole(0)));
}

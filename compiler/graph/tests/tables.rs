//! Laws of tables, held against a reckoning of another form.

use locknut_finding::Span;
use locknut_graph::{Between, Table, TableEnd, Words};
use locknut_quantity::{Exact, Limit, Quantity, Range, Units};
use proptest::prelude::*;

fn whole(number: i64) -> Exact {
    Exact::from_integer(number.into())
}

fn ratio((above, below): (i64, i64)) -> Exact {
    Exact::new(above.into(), below.into())
}

/// Two to eight rows: keys apart by anything, values up and down; each value from its lower to its upper end.
fn tables() -> impl Strategy<Value = Table> {
    let row = ((1i64..500, 1i64..40), (-900i64..900, 1i64..40), (0i64..30, 1i64..7));
    let between =
        prop_oneof![Just(Between::Proportion), Just(Between::Nothing), Just(Between::NextLower)];
    (-300i64..300, proptest::collection::vec(row, 2..8), between).prop_map(
        |(from, rows, between)| {
            let mut key = whole(from);
            let rows = rows.into_iter().map(|(step, value, width)| {
                key += ratio(step);
                let (low, width) = (ratio(value), ratio(width));
                (figure(key.clone()), limit(low.clone(), low + width))
            });
            let rows = rows.collect();
            Table { words: Words::default(), rows, between, per: None, span: Span::default() }
        },
    )
}

fn figure(value: Exact) -> Quantity {
    let (kind, unit) = (Units::NUMBER, Units::ONE);
    Quantity { value, kind, unit, decimals: 0, written: String::new() }
}

fn limit(low: Exact, high: Exact) -> Limit {
    let (kind, unit) = (Units::NUMBER, Units::ONE);
    Limit { range: Range::closed(low, high), kind, unit, decimals: 0, written: String::new() }
}

fn points(table: &Table, end: TableEnd) -> Vec<(Exact, Exact)> {
    table.points(end).map(|(key, value)| (key.clone(), value.clone())).collect()
}

/// In proportion: the sum of a tent over each key. Else: the row with the greatest key that is not above.
fn reckoned(table: &Table, end: TableEnd, key: &Exact) -> Option<Exact> {
    let all = points(table, end);
    let (first, last) = (&all.first()?.0, &all.last()?.0);
    if key < first || key > last {
        return None;
    }
    match table.between {
        Between::Nothing => all.iter().find(|(at, _)| at == key).map(|(_, value)| value.clone()),
        Between::NextLower => all.iter().rev().find(|(at, _)| at <= key).map(|(_, v)| v.clone()),
        Between::Proportion => {
            let mut sum = whole(0);
            for (place, (at, value)) in all.iter().enumerate() {
                let left = place.checked_sub(1).and_then(|left| all.get(left));
                let rising = left.map_or(whole(1), |(left, _)| (key - left) / (at - left));
                let falling =
                    all.get(place + 1).map_or(whole(1), |(right, _)| (right - key) / (right - at));
                sum += value * rising.min(falling).max(whole(0)).min(whole(1));
            }
            Some(sum)
        }
    }
}

/// A key by its share of the way from a little before the first to a little behind the last.
fn somewhere(table: &Table, share: i64) -> Exact {
    let (first, last) = table.keys().map_or((whole(0), whole(1)), |(a, b)| (a.clone(), b.clone()));
    let width = &last - &first;
    first - &width / whole(10) + width * ratio((share * 12, 1000 * 10))
}

proptest! {
    #[test]
    fn it_gives_what_another_reckoning_gives(table in tables(), share in 0i64..=1000) {
        let key = somewhere(&table, share);
        for end in [TableEnd::Lower, TableEnd::Upper] {
            prop_assert_eq!(table.at(end, &key), reckoned(&table, end, &key));
            for (key, value) in points(&table, end) {
                prop_assert_eq!(table.at(end, &key), Some(value));
            }
        }
    }

    #[test]
    fn its_ends_over_a_stretch_hold_every_value_and_are_reached(
        table in tables(), one in 0i64..=1000, other in 0i64..=1000,
    ) {
        let (low, high) = (somewhere(&table, one.min(other)), somewhere(&table, one.max(other)));
        let inside = |key: &Exact| *key >= low && *key <= high;
        for end in [TableEnd::Lower, TableEnd::Upper] {
            let keys = points(&table, end).into_iter().map(|(key, _)| key);
            let steps = (0..=60).map(|step| &low + (&high - &low) * ratio((step, 60)));
            let values: Vec<Option<Exact>> =
                keys.filter(inside).chain(steps).map(|key| reckoned(&table, end, &key)).collect();
            let known: Vec<&Exact> = values.iter().flatten().collect();
            let (first, last) = table.keys().expect("a table has rows");
            if low < *first || high > *last {
                prop_assert_eq!(table.over(end, &low, &high), None);
            } else if known.is_empty() {
                prop_assert_eq!(table.over(end, &low, &high), None, "nothing stands between rows");
            } else {
                let ends = known.iter().min().zip(known.iter().max());
                let ends = ends.map(|(least, most)| ((*least).clone(), (*most).clone()));
                prop_assert_eq!(table.over(end, &low, &high), ends);
            }
        }
    }

    #[test]
    fn it_never_rises_faster_than_it_says(table in tables(), one in 100i64..=900, other in 100i64..=900) {
        let (a, b) = (somewhere(&table, one), somewhere(&table, other));
        let size = |value: Exact| if value < whole(0) { -value } else { value };
        if let (Some(steepest), Some(from), Some(to)) =
            (table.steepest(TableEnd::Lower), table.at(TableEnd::Lower, &a), table.at(TableEnd::Lower, &b))
        {
            prop_assert!(size(to - from) <= steepest * size(b - a));
        } else {
            prop_assert!(table.between != Between::Proportion || reckoned(&table, TableEnd::Lower, &a).is_none()
                || reckoned(&table, TableEnd::Lower, &b).is_none());
        }
    }
}

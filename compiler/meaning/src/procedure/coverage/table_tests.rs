//! What a table may give, and how far off, against trying all readings.

use super::tests::{binary, reading, sum, value, whole, worked_out};
use super::{Known, Knowns, Uncertain};
use locknut_finding::Span;
use locknut_graph::{Between, Expression, Operator, ReadingId, Table, TableEnd, Words};
use locknut_quantity::{Limit, Range};
use num_traits::Signed;
use proptest::prelude::*;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Something is looked up in a table of some rows from −9000 to 9000, and a sum is added.
fn looked_up() -> impl Strategy<Value = Expression> {
    let between = prop_oneof![Just(Between::Proportion), Just(Between::NextLower)];
    let middle = prop::collection::btree_map(-6i64..=6, -20i64..20, 1..5);
    (middle, between, sum(), sum()).prop_map(|(middle, between, of, more)| {
        let ends = [(-9_000, 3), (9_000, -5)];
        let rows: BTreeMap<i64, i64> = middle.into_iter().chain(ends).collect();
        let rows = rows.into_iter().map(|(key, at)| {
            let Expression::Value(key) = value(whole(key)) else { panic!("a value") };
            let range = Range::closed(whole(at), whole(at));
            let (kind, unit) = (key.kind, key.unit);
            (key, Limit { range, kind, unit, decimals: 0, written: String::new() })
        });
        let (words, span) = (Words::default(), Span::default());
        let table = Table { words, rows: rows.collect(), between, per: None, span };
        let look_up = Expression::LookUp(Arc::new(table), TableEnd::Upper, Box::new(of));
        binary(Operator::Subtract, look_up, more)
    })
}

proptest! {
    #[test]
    fn what_is_looked_up_lies_where_it_may_and_is_no_further_off_than_is_told(
        expression in looked_up(), off in prop::array::uniform4(-1i64..=1),
    ) {
        let known = |points: usize, least: &str, most: &str| Known {
            doubt: Some(Uncertain::within(Some(whole(1)))),
            ..reading(points, least, most, "1")
        };
        let knowns =
            Knowns::from([(ReadingId(0), known(3, "1", "3")), (ReadingId(1), known(1, "-1", "2"))]);
        let range = super::possible(&expression, &knowns).range;
        let error = super::uncertain(&expression, &knowns).map(|doubt| doubt.error.expect("stated"));
        for at in 0..108i64 {
            let points = [1 + at % 3, 1 + at / 3 % 3, 1 + at / 9 % 3];
            let single = at / 27 - 1;
            let shown = worked_out(&expression, points, single);
            prop_assert!(range.contains(&shown), "{shown} in {range:?}");
            let [a, b, c, d] = off;
            let [x, y, z] = points;
            let meant = worked_out(&expression, [x + a, y + b, z + c], single + d);
            if let Some(error) = &error {
                prop_assert!((shown - meant).abs() <= *error);
            }
        }
    }
}

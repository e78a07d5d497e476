//! Published and computed values: tests/reference/*.yaml, each row with its source and how far to
//! trust it. Here the units are built from their definitions; the standard library is compared with
//! the same tables where it can be loaded.

#[cfg(test)]
mod tables;

use locknut_quantity::{Bound, Rounding, inward_to};
use tables::{
    Conversions, Inward, Roundings, defined, figure, number, range_of, to_as_many_digits, unit,
};

const CONVERSIONS: &str = include_str!("../../../../tests/reference/conversions.yaml");
const ROUNDING: &str = include_str!("../../../../tests/reference/rounding.yaml");

#[test]
fn every_factor_is_exact_and_agrees_with_what_is_printed() {
    let table: Conversions = serde_yaml::from_str(CONVERSIONS).unwrap();
    assert!(table.rows.len() >= 88, "only {} rows were read", table.rows.len());
    let units = defined();
    let mut printed = 0;
    for row in &table.rows {
        let (from, to) = (unit(&units, &row.from, &row.kind), unit(&units, &row.to, &row.kind));
        let moved = to.number_of(&from.value_of(&number(&row.value)));
        assert_eq!(moved, number(&row.exact), "{} {} in {}", row.value, row.from, row.to);
        assert_eq!(from.number_of(&to.value_of(&moved)), number(&row.value), "and back");
        if let Some(figure) = &row.printed {
            assert_eq!(
                to_as_many_digits(&moved, figure),
                number(figure),
                "{} is printed",
                row.from
            );
            printed += 1;
        }
    }
    assert!(printed >= 50, "only {printed} rows have a printed figure");
}

#[test]
fn limits_are_rounded_inward_as_workshop_manuals_do() {
    let table: Roundings = serde_yaml::from_str(ROUNDING).unwrap();
    assert!(table.limits.len() >= 56, "only {} rows were read", table.limits.len());
    let units = defined();
    for row in &table.limits {
        let (from, to) = (unit(&units, &row.from, &row.kind), unit(&units, &row.to, &row.kind));
        let range = range_of(&row.written, from);
        let exact = |bound: &Option<Bound>| bound.as_ref().map(|bound| to.number_of(&bound.value));
        assert_eq!(exact(&range.lower), figure(row.exact.0.as_deref()), "{} exact", row.id);
        assert_eq!(exact(&range.upper), figure(row.exact.1.as_deref()), "{} exact", row.id);
        if let Some(wanted) = &row.inward {
            let wanted = match wanted {
                Inward::Ends(lower, upper) => {
                    Some((figure(lower.as_deref()), figure(upper.as_deref())))
                }
                Inward::Word(word) => {
                    assert_eq!(word, "none");
                    None
                }
            };
            assert_eq!(inward_to(&range, to, &number(&row.step)), wanted, "{} inward", row.id);
        }
    }
}

#[test]
fn plain_rounding_is_to_the_even_neighbour_and_falls_outside_where_the_table_says() {
    let table: Roundings = serde_yaml::from_str(ROUNDING).unwrap();
    let units = defined();
    let mut outside = 0;
    for row in table.limits.iter().filter(|row| row.nearest.is_some()) {
        let (from, to) = (unit(&units, &row.from, &row.kind), unit(&units, &row.to, &row.kind));
        let range = range_of(&row.written, from);
        let step = number(&row.step);
        let (nearest, falls) = (row.nearest.as_ref().unwrap(), row.outside.as_ref().unwrap());
        let ends = [(&range.lower, &nearest.0, &falls.0), (&range.upper, &nearest.1, &falls.1)];
        for ((bound, wanted, falls), lower) in ends.into_iter().zip([true, false]) {
            let Some(bound) = bound else { continue };
            let rounded = Rounding::Nearest.to_step(&to.number_of(&bound.value), &step);
            assert_eq!(Some(&rounded), figure(wanted.as_deref()).as_ref(), "{} nearest", row.id);
            // Outside of its own limit: a lower one that went down, an upper one that went up.
            let moved = to.value_of(&rounded);
            let is_outside = if lower { moved < bound.value } else { moved > bound.value };
            assert_eq!(is_outside, falls.as_deref() == Some("yes"), "{} outside", row.id);
            outside += usize::from(is_outside);
        }
    }
    assert!(outside >= 25, "plain rounding broke only {outside} limits");
}

#[test]
fn halves_go_to_the_even_neighbour_in_one_stage() {
    let table: Roundings = serde_yaml::from_str(ROUNDING).unwrap();
    assert!(table.numbers.len() >= 13);
    for row in &table.numbers {
        let rounded = Rounding::Nearest.to_step(&number(&row.value), &number(&row.step));
        assert_eq!(rounded, number(&row.nearest), "{} by {} ({})", row.value, row.step, row.source);
    }
}

#[test]
fn every_row_says_how_far_to_trust_it() {
    let known = ["read", "read second-hand", "computed", "from memory", "common practice"];
    let conversions: Conversions = serde_yaml::from_str(CONVERSIONS).unwrap();
    let roundings: Roundings = serde_yaml::from_str(ROUNDING).unwrap();
    for row in &conversions.rows {
        assert!(known.contains(&row.mark.as_str()), "{}", row.mark);
        let mark = row.printed_mark.as_deref();
        assert_eq!(
            mark.is_some_and(|mark| known.contains(&mark)),
            row.printed.is_some(),
            "{}",
            row.from
        );
    }
    let marks = roundings.limits.iter().map(|row| &row.mark);
    for mark in marks.chain(roundings.numbers.iter().map(|row| &row.mark)) {
        assert!(known.contains(&mark.as_str()), "{mark}");
    }
    assert!(!conversions.source.is_empty() && !roundings.source.is_empty());
}

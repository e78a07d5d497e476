//! `LN1xx`: names that are unknown, doubled, unused, or stand where they cannot.

mod ln101_unknown_name;
mod ln102_doubled_name;
mod ln103_circle;
mod ln104_unknown_attribute;
mod ln105_wrong_thing;
mod ln106_clause_word;
mod ln107_never_used;
mod ln108_broken_from_the_start;
mod ln109_unknown_value;
mod ln110_no_choice;
mod ln111_says_too_little;
mod ln112_need_out_of_form;
mod ln113_cannot_be_known;
mod ln114_too_many;
mod ln115_said_twice;
mod ln116_no_such_point;
mod ln117_points_twice;
mod ln118_braces_in_comment;
mod ln119_one_number_for_two;

pub(crate) use ln101_unknown_name::{UnknownFigure, UnknownName};
pub(crate) use ln102_doubled_name::{DoubledName, with_article};
pub(crate) use ln103_circle::Circle;
pub(crate) use ln104_unknown_attribute::UnknownAttribute;
pub(crate) use ln105_wrong_thing::WrongThing;
pub(crate) use ln106_clause_word::ClauseWord;
pub(crate) use ln107_never_used::NeverUsed;
pub(crate) use ln108_broken_from_the_start::BrokenFromTheStart;
pub(crate) use ln109_unknown_value::UnknownValue;
pub(crate) use ln110_no_choice::NoChoice;
pub(crate) use ln111_says_too_little::SaysTooLittle;
pub(crate) use ln112_need_out_of_form::NeedOutOfForm;
pub(crate) use ln113_cannot_be_known::CannotBeKnown;
pub(crate) use ln114_too_many::TooMany;
pub(crate) use ln115_said_twice::SaidTwice;
pub(crate) use ln116_no_such_point::NoSuchPoint;
pub(crate) use ln117_points_twice::PointsTwice;
pub(crate) use ln118_braces_in_comment::BracesInComment;
pub(crate) use ln119_one_number_for_two::OneNumberForTwo;

use locknut_finding::{Finding, Page};

/// The pages of this family.
pub(crate) const PAGES: &[Page] = &[
    UnknownName::PAGE,
    DoubledName::PAGE,
    Circle::PAGE,
    UnknownAttribute::PAGE,
    WrongThing::PAGE,
    ClauseWord::PAGE,
    NeverUsed::PAGE,
    BrokenFromTheStart::PAGE,
    UnknownValue::PAGE,
    NoChoice::PAGE,
    SaysTooLittle::PAGE,
    NeedOutOfForm::PAGE,
    CannotBeKnown::PAGE,
    TooMany::PAGE,
    SaidTwice::PAGE,
    NoSuchPoint::PAGE,
    PointsTwice::PAGE,
    BracesInComment::PAGE,
    OneNumberForTwo::PAGE,
];

/// `live, isolated or tethered`.
pub(crate) fn listed<T: AsRef<str>>(words: &[T], joined_by: &str) -> String {
    match words {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [first @ .., last] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} {joined_by} {}", first.join(", "), last.as_ref())
        }
    }
}

//! What a workshop has: instruments, tools, consumables.

mod consumable;
mod error;
mod figure;
mod instrument;
mod scale;
mod template;
mod tool;

pub(super) use consumable::consumables;
pub(super) use instrument::instruments;
pub(super) use scale::scales;
pub(super) use tool::tools;

use super::near::nearest;
use super::parts::Parts;
use super::read::Reader;
use crate::findings::names::UnknownAttribute;
use crate::findings::quantities::ImpossibleValue;
use locknut_finding::Findings;
use locknut_quantity::Exact;
use locknut_syntax::tree::{Attribute, Expression, LimitForm, Quantity, Thing};

/// Says that a line of an instrument, tool or consumable is nothing that can be said of it.
fn not_known(
    thing: &Thing,
    attribute: &Attribute,
    words: &[&str],
    forms: &[&str],
    reader: Reader<'_>,
    found: &mut Findings,
) {
    let first = Parts::of(attribute).ahead();
    found.add(&UnknownAttribute {
        kind: format!("the {} {}", thing.keyword.text, thing.name.text),
        written: reader.written(attribute.span),
        span: attribute.span,
        near: first.and_then(|word| nearest(&word.text, words.iter().copied())),
        word: first.map_or(attribute.span, |word| word.span),
        like: None,
        takes: forms.iter().map(|form| (*form).to_owned()).collect(),
    });
}

/// So many months are the longest that is taken.
const MOST_MONTHS: u32 = 1200;

/// `12 months`, `1 year`: calendar time has no exact length in seconds, so it is counted in months. Of what is no such
/// time, none; of how many nobody can count, none within, and that is told.
#[expect(clippy::option_option, reason = "what is no such time, and a count that nobody can take")]
fn months(parts: &mut Parts<'_>, reader: Reader<'_>, found: &mut Findings) -> Option<Option<u32>> {
    let limit = parts.limit()?;
    let LimitForm::Just(Expression::Quantity(Quantity { number, unit: Some(unit), .. })) =
        &limit.form
    else {
        return None;
    };
    let each = match unit.text.as_str() {
        "month" | "months" => 1,
        "year" | "years" => 12,
        _ => return None,
    };
    let count = number.text.parse::<u32>().ok().and_then(|count| count.checked_mul(each));
    let count = count.filter(|count| (1..=MOST_MONTHS).contains(count));
    if count.is_none() {
        let why = format!(
            "a time by the calendar is 1 to {MOST_MONTHS} whole months, or so many whole years"
        );
        let (written, span) = (reader.written(limit.span), limit.span);
        found.add(&ImpossibleValue { written, span, why, instead: None, narrow: None });
    }
    Some(count)
}

fn zero() -> Exact {
    Exact::from_integer(0.into())
}

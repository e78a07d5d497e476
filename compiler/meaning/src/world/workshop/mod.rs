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

/// `12 months`, `1 year`: calendar time has no exact length in seconds, so it is counted in months.
fn months(parts: &mut Parts<'_>) -> Option<u32> {
    let LimitForm::Just(Expression::Quantity(Quantity { number, unit: Some(unit), .. })) =
        &parts.limit()?.form
    else {
        return None;
    };
    let count: u32 = number.text.parse().ok().filter(|count| (1..=1200).contains(count))?;
    match unit.text.as_str() {
        "month" | "months" => Some(count),
        "year" | "years" => Some(count * 12),
        _ => None,
    }
}

fn zero() -> Exact {
    Exact::from_integer(0.into())
}

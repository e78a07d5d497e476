//! What a choice is taken from: a list, steps, or a consumable's sizes.

use super::super::laying::Laying;
use super::super::said;
use crate::findings::names::{SaidTwice, TooMany};
use crate::findings::readings::UnusableSet;
use crate::world::Consumable;
use locknut_finding::Span;
use locknut_quantity::{Exact, Quantity};
use locknut_syntax::tree::{self, Clause, ClauseValue, Name, Set};
use num_traits::Signed;

/// A choice is taken from at most so many sizes.
pub(super) const MOST_MEMBERS: usize = 500;

/// The sizes of a choice, ascending, and the consumable whose they are.
pub(super) struct Members<'w> {
    pub(super) sizes: Vec<(Quantity, Option<String>)>,
    pub(super) consumable: Option<&'w Consumable>,
}

/// Reads `from …`.
pub(super) fn members<'w>(laying: &mut Laying<'w>, from: &Clause) -> Option<Members<'w>> {
    let span = from.span;
    let (mut sizes, consumable) = match &from.value {
        ClauseValue::Set(set) => match &**set {
            Set::Named(name) => of_consumable(laying, name)?,
            Set::List(list) => (listed(laying, list)?, None),
            Set::Steps { from, to, step } => (stepped(laying, [from, to, step], span)?, None),
        },
        ClauseValue::Names(names) => match names.as_slice() {
            [name] => of_consumable(laying, name)?,
            _ => return unusable(laying, span, "a choice is taken from one consumable".to_owned()),
        },
        ClauseValue::Text(_)
        | ClauseValue::Limit(_)
        | ClauseValue::Condition(_)
        | ClauseValue::Definition { .. }
        | ClauseValue::Target { .. }
        | ClauseValue::Despite { .. }
        | ClauseValue::Outcome(_) => {
            return unusable(laying, span, "no sizes are listed".to_owned());
        }
    };
    let kind = sizes.first().map(|(size, _)| size.kind);
    if let Some((odd, _)) = sizes.iter().find(|(size, _)| Some(size.kind) != kind) {
        let why = format!("{} is not of the same kind as the first", odd.written);
        return unusable(laying, span, why);
    }
    sizes.sort_by(|(a, _), (b, _)| a.value.cmp(&b.value));
    sizes.dedup_by(|(a, _), (b, _)| a.value == b.value);
    Some(Members { sizes, consumable })
}

/// Sizes with their part numbers.
pub(super) type Sizes = Vec<(Quantity, Option<String>)>;

fn of_consumable<'w>(
    laying: &mut Laying<'w>,
    name: &Name,
) -> Option<(Sizes, Option<&'w Consumable>)> {
    let world = laying.world;
    let Some(consumable) = world.consumables.get(&name.text) else {
        let known: Vec<&str> = world.consumables.keys().map(String::as_str).collect();
        laying.read(|reader, found| reader.unknown("consumable", name, known, found));
        return None;
    };
    if consumable.sizes.is_empty() {
        let why = format!("{} is declared without sizes", name.text);
        return unusable(laying, name.span, why);
    }
    if consumable.sizes.len() > MOST_MEMBERS {
        too_many(laying, name.span);
    }
    let sizes = consumable.sizes.iter().take(MOST_MEMBERS).cloned().collect();
    Some((sizes, Some(consumable)))
}

/// The unit stands once, at the end.
fn listed(laying: &mut Laying<'_>, list: &[tree::Quantity]) -> Option<Sizes> {
    let last = list.last()?;
    if let Some(first) = list.get(MOST_MEMBERS) {
        too_many(laying, first.span);
    }
    let mut sizes: Sizes = Vec::new();
    for written in list.iter().take(MOST_MEMBERS) {
        let size = laying.quantity(&lent(written, last), None)?;
        let first = sizes.iter().zip(list).find(|((other, _), _)| other.value == size.value);
        if let Some((_, first)) = first {
            let what = format!("the size {}", size.written);
            laying.found.add(&SaidTwice { what, first: first.span, again: written.span });
        }
        sizes.push((size, None));
    }
    Some(sizes)
}

fn lent(to: &tree::Quantity, from: &tree::Quantity) -> tree::Quantity {
    let mut lent = to.clone();
    if lent.unit.is_none() {
        lent.unit.clone_from(&from.unit);
        lent.qualifier.clone_from(&from.qualifier);
    }
    lent
}

fn stepped(laying: &mut Laying<'_>, written: [&tree::Quantity; 3], span: Span) -> Option<Sizes> {
    let [from, to, step] = written;
    let to = laying.quantity(&lent(to, step), None)?;
    let from = laying.quantity(&lent(from, &lent(written[1], step)), Some(to.kind))?;
    let difference = laying.world.units.difference_of(to.kind);
    let step = laying.quantity(step, Some(difference))?;
    if !step.value.is_positive() || from.value > to.value {
        let why = "steps go up from the smaller size to the greater".to_owned();
        return unusable(laying, span, why);
    }
    let count = (&to.value - &from.value) / &step.value;
    if !count.is_integer() {
        let why = format!(
            "steps of {} from {} do not come to {}",
            step.written, from.written, to.written
        );
        return unusable(laying, span, why);
    }
    if count >= Exact::from_integer(MOST_MEMBERS.into()) {
        too_many(laying, span);
        return None;
    }
    let decimals = from.decimals.max(to.decimals).max(step.decimals);
    let mut sizes = Vec::new();
    let mut value = from.value;
    while value <= to.value {
        let written = said::value(&laying.world.units, &value, &to, decimals);
        let (kind, unit) = (to.kind, to.unit);
        sizes.push((Quantity { value: value.clone(), kind, unit, decimals, written }, None));
        value += &step.value;
    }
    Some(sizes)
}

fn too_many(laying: &mut Laying<'_>, span: Span) {
    laying.found.add(&TooMany { what: "sizes to choose from", most: MOST_MEMBERS, span });
}

pub(super) fn unusable<T>(laying: &mut Laying<'_>, span: Span, why: String) -> Option<T> {
    laying.found.add(&UnusableSet { span, why });
    None
}

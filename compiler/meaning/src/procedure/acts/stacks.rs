//! `choose up to 3 of shim from …`: the sums to which sizes can be stacked.

use super::super::laying::Laying;
use super::super::said;
use super::members::{MOST_MEMBERS, Members, unusable};
use super::shape::{clause, does_not_fit, names, one_name, span_of};
use crate::findings::readings::{NoSuchStack, NothingStacked, TooManySums};
use locknut_finding::Span;
use locknut_graph::{Member, Stacked};
use locknut_quantity::{Exact, Quantity};
use locknut_syntax::tree::{Act, Name, Object};
use num_traits::Zero;
use std::collections::BTreeMap;

/// More pieces than this nobody lays on one another.
pub(super) const MOST_PIECES: usize = 20;

/// What is chosen.
pub(super) fn chosen<'w>(laying: &mut Laying<'w>, act: &'w Act, form: &str) -> Option<&'w Name> {
    let Some(Object::UpTo { name, .. }) = act.objects.first() else {
        return one_name(laying, act, form);
    };
    for extra in act.objects.iter().skip(1) {
        does_not_fit(laying, act, form, span_of(extra));
    }
    Some(name)
}

/// Of how many pieces it may be stacked, none where one size is taken; an error where that cannot be.
pub(super) fn stacked(
    laying: &mut Laying<'_>,
    act: &Act,
    name: &Name,
) -> Result<Option<Stacked>, NotStacked> {
    let each = clause(act, "each");
    let Some(Object::UpTo { most, .. }) = act.objects.first() else {
        let fewest = names(act, "prefer").into_iter().find(|name| name.text == "fewest");
        let each = each.map(|each| ("each once", each.span));
        for (word, span) in each.into_iter().chain(fewest.map(|fewest| ("fewest", fewest.span))) {
            laying.found.add(&NothingStacked { word, span, name: name.text.clone() });
        }
        return Ok(None);
    };
    match most.text.parse() {
        Ok(count) if (1..=MOST_PIECES).contains(&count) => {
            Ok(Some(Stacked { most: count, each_once: each.is_some() }))
        }
        _ => {
            let (written, span) = (most.text.clone(), most.span);
            laying.found.add(&NoSuchStack { written, span, most: MOST_PIECES });
            Err(NotStacked)
        }
    }
}

/// What is wrong was told.
pub(super) struct NotStacked;

/// Each size for itself.
pub(super) fn single(members: &Members<'_>) -> Vec<Member> {
    let single = |(at, (size, _)): (usize, &(Quantity, Option<String>))| Member {
        size: size.clone(),
        pieces: vec![at],
    };
    members.sizes.iter().enumerate().map(single).collect()
}

/// What may be chosen from these sizes, ascending.
pub(super) fn set(
    laying: &mut Laying<'_>,
    members: &Members<'_>,
    stacked: Option<Stacked>,
    name: &Name,
    span: Span,
) -> Option<Vec<Member>> {
    let Some(stacked) = stacked else { return Some(single(members)) };
    let (first, _) = members.sizes.first()?;
    let units = &laying.world.units;
    if units.difference_of(first.kind) != first.kind {
        let why = format!("{} and the like cannot be added up", first.written);
        return unusable(laying, span, why);
    }
    let sizes: Vec<&Exact> = members.sizes.iter().map(|(size, _)| &size.value).collect();
    let Some(sums) = sums(&sizes, stacked) else {
        let (name, pieces) = (name.text.clone(), stacked.most);
        laying.found.add(&TooManySums { name, span, pieces, most: MOST_MEMBERS });
        return None;
    };
    let decimals = members.sizes.iter().map(|(size, _)| size.decimals).max().unwrap_or(0);
    let member = |(value, pieces): (Exact, Vec<usize>)| {
        let written = said::value(&laying.world.units, &value, first, decimals);
        let (kind, unit) = (first.kind, first.unit);
        Member { size: Quantity { value, kind, unit, decimals, written }, pieces }
    };
    Some(sums.into_iter().map(member).collect())
}

/// Each sum with its stack: of the fewest pieces, and of those the one whose greatest piece is the
/// greatest, and so on; none where there are too many sums. Sizes come ascending and apart.
fn sums(sizes: &[&Exact], stacked: Stacked) -> Option<BTreeMap<Exact, Vec<usize>>> {
    // By the number of pieces, what each sum is stacked of.
    let mut by_count: Vec<BTreeMap<Exact, Vec<usize>>> = vec![BTreeMap::new(); stacked.most + 1];
    if let Some(none) = by_count.first_mut() {
        none.insert(Exact::zero(), Vec::new());
    }
    for (at, size) in sizes.iter().enumerate() {
        // Downwards, what is laid on knows nothing of this size; upwards, it may hold it already.
        let counts: Vec<usize> = if stacked.each_once {
            (1..=stacked.most).rev().collect()
        } else {
            (1..=stacked.most).collect()
        };
        for count in counts {
            let laid: Vec<(Exact, Vec<usize>)> = by_count
                .get(count - 1)?
                .iter()
                .map(|(sum, pieces)| (sum + *size, [&[at], pieces.as_slice()].concat()))
                .collect();
            // No stack so far has a piece as great as this one, so those with it go before.
            let here = by_count.get_mut(count)?;
            here.extend(laid);
            if here.len() > MOST_MEMBERS {
                return None;
            }
        }
    }
    let mut all = BTreeMap::new();
    for (sum, pieces) in by_count.into_iter().skip(1).flatten() {
        all.entry(sum).or_insert(pieces);
    }
    (all.len() <= MOST_MEMBERS).then_some(all)
}

#[cfg(test)]
mod tests {
    use super::sums;
    use locknut_graph::Stacked;
    use locknut_quantity::Exact;
    use proptest::prelude::*;
    use std::collections::BTreeMap;

    /// Every stack there is, one by one: of each sum that with the fewest pieces, then the greatest first.
    fn by_hand(sizes: &[i64], stacked: Stacked) -> BTreeMap<i64, Vec<usize>> {
        let mut best: BTreeMap<i64, Vec<usize>> = BTreeMap::new();
        let mut left: Vec<Vec<usize>> = (0..sizes.len()).map(|at| vec![at]).collect();
        while let Some(pieces) = left.pop() {
            let sum = pieces.iter().map(|at| sizes[*at]).sum();
            let better = |known: &Vec<usize>| {
                pieces.len() < known.len() || (pieces.len() == known.len() && pieces > *known)
            };
            if best.get(&sum).is_none_or(better) {
                best.insert(sum, pieces.clone());
            }
            if pieces.len() < stacked.most {
                let least = *pieces.last().expect("a piece");
                let below = if stacked.each_once { 0..least } else { 0..least + 1 };
                left.extend(below.map(|at| [pieces.as_slice(), &[at]].concat()));
            }
        }
        best
    }

    proptest! {
        #[test]
        fn every_sum_is_stacked_as_by_hand(
            sizes in prop::collection::btree_set(1i64..30, 1..6), most in 1usize..5, each_once: bool,
        ) {
            let sizes: Vec<i64> = sizes.into_iter().collect();
            let exact: Vec<Exact> = sizes.iter().map(|size| Exact::from_integer((*size).into())).collect();
            let stacked = Stacked { most, each_once };
            let found = sums(&exact.iter().collect::<Vec<_>>(), stacked).expect("few");
            let wanted = by_hand(&sizes, stacked);
            let wanted = wanted.into_iter().map(|(sum, pieces)| (Exact::from_integer(sum.into()), pieces));
            prop_assert_eq!(found, wanted.collect());
        }
    }
}

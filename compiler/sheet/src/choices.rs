//! Choices: a look-up table where one reading decides, else a worked line; and how many of each size can be needed.

use crate::rules::{rule, said};
use crate::sheet::{Field, LineKind, Table};
use crate::words::Speaker;
use locknut_graph::{ActKind, Choice, Expression, Material, Member, NodeId, NodeKind, Prefer};
use locknut_proof::{ChoiceTable, Facts};
use locknut_quantity::{Limit, Quantity, Range};
use std::collections::BTreeSet;

/// A longer set of steps is told by its ends.
const MOST_TOLD: usize = 8;

/// What the line of a choice shows.
pub(crate) fn kind(
    speak: Speaker<'_>,
    (facts, node): (&Facts, NodeId),
    choice: &Choice,
    field: Field,
) -> LineKind {
    match facts.choices.get(&node) {
        Some(table) => LineKind::LookUp { table: looked_up(speak, choice, table), field },
        None if !choice.rows.is_empty() => {
            let met = facts.rows_met.get(&node);
            LineKind::LookUp { table: as_written(speak, choice, met), field }
        }
        None => LineKind::Computed { rule: worked(speak, choice), field },
    }
}

/// Rows on the instrument's own digits.
fn looked_up(speak: Speaker<'_>, choice: &Choice, table: &ChoiceTable) -> Table {
    let rows = table.rows.iter().map(|row| {
        let limit = Limit {
            range: Range::closed(row.from.value.clone(), row.to.value.clone()),
            kind: row.from.kind,
            unit: row.from.unit,
            decimals: row.from.decimals,
            written: String::new(),
        };
        let member = row.member.and_then(|member| choice.set.get(member));
        let none = || speak.phrases.label("choose-none");
        vec![speak.limit(&limit), member.map_or_else(none, |member| pieces(speak, choice, member))]
    });
    Table { columns: columns(speak, choice, &table.by), rows: rows.collect(), caption: None }
}

/// Rows as the author gives them, by something that is worked out; those that nobody comes to are left out.
fn as_written(speak: Speaker<'_>, choice: &Choice, met: Option<&Vec<usize>>) -> Table {
    let row = |(limit, member): &(Limit, usize)| {
        let member = choice.set.get(*member)?;
        Some(vec![speak.limit(limit), pieces(speak, choice, member)])
    };
    let is_met = |(at, _): &(usize, _)| met.is_none_or(|met| met.contains(at));
    let rows = choice.rows.iter().enumerate().filter(is_met);
    let rows = rows.filter_map(|(_, one)| row(one)).collect();
    Table { columns: columns(speak, choice, &choice.value), rows, caption: None }
}

fn columns(speak: Speaker<'_>, choice: &Choice, by: &Expression) -> Vec<String> {
    let chosen = speak.reading(choice.reading);
    vec![Speaker::sentence(&said(speak, by)), Speaker::sentence(&chosen)]
}

fn worked(speak: Speaker<'_>, choice: &Choice) -> String {
    let unit = speak.units.unit(choice.range.unit);
    let mut text = speak.say(
        "choose-rule",
        &[
            ("prefer", preference(speak, choice)),
            ("sizes", sizes(speak, choice)),
            ("target", speak.phrases.name(&choice.target)),
            ("rule", rule(speak, &speak.phrases.name(&choice.target), Some(unit), &choice.value)),
            ("limit", speak.limit(&choice.range)),
            ("reading", speak.reading(choice.reading)),
        ],
    );
    if let Some(stacked) = &choice.stacked {
        let key = if stacked.each_once { "choose-stack-once" } else { "choose-stack" };
        text.push(' ');
        let chosen = speak.reading(choice.reading);
        let most = speak.digits(&stacked.most.to_string());
        text.push_str(&speak.say(key, &[("most", most), ("reading", chosen)]));
    }
    if let Some(tie) = tie(choice) {
        text.push(' ');
        text.push_str(&speak.phrases.label(tie));
    }
    text.push(' ');
    text.push_str(&speak.phrases.label("choose-no-table"));
    text
}

/// Which of several is taken where the rule of the line leaves more than one.
fn tie(choice: &Choice) -> Option<&'static str> {
    match (&choice.prefer, &choice.stacked) {
        (Prefer::Fewest, _) => Some("choose-tie-fewest"),
        (Prefer::Nearest(_), Some(_)) => Some("choose-tie-nearest-stack"),
        (Prefer::Nearest(_), None) => Some("choose-tie-nearest"),
        (Prefer::Smallest | Prefer::Largest, Some(_)) => Some("choose-tie-stack"),
        (Prefer::Smallest | Prefer::Largest, None) => None,
    }
}

fn preference(speak: Speaker<'_>, choice: &Choice) -> String {
    match &choice.prefer {
        Prefer::Smallest => speak.phrases.label("choose-smallest"),
        Prefer::Largest => speak.phrases.label("choose-largest"),
        Prefer::Nearest(to) => speak.say(
            "choose-nearest",
            &[("target", speak.phrases.name(&choice.target)), ("to", speak.quantity(to))],
        ),
        Prefer::Fewest => speak.phrases.label("choose-fewest"),
    }
}

fn sizes(speak: Speaker<'_>, choice: &Choice) -> String {
    let all: Vec<String> = choice.sizes.iter().map(|size| part(speak, size)).collect();
    match (all.as_slice(), stepped(choice)) {
        ([first, .., last], Some(step)) if all.len() > MOST_TOLD => {
            let step = size_of(speak, &step);
            let ends = [("lower", first.clone()), ("upper", last.clone()), ("step", step)];
            speak.say("choose-steps", &ends)
        }
        _ => all.join(", "),
    }
}

/// From each size to the next, where that is always the same and no size has a number of its own.
fn stepped(choice: &Choice) -> Option<Quantity> {
    let sizes: Vec<&Quantity> = choice.sizes.iter().map(|(size, _)| size).collect();
    let [first, second, ..] = sizes.as_slice() else { return None };
    let step = &second.value - &first.value;
    let pairs = sizes.iter().zip(sizes.iter().skip(1));
    let even = pairs.into_iter().all(|(one, next)| &next.value - &one.value == step);
    let plain = choice.sizes.iter().all(|(_, number)| number.is_none());
    (even && plain).then(|| Quantity { value: step, ..(*second).clone() })
}

/// A size is what stands on the part: in the list, the table and a worked line it is told as it is written.
fn size_of(speak: Speaker<'_>, size: &Quantity) -> String {
    Speaker { system: None, ..speak }.quantity(size)
}

/// `0.50 mm (S-05)`
fn part(speak: Speaker<'_>, (size, number): &(Quantity, Option<String>)) -> String {
    let size = size_of(speak, size);
    match number {
        Some(number) => format!("{size} ({number})"),
        None => size,
    }
}

/// `2 × 0.50 mm (S-05) + 0.30 mm (S-03)`
fn pieces(speak: Speaker<'_>, choice: &Choice, member: &Member) -> String {
    let apart: BTreeSet<usize> = member.pieces.iter().copied().collect();
    let told = |at: &usize| {
        let part = part(speak, choice.sizes.get(*at)?);
        Some(match times(member, *at) {
            1 => part,
            count => format!("{count} × {part}"),
        })
    };
    apart.iter().rev().filter_map(told).collect::<Vec<_>>().join(" + ")
}

fn times(member: &Member, piece: usize) -> usize {
    member.pieces.iter().filter(|at| **at == piece).count()
}

/// The sizes of a material, with how many of each can be needed at most.
pub(crate) fn needed(speak: Speaker<'_>, facts: &Facts, material: &Material) -> Vec<String> {
    let told = |size: &(Quantity, Option<String>)| match count(speak, facts, material, &size.0) {
        Some(0) => None,
        None | Some(1) => Some(part(speak, size)),
        Some(count) => Some(format!("{count} × {}", part(speak, size))),
    };
    material.sizes.iter().filter_map(told).collect()
}

/// All choices from the material together; none: nothing is chosen from it.
fn count(speak: Speaker<'_>, facts: &Facts, material: &Material, size: &Quantity) -> Option<usize> {
    let mut all = None;
    for node in speak.graph.flow.node_indices() {
        if let NodeKind::Act(act) = &speak.graph.node(node).kind
            && let ActKind::Choose(choice) = &act.kind
            && choice.stock.as_ref() == Some(&material.words)
        {
            *all.get_or_insert(0) += most_of(choice, facts, node, size);
        }
    }
    all
}

/// How many of one size this choice can take.
fn most_of(choice: &Choice, facts: &Facts, node: NodeId, size: &Quantity) -> usize {
    let Some(piece) = choice.sizes.iter().position(|(own, _)| own.value == size.value) else {
        return 0;
    };
    let taken: Vec<&Member> = match (facts.choices.get(&node), facts.may_take.get(&node)) {
        (Some(table), _) => {
            table.rows.iter().filter_map(|row| choice.set.get(row.member?)).collect()
        }
        (None, Some(members)) => members.iter().filter_map(|at| choice.set.get(*at)).collect(),
        (None, None) => choice.set.iter().collect(),
    };
    taken.into_iter().map(|member| times(member, piece)).max().unwrap_or(0)
}

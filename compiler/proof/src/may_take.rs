//! Which members a choice may come to take where no table tells: those that fit for something that may be read. Wider than what is
//! taken, never narrower.

use crate::choices::Shown;
use locknut_graph::{
    Act, ActKind, Choice, Expression, Fold, NodeId, Operator, ReadingId, StepGraph,
};
use locknut_quantity::{Bound, Exact, Range};
use num_traits::{Signed, Zero};
use std::collections::BTreeMap;

/// What may come of a choice.
pub(crate) struct MayTake {
    /// Positions in its set.
    pub(crate) members: Vec<usize>,
    /// Of the table form, the rows that may be met.
    pub(crate) rows: Vec<usize>,
}

/// Of each choice.
pub(crate) fn of_each(graph: &StepGraph) -> BTreeMap<NodeId, MayTake> {
    let acts = graph.flow.node_indices().filter_map(|node| Some((node, graph.node(node).act()?)));
    let choices = acts.filter_map(|(node, act)| match &act.kind {
        ActKind::Choose(choice) => Some((node, of(graph, act, choice))),
        ActKind::Do
        | ActKind::Confirm
        | ActKind::Wait { .. }
        | ActKind::Measure { .. }
        | ActKind::Count { .. }
        | ActKind::Observe { .. }
        | ActKind::Record { .. }
        | ActKind::Check { .. } => None,
    });
    choices.collect()
}

fn of(graph: &StepGraph, act: &Act, choice: &Choice) -> MayTake {
    let within = |limit: &Range, size: &Exact| {
        let own = (choice.reading, size);
        Reach { graph, act, own }.of(&choice.value).is_none_or(|(low, high)| {
            let closed = |value| Some(Bound { value, closed: true });
            !limit.intersect(&Range { lower: closed(low), upper: closed(high) }).is_empty()
        })
    };
    let (nothing, rows) = (Exact::zero(), choice.rows.iter().enumerate());
    let met = rows.filter(|(_, (limit, _))| within(&limit.range, &nothing));
    let rows: Vec<usize> = met.map(|(at, _)| at).collect();
    let all = choice.set.iter().enumerate();
    let members = if choice.rows.is_empty() {
        let fits = all.filter(|(_, member)| within(&choice.range.range, &member.size.value));
        fits.map(|(at, _)| at).collect()
    } else {
        rows.iter().filter_map(|row| Some(choice.rows.get(*row)?.1)).collect()
    };
    MayTake { members, rows }
}

/// What expressions may come to while one member is tried.
#[derive(Clone, Copy)]
struct Reach<'a> {
    graph: &'a StepGraph,
    act: &'a Act,
    own: (ReadingId, &'a Exact),
}

impl Reach<'_> {
    /// The least and the greatest; none where nobody can tell.
    fn of(self, expression: &Expression) -> Option<(Exact, Exact)> {
        match expression {
            Expression::Value(quantity) => Some((quantity.value.clone(), quantity.value.clone())),
            Expression::Reading(reading) | Expression::Point(reading, _) => self.reading(*reading),
            Expression::Negative(inner) => self.of(inner).map(|(low, high)| (-high, -low)),
            Expression::Binary(operator, left, right) => {
                let ((a, b), (c, d)) = (self.of(left)?, self.of(right)?);
                match operator {
                    Operator::Add => Some((a + c, b + d)),
                    Operator::Subtract => Some((a - d, b - c)),
                    Operator::Multiply => around([&a * &c, &a * &d, &b * &c, &b * &d]),
                    Operator::Divide if c.is_positive() || d.is_negative() => {
                        around([&a / &c, &a / &d, &b / &c, &b / &d])
                    }
                    Operator::Divide => None,
                }
            }
            Expression::Fold(fold, parts) => self.fold(*fold, parts),
            Expression::LookUp(table, end, of) => {
                let (low, high) = self.of(of)?;
                table.over(*end, &low, &high)
            }
        }
    }

    /// Of all points of its parts alike.
    fn fold(self, fold: Fold, parts: &[Expression]) -> Option<(Exact, Exact)> {
        let all: Vec<(Exact, Exact)> =
            parts.iter().map(|part| self.of(part)).collect::<Option<_>>()?;
        let lows = || all.iter().map(|(low, _)| low);
        let highs = || all.iter().map(|(_, high)| high);
        let (least, most) = (lows().min()?.clone(), highs().max()?.clone());
        match fold {
            Fold::Max => Some((lows().max()?.clone(), most)),
            Fold::Min => Some((least, highs().min()?.clone())),
            Fold::Mean => Some((least, most)),
            Fold::Spread => Some((Exact::zero(), most - least)),
            Fold::Abs if !least.is_negative() => Some((least, most)),
            Fold::Abs => Some((Exact::zero(), least.abs().max(most.abs()))),
            // How many points a part has is not known here.
            Fold::Sum | Fold::Count => None,
        }
    }

    fn reading(self, reading: ReadingId) -> Option<(Exact, Exact)> {
        if reading == self.own.0 {
            return Some((self.own.1.clone(), self.own.1.clone()));
        }
        let (low, high) = self.read(reading)?;
        let Some(left) = self.act.settled.get(&reading) else { return Some((low, high)) };
        let closed = |value| Some(Bound { value, closed: true });
        let left = left.intersect(&Range { lower: closed(low), upper: closed(high) });
        Some((left.lower?.value, left.upper?.value))
    }

    /// Wherever it is read.
    fn read(self, reading: ReadingId) -> Option<(Exact, Exact)> {
        if let Some(shown) = Shown::of(self.graph, reading) {
            return Some(shown.ends());
        }
        let acts = self.graph.flow.node_weights().filter_map(locknut_graph::Node::act);
        acts.into_iter().find_map(|act| match &act.kind {
            ActKind::Check { reading: of, value, .. } if *of == reading => self.of(value),
            ActKind::Choose(other) if other.reading == reading => {
                around(other.set.iter().map(|member| member.size.value.clone()))
            }
            ActKind::Do
            | ActKind::Confirm
            | ActKind::Wait { .. }
            | ActKind::Measure { .. }
            | ActKind::Count { .. }
            | ActKind::Observe { .. }
            | ActKind::Record { .. }
            | ActKind::Check { .. }
            | ActKind::Choose(_) => None,
        })
    }
}

fn around(values: impl IntoIterator<Item = Exact>) -> Option<(Exact, Exact)> {
    let all: Vec<Exact> = values.into_iter().collect();
    Some((all.iter().min()?.clone(), all.iter().max()?.clone()))
}

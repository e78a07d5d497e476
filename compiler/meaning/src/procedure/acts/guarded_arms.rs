//! Arms that meet at an edge which the error of the reading blurs: one keeps to what is sure, the other takes the
//! readings between. The ends are moved here, once, so that every stage right of meaning sorts by the same figures.

use super::super::laying::Laying;
use super::super::said;
use super::capability::{Value, error_said, unguardable};
use super::readings;
use crate::findings::readings::{NeverSure, NothingSurelyInside, SortedAsRead};
use locknut_finding::Span;
use locknut_graph::{ActArm, Doubt, Rule};
use locknut_quantity::{Bound, Exact, Grid, Limit, Range, Rounding};
use num_traits::Signed;

/// The rule of an arm, and where it is written; none: its author says nothing.
pub(super) type ArmRule = Option<(Rule, Span)>;

/// Moves the ends of arms, as their rules say; whether that leaves each of them some reading.
pub(super) fn guard(
    laying: &mut Laying<'_>,
    arms: &mut [ActArm],
    rules: &[ArmRule],
    value: &Value<'_>,
) -> bool {
    let Some(order) = ascending(arms) else { return true };
    as_read(laying, arms, &order, rules, value);
    never_sure(laying, arms, &order, rules, value);
    let Some((said, span)) = first_guarded(arms, rules) else { return true };
    let doubt = value.doubt().zip(grid(laying, value));
    if doubt.is_none_or(|(doubt, grid)| draw_in(arms, &order, rules, &doubt, &grid).is_none()) {
        unguardable(laying, value, None, (said, span));
        return true;
    }
    for arm in arms.iter_mut() {
        say_moved(laying, arm, value);
    }
    taken_at_all(laying, arms, value)
}

/// None: the error is as great as the reading.
fn draw_in(
    arms: &mut [ActArm],
    order: &[usize],
    rules: &[ArmRule],
    doubt: &Doubt,
    grid: &Grid,
) -> Option<()> {
    for arm in arms.iter_mut() {
        arm.whole.clone_from(&arm.range);
    }
    let written: Vec<Option<Limit>> = arms.iter().map(|arm| arm.range.clone()).collect();
    for (below, above) in order.iter().zip(order.iter().skip(1)) {
        let Some(sure) = surer(*below, *above, rules) else { continue };
        let edge = Edge { below: *below, above: *above, lower_is_sure: sure == *below };
        edge.moves(arms, &written, doubt, grid)?;
    }
    Some(())
}

/// The arms as they follow one another; none where one could not be read, which is told.
fn ascending(arms: &[ActArm]) -> Option<Vec<usize>> {
    let ranges: Option<Vec<&Range>> =
        arms.iter().map(|arm| arm.range.as_ref().map(|limit| &limit.range)).collect();
    let begins =
        |range: &&Range| range.lower.as_ref().map(|lower| (lower.value.clone(), !lower.closed));
    let mut order: Vec<_> = ranges?.iter().map(begins).zip(0..).collect();
    order.sort();
    Some(order.into_iter().map(|(_, at)| at).collect())
}

fn first_guarded(arms: &[ActArm], rules: &[ArmRule]) -> Option<(Span, Span)> {
    arms.iter().zip(rules).find_map(|(arm, rule)| {
        let (_, said) = rule.filter(|(rule, _)| rule.guards())?;
        Some((said, arm.span))
    })
}

/// Which of two arms that meet keeps to what is sure: the guarded one, and of two the one that stands first.
fn surer(below: usize, above: usize, rules: &[ArmRule]) -> Option<usize> {
    let guarded = |at: &usize| matches!(rules.get(*at), Some(Some((rule, _))) if rule.guards());
    [below, above].into_iter().filter(guarded).min()
}

/// Says so where an arm is guarded and only takes what its neighbours give.
fn never_sure(
    laying: &mut Laying<'_>,
    arms: &[ActArm],
    order: &[usize],
    rules: &[ArmRule],
    value: &Value<'_>,
) {
    for (at, rule) in rules.iter().enumerate() {
        let Some((_, said)) = rule.filter(|(rule, _)| rule.guards()) else { continue };
        let edges = order.iter().zip(order.iter().skip(1));
        let own = edges.filter(|(below, above)| **below == at || **above == at);
        let sure: Vec<usize> =
            own.filter_map(|(below, above)| surer(*below, *above, rules)).collect();
        let before = sure.first().and_then(|first| arms.get(*first)).map(|arm| arm.span);
        if let Some(before) = before.filter(|_| !sure.contains(&at)) {
            let name = value.name.text.clone();
            laying.found.add(&NeverSure { name, said, before });
        }
    }
}

/// In a library that guards its limits, nobody has said of this edge who takes what lies near it.
fn as_read(
    laying: &mut Laying<'_>,
    arms: &[ActArm],
    order: &[usize],
    rules: &[ArmRule],
    value: &Value<'_>,
) {
    if !laying.world.metrology.rule.guards() || value.is_exact() {
        return;
    }
    let silent = |at: usize| rules.get(at).is_none_or(Option::is_none);
    let mut pairs = order.iter().zip(order.iter().skip(1));
    let edge = pairs.find(|(below, above)| silent(**below) && silent(**above));
    let spans =
        edge.and_then(|(below, above)| Some((arms.get(*below)?.span, arms.get(*above)?.span)));
    if let Some((below, above)) = spans {
        laying.found.add(&SortedAsRead { name: value.name.text.clone(), below, above });
    }
}

/// What the value is shown with: the digits of its instrument or of its sum, else its decimals.
fn grid(laying: &Laying<'_>, value: &Value<'_>) -> Option<Grid> {
    value.possible.and_then(|possible| possible.grid.clone()).or_else(|| by_decimals(laying, value))
}

/// The digits in which a limit of the value is printed: those of its instrument, else its decimals.
pub(super) fn printed(laying: &Laying<'_>, value: &Value<'_>) -> Option<Grid> {
    value.instrument.and_then(readings::grid).or_else(|| by_decimals(laying, value))
}

fn by_decimals(laying: &Laying<'_>, value: &Value<'_>) -> Option<Grid> {
    let unit = laying.world.units.unit(value.unit);
    let ten = Exact::from_integer(10.into());
    let step = (0..value.decimals).fold(unit.factor.clone(), |step, _| step / &ten);
    Grid::new(unit.zero.clone(), step)
}

/// Where two arms meet.
struct Edge {
    below: usize,
    above: usize,
    lower_is_sure: bool,
}

impl Edge {
    /// Draws the surer arm in, to a figure that can be read; the other one begins where it ends. None: the error
    /// is as great as the reading.
    fn moves(
        &self,
        arms: &mut [ActArm],
        written: &[Option<Limit>],
        doubt: &Doubt,
        grid: &Grid,
    ) -> Option<()> {
        let of = |at: usize| written.get(at)?.as_ref().map(|limit| &limit.range);
        let sure = of(if self.lower_is_sure { self.below } else { self.above })?;
        let guard = doubt.guard(sure)?;
        let end = if self.lower_is_sure { &sure.upper } else { &sure.lower };
        let band = if self.lower_is_sure { guard.upper } else { guard.lower };
        // Arms that end nowhere overlap, which is told.
        let (Some(end), Some(band)) = (end, band) else { return Some(()) };
        let (moved, inward) = if self.lower_is_sure {
            (&end.value - &band.inward, Rounding::Down)
        } else {
            (&end.value + &band.inward, Rounding::Up)
        };
        let value = grid.snap(&moved, inward);
        let own = Bound { closed: end.closed || value != moved, value };
        let others = Bound { closed: !own.closed, value: own.value.clone() };
        let (upper, lower) = if self.lower_is_sure { (own, others) } else { (others, own) };
        range_of(arms, self.below)?.upper = Some(upper);
        range_of(arms, self.above)?.lower = Some(lower);
        Some(())
    }
}

fn range_of(arms: &mut [ActArm], at: usize) -> Option<&mut Range> {
    Some(&mut arms.get_mut(at)?.range.as_mut()?.range)
}

/// An arm that was moved keeps what its author wrote beside what is read.
fn say_moved(laying: &Laying<'_>, arm: &mut ActArm, value: &Value<'_>) {
    let (Some(limit), Some(whole)) = (&mut arm.range, &arm.whole) else { return };
    if limit.range == whole.range {
        arm.whole = None;
        return;
    }
    limit.decimals = limit.decimals.max(value.decimals);
    limit.written = said::range(&laying.world.units, &limit.range, &*limit, limit.decimals);
    arm.written.clone_from(&limit.written);
}

/// Says so where what an arm gives up leaves it no reading.
fn taken_at_all(laying: &mut Laying<'_>, arms: &[ActArm], value: &Value<'_>) -> bool {
    let mut all = true;
    let keeps = |limit: &Limit| value.possible.is_none_or(|all| all.within(&limit.range).is_some());
    for arm in arms {
        let (Some(limit), Some(whole)) = (&arm.range, &arm.whole) else { continue };
        if keeps(whole) && !keeps(limit) {
            all = false;
            let ends = [
                (&whole.range.lower, &limit.range.lower),
                (&whole.range.upper, &limit.range.upper),
            ];
            let moved = ends
                .into_iter()
                .filter_map(|(from, to)| Some((&from.as_ref()?.value - &to.as_ref()?.value).abs()));
            let band = error_said(laying, moved.max().as_ref(), value);
            let (name, limit) = (value.name.text.clone(), whole.written.clone());
            laying.found.add(&NothingSurelyInside { name, limit, span: arm.span, band, arm: true });
        }
    }
    all
}

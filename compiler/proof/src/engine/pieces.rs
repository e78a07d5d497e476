//! Readings as finite variables: where a value lies among the bounds that are asked of it.
//!
//! A reading is cut at every bound that a verdict or a condition names. Its piece is picked when it is
//! read, among those that fit the way that was taken, and travels along: a second question about the
//! same reading is answered alike. Where its gauge shows no figure between two bounds nothing lies there. A sum or a fold that is asked about is a value of its own, picked
//! when it is first asked for and dropped when a reading in it is taken anew; two different sums over
//! the same readings are taken as free of one another.

use super::bits::Mask;
use locknut_graph::{Act, Expression, ReadingId, StepGraph, Test, Verdict, Way};
use locknut_quantity::{Bound, Exact, Grid, Range};
use std::collections::{BTreeMap, BTreeSet};

/// With more bounds a value is left free: any answer may come each time.
const MOST_CUTS: usize = 120;

/// A value that conditions ask about.
#[derive(Debug)]
struct Asked {
    value: Expression,
    readings: BTreeSet<ReadingId>,
    cuts: Vec<Exact>,
    /// The digits of what shows it, where it is read and not worked out: between them nothing comes.
    digits: Option<Grid>,
    /// Pieces that can come at all: inside what is expected.
    possible: Mask,
}

/// Every value that conditions ask about.
#[derive(Debug, Default)]
pub(crate) struct Pieces {
    asked: Vec<Asked>,
    by_reading: BTreeMap<ReadingId, Vec<u16>>,
}

impl Pieces {
    pub(crate) fn of(graph: &StepGraph) -> Self {
        let mut pieces = Self::default();
        for condition in graph.conditions() {
            for test in condition.tests() {
                if let Test::Within { value, limit, .. } = test {
                    pieces.ask(value, &limit.range);
                }
            }
        }
        if pieces.asked.is_empty() {
            return pieces;
        }
        for act in graph.flow.node_weights().filter_map(locknut_graph::Node::act) {
            pieces.cut_by(act);
        }
        pieces.asked.retain(|asked| asked.cuts.len() <= MOST_CUTS);
        for (position, asked) in (0u16..).zip(&mut pieces.asked) {
            asked.cuts.sort();
            asked.cuts.dedup();
            asked.digits = digits_of(graph, &asked.value);
            asked.possible = asked.mask(&Range::default());
            for reading in &asked.readings {
                pieces.by_reading.entry(*reading).or_default().push(position);
            }
        }
        pieces
    }

    fn ask(&mut self, value: &Expression, range: &Range) {
        let cuts =
            [&range.lower, &range.upper].into_iter().flatten().map(|bound| bound.value.clone());
        if let Some(asked) = self.asked.iter_mut().find(|asked| asked.value == *value) {
            asked.cuts.extend(cuts);
        } else if self.asked.len() < usize::from(u16::MAX) {
            let (readings, cuts) = (value.readings(), cuts.collect());
            self.asked.push(Asked {
                value: value.clone(),
                readings,
                cuts,
                digits: None,
                possible: Mask::default(),
            });
        }
    }

    /// Bounds of a verdict cut, too: they tell what a way says of the value.
    fn cut_by(&mut self, act: &Act) {
        let Some(reading) = act.kind.reading() else { return };
        let ranges = ranges_of(act);
        for asked in self.asked.iter_mut().filter(|asked| asked.is_of(reading)) {
            for range in &ranges {
                let ends = [&range.lower, &range.upper].into_iter().flatten();
                asked.cuts.extend(ends.map(|bound| bound.value.clone()));
            }
        }
    }

    /// Which value it is; none where nothing asks about it or too much does.
    pub(crate) fn position(&self, value: &Expression) -> Option<u16> {
        let position = self.asked.iter().position(|asked| asked.value == *value)?;
        u16::try_from(position).ok()
    }

    /// Values that rest on a reading.
    pub(crate) fn on(&self, reading: ReadingId) -> impl Iterator<Item = u16> {
        self.by_reading.get(&reading).into_iter().flatten().copied()
    }

    /// How many pieces a value has; they are numbered from 1, and 0 is a value that is not known.
    pub(crate) fn count(&self, position: u16) -> u64 {
        let cuts = self.asked[usize::from(position)].cuts.len();
        2 * u64::try_from(cuts).unwrap_or(0) + 1
    }

    /// The pieces that lie in a range.
    pub(crate) fn mask(&self, position: u16, range: &Range) -> Mask {
        self.asked[usize::from(position)].mask(range)
    }

    /// The pieces that a value may have.
    pub(crate) fn possible(&self, position: u16) -> Mask {
        self.asked[usize::from(position)].possible
    }

    /// The pieces that a value may have once an act was left by a way; none where the act says
    /// nothing about it, which makes it unknown.
    pub(crate) fn after(&self, position: u16, act: &Act, way: Way) -> Option<Mask> {
        let asked = &self.asked[usize::from(position)];
        let reading = act.kind.reading()?;
        if !asked.is_of(reading) {
            return None;
        }
        let expected = act.kind.expect().map_or_else(Range::default, |expect| expect.range.clone());
        let all = asked.mask(&expected);
        let single = matches!(asked.value, Expression::Reading(_));
        Some(match (act.kind.verdict(), way) {
            (Some(Verdict::Accept { limit, computed: None }), Way::Accepted) => {
                asked.mask(&expected.intersect(&limit.accepted()))
            }
            // Of several points, any may be the one outside.
            (Some(Verdict::Accept { limit, computed: None }), Way::Otherwise) if single => {
                let inside = asked.mask(&limit.not_refused());
                Mask::of(all.values().filter(|piece| !inside.has(*piece)).filter_map(small))
            }
            (Some(Verdict::Arms(arms)), Way::Arm(arm)) => {
                match arms.get(usize::from(arm)).and_then(|arm| arm.range.as_ref()) {
                    Some(limit) => asked.mask(&expected.intersect(&limit.range)),
                    None => all,
                }
            }
            _ => all,
        })
    }
}

impl Asked {
    /// Whether it is one value of a reading itself.
    fn is_of(&self, reading: ReadingId) -> bool {
        matches!(&self.value, Expression::Reading(of) | Expression::Point(of, _) if *of == reading)
    }

    fn mask(&self, range: &Range) -> Mask {
        let pieces = 0..=2 * self.cuts.len();
        Mask::of(
            pieces
                .filter(|piece| self.lies_in(*piece, range))
                .filter_map(|piece| u8::try_from(piece + 1).ok()),
        )
    }

    /// Even pieces are the stretches between cuts, odd ones the cuts themselves.
    fn lies_in(&self, piece: usize, range: &Range) -> bool {
        let one = Exact::from_integer(1.into());
        let cut = |at: usize| self.cuts.get(at);
        let inside = if piece % 2 == 1 {
            cut(piece / 2)
                .filter(|cut| self.digits.as_ref().is_none_or(|digits| digits.has(cut)))
                .cloned()
        } else {
            let (below, above) = (piece.checked_sub(2).and_then(|at| cut(at / 2)), cut(piece / 2));
            let end = |value: &Exact| Bound { value: value.clone(), closed: false };
            let between = [below, above].map(|at| at.map(end));
            if self.digits.as_ref().is_some_and(|digits| shows_nothing(digits, between)) {
                return false;
            }
            match (below, above) {
                (Some(below), Some(above)) => Some((below + above) / Exact::from_integer(2.into())),
                (Some(below), None) => Some(below + one),
                (None, Some(above)) => Some(above - one),
                (None, None) => Some(one),
            }
        };
        inside.is_some_and(|value| range.contains(&value))
    }
}

/// Whether none of some digits lies between two ends.
fn shows_nothing(digits: &Grid, [lower, upper]: [Option<Bound>; 2]) -> bool {
    let between = Range { lower, upper };
    digits.draw_in(&between).is_empty()
}

/// The digits of the one instrument that a reading is read with; none where nobody stated them, or where there are several.
fn digits_of(graph: &StepGraph, value: &Expression) -> Option<Grid> {
    let (Expression::Reading(reading) | Expression::Point(reading, _)) = value else { return None };
    let acts = graph.acts().filter(|act| act.kind.reading() == Some(*reading));
    let mut all = acts.map(|act| {
        let instrument = graph.instruments.get(act.instrument?)?;
        Grid::of_instrument(&instrument.range, instrument.resolution.as_ref()?.value.clone())
    });
    let first = all.next()??;
    all.all(|other| other.as_ref() == Some(&first)).then_some(first)
}

fn small(piece: u64) -> Option<u8> {
    u8::try_from(piece).ok()
}

fn ranges_of(act: &Act) -> Vec<Range> {
    let mut ranges: Vec<Range> =
        act.kind.expect().map(|expect| expect.range.clone()).into_iter().collect();
    match act.kind.verdict() {
        Some(Verdict::Accept { limit, computed: None }) => {
            ranges.extend([limit.limit.range.clone(), limit.accepted(), limit.not_refused()]);
        }
        Some(Verdict::Arms(arms)) => {
            ranges.extend(arms.iter().filter_map(|arm| Some(arm.range.as_ref()?.range.clone())));
        }
        Some(Verdict::None | Verdict::Accept { computed: Some(_), .. }) | None => {}
    }
    ranges
}

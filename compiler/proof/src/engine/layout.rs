//! A state as a few machine words: a place of some bits for everything that is watched.

use super::bits::Mask;
use super::index::{Cell, Index};
use super::slice::Slice;
use locknut_graph::{Condition, Moment, Test, VariableId};
use std::collections::BTreeMap;

/// Some bits of a state.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Slot {
    word: usize,
    shift: u32,
    mask: u64,
}

impl Slot {
    /// A place in which nothing is kept, until it is known which.
    pub(crate) const NONE: Self = Self { word: 0, shift: 0, mask: 0 };

    pub(crate) fn get(self, state: &[u64]) -> u64 {
        state[self.word] >> self.shift & self.mask
    }

    pub(crate) fn put(self, state: &mut [u64], value: u64) {
        let word = &mut state[self.word];
        *word = *word & !(self.mask << self.shift) | (value & self.mask) << self.shift;
    }

    /// Each of its bits, by its place in a whole state, and whether it is set in a value.
    pub(super) fn bits(self, value: u64) -> impl Iterator<Item = (usize, bool)> {
        let first = self.word * 64 + usize::try_from(self.shift).unwrap_or(0);
        let wide = usize::try_from(self.mask.count_ones()).unwrap_or(0);
        (0..wide).map(move |bit| (first + bit, value >> bit & 1 == 1))
    }
}

/// Where everything stands in a state.
#[derive(Debug, Default)]
pub(crate) struct Layout {
    bits: usize,
    rooms: Vec<Slot>,
    cells: BTreeMap<Cell, Slot>,
    /// What had been waited at a moment, and one more; 0 where it does not count.
    moments: BTreeMap<(VariableId, Moment), Slot>,
}

impl Layout {
    /// Room for what a slice watches.
    pub(crate) fn of(index: &Index<'_>, slice: &Slice) -> Self {
        let mut layout = Self::default();
        for cell in &slice.0 {
            let most = match cell {
                Cell::Value(variable) => values(index, *variable),
                Cell::Found(_, variable) => values(index, *variable) + 1,
                Cell::Proved(_) | Cell::Taken(_) => 1,
                Cell::Held(variable) => {
                    let longest = index.time.longest.get(variable).copied().unwrap_or(0);
                    for moment in &index.time.moments {
                        let slot = layout.room(longest + 1);
                        layout.moments.insert((*variable, *moment), slot);
                    }
                    longest
                }
                Cell::Piece(piece) => index.pieces.count(*piece),
            };
            let slot = layout.room(most);
            layout.cells.insert(*cell, slot);
        }
        layout
    }

    /// Room for numbers up to `most`.
    pub(crate) fn room(&mut self, most: u64) -> Slot {
        let width = (64 - most.leading_zeros()).max(1);
        let wide = usize::try_from(width).unwrap_or(64);
        if self.bits % 64 + wide > 64 {
            self.bits = self.bits.next_multiple_of(64);
        }
        let shift = u32::try_from(self.bits % 64).unwrap_or(0);
        let slot = Slot { word: self.bits / 64, shift, mask: u64::MAX >> (64 - width) };
        self.bits += wide;
        self.rooms.push(slot);
        slot
    }

    /// Every place there is, in the order in which room was made.
    pub(super) fn rooms(&self) -> &[Slot] {
        &self.rooms
    }

    pub(crate) fn words(&self) -> usize {
        self.bits.div_ceil(64).max(1)
    }

    pub(crate) fn cell(&self, cell: Cell) -> Option<Slot> {
        self.cells.get(&cell).copied()
    }

    pub(crate) fn cells(&self) -> impl Iterator<Item = (Cell, Slot)> {
        self.cells.iter().map(|(cell, slot)| (*cell, *slot))
    }

    pub(crate) fn moment(&self, variable: VariableId, moment: Moment) -> Option<Slot> {
        self.moments.get(&(variable, moment)).copied()
    }

    /// Every moment that something watched counts from.
    pub(crate) fn moments_of(&self, variable: VariableId) -> impl Iterator<Item = Slot> {
        let range = self.moments.range((variable, Moment::StepEnd(locknut_graph::StepId(0)))..);
        range.take_while(move |((of, _), _)| *of == variable).map(|(_, slot)| *slot)
    }
}

fn values(index: &Index<'_>, variable: VariableId) -> u64 {
    u64::try_from(index.graph.variable(variable).values.len().saturating_sub(1)).unwrap_or(0)
}

/// A condition on states: what it asks of which bits.
#[derive(Clone, Debug)]
pub(crate) enum Asks {
    Always(bool),
    /// Something in it is not watched.
    Unknown,
    In(Slot, Mask),
    /// One of `pieces`, where the value is known; else one of `possible` may come.
    Piece {
        slot: Slot,
        pieces: Mask,
        possible: Mask,
    },
    Proved(Slot, Mask, Slot),
    Held {
        value: Slot,
        values: Mask,
        time: Slot,
        ticks: u64,
        under: bool,
    },
    Not(Box<Asks>),
    All(Vec<Asks>),
    Any(Vec<Asks>),
}

impl Asks {
    pub(crate) fn of(index: &Index<'_>, layout: &Layout, condition: &Condition) -> Self {
        match condition {
            Condition::Always(so) => Self::Always(*so),
            Condition::Not(inner) => Self::Not(Box::new(Self::of(index, layout, inner))),
            Condition::All(parts) => {
                Self::All(parts.iter().map(|part| Self::of(index, layout, part)).collect())
            }
            Condition::Any(parts) => {
                Self::Any(parts.iter().map(|part| Self::of(index, layout, part)).collect())
            }
            Condition::Test(test) => Self::test(index, layout, test).unwrap_or(Self::Unknown),
        }
    }

    fn test(index: &Index<'_>, layout: &Layout, test: &Test) -> Option<Self> {
        Some(match test {
            Test::Is { variable, values, .. } => {
                Self::In(layout.cell(Cell::Value(*variable))?, Mask::of(values.iter().copied()))
            }
            Test::Proved { variable, values, .. } => Self::Proved(
                layout.cell(Cell::Value(*variable))?,
                Mask::of(values.iter().copied()),
                layout.cell(Cell::Proved(*variable))?,
            ),
            Test::Held { variable, values, seconds, under, .. } => Self::Held {
                value: layout.cell(Cell::Value(*variable))?,
                values: Mask::of(values.iter().copied()),
                time: layout.cell(Cell::Held(*variable))?,
                ticks: index.time.at_least(seconds),
                under: *under,
            },
            Test::Within { value, limit, .. } => {
                let piece = index.pieces.position(value)?;
                Self::Piece {
                    slot: layout.cell(Cell::Piece(piece))?,
                    pieces: index.pieces.mask(piece, &limit.range),
                    possible: index.pieces.possible(piece),
                }
            }
        })
    }

    /// Whether it holds; none where it depends on what is not known.
    pub(crate) fn hold(&self, state: &[u64]) -> Option<bool> {
        match self {
            Self::Always(so) => Some(*so),
            Self::Unknown => None,
            Self::In(slot, values) => Some(values.has(slot.get(state))),
            Self::Piece { slot, pieces, .. } => match slot.get(state) {
                0 => None,
                piece => Some(pieces.has(piece)),
            },
            Self::Proved(value, values, proved) => {
                Some(values.has(value.get(state)) && proved.get(state) == 1)
            }
            Self::Held { value, values, time, ticks, under } => {
                // Waits say how long it has been at least; nothing says how long at most.
                let has = values.has(value.get(state));
                let long = time.get(state) >= *ticks;
                if has && !long { None } else { Some(has && !*under) }
            }
            Self::Not(inner) => inner.hold(state).map(|so| !so),
            Self::All(parts) => several(parts, state, false),
            Self::Any(parts) => several(parts, state, true),
        }
    }

    /// Whoever found that it is so, or not, knows for how long something has lasted at least.
    pub(crate) fn learn(&self, state: &mut [u64], so: bool) {
        match self {
            Self::Held { value, values, time, ticks, under } => {
                if so != *under && values.has(value.get(state)) && time.get(state) < *ticks {
                    time.put(state, *ticks);
                }
            }
            Self::Not(inner) => inner.learn(state, !so),
            Self::All(parts) | Self::Any(parts) => {
                let each = matches!(self, Self::All(_)) == so;
                let open = parts.iter().filter(|part| part.hold(state).is_none()).count();
                // Of several that decide it, only one that is left alone is known to.
                let decided = parts.iter().any(|part| part.hold(state) == Some(so));
                if each || (open == 1 && !decided) {
                    let open = parts.iter().filter(|part| part.hold(state).is_none());
                    for part in open.collect::<Vec<_>>() {
                        part.learn(state, so);
                    }
                }
            }
            Self::Always(_)
            | Self::Unknown
            | Self::In(..)
            | Self::Piece { .. }
            | Self::Proved(..) => {}
        }
    }

    /// A value that it asks about and that is not known yet, and the pieces that may come.
    pub(crate) fn not_known(&self, state: &[u64]) -> Option<(Slot, Mask)> {
        match self {
            Self::Piece { slot, possible, .. } => {
                (slot.get(state) == 0).then_some((*slot, *possible))
            }
            Self::Not(inner) => inner.not_known(state),
            Self::All(parts) | Self::Any(parts) => {
                parts.iter().find_map(|part| part.not_known(state))
            }
            Self::Always(_)
            | Self::Unknown
            | Self::In(..)
            | Self::Proved(..)
            | Self::Held { .. } => None,
        }
    }
}

/// `wanted` decides at once; else it is decided only where every part is.
fn several(parts: &[Asks], state: &[u64], wanted: bool) -> Option<bool> {
    let mut all_known = true;
    for part in parts {
        match part.hold(state) {
            Some(so) if so == wanted => return Some(wanted),
            Some(_) => {}
            None => all_known = false,
        }
    }
    all_known.then_some(!wanted)
}

//! Sets of small numbers, a bit each.

/// A set of numbers below a bound.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Bits(Vec<u64>);

impl Bits {
    pub(crate) fn below(end: usize) -> Self {
        Self(vec![0; end.div_ceil(64)])
    }

    /// Whether it was not in before.
    pub(crate) fn insert(&mut self, at: usize) -> bool {
        let (word, bit) = (&mut self.0[at / 64], 1 << (at % 64));
        let new = *word & bit == 0;
        *word |= bit;
        new
    }

    pub(crate) fn remove(&mut self, at: usize) {
        self.0[at / 64] &= !(1 << (at % 64));
    }

    pub(crate) fn has(&self, at: usize) -> bool {
        self.0[at / 64] & (1 << (at % 64)) != 0
    }

    pub(crate) fn meets(&self, other: &Self) -> bool {
        self.0.iter().zip(&other.0).any(|(one, other)| one & other != 0)
    }

    /// Those in it, ascending.
    pub(crate) fn all(&self) -> impl Iterator<Item = usize> {
        let words = self.0.iter().enumerate().filter(|(_, word)| **word != 0);
        words.flat_map(|(at, word)| {
            (0..64).filter(move |bit| word >> bit & 1 == 1).map(move |bit| at * 64 + bit)
        })
    }

    /// In one of them only.
    pub(crate) fn differ(&self, other: &Self) -> Self {
        Self(self.0.iter().zip(&other.0).map(|(one, other)| one ^ other).collect())
    }
}

/// A position for some of the numbers below a bound.
pub(crate) struct Positions(Vec<u32>);

impl Positions {
    pub(crate) fn below(end: usize) -> Self {
        // One more than the position: a new list of zeros costs next to nothing, and every slice makes two.
        Self(vec![0; end])
    }

    pub(crate) fn of(&self, at: usize) -> Option<usize> {
        usize::try_from(self.0[at]).ok()?.checked_sub(1)
    }

    pub(crate) fn put(&mut self, at: usize, position: Option<usize>) {
        let stored = position.map_or(Ok(0), |position| u32::try_from(position + 1));
        self.0[at] = stored.unwrap_or(0);
    }
}

/// Which of the values 0 to 255 of a variable.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct Mask([u64; 4]);

impl Mask {
    pub(crate) fn of(values: impl IntoIterator<Item = u8>) -> Self {
        let mut mask = Self::default();
        for value in values {
            mask.0[usize::from(value / 64)] |= 1 << (value % 64);
        }
        mask
    }

    pub(crate) fn has(self, value: u64) -> bool {
        let word = usize::try_from(value / 64).ok().and_then(|word| self.0.get(word));
        word.is_some_and(|word| word >> (value % 64) & 1 == 1)
    }

    pub(crate) fn values(self) -> impl Iterator<Item = u64> {
        (0..256).filter(move |value| self.has(*value))
    }
}

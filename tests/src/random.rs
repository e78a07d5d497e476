//! Small numbers that look random and are the same every time.

/// xorshift64* (G. Marsaglia, 2003; multiplier after S. Vigna, 2016). Never begun with nought.
#[derive(Clone, Debug)]
pub struct Random(pub u64);

impl Random {
    /// A number below `end`, or nought where nothing is.
    pub fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        let number = self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 33;
        usize::try_from(number).unwrap_or(0) % end.max(1)
    }

    /// Whether something comes that comes so many times in a hundred.
    pub fn in_a_hundred(&mut self, times: usize) -> bool {
        self.below(100) < times
    }
}

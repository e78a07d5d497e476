//! Which states are known.

/// Which states are known: positions by what they hold.
pub(super) struct Known {
    wide: usize,
    table: hashbrown::HashTable<u32>,
}

impl Known {
    pub(super) fn new(wide: usize, room: usize) -> Self {
        Self { wide, table: hashbrown::HashTable::with_capacity(room) }
    }

    /// The position of a state, and whether it is new.
    pub(super) fn id(&mut self, words: &mut Vec<u64>, state: &[u64]) -> (usize, bool) {
        let wide = self.wide;
        let of = |words: &[u64], id: u32| {
            let at = usize::try_from(id).unwrap_or(0) * wide;
            at..(at + wide).min(words.len())
        };
        let hash = mixed(state);
        if let Some(id) = self.table.find(hash, |id| words[of(words, *id)] == *state) {
            return (usize::try_from(*id).unwrap_or(0), false);
        }
        let id = words.len() / wide;
        words.extend_from_slice(state);
        let words = &*words;
        self.table.insert_unique(hash, u32::try_from(id).unwrap_or(u32::MAX), |id| {
            mixed(&words[of(words, *id)])
        });
        (id, true)
    }
}

/// Spreads words over all bits (the finisher of xorshift-multiply hashes); the same on every machine.
fn mixed(words: &[u64]) -> u64 {
    let mut hash = 0x9E37_79B9_7F4A_7C15_u64;
    for word in words {
        hash = (hash ^ word).wrapping_mul(0xD6E8_FEB8_6659_FD93);
        hash ^= hash >> 32;
    }
    hash
}

//! Work on many things, side by side where there are enough of them.

use rayon::prelude::*;

/// Fewer than so many are done sooner than threads are there.
const FEW: usize = 8;

/// What comes of each, in their order.
pub(crate) fn each<T: Sync, R: Send>(all: &[T], one: impl Fn(&T) -> R + Sync + Send) -> Vec<R> {
    if all.len() < FEW { all.iter().map(one).collect() } else { all.par_iter().map(one).collect() }
}

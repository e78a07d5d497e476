//! All states of a system as sets, where there are too many to list: decision diagrams, round by round.
//!
//! States are kept apart by where the job as a whole stands; all else of them is in diagrams, what the slice watches on
//! top and what is done of each freed block below. A round takes all states of one distance and does everything that may be
//! done next. What comes of it is asked of [`Moves`](super::moves::Moves), as the listing of states does, once for each way
//! in which the slots stand that it depends on: there is one rule of what a way does, and this is not another.

mod back;
mod order;
mod rounds;
mod set;
mod turns;

/// The most nodes that all operations on the sets of one procedure may go through.
pub(super) const MOST_IN_ALL: usize = 1 << 28;

pub(crate) use rounds::Drawn;
pub(super) use turns::distinct;

//! Exploring a graph on a slice of its variables.
//!
//! A *slice* is what one group of properties can depend on. Everything else is passed over: a freed
//! child that touches nothing of the slice is taken as done at once, and of freed children that look
//! alike on the slice only the first that is left is tried, so their progress is a count. Both are
//! exact, since a freed step is done as a whole and what it does elsewhere cannot be seen here.

mod alike;
mod explore;
mod hold;
mod slice;
mod state;

pub(crate) use explore::{Explored, MOST_STATES, between, explore};
pub(crate) use slice::Slice;
pub(crate) use state::State;

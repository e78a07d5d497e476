//! Exploring a graph on a slice of its variables.
//!
//! A *slice* is what one group of properties can depend on. An [`Index`] of the graph is made once; for
//! each slice a [`System`] keeps the nodes that it can notice, and [`Explored`] holds all its states.

#![expect(
    clippy::indexing_slicing,
    reason = "positions are made in this module, for its own tables; none comes from outside"
)]

mod bits;
mod explore;
mod index;
mod layout;
mod pieces;
mod slice;
mod system;

pub(crate) use bits::Bits;
pub(crate) use explore::{Explored, MOST_STATES, Move};
pub(crate) use index::{Cell, Index};
pub(crate) use layout::Asks;
pub(crate) use pieces::readings_of;
pub(crate) use slice::{Slice, asked_at};
pub(crate) use system::{Detail, System, condition_key};

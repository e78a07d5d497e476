//! Exploring a graph on a slice of its variables.
//!
//! A *slice* is what one group of properties can depend on. An [`Index`] of the graph is made once; for
//! each slice a [`System`] keeps the nodes that it can notice, and [`Explored`] holds all its states.

#![expect(
    clippy::indexing_slicing,
    reason = "positions are made in this module, for its own tables; none comes from outside"
)]

mod bits;
mod build;
mod diagram;
mod explore;
mod index;
mod known;
mod layout;
mod lengths;
mod likeness;
mod moves;
mod pieces;
mod reach;
mod slice;
mod state;
mod system;
mod ticks;
mod trail;
mod walked;
mod watch;

pub(crate) use bits::Bits;
pub(crate) use explore::{Explored, MOST_STATES, Move, Visit};
pub(crate) use index::{Cell, Index};
pub(crate) use layout::Asks;
pub(crate) use likeness::condition_key;
pub(crate) use slice::Slice;
pub(crate) use system::{Detail, Kind, System};
pub(crate) use walked::Walked;
pub(crate) use watch::{Look, Watch};

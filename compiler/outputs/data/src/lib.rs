//! data

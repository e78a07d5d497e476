//! job

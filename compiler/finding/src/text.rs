//! A report as text for a person (miette).

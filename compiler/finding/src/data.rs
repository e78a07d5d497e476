//! Reports as JSON and SARIF for a program.

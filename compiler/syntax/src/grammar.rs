//! The parser that pest makes of `grammar/locknut.pest`.

#![expect(clippy::pedantic, reason = "generated")]

#[derive(pest_derive::Parser)]
#[grammar = "../../grammar/locknut.pest"]
pub(crate) struct Grammar;

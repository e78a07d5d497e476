//! The parser that pest makes of `grammar/locknut.pest`.

#![expect(missing_docs, reason = "generated: the rules are documented in the grammar")]
#![expect(clippy::pedantic, reason = "generated")]

#[derive(pest_derive::Parser)]
#[grammar = "../../grammar/locknut.pest"]
pub(crate) struct Grammar;

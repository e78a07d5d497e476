//! The parser that pest makes of `grammar/locknut.pest`.

#[derive(pest_derive::Parser)]
#[grammar = "../../grammar/locknut.pest"]
pub(crate) struct Grammar;

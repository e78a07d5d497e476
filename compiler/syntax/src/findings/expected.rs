//! What the grammar expected, in an author's words.

use crate::grammar::Rule;
use pest::error::{Error, ErrorVariant};
use std::collections::BTreeSet;

const END: &str = "the end of the line";
const OR_A_CLAUSE: &str = "the end of the line, or a clause such as using, with, needs, because";

/// What might have stood there, as a list for a sentence; empty where nothing helpful can be said.
pub(crate) fn words(error: &Error<Rule>) -> String {
    let ErrorVariant::ParsingError { positives, .. } = &error.variant else { return String::new() };
    let mut said: BTreeSet<&str> = positives.iter().filter_map(|rule| word(*rule)).collect();
    if said.contains(OR_A_CLAUSE) {
        said.remove(END);
    }
    let said: Vec<&str> = said.into_iter().take(5).collect();
    match said.as_slice() {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}

fn word(rule: Rule) -> Option<&'static str> {
    Some(match rule {
        Rule::name | Rule::name_term | Rule::any_word => "a name",
        Rule::number | Rule::quantity => "a number with its unit",
        Rule::unit => "a unit",
        Rule::text | Rule::plain => "a text in double quotes",
        Rule::expression | Rule::call => "a value",
        Rule::limit | Rule::open_form | Rule::at_most | Rule::at_least => {
            "a limit, such as “at most 0.2 mm”"
        }
        Rule::condition | Rule::is_test => "a condition, such as “supply is isolated”",
        Rule::operator => "+, -, * or / with blanks around it",
        Rule::outcome
        | Rule::end
        | Rule::go_on
        | Rule::stop
        | Rule::refer
        | Rule::repeat
        | Rule::done => "go on, repeat, refer to, stop or done",
        Rule::accept | Rule::verdict => "accept",
        Rule::substitute | Rule::same_quantity | Rule::other_quantity => "or using …, or measure …",
        Rule::answers => "answers low only, or answers high only",
        Rule::arms | Rule::arm => "an arm, such as “yes -> done”",
        Rule::step_block | Rule::free_group => "a block in braces",
        Rule::date => "a date, such as 2026-10-02",
        Rule::values => "the name of a state's value",
        Rule::kw_because => "because",
        Rule::clause | Rule::clause_word | Rule::kw_using | Rule::kw_with | Rule::kw_by => {
            OR_A_CLAUSE
        }
        Rule::attribute | Rule::attributes | Rule::attribute_word => "something said of it",
        Rule::EOI => END,
        _ => return None,
    })
}

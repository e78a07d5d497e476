//! `value` and `limit`: figures with one home, in any order of their lines.

use super::NamedLimit;
use super::declared::LimitLine;
use super::order::in_order;
use super::read::{Reader, sides};
use crate::findings::names::Circle;
use crate::findings::quantities::OneFigure;
use locknut_finding::Findings;
use locknut_graph::Words;
use locknut_syntax::tree::{Expression, Limit};
use std::collections::BTreeMap;

/// Where named figures live: the library, or one model.
pub(super) trait Home {
    /// Sees the figures kept so far.
    fn reader(&self) -> Reader<'_>;
    /// None: the line could not be read; what uses its name then stays quiet.
    fn keep(&mut self, name: &str, limit: Option<NamedLimit>);
}

/// Keeps each value and limit, after those that it is worked out from.
pub(super) fn limits(lines: &[LimitLine<'_>], home: &mut impl Home, found: &mut Findings) {
    let by_name: BTreeMap<&str, usize> =
        lines.iter().enumerate().map(|(at, line)| (line.name.text.as_str(), at)).collect();
    let needs: Vec<Vec<usize>> = lines
        .iter()
        .map(|line| {
            names_in(line.limit).into_iter().filter_map(|name| by_name.get(name).copied()).collect()
        })
        .collect();
    let order = in_order(&needs);
    for circle in &order.circles {
        let round = circle.iter().filter_map(|at| lines.get(*at));
        found.add(&Circle {
            link: "is worked out from".to_owned(),
            round: round.map(|line| (line.name.text.clone(), line.name.span)).collect(),
            consequence: "nobody can work out any of them",
        });
    }
    let mut read = vec![false; lines.len()];
    for at in order.order {
        let Some(line) = lines.get(at) else { continue };
        let limit = named_limit(line, home.reader(), found);
        home.keep(&line.name.text, limit);
        if let Some(read) = read.get_mut(at) {
            *read = true;
        }
    }
    // What stands in a circle or leads into one: told already.
    for (line, _) in lines.iter().zip(read).filter(|(_, read)| !read) {
        home.keep(&line.name.text, None);
    }
}

fn named_limit(
    line: &LimitLine<'_>,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<NamedLimit> {
    let limit = reader.limit(line.limit, None, found)?;
    let is_value = line.keyword.text == "value";
    let one = match (&limit.range.lower, &limit.range.upper) {
        (Some(lower), Some(upper)) => lower.value == upper.value,
        _ => false,
    };
    if is_value && !one {
        found.add(&OneFigure {
            written: limit.written.clone(),
            span: line.limit.span,
            found: "a range".to_owned(),
            wanted: "one figure",
            mend: format!("write “limit {} = {}”", line.name.text, limit.written),
        });
        return None;
    }
    let words = Words::of(&line.name.text);
    Some(NamedLimit { words, is_value, limit, span: line.span })
}

/// Every name in a limit.
pub(super) fn names_in(limit: &Limit) -> Vec<&str> {
    let mut names = Vec::new();
    for side in sides(limit) {
        gather(side, &mut names);
    }
    names.sort_unstable();
    names.dedup();
    names
}

/// Without recursion into the left of long sums, which is where they are deep.
pub(super) fn gather<'t>(expression: &'t Expression, names: &mut Vec<&'t str>) {
    let mut left = vec![expression];
    while let Some(expression) = left.pop() {
        match expression {
            Expression::Quantity(_) => {}
            Expression::Name(name) => names.push(&name.text),
            Expression::Point { reading, .. } => names.push(&reading.text),
            Expression::Call { arguments, .. } => left.extend(arguments),
            Expression::Binary { left: one, right: other, .. } => {
                left.extend([one.as_ref(), other]);
            }
            Expression::Negative(inner, _) | Expression::PercentOf { of: inner, .. } => {
                left.push(inner);
            }
        }
    }
}

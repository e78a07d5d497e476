//! What both readings of a file make of what they read: expressions and plain words.

use crate::tree::{Expression, GREATEST_POWER, Name, Operator};
use locknut_finding::Span;

/// Terms and the operators between them, in written order.
#[derive(Default)]
pub(crate) struct Terms {
    pub(crate) terms: Vec<Expression>,
    pub(crate) operators: Vec<Operator>,
}

impl Terms {
    /// By precedence: `*` and `/` before `+` and `-`, left to right.
    pub(crate) fn settled(self) -> Option<Expression> {
        let mut sums = Vec::new();
        let mut sum_operators = Vec::new();
        let mut terms = self.terms.into_iter();
        let mut product = terms.next()?;
        for (operator, term) in self.operators.into_iter().zip(terms) {
            if matches!(operator, Operator::Multiply | Operator::Divide) {
                product = joined(operator, product, term);
            } else {
                sums.push(std::mem::replace(&mut product, term));
                sum_operators.push(operator);
            }
        }
        sums.push(product);
        let mut sums = sums.into_iter();
        let mut whole = sums.next()?;
        for (operator, term) in sum_operators.into_iter().zip(sums) {
            whole = joined(operator, whole, term);
        }
        Some(whole)
    }

    /// `span^2` is `span * span`; the exponent as written, with its place.
    pub(crate) fn power(base: &Expression, exponent: &str, span: Span) -> Expression {
        let times = exponent.trim_start_matches('^').parse::<usize>().unwrap_or(0);
        if !(1..=GREATEST_POWER).contains(&times) {
            // Refused where the name is looked up.
            return Expression::Name(Name { text: exponent.to_owned(), span });
        }
        let mut power = base.clone();
        for _ in 1..times {
            power = joined(Operator::Multiply, power, base.clone());
        }
        power
    }
}

fn joined(operator: Operator, left: Expression, right: Expression) -> Expression {
    let span = left.span().to(right.span());
    Expression::Binary { operator, left: Box::new(left), right: Box::new(right), span }
}

/// Plain words of a text, their escapes resolved.
pub(crate) fn without_escapes(written: &str) -> String {
    if !written.contains(['{', '}', '\\']) {
        return written.to_owned();
    }
    written.replace("{{", "{").replace("}}", "}").replace("\\\"", "\"").replace("\\\\", "\\")
}

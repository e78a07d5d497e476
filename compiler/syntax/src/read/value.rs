//! Pairs → names, numbers, limits, expressions, conditions, text.

use super::{Build, Pair, Terms, without_escapes};
use crate::grammar::Rule;
use crate::tree::{
    Condition, Expression, Limit, LimitForm, Name, Number, Operator, Piece, Quantity, Text,
};
use locknut_finding::Span;

impl Build {
    pub(super) fn name(&self, pair: &Pair<'_>) -> Name {
        Name { text: pair.as_str().to_owned(), span: self.span(pair) }
    }

    pub(super) fn number(&self, pair: &Pair<'_>) -> Number {
        let text = pair.as_str().chars().filter(|sign| *sign != ' ');
        let text = text.map(|sign| if sign == '\u{2212}' { '-' } else { sign });
        Number { text: text.collect(), span: self.span(pair) }
    }

    pub(super) fn quantity(&self, pair: &Pair<'_>) -> Quantity {
        let mut inner = pair.clone().into_inner();
        let mut quantity = Quantity {
            number: Number { text: String::new(), span: self.span(pair) },
            unit: None,
            qualifier: None,
            span: self.span(pair),
        };
        for part in inner.by_ref() {
            match part.as_rule() {
                Rule::number => quantity.number = self.number(&part),
                Rule::unit => quantity.unit = Some(self.name(&part)),
                Rule::qualifier => quantity.qualifier = Some(Box::new(self.name(&part))),
                _ => {}
            }
        }
        quantity
    }

    /// Terms and operators, settled by precedence.
    pub(super) fn expression(&self, pair: &Pair<'_>) -> Expression {
        let mut inner = pair.clone().into_inner();
        if let (Some(only), None) = (inner.next(), inner.next()) {
            return self.term(&only);
        }
        let mut all = Terms::default();
        for part in pair.clone().into_inner() {
            match part.as_rule() {
                Rule::operator => all.operators.push(operator(part.as_str())),
                Rule::exponent => {
                    let base = all.terms.pop();
                    all.terms.extend(base.map(|base| self.power(&base, &part)));
                }
                _ => all.terms.push(self.term(&part)),
            }
        }
        all.settled().unwrap_or_else(|| self.nothing(pair))
    }

    fn power(&self, base: &Expression, exponent: &Pair<'_>) -> Expression {
        Terms::power(base, exponent.as_str(), self.span(exponent))
    }

    /// INVARIANT: the grammar gives every expression a term; this keeps the types total.
    fn nothing(&self, pair: &Pair<'_>) -> Expression {
        Expression::Name(self.name(pair))
    }

    fn term(&self, pair: &Pair<'_>) -> Expression {
        let span = self.span(pair);
        let mut inner = pair.clone().into_inner();
        match pair.as_rule() {
            Rule::quantity => Expression::Quantity(self.quantity(pair)),
            Rule::percent_of => {
                let percent = inner.next().map(|part| Box::new(self.quantity(&part)));
                let of = inner.next().map(|part| self.term(&part));
                let of = match (of, inner.next()) {
                    (Some(of), Some(exponent)) => Some(self.power(&of, &exponent)),
                    (of, _) => of,
                };
                match (percent, of) {
                    (Some(percent), Some(of)) => {
                        Expression::PercentOf { percent, of: Box::new(of), span }
                    }
                    _ => self.nothing(pair),
                }
            }
            Rule::call => {
                let Some(function) = inner.next() else { return self.nothing(pair) };
                let arguments = inner.map(|part| self.expression(&part)).collect();
                Expression::Call { function: self.name(&function), arguments, span }
            }
            Rule::point => match (inner.next(), inner.next()) {
                (Some(reading), Some(point)) => {
                    Expression::Point { reading: self.name(&reading), point: self.name(&point) }
                }
                _ => self.nothing(pair),
            },
            Rule::negative => match inner.next() {
                Some(of) => Expression::Negative(Box::new(self.term(&of)), span),
                None => self.nothing(pair),
            },
            Rule::group => match inner.next() {
                Some(of) => self.expression(&of),
                None => self.nothing(pair),
            },
            Rule::name_term => match inner.next() {
                Some(name) => Expression::Name(self.name(&name)),
                None => self.nothing(pair),
            },
            _ => self.nothing(pair),
        }
    }

    pub(super) fn limit(&self, pair: &Pair<'_>) -> Limit {
        let span = self.span(pair);
        let form = match pair.clone().into_inner().next() {
            Some(form) => self.limit_form(&form),
            None => LimitForm::Just(self.nothing(pair)),
        };
        Limit { form, span }
    }

    fn limit_form(&self, pair: &Pair<'_>) -> LimitForm {
        let mut inner = pair.clone().into_inner();
        let first = match inner.next() {
            Some(first) => self.expression(&first),
            None => self.nothing(pair),
        };
        let second = inner.next();
        match (pair.as_rule(), second) {
            (Rule::at_most, _) => LimitForm::AtMost(first),
            (Rule::at_least, _) => LimitForm::AtLeast(first),
            (Rule::under, _) => LimitForm::Under(first),
            (Rule::over, None) => LimitForm::Over(first),
            (Rule::over, Some(to)) => LimitForm::OverTo(first, Box::new(self.expression(&to))),
            (_, Some(tail)) => self.limit_tail(first, &tail),
            (_, None) => LimitForm::Just(first),
        }
    }

    fn limit_tail(&self, first: Expression, tail: &Pair<'_>) -> LimitForm {
        let mut inner = tail.clone().into_inner();
        let value = |part| Box::new(self.value(part));
        match tail.as_rule() {
            Rule::unequal_tail => match (inner.next(), inner.next()) {
                (Some(plus), Some(minus)) => {
                    let quantity = |part| Box::new(self.quantity(part));
                    LimitForm::Unequal(first, quantity(&plus), quantity(&minus))
                }
                _ => LimitForm::Just(first),
            },
            Rule::range_tail | Rule::attribute_range => match (inner.next(), inner.next()) {
                (Some(likely), Some(longest)) => {
                    LimitForm::Triple(first, value(&likely), value(&longest))
                }
                (Some(to), None) => LimitForm::Between(first, value(&to)),
                _ => LimitForm::Just(first),
            },
            _ => match inner.next() {
                Some(by) => LimitForm::PlusMinus(first, value(&by)),
                None => LimitForm::Just(first),
            },
        }
    }

    fn value(&self, pair: &Pair<'_>) -> Expression {
        match pair.as_rule() {
            Rule::expression => self.expression(pair),
            _ => Expression::Quantity(self.quantity(pair)),
        }
    }

    pub(super) fn attribute_limit(&self, pair: &Pair<'_>) -> Limit {
        let mut inner = pair.clone().into_inner();
        let first = match inner.next() {
            Some(first) => Expression::Quantity(self.quantity(&first)),
            None => self.nothing(pair),
        };
        let form = match inner.next() {
            Some(tail) => self.limit_tail(first, &tail),
            None => LimitForm::Just(first),
        };
        Limit { form, span: self.span(pair) }
    }

    pub(super) fn condition(&self, pair: &Pair<'_>) -> Condition {
        let span = self.span(pair);
        let mut parts: Vec<Condition> =
            pair.clone().into_inner().map(|part| self.condition_part(&part)).collect();
        let several = parts.len() > 1;
        match (pair.as_rule(), parts.pop()) {
            (Rule::condition | Rule::need, Some(last)) if several => {
                parts.push(last);
                Condition::Or(parts, span)
            }
            (_, Some(last)) if several => {
                parts.push(last);
                Condition::And(parts, span)
            }
            (_, Some(only)) => only,
            (_, None) => Condition::Mark { words: vec![self.name(pair)], span },
        }
    }

    fn condition_part(&self, pair: &Pair<'_>) -> Condition {
        let span = self.span(pair);
        let inner = pair.clone().into_inner();
        match pair.as_rule() {
            Rule::not_so | Rule::need_not => match inner.clone().next() {
                Some(of) => Condition::Not(Box::new(self.condition_part(&of)), span),
                None => Condition::Mark { words: vec![self.name(pair)], span },
            },
            Rule::nested => match inner.clone().next() {
                Some(of) => self.condition(&of),
                None => Condition::Mark { words: vec![self.name(pair)], span },
            },
            Rule::is_test => self.is_test(pair),
            Rule::each_test => self.each_test(pair),
            Rule::series_test => {
                Condition::Series { values: inner.map(|part| self.name(&part)).collect(), span }
            }
            Rule::serial_test => self.serial_test(pair),
            Rule::within_test => self.within_test(pair),
            Rule::mark_test => {
                Condition::Mark { words: inner.map(|part| self.name(&part)).collect(), span }
            }
            _ => self.condition(pair),
        }
    }

    fn is_test(&self, pair: &Pair<'_>) -> Condition {
        let mut subject = Name { text: String::new(), span: self.span(pair) };
        let (mut negated, mut proved, mut values, mut lasting) = (false, false, Vec::new(), None);
        let mut point = None;
        for part in pair.clone().into_inner() {
            match part.as_rule() {
                Rule::name => subject = self.name(&part),
                Rule::test_point => {
                    point = part.into_inner().next().map(|name| self.point_name(&name));
                }
                Rule::is_not => negated = true,
                Rule::is_proved => proved = true,
                Rule::values => values = self.names(&part),
                Rule::lasting => lasting = self.lasting(&part),
                _ => {}
            }
        }
        Condition::Is { subject, point, negated, proved, values, lasting, span: self.span(pair) }
    }

    fn lasting(&self, pair: &Pair<'_>) -> Option<(Box<Expression>, bool)> {
        let mut under = false;
        let mut duration = None;
        for part in pair.clone().into_inner() {
            match part.as_rule() {
                Rule::under_word => under = true,
                _ => duration = Some(Box::new(self.expression(&part))),
            }
        }
        Some((duration?, under))
    }

    fn each_test(&self, pair: &Pair<'_>) -> Condition {
        let mut relation = self.name(pair);
        let (mut negated, mut values) = (false, Vec::new());
        for part in pair.clone().into_inner() {
            match part.as_rule() {
                Rule::name => relation = self.name(&part),
                Rule::is_not => negated = true,
                _ => values = self.names(&part),
            }
        }
        Condition::Each { relation, negated, values, span: self.span(pair) }
    }

    fn serial_test(&self, pair: &Pair<'_>) -> Condition {
        let span = self.span(pair);
        let Some(form) = pair.clone().into_inner().next() else {
            return Condition::Serial { from: None, to: None, span };
        };
        let mut numbers = form.clone().into_inner().map(|part| self.number(&part));
        match form.as_rule() {
            Rule::serial_to => Condition::Serial { from: None, to: numbers.next(), span },
            _ => Condition::Serial { from: numbers.next(), to: numbers.next(), span },
        }
    }

    fn within_test(&self, pair: &Pair<'_>) -> Condition {
        let span = self.span(pair);
        let mut inner = pair.clone().into_inner();
        match (inner.next(), inner.next()) {
            (Some(value), Some(limit)) => Condition::Within {
                value: Box::new(self.expression(&value)),
                limit: Box::new(self.limit(&limit)),
                span,
            },
            _ => Condition::Mark { words: vec![self.name(pair)], span },
        }
    }

    pub(super) fn names(&self, pair: &Pair<'_>) -> Vec<Name> {
        pair.clone().into_inner().map(|part| self.name(&part)).collect()
    }

    pub(super) fn text(&self, pair: &Pair<'_>) -> Text {
        let pieces = pair.clone().into_inner().map(|part| self.piece(&part)).collect();
        Text { pieces, span: self.span(pair) }
    }

    fn piece(&self, pair: &Pair<'_>) -> Piece {
        let span: Span = self.span(pair);
        if pair.as_rule() == Rule::plain {
            return Piece::Plain { text: without_escapes(pair.as_str()), span };
        }
        let mut article = None;
        let mut value = Box::new(self.nothing(pair));
        for part in pair.clone().into_inner() {
            match part.as_rule() {
                Rule::article => article = Some(self.name(&part)),
                _ => *value = self.expression(&part),
            }
        }
        Piece::Hole { article, value, span }
    }
}

fn operator(sign: &str) -> Operator {
    match sign {
        "+" => Operator::Add,
        "*" => Operator::Multiply,
        "/" => Operator::Divide,
        _ => Operator::Subtract,
    }
}

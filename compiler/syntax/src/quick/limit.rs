//! Limits and ranges.

use super::Reader;
use crate::tree::{Expression, Limit, LimitForm, Quantity};

impl Reader<'_> {
    /// A limit or range, in any form.
    pub(super) fn limit(&mut self) -> Option<Limit> {
        let from = self.at;
        let form = match self.attempt(Self::worded_limit) {
            Some(form) => form,
            None => self.open_form()?,
        };
        Some(Limit { form, span: self.span(from) })
    }

    /// A limit that says more than a value.
    pub(super) fn within_limit(&mut self) -> Option<Limit> {
        let from = self.at;
        let form = if let Some(form) = self.attempt(Self::worded_limit) {
            form
        } else {
            let first = self.expression()?;
            self.limit_tail(first, false).ok()?
        };
        Some(Limit { form, span: self.span(from) })
    }

    fn worded_limit(&mut self) -> Option<LimitForm> {
        let word = self.word();
        if !matches!(word, "at" | "under" | "over") {
            return None;
        }
        self.at += word.len();
        self.gap()?;
        match word {
            "under" => Some(LimitForm::Under(self.expression()?)),
            "over" => self.over(),
            _ => {
                let bound = self.one_of(&["most", "least"])?;
                self.gap()?;
                let value = self.expression()?;
                Some(if bound.text == "most" {
                    LimitForm::AtMost(value)
                } else {
                    LimitForm::AtLeast(value)
                })
            }
        }
    }

    fn over(&mut self) -> Option<LimitForm> {
        let over = self.expression()?;
        let to = self.attempt(|reader| {
            reader.gap()?;
            reader.keyword("to")?;
            reader.gap()?;
            reader.expression()
        });
        Some(match to {
            Some(to) => LimitForm::OverTo(over, Box::new(to)),
            None => LimitForm::Over(over),
        })
    }

    fn open_form(&mut self) -> Option<LimitForm> {
        let first = self.expression()?;
        Some(self.limit_tail(first, false).unwrap_or_else(LimitForm::Just))
    }

    /// A number, range or tolerance in an attribute.
    pub(super) fn attribute_limit(&mut self) -> Option<Limit> {
        let from = self.at;
        let first = Expression::Quantity(self.quantity()?);
        let form = self.limit_tail(first, true).unwrap_or_else(LimitForm::Just);
        Some(Limit { form, span: self.span(from) })
    }

    /// `.. b`, `.. b .. c`, `± t`, `+0.1/-0.2 mm` behind a value; where none of them stands, the value as it was.
    fn limit_tail(
        &mut self,
        first: Expression,
        of_attribute: bool,
    ) -> Result<LimitForm, Expression> {
        let before = self.at;
        self.sp();
        // The last two are the first bytes of ± and of the minus sign.
        if !matches!(self.peek(), b'.' | b'+' | b'-' | b'0' | 0xC2 | 0xE2) {
            self.at = before;
            return Err(first);
        }
        let value = |reader: &mut Self| {
            reader.sp();
            if of_attribute {
                reader.quantity().map(Expression::Quantity)
            } else {
                reader.expression()
            }
        };
        let range = |reader: &mut Self| {
            reader.sp();
            reader.signs("..")?;
            value(reader)
        };
        if let Some(second) = self.attempt(range) {
            // An attribute has no third figure.
            let third = if of_attribute { None } else { self.attempt(range) };
            return Ok(match third {
                Some(third) => LimitForm::Triple(first, Box::new(second), Box::new(third)),
                None => LimitForm::Between(first, Box::new(second)),
            });
        }
        if let Some(by) = self.attempt(|reader| {
            ["±", "+/-", "+-"].iter().find_map(|sign| reader.signs(sign))?;
            value(reader)
        }) {
            return Ok(LimitForm::PlusMinus(first, Box::new(by)));
        }
        let unequal = self.attempt(|reader| {
            let upper = reader.deviation()?;
            reader.sign(b'/')?;
            Some((upper, reader.deviation()?))
        });
        let Some((upper, lower)) = unequal else {
            self.at = before;
            return Err(first);
        };
        Ok(LimitForm::Unequal(first, Box::new(upper), Box::new(lower)))
    }

    /// With its sign, unless it is nothing.
    fn deviation(&mut self) -> Option<Quantity> {
        match self.peek() {
            b'+' => {
                self.at += 1;
                if !self.peek().is_ascii_digit() {
                    return None;
                }
            }
            b'0' if !self.at_nought() => return None,
            b'-' | b'0' | 0xE2 => {}
            _ => return None,
        }
        self.quantity()
    }

    fn at_nought(&self) -> bool {
        let rest = self.rest().strip_prefix(b"0").unwrap_or_default();
        let behind = match rest.strip_prefix(b".0") {
            Some(places) => places.iter().find(|sign| **sign != b'0'),
            None => rest.first(),
        };
        !matches!(behind, Some(b'.' | b'0'..=b'9'))
    }
}

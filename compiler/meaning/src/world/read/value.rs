//! Single fixed values: an expression in which no reading stands.

use super::Reader;
use super::expression::Typed;
use crate::findings::names::CannotBeKnown;
use crate::findings::quantities::ImpossibleValue;
use locknut_finding::Findings;
use locknut_graph::{Expression, Fold, Operator};
use locknut_quantity::{Exact, KindId, Quantity, Unit};
use locknut_syntax::tree;

/// Numerator and denominator have at most so many bits: far beyond any figure of a workshop, and a
/// chain of named values that square each other ends here.
const MOST_BITS: u64 = 512;

impl Reader<'_> {
    /// A single fixed value: a quantity, a named `value`, or a sum of such.
    pub(crate) fn value(
        &self,
        written: &tree::Expression,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) -> Option<Quantity> {
        let typed = self.typed(written, wanted, found)?;
        let value = self.fixed(&typed, found)?;
        Some(self.quantity_of(&typed, value))
    }

    /// A duration: exact seconds, and as written.
    pub(crate) fn duration(
        &self,
        written: &tree::Expression,
        found: &mut Findings,
    ) -> Option<(Exact, Quantity)> {
        let duration = self.value(written, self.duration_kind(), found)?;
        if duration.value < zero() {
            found.add(&ImpossibleValue {
                written: duration.written,
                span: written.span(),
                why: "no time is less than none".to_owned(),
                instead: None,
                narrow: None,
            });
            return None;
        }
        Some((duration.value.clone(), duration))
    }

    /// The kind whose base unit is the second.
    pub(crate) fn duration_kind(&self) -> Option<KindId> {
        let units = self.units();
        units.spelled("s").first().map(|unit| units.unit(*unit).kind)
    }

    /// The value of an expression that must be fixed.
    pub(super) fn fixed(&self, typed: &Typed, found: &mut Findings) -> Option<Exact> {
        let value = match constant(&typed.value) {
            Constant::Value(value) => value,
            Constant::DividesByNothing => {
                let written = self.written_or(typed.span, || "this".to_owned());
                let why = "nothing can be divided by 0".to_owned();
                found.add(&ImpossibleValue {
                    written,
                    span: typed.span,
                    why,
                    instead: None,
                    narrow: None,
                });
                return None;
            }
            Constant::Reading => {
                found.add(&CannotBeKnown {
                    what: "a reading",
                    place: "a fixed figure",
                    span: typed.span,
                    mend: "write the figure itself, or judge the reading with “check”",
                });
                return None;
            }
        };
        if value.numer().bits() > MOST_BITS || value.denom().bits() > MOST_BITS {
            let written = self.written_or(typed.span, || "this".to_owned());
            let why = "it has more digits than any figure of a workshop".to_owned();
            found.add(&ImpossibleValue {
                written,
                span: typed.span,
                why,
                instead: None,
                narrow: None,
            });
            return None;
        }
        Some(value)
    }

    /// A worked-out value as a quantity in the unit of its expression.
    pub(super) fn quantity_of(&self, typed: &Typed, value: Exact) -> Quantity {
        if let Expression::Value(quantity) = &typed.value {
            return quantity.clone();
        }
        let decimals = decimals_for(&value, self.units().unit(typed.unit), typed.decimals);
        let written = self.written_or(typed.span, String::new);
        Quantity { value, kind: typed.kind, unit: typed.unit, decimals, written }
    }
}

/// What an expression comes to before any reading is taken.
pub(super) enum Constant {
    Value(Exact),
    /// A reading stands in it.
    Reading,
    DividesByNothing,
}

/// The value of an expression without readings.
pub(super) fn constant(expression: &Expression) -> Constant {
    match worked_out(expression) {
        Ok(value) => Constant::Value(value),
        Err(why) => why,
    }
}

fn worked_out(expression: &Expression) -> Result<Exact, Constant> {
    match expression {
        Expression::Value(quantity) => Ok(quantity.value.clone()),
        // Of a table with a fixed key nothing is left but what it gives.
        Expression::Reading(_) | Expression::Point(..) | Expression::LookUp(..) => {
            Err(Constant::Reading)
        }
        Expression::Negative(inner) => Ok(-worked_out(inner)?),
        Expression::Binary(operator, left, right) => {
            let (left, right) = (worked_out(left)?, worked_out(right)?);
            match operator {
                Operator::Add => Ok(left + right),
                Operator::Subtract => Ok(left - right),
                Operator::Multiply => Ok(left * right),
                Operator::Divide if right == zero() => Err(Constant::DividesByNothing),
                Operator::Divide => Ok(left / right),
            }
        }
        Expression::Fold(fold, parts) => {
            let values = parts.iter().map(worked_out).collect::<Result<Vec<_>, _>>()?;
            folded(*fold, &values).ok_or(Constant::DividesByNothing)
        }
    }
}

fn folded(fold: Fold, values: &[Exact]) -> Option<Exact> {
    let sum = || values.iter().fold(zero(), |sum, value| sum + value);
    let count = || Exact::from_integer(values.len().into());
    let (least, greatest) = (values.iter().min()?, values.iter().max()?);
    Some(match fold {
        Fold::Max => greatest.clone(),
        Fold::Spread => greatest - least,
        Fold::Sum => sum(),
        Fold::Mean => sum() / count(),
        Fold::Count => count(),
        Fold::Abs if *least < zero() => -least.clone(),
        Fold::Min | Fold::Abs => least.clone(),
    })
}

/// As many digits as say the value exactly, up to four more than its figures have.
pub(super) fn decimals_for(value: &Exact, unit: &Unit, least: u32) -> u32 {
    let in_unit = (value - &unit.zero) / &unit.factor;
    let ten = Exact::from_integer(10.into());
    let scaled =
        |decimals: u32| (0..decimals).fold(in_unit.clone(), |number, _| number * &ten).is_integer();
    (least..=least.saturating_add(4))
        .find(|decimals| scaled(*decimals))
        .unwrap_or(least.saturating_add(2))
}

pub(super) fn zero() -> Exact {
    Exact::from_integer(0.into())
}

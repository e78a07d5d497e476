//! Sums over readings and fixed values, with the kind of each part.

use super::Reader;
use crate::findings::names::{TooMany, UnknownName};
use crate::findings::quantities::{OneFigure, a_kind};
use crate::world::NamedLimit;
use locknut_finding::{Findings, Span};
use locknut_graph::{Expression, Operator};
use locknut_quantity::{KindId, Quantity, UnitId};
use locknut_syntax::tree;

/// A sum nests at most so deep: a longer one is no line of any sheet.
const DEEPEST: usize = 100;

/// An expression whose kind is known.
#[derive(Clone, Debug)]
pub(crate) struct Typed {
    pub(crate) value: Expression,
    pub(crate) kind: KindId,
    pub(crate) unit: UnitId,
    /// The most digits after the point of the figures in it.
    pub(crate) decimals: u32,
    pub(crate) span: Span,
}

/// Whether a reading of several points may stand here, and how deep we are.
#[derive(Clone, Copy)]
pub(super) struct Within {
    pub(super) fold: bool,
    pub(super) depth: usize,
}

impl Reader<'_> {
    /// An expression over readings and fixed values, its kind, and the unit to show it in.
    pub(crate) fn expression(
        &self,
        written: &tree::Expression,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) -> Option<(Expression, KindId, UnitId)> {
        let typed = self.typed(written, wanted, found)?;
        Some((typed.value, typed.kind, typed.unit))
    }

    /// The same with all that is known of it; of the wanted kind, or a finding.
    pub(crate) fn typed(
        &self,
        written: &tree::Expression,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) -> Option<Typed> {
        let typed = self.part(written, wanted, Within { fold: false, depth: 0 }, found)?;
        if let Some(wanted) = wanted.filter(|wanted| !self.is_kind(typed.kind, *wanted)) {
            let kind = a_kind(self.units(), typed.kind);
            let said = self.written_or(typed.span, || "this".to_owned());
            self.wrong_kind(said, typed.span, &[kind], Some(wanted), found);
            return None;
        }
        Some(typed)
    }

    /// `hint`: the kind that a figure without other evidence is read as.
    pub(super) fn part(
        &self,
        written: &tree::Expression,
        hint: Option<KindId>,
        within: Within,
        found: &mut Findings,
    ) -> Option<Typed> {
        let within = Within { depth: within.depth + 1, ..within };
        if within.depth > DEEPEST {
            found.add(&TooMany { what: "steps in one sum", most: DEEPEST, span: written.span() });
            return None;
        }
        match written {
            tree::Expression::Quantity(quantity) => self.figure(quantity, hint, found),
            tree::Expression::Name(name) => self.named(name, within, found),
            tree::Expression::Point { reading, point } => self.point(reading, point, found),
            tree::Expression::Call { function, arguments, span } => {
                self.call(function, arguments, *span, Within { fold: true, ..within }, found)
            }
            tree::Expression::Binary { operator, left, right, .. } => match operator {
                tree::Operator::Add => self.sum(Operator::Add, left, right, hint, within, found),
                tree::Operator::Subtract => {
                    self.sum(Operator::Subtract, left, right, hint, within, found)
                }
                tree::Operator::Multiply => {
                    self.product(Operator::Multiply, left, right, within, found)
                }
                tree::Operator::Divide => {
                    self.product(Operator::Divide, left, right, within, found)
                }
            },
            tree::Expression::Negative(inner, span) => {
                let inner = self.part(inner, hint, within, found)?;
                self.no_point_on_a_scale("turned round", &inner, found)?;
                Some(Typed {
                    value: Expression::Negative(Box::new(inner.value)),
                    span: *span,
                    ..inner
                })
            }
            tree::Expression::PercentOf { percent, of, span } => {
                let of = self.part(of, hint, within, found)?;
                self.percent_of(percent, of, *span, found)
            }
        }
    }

    fn figure(
        &self,
        written: &tree::Quantity,
        hint: Option<KindId>,
        found: &mut Findings,
    ) -> Option<Typed> {
        let quantity = self.quantity(written, hint, found)?;
        Some(fixed(quantity, written.span))
    }

    fn named(&self, name: &tree::Name, within: Within, found: &mut Findings) -> Option<Typed> {
        if let Some((reading, kind, unit)) = self.readings.reading(&name.text) {
            let points = self.readings.points(reading);
            if points > 1 && !within.fold {
                found.add(&OneFigure {
                    written: name.text.clone(),
                    span: name.span,
                    found: format!("a reading at {points} points"),
                    wanted: "one figure",
                    mend: format!(
                        "say which: max({0}), mean({0}), or {0} at one of its points",
                        name.text
                    ),
                });
                return None;
            }
            let value = Expression::Reading(reading);
            return Some(Typed { value, kind, unit, decimals: 0, span: name.span });
        }
        if let Some(limit) = self.named_limit(&name.text) {
            return figure_of(limit, name, found);
        }
        let readings = self.readings.names();
        let known = self.limit_names().chain(readings.iter().map(String::as_str));
        self.unknown("value, limit or reading", name, known, found);
        None
    }

    fn point(
        &self,
        reading: &tree::Name,
        point: &tree::Name,
        found: &mut Findings,
    ) -> Option<Typed> {
        let Some((id, kind, unit)) = self.readings.reading(&reading.text) else {
            let known = self.readings.names();
            self.unknown("reading", reading, known.iter().map(String::as_str), found);
            return None;
        };
        let Some(position) = self.readings.point(id, &point.text) else {
            found.add(&UnknownName {
                wanted: "point of this reading",
                name: point.text.clone(),
                span: point.span,
                near: None,
                else_is: None,
            });
            return None;
        };
        let span = reading.span.to(point.span);
        Some(Typed { value: Expression::Point(id, position), kind, unit, decimals: 0, span })
    }
}

fn fixed(quantity: Quantity, span: Span) -> Typed {
    let (kind, unit, decimals) = (quantity.kind, quantity.unit, quantity.decimals);
    Typed { value: Expression::Value(quantity), kind, unit, decimals, span }
}

/// A value; or a limit with one end, which stands for its figure.
fn figure_of(limit: &NamedLimit, name: &tree::Name, found: &mut Findings) -> Option<Typed> {
    let range = &limit.limit.range;
    let one = match (&range.lower, &range.upper) {
        (Some(lower), Some(upper)) if lower.value == upper.value => Some(&lower.value),
        (Some(one), None) | (None, Some(one)) => Some(&one.value),
        _ => None,
    };
    let Some(value) = one.cloned() else {
        found.add(&OneFigure {
            written: name.text.clone(),
            span: name.span,
            found: format!("the range {}", limit.limit.written),
            wanted: "one figure",
            mend: "name a value, or a limit with one end".to_owned(),
        });
        return None;
    };
    let limit = &limit.limit;
    let quantity = Quantity {
        value,
        kind: limit.kind,
        unit: limit.unit,
        decimals: limit.decimals,
        written: limit.written.clone(),
    };
    Some(fixed(quantity, name.span))
}

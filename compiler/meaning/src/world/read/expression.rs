//! Sums over readings and fixed values, with the kind of each part.

use super::Reader;
use super::unit::like_unit;
use crate::findings::names::{TooMany, UnknownName};
use crate::findings::quantities::{KindsApart, KindsMultiplied, OneFigure, a_kind};
use crate::world::NamedLimit;
use crate::world::near::nearest;
use locknut_finding::{Findings, Span};
use locknut_graph::{Expression, Fold, Operator};
use locknut_quantity::{KindId, Quantity, UnitId, Units, parse_exact};
use locknut_syntax::tree;

/// A sum nests at most so deep: a longer one is no line of any sheet.
const DEEPEST: usize = 100;

/// The functions, and what each makes of its values.
const FOLDS: &[(&str, Fold)] = &[
    ("max", Fold::Max),
    ("min", Fold::Min),
    ("mean", Fold::Mean),
    ("spread", Fold::Spread),
    ("sum", Fold::Sum),
    ("count", Fold::Count),
    ("abs", Fold::Abs),
];

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
struct Within {
    fold: bool,
    depth: usize,
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
        if let Some(wanted) = wanted.filter(|wanted| *wanted != typed.kind) {
            let kind = a_kind(self.units(), typed.kind);
            let said = self.written_or(typed.span, || "this".to_owned());
            self.wrong_kind(said, typed.span, &[kind], Some(wanted), found);
            return None;
        }
        Some(typed)
    }

    /// `hint`: the kind that a figure without other evidence is read as.
    fn part(
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
                tree::Operator::Divide => self.product(Operator::Divide, left, right, within, found),
            },
            tree::Expression::Negative(inner, span) => {
                let inner = self.part(inner, hint, within, found)?;
                self.no_point_on_a_scale("turned round", &inner, found)?;
                Some(Typed { value: Expression::Negative(Box::new(inner.value)), span: *span, ..inner })
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
                    mend: format!("say which: max({0}), mean({0}), or {0} at one of its points", name.text),
                });
                return None;
            }
            let value = Expression::Reading(reading);
            return Some(Typed { value, kind, unit, decimals: 0, span: name.span });
        }
        if let Some(limit) = self.named_limit(&name.text) {
            return self.figure_of(limit, name, found);
        }
        let readings = self.readings.names();
        let known = self.limit_names().chain(readings.iter().map(String::as_str));
        self.unknown("value, limit or reading", name, known, found);
        None
    }

    /// A value; or a limit with one end, which stands for its figure.
    fn figure_of(&self, limit: &NamedLimit, name: &tree::Name, found: &mut Findings) -> Option<Typed> {
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

    fn point(&self, reading: &tree::Name, point: &tree::Name, found: &mut Findings) -> Option<Typed> {
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

    fn call(
        &self,
        function: &tree::Name,
        arguments: &[tree::Expression],
        span: Span,
        within: Within,
        found: &mut Findings,
    ) -> Option<Typed> {
        let Some((_, fold)) = FOLDS.iter().find(|(name, _)| *name == function.text) else {
            let near = nearest(&function.text, FOLDS.iter().map(|(name, _)| *name));
            let (name, span) = (function.text.clone(), function.span);
            found.add(&UnknownName { wanted: "function", name, span, near, else_is: None });
            return None;
        };
        let one_value = *fold == Fold::Abs;
        if arguments.is_empty() || (one_value && arguments.len() > 1) {
            let written = self.written_or(span, || function.text.clone());
            found.add(&OneFigure {
                written,
                span,
                found: format!("{} of {} values", function.text, arguments.len()),
                wanted: if one_value { "one value" } else { "at least one value" },
                mend: format!("write {}(…) with the reading in the brackets", function.text),
            });
            return None;
        }
        let within = Within { fold: !one_value, ..within };
        let mut parts: Vec<Typed> = Vec::new();
        for argument in arguments {
            let hint = parts.first().map(|first| first.kind);
            let part = self.part(argument, hint, within, found)?;
            if let Some(first) = parts.first().filter(|first| first.kind != part.kind) {
                self.apart("compared", first, &part, found);
                return None;
            }
            parts.push(part);
        }
        self.folded(*fold, parts, span, found)
    }

    fn folded(
        &self,
        fold: Fold,
        parts: Vec<Typed>,
        span: Span,
        found: &mut Findings,
    ) -> Option<Typed> {
        let first = parts.first()?.clone();
        let units = self.units();
        let (kind, unit) = match fold {
            Fold::Count => (Units::NUMBER, Units::ONE),
            Fold::Spread => {
                let kind = units.difference_of(first.kind);
                (kind, like_unit(units, first.unit, kind))
            }
            Fold::Sum | Fold::Abs => {
                self.no_point_on_a_scale("added", &first, found)?;
                (first.kind, first.unit)
            }
            Fold::Max | Fold::Min | Fold::Mean => (first.kind, first.unit),
        };
        let decimals = parts.iter().map(|part| part.decimals).max().unwrap_or(0);
        let values = parts.into_iter().map(|part| part.value).collect();
        Some(Typed { value: Expression::Fold(fold, values), kind, unit, decimals, span })
    }

    fn sum(
        &self,
        operator: Operator,
        left: &tree::Expression,
        right: &tree::Expression,
        hint: Option<KindId>,
        within: Within,
        found: &mut Findings,
    ) -> Option<Typed> {
        // A figure is read as what the other side is: `5 °C + warm` adds a difference.
        let left_is_figure = matches!(left, tree::Expression::Quantity(_));
        let right_is_figure = matches!(right, tree::Expression::Quantity(_));
        let (left, right) = if left_is_figure && !right_is_figure {
            let right = self.part(right, None, within, found)?;
            let hint = match operator {
                Operator::Add => self.units().difference_of(right.kind),
                _ => right.kind,
            };
            (self.part(left, Some(hint), within, found)?, right)
        } else {
            let left = self.part(left, hint, within, found)?;
            let hint = self.units().difference_of(left.kind);
            let right = self.part(right, right_is_figure.then_some(hint), within, found)?;
            (left, right)
        };
        self.summed(operator, left, right, found)
    }

    fn summed(
        &self,
        operator: Operator,
        left: Typed,
        right: Typed,
        found: &mut Findings,
    ) -> Option<Typed> {
        let units = self.units();
        let (left_step, right_step) =
            (units.difference_of(left.kind), units.difference_of(right.kind));
        let adds = operator == Operator::Add;
        // A step may be added to or taken from a point on a scale; two points give a step between them.
        let kind = if left_step == right.kind {
            Some(left.kind)
        } else if adds && left.kind == right_step {
            Some(right.kind)
        } else if !adds && left.kind == right.kind {
            Some(left_step)
        } else {
            None
        };
        let Some(kind) = kind else {
            self.apart(if adds { "added" } else { "subtracted" }, &left, &right, found);
            return None;
        };
        let unit = like_unit(units, left.unit, kind);
        let decimals = left.decimals.max(right.decimals);
        let span = left.span.to(right.span);
        let value = Expression::Binary(operator, Box::new(left.value), Box::new(right.value));
        Some(Typed { value, kind, unit, decimals, span })
    }

    fn product(
        &self,
        operator: Operator,
        left: &tree::Expression,
        right: &tree::Expression,
        within: Within,
        found: &mut Findings,
    ) -> Option<Typed> {
        let left = self.part(left, None, within, found);
        let right = self.part(right, None, within, found);
        let (left, right) = (left?, right?);
        let plain = |part: &Typed| part.kind == Units::NUMBER;
        let scaled = |part: &Typed| self.is_point(part.kind);
        let multiplies = operator == Operator::Multiply;
        let fits = !scaled(&left) && !scaled(&right) && (plain(&right) || (multiplies && plain(&left)));
        if !fits {
            let said = |part: &Typed| (a_kind(self.units(), part.kind), part.span);
            found.add(&KindsMultiplied {
                done: if multiplies { "multiplied" } else { "divided" },
                left: said(&left),
                right: said(&right),
            });
            return None;
        }
        let (kind, unit) = if plain(&left) { (right.kind, right.unit) } else { (left.kind, left.unit) };
        let decimals = left.decimals.max(right.decimals);
        let span = left.span.to(right.span);
        let value = Expression::Binary(operator, Box::new(left.value), Box::new(right.value));
        Some(Typed { value, kind, unit, decimals, span })
    }

    fn percent_of(
        &self,
        percent: &tree::Quantity,
        of: Typed,
        span: Span,
        found: &mut Findings,
    ) -> Option<Typed> {
        self.no_point_on_a_scale("multiplied", &of, found)?;
        let value = self.number(&percent.number, found)? / parse_exact("100")?;
        let written = self.written_or(percent.span, || percent.number.text.clone());
        let (kind, unit) = (Units::NUMBER, Units::ONE);
        let fraction = Quantity { value, kind, unit, decimals: 2, written };
        let (fraction, whole) = (Box::new(Expression::Value(fraction)), Box::new(of.value));
        let value = Expression::Binary(Operator::Multiply, fraction, whole);
        Some(Typed { value, span, ..of })
    }

    /// A temperature is a point on a scale: twice 20 °C is nothing.
    fn no_point_on_a_scale(
        &self,
        done: &'static str,
        part: &Typed,
        found: &mut Findings,
    ) -> Option<()> {
        if self.is_point(part.kind) {
            self.apart(done, part, part, found);
            return None;
        }
        Some(())
    }

    /// Whether a kind has a difference that is another kind.
    pub(super) fn is_point(&self, kind: KindId) -> bool {
        self.units().difference_of(kind) != kind
    }

    pub(super) fn apart(
        &self,
        done: &'static str,
        left: &Typed,
        right: &Typed,
        found: &mut Findings,
    ) {
        let units = self.units();
        let own = |part: &Typed| self.world.own_scales.contains_key(&part.kind);
        found.add(&KindsApart {
            done,
            left: (a_kind(units, left.kind), left.span),
            right: (a_kind(units, right.kind), right.span),
            own_scale: own(left) || own(right),
        });
    }
}

fn fixed(quantity: Quantity, span: Span) -> Typed {
    let (kind, unit, decimals) = (quantity.kind, quantity.unit, quantity.decimals);
    Typed { value: Expression::Value(quantity), kind, unit, decimals, span }
}

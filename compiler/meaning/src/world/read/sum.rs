//! `a + b`, `2 * a`, `102 % of a`: what may be added to, taken from and multiplied by what.

use super::Reader;
use super::expression::{Typed, Within};
use super::figures::is_percent;
use crate::findings::quantities::{BarePressure, InProduct, KindsApart, KindsMultiplied, a_kind};
use crate::findings::readings::{DifferenceSaidBare, TwiceInFold};
use locknut_finding::{Findings, Span};
use locknut_graph::{Expression, Operator};
use locknut_quantity::{
    Kind, KindId, Quantity, ReadProblem, Unit, UnitProblem, Units, parse_exact,
};
use locknut_syntax::tree;
use num_traits::Zero;

impl Reader<'_> {
    pub(super) fn sum(
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
                Operator::Subtract | Operator::Multiply | Operator::Divide => right.kind,
            };
            (self.part(left, Some(hint), within, found)?, right)
        } else {
            // A limit of a temperature takes nothing but a difference off one.
            let hint_wanted = hint;
            let left = self.part(left, hint, within, found)?;
            let step = self.units().difference_of(left.kind);
            let tree::Expression::Quantity(figure) = right else {
                let right = self.part(right, None, within, found)?;
                return self.summed(operator, left, right, found);
            };
            if operator == Operator::Subtract
                && self.is_point(left.kind)
                && hint_wanted != Some(left.kind)
                && self.reads_like_a_point(figure, step)
            {
                let written = self.written(figure.span);
                found.add(&DifferenceSaidBare { written, span: figure.span, taken_off: true });
            }
            // A word behind it says itself what it is: `p - 0 bar gauge` is how far p lies above that.
            let hint = Some(step).filter(|_| figure.qualifier.is_none());
            (left, self.part(right, hint, within, found)?)
        };
        self.summed(operator, left, right, found)
    }

    /// `gap at left + gap at left`: whoever means it twice writes `2 * gap at left`.
    fn added_twice(&self, left: &Typed, right: &Typed, found: &mut Findings) {
        let mut terms = vec![&left.value];
        let mut again = false;
        while let Some(term) = terms.pop() {
            again |= *term == right.value;
            if let Expression::Binary(Operator::Add, one, other) = term {
                terms.extend([&**one, &**other]);
            }
        }
        let alone = matches!(right.value, Expression::Reading(_));
        if again && !alone && !right.value.readings().is_empty() {
            let written = self.written_or(right.span, || "this".to_owned());
            found.add(&TwiceInFold { written, first: left.span, again: right.span });
        }
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
        if adds {
            self.added_twice(&left, &right, found);
        }
        if adds && self.is_level(&left) && self.is_level(&right) {
            self.apart("added", &left, &right, found);
            return None;
        }
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
        let unit = self.like_unit(left.unit, kind);
        let decimals = left.decimals.max(right.decimals);
        let span = left.span.to(right.span);
        let value = Expression::Binary(operator, Box::new(left.value), Box::new(right.value));
        Some(Typed { value, kind, unit, decimals, span })
    }

    pub(super) fn product(
        &self,
        operator: Operator,
        left: &tree::Expression,
        right: &tree::Expression,
        within: Within,
        found: &mut Findings,
    ) -> Option<Typed> {
        let multiplies = operator == Operator::Multiply;
        if self.bare_in_product(multiplies, left, right, within, found) {
            return None;
        }
        let left = self.part(left, None, within, found);
        // `(hot - cold) / 40 K` is by another difference.
        let step = |left: &Typed| {
            let steps = |kind: &Kind| kind.difference == Some(left.kind);
            self.units().kinds().iter().any(steps).then_some(left.kind)
        };
        let by_figure =
            matches!(right, tree::Expression::Quantity(figure) if figure.unit.is_some());
        let hint = left.as_ref().filter(|_| by_figure && !multiplies).and_then(step);
        let right = self.part(right, hint, within, found);
        let (left, right) = (left?, right?);
        // A percentage is as good as a number.
        let plain = |part: &Typed| self.is_plain(part.kind);
        let scaled =
            |part: &Typed| self.is_point(part.kind) || self.units().kind(part.kind).logarithmic;
        // How many times one holds the other is a number, whatever both are; what has no dimension says nothing by it.
        let like = !multiplies
            && left.kind == right.kind
            && self.units().kind(left.kind).dimension.is_some();
        let fits = !scaled(&left)
            && !scaled(&right)
            && (plain(&right) || like || (multiplies && plain(&left)));
        if !fits {
            let said = |part: &Typed| (a_kind(self.units(), part.kind), part.span);
            found.add(&KindsMultiplied {
                done: if multiplies { "multiplied" } else { "divided" },
                left: said(&left),
                right: said(&right),
                gives: self.may_give(multiplies, left.kind, right.kind),
                scale: scaled(&left) || scaled(&right),
            });
            return None;
        }
        let (kind, unit, decimals) = if like && !plain(&left) {
            (Units::NUMBER, Units::ONE, 0)
        } else {
            let of = if plain(&left) { &right } else { &left };
            (of.kind, of.unit, left.decimals.max(right.decimals))
        };
        let span = left.span.to(right.span);
        let value = Expression::Binary(operator, Box::new(left.value), Box::new(right.value));
        Some(Typed { value, kind, unit, decimals, span })
    }

    /// Says of a figure that leaves open what it is measured from that no product takes it but as a difference.
    fn bare_in_product(
        &self,
        multiplies: bool,
        left: &tree::Expression,
        right: &tree::Expression,
        within: Within,
        found: &mut Findings,
    ) -> bool {
        let bare = |part: &tree::Expression| {
            let tree::Expression::Quantity(figure) = part else { return None };
            self.as_bare_difference(figure)
        };
        let (other, kind, figure, first) = match (bare(left), bare(right)) {
            (Some(kind), _) => (right, kind, left, true),
            (None, Some(kind)) => (left, kind, right, false),
            (None, None) => return false,
        };
        let Some(other) = self.part(other, None, within, found) else { return true };
        let (left, right) = if first { (kind, other.kind) } else { (other.kind, kind) };
        let gives = self.may_give(multiplies, left, right);
        let said = |kind| a_kind(self.units(), kind);
        let done = if multiplies { "multiplied" } else { "divided" };
        let product = format!("{} {done} by {}", said(left), said(right));
        let written = self.written(figure.span());
        let plain = self.is_plain(left) || self.is_plain(right);
        let words = vec![Units::DIFFERENCE.to_owned()];
        let product = Some(InProduct { product, plain, gives });
        found.add(&BarePressure { written, span: figure.span(), words, product });
        true
    }

    /// The kind of a figure as a difference, where it lacks the word that says what it is measured from.
    pub(crate) fn as_bare_difference(&self, figure: &tree::Quantity) -> Option<KindId> {
        let (number, unit) = (&figure.number.text, figure.unit.as_ref()?.text.as_str());
        let word = figure.qualifier.as_ref().map(|word| word.text.as_str());
        let read = self.units().read(number, Some(unit), word, None);
        let lacks = matches!(read, Err(ReadProblem::Unit(UnitProblem::NeedsQualifier { .. })));
        let difference = self.units().read(number, Some(unit), Some(Units::DIFFERENCE), None);
        difference.ok().filter(|_| lacks).map(|read| read.kind)
    }

    /// The kinds that a product or quotient may be by its dimension: `force`.
    fn may_give(&self, multiplies: bool, left: KindId, right: KindId) -> Vec<String> {
        let of = |kind: KindId| self.units().kind(kind).dimension;
        let both = of(left).zip(of(right));
        let dimension = both.and_then(
            |(left, right)| {
                if multiplies { left.times(right) } else { left.per(right) }
            },
        );
        let Some(dimension) = dimension.filter(|dimension| !dimension.is_none()) else {
            return Vec::new();
        };
        let kinds = self.units().kinds().iter();
        let fits = kinds.filter(|kind| kind.dimension == Some(dimension));
        fits.map(|kind| kind.name.clone()).collect()
    }

    pub(super) fn percent_of(
        &self,
        percent: &tree::Quantity,
        of: Typed,
        span: Span,
        found: &mut Findings,
    ) -> Option<Typed> {
        self.no_point_on_a_scale("multiplied", &of, found)?;
        if self.is_level(&of) {
            self.apart("multiplied", &of, &of, found);
            return None;
        }
        if !is_percent(percent) {
            let why = "only a percentage is of something".to_owned();
            self.impossible(percent.span, why, None, found);
            return None;
        }
        let value = self.number(&percent.number, found)? / parse_exact("100")?;
        let written = self.written_or(percent.span, || percent.number.text.clone());
        let (kind, unit) = (Units::NUMBER, Units::ONE);
        let fraction = Quantity { value, kind, unit, decimals: 2, written };
        let (fraction, whole) = (Box::new(Expression::Value(fraction)), Box::new(of.value));
        let value = Expression::Binary(Operator::Multiply, fraction, whole);
        Some(Typed { value, span, ..of })
    }

    /// A temperature is a point on a scale: twice 20 °C is nothing.
    pub(super) fn no_point_on_a_scale(
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

    /// Whether a part is a level that was read, as decibels are. What is looked up, taken off or written may be how much
    /// one lies above another.
    pub(super) fn is_level(&self, part: &Typed) -> bool {
        self.units().kind(part.kind).logarithmic
            && matches!(
                part.value,
                Expression::Reading(_) | Expression::Point(..) | Expression::Fold(..)
            )
    }

    /// Whether the unit of a figure that is taken as a difference, without a word behind it, is that of a scale with a
    /// nought of its own, too.
    pub(crate) fn reads_like_a_point(&self, figure: &tree::Quantity, difference: KindId) -> bool {
        let units = self.units();
        let Some(unit) = figure.unit.as_ref().filter(|_| figure.qualifier.is_none()) else {
            return false;
        };
        let of_scale = |unit: &Unit| {
            !unit.zero.is_zero()
                && unit.kind != difference
                && units.difference_of(unit.kind) == difference
        };
        // A unit that the end of a range lent its beginning is told there.
        unit.span.start < figure.span.end
            && units.spelled(&unit.text).iter().any(|id| of_scale(units.unit(*id)))
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
            logarithmic: units.kind(left.kind).logarithmic,
        });
    }
}

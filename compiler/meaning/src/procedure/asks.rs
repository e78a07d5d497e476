//! Reading pieces of a line: what they name must have been read by then, and be a number where one
//! reckons with it.

use super::acts::{asked, cancels};
use super::coverage::{Possible, possible};
use super::laying::Laying;
use crate::findings::names::CannotBeKnown;
use crate::findings::readings::{NotYetRead, RestsOnRough, WordsNotNumber};
use crate::world::Bounds;
use locknut_graph::{Condition, Expression, Prose, Test, Words};
use locknut_quantity::{Exact, KindId, Limit, Quantity, UnitId};
use locknut_syntax::tree;

impl Laying<'_> {
    /// An expression over readings, its kind and the unit to show it in.
    pub(super) fn expression(
        &mut self,
        written: &tree::Expression,
        wanted: Option<KindId>,
    ) -> Option<(Expression, KindId, UnitId)> {
        if !self.can_be_reckoned(written) {
            return None;
        }
        let read = self.read(|reader, found| reader.expression(written, wanted, found))?;
        self.look_ups(written);
        Some(read)
    }

    /// A limit with fixed ends.
    pub(super) fn limit(&mut self, written: &tree::Limit, wanted: Option<KindId>) -> Option<Limit> {
        if !self.ends_can_be_reckoned(written) {
            return None;
        }
        self.read(|reader, found| reader.limit(written, wanted, found))
    }

    /// A limit whose ends may be computed from readings.
    pub(super) fn bounds(
        &mut self,
        written: &tree::Limit,
        wanted: Option<KindId>,
    ) -> Option<Bounds> {
        if !self.ends_can_be_reckoned(written) {
            return None;
        }
        let read = self.read(|reader, found| reader.bounds(written, wanted, found))?;
        self.look_ups_of_limit(written);
        if let Bounds::Computed { limit, .. } = &read {
            for (end, _) in limit.lower.iter().chain(&limit.upper) {
                cancels::tell_written(self, written.span, end);
            }
        }
        Some(read)
    }

    /// A quantity as it stands.
    pub(super) fn quantity(
        &mut self,
        written: &tree::Quantity,
        wanted: Option<KindId>,
    ) -> Option<Quantity> {
        self.read(|reader, found| reader.quantity(written, wanted, found))
    }

    /// Shortest, likely, longest, in seconds.
    pub(super) fn triple(&mut self, written: &tree::Limit) -> Option<(Exact, Exact, Exact)> {
        self.read(|reader, found| reader.triple(written, found))
    }

    /// A condition.
    pub(super) fn condition(&mut self, written: &tree::Condition) -> Option<Condition> {
        if !self.can_be_asked(written) {
            return None;
        }
        let read = self.read(|reader, found| reader.condition(written, found))?;
        self.look_ups_of_condition(written);
        for test in read.tests() {
            if let Test::Within { value, limit, span, .. } = test {
                cancels::tell_written(self, *span, value);
                asked::between_digits(self, value, limit, *span);
            }
        }
        Some(read)
    }

    /// A text; a place that names what is not read yet is left out, and said.
    pub(super) fn prose(&mut self, written: &tree::Text) -> Prose {
        let early: Vec<bool> = written.pieces.iter().map(|piece| self.is_early(piece)).collect();
        if !early.contains(&true) {
            return self.read(|reader, found| reader.prose(written, found));
        }
        let pieces = written.pieces.iter().zip(early).filter(|(_, early)| !early);
        let pieces = pieces.map(|(piece, _)| piece.clone()).collect();
        let rest = tree::Text { pieces, span: written.span };
        self.read(|reader, found| reader.prose(&rest, found))
    }

    /// How a declared name is said.
    pub(super) fn words(&mut self, name: &str) -> Words {
        self.read(|reader, _| reader.words(name))
    }

    /// What an expression may come to.
    pub(super) fn possible(&self, expression: &Expression) -> Possible {
        possible(expression, &self.knowns)
    }

    fn is_early(&mut self, piece: &tree::Piece) -> bool {
        match piece {
            tree::Piece::Plain { .. } => false,
            tree::Piece::Hole { value, .. } => {
                names_in(value).into_iter().filter(|name| !self.has_been_read(name)).count() > 0
            }
        }
    }

    fn ends_can_be_reckoned(&mut self, limit: &tree::Limit) -> bool {
        expressions_of(limit).into_iter().all(|end| self.can_be_reckoned(end))
    }

    /// Every name in it has been read by now, and is one number where one is wanted.
    fn can_be_reckoned(&mut self, written: &tree::Expression) -> bool {
        let used = names_in(written);
        used.into_iter().map(|name| self.is_a_number(name)).fold(true, |all, one| all & one)
    }

    fn is_a_number(&mut self, name: &tree::Name) -> bool {
        if !self.has_been_read(name) {
            return false;
        }
        let Some(named) = self.scope.readings.get(&name.text) else { return true };
        if named.number.is_none() {
            let (name, span, read) = (name.text.clone(), name.span, named.span);
            self.found.add(&WordsNotNumber { name, span, read });
            return false;
        }
        if named.rough {
            let (name, used, read) = (name.text.clone(), name.span, named.span);
            self.found.add(&RestsOnRough { used, read, name });
            return false;
        }
        true
    }

    /// Says so where a name is a reading of a line further down.
    pub(super) fn has_been_read(&mut self, name: &tree::Name) -> bool {
        let text = &name.text;
        let known = self.scope.readings.contains_key(text)
            || self.model.limits.contains_key(text)
            || self.world.limits.contains_key(text);
        let Some(later) = self.scope.mentions.readings.get(text).copied().filter(|_| !known) else {
            return true;
        };
        if self.scope.read_at_points.contains(text) {
            self.found.add(&CannotBeKnown {
                what: "a reading that was taken at each point",
                place: "a line after the block",
                span: name.span,
                mend: "use it inside the block, or take it at all points in one line: the points stand behind “at”, parted by commas",
            });
            return false;
        }
        if self.scope.refused.contains(text) {
            return false;
        }
        self.found.add(&NotYetRead { name: text.clone(), span: name.span, later });
        false
    }

    fn can_be_asked(&mut self, written: &tree::Condition) -> bool {
        match written {
            tree::Condition::Is { subject, .. } => {
                self.model.has(&subject.text) || self.has_been_read(subject)
            }
            tree::Condition::Within { value, limit, .. } => {
                self.can_be_reckoned(value) & self.ends_can_be_reckoned(limit)
            }
            tree::Condition::Not(inner, _) => self.can_be_asked(inner),
            tree::Condition::And(parts, _) | tree::Condition::Or(parts, _) => {
                parts.iter().fold(true, |all, part| all & self.can_be_asked(part))
            }
            tree::Condition::Series { .. }
            | tree::Condition::Serial { .. }
            | tree::Condition::Each { .. }
            | tree::Condition::Mark { .. } => true,
        }
    }
}

/// Every name in an expression, without a stack as deep as the expression.
fn names_in(written: &tree::Expression) -> Vec<&tree::Name> {
    let mut names = Vec::new();
    let mut left = vec![written];
    while let Some(part) = left.pop() {
        match part {
            tree::Expression::Quantity(_) => {}
            tree::Expression::Name(name) | tree::Expression::Point { reading: name, .. } => {
                names.push(name);
            }
            tree::Expression::Call { arguments, .. } => left.extend(arguments),
            tree::Expression::Binary { left: one, right: other, .. } => {
                left.extend([&**other, &**one]);
            }
            tree::Expression::Negative(inner, _) => left.push(inner),
            tree::Expression::PercentOf { of, .. } => left.push(of),
        }
    }
    names
}

/// The expressions that a limit is made of.
pub(super) fn expressions_of(limit: &tree::Limit) -> Vec<&tree::Expression> {
    use tree::LimitForm as Form;
    match &limit.form {
        Form::AtMost(end) | Form::AtLeast(end) | Form::Under(end) | Form::Over(end) => vec![end],
        Form::Between(from, to) | Form::OverTo(from, to) | Form::PlusMinus(from, to) => {
            vec![from, to]
        }
        Form::Triple(shortest, likely, longest) => vec![shortest, likely, longest],
        Form::Unequal(middle, ..) | Form::Just(middle) => vec![middle],
    }
}

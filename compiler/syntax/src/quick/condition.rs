//! Conditions.

use super::Reader;
use crate::tree::{Condition, Expression, Name};
use locknut_finding::Span;

/// What stands between `and` and `or`, in a rule of either sort.
type One<'a> = fn(&mut Reader<'a>) -> Option<Condition>;

impl<'a> Reader<'a> {
    /// `or` binds least, then `and`, then `not`.
    pub(super) fn condition(&mut self) -> Option<Condition> {
        self.any_of(Reader::test)
    }

    /// In a vocabulary, what an act needs; marks may stand in it.
    pub(super) fn need(&mut self) -> Option<Condition> {
        self.any_of(Reader::need_one)
    }

    fn any_of(&mut self, one: One<'a>) -> Option<Condition> {
        let all_of = |reader: &mut Self| reader.joined("and", one, Condition::And);
        self.joined("or", all_of, Condition::Or)
    }

    fn joined(
        &mut self,
        word: &str,
        mut one: impl FnMut(&mut Self) -> Option<Condition>,
        join: fn(Vec<Condition>, Span) -> Condition,
    ) -> Option<Condition> {
        let from = self.at;
        let first = one(self)?;
        let mut next = |reader: &mut Self| {
            reader.ws();
            reader.keyword(word)?;
            reader.ws();
            one(reader)
        };
        let Some(second) = self.attempt(&mut next) else { return Some(first) };
        let mut parts = vec![first, second];
        self.all(&mut parts, next);
        Some(join(parts, self.span(from)))
    }

    fn test(&mut self) -> Option<Condition> {
        if let Some(negated) = self.attempt(|reader| reader.not_so(Reader::test)) {
            return Some(negated);
        }
        if self.peek() == b'('
            && let Some(nested) = self.attempt(Self::nested)
        {
            return Some(nested);
        }
        let worded = match self.word() {
            "each" => self.attempt(Self::each_test),
            "series" => self.attempt(Self::series_test),
            "serial" => self.attempt(Self::serial_test),
            _ => None,
        };
        worded.or_else(|| self.attempt(Self::is_test)).or_else(|| self.within_test())
    }

    fn need_one(&mut self) -> Option<Condition> {
        if let Some(negated) = self.attempt(|reader| reader.not_so(Reader::need_one)) {
            return Some(negated);
        }
        self.attempt(Self::each_test)
            .or_else(|| self.attempt(Self::is_test))
            .or_else(|| self.mark_test())
    }

    fn not_so(&mut self, one: One<'a>) -> Option<Condition> {
        let from = self.at;
        self.keyword("not")?;
        self.ws();
        let of = Box::new(self.deeper(one)?);
        Some(Condition::Not(of, self.span(from)))
    }

    fn nested(&mut self) -> Option<Condition> {
        self.sign(b'(')?;
        self.ws();
        let condition = self.condition()?;
        self.ws();
        self.sign(b')')?;
        Some(condition)
    }

    /// `supply is proved isolated`, `supply is isolated for under 10 min`, `pad-bolts at north is out`
    fn is_test(&mut self) -> Option<Condition> {
        let from = self.at;
        let subject = self.name()?;
        let point = self.attempt(|reader| {
            reader.gap()?;
            reader.keyword("at")?;
            reader.gap()?;
            reader.point_name()
        });
        self.gap()?;
        self.keyword("is")?;
        let negated = self.gap_keyword("not");
        let proved = self.gap_keyword("proved");
        self.gap()?;
        let values = self.values()?;
        let lasting = self.attempt(Self::lasting);
        let span = self.span(from);
        Some(Condition::Is { subject, point, negated, proved, values, lasting, span })
    }

    fn gap_keyword(&mut self, word: &str) -> bool {
        let read = self.attempt(|reader| {
            reader.gap()?;
            reader.keyword(word)
        });
        read.is_some()
    }

    /// `live or isolated`, but not the `or` of a further test.
    pub(super) fn values(&mut self) -> Option<Vec<Name>> {
        let mut values = vec![self.name()?];
        self.all(&mut values, |reader| {
            reader.or_no_variant()?;
            let value = reader.name()?;
            (!reader.fits(Self::begins_further_test)).then_some(value)
        });
        Some(values)
    }

    fn or_no_variant(&mut self) -> Option<()> {
        self.gap()?;
        self.keyword("or")?;
        self.gap()?;
        (!matches!(self.word(), "series" | "serial")).then_some(())
    }

    fn begins_further_test(&mut self) -> Option<()> {
        if self.sign(b'(').is_some() {
            return Some(());
        }
        let blanks = self.gap().is_some();
        let worded = matches!(self.word(), "is" | "at" | "over" | "under" | "from" | "to");
        if blanks && worded { Some(()) } else { self.signs("..") }
    }

    /// `for D`, `for under D`
    fn lasting(&mut self) -> Option<(Box<Expression>, bool)> {
        self.gap()?;
        self.keyword("for")?;
        let under = self.gap_keyword("under");
        self.gap()?;
        Some((Box::new(self.expression()?), under))
    }

    /// `each fastens is in-place`
    fn each_test(&mut self) -> Option<Condition> {
        let from = self.at;
        self.keyword("each")?;
        self.gap()?;
        let relation = self.name()?;
        self.gap()?;
        self.keyword("is")?;
        let negated = self.gap_keyword("not");
        self.gap()?;
        let values = self.values()?;
        Some(Condition::Each { relation, negated, values, span: self.span(from) })
    }

    /// `series B or C`
    fn series_test(&mut self) -> Option<Condition> {
        let from = self.at;
        self.keyword("series")?;
        self.gap()?;
        let mut values = vec![self.name()?];
        self.all(&mut values, |reader| {
            if reader.attempt(Self::comma).is_none() {
                reader.or_no_variant()?;
            }
            let value = reader.name()?;
            let is = |reader: &mut Self| {
                reader.gap()?;
                reader.keyword("is")
            };
            (!reader.fits(is)).then_some(value)
        });
        Some(Condition::Series { values, span: self.span(from) })
    }

    /// `serial from 2044`, `serial to 2043`, `serial 2044 .. 2100`
    fn serial_test(&mut self) -> Option<Condition> {
        let start = self.at;
        self.keyword("serial")?;
        self.gap()?;
        let (from, to) = match self.word() {
            "from" => {
                self.keyword("from")?;
                self.gap()?;
                let from = self.number()?;
                let to = self.attempt(|reader| {
                    reader.gap()?;
                    reader.keyword("to")?;
                    reader.gap()?;
                    reader.number()
                });
                (Some(from), to)
            }
            "to" => {
                self.keyword("to")?;
                self.gap()?;
                (None, Some(self.number()?))
            }
            _ => {
                let from = self.number()?;
                self.sp();
                self.signs("..")?;
                self.sp();
                (Some(from), Some(self.number()?))
            }
        };
        Some(Condition::Serial { from, to, span: self.span(start) })
    }

    /// `gap over 0.2 mm`
    fn within_test(&mut self) -> Option<Condition> {
        let from = self.at;
        let value = Box::new(self.expression()?);
        self.gap()?;
        let limit = Box::new(self.within_limit()?);
        Some(Condition::Within { value, limit, span: self.span(from) })
    }

    /// In a vocabulary: a mark, e.g. `single use`.
    fn mark_test(&mut self) -> Option<Condition> {
        let from = self.at;
        let mut words = vec![self.name()?];
        self.all(&mut words, |reader| {
            reader.gap()?;
            reader.name()
        });
        Some(Condition::Mark { words, span: self.span(from) })
    }
}

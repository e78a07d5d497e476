//! Which unit and kind a spelling means, once it is known what is wanted.

use super::{KindId, Unit, UnitId, Units};
use crate::{Quantity, parse_exact};
use num_traits::Zero;
use thiserror::Error;

/// A number has at most so many digits: more is no figure of any workshop.
const MOST_DIGITS: usize = 30;

/// Why a unit cannot stand where it was written.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum UnitProblem {
    /// No unit has this spelling.
    #[error("no unit is spelled like this")]
    Unknown {
        /// The unit whose spelling is nearest.
        near: Option<String>,
    },
    /// The unit measures other kinds than the one wanted.
    #[error("the unit measures something else than what is wanted")]
    WrongKind {
        /// What it measures.
        found: Vec<KindId>,
    },
    /// A pressure must say one of these words.
    #[error("one of these words must stand with it: {}", words.join(", "))]
    NeedsQualifier {
        /// The words, the one that fits best first.
        words: Vec<String>,
    },
    /// The unit's kind takes no such word.
    #[error("no word like gauge or absolute stands with this unit")]
    NoQualifier,
}

/// Why a number with its unit cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum ReadProblem {
    /// Not digits with at most one point between them.
    #[error("this is no number")]
    NotANumber,
    /// More digits than any workshop needs.
    #[error("a number has at most {most} digits")]
    TooLong {
        /// How many it may have.
        most: usize,
    },
    /// Its unit cannot stand there.
    #[error(transparent)]
    Unit(#[from] UnitProblem),
}

/// A unit, and the kind that a value in it is read as.
type Meaning = (UnitId, KindId);

impl Units {
    /// A number with its unit: `"22"`, `"N·m"`; `"2.5"`, `"bar"`, `"gauge"`. `wanted`: the kind that
    /// belongs there; none: whatever the unit says.
    ///
    /// # Errors
    /// The number is none, or its unit cannot be meant: see [`Units::meant`].
    pub fn read(
        &self,
        number: &str,
        spelling: Option<&str>,
        qualifier: Option<&str>,
        wanted: Option<KindId>,
    ) -> Result<Quantity, ReadProblem> {
        if number.bytes().filter(u8::is_ascii_digit).count() > MOST_DIGITS {
            return Err(ReadProblem::TooLong { most: MOST_DIGITS });
        }
        let value = parse_exact(number).ok_or(ReadProblem::NotANumber)?;
        let (unit, kind) = self.meant(spelling.unwrap_or(""), qualifier, wanted)?;
        let decimals = number.split_once('.').map_or(0, |(_, digits)| digits.len());
        Ok(Quantity {
            value: self.unit(unit).value_of(&value),
            kind,
            unit,
            decimals: u32::try_from(decimals).unwrap_or(u32::MAX),
            written: self.written(number, spelling, qualifier, unit),
        })
    }

    /// The unit and the kind that a spelling means, with the word `gauge` or `absolute` where it is
    /// written.
    ///
    /// - One spelling may serve several kinds: °C is a temperature and a temperature difference.
    ///   The kind wanted decides; where none is wanted the point on the scale is meant, not the
    ///   difference.
    /// - A kind that is told apart by a word takes the units of its difference: `bar` is declared
    ///   once, and `bar gauge` is a gauge pressure in it. Without the word it is only a difference,
    ///   and only where a difference is wanted.
    /// - `difference` says so where both might be meant: `15 K difference`, `15 °C difference`. What is a point in one
    ///   unit is told in the unit of its differences that is as large: a difference in °C in K.
    /// - A percentage may stand for a bare number. No spelling at all is a bare number.
    ///
    /// # Errors
    /// Nobody knows the unit, it measures something else, or a word is missing or too many.
    pub fn meant(
        &self,
        spelling: &str,
        qualifier: Option<&str>,
        wanted: Option<KindId>,
    ) -> Result<(UnitId, KindId), UnitProblem> {
        let meanings = self.meanings(spelling);
        if meanings.is_empty() {
            return Err(UnitProblem::Unknown { near: self.nearest(spelling, wanted) });
        }
        match (qualifier, wanted) {
            (Some(word), _) => self.with_a_word(&meanings, word, wanted),
            (None, Some(wanted)) => self.wanted(&meanings, wanted),
            (None, None) => self.unasked(&meanings),
        }
    }

    /// Everything that a spelling may mean: its units as they are declared, and as the kinds that
    /// take the units of their difference.
    fn meanings(&self, spelling: &str) -> Vec<Meaning> {
        let spelled = self.spelled(spelling);
        let mut meanings: Vec<Meaning> =
            spelled.iter().map(|unit| (*unit, self.unit(*unit).kind)).collect();
        for unit in spelled {
            for kind in self.kinds_of(*unit) {
                if meanings.iter().all(|(_, known)| *known != kind) {
                    meanings.push((*unit, kind));
                }
            }
        }
        meanings
    }

    fn with_a_word(
        &self,
        meanings: &[Meaning],
        word: &str,
        wanted: Option<KindId>,
    ) -> Result<Meaning, UnitProblem> {
        if word == Self::DIFFERENCE {
            return self.as_difference(meanings, wanted);
        }
        let words = self.words(meanings, None);
        if words.is_empty() {
            return Err(UnitProblem::NoQualifier);
        }
        let says = |(_, kind): &&Meaning| self.kind(*kind).qualifier.as_deref() == Some(word);
        let Some(said) = meanings.iter().find(says).copied() else {
            return Err(UnitProblem::NeedsQualifier { words });
        };
        match wanted {
            Some(kind) if kind != said.1 => Err(UnitProblem::WrongKind { found: vec![said.1] }),
            _ => Ok(said),
        }
    }

    fn as_difference(
        &self,
        meanings: &[Meaning],
        wanted: Option<KindId>,
    ) -> Result<Meaning, UnitProblem> {
        let of_points = |(_, kind): &&Meaning| {
            let point = |other: KindId| other != *kind && self.difference_of(other) == *kind;
            meanings.iter().any(|(_, other)| point(*other))
        };
        let Some((unit, kind)) = meanings.iter().find(of_points).copied() else {
            return Err(UnitProblem::NoQualifier);
        };
        if wanted.is_some_and(|wanted| wanted != kind) {
            return Err(UnitProblem::WrongKind { found: vec![kind] });
        }
        Ok((self.of_difference(unit), kind))
    }

    /// The unit in which a difference is told: where its own is spelled as one of points on a scale with a nought of its
    /// own, the first that is as large, so that nobody takes the difference for a point.
    pub fn of_difference(&self, unit: UnitId) -> UnitId {
        let own = self.unit(unit);
        let on_scale = |other: &Unit| {
            !other.zero.is_zero()
                && other.kind != own.kind
                && self.difference_of(other.kind) == own.kind
        };
        if !self.spelled(&own.name).iter().any(|other| on_scale(self.unit(*other))) {
            return unit;
        }
        let as_large = self.of_kind(own.kind).find(|other| self.unit(*other).factor == own.factor);
        as_large.unwrap_or(unit)
    }

    fn wanted(&self, meanings: &[Meaning], wanted: KindId) -> Result<Meaning, UnitProblem> {
        let is_ratio = |kind: KindId| self.kind(kind).name == Self::RATIO;
        let fits = |(_, kind): &&Meaning| *kind == wanted;
        let Some(meaning) = meanings.iter().find(fits).copied() else {
            return match meanings.iter().find(|(_, kind)| is_ratio(*kind)) {
                Some((unit, _)) if wanted == Self::NUMBER => Ok((*unit, Self::NUMBER)),
                _ => Err(UnitProblem::WrongKind { found: self.plainly(meanings) }),
            };
        };
        if self.kind(wanted).qualifier.is_some() {
            return Err(UnitProblem::NeedsQualifier { words: self.words(meanings, Some(wanted)) });
        }
        Ok(meaning)
    }

    fn unasked(&self, meanings: &[Meaning]) -> Result<Meaning, UnitProblem> {
        let is_difference = |kind: KindId| {
            meanings.iter().any(|(_, other)| *other != kind && self.difference_of(*other) == kind)
        };
        let free =
            |(_, kind): &&Meaning| self.kind(*kind).qualifier.is_none() && !is_difference(*kind);
        let meant = meanings.iter().find(free).copied();
        meant.ok_or_else(|| UnitProblem::NeedsQualifier { words: self.words(meanings, None) })
    }

    /// What a spelling measures, without the kinds that want a word, unless there is nothing else.
    fn plainly(&self, meanings: &[Meaning]) -> Vec<KindId> {
        let all = meanings.iter().map(|(_, kind)| *kind);
        let plain: Vec<KindId> =
            all.clone().filter(|kind| self.kind(*kind).qualifier.is_none()).collect();
        if plain.is_empty() { all.collect() } else { plain }
    }

    /// The words that may stand with a unit; that of the kind wanted first.
    fn words(&self, meanings: &[Meaning], wanted: Option<KindId>) -> Vec<String> {
        let mut kinds: Vec<KindId> = meanings.iter().map(|(_, kind)| *kind).collect();
        kinds.sort_by_key(|kind| (Some(*kind) != wanted, *kind));
        kinds.iter().filter_map(|kind| self.kind(*kind).qualifier.clone()).collect()
    }

    fn written(
        &self,
        number: &str,
        spelling: Option<&str>,
        qualifier: Option<&str>,
        unit: UnitId,
    ) -> String {
        let mut written = number.to_owned();
        if let Some(spelling) = spelling.filter(|spelling| !spelling.is_empty()) {
            written.push_str(if self.unit(unit).close { "" } else { " " });
            written.push_str(spelling);
        }
        if let Some(word) = qualifier {
            written.push(' ');
            written.push_str(word);
        }
        written
    }
}

//! Kinds and units, as the vocabulary declares them.

mod near;
mod read;
#[cfg(test)]
mod tests;

pub use read::{ReadProblem, UnitProblem};

use crate::{Dimension, Exact};
use num_traits::{One, Zero};
use std::collections::BTreeMap;

/// A kind of quantity, by its position in [`Units`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct KindId(pub u16);

/// A unit, by its position in [`Units`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct UnitId(pub u16);

/// A system of units that a reader prefers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum System {
    /// SI and the metric units used with it.
    Si,
    /// US customary.
    Us,
}

/// A kind: what can be compared with what.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kind {
    /// E.g. `torque`.
    pub name: String,
    /// The kind of a difference of two values, where that is another one: for `temperature`,
    /// `temperature-difference`. A value of such a kind is a point on a scale.
    pub difference: Option<KindId>,
    /// The word that must be said with it: `gauge` for `gauge-pressure`.
    pub qualifier: Option<String>,
    /// What it is made of; none: it is multiplied with nothing but numbers. Its base unit is the coherent one
    /// of the SI then.
    pub dimension: Option<Dimension>,
    /// A level on a scale of powers, as decibels are: two are not added, and their mean is none.
    pub logarithmic: bool,
    /// What no value of it is ever below, in base units.
    pub floor: Option<Exact>,
}

/// A unit of a kind: `value in base = value in unit × factor + zero`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unit {
    /// As written in a source: `N·m`, `US-gal`.
    pub name: String,
    /// What it measures.
    pub kind: KindId,
    /// How many base units one of it is.
    pub factor: Exact,
    /// Where its zero lies, in base units.
    pub zero: Exact,
    /// Keyboard spellings: `Nm`, `N.m`.
    pub spellings: Vec<String>,
    /// `us` for US customary, `si` for SI and what is used with it; none: used with both (min, °).
    pub system: Option<System>,
    /// The unit in which a reader of the other system wants it.
    pub counterpart: Option<UnitId>,
    /// No blank stands before it: `45°`.
    pub close: bool,
    /// Where its factor comes from.
    pub source: Option<String>,
}

impl Unit {
    /// A number of this unit as a value in base units.
    pub fn value_of(&self, number: &Exact) -> Exact {
        number * &self.factor + &self.zero
    }

    /// A value in base units as a number of this unit.
    pub fn number_of(&self, value: &Exact) -> Exact {
        (value - &self.zero) / &self.factor
    }

    /// As a reader sees it: `US gal`. A source writes a unit as one word, so its name may hold a
    /// hyphen where print has a blank.
    pub fn printed(&self) -> String {
        self.name.replace('-', " ")
    }

    fn of_bare_numbers(kind: KindId) -> Self {
        Self {
            name: String::new(),
            kind,
            factor: Exact::one(),
            zero: Exact::zero(),
            spellings: Vec::new(),
            system: None,
            counterpart: None,
            close: true,
            source: None,
        }
    }
}

/// All kinds and units of a library. The kind `number` (no unit) and the unit of it always exist.
///
/// A kind that only a word tells apart from its difference (`gauge-pressure : differences
/// pressure-difference, said gauge`) needs no units of its own: `2.5 bar gauge` takes the `bar` of
/// the difference. See [`Units::meant`].
#[derive(Clone, Debug)]
pub struct Units {
    /// The first is `number`, and stands apart so that one always exists.
    number: Kind,
    one: Unit,
    kinds: Vec<Kind>,
    all: Vec<Unit>,
    by_spelling: BTreeMap<String, Vec<UnitId>>,
}

impl Default for Units {
    fn default() -> Self {
        Self::new()
    }
}

impl Units {
    /// The kind of bare numbers.
    pub const NUMBER: KindId = KindId(0);
    /// The unit of bare numbers; its name is empty.
    pub const ONE: UnitId = UnitId(0);
    /// The name of the kind of percentages, where a vocabulary declares it: such a value may stand
    /// wherever a bare number may.
    pub const RATIO: &str = "ratio";

    /// The word that tells the difference of two points on a scale from such a point.
    pub const DIFFERENCE: &str = "difference";

    /// Only `number`.
    pub fn new() -> Self {
        let dimension = Some(Dimension::default());
        let number = Kind {
            name: "number".into(),
            difference: None,
            qualifier: None,
            dimension,
            logarithmic: false,
            floor: None,
        };
        let one = Unit::of_bare_numbers(Self::NUMBER);
        Self {
            kinds: vec![number.clone()],
            all: vec![one.clone()],
            by_spelling: BTreeMap::from([(String::new(), vec![Self::ONE])]),
            number,
            one,
        }
    }

    /// Adds a kind. A library has at most 65,535; more are not told apart (whoever reads a library
    /// stops long before).
    pub fn add_kind(&mut self, kind: Kind) -> KindId {
        let id = KindId(u16::try_from(self.kinds.len()).unwrap_or(u16::MAX));
        self.kinds.push(kind);
        id
    }

    /// Adds a unit under its name and spellings. One spelling may serve several kinds (°C).
    pub fn add_unit(&mut self, unit: Unit) -> UnitId {
        let id = UnitId(u16::try_from(self.all.len()).unwrap_or(u16::MAX));
        for spelling in std::iter::once(&unit.name).chain(&unit.spellings) {
            let units = self.by_spelling.entry(spelling.clone()).or_default();
            if units.last() != Some(&id) {
                units.push(id);
            }
        }
        self.all.push(unit);
        id
    }

    /// Tells a unit what a reader of the other system wants in its stead.
    pub fn set_counterpart(&mut self, unit: UnitId, counterpart: UnitId) {
        if let Some(unit) = self.all.get_mut(usize::from(unit.0)) {
            unit.counterpart = Some(counterpart);
        }
    }

    /// A kind by its name.
    pub fn kind_named(&self, name: &str) -> Option<KindId> {
        let position = self.kinds.iter().position(|kind| kind.name == name)?;
        Some(KindId(u16::try_from(position).ok()?))
    }

    /// All kinds.
    pub fn kinds(&self) -> &[Kind] {
        &self.kinds
    }

    /// All units.
    pub fn units(&self) -> &[Unit] {
        &self.all
    }

    /// A kind; an unknown id gives `number`.
    pub fn kind(&self, id: KindId) -> &Kind {
        self.kinds.get(usize::from(id.0)).unwrap_or(&self.number)
    }

    /// A unit; an unknown id gives the unit of bare numbers.
    pub fn unit(&self, id: UnitId) -> &Unit {
        self.all.get(usize::from(id.0)).unwrap_or(&self.one)
    }

    /// Every unit with this spelling, in the order declared.
    pub fn spelled(&self, spelling: &str) -> &[UnitId] {
        self.by_spelling.get(spelling).map_or(&[], Vec::as_slice)
    }

    /// Every spelling of every unit, in alphabetical order, but the empty one of bare numbers.
    pub fn spellings(&self) -> impl Iterator<Item = &str> {
        self.by_spelling.keys().map(String::as_str).filter(|spelling| !spelling.is_empty())
    }

    /// The units of a kind, in the order declared.
    pub fn of_kind(&self, kind: KindId) -> impl Iterator<Item = UnitId> {
        let ids = (0..=u16::MAX).map(UnitId);
        ids.zip(&self.all).filter(move |(_, unit)| unit.kind == kind).map(|(id, _)| id)
    }

    /// Every kind that a unit may be read as: its own, then those that take the units of their
    /// difference (`bar` is a pressure difference, and `bar gauge` a gauge pressure).
    pub fn kinds_of(&self, unit: UnitId) -> impl Iterator<Item = KindId> {
        let own = self.unit(unit).kind;
        let ids = (0..=u16::MAX).map(KindId);
        let lent = ids
            .zip(&self.kinds)
            .filter(move |(_, kind)| kind.qualifier.is_some() && kind.difference == Some(own));
        std::iter::once(own).chain(lent.map(|(id, _)| id))
    }

    /// The kind of a difference of two values of `kind`.
    pub fn difference_of(&self, kind: KindId) -> KindId {
        self.kind(kind).difference.unwrap_or(kind)
    }

    /// The unit that a reader of a system wants in the stead of another; none: as written.
    pub fn in_system(&self, unit: UnitId, system: Option<System>) -> UnitId {
        let written = self.unit(unit);
        match (system, written.system, written.counterpart) {
            (Some(wanted), Some(own), Some(other)) if wanted != own => other,
            _ => unit,
        }
    }
}

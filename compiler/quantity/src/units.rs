//! Kinds and units, as the vocabulary declares them.

use crate::Exact;
use std::collections::BTreeMap;

/// A kind of quantity, by its position in [`Units`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct KindId(pub u16);

/// A unit, by its position in [`Units`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct UnitId(pub u16);

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
}

/// A unit of a kind: `value in base = value in unit × factor + zero`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unit {
    /// As printed: `N·m`.
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
    pub system: Option<crate::System>,
    /// The unit in which a reader of the other system wants it.
    pub counterpart: Option<UnitId>,
    /// No blank stands before it: `45°`.
    pub close: bool,
    /// Where its factor comes from.
    pub source: Option<String>,
}

/// Why a unit cannot stand where it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum UnitProblem {
    /// No unit has this spelling; the nearest known one.
    Unknown { near: Option<String> },
    /// The unit measures other kinds than the one wanted.
    WrongKind { found: Vec<KindId> },
    /// A pressure must say one of these words.
    NeedsQualifier { words: Vec<String> },
    /// The unit's kind takes no such word.
    NoQualifier,
}

/// All kinds and units of a library. The kind `number` (no unit) and the unit of it always exist.
#[derive(Clone, Debug)]
pub struct Units {
    kinds: Vec<Kind>,
    units: Vec<Unit>,
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

    /// Only `number`.
    pub fn new() -> Self {
        let mut units = Self { kinds: Vec::new(), units: Vec::new(), by_spelling: BTreeMap::new() };
        let number = units.add_kind(Kind { name: "number".into(), difference: None, qualifier: None });
        units.add_unit(Unit {
            name: String::new(),
            kind: number,
            factor: Exact::from_integer(1.into()),
            zero: Exact::from_integer(0.into()),
            spellings: Vec::new(),
            system: None,
            counterpart: None,
            close: true,
            source: None,
        });
        units
    }

    /// Adds a kind.
    pub fn add_kind(&mut self, kind: Kind) -> KindId {
        self.kinds.push(kind);
        KindId(u16::try_from(self.kinds.len() - 1).unwrap_or(u16::MAX))
    }

    /// Adds a unit under its name and spellings. One spelling may serve several kinds (°C).
    pub fn add_unit(&mut self, unit: Unit) -> UnitId {
        let id = UnitId(u16::try_from(self.units.len()).unwrap_or(u16::MAX));
        for spelling in std::iter::once(&unit.name).chain(&unit.spellings) {
            self.by_spelling.entry(spelling.clone()).or_default().push(id);
        }
        self.units.push(unit);
        id
    }

    /// Tells two units that each is what a reader of the other system wants.
    pub fn set_counterpart(&mut self, unit: UnitId, counterpart: UnitId) {
        if let Some(unit) = self.units.get_mut(usize::from(unit.0)) {
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
        &self.units
    }

    /// A kind; an unknown id gives `number`.
    pub fn kind(&self, id: KindId) -> &Kind {
        self.kinds.get(usize::from(id.0)).unwrap_or(&self.kinds[0])
    }

    /// A unit; an unknown id gives the unit of bare numbers.
    pub fn unit(&self, id: UnitId) -> &Unit {
        self.units.get(usize::from(id.0)).unwrap_or(&self.units[0])
    }

    /// Every unit with this spelling, in the order declared.
    pub fn spelled(&self, spelling: &str) -> &[UnitId] {
        self.by_spelling.get(spelling).map_or(&[], Vec::as_slice)
    }

    /// The kind of a difference of two values of `kind`.
    pub fn difference_of(&self, kind: KindId) -> KindId {
        self.kind(kind).difference.unwrap_or(kind)
    }
}

//! The units in which a sum is told: those that the thread was declared in, torque as it was written.

use super::Figure;
use locknut_graph::Thread;
use locknut_quantity::{Exact, Rounding, UnitId, Units};

/// A thread in millimetres is told in `kN` and `MPa`, one in inches in `lbf` and `psi`.
const IN_UNITS_OF: &[(&str, &str, &str, &str)] =
    &[("inch", "lbf", "psi", "lbf·ft"), ("mm", "kN", "MPa", "N·m")];

/// Nobody knows friction to more digits after the point.
const MOST_OF_FRICTION: u32 = 4;

/// Units for one sum.
#[derive(Clone, Copy)]
pub(crate) struct Dress<'u> {
    units: &'u Units,
    length: UnitId,
    force: UnitId,
    stress: UnitId,
    torque: UnitId,
}

impl<'u> Dress<'u> {
    /// None where a vocabulary lacks these units.
    pub(crate) fn of(units: &'u Units, thread: &Thread, torque: UnitId) -> Option<Self> {
        let length = &units.unit(thread.unit).name;
        let (_, force, stress, _) =
            IN_UNITS_OF.iter().find(|(of, ..)| of == length).or_else(|| IN_UNITS_OF.last())?;
        let named = |name: &str| units.spelled(name).first().copied();
        let (force, stress) = (named(force)?, named(stress)?);
        Some(Self { units, length: thread.unit, force, stress, torque })
    }

    /// Where no torque is told: by the thread, in the first of the units where there is none.
    pub(crate) fn untorqued(units: &'u Units, thread: Option<&Thread>) -> Option<Self> {
        let Some(thread) = thread else {
            let (length, force, stress, torque) = IN_UNITS_OF.last()?;
            let named = |name: &str| units.spelled(name).first().copied();
            let (length, force, stress) = (named(length)?, named(force)?, named(stress)?);
            return Some(Self { units, length, force, stress, torque: named(torque)? });
        };
        let length = &units.unit(thread.unit).name;
        let (.., torque) =
            IN_UNITS_OF.iter().find(|(of, ..)| of == length).or_else(|| IN_UNITS_OF.last())?;
        Self::of(units, thread, units.spelled(torque).first().copied()?)
    }

    /// The same with torques told in this unit.
    pub(crate) fn with_torque(self, torque: UnitId) -> Self {
        Self { torque, ..self }
    }

    pub(crate) fn length(&self, value: &Exact) -> Figure {
        Figure::one(self.units, value, self.length, 4, Rounding::Nearest)
    }

    /// A length as its author declared it.
    pub(crate) fn declared_length(&self, value: &Exact) -> Figure {
        Figure::declared(self.units, value, self.length, 4, Rounding::Nearest)
    }

    /// A force as its author declared it.
    pub(crate) fn declared_force(&self, value: &Exact, rounding: Rounding) -> Figure {
        Figure::declared(self.units, value, self.force, 3, rounding)
    }

    /// A torque as its author declared it.
    pub(crate) fn declared_torque(&self, value: &Exact, rounding: Rounding) -> Figure {
        Figure::declared(self.units, value, self.torque, 4, rounding)
    }

    pub(crate) fn torque(&self, value: &Exact, rounding: Rounding) -> Figure {
        Figure::one(self.units, value, self.torque, 4, rounding)
    }

    pub(crate) fn force(&self, value: &Exact, rounding: Rounding) -> Figure {
        Figure::one(self.units, value, self.force, 3, rounding)
    }

    pub(crate) fn stress(&self, value: &Exact, rounding: Rounding) -> Figure {
        Figure::one(self.units, value, self.stress, 3, rounding)
    }

    /// An area, in the square of the unit of length.
    pub(crate) fn area(&self, value: &Exact) -> Figure {
        let unit = self.units.unit(self.length);
        let square = value / (&unit.factor * &unit.factor);
        let mut figure = Figure::one(self.units, &square, Units::ONE, 4, Rounding::Nearest);
        figure.unit = format!("{}²", unit.name);
        figure
    }

    pub(crate) fn number(&self, value: &Exact, rounding: Rounding) -> Figure {
        Figure::one(self.units, value, Units::ONE, 3, rounding)
    }

    /// A bare number with no more digits than it has, as friction is written.
    pub(crate) fn plain(&self, value: &Exact) -> Figure {
        let exact = |decimals: &u32| {
            !Figure::between(self.units, value, value, Units::ONE, *decimals).rounded
        };
        let decimals = (0..MOST_OF_FRICTION).find(exact).unwrap_or(MOST_OF_FRICTION);
        Figure::between(self.units, value, value, Units::ONE, decimals)
    }

    /// `67 %`
    pub(crate) fn percent(value: &Exact, rounding: Rounding) -> Figure {
        let hundredths = value * Exact::from_integer(100.into());
        let numbers = Figure::whole(&hundredths, rounding);
        Figure { numbers, unit: "%".to_owned(), rounded: !hundredths.is_integer() }
    }
}

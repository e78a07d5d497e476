//! Dimensions: what a kind is made of, as powers of the base quantities of ISO 80000-1.

use std::fmt;

/// The base quantities by their symbols: length, mass, time, electric current, thermodynamic temperature
/// (ISO 80000-1:2009, 3.7; from memory).
const SYMBOLS: [char; 5] = ['L', 'M', 'T', 'I', 'Θ'];

/// No figure of a workshop has a greater power.
const GREATEST: i8 = 60;

/// Powers of the base quantities; all zero: a plain number.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Dimension([i8; 5]);

impl Dimension {
    /// Reads `L M T-2`: symbols with whole powers, parted by blanks. None where it is not written so.
    pub fn parse(written: &str) -> Option<Self> {
        let mut powers = [0_i8; 5];
        for factor in written.split_whitespace() {
            let symbol = factor.chars().next()?;
            let at = SYMBOLS.iter().position(|known| *known == symbol)?;
            let power = factor.get(symbol.len_utf8()..)?;
            let power: i8 = if power.is_empty() { 1 } else { power.parse().ok()? };
            let place = powers.get_mut(at)?;
            if *place != 0 || power == 0 || power.abs() > GREATEST {
                return None;
            }
            *place = power;
        }
        Some(Self(powers))
    }

    /// Of a product; none where a power grows beyond all use.
    pub fn times(self, other: Self) -> Option<Self> {
        self.with(other, i8::checked_add)
    }

    /// Of a quotient; none where a power grows beyond all use.
    pub fn per(self, other: Self) -> Option<Self> {
        self.with(other, i8::checked_sub)
    }

    fn with(self, other: Self, done: impl Fn(i8, i8) -> Option<i8>) -> Option<Self> {
        let mut powers = [0_i8; 5];
        for (place, (one, other)) in powers.iter_mut().zip(self.0.into_iter().zip(other.0)) {
            *place = done(one, other).filter(|power| power.abs() <= GREATEST)?;
        }
        Some(Self(powers))
    }

    /// Whether it is that of a plain number.
    pub fn is_none(self) -> bool {
        self == Self::default()
    }
}

impl fmt::Display for Dimension {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        let factors = SYMBOLS.iter().zip(self.0).filter(|(_, power)| *power != 0);
        let factors: Vec<String> = factors
            .map(|(symbol, power)| match power {
                1 => symbol.to_string(),
                power => format!("{symbol}{power}"),
            })
            .collect();
        to.write_str(&factors.join(" "))
    }
}

#[cfg(test)]
mod tests {
    use super::Dimension;

    fn dimension(written: &str) -> Dimension {
        Dimension::parse(written).expect("a dimension")
    }

    #[test]
    fn force_times_length_has_the_dimension_of_energy() {
        // Newton: 1 N = 1 kg m/s²; joule: 1 J = 1 N m (The International System of Units, BIPM; from memory).
        let force = dimension("M").times(dimension("L T-2")).expect("small");
        assert_eq!(force, dimension("L M T-2"));
        assert_eq!(force.times(dimension("L")), Some(dimension("L2 M T-2")));
        assert_eq!(force.per(dimension("L2")), Some(dimension("L-1 M T-2")));
        assert!(force.per(force).is_some_and(Dimension::is_none));
    }

    #[test]
    fn what_is_written_is_read_back() {
        for written in ["L", "L2 M T-3 I-2", "Θ", "L-1 M T-1", ""] {
            assert_eq!(dimension(written).to_string(), written);
        }
        for wrong in ["l", "L L", "L0", "L-", "N m", "L1000", "T--2"] {
            assert_eq!(Dimension::parse(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn no_power_grows_without_end() {
        let mut all = dimension("L60");
        assert_eq!(all.times(dimension("L")), None);
        all = all.per(dimension("L60")).expect("none left");
        assert!(all.is_none());
    }
}

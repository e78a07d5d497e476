//! A number with its unit.

use super::Reader;
use super::unit::{first_unit, unit_meant};
use crate::findings::quantities::{
    BarePressure, ImpossibleValue, NoQualifier, NoUnit, UnknownUnit, WrongKind, a_kind,
};
use locknut_finding::{Findings, Span};
use locknut_quantity::{Exact, KindId, Quantity, UnitId, UnitProblem, Units, parse_exact};
use locknut_syntax::tree;

/// A number has at most so many digits: more is no figure of any workshop, and sums stay cheap.
const MOST_DIGITS: usize = 30;

impl Reader<'_> {
    /// A number with its unit. `wanted`: the kind that belongs there; none: whatever the unit says.
    pub(crate) fn quantity(
        &self,
        written: &tree::Quantity,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) -> Option<Quantity> {
        let number = self.number(&written.number, found)?;
        let unit = self.unit(written, wanted, found)?;
        let units = self.units();
        let (factor, zero) = (&units.unit(unit).factor, &units.unit(unit).zero);
        Some(Quantity {
            value: number * factor + zero,
            kind: units.unit(unit).kind,
            unit,
            decimals: decimals(&written.number.text),
            written: self.written_or(written.span, || spelled_out(written)),
        })
    }

    /// A bare number.
    pub(crate) fn number(&self, number: &tree::Number, found: &mut Findings) -> Option<Exact> {
        let value = Some(&number.text)
            .filter(|text| text.len() <= MOST_DIGITS)
            .and_then(|text| parse_exact(text));
        if value.is_none() {
            found.add(&ImpossibleValue {
                written: self.written(number.span).chars().take(12).chain("…".chars()).collect(),
                span: number.span,
                why: format!("a number has at most {MOST_DIGITS} digits"),
                instead: None,
            });
        }
        value
    }

    fn unit(
        &self,
        written: &tree::Quantity,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) -> Option<UnitId> {
        let Some(unit) = &written.unit else {
            return self.no_unit(&written.number.text, written.span, wanted, found);
        };
        let word = written.qualifier.as_ref();
        match unit_meant(self.units(), &unit.text, word.map(|word| word.text.as_str()), wanted) {
            Ok(unit) => Some(unit),
            Err(problem) => {
                self.unit_problem(written, unit, problem, wanted, found);
                None
            }
        }
    }

    fn no_unit(
        &self,
        number: &str,
        span: Span,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) -> Option<UnitId> {
        let Some(wanted) = wanted.filter(|kind| *kind != Units::NUMBER) else {
            return Some(Units::ONE);
        };
        let units = self.units();
        found.add(&NoUnit {
            number: number.to_owned(),
            span,
            wanted: a_kind(units, wanted),
            unit: first_unit(units, wanted).map(|unit| units.unit(unit).name.clone()),
        });
        None
    }

    fn unit_problem(
        &self,
        written: &tree::Quantity,
        unit: &tree::Name,
        problem: UnitProblem,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) {
        let said = self.written_or(written.span, || spelled_out(written));
        match problem {
            UnitProblem::Unknown { near } => {
                found.add(&UnknownUnit { unit: unit.text.clone(), span: unit.span, near });
            }
            UnitProblem::WrongKind { found: kinds } => {
                let kinds: Vec<String> =
                    kinds.iter().map(|kind| a_kind(self.units(), *kind)).collect();
                self.wrong_kind(said, written.span, &kinds, wanted, found);
            }
            UnitProblem::NeedsQualifier { words } => {
                found.add(&BarePressure { written: said, span: written.span, words });
            }
            UnitProblem::NoQualifier => no_qualifier(written, unit, found),
        }
    }

    /// Says that one kind stands where another is wanted.
    pub(crate) fn wrong_kind(
        &self,
        written: String,
        span: Span,
        kinds: &[String],
        wanted: Option<KindId>,
        found: &mut Findings,
    ) {
        let wanted = wanted.unwrap_or(Units::NUMBER);
        found.add(&WrongKind {
            written,
            span,
            found: crate::findings::names::listed(kinds, "or"),
            wanted: a_kind(self.units(), wanted),
            fitting: units_of(self.units(), wanted),
        });
    }

    pub(crate) fn units(&self) -> &Units {
        &self.world.units
    }
}

/// How many digits stand after the point.
pub(crate) fn decimals(number: &str) -> u32 {
    let digits = number.split_once('.').map_or(0, |(_, digits)| digits.len());
    u32::try_from(digits).unwrap_or(0)
}

fn spelled_out(written: &tree::Quantity) -> String {
    let words = [written.unit.as_ref(), written.qualifier.as_ref()];
    let words = words.into_iter().flatten().map(|word| word.text.as_str());
    std::iter::once(written.number.text.as_str()).chain(words).collect::<Vec<_>>().join(" ")
}

/// A few units of a kind, for examples.
fn units_of(units: &Units, kind: KindId) -> Vec<String> {
    if kind == Units::NUMBER {
        return Vec::new();
    }
    units
        .units()
        .iter()
        .filter(|unit| unit.kind == kind)
        .take(3)
        .map(|unit| unit.name.clone())
        .collect()
}

fn no_qualifier(written: &tree::Quantity, unit: &tree::Name, found: &mut Findings) {
    let Some(word) = &written.qualifier else { return };
    found.add(&NoQualifier {
        word: word.text.clone(),
        span: word.span,
        without: format!("{} {}", written.number.text, unit.text),
        whole: written.span,
    });
}

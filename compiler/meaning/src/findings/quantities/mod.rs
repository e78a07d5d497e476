//! `LN2xx`: wrong kind, wrong unit, bare pressure, impossible values, raw numbers in text.

mod ln201_unknown_unit;
mod ln202_wrong_kind;
mod ln203_bare_pressure;
mod ln204_impossible_value;
mod ln205_kinds_apart;
mod ln206_kinds_multiplied;
mod ln207_raw_number;
mod ln208_no_unit;
mod ln209_unit_without_ground;
mod ln210_one_figure;
mod ln211_no_qualifier;
mod ln212_formula_unfit;
mod ln213_table_order;
mod ln214_table_unfit;
mod ln215_table_left;
mod ln216_between_rows;

pub(crate) use ln201_unknown_unit::UnknownUnit;
pub(crate) use ln202_wrong_kind::{Meant, WrongKind};
pub(crate) use ln203_bare_pressure::{BarePressure, InProduct};
pub(crate) use ln204_impossible_value::ImpossibleValue;
pub(crate) use ln205_kinds_apart::KindsApart;
pub(crate) use ln206_kinds_multiplied::KindsMultiplied;
pub(crate) use ln207_raw_number::RawNumber;
pub(crate) use ln208_no_unit::NoUnit;
pub(crate) use ln209_unit_without_ground::UnitWithoutGround;
pub(crate) use ln210_one_figure::OneFigure;
pub(crate) use ln211_no_qualifier::NoQualifier;
pub(crate) use ln212_formula_unfit::{FormulaFault, FormulaUnfit};
pub(crate) use ln213_table_order::TableOrder;
pub(crate) use ln214_table_unfit::{TableFault, TableUnfit};
pub(crate) use ln215_table_left::TableLeft;
pub(crate) use ln216_between_rows::BetweenRows;

use locknut_finding::{Finding, Page};
use locknut_quantity::{KindId, Units};

/// The pages of this family.
pub(crate) const PAGES: &[Page] = &[
    UnknownUnit::PAGE,
    WrongKind::PAGE,
    BarePressure::PAGE,
    ImpossibleValue::PAGE,
    KindsApart::PAGE,
    KindsMultiplied::PAGE,
    RawNumber::PAGE,
    NoUnit::PAGE,
    UnitWithoutGround::PAGE,
    OneFigure::PAGE,
    NoQualifier::PAGE,
    FormulaUnfit::PAGE,
    TableOrder::PAGE,
    TableUnfit::PAGE,
    TableLeft::PAGE,
    BetweenRows::PAGE,
];

/// A kind as it is said: `temperature difference`, `plain number`.
pub(crate) fn kind_said(units: &Units, kind: KindId) -> String {
    if kind == Units::NUMBER {
        return "plain number".to_owned();
    }
    units.kind(kind).name.replace('-', " ")
}

/// `a length`, `an angle`.
pub(crate) fn a_kind(units: &Units, kind: KindId) -> String {
    super::names::with_article(&kind_said(units, kind))
}

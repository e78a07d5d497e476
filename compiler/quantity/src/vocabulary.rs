//! A small vocabulary for the tests of this crate.

use crate::{Exact, Kind, KindId, System, Unit, Units, parse_exact};

pub(crate) fn number(text: &str) -> Exact {
    parse_exact(text).unwrap()
}

pub(crate) fn kind(units: &Units, name: &str) -> KindId {
    units.kind_named(name).unwrap()
}

/// Kinds: name, kind of its differences, word.
const KINDS: &[(&str, &str, &str)] = &[
    ("length", "", ""),
    ("volume", "", ""),
    ("mass", "", ""),
    ("time", "", ""),
    ("angle", "", ""),
    ("force", "", ""),
    ("torque", "", ""),
    ("energy", "", ""),
    ("temperature-difference", "", ""),
    ("temperature", "temperature-difference", ""),
    ("pressure-difference", "", ""),
    ("gauge-pressure", "pressure-difference", "gauge"),
    ("absolute-pressure", "pressure-difference", "absolute"),
    (Units::RATIO, "", ""),
];

/// Units: name, kind, factor, zero, system, counterpart, further spelling.
type Row = (
    &'static str,
    &'static str,
    &'static str,
    &'static str,
    &'static str,
    &'static str,
    &'static str,
);

const UNITS: &[Row] = &[
    ("m", "length", "1", "0", "si", "ft", ""),
    ("mm", "length", "0.001", "0", "si", "inch", ""),
    ("µm", "length", "0.000001", "0", "si", "", "um"),
    ("km", "length", "1000", "0", "si", "mile", ""),
    ("inch", "length", "0.0254", "0", "us", "mm", "″"),
    ("ft", "length", "0.3048", "0", "us", "m", ""),
    ("mile", "length", "1609.344", "0", "us", "km", ""),
    ("L", "volume", "0.001", "0", "si", "US-gal", "l"),
    ("US-gal", "volume", "0.003785411784", "0", "us", "L", "gal"),
    ("kg", "mass", "1", "0", "si", "lb", ""),
    ("lb", "mass", "0.45359237", "0", "us", "kg", ""),
    ("min", "time", "60", "0", "", "", ""),
    ("°", "angle", "1/360", "0", "", "", "deg"),
    ("N", "force", "1", "0", "si", "lbf", ""),
    ("kN", "force", "1000", "0", "si", "lbf", ""),
    ("lbf", "force", "4.4482216152605", "0", "us", "N", ""),
    ("N·m", "torque", "1", "0", "si", "lbf·ft", "Nm"),
    ("lbf·ft", "torque", "1.3558179483314004", "0", "us", "N·m", "lbf-ft"),
    ("J", "energy", "1", "0", "si", "", ""),
    ("°C", "temperature-difference", "1", "0", "si", "°F", "degC"),
    ("°F", "temperature-difference", "5/9", "0", "us", "°C", "degF"),
    ("°C", "temperature", "1", "273.15", "si", "°F", "degC"),
    ("°F", "temperature", "5/9", "45967/180", "us", "°C", "degF"),
    ("bar", "pressure-difference", "100000", "0", "si", "psi", ""),
    ("psi", "pressure-difference", "8896443230521/1290320000", "0", "us", "bar", ""),
    ("%", Units::RATIO, "0.01", "0", "", "", ""),
];

pub(crate) fn vocabulary() -> Units {
    let mut units = Units::new();
    for (name, difference, word) in KINDS {
        units.add_kind(Kind {
            name: (*name).to_owned(),
            difference: units.kind_named(difference),
            qualifier: Some((*word).to_owned()).filter(|word| !word.is_empty()),
            dimension: None,
            logarithmic: false,
            floor: None,
        });
    }
    let added: Vec<_> =
        UNITS.iter().map(|row| (units.add_unit(unit(&units, row)), row.5)).collect();
    for (id, counterpart) in added {
        let kind = units.unit(id).kind;
        let spelled = units.spelled(counterpart).iter().copied();
        if let Some(other) = spelled.into_iter().find(|other| units.unit(*other).kind == kind) {
            units.set_counterpart(id, other);
        }
    }
    units
}

fn unit(units: &Units, (name, of, factor, zero, system, _, spelling): &Row) -> Unit {
    Unit {
        name: (*name).to_owned(),
        kind: kind(units, of),
        factor: number(factor),
        zero: number(zero),
        spellings: Some((*spelling).to_owned())
            .filter(|word| !word.is_empty())
            .into_iter()
            .collect(),
        system: match *system {
            "si" => Some(System::Si),
            "us" => Some(System::Us),
            _ => None,
        },
        counterpart: None,
        close: *name == "°",
        source: None,
    }
}

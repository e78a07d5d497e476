//! `error 0.02 mm plus 4 % of reading`: the greatest error that the maker or the calibration allows, and
//! `standard uncertainty 0.01 mm`: what a calibration has found, in the same forms.

use super::zero;
use crate::findings::names::SaysTooLittle;
use crate::findings::quantities::ImpossibleValue;
use crate::findings::readings::DoubtedUncertainty;
use crate::world::Instrument;
use crate::world::parts::Parts;
use crate::world::read::Reader;
use locknut_finding::{Findings, Span};
use locknut_graph::InstrumentError;
use locknut_quantity::{Exact, KindId, UnitId, to_decimal};
use locknut_syntax::tree::{Expression, Limit, LimitForm, Quantity};
use num_traits::{Signed, Zero};

/// What was read after `error`.
pub(super) struct Said {
    /// None: a figure in it has a finding of its own.
    pub(super) error: Option<InstrumentError>,
}

/// Reads what follows `error`; none where it has none of its forms.
pub(super) fn error(
    parts: &mut Parts<'_>,
    kind: KindId,
    unit: UnitId,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<Said> {
    let written = reader.written(parts.span);
    let written = written.trim_start_matches("error").trim_start_matches("standard uncertainty");
    let written = written.trim().to_owned();
    let mut error = InstrumentError {
        fixed: zero(),
        of_reading: zero(),
        of_full_scale: zero(),
        of_step: zero(),
        zero: reader.units().unit(unit).zero.clone(),
        full_scale: zero(),
        written,
    };
    let mut whole = true;
    loop {
        let limit = parts.limit()?;
        if let Some(percent) = percent(limit) {
            let of = if parts.says(&["of", "full", "scale"]) {
                &mut error.of_full_scale
            } else if parts.says(&["of", "reading"]) || parts.says(&["of", "the", "reading"]) {
                &mut error.of_reading
            } else {
                // Of what shows per cents, a bare figure is in points of its own scale.
                if shows_percent(kind, reader) {
                    match fixed(limit, kind, unit, reader, found) {
                        Some(part) => error.fixed += part,
                        None => whole = false,
                    }
                    if parts.says(&["plus"]) {
                        continue;
                    }
                    return Some(Said { error: whole.then_some(error) });
                }
                // `of fullscale`: these words are not known, which is told of the whole.
                if parts.ahead().is_some_and(|word| word.text == "of") {
                    return None;
                }
                found.add(&SaysTooLittle {
                    what: format!("“{}”", reader.written(limit.span)),
                    lacks: "not of what",
                    span: limit.span,
                    consequence: "of a reading or of the whole scale are errors many times apart",
                    mend: "write “4 % of reading” or “1 % of full scale”, or the error in its unit",
                });
                return Some(Said { error: None });
            };
            match share(limit, percent, reader, found) {
                Some(share) => *of += share,
                None => whole = false,
            }
        } else {
            match fixed(limit, kind, unit, reader, found) {
                Some(part) => error.fixed += part,
                None => whole = false,
            }
        }
        if !parts.says(&["plus"]) {
            return Some(Said { error: whole.then_some(error) });
        }
    }
}

/// A standard uncertainty is that of errors which are never greater than the error: it cannot be greater itself. Nor is
/// it nothing.
pub(super) fn below_the_error(instrument: &Instrument, span: Span, found: &mut Findings) {
    let Some(stated) = &instrument.standard_uncertainty else { return };
    if stated.fixed.is_zero() && stated.of_reading.is_zero() && stated.of_full_scale.is_zero() {
        let why = "no calibration finds an instrument without any error: leave it out where it is not known";
        let written = format!("standard uncertainty {}", stated.written);
        let why = why.to_owned();
        return found.add(&ImpossibleValue { written, span, why, instead: None, narrow: None });
    }
    let Some(error) = &instrument.error else { return };
    // As they are written: what their display adds is no slip.
    let above = |end: &Exact| stated.at(end) - &stated.of_step > error.at(end);
    if instrument.range.ends().into_iter().any(above) {
        let why = format!(
            "a standard uncertainty is below the greatest error, which is {}; the two may have changed places",
            error.written
        );
        let written = format!("standard uncertainty {}", stated.written);
        found.add(&ImpossibleValue { written, span, why, instead: None, narrow: None });
    } else {
        far_below(instrument, (stated, error), span, found);
    }
}

/// A slipped digit is asked about: a calibration seldom finds less than a tenth of the greatest error (common practice).
fn far_below(
    instrument: &Instrument,
    (stated, error): (&InstrumentError, &InstrumentError),
    span: Span,
    found: &mut Findings,
) {
    // As it is written: where that of the display counts in its place, the figure has slipped all the same.
    let times = |end: &Exact| {
        let stated = stated.at(end) - &stated.of_step;
        stated.is_positive().then(|| error.at(end) / stated)
    };
    let least = instrument.range.ends().into_iter().filter_map(times).min();
    let Some(times) = least.filter(|times| *times > Exact::from_integer(20.into())) else { return };
    found.add(&DoubtedUncertainty {
        written: format!("standard uncertainty {}", stated.written),
        span,
        error: error.written.clone(),
        times: to_decimal(&times.floor(), 0),
    });
}

fn shows_percent(kind: KindId, reader: Reader<'_>) -> bool {
    let (units, step) = (reader.units(), reader.units().difference_of(kind));
    units.spelled("%").iter().any(|unit| units.unit(*unit).kind == step)
}

fn percent(limit: &Limit) -> Option<&Quantity> {
    let LimitForm::Just(Expression::Quantity(quantity)) = &limit.form else { return None };
    quantity.unit.as_ref().filter(|unit| unit.text == "%").map(|_| quantity)
}

fn share(
    limit: &Limit,
    percent: &Quantity,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<Exact> {
    let hundred = Exact::from_integer(100.into());
    not_negative(limit, reader.number(&percent.number, found)? / hundred, reader, found)
}

fn fixed(
    limit: &Limit,
    kind: KindId,
    unit: UnitId,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<Exact> {
    let step = reader.units().difference_of(kind);
    let own = reader.world.own_scales.contains_key(&kind).then_some(unit);
    let written = reader.in_own_unit(limit, step, own);
    let read = reader.limit(&written, Some(step), found)?;
    let value = read.range.upper.or(read.range.lower)?.value;
    not_negative(limit, value, reader, found)
}

fn not_negative(
    limit: &Limit,
    value: Exact,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<Exact> {
    if value >= zero() {
        return Some(value);
    }
    let why = "an error is written without a sign and goes both ways".to_owned();
    reader.impossible(limit.span, why, None, found);
    None
}

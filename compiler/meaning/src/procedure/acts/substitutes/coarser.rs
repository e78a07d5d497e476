//! What a substitute shows less finely, or may be further off in, than the instrument of its line: the sheet says so.

use super::super::super::laying::Laying;
use super::super::super::said;
use super::super::measure::About;
use super::Common;
use locknut_graph::{Instrument, Line, LineValue};
use locknut_quantity::{Exact, Quantity};

pub(super) fn cautions(
    laying: &Laying<'_>,
    common: &Common<'_>,
    own: &About,
    instrument: Option<usize>,
) -> Vec<Line> {
    let listed = |at: Option<usize>| laying.build.instruments.get(at?);
    let (Some(line), Some(own_one)) = (listed(common.instrument), listed(instrument)) else {
        return Vec::new();
    };
    let say = |phrase: &str, of_own: Quantity, of_line: Quantity| Line {
        phrase: phrase.to_owned(),
        values: [
            ("own".to_owned(), LineValue::Quantity(of_own)),
            ("instrument".to_owned(), LineValue::Words(line.words.clone())),
            ("other".to_owned(), LineValue::Quantity(of_line)),
        ]
        .into(),
        span: own.name.span,
    };
    let mut all = Vec::new();
    if let (Some(step), Some(finer)) = (&own_one.resolution, &line.resolution)
        && step.value > finer.value
    {
        all.push(say("caution-coarser", step.clone(), finer.clone()));
    }
    if let (Some(error), Some(less)) = (error_at(own_one, own), error_at(line, own))
        && error > less
    {
        let said = |error: &Exact| difference(laying, own_one, error);
        all.push(say("caution-rougher", said(&error), said(&less)));
    }
    all
}

/// Its greatest error at the ends of what the substitute accepts.
fn error_at(instrument: &Instrument, own: &About) -> Option<Exact> {
    let (error, range) = (instrument.error.as_ref()?, &own.accepts.as_ref()?.range);
    let ends = [range.lower.as_ref(), range.upper.as_ref()].into_iter().flatten();
    ends.map(|end| error.at(&end.value)).max()
}

fn difference(laying: &Laying<'_>, shown_by: &Instrument, value: &Exact) -> Quantity {
    let units = &laying.world.units;
    let (kind, unit) = (units.difference_of(shown_by.kind), units.of_difference(shown_by.unit));
    let number = said::in_unit(units, value, unit);
    Quantity {
        value: value.clone(),
        kind,
        unit,
        decimals: said::decimals(&number).unwrap_or(said::MOST_DECIMALS),
        written: said::value(units, value, said::In { unit, kind }, 0),
    }
}

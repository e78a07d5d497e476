//! `usually …` at a choice: within what something must fit.

use super::super::coverage::{Possible, linear};
use super::super::laying::Laying;
use super::super::said;
use super::shape::limit_in;
use crate::findings::flow::PlainWanted;
use crate::findings::readings::{Usual, UsuallyOutside};
use locknut_finding::Span;
use locknut_graph::{Expression, Reading, ReadingId, ReadingKind};
use locknut_quantity::{KindId, Limit, UnitId};
use locknut_syntax::tree::Act;

/// Within what everything must be covered, and of which readings that speaks.
#[derive(Default)]
pub(super) struct Usually {
    pub(super) limit: Option<Limit>,
    /// Empty where nothing is said, and where what is said was refused: of that nothing follows.
    pub(super) of: Vec<(ReadingId, Limit)>,
}

/// Of the readings that a result comes from.
pub(super) fn usually(
    laying: &mut Laying<'_>,
    act: &Act,
    value: &Expression,
    chosen: ReadingId,
) -> Usually {
    let readings = readings_in(laying, value, chosen);
    if let Some(written) = limit_in(act, "usually") {
        let [only] = readings.as_slice() else {
            laying.found.add(&PlainWanted::usually(written.span));
            return Usually::default();
        };
        let kind = laying.build.readings.get(usize::from(only.0)).and_then(kind_of);
        let Some(limit) = laying.limit(written, kind) else { return Usually::default() };
        let of = vec![(*only, limit.clone())];
        if !may_be_read(laying, &of, written.span, true) {
            return Usually::default();
        }
        return Usually { limit: Some(limit), of };
    }
    let said = |id: &ReadingId| {
        let named = laying.scope.readings.get(laying.scope.names.get(id)?)?;
        named.usually.clone().map(|limit| (*id, limit))
    };
    let of: Vec<(ReadingId, Limit)> = readings.iter().filter_map(said).collect();
    if !may_be_read(laying, &of, act.span, false) {
        return Usually::default();
    }
    Usually { limit: of.first().map(|(_, limit)| limit.clone()), of }
}

/// Of the value that the rows of a table go by, which may come from several readings.
pub(super) struct OfValue {
    pub(super) limit: Option<Limit>,
    /// What must be covered; none: nothing is said of it, or it was refused.
    pub(super) must: Option<Possible>,
}

pub(super) fn of_value(
    laying: &mut Laying<'_>,
    act: &Act,
    value: &Expression,
    (kind, unit): (KindId, UnitId),
    chosen: ReadingId,
) -> OfValue {
    let nothing = OfValue { limit: None, must: None };
    let Some(written) = limit_in(act, "usually") else {
        let said = usually(laying, act, value, chosen);
        let must = linear(value, &laying.knowns).filter(|_| !said.of.is_empty());
        let must =
            must.map(|sum| sum.possible(&super::fits::narrowed(&laying.knowns, &sum, &said.of)));
        return OfValue { limit: said.limit, must };
    };
    let Some(limit) = laying.limit(written, Some(kind)) else { return nothing };
    if let Some(reading) = single(laying, value) {
        let of = [(reading, limit.clone())];
        if !may_be_read(laying, &of, written.span, true) {
            return nothing;
        }
    } else if !may_come_about(laying, value, unit, &limit, written.span) {
        return nothing;
    }
    let must = laying.possible(value).narrowed(&limit.range);
    OfValue { limit: Some(limit), must: Some(must) }
}

/// The reading, where the value is what an instrument shows at one point.
fn single(laying: &Laying<'_>, value: &Expression) -> Option<ReadingId> {
    let (Expression::Reading(reading) | Expression::Point(reading, _)) = value else { return None };
    laying.knowns.get(*reading).filter(|known| known.sum.is_none()).map(|_| *reading)
}

/// What is worked out must come to what is said to be usual.
fn may_come_about(
    laying: &mut Laying<'_>,
    value: &Expression,
    unit: UnitId,
    limit: &Limit,
    span: Span,
) -> bool {
    let possible = laying.possible(value);
    let of = if !possible.range.covers(&limit.range) {
        Usual::Chosen
    } else if possible.within(&limit.range).is_none() {
        Usual::NeverShown
    } else {
        return true;
    };
    let expect = said::range(
        &laying.world.units,
        &possible.range,
        said::In { unit, kind: limit.kind },
        limit.decimals,
    );
    let first = value.readings().into_iter().next();
    let reading = first.and_then(|id| laying.build.readings.get(usize::from(id.0)));
    let expect_span = reading.map_or(span, |reading| reading.span);
    let usually = limit.written.clone();
    laying.found.add(&UsuallyOutside { usually, span, expect, expect_span, of });
    false
}

/// What is said to be usual must be read at all, or what must fit there is shown of nothing; and where it is said at
/// the choice, nobody has held it against what is expected yet.
fn may_be_read(
    laying: &mut Laying<'_>,
    usually: &[(ReadingId, Limit)],
    span: Span,
    own: bool,
) -> bool {
    let mut all = true;
    for (id, limit) in usually {
        let Some(possible) = laying.knowns.get(*id).map(|known| known.possible.clone()) else {
            continue;
        };
        let beyond = possible.range.intersect(&limit.range).is_empty();
        let of = if beyond && !own {
            // Told where the reading says so.
            all = false;
            continue;
        } else if !beyond && possible.within(&limit.range).is_none() {
            Usual::NeverShown
        } else if own && !possible.range.covers(&limit.range) {
            Usual::Read
        } else {
            continue;
        };
        all = false;
        let Some(reading) = laying.build.readings.get(usize::from(id.0)) else { continue };
        let expect_span = reading.span;
        let (unit, decimals) = match &reading.kind {
            ReadingKind::Quantity { unit, decimals, .. } => (*unit, *decimals),
            ReadingKind::Answer { .. }
            | ReadingKind::Serial
            | ReadingKind::Date
            | ReadingKind::Text => (limit.unit, limit.decimals),
        };
        let expect = said::range(
            &laying.world.units,
            &possible.range,
            said::In { unit, kind: limit.kind },
            decimals,
        );
        let usually = limit.written.clone();
        laying.found.add(&UsuallyOutside { usually, span, expect, expect_span, of });
    }
    all
}

fn kind_of(reading: &Reading) -> Option<KindId> {
    if let ReadingKind::Quantity { kind, .. } = &reading.kind { Some(*kind) } else { None }
}

fn readings_in(laying: &Laying<'_>, value: &Expression, chosen: ReadingId) -> Vec<ReadingId> {
    let Some(sum) = linear(value, &laying.knowns) else { return Vec::new() };
    let mut readings: Vec<ReadingId> = sum.terms.keys().map(|atom| atom.reading()).collect();
    readings.sort_unstable();
    readings.dedup();
    readings.retain(|reading| *reading != chosen);
    readings
}

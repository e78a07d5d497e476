//! What a limit is held with: the greatest error of the value against the width that is accepted, and
//! what guards the limit against that error.

use super::super::coverage::{Possible, Uncertain, uncertain};
use super::super::laying::Laying;
use super::super::said;
use super::guarded_arms;
use super::limits::reaches;
use super::verdict::Judged;
use super::{moving, usual_judged};
use crate::findings::readings::{
    BetweenDigits, CoarseForLimit, NeverSurelyBad, NothingSurelyInside, OtherSide,
    RowAgainstOthers, TooRough, Unguardable, Unknown, Weighed,
};
use crate::world::Instrument;
use locknut_finding::{Finding, Span};
use locknut_graph::{
    Between, Capability, ComputedLimit, Doubt, Expression, Guard, Metrology, ReadingId, Rule,
    SourcedLimit, Verdict, ratio_said,
};
use locknut_quantity::{Bound, Exact, Limit, Range, UnitId};
use locknut_syntax::tree::Name;
use num_traits::{Signed, Zero};

/// The value that limits judge.
pub(super) struct Value<'a> {
    pub(super) name: &'a Name,
    /// What shows it; none: it is worked out or counted.
    pub(super) instrument: Option<&'a Instrument>,
    /// What it is worked out from, where it is.
    pub(super) worked_out: Option<&'a Expression>,
    /// Of what is worked out or counted; none: not stated, or no weighted sum.
    pub(super) uncertain: Option<Uncertain>,
    /// What gives a one-sided limit its other side.
    pub(super) other_side: Range,
    pub(super) usually: Option<Range>,
    pub(super) possible: Option<&'a Possible>,
    pub(super) unit: UnitId,
    pub(super) decimals: u32,
}

/// Weighs every limit of an act, and guards the one that is to be guarded.
pub(super) fn weigh(
    laying: &mut Laying<'_>,
    judged: &mut Judged<'_>,
    value: &Value<'_>,
) -> Vec<Capability> {
    let rule = judged.rule;
    match &mut judged.verdict {
        Verdict::None => Vec::new(),
        Verdict::Accept { limit, computed } => {
            let span = limit.span;
            let mut held = value.held(&limit.limit);
            let mut weighed = held.clone();
            if let Some(ends) = computed {
                let doubt = value.with_its_limit(laying, ends).into_iter().max_by_key(constant);
                held = Capability { accepted: None, error: None, doubt, ..held };
                weighed = value.where_it_moves(laying, ends, &held);
            }
            let (rule, said) = rule.unwrap_or((laying.world.metrology.rule, span));
            if rule.guards() && !too_rough(laying, &weighed) {
                let shape = computed.as_ref().map_or_else(|| limit.limit.range.clone(), ends_of);
                let guard = match computed {
                    Some(ends) => value.guard_of_ends(laying, ends, &shape),
                    None => held.doubt.as_ref().and_then(|doubt| doubt.guard(&shape)),
                };
                let grid = guarded_arms::printed(laying, value);
                // Moved to the digits here and nowhere else: sheet, terminal and page decide by what is printed.
                let guard = match (guard, &grid, computed.is_some()) {
                    (Some(guard), Some(grid), true) => Some(guard.in_steps_of(grid)),
                    (Some(guard), Some(grid), false) => {
                        Some(guard.at_digits_of(grid, &shape, value.instrument.is_none()))
                    }
                    (guard, ..) => guard,
                };
                match guard {
                    Some(guard) if rule == Rule::Guarded && value.instrument.is_some() => {
                        limit.guard = Some(guard);
                    }
                    Some(guard) => limit.guard = Some(guard.never_undecided()),
                    None => unguardable(laying, value, computed.as_ref(), (said, span)),
                }
                if nothing_left(laying, limit, computed.as_ref(), value) {
                    let bands = limit.guard.iter().flat_map(|guard| [&guard.lower, &guard.upper]);
                    let band = bands.flatten().map(|band| band.inward.clone()).max();
                    let band = error_said(laying, band.as_ref(), value);
                    let (name, limit) = (value.name.text.clone(), held.written.clone());
                    laying.found.add(&NothingSurelyInside { name, limit, span, band, arm: false });
                    return vec![held];
                }
            }
            told(laying, &weighed, span, value, computed.as_ref());
            if computed.is_none() {
                usual_judged::refused(laying, &limit.limit, span, value);
            }
            vec![weighed]
        }
        Verdict::Arms(arms) => {
            let limits = arms.iter().filter_map(|arm| Some((arm.range.as_ref()?, arm.span)));
            let held: Vec<(Capability, Span)> =
                limits.map(|(limit, span)| (value.held(limit), span)).collect();
            // The narrowest arm is the hardest to tell from its neighbours.
            let worst = held.into_iter().min_by(|(one, _), (other, _)| {
                let rank = |held: &Capability| held.ratio().map_or((1, Exact::zero()), |r| (0, r));
                rank(one).cmp(&rank(other))
            });
            let Some((held, span)) = worst else { return Vec::new() };
            usual_judged::breaks_off(laying, arms, &judged.follows, value);
            let too_rough = too_rough(laying, &held);
            if too_rough || guarded_arms::guard(laying, arms, &judged.of_arms, value) {
                told(laying, &held, span, value, None);
            }
            vec![held]
        }
    }
}

impl Value<'_> {
    fn held(&self, limit: &Limit) -> Capability {
        let range = &limit.range;
        let side = |own: &Option<Bound>, other: &Option<Bound>| own.clone().or(other.clone());
        let whole = Range {
            lower: side(&range.lower, &self.other_side.lower),
            upper: side(&range.upper, &self.other_side.upper),
        };
        let two_sided = whole.lower.is_some() && whole.upper.is_some();
        Capability {
            // Where nothing of what is expected is accepted, that is told by itself.
            accepted: Some(whole).filter(|whole| two_sided && !whole.is_empty()),
            limit: range.clone(),
            error: self.error_at(range),
            doubt: self.doubt(),
            usually: self.usually.clone(),
            single: self.instrument.is_some()
                || self.uncertain.as_ref().is_some_and(|of_sum| of_sum.cause.is_some()),
            causes: self.uncertain.as_ref().and_then(|of_sum| of_sum.causes.clone()),
            written: limit.written.clone(),
        }
    }

    /// The greatest error of the value where the limit decides.
    fn error_at(&self, limit: &Range) -> Option<Exact> {
        let Some(instrument) = self.instrument else {
            return self.uncertain.as_ref()?.error_at(limit);
        };
        let error = instrument.error.as_ref()?;
        let ends = [limit.lower.as_ref(), limit.upper.as_ref()];
        ends.into_iter().flatten().map(|end| error.at(&end.value)).max()
    }

    /// Whether it is known for certain, as a count is.
    pub(super) fn is_exact(&self) -> bool {
        let exact = |of_sum: &Uncertain| {
            of_sum.grows.is_none() && of_sum.error.as_ref().is_none_or(Zero::is_zero)
        };
        self.instrument.is_none() && self.uncertain.as_ref().is_none_or(exact)
    }

    /// What its calibration has found goes ahead of what its maker allows.
    pub(super) fn doubt(&self) -> Option<Doubt> {
        if let Some(instrument) = self.instrument {
            let measured = instrument.standard_uncertainty.as_ref().map(Doubt::normal);
            return measured.or_else(|| instrument.error.as_ref().map(Doubt::of));
        }
        let uncertain = self.uncertain.as_ref()?;
        let normal = uncertain.uncertainty.clone().map(Doubt::with_uncertainty);
        normal.or_else(|| uncertain.bound(self.possible.map(|possible| &possible.range)))
    }

    /// Where an end is itself worked out from readings, their errors count, too; of a reading that it shares with the value
    /// what falls out of their difference does not. The lower end first, none of an end
    /// that is not there. Nothing where of one end nothing is stated.
    fn with_its_limit(&self, laying: &Laying<'_>, ends: &ComputedLimit) -> Vec<Doubt> {
        let doubts = self.doubt_of_ends(laying, ends);
        doubts.map(|(lower, upper)| lower.into_iter().chain(upper).collect()).unwrap_or_default()
    }

    fn doubt_of_ends(
        &self,
        laying: &Laying<'_>,
        ends: &ComputedLimit,
    ) -> Option<(Option<Doubt>, Option<Doubt>)> {
        let of_end = |end: &Option<(Expression, bool)>| {
            let Some((end, _)) = end else { return Some(None) };
            let error = match self.worked_out.filter(|value| moving::shares(value, end)) {
                Some(value) => uncertain(&moving::difference(value, end), &laying.knowns)?.error?,
                None => self.own_error()? + uncertain(end, &laying.knowns)?.error?,
            };
            Some(Some(Doubt::within(error)))
        };
        Some((of_end(&ends.lower)?, of_end(&ends.upper)?))
    }

    /// Each end is moved by what it may lie wrong itself: a fixed one by the error of the reading alone, as the guard
    /// band of a limit is that of what is measured at it (ISO 14253-1, from memory).
    fn guard_of_ends(
        &self,
        laying: &Laying<'_>,
        ends: &ComputedLimit,
        shape: &Range,
    ) -> Option<Guard> {
        let (lower, upper) = self.doubt_of_ends(laying, ends)?;
        let guard = |doubt: Option<Doubt>| match doubt {
            Some(doubt) => doubt.guard(shape),
            None => Some(Guard::default()),
        };
        Some(Guard { lower: guard(lower)?.lower, upper: guard(upper)?.upper })
    }
}

/// What does not grow with the value.
fn constant(doubt: &Doubt) -> Exact {
    doubt.bound.0.clone()
}

impl Value<'_> {
    /// What a limit that moves is held with: a limit with two ends of its own where it is narrowest. A limit with one
    /// is as narrow as can be wherever it comes near what is expected, so it is weighed where it is widest.
    fn where_it_moves(
        &self,
        laying: &Laying<'_>,
        ends: &ComputedLimit,
        held: &Capability,
    ) -> Capability {
        // Where it is worked out from the same readings, value and limit move together.
        if self.worked_out.is_some_and(|value| moving::together(value, ends)) {
            return held.clone();
        }
        let (width, at) = if ends.lower.is_some() && ends.upper.is_some() {
            (moving::narrowest_width(laying, ends), "where it is narrowest")
        } else {
            (self.one_sided(laying, ends), "where it is widest")
        };
        let error = match &held.doubt {
            Some(doubt) => Some(doubt.bound.0.clone()),
            // Of the limit nothing is stated: what is read against it is off by this alone.
            None => self.own_error(),
        };
        let width = width.filter(|width| !width.is_negative());
        Capability {
            accepted: width.map(|width| Range::closed(Exact::zero(), width)),
            error,
            written: format!("{} {at}", held.written),
            ..held.clone()
        }
    }

    /// The widest that a limit with one end may come to be.
    fn one_sided(&self, laying: &Laying<'_>, ends: &ComputedLimit) -> Option<Exact> {
        let widest = moving::widest_of(laying, ends);
        match (&widest.lower, &widest.upper) {
            (Some(lower), None) => Some(&self.other_side.upper.as_ref()?.value - &lower.value),
            (None, Some(upper)) => Some(&upper.value - &self.other_side.lower.as_ref()?.value),
            (Some(_), Some(_)) | (None, None) => None,
        }
    }

    /// The greatest error of the value, wherever it lies.
    fn own_error(&self) -> Option<Exact> {
        match (self.instrument, self.possible) {
            (Some(instrument), Some(possible)) => instrument.error.as_ref()?.over(&possible.range),
            (Some(_), None) => None,
            (None, _) => self.uncertain.clone()?.error,
        }
    }
}

/// Which ends a worked-out limit has; where they lie is known only then.
pub(super) fn ends_of(ends: &ComputedLimit) -> Range {
    let end = |end: &Option<(Expression, bool)>| {
        end.as_ref().map(|(_, closed)| Bound { value: Exact::zero(), closed: *closed })
    };
    Range { lower: end(&ends.lower), upper: end(&ends.upper) }
}

/// Whether the guard bands leave nothing of a limit that some reading keeps.
fn nothing_left(
    laying: &Laying<'_>,
    limit: &SourcedLimit,
    computed: Option<&ComputedLimit>,
    value: &Value<'_>,
) -> bool {
    let Some(guard) = &limit.guard else { return false };
    let keeps = |range: &Range| value.possible.is_none_or(|all| all.within(range).is_some());
    let range = match (computed, value.worked_out) {
        // Where it moves with the value, it says nothing by itself.
        (Some(ends), Some(of)) if moving::together(of, ends) => {
            return moving::leaves_nothing(laying, of, ends, guard);
        }
        (Some(ends), _) => moving::widest_of(laying, ends),
        (None, _) => limit.limit.range.clone(),
    };
    keeps(&range) && !keeps(&guard.accepted(&range))
}

/// Whether the error is greater than any verdict can bear.
fn too_rough(laying: &Laying<'_>, held: &Capability) -> bool {
    held.ratio().is_some_and(|ratio| ratio < laying.world.metrology.least)
}

/// Tells where the error is too great for the width.
fn told(
    laying: &mut Laying<'_>,
    held: &Capability,
    span: Span,
    value: &Value<'_>,
    computed: Option<&ComputedLimit>,
) {
    let Some(ratio) = held.ratio() else { return };
    // Where nothing that may come is accepted, that is told by itself.
    if computed.is_none() && value.possible.is_some_and(|all| all.within(&held.limit).is_none()) {
        return;
    }
    // What the instrument cannot show is told by itself.
    let all = computed.map_or_else(|| held.limit.clone(), |ends| moving::widest_of(laying, ends));
    let ends = [&all.lower, &all.upper].into_iter().flatten();
    let shows = |one: &Instrument| ends.clone().all(|end| reaches(one, &end.value));
    if !value.instrument.is_none_or(shows) {
        return;
    }
    let Metrology { least, fair, good, .. } = laying.world.metrology.clone();
    let declared = |one: &Instrument| (one.span, error_written(laying, one, value));
    let mut from: Vec<(Span, String)> = value.instrument.map(declared).into_iter().collect();
    let of_limit = computed.map(|ends| limit_wrong(laying, ends, held, value)).unwrap_or_default();
    let by_limit = of_limit.iter().any(|(_, _, most)| *most);
    from.extend(of_limit.into_iter().map(|(at, text, _)| (at, text)));
    let narrowest = computed.and_then(|ends| moving::narrowest_row(laying, ends));
    if let Some((row, written)) = &narrowest {
        from.push((*row, format!("it is narrowest in this row: {written}")));
        if ratio < laying.world.metrology.least {
            laying.found.take_back(RowAgainstOthers::PAGE.code(), *row);
        }
    }
    let half = held.accepted.as_ref().and_then(Range::width).unwrap_or_else(Exact::zero);
    let half = half / Exact::from_integer(2.into());
    let of = Weighed {
        name: value.name.text.clone(),
        limit: held.written.clone(),
        span,
        ratio: ratio_said(&ratio),
        half: difference_said(laying, &half, value),
        error: error_said(laying, held.error.as_ref(), value),
        from,
        by_limit,
        by_row: narrowest.is_some(),
        other: computed.is_none().then(|| other_side_said(laying, held, value)).flatten(),
    };
    if ratio >= least && computed.is_none() && at_the_scale_end(laying, held, value, &of) {
        return;
    }
    if ratio < least {
        // Whatever tells apart what is to be told has digits for it.
        laying.found.take_back(BetweenDigits::PAGE.code(), span);
        laying.found.add(&TooRough { of, least: ratio_said(&least) });
    } else if ratio < fair {
        let (fair, good) = (ratio_said(&fair), ratio_said(&good));
        laying.found.add(&CoarseForLimit { of, fair, good });
    }
}

/// Says so where a lower limit lies so near to nought, where the scale begins, that even nothing may read as good.
fn at_the_scale_end(
    laying: &mut Laying<'_>,
    held: &Capability,
    value: &Value<'_>,
    of: &Weighed,
) -> bool {
    let (Some(instrument), Some(error)) = (value.instrument, &held.error) else { return false };
    // Beyond an end that is not nothing, nothing is shown, and so nothing read as good.
    let (Some(limit), None) = (&held.limit.lower, &held.limit.upper) else { return false };
    let scale = instrument.range.lower.as_ref().filter(|end| end.value.is_zero());
    let Some(scale) = scale.filter(|_| !instrument.one_limit) else { return false };
    let left = (&limit.value - &scale.value).abs();
    if left.is_zero() || left >= *error {
        return false;
    }
    let units = &laying.world.units;
    let end = said::value(units, &scale.value, said::In::from(instrument), value.decimals);
    let (name, limit, error) = (of.name.clone(), of.limit.clone(), of.error.clone());
    let (left, declared) = (difference_said(laying, &left, value), instrument.span);
    laying.found.add(&NeverSurelyBad { name, limit, span: of.span, end, left, error, declared });
    true
}

/// The side of a limit with one end that is not written: where it lies, and whether nothing is left up to there.
fn other_side_said(laying: &Laying<'_>, held: &Capability, value: &Value<'_>) -> Option<OtherSide> {
    let accepted = held.accepted.as_ref()?;
    let shown = value.instrument.map(|instrument| &instrument.range);
    let (own, end, most, shown) = match (&held.limit.lower, &held.limit.upper) {
        (Some(own), None) => (own, accepted.upper.as_ref()?, true, shown.map(|all| &all.upper)),
        (None, Some(own)) => (own, accepted.lower.as_ref()?, false, shown.map(|all| &all.lower)),
        (Some(_), Some(_)) | (None, None) => return None,
    };
    let twice = held.error.as_ref()? * Exact::from_integer(2.into());
    let wanted = twice * &laying.world.metrology.least;
    let enough = |shown: &Bound| (&shown.value - &own.value).abs() >= wanted;
    // Of what is worked out it is not known how far its readings could go; below nought a spread never does.
    let widens = shown
        .map_or_else(|| most || !end.value.is_zero(), |shown| shown.as_ref().is_none_or(enough));
    let units = &laying.world.units;
    let bare = said::In::bare(units, value.unit);
    let said_in = value.instrument.map_or(bare, said::In::from);
    let end = said::value(units, &end.value, said_in, value.decimals);
    let nothing = accepted.width().is_some_and(|width| width.is_zero());
    Some(OtherSide { end, most, nothing, widens })
}

/// What a limit that moves may itself lie wrong by: told at each reading that it is worked out from, and whether that is
/// more than what the value is wrong by.
fn limit_wrong(
    laying: &Laying<'_>,
    ends: &ComputedLimit,
    held: &Capability,
    value: &Value<'_>,
) -> Vec<(Span, String, bool)> {
    let (Some(all), Some(own)) = (&held.error, value.own_error()) else { return Vec::new() };
    let rest = all - &own;
    if !rest.is_positive() {
        return Vec::new();
    }
    let wrong = difference_said(laying, &rest, value);
    let readings = ends.lower.iter().chain(&ends.upper).flat_map(|(end, _)| end.readings());
    let readings: std::collections::BTreeSet<ReadingId> = readings.collect();
    let at = |id: ReadingId| laying.build.readings.get(usize::from(id.0));
    let at = readings.into_iter().filter_map(at);
    at.map(|one| {
        let text = format!(
            "by the error of {} the limit itself may lie wrong by up to {wrong}",
            one.words.said
        );
        (one.span, text, rest > own)
    })
    .collect()
}

pub(super) fn unguardable(
    laying: &mut Laying<'_>,
    value: &Value<'_>,
    computed: Option<&ComputedLimit>,
    (said, limit): (Span, Span),
) {
    let why = unknown(laying, value, computed);
    laying.found.add(&Unguardable { name: value.name.text.clone(), said, limit, why });
}

/// Why nobody knows how far a value may be from the true one, or its limit from where it should lie.
fn unknown(laying: &Laying<'_>, value: &Value<'_>, computed: Option<&ComputedLimit>) -> Unknown {
    let own = value.instrument.filter(|one| {
        computed.is_none() || (one.error.is_none() && one.standard_uncertainty.is_none())
    });
    if let Some(instrument) = own {
        return Unknown::Instrument(instrument.words.said.clone(), instrument.span);
    }
    let ends = computed.iter().flat_map(|limit| limit.lower.iter().chain(&limit.upper));
    let all: Vec<&Expression> =
        value.worked_out.into_iter().chain(ends.map(|(end, _)| end)).collect();
    let jumps = all.iter().flat_map(|part| part.tables());
    if let Some(table) = jumps.into_iter().find(|table| table.between != Between::Proportion) {
        return Unknown::Table(table.words.name.clone(), table.span);
    }
    let nothing = |reading: &ReadingId| {
        let doubt = laying.knowns.get(*reading).and_then(|known| known.doubt.as_ref());
        doubt.is_none_or(|doubt| doubt.error.is_none())
    };
    let reading = all.iter().flat_map(|part| part.readings()).find(nothing);
    match reading.and_then(|id| laying.build.readings.get(usize::from(id.0))) {
        Some(reading) => Unknown::Reading(reading.words.said.clone(), reading.span),
        None => Unknown::Product,
    }
}

/// An error in words.
pub(super) fn error_said(laying: &Laying<'_>, error: Option<&Exact>, value: &Value<'_>) -> String {
    let Some(error) = error else { return "not stated".to_owned() };
    difference_said(laying, error, value)
}

/// A difference is said like a value of its unit: 2 °C, not −271.15 °C.
fn difference_said(laying: &Laying<'_>, difference: &Exact, value: &Value<'_>) -> String {
    let units = &laying.world.units;
    let shown = difference + &units.unit(value.unit).zero;
    said::value(units, &shown, said::In::bare(units, value.unit), 0)
}

fn error_written(laying: &Laying<'_>, instrument: &Instrument, value: &Value<'_>) -> String {
    let Some(error) = &instrument.error else { return "its error is not stated".to_owned() };
    let written = format!("its error is up to {}", error.written);
    if error.of_step.is_zero() {
        return written;
    }
    let half = difference_said(laying, &error.of_step, value);
    format!("{written}, and half a step of its display, {half}, comes to it")
}

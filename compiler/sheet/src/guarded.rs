//! A guarded limit as it is read: narrowed to the readings that it accepts, on the digits that the
//! instrument shows.

use crate::words::Speaker;
use locknut_graph::{Act, ActArm, ActKind, Band, Doubt, ReadingKind, SourcedLimit, Verdict};
use locknut_quantity::{Bound, Exact, Grid, Limit, Quantity, Range, Rounding, Units};
use std::borrow::Cow;

/// What is accepted: the limit itself, or what its guard bands leave of it.
pub(crate) fn accepted<'l>(
    speak: Speaker<'_>,
    act: &Act,
    limit: &'l SourcedLimit,
) -> Cow<'l, Limit> {
    drawn(speak, act, limit, &limit.accepted())
}

/// What is not refused: beyond it the true value is outside of the limit.
pub(crate) fn not_refused<'l>(
    speak: Speaker<'_>,
    act: &Act,
    limit: &'l SourcedLimit,
) -> Cow<'l, Limit> {
    drawn(speak, act, limit, &limit.not_refused())
}

fn drawn<'l>(speak: Speaker<'_>, act: &Act, limit: &'l SourcedLimit, to: &Range) -> Cow<'l, Limit> {
    let digits = limit.guard.as_ref().and_then(|_| grid(speak, act));
    let read_in = act.kind.reading().map(|id| &speak.graph.reading(id).kind);
    let Some((grid, decimals)) = digits else {
        // A figure beside a box stands in the unit of the box.
        return match read_in {
            Some(ReadingKind::Quantity { unit, .. }) if *unit != limit.limit.unit => {
                Cow::Owned(speak.beside(&limit.limit, *unit))
            }
            _ => Cow::Borrowed(&limit.limit),
        };
    };
    let drawn = grid.draw_in(to);
    // What is worked out may lie between two digits: an open end that is a figure is printed as it is judged.
    let range = if matches!(act.kind, ActKind::Check { .. }) {
        let kept = |end: &Option<Bound>, drawn: Option<Bound>| {
            let figure = |end: &&Bound| grid.snap(&end.value, Rounding::Nearest) == end.value;
            end.as_ref().filter(figure).cloned().or(drawn)
        };
        Range { lower: kept(&to.lower, drawn.lower), upper: kept(&to.upper, drawn.upper) }
    } else {
        drawn
    };
    let decimals = decimals.max(limit.limit.decimals);
    Cow::Owned(Limit { range, decimals, ..limit.limit.clone() })
}

/// The digits that the value is shown with.
fn grid(speak: Speaker<'_>, act: &Act) -> Option<(Grid, u32)> {
    let reading = speak.graph.reading(act.kind.reading()?);
    let ReadingKind::Quantity { unit, decimals, .. } = &reading.kind else { return None };
    let own = digits_of(speak, act);
    let unit = speak.units.unit(*unit);
    let ten = Exact::from_integer(10.into());
    let step = (0..*decimals).fold(unit.factor.clone(), |step, _| step / &ten);
    Some((own.or_else(|| Grid::new(unit.zero.clone(), step))?, *decimals))
}

/// The digits of the gauge that is read; none where something is worked out, or where nobody stated them.
pub(crate) fn digits_of(speak: Speaker<'_>, act: &Act) -> Option<Grid> {
    let instrument = speak.graph.instruments.get(act.instrument?)?;
    Grid::of_instrument(&instrument.range, instrument.resolution.as_ref()?.value.clone())
}

/// What a reader must know of a guarded limit: why it is narrower than its source says, and what
/// becomes of a reading that it cannot decide.
pub(crate) fn caution(speak: Speaker<'_>, act: &Act, in_rows: bool) -> Option<String> {
    let said = drawn_in(speak, act, in_rows)?;
    // Nothing that is likely is sold as certain.
    let doubt = act.capability.first().and_then(|held| held.doubt.as_ref());
    let likely = doubt.is_some_and(Doubt::is_normal);
    Some(if likely { format!("{said} {}", speak.phrases.label("guarded-likely")) } else { said })
}

fn drawn_in(speak: Speaker<'_>, act: &Act, in_rows: bool) -> Option<String> {
    let (limit, computed) = match act.kind.verdict()? {
        Verdict::Accept { limit, computed } => (limit, computed),
        Verdict::Arms(arms) => return caution_of_arms(speak, arms),
        Verdict::None => return None,
    };
    let guard = limit.guard.as_ref()?;
    let again = guard.may_be_undecided();
    let better = act.substitute.as_ref().filter(|substitute| substitute.again.is_some());
    let better = better.and_then(|substitute| speak.graph.instruments.get(substitute.instrument?));
    let undecided = match better {
        Some(better) => {
            let better = speak.phrases.name(&better.words);
            speak.say("guarded-undecided-here", &[("instrument", better)])
        }
        None => speak.phrases.label(if again { "guarded-undecided" } else { "guarded-outside" }),
    };
    if computed.is_none() {
        let whole = speak.limit(&limit.limit);
        return Some(speak.say("caution-guarded", &[("limit", whole), ("undecided", undecided)]));
    }
    if in_rows {
        return Some(speak.say("caution-guarded-rows", &[("undecided", undecided)]));
    }
    let by = by_ends(speak, act, limit, |band| band.inward.clone())?;
    Some(speak.say("caution-guarded-by", &[("by", by), ("undecided", undecided)]))
}

/// Where a reading is surely outside of a limit that is worked out: beyond its end by what the reading may be wrong.
/// Where nothing is left undecided, as at a `check`, which nobody can read again, whatever is not surely inside is outside.
pub(crate) fn outside_by(speak: Speaker<'_>, act: &Act, rows: bool, outside: String) -> String {
    let Some(Verdict::Accept { limit, .. }) = act.kind.verdict() else { return outside };
    let Some(guard) = &limit.guard else { return outside };
    let again = guard.may_be_undecided();
    if rows && !again {
        // The table is drawn in by it already.
        return speak.phrases.label("outside-of-rows");
    }
    let further = |band: &Band| match (rows, again) {
        (true, _) => &band.inward + &band.outward,
        (false, true) => band.outward.clone(),
        (false, false) => band.inward.clone(),
    };
    let Some(by) = by_ends(speak, act, limit, further) else { return outside };
    if rows {
        speak.say("outside-of-rows-by-more", &[("by", by)])
    } else if again {
        speak.say("outside-by-more", &[("outside", outside), ("by", by)])
    } else {
        speak.say("outside-unless-inside", &[("by", by)])
    }
}

/// `4 N`; where the ends are moved by unlike amounts, as where one of them is fixed, each by its own.
fn by_ends(
    speak: Speaker<'_>,
    act: &Act,
    limit: &SourcedLimit,
    of: impl Fn(&Band) -> Exact,
) -> Option<String> {
    let guard = limit.guard.as_ref()?;
    let said = |by: &Exact| Some(speak.quantity(&difference(speak.units, limit, act, speak, by)?));
    match (guard.lower.as_ref().map(&of), guard.upper.as_ref().map(&of)) {
        (Some(lower), Some(upper)) if lower != upper => {
            let (lower, upper) = (said(&lower)?, said(&upper)?);
            Some(speak.say("guarded-by-ends", &[("lower", lower), ("upper", upper)]))
        }
        (lower, upper) => said(&lower.or(upper)?),
    }
}

/// Where arms meet, and where their author has them meet.
fn caution_of_arms(speak: Speaker<'_>, arms: &[ActArm]) -> Option<String> {
    arms.iter().find(|arm| arm.whole.is_some())?;
    let own = |arm: &ActArm| arm.whole.as_ref().or(arm.range.as_ref()).map(|one| speak.limit(one));
    let limits: Vec<String> = arms.iter().filter_map(own).collect();
    Some(speak.say("caution-guarded-arms", &[("limits", limits.join("; "))]))
}

/// So far inside, as a difference of values: the band is whole steps of the reading already.
fn difference(
    units: &Units,
    limit: &SourcedLimit,
    act: &Act,
    speak: Speaker<'_>,
    value: &Exact,
) -> Option<Quantity> {
    let (_, decimals) = grid(speak, act)?;
    let kind = units.difference_of(limit.limit.kind);
    let value = value.clone();
    let unit = limit.limit.unit;
    Some(Quantity { value, kind, unit, decimals, written: String::new() })
}

//! Limits against what a reading can come to: whether the instrument reaches and shows them, whether
//! they decide anything, whether arms leave a gap or overlap.

use super::super::coverage::{Possible, doubled, uncovered};
use super::super::laying::Laying;
use super::super::said;
use super::verdict::Judged;
use super::{moving, other_unit};
use crate::findings::readings::{
    ArmNeverTaken, ArmsGap, ArmsOverlap, BetweenDigits, BeyondRange, CannotFail, CannotPass,
    EndNeverMet, NeverMet, NeverRefused, WhichPoint,
};
use crate::world::Instrument;
use locknut_finding::{Finding, Span};
use locknut_graph::{ActArm, Expression, Guard, Operator, Verdict};
use locknut_quantity::{Bound, Exact, Limit, Range, Rounding, UnitId, Units};
use locknut_syntax::tree::Name;
use num_traits::Signed;

/// What the limits of an act are held against.
pub(super) struct Subject<'a> {
    pub(super) name: &'a Name,
    /// What it is worked out from, where it is.
    pub(super) value: Option<&'a Expression>,
    /// Where its reading is an instrument's.
    pub(super) instrument: Option<&'a Instrument>,
    /// None: not known, so nothing can be said.
    pub(super) possible: Option<&'a Possible>,
    /// Why it can come to no more: `feeler gauge shows 0.03 .. 2 mm`.
    pub(super) bounded_by: String,
    pub(super) points: &'a [String],
    pub(super) unit: UnitId,
}

impl Subject<'_> {
    /// In its own unit, of the kind of its limit.
    pub(super) fn said_in(&self, limit: &Limit) -> said::In {
        said::In { unit: self.unit, kind: limit.kind }
    }
}

/// What a line does with a limit that tells one reading from another.
const DECIDES: &[&str] = &["accepts", "asks for"];

/// Holds the verdict of an act against what its reading can come to.
pub(super) fn check(laying: &mut Laying<'_>, judged: &Judged<'_>, subject: &Subject<'_>) {
    match &judged.verdict {
        Verdict::Accept { limit, computed: None } => {
            let fits = |end: &Exact, to: &Exact| {
                let moved = ended_at(&limit.limit.range, end, to);
                // Nothing that was refused may come to be accepted.
                moved == moved.intersect(&limit.limit.range)
                    && subject.possible.is_none_or(|possible| {
                        let accepts = possible.within(&moved).is_some();
                        accepts && !uncovered(possible, &[moved]).is_empty()
                    })
            };
            let so_far = laying.found.reports().len();
            reached(laying, &limit.limit, (limit.span, "accepts"), subject.instrument, &fits);
            // A guarded limit is drawn in to a digit anyway.
            let rule = judged.rule.map_or(laying.world.metrology.rule, |(rule, _)| rule);
            if rule.guards() && laying.found.has(so_far, BetweenDigits::PAGE.code()) {
                laying.found.take_back(BetweenDigits::PAGE.code(), limit.span);
            }
        }
        Verdict::None => {}
        Verdict::Accept { limit, computed: Some(ends) } => {
            moving::check(laying, &limit.limit, ends, limit.span, subject);
        }
        Verdict::Arms(arms) => {
            if let Some(body) = judged.body {
                // An edge that two arms share is one edge.
                let so_far = laying.found.reports().len();
                check_rows(laying, arms, body, subject, subject.possible);
                laying.found.once_alike(so_far);
            }
        }
    }
}

/// Whether the instrument reaches every end of a limit; what lies between its digits is told, too.
pub(super) fn within_reach(
    laying: &mut Laying<'_>,
    limit: &Limit,
    span: Span,
    does: &'static str,
    instrument: Option<&Instrument>,
) -> bool {
    reached(laying, limit, (span, does), instrument, &|_, _| true)
}

/// The same; `fits` says whether an end may be moved to a digit.
fn reached(
    laying: &mut Laying<'_>,
    limit: &Limit,
    (span, does): (Span, &'static str),
    instrument: Option<&Instrument>,
    fits: &dyn Fn(&Exact, &Exact) -> bool,
) -> bool {
    let Some(instrument) = instrument else { return true };
    let ends = [limit.range.lower.as_ref(), limit.range.upper.as_ref()];
    let outside = ends.into_iter().flatten().find(|end| !reaches(instrument, &end.value)).cloned();
    if let Some(end) = outside {
        beyond(laying, &end.value, limit, (span, does), instrument, None);
        return false;
    }
    if !instrument.applies && DECIDES.contains(&does) {
        let off = |end: &&Bound| {
            super::readings::grid(instrument).is_some_and(|grid| !grid.has(&end.value))
        };
        for end in ends.into_iter().flatten().filter(off) {
            off_digits(laying, &end.value, limit, span, instrument, fits);
        }
    }
    true
}

/// Says that an end lies outside of what the instrument shows; of a limit that moves, with all that it comes to,
/// and the row of a table that alone takes it there.
pub(super) fn beyond(
    laying: &mut Laying<'_>,
    end: &Exact,
    limit: &Limit,
    (span, does): (Span, &'static str),
    instrument: &Instrument,
    comes_to: Option<(&Range, Option<Span>)>,
) {
    let units = &laying.world.units;
    let in_words = |range: &Range| said::range(units, range, limit, limit.decimals);
    laying.found.add(&BeyondRange {
        does,
        limit: limit.written.clone(),
        span,
        end: said::value(units, end, limit, limit.decimals),
        instrument: instrument.words.said.clone(),
        range: instrument.range_written.clone(),
        declared: instrument.span,
        applies: instrument.applies,
        comes_to: comes_to.map(|(range, _)| in_words(range)),
        stands_in: None,
        row: comes_to.and_then(|(_, row)| row),
        meant: if comes_to.is_none() { meant(units, limit, instrument) } else { None },
    });
}

/// A limit in another unit than its instrument's, with the same figures in that one; none where it would not show them.
fn meant(units: &Units, limit: &Limit, instrument: &Instrument) -> Option<String> {
    let range = other_unit::with(units, limit, instrument.unit)?;
    let mut ends = range.lower.iter().chain(&range.upper).peekable();
    let shown = ends.peek().is_some() && ends.all(|end| reaches(instrument, &end.value));
    shown.then(|| said::range(units, &range, instrument, limit.decimals))
}

/// Whether a substitute shows all that its line expects; says so where it does not.
pub(super) fn shows_expected(
    laying: &mut Laying<'_>,
    (expect, line): (&Limit, Span),
    substitute: Span,
    instrument: Option<&Instrument>,
) -> bool {
    let Some(instrument) = instrument else { return true };
    let ends = [expect.range.lower.as_ref(), expect.range.upper.as_ref()];
    let Some(end) = ends.into_iter().flatten().find(|end| !reaches(instrument, &end.value)) else {
        return true;
    };
    let end = said::value(&laying.world.units, &end.value, expect, expect.decimals);
    laying.found.add(&BeyondRange {
        does: "expects",
        limit: expect.written.clone(),
        span: substitute,
        end,
        instrument: instrument.words.said.clone(),
        range: instrument.range_written.clone(),
        declared: instrument.span,
        applies: instrument.applies,
        comes_to: None,
        stands_in: Some(line),
        row: None,
        meant: None,
    });
    false
}

pub(super) fn reaches(instrument: &Instrument, value: &Exact) -> bool {
    let range = &instrument.range;
    let above = range.lower.as_ref().is_none_or(|lower| *value >= lower.value);
    let below = range.upper.as_ref().is_none_or(|upper| *value <= upper.value);
    above && below
}

/// Says that a value lies between two digits of an instrument.
pub(super) fn off_digits(
    laying: &mut Laying<'_>,
    end: &Exact,
    limit: &Limit,
    span: Span,
    instrument: &Instrument,
    fits: &dyn Fn(&Exact, &Exact) -> bool,
) {
    let Some(grid) = super::readings::grid(instrument) else { return };
    let below = grid.snap(end, Rounding::Down);
    let above = grid.snap(end, Rounding::Up);
    let units = &laying.world.units;
    let decimals = super::readings::digits_of(units, instrument, &[]);
    let in_words = |value: &Exact| said::value(units, value, instrument, decimals);
    let fitting = [&below, &above].into_iter().filter(|to| fits(end, to));
    let meant = other_unit::with(units, limit, instrument.unit);
    let on_digits = |range: &Range| {
        let mut ends = range.lower.iter().chain(&range.upper);
        ends.all(|end| reaches(instrument, &end.value) && grid.has(&end.value))
    };
    // One step from nought is a slip of the unit sooner than one of a digit.
    let meant = meant.filter(|range| end.abs() < *grid.step() && on_digits(range));
    let finding = BetweenDigits {
        meant: meant.map(|range| said::range(units, &range, instrument, decimals)),
        end: said::value(units, end, limit, limit.decimals),
        fits: fitting.map(in_words).collect(),
        below: in_words(&below),
        above: in_words(&above),
        span,
        instrument: instrument.words.said.clone(),
        step: instrument.resolution.as_ref().map(|step| step.written.clone()).unwrap_or_default(),
        declared: instrument.span,
    };
    laying.found.add(&finding);
}

/// A range whose ends at a figure are moved to another.
fn ended_at(range: &Range, end: &Exact, to: &Exact) -> Range {
    let moved = |bound: &Option<Bound>| {
        let bound = bound.clone()?;
        let value = if bound.value == *end { to.clone() } else { bound.value };
        Some(Bound { value, ..bound })
    };
    Range { lower: moved(&range.lower), upper: moved(&range.upper) }
}

/// A limit that every reading meets, or none, decides nothing; one that is guarded refuses what lies within its guard.
pub(super) fn decides(laying: &mut Laying<'_>, judged: &Judged<'_>, subject: &Subject<'_>) {
    let Verdict::Accept { limit: of, computed: None } = &judged.verdict else { return };
    let (limit, span) = (&of.limit, of.span);
    let Some(possible) = subject.possible else { return };
    let mut ends = limit.range.lower.iter().chain(&limit.range.upper);
    if subject.instrument.is_some_and(|shows| !ends.all(|end| reaches(shows, &end.value))) {
        return;
    }
    let accepted =
        of.guard.as_ref().map_or_else(|| limit.range.clone(), |guard| guard.accepted(&limit.range));
    let name = subject.name.text.clone();
    let can_be =
        said::range(&laying.world.units, &possible.range, subject.said_in(limit), limit.decimals);
    let (limit_written, bounded_by) = (limit.written.clone(), subject.bounded_by.clone());
    if possible.within(&limit.range).is_none() {
        let between = between_steps(laying, limit, subject);
        let meant = other_unit::decides(laying, limit, subject, possible);
        let turned = turned(laying, &accepted, limit, subject);
        let limit = limit_written;
        laying.found.add(&CannotPass {
            name,
            limit,
            span,
            can_be,
            bounded_by,
            between,
            meant,
            turned,
        });
    } else if uncovered(possible, std::slice::from_ref(&accepted)).is_empty() {
        // What cannot fail behind one caller's lines may fail behind another's; by itself the subtask is judged, too.
        if laying.under_way.len() > 1 {
            return;
        }
        let turned = turned(laying, &accepted, limit, subject);
        let meant = other_unit::decides(laying, limit, subject, possible);
        laying.found.add(&CannotFail {
            meant,
            name,
            limit: limit_written,
            span,
            can_be,
            bounded_by,
            turned,
        });
    } else if of.guard.as_ref().is_some_and(|guard| never_refused(guard, limit, possible)) {
        if laying.under_way.len() == 1 {
            laying.found.add(&NeverRefused { name, span, can_be, bounded_by });
        }
    } else {
        idle_end(laying, limit, &accepted, span, subject);
    }
}

/// Whether what may come reaches into a guard band, and never past it.
fn never_refused(guard: &Guard, limit: &Limit, possible: &Possible) -> bool {
    let not_refused = guard.not_refused(&limit.range);
    guard.may_be_undecided() && uncovered(possible, &[not_refused]).is_empty()
}

/// The two steps of a value between which a limit lies that none of its steps meets.
fn between_steps(
    laying: &Laying<'_>,
    limit: &Limit,
    subject: &Subject<'_>,
) -> Option<(String, String)> {
    let possible = subject.possible?;
    if possible.range.intersect(&limit.range).is_empty() {
        return None;
    }
    let (grid, lower, upper) =
        (possible.grid.as_ref()?, limit.range.lower.as_ref()?, limit.range.upper.as_ref()?);
    let said = |value: &Exact| {
        said::value(&laying.world.units, value, subject.said_in(limit), limit.decimals)
    };
    let (below, above) =
        (grid.snap(&lower.value, Rounding::Down), grid.snap(&upper.value, Rounding::Up));
    Some((said(&below), said(&above)))
}

/// What a difference comes to the other way round, where a limit would refuse some of it.
fn turned(
    laying: &Laying<'_>,
    accepted: &Range,
    limit: &Limit,
    subject: &Subject<'_>,
) -> Option<String> {
    let Some(Expression::Binary(Operator::Subtract, left, right)) = subject.value else {
        return None;
    };
    let point = laying.world.units.difference_of(limit.kind) != limit.kind;
    if point || left.readings().is_empty() || right.readings().is_empty() {
        return None;
    }
    let range = &subject.possible?.range;
    let (lower, upper) = (range.lower.as_ref()?, range.upper.as_ref()?);
    let other = |end: &Bound| Some(Bound { value: -&end.value, ..end.clone() });
    let range = Range { lower: other(upper), upper: other(lower) };
    let in_words =
        || said::range(&laying.world.units, &range, subject.said_in(limit), limit.decimals);
    let passes = Possible { range: range.clone(), grid: None }.within(accepted).is_some();
    (passes && !accepted.covers(&range)).then(in_words)
}

/// Says so where one end of two lies beyond all that can come. Of a tolerance `±` the ends are not written by themselves,
/// and one where the scale ends is written for completeness.
fn idle_end(
    laying: &mut Laying<'_>,
    limit: &Limit,
    accepted: &Range,
    span: Span,
    subject: &Subject<'_>,
) {
    let Some(possible) = subject.possible else { return };
    let (Some(lower), Some(upper)) = (&limit.range.lower, &limit.range.upper) else { return };
    if lower.value == upper.value || limit.written.contains('±') {
        return;
    }
    let units = &laying.world.units;
    let said = |value: &Exact| said::value(units, value, limit, limit.decimals);
    let (idle, live, word) = match beyond_all(accepted, possible) {
        (Some(_), _) => (upper, lower, if lower.closed { "at least" } else { "over" }),
        (None, Some(_)) => (lower, upper, if upper.closed { "at most" } else { "under" }),
        (None, None) => return,
    };
    if ends_the_scale(laying, idle, limit.unit) {
        return;
    }
    let bounded_by = subject.bounded_by.clone();
    let finding = EndNeverMet {
        name: subject.name.text.clone(),
        figure: said(&idle.value),
        span,
        can_be: said::range(units, &possible.range, subject.said_in(limit), limit.decimals),
        of: NeverMet::End { bounded_by, without: format!("{word} {}", said(&live.value)) },
    };
    laying.found.add(&finding);
}

/// An upper end above all that can come, and a lower one below it.
pub(super) fn beyond_all<'r>(
    range: &'r Range,
    possible: &Possible,
) -> (Option<&'r Bound>, Option<&'r Bound>) {
    let (least, most) = (&possible.range.lower, &possible.range.upper);
    let above =
        range.upper.as_ref().filter(|end| most.as_ref().is_some_and(|most| end.value > most.value));
    let below = range
        .lower
        .as_ref()
        .filter(|end| least.as_ref().is_some_and(|least| end.value < least.value));
    (above, below)
}

/// Nought, or all of something: 100 %.
pub(super) fn ends_the_scale(laying: &Laying<'_>, end: &Bound, unit: UnitId) -> bool {
    let number = said::in_unit(&laying.world.units, &end.value, unit);
    let all = laying.world.units.unit(unit).name == "%";
    number == Exact::from_integer(0.into()) || all && number == Exact::from_integer(100.into())
}

/// Holds arms, or the rows of a table, against what their reading can come to; of that they must cover
/// `must`.
pub(super) fn check_rows(
    laying: &mut Laying<'_>,
    arms: &[ActArm],
    body: Span,
    subject: &Subject<'_>,
    must: Option<&Possible>,
) {
    if subject.points.len() > 1 {
        let (name, points) = (subject.name.text.clone(), subject.points.to_vec());
        laying.found.add(&WhichPoint { name, points, body, reading: subject.name.span });
        return;
    }
    let limits: Option<Vec<&Limit>> = arms.iter().map(|arm| arm.range.as_ref()).collect();
    // An arm that could not be read was told; the others cannot be held against each other then.
    let Some(limits) = limits else { return };
    let all: Vec<Range> = limits.iter().map(|limit| limit.range.clone()).collect();
    // Arms that meet at a figure move with it.
    let fits = |end: &Exact, to: &Exact| {
        let moved: Vec<Range> = all.iter().map(|range| ended_at(range, end, to)).collect();
        let part = |possible: &Possible| {
            doubled(possible, &moved).is_empty()
                && moved.iter().all(|range| possible.within(range).is_some())
        };
        subject.possible.is_none_or(part)
            && must.is_none_or(|must| uncovered(must, &moved).is_empty())
    };
    for (limit, arm) in limits.iter().zip(arms) {
        if !reached(laying, limit, (arm.span, "asks for"), subject.instrument, &fits) {
            return;
        }
    }
    let Some(possible) = subject.possible else { return };
    let ranges: Vec<Range> = limits.iter().map(|limit| limit.range.clone()).collect();
    let decimals = limits.iter().map(|limit| limit.decimals).max().unwrap_or(0);
    let gaps = must.map(|must| uncovered(must, &ranges)).unwrap_or_default();
    let units = &laying.world.units;
    let bare = said::In::bare(units, subject.unit);
    let said_in = limits.first().map_or(bare, |limit| said::In::from(*limit));
    let in_words = |range: &Range| said::range(units, range, said_in, decimals);
    let gaps_said: Vec<String> = gaps.iter().map(|gap| in_words(&gap.shown)).collect();
    let overlaps: Vec<(usize, usize, String)> = doubled(possible, &ranges)
        .into_iter()
        .map(|(one, other, shared)| (one, other, in_words(&shared)))
        .collect();
    if !gaps_said.is_empty() {
        let (name, bounded_by) = (subject.name.text.clone(), subject.bounded_by.clone());
        let over = gaps.first().filter(|_| subject.value.is_some());
        let over = over.and_then(|gap| closed_by(&gap.between, &ranges));
        let over = over.map(|arm| in_words(&arm));
        let answers = false;
        laying.found.add(&ArmsGap { name, gaps: gaps_said, body, bounded_by, answers, over });
    }
    for (one, other, shared) in overlaps {
        let (Some(one), Some(other)) = (arms.get(one), arms.get(other)) else { continue };
        let name = subject.name.text.clone();
        laying.found.add(&ArmsOverlap { name, shared, first: one.span, again: other.span });
    }
    never_taken(laying, arms, &ranges, possible, subject);
}

/// The arm above a gap, begun where the one below it ends; none where no two arms meet there.
fn closed_by(gap: &Range, arms: &[Range]) -> Option<Range> {
    let (from, to) = (gap.lower.as_ref()?, gap.upper.as_ref()?);
    let ends = |end: &Option<Bound>, at: &Bound| {
        end.as_ref().is_some_and(|end| end.value == at.value && end.closed != at.closed)
    };
    arms.iter().find(|arm| ends(&arm.upper, from))?;
    let next = arms.iter().find(|arm| ends(&arm.lower, to))?;
    Some(Range { lower: Some(from.clone()), upper: next.upper.clone() })
}

fn never_taken(
    laying: &mut Laying<'_>,
    arms: &[ActArm],
    ranges: &[Range],
    possible: &Possible,
    subject: &Subject<'_>,
) {
    for (arm, range) in arms.iter().zip(ranges) {
        if possible.within(range).is_none() {
            let units = &laying.world.units;
            let bare = said::In::bare(units, subject.unit);
            let said_in = arm.range.as_ref().map_or(bare, |limit| subject.said_in(limit));
            let can_be = said::range(units, &possible.range, said_in, 0);
            let (name, arm_written) = (subject.name.text.clone(), arm.written.clone());
            let bounded_by = subject.bounded_by.clone();
            laying.found.add(&ArmNeverTaken {
                name,
                arm: arm_written,
                span: arm.span,
                can_be,
                bounded_by,
            });
        }
    }
}

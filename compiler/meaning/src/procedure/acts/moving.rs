//! Limits that move: worked out from readings or looked up, and held against all that they may come to.

use super::super::coverage::{Piece, pieces};
use super::super::laying::Laying;
use super::super::said;
use super::limits::{Subject, beyond, beyond_all, ends_the_scale, off_digits};
use super::readings;
use crate::findings::readings::{
    CannotFail, CannotPass, EndNeverMet, MayHoldNothing, NeverMet, RowAgainstOthers,
};
use crate::world::Instrument;
use locknut_finding::{Finding, Span};
use locknut_graph::{Band, Between, ComputedLimit, Expression, Guard, Operator};
use locknut_quantity::{Exact, Grid, Limit, Range, Rounding};
use num_traits::{Signed, Zero};

/// All that something may come to.
#[derive(Clone, Default)]
pub(super) struct Stretch {
    pub(super) least: Option<Exact>,
    pub(super) greatest: Option<Exact>,
    /// Whether it comes to both for certain.
    exact: bool,
}

impl Stretch {
    pub(super) fn of(laying: &Laying<'_>, expression: &Expression) -> Self {
        Self::over(&pieces(expression, &laying.knowns))
    }

    fn over(pieces: &[Piece]) -> Self {
        let ranges = || pieces.iter().map(|piece| &piece.possible.range);
        let least = ranges().map(|range| Some(&range.lower.as_ref()?.value));
        let greatest = ranges().map(|range| Some(&range.upper.as_ref()?.value));
        let least: Option<Vec<&Exact>> = least.collect();
        let greatest: Option<Vec<&Exact>> = greatest.collect();
        Self {
            least: least.and_then(|all| all.into_iter().min().cloned()),
            greatest: greatest.and_then(|all| all.into_iter().max().cloned()),
            exact: pieces.iter().all(|piece| piece.exact),
        }
    }

    /// This less the other, where they have nothing to do with each other.
    pub(super) fn less(&self, other: &Self) -> Self {
        let less =
            |one: &Option<Exact>, other: &Option<Exact>| Some(one.as_ref()? - other.as_ref()?);
        Self {
            least: less(&self.least, &other.greatest),
            greatest: less(&self.greatest, &other.least),
            exact: self.exact && other.exact,
        }
    }

    fn of_range(range: &Range) -> Self {
        Self {
            least: range.lower.as_ref().map(|end| end.value.clone()),
            greatest: range.upper.as_ref().map(|end| end.value.clone()),
            exact: true,
        }
    }

    fn ends(&self) -> impl Iterator<Item = &Exact> {
        self.least.iter().chain(&self.greatest)
    }

    /// Always so far above nought that a limit there refuses it.
    fn always_beyond(&self, closed: bool) -> bool {
        self.least.as_ref().is_some_and(|least| least.is_positive() || (!closed && least.is_zero()))
    }

    /// Never so far.
    fn never_beyond(&self, closed: bool) -> bool {
        self.greatest.as_ref().is_some_and(|most| most.is_negative() || (closed && most.is_zero()))
    }
}

/// One end of a limit that moves.
struct End<'a> {
    at: &'a Expression,
    closed: bool,
    /// Whether what lies above it is refused, and not what lies below.
    upper: bool,
    pieces: Vec<Piece>,
    stretch: Stretch,
}

impl<'a> End<'a> {
    fn of(laying: &Laying<'_>, ends: &'a ComputedLimit) -> Vec<Self> {
        let lower = ends.lower.iter().map(|end| (end, false));
        let upper = ends.upper.iter().map(|end| (end, true));
        let end = |((at, closed), upper): (&'a (Expression, bool), bool)| {
            let pieces = pieces(at, &laying.knowns);
            let stretch = Stretch::over(&pieces);
            Self { at, closed: *closed, upper, pieces, stretch }
        };
        lower.chain(upper).map(end).collect()
    }

    /// How far the value lies beyond this end; below nought where it lies inside.
    fn margin(&self, laying: &Laying<'_>, subject: &Subject<'_>) -> Stretch {
        if let Some(value) = subject.value {
            let (from, less) = if self.upper { (value, self.at) } else { (self.at, value) };
            return Stretch::of(laying, &difference(from, less));
        }
        let Some(possible) = subject.possible else { return Stretch::default() };
        let drawn = possible.within(&Range::default()).unwrap_or_else(|| possible.range.clone());
        let value = Stretch::of_range(&drawn);
        if self.upper { value.less(&self.stretch) } else { self.stretch.less(&value) }
    }

    /// Whether each figure that it comes to is one that stands on these digits.
    fn on_digits(&self, digits: &Grid) -> bool {
        self.pieces.iter().all(|piece| piece.lies_on(digits))
    }
}

/// The difference of two sums. What is looked up in both falls out, however many readings it goes by.
pub(super) fn difference(from: &Expression, less: &Expression) -> Expression {
    let minus = |from: Expression, less: Expression| {
        Expression::Binary(Operator::Subtract, Box::new(from), Box::new(less))
    };
    let (mut plus, mut taken) = (Vec::new(), Vec::new());
    terms(from, false, &mut plus, &mut taken);
    terms(less, true, &mut plus, &mut taken);
    let looked_up = |term: &&Expression| !term.tables().is_empty();
    let Some((at, with)) = plus.iter().enumerate().find_map(|(at, term)| {
        let with = taken.iter().position(|other| looked_up(term) && other == term)?;
        Some((at, with))
    }) else {
        return minus(from.clone(), less.clone());
    };
    plus.remove(at);
    taken.remove(with);
    let sum = |parts: Vec<&Expression>| {
        let add = |one, other: Expression| {
            Expression::Binary(Operator::Add, Box::new(one), Box::new(other))
        };
        parts.into_iter().cloned().reduce(add)
    };
    match (sum(plus), sum(taken)) {
        (Some(plus), Some(taken)) => difference(&plus, &taken),
        (Some(plus), None) => plus,
        (None, Some(taken)) => Expression::Negative(Box::new(taken)),
        // They are one and the same.
        (None, None) => minus(from.clone(), from.clone()),
    }
}

/// The terms of a sum, those that are added and those that are taken away.
fn terms<'e>(
    of: &'e Expression,
    less: bool,
    plus: &mut Vec<&'e Expression>,
    taken: &mut Vec<&'e Expression>,
) {
    match of {
        Expression::Binary(operator @ (Operator::Add | Operator::Subtract), one, other) => {
            terms(one, less, plus, taken);
            terms(other, less != (*operator == Operator::Subtract), plus, taken);
        }
        Expression::Negative(inner) => terms(inner, !less, plus, taken),
        Expression::Value(_)
        | Expression::Reading(_)
        | Expression::Point(..)
        | Expression::Fold(..)
        | Expression::LookUp(..)
        | Expression::Binary(Operator::Multiply | Operator::Divide, ..) => {
            if less { taken } else { plus }.push(of);
        }
    }
}

/// Holds a limit that moves against what its reading can come to.
pub(super) fn check(
    laying: &mut Laying<'_>,
    limit: &Limit,
    computed: &ComputedLimit,
    span: Span,
    subject: &Subject<'_>,
) {
    let ends = End::of(laying, computed);
    let widest = widest(&ends);
    if let Some(instrument) = subject.instrument {
        let mut all = ends.iter().flat_map(|end| end.stretch.ends());
        if let Some(end) = all.find(|end| !super::limits::reaches(instrument, end)) {
            let row = ends.iter().find_map(|end| one_row_beyond(laying, end.at, instrument));
            if let Some(row) = row {
                laying.found.take_back(RowAgainstOthers::PAGE.code(), row);
            }
            let comes_to = Some((&widest, row));
            beyond(laying, end, limit, (span, "may accept"), instrument, comes_to);
            return;
        }
    }
    if holds_nothing(laying, limit, computed, span, (&ends, subject)) {
        return;
    }
    if decides(laying, limit, span, &ends, subject) {
        end_beyond(laying, limit, span, &ends, subject);
        if let Some(instrument) = subject.instrument {
            digits(laying, limit, span, &ends, instrument);
        }
    }
}

/// The row of a table that alone lies beyond what the instrument shows: a slip of a unit or of a nought stands there, and
/// not where the limit is used.
fn one_row_beyond(laying: &Laying<'_>, end: &Expression, instrument: &Instrument) -> Option<Span> {
    let Expression::LookUp(table, ..) = end else { return None };
    let shown = |range: &Range| {
        [&range.lower, &range.upper]
            .into_iter()
            .flatten()
            .all(|end| super::limits::reaches(instrument, &end.value))
    };
    let beyond = table.rows.iter().enumerate().filter(|(_, (_, value))| !shown(&value.range));
    let beyond: Vec<usize> = beyond.map(|(at, _)| at).collect();
    let [at] = beyond.as_slice() else { return None };
    let rows = laying.world.table_rows.get(&table.words.name)?;
    rows.get(*at).copied().filter(|_| rows.len() > 2)
}

/// Says so where an end that stands fast, or that a table gives, lies beyond all that can come. Of an end that is worked
/// out otherwise nothing is said: it may well move out of reach.
fn end_beyond(
    laying: &mut Laying<'_>,
    limit: &Limit,
    span: Span,
    ends: &[End<'_>],
    subject: &Subject<'_>,
) {
    let Some(possible) = subject.possible else { return };
    for end in ends {
        let stands_fast = end.at.readings().is_empty() && end.at.tables().is_empty();
        let table = if let Expression::LookUp(table, ..) = end.at { Some(table) } else { None };
        if table.is_none() && !stands_fast {
            continue;
        }
        let all = widest(std::slice::from_ref(end));
        let (above, below) = beyond_all(&all, possible);
        let idle = above.or(below).filter(|idle| !ends_the_scale(laying, idle, limit.unit));
        let Some(idle) = idle else { continue };
        let units = &laying.world.units;
        let of_rows = table.iter().flat_map(|table| &table.rows).map(|(_, value)| value.decimals);
        let decimals = of_rows.max().unwrap_or(limit.decimals);
        let bounded_by = subject.bounded_by.clone();
        let finding = EndNeverMet {
            name: subject.name.text.clone(),
            figure: said::value(units, &idle.value, limit, decimals.max(as_written(end.at))),
            span,
            can_be: said::range(units, &possible.range, subject.said_in(limit), decimals),
            of: match table {
                Some(_) => NeverMet::LookedUp { bounded_by, written: limit.written.clone() },
                None => NeverMet::End { bounded_by, without: without(limit, end.upper) },
            },
        };
        laying.found.add(&finding);
        return;
    }
}

/// With how many digits after the point an end is written that is a figure.
fn as_written(end: &Expression) -> u32 {
    if let Expression::Value(figure) = end { figure.decimals } else { 0 }
}

/// A limit without its upper end, or without its lower one: `at least push(upper)`.
fn without(limit: &Limit, upper: bool) -> String {
    match limit.written.split_once("..") {
        Some((lower, _)) if upper => format!("at least {}", lower.trim()),
        Some((_, upper)) => format!("at most {}", upper.trim()),
        None => "the other end alone".to_owned(),
    }
}

/// Whether a limit is worked out from readings that a value is worked out from, too.
pub(super) fn together(value: &Expression, limit: &ComputedLimit) -> bool {
    limit.lower.iter().chain(&limit.upper).any(|(end, _)| shares(value, end))
}

pub(super) fn shares(one: &Expression, other: &Expression) -> bool {
    !one.readings().is_disjoint(&other.readings())
}

/// Whether of a value that moves with its limit something lies inside of an end, and nothing so far inside as its band
/// is wide.
pub(super) fn leaves_nothing(
    laying: &Laying<'_>,
    value: &Expression,
    limit: &ComputedLimit,
    guard: &Guard,
) -> bool {
    let of_end = |end: &Option<(Expression, bool)>, band: &Option<Band>, upper: bool| {
        let (Some((end, closed)), Some(band)) = (end, band) else { return false };
        let (from, less) = if upper { (value, end) } else { (end, value) };
        let margin = Stretch::of(laying, &difference(from, less));
        let drawn_in = Stretch {
            least: margin.least.as_ref().map(|least| least + &band.inward),
            ..margin.clone()
        };
        !margin.always_beyond(*closed) && drawn_in.always_beyond(*closed)
    };
    let (Some((lower, below)), Some((upper, above))) = (&limit.lower, &limit.upper) else {
        return of_end(&limit.lower, &guard.lower, false)
            || of_end(&limit.upper, &guard.upper, true);
    };
    let both = [&guard.lower, &guard.upper].into_iter().flatten();
    let bands = both.fold(Exact::zero(), |sum, band| sum + &band.inward);
    let widest = Stretch::of(laying, &difference(upper, lower)).greatest;
    let too_narrow = widest.is_some_and(|widest| {
        !widest.is_negative() && (widest < bands || (widest == bands && !(*below && *above)))
    });
    too_narrow
        || of_end(&limit.lower, &guard.lower, false)
        || of_end(&limit.upper, &guard.upper, true)
}

/// All that a limit accepts, wherever it lies.
pub(super) fn widest_of(laying: &Laying<'_>, computed: &ComputedLimit) -> Range {
    widest(&End::of(laying, computed))
}

fn widest(ends: &[End<'_>]) -> Range {
    of_ends(ends, |stretch, upper| if upper { &stretch.greatest } else { &stretch.least })
}

/// What it accepts wherever it lies.
fn narrowest(ends: &[End<'_>]) -> Range {
    of_ends(ends, |stretch, upper| if upper { &stretch.least } else { &stretch.greatest })
}

fn of_ends(ends: &[End<'_>], at: impl Fn(&Stretch, bool) -> &Option<Exact>) -> Range {
    ends.iter().fold(Range::default(), |range, end| match at(&end.stretch, end.upper) {
        Some(value) if end.upper => range.intersect(&Range::up_to(value.clone(), end.closed)),
        Some(value) => range.intersect(&Range::from(value.clone(), end.closed)),
        None => range,
    })
}

/// From its lower to its upper end where they lie closest; none where it has but one, or where nobody can tell.
pub(super) fn narrowest_width(laying: &Laying<'_>, limit: &ComputedLimit) -> Option<Exact> {
    let ((lower, _), (upper, _)) = (limit.lower.as_ref()?, limit.upper.as_ref()?);
    let width = Stretch::of(laying, &difference(upper, lower));
    width.least.filter(|_| width.exact)
}

/// The row of the one table that a limit is looked up in, where its tolerance is least; none where all are alike.
pub(super) fn narrowest_row(laying: &Laying<'_>, limit: &ComputedLimit) -> Option<(Span, String)> {
    let (lower, upper) = (&limit.lower.as_ref()?.0, &limit.upper.as_ref()?.0);
    let (Expression::LookUp(table, ..), Expression::LookUp(other, ..)) = (lower, upper) else {
        return None;
    };
    if table != other {
        return None;
    }
    let widths = table.rows.iter().map(|(_, value)| value.range.width());
    let widths: Vec<Exact> = widths.collect::<Option<_>>()?;
    let least = widths.iter().min()?;
    let at = widths.iter().position(|width| width == least)?;
    if widths.iter().filter(|width| *width == least).count() > 1 {
        return None;
    }
    let (key, value) = table.rows.get(at)?;
    let place = laying.world.table_rows.get(&table.words.name)?.get(at)?;
    Some((*place, format!("{} -> {}", key.written, value.written)))
}

/// Says so where its ends may come so close, or past each other, that nothing lies between them.
fn holds_nothing(
    laying: &mut Laying<'_>,
    limit: &Limit,
    computed: &ComputedLimit,
    span: Span,
    (ends, subject): (&[End<'_>], &Subject<'_>),
) -> bool {
    let Some(least) = narrowest_width(laying, computed) else { return false };
    let closed = ends.iter().all(|end| end.closed);
    let units = &laying.world.units;
    let zero = units.unit(subject.unit).zero.clone();
    let in_words = |width: &Exact| {
        said::value(units, &(width + &zero), said::In::bare(units, subject.unit), 0)
    };
    let why = if least.is_negative() || (least.is_zero() && !closed) {
        format!("its upper end may lie {} below its lower end", in_words(&least.abs()))
    } else {
        let digits = subject.instrument.filter(|instrument| instrument.error.is_none());
        // Where an error is stated, it is half a step at least, and the ratio speaks for it.
        let Some(digits) = digits.and_then(readings::grid) else { return false };
        if least >= *digits.step() || ends.iter().all(|end| end.on_digits(&digits)) {
            return false;
        }
        let (width, step) = (in_words(&least), in_words(digits.step()));
        format!("it may be {width} wide, and what reads it goes in steps of {step}")
    };
    let (name, limit) = (subject.name.text.clone(), limit.written.clone());
    laying.found.add(&MayHoldNothing { name, limit, span, why });
    true
}

/// A limit that every reading meets, or none, wherever it comes to lie, decides nothing.
fn decides(
    laying: &mut Laying<'_>,
    limit: &Limit,
    span: Span,
    ends: &[End<'_>],
    subject: &Subject<'_>,
) -> bool {
    let Some(possible) = subject.possible else { return true };
    let margins: Vec<(Stretch, bool)> =
        ends.iter().map(|end| (end.margin(laying, subject), end.closed)).collect();
    let never = margins.iter().any(|(margin, closed)| margin.always_beyond(*closed));
    let always = margins.iter().all(|(margin, closed)| margin.never_beyond(*closed));
    if !never && !always {
        return true;
    }
    let name = subject.name.text.clone();
    let units = &laying.world.units;
    let can_be = said::range(units, &possible.range, subject.said_in(limit), limit.decimals);
    let at = if never { widest(ends) } else { narrowest(ends) };
    let at = said::range(units, &at, subject.said_in(limit), limit.decimals);
    let together = subject.value.is_some_and(|value| ends.iter().any(|end| shares(value, end.at)));
    let (written, why) = (limit.written.clone(), &subject.bounded_by);
    let bounded_by = match (together, never) {
        (true, _) => format!("“{written}” is worked out from the same readings, and moves with it"),
        (_, true) => format!("“{written}” comes to {at} where it is widest; {why}"),
        (_, false) => format!("“{written}” comes to {at} where it is narrowest; {why}"),
    };
    if never {
        laying.found.add(&CannotPass {
            name,
            limit: written,
            span,
            can_be,
            bounded_by,
            between: None,
            meant: None,
            turned: None,
        });
    } else {
        laying.found.add(&CannotFail {
            name,
            limit: written,
            span,
            can_be,
            bounded_by,
            turned: None,
            meant: None,
        });
    }
    false
}

/// Says so where an end never lies on the digits of the instrument, or never moves by one.
fn digits(
    laying: &mut Laying<'_>,
    limit: &Limit,
    span: Span,
    ends: &[End<'_>],
    instrument: &Instrument,
) {
    let Some(digits) = readings::grid(instrument) else { return };
    for end in ends {
        // Between two rows in proportion it lies anywhere, and no author can write it otherwise.
        let tables = end.at.tables();
        if tables.iter().any(|table| table.between == Between::Proportion) {
            continue;
        }
        let (Some(least), Some(most)) = (&end.stretch.least, &end.stretch.greatest) else {
            continue;
        };
        let snap = |value: &Exact| digits.snap(value, Rounding::Down);
        let within_one = !end.on_digits(&digits) && snap(least) == snap(most);
        let beside = end.pieces.iter().find(|piece| piece.lies_beside(&digits));
        let beside = beside.and_then(|piece| piece.possible.range.lower.as_ref());
        let told = beside.map(|end| &end.value).or_else(|| within_one.then_some(least));
        if let Some(value) = told {
            off_digits(laying, value, limit, span, instrument, &|_, _| true);
            return;
        }
    }
}

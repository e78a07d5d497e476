//! Making a reading known: to the graph, to the lines below, and to what is reckoned with it.

use super::super::coverage::{Known, Linear, Possible, Uncertain};
use super::super::laying::Laying;
use super::super::said;
use super::super::scope::Named;
use crate::findings::names::DoubledName;
use crate::world::Instrument;
use locknut_finding::Span;
use locknut_graph::{
    Reading, ReadingId, ReadingKind, Value, Variable, VariableId, VariableKind, Words,
};
use locknut_quantity::{Exact, Grid, KindId, Limit, Range, UnitId, Units};
use locknut_syntax::tree::Name;
use num_traits::Zero;

/// A number in the making.
pub(super) struct Number {
    pub(super) kind: KindId,
    pub(super) unit: UnitId,
    pub(super) decimals: u32,
    pub(super) points: Vec<String>,
    pub(super) possible: Possible,
    pub(super) usually: Option<Limit>,
    pub(super) rough: bool,
    /// Of a computed value: what it is computed from.
    pub(super) sum: Option<Linear>,
    /// How far each point may be from the true one; none: not stated.
    pub(super) doubt: Option<Uncertain>,
    /// Whether its range is what is expected, and not only what can be shown.
    pub(super) expected: bool,
    /// Whether lines below can speak of it by its name.
    pub(super) named: bool,
}

/// Makes a number known by its name.
pub(super) fn number(laying: &mut Laying<'_>, name: &Name, number: Number) -> ReadingId {
    let Number {
        kind,
        unit,
        decimals,
        points,
        possible,
        usually,
        rough,
        sum,
        doubt,
        expected,
        named,
    } = number;
    let words: Vec<Words> = points.iter().map(|point| Words::of(point)).collect();
    let known = Known {
        points: points.len().max(1),
        possible,
        sum,
        doubt,
        expected,
        settled: false,
        rows: None,
    };
    let kind_of = ReadingKind::Quantity { kind, unit, decimals };
    let id = add(laying, name, kind_of, words);
    laying.knowns.insert(id, known);
    if !named {
        return id;
    }
    name_it(
        laying,
        name,
        |named| Named { number: Some((kind, unit)), points, usually, rough, ..named },
        id,
    );
    id
}

/// Makes an answer known, with a variable where some condition asks for it.
pub(super) fn answer(
    laying: &mut Laying<'_>,
    name: &Name,
    answers: &[String],
) -> (ReadingId, Option<VariableId>) {
    let words: Vec<Words> = answers.iter().map(|answer| Words::of(answer)).collect();
    let asked = laying.scope.mentions.asked.contains(&name.text);
    let variable = asked.then(|| {
        let value = |words: &Words| Value { words: words.clone(), span: name.span };
        laying.build.add_variable(Variable {
            words: Words::of(&name.text),
            values: words.iter().map(value).collect(),
            normal: 0,
            kind: VariableKind::Observation,
            span: name.span,
        })
    });
    let id = add(laying, name, ReadingKind::Answer { answers: words, variable }, Vec::new());
    let answers = answers.to_vec();
    name_it(laying, name, |named| Named { variable, answers, ..named }, id);
    (id, variable)
}

/// Makes something written down known.
pub(super) fn record(laying: &mut Laying<'_>, name: &Name, kind: ReadingKind) -> ReadingId {
    let id = add(laying, name, kind, Vec::new());
    name_it(laying, name, |named| named, id);
    id
}

/// Something written down that no line below speaks of.
pub(super) fn unnamed(
    laying: &mut Laying<'_>,
    said: &str,
    kind: ReadingKind,
    span: Span,
) -> ReadingId {
    let at = laying.scope.done_at();
    let reading = Reading { words: Words::of(said), kind, points: Vec::new(), at, span };
    laying.build.add_reading(reading)
}

fn add(laying: &mut Laying<'_>, name: &Name, kind: ReadingKind, points: Vec<Words>) -> ReadingId {
    let (words, span) = (Words::of(&name.text), name.span);
    let at = laying.scope.done_at();
    laying.build.add_reading(Reading { words, kind, points, at, span })
}

fn name_it(laying: &mut Laying<'_>, name: &Name, more: impl FnOnce(Named) -> Named, id: ReadingId) {
    if let Some(first) = laying.scope.readings.get(&name.text).map(|named| named.span) {
        let (what, again) = ("reading".to_owned(), name.span);
        laying.found.add(&DoubledName { what, name: name.text.clone(), first, again });
        return;
    }
    // From the next line on the name would stand for the reading, and the figure be lost without a word.
    let declared =
        laying.model.limits.get(&name.text).or_else(|| laying.world.limits.get(&name.text));
    if let Some(first) = declared.map(|limit| limit.span) {
        let (what, again) = ("reading".to_owned(), name.span);
        laying.found.add(&DoubledName { what, name: name.text.clone(), first, again });
    }
    let named = more(Named {
        id,
        number: None,
        points: Vec::new(),
        variable: None,
        rough: false,
        answers: Vec::new(),
        usually: None,
        span: name.span,
    });
    laying.scope.names.insert(id, name.text.clone());
    laying.scope.readings.insert(name.text.clone(), named);
}

/// What an instrument can show, within what is expected.
pub(super) fn shown_by(instrument: &Instrument, expect: Option<&Limit>) -> Possible {
    let range = match expect {
        Some(expect) => instrument.range.intersect(&expect.range),
        None => instrument.range.clone(),
    };
    Possible { range, grid: grid(instrument) }
}

/// The digits of an instrument.
pub(super) fn grid(instrument: &Instrument) -> Option<Grid> {
    let step = instrument.resolution.as_ref()?.value.clone();
    Grid::of_instrument(&instrument.range, step)
}

/// Digits after the point on the instrument's display.
pub(super) fn digits_of(units: &Units, instrument: &Instrument, limits: &[&Limit]) -> u32 {
    let in_unit = |value: &Exact| value / &units.unit(instrument.unit).factor;
    let step =
        instrument.resolution.as_ref().and_then(|step| said::decimals(&in_unit(&step.value)));
    step.unwrap_or_else(|| limits.iter().map(|limit| limit.decimals).max().unwrap_or(1))
}

/// Whole numbers from zero up, within what is expected.
pub(super) fn whole_numbers(expect: Option<&Limit>) -> Possible {
    let from_zero = Range::from(Exact::zero(), true);
    let range = expect.map_or(from_zero.clone(), |expect| from_zero.intersect(&expect.range));
    let step = Exact::from_integer(1.into());
    Possible { range, grid: Grid::new(Exact::zero(), step) }
}

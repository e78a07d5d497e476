//! Which sides of a limit a substitute tells: `answers low only`.

use super::super::laying::Laying;
use super::super::said;
use super::measure::{About, Accepts};
use super::{readings, shape};
use crate::findings::readings::{
    AcceptsMore, AnswersOtherwise, NoCommonLimit, NothingAnswered, OneSideOnly,
};
use locknut_finding::Span;
use locknut_graph::{Prose, Side};
use locknut_quantity::{Bound, Exact, Range};
use locknut_syntax::tree::{Answers, Substitute};
use num_traits::Zero;

/// What a substitute tells of the limit of its line.
#[derive(Default)]
pub(super) struct Told {
    /// The sides that it leaves open.
    pub(super) open: Vec<Side>,
    /// What its author notes of that.
    pub(super) noting: Option<Prose>,
}

/// Holds a substitute against the limit of its line.
pub(super) fn told(
    laying: &mut Laying<'_>,
    line: &About,
    own: &About,
    substitute: &Substitute,
) -> Told {
    let noting = substitute.answers.as_ref().and_then(|answers| answers.noting.as_ref());
    let noting = noting.map(|noting| laying.prose(noting));
    // A limit that could not be read is told already.
    let (Some(of_line), Some(of_own)) = (&line.accepts, &own.accepts) else {
        return Told { open: Vec::new(), noting };
    };
    let said = match &substitute.answers {
        Some(answers) => {
            let Some(said) = sides_said(&answers.sides) else {
                let words = answers.sides.iter().map(|word| word.span);
                let span = words.reduce(Span::to).unwrap_or(answers.span);
                let (written, name) = (laying.written(span), line.name.text.clone());
                laying.found.add(&AnswersOtherwise::unknown(span, written, name));
                return Told { open: Vec::new(), noting };
            };
            Some((said, answers))
        }
        None => None,
    };
    let held = Held { line, of_line, of_own, substitute };
    let open = if substitute.same {
        held.same(laying, said.as_ref())
    } else {
        held.other(laying, own, said.as_ref())
    };
    Told { open, noting }
}

/// What is held against each other.
struct Held<'a> {
    line: &'a About,
    of_line: &'a Accepts,
    of_own: &'a Accepts,
    substitute: &'a Substitute,
}

impl Held<'_> {
    /// The sides on which the limit of the line refuses anything that is expected there; all of them where nothing is.
    fn asked(&self) -> Vec<Side> {
        let all = sides(&self.of_line.range);
        let Some(expect) = self.line.expected.expect.as_ref().filter(|_| !self.of_line.computed)
        else {
            return all;
        };
        let reached = |side: &Side| refuses(*side, &self.of_line.range, &expect.range);
        if all.iter().any(reached) { all.into_iter().filter(reached).collect() } else { all }
    }

    /// Figures of the same quantity can be compared.
    fn same(&self, laying: &mut Laying<'_>, said: Option<&(Vec<Side>, &Answers)>) -> Vec<Side> {
        let (line, own) = (self.of_line, self.of_own);
        if line.computed || own.computed {
            if line.written != own.written {
                let (line, own) = (line.span, own.span);
                laying.found.add(&NoCommonLimit { line, own });
            }
            return Vec::new();
        }
        let asked = self.asked();
        if let Some(side) = asked.iter().find(|side| laxer(**side, &line.range, &own.range)) {
            laying.found.add(&AcceptsMore {
                name: self.line.name.text.clone(),
                side: *side,
                line: (line.written.clone(), line.span),
                own: (own.written.clone(), own.span),
                within: self.within(laying),
            });
            return Vec::new();
        }
        let has = sides(&own.range);
        let (told, open): (Vec<Side>, Vec<Side>) =
            asked.iter().partition(|side| has.contains(side));
        match said {
            None if open.is_empty() => {}
            None => laying.found.add(&OneSideOnly {
                name: self.line.name.text.clone(),
                open: open.clone(),
                line: (line.written.clone(), line.span),
                own: (own.written.clone(), own.span),
            }),
            Some((said, answers)) => {
                if !asked.iter().all(|side| said.contains(side) == told.contains(side)) {
                    laying.found.add(&AnswersOtherwise::than_its_limit(
                        answers.span,
                        self.line.name.text.clone(),
                        &told,
                        (own.written.clone(), own.span),
                    ));
                    return Vec::new();
                }
            }
        }
        open
    }

    /// What both accept, of the ends that the substitute has, drawn in to its digits.
    fn within(&self, laying: &Laying<'_>) -> Option<String> {
        let named = shape::names(&self.substitute.act, "using").into_iter();
        let mut named = named.filter_map(|name| laying.world.instruments.get(&name.text));
        let instrument = named.next()?;
        let (line, own) = (&self.of_line.range, &self.of_own.range);
        let of_line = Range {
            lower: line.lower.clone().filter(|_| own.lower.is_some()),
            upper: line.upper.clone().filter(|_| own.upper.is_some()),
        };
        let both = own.intersect(&of_line);
        let drawn = readings::grid(instrument).map_or(both.clone(), |grid| grid.draw_in(&both));
        let units = &laying.world.units;
        let decimals = readings::digits_of(units, instrument, &[]);
        // One digit is no limit that an instrument keeps, and a card knows but its own.
        let none = drawn.is_empty() || drawn.single().is_some() || instrument.one_limit;
        (!none).then(|| said::range(units, &drawn, instrument, decimals))
    }

    /// Of another quantity nothing can be compared: what it tells is its author's word.
    fn other(
        &self,
        laying: &mut Laying<'_>,
        own: &About,
        said: Option<&(Vec<Side>, &Answers)>,
    ) -> Vec<Side> {
        let Some((said, answers)) = said else {
            laying.found.add(&NothingAnswered {
                name: self.line.name.text.clone(),
                other: own.name.text.clone(),
                substitute: self.substitute.act.verb.span.to(own.name.span),
                line: self.of_line.span,
                asked: self.asked(),
            });
            return Vec::new();
        };
        let asked = self.asked();
        let (told, open): (Vec<Side>, Vec<Side>) =
            asked.iter().partition(|side| said.contains(side));
        // What stands for one end of a line passes whatever is beyond the other.
        if told.len() > 1 && sides(&self.of_own.range).len() < 2 {
            laying.found.add(&AnswersOtherwise::than_one_end(
                answers.span,
                self.line.name.text.clone(),
                (self.of_own.written.clone(), self.of_own.span),
            ));
            return Vec::new();
        }
        // And whatever lies beyond an end that tells the other side is passed by as well.
        if asked.len() > 1 && said.len() < 2 && written_sides(&self.of_own.range) > 1 {
            laying.found.add(&AnswersOtherwise::than_two_ends(
                answers.span,
                self.line.name.text.clone(),
                (self.of_own.written.clone(), self.of_own.span),
            ));
            return Vec::new();
        }
        if told.is_empty() {
            laying.found.add(&AnswersOtherwise::than_is_asked(
                answers.span,
                self.line.name.text.clone(),
                (self.of_line.written.clone(), self.of_line.span),
            ));
            return Vec::new();
        }
        open
    }
}

/// The words behind `answers`; none: nobody can tell what they mean.
fn sides_said(words: &[locknut_syntax::tree::Name]) -> Option<Vec<Side>> {
    let words: Vec<&str> = words.iter().map(|word| word.text.as_str()).collect();
    match words.as_slice() {
        ["low", "only"] => Some(vec![Side::Low]),
        ["high", "only"] => Some(vec![Side::High]),
        ["low", "high"] | ["high", "low"] => Some(vec![Side::Low, Side::High]),
        _ => None,
    }
}

/// The sides on which a limit refuses anything.
fn sides(range: &Range) -> Vec<Side> {
    let low = range.lower.as_ref().map(|_| Side::Low);
    let high = range.upper.as_ref().map(|_| Side::High);
    low.into_iter().chain(high).collect()
}

/// How many of its ends tell anything: below nought nothing is, and such an end is written for completeness.
fn written_sides(range: &Range) -> usize {
    let lower = range.lower.iter().filter(|lower| !lower.value.is_zero());
    lower.chain(&range.upper).count()
}

/// Whether something of what is expected lies beyond an end of a limit.
fn refuses(side: Side, limit: &Range, expected: &Range) -> bool {
    let beyond =
        |end: &Option<Bound>, most: &Option<Bound>, further: fn(&Exact, &Exact) -> bool| {
            let (Some(end), Some(most)) = (end, most) else { return end.is_some() };
            let at_it = most.value == end.value && most.closed && !end.closed;
            further(&most.value, &end.value) || at_it
        };
    match side {
        Side::Low => beyond(&limit.lower, &expected.lower, |most, end| most < end),
        Side::High => beyond(&limit.upper, &expected.upper, |most, end| most > end),
    }
}

/// Whether a substitute's own end lets through what the line's end refuses.
fn laxer(side: Side, line: &Range, own: &Range) -> bool {
    let beyond = |line: &Bound, own: &Bound, further: bool| {
        further || (line.value == own.value && own.closed && !line.closed)
    };
    match side {
        Side::Low => line
            .lower
            .as_ref()
            .zip(own.lower.as_ref())
            .is_some_and(|(line, own)| beyond(line, own, own.value < line.value)),
        Side::High => line
            .upper
            .as_ref()
            .zip(own.upper.as_ref())
            .is_some_and(|(line, own)| beyond(line, own, own.value > line.value)),
    }
}

//! Whether some size of a choice fits for every reading for which one must.

use super::super::coverage::{Atom, Cover, Gap, Knowns, Linear, Subject, cover, idle, linear};
use super::super::laying::Laying;
use super::super::said;
use super::choose::otherwise;
use super::shape::clause;
use crate::findings::readings::{
    AlwaysFits, ChoiceGap, ChoiceNotShown, NoPreference, NothingFits, SizeNeverTaken,
};
use locknut_finding::Span;
use locknut_graph::{Choice, ReadingId, ReadingKind, is_far_off};
use locknut_quantity::{Bound, Exact, Limit, UnitId};
use locknut_syntax::tree::{Act, ClauseValue, Name, Set};

/// So many single values are listed; more are said from the first to the last.
const MOST_LISTED: usize = 5;

/// What messages about the choice need of its line.
pub(super) struct Written<'w> {
    pub(super) name: &'w Name,
    pub(super) act: &'w Act,
    pub(super) prefers: bool,
    /// Where the sizes are declared.
    pub(super) sizes: Option<Span>,
    /// The unit of the result.
    pub(super) unit: UnitId,
}

/// Whether something fits for every reading for which it must.
pub(super) fn judge(
    laying: &mut Laying<'_>,
    choice: &Choice,
    usually: &[(ReadingId, Limit)],
    written: &Written<'_>,
) {
    let members: Vec<Exact> = choice.set.iter().map(|member| member.size.value.clone()).collect();
    let covered = |knowns: &Knowns| {
        cover(&choice.value, choice.reading, &members, &choice.range.range, knowns)
    };
    let Some(all) = covered(&laying.knowns) else {
        let name = written.name.text.clone();
        let rests_on = rests_on(laying, choice, written);
        laying.found.add(&ChoiceNotShown { name, span: written.act.span, rests_on });
        return;
    };
    if !all.depends || all.never {
        let (name, result) = (written.name.text.clone(), choice.target.said.clone());
        let (range, depends) = (choice.range.written.clone(), all.depends);
        let (span, rests_on) = (written.act.span, rests_on(laying, choice, written));
        laying.found.add(&NothingFits { name, result, range, span, rests_on, depends });
        return;
    }
    if all.several && !written.prefers {
        let name = written.name.text.clone();
        let (span, stacked) = (written.act.span, choice.stacked.is_some());
        laying.found.add(&NoPreference { name, span, stacked });
    }
    if all.gaps.is_empty() {
        always_fits(laying, choice, written);
    }
    let must = match (choice.otherwise, usually.is_empty()) {
        (false, _) => Some(all),
        (true, false) => linear(&choice.value, &laying.knowns)
            .and_then(|sum| covered(&narrowed(&laying.knowns, &sum, usually))),
        (true, true) => None,
    };
    let Some(must) = must.filter(|must| !must.gaps.is_empty()) else {
        never_taken(laying, choice, (&members, usually), written);
        return;
    };
    let gaps = gaps_said(laying, &must, choice, written.unit);
    let range = &choice.range.range;
    let alone = choice
        .stacked
        .is_none()
        .then(|| idle(&choice.value, choice.reading, &members, range, &laying.knowns));
    let sizes = alone.into_iter().flatten().filter_map(|at| choice.set.get(at));
    let sizes: Vec<String> = sizes.map(|member| member.size.written.clone()).collect();
    let name = written.name.text.clone();
    let of = subject_said(laying, must.of, choice);
    laying.found.add(&ChoiceGap {
        name,
        of,
        gaps,
        span: written.act.span,
        rests_on: rests_on(laying, choice, written),
        in_vain: laying.accepted_in_vain(&choice.value.readings()),
        range: choice.range.written.clone(),
        stacked: choice.stacked.map(|stacked| stacked.most),
        usually: choice.otherwise,
        idle: sizes,
    });
}

/// Says so where nothing is left for the `otherwise`.
fn always_fits(laying: &mut Laying<'_>, choice: &Choice, written: &Written<'_>) {
    let Some(otherwise) = otherwise(written.act) else { return };
    // What always fits behind one caller's lines may not fit behind another's.
    if laying.under_way.len() > 1 {
        return;
    }
    let (name, rests_on) = (written.name.text.clone(), rests_on(laying, choice, written));
    laying.found.add(&AlwaysFits { name, otherwise: otherwise.span, rests_on });
}

/// Says which sizes fit for no reading, where the author lists them for this very choice. Where all is covered a size too
/// many does no harm: one is told that lies far off all the others.
fn never_taken(
    laying: &mut Laying<'_>,
    choice: &Choice,
    (members, usually): (&[Exact], &[(ReadingId, Limit)]),
    written: &Written<'_>,
) {
    let from = clause(written.act, "from");
    let Some(from) = from.filter(|_| choice.stacked.is_none()) else { return };
    let ClauseValue::Set(set) = &from.value else { return };
    if !matches!(**set, Set::List(_)) {
        return;
    }
    let taken = choice.value.readings().into_iter().filter(|id| *id != choice.reading);
    let taken = taken.filter_map(|id| laying.build.readings.get(usize::from(id.0)));
    let taken: Vec<Span> = taken.map(|reading| reading.span).collect();
    let range = &choice.range.range;
    let idle = idle(&choice.value, choice.reading, members, range, &laying.knowns);
    let covers = !choice.otherwise || !usually.is_empty();
    let far_off = |at: &usize| {
        let mut others = members.iter().enumerate().filter(|(other, _)| other != at);
        let own = members.get(*at);
        members.len() > 2 && own.is_some_and(|own| others.all(|(_, one)| is_far_off(own, one)))
    };
    let told: Vec<usize> = idle.iter().copied().filter(|at| !covers || far_off(at)).collect();
    let sizes = told.into_iter().filter_map(|at| choice.set.get(at));
    let sizes: Vec<String> = sizes.map(|member| member.size.written.clone()).collect();
    if !sizes.is_empty() {
        laying.found.add(&SizeNeverTaken {
            sizes,
            span: from.span,
            result: choice.target.said.clone(),
            range: choice.range.written.clone(),
            rests_on: taken,
        });
    }
}

/// Where its readings are taken, and its sizes declared: what is wrong there comes before what comes of it.
fn rests_on(laying: &Laying<'_>, choice: &Choice, written: &Written<'_>) -> Vec<Span> {
    let readings = choice.value.readings().into_iter();
    let taken = readings.filter_map(|id| laying.build.readings.get(usize::from(id.0)));
    taken.map(|reading| reading.span).chain(written.sizes).collect()
}

/// What the readings of the result come to where all is as usual.
pub(super) fn narrowed(knowns: &Knowns, sum: &Linear, usually: &[(ReadingId, Limit)]) -> Knowns {
    let readings = sum.terms.keys().map(|atom| atom.reading());
    let known = readings.filter_map(|id| Some((id, knowns.get(id)?.clone())));
    let mut narrowed: Knowns = known.collect();
    for (reading, limit) in usually {
        if let Some(known) = narrowed.get_mut(*reading) {
            known.possible = known.possible.narrowed(&limit.range);
        }
    }
    narrowed
}

/// What the gaps are told in: `gap`, `mean of gap`.
fn subject_said(laying: &Laying<'_>, of: Subject, choice: &Choice) -> String {
    let Subject::Atom(atom) = of else {
        let chosen = laying.build.readings.get(usize::from(choice.reading.0));
        let chosen = chosen.map(|reading| reading.words.said.clone()).unwrap_or_default();
        return format!("{} without the {chosen}", choice.target.said);
    };
    let Some(reading) = laying.build.readings.get(usize::from(atom.reading().0)) else {
        return String::new();
    };
    let said = &reading.words.said;
    match atom {
        Atom::Max(_) => format!("the greatest {said}"),
        Atom::Min(_) => format!("the least {said}"),
        Atom::Mean(_) => format!("the mean of {said}"),
        Atom::Point(_, point) => match reading.points.get(point) {
            Some(point) => format!("{said} at {}", point.said),
            None => said.clone(),
        },
    }
}

fn gaps_said(laying: &Laying<'_>, cover: &Cover, choice: &Choice, unit: UnitId) -> Vec<String> {
    let units = &laying.world.units;
    let of_reading = match cover.of {
        Subject::Atom(atom) => laying.build.readings.get(usize::from(atom.reading().0)),
        Subject::Bare => None,
    };
    let (said_in, decimals) = match of_reading.map(|reading| &reading.kind) {
        Some(ReadingKind::Quantity { kind, unit, decimals, .. }) => {
            (said::In { unit: *unit, kind: *kind }, *decimals)
        }
        _ => (said::In { unit, kind: choice.range.kind }, choice.range.decimals),
    };
    let one = |gap: &Gap| {
        let end = |bound: &Option<Bound>| {
            bound.as_ref().is_none_or(|bound| {
                said::decimals(&said::in_unit(units, &bound.value, said_in.unit)).is_some()
            })
        };
        if !(end(&gap.shown.lower) && end(&gap.shown.upper)) {
            return said::range(units, &gap.between, said_in, decimals);
        }
        let grid = cover.grid.as_ref();
        match grid.and_then(|grid| grid.values_in(&gap.shown, MOST_LISTED)) {
            Some(values) => {
                let said: Vec<String> = values
                    .iter()
                    .map(|value| said::value(units, value, said_in, decimals))
                    .collect();
                said.join(", ")
            }
            None => said::range(units, &gap.shown, said_in, decimals),
        }
    };
    cover.gaps.iter().map(one).collect()
}

//! `using …`: the instrument and the tools of an act.

use super::super::laying::Laying;
use super::draft::Draft;
use super::shape::names;
use crate::findings::readings::{NoInstrument, WrongInstrument};
use crate::world::Instrument;
use locknut_finding::Span;
use locknut_graph::{Line, LineValue, Tool, Words};
use locknut_quantity::{KindId, Units};
use locknut_syntax::tree::{Act, Name};

/// What an act is done with.
#[derive(Default)]
pub(super) struct Using<'w> {
    pub(super) instrument: Option<(&'w Instrument, Span)>,
    pub(super) tools: Vec<usize>,
}

/// Looks up what `using` names.
pub(super) fn using<'w>(laying: &mut Laying<'w>, act: &Act) -> Using<'w> {
    let mut using = Using::default();
    for name in names(act, "using") {
        if let Some(instrument) = laying.world.instruments.get(&name.text) {
            match using.instrument {
                None => using.instrument = Some((instrument, name.span)),
                Some((first, _)) => laying.found.add(&WrongInstrument {
                    instrument: name.text.clone(),
                    span: name.span,
                    declared: instrument.span,
                    is: format!("the second instrument here, beside {}", first.words.said),
                    wanted: "one instrument".to_owned(),
                }),
            }
        } else {
            using.tools.extend(tool(laying, name));
        }
    }
    using
}

/// The position of a tool in the graph's list; says so where there is none of that name.
pub(super) fn tool(laying: &mut Laying<'_>, name: &Name) -> Option<usize> {
    let world = laying.world;
    let Some(tool) = world.tools.get(&name.text) else {
        let known: Vec<&str> =
            world.instruments.keys().chain(world.tools.keys()).map(String::as_str).collect();
        laying.read(|reader, found| reader.unknown("instrument or tool", name, known, found));
        return None;
    };
    let template = cut_from(laying, tool.template.as_deref());
    Some(laying.build.tool(&Tool {
        words: tool.words.clone(),
        special: tool.special,
        number: tool.number.clone(),
        template,
        span: tool.span,
    }))
}

/// The instrument that a measuring act reads; says so where none is named or it reads nothing.
pub(super) fn read_with<'w>(
    laying: &mut Laying<'w>,
    act: &Act,
    reading: &Name,
    using: &Using<'w>,
) -> Option<&'w Instrument> {
    let Some((instrument, span)) = using.instrument else {
        // A name that stands there and is unknown was told already.
        let named = names(act, "using");
        if named.is_empty() {
            laying.found.add(&NoInstrument::reads(&reading.text, act.span));
        } else if let (Some(name), true) = (named.first(), using.tools.len() == named.len()) {
            let declared = laying.world.tools.get(&name.text).map_or(name.span, |tool| tool.span);
            let wanted = "an instrument that measures".to_owned();
            let (instrument, span, is) = (name.text.clone(), name.span, "a tool".to_owned());
            laying.found.add(&WrongInstrument { instrument, span, declared, is, wanted });
        }
        return None;
    };
    if instrument.applies {
        laying.found.add(&WrongInstrument {
            instrument: instrument.words.said.clone(),
            span,
            declared: instrument.span,
            is: format!(
                "set to {}, and shows none",
                kind_said(&laying.world.units, instrument.kind)
            ),
            wanted: "an instrument that measures".to_owned(),
        });
        return None;
    }
    Some(instrument)
}

/// Lists what an act other than a measuring one is done with.
pub(super) fn attach(laying: &mut Laying<'_>, using: &Using<'_>, draft: &mut Draft<'_>) {
    draft.tools.extend(using.tools.iter().copied());
    if let Some((instrument, _)) = using.instrument {
        draft.say("instrument", LineValue::Words(instrument.words.clone()));
        draft.instrument = Some(listed(laying, instrument));
        draft.cautions = cautions(laying, instrument, draft.line.span);
    }
}

/// The position of an instrument in the graph's list.
pub(super) fn listed(laying: &mut Laying<'_>, instrument: &Instrument) -> usize {
    let template = instrument.template.as_ref().map(|words| words.name.clone());
    cut_from(laying, template.as_deref());
    laying.build.instrument(instrument)
}

/// Lists the template that something is cut from: it is printed behind the sheet.
fn cut_from(laying: &mut Laying<'_>, template: Option<&str>) -> Option<Words> {
    let template = laying.world.templates.get(template?)?;
    laying.build.template(template);
    Some(template.words.clone())
}

/// To be proved on a known source, before and after; and what it applies to what it measures.
pub(super) fn cautions(laying: &Laying<'_>, instrument: &Instrument, span: Span) -> Vec<Line> {
    let line = |phrase: &str, name: &str, value: LineValue| {
        let said = ("instrument".to_owned(), LineValue::Words(instrument.words.clone()));
        let values = [said, (name.to_owned(), value)].into();
        Line { phrase: phrase.to_owned(), values, span }
    };
    let source = instrument.proved_on.clone();
    let proved = source.map(|text| line("caution-proved-on", "source", LineValue::Prose(text)));
    let applied = laying.world.applied.get(&instrument.words.name).cloned();
    let applies = applied.map(|limit| line("caution-applies", "limit", LineValue::Limit(limit)));
    proved.into_iter().chain(applies).collect()
}

/// A kind by its name: `gauge pressure`.
pub(super) fn kind_said(units: &Units, kind: KindId) -> String {
    units.kind(kind).name.replace('-', " ")
}

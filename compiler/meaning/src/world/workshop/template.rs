//! `made from template wear-card`: an instrument or a tool that is cut out of a printed sheet.

use super::figure;
use crate::findings::templates::CardApart;
use crate::world::Instrument;
use crate::world::parts::Parts;
use crate::world::read::Reader;
use locknut_finding::Findings;
use locknut_quantity::Exact;
use locknut_syntax::tree::{Attribute, Name, Thing};

pub(super) const WORDS: &[&str] = &["made", "from", "template"];
pub(super) const FORM: &str = "made from template NAME";

/// What a notch is wide at most, in millimetres, where a mend shows a limit by its width.
const NARROW: u32 = 20;

/// The template that is named; none where there is none of that name.
pub(super) fn named(
    parts: &mut Parts<'_>,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<String> {
    let name = parts.word()?;
    if !reader.world.templates.contains_key(&name.text) {
        let known = reader.world.templates.keys().map(String::as_str);
        reader.unknown("template", name, known, found);
        return None;
    }
    Some(name.text.clone())
}

/// Says where the one limit of a card is no dimension of what it is cut from: the two would part company.
pub(super) fn shows_its_limit(
    thing: &Thing,
    instrument: &Instrument,
    reader: Reader<'_>,
    found: &mut Findings,
) {
    let template = instrument.template.as_ref();
    let template = template.and_then(|words| reader.world.templates.get(&words.name));
    let (Some(template), Some(answers)) = (template, figure::line(thing)) else { return };
    let limit = figure::limit_named(answers);
    let shown = reader.world.shown.get(&template.words.name);
    if limit.is_some_and(|limit| shown.is_some_and(|shown| shown.contains(&limit.text))) {
        return;
    }
    let tied = |limit: &Name| template.tied.iter().any(|tied| tied.name == limit.text);
    let end = instrument.range.lower.as_ref().or(instrument.range.upper.as_ref());
    let narrow = Exact::new(NARROW.into(), 1000.into());
    let place = thing.attributes.iter().find(|one| says(one));
    found.add(&CardApart {
        instrument: instrument.words.said.clone(),
        template: template.words.said.clone(),
        limit: limit.map(|limit| limit.text.clone()),
        written: limit.map_or_else(|| instrument.range_written.clone(), |name| name.text.clone()),
        place: place.map_or(thing.span, |place| place.span),
        answers: answers.span,
        declared: template.span,
        comes_from: limit.is_some_and(tied),
        narrow: end.is_some_and(|end| end.value <= narrow),
        can_be_cut: reader.units().kind_named("length") == Some(instrument.kind)
            && (instrument.range.lower.is_none() || instrument.range.upper.is_none()),
    });
}

fn says(attribute: &Attribute) -> bool {
    Parts::of(attribute).says(WORDS)
}

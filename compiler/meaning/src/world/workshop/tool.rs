//! `tool calliper-peg { special, number "HC-4417", fits calliper }`

use super::{not_known, template};
use crate::world::parts::Parts;
use crate::world::read::{NoReadings, Reader};
use crate::world::{Tool, World};
use locknut_finding::Findings;
use locknut_graph::Words;
use locknut_syntax::tree::{Text, Thing};
use std::collections::BTreeMap;

const WORDS: &[&str] = &["special", "number", "fits", "made"];
const FORMS: &[&str] = &["special", "number \"…\"", "fits THING", template::FORM];

/// All tools.
pub(in crate::world) fn tools(
    things: &[&Thing],
    world: &World,
    found: &mut Findings,
) -> BTreeMap<String, Tool> {
    let reader = Reader { world, model: None, readings: &NoReadings };
    let tools = things.iter().filter(|thing| thing.keyword.text == "tool");
    tools.map(|thing| (thing.name.text.clone(), tool(thing, reader, found))).collect()
}

fn tool(thing: &Thing, reader: Reader<'_>, found: &mut Findings) -> Tool {
    let mut tool = Tool {
        words: Words::of(&thing.name.text),
        special: false,
        number: None,
        fits: None,
        fits_at: None,
        template: None,
        span: thing.name.span,
    };
    for attribute in &thing.attributes {
        let mut parts = Parts::of(attribute);
        let known = if parts.says(&["special"]) {
            tool.special = true;
            true
        } else if parts.says(&["number"]) {
            tool.number = parts.text().map(Text::plain);
            tool.number.is_some()
        } else if parts.says(&["fits"]) {
            let name = parts.word();
            tool.fits = name.map(|name| name.text.clone());
            tool.fits_at = name.map(|name| name.span);
            name.is_some()
        } else if parts.says(template::WORDS) {
            tool.template = template::named(&mut parts, reader, found);
            true
        } else {
            false
        };
        if !known || !parts.done() {
            not_known(thing, attribute, WORDS, FORMS, reader, found);
        }
    }
    tool
}

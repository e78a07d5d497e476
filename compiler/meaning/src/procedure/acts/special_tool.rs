//! Special tools that are put into a machine and must come out again.

use super::super::laying::Laying;
use super::draft::Draft;
use super::element::words_at;
use super::instruments;
use crate::world::{ModelThing, at_point};
use locknut_finding::Span;
use locknut_graph::{Assertion, Because, Condition, LineValue, Test, Words};
use locknut_syntax::tree::{Act, Name};

/// The element that they are of.
pub(super) const ELEMENT: &str = "special-tool";

/// `fit calliper-peg`: worded as a tool that goes in and must come out.
pub(super) fn say(
    laying: &mut Laying<'_>,
    act: &Act,
    name: &Name,
    here: &[Name],
    draft: &mut Draft<'_>,
) {
    if ["fit", "remove"].contains(&act.verb.text.as_str()) {
        draft.line.phrase = format!("act-{}-tool", act.verb.text);
        draft.line.values.remove("thing");
    }
    draft.tools.extend(instruments::tool(laying, name));
    let Some(tool) = laying.world.tools.get(&name.text) else { return };
    draft.say("tool", LineValue::Words(tool.words.clone()));
    if let Some(fits) = &tool.fits {
        let prefix = at_point(&name.text, "");
        let points = here.iter().filter_map(|one| one.text.strip_prefix(&prefix));
        let fits = Name { text: fits.clone(), span: name.span };
        let there: Vec<Name> = points
            .map(|point| Name { text: at_point(&fits.text, point), span: name.span })
            .collect();
        let words = if there.is_empty() {
            laying.words(&fits.text)
        } else {
            words_at(laying, &fits, &there)
        };
        draft.say("thing", LineValue::Words(words));
    }
    if act.verb.text == "fit" {
        draft.assertions.extend(in_one_place(name, here, act.span));
        let elsewhere = elsewhere(laying, name, here, act.span);
        draft.assertions.extend(elsewhere);
    }
}

/// One tool is not in several places at once.
fn in_one_place(name: &Name, here: &[Name], at: Span) -> Option<Assertion> {
    (here.len() > 1).then(|| Assertion {
        condition: Condition::Always(false),
        because: Because::Element { thing: Words::of(&name.text) },
        written: "it is put in at one point, and taken out before it goes in at the next"
            .to_owned(),
        span: at,
    })
}

/// A tool goes in at one point only once it has come out at the others: there is one of it.
fn elsewhere(laying: &Laying<'_>, name: &Name, here: &[Name], at: Span) -> Vec<Assertion> {
    let points = laying.model.points.get(&name.text).into_iter().flatten();
    let all = points.map(|point| at_point(&name.text, point));
    let others = all.filter(|one| here.iter().all(|name| name.text != *one));
    let things = others.filter_map(|one| laying.model.things.get(&one));
    let out = |thing: &ModelThing| {
        let variable = laying.model.variables.get(usize::from(thing.variable.0))?;
        let values = vec![variable.normal];
        let said = variable.values.get(usize::from(variable.normal))?;
        let test = Test::Is { variable: thing.variable, values, span: at };
        Some(Assertion {
            condition: Condition::Test(test),
            because: Because::Element { thing: Words::of(&name.text) },
            written: format!("{} is {}", thing.words.said, said.words.said),
            span: at,
        })
    };
    things.filter_map(out).collect()
}

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
        let tool = tool.words.clone();
        let words = here.iter().map(|name| laying.words(&name.text)).collect();
        let put_in = PutIn { laying, tool, here, words, at: act.span };
        draft.assertions.extend(put_in.in_one_place());
        draft.assertions.extend(put_in.out_elsewhere());
    }
}

/// A line that puts a tool in.
struct PutIn<'a, 'w> {
    laying: &'a Laying<'w>,
    tool: Words,
    here: &'a [Name],
    words: Vec<Words>,
    at: Span,
}

impl PutIn<'_, '_> {
    /// One tool is not in several places at once.
    fn in_one_place(&self) -> Option<Assertion> {
        let written = "it is put in at one point, and taken out before it goes in at the next";
        let condition = Condition::Always(false);
        (self.here.len() > 1).then(|| self.asks(condition, None, written.to_owned()))
    }

    /// A tool goes in at one point only once it has come out at the others: there is one of it.
    fn out_elsewhere(&self) -> Vec<Assertion> {
        let model = &self.laying.model;
        let points = model.points.get(&self.tool.name).into_iter().flatten();
        let all = points.map(|point| at_point(&self.tool.name, point));
        let others = all.filter(|one| self.here.iter().all(|name| name.text != *one));
        let things = others.filter_map(|one| model.things.get(&one));
        let out = |thing: &ModelThing| {
            let variable = model.variables.get(usize::from(thing.variable.0))?;
            let values = vec![variable.normal];
            let said = variable.values.get(usize::from(variable.normal))?;
            let test = Test::Is { variable: thing.variable, values, span: self.at };
            let written = format!("{} is {}", thing.words.said, said.words.said);
            Some(self.asks(Condition::Test(test), Some(thing.words.clone()), written))
        };
        things.filter_map(out).collect()
    }

    fn asks(&self, condition: Condition, still_in: Option<Words>, written: String) -> Assertion {
        let (tool, here) = (self.tool.clone(), self.words.clone());
        let because = Because::OneTool { tool, here, still_in };
        Assertion { condition, because, written, span: self.at }
    }
}

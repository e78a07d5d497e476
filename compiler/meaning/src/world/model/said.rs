//! What is said of a thing after its colon: relations, marks, figures, conditions.

use super::super::names::Names;
use super::bolted;
use super::member::Member;
use crate::findings::names::{SaysTooLittle, UnknownAttribute, WrongThing};
use crate::findings::quantities::UnknownUnit;
use crate::world::near::{blanks_round_x, nearest};
use crate::world::parts::Parts;
use crate::world::read::{NoReadings, Reader};
use crate::world::{Attribute, Inspected, Model, ModelThing, RelationKind, World};
use locknut_finding::{Findings, Span};
use locknut_graph::{Condition, Test, VariableKind, Words};
use locknut_syntax::tree::{self, Name};

/// Attributes that say a figure of the fasteners at hand.
const KNOWN_OF_FASTENERS: &[&str] =
    &["friction", "prevailing", "carries", "clamps", "bearing", "hole"];

/// Attributes that one piece says together: `4 of M8 class 8.8 dry`.
const OF_ITS_FIGURES: &[&str] = &["count", "thread", "strength", "condition", "content"];

/// Reads the attributes of all things. Every name is declared by now, whatever the order of lines.
pub(super) fn say(members: &[Member<'_>], world: &World, model: &mut Model, found: &mut Findings) {
    for member in members {
        let Some(mut thing) = model.things.get(&member.name.text).cloned() else { continue };
        let reader = Reader { world, model: Some(model), readings: &NoReadings };
        let (mut normal, mut once) = (None, Names::default());
        for attribute in member.attributes {
            let mut saying = Saying {
                member,
                reader,
                thing: &mut thing,
                normal: &mut normal,
                once: &mut once,
                attribute,
            };
            saying.attribute(found);
        }
        let id = thing.variable;
        model.things.insert(member.name.text.clone(), thing);
        if let (Some(normal), Some(variable)) = (normal, model.variables.get_mut(usize::from(id.0)))
        {
            variable.normal = normal;
        }
    }
}

/// One attribute of one thing.
struct Saying<'a, 't> {
    member: &'a Member<'t>,
    reader: Reader<'a>,
    thing: &'a mut ModelThing,
    normal: &'a mut Option<u8>,
    /// What can be said once, and was.
    once: &'a mut Names,
    attribute: &'a tree::Attribute,
}

impl Saying<'_, '_> {
    fn attribute(&mut self, found: &mut Findings) {
        let mut parts = Parts::of(self.attribute);
        if let Some(span) = parts.inches() {
            found.add(&UnknownUnit::inches(span));
            self.thing.fastening.refused = true;
            return;
        }
        if !self.take(&mut parts, found) || !parts.done() {
            self.not_known(found);
        }
    }

    fn once(&mut self, what: &str, found: &mut Findings) {
        let what = format!("the {what} of the {}", self.thing.words.said);
        self.once.once(what, self.attribute.span, found);
    }

    fn take(&mut self, parts: &mut Parts<'_>, found: &mut Findings) -> bool {
        let Some(word) = parts.ahead() else {
            self.once("number", found);
            return bolted::amount(parts, self.member, self.reader, self.thing, found);
        };
        let has = |attribute: &str| self.member.kind.attributes.contains(attribute);
        if parts.says(&["normally"]) {
            return self.normally(parts, found);
        }
        // Ahead of the relations: `in a row` is a pattern, `in gearbox` is none.
        if has("pattern") && bolted::pattern(parts, self.reader, self.thing, found) {
            let order = matches!(word.text.as_str(), "crosswise" | "spiral");
            self.once(if order { "order" } else { "pattern" }, found);
            return true;
        }
        if let Some(relation) = self.member.kind.relations.get(&word.text) {
            parts.word();
            return self.relation(relation, parts, found);
        }
        if let Some(mark) = self.mark(parts) {
            match mark.as_str() {
                "sealed" => return self.sealed(parts, found),
                "held by hand" => return self.held(parts, found),
                "inspected" => return self.inspected(parts, found),
                _ => {}
            }
            self.thing.mark_spans.insert(mark.clone(), self.attribute.span);
            self.thing.marks.insert(mark);
            return true;
        }
        if has("tightening") && bolted::stage(parts, self.reader, self.thing, found) {
            return true;
        }
        if has(&word.text) && KNOWN_OF_FASTENERS.contains(&word.text.as_str()) {
            let under_head = {
                let mut ahead = *parts;
                ahead.says(&["friction", "under", "head"])
            };
            match word.text.as_str() {
                // A pull and a moment may stand beside each other.
                "carries" => {}
                _ if under_head => self.once("friction under the head", found),
                said => self.once(said, found),
            }
            return bolted::known(word, parts, self.reader, self.thing, found);
        }
        // A word that is passed over is believed by its author: `strength 4.6` changes no figure.
        if has(&word.text) && self.form_of(&word.text).is_none() {
            parts.word();
            return self.other(word, parts, found);
        }
        false
    }

    /// `normally parted`
    fn normally(&mut self, parts: &mut Parts<'_>, found: &mut Findings) -> bool {
        let Some(value) = parts.word() else { return false };
        let variable = self
            .reader
            .model
            .and_then(|model| model.variables.get(usize::from(self.thing.variable.0)));
        if let Some(variable) = variable {
            *self.normal = self.reader.value_position(variable, value, found);
        }
        true
    }

    /// `fastens brake-cover`, `behind a and b`, `bars supply at isolated`
    fn relation(
        &mut self,
        relation: &RelationKind,
        parts: &mut Parts<'_>,
        found: &mut Findings,
    ) -> bool {
        let mut any = false;
        while let Some(name) = parts.word() {
            any = true;
            let known = self.other_end(relation, name, found);
            if relation.at_a_value {
                if !parts.says(&["at"]) {
                    return false;
                }
                let Some(value) = parts.word() else { return false };
                if !known || !self.at_a_value(relation, name, value, found) {
                    let said = self.thing.own_conditions.entry(relation.name.clone());
                    said.or_insert(Condition::Always(true));
                }
            } else if known {
                self.thing.relate(&relation.name, &name.text, name.span);
            }
            if !parts.says(&["and"]) {
                break;
            }
        }
        any
    }

    /// Whether a name may stand at the other end; a finding where not.
    fn other_end(&self, relation: &RelationKind, name: &Name, found: &mut Findings) -> bool {
        let Some(model) = self.reader.model else { return false };
        if model.broken.contains(&name.text) {
            return false;
        }
        let id = model.variable_named.get(&name.text);
        let Some(variable) = id.and_then(|id| model.variables.get(usize::from(id.0))) else {
            let wanted = if relation.to.as_deref() == Some("state") {
                "state"
            } else {
                "thing of this model"
            };
            self.reader.unknown(wanted, name, self.reader.variable_names(), found);
            return false;
        };
        let is = match variable.kind.element() {
            Some(_) if variable.kind == VariableKind::Tool => "special tool",
            Some(element) => element,
            None => "state",
        };
        let wanted = match relation.to.as_deref() {
            None => (is == "state" || is == "special tool").then_some("thing of this model"),
            Some(wanted) => (wanted != is).then_some(wanted),
        };
        let Some(wanted) = wanted else { return true };
        found.add(&WrongThing {
            relation: relation.name.clone(),
            name: name.text.clone(),
            span: name.span,
            wanted: wanted.to_owned(),
            found: is.to_owned(),
            declared: variable.span,
        });
        false
    }

    fn at_a_value(
        &mut self,
        relation: &RelationKind,
        name: &Name,
        value: &Name,
        found: &mut Findings,
    ) -> bool {
        let values = std::slice::from_ref(value);
        let Some((variable, values)) = self.reader.variable_values(name, values, found) else {
            return false;
        };
        self.thing.relate(&relation.name, &name.text, name.span);
        if !relation.bars_while.is_empty() {
            self.thing.bars.extend(values.first().map(|value| (variable, *value)));
        }
        let span = name.span.to(value.span);
        let test = Condition::Test(Test::Is { variable, values, span });
        let so_far = self.thing.own_conditions.remove(&relation.name);
        let both = match so_far {
            None => test,
            Some(Condition::All(mut parts)) => {
                parts.push(test);
                Condition::All(parts)
            }
            Some(other) => Condition::All(vec![other, test]),
        };
        self.thing.own_conditions.insert(relation.name.clone(), both);
        true
    }

    /// The longest mark whose words come next.
    fn mark(&self, parts: &mut Parts<'_>) -> Option<String> {
        let mut marks: Vec<&String> = self.member.kind.marks.iter().collect();
        marks.sort_by_key(|mark| std::cmp::Reverse(mark.len()));
        marks.into_iter().find(|mark| parts.says(&mark.split(' ').collect::<Vec<_>>())).cloned()
    }

    /// `sealed because "…" else renew calliper`
    fn sealed(&mut self, parts: &mut Parts<'_>, found: &mut Findings) -> bool {
        let because = if parts.says(&["because"]) { parts.text() } else { None };
        let Some(because) = because else {
            found.add(&SaysTooLittle {
                what: format!("{} is sealed and", self.thing.words.said),
                lacks: "not why",
                span: self.attribute.span,
                consequence: "a seal without a reason is broken by the first who finds it in the way",
                mend: "write “sealed because \"its setting is made on the test bed\"”",
            });
            return parts.done();
        };
        let because = self.reader.prose(because, found);
        let mut otherwise = None;
        if parts.says(&["else"]) {
            otherwise = self.otherwise(parts, found);
            if otherwise.is_none() {
                return false;
            }
        }
        self.thing.sealed = Some((because, otherwise, self.attribute.span));
        true
    }

    /// `held by hand`, `held by hand until rope is tied`
    fn held(&mut self, parts: &mut Parts<'_>, found: &mut Findings) -> bool {
        let mut read = Condition::Always(false);
        if parts.says(&["until"]) {
            let Some(until) = parts.condition() else { return false };
            // Said, though it cannot be read: nothing more is asked of it.
            read = self.reader.condition(until, found).unwrap_or(Condition::Always(true));
        }
        self.thing.held = Some((read, self.attribute.span));
        true
    }

    /// `inspected by inspector after fit and renew`
    fn inspected(&mut self, parts: &mut Parts<'_>, found: &mut Findings) -> bool {
        let by = if parts.says(&["by"]) { parts.word() } else { None };
        let mut after = Vec::new();
        if parts.says(&["after"]) {
            while let Some(verb) = parts.word() {
                if self.member.kind.acts.contains_key(&verb.text) {
                    after.push(verb.text.clone());
                } else {
                    let acts = self.member.kind.acts.keys().map(String::as_str);
                    self.reader.unknown("act of this thing", verb, acts, found);
                }
                if !parts.says(&["and"]) {
                    break;
                }
            }
        }
        let Some(by) = by.filter(|_| !after.is_empty()) else {
            found.add(&SaysTooLittle {
                what: format!("{} is inspected and", self.thing.words.said),
                lacks: "not by whom, or not after what",
                span: self.attribute.span,
                consequence: "nobody knows that an inspection is due",
                mend: "write “inspected by inspector after fit and renew”",
            });
            return parts.done();
        };
        let (by, span) = (Words::of(&by.text), self.attribute.span);
        self.thing.inspected = Some(Inspected { by, after, span });
        true
    }

    /// `renew calliper`: what disturbing it costs.
    fn otherwise(&self, parts: &mut Parts<'_>, found: &mut Findings) -> Option<String> {
        let verb = parts.word()?;
        let name = parts.word()?;
        let model = self.reader.model?;
        match model.any_of(&name.text) {
            None if model.broken.contains(&name.text) => {}
            None => {
                let known = model.things.keys().map(String::as_str);
                self.reader.unknown("thing of this model", name, known, found);
            }
            Some(_) if self.reader.world.element_act(model, &name.text, &verb.text).is_none() => {
                self.reader.unknown_act(model, verb, name, found);
            }
            Some(_) => {}
        }
        Some(format!("{} {}", verb.text, self.reader.words(&name.text).said))
    }

    /// `dead when supply is isolated`; else an attribute that only the workshop's own phrases use.
    fn other(&mut self, name: &Name, parts: &mut Parts<'_>, found: &mut Findings) -> bool {
        if parts.says(&["when"]) {
            let Some(condition) = parts.condition() else { return false };
            // Said, though it cannot be read: nothing more is asked of it.
            let read = self.reader.condition(condition, found).unwrap_or(Condition::Always(true));
            self.thing.own_conditions.insert(name.text.clone(), read);
            return true;
        }
        let value = parts.limit().and_then(|limit| self.reader.limit(limit, None, found));
        let written = self.reader.written(after(name.span, self.attribute.span));
        let (name, span) = (name.text.clone(), self.attribute.span);
        self.thing.attributes.push(Attribute { name, value, written, span });
        while parts.word().is_some() || parts.text().is_some() || parts.limit().is_some() {}
        true
    }

    fn not_known(&self, found: &mut Findings) {
        let kind = self.member.kind;
        let relations = kind.relations.values().map(|relation| relation.name.as_str());
        let words = relations.chain(kind.marks.iter().map(String::as_str));
        let words: Vec<&str> =
            words.chain(kind.attributes.iter().map(String::as_str)).chain(["normally"]).collect();
        let first = Parts::of(self.attribute).ahead().map_or(self.attribute.span, |word| word.span);
        let written = self.reader.written(self.attribute.span);
        // All of it may be a mark of several words, else its first word is a relation or the like.
        let whole = nearest(&written, words.iter().copied());
        let further = ["tightened", "on", "crosswise"].into_iter().chain(words);
        let said = self.reader.written(first);
        let form = self.form_of(&said);
        let (near, word) = match whole {
            _ if blanks_round_x(&written).is_some() => {
                (blanks_round_x(&written), self.attribute.span)
            }
            _ if form.is_some() => (None, first),
            Some(near) => (Some(near), self.attribute.span),
            None => (nearest(&said, further), first),
        };
        let like = form.filter(|_| near.is_none()).or_else(|| {
            self.figures_form().filter(|_| near.is_none() && self.looks_like_figures())
        });
        let takes = self.takes();
        let kind = format!("the {} {}", kind.name, self.member.name.text);
        let span = self.attribute.span;
        found.add(&UnknownAttribute { kind, written, span, near, word, like, takes });
    }

    /// What its kind takes, as it is written.
    fn takes(&self) -> Vec<String> {
        let kind = self.member.kind;
        let relations = kind.relations.values().map(|relation| relation.name.clone());
        let form = self.figures_form().map(str::to_owned);
        let other = kind.attributes.iter().filter(|of| !OF_ITS_FIGURES.contains(&of.as_str()));
        let other = other.map(|attribute| self.form_of(attribute).unwrap_or(attribute).to_owned());
        let own = form.into_iter().chain(relations).chain(kind.marks.iter().cloned()).chain(other);
        own.chain(["normally".to_owned()]).collect()
    }

    /// How that is written which an attribute stands for and does not begin.
    fn form_of(&self, word: &str) -> Option<&'static str> {
        let has = |attribute: &str| self.member.kind.attributes.contains(attribute);
        match word {
            "tightening" | "tightened" if has("tightening") => Some("tightened to 22 ± 2 N·m"),
            "pattern" | "on" | "crosswise" | "spiral" if has("pattern") => {
                Some("on pitch circle 120 mm, on rectangle 4 x 2 of 240 x 80 mm, crosswise")
            }
            "carries" if has("carries") => Some("carries 6 kN or carries 40 kN shared evenly"),
            "thread" | "strength" | "condition" if has("thread") && has(word) => {
                self.figures_form()
            }
            "count" | "content" if has(word) => self.figures_form(),
            _ => None,
        }
    }

    /// How its count or content is written.
    fn figures_form(&self) -> Option<&'static str> {
        let has = |attribute: &str| self.member.kind.attributes.contains(attribute);
        match (has("content"), has("thread"), has("count")) {
            (true, ..) => Some("6.5 L of gear-oil"),
            (false, true, _) => Some("4 of M8 class 8.8 dry"),
            (false, false, true) => Some("4"),
            (false, false, false) => None,
        }
    }

    /// It begins with a figure, a thread or the word for a strength class.
    fn looks_like_figures(&self) -> bool {
        Parts::of(self.attribute).ahead().is_none_or(|word| {
            word.text == "class" || self.reader.world.figure("thread", &word.text).is_some()
        })
    }
}

fn after(word: Span, whole: Span) -> Span {
    Span { start: word.end, ..whole }
}

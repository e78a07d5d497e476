//! A written procedure → its step graph.
//!
//! The lines are laid one after the other: each becomes nodes, and its loose ways out are led to
//! whatever comes next. Called subtasks are laid in where they are called.

mod acts;
mod asks;
mod behind;
mod build;
mod coverage;
mod denied;
mod flow;
mod hand_over;
mod heading;
mod here;
mod laying;
mod look_ups;
mod mention;
mod never;
mod numbering;
mod people;
mod said;
mod scope;
mod settled;
#[cfg(test)]
mod tests;
mod variant;

use crate::World;
use crate::findings::flow::TooLarge;
use crate::findings::names::{SaysTooLittle, TooMany, UnknownName};
use crate::findings::readings::BeyondRange;
use crate::world::Listed;
use crate::world::Model;
use crate::world::near::nearest;
use build::{MOST_NODES, MOST_PARTS, Ways};
use denied::Doubts;
use flow::MOST_CALLS_DEEP;
use laying::{Laying, Level, Lines, Stretch};
use locknut_finding::{Finding, Findings, Span};
use locknut_graph::{End, Heading, NodeId, Restore, StepGraph, VariableId};
use locknut_syntax::tree::{Item, Object, Procedure};
use mention::Mentions;
use std::collections::{BTreeMap, BTreeSet};
use variant::Variant;

/// The step graph of one procedure or subtask of a library; none only where nothing sensible could
/// be built.
pub fn graph_of(world: &World, name: &str, publisher: &str) -> (Option<StepGraph>, Findings) {
    let procedure = world.procedures.get(name).and_then(Listed::read);
    let Some(procedure) = procedure else { return (None, Findings::default()) };
    let mut found = Findings::default();
    let Some(model) = model_of(world, &procedure, &mut found) else { return (None, found) };
    built(world, &procedure, model, publisher, found)
}

/// Names of the subtasks that any procedure or subtask of a library calls.
pub fn called(world: &World) -> BTreeSet<&str> {
    let headings = world.procedures.values().map(|procedure| &procedure.heading);
    headings.flat_map(|heading| &heading.calls).map(String::as_str).collect()
}

/// Names of the subtasks that a procedure calls itself.
pub(crate) fn calls_of(procedure: &Procedure) -> BTreeSet<String> {
    Mentions::of(procedure).calls
}

/// Every line of a library by which a subtask is done, with the name of the procedure or subtask that it stands in.
pub fn lines_that_do<'w>(world: &'w World, subtask: &str) -> Vec<(Span, &'w str)> {
    let callers =
        world.procedures.iter().filter(|(_, caller)| caller.heading.calls.contains(subtask));
    let mut lines = Vec::new();
    for (name, caller) in callers {
        let Some(caller) = caller.read() else { continue };
        let mut left: Vec<&Item> = caller.items.iter().collect();
        while let Some(item) = left.pop() {
            left.extend(item.inside());
            let Item::Act(act) = item else { continue };
            let named =
                |object: &Object| matches!(object, Object::Name(name) if name.text == subtask);
            if act.verb.text == "do" && act.objects.first().is_some_and(named) {
                lines.push((act.span, name.as_str()));
            }
        }
    }
    lines.sort_unstable();
    lines
}

/// Every procedure whose lines may have a part in the graph of one, by name, itself too; also names that
/// it calls and nobody bears.
pub fn looked_up<'w>(world: &'w World, name: &'w str) -> BTreeSet<&'w str> {
    let mut all = BTreeSet::from([name]);
    let mut next = vec![name];
    // As deep as calls are laid in, and one more that is refused.
    for _ in 0..=MOST_CALLS_DEEP + 1 {
        let callers = std::mem::take(&mut next).into_iter();
        let headings =
            callers.filter_map(|name| world.procedures.get(name)).map(|one| &one.heading);
        let called = headings.flat_map(|heading| &heading.calls).map(String::as_str);
        next.extend(called.filter(|name| all.insert(name)));
    }
    all
}

/// Models that are made of the assembly that a procedure is on, by name: it serves each of them.
pub fn served<'w>(world: &'w World, name: &str) -> Vec<&'w str> {
    let on = world.procedures.get(name).and_then(|procedure| procedure.heading.on.as_ref());
    let Some(on) = on else { return Vec::new() };
    let made_of_it = world.models.values().filter(|model| model.made_of.contains(&on.text));
    made_of_it.map(|model| model.name.as_str()).collect()
}

/// The step graph of a procedure on an assembly, on one of the models that are made of it.
pub fn graph_on(
    world: &World,
    name: &str,
    publisher: &str,
    model: &str,
) -> (Option<StepGraph>, Findings) {
    let procedure = world.procedures.get(name).and_then(Listed::read);
    let (Some(procedure), Some(model)) = (procedure, world.models.get(model)) else {
        return (None, Findings::default());
    };
    built(world, &procedure, model, publisher, Findings::default())
}

fn built(
    world: &World,
    procedure: &Procedure,
    model: &Model,
    publisher: &str,
    found: Findings,
) -> (Option<StepGraph>, Findings) {
    let mut laying = Laying::new(world, model);
    laying.found = found;
    let graph = laid(&mut laying, procedure, publisher);
    // An instrument that does not reach a figure is one mistake, at however many lines that is asked of it.
    laying.found.once_alike_of(BeyondRange::PAGE.code());
    let whole = !laying.unread && !procedure.broken && !model.incomplete && !world.incomplete;
    // Of a procedure with holes nothing is proved: every hole would have followers.
    (graph.filter(|_| whole), laying.found)
}

fn laid<'w>(
    laying: &mut Laying<'w>,
    procedure: &'w Procedure,
    publisher: &str,
) -> Option<StepGraph> {
    let subtask = procedure.keyword.text == "subtask";
    if subtask && !heading::uses(procedure).is_empty() {
        // Without a caller there is nothing that it could use: it is read where it is called.
        if !called(laying.world).contains(procedure.name.text.as_str()) {
            laying.found.add(&nobody_calls(procedure));
        }
        return None;
    }
    laying.scope = laying.scope_of(procedure, None);
    add_variant(laying, procedure);
    let mut heading = heading::heading(laying, procedure, publisher);
    let allowed = heading::applicability(laying, procedure);
    heading.applies = heading::applies(laying, &allowed);
    laying.people.crew.clone_from(&heading.crew);
    let mut starts = hand_over::starts(laying, procedure);
    starts.values.extend(allowed);
    for (variable, values) in laying.variant.all_values() {
        // What no line narrows down is open: the proof begins with every one of them.
        starts.values.entry(variable).or_insert(values);
    }
    let mut outline = Lines::new();
    let mut restore = if subtask {
        alone(laying, procedure, &mut outline);
        Vec::new()
    } else {
        whole(laying, procedure, &mut outline)
    };
    restore.extend(laying.owed_by_people());
    if laying.build.full {
        let span = procedure.name.span;
        laying.found.add(&if laying.build.asks_too_much {
            TooLarge::parts(span, MOST_PARTS)
        } else {
            TooLarge::nodes(span, MOST_NODES)
        });
        return None;
    }
    if subtask && heading.crew.is_empty() {
        heading.crew = heading::roles_of(&laying.build.steps);
    }
    acts::found_out(laying, &mut starts.values);
    let doubts = laying.doubt(&restore);
    Some(assembled(laying, Parts { heading, starts, restore, doubts, outline }))
}

/// A procedure, from its first line to *done*; what it owes there.
fn whole<'w>(
    laying: &mut Laying<'w>,
    procedure: &'w Procedure,
    outline: &mut Lines,
) -> Vec<Restore> {
    laying.under_way.push(&procedure.name.text);
    let leaves = hand_over::leaves(laying, procedure);
    let so_far = laying.found.reports().len();
    let ways = laying.items(&procedure.items, Level::Steps, Ways::beginning(), outline);
    let ways = laying.at_the_end(ways, outline);
    // What could not be read in it is told already.
    let told = procedure.broken || laying.found.reports().len() > so_far;
    if laying.build.steps.is_empty() && !told {
        laying.found.add(&nothing_to_do(procedure));
    }
    if !ways.none_left() {
        laying.close(End::Done, procedure.span, ways);
    }
    hand_over::owed(laying, leaves)
}

/// A subtask by itself, from its `starts with` and else from normal.
fn alone<'w>(laying: &mut Laying<'w>, subtask: &'w Procedure, outline: &mut Lines) {
    laying.stretch = Stretch::Subtask;
    // Of several that stand at points it is done to the first: they are alike.
    let placed = subtask.on.as_ref().and_then(|on| laying.model.placed.get(&on.text));
    let at = placed.and_then(|points| points.first()).cloned();
    let called = flow::Called { subtask, at, span: subtask.name.span };
    let so_far = laying.found.reports().len();
    let (ways, _) = laying.lay_in(called, Vec::new(), Ways::beginning(), outline);
    let told = subtask.broken || laying.found.reports().len() > so_far;
    if laying.build.steps.is_empty() && !told {
        laying.found.add(&nothing_to_do(subtask));
    }
    if !ways.none_left() {
        laying.close(End::Done, subtask.span, ways);
    }
}

/// The model that a procedure is on; says so where there is none.
fn model_of<'w>(
    world: &'w World,
    procedure: &Procedure,
    found: &mut Findings,
) -> Option<&'w Model> {
    let Some(on) = &procedure.on else {
        found.add(&on_what(procedure));
        return None;
    };
    let model = world.models.get(&on.text);
    if model.is_none() {
        let near = nearest(&on.text, world.models.keys().map(String::as_str));
        let (wanted, name, span) = ("model", on.text.clone(), on.span);
        found.add(&UnknownName { wanted, name, span, near, else_is: None });
    }
    model
}

/// The variables of the variant, split by whatever this procedure or a subtask of it asks for.
fn add_variant(laying: &mut Laying<'_>, procedure: &Procedure) {
    let mut series = laying.scope.mentions.series;
    let mut serials = laying.scope.mentions.serials.clone();
    let mut seen: BTreeSet<String> = BTreeSet::new();
    let mut called: BTreeSet<String> = laying.scope.mentions.calls.clone();
    for _ in 0..=MOST_CALLS_DEEP {
        let mut next = BTreeSet::new();
        for name in called {
            let subtask = laying.world.procedure(&name);
            let Some(subtask) = subtask.filter(|_| seen.insert(name)) else { continue };
            let mentions = Mentions::of(subtask);
            series |= mentions.series;
            serials.extend(mentions.serials);
            next.extend(mentions.calls);
        }
        called = next;
    }
    serials.sort_unstable();
    serials.dedup();
    if serials.len() > variant::MOST_VALUES / 2 {
        let (what, most) = ("stretches of serial numbers", variant::MOST_VALUES / 2);
        laying.found.add(&TooMany { what, most, span: procedure.name.span });
        serials.truncate(most);
    }
    laying.variant = Variant::add(&mut laying.build, laying.model, series, &serials);
}

/// What a graph is made of beside what grew while it was laid.
struct Parts {
    heading: Heading,
    starts: hand_over::Starts,
    restore: Vec<Restore>,
    doubts: Doubts,
    outline: Lines,
}

fn assembled(laying: &mut Laying<'_>, parts: Parts) -> StepGraph {
    let Parts { heading, starts, restore, doubts, outline } = parts;
    let mut interlocks = laying.model.interlocks.clone();
    interlocks.extend(laying.held_by_hand(&starts.values));
    let build = std::mem::take(&mut laying.build);
    let starts_at: BTreeMap<VariableId, Vec<u8>> = starts.values;
    StepGraph {
        heading,
        variables: build.variables,
        starts: starts_at.into_iter().collect(),
        starts_proved: starts.proved,
        starts_held: starts.held,
        readings: build.readings,
        instruments: build.instruments,
        tools: build.tools,
        templates: build.templates,
        materials: build.materials,
        interlocks,
        hazards: laying.model.hazards.clone(),
        safe_to_leave: laying.model.safe_to_leave.clone(),
        leave_said: laying.model.leave_said,
        restore,
        in_doubt: doubts.asked,
        left_in_doubt: doubts.left,
        steps: build.steps,
        flow: build.flow,
        start: build.start.unwrap_or(NodeId::new(0)),
        repeats: build.repeats,
        outline,
        answered: build.answered,
        never: build.never,
        verbs: laying.world.verbs.clone(),
    }
}

fn on_what(procedure: &Procedure) -> SaysTooLittle<'static> {
    SaysTooLittle {
        what: format!("the {} {}", procedure.keyword.text, procedure.name.text),
        lacks: "not on which machine",
        span: procedure.name.span,
        consequence: "no state, part or rule of any machine is known, so that nothing can be proved",
        mend: "add after the name: on MODEL",
    }
}

fn nobody_calls(subtask: &Procedure) -> SaysTooLittle<'static> {
    SaysTooLittle {
        what: format!("the subtask {}", subtask.name.text),
        lacks: "nobody who calls it, and uses readings of its caller",
        span: subtask.name.span,
        consequence: "nothing in it is looked at, and a fault in it waits for its first caller",
        mend: "call it from a procedure with: do, or take it out",
    }
}

fn nothing_to_do(procedure: &Procedure) -> SaysTooLittle<'static> {
    SaysTooLittle {
        what: format!("the {} {}", procedure.keyword.text, procedure.name.text),
        lacks: "nothing to do",
        span: procedure.name.span,
        consequence: "the sheet would have a title and no steps",
        mend: "add: step \"…\" { … }",
    }
}

//! The whole sheet.

use crate::as_written::as_written;
use crate::clocks;
use crate::conditions::condition_words;
use crate::head::head;
use crate::labels::labels;
use crate::lines::line;
use crate::lists::lists;
use crate::phrases::Phrases;
use crate::places::{Places, of_machine, value_words};
use crate::programs;
use crate::sheet::{Block, Sheet, SignLine};
use crate::templates::template_sheet;
use crate::words::Speaker;
use locknut_finding::Findings;
use locknut_graph::{
    By, NodeId, NodeKind, Outline, OutlineArm, StepGraph, StepId, VariableId, Way,
};
use locknut_proof::Facts;
use locknut_quantity::{System, Units};
use std::collections::{BTreeMap, BTreeSet};

/// Says a procedure in the phrases' language and a unit system (none: units as written).
pub fn compose(
    graph: &StepGraph,
    facts: &Facts,
    units: &Units,
    phrases: &Phrases,
    system: Option<System>,
) -> (Sheet, Findings) {
    let kept = as_written(graph);
    let speak = Speaker { graph, units, phrases, system, kept: &kept };
    let places = Places::of(speak, facts);
    let sheet = Sheet {
        language: phrases.language().to_owned(),
        units: match system {
            Some(System::Si) => "si",
            Some(System::Us) => "us",
            None => "as written",
        }
        .to_owned(),
        head: head(speak),
        labels: labels(speak),
        banner: places.banner(speak),
        lists: lists(speak, facts),
        asked: programs::asked(speak),
        blocks: blocks(speak, facts, &places, &graph.outline)
            .into_iter()
            .chain(left_so(speak))
            .collect(),
        signatures: signatures(speak),
        cautions: ["caution-person", "caution-local", "caution-lock"]
            .iter()
            .map(|key| phrases.label(key))
            .collect(),
        proved: vec![
            speak.say(
                "proved",
                &[
                    ("obligations", speak.digits(&facts.covered.obligations.to_string())),
                    ("acts", speak.digits(&facts.covered.acts.to_string())),
                ],
            ),
            phrases.label("proved-limits"),
        ],
        templates: graph.templates.iter().map(|template| template_sheet(speak, template)).collect(),
        states: programs::states(speak),
        roles: programs::roles(speak),
        ends: programs::ends(speak),
    };
    (sheet, phrases.findings())
}

/// What the machine is left at otherwise than normal, each with its reason: for the tag on it.
fn left_so(speak: Speaker<'_>) -> Vec<Block> {
    let reasons =
        speak.graph.restore.iter().filter_map(|owed| Some((owed, owed.because.as_ref()?)));
    reasons
        .map(|(owed, because)| {
            let values = owed.values.iter().copied().collect();
            let stands = value_words(speak, owed.variable, &values);
            let how = format!("{stands}. {}", Speaker::sentence(&speak.prose(because)));
            Block::Note {
                label: speak.phrases.label("label-note"),
                text: speak.say("left-so", &[("how", how)]),
            }
        })
        .collect()
}

/// Blocks of outline items. Outcomes are told at their line, so they make no block of their own.
pub(crate) fn blocks(
    speak: Speaker<'_>,
    facts: &Facts,
    places: &Places,
    items: &[Outline],
) -> Vec<Block> {
    items.iter().flat_map(|item| block(speak, facts, places, item)).collect()
}

fn block(speak: Speaker<'_>, facts: &Facts, places: &Places, item: &Outline) -> Vec<Block> {
    let inner = |items: &[Outline]| blocks(speak, facts, places, items);
    match item {
        Outline::Section { title, items, .. } => {
            vec![Block::Section { title: speak.prose(title), blocks: inner(items) }]
        }
        Outline::Step { step, items } => vec![step_block(speak, facts, places, *step, items)],
        Outline::Line { node } => {
            let act = speak.graph.node(*node).act();
            let line = act.map(|act| Block::Line(line(speak, facts, places, *node, act)));
            line.into_iter().chain(places.clocks.at_line(speak, *node)).collect()
        }
        Outline::Outcome { .. } => Vec::new(),
        Outline::AnyOrder { node, items } => {
            vec![group(speak.phrases.label("any-order"), Some(*node), None, inner(items))]
        }
        Outline::Together { node, lanes } => lanes
            .iter()
            .map(|lane| {
                let who = speak.phrases.name(&lane.by);
                let label = speak.say("together", &[("who", who)]);
                group(label, Some(*node), None, inner(&lane.items))
            })
            .collect(),
        Outline::Unbroken { items } => vec![Block::Group {
            label: speak.phrases.label("without-a-break"),
            node: None,
            way: None,
            unbroken: true,
            blocks: inner(items),
        }],
        Outline::Group { items } => {
            vec![group(speak.phrases.label("group-as-one"), None, None, inner(items))]
        }
        Outline::Branch { node, arms } => {
            let condition = speak.graph.node(*node).kind.asks();
            let clock = condition.and_then(|condition| clocks::at_branch(speak, condition));
            let arms = arms.iter().filter(|arm| !arm.items.is_empty());
            let arms = arms.map(|arm| branch(speak, facts, places, *node, arm));
            clock.into_iter().chain(arms).collect()
        }
        Outline::Call { title, at, node, items } => {
            let title = ("title", speak.prose(title));
            let label = match at {
                Some(point) => speak.say("call-at", &[title, ("point", speak.phrases.name(point))]),
                None => speak.say("call", &[title]),
            };
            vec![group(label, Some(*node), None, inner(items))]
        }
        Outline::Note { text } => {
            vec![Block::Note { label: speak.phrases.label("label-note"), text: speak.prose(text) }]
        }
        Outline::Not { text } => vec![Block::Not { text: speak.prose(text) }],
        Outline::Template { words } => {
            let template = speak.phrases.name(words);
            let text = speak.say("template-use", &[("template", template)]);
            vec![Block::Note { label: speak.phrases.label("label-template"), text }]
        }
        Outline::AtTheEnd { items } => {
            vec![group(speak.phrases.label("at-the-end"), None, None, inner(items))]
        }
    }
}

fn group(label: String, node: Option<NodeId>, way: Option<Way>, blocks: Vec<Block>) -> Block {
    Block::Group { label, node, way, unbroken: false, blocks }
}

fn branch(
    speak: Speaker<'_>,
    facts: &Facts,
    places: &Places,
    node: NodeId,
    arm: &OutlineArm,
) -> Block {
    let label = match (&speak.graph.node(node).kind, arm.way) {
        (NodeKind::Branch(condition), Way::Arm(0)) => {
            speak.say("branch-when", &[("when", condition_words(speak, condition))])
        }
        _ => speak.phrases.label("branch-otherwise"),
    };
    group(label, Some(node), Some(arm.way), blocks(speak, facts, places, &arm.items))
}

fn step_block(
    speak: Speaker<'_>,
    facts: &Facts,
    places: &Places,
    id: StepId,
    items: &[Outline],
) -> Block {
    let step = speak.graph.step(id);
    Block::Step {
        number: step.number.clone(),
        text: step.text.as_ref().map(|text| speak.prose(text)),
        by: match &step.by {
            By::Anyone => None,
            By::All => Some(speak.phrases.label("by-all")),
            By::Roles(roles) => {
                let said: Vec<String> = roles.iter().map(|role| speak.phrases.name(role)).collect();
                Some(Speaker::sentence(&speak.all_of(&said)))
            }
        },
        takes: step.takes.as_ref().map(|(_, likely, _)| speak.exact_duration(likely)),
        panels: places.step_panels(speak, id),
        blocks: blocks(speak, facts, places, items)
            .into_iter()
            .chain(places.clocks.at_step_end(speak, id))
            .collect(),
        do_not_leave: bar(speak, facts, id).filter(|said| !is_said_last(speak, facts, items, said)),
    }
}

fn bar(speak: Speaker<'_>, facts: &Facts, id: StepId) -> Option<String> {
    facts.do_not_leave.get(&id).map(|stands| do_not_leave(speak, stands))
}

/// Whether the last step of a called subtask, at whose end the step around ends, too, has just said it.
fn is_said_last(speak: Speaker<'_>, facts: &Facts, items: &[Outline], said: &str) -> bool {
    match items.last() {
        Some(
            Outline::Call { items, .. } | Outline::Section { items, .. } | Outline::Group { items },
        ) => is_said_last(speak, facts, items, said),
        Some(Outline::Step { step, .. }) => bar(speak, facts, *step).as_deref() == Some(said),
        Some(
            Outline::Line { .. }
            | Outline::Outcome { .. }
            | Outline::AnyOrder { .. }
            | Outline::Together { .. }
            | Outline::Unbroken { .. }
            | Outline::Branch { .. }
            | Outline::Note { .. }
            | Outline::Not { .. }
            | Outline::Template { .. }
            | Outline::AtTheEnd { .. },
        )
        | None => false,
    }
}

/// The bar, with what makes it so: what stands otherwise than normal, or, where nothing does, how it normally stands.
fn do_not_leave(speak: Speaker<'_>, stands: &BTreeMap<VariableId, BTreeSet<u8>>) -> String {
    let odd = |(variable, values): &(&VariableId, &BTreeSet<u8>)| {
        let normal = speak.graph.variable(**variable).normal;
        values.iter().any(|value| *value != normal)
    };
    let of_machine = || stands.iter().filter(|(variable, _)| of_machine(speak, **variable));
    let some_odd = of_machine().any(|one| odd(&one));
    let told = of_machine().filter(|one| odd(one) || !some_odd);
    let how: Vec<String> =
        told.map(|(variable, values)| value_words(speak, *variable, values)).collect();
    if how.is_empty() {
        speak.phrases.label("do-not-leave")
    } else {
        speak.say("do-not-leave-while", &[("how", how.join("; "))])
    }
}

fn signatures(speak: Speaker<'_>) -> Vec<SignLine> {
    let crew =
        speak.graph.heading.crew.iter().map(|role| Speaker::sentence(&speak.phrases.name(role)));
    let mut roles: Vec<String> = crew.collect();
    if roles.is_empty() {
        roles.push(speak.phrases.label("sign-done-by"));
    }
    roles.push(speak.phrases.label("sign-checked-by"));
    roles.into_iter().map(|role| SignLine { role }).collect()
}

//! The path that is shown: worded in one place, telling only what matters to the fault.

use crate::decided::decided;
use crate::engine::{Bits, Index};
use crate::variant::Machines;
use locknut_finding::PathPoint;
use locknut_graph::{LineValue, NodeId, NodeKind, StepGraph, StepId, Verdict, Way};
use std::collections::BTreeSet;

/// Words the way to a fault. Steps in which something is seen are told; the others are counted.
pub(crate) fn path(
    index: &Index<'_>,
    seen: &Bits,
    trail: &[(NodeId, Way)],
    last: Option<NodeId>,
) -> Vec<PathPoint> {
    let graph = index.graph;
    let mut telling =
        Telling { graph, points: Vec::new(), passed: 0, told: None, spoken: BTreeSet::new() };
    let mut machines = Machines::on(graph, trail);
    for (node, way) in trail {
        // Whoever waited goes on: nobody does anything.
        if matches!(graph.node(*node).kind, NodeKind::Await(_)) {
            continue;
        }
        let step = graph.node(*node).step;
        let block = matches!(
            graph.node(*node).kind,
            NodeKind::AnyOrder { .. } | NodeKind::Together { .. } | NodeKind::Branch(_)
        );
        let happens = seen.has(node.index()) && !block;
        telling.step(step, happens);
        let choice = match &mut machines {
            Some(machines) if machines.decide(graph, *node, *way) => machines.said_once(),
            _ => choice(graph, *node, *way),
        };
        if let Some(choice) = choice {
            telling.step(step, true);
            telling.points.push(PathPoint { text: choice, span: Some(graph.node(*node).span) });
        }
    }
    if let Some(last) = last {
        telling.step(graph.node(last).step, true);
        if let NodeKind::End(end) = &graph.node(last).kind {
            telling.fold();
            telling
                .points
                .push(PathPoint { text: end_words(end), span: Some(graph.node(last).span) });
        }
    }
    telling.fold();
    rounds_folded(&telling.points)
}

/// Rounds that are told alike are told once and counted.
fn rounds_folded(points: &[PathPoint]) -> Vec<PathPoint> {
    let mut folded: Vec<PathPoint> = Vec::new();
    let mut at = 0;
    while at < points.len() {
        let (length, times) = longest_run(points, at);
        let round = points.get(at..at + length).unwrap_or_default();
        folded.extend(round.iter().cloned());
        if times > 1 {
            let more = if times == 2 {
                "1 more round".into()
            } else {
                format!("{} more rounds", times - 1)
            };
            folded.push(PathPoint { text: format!("… {more} like this …"), span: None });
        }
        at += length * times;
    }
    folded
}

/// The stretch from `at` that is told most often in a row: its length and how often.
fn longest_run(points: &[PathPoint], at: usize) -> (usize, usize) {
    let same = |a: usize, b: usize, length: usize| {
        (0..length).all(|step| match (points.get(a + step), points.get(b + step)) {
            (Some(one), Some(other)) => one.text == other.text,
            _ => false,
        })
    };
    for length in 2..=(points.len() - at) / 2 {
        let mut times = 1;
        while same(at, at + length * times, length) {
            times += 1;
        }
        if times > 1 {
            return (length, times);
        }
    }
    (1, 1)
}

struct Telling<'a> {
    graph: &'a StepGraph,
    points: Vec<PathPoint>,
    passed: usize,
    told: Option<StepId>,
    spoken: BTreeSet<StepId>,
}

impl Telling<'_> {
    fn step(&mut self, step: Option<StepId>, tell: bool) {
        let Some(step) = step.filter(|step| self.told != Some(*step)) else { return };
        if tell {
            // The beginning of a step that is told is not counted apart.
            if self.spoken.remove(&step) {
                self.passed = self.passed.saturating_sub(1);
            }
            self.fold();
            self.told = Some(step);
            self.points.push(PathPoint {
                text: step_words(self.graph, step),
                span: Some(self.graph.step(step).span),
            });
        } else if self.spoken.insert(step) {
            self.passed += 1;
            // A step passed over ends the one told before it: told again, it is a new visit.
            self.told = None;
        }
    }

    fn fold(&mut self) {
        let text = match std::mem::take(&mut self.passed) {
            0 => return,
            1 => "… 1 step that does not matter here …".to_owned(),
            more => format!("… {more} steps that do not matter here …"),
        };
        self.spoken.clear();
        self.points.push(PathPoint { text, span: None });
    }
}

/// `step 4 “Measure the air gap”`
pub(crate) fn step_words(graph: &StepGraph, id: StepId) -> String {
    let step = graph.step(id);
    let said = step.text.as_ref().map(locknut_graph::Prose::written).or_else(|| step.name.clone());
    match said {
        Some(said) => format!("step {} “{}”", step.number, shortened(&said)),
        None => format!("step {}{}", step.number, lone_act(graph, id)),
    }
}

/// ` (hold calliper)`: what a step without words of its own consists of.
fn lone_act(graph: &StepGraph, id: StepId) -> String {
    let own = graph.flow.node_weights().filter(|node| node.step == Some(id));
    let Some(line) = own.filter_map(|node| node.act()).map(|act| &act.line).next() else {
        return String::new();
    };
    // `act-hold-how`, `bolts-remove`
    let built_in = line.phrase.strip_prefix("act-").and_then(|verb| verb.split('-').next());
    let of_element = || line.phrase.rsplit('-').next();
    let Some(verb) = built_in.or_else(of_element) else { return String::new() };
    let words = |name: &str| match line.values.get(name) {
        Some(LineValue::Words(words)) => Some(words.said.as_str()),
        _ => None,
    };
    // `fit peg` names what the tool is put on, too.
    let thing = words("tool").or_else(|| words("thing"));
    match (thing.or_else(|| words("state")), words("value")) {
        (Some(state), Some(value)) => format!(" ({verb} {state} to {value})"),
        (Some(thing), None) => format!(" ({verb} {thing})"),
        (None, _) => format!(" ({verb})"),
    }
}

/// The first sentence, or as many words as fit.
fn shortened(text: &str) -> String {
    let first = text.split_inclusive(". ").next().unwrap_or(text).trim();
    if first.chars().count() <= 60 {
        return first.to_owned();
    }
    let mut short = String::new();
    for word in first.split(' ') {
        if short.chars().count() + word.chars().count() > 56 {
            break;
        }
        short.push_str(word);
        short.push(' ');
    }
    format!("{}…", short.trim_end())
}

/// What was read or decided, where a way was picked.
fn choice(graph: &StepGraph, node: NodeId, way: Way) -> Option<String> {
    let here = graph.node(node);
    let reading = here
        .act()
        .and_then(|act| act.kind.reading())
        .map(|id| graph.reading(id).words.said.clone());
    match (&here.kind, way) {
        (NodeKind::Branch(condition), Way::Arm(arm)) => Some(decided(graph, condition, arm == 0)),
        // Where another way leads to the same place, the answer does not matter.
        (NodeKind::Act(_), Way::Arm(_)) if !alone(graph, node, way) => None,
        (NodeKind::Act(act), Way::Arm(arm)) => {
            let arms = act.kind.verdict().map_or(&[][..], Verdict::arms);
            let written =
                arms.get(usize::from(arm)).map(|arm| arm.written.clone()).unwrap_or_default();
            Some(format!("{}: {written}", reading.unwrap_or_default()))
        }
        (NodeKind::Act(act), Way::Otherwise) => match act.kind.verdict() {
            Some(Verdict::Accept { limit, .. }) => {
                Some(format!("{} not {}", reading.unwrap_or_default(), limit.limit.written))
            }
            _ => Some(format!("nothing fits for {}", reading.unwrap_or_default())),
        },
        (NodeKind::Repeat(id), Way::Again) => {
            let step = graph
                .repeats
                .get(usize::from(id.0))
                .map(|repeat| graph.step(repeat.step).number.clone());
            Some(format!("back to step {}", step.unwrap_or_default()))
        }
        (NodeKind::Repeat(_), Way::Failing) => Some("no more rounds".into()),
        _ => None,
    }
}

/// Whether no other way out of a node leads where this one does.
fn alone(graph: &StepGraph, node: NodeId, way: Way) -> bool {
    let target = graph.follow(node, way).map(|(_, to)| to);
    graph.ways(node).into_iter().filter(|(_, _, to)| Some(*to) == target).count() < 2
}

fn end_words(end: &locknut_graph::End) -> String {
    match end {
        locknut_graph::End::Done => "done".into(),
        locknut_graph::End::Stop { .. } => "stop".into(),
        locknut_graph::End::Refer { to } => format!("refer to {}", to.written()),
    }
}

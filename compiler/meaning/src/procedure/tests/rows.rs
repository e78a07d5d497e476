//! A graph as text, one node a line.

use locknut_graph::{
    Act, ActKind, Condition, Effect, End, Line, LineValue, Moment, NodeKind, StepGraph, Test,
    VariableId, Way,
};
use num_traits::ToPrimitive;

/// `4 @2 act-set state=supply value=isolated {supply=isolated} next>5`
pub(super) fn rows(graph: &StepGraph) -> String {
    let row = |id| {
        let node = graph.node(id);
        let step = node.step.map(|step| graph.step(step).number.clone()).unwrap_or_default();
        let effects_here = effects(graph, &node.effects);
        let ways = graph.ways(id).into_iter().map(|(way, edge, to)| {
            let noting = edge.noting.iter().map(|noting| format!(" “{}”", noting.written()));
            let noting: String = noting.collect();
            format!(" {}{}>{}{noting}", word(way), effects(graph, &edge.effects), to.index())
        });
        let ways: String = ways.collect();
        format!("{} @{step} {}{effects_here}{ways}\n", id.index(), kind(graph, &node.kind))
    };
    graph.flow.node_indices().map(row).collect()
}

fn kind(graph: &StepGraph, kind: &NodeKind) -> String {
    match kind {
        NodeKind::Act(act) => line_of(graph, act),
        NodeKind::Pass => "pass".to_owned(),
        NodeKind::Branch(condition) => format!("when {}", said(graph, condition)),
        NodeKind::AnyOrder { children } => format!("any-order {children}"),
        NodeKind::ChildDone { order } => format!("child-done {}", order.index()),
        NodeKind::Together { lanes } => {
            let lanes: Vec<&str> = lanes.iter().map(|by| by.name.as_str()).collect();
            format!("together {}", lanes.join(", "))
        }
        NodeKind::LaneDone { together } => format!("lane-done {}", together.index()),
        NodeKind::Await(condition) => format!("await {}", said(graph, condition)),
        NodeKind::Repeat(repeat) => {
            format!("repeat up to {}", graph.repeats[usize::from(repeat.0)].times)
        }
        NodeKind::Enter { subtask, needs, .. } => {
            let needs: Vec<&str> = needs.iter().map(|need| need.written.as_str()).collect();
            format!("enter {subtask} [{}]", needs.join("; "))
        }
        NodeKind::Leave { subtask, leaves, .. } => {
            let left = leaves.iter().map(|left| graph.variable(left.variable).words.name.clone());
            format!("leave {subtask} [{}]", left.collect::<Vec<_>>().join("; "))
        }
        NodeKind::End(End::Done) => "done".to_owned(),
        NodeKind::End(End::Stop { text }) => format!("stop “{}”", text.written()),
        NodeKind::End(End::Refer { to }) => format!("refer “{}”", to.written()),
    }
}

/// The line as it will be said, and how a check is worked out.
fn line_of(graph: &StepGraph, act: &Act) -> String {
    let line = line(graph, &act.line);
    match &act.kind {
        ActKind::Wait { seconds, .. } => format!("{line} ({} s)", seconds.to_integer()),
        ActKind::Do
        | ActKind::Confirm
        | ActKind::Measure { .. }
        | ActKind::Count { .. }
        | ActKind::Observe { .. }
        | ActKind::Record { .. }
        | ActKind::Check { .. }
        | ActKind::Choose(_) => line,
    }
}

/// A phrase with its values.
pub(super) fn line(graph: &StepGraph, line: &Line) -> String {
    let values = line.values.iter();
    let values = values.map(|(name, value)| format!(" {name}={}", value_said(graph, value)));
    line.phrase.clone() + &values.collect::<String>()
}

fn value_said(graph: &StepGraph, value: &LineValue) -> String {
    match value {
        LineValue::Words(words) => words.name.clone(),
        LineValue::List(all) => {
            all.iter().map(|words| words.name.clone()).collect::<Vec<_>>().join(",")
        }
        LineValue::Quantity(quantity) => format!("({})", quantity.written),
        LineValue::Limit(limit) => format!("({})", limit.written),
        LineValue::Prose(prose) => format!("“{}”", prose.written()),
        LineValue::Number(number) => number.to_string(),
        LineValue::Stages(stages) => {
            let stages: Vec<String> = stages.iter().map(|stage| line(graph, stage)).collect();
            format!("[{}]", stages.join("; "))
        }
        LineValue::Reading(reading) => graph.reading(*reading).words.name.clone(),
        LineValue::Step(step) => format!("step-{}", graph.step(*step).number),
        LineValue::Steps(steps) => {
            let numbers = steps.iter().map(|step| graph.step(*step).number.clone());
            format!("steps-{}", numbers.collect::<Vec<_>>().join(","))
        }
        LineValue::Text(text) => format!("({text})"),
    }
}

fn effects(graph: &StepGraph, effects: &[Effect]) -> String {
    if effects.is_empty() {
        return String::new();
    }
    let all: Vec<String> = effects.iter().map(|effect| effect_said(graph, effect)).collect();
    format!(" {{{}}}", all.join(" "))
}

fn moment_said(graph: &StepGraph, moment: Moment) -> String {
    match moment {
        Moment::StepEnd(step) => graph.step(step).number.clone(),
        Moment::WaitBegin(step) => format!("begin {}", graph.step(step).number),
    }
}

fn effect_said(graph: &StepGraph, effect: &Effect) -> String {
    match effect {
        Effect::Set { variable, value } => format!(
            "{}={}",
            name(graph, *variable),
            graph.variable(*variable).values[usize::from(*value)].words.name
        ),
        Effect::Prove { variable } => format!("prove {}", name(graph, *variable)),
        Effect::Wait { seconds } => format!("wait {}", seconds.to_i64().unwrap_or(-1)),
        Effect::WaitSince { seconds, moment } => {
            let seconds = seconds.to_i64().unwrap_or(-1);
            format!("wait {seconds} since {}", moment_said(graph, *moment))
        }
        Effect::Mark { moment: Moment::StepEnd(step) } => {
            format!("ends {}", graph.step(*step).number)
        }
        Effect::Mark { moment } => format!("mark {}", moment_said(graph, *moment)),
        Effect::Take { reading } => format!("take {}", graph.reading(*reading).words.name),
        Effect::Void { readings, proofs } => {
            let readings = readings.iter().map(|id| graph.reading(*id).words.name.clone());
            let proofs = proofs.iter().map(|id| name(graph, *id));
            format!("void {}", readings.chain(proofs).collect::<Vec<_>>().join(","))
        }
        Effect::Afresh { repeat } => format!("afresh {}", repeat.0),
        Effect::LeaveBlocks => "leave blocks".to_owned(),
    }
}

fn name(graph: &StepGraph, variable: VariableId) -> String {
    graph.variable(variable).words.name.clone()
}

fn word(way: Way) -> String {
    match way {
        Way::Next => "next".into(),
        Way::Accepted => "accepted".into(),
        Way::Otherwise => "otherwise".into(),
        Way::Arm(arm) => format!("arm{arm}"),
        Way::Child(child) => format!("child{child}"),
        Way::Again => "again".into(),
        Way::Failing => "failing".into(),
    }
}

/// A condition in short: `supply=isolated and not proved supply=isolated`.
pub(super) fn said(graph: &StepGraph, condition: &Condition) -> String {
    let all = |parts: &[Condition], word: &str| {
        parts.iter().map(|part| said(graph, part)).collect::<Vec<_>>().join(word)
    };
    match condition {
        Condition::Always(so) => so.to_string(),
        Condition::Not(inner) => format!("not {}", said(graph, inner)),
        Condition::All(parts) => all(parts, " and "),
        Condition::Any(parts) => all(parts, " or "),
        Condition::Test(Test::Within { written, .. }) => written.clone(),
        Condition::Test(
            test @ (Test::Is { variable, values, .. }
            | Test::Proved { variable, values, .. }
            | Test::Held { variable, values, .. }),
        ) => {
            let declared = graph.variable(*variable);
            let values =
                values.iter().map(|value| declared.values[usize::from(*value)].words.name.clone());
            let mark = match test {
                Test::Proved { .. } => "proved ",
                Test::Held { .. } => "held ",
                Test::Is { .. } | Test::Within { .. } => "",
            };
            format!("{mark}{}={}", declared.words.name, values.collect::<Vec<_>>().join("|"))
        }
    }
}

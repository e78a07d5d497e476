//! The written order as rows: what both pictures show.

use locknut_graph::{
    Act, ActKind, Leads, LineValue, NodeId, NodeKind, Outline, StepGraph, StepId, Verdict, Way,
};

/// A row of the picture.
#[derive(Clone, Debug)]
pub(crate) enum Row {
    /// A section's title.
    Section(String),
    /// A frame opens: `any order`, `when …`, a called subtask.
    Open(String),
    /// The frame closes.
    Close,
    /// A step.
    Step { step: StepId, number: String, text: String, exits: Vec<Exit> },
}

/// A way out of a step that leaves the written order.
#[derive(Clone, Debug)]
pub(crate) struct Exit {
    /// When it is taken.
    pub(crate) when: String,
    /// Where it leads.
    pub(crate) to: Target,
}

/// Where an exit leads.
#[derive(Clone, Debug)]
pub(crate) enum Target {
    Stop(String),
    Refer(String),
    Again { step: StepId, times: u32 },
    Done,
}

/// All rows of a procedure.
pub(crate) fn rows(graph: &StepGraph) -> Vec<Row> {
    let mut rows = Vec::new();
    gather(graph, &graph.outline, &mut rows);
    rows
}

fn gather(graph: &StepGraph, items: &[Outline], rows: &mut Vec<Row>) {
    for item in items {
        match item {
            Outline::Section { title, items, .. } => {
                rows.push(Row::Section(title.written()));
                gather(graph, items, rows);
            }
            Outline::Step { step, items } => {
                rows.push(step_row(graph, *step, items));
                inner_steps(graph, items, rows);
            }
            Outline::AnyOrder { items, .. } => framed(graph, "in any order", items, rows),
            Outline::Group { items } => framed(graph, "together as one", items, rows),
            Outline::Unbroken { items } => framed(graph, "without a break", items, rows),
            Outline::Call { title, at, items, .. } => {
                let at = at.iter().map(|point| format!(" ({})", point.said));
                let title: String = std::iter::once(title.written()).chain(at).collect();
                framed(graph, &title, items, rows);
            }
            Outline::AtTheEnd { items } => framed(graph, "at the end", items, rows),
            Outline::Branch { node, arms } => {
                for arm in arms {
                    framed(graph, &way_text(graph, *node, arm.way), &arm.items, rows);
                }
            }
            Outline::Together { lanes, .. } => {
                for lane in lanes {
                    framed(graph, &format!("side by side: {}", lane.by.said), &lane.items, rows);
                }
            }
            Outline::Outcome { node, way, items, .. } => {
                framed(graph, &way_text(graph, *node, *way), items, rows);
            }
            Outline::Line { .. }
            | Outline::Note { .. }
            | Outline::Not { .. }
            | Outline::Template { .. } => {}
        }
    }
}

/// Frames without a step in them would be empty boxes: they are left out.
fn framed(graph: &StepGraph, title: &str, items: &[Outline], rows: &mut Vec<Row>) {
    let mut inside = Vec::new();
    gather(graph, items, &mut inside);
    if inside.iter().any(|row| matches!(row, Row::Step { .. })) {
        rows.push(Row::Open(title.to_owned()));
        rows.append(&mut inside);
        rows.push(Row::Close);
    }
}

/// Steps that stand inside a step: in its outcomes, calls, branches.
fn inner_steps(graph: &StepGraph, items: &[Outline], rows: &mut Vec<Row>) {
    gather(graph, items, rows);
}

fn step_row(graph: &StepGraph, id: StepId, items: &[Outline]) -> Row {
    let step = graph.step(id);
    let mut exits = Vec::new();
    gather_exits(graph, items, &mut exits);
    let text = step.text.as_ref().map(locknut_graph::Prose::written);
    Row::Step {
        step: id,
        number: step.number.clone(),
        text: text.or_else(|| step.name.clone()).unwrap_or_else(|| first_phrase(graph, items)),
        exits,
    }
}

/// Where the readings of a step lead; whatever one was read with, each way out of it is drawn once.
fn gather_exits(graph: &StepGraph, items: &[Outline], exits: &mut Vec<Exit>) {
    for item in items {
        if let Outline::Outcome { node, way, items, leads } = item {
            if let Leads::Below = leads {
                gather_exits(graph, items, exits);
            }
            leave(way_text(graph, *node, *way), leads, exits);
        }
    }
}

/// A step without words of its own is told by its first act.
fn first_phrase(graph: &StepGraph, items: &[Outline]) -> String {
    let act = items.iter().find_map(|item| {
        if let Outline::Line { node } = item { graph.node(*node).act() } else { None }
    });
    act.map(act_words).unwrap_or_default()
}

/// An act in the words of the source.
fn act_words(act: &Act) -> String {
    match &act.kind {
        ActKind::Wait { duration, .. } => format!("wait {}", duration.written),
        ActKind::Observe { question: Some(question), .. } => question.written(),
        ActKind::Do
        | ActKind::Confirm
        | ActKind::Observe { question: None, .. }
        | ActKind::Measure { .. }
        | ActKind::Count { .. }
        | ActKind::Record { .. }
        | ActKind::Check { .. }
        | ActKind::Choose(_) => {
            // What is asked first is but with which instrument.
            let phrase = act.line.phrase.replace("measure-which", "measure");
            let verb = phrase.rsplit('-').next().unwrap_or_default();
            let thing = act.line.values.values().find_map(|value| {
                if let LineValue::Words(words) = value { Some(words.said.clone()) } else { None }
            });
            format!("{verb} {}", thing.unwrap_or_default()).trim_end().to_owned()
        }
    }
}

fn leave(when: String, leads: &Leads, exits: &mut Vec<Exit>) {
    match leads {
        // Where it leads is drawn at the line that it stands for.
        Leads::On { .. } | Leads::Below | Leads::AsAt { .. } => {}
        Leads::Stop { text } => exits.push(Exit { when, to: Target::Stop(text.written()) }),
        Leads::Refer { to } => exits.push(Exit { when, to: Target::Refer(to.written()) }),
        Leads::Done => exits.push(Exit { when, to: Target::Done }),
        Leads::Again { step, times, failing } => {
            exits.push(Exit { when, to: Target::Again { step: *step, times: *times } });
            leave("failing that".into(), &failing.1, exits);
        }
    }
}

fn way_text(graph: &StepGraph, node: NodeId, way: Way) -> String {
    let from = graph.node(node);
    if let (NodeKind::Branch(condition), Way::Arm(0)) = (&from.kind, way) {
        return condition_text(graph, condition);
    }
    let verdict = from.act().and_then(|act| act.kind.verdict());
    match (verdict, way) {
        (Some(Verdict::Arms(arms)), Way::Arm(arm)) => {
            arms.get(usize::from(arm)).map(|arm| arm.written.clone()).unwrap_or_default()
        }
        (Some(Verdict::Accept { limit, .. }), Way::Otherwise) => {
            format!("not {}", limit.limit.written)
        }
        _ => "otherwise".into(),
    }
}

fn condition_text(graph: &StepGraph, condition: &locknut_graph::Condition) -> String {
    let names: Vec<String> = condition
        .variables()
        .into_iter()
        .map(|variable| graph.variable(variable).words.said.clone())
        .collect();
    format!("when it depends on {}", names.join(", "))
}

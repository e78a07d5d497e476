//! Changes that may mend a fault. Whoever has the sources tries them; nothing here is sure to prove.

use crate::calls::Calls;
use crate::duty::Duty;
use crate::leave::Unsafe;
use crate::pairs::{Pair, writers};
use crate::tell::Lack;
use crate::walk::Fault;
use crate::words::{last_writer, line_for, time_words};
use locknut_finding::{Change, Span};
use locknut_graph::{
    ActKind, Because, Condition, Effect, End, Node, NodeId, NodeKind, Restore, StepGraph, StepId,
    Test, VariableId, VariableKind, Way,
};
use locknut_quantity::Exact;
use std::collections::BTreeMap;

/// No fault has more proposals: each costs a proof.
const MOST: usize = 8;

/// What may mend a fault, the likeliest first.
pub(crate) fn proposals(calls: &Calls<'_>, fault: &Fault<'_>) -> Vec<Change> {
    let graph = calls.graph;
    if let Lack::Upper { .. } = &fault.lack {
        // No line and no order keeps time from passing.
        return Vec::new();
    }
    let mut changes = match &fault.duty {
        Duty::Assertion { node, assertion } => {
            let own = match &assertion.because {
                Because::SingleUse { .. } => renewed(graph, *node),
                Because::Hands { .. }
                | Because::Sealed { .. }
                | Because::Oiled { .. }
                | Because::Denied { .. } => Vec::new(),
                Because::Element { .. } | Because::Change { .. } => {
                    let again = done_already(graph, fault, *node).into_iter();
                    again.chain(lacking(calls, fault, &assertion.condition, *node)).collect()
                }
                Because::Needs
                | Because::OneTool { .. }
                | Because::Relation { .. }
                | Because::Lock { .. }
                | Because::Dead { .. }
                | Because::Never { .. }
                | Because::StartsWith { .. }
                | Because::MadeSo => lacking(calls, fault, &assertion.condition, *node),
            };
            in_order(calls, fault, *node, own)
        }
        Duty::Interlock { interlock } => {
            let Some(node) = fault.node else { return Vec::new() };
            let mut own = lacking(calls, fault, &interlock.holds, node);
            if let Some(part) = &interlock.held {
                own = held(graph, node, &part.name);
            }
            in_order(calls, fault, node, own)
        }
        Duty::Restore { .. } | Duty::Leaves { .. } if !matches!(fault.lack, Lack::Value) => {
            wait_on(graph, fault)
        }
        Duty::Restore { restore, .. } => restored(graph, fault, restore),
        Duty::SafeToLeave { node, .. } => safe(graph, fault, *node),
        Duty::AsFound { variable, .. } => {
            let normal = graph.variable(*variable).normal;
            at_the_end_of_it(graph, fault, *variable, normal).into_iter().collect()
        }
        Duty::Leaves { restore, .. } => restore
            .values
            .iter()
            .filter_map(|value| at_the_end_of_it(graph, fault, restore.variable, *value))
            .collect(),
        Duty::Taken { node, reading } => {
            let takes = Effect::Take { reading: *reading };
            let readings = writers(calls, *node, &takes).into_iter();
            readings.flat_map(|reading| read_ahead(graph, &reading)).collect()
        }
        Duty::Stuck { .. } => Vec::new(),
    };
    changes.truncate(MOST);
    changes
}

/// Lines and moves that bring about what a condition lacks.
fn lacking(
    calls: &Calls<'_>,
    fault: &Fault<'_>,
    condition: &Condition,
    node: NodeId,
) -> Vec<Change> {
    let graph = calls.graph;
    let act = graph.node(node).span;
    match &fault.lack {
        Lack::Time { variable, waited, wanted } => {
            let left = wanted - waited;
            let more = [&left, wanted]
                .map(|time| Change::Ahead(act, format!("wait {}", time_words(time))));
            return waited_before(calls, fault, *variable).into_iter().chain(more).collect();
        }
        Lack::Proof(variable, _) => {
            let proves = Effect::Prove { variable: *variable };
            let provers = writers(calls, node, &proves).into_iter();
            return provers.flat_map(|prover| read_ahead(graph, &prover)).collect();
        }
        Lack::Upper { .. } | Lack::Value => {}
    }
    // What an act has just written is not what it lacks.
    let mut values = fault.values.clone();
    if matches!(fault.duty, Duty::Interlock { .. }) {
        forget_last(graph, fault, &mut values);
    }
    let mut lines = Vec::new();
    let mut moves = Vec::new();
    for (variable, value) in wanted(graph, condition, &values) {
        let has = values.get(&variable).copied();
        lines.extend(line_for(graph, variable, has, value).map(|line| Change::Ahead(act, line)));
        for pair in writers(calls, node, &Effect::Set { variable, value }) {
            if graph.node(pair.other).span.start > graph.node(pair.own).span.start {
                moves.extend(reordered(graph, node, &pair));
            }
        }
    }
    // A line that is there already, but comes too late, is moved rather than written twice.
    moves.into_iter().chain(lines).collect()
}

/// The step that a node belongs to, whole, where another one stands in a step of its own.
fn steps_of(graph: &StepGraph, one: NodeId, other: NodeId) -> Option<(Span, Span)> {
    let (one, other) = (graph.node(one).step?, graph.node(other).step?);
    (one != other).then(|| (graph.step(one).span, graph.step(other).span))
}

/// An act and a later one that brings what it lacks, the other way round. What a step is for stays together: steps move
/// whole before lines do. And what puts a state back as it normally is, the power above all, moves back and never to
/// the front: what stands ahead of it was written to be done without.
fn reordered(graph: &StepGraph, act: NodeId, pair: &Pair) -> Vec<Change> {
    let (back, front) = (puts_back(graph, act), puts_back(graph, pair.brings));
    let (act, writer) = (pair.own, pair.other);
    let (act_at, writer_at) = (graph.node(act).span, graph.node(writer).span);
    let mut moves = Vec::new();
    if let Some((own, other)) = steps_of(graph, act, writer) {
        moves.push(Change::MoveBehind(own, other));
        if !front {
            moves.push(Change::MoveAhead(other, own));
        }
        if back {
            return moves;
        }
    }
    moves.push(Change::MoveBehind(act_at, writer_at));
    if !front {
        moves.push(Change::MoveAhead(writer_at, act_at));
    }
    moves
}

/// A wait that stands ahead of what it should count from belongs behind that.
fn waited_before(calls: &Calls<'_>, fault: &Fault<'_>, variable: VariableId) -> Option<Change> {
    let graph = calls.graph;
    let set = last_writer(graph, &fault.trail, variable)?;
    let wait = |node: &&NodeId| {
        let act = graph.node(**node).act();
        act.is_some_and(|act| matches!(act.kind, ActKind::Wait { .. }))
    };
    let before = fault.trail.iter().map(|(node, _)| node).take_while(|node| **node != set);
    let (wait, set) = calls.side_by_side(*before.filter(wait).last()?, set);
    let behind = steps_of(graph, wait, set).map_or(graph.node(set).span, |(_, step)| step);
    let wait = graph.node(wait).span;
    (wait.file == behind.file).then_some(Change::MoveBehind(wait, behind))
}

/// A reading ahead of what rests on it, its whole step before its line alone.
fn read_ahead(graph: &StepGraph, pair: &Pair) -> Vec<Change> {
    let (reading, act) = (pair.other, pair.own);
    let steps = steps_of(graph, reading, act).map(|(own, other)| Change::MoveAhead(own, other));
    let line = Change::MoveAhead(graph.node(reading).span, graph.node(act).span);
    steps.into_iter().chain([line]).collect()
}

/// Whether an act brings a state to where it normally stands.
fn puts_back(graph: &StepGraph, node: NodeId) -> bool {
    graph.node(node).effects.iter().any(|effect| {
        let Effect::Set { variable, value } = effect else { return false };
        let declared = graph.variable(*variable);
        declared.kind == VariableKind::State && declared.normal == *value
    })
}

/// An act that finds all as it would make it is one too many; with a step that is for nothing else.
fn done_already(graph: &StepGraph, fault: &Fault<'_>, node: NodeId) -> Vec<Change> {
    let here = graph.node(node);
    // What finds it so only in a second round is wanted in the first.
    if fault.trail.iter().any(|(before, _)| *before == node) {
        return Vec::new();
    }
    let written = here.effects.iter().filter_map(|effect| {
        let Effect::Set { variable, value } = effect else { return None };
        // What the fault does not turn on stands as the path has left it.
        let stands = fault.values.get(variable).copied();
        let stands = stands.or_else(|| last_value(graph, fault, *variable));
        Some(stands == Some(*value))
    });
    let written: Vec<bool> = written.collect();
    if written.is_empty() || written.contains(&false) {
        return Vec::new();
    }
    let step = here.step.filter(|step| acts_of(graph, *step) == 1);
    let step = step.map(|step| graph.step(step).span);
    [Some(here.span), step].into_iter().flatten().map(Change::Away).collect()
}

/// What a path gave to a variable last.
fn last_value(graph: &StepGraph, fault: &Fault<'_>, variable: VariableId) -> Option<u8> {
    let writer = last_writer(graph, &fault.trail, variable)?;
    graph.node(writer).effects.iter().rev().find_map(|effect| effect.sets(variable))
}

fn acts_of(graph: &StepGraph, step: StepId) -> usize {
    let own = |node: &&Node| node.step == Some(step) && node.act().is_some();
    graph.flow.node_weights().filter(own).count()
}

/// Every value that a condition asks for and does not find; of what it forbids, another value.
fn wanted(
    graph: &StepGraph,
    condition: &Condition,
    values: &BTreeMap<VariableId, u8>,
) -> Vec<(VariableId, u8)> {
    match condition {
        Condition::Always(_) | Condition::Test(Test::Within { .. }) => Vec::new(),
        Condition::All(parts) | Condition::Any(parts) => {
            parts.iter().flat_map(|part| wanted(graph, part, values)).collect()
        }
        Condition::Test(
            Test::Is { variable, values: good, .. }
            | Test::Proved { variable, values: good, .. }
            | Test::Held { variable, values: good, .. },
        ) => {
            let lacks = values.get(variable).is_some_and(|has| !good.contains(has));
            let first = good.first().filter(|_| lacks);
            first.map(|value| (*variable, *value)).into_iter().collect()
        }
        Condition::Not(inner) => {
            let Condition::Test(Test::Is { variable, values: bad, .. }) = &**inner else {
                return Vec::new();
            };
            let forbidden = values.get(variable).is_some_and(|has| bad.contains(has));
            let declared = graph.variable(*variable);
            let all = (0u8..).zip(&declared.values).map(|(value, _)| value);
            let mut other = std::iter::once(declared.normal).chain(all);
            let other = other.find(|value| !bad.contains(value)).filter(|_| forbidden);
            other.map(|value| (*variable, value)).into_iter().collect()
        }
    }
}

fn forget_last(graph: &StepGraph, fault: &Fault<'_>, values: &mut BTreeMap<VariableId, u8>) {
    let Some((node, way)) = fault.trail.last() else { return };
    let edge = graph.follow(*node, *way).map(|(edge, _)| &edge.effects[..]).unwrap_or_default();
    for effect in graph.node(*node).effects.iter().chain(edge) {
        if let Effect::Set { variable, .. } = effect {
            values.remove(variable);
        }
    }
}

/// What an order can mend is mended so first; what people do side by side, out of their block last.
fn in_order(calls: &Calls<'_>, fault: &Fault<'_>, node: NodeId, own: Vec<Change>) -> Vec<Change> {
    let beside = out_of_block(calls, fault, node);
    let own = own.into_iter().take(MOST.saturating_sub(beside.len()));
    bound(calls.graph, fault).into_iter().chain(own).chain(beside).collect()
}

/// A step of one lane behind, or ahead of, the block in which another is side by side with it.
fn out_of_block(calls: &Calls<'_>, fault: &Fault<'_>, node: NodeId) -> Vec<Change> {
    let graph = calls.graph;
    let together = |at: &NodeId| matches!(graph.node(*at).kind, NodeKind::Together { .. });
    let block =
        fault.trail.iter().rev().find(|(at, way)| together(at) && matches!(way, Way::Child(_)));
    // What its lane begins with nobody has come to by it yet.
    let around = |at: &NodeId| together(at) && within(graph.node(node).span, graph.node(*at).span);
    let block = block.map(|(at, _)| *at).or_else(|| graph.flow.node_indices().find(around));
    let Some(block) = block else { return Vec::new() };
    let (node, block) = calls.side_by_side(node, block);
    let (here, block) = (graph.node(node), graph.node(block).span);
    let inside =
        |span: &Span| span.file == block.file && block.start < span.start && span.end <= block.end;
    let step = here.step.map(|step| graph.step(step).span).filter(inside);
    let Some(what) = step.or(Some(here.span).filter(inside)) else { return Vec::new() };
    vec![Change::MoveBehind(what, block), Change::MoveAhead(what, block), Change::Bind(block)]
}

/// Freed blocks on the path, done in their written order instead.
fn bound(graph: &StepGraph, fault: &Fault<'_>) -> Vec<Change> {
    let chosen = fault.trail.iter().rev().filter(|(node, way)| {
        let freed = matches!(graph.node(*node).kind, NodeKind::AnyOrder { .. });
        freed && matches!(way, Way::Child(_))
    });
    let mut blocks: Vec<Span> = chosen.map(|(node, _)| graph.node(*node).span).collect();
    blocks.dedup();
    blocks.into_iter().take(2).map(Change::Bind).collect()
}

/// A new part instead of the old one.
fn renewed(graph: &StepGraph, node: NodeId) -> Vec<Change> {
    let span = graph.node(node).span;
    let fits = graph.node(node).act().is_some_and(|act| act.line.phrase.ends_with("-fit"));
    let verb = Span { end: span.start.saturating_add(3), ..span };
    let renew = Change::Put(verb, "renew".to_owned());
    Some(renew).filter(|_| fits).into_iter().collect()
}

/// Somebody else of the crew holds it until the step is done.
fn held(graph: &StepGraph, node: NodeId, part: &str) -> Vec<Change> {
    let here = graph.node(node);
    let Some(step) = here.step.map(|step| graph.step(step)) else { return Vec::new() };
    let Some(name) = &step.name else { return Vec::new() };
    let busy = |role: &&locknut_graph::Words| !matches!(&step.by, locknut_graph::By::Roles(roles) if roles.contains(*role));
    let others = graph.heading.crew.iter().filter(busy);
    let line =
        |role: &locknut_graph::Words| format!("hold {part} by {} until {name} is done", role.name);
    others.map(|role| Change::Ahead(here.span, line(role))).collect()
}

fn restored(graph: &StepGraph, fault: &Fault<'_>, restore: &Restore) -> Vec<Change> {
    let procedure = graph
        .flow
        .node_weights()
        .find(|node| matches!(node.kind, NodeKind::End(End::Done)))
        .map(|node| node.span);
    let declared = graph.variable(restore.variable);
    let mut changes = Vec::new();
    for value in &restore.values {
        let has = fault.values.get(&restore.variable).copied();
        let line = line_for(graph, restore.variable, has, *value);
        // Where it is owed, and never right behind what made it so: that may be the preparation of all that follows.
        let on_its_way = half_way(graph, fault, restore.variable);
        let behind =
            |line: &String| Some(Change::Behind(graph.node(on_its_way?).span, line.clone()));
        changes.extend(line.as_ref().and_then(behind));
        changes.extend(line.iter().flat_map(|line| at_done(graph, fault, line)));
        let in_when = |line: &String| end_of_when(graph, fault, restore.variable, line);
        changes.extend(line.as_ref().and_then(in_when));
        if let (Some(line), Some(of)) = (line, procedure) {
            let again = declared.kind == VariableKind::State;
            changes.push(Change::Last(of, line.clone()));
            changes.extend(again.then(|| Change::Last(of, format!("at the end {line}"))));
        }
    }
    if let (VariableKind::Inspection { by, thing }, Some(of)) =
        (&graph.variable(restore.variable).kind, procedure)
    {
        let line = format!("sign \"The {} is in order.\" by {}", thing.said, by.name);
        changes.push(Change::Last(of, line));
    }
    changes
}

/// The rest of the time at the end of what owes it.
fn wait_on(graph: &StepGraph, fault: &Fault<'_>) -> Vec<Change> {
    let Lack::Time { waited, wanted, .. } = &fault.lack else { return Vec::new() };
    let last = fault.trail.iter().rev().find(|(node, _)| graph.node(*node).act().is_some());
    let last = last.map(|(node, _)| *node).filter(|node| graph.ways(*node).len() == 1);
    let Some(last) = last else { return Vec::new() };
    let behind = graph.node(last).span;
    let wait = |time: &Exact| Change::Behind(behind, format!("wait {}", time_words(time)));
    [&(wanted - waited), wanted].map(wait).into()
}

/// The act that brought it nearer to normal and not there, as `fit` does with bolts: what follows it belongs behind it.
fn half_way(graph: &StepGraph, fault: &Fault<'_>, variable: VariableId) -> Option<NodeId> {
    let declared = graph.variable(variable);
    declared.kind.element()?;
    let normal = declared.normal;
    let writes = fault.trail.iter().flat_map(|(node, way)| {
        let edge = graph.follow(*node, *way).map(|(edge, _)| &edge.effects[..]).unwrap_or_default();
        let effects = graph.node(*node).effects.iter().chain(edge);
        effects.filter_map(move |effect| Some((*node, effect.sets(variable)?)))
    });
    let written: Vec<(NodeId, u8)> = writes.collect();
    let [.., (_, before), (node, last)] = written.as_slice() else { return None };
    // An element's values stand in the order in which it comes away.
    (last.abs_diff(normal) < before.abs_diff(normal)).then_some(*node)
}

/// Behind the last act of the `when` in which it was changed: on the other ways there is nothing to bring back.
fn end_of_when(
    graph: &StepGraph,
    fault: &Fault<'_>,
    variable: VariableId,
    line: &str,
) -> Option<Change> {
    let (_, when) = changed_in_when(graph, fault, variable)?;
    let inside = |node: &NodeId| within(graph.node(*node).span, when);
    let mut back = fault.trail.iter().rev().map(|(node, _)| *node).filter(inside);
    let last = back.find(|node| graph.node(*node).act().is_some())?;
    (graph.ways(last).len() == 1).then(|| Change::Behind(graph.node(last).span, line.to_owned()))
}

/// Where a path changes something last, and the `when` around that line; none where it stands in none.
pub(crate) fn changed_in_when(
    graph: &StepGraph,
    fault: &Fault<'_>,
    variable: VariableId,
) -> Option<(NodeId, Span)> {
    let changes = |node: &NodeId| {
        graph.node(*node).effects.iter().any(|effect| effect.sets(variable).is_some())
    };
    let at = fault.trail.iter().rposition(|(node, _)| changes(node))?;
    let (before, from) = fault.trail.split_at(at);
    let changed = from.first()?.0;
    let branch = |node: &NodeId| matches!(graph.node(*node).kind, NodeKind::Branch(_));
    let around = |node: &NodeId| within(graph.node(changed).span, graph.node(*node).span);
    let mut back = before.iter().rev().map(|(node, _)| *node);
    let when = back.find(|node| branch(node) && around(node))?;
    Some((changed, graph.node(when).span))
}

fn within(inner: Span, outer: Span) -> bool {
    inner.file == outer.file && outer.start <= inner.start && inner.end <= outer.end
}

/// In the arm that ends the job with `done`, where the path goes by one.
fn at_done(graph: &StepGraph, fault: &Fault<'_>, line: &str) -> Vec<Change> {
    let ends = |node: &NodeId| graph.node(*node).effects.contains(&Effect::LeaveBlocks);
    let mut back = fault.trail.iter().rev().map(|(node, _)| *node);
    let Some(done) = back.by_ref().find(ends) else { return Vec::new() };
    let span = graph.node(done).span;
    let at = Span { end: span.start, ..span };
    let block = back.find(|node| graph.node(*node).act().is_some());
    let block = block.filter(|node| graph.ways(*node).len() == 1).map(|node| graph.node(node).span);
    let behind = block.map(|act| Change::Behind(act, line.to_owned()));
    [Change::Put(at, format!("{{ {line} }} then "))].into_iter().chain(behind).collect()
}

/// Behind the last act of a subtask on the path, where one line stands there for all ways.
fn at_the_end_of_it(
    graph: &StepGraph,
    fault: &Fault<'_>,
    variable: VariableId,
    value: u8,
) -> Option<Change> {
    let line = line_for(graph, variable, fault.values.get(&variable).copied(), value)?;
    let last = fault.trail.iter().rev().find(|(node, _)| graph.node(*node).act().is_some())?.0;
    let alone = graph.ways(last).len() == 1;
    alone.then(|| Change::Behind(graph.node(last).span, line))
}

/// Acts ahead of a stop that make it safe to leave.
fn safe(graph: &StepGraph, fault: &Fault<'_>, node: NodeId) -> Vec<Change> {
    // What nobody said is safe may be the very thing that is not: the mains back on in front of an open cover.
    // Ahead of a reading they may change what is read.
    let not_so = Unsafe::of(graph, &fault.values);
    let taken = not_so.rules.iter().any(|rule| !rule.said);
    if taken || graph.node(node).act().is_some() {
        return Vec::new();
    }
    let end = graph.node(node).span;
    let at = Span { end: end.start, ..end };
    let lines = not_so.parts.into_iter().flat_map(|part| wanted(graph, part, &fault.values));
    lines
        .filter_map(|(variable, value)| {
            line_for(graph, variable, fault.values.get(&variable).copied(), value)
        })
        .map(|line| Change::Put(at, format!("{{ {line} }} then ")))
        .collect()
}

//! Brute force: every variable, every order, nothing passed over.

use crate::{Failing, Trail, Values};
use locknut_graph::{
    Condition, Effect, End, Marking, NodeId, NodeKind, StepGraph, StepId, Test, VariableId, Way,
};
use locknut_quantity::Exact;
use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// Longer waits than anyone asks for are all the same.
fn cap() -> Exact {
    Exact::from_integer(4.into())
}

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Whole {
    marking: Marking,
    values: Values,
    proved: BTreeSet<VariableId>,
    waited: BTreeMap<VariableId, Exact>,
    /// At a step's end: how long each variable had had its value; gone once it is written.
    then: BTreeMap<(StepId, VariableId), Exact>,
    found: BTreeMap<u16, Values>,
}

fn starts(graph: &StepGraph) -> Vec<Whole> {
    let ids: Vec<VariableId> =
        (0..u16::try_from(graph.variables.len()).unwrap()).map(VariableId).collect();
    let mut all = vec![Values::new()];
    for id in &ids {
        let choices = graph
            .starts
            .iter()
            .find(|(of, _)| of == id)
            .map_or_else(|| vec![0], |(_, values)| values.clone());
        all = all
            .into_iter()
            .flat_map(|values| {
                choices.iter().map(move |choice| {
                    let mut values = values.clone();
                    values.insert(*id, *choice);
                    values
                })
            })
            .collect();
    }
    let zero = Exact::from_integer(0.into());
    all.into_iter()
        .map(|values| Whole {
            marking: Marking::start(graph),
            values,
            proved: BTreeSet::new(),
            waited: ids.iter().map(|id| (*id, zero.clone())).collect(),
            then: BTreeMap::new(),
            found: BTreeMap::new(),
        })
        .collect()
}

fn after(graph: &StepGraph, whole: &Whole, way: Way) -> Option<Whole> {
    let mut next = whole.clone();
    next.marking = whole.marking.take(graph, way)?;
    let at = whole.marking.at;
    match &graph.node(at).kind {
        NodeKind::Enter { call, .. } => {
            next.found.insert(*call, whole.values.clone());
        }
        NodeKind::Leave { call, .. } => {
            next.found.remove(call);
        }
        _ => {}
    }
    let (edge, _) = graph.follow(at, way)?;
    for effect in graph.node(at).effects.iter().chain(&edge.effects) {
        apply(&mut next, effect);
    }
    Some(next)
}

fn apply(whole: &mut Whole, effect: &Effect) {
    match effect {
        Effect::Set { variable, value } => {
            whole.values.insert(*variable, *value);
            whole.proved.remove(variable);
            whole.waited.insert(*variable, Exact::from_integer(0.into()));
            whole.then.retain(|(_, of), _| of != variable);
        }
        Effect::Prove { variable } => {
            whole.proved.insert(*variable);
        }
        Effect::Wait { seconds } => {
            for waited in whole.waited.values_mut() {
                *waited = (&*waited + seconds).min(cap());
            }
        }
        Effect::WaitSince { seconds, step } => {
            for (variable, waited) in &mut whole.waited {
                if let Some(then) = whole.then.get(&(*step, *variable)) {
                    *waited = (then + seconds).min(cap()).max(waited.clone());
                }
            }
        }
        Effect::StepEnds { step } => {
            for (variable, waited) in &whole.waited {
                whole.then.insert((*step, *variable), waited.clone());
            }
        }
        Effect::Void { proofs, .. } => whole.proved.retain(|variable| !proofs.contains(variable)),
        Effect::Take { .. } | Effect::Afresh { .. } => {}
    }
}

fn holds(whole: &Whole, condition: &Condition) -> bool {
    match condition {
        Condition::Always(so) => *so,
        Condition::Not(inner) => !holds(whole, inner),
        Condition::All(parts) => parts.iter().all(|part| holds(whole, part)),
        Condition::Any(parts) => parts.iter().any(|part| holds(whole, part)),
        Condition::Test(Test::Is { variable, values, .. }) => {
            values.contains(&whole.values[variable])
        }
        Condition::Test(Test::Proved { variable, values, .. }) => {
            values.contains(&whole.values[variable]) && whole.proved.contains(variable)
        }
        Condition::Test(Test::Held { variable, values, seconds, under, .. }) => {
            values.contains(&whole.values[variable])
                && (whole.waited[variable] >= *seconds) != *under
        }
        Condition::Test(Test::Within { .. }) => panic!("no readings here"),
    }
}

fn ways(graph: &StepGraph, whole: &Whole) -> Vec<Way> {
    let all = whole.marking.ways(graph);
    match &graph.node(whole.marking.at).kind {
        NodeKind::Branch(condition) => {
            vec![if holds(whole, condition) { Way::Arm(0) } else { Way::Arm(1) }]
        }
        _ => all,
    }
}

/// What fails in a state that was reached from another.
fn fails(
    graph: &StepGraph,
    whole: &Whole,
    before: Option<&Whole>,
) -> Vec<(String, Option<NodeId>)> {
    let at = whole.marking.at;
    let mut failing = Vec::new();
    for interlock in &graph.interlocks {
        let was = before.is_none_or(|before| holds(before, &interlock.holds));
        if !holds(whole, &interlock.holds) && was {
            failing.push((
                format!("interlock {}", interlock.written),
                before.map(|before| before.marking.at),
            ));
        }
    }
    match &graph.node(at).kind {
        NodeKind::Act(act) => {
            for assertion in
                act.assertions.iter().filter(|assertion| !holds(whole, &assertion.condition))
            {
                failing.push((format!("assertion {} {}", at.index(), assertion.written), Some(at)));
            }
        }
        NodeKind::Leave { call, as_found, .. } => {
            for variable in as_found {
                if whole.found[call][variable] != whole.values[variable] {
                    failing.push((format!("found {call} {}", variable.0), Some(at)));
                }
            }
        }
        NodeKind::End(End::Done) => {
            for restore in &graph.restore {
                if !restore.values.contains(&whole.values[&restore.variable]) {
                    failing.push((format!("restore {}", restore.variable.0), Some(at)));
                }
            }
        }
        NodeKind::End(_) if !holds(whole, &graph.safe_to_leave.0) => {
            failing.push(("leave".into(), Some(at)));
        }
        _ => {}
    }
    failing
}

/// Walks everything, breadth first; `visit` gets each state, how it was reached, and how far it is.
fn walk(graph: &StepGraph, visit: &mut dyn FnMut(&Whole, Option<&Whole>, usize)) {
    let mut known = BTreeSet::new();
    let mut open: VecDeque<(Whole, Option<Whole>, usize)> =
        starts(graph).into_iter().map(|start| (start, None, 0)).collect();
    while let Some((whole, before, far)) = open.pop_front() {
        visit(&whole, before.as_ref(), far);
        if !known.insert(whole.clone()) {
            continue;
        }
        for way in ways(graph, &whole) {
            if let Some(next) = after(graph, &whole, way) {
                open.push_back((next, Some(whole.clone()), far + 1));
            }
        }
    }
}

pub(crate) fn failing(graph: &StepGraph) -> Failing {
    let mut failing = Failing::new();
    walk(graph, &mut |whole, before, _| {
        for (duty, node) in fails(graph, whole, before) {
            failing.entry(duty).or_default().insert(node.map(NodeId::index));
        }
    });
    failing
}

/// The fewest ways after which a duty fails at a node.
pub(crate) fn shortest(graph: &StepGraph, duty: &str, node: Option<NodeId>) -> usize {
    let mut least = usize::MAX;
    walk(graph, &mut |whole, before, far| {
        if fails(graph, whole, before).iter().any(|(failed, at)| failed == duty && *at == node) {
            least = least.min(far);
        }
    });
    least
}

/// Goes a trail from some start; its length where the duty fails at its end.
pub(crate) fn replay(
    graph: &StepGraph,
    duty: &str,
    node: Option<NodeId>,
    trail: &Trail,
) -> Result<usize, String> {
    let mut reached: Vec<(Whole, Option<Whole>)> =
        starts(graph).into_iter().map(|start| (start, None)).collect();
    for (at, way) in trail {
        reached = reached
            .into_iter()
            .filter(|(whole, _)| whole.marking.at == *at && ways(graph, whole).contains(way))
            .filter_map(|(whole, _)| Some((after(graph, &whole, *way)?, Some(whole))))
            .collect();
    }
    let ends = |(whole, before): &(Whole, Option<Whole>)| {
        fails(graph, whole, before.as_ref())
            .iter()
            .any(|(failed, at)| failed == duty && *at == node)
    };
    if reached.iter().any(ends) {
        Ok(trail.len())
    } else {
        Err(format!("the path does not lead there: {trail:?}"))
    }
}

/// The graph, for whoever looks into a disagreement.
pub(crate) fn told(graph: &StepGraph) -> String {
    let mut text = format!("interlocks {:#?}\n", graph.interlocks);
    for id in graph.flow.node_indices() {
        let node = graph.node(id);
        let kind = format!("{:?}", node.kind);
        text += &format!(
            "{} {:.300} {:?}
",
            id.index(),
            kind,
            node.effects
        );
        for (way, edge, to) in graph.ways(id) {
            text += &format!(
                "    {way:?} -> {} {:?}
",
                to.index(),
                edge.effects
            );
        }
    }
    text
}

//! Brute force: every variable, every order, nothing passed over.

use crate::{Failing, Stands, Trail, Values};
use locknut_graph::{
    Act, Band, Condition, Effect, End, Expression, Marking, Moment, NodeId, NodeKind, ReadingId,
    SourcedLimit, StepGraph, Test, VariableId, Verdict, Way,
};
use locknut_quantity::{Exact, Range};
use std::collections::{BTreeMap, BTreeSet, HashSet, VecDeque};

/// Longer waits than anyone asks for are all the same.
const CAP: u8 = 4;

/// Whole seconds: no graph here asks for others.
fn whole_seconds(seconds: &Exact) -> u8 {
    u8::try_from(seconds.to_integer()).unwrap()
}

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
struct Whole {
    marking: Marking,
    values: Values,
    proved: BTreeSet<VariableId>,
    waited: BTreeMap<VariableId, u8>,
    /// At a moment: how long each variable had had its value; gone once it is written.
    then: BTreeMap<(Moment, VariableId), u8>,
    /// What was read, in halves; what is asked for and was never read is made up once.
    read: BTreeMap<ReadingId, i32>,
    taken: BTreeSet<ReadingId>,
    found: BTreeMap<u16, Values>,
    /// Time is kept as it passes, and may pass anywhere.
    clock: bool,
}

fn starts(graph: &StepGraph, clock: bool) -> Vec<Whole> {
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
    all.into_iter()
        .map(|values| Whole {
            marking: Marking::start(graph),
            values,
            proved: BTreeSet::new(),
            waited: ids.iter().map(|id| (*id, 0)).collect(),
            then: BTreeMap::new(),
            read: BTreeMap::new(),
            taken: BTreeSet::new(),
            found: BTreeMap::new(),
            clock,
        })
        .collect()
}

/// What a gauge may show, in halves: below, at and above each bound.
const SHOWN: std::ops::RangeInclusive<i32> = 0..=7;

fn after(graph: &StepGraph, whole: &Whole, way: Way) -> Vec<Whole> {
    let Some(marking) = whole.marking.take(graph, way) else { return Vec::new() };
    let mut next = whole.clone();
    next.marking = marking;
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
    if let (NodeKind::Branch(condition), Way::Arm(arm)) = (&graph.node(at).kind, way) {
        told_by(&mut next, condition, arm == 0);
    }
    let mut all = vec![next];
    if let Some(act) = graph.node(at).act().filter(|act| act.kind.reading().is_some()) {
        all = SHOWN
            .filter(|shown| fits(act, way, *shown))
            .flat_map(|shown| {
                all.iter().map(move |next| {
                    let mut next = next.clone();
                    next.read.insert(act.kind.reading().unwrap(), shown);
                    next
                })
            })
            .collect();
    }
    let (edge, _) = graph.follow(at, way).unwrap();
    for effect in graph.node(at).effects.iter().chain(&edge.effects) {
        for next in &mut all {
            apply(next, effect);
        }
    }
    if whole.clock {
        let later = all.clone().into_iter().map(|mut later| {
            later.waited.values_mut().for_each(|waited| *waited = CAP);
            later
        });
        all.extend(later.collect::<Vec<_>>());
    }
    all
}

fn inside(range: &Range, shown: i32) -> bool {
    range.contains(&Exact::new(shown.into(), 2.into()))
}

/// Whether a reading lies above the upper end of a limit, moved out by so much where it is guarded.
fn beyond(limit: &SourcedLimit, shown: i32, by: fn(&Band) -> Exact) -> bool {
    let band = limit.guard.as_ref().and_then(|guard| guard.upper.as_ref());
    let end = &limit.limit.range.upper.as_ref().unwrap().value;
    Exact::new(shown.into(), 2.into())
        > end + band.map_or_else(|| Exact::from_integer(0.into()), by)
}

/// Whether a reading between what is accepted and what is refused leaves the job waiting.
fn waits(act: &Act) -> bool {
    let Some(Verdict::Accept { limit, .. }) = act.kind.verdict() else { return false };
    SHOWN.into_iter().any(|shown| {
        beyond(limit, shown, |band| -&band.inward)
            && !beyond(limit, shown, |band| band.outward.clone())
    })
}

/// As it is once the acts of a node are done.
fn done(graph: &StepGraph, whole: &Whole, at: NodeId) -> Whole {
    let mut done = whole.clone();
    graph.node(at).effects.iter().for_each(|effect| apply(&mut done, effect));
    done
}

/// Whether a reading goes this way.
fn fits(act: &Act, way: Way, shown: i32) -> bool {
    match (act.kind.verdict().unwrap(), way) {
        (Verdict::Accept { limit, .. }, Way::Accepted) => {
            !beyond(limit, shown, |band| -&band.inward)
        }
        (Verdict::Accept { limit, .. }, Way::Otherwise) => {
            beyond(limit, shown, |band| band.outward.clone())
        }
        (Verdict::Arms(arms), Way::Arm(arm)) => {
            inside(&arms[usize::from(arm)].range.as_ref().unwrap().range, shown)
        }
        _ => true,
    }
}

fn apply(whole: &mut Whole, effect: &Effect) {
    match effect {
        Effect::Set { variable, value } => {
            whole.values.insert(*variable, *value);
            whole.proved.remove(variable);
            whole.waited.insert(*variable, 0);
            whole.then.retain(|(_, of), _| of != variable);
        }
        Effect::Prove { variable } => {
            whole.proved.insert(*variable);
        }
        Effect::Wait { seconds } => {
            for waited in whole.waited.values_mut() {
                *waited = (*waited + whole_seconds(seconds)).min(CAP);
            }
        }
        Effect::WaitSince { seconds, moment } => {
            for (variable, waited) in &mut whole.waited {
                if let Some(then) = whole.then.get(&(*moment, *variable)) {
                    *waited = (then + whole_seconds(seconds)).min(CAP).max(*waited);
                }
            }
        }
        Effect::Mark { moment } => {
            for (variable, waited) in &whole.waited {
                whole.then.insert((*moment, *variable), *waited);
            }
        }
        Effect::Void { proofs, readings } => {
            whole.proved.retain(|variable| !proofs.contains(variable));
            for reading in readings {
                whole.read.remove(reading);
                whole.taken.remove(reading);
            }
        }
        Effect::Take { reading } => {
            whole.taken.insert(*reading);
        }
        Effect::Afresh { .. } | Effect::LeaveBlocks => {}
    }
}

/// Whether a condition may turn out so, or not so: for how long something has lasted is known from below only,
/// but where a clock is kept.
fn may(whole: &Whole, condition: &Condition, so: bool) -> bool {
    match condition {
        Condition::Always(always) => *always == so,
        Condition::Not(inner) => may(whole, inner, !so),
        Condition::All(parts) if so => parts.iter().all(|part| may(whole, part, true)),
        Condition::All(parts) => parts.iter().any(|part| may(whole, part, false)),
        Condition::Any(parts) if so => parts.iter().any(|part| may(whole, part, true)),
        Condition::Any(parts) => parts.iter().all(|part| may(whole, part, false)),
        Condition::Test(Test::Is { variable, values, .. }) => {
            values.contains(&whole.values[variable]) == so
        }
        Condition::Test(Test::Proved { variable, values, .. }) => {
            (values.contains(&whole.values[variable]) && whole.proved.contains(variable)) == so
        }
        Condition::Test(Test::Held { variable, values, seconds, under, .. }) => {
            if !values.contains(&whole.values[variable]) {
                return !so;
            }
            let long = whole.waited[variable] >= whole_seconds(seconds);
            (!long && !whole.clock) || (long != *under) == so
        }
        Condition::Test(Test::Within { value: Expression::Reading(reading), limit, .. }) => {
            inside(&limit.range, whole.read[reading]) == so
        }
        Condition::Test(Test::Within { .. }) => panic!("no sums here"),
    }
}

/// Whether it is certain.
fn holds(whole: &Whole, condition: &Condition) -> bool {
    !may(whole, condition, false)
}

/// Whoever takes an arm by the clock knows what the clock showed, where one test alone decided.
fn told_by(whole: &mut Whole, condition: &Condition, so: bool) {
    match condition {
        Condition::Test(Test::Held { variable, values, seconds, under, .. })
            if so != *under && values.contains(&whole.values[variable]) =>
        {
            let waited = whole.waited.get_mut(variable).unwrap();
            *waited = (*waited).max(whole_seconds(seconds));
        }
        Condition::Not(inner) => told_by(whole, inner, !so),
        Condition::All(parts) | Condition::Any(parts) => {
            let open: Vec<&Condition> = parts
                .iter()
                .filter(|part| may(whole, part, true) && may(whole, part, false))
                .collect();
            let all_so = matches!(condition, Condition::All(_)) == so;
            let other = parts.iter().any(|part| !may(whole, part, !so));
            if all_so || (open.len() == 1 && !other) {
                for part in open {
                    told_by(whole, part, so);
                }
            }
        }
        _ => {}
    }
}

/// The same state with every reading known that a branch asks for.
fn made_up(graph: &StepGraph, whole: &Whole) -> Vec<Whole> {
    let mut all = vec![whole.clone()];
    for reading in asked(graph, whole.marking.at) {
        all = all
            .into_iter()
            .flat_map(|whole| {
                let known = whole.read.get(&reading).copied();
                let shown = known.map_or(SHOWN, |shown| shown..=shown);
                shown.map(move |shown| {
                    let mut whole = whole.clone();
                    whole.read.insert(reading, shown);
                    whole
                })
            })
            .collect();
    }
    all
}

/// Readings that a branch asks for.
fn asked(graph: &StepGraph, at: NodeId) -> Vec<ReadingId> {
    let NodeKind::Branch(condition) = &graph.node(at).kind else { return Vec::new() };
    let tests = condition.tests().into_iter();
    tests
        .filter_map(|test| match test {
            Test::Within { value: Expression::Reading(reading), .. } => Some(*reading),
            _ => None,
        })
        .collect()
}

fn ways(graph: &StepGraph, whole: &Whole) -> Vec<Way> {
    let all = whole.marking.ways(graph);
    match &graph.node(whole.marking.at).kind {
        NodeKind::Branch(condition) => {
            let arms = [(Way::Arm(0), true), (Way::Arm(1), false)].into_iter();
            arms.filter(|(_, so)| may(whole, condition, *so)).map(|(arm, _)| arm).collect()
        }
        NodeKind::Together { .. } => {
            let free = |way: &Way| {
                let Way::Child(lane) = way else { return true };
                let node = whole.marking.next_in_lane(*lane).unwrap();
                match &graph.node(node).kind {
                    NodeKind::Await(condition) => may(whole, condition, true),
                    _ => true,
                }
            };
            all.into_iter().filter(free).collect()
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
    if let NodeKind::Together { .. } = graph.node(at).kind
        && ways(graph, whole).is_empty()
    {
        failing.push(("stuck".into(), Some(at)));
    }
    // Whoever stands in a lane may be next: what is asked of the next node must hold at any time.
    let lanes = (0..2).filter_map(|lane| whole.marking.next_in_lane(lane));
    let side_by_side = matches!(graph.node(at).kind, NodeKind::Together { .. });
    for node in lanes.filter(|_| side_by_side) {
        failing.extend(fails_at(graph, whole, node));
    }
    failing.extend(fails_at(graph, whole, at));
    failing
}

fn fails_at(graph: &StepGraph, whole: &Whole, at: NodeId) -> Vec<(String, Option<NodeId>)> {
    let mut failing = Vec::new();
    for reading in asked(graph, at).into_iter().filter(|reading| !whole.taken.contains(reading)) {
        failing.push((format!("taken {}", reading.0), Some(at)));
    }
    let doubted = graph.in_doubt.iter().filter(|(node, _)| *node == at);
    for (_, assertion) in doubted.filter(|(_, assertion)| !holds(whole, &assertion.condition)) {
        failing.push((format!("assertion {} {}", at.index(), assertion.written), Some(at)));
    }
    match &graph.node(at).kind {
        NodeKind::Act(act) => {
            for assertion in
                act.assertions.iter().filter(|assertion| !holds(whole, &assertion.condition))
            {
                failing.push((format!("assertion {} {}", at.index(), assertion.written), Some(at)));
            }
            if waits(act) && !holds(&done(graph, whole, at), &graph.safe_to_leave.0) {
                failing.push(("leave".into(), Some(at)));
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
                if !holds(whole, &restore.condition()) {
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

/// Walks everything, the nearest first; `visit` gets each state, how it was reached, and how many nodes
/// were done. Whose turn it is costs nothing.
/// False where there are too many.
fn walk(
    graph: &StepGraph,
    clock: bool,
    visit: &mut dyn FnMut(&Whole, Option<&Whole>, usize),
) -> bool {
    let mut known = HashSet::new();
    let mut open: VecDeque<(Whole, Option<Whole>, usize)> =
        starts(graph, clock).into_iter().map(|start| (start, None, 0)).collect();
    while let Some((whole, before, far)) = open.pop_front() {
        visit(&whole, before.as_ref(), far);
        if !known.insert(whole.clone()) {
            continue;
        }
        if known.len() > MOST {
            return false;
        }
        for asked in made_up(graph, &whole) {
            for way in ways(graph, &asked) {
                for next in after(graph, &asked, way) {
                    if is_turn(graph, &whole, way) {
                        open.push_front((next, Some(whole.clone()), far));
                    } else {
                        open.push_back((next, Some(whole.clone()), far + 1));
                    }
                }
            }
        }
    }
    true
}

/// Whether a way only says who is next.
fn is_turn(graph: &StepGraph, whole: &Whole, way: Way) -> bool {
    let together = matches!(graph.node(whole.marking.at).kind, NodeKind::Together { .. });
    together && matches!(way, Way::Child(_))
}

/// A graph with more states than this says nothing that smaller ones do not.
const MOST: usize = 5_000;

/// What fails; none where there is too much to try.
pub(crate) fn failing(graph: &StepGraph) -> Option<Failing> {
    failing_by(graph, false)
}

/// What fails where time is kept and may pass anywhere; none where there is too much to try.
pub(crate) fn failing_late(graph: &StepGraph) -> Option<Failing> {
    failing_by(graph, true)
}

fn failing_by(graph: &StepGraph, clock: bool) -> Option<Failing> {
    let mut failing = Failing::new();
    let done = walk(graph, clock, &mut |whole, before, _| {
        for (duty, node) in fails(graph, whole, before) {
            failing.entry(duty).or_default().insert(node.map(NodeId::index));
        }
    });
    done.then_some(failing)
}

/// Nodes at which somebody may stand, and at each end the values that variables may have otherwise than
/// normal; none where there is too much to try.
pub(crate) fn stands(graph: &StepGraph) -> Option<Stands> {
    let mut stands = Stands::default();
    let done = walk(graph, false, &mut |whole, _, _| {
        let at = whole.marking.at;
        stands.0.insert(at);
        if let NodeKind::Together { .. } = graph.node(at).kind {
            stands.0.extend((0..2).filter_map(|lane| whole.marking.next_in_lane(lane)));
        }
        if let NodeKind::End(_) = graph.node(at).kind {
            for (variable, value) in &whole.values {
                stands.1.entry(at).or_default().entry(*variable).or_default().insert(*value);
            }
        }
    });
    for here in stands.1.values_mut() {
        // Where a variable may stand otherwise than normal, all its values are told.
        here.retain(|_, values| values.iter().any(|value| *value != 0));
    }
    stands.1.retain(|_, here| !here.is_empty());
    done.then_some(stands)
}

/// The fewest ways after which a duty fails at a node.
pub(crate) fn shortest(graph: &StepGraph, duty: &str, node: Option<NodeId>) -> usize {
    let mut least = usize::MAX;
    walk(graph, false, &mut |whole, before, far| {
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
    // A set: readings that are made up multiply, and most of what they multiply is the same.
    let mut reached: BTreeSet<(Whole, Option<Whole>)> =
        starts(graph, false).into_iter().map(|start| (start, None)).collect();
    let mut length = 0;
    for (at, way) in trail {
        let turn = reached.first().is_some_and(|(whole, _)| is_turn(graph, whole, *way));
        length += usize::from(!turn);
        reached = reached
            .into_iter()
            .filter(|(whole, _)| whole.marking.at == *at)
            .flat_map(|(whole, _)| made_up(graph, &whole))
            .filter(|whole| ways(graph, whole).contains(way))
            .flat_map(|whole| {
                let all = after(graph, &whole, *way);
                all.into_iter().map(move |next| (next, Some(whole.clone())))
            })
            .collect();
    }
    let ends = |(whole, before): &(Whole, Option<Whole>)| {
        fails(graph, whole, before.as_ref())
            .iter()
            .any(|(failed, at)| failed == duty && *at == node)
    };
    if reached.iter().any(ends) {
        Ok(length)
    } else {
        Err(format!("the path does not lead there: {trail:?}"))
    }
}

/// The graph, for whoever looks into a disagreement.
pub(crate) fn told(graph: &StepGraph) -> String {
    let mut text = format!("interlocks {:?}\nrestore {:?}\n", graph.interlocks, graph.restore);
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

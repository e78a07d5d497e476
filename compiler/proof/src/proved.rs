//! What was proved, duty by duty, and what the proof takes for granted.

use crate::duty::{Duty, duties};
use crate::words::{time_words, value_words};
use crate::{hardware, people, readings, states};
use locknut_finding::{Finding, Page, Span};
use locknut_graph::{
    Act, ActKind, Because, Between, Condition, Doubt, Effect, Node, NodeId, Restore, StepGraph,
    StepId, Surely, Table, VariableId, VariableKind, Verdict,
};
use num_traits::Signed;
use std::collections::BTreeSet;

/// Something that holds on every path.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Obligation {
    /// The code of what would be said if it did not hold.
    pub code: &'static str,
    /// In words.
    pub what: String,
    /// The line that asks for it.
    pub asked: Span,
    /// Where it is tested, each place with its step; empty: nothing in this job can change it.
    pub tested: Vec<(Span, Option<StepId>)>,
}

/// Something that the proof takes for granted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assumption {
    /// In words.
    pub what: String,
    /// The line that says it.
    pub said: Span,
}

/// Every duty of a procedure, in the order of its lines: the rules of the machine first.
pub fn obligations(graph: &StepGraph) -> Vec<Obligation> {
    let mut all: Vec<Obligation> =
        duties(graph).iter().map(|duty| obligation(graph, duty)).collect();
    all.extend(graph.flow.node_weights().filter_map(|node| signed_apart(graph, node)));
    all
}

/// What is found out where the procedure is read: whoever signs cannot have done these steps.
const OWN_WORK: &str = "LN706";

/// That whoever signs did not do what they sign for.
fn signed_apart(graph: &StepGraph, node: &Node) -> Option<Obligation> {
    let act = node.act()?;
    let who = &act.signed_as()?.said;
    let steps = act.signed_apart_from();
    if steps.is_empty() {
        return None;
    }
    let numbers: Vec<String> =
        steps.iter().map(|step| format!("step {}", graph.step(*step).number)).collect();
    Some(Obligation {
        code: OWN_WORK,
        what: format!("whoever signs as {who} cannot have done {}", numbers.join(" or ")),
        asked: node.span,
        tested: steps.iter().map(|step| (graph.step(*step).span, Some(*step))).collect(),
    })
}

fn obligation(graph: &StepGraph, duty: &Duty<'_>) -> Obligation {
    let at = |node: &NodeId| (graph.node(*node).span, graph.node(*node).step);
    let here: Vec<(Span, Option<StepId>)> = duty.place().iter().map(at).collect();
    let own = duty.place().map(|node| graph.node(node).span).unwrap_or_default();
    let (page, what, asked) = match duty {
        Duty::Assertion { assertion, .. } => {
            (page_of(&assertion.because), assertion.written.clone(), assertion.span)
        }
        Duty::Interlock { interlock } => {
            let tested = writers(graph, &interlock.holds).iter().map(at).collect();
            let (page, what) = match &interlock.held {
                Some(part) => (
                    people::NobodyHolds::PAGE,
                    format!("somebody holds the {} while it hangs loose", part.said),
                ),
                None => (states::BrokenInterlock::PAGE, format!("never {}", interlock.written)),
            };
            return Obligation { code: page.code(), what, asked: interlock.span, tested };
        }
        Duty::Restore { restore, .. } => {
            (owed_page(graph, restore.variable), owed(graph, restore), restore.span)
        }
        Duty::Leaves { restore, .. } => {
            (states::NotLeftSo::PAGE, owed(graph, restore), restore.span)
        }
        Duty::SafeToLeave { .. } => {
            // Of an assembly that says nothing, each of its models is proved by its own rule.
            let by_models = graph.safe_to_leave.0 == Condition::Always(true) && !graph.leave_said;
            let what = if by_models {
                "it is safe to leave, on each model that is made of it"
            } else {
                "it is safe to leave"
            };
            let waits = duty.place().is_some_and(|node| graph.node(node).act().is_some());
            let page = if waits { states::UnsafeWait::PAGE } else { states::UnsafeStop::PAGE };
            (page, what.to_owned(), graph.safe_to_leave.1)
        }
        Duty::AsFound { variable, .. } => {
            let said = &graph.variable(*variable).words.said;
            (states::NotAsFound::PAGE, format!("{said} is as it was found"), own)
        }
        Duty::Taken { reading, .. } => {
            let reading = graph.reading(*reading);
            let what = format!("{} has been taken", reading.words.said);
            (readings::ReadingNotTaken::PAGE, what, reading.span)
        }
        Duty::Stuck { .. } => {
            let what = "nobody waits for ever".to_owned();
            (people::WaitingForEachOther::PAGE, what, own)
        }
    };
    Obligation { code: page.code(), what, asked, tested: here }
}

fn page_of(because: &Because) -> Page {
    match because {
        Because::Needs => states::NeedUnmet::PAGE,
        Because::Element { .. } | Because::OneTool { .. } => hardware::WrongStateForAct::PAGE,
        Because::Relation { .. } => hardware::InTheWay::PAGE,
        Because::SingleUse { .. } => hardware::SingleUseAgain::PAGE,
        Because::Sealed { .. } => hardware::SealedTouched::PAGE,
        Because::Lock { .. } => states::Locked::PAGE,
        Because::Dead { .. } => hardware::LiveConnector::PAGE,
        Because::Never { .. } => states::ForbiddenAct::PAGE,
        Because::StartsWith { .. } => states::NotReadyForSubtask::PAGE,
        Because::MadeSo => states::ProvedTooEarly::PAGE,
        Because::Denied { .. } => states::CountsOnDenied::PAGE,
        Because::Hands { .. } => people::HandsTaken::PAGE,
        Because::Change { .. } => states::WrongChange::PAGE,
        Because::Oiled { .. } => hardware::NotOiled::PAGE,
    }
}

fn owed_page(graph: &StepGraph, variable: VariableId) -> Page {
    match graph.variable(variable).kind {
        VariableKind::Tool => hardware::ToolLeftIn::PAGE,
        VariableKind::Element { .. } => hardware::LeftUndone::PAGE,
        VariableKind::Hold { .. } => people::NeverLetGo::PAGE,
        VariableKind::Inspection { .. } => people::NotInspected::PAGE,
        VariableKind::State
        | VariableKind::Series
        | VariableKind::Serial { .. }
        | VariableKind::Observation
        | VariableKind::Unknown { .. }
        | VariableKind::Denied { .. }
        | VariableKind::DeniedTime { .. } => states::NotRestored::PAGE,
    }
}

/// `supply live`, `brake cover in place`; of several values that are good, each.
fn owed(graph: &StepGraph, restore: &Restore) -> String {
    if let VariableKind::Hold { by, thing } = &graph.variable(restore.variable).kind {
        return format!("the {} no longer holds the {}", by.said, thing.said);
    }
    let words: Vec<String> =
        restore.values.iter().map(|value| value_words(graph, restore.variable, *value)).collect();
    let so = words.join(", or ");
    match &restore.surely {
        Surely::So => so,
        Surely::Proved => format!("{so}, proved"),
        Surely::For(seconds) => format!("{so} for {}", time_words(seconds)),
    }
}

/// Acts and ways that write what a condition asks about.
fn writers(graph: &StepGraph, condition: &Condition) -> Vec<NodeId> {
    let variables: BTreeSet<VariableId> = condition.variables();
    let changes = |effect: &Effect| match effect {
        Effect::Set { variable, .. } | Effect::Prove { variable } => variables.contains(variable),
        Effect::Wait { .. }
        | Effect::WaitSince { .. }
        | Effect::Mark { .. }
        | Effect::Take { .. }
        | Effect::Void { .. }
        | Effect::Afresh { .. }
        | Effect::LeaveBlocks => false,
    };
    let nodes = graph.flow.node_indices();
    nodes
        .filter(|node| {
            let ways = graph.ways(*node).into_iter().flat_map(|(_, edge, _)| &edge.effects);
            graph.node(*node).effects.iter().chain(ways).any(changes)
        })
        .collect()
}

/// What the proof takes for granted, in the order of the lines.
pub fn assumptions(graph: &StepGraph) -> Vec<Assumption> {
    let mut all: Vec<Assumption> = graph
        .flow
        .node_weights()
        .filter_map(|node| assumed(graph, node.act()?, node.span))
        .collect();
    all.extend(graph.starts_proved.iter().map(|variable| {
        let declared = graph.variable(*variable);
        let what = format!("at the start it is proved how {} stands", declared.words.said);
        Assumption { what, said: declared.span }
    }));
    all.extend(graph.starts_held.iter().map(|(variable, seconds)| {
        let declared = graph.variable(*variable);
        let time = crate::words::time_words(seconds);
        let what = format!("at the start {} has stood so for {time}", declared.words.said);
        Assumption { what, said: declared.span }
    }));
    all.extend(graph.flow.node_weights().filter_map(|node| errors_hold(graph, node.act()?)));
    all.extend(graph.flow.node_weights().filter_map(|node| limit_rests(graph, node.act()?)));
    all.extend(graph.flow.node_weights().filter_map(|node| waits_undecided(graph, node.act()?)));
    all.extend(graph.flow.node_weights().flat_map(|node| stands_in(graph, node.act())));
    let acts = || graph.flow.node_weights().filter_map(locknut_graph::Node::act);
    all.extend(acts().flat_map(tables_hold));
    let nodes = graph.flow.node_indices();
    all.extend(nodes.flat_map(|node| reading_proves(graph, node)));
    all.extend(graph.instruments.iter().filter_map(|one| {
        let on = one.proved_on.as_ref()?;
        let what = format!(
            "the {} shows what is there, as far as {} shows it before and after",
            one.words.said,
            on.written()
        );
        Some(Assumption { what, said: one.span })
    }));
    let apart = acts().find(|act| act.signed_as().is_some());
    all.extend(apart.map(|act| Assumption {
        what: "whoever signs in one role is not the one who works in another; of two names that differ nobody looks whose they are".to_owned(),
        said: act.line.span,
    }));
    all.extend(acts().filter_map(|act| crate::sums::sharing_assumed(act.tightening.as_ref()?)));
    all.extend(graph.flow.node_indices().filter_map(|node| still_oiled(graph, node)));
    // What nobody judged is taken to be well.
    all.extend(
        crate::sums::not_judged(graph)
            .into_iter()
            .map(|one| Assumption { what: format!("not judged: {}", one.what), said: one.act }),
    );
    // A line that is laid in several times takes the same for granted each time.
    let mut told = BTreeSet::new();
    all.retain(|one| told.insert((one.said, one.what.clone())));
    all
}

/// What is tightened again without being oiled counts as oiled: it was when it was tightened last.
fn still_oiled(graph: &StepGraph, node: NodeId) -> Option<Assumption> {
    let said = graph.node(node).span;
    let mut asserted = graph.node(node).act()?.assertions.iter();
    asserted.find_map(|assertion| {
        let Because::Oiled { thing, condition, .. } = &assertion.because else { return None };
        let variable = assertion.condition.variables().pop_first()?;
        let what = format!(
            "the {} are still {condition} where they are tightened again and nothing is put on them before",
            thing.said
        );
        comes_as_found(graph, node, variable).then_some(Assumption { what, said })
    })
}

/// Whether some way leads to a node on which nothing has written a variable.
fn comes_as_found(graph: &StepGraph, node: NodeId, variable: VariableId) -> bool {
    let writes = |effects: &[Effect]| effects.iter().any(|effect| effect.sets(variable).is_some());
    let (mut seen, mut left) = (BTreeSet::new(), vec![graph.start]);
    while let Some(at) = left.pop() {
        if at == node {
            return true;
        }
        if !seen.insert(at) || writes(&graph.node(at).effects) {
            continue;
        }
        let ways = graph.ways(at).into_iter().filter(|(_, edge, _)| !writes(&edge.effects));
        left.extend(ways.map(|(_, _, to)| to));
    }
    false
}

/// That a reading tells how a state stands is its author's word: whether water runs tells of a sluice where there is
/// water.
fn reading_proves(graph: &StepGraph, node: NodeId) -> Vec<Assumption> {
    let Some(reading) = graph.node(node).act().and_then(|act| act.kind.reading()) else {
        return Vec::new();
    };
    let reading = &graph.reading(reading).words.said;
    let ways = graph.ways(node).into_iter().flat_map(|(_, edge, _)| &edge.effects);
    let proved: BTreeSet<VariableId> = ways
        .filter_map(|effect| match effect {
            Effect::Prove { variable } => Some(*variable),
            Effect::Set { .. }
            | Effect::Wait { .. }
            | Effect::WaitSince { .. }
            | Effect::Mark { .. }
            | Effect::Take { .. }
            | Effect::Void { .. }
            | Effect::Afresh { .. }
            | Effect::LeaveBlocks => None,
        })
        .collect();
    let what = proved.into_iter().flat_map(|variable| {
        let state = &graph.variable(variable).words.said;
        [
            format!("the reading of {reading} tells how {state} stands, wherever and whenever this is done: its line says that it proves it"),
            format!("not judged: whether the machine is safe to leave, or to go back with, where {reading} denies how {state} stands"),
        ]
    });
    what.map(|what| Assumption { what, said: graph.node(node).span }).collect()
}

/// Where a guarded reading cannot be decided the job waits: no path of the proof ends there.
fn waits_undecided(graph: &StepGraph, act: &Act) -> Option<Assumption> {
    let limit = act.waits_undecided()?;
    let reading = &graph.reading(act.kind.reading()?).words.said;
    let what = format!(
        "where {reading} is undecided, the machine stays as it then is until it is decided"
    );
    Some(Assumption { what, said: limit.span })
}

/// What lies between two rows of a table was measured by nobody.
fn tables_hold(act: &Act) -> Vec<Assumption> {
    let between = |table: &Table| match table.between {
        Between::Proportion => "; between two rows it goes in proportion",
        Between::NextLower => "; between two rows the next lower one holds",
        Between::Nothing => "",
    };
    let tables = act.tables().into_iter();
    tables
        .map(|table| Assumption {
            what: format!("{} is as its table says{}", table.words.said, between(table)),
            said: table.span,
        })
        .collect()
}

/// A guarded limit is worth what the stated error of the instrument is worth.
fn errors_hold(graph: &StepGraph, act: &Act) -> Option<Assumption> {
    let said = guarded_at(act)?;
    let reading = &graph.reading(act.kind.reading()?).words.said;
    let doubt = act.capability.first().and_then(|held| held.doubt.as_ref());
    let normal = doubt.is_some_and(Doubt::is_normal);
    let instrument = act.instrument.and_then(|position| graph.instruments.get(position));
    let what = match instrument {
        Some(instrument) => {
            let with = &instrument.words.said;
            match instrument.standard_uncertainty.as_ref().filter(|_| normal) {
                Some(one) => {
                    let display = if one.of_step.is_positive() {
                        ", or that of its display, which is more"
                    } else {
                        ""
                    };
                    format!(
                        "the errors of the {with} are spread normally, with the standard uncertainty that is declared of it ({}{display}): of {reading} just outside of the limit, up to 5 of 100 readings pass",
                        one.written
                    )
                }
                None => format!(
                    "no reading of the {with} is further from the true value than is declared of it"
                ),
            }
        }
        None if normal => {
            let causes = act.capability.first().and_then(|held| held.causes.as_ref());
            let apart = causes.is_some_and(|causes| causes.count() > 1);
            let apart = if apart { ", each independent of the others" } else { "" };
            format!(
                "the errors of what {reading} rests on are spread normally, with the standard uncertainties that are declared of its instruments{apart}: of {reading} just outside of the limit, up to 5 of 100 pass"
            )
        }
        None => format!(
            "no reading that {reading} rests on is further from the true value than is declared of its instrument"
        ),
    };
    Some(Assumption { what, said })
}

/// A guarded limit that is looked up or worked out is wrong by as much as what it is worked out from.
fn limit_rests(graph: &StepGraph, act: &Act) -> Option<Assumption> {
    let Verdict::Accept { limit, computed: Some(ends) } = act.kind.verdict()? else { return None };
    limit.guard.as_ref()?;
    let ends = ends.lower.iter().chain(&ends.upper).flat_map(|(end, _)| end.readings());
    let from: BTreeSet<&str> = ends.map(|id| graph.reading(id).words.said.as_str()).collect();
    let from: Vec<&str> = from.into_iter().collect();
    let reading = &graph.reading(act.kind.reading()?).words.said;
    let what = format!(
        "no reading that the limit of {reading} goes by ({}) is further from the true value than is declared of its instrument",
        from.join(", ")
    );
    (!from.is_empty()).then_some(Assumption { what, said: limit.span })
}

/// Where an act keeps off a limit by what its value may be wrong by.
fn guarded_at(act: &Act) -> Option<Span> {
    match act.kind.verdict()? {
        Verdict::Accept { limit, .. } => limit.guard.as_ref().map(|_| limit.span),
        Verdict::Arms(arms) => arms.iter().find(|arm| arm.whole.is_some()).map(|arm| arm.span),
        Verdict::None => None,
    }
}

/// What a substitute leaves open, and what only its author says that it tells.
fn stands_in(graph: &StepGraph, act: Option<&Act>) -> Vec<Assumption> {
    let Some((act, substitute)) = act.and_then(|act| Some((act, act.substitute.as_ref()?))) else {
        return Vec::new();
    };
    let instrument = act.instrument.and_then(|position| graph.instruments.get(position));
    let with = instrument.map(|one| one.words.said.as_str()).unwrap_or_default();
    let of = &graph.reading(substitute.of).words.said;
    let open = substitute.open.iter().map(|side| {
        format!("{of} is not too {} where the {with} is used: that does not tell it", side.word())
    });
    let own = act.kind.reading().map(|own| &graph.reading(own).words.said);
    let word = own.filter(|_| substitute.other);
    let word = word.map(|own| format!("{own} tells of {of} what its line says that it answers"));
    let what = word.into_iter().chain(open);
    what.map(|what| Assumption { what, said: substitute.span }).collect()
}

fn assumed(graph: &StepGraph, act: &Act, said: Span) -> Option<Assumption> {
    let what = match &act.kind {
        ActKind::Measure { reading, expect: Some(expect), .. }
        | ActKind::Count { reading, expect: Some(expect), .. } => {
            let reading = &graph.reading(*reading).words.said;
            format!("{reading} comes to {}; anything else is read again", expect.written)
        }
        ActKind::Confirm => "what is confirmed is so".to_owned(),
        ActKind::Wait { duration, .. } => {
            format!("whoever is told to wait {} waits that long", duration.written)
        }
        ActKind::Do
        | ActKind::Measure { .. }
        | ActKind::Count { .. }
        | ActKind::Observe { .. }
        | ActKind::Record { .. }
        | ActKind::Check { .. }
        | ActKind::Choose(_) => return None,
    };
    Some(Assumption { what, said })
}

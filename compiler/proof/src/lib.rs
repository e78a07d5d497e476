//! Step graph → facts and findings, on every path.
//!
//! In: a step graph. Out: [`Facts`] that the sheet prints (where hazards stand, where the machine may
//! not be left) and findings, each with a shortest path that a fitter would follow. The interesting
//! idea: one property at a time, on its own slice of variables, so that work grows with what is
//! written and not with what could be interleaved.
//!
//! *It does not know* the language, its files or its words, nor how anything is printed.

mod calls;
mod choices;
mod decided;
mod duty;
mod engine;
mod facts;
mod flow;
mod hardware;
mod leave;
mod look_ups;
mod may_take;
mod mends;
mod not_judged;
mod order;
mod pairs;
mod path;
mod people;
mod proved;
mod race;
pub mod readings;
pub mod schedule;
mod states;
pub mod sums;
mod survey;
mod tell;
mod variant;
mod walk;
mod wording;
mod words;

pub use facts::{ChoiceRow, ChoiceTable, Covered, Facts, LimitRow, NotLeft, Time, Ways};
pub use not_judged::not_judged;
pub use proved::{Assumption, Obligation, assumptions, obligations};

use duty::Duty;
use locknut_finding::{Finding, Findings, Page, Span};
use locknut_graph::{
    ActKind, By, Effect, HazardId, Interlock, NeverTaken, NodeId, NodeKind, StepGraph, StepId,
    VariableId, Way,
};
use locknut_quantity::Units;
use std::collections::{BTreeMap, BTreeSet};

/// The pages of this crate's codes.
pub const PAGES: &[&[Page]] =
    &[flow::PAGES, states::PAGES, hardware::PAGES, readings::PAGES, people::PAGES, wording::PAGES];

/// Things that a finding names of those that a block touches.
const MOST_NAMED: usize = 4;

/// In so many rounds of all repeats together no straight procedure comes near the bound on states.
const SURELY_FEW_ROUNDS: u64 = 1_000;

/// What the facts of a procedure are for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// Sheets, check programs, step graphs.
    Outputs,
    /// Nothing but what is wrong, and what was proved.
    Verdict,
}

/// What comes of a proof.
#[derive(Debug)]
pub struct Proof {
    /// What it rests on or brings to light.
    pub facts: Facts,
    /// What [`judge`] finds.
    pub judged: Findings,
    /// What is found beside it.
    pub beside: Findings,
}

/// Proves a procedure on every path: facts that the proof rests on or brings to light, and a finding
/// for each thing that fails.
///
/// What only an output asks for (where the machine may be left, how it stands, look-up rows, sums) is left out where
/// `wanted` says so; what could be too much to survey is surveyed all the same, so that it is found here.
pub fn prove(graph: &StepGraph, units: &Units, wanted: Wanted) -> Proof {
    prove_by(&engine::Index::of(graph), units, wanted)
}

/// The same with no state listed: for the oracle in the tests.
#[doc(hidden)]
pub fn prove_drawn(graph: &StepGraph, units: &Units, wanted: Wanted) -> Proof {
    prove_by(&engine::Index::drawing(graph), units, wanted)
}

fn prove_by(index: &engine::Index<'_>, units: &Units, wanted: Wanted) -> Proof {
    let graph = index.graph;
    let mut facts = Facts::default();
    let (walked, judged) = judged(index);
    let mut beside = Findings::default();
    facts.covered.obligations = walked.duties;
    facts.covered.interlocks = graph.interlocks.len();
    let printed = !judged.has_errors();
    if let Err(survey::TooMuch(variables)) = surveyed(index, &mut facts, wanted, printed) {
        // Its block was told where something else of it was too much.
        if walked.given_up.is_empty() {
            too_many(index, [variables], &mut beside);
        }
    } else if !walked.faults.iter().any(|fault| matches!(fault.duty, Duty::Stuck { .. })) {
        // Behind people who wait for ever nothing is reached, and that is told already.
        unreached(graph, &facts, &mut beside);
    }
    if wanted == Wanted::Outputs {
        facts.choices = choices::tables(graph, units);
        for (node, may) in may_take::of_each(graph) {
            facts.may_take.insert(node, may.members);
            facts.rows_met.insert(node, may.rows);
        }
        facts.limit_rows = look_ups::rows(graph, units);
        facts.sums = sums::of(graph, units);
    }
    facts.ways = survey::ways(index);
    sums::found(graph, units, &mut beside);
    useless_repeats(index, &mut beside);
    order::matters(index, &mut beside);
    Proof { facts, judged, beside }
}

/// The findings alone, without what the sheet needs: for whoever tries a change.
pub fn judge(graph: &StepGraph) -> Findings {
    judged(&engine::Index::of(graph)).1
}

/// What rests on a reading that some path has not taken, of a procedure whose readings do not do for other reasons, too.
pub fn not_taken(graph: &StepGraph) -> Findings {
    judge(graph).kept(|report| report.code == readings::ReadingNotTaken::PAGE.code())
}

fn judged<'g>(index: &engine::Index<'g>) -> (walk::Judged<'g>, Findings) {
    let graph = index.graph;
    let mut found = Findings::default();
    let judged = walk::judge(index);
    tell::tell(graph, &judged.faults, &mut found);
    too_many(index, judged.given_up.iter().cloned(), &mut found);
    not_in_crew(graph, &mut found);
    (judged, found)
}

/// Steps at whose end, on some path, the machine may not be left; none where that is too much to tell.
pub fn do_not_leave(graph: &StepGraph) -> Option<NotLeft> {
    survey::do_not_leave(&engine::Index::of(graph)).ok()
}

fn surveyed(
    index: &engine::Index<'_>,
    facts: &mut Facts,
    wanted: Wanted,
    printed: bool,
) -> Result<(), survey::TooMuch> {
    facts.reached = survey::reached(index)?;
    let among = |which: fn(&locknut_graph::Node) -> bool| {
        facts.reached.iter().filter(|node| which(index.graph.node(**node))).count()
    };
    facts.covered.acts = among(|node| node.act().is_some());
    facts.covered.ends = among(|node| matches!(node.kind, NodeKind::End(_)));
    facts.hazards = survey::hazards(index)?;
    facts.time = survey::time(index.graph);
    let rounds = index.graph.repeats.iter().map(|repeat| u64::from(repeat.times) + 1);
    let rounds = rounds.fold(1_u64, u64::saturating_mul);
    let may_be_too_much = index.units.len() > 1 || rounds > SURELY_FEW_ROUNDS;
    // Where something is wrong nothing is printed: whether that could be surveyed is told once it is mended.
    if wanted == Wanted::Outputs || (printed && may_be_too_much) {
        survey::standing(index, facts)?;
    }
    Ok(())
}

/// A duty that fails, told for a machine: which, where, and by which ways.
#[doc(hidden)]
pub type Failed = (String, Option<NodeId>, Vec<(NodeId, Way)>);

/// Duties that fail, and those that fail alike.
#[doc(hidden)]
pub type AllFailed = (Vec<Failed>, Vec<(String, NodeId)>);

/// Every duty that fails, before any are folded into findings, and the freed acts that fail alike, which
/// have no path of their own: for the oracle in the tests.
#[doc(hidden)]
pub fn failed(graph: &StepGraph) -> AllFailed {
    told(walk::judge(&engine::Index::of(graph)))
}

/// The same with no state listed; none where that is too much for diagrams: for the oracle, too.
#[doc(hidden)]
pub fn failed_drawn(graph: &StepGraph) -> Option<AllFailed> {
    let judged = walk::judge(&engine::Index::drawing(graph));
    judged.given_up.is_empty().then(|| told(judged))
}

fn told(judged: walk::Judged<'_>) -> AllFailed {
    let mut alike = Vec::new();
    let mut failed = Vec::new();
    for fault in judged.faults {
        failed.push((fault.duty.key(), fault.node, fault.trail));
        alike.extend(fault.alike);
    }
    (failed, alike)
}

/// Each hazard of a procedure's machine, and whether this procedure prints it.
pub fn hazards_printed(graph: &StepGraph, facts: &Facts) -> Vec<(Span, bool)> {
    let hazards = (0u16..).map(HazardId).zip(&graph.hazards);
    let printed = |id: HazardId| facts.hazards.iter().any(|place| place.hazard == id);
    hazards.map(|(id, hazard)| (hazard.span, printed(id))).collect()
}

/// Findings over all procedures of a library: hazards that are printed in none.
pub fn check_library(hazards: impl IntoIterator<Item = (Span, bool)>) -> Findings {
    let mut found = Findings::default();
    let mut nowhere: BTreeMap<Span, bool> = BTreeMap::new();
    for (hazard, printed) in hazards {
        *nowhere.entry(hazard).or_default() |= printed;
    }
    for (hazard, printed) in nowhere {
        if !printed {
            found.add(&wording::HazardNowhere { hazard });
        }
    }
    found
}

/// One finding for each block, with all that its steps touch of what was given up.
fn too_many(
    index: &engine::Index<'_>,
    given_up: impl IntoIterator<Item = BTreeSet<VariableId>>,
    found: &mut Findings,
) {
    let graph = index.graph;
    let mut blocks: BTreeMap<Option<usize>, Vec<BTreeSet<VariableId>>> = BTreeMap::new();
    for variables in given_up {
        blocks.entry(index.most_touching(&variables)).or_default().push(variables);
    }
    for (block, all) in blocks {
        let mut rules: Vec<(Span, String)> =
            all.iter().flat_map(|variables| rules_over(graph, variables)).collect();
        rules.sort();
        rules.dedup();
        rules.truncate(MOST_NAMED);
        let variables: BTreeSet<VariableId> = all.into_iter().flatten().collect();
        let said = |id: &VariableId| format!("the {}", graph.variable(*id).words.said);
        let mut touched: Vec<String> = variables.iter().take(MOST_NAMED).map(said).collect();
        if variables.len() > MOST_NAMED {
            touched.push(format!("{} others", variables.len() - MOST_NAMED));
        }
        let touched =
            if touched.is_empty() { "the flow".to_owned() } else { words::listed(&touched) };
        let mut nodes = graph.flow.node_weights();
        let block = match block {
            Some(block) => Some(graph.node(NodeId::new(block))),
            None => nodes.find(|node| matches!(node.kind, NodeKind::Repeat(_))),
        };
        let together = block.is_some_and(|node| matches!(node.kind, NodeKind::Together { .. }));
        let block = block.map(|node| node.span).unwrap_or_default();
        let most = engine::MOST_STATES;
        found.add(&flow::TooManyOrders { block, touched, most, together, rules });
    }
}

/// The rules that ask for several of these and for nothing else: each with what it asks for.
fn rules_over(graph: &StepGraph, variables: &BTreeSet<VariableId>) -> Vec<(Span, String)> {
    let asks = |rule: &Interlock| {
        let own = rule.holds.variables();
        let said = |id: &VariableId| format!("the {}", graph.variable(*id).words.said);
        let asked = words::listed(&own.iter().map(said).collect::<Vec<_>>());
        (own.len() > 1 && own.is_subset(variables)).then_some((rule.span, asked))
    };
    graph.interlocks.iter().filter_map(asks).collect()
}

fn unreached(graph: &StepGraph, facts: &Facts, found: &mut Findings) {
    let mut last: Option<StepId> = None;
    // A subtask that is called twice is laid twice: what one of its calls reaches is reached.
    let come_to = graph.steps.iter().filter(|step| facts.reached.contains(&step.first));
    let mut come_to: BTreeSet<Span> = come_to.map(|step| step.span).collect();
    // By which way a `when` goes on that asks for a denied state nobody knows: that is told of it.
    let doubted = graph.in_doubt.iter().map(|(node, _)| *node);
    let mut left: Vec<NodeId> =
        doubted.filter(|node| matches!(graph.node(*node).kind, NodeKind::Branch(_))).collect();
    let mut behind = BTreeSet::new();
    while let Some(node) = left.pop() {
        if behind.insert(node) {
            left.extend(graph.ways(node).into_iter().map(|(_, _, to)| to));
        }
    }
    let in_doubt = graph.steps.iter().filter(|step| behind.contains(&step.first));
    come_to.extend(in_doubt.map(|step| step.span));
    for (id, step) in (0u16..).map(StepId).zip(&graph.steps) {
        if come_to.contains(&step.span) {
            continue;
        }
        // One cause, one finding: what follows an unreached step is unreached for the same reason.
        let follows = last.is_some_and(|before| before.0 + 1 == id.0);
        last = Some(id);
        if !follows {
            let why = never_taken(graph, facts, step.first).cloned();
            found.add(&flow::UnreachableStep { step: step.span, number: step.number.clone(), why });
        }
    }
}

/// The arm that no reading takes, behind a line that is reached, from which alone a node could be come to.
fn never_taken<'g>(graph: &'g StepGraph, facts: &Facts, to: NodeId) -> Option<&'g NeverTaken> {
    let (mut seen, mut left, mut never) = (BTreeSet::from([to]), vec![to], None);
    while let Some(at) = left.pop() {
        for (from, way) in graph.ways_into(at) {
            if facts.reached.contains(&from) {
                let dead = graph.never.iter().find(|one| one.branch == from && one.way == way);
                // Another way that is not gone has another reason.
                if dead.is_none() || never.is_some_and(|one| Some(one) != dead) {
                    return None;
                }
                never = dead;
            } else if seen.insert(from) {
                left.push(from);
            }
        }
    }
    never
}

/// A repeat is useless where nothing between its step and its line is read, written or waited for.
fn useless_repeats(index: &engine::Index<'_>, found: &mut Findings) {
    let graph = index.graph;
    for (body, repeat) in index.bodies.iter().zip(&graph.repeats) {
        let round = graph.flow.node_indices().filter(|node| body.has(node.index()));
        let mut round = round.peekable();
        if round.peek().is_some() && !round.any(|at| changes_something(graph, at)) {
            let step = graph.step(repeat.step);
            found.add(&flow::UselessRepeat {
                line: repeat.span,
                step: step.span,
                number: step.number.clone(),
            });
        }
    }
}

fn changes_something(graph: &StepGraph, at: NodeId) -> bool {
    let edges = graph.ways(at).into_iter().flat_map(|(_, edge, _)| &edge.effects);
    let writes = graph
        .node(at)
        .effects
        .iter()
        .chain(edges)
        .any(|effect| matches!(effect, Effect::Set { .. }));
    let reads = graph.node(at).act().is_some_and(|act| {
        matches!(
            act.kind,
            ActKind::Measure { .. }
                | ActKind::Observe { .. }
                | ActKind::Count { .. }
                | ActKind::Wait { .. }
                | ActKind::Confirm
        )
    });
    writes || reads
}

fn not_in_crew(graph: &StepGraph, found: &mut Findings) {
    let crew = &graph.heading.crew;
    let (mut told, mut missing) = (BTreeSet::new(), Vec::new());
    for step in &graph.steps {
        let By::Roles(roles) = &step.by else { continue };
        for role in roles.iter().filter(|role| !crew.iter().any(|member| member.name == role.name))
        {
            if told.insert(role.name.clone()) {
                missing.push((role.name.clone(), step.span));
            }
        }
    }
    let crew: Vec<String> = crew.iter().map(|member| member.name.clone()).collect();
    if crew.is_empty() && !missing.is_empty() {
        // One line is missing, whoever is to stand on it.
        found.add(&people::NotInCrew { roles: missing, crew });
        return;
    }
    for role in missing {
        found.add(&people::NotInCrew { roles: vec![role], crew: crew.clone() });
    }
}

//! What an act's file hands over, and how it is put into the graph: the one way for all acts.

use super::super::build::Ways;
use super::super::hand_over::parts;
use super::super::laying::{Laying, Lines, Taken};
use super::super::mention::reading_of;
use super::super::settled::Outcomes;
use super::proves::Proved;
use super::{idle_arms, proves, sealed};
use crate::findings::flow::{CannotBeAnswered, PlainWanted};
use crate::findings::names::{DoubledName, SaysTooLittle};
use crate::world::{ActInterlock, Change};
use locknut_finding::Span;
use locknut_graph::{
    ActKind, Assertion, Because, By, Capability, Condition, Effect, HazardId, Line, LineValue,
    Moment, NodeId, NodeKind, Outline, Test, VariableId, VariableKind, Way, Words,
};
use locknut_quantity::Limit;
use locknut_syntax::tree::{Act, Clause, ClauseValue, Outcome};

/// An act before it stands in the graph.
pub(super) struct Draft<'w> {
    pub(super) kind: ActKind,
    pub(super) line: Line,
    /// The moment at which it begins, where another person may write something before it ends.
    pub(super) begins: Option<Moment>,
    /// What it does to the machine, beside what `makes` says.
    pub(super) effects: Vec<Effect>,
    pub(super) assertions: Vec<Assertion>,
    /// Things of the model that it is done to.
    pub(super) things: Vec<String>,
    pub(super) tools: Vec<usize>,
    pub(super) instrument: Option<usize>,
    pub(super) applies: Vec<Limit>,
    pub(super) tightening: Option<Box<locknut_graph::Tightening>>,
    pub(super) cautions: Vec<Line>,
    pub(super) capability: Vec<Capability>,
    /// It takes hands though nothing but an answer comes of it.
    pub(super) by_hand: bool,
    /// What it is read in the place of.
    pub(super) substitute: Option<Box<locknut_graph::Substitute>>,
    /// The hold that it begins.
    pub(super) holds: Option<VariableId>,
    /// Who signs with it.
    pub(super) signs: Option<Words>,
    /// What whoever did it then waits for.
    pub(super) awaits: Option<Condition>,
    pub(super) follows: Follows<'w>,
}

/// What follows from it.
pub(super) enum Follows<'w> {
    /// The next line.
    Next,
    /// The next line where it is accepted.
    Verdict { otherwise: Option<&'w Outcome> },
    /// The next line where something fits.
    Choice { reading: locknut_graph::ReadingId, otherwise: Option<&'w Outcome> },
    /// One way for each arm.
    Arms(Vec<ArmOut<'w>>),
}

/// The ways of one written arm: one for each answer where answers are kept apart, else one.
pub(super) struct ArmOut<'w> {
    /// The way, and what answering so sets.
    pub(super) ways: Vec<(u16, Option<Effect>)>,
    /// None: the arm is not written; the job goes on.
    pub(super) outcome: Option<&'w Outcome>,
}

impl Draft<'_> {
    /// An act that is done and ticked, with nothing more to it.
    pub(super) fn of(kind: ActKind, phrase: impl Into<String>, span: Span) -> Self {
        Self {
            kind,
            line: Line { phrase: phrase.into(), values: [].into(), span },
            begins: None,
            effects: Vec::new(),
            assertions: Vec::new(),
            things: Vec::new(),
            tools: Vec::new(),
            instrument: None,
            applies: Vec::new(),
            tightening: None,
            cautions: Vec::new(),
            capability: Vec::new(),
            by_hand: false,
            substitute: None,
            holds: None,
            signs: None,
            awaits: None,
            follows: Follows::Next,
        }
    }

    /// Gives the phrase a value.
    pub(super) fn say(&mut self, name: &str, value: LineValue) {
        self.line.values.insert(name.to_owned(), value);
    }
}

/// Puts an act into the graph, and what follows from it; the ways that go on.
pub(super) fn put<'w>(
    laying: &mut Laying<'w>,
    act: &'w Act,
    mut draft: Draft<'w>,
    ways: Ways,
    out: &mut Lines,
) -> Ways {
    if let By::Roles(roles) = Laying::by(&act.clauses)
        && !draft.line.values.contains_key("who")
    {
        draft.say("by", LineValue::List(roles));
    }
    if let Some(name) = reading_of(act).filter(|_| act.verb.text != "measure")
        && let Some(of_model) = laying.model.readings.get(&name.text)
    {
        let (what, first, again) = ("reading".to_owned(), of_model.span, name.span);
        laying.found.add(&DoubledName { what, name: name.text.clone(), first, again });
    }
    let proofs = proves::of(laying, act, &mut draft);
    let follows = std::mem::replace(&mut draft.follows, Follows::Next);
    let (awaits, span) = (draft.awaits.take(), draft.line.span);
    let outcomes = Outcomes::of(&draft.kind, span);
    let node = place(laying, act, draft, ways, out);
    let ways = follow(laying, node, follows, &proofs, outcomes.as_ref(), out);
    laying.taken.extend(proofs.into_iter().map(|proof| Taken::Proof(proof.variable)));
    match awaits {
        Some(condition) => {
            let wait = laying.build.place(NodeKind::Await(condition), Vec::new(), span, ways);
            laying.let_go_line(span, wait, out)
        }
        None => ways,
    }
}

/// Puts the node of an act into the graph; what follows from it is not led anywhere yet.
pub(super) fn place(
    laying: &mut Laying<'_>,
    act: &Act,
    mut draft: Draft<'_>,
    ways: Ways,
    out: &mut Lines,
) -> NodeId {
    let who = laying.who(&act.clauses);
    if draft.signs.is_none() {
        laying.done_by(&who, act.span);
    }
    let mut effects = Vec::new();
    if let Some(reading) = draft.kind.reading() {
        effects.push(Effect::Take { reading });
    }
    effects.append(&mut draft.effects);
    effects.extend(makes(laying, &act.clauses));
    let mut assertions = laying.step_needs.clone();
    assertions.append(&mut draft.assertions);
    assertions.extend(laying.needs(&act.clauses));
    if draft.by_hand || needs_hands(&draft.kind) {
        assertions.extend(laying.hands(&who));
    }
    assertions.extend(barred(laying, &effects));
    assertions.extend(changes(laying, &effects, act.span));
    effects.extend(now_known(laying, &effects));
    if !laying.here.is_inside_anything() {
        // On every way from here on it is known what this act has set.
        for effect in &effects {
            if let Effect::Set { variable, .. } = effect {
                laying.unknown.remove(variable);
            }
        }
    }
    assertions.extend(never(laying, &act.verb.text, &draft.things));
    let mut cautions = sealed::cautions(laying, &draft.things, act.span);
    cautions.append(&mut draft.cautions);
    // Whoever holds something works at what keeps it in its place, too: the other hands do.
    let holds = draft.holds.is_some();
    let touches = match draft.things.as_slice() {
        [held] if holds => touches(laying, &laying.world.held_with(laying.model, held)),
        things => touches(laying, things),
    };
    let reading = draft.kind.reading();
    // A state is set by its own lever or switch, which is not behind what guards the machine.
    let at_the_machine = !draft.things.is_empty() && act.verb.text != "set";
    let handled = matches!(draft.kind, ActKind::Do) && at_the_machine;
    let act = locknut_graph::Act {
        settled: laying.settled_of(&draft.kind),
        kind: draft.kind,
        assertions,
        line: draft.line,
        touches,
        tools: draft.tools,
        instrument: draft.instrument,
        applies: draft.applies,
        tightening: draft.tightening,
        cautions,
        capability: draft.capability,
        substitute: draft.substitute,
    };
    if let Some(limit) = act.waits_undecided() {
        laying.may_wait(limit.span);
    }
    let span = act.line.span;
    let ways = match draft.begins {
        Some(moment) => {
            let begin = laying.build.pass(vec![Effect::Mark { moment }], span, ways);
            Ways::out(begin, Way::Next)
        }
        None => ways,
    };
    let node = laying.build.place(NodeKind::Act(Box::new(act)), effects, span, ways);
    if handled {
        laying.handled.insert(node);
    }
    laying.acts_laid += 1;
    laying.taken.extend(reading.map(Taken::Reading));
    if let Some(by) = draft.signs {
        laying.signed(node, by);
    }
    if let Some(variable) = draft.holds {
        laying.taken.push(Taken::Hold(variable));
        if let Some(hold) = laying.scope.holds.get_mut(&span) {
            hold.nodes.push(node);
            hold.begins = Some(laying.here.place());
        }
    }
    out.push(Outline::Line { node });
    node
}

fn follow<'w>(
    laying: &mut Laying<'w>,
    node: NodeId,
    follows: Follows<'w>,
    proofs: &[Proved],
    outcomes: Option<&Outcomes>,
    out: &mut Lines,
) -> Ways {
    let proved = || proofs.iter().flat_map(|proof| proof.effects(laying)).collect();
    match follows {
        Follows::Next => Ways::with(node, Way::Next, proved()),
        Follows::Verdict { otherwise } => {
            let mut ways = Ways::with(node, Way::Accepted, proved());
            let others = otherwise_block(laying, node, Vec::new(), otherwise, proofs, out);
            if others.none_left() {
                laying.settle_accepted(outcomes);
            } else {
                laying.goes_on_anyway(node);
            }
            ways.join(others);
            ways
        }
        Follows::Choice { reading, otherwise } => {
            let mut ways = Ways::out(node, Way::Next);
            // Where nothing fits, nothing is chosen.
            let none = Effect::Void { readings: vec![reading], proofs: Vec::new() };
            let others = otherwise_block(laying, node, vec![none], otherwise, &[], out);
            if others.none_left() {
                laying.settle_chosen(node);
            }
            ways.join(others);
            ways
        }
        Follows::Arms(arms) => follow_arms(laying, node, arms, proofs, outcomes, out),
    }
}

fn otherwise_block<'w>(
    laying: &mut Laying<'w>,
    node: NodeId,
    effects: Vec<Effect>,
    otherwise: Option<&'w Outcome>,
    proofs: &[Proved],
    out: &mut Lines,
) -> Ways {
    let Some(outcome) = otherwise else { return Ways::default() };
    let way = Way::Otherwise;
    let fork = laying.here.fork();
    laying.enter_arm_of(fork);
    let mut ways = Ways::with(node, way, effects);
    laying.deny(proofs, &mut ways);
    let mut items = Lines::new();
    let laid = laying.build.mark();
    let (ways, leads) = laying.outcome(outcome, ways, &mut items);
    proves::goes_on_unproved(laying, proofs, outcome.span, laid, &ways);
    let stretch = laying.leave();
    laying.is_over(&stretch, &leads);
    out.push(Outline::Outcome { node, way, items, leads });
    ways
}

fn follow_arms<'w>(
    laying: &mut Laying<'w>,
    node: NodeId,
    arms: Vec<ArmOut<'w>>,
    proofs: &[Proved],
    outcomes: Option<&Outcomes>,
    out: &mut Lines,
) -> Ways {
    let mut onward = Ways::default();
    let mut going_on = Vec::new();
    let mut ways_on: Vec<u16> = Vec::new();
    let straight = |arm: &ArmOut<'_>| arm.outcome.is_none_or(proves::goes_straight_on);
    let any_straight = arms.iter().any(straight);
    if proofs.is_empty() {
        idle_arms::tell(laying, node, &arms);
    }
    let fork = laying.here.fork();
    for arm in arms {
        let straight = straight(&arm);
        let mut ways = Ways::default();
        let own: Vec<u16> = arm.ways.iter().map(|(way, _)| *way).collect();
        for (way, sets) in &arm.ways {
            let mut effects: Vec<Effect> = sets.iter().cloned().collect();
            if straight {
                effects.extend(proofs.iter().flat_map(|proof| proof.effects(laying)));
            }
            ways.join(Ways::with(node, Way::Arm(*way), effects));
        }
        let Some(outcome) = arm.outcome else {
            onward.join(ways);
            ways_on.extend(own);
            continue;
        };
        laying.enter_arm_of(fork);
        laying.settle_on(outcomes, &own);
        // Where no arm goes straight on, which of them is the proof is told to be said.
        if any_straight && !straight {
            laying.deny(proofs, &mut ways);
        }
        let mut items = Lines::new();
        let laid = laying.build.mark();
        let (ways, leads) = laying.outcome(outcome, ways, &mut items);
        // Where no arm goes straight on, none proves anything: that is told already.
        if any_straight && !straight {
            proves::goes_on_unproved(laying, proofs, outcome.span, laid, &ways);
        }
        let stretch = laying.leave();
        laying.is_over(&stretch, &leads);
        if !ways.none_left() {
            going_on.push(stretch);
            ways_on.extend(own);
        }
        onward.join(ways);
        if let Some((way, _)) = arm.ways.first() {
            out.push(Outline::Outcome { node, way: Way::Arm(*way), items, leads });
        }
    }
    if let [only] = going_on.as_slice() {
        laying.is_certain(only);
    }
    laying.settle_on(outcomes, &ways_on);
    onward
}

/// What `makes S is v` does.
fn makes(laying: &mut Laying<'_>, clauses: &[Clause]) -> Vec<Effect> {
    let mut effects = Vec::new();
    for clause in clauses.iter().filter(|clause| clause.word.text == "makes") {
        let ClauseValue::Condition(written) = &clause.value else { continue };
        let Some(condition) = laying.condition(written) else { continue };
        for part in parts(condition) {
            match plain(laying, &part) {
                Some((variable, value)) => effects.push(Effect::Set { variable, value }),
                None => laying.found.add(&PlainWanted::makes(written.span())),
            }
        }
    }
    effects
}

/// The one value that a condition says of a variable of the machine.
fn plain(laying: &Laying<'_>, part: &Condition) -> Option<(VariableId, u8)> {
    let Condition::Test(Test::Is { variable, values, .. }) = part else { return None };
    let declared = laying.build.variables.get(usize::from(variable.0))?;
    match values.as_slice() {
        // What an element’s own acts bring about, with all that they ask, no act brings about beside.
        [value] if declared.kind == VariableKind::State => Some((*variable, *value)),
        _ => None,
    }
}

/// Whether hands are needed for it; looking, waiting and reckoning take none.
fn needs_hands(kind: &ActKind) -> bool {
    match kind {
        ActKind::Do | ActKind::Measure { .. } | ActKind::Count { .. } | ActKind::Record { .. } => {
            true
        }
        ActKind::Confirm
        | ActKind::Wait { .. }
        | ActKind::Observe { .. }
        | ActKind::Check { .. }
        | ActKind::Choose(_) => false,
    }
}

/// A state that is written is known from then on.
fn now_known(laying: &Laying<'_>, effects: &[Effect]) -> Vec<Effect> {
    let known = effects.iter().filter_map(|effect| {
        let Effect::Set { variable, .. } = effect else { return None };
        laying.unknown.get(variable)
    });
    known.map(|unknown| Effect::Set { variable: *unknown, value: 0 }).collect()
}

/// What `change S : a -> b needs COND` asks of the writes of an act; a state without such lines is free.
fn changes(laying: &Laying<'_>, effects: &[Effect], at: Span) -> Vec<Assertion> {
    let mut assertions = Vec::new();
    for effect in effects {
        let Effect::Set { variable, value } = effect else { continue };
        let of = |change: &&Change| change.variable == *variable;
        let Some(any) = laying.model.changes.iter().find(of) else { continue };
        let here = laying.model.changes.iter().filter(of).filter(|change| change.to == *value);
        let from: Vec<u8> = here.clone().map(|change| change.from).collect();
        let Some(declared) = laying.build.variables.get(usize::from(variable.0)) else { continue };
        let said =
            |value: u8| declared.values.get(usize::from(value)).map(|v| v.words.said.clone());
        let names: Vec<String> = from.iter().filter_map(|value| said(*value)).collect();
        let from_any = |values| Condition::Test(Test::Is { variable: *variable, values, span: at });
        assertions.push(Assertion {
            condition: if from.is_empty() { Condition::Always(false) } else { from_any(from) },
            because: Because::Change { state: declared.words.clone() },
            written: format!("{} is {}", declared.words.said, names.join(" or ")),
            span: here.clone().next().map_or(any.span, |change| change.span),
        });
        for change in here {
            let elsewhere = Condition::Not(Box::new(from_any(vec![change.from])));
            assertions.extend(change.needs.iter().map(|need| Assertion {
                condition: Condition::Any(vec![elsewhere.clone(), need.condition.clone()]),
                ..need.clone()
            }));
        }
    }
    assertions
}

/// What locks ask of the writes of an act.
fn barred(laying: &Laying<'_>, effects: &[Effect]) -> Vec<Assertion> {
    let mut assertions = Vec::new();
    for effect in effects {
        if let Effect::Set { variable, value } = effect {
            assertions.extend(laying.world.lock_assertions(laying.model, *variable, *value));
        }
    }
    assertions
}

/// `never ACT …` of the model, asserted just before each such act.
fn never(laying: &Laying<'_>, verb: &str, things: &[String]) -> Vec<Assertion> {
    let rules = laying.model.act_interlocks.iter().filter(|rule| {
        let any = rule.things.is_empty();
        rule.verb == verb && (any || rule.things.iter().any(|thing| things.contains(thing)))
    });
    let assertion = |rule: &ActInterlock| Assertion {
        condition: rule.holds.clone(),
        because: Because::Never { because: rule.because.clone() },
        written: rule.written.clone(),
        span: rule.span,
    };
    rules.map(assertion).collect()
}

fn touches(laying: &Laying<'_>, things: &[String]) -> Vec<HazardId> {
    let guarded = (0u16..).zip(&laying.model.hazard_things);
    let touched = guarded.filter(|(_, guards)| things.iter().any(|thing| guards.contains(thing)));
    touched.map(|(position, _)| HazardId(position)).collect()
}

/// `despite LN652 because "…"`: kept for the reviewer, with the act or step that it stands at.
pub(super) fn answers(laying: &mut Laying<'_>, clauses: &[Clause], at: Span) {
    for clause in clauses {
        let ClauseValue::Despite { code, because } = &clause.value else { continue };
        if !can_be_answered(&code.text) {
            laying.found.add(&CannotBeAnswered { code: code.text.clone(), span: code.span });
            continue;
        }
        let Some(because) = because else {
            laying.found.add(&no_reason(clause.span));
            continue;
        };
        let because = laying.prose(because);
        laying.build.answered.push((code.text.clone(), because, at));
    }
}

/// Strength, capability and wording can be answered; states, interlocks and hazards never.
fn can_be_answered(code: &str) -> bool {
    let Some(number) = code.strip_prefix("LN") else { return false };
    let digits = number.len() == 3 && number.bytes().all(|byte| byte.is_ascii_digit());
    digits && number.starts_with(['3', '6', '9'])
}

fn no_reason(span: Span) -> SaysTooLittle<'static> {
    SaysTooLittle {
        what: "this `despite`".to_owned(),
        lacks: "no reason",
        span,
        consequence: "the reviewer cannot weigh what is not said",
        mend: "add: because \"…\"",
    }
}

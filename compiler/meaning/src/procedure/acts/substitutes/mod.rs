//! `or using …`, `or measure …`: what may be read where the instrument of a line is not at hand.
//!
//! The fitter says which instrument is there, and each is a way of its own. No way but the line's own
//! takes the line's reading, so that nothing below can rest on a figure that nobody read.

mod coarser;

use super::super::build::Ways;
use super::super::laying::{Laying, Lines, Taken};
use super::draft::{self, Draft};
use super::instruments::{read_with, using};
use super::measure::{About, Read, Whose, measure};
use super::proves::{self, Proved};
use super::sides::{self, Told};
use super::{readings, shape};
use crate::findings::names::TooMany;
use crate::findings::readings::{OtherFigure, ProvedByHalf, ReadLaxer, SameInstrument};
use crate::world::{Instrument, World};
use locknut_finding::{Finding, Span};
use locknut_graph::{
    ActArm, ActKind, Assertion, Effect, Leads, Line, LineValue, NodeId, NodeKind, Outline, Prose,
    ProsePiece, ReadingId, ReadingKind, Rule, Side, Verdict, Way, Words,
};
use locknut_syntax::tree::{Act, Object, Outcome, Substitute};

/// A line has at most so many substitutes.
const MOST_SUBSTITUTES: usize = 20;

/// A line with what may be read in its place.
pub(super) struct Substituted<'w> {
    pub(super) act: &'w Act,
    pub(super) substitutes: &'w [Substitute],
    pub(super) otherwise: Option<&'w Outcome>,
}

/// What holds for every way of a line.
struct Common<'w> {
    act: &'w Act,
    about: About,
    /// The instrument of the line, by position.
    instrument: Option<usize>,
    proofs: Vec<Proved>,
    /// What is to be proved must have been made so, whoever reads it.
    made_so: Vec<Assertion>,
}

/// The ways that come together behind the readings.
#[derive(Default)]
struct Behind {
    accepted: Ways,
    outside: Ways,
    /// With the way on which it is not accepted.
    nodes: Vec<(NodeId, Way)>,
    arms: Vec<Lines>,
}

/// A reading that stands in the graph, with what is printed on its way.
struct Laid<'a> {
    node: NodeId,
    items: Lines,
    about: &'a About,
    /// What the record says where it is accepted.
    noting: Option<Prose>,
}

/// Lays a reading with its substitutes.
pub(super) fn lay<'w>(
    laying: &mut Laying<'w>,
    line: &Substituted<'w>,
    read: Read<'w>,
    ways: Ways,
    out: &mut Lines,
) -> Ways {
    let substitutes = apart(laying, line);
    let main = read.draft.instrument.and_then(|at| laying.build.instruments.get(at));
    let Some(main) = main.map(|instrument| instrument.words.clone()) else { return ways };
    if substitutes.is_empty() {
        return draft::put(laying, line.act, read.draft, ways, out);
    }
    let Read { draft: mut own, about } = read;
    let asked_before = own.assertions.len();
    let proofs = proves::of(laying, line.act, &mut own);
    let made_so = own.assertions.iter().skip(asked_before).cloned().collect();
    let instrument = own.instrument;
    let common = Common { act: line.act, about, instrument, proofs, made_so };
    let with = substitutes.iter().map(|(_, instrument)| instrument.words.clone());
    let which = which(laying, &common, std::iter::once(main).chain(with).collect(), ways, out);
    let mut behind = Behind::default();
    by_the_line(laying, &common, own, Ways::out(which, Way::Arm(0)), &mut behind);
    for (arm, (substitute, _)) in (1u16..).zip(substitutes) {
        by_another(laying, &common, substitute, (which, arm), &mut behind);
    }
    let taken = common.proofs.iter().map(|proof| Taken::Proof(proof.variable));
    laying.taken.extend(taken.collect::<Vec<_>>());
    outside(laying, &common, line.otherwise, &mut behind);
    for (arm, items) in (0u16..).zip(behind.arms) {
        let way = Way::Arm(arm);
        out.push(Outline::Outcome { node: which, way, items, leads: Leads::Below });
    }
    behind.accepted
}

/// The substitutes whose instruments are known, each another one.
fn apart<'w>(
    laying: &mut Laying<'w>,
    line: &Substituted<'w>,
) -> Vec<(&'w Substitute, &'w Instrument)> {
    let instrument = |laying: &Laying<'w>, act: &Act| {
        let mut named = shape::names(act, "using").into_iter();
        named.find_map(|name| Some((laying.world.instruments.get(&name.text)?, name.span)))
    };
    let mut seen: Vec<(&str, Span)> = Vec::new();
    seen.extend(instrument(laying, line.act).map(|(one, span)| (one.words.name.as_str(), span)));
    if let Some(first) = line.substitutes.get(MOST_SUBSTITUTES) {
        let (what, most, span) = ("substitutes of one reading", MOST_SUBSTITUTES, first.span);
        laying.found.add(&TooMany { what, most, span });
    }
    let mut all = Vec::new();
    for substitute in line.substitutes.iter().take(MOST_SUBSTITUTES) {
        let Some((one, span)) = instrument(laying, &substitute.act) else {
            no_instrument(laying, line, &substitute.act);
            continue;
        };
        match seen.iter().find(|(name, _)| *name == one.words.name) {
            Some((_, first)) => {
                let (instrument, first) = (one.words.said.clone(), *first);
                laying.found.add(&SameInstrument { instrument, first, again: span });
            }
            None => all.push((substitute, one)),
        }
        seen.push((&one.words.name, span));
    }
    all
}

/// Says that nothing is named to read it with, or nothing that is known.
fn no_instrument<'w>(laying: &mut Laying<'w>, line: &Substituted<'w>, act: &Act) {
    let using = using(laying, act);
    let named = act.objects.first().or(line.act.objects.first());
    if let Some(Object::Name(name)) = named {
        read_with(laying, act, name, &using);
    }
}

/// Asks something that changes nothing and takes no hands.
fn ask(laying: &mut Laying<'_>, draft: Draft<'_>, ways: Ways, out: &mut Lines) -> NodeId {
    let (reading, span) = (draft.kind.reading(), draft.line.span);
    let effects = reading.map(|reading| Effect::Take { reading }).into_iter().collect();
    let act = locknut_graph::Act::of(draft.kind, draft.line);
    let node = laying.build.place(NodeKind::Act(Box::new(act)), effects, span, ways);
    laying.acts_laid += 1;
    laying.taken.extend(reading.map(Taken::Reading));
    out.push(Outline::Line { node });
    node
}

/// Asks which instrument is at hand.
fn which(
    laying: &mut Laying<'_>,
    common: &Common<'_>,
    instruments: Vec<Words>,
    ways: Ways,
    out: &mut Lines,
) -> NodeId {
    let span = common.act.span;
    let arm = |(answer, words): (u8, &Words)| ActArm {
        range: None,
        whole: None,
        answers: vec![answer],
        written: words.said.clone(),
        span,
    };
    let arms = (0u8..).zip(&instruments).map(arm).collect();
    let name = format!("instrument-for-{}", common.about.name.text);
    let kind = ReadingKind::Answer { answers: instruments, variable: None };
    let reading = readings::unnamed(laying, &name, kind, span);
    let kind = ActKind::Observe { reading, question: None, verdict: Verdict::Arms(arms) };
    let mut draft = Draft::of(kind, "act-measure-which", span);
    draft.say("reading", LineValue::Reading(common.about.reading));
    ask(laying, draft, ways, out)
}

fn by_the_line<'w>(
    laying: &mut Laying<'w>,
    common: &Common<'_>,
    own: Draft<'w>,
    ways: Ways,
    behind: &mut Behind,
) {
    laying.enter_arm();
    let mut items = Lines::new();
    let node = draft::place(laying, common.act, own, ways, &mut items);
    laying.leave();
    behind.take(laying, common, Laid { node, items, about: &common.about, noting: None });
}

fn by_another<'w>(
    laying: &mut Laying<'w>,
    common: &Common<'_>,
    substitute: &'w Substitute,
    (which, arm): (NodeId, u16),
    behind: &mut Behind,
) {
    laying.enter_arm();
    let mut items = Lines::new();
    let ways = Ways::out(which, Way::Arm(arm));
    let ways = laying.inside(&substitute.items, ways, &mut items);
    let line = &common.about;
    let whose = if substitute.same { Whose::Same(line) } else { Whose::Other(line) };
    let so_far = laying.found.reports().len();
    let Some(Read { mut draft, about }) = measure(laying, &substitute.act, whose) else {
        laying.leave();
        behind.accepted.join(ways);
        return;
    };
    // What a card does not answer at all is not held against the line, too.
    let answers = !laying.found.has(so_far, OtherFigure::PAGE.code());
    let told = if answers {
        sides::told(laying, &common.about, &about, substitute)
    } else {
        Told::default()
    };
    half_a_proof(laying, common, &about, &told, substitute);
    draft.assertions.extend(common.made_so.iter().cloned());
    draft.cautions.extend(as_read(laying, common, &about, draft.instrument));
    if substitute.same {
        draft.cautions.extend(coarser::cautions(laying, common, &about, draft.instrument));
    }
    draft.cautions.extend(cautions(common.about.reading, &told, substitute.span));
    draft.substitute = Some(Box::new(locknut_graph::Substitute {
        of: common.about.reading,
        instrument: common.instrument,
        other: !substitute.same,
        open: told.open.clone(),
        // What is done on its way is not undone, and nobody proved the question behind it.
        again: substitute.items.is_empty().then_some(which),
        span: substitute.span,
    }));
    let node = draft::place(laying, common.act, draft, ways, &mut items);
    laying.leave();
    let noting = noting(laying.world, &common.about, &told);
    behind.take(laying, common, Laid { node, items, about: &about, noting });
}

impl Behind {
    /// Takes up the ways out of a reading.
    fn take(&mut self, laying: &Laying<'_>, common: &Common<'_>, laid: Laid<'_>) {
        let Laid { node, items, about, noting } = laid;
        let [inside, outside] = &about.ways;
        let proved = common.proofs.iter().flat_map(|proof| proof.effects(laying)).collect();
        let mut accepted = out(node, inside, proved);
        if let Some(noting) = &noting {
            accepted.note(noting);
        }
        self.accepted.join(accepted);
        self.outside.join(out(node, outside, Vec::new()));
        self.nodes.push((node, outside.0));
        self.arms.push(items);
    }
}

/// A way out of a reading, with what it sets and what more it brings about.
fn out(node: NodeId, of: &(Way, Vec<Effect>), more: Vec<Effect>) -> Ways {
    let (way, effects) = of;
    Ways::with(node, *way, effects.iter().cloned().chain(more).collect())
}

/// What follows outside of the limit stands once, whatever it was read with.
fn outside<'w>(
    laying: &mut Laying<'w>,
    common: &Common<'_>,
    otherwise: Option<&'w Outcome>,
    behind: &mut Behind,
) {
    let Some(outcome) = otherwise else { return };
    laying.enter_arm();
    laying.deny(&common.proofs, &mut behind.outside);
    let (mut items, laid) = (Lines::new(), laying.build.mark());
    let (ways, leads) = laying.outcome(outcome, std::mem::take(&mut behind.outside), &mut items);
    proves::goes_on_unproved(laying, &common.proofs, outcome.span, laid, &ways);
    laying.leave();
    behind.accepted.join(ways);
    let Some((first, _)) = behind.nodes.first().copied() else { return };
    let mut told = Some((items, leads));
    for ((node, way), arm) in behind.nodes.iter().zip(&mut behind.arms) {
        let (items, leads) =
            told.take().unwrap_or_else(|| (Lines::new(), Leads::AsAt { node: first }));
        arm.push(Outline::Outcome { node: *node, way: *way, items, leads });
    }
}

/// A state is proved only by what decides all that its reading decides, where it is decided.
fn half_a_proof(
    laying: &mut Laying<'_>,
    common: &Common<'_>,
    about: &About,
    told: &Told,
    substitute: &Substitute,
) {
    let Some(proves) = shape::clause(common.act, "proves") else { return };
    let elsewhere = about.points != common.about.points;
    if common.proofs.is_empty() || (told.open.is_empty() && !elsewhere) {
        return;
    }
    laying.found.add(&ProvedByHalf {
        substitute: substitute.span,
        proves: proves.span,
        name: common.about.name.text.clone(),
        open: told.open.clone(),
    });
}

/// Says so where a substitute is taken as read beside a line that is guarded.
fn as_read(
    laying: &mut Laying<'_>,
    common: &Common<'_>,
    own: &About,
    instrument: Option<usize>,
) -> Option<Line> {
    let usual = laying.world.metrology.rule;
    let rule = |about: &About| {
        let limit = about.accepts.as_ref().map(|limit| limit.span);
        about.rule.or_else(|| Some((usual, limit?)))
    };
    let ((of_line, guarded), (Rule::Simple, said)) = (rule(&common.about)?, rule(own)?) else {
        return None;
    };
    if !of_line.guards() {
        return None;
    }
    let name = common.about.name.text.clone();
    let instrument = laying.build.instruments.get(instrument?)?.words.said.clone();
    laying.found.add(&ReadLaxer { name, instrument, said, guarded });
    Some(Line { phrase: "caution-as-read".to_owned(), values: [].into(), span: said })
}

fn cautions(reading: ReadingId, told: &Told, span: Span) -> Vec<Line> {
    let open = told.open.iter().map(|side| Line {
        phrase: format!("caution-open-{}", side.word()),
        values: [("reading".to_owned(), LineValue::Reading(reading))].into(),
        span,
    });
    let noting = told.noting.iter().map(|noting| Line {
        phrase: "caution-open-noting".to_owned(),
        values: [("note".to_owned(), LineValue::Prose(noting.clone()))].into(),
        span,
    });
    open.chain(noting).collect()
}

/// What the record says where it is accepted: `not decided: belt tension too high`.
fn noting(world: &World, about: &About, told: &Told) -> Option<Prose> {
    let said = Words::of(&about.name.text).said;
    let open = |side: &Side| {
        let note = world.notes.get(&format!("note-open-{}", side.word()));
        note.map_or_else(String::new, |note| note.replace(World::READING_OF_NOTE, &said))
    };
    let open: Vec<String> = told.open.iter().map(open).collect();
    let mut pieces = Vec::new();
    if !open.is_empty() {
        pieces.push(ProsePiece::Plain(open.join("; ")));
    }
    if let Some(noting) = &told.noting {
        if !pieces.is_empty() {
            pieces.push(ProsePiece::Plain(". ".to_owned()));
        }
        pieces.extend(noting.pieces.iter().cloned());
    }
    (!pieces.is_empty()).then_some(Prose { pieces, span: about.name.span })
}

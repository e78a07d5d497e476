//! Tightening figures: they live with the bolts; a figure in the act that differs wants a reason.

use super::super::laying::Laying;
use super::draft::Draft;
use super::instruments::{Using, kind_said};
use super::limits::within_reach;
use super::shape::{clause, text_in};
use crate::findings::hardware::{FigureDiffers, NoFigure, TorqueAfterAngle};
use crate::findings::quantities::OneFigure;
use crate::findings::readings::{NoInstrument, WrongInstrument};
use crate::world::{ModelThing, can_be_tightened_to, not_too_far_together};
use locknut_finding::Span;
use locknut_graph::{Line, LineValue, Stage};
use locknut_quantity::{KindId, Limit};
use locknut_syntax::tree::{self, Act, Clause, ClauseValue, Expression, LimitForm};

/// Takes the figures of a tightening from the act or the model, and holds them against each other and
/// the wrench.
pub(super) fn tighten(
    laying: &mut Laying<'_>,
    act: &Act,
    thing: &ModelThing,
    has_effort: bool,
    using: &Using<'_>,
    draft: &mut Draft<'_>,
) {
    if let Some(pattern) = &thing.pattern {
        draft.say("pattern", LineValue::Text(pattern.clone()));
    }
    if let Some(reason) = text_in(act, "because") {
        let reason = laying.prose(reason);
        draft.say("because", LineValue::Prose(reason));
    }
    let written = written(laying, act);
    compare(laying, act, thing, &written);
    in_order(laying, &written);
    let mut tightening = laying.world.tightening(thing).clone();
    if let (Some((_, first)), Some((_, last))) = (written.first(), written.last()) {
        tightening.figure_at = first.to(*last);
        tightening.own_figure = true;
        tightening.stages = written.iter().map(|(stage, _)| stage.clone()).collect();
        tightening.because = text_in(act, "because").map(|reason| laying.prose(reason));
    }
    let stages = tightening.stages.clone();
    let refused = thing.fastening.tightened_at.is_some();
    if stages.is_empty() && !has_effort && !refused && !is_written(act) {
        let (thing, declared) = (thing.words.said.clone(), thing.span);
        laying.found.add(&NoFigure {
            verb: act.verb.text.clone(),
            thing,
            span: act.span,
            declared,
        });
    }
    if let Some(first) = stages.first().filter(|_| has_effort)
        && let Some(with) = clause(act, "with")
    {
        let finding = OneFigure::beside(&laying.written(with.span), with.span, &stage_said(first));
        laying.found.add(&finding);
    }
    let lines = stages.iter().map(|stage| line(stage, act.span)).collect::<Vec<Line>>();
    if !lines.is_empty() {
        draft.say("stages", LineValue::Stages(lines));
    }
    wrench(laying, act, &stages, using, draft);
    draft.tightening = Some(Box::new(tightening));
}

/// The stages of the act's own clauses, each where it is written.
fn written(laying: &mut Laying<'_>, act: &Act) -> Vec<(Stage, Span)> {
    let mut stages = Vec::new();
    for clause in act.clauses.iter().filter(|clause| is_stage(clause)) {
        let (turned, limit) = match &clause.value {
            ClauseValue::Target { name, limit } => (name.text == "turned", (**limit).clone()),
            ClauseValue::Limit(limit) => (clause.word.text == "turned", (**limit).clone()),
            ClauseValue::Names(names) => match names.first() {
                Some(name) => (false, named(name)),
                None => continue,
            },
            ClauseValue::Text(_)
            | ClauseValue::Condition(_)
            | ClauseValue::Definition { .. }
            | ClauseValue::Set(_)
            | ClauseValue::Despite { .. }
            | ClauseValue::Outcome(_) => continue,
        };
        let kind = laying.world.units.kind_named(if turned { "angle" } else { "torque" });
        let Some(limit) = laying.limit(&limit, kind) else { continue };
        if !can_be_tightened_to(&limit, turned, clause.span, &mut laying.found) {
            continue;
        }
        let stage = if turned { Stage::Angle(limit) } else { Stage::Torque(limit) };
        stages.push((stage, clause.span));
    }
    stages
}

fn named(name: &tree::Name) -> tree::Limit {
    tree::Limit { form: LimitForm::Just(Expression::Name(name.clone())), span: name.span }
}

fn is_stage(clause: &Clause) -> bool {
    ["to", "then", "turned"].contains(&clause.word.text.as_str())
}

fn is_written(act: &Act) -> bool {
    act.clauses.iter().any(is_stage)
}

fn compare(laying: &mut Laying<'_>, act: &Act, thing: &ModelThing, written: &[(Stage, Span)]) {
    let (Some((_, first)), Some((_, last))) = (written.first(), written.last()) else { return };
    let same = thing.tightening.len() == written.len()
        && thing.tightening.iter().zip(written).all(|(one, (other, _))| same_figure(one, other));
    if thing.tightening.is_empty() || same || text_in(act, "because").is_some() {
        return;
    }
    let said = |stages: Vec<&Stage>| {
        stages.into_iter().map(stage_said).collect::<Vec<_>>().join(", then ")
    };
    laying.found.add(&FigureDiffers {
        thing: thing.words.said.clone(),
        written: said(written.iter().map(|(stage, _)| stage).collect()),
        span: first.to(*last),
        declared: said(thing.tightening.iter().collect()),
        declared_at: thing.span,
    });
}

fn same_figure(one: &Stage, other: &Stage) -> bool {
    match (one, other) {
        (Stage::Torque(one), Stage::Torque(other)) | (Stage::Angle(one), Stage::Angle(other)) => {
            one.range == other.range
        }
        (Stage::Torque(_), Stage::Angle(_)) | (Stage::Angle(_), Stage::Torque(_)) => false,
    }
}

fn stage_said(stage: &Stage) -> String {
    match stage {
        Stage::Torque(limit) => limit.written.clone(),
        Stage::Angle(limit) => format!("turned {}", limit.written),
    }
}

/// After an angle there is no torque; several angles add up.
fn in_order(laying: &mut Laying<'_>, written: &[(Stage, Span)]) {
    let mut angle = None;
    let mut so_far = Vec::new();
    for (stage, span) in written {
        so_far.push(stage.clone());
        match (stage, angle) {
            (Stage::Angle(_), None) => angle = Some(*span),
            (Stage::Angle(_), Some(first)) => {
                let both = Span::to(first, *span);
                not_too_far_together(&so_far, both, &mut laying.found);
            }
            (Stage::Torque(limit), Some(angle)) => {
                let torque = limit.written.clone();
                laying.found.add(&TorqueAfterAngle { torque, span: *span, angle });
            }
            (Stage::Torque(_), None) => {}
        }
    }
}

fn line(stage: &Stage, span: Span) -> Line {
    let (phrase, name, limit) = match stage {
        Stage::Torque(limit) => ("stage-torque", "torque", limit),
        Stage::Angle(limit) => ("stage-angle", "angle", limit),
    };
    let values = [(name.to_owned(), LineValue::Limit(limit.clone()))].into();
    Line { phrase: phrase.to_owned(), values, span }
}

/// A torque wants a wrench that is set to it, and reaches it.
fn wrench(
    laying: &mut Laying<'_>,
    act: &Act,
    stages: &[Stage],
    using: &Using<'_>,
    draft: &mut Draft<'_>,
) {
    let torques: Vec<&Limit> = stages
        .iter()
        .filter_map(|stage| match stage {
            Stage::Torque(limit) => Some(limit),
            Stage::Angle(_) => None,
        })
        .collect();
    let Some((instrument, span)) = using.instrument else {
        // How hard by hand, beside a torque, is told as that.
        if let Some(torque) = torques.first().filter(|_| clause(act, "with").is_none()) {
            laying.found.add(&NoInstrument::sets(&torque.written, act.span));
        }
        return;
    };
    let wanted: Option<KindId> = torques.first().map(|torque| torque.kind);
    if !instrument.applies || wanted.is_some_and(|wanted| wanted != instrument.kind) {
        let units = &laying.world.units;
        let does = if instrument.applies { "set to" } else { "a gauge that measures" };
        laying.found.add(&WrongInstrument {
            instrument: instrument.words.said.clone(),
            span,
            declared: instrument.span,
            is: format!("{does} {}", kind_said(units, instrument.kind)),
            wanted: "a wrench that is set to a torque".to_owned(),
        });
        return;
    }
    for torque in &torques {
        within_reach(laying, torque, span, "is set to", Some(instrument));
    }
    draft.applies = torques.into_iter().cloned().collect();
}

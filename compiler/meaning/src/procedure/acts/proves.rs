//! `proves S is v` on a reading: what was made so is now known to be so.

use super::super::build::{Mark, Ways};
use super::super::hand_over::parts;
use super::super::laying::Laying;
use super::draft::{Draft, Follows};
use super::shape::{clause, names};
use crate::findings::flow::PlainWanted;
use crate::findings::readings::{ProofFailed, ProvedElsewhere, ProvesWhatever};
use crate::world::at_point;
use locknut_finding::Span;
use locknut_graph::{ActKind, Assertion, Because, Condition, Effect, Test, VariableId};
use locknut_syntax::tree::{Act, ClauseValue, End, Outcome};

/// A state that an accepted reading shows to be as it is.
#[derive(Clone, Copy, Debug)]
pub(in super::super) struct Proved {
    pub(in super::super) variable: VariableId,
    value: u8,
    span: Span,
}

impl Proved {
    /// What accepting the reading does; of a state that nobody knew, it also tells the value.
    pub(super) fn effects(self, laying: &Laying<'_>) -> Vec<Effect> {
        let prove = Effect::Prove { variable: self.variable };
        match laying.unknown.get(&self.variable) {
            Some(unknown) => vec![
                Effect::Set { variable: self.variable, value: self.value },
                Effect::Set { variable: *unknown, value: 0 },
                prove,
            ],
            None => vec![prove],
        }
    }
}

/// Says so where an outcome that upsets a proof goes on, and nothing in it settles the state.
///
/// Whether what settles it stands on every way through the outcome is not looked at.
pub(super) fn goes_on_unproved(
    laying: &mut Laying<'_>,
    proofs: &[Proved],
    outcome: Span,
    laid: Mark,
    ways: &Ways,
) {
    for Proved { variable, span, .. } in proofs.iter().copied() {
        // A state that nobody knew, and nothing has set, has any of its values still: nothing counts on one.
        let known = !laying.unknown.contains_key(&variable) || laying.build.writes(variable);
        let settled = ways.settle(variable) || laying.build.settles_since(laid, variable);
        if known && !settled && !ways.none_left() {
            let declared = laying.build.variables.get(usize::from(variable.0));
            let state = declared.map(|state| state.words.said.clone()).unwrap_or_default();
            laying.found.add(&ProofFailed { outcome, proves: span, state });
        }
    }
}

/// What the act proves where it is accepted; that it has been made so by then is asserted.
pub(super) fn of(laying: &mut Laying<'_>, act: &Act, draft: &mut Draft<'_>) -> Vec<Proved> {
    let Some(clause) = clause(act, "proves") else { return Vec::new() };
    let ClauseValue::Condition(written) = &clause.value else { return Vec::new() };
    let span = written.span();
    let said = laying.written(span);
    let Some(condition) = laying.condition(written) else { return Vec::new() };
    let mut proved = Vec::new();
    let mut told = false;
    for part in parts(condition) {
        let Condition::Test(Test::Is { variable, values, span: tested }) = &part else {
            laying.found.add(&PlainWanted::proves(span));
            continue;
        };
        if let Some((state, points)) = not_read_there(laying, act, draft, *variable) {
            if !told {
                laying.found.add(&ProvedElsewhere { proves: span, state, points });
            }
            told = true;
            continue;
        }
        let value = values.first().copied().unwrap_or_default();
        proved.push(Proved { variable: *variable, value, span });
        let written = said.clone();
        let condition = match laying.unknown.get(variable) {
            Some(unknown) => {
                let still = Test::Is { variable: *unknown, values: vec![1], span: *tested };
                Condition::Any(vec![part, Condition::Test(still)])
            }
            None => part,
        };
        draft.assertions.push(Assertion { condition, because: Because::MadeSo, written, span });
    }
    if let Some(arms) = proves_whatever(draft) {
        laying.found.add(&ProvesWhatever { proves: span, said, act: act.verb.span, arms });
    }
    proved
}

/// Of a state at points: which one is to be proved, and where the act reads, if that is not there.
///
/// A sum over points may hide a bad one, so that only what is read at the point itself shows how it is there.
fn not_read_there(
    laying: &Laying<'_>,
    act: &Act,
    draft: &Draft<'_>,
    variable: VariableId,
) -> Option<(String, Vec<String>)> {
    let name = &laying.model.variables.get(usize::from(variable.0))?.words;
    let mut of_points =
        laying.model.points.iter().flat_map(|(base, points)| {
            points.iter().map(move |point| (point, at_point(base, point)))
        });
    let (point, _) = of_points.find(|(_, one)| *one == name.name)?;
    let read_at: Vec<String> = match &draft.kind {
        ActKind::Confirm => return None,
        ActKind::Measure { .. } | ActKind::Observe { .. } => names(act, "at")
            .into_iter()
            .map(|point| laying.scope.points.get(&point.text).unwrap_or(&point.text).clone())
            .collect(),
        ActKind::Do
        | ActKind::Wait { .. }
        | ActKind::Count { .. }
        | ActKind::Record { .. }
        | ActKind::Check { .. }
        | ActKind::Choose(_) => Vec::new(),
    };
    // Written at no point in a block that stands at this one, it is read there.
    let here = read_at.is_empty()
        && matches!(draft.kind, ActKind::Observe { .. } | ActKind::Measure { .. })
        && laying.scope.points.values().chain(&laying.scope.at).any(|here| here == point);
    // What is done at this one may read at terminals of its own: at none of them does another of these stand.
    let stands = |at: &String| {
        laying.model.points.values().any(|points| points.contains(point) && points.contains(at))
    };
    let here = here
        || laying.scope.at.as_ref() == Some(point)
            && matches!(draft.kind, ActKind::Observe { .. } | ActKind::Measure { .. })
            && !read_at.iter().any(stands);
    (!here && !read_at.contains(point)).then(|| (name.said.clone(), read_at))
}

/// Where no outcome tells yes from no: none of them stops the job from going on as if it were proved, or all do, or
/// several arms go on, and which of them is the proof is not said. Those several.
fn proves_whatever(draft: &Draft<'_>) -> Option<Vec<Span>> {
    if matches!(draft.kind, ActKind::Confirm) {
        return None;
    }
    match &draft.follows {
        Follows::Next | Follows::Choice { .. } => Some(Vec::new()),
        Follows::Verdict { .. } => None,
        Follows::Arms(arms) => {
            let straight = arms.iter().filter(|arm| arm.outcome.is_none_or(goes_straight_on));
            let straight: Vec<_> = straight.collect();
            if straight.len() == 1 && arms.len() > 1 {
                return None;
            }
            let every = straight.len() == arms.len();
            let spans = straight.iter().filter_map(|arm| Some(arm.outcome?.span));
            Some(spans.filter(|_| !every).collect())
        }
    }
}

/// Whether an outcome is but `go on`.
pub(super) fn goes_straight_on(outcome: &Outcome) -> bool {
    outcome.items.is_empty() && matches!(outcome.end, None | Some(End::GoOn { .. }))
}

//! `proves S is v` on a reading: what was made so is now known to be so.

use super::super::hand_over::parts;
use super::super::laying::Laying;
use super::draft::{Draft, Follows};
use super::shape::clause;
use crate::findings::flow::PlainWanted;
use crate::findings::readings::ProvesWhatever;
use locknut_graph::{ActKind, Assertion, Because, Condition, Test, VariableId};
use locknut_syntax::tree::{Act, ClauseValue, End, Outcome};

/// What the act proves where it is accepted; that it has been made so by then is asserted.
pub(super) fn of(laying: &mut Laying<'_>, act: &Act, draft: &mut Draft<'_>) -> Vec<VariableId> {
    let Some(clause) = clause(act, "proves") else { return Vec::new() };
    let ClauseValue::Condition(written) = &clause.value else { return Vec::new() };
    let span = written.span();
    let said = laying.written(span);
    let Some(condition) = laying.condition(written) else { return Vec::new() };
    let mut proved = Vec::new();
    for part in parts(condition) {
        let Condition::Test(Test::Is { variable, .. }) = &part else {
            laying.found.add(&PlainWanted::proves(span));
            continue;
        };
        proved.push(*variable);
        let written = said.clone();
        draft.assertions.push(Assertion {
            condition: part,
            because: Because::MadeSo,
            written,
            span,
        });
    }
    if proves_whatever(draft) {
        laying.found.add(&ProvesWhatever { proves: span, said, act: act.verb.span });
    }
    proved
}

/// No outcome of the reading stops the job from going on as if it were proved, or all of them do.
fn proves_whatever(draft: &Draft<'_>) -> bool {
    if matches!(draft.kind, ActKind::Confirm) {
        return false;
    }
    match &draft.follows {
        Follows::Next | Follows::Choice { .. } => true,
        Follows::Verdict { .. } => false,
        Follows::Arms(arms) => {
            let straight = arms.iter().filter(|arm| arm.outcome.is_none_or(goes_straight_on));
            let straight = straight.count();
            straight == 0 || straight == arms.len()
        }
    }
}

/// Whether an outcome is but `go on`.
pub(super) fn goes_straight_on(outcome: &Outcome) -> bool {
    outcome.items.is_empty() && matches!(outcome.end, None | Some(End::GoOn { .. }))
}

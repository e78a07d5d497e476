//! What is said to be usual, held against what its own line does with it.

use super::super::laying::Laying;
use super::super::said;
use super::capability::Value;
use super::draft::Follows;
use crate::findings::readings::UsuallyRefused;
use locknut_finding::Span;
use locknut_graph::ActArm;
use locknut_quantity::{Limit, Range};
use locknut_syntax::tree::End;

/// Says so where a limit takes nothing of what is said to be usual.
pub(super) fn refused(laying: &mut Laying<'_>, limit: &Limit, span: Span, value: &Value<'_>) {
    let Some(usually) = &value.usually else { return };
    let never = value.possible.is_some_and(|all| all.within(&limit.range).is_none());
    if never || !usually.intersect(&limit.range).is_empty() {
        return;
    }
    told(laying, usually, limit, span, value, false);
}

/// Says so where whatever is usual leads to an arm at which the job breaks off.
pub(super) fn breaks_off(
    laying: &mut Laying<'_>,
    arms: &[ActArm],
    follows: &Follows<'_>,
    value: &Value<'_>,
) {
    let (Some(usually), Follows::Arms(out)) = (&value.usually, follows) else { return };
    let ends = |way: u16| {
        let arm = out.iter().find(|arm| arm.ways.iter().any(|(own, _)| *own == way));
        let end = arm.and_then(|arm| arm.outcome).and_then(|outcome| outcome.end.as_ref());
        matches!(end, Some(End::Stop { .. } | End::Refer { .. }))
    };
    let meets = |limit: &Limit| !usually.intersect(&limit.range).is_empty();
    let taken = arms.iter().zip(0..);
    let taken = taken.filter(|(arm, _)| arm.range.as_ref().is_none_or(meets));
    let taken: Vec<(&ActArm, u16)> = taken.collect();
    let first = taken.first().and_then(|(arm, _)| Some((arm.range.as_ref()?, arm.span)));
    let (Some((limit, span)), true) = (first, taken.iter().all(|(_, way)| ends(*way))) else {
        return;
    };
    told(laying, usually, limit, span, value, true);
}

fn told(
    laying: &mut Laying<'_>,
    usually: &Range,
    limit: &Limit,
    span: Span,
    value: &Value<'_>,
    breaks_off: bool,
) {
    let said_in = said::In { unit: value.unit, kind: limit.kind };
    laying.found.add(&UsuallyRefused {
        name: value.name.text.clone(),
        usually: said::range(&laying.world.units, usually, said_in, limit.decimals),
        named: value.name.span,
        limit: limit.written.clone(),
        span,
        breaks_off,
    });
}

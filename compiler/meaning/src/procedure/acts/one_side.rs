//! A difference of one reading at two points, of which a limit judges one sign.

use super::super::coverage::Possible;
use super::super::laying::Laying;
use super::super::said;
use super::verdict::Judged;
use crate::findings::readings::JudgedOnOneSide;
use locknut_finding::Span;
use locknut_graph::{Expression, Operator, Verdict};
use locknut_quantity::UnitId;
use num_traits::Signed;

/// Says so where it goes farther the other way than its limit lets it go this way.
pub(super) fn tell(
    laying: &mut Laying<'_>,
    name: &str,
    (value, at): (&Expression, Span),
    judged: &Judged<'_>,
    (possible, unit): (&Possible, UnitId),
) {
    let Expression::Binary(Operator::Subtract, left, right) = value else { return };
    let (Expression::Point(one, here), Expression::Point(other, there)) = (&**left, &**right)
    else {
        return;
    };
    let Verdict::Accept { limit, computed: None } = &judged.verdict else { return };
    let range = &limit.limit.range;
    let far = match (&range.lower, &range.upper) {
        (None, Some(end)) if !end.value.is_negative() => {
            possible.range.lower.as_ref().filter(|least| least.value < -&end.value)
        }
        (Some(end), None) if !end.value.is_positive() => {
            possible.range.upper.as_ref().filter(|most| most.value > -&end.value)
        }
        (Some(_) | None, Some(_) | None) => None,
    };
    let Some(far) = far.filter(|_| one == other && here != there) else { return };
    let said_in = said::In { unit, kind: limit.limit.kind };
    let other = said::value(&laying.world.units, &far.value, said_in, limit.limit.decimals);
    let (written, span) = (laying.written(at), limit.span);
    let (name, limit) = (name.to_owned(), limit.limit.written.clone());
    laying.found.add(&JudgedOnOneSide { name, written, value: at, limit, span, other });
}

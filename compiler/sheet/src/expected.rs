//! What is expected of a reading. Terminal and page take no other; paper takes anything, so it says so wherever a reading
//! that nobody reckoned with would go on.

use crate::places::Places;
use crate::words::Speaker;
use locknut_graph::{Act, ActArm, ActKind, Leads, NodeId, ReadingKind, Verdict, Way};
use locknut_quantity::{Exact, Limit, Range};

/// The line at a reading; none where it cannot come out otherwise, or where the job would end by it anyway.
pub(crate) fn caution(
    speak: Speaker<'_>,
    places: &Places,
    node: NodeId,
    act: &Act,
) -> Option<String> {
    let expect = act.kind.expect()?;
    if !goes_on_beyond(speak, places, node, act, expect) {
        return None;
    }
    let ReadingKind::Quantity { unit, decimals, .. } =
        &speak.graph.reading(act.kind.reading()?).kind
    else {
        return None;
    };
    let limit = speak.beside(expect, *unit);
    // In another unit it is drawn in, and by no more than a digit of the gauge.
    let converted = speak.reader_unit(*unit) != *unit;
    let decimals = if converted { limit.decimals.max(*decimals) } else { limit.decimals };
    let limit = Limit { decimals, ..limit };
    let counted = matches!(act.kind, ActKind::Count { .. });
    let key = if counted { "caution-expected-count" } else { "caution-expected" };
    Some(speak.say(key, &[("limit", speak.limit(&limit))]))
}

/// Whether a reading that is not expected would go on by what the sheet says of it.
fn goes_on_beyond(
    speak: Speaker<'_>,
    places: &Places,
    node: NodeId,
    act: &Act,
    expect: &Limit,
) -> bool {
    let may_be = may_be(speak, act);
    let beyond = |range: &Range| !expect.range.covers(&may_be.intersect(range));
    let goes_on = |way| goes_on(places, node, way);
    match act.kind.verdict() {
        _ if !beyond(&Range::default()) => false,
        Some(Verdict::Accept { limit, computed }) => {
            computed.is_some() || beyond(&limit.accepted()) || goes_on(Way::Otherwise)
        }
        Some(Verdict::Arms(arms)) => {
            let reaches = |arm: &ActArm| arm.range.as_ref().is_some_and(|arm| beyond(&arm.range));
            (0..).map(Way::Arm).zip(arms).any(|(way, arm)| reaches(arm) && goes_on(way))
        }
        Some(Verdict::None) | None => true,
    }
}

/// What can be read or counted at all.
fn may_be(speak: Speaker<'_>, act: &Act) -> Range {
    match act.instrument.and_then(|position| speak.graph.instruments.get(position)) {
        Some(instrument) => instrument.range.clone(),
        None => Range::from(Exact::default(), true),
    }
}

/// Whether a way does more than end the job or read again.
fn goes_on(places: &Places, node: NodeId, way: Way) -> bool {
    let outcomes = places.outcomes.get(&node);
    let outcome = outcomes.and_then(|all| all.iter().find(|(own, ..)| *own == way));
    let Some((_, items, leads)) = outcome else { return true };
    match leads {
        Leads::Refer { .. } | Leads::Stop { .. } => false,
        Leads::AsAt { node: stands_for } => goes_on(places, *stands_for, way),
        Leads::Again { .. } => !items.is_empty(),
        Leads::On { .. } | Leads::Done | Leads::Below => true,
    }
}

//! `at most 86 °F` of a difference of two temperatures is read as a difference; a temperature could have been meant.

use super::super::asks::expressions_of;
use super::super::laying::Laying;
use crate::findings::readings::DifferenceSaidBare;
use locknut_quantity::KindId;
use locknut_syntax::tree::{self, Act, Body, Expression, Guard, Quantity};

/// Tells each limit of a check of a difference whose figure would be a point on a scale as well.
pub(super) fn tell(laying: &mut Laying<'_>, act: &Act, kind: KindId) {
    for limit in limits_of(act) {
        let mut ends = expressions_of(limit).into_iter().filter_map(figure);
        // A unit that the end of a range lent its beginning is told there.
        let own =
            ends.rfind(|figure| laying.read(|reader, _| reader.reads_like_a_point(figure, kind)));
        if let Some(figure) = own {
            let written = laying.written(figure.span);
            laying.found.add(&DifferenceSaidBare { written, span: figure.span, taken_off: false });
        }
    }
}

fn limits_of(act: &Act) -> Vec<&tree::Limit> {
    match &act.body {
        Body::Verdict { accept, .. } => accept.iter().map(|accept| &accept.limit).collect(),
        Body::Arms { arms, .. } => {
            let limits = arms.iter().filter_map(|arm| match &arm.guard {
                Guard::Limit(limit) => Some(&**limit),
                Guard::Words(_) => None,
            });
            limits.collect()
        }
        Body::None | Body::Table { .. } => Vec::new(),
    }
}

fn figure(end: &Expression) -> Option<&Quantity> {
    if let Expression::Quantity(figure) = end { Some(figure) } else { None }
}

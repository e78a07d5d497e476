//! `do SUBTASK`.

use super::super::build::Ways;
use super::super::laying::{Laying, Lines};
use super::shape::{Bodies, one_name};
use super::{Lay, Verb};
use locknut_syntax::tree::Act;

const FORM: &str = "do SUBTASK at POINT";

pub(super) const VERB: Verb =
    Verb { word: "do", form: FORM, clauses: &["at"], bodies: Bodies::None, lay: Lay::Call };

pub(super) fn lay<'w>(laying: &mut Laying<'w>, act: &'w Act, ways: Ways, out: &mut Lines) -> Ways {
    if one_name(laying, act, FORM).is_none() {
        return ways;
    }
    let mut needs = laying.step_needs.clone();
    needs.extend(laying.needs(&act.clauses));
    laying.call(act, &needs, ways, out)
}

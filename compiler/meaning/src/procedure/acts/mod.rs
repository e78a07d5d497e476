//! Acts: verbs are looked up. A verb is built in (one file each), or an element of the vocabulary
//! declares it; both have the same shape and go the same way into the graph.

mod apply;
pub(super) mod asked;
mod bare_difference;
mod call;
pub(super) mod cancels;
mod capability;
mod check;
mod choice_key;
mod choose;
mod choose_table;
mod confirm;
mod count;
mod digits;
mod draft;
mod element;
mod expected;
mod figures;
mod fits;
mod guarded_arms;
mod hold;
mod idle_arms;
mod instruments;
mod limits;
mod measure;
mod members;
mod moving;
mod note;
mod observe;
mod oil;
mod one_limit;
mod one_side;
mod other_unit;
mod proves;
mod readings;
mod record;
mod sealed;
mod set;
mod shape;
mod sides;
mod sign;
mod slips;
mod special_tool;
mod stacks;
mod substitutes;
mod template;
mod tightens;
mod used;
mod usual;
mod usual_judged;
mod verdict;
mod wait;
mod with;

pub(super) use oil::found_out;
pub(super) use proves::Proved;
pub(super) use sealed::Sealed;
pub(super) use shape::{check_step_clauses, names};

use super::build::Ways;
use super::laying::{Laying, Lines};
use draft::Draft;
use locknut_syntax::tree::Act;
use shape::{Bodies, OF_ACTS, OF_CALLS, check_body, check_clauses};

/// A verb that the language itself knows.
struct Verb {
    word: &'static str,
    /// How a line with it is written.
    form: &'static str,
    /// Clauses that it takes, beside those of its sort.
    clauses: &'static [&'static str],
    /// What may stand in its braces.
    bodies: Bodies,
    lay: Lay,
}

/// How a line becomes part of the graph.
enum Lay {
    /// One act.
    Line(for<'w> fn(&mut Laying<'w>, &'w Act) -> Option<Draft<'w>>),
    /// A reading, with what may be read in its place.
    Reading,
    /// Several acts of one line.
    Lines(for<'w> fn(&mut Laying<'w>, &'w Act) -> Vec<Draft<'w>>),
    /// A subtask.
    Call,
    /// Words for the reader; nothing happens.
    Remark(for<'w> fn(&mut Laying<'w>, &'w Act, &mut Lines)),
}

impl Lay {
    fn common_clauses(&self) -> &'static [&'static str] {
        match self {
            Self::Line(_) | Self::Reading | Self::Lines(_) => OF_ACTS,
            Self::Call => OF_CALLS,
            Self::Remark(_) => &[],
        }
    }
}

/// Every built-in verb. All others are acts of the vocabulary.
const VERBS: &[Verb] = &[
    set::VERB,
    measure::VERB,
    observe::VERB,
    count::VERB,
    record::VERB,
    confirm::VERB,
    check::VERB,
    choose::VERB,
    wait::VERB,
    call::VERB,
    hold::VERB,
    sign::VERB,
    apply::VERB,
    note::NOTE,
    note::NOT,
    template::VERB,
];

/// Lays one act line; the ways that go on behind it.
pub(super) fn lay<'w>(laying: &mut Laying<'w>, act: &'w Act, ways: Ways, out: &mut Lines) -> Ways {
    let Some(verb) = built_in(&act.verb.text) else { return element::lay(laying, act, ways, out) };
    check_clauses(laying, act, verb.form, verb.clauses, verb.lay.common_clauses());
    check_body(laying, act, verb.form, verb.bodies);
    draft::answers(laying, &act.clauses, act.span);
    match verb.lay {
        Lay::Line(line) => match line(laying, act) {
            Some(draft) => draft::put(laying, act, draft, ways, out),
            None => ways,
        },
        Lay::Reading => measure::lay(laying, act, ways, out),
        Lay::Lines(lines) => lines(laying, act)
            .into_iter()
            .fold(ways, |ways, draft| draft::put(laying, act, draft, ways, out)),
        Lay::Call => call::lay(laying, act, ways, out),
        Lay::Remark(remark) => {
            remark(laying, act, out);
            ways
        }
    }
}

/// Whether an act is but words for the reader.
pub(super) fn is_remark(act: &Act) -> bool {
    built_in(&act.verb.text).is_some_and(|verb| matches!(verb.lay, Lay::Remark(_)))
}

fn built_in(word: &str) -> Option<&'static Verb> {
    VERBS.iter().find(|verb| verb.word == word)
}

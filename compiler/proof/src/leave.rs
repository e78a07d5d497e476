//! What it is of "safe to leave" that is not so: whoever says it, only that is told.

use locknut_finding::{Report, Span};
use locknut_graph::{Condition, StepGraph, Test, VariableId};
use std::collections::{BTreeMap, BTreeSet};

/// A line of the machine that says how it may be left.
pub(crate) struct Rule {
    /// The line, or what nobody says anything of.
    pub(crate) span: Span,
    /// Whether somebody said it; else it is what is taken where nobody does.
    pub(crate) said: bool,
    /// It speaks of the whole machine.
    whole: bool,
}

/// The parts of a machine's rule that are not so.
pub(crate) struct Unsafe<'c> {
    pub(crate) parts: Vec<&'c Condition>,
    /// The first that is said and the first that is taken, of those that there are.
    pub(crate) rules: Vec<Rule>,
}

impl Rule {
    /// Points it out.
    pub(crate) fn show(&self, say: &mut Report) {
        let words = match (self.said, self.whole) {
            (true, _) => "safe to leave only so",
            (false, true) => {
                "nobody says when this may be left, so it is where all of it is normal"
            }
            (false, false) => "nobody says how this may be left, so only as it normally is",
        };
        say.label(self.span, words);
    }
}

impl<'c> Unsafe<'c> {
    pub(crate) fn of(graph: &'c StepGraph, values: &BTreeMap<VariableId, u8>) -> Self {
        let (condition, whole) = &graph.safe_to_leave;
        let parts = unmet(condition, values);
        let first = |said: bool| parts.iter().find(|part| taken(graph, part) != said);
        let rules = [true, false].into_iter().filter_map(|said| {
            let mut spans = first(said)?.tests().into_iter().filter_map(span_of);
            let first = spans.next().unwrap_or(*whole);
            let span = if within(first, *whole) { *whole } else { spans.fold(first, Span::to) };
            Some(Rule { span, said, whole: span == *whole })
        });
        Self { rules: rules.collect(), parts }
    }

    /// What they speak of, as it stands.
    pub(crate) fn stands(&self, values: &BTreeMap<VariableId, u8>) -> BTreeMap<VariableId, u8> {
        let of: BTreeSet<VariableId> =
            self.parts.iter().flat_map(|part| part.variables()).collect();
        values.iter().filter(|(id, _)| of.contains(id)).map(|(id, value)| (*id, *value)).collect()
    }
}

/// Of what must all hold, what surely does not; where that is nothing, what may not.
fn unmet<'c>(condition: &'c Condition, values: &BTreeMap<VariableId, u8>) -> Vec<&'c Condition> {
    let mut parts = Vec::new();
    flat(condition, &mut parts);
    let surely: Vec<&Condition> =
        parts.iter().copied().filter(|part| holds(part, values) == Some(false)).collect();
    if surely.is_empty() {
        parts.retain(|part| holds(part, values).is_none());
        return parts;
    }
    surely
}

fn flat<'c>(condition: &'c Condition, parts: &mut Vec<&'c Condition>) {
    match condition {
        Condition::All(all) => all.iter().for_each(|part| flat(part, parts)),
        Condition::Always(_) | Condition::Not(_) | Condition::Any(_) | Condition::Test(_) => {
            parts.push(condition);
        }
    }
}

/// As far as values alone tell it.
pub(crate) fn holds(condition: &Condition, values: &BTreeMap<VariableId, u8>) -> Option<bool> {
    match condition {
        Condition::Always(so) => Some(*so),
        Condition::Not(inner) => holds(inner, values).map(|so| !so),
        Condition::All(parts) => {
            let all: Vec<_> = parts.iter().map(|part| holds(part, values)).collect();
            let so = all.iter().all(|so| *so == Some(true));
            if all.contains(&Some(false)) { Some(false) } else { so.then_some(true) }
        }
        Condition::Any(parts) => {
            let all: Vec<_> = parts.iter().map(|part| holds(part, values)).collect();
            let not = all.iter().all(|so| *so == Some(false));
            if all.contains(&Some(true)) { Some(true) } else { not.then_some(false) }
        }
        Condition::Test(Test::Is { variable, values: good, .. }) => {
            values.get(variable).map(|has| good.contains(has))
        }
        Condition::Test(
            Test::Proved { variable, values: good, .. } | Test::Held { variable, values: good, .. },
        ) => values.get(variable).filter(|has| !good.contains(has)).map(|_| false),
        Condition::Test(Test::Within { .. }) => None,
    }
}

/// Whether it is what is taken of a state that nobody says anything of: that it is as it normally is.
fn taken(graph: &StepGraph, part: &Condition) -> bool {
    let whole = |span: Span| !graph.leave_said && span == graph.safe_to_leave.1;
    part.tests().into_iter().all(|test| {
        let declared = test.variable().map(|id| graph.variable(id).span);
        span_of(test).is_none_or(|span| declared == Some(span) || whole(span))
    })
}

fn span_of(test: &Test) -> Option<Span> {
    match test {
        Test::Is { span, .. } | Test::Proved { span, .. } | Test::Held { span, .. } => Some(*span),
        // No reading outlives its procedure.
        Test::Within { .. } => None,
    }
}

fn within(inner: Span, outer: Span) -> bool {
    inner.file == outer.file && outer.start <= inner.start && inner.end <= outer.end
}

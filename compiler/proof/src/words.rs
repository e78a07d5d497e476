//! Words for conditions, values and mends; used by every finding of this crate.

use locknut_graph::{
    Condition, Effect, LineValue, NodeId, StepGraph, Test, VariableId, VariableKind, Verb,
};
use std::collections::BTreeMap;

/// `brake cover removed`
pub(crate) fn value_words(graph: &StepGraph, variable: VariableId, value: u8) -> String {
    let declared = graph.variable(variable);
    if let VariableKind::Hold { by, thing } = &declared.kind {
        return match value {
            1 => format!("the {} holds the {}", by.said, thing.said),
            2 => format!("the {} has let the {} go", by.said, thing.said),
            _ => format!("the {} does not yet hold the {}", by.said, thing.said),
        };
    }
    let value = declared.values.get(usize::from(value)).map(|value| value.words.said.clone());
    format!("{} {}", declared.words.said, value.unwrap_or_default())
}

/// How the machine stands: `supply live, brake cover in place`; only what is watched, the variant aside.
pub(crate) fn standing(graph: &StepGraph, values: &BTreeMap<VariableId, u8>) -> String {
    let told: Vec<String> = values
        .iter()
        .filter(|(variable, value)| {
            let held = **value == 1;
            !matches!(
                graph.variable(**variable).kind,
                VariableKind::Hold { .. } if !held
            ) && !matches!(
                graph.variable(**variable).kind,
                VariableKind::Series
                    | VariableKind::Serial { .. }
                    | VariableKind::Observation
                    | VariableKind::Unknown { .. }
                    | VariableKind::Denied { .. }
                    | VariableKind::DeniedTime { .. }
            )
        })
        .map(|(variable, value)| value_words(graph, *variable, *value))
        .collect();
    told.join(", ")
}

/// The first test in a condition that fails because a variable has another value: it, and the value
/// wanted.
pub(crate) fn wanted(
    condition: &Condition,
    values: &BTreeMap<VariableId, u8>,
) -> Option<(VariableId, u8)> {
    match condition {
        Condition::All(parts) | Condition::Any(parts) => {
            parts.iter().find_map(|part| wanted(part, values))
        }
        Condition::Test(
            Test::Is { variable, values: good, .. }
            | Test::Proved { variable, values: good, .. }
            | Test::Held { variable, values: good, .. },
        ) => {
            let has = values.get(variable)?;
            if good.contains(has) { None } else { Some((*variable, *good.first()?)) }
        }
        Condition::Test(Test::Within { .. }) | Condition::Always(_) | Condition::Not(_) => None,
    }
}

/// A line that brings a variable to a value: `set supply to isolated`, `remove brake-cover`; from the
/// value that it has, where an act does so.
pub(crate) fn line_for(
    graph: &StepGraph,
    variable: VariableId,
    has: Option<u8>,
    value: u8,
) -> Option<String> {
    let declared = graph.variable(variable);
    let name = &declared.words.name;
    if declared.kind == VariableKind::State {
        let value = &declared.values.get(usize::from(value))?.words.name;
        return Some(format!("set {name} to {value}"));
    }
    let verbs = graph.verbs.get(declared.kind.element()?)?;
    let starts_here = |verb: &&Verb| has.is_some_and(|has| verb.from.contains(&has));
    let bringing = || verbs.iter().filter(|verb| verb.to == value && !verb.new);
    let verb = bringing().find(starts_here).or_else(|| bringing().next())?;
    let using = with_what(graph, declared.kind.element()?, &verb.word);
    Some(format!("{} {name}{using}", verb.word))
}

/// ` using torque-wrench`, ` with one-hand`: as another such act of the job is done.
fn with_what(graph: &StepGraph, element: &str, verb: &str) -> String {
    let phrase = format!("{element}-{verb}");
    let acts = graph.flow.node_weights().filter_map(locknut_graph::Node::act);
    let mut such = acts.filter(|act| act.line.phrase == phrase);
    let how = such.find_map(|act| {
        let instrument = act.instrument.and_then(|used| graph.instruments.get(used));
        let effort = match act.line.values.get("effort") {
            Some(LineValue::Words(effort)) => Some(format!(" with {}", effort.name)),
            _ => None,
        };
        instrument.map(|one| format!(" using {}", one.words.name)).or(effort)
    });
    how.unwrap_or_default()
}

/// The last node on a trail that wrote a variable.
pub(crate) fn last_writer(
    graph: &StepGraph,
    trail: &[(NodeId, locknut_graph::Way)],
    variable: VariableId,
) -> Option<NodeId> {
    let writes =
        |effect: &Effect| matches!(effect, Effect::Set { variable: of, .. } if *of == variable);
    trail
        .iter()
        .rev()
        .find(|(node, way)| {
            let edge =
                graph.follow(*node, *way).map(|(edge, _)| &edge.effects[..]).unwrap_or_default();
            graph.node(*node).effects.iter().chain(edge).any(writes)
        })
        .map(|(node, _)| *node)
}

/// `the north, the east and the south`
pub(crate) fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// `1 place`, `3 places`
pub(crate) fn places(count: usize) -> String {
    if count == 1 { "1 place".to_owned() } else { format!("{count} places") }
}

/// A time in units that a fitter would say, and to the second and its parts: a wait that is rounded may be too short.
pub(crate) fn time_words(seconds: &locknut_quantity::Exact) -> String {
    const MOST_DECIMALS: u32 = 6;
    let whole = |number: u32| locknut_quantity::Exact::from_integer(number.into());
    let (minutes, hours) = (seconds / whole(60), seconds / whole(3600));
    let tenths = |value: &locknut_quantity::Exact| (value * whole(10)).is_integer();
    let (value, unit) = if hours >= whole(1) && hours.is_integer() {
        (hours, "h")
    } else if minutes >= whole(1) && tenths(&minutes) {
        (minutes, "min")
    } else {
        (seconds.clone(), "s")
    };
    let exact = |decimals: &u32| (&value * whole(10u32.pow(*decimals))).is_integer();
    let decimals = (0..MOST_DECIMALS).find(exact).unwrap_or(MOST_DECIMALS);
    format!("{} {unit}", locknut_quantity::to_decimal(&value, decimals))
}

#[cfg(test)]
mod tests {
    use super::time_words;
    use locknut_quantity::parse_exact;

    #[test]
    fn two_times_that_differ_read_differently() {
        let said = |seconds| time_words(&parse_exact(seconds).unwrap());
        assert_eq!(said("89.5"), "89.5 s");
        assert_eq!(said("90"), "1.5 min");
        assert_eq!(said("80"), "80 s");
        assert_eq!(said("5400"), "90 min");
        assert_eq!(said("7200"), "2 h");
        assert_eq!(said("0.001"), "0.001 s");
    }
}

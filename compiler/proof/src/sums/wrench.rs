//! What an instrument that is set (a torque wrench) brings about, against the tolerance of its figure.

use super::{Figure, Given, Judged, Outcome, Sum, Worked};
use locknut_finding::Span;
use locknut_graph::{Act, InstrumentError, StepGraph};
use locknut_quantity::{Exact, Limit, Units};
use num_traits::Signed;

/// Figures that are worked out are told with so many digits more than they were written with.
const MORE_DIGITS: u32 = 2;

/// The last figure that a wrench is set to: of several passes the last one counts.
pub(super) fn sum(graph: &StepGraph, units: &Units, act: &Act, span: Span) -> Option<Sum> {
    let limit = act.applies.last()?;
    let wrench = graph.instruments.get(act.instrument?)?;
    let error = wrench.error.as_ref()?;
    let (figure, tolerance) = middle(limit)?;
    let greatest =
        greatest_error(error, &figure, wrench.range.upper.as_ref().map(|end| &end.value));
    let decimals = limit.decimals + MORE_DIGITS;
    let told = |value: &Exact| Figure::between(units, value, value, limit.unit, decimals);
    let (low, high) = (&figure - &greatest, &figure + &greatest);
    let source = |text: &str| text.to_owned();
    let given = vec![
        Given {
            symbol: source("T"),
            what: source("figure with its tolerance"),
            figure: Figure::of_limit(units, limit)?,
            source: format!("as written: {}", limit.written),
        },
        Given {
            symbol: source("e"),
            what: format!("greatest error of the {}", wrench.words.said),
            figure: told(&greatest),
            source: format!("as declared: error {}", error.written),
        },
    ];
    let worked = vec![Worked {
        symbol: source("T′"),
        what: source("what the wrench brings about, set to the middle"),
        formula: source("T middle ± e"),
        numbers: format!("{} ± {}", told(&figure).said(), told(&greatest).said()),
        figure: Figure::between(units, &low, &high, limit.unit, decimals),
        source: source("common practice"),
    }];
    Some(Sum {
        what: format!("setting of the {}", wrench.words.said),
        span,
        steps: Vec::new(),
        given,
        worked,
        judged: judged(&greatest, &tolerance),
    })
}

fn judged(error: &Exact, tolerance: &Exact) -> Vec<Judged> {
    let (outcome, text) = if !tolerance.is_positive() {
        (Outcome::Open, "the figure has no tolerance that the wrench could be held against")
    } else if error <= tolerance {
        (Outcome::Holds, "the wrench keeps the tolerance")
    } else {
        (Outcome::Fails, "the error of the wrench is greater than the tolerance")
    };
    vec![Judged { outcome, code: None, text: text.to_owned() }]
}

/// The middle of a figure with two ends, and how far it may differ from that.
pub(crate) fn middle(limit: &Limit) -> Option<(Exact, Exact)> {
    let (lower, upper) = (limit.range.lower.as_ref()?, limit.range.upper.as_ref()?);
    let two = Exact::from_integer(2.into());
    Some(((&lower.value + &upper.value) / &two, (&upper.value - &lower.value) / two))
}

/// The greatest error at a setting; an error of full scale without a full scale cannot be declared.
pub(crate) fn greatest_error(
    error: &InstrumentError,
    at: &Exact,
    full_scale: Option<&Exact>,
) -> Exact {
    let of_full = full_scale.map(|full| &error.of_full_scale * full).unwrap_or_default();
    &error.fixed + &error.of_reading * at + of_full
}

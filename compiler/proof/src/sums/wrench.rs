//! What an instrument that is set (a torque wrench) brings about, against the tolerance of its figure.

use super::{Judged, Outcome};
use locknut_graph::Instrument;
use locknut_quantity::{Exact, Limit};
use num_traits::Signed;

/// Whether a wrench that is set to the middle of a figure stays inside its tolerance.
pub(super) fn judged(
    torque: &Limit,
    wrench: Option<&Instrument>,
    code: &'static str,
) -> Vec<Judged> {
    let Some(wrench) = wrench else { return Vec::new() };
    let (outcome, text) = match keeps(torque, wrench) {
        Some(true) => {
            (Outcome::Holds, "set to the middle of the figure, the wrench keeps the tolerance")
        }
        Some(false) if missed_by_its_steps(torque, wrench).is_some() => (
            Outcome::Fails,
            "half a step of the wrench and its error are greater than the tolerance of the figure",
        ),
        Some(false) => {
            (Outcome::Fails, "the error of the wrench is greater than the tolerance of the figure")
        }
        None => (
            Outcome::Open,
            "the wrench is not held against a tolerance: the figure or the wrench says none",
        ),
    };
    vec![Judged { outcome, code: Some(code), text: text.to_owned() }]
}

/// None where the figure has no tolerance, or the wrench no error.
pub(crate) fn keeps(torque: &Limit, wrench: &Instrument) -> Option<bool> {
    let (figure, tolerance) = middle(torque)?;
    let error = wrench.error.as_ref()?;
    let greatest = error.at(&figure);
    tolerance.is_positive().then(|| greatest <= tolerance)
}

/// The steps of a wrench whose error alone would keep the tolerance.
pub(crate) fn missed_by_its_steps(torque: &Limit, wrench: &Instrument) -> Option<String> {
    let (figure, tolerance) = middle(torque)?;
    let error = wrench.error.as_ref().filter(|error| error.of_step.is_positive())?;
    let alone = error.at(&figure) - &error.of_step;
    let step = wrench.resolution.as_ref().filter(|_| alone <= tolerance)?;
    Some(step.written.clone())
}

/// The middle of a figure with two ends, and how far it may differ from that.
pub(crate) fn middle(limit: &Limit) -> Option<(Exact, Exact)> {
    let (lower, upper) = (limit.range.lower.as_ref()?, limit.range.upper.as_ref()?);
    let two = Exact::from_integer(2.into());
    Some(((&lower.value + &upper.value) / &two, (&upper.value - &lower.value) / two))
}

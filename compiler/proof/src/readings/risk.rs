//! How often a limit is misjudged: the probability that a bad machine passes and that a good one does not,
//! both of all machines (JCGM 106:2012 clause 9: global consumer's and producer's risk, from memory).
//!
//! `∫ f(x) · P(reading is accepted | x) dx`, with a normal spread of the true values and an error that is
//! rectangular between its limits, or normal where a standard uncertainty is stated (GUM 4.3.7).
//!
//! These numbers are reported and decide nothing: no verdict and no finding asks for them. So this module alone
//! reckons in floats, with `libm`, which gives the same bits on every machine.

#![expect(
    clippy::float_arithmetic,
    reason = "a report and never a verdict; see the head of this module"
)]

use locknut_graph::Capability;
use locknut_quantity::{Exact, Range};
use num_traits::ToPrimitive;

/// What is taken for the error of a reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape {
    /// All errors between plus and minus this are equally likely.
    Rectangular(f64),
    /// This is the standard uncertainty.
    Normal(f64),
}

/// How the true values are spread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Process {
    /// Their mean.
    pub mean: f64,
    /// Their standard deviation.
    pub deviation: f64,
}

/// From, to; a missing end is without end.
pub type Ends = (Option<f64>, Option<f64>);

/// Shares of all machines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Risk {
    /// In their limits.
    pub good: f64,
    /// Accepted.
    pub accepted: f64,
    /// Out of their limits, and accepted.
    pub bad_accepted: f64,
    /// In their limits, and not accepted.
    pub good_not_accepted: f64,
}

/// So many standard deviations from the mean nothing more counts: beyond are less than 1e-22.
const REACH: f64 = 10.0;
/// Pieces of each stretch on which the integrand is smooth.
const PIECES: u32 = 48;
/// Nodes and weights of the Gauss-Legendre rule of eight points, one side of it.
const GAUSS: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_47),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_26),
];

/// The risk of a limit where readings within `accepted` pass.
pub fn risk(process: Process, shape: Shape, limit: Ends, accepted: Ends) -> Risk {
    let (from, to) =
        (process.mean - REACH * process.deviation, process.mean + REACH * process.deviation);
    let mut cuts = vec![from, to];
    let width = match shape {
        Shape::Rectangular(width) => width,
        Shape::Normal(deviation) => 8.0 * deviation,
    };
    let end = |end: Option<f64>| end.into_iter();
    cuts.extend(end(limit.0).chain(end(limit.1)));
    for end in end(accepted.0).chain(end(accepted.1)) {
        cuts.extend([end - width, end, end + width]);
    }
    cuts.retain(|cut| *cut >= from && *cut <= to);
    cuts.sort_by(f64::total_cmp);
    let mut sums = Risk { good: 0.0, accepted: 0.0, bad_accepted: 0.0, good_not_accepted: 0.0 };
    for stretch in cuts.windows(2) {
        let &[low, high] = stretch else { continue };
        let middle = f64::midpoint(low, high);
        let good =
            limit.0.is_none_or(|end| middle >= end) && limit.1.is_none_or(|end| middle <= end);
        let (all, passing) = integrate(process, shape, accepted, low, high);
        sums.accepted += passing;
        if good {
            sums.good += all;
            sums.good_not_accepted += all - passing;
        } else {
            sums.bad_accepted += passing;
        }
    }
    sums
}

/// Over one stretch: all true values, and those of them whose reading is accepted.
fn integrate(process: Process, shape: Shape, accepted: Ends, low: f64, high: f64) -> (f64, f64) {
    let step = (high - low) / f64::from(PIECES);
    let (mut all, mut passing) = (0.0, 0.0);
    for piece in 0..PIECES {
        let middle = low + step * (f64::from(piece) + 0.5);
        for (node, weight) in GAUSS {
            for side in [-1.0, 1.0] {
                let x = middle + side * node * step / 2.0;
                let mass = density(process, x) * weight * step / 2.0;
                all += mass;
                passing += mass * passes(shape, accepted, x);
            }
        }
    }
    (all, passing)
}

fn density(process: Process, x: f64) -> f64 {
    let z = (x - process.mean) / process.deviation;
    let norm = process.deviation * libm::sqrt(2.0 * core::f64::consts::PI);
    libm::exp(-z * z / 2.0) / norm
}

/// How likely the reading of a true value is accepted.
fn passes(shape: Shape, accepted: Ends, x: f64) -> f64 {
    match shape {
        Shape::Rectangular(width) if width > 0.0 => {
            let low = accepted.0.map_or(x - width, |end| end.max(x - width));
            let high = accepted.1.map_or(x + width, |end| end.min(x + width));
            (high - low).max(0.0) / (2.0 * width)
        }
        Shape::Normal(deviation) if deviation > 0.0 => {
            let below = accepted.1.map_or(1.0, |end| normal((end - x) / deviation));
            let under = accepted.0.map_or(0.0, |end| normal((end - x) / deviation));
            (below - under).max(0.0)
        }
        Shape::Rectangular(_) | Shape::Normal(_) => {
            let inside =
                accepted.0.is_none_or(|end| x >= end) && accepted.1.is_none_or(|end| x <= end);
            f64::from(u8::from(inside))
        }
    }
}

/// The share of a standard normal distribution below `z`.
pub fn normal(z: f64) -> f64 {
    libm::erfc(-z / core::f64::consts::SQRT_2) / 2.0
}

/// What is known of a limit's risk: none where no spread is stated, or the error of the value has no shape
/// (it is picked from several readings, or of one of them nothing is stated).
pub(crate) fn of(held: &Capability, accepted: &Range) -> Option<(Process, Shape, Risk)> {
    let usually = held.usually.as_ref()?;
    let (low, high) = ends(usually);
    let (low, high) = (low?, high?);
    let process = Process { mean: f64::midpoint(low, high), deviation: (high - low) / 4.0 };
    if process.deviation <= 0.0 {
        return None;
    }
    let shape = shape(held)?;
    Some((process, shape, risk(process, shape, ends(&held.limit), ends(accepted))))
}

/// The shape of the error of a value: that of its one cause; of several, normal with their combined standard uncertainty
/// (JCGM 100, G.2: from memory).
fn shape(held: &Capability) -> Option<Shape> {
    if !held.single {
        let causes = held.causes.as_ref()?;
        return match (causes.alike.as_slice(), causes.normal.as_slice()) {
            ([], []) => None,
            ([alike], []) => Some(Shape::Rectangular(alike.to_f64()?)),
            ([], [normal]) => Some(Shape::Normal(normal.to_f64()?)),
            _ => Some(Shape::Normal(libm::sqrt(causes.variance().to_f64()?))),
        };
    }
    let doubt = held.doubt.as_ref()?;
    let uncertainty = doubt.uncertainty_over(&held.limit);
    Some(if uncertainty == Exact::from_integer(0.into()) {
        Shape::Rectangular(held.error.as_ref()?.to_f64()?)
    } else {
        Shape::Normal(uncertainty.to_f64()?)
    })
}

fn ends(range: &Range) -> Ends {
    let end = |end: &Option<locknut_quantity::Bound>| end.as_ref()?.value.to_f64();
    (end(&range.lower), end(&range.upper))
}

/// `0.86 %`, with two digits that count; `less than 0.01 %` below.
pub(crate) fn percent(share: f64) -> String {
    let percent = share * 100.0;
    match percent {
        _ if percent < 0.01 => "less than 0.01 %".to_owned(),
        _ if percent < 1.0 => format!("{percent:.2} %"),
        _ if percent < 10.0 => format!("{percent:.1} %"),
        _ => format!("{percent:.0} %"),
    }
}

//! "Did you mean" of threads: the nearest size and not the nearest spelling. M13 is nearly M12, and nothing like M3.

use locknut_quantity::{Exact, parse_exact};
use num_traits::{Signed, Zero};

/// Sizes that lie further apart than one in so many parts are not taken for one another.
const ONE_IN: i32 = 5;

/// What the name of a thread says of its size.
struct Size {
    /// `UNC` or `UNF`; empty: metric.
    series: String,
    /// In mm, or in inches.
    diameter: Exact,
    /// The pitch of a fine thread, or the threads per inch.
    pitch: Option<Exact>,
}

/// Whether a name says a size, and which one it says may be compared.
pub(super) fn is_size(name: &str) -> bool {
    Size::of(name).is_some()
}

/// The known thread whose size is nearest: first by its diameter, then by its series, then by its pitch; of two the smaller.
pub(super) fn nearest<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> Option<String> {
    let wanted = Size::of(name)?;
    let far = |other: &str| {
        let other = Size::of(other)?;
        if wanted.series.is_empty() != other.series.is_empty() {
            return None;
        }
        let apart = (&other.diameter - &wanted.diameter).abs();
        if &apart * Exact::from_integer(ONE_IN.into()) > wanted.diameter {
            return None;
        }
        let pitch = match (&wanted.pitch, &other.pitch) {
            (Some(one), Some(other)) => (false, (one - other).abs()),
            (None, None) => (false, Exact::zero()),
            (Some(_), None) | (None, Some(_)) => (true, Exact::zero()),
        };
        Some((apart, wanted.series != other.series, pitch, other.diameter))
    };
    let near = known.filter_map(|other| Some((far(other)?, other)));
    near.min().map(|(_, other)| other.to_owned())
}

impl Size {
    /// `M12`, `M12x1.25`, `3/8-16-UNC`, `1-1/8-7-UNC`, however it is capitalised.
    fn of(name: &str) -> Option<Self> {
        let name = name.to_ascii_uppercase();
        if let Some(metric) = name.strip_prefix('M') {
            let (diameter, pitch) = match metric.split_once('X') {
                Some((diameter, pitch)) => (diameter, Some(parse_exact(pitch)?)),
                None => (metric, None),
            };
            let diameter = parse_exact(diameter).filter(Signed::is_positive)?;
            return Some(Self { series: String::new(), diameter, pitch });
        }
        let (size, series) =
            name.rsplit_once('-').filter(|(_, series)| series.starts_with("UN"))?;
        let (diameter, pitch) = size.rsplit_once('-')?;
        let (whole, part) = diameter.split_once('-').unwrap_or(("0", diameter));
        let diameter = parse_exact(whole)? + parse_exact(part)?;
        let diameter = Some(diameter).filter(Signed::is_positive)?;
        Some(Self { series: series.to_owned(), diameter, pitch: Some(parse_exact(pitch)?) })
    }
}

//! "Did you mean" of threads: the nearest size and not the nearest spelling. M13 is nearly M12, and nothing like M3.

use locknut_quantity::{Exact, parse_exact};
use num_traits::{Signed, Zero};
use std::collections::BTreeSet;

/// Sizes that lie further apart than one in so many parts are not taken for one another.
const ONE_IN: i32 = 5;
/// So many sizes are named at most.
const MOST: usize = 3;

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

/// The known threads whose size is nearest: by diameter, then by series, then by pitch, the smaller first. Of one diameter
/// there is a coarse one and fine ones, and which of them is meant nobody can tell.
pub(super) fn nearest<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> Vec<String> {
    let Some(wanted) = Size::of(name) else { return Vec::new() };
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
    let near: BTreeSet<_> = near.collect();
    let Some(((nearest, _, (fine, _), _), _)) = near.first() else { return Vec::new() };
    let as_near = near.iter().filter(|((apart, _, (other, _), _), _)| {
        apart == nearest && (wanted.pitch.is_some() || other == fine)
    });
    as_near.take(MOST).map(|(_, other)| (*other).to_owned()).collect()
}

/// The two strength classes between which one lies that nobody knows: `9.9` between `9.8` and `10.9`.
pub(super) fn classes_beside<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> Vec<String> {
    let Some(wanted) = parse_exact(name) else { return Vec::new() };
    let classes = known.filter_map(|class| Some((parse_exact(class)?, class)));
    let (below, above): (Vec<_>, Vec<_>) = classes.partition(|(class, _)| *class < wanted);
    let beside = [below.into_iter().max(), above.into_iter().min()];
    beside.into_iter().flatten().map(|(_, class)| class.to_owned()).collect()
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

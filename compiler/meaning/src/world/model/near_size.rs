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

/// The known threads whose size is nearest, each with its pitch in the unit of its name: by diameter, then by series,
/// then by pitch, the smaller first. The coarse one of a diameter has no pitch in its name, and is always among them: it is
/// the one that is meant where its pitch is written out.
pub(super) fn nearest<'a>(
    name: &str,
    known: impl Iterator<Item = (&'a str, Option<Exact>)>,
) -> Vec<String> {
    let Some(wanted) = Size::of(name) else { return Vec::new() };
    let far = |(other, pitch): (&'a str, Option<Exact>)| {
        let size = Size::of(other)?;
        if wanted.series.is_empty() != size.series.is_empty() {
            return None;
        }
        let apart = (&size.diameter - &wanted.diameter).abs();
        if &apart * Exact::from_integer(ONE_IN.into()) > wanted.diameter {
            return None;
        }
        let fine = size.pitch.is_some();
        let turned = match (&wanted.pitch, size.pitch.or(pitch)) {
            (Some(one), Some(other)) => (one - other).abs(),
            (None, _) | (Some(_), None) => Exact::zero(),
        };
        let other_series = wanted.series != size.series;
        // Who writes no pitch means the coarse one.
        let rank = (apart, other_series, wanted.pitch.is_none() && fine, turned, size.diameter);
        Some((rank, fine, other))
    };
    let near: BTreeSet<_> = known.filter_map(far).collect();
    let Some(((apart, _, fine, turned, _), ..)) = near.first() else { return Vec::new() };
    let most = if wanted.pitch.is_some() && turned.is_zero() && apart.is_zero() { 1 } else { MOST };
    let as_near = near.iter().filter(|((other, _, other_fine, ..), ..)| {
        other == apart && (wanted.pitch.is_some() || other_fine == fine)
    });
    let mut as_near: Vec<_> = as_near.map(|(_, fine, other)| (*fine, *other)).collect();
    let coarse = as_near.iter().position(|(fine, _)| !fine).filter(|at| *at >= most);
    if let Some(coarse) = coarse {
        let coarse = as_near.remove(coarse);
        as_near.insert(0, coarse);
    }
    as_near.into_iter().take(most).map(|(_, other)| other.to_owned()).collect()
}

/// The two strength classes of bolts between which one lies that nobody knows: `9.9` between `9.8` and `10.9`. None where
/// it lies beyond them, or says no class of a bolt.
pub(super) fn classes_beside<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> Vec<String> {
    let class = |name: &str| parse_exact(name).filter(|_| name.contains('.'));
    let Some(wanted) = class(name) else { return Vec::new() };
    let classes = known.filter_map(|name| Some((class(name)?, name)));
    let (below, above): (Vec<_>, Vec<_>) = classes.partition(|(class, _)| *class < wanted);
    match (below.into_iter().max(), above.into_iter().min()) {
        (Some((_, below)), Some((_, above))) => vec![below.to_owned(), above.to_owned()],
        (Some(_) | None, _) => Vec::new(),
    }
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

//! Crosswise on a rectangle: each is followed by the one across from it, and that by none beside it.
//!
//! Counted along the outline two may be far apart and stand face to face, where a rectangle is but two bolts wide.

use super::{Exact, Place, apart};

/// The star that is given, unless it goes to neighbours and its pairs can be put so that fewer are.
pub(super) fn of(places: &[Place], star: Vec<u16>) -> Vec<u16> {
    let ring = Ring::of(places);
    if ring.to_neighbours(&star) == 0 {
        return star;
    }
    let other = ring.pair_by_pair(&star);
    if ring.to_neighbours(&other) < ring.to_neighbours(&star) { other } else { star }
}

struct Ring<'a> {
    places: &'a [Place],
    /// How far from each its nearest is.
    nearest: Vec<Exact>,
}

impl<'a> Ring<'a> {
    fn of(places: &'a [Place]) -> Self {
        let nearest = |(at, one): (usize, &Place)| {
            let others = places.iter().enumerate().filter(|(other, _)| *other != at);
            others.map(|(_, other)| apart(one, other)).min().unwrap_or_default()
        };
        Self { places, nearest: places.iter().enumerate().map(nearest).collect() }
    }

    fn are_neighbours(&self, one: u16, other: u16) -> bool {
        let place =
            |at: u16| Some((self.places.get(usize::from(at))?, self.nearest.get(usize::from(at))?));
        let (Some((one, near_one)), Some((other, near_other))) = (place(one), place(other)) else {
            return false;
        };
        apart(one, other) <= *near_one.max(near_other)
    }

    fn to_neighbours(&self, order: &[u16]) -> usize {
        let steps = order.iter().zip(order.iter().skip(1));
        steps.filter(|(one, other)| self.are_neighbours(**one, **other)).count()
    }

    /// The pairs of a star, each begun at whichever end is no neighbour of the last; where neither is, a later pair comes first.
    fn pair_by_pair(&self, star: &[u16]) -> Vec<u16> {
        let mut left: Vec<[u16; 2]> = star
            .chunks(2)
            .filter_map(|pair| if let [one, other] = pair { Some([*one, *other]) } else { None })
            .collect();
        let mut order: Vec<u16> = Vec::new();
        while !left.is_empty() {
            let last = order.last().copied();
            let free = |at: u16| last.is_none_or(|last| !self.are_neighbours(last, at));
            let fits = left.iter().position(|[one, other]| free(*one) || free(*other));
            let [one, other] = left.remove(fits.unwrap_or(0));
            order.extend(if free(one) { [one, other] } else { [other, one] });
        }
        order
    }
}

//! Where the fasteners of a set stand, and in which order they are tightened.
//!
//! *Crosswise*: each is followed by the one across from it, and the pairs come as far apart as they can: the star
//! pattern of ASME PCC-1 for eight and more, and of wheels for four to six (from memory; tests/reference). *Spiral*:
//! from the middle outwards, opposite sides in turn (common practice).

mod crosswise;

use super::{Arrangement, ModelThing, Sequence};
use locknut_graph::{Layout, Pattern, Stand};
use locknut_quantity::Exact;
use num_traits::{Signed, ToPrimitive, Zero};
use std::cmp::Ordering;

/// Two have no order that matters.
const FEWEST: u64 = 3;
/// Nobody follows an order of more.
const MOST: u64 = 200;

const IN_A_ROW: &str = "bolts in a row have none across from them; write: spiral";

/// A place, to the right and down.
type Place = (Exact, Exact);

/// None where nothing is said of a pattern, or an order would mean nothing; `Err` says why it cannot be.
pub(super) fn of(thing: &ModelThing) -> Option<Result<Pattern, String>> {
    let fastening = &thing.fastening;
    if fastening.arrangement.is_none() && fastening.sequence.is_none() {
        return None;
    }
    let count = thing.count.filter(|count| *count <= MOST)?;
    let whole = u16::try_from(count).ok()?;
    let arrangement = fastening.arrangement.as_ref().unwrap_or(&Arrangement::Circle(None));
    match pattern(whole, arrangement, fastening.sequence) {
        Ok(_) if count < FEWEST => None,
        other => Some(other),
    }
}

fn pattern(
    count: u16,
    arrangement: &Arrangement,
    sequence: Option<Sequence>,
) -> Result<Pattern, String> {
    match (arrangement, sequence) {
        (Arrangement::Circle(_), Some(Sequence::Spiral)) => {
            Err("a circle has no middle bolt to begin at; write: crosswise".to_owned())
        }
        (Arrangement::Row(Some(_)), _) if count < 2 => {
            Err("a row goes from a first to a last one, and there is but one".to_owned())
        }
        (Arrangement::Row(_), Some(Sequence::Crosswise)) => Err(IN_A_ROW.to_owned()),
        (Arrangement::Circle(_), _) => Ok(Pattern { layout: Layout::Circle, order: star(count) }),
        (Arrangement::Row(_), _) => {
            let places: Vec<Place> = (0..count).map(|at| (whole(at), Exact::zero())).collect();
            Ok(Pattern { order: from_the_middle(&places), layout: Layout::Row(drawn(&places)) })
        }
        (Arrangement::Rectangle(across, down, _), _) => {
            let places = outline(*across, *down, count)?;
            let order = match sequence {
                Some(Sequence::Crosswise) => crosswise::of(&places, star(count)),
                Some(Sequence::Spiral) | None => from_the_middle(&places),
            };
            Ok(Pattern { order, layout: Layout::Rectangle(drawn(&places)) })
        }
        (Arrangement::Points(places), _) => {
            if places.len() != usize::from(count) {
                return Err(format!(
                    "{count} bolts are declared, and {} places are listed",
                    places.len()
                ));
            }
            let again = (1..places.len()).any(|at| {
                let (before, from) = places.split_at(at);
                from.first().is_some_and(|place| before.contains(place))
            });
            if again {
                return Err("two of the places listed are one".to_owned());
            }
            if sequence == Some(Sequence::Crosswise) && in_a_row(places) {
                return Err(IN_A_ROW.to_owned());
            }
            let order = match sequence {
                Some(Sequence::Crosswise) => across(places),
                Some(Sequence::Spiral) | None => from_the_middle(places),
            };
            Ok(Pattern { order, layout: Layout::Listed(drawn(places)) })
        }
    }
}

/// Where they stand in lengths, as far as that is said.
pub(super) fn stand(thing: &ModelThing) -> Stand {
    places(thing).unwrap_or(Stand::Unknown)
}

fn places(thing: &ModelThing) -> Option<Stand> {
    let count = u16::try_from(thing.count?).ok()?;
    // What lies between two neighbours of so many; of one alone nothing does.
    let pitch = |long: &Exact, many: u16| long / whole(many.saturating_sub(1).max(1));
    Some(match thing.fastening.arrangement.as_ref()? {
        Arrangement::Circle(wide) => Stand::Circle(wide.as_ref()? / whole(2)),
        Arrangement::Row(long) => {
            let pitch = pitch(long.as_ref()?, count);
            Stand::Places((0..count).map(|at| (whole(at) * &pitch, Exact::zero())).collect())
        }
        Arrangement::Rectangle(across, down, apart) => {
            let (wide, high) = apart.as_ref()?;
            let (right, below) = (pitch(wide, *across), pitch(high, *down));
            let places = outline(*across, *down, count).ok()?;
            Stand::Places(places.iter().map(|(x, y)| (x * &right, y * &below)).collect())
        }
        Arrangement::Points(places) => {
            (places.len() == usize::from(count)).then(|| Stand::Places(places.clone()))?
        }
    })
}

fn whole(number: u16) -> Exact {
    Exact::from_integer(number.into())
}

/// Across and across again: an even ring is two half rings, of which each bolt has its opposite in the other; in an odd
/// one the next is always one of the two that stand farthest off.
fn star(count: u16) -> Vec<u16> {
    if count <= 3 {
        return (0..count).collect();
    }
    if count % 2 == 1 {
        let across = u32::from(count / 2);
        let turns = (0..u32::from(count)).map(|turn| turn * across % u32::from(count));
        return turns.filter_map(|at| u16::try_from(at).ok()).collect();
    }
    let half = count / 2;
    star(half).into_iter().flat_map(|at| [at, at + half]).collect()
}

/// Along the outline of a rectangle, clockwise from the top left; the corners are counted in both sides.
fn outline(across: u16, down: u16, count: u16) -> Result<Vec<Place>, String> {
    if across < 2 || down < 2 {
        return Err("a rectangle has two bolts at least along each side".to_owned());
    }
    let stand = 2 * (u32::from(across) + u32::from(down)) - 4;
    if stand != u32::from(count) {
        return Err(format!(
            "with {across} bolts along one side and {down} along the other, {stand} stand on the outline, and {count} are declared"
        ));
    }
    let (right, bottom) = (across - 1, down - 1);
    let top = (0..across).map(|x| (x, 0));
    let down_right = (1..down).map(|y| (right, y));
    let back = (0..right).rev().map(|x| (x, bottom));
    let up_left = (1..bottom).rev().map(|y| (0, y));
    let all = top.chain(down_right).chain(back).chain(up_left);
    Ok(all.map(|(x, y)| (whole(x), whole(y))).collect())
}

/// The nearest to the middle first; of those equally near the one farthest from the last.
fn from_the_middle(places: &[Place]) -> Vec<u16> {
    let middle = middle(places);
    let mut left: Vec<u16> = (0u16..).zip(places).map(|(at, _)| at).collect();
    let place = |at: u16| places.get(usize::from(at)).unwrap_or(&middle);
    let mut order: Vec<u16> = Vec::new();
    while let Some(nearest) = left.iter().map(|at| apart(place(*at), &middle)).min() {
        let last = order.last().copied();
        let away = |at: &u16| last.map(|last| apart(place(*at), place(last)));
        let equal = left.iter().copied().filter(|at| apart(place(*at), &middle) == nearest);
        // Of several equally far the first as counted: `max_by` would take the last.
        let next = equal.reduce(|best, at| if away(&at) > away(&best) { at } else { best });
        let Some(next) = next else { return order };
        left.retain(|at| *at != next);
        order.push(next);
    }
    order
}

/// A star over places in the order in which they lie around their middle; one in the middle comes first.
fn across(places: &[Place]) -> Vec<u16> {
    let middle = middle(places);
    let from_middle = |at: u16| {
        let place = places.get(usize::from(at)).unwrap_or(&middle);
        (&place.0 - &middle.0, &place.1 - &middle.1)
    };
    let (inner, mut ring): (Vec<u16>, Vec<u16>) = (0u16..)
        .zip(places)
        .map(|(at, _)| at)
        .partition(|at| from_middle(*at) == (Exact::zero(), Exact::zero()));
    ring.sort_by(|one, other| around(&from_middle(*one), &from_middle(*other)));
    let count = u16::try_from(ring.len()).unwrap_or(u16::MAX);
    let star = star(count).into_iter().filter_map(|at| ring.get(usize::from(at)).copied());
    inner.into_iter().chain(star).collect()
}

/// Which of two directions comes first, clockwise from straight up (down is positive).
fn around(one: &Place, other: &Place) -> Ordering {
    let second_half =
        |(right, down): &Place| right.is_negative() || (right.is_zero() && down.is_positive());
    let turn = &one.0 * &other.1 - &one.1 * &other.0;
    second_half(one).cmp(&second_half(other)).then(Exact::zero().cmp(&turn))
}

fn middle(places: &[Place]) -> Place {
    let count = Exact::from_integer(places.len().max(1).into());
    let sum = places
        .iter()
        .fold((Exact::zero(), Exact::zero()), |sum, place| (sum.0 + &place.0, sum.1 + &place.1));
    (sum.0 / &count, sum.1 / &count)
}

/// Whether all of three or more lie on one line.
fn in_a_row(places: &[Place]) -> bool {
    let [first, second, rest @ ..] = places else { return false };
    let (right, down) = (&second.0 - &first.0, &second.1 - &first.1);
    let beside = |place: &Place| &right * (&place.1 - &first.1) != &down * (&place.0 - &first.0);
    !rest.is_empty() && !rest.iter().any(beside)
}

/// The square of the distance.
fn apart(one: &Place, other: &Place) -> Exact {
    let (right, down) = (&one.0 - &other.0, &one.1 - &other.1);
    &right * &right + &down * &down
}

/// Places in thousandths of the longer side, for a drawing.
fn drawn(places: &[Place]) -> Vec<(u16, u16)> {
    let ends = |of: fn(&Place) -> &Exact| {
        let least = places.iter().map(of).min().cloned().unwrap_or_default();
        let most = places.iter().map(of).max().cloned().unwrap_or_default();
        (least.clone(), most - least)
    };
    let ((left, width), (top, height)) = (ends(|place| &place.0), ends(|place| &place.1));
    let longer = if width > height { width } else { height };
    let scaled = |value: Exact| {
        let part = if longer.is_zero() { Exact::zero() } else { value / &longer };
        (part * whole(1000)).round().to_integer().to_u16().unwrap_or(0)
    };
    places.iter().map(|(x, y)| (scaled(x - &left), scaled(y - &top))).collect()
}

#[cfg(test)]
mod tests {
    use super::{Arrangement, Exact, Sequence, apart, outline, pattern, star};
    use std::collections::BTreeSet;

    fn is_permutation(order: &[u16], count: u16) -> bool {
        order.len() == usize::from(count)
            && order.iter().copied().collect::<BTreeSet<_>>() == (0..count).collect()
    }

    #[test]
    fn crosswise_takes_each_once_and_never_a_neighbour() {
        for count in 0..=200 {
            let order = star(count);
            assert!(is_permutation(&order, count), "{count}: {order:?}");
            let neighbours = order.windows(2).filter(|pair| {
                let apart = pair[0].abs_diff(pair[1]);
                apart == 1 || apart == count - 1
            });
            // Of three all are neighbours; of four the second pair begins beside the first.
            let allowed = match count {
                2 | 4 => 1,
                3 => 2,
                _ => 0,
            };
            assert_eq!(neighbours.count(), allowed, "{count}: {order:?}");
            if count % 2 == 1 {
                let across = order.windows(2).all(|pair| {
                    let apart = pair[0].abs_diff(pair[1]);
                    apart.min(count - apart) == count / 2
                });
                assert!(across, "{count}: {order:?}");
            }
        }
    }

    /// Of two rows with a middle the middle pair stands across from each other and beside each other.
    #[test]
    fn crosswise_on_a_rectangle_goes_to_no_neighbour_where_that_can_be() {
        for across in 2..=12_u16 {
            for down in 2..=12_u16 {
                let count = 2 * (across + down) - 4;
                let made = pattern(
                    count,
                    &Arrangement::Rectangle(across, down, None),
                    Some(Sequence::Crosswise),
                );
                let (order, places) = (made.unwrap().order, outline(across, down, count).unwrap());
                let place = |at: u16| &places[usize::from(at)];
                let steps = order.windows(2).filter(|pair| {
                    apart(place(pair[0]), place(pair[1])) <= Exact::from_integer(1.into())
                });
                let middle_pair = across.min(down) == 2 && across.max(down) % 2 == 1;
                let allowed = usize::from(count == 4 || middle_pair);
                assert_eq!(steps.count(), allowed, "{across} x {down}: {order:?}");
                let opposite = order.chunks(2).all(|pair| pair[0].abs_diff(pair[1]) == count / 2);
                assert!(opposite, "{across} x {down}: {order:?}");
            }
        }
    }

    #[test]
    fn every_pattern_takes_each_once() {
        let sequences = [None, Some(Sequence::Crosswise), Some(Sequence::Spiral)];
        for across in 2..=9 {
            for down in 2..=9 {
                let count = 2 * (across + down) - 4;
                for sequence in sequences {
                    let made =
                        pattern(count, &Arrangement::Rectangle(across, down, None), sequence);
                    assert!(is_permutation(&made.unwrap().order, count));
                }
                let points = (0..across * down).map(|at| {
                    let of = |number: u16| Exact::from_integer(number.into());
                    (of(at % across), of(at / across))
                });
                let points = Arrangement::Points(points.collect());
                for sequence in sequences {
                    let made = pattern(across * down, &points, sequence).unwrap();
                    assert!(is_permutation(&made.order, across * down));
                }
            }
        }
        for count in 1..=20 {
            let made = pattern(count, &Arrangement::Row(None), Some(Sequence::Spiral)).unwrap();
            assert!(is_permutation(&made.order, count));
        }
    }

    #[test]
    fn a_rectangle_begins_in_the_middle_and_changes_sides() {
        let made = pattern(8, &Arrangement::Rectangle(4, 2, None), None).unwrap();
        assert_eq!(made.order, [1, 5, 2, 6, 3, 7, 4, 0]);
        let row = pattern(5, &Arrangement::Row(None), None).unwrap();
        assert_eq!(row.order, [2, 1, 3, 0, 4]);
    }

    #[test]
    fn what_cannot_stand_so_is_refused() {
        let refused =
            |count, arrangement, sequence| pattern(count, &arrangement, sequence).is_err();
        assert!(refused(8, Arrangement::Rectangle(4, 3, None), None));
        assert!(refused(2, Arrangement::Rectangle(1, 2, None), None));
        assert!(refused(6, Arrangement::Circle(None), Some(Sequence::Spiral)));
        assert!(refused(6, Arrangement::Row(None), Some(Sequence::Crosswise)));
        assert!(refused(2, Arrangement::Points(Vec::new()), None));
        let of = |number: i32| Exact::from_integer(number.into());
        let slanting: Vec<_> = [0, 3, -2, 8].map(|at| (of(2 * at), of(at + 1))).to_vec();
        assert!(refused(4, Arrangement::Points(slanting.clone()), Some(Sequence::Crosswise)));
        assert!(!refused(4, Arrangement::Points(slanting.clone()), Some(Sequence::Spiral)));
        let mut beside = slanting;
        beside[3].0 += of(1);
        assert!(!refused(4, Arrangement::Points(beside), Some(Sequence::Crosswise)));
    }
}

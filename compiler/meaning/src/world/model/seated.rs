//! Whether heads find room: the face under one is wider than its hole, the hole lets the thread through, and no two
//! stand in one another's place.

use crate::findings::hardware::PatternDoesNotFit;
use crate::findings::quantities::ImpossibleValue;
use crate::world::read::Reader;
use crate::world::{ModelThing, pattern, tightening};
use locknut_finding::Findings;
use locknut_graph::{Head, Stand, Thread};
use locknut_quantity::{Between, Exact, Rounding, UnitId, sine_and_cosine, to_decimal};

/// Says where it is not so.
pub(super) fn check(thing: &ModelThing, reader: Reader<'_>, found: &mut Findings) {
    let thread = thing.thread.as_ref().and_then(|name| reader.world.thread(name));
    let head = reader.world.head(thing, thread.as_ref().map(|thread| &thread.diameter));
    too_wide(thing, thread.as_ref(), reader, found);
    if let Some(head) = &head {
        face(thing, head, thread.as_ref(), reader, found);
    }
    neighbours(thing, (thread.as_ref(), head.as_ref()), reader, found);
}

fn face(
    thing: &ModelThing,
    head: &Head,
    thread: Option<&Thread>,
    reader: Reader<'_>,
    found: &mut Findings,
) {
    let [bearing_at, hole_at] = thing.fastening.face_at;
    let narrow = thread.filter(|thread| head.hole < thread.diameter);
    let told = if head.bearing <= head.hole {
        let swapped = narrow.is_none() && bearing_at.is_some() && hole_at.is_some();
        let swapped = if swapped { "; the two may have changed places" } else { "" };
        let hole = hole_at.map_or_else(|| "its hole".to_owned(), |at| reader.written(at));
        let why = format!("a face that bears is wider than its hole ({hole}){swapped}");
        bearing_at.or(hole_at).map(|at| (at, why))
    } else {
        hole_at
            .zip(narrow)
            .map(|(at, thread)| (at, format!("{} does not go through it", thread.name)))
    };
    let Some((span, why)) = told else { return };
    let written = reader.written(span);
    found.add(&ImpossibleValue { written, span, why, instead: None, narrow: None });
}

fn too_wide(thing: &ModelThing, thread: Option<&Thread>, reader: Reader<'_>, found: &mut Findings) {
    let (Some(thread), [Some(span), _]) = (thread, thing.fastening.face_at) else { return };
    if !tightening::too_wide(thing, &thread.diameter) {
        return;
    }
    let why =
        format!("no face that bears is more than ten times as wide as its thread, {}", thread.name);
    let written = reader.written(span);
    found.add(&ImpossibleValue { written, span, why, instead: None, narrow: None });
}

/// Heads are as wide as the face on which they bear, as the sums take it, and no narrower than their thread.
fn neighbours(
    thing: &ModelThing,
    (thread, head): (Option<&Thread>, Option<&Head>),
    reader: Reader<'_>,
    found: &mut Findings,
) {
    let Some(thread) = thread else { return };
    let bearing = head.map(|head| &head.bearing);
    let width = bearing.filter(|wide| **wide > thread.diameter).unwrap_or(&thread.diameter);
    let stand = pattern::stand(thing);
    if let Some(times) = too_far(&stand, thread, thing.count) {
        found.add(&PatternDoesNotFit {
            thing: thing.words.said.clone(),
            written: thing.pattern.clone().unwrap_or_default(),
            span: thing.fastening.pattern_at.unwrap_or(thing.span),
            why: format!(
                "from end to end that is {} times as much as {} is thick: has a unit slipped?",
                to_decimal(&times.floor(), 0),
                thread.name
            ),
            heads: false,
        });
        return;
    }
    let Some(square) = least_square(&stand, thing.count) else { return };
    let nought = Exact::default();
    // Two places that are one are told with the places.
    if square >= width * width || square <= nought {
        return;
    }
    let apart = Between::exactly(&square).root().map(|root| root.high()).unwrap_or_default();
    let said = |value: &Exact| length(value, thread.unit, reader);
    let declared = thing.fastening.bearing.is_some();
    let head = match (bearing == Some(width), declared) {
        (true, true) => "the face under a head",
        (true, false) => "the face under a hexagon head",
        (false, _) => "the thread alone",
    };
    found.add(&PatternDoesNotFit {
        thing: thing.words.said.clone(),
        written: thing.pattern.clone().unwrap_or_default(),
        span: thing.fastening.pattern_at.unwrap_or(thing.span),
        why: format!(
            "neighbours would stand {} apart, and {head} is {} wide",
            said(&apart),
            said(width)
        ),
        heads: bearing == Some(width) && !declared,
    });
}

/// How many of their diameters they reach, where that is 500 for each of them, or more.
fn too_far(stand: &Stand, thread: &Thread, count: Option<u64>) -> Option<Exact> {
    let reach = match stand {
        Stand::Unknown => return None,
        Stand::Circle(radius) => radius + radius,
        Stand::Places(places) => {
            let along = |side: fn(&(Exact, Exact)) -> &Exact| {
                let (least, most) =
                    (places.iter().map(side).min()?, places.iter().map(side).max()?);
                Some(most - least)
            };
            along(|place| &place.0)?.max(along(|place| &place.1)?)
        }
    };
    let most = Exact::from_integer(count?.saturating_mul(500).into());
    let times = (thread.diameter > Exact::default()).then(|| reach / &thread.diameter)?;
    (times >= most).then_some(times)
}

/// The square of the least distance of two of them, never told less than it is.
fn least_square(stand: &Stand, count: Option<u64>) -> Option<Exact> {
    let whole = |number: u64| Exact::from_integer(number.into());
    match stand {
        Stand::Unknown => None,
        // A chord is twice the radius times the sine of half of what it spans.
        Stand::Circle(radius) => {
            let half = whole(1) / whole(2 * count.filter(|count| *count > 1)?);
            let chord = whole(2) * radius * sine_and_cosine(&half).0;
            Some(&chord * &chord)
        }
        Stand::Places(places) => {
            let pairs = places.iter().enumerate().flat_map(|(at, one)| {
                places.iter().skip(at + 1).map(move |other| square(one, other))
            });
            pairs.min()
        }
    }
}

fn square(one: &(Exact, Exact), other: &(Exact, Exact)) -> Exact {
    let (right, down) = (&one.0 - &other.0, &one.1 - &other.1);
    &right * &right + &down * &down
}

/// A length to a tenth of its unit, or a hundredth of an inch, as it is drawn.
fn length(value: &Exact, unit: UnitId, reader: Reader<'_>) -> String {
    let unit = reader.units().unit(unit);
    let number = unit.number_of(value);
    let decimals = if unit.name == "mm" { 1 } else { 2 };
    let step = (0..decimals)
        .fold(Exact::from_integer(1.into()), |step, _| step / Exact::from_integer(10.into()));
    format!("{} {}", to_decimal(&Rounding::Nearest.to_step(&number, &step), decimals), unit.name)
}

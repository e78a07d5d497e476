//! How many, of which thread and class, in which pattern, tightened how; and how much of what.

use super::member::Member;
use super::{carried, likened, near_size, seated};
use crate::findings::hardware::{PatternDoesNotFit, TorqueAfterAngle};
use crate::findings::names::{SaysTooLittle, UnknownFigure};
use crate::findings::quantities::ImpossibleValue;
use crate::world::near::nearest;
use crate::world::parts::Parts;
use crate::world::read::{Reader, can_be_tightened_to, lent, not_too_far_together};
use crate::world::{Arrangement, Figure, Model, ModelThing, Sequence};
use locknut_finding::Findings;
use locknut_graph::{Friction, Prevailing, Stage};
use locknut_quantity::{Exact, KindId, Units};
use locknut_syntax::tree::{Expression, Limit, LimitForm, Name, Number};
use num_traits::Signed;

/// `8 of M8 class 8.8 dry`, `6.5 L of gear-oil-220`
pub(super) fn amount(
    parts: &mut Parts<'_>,
    member: &Member<'_>,
    reader: Reader<'_>,
    thing: &mut ModelThing,
    found: &mut Findings,
) -> bool {
    let has = |attribute: &str| member.kind.attributes.contains(attribute);
    let Some(limit) = parts.limit() else { return false };
    if has("content") {
        return content(limit, parts, reader, thing, found);
    }
    if !has("count") {
        return false;
    }
    let LimitForm::Just(Expression::Quantity(figure)) = &limit.form else { return false };
    if figure.unit.is_some() {
        return false;
    }
    thing.count = count(&figure.number, found);
    thing.fastening.refused |= thing.count.is_none();
    !has("thread") || !parts.says(&["of"]) || screwed(parts, reader, thing, found)
}

fn count(number: &Number, found: &mut Findings) -> Option<u64> {
    let count = number.text.parse().ok().filter(|count| (1..=10_000).contains(count));
    if count.is_none() {
        found.add(&ImpossibleValue {
            written: number.text.clone(),
            span: number.span,
            why: "a set has a whole number of pieces, from 1 to 10 000".to_owned(),
            instead: None,
            narrow: None,
        });
    }
    count
}

/// `M8 class 8.8 dry`
fn screwed(
    parts: &mut Parts<'_>,
    reader: Reader<'_>,
    thing: &mut ModelThing,
    found: &mut Findings,
) -> bool {
    let Some(thread) = parts.word() else { return false };
    thing.thread = figure("thread", "thread", thread, reader, found);
    if parts.says(&["class"]) {
        let Some(class) = parts.word() else { return false };
        thing.fastening.class_at = Some(class.span);
        thing.strength = figure("strength", "strength class", class, reader, found);
    }
    if let Some(friction) = parts.word() {
        // `M8 grade 5` is no condition: how a class is said is told with the line.
        if friction.text == "grade" {
            return false;
        }
        thing.friction = figure("condition", "friction condition", friction, reader, found);
    }
    true
}

fn figure(
    keyword: &str,
    wanted: &'static str,
    name: &Name,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<String> {
    if reader.world.figure(keyword, &name.text).is_some() {
        return Some(name.text.clone());
    }
    let figures = reader.world.figures_of(keyword);
    let known = || figures.keys().copied();
    let near = match keyword {
        "thread" if near_size::is_size(&name.text) => {
            let with_pitch = figures.iter().map(|(name, figure)| (*name, pitch_of(figure, reader)));
            near_size::nearest(&name.text, with_pitch)
        }
        "strength" => near_size::classes_beside(&name.text, known()),
        _ => Vec::new(),
    };
    let near = if near.is_empty() && !near_size::is_size(&name.text) {
        nearest(&name.text, known()).into_iter().collect()
    } else {
        near
    };
    if near.len() > 1 && reader.what_is(&name.text).is_none() {
        let (name, span) = (name.text.clone(), name.span);
        found.add(&UnknownFigure { wanted, name, span, near });
    } else {
        reader.unknown_near(wanted, name, |_| near.into_iter().next(), found);
    }
    None
}

/// The pitch of a thread in the unit that it is declared in.
fn pitch_of(thread: &Figure, reader: Reader<'_>) -> Option<Exact> {
    let pitch = thread.values.get("pitch")?;
    Some(reader.units().unit(pitch.unit).number_of(pitch.range.single()?))
}

fn content(
    limit: &Limit,
    parts: &mut Parts<'_>,
    reader: Reader<'_>,
    thing: &mut ModelThing,
    found: &mut Findings,
) -> bool {
    let LimitForm::Just(amount) = &limit.form else { return false };
    if !parts.says(&["of"]) {
        return false;
    }
    let Some(name) = parts.word() else { return false };
    let amount =
        reader.value(amount, None, found).filter(|amount| is_amount(amount, limit, reader, found));
    if !reader.world.consumables.contains_key(&name.text) {
        let known = reader.world.consumables.keys().map(String::as_str);
        reader.unknown("consumable", name, known, found);
        return true;
    }
    thing.content = Some((amount, name.text.clone()));
    true
}

/// Whether so much of something can be filled in: a volume or a mass above nought; says so where it cannot.
fn is_amount(
    amount: &locknut_quantity::Quantity,
    limit: &Limit,
    reader: Reader<'_>,
    found: &mut Findings,
) -> bool {
    let units = reader.units();
    let why = if !["volume", "mass"].contains(&units.kind(amount.kind).name.as_str()) {
        "what is filled in is a volume or a mass"
    } else if !amount.value.is_positive() {
        "what is filled in is more than nothing"
    } else {
        return true;
    };
    found.add(&impossible(&amount.written, limit, why.to_owned()));
    false
}

/// `tightened to 60 ± 5 N·m`, `then turned 45°`, `then to 300 N·m`
pub(super) fn stage(
    parts: &mut Parts<'_>,
    reader: Reader<'_>,
    thing: &mut ModelThing,
    found: &mut Findings,
) -> bool {
    let mut ahead = *parts;
    let follows = ahead.says(&["then"]);
    let first = !follows && ahead.says(&["tightened"]);
    if !(first || (follows && !thing.tightening.is_empty())) {
        return false;
    }
    let turned = ahead.says(&["turned"]);
    if !turned && !ahead.says(&["to"]) {
        return false;
    }
    // What is left over belongs to the figure: of `9 N m` nobody may take the `9 N`.
    let Some(limit) = ahead.limit().filter(|_| ahead.done()) else { return false };
    let kind = if turned { "angle" } else { "torque" };
    let kind: Option<KindId> = reader.units().kind_named(kind);
    // What is refused was said all the same.
    let at = &mut thing.fastening.tightened_at;
    *at = Some(at.map_or(parts.span, |first| first.to(parts.span)));
    if let Some(limit) = reader.limit(limit, kind, found)
        && can_be_tightened_to(&limit, turned, parts.span, found)
    {
        match (turned, thing.fastening.angle_at) {
            (true, _) => {
                thing.fastening.angle_at = Some(parts.span);
                thing.tightening.push(Stage::Angle(limit));
                not_too_far_together(&thing.tightening, parts.span, found);
            }
            (false, None) => thing.tightening.push(Stage::Torque(limit)),
            (false, Some(angle)) => {
                found.add(&TorqueAfterAngle { torque: limit.written, span: parts.span, angle });
            }
        }
    }
    *parts = ahead;
    true
}

/// `friction 0.12 .. 0.14 per "…"`, `clamps 40 mm`, `bearing 13 mm`, `hole 9 mm`: known of this very set.
pub(super) fn known(
    word: &Name,
    parts: &mut Parts<'_>,
    reader: Reader<'_>,
    thing: &mut ModelThing,
    found: &mut Findings,
) -> bool {
    parts.word();
    if word.text == "carries" {
        return carried::carried(parts, reader, thing, found);
    }
    let under_head = word.text == "friction" && parts.says(&["under", "head"]);
    let Some(limit) = parts.limit() else { return false };
    if word.text == "friction" {
        let place = if under_head {
            &mut thing.fastening.head_friction
        } else {
            &mut thing.fastening.friction
        };
        let read = friction(limit, parts, reader, (place, &thing.words.said), found);
        let own = &thing.fastening;
        let refused = if under_head { own.head_friction.is_none() } else { own.friction.is_none() };
        thing.fastening.friction_refused |= refused;
        return read;
    }
    if word.text == "prevailing" {
        return prevailing(limit, parts, reader, thing, found);
    }
    let Some(length) = length(limit, reader, found) else { return true };
    let at = Some(word.span.to(limit.span));
    let fastening = &mut thing.fastening;
    match word.text.as_str() {
        "clamps" => fastening.clamps = Some(length),
        "bearing" => {
            fastening.bearing = Some(length);
            fastening.face_at[0] = at;
        }
        _ => {
            fastening.hole = Some(length);
            fastening.face_at[1] = at;
        }
    }
    true
}

fn friction(
    limit: &Limit,
    parts: &mut Parts<'_>,
    reader: Reader<'_>,
    (place, thing): (&mut Option<Friction>, &str),
    found: &mut Findings,
) -> bool {
    let source = if parts.says(&["per"]) { parts.text() } else { None };
    let Some(read) = reader.limit(limit, Some(Units::NUMBER), found) else { return true };
    let Some(source) = source else {
        found.add(&SaysTooLittle {
            what: format!("the friction of {thing}"),
            lacks: "not who measured it",
            span: parts.span,
            consequence: "friction is the least known figure of a joint, and nobody can weigh this one",
            mend: "write “friction 0.12 .. 0.14 per \"…\"”, with the report that it stands in",
        });
        return true;
    };
    let least = read.range.lower.as_ref().map(|end| end.value.clone());
    let greatest = read.range.upper.as_ref().map(|end| end.value.clone());
    let (Some(least), Some(greatest)) = (least.filter(Signed::is_positive), greatest) else {
        let why = "friction lies between two figures above nought".to_owned();
        found.add(&impossible(&read.written, limit, why));
        return true;
    };
    if greatest > Exact::from_integer(1.into()) {
        // Common practice: dry steel on steel comes to 0.8 at most, and bare aluminium to 1.
        let why = "friction in a thread and under a head lies below 1, however dry they are; a point may stand in the wrong place";
        found.add(&impossible(&read.written, limit, why.to_owned()));
        return true;
    }
    if least < Exact::new(2.into(), 100.into()) {
        // Common practice: the slipperiest paste comes to 0.04.
        let why = "friction in a thread and under a head lies above 0.02, whatever is put on them; a point may stand in the wrong place";
        found.add(&impossible(&read.written, limit, why.to_owned()));
        return true;
    }
    let (said, source) = ("measured".to_owned(), source.plain());
    *place = Some(Friction { least, greatest, said, source });
    true
}

/// `prevailing 2 .. 6 N·m per "…"`
fn prevailing(
    limit: &Limit,
    parts: &mut Parts<'_>,
    reader: Reader<'_>,
    thing: &mut ModelThing,
    found: &mut Findings,
) -> bool {
    let source = if parts.says(&["per"]) { parts.text() } else { None };
    let source = source
        .map_or_else(|| "as declared with them".to_owned(), locknut_syntax::tree::Text::plain);
    let kind: Option<KindId> = reader.units().kind_named("torque");
    let Some(read) = reader.limit(limit, kind, found) else { return true };
    let end = |end: &Option<locknut_quantity::Bound>| {
        end.as_ref().map(|end| end.value.clone()).filter(|value| !value.is_negative())
    };
    let (Some(least), Some(greatest)) = (end(&read.range.lower), end(&read.range.upper)) else {
        let why = "a prevailing torque lies between two figures, of which none is below nought";
        found.add(&impossible(&read.written, limit, why.to_owned()));
        return true;
    };
    thing.fastening.prevailing = Some(Prevailing { least, greatest, source });
    true
}

pub(super) fn impossible(written: &str, limit: &Limit, why: String) -> ImpossibleValue {
    ImpossibleValue {
        written: written.to_owned(),
        span: limit.span,
        why,
        instead: None,
        narrow: None,
    }
}

/// `on pitch circle 180 mm`, `on rectangle 4 x 2 of 240 x 80 mm`, `crosswise`: read, and kept as written.
pub(super) fn pattern(
    parts: &mut Parts<'_>,
    reader: Reader<'_>,
    thing: &mut ModelThing,
    found: &mut Findings,
) -> bool {
    let mut ahead = *parts;
    let fastening = &mut thing.fastening;
    if ahead.says(&["crosswise"]) {
        fastening.sequence = Some(Sequence::Crosswise);
    } else if ahead.says(&["spiral"]) {
        fastening.sequence = Some(Sequence::Spiral);
    } else {
        let told = found.reports().len();
        let arrangement = arrangement(&mut ahead, reader, found);
        let refused = found.reports().len() > told;
        fastening.refused |= refused;
        match arrangement {
            Some(arrangement) => fastening.arrangement = Some(arrangement),
            None if refused => {
                *parts = ahead;
                parts.pass_over();
                return true;
            }
            None => return false,
        }
    }
    let at = &mut fastening.pattern_at;
    *at = Some(at.map_or(parts.span, |first| first.to(parts.span)));
    let written = reader.written(parts.span);
    thing.pattern = Some(match thing.pattern.take() {
        Some(before) => format!("{before}, {written}"),
        None => written,
    });
    *parts = ahead;
    true
}

fn arrangement(
    parts: &mut Parts<'_>,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<Arrangement> {
    if parts.says(&["in", "a", "row"]) {
        if !parts.says(&["of"]) {
            return Some(Arrangement::Row(None));
        }
        return parts.limit().map(|long| Arrangement::Row(length(long, reader, found)));
    }
    if parts.says(&["on", "pitch", "circle"]) || parts.says(&["on", "circle"]) {
        return parts.limit().map(|wide| Arrangement::Circle(length(wide, reader, found)));
    }
    if parts.says(&["on", "rectangle"]) {
        let across = side(parts.limit()?)?;
        let down = parts.says(&["x"]).then_some(()).and_then(|()| side(parts.limit()?))?;
        let apart = if parts.says(&["of"]) { sides(parts, reader, found) } else { None };
        return Some(Arrangement::Rectangle(across, down, apart));
    }
    if !parts.says(&["on", "points"]) {
        return None;
    }
    let mut points = vec![pair(parts, reader, found)?];
    while parts.says(&["and"]) {
        points.push(pair(parts, reader, found)?);
    }
    Some(Arrangement::Points(points))
}

/// How many bolts stand along a side.
fn side(limit: &Limit) -> Option<u16> {
    let LimitForm::Just(Expression::Quantity(figure)) = &limit.form else { return None };
    figure.number.text.parse().ok().filter(|_| figure.unit.is_none())
}

/// `240 x 80 mm`
fn sides(
    parts: &mut Parts<'_>,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<(Exact, Exact)> {
    let mut ahead = *parts;
    let across = ahead.limit().cloned();
    let down = ahead.says(&["x"]).then(|| ahead.limit().cloned()).flatten();
    let both = pair(parts, reader, found)?;
    let sound = both.0.is_positive() && both.1.is_positive();
    let at = if both.0.is_positive() { down } else { across };
    if let (false, Some(at)) = (sound, at) {
        let why = "both sides are more than nought".to_owned();
        found.add(&impossible(&reader.written(at.span), &at, why));
    }
    sound.then_some(both)
}

/// `180 mm`; says where it is none.
pub(super) fn length(written: &Limit, reader: Reader<'_>, found: &mut Findings) -> Option<Exact> {
    let kind: Option<KindId> = reader.units().kind_named("length");
    let read = reader.limit(written, kind, found)?;
    let length = read.range.single().filter(|length| length.is_positive()).cloned();
    if length.is_none() {
        let why = "one length above nought is meant".to_owned();
        found.add(&impossible(&read.written, written, why));
    }
    length
}

/// `40 x 0 mm`: to the right, and down.
pub(super) fn pair(
    parts: &mut Parts<'_>,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<(Exact, Exact)> {
    let across = parts.limit()?;
    let down = parts.says(&["x"]).then_some(()).and_then(|()| parts.limit())?;
    let (LimitForm::Just(right), LimitForm::Just(below)) = (&across.form, &down.form) else {
        return None;
    };
    let kind: Option<KindId> = reader.units().kind_named("length");
    let lent = Limit { form: LimitForm::Just(lent(right, below).into_owned()), span: across.span };
    let right = reader.limit(&lent, kind, found)?.range.single()?.clone();
    Some((right, reader.limit(down, kind, found)?.range.single()?.clone()))
}

/// Patterns that their fasteners cannot stand in, classes that are not made in their size, and sets that are
/// easily taken for one another.
pub(super) fn check(reader: Reader<'_>, model: &Model, found: &mut Findings) {
    for thing in model.things.values() {
        if let Some(Err(why)) = crate::world::pattern::of(thing) {
            found.add(&PatternDoesNotFit {
                thing: thing.words.said.clone(),
                written: thing.pattern.clone().unwrap_or_default(),
                span: thing.fastening.pattern_at.unwrap_or(thing.span),
                why,
                heads: false,
            });
        }
        carried::check(thing, found);
        seated::check(thing, reader, found);
        reader.world.class_in_size(thing, found);
    }
    likened::check(model, found);
}

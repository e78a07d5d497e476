//! The load along a set of fasteners: on each of them, or on the whole joint with how it is shared.

use super::bolted::{impossible, length, pair};
use crate::findings::hardware::{LoadNotShared, WhyNotShared};
use crate::findings::names::{SaidTwice, SaysTooLittle};
use crate::world::parts::Parts;
use crate::world::read::Reader;
use crate::world::{Carried, ModelThing, pattern};
use locknut_finding::Findings;
use locknut_graph::{At, Carries, Load, Pull};
use locknut_quantity::Exact;
use locknut_syntax::tree::Limit;
use num_traits::Signed;

/// `carries 6 kN`, `carries 40 kN shared evenly`, `carries 40 kN shared at 60 x 0 mm off the middle`, `carries moment 3 kN·m`
pub(super) fn carried(
    parts: &mut Parts<'_>,
    reader: Reader<'_>,
    thing: &mut ModelThing,
    found: &mut Findings,
) -> bool {
    let moment = parts.says(&["moment"]);
    let Some(limit) = parts.limit() else { return false };
    let (kind, said) = if moment { ("torque", "moment") } else { ("force", "force") };
    let Some(much) = positive(limit, reader, (kind, said), found) else {
        // Told already: what follows is not looked at.
        parts.pass_over();
        return true;
    };
    let told = found.reports().len();
    let pull = if moment {
        None
    } else if parts.says(&["shared"]) {
        match way(parts, reader, thing, found) {
            Some(at) => Some(Pull::Whole(much.clone(), at)),
            // Nothing is passed over unsaid.
            None => return parts.done() && found.reports().len() > told,
        }
    } else {
        Some(Pull::Each(much.clone()))
    };
    if !parts.done() {
        return false;
    }
    let written = reader.written(parts.span);
    let written = written.strip_prefix("carries ").unwrap_or(&written).to_owned();
    let before = thing.fastening.carries.take();
    let twice = before
        .as_ref()
        .filter(|one| if moment { one.moment.is_some() } else { one.pull.is_some() });
    if let Some(first) = twice {
        let what =
            format!("the {} of the {}", if moment { "moment" } else { "load" }, thing.words.said);
        found.add(&SaidTwice { what, first: first.span, again: parts.span });
    }
    let mut all = before.unwrap_or(Carried {
        pull: None,
        moment: None,
        written: String::new(),
        span: parts.span,
    });
    if !all.written.is_empty() {
        all.written.push_str(" and ");
    }
    all.written.push_str(&written);
    all.span = all.span.to(parts.span);
    all.pull = pull.or(all.pull);
    all.moment = if moment { Some(much) } else { all.moment };
    thing.fastening.carries = Some(all);
    true
}

fn positive(
    limit: &Limit,
    reader: Reader<'_>,
    (kind, said): (&str, &str),
    found: &mut Findings,
) -> Option<Exact> {
    let read = reader.limit(limit, reader.units().kind_named(kind), found)?;
    let one = read.range.single().filter(|one| one.is_positive()).cloned();
    if one.is_none() {
        let why = format!("one {said} above nought is meant");
        found.add(&impossible(&read.written, limit, why));
    }
    one
}

/// `evenly`, `at 60 mm off the middle`, `at 60 x 0 mm off the middle`
fn way(
    parts: &mut Parts<'_>,
    reader: Reader<'_>,
    thing: &ModelThing,
    found: &mut Findings,
) -> Option<At> {
    if parts.says(&["evenly"]) {
        return Some(At::Middle);
    }
    if parts.done() {
        found.add(&SaysTooLittle {
            what: format!("the load of the {}", thing.words.said),
            lacks: "not how they share it",
            span: parts.span,
            consequence: "the one that bears most is not found, and the joint may open there",
            mend: "write “shared evenly” where it pulls in their middle, or “shared at 60 mm off the middle”",
        });
    }
    if !parts.says(&["at"]) {
        return None;
    }
    let mut ahead = *parts;
    let first = ahead.limit()?;
    let at = if ahead.ahead().is_some_and(|word| word.text == "x") {
        pair(parts, reader, found).map(|(right, down)| At::Place(right, down))
    } else {
        *parts = ahead;
        length(first, reader, found).map(At::Around)
    };
    let off = parts.says(&["off", "the", "middle"]) || parts.says(&["off", "middle"]);
    if !off && at.is_some() && parts.done() {
        found.add(&SaysTooLittle {
            what: format!("the load of the {}", thing.words.said),
            lacks: "not from where that is measured",
            span: parts.span,
            consequence: "the one that bears most is not found, and the joint may open there",
            mend: "write “off the middle” behind it: shared at 60 mm off the middle",
        });
    }
    at.filter(|_| off)
}

/// The load of a set and what comes of it; `Err` says why nobody can tell that.
pub(in crate::world) fn of(thing: &ModelThing) -> Option<Result<Carries, WhyNotShared>> {
    let said = thing.fastening.carries.as_ref()?;
    let each = matches!(said.pull, Some(Pull::Each(_))) && said.moment.is_none();
    let count = match thing.count {
        Some(count) => count,
        None if each => 1,
        None => return Some(Err(WhyNotShared::HowMany)),
    };
    let load = Load {
        pull: said.pull.clone().unwrap_or_else(|| Pull::Each(Exact::default())),
        moment: said.moment.clone().unwrap_or_default(),
        count,
        stand: pattern::stand(thing),
        written: said.written.clone(),
        span: said.span,
    };
    Some(match load.share() {
        Ok(share) => Ok(Carries { load, share }),
        Err(why) => Err(why.into()),
    })
}

/// Says where a load cannot be shared.
pub(super) fn check(thing: &ModelThing, found: &mut Findings) {
    // A pattern in which they cannot stand is told by itself.
    let sound = !thing.fastening.refused && !matches!(pattern::of(thing), Some(Err(_)));
    if let (Some(Err(why)), Some(said), true) = (of(thing), &thing.fastening.carries, sound) {
        let (thing, load, span) = (thing.words.said.clone(), said.written.clone(), said.span);
        let moment = !matches!(said.pull, Some(Pull::Whole(..)));
        found.add(&LoadNotShared { thing, load, span, why, moment });
    }
}

//! How a load comes to each of the fasteners, as it is told: what is given, how it is shared, and what is assumed of it.

use super::dress::Dress;
use super::{Figure, Given, Worked};
use crate::proved::Assumption;
use locknut_graph::{At, Carries, Lever, Load, Pull, Share, Stand, Tightening};
use locknut_quantity::{Exact, Rounding};
use num_traits::{Signed, Zero};

/// Of an even share.
const EVENLY: &str = "shared evenly: assumed, for parts that do not bend";
/// Where the formula comes from.
const GROUPS: &str = "bolt groups, as textbooks of machine design have them (Shigley; from memory)";

/// What a load is told with.
pub(super) fn given(of: &Tightening, dress: Dress<'_>) -> Vec<Given> {
    let Some(Carries { load, .. }) = &of.carries else { return Vec::new() };
    let declared = |symbol: &str, what: &str, figure: Figure| Given {
        symbol: symbol.to_owned(),
        what: what.to_owned(),
        figure,
        source: "as declared with them".to_owned(),
    };
    let force = |force: &Exact| dress.declared_force(force, Rounding::Up);
    let mut all = Vec::new();
    match &load.pull {
        Pull::Each(each) if each.is_positive() => {
            let symbol = if load.tips() { "FE" } else { "FA" };
            all.push(declared(symbol, "load along each of them, at most", force(each)));
        }
        Pull::Each(_) => {}
        Pull::Whole(whole, at) => {
            all.push(declared("FJ", "load on all of them together, at most", force(whole)));
            all.extend(
                off_middle(at, dress)
                    .map(|off| declared("a", "how far off their middle it pulls", off)),
            );
        }
    }
    if load.moment.is_positive() {
        let moment = dress.declared_torque(&load.moment, Rounding::Up);
        all.push(declared("MJ", "moment that tips the joint, whichever way", moment));
    }
    if let Stand::Circle(radius) = &load.stand
        && load.tips()
    {
        all.push(declared(
            "r",
            "radius of the circle on which they stand",
            dress.declared_length(radius),
        ));
    }
    all
}

fn off_middle(at: &At, dress: Dress<'_>) -> Option<Figure> {
    match at {
        At::Middle => None,
        At::Around(off) => Some(dress.declared_length(off)),
        At::Place(right, down) => {
            let (right, down) = (dress.declared_length(right), dress.declared_length(down));
            let said = format!("{} to the right, {} down", right.said(), down.said());
            let rounded = right.rounded || down.rounded;
            Some(Figure { numbers: vec![said], unit: String::new(), rounded })
        }
    }
}

/// How it is shared; nothing where each is said to bear it.
pub(super) fn worked(of: &Tightening, dress: Dress<'_>) -> Option<Worked> {
    let Carries { load, share } = of.carries.as_ref()?;
    let force = |force: &Exact| dress.declared_force(force, Rounding::Up).said();
    let (even, even_numbers) = match &load.pull {
        Pull::Each(_) if !load.tips() => return None,
        Pull::Each(each) if each.is_positive() => ("FE", force(each)),
        Pull::Each(_) => ("", String::new()),
        Pull::Whole(whole, _) => ("FJ/n", format!("{} / {}", force(whole), load.count)),
    };
    let lever = share.worst.and_then(|worst| load.lever(worst));
    let (of_tipping, by_tipping) = match lever {
        _ if !load.tips() => (String::new(), String::new()),
        Some(lever) => by_lever(load, &lever, dress),
        None => (tipping(load).to_owned(), tipping_numbers(load, share, dress)),
    };
    let sum = |parts: [&str; 2]| {
        parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" + ")
    };
    let what = match share.worst {
        Some(at) => format!("load along number {} of them, which bears most", at + 1),
        None if load.tips() => "load along the one that bears most".to_owned(),
        None => "load along each of them".to_owned(),
    };
    Some(Worked {
        symbol: "FA".to_owned(),
        what,
        formula: sum([even, &of_tipping]),
        numbers: sum([&even_numbers, &by_tipping]),
        figure: dress.force(&share.all(), Rounding::Up),
        source: if load.tips() { GROUPS } else { EVENLY }.to_owned(),
    })
}

/// What comes of tipping where both axes can be told apart, in symbols and in numbers: `x` and `y` are how far the one
/// that bears most stands from the middle of all.
fn by_lever(load: &Load, lever: &Lever, dress: Dress<'_>) -> (String, String) {
    let length = |length: &Exact| {
        let said = dress.declared_length(length).said();
        if length.is_negative() { format!("({said})") } else { said }
    };
    let squares = |sum: &Exact| dress.area(sum).said();
    let (x, y) = (length(&lever.right), length(&lever.down));
    let (xx, yy) = (squares(&lever.squares_right), squares(&lever.squares_down));
    let (mut formula, mut numbers) = (Vec::new(), Vec::new());
    let mut around: Vec<(&str, String)> = Vec::new();
    if let Pull::Whole(force, at) = &load.pull {
        let force = dress.declared_force(force, Rounding::Up).said();
        match at {
            At::Middle => {}
            At::Around(off) => around.push(("FJ a", format!("{force} × {}", length(off)))),
            At::Place(right, down) => {
                for (off, symbols, lever) in [
                    (right, "FJ ax x/Σx²", format!("{x} / {xx}")),
                    (down, "FJ ay y/Σy²", format!("{y} / {yy}")),
                ] {
                    if !off.is_zero() {
                        formula.push(symbols.to_owned());
                        numbers.push(format!("{force} × {} × {lever}", length(off)));
                    }
                }
            }
        }
    }
    if load.moment.is_positive() {
        around.push(("MJ", dress.declared_torque(&load.moment, Rounding::Up).said()));
    }
    let joined = |parts: Vec<String>| {
        let several = parts.len() > 1;
        let sum = parts.join(" + ");
        if several { format!("({sum})") } else { sum }
    };
    if !around.is_empty() {
        let symbols = joined(around.iter().map(|(symbol, _)| (*symbol).to_owned()).collect());
        let figures = joined(around.into_iter().map(|(_, figure)| figure).collect());
        formula.push(format!("{symbols} √((x/Σx²)² + (y/Σy²)²)"));
        numbers.push(format!("{figures} × √(({x} / {xx})² + ({y} / {yy})²)"));
    }
    (formula.join(" + "), numbers.join(" + "))
}

/// What comes of tipping, in symbols.
fn tipping(load: &Load) -> &'static str {
    let whole = matches!(load.pull, Pull::Whole(_, At::Place(..) | At::Around(_)));
    match (&load.stand, whole, load.moment.is_positive()) {
        (Stand::Circle(_), true, true) => "2 (FJ a + MJ) / (n r)",
        (Stand::Circle(_), true, false) => "2 FJ a / (n r)",
        (Stand::Circle(_), false, _) => "2 MJ / (n r)",
        (Stand::Places(_) | Stand::Unknown, true, true) => "(FJ a + MJ) r / Σr²",
        (Stand::Places(_) | Stand::Unknown, true, false) => "FJ a r / Σr²",
        (Stand::Places(_) | Stand::Unknown, false, _) => "MJ r / Σr²",
    }
}

/// The same with its numbers: on a circle all of them, else what comes of the places, which stand in the model.
fn tipping_numbers(load: &Load, share: &Share, dress: Dress<'_>) -> String {
    let part = dress.force(&share.by_tipping, Rounding::Up).said();
    let Stand::Circle(radius) = &load.stand else {
        return format!("{part} (from the places, unrounded)");
    };
    let moment = |moment: &Exact| dress.declared_torque(moment, Rounding::Up).said();
    let length = |length: &Exact| dress.declared_length(length).said();
    let pull = match &load.pull {
        Pull::Whole(force, At::Around(off)) => {
            let force = dress.declared_force(force, Rounding::Up).said();
            Some(format!("{force} × {}", length(off)))
        }
        // How far off it pulls is a root: the numbers beside it would be rounded.
        Pull::Whole(_, At::Place(..)) => {
            return format!("{part} (unrounded, with a from both sides of it)");
        }
        Pull::Whole(_, At::Middle) | Pull::Each(_) => None,
    };
    let own = load.moment.is_positive().then(|| moment(&load.moment));
    let both = match (pull, own) {
        (Some(pull), Some(own)) => format!("({pull} + {own})"),
        (Some(one), None) | (None, Some(one)) => one,
        (None, None) => return part,
    };
    format!("2 × {both} / ({} × {})", load.count, length(radius))
}

/// What is taken for granted of a load that several share.
pub(crate) fn assumed(of: &Tightening) -> Option<Assumption> {
    let Carries { load, .. } = of.carries.as_ref()?;
    let thing = &of.thing.said;
    let what = match &load.pull {
        // A moment alone pulls nowhere: there is nothing to share evenly.
        Pull::Each(each) if load.tips() && !each.is_positive() => format!(
            "of {} each of the {thing} bears as much as it stands away from their middle: the parts stay plane, and nothing pries",
            load.written
        ),
        _ if load.tips() => format!(
            "of {} each of the {thing} bears its even share, and as much more as it stands away from their middle: the parts stay plane, and nothing pries",
            load.written
        ),
        Pull::Each(_) => return None,
        Pull::Whole(..) => format!(
            "the {thing} bear {}: the parts do not bend, and it pulls in the middle of them",
            load.written
        ),
    };
    Some(Assumption { what, said: load.span })
}

//! Lines that are proposed inside a block or a subtask that is done at one point after the other: they are said as an
//! author writes them there, not for the point at which the fault was found.

use locknut_finding::{Change, Span};
use locknut_meaning::{Model, World};
use locknut_syntax::tree::{Declaration, Item, Procedure, Tree};

/// A stretch of source that is laid at several points.
pub(super) struct Laid {
    inside: Span,
    points: Vec<String>,
    /// How a line in it says its point; none: not at all.
    said: Option<String>,
}

/// The stretches of a file that are laid at several points, the outer ahead of the inner.
pub(super) fn laid_at_points(tree: &Tree, world: &World) -> Vec<Laid> {
    let mut all = Vec::new();
    for declaration in &tree.declarations {
        let Declaration::Procedure(procedure) = declaration else { continue };
        all.extend(subtask(procedure, world));
        let mut left: Vec<&Item> = procedure.items.iter().collect();
        while let Some(item) = left.pop() {
            left.extend(item.inside());
            if let Item::AtEach { point, of, span, .. } = item {
                let said = Some(point.text.clone());
                all.push(Laid { inside: *span, points: points_of(world, &of.text), said });
            }
        }
    }
    all.sort_by_key(|laid| (laid.inside.start, std::cmp::Reverse(laid.inside.end)));
    all
}

/// A subtask on an assembly that stands at points: a line in it says none.
fn subtask(procedure: &Procedure, world: &World) -> Option<Laid> {
    let on = procedure.on.as_ref().filter(|_| procedure.keyword.text == "subtask")?;
    let points = points_of(world, &on.text);
    (!points.is_empty()).then_some(Laid { inside: procedure.span, points, said: None })
}

fn points_of(world: &World, name: &str) -> Vec<String> {
    let models = world.models.values();
    let own = models.filter_map(|model| model.points.get(name).or_else(|| model.placed.get(name)));
    own.flatten().cloned().collect()
}

/// The change as it is said where it is made; none where it says no point of such a stretch.
pub(super) fn said_there(change: &Change, laid: &[Laid]) -> Option<Change> {
    Some(match change {
        Change::Ahead(at, line) => Change::Ahead(*at, line_there(*at, line, laid)?),
        Change::Behind(at, line) => Change::Behind(*at, line_there(*at, line, laid)?),
        Change::Last(of, line) => Change::Last(*of, line_there(*of, line, laid)?),
        Change::Put(at, text) => Change::Put(*at, line_there(*at, text, laid)?),
        Change::MoveAhead(..) | Change::MoveBehind(..) | Change::Away(..) | Change::Bind(..) => {
            return None;
        }
    })
}

/// Whether a change speaks of nothing that the procedure around it cannot see: one on an assembly knows the assembly alone.
pub(super) fn can_be_said(change: &Change, tree: &Tree, world: &World) -> bool {
    let (at, line) = match change {
        Change::Ahead(at, line)
        | Change::Behind(at, line)
        | Change::Last(at, line)
        | Change::Put(at, line) => (*at, line),
        // What one procedure or subtask does is not left to another.
        Change::MoveAhead(what, of) | Change::MoveBehind(what, of) => {
            return tree.declarations.iter().any(|declaration| {
                matches!(declaration, Declaration::Procedure(one)
                    if inside(*what, one.span) && inside(*of, one.span))
            });
        }
        Change::Away(..) | Change::Bind(..) => return true,
    };
    let around = tree.declarations.iter().find_map(|declaration| match declaration {
        Declaration::Procedure(one) if inside(at, one.span) => one.on.as_ref(),
        Declaration::Procedure(_)
        | Declaration::Model(_)
        | Declaration::Thing(_)
        | Declaration::Limit { .. }
        | Declaration::Vocabulary(_) => None,
    });
    let Some(own) = around.and_then(|on| world.models.get(&on.text)) else { return true };
    let has = |model: &Model, word: &str| {
        model.variable_named.contains_key(word) || model.points.contains_key(word)
    };
    line.split_whitespace()
        .all(|word| has(own, word) || !world.models.values().any(|other| has(other, word)))
}

fn inside(inner: Span, outer: Span) -> bool {
    inner.file == outer.file && outer.start <= inner.start && inner.end <= outer.end
}

fn line_there(at: Span, line: &str, laid: &[Laid]) -> Option<String> {
    let around = |laid: &&Laid| {
        let inside = laid.inside;
        inside.file == at.file && inside.start <= at.start && at.end <= inside.end
    };
    let innermost = laid.iter().rev().find(around)?;
    let said = innermost.said.as_ref().map_or_else(String::new, |name| format!(" at {name}"));
    let point = innermost.points.iter().map(|point| format!(" at {point}")).find(|written| {
        line.ends_with(written.as_str()) || line.contains(&format!("{written} "))
    })?;
    Some(match line.strip_suffix(point.as_str()) {
        Some(rest) => format!("{rest}{said}"),
        None => line.replace(&format!("{point} "), &format!("{said} ")),
    })
}

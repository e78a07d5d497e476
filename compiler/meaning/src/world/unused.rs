//! What is declared and never named again.

use super::World;
use super::declared::Declared;
use super::listed::Said;
use crate::findings::names::NeverUsed;
use locknut_finding::Findings;
use locknut_syntax::tree::{ModelItem, Name};
use std::collections::BTreeSet;

/// Warns of values, limits, templates, instruments, tools and consumables that no line names.
///
/// Only once there is a procedure that could: a model in the making is not scolded.
pub(super) fn never_used(
    said: &[&Said],
    declared: &Declared<'_>,
    world: &World,
    found: &mut Findings,
) {
    let unread = said.iter().any(|one| one.broken) || declared.models.iter().any(|one| one.broken);
    if unread || declared.procedures.is_empty() {
        return;
    }
    let mut unused: Vec<(&str, &Name)> = Vec::new();
    unused.extend(declared.limits.iter().map(|line| (line.keyword.text.as_str(), line.name)));
    unused.extend(declared.templates.iter().map(|template| ("template", &template.name)));
    unused.extend(declared.things.iter().map(|thing| (thing.keyword.text.as_str(), &thing.name)));
    // What could not be read has a finding already, and is mended first.
    unused.retain(|(_, name)| !world.broken.contains(&name.text));
    let worked_on: BTreeSet<&str> = declared
        .procedures
        .iter()
        .filter_map(|procedure| procedure.heading.on.as_ref().map(|on| on.text.as_str()))
        .collect();
    for model in declared.models.iter().filter(|model| worked_on.contains(model.name.text.as_str()))
    {
        for item in &model.items {
            if let ModelItem::Limit { keyword, name, .. } = item {
                unused.push((&keyword.text, name));
            }
        }
    }
    let mut left: BTreeSet<&str> = unused.iter().map(|(_, name)| name.text.as_str()).collect();
    for name in said.iter().flat_map(|said| said.mentioned.split(' ')) {
        if left.is_empty() {
            break;
        }
        left.remove(name);
    }
    for (what, name) in unused {
        if left.contains(name.text.as_str()) {
            let (what, name, span) = (what.to_owned(), name.text.clone(), name.span);
            found.add(&NeverUsed { what, name, span });
        }
    }
}

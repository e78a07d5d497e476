//! What is declared and never named again.

use super::declared::Declared;
use super::mentions::mentions;
use crate::findings::names::NeverUsed;
use locknut_finding::{FileId, Findings};
use locknut_syntax::tree::{ModelItem, Name, Tree};
use std::collections::BTreeSet;

/// Warns of values, limits, instruments, tools and consumables that no line names.
///
/// Only once there is a procedure that could: a model in the making is not scolded.
pub(super) fn never_used(trees: &[(FileId, Tree)], declared: &Declared<'_>, found: &mut Findings) {
    let unread = declared.procedures.iter().any(|one| one.broken)
        || declared.models.iter().any(|one| one.broken)
        || trees.iter().any(|(_, tree)| tree.broken);
    if unread || declared.procedures.is_empty() {
        return;
    }
    let mentioned = mentions(trees);
    let mut tell = |what: &str, name: &Name| {
        if !mentioned.contains(name.text.as_str()) {
            let (what, name, span) = (what.to_owned(), name.text.clone(), name.span);
            found.add(&NeverUsed { what, name, span });
        }
    };
    for line in &declared.limits {
        tell(&line.keyword.text, line.name);
    }
    for thing in &declared.things {
        tell(&thing.keyword.text, &thing.name);
    }
    let worked_on: BTreeSet<&str> = declared
        .procedures
        .iter()
        .filter_map(|procedure| procedure.on.as_ref().map(|on| on.text.as_str()))
        .collect();
    for model in declared.models.iter().filter(|model| worked_on.contains(model.name.text.as_str()))
    {
        for item in &model.items {
            if let ModelItem::Limit { keyword, name, .. } = item {
                tell(&keyword.text, name);
            }
        }
    }
}

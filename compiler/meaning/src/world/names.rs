//! Which names are taken.

use crate::findings::names::DoubledName;
use locknut_finding::{Findings, Span};
use locknut_syntax::tree::Name;
use std::collections::BTreeMap;

/// Names and where they were first declared, in groups that do not meet.
#[derive(Debug, Default)]
pub(super) struct Names {
    taken: BTreeMap<(String, String), Span>,
}

impl Names {
    /// Takes a name; where it is taken already, says so and gives `false`.
    pub(super) fn fresh(
        &mut self,
        group: &str,
        what: &str,
        name: &Name,
        found: &mut Findings,
    ) -> bool {
        let key = (group.to_owned(), name.text.clone());
        if let Some(first) = self.taken.get(&key) {
            let (first, again) = (*first, name.span);
            found.add(&DoubledName {
                what: what.to_owned(),
                name: name.text.clone(),
                first,
                again,
            });
            return false;
        }
        self.taken.insert(key, name.span);
        true
    }
}

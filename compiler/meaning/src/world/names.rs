//! Which names are taken.

use crate::findings::names::{DoubledName, SaidTwice};
use locknut_finding::{Findings, Span};
use locknut_syntax::tree::Name;
use std::collections::BTreeMap;

/// Names and where they were first declared, in groups that do not meet.
#[derive(Debug, Default)]
pub(super) struct Names {
    taken: BTreeMap<String, BTreeMap<String, Span>>,
}

impl Names {
    /// Takes a name; where it stands for something already, says so and gives `false`.
    pub(super) fn fresh(
        &mut self,
        group: &str,
        what: &str,
        name: &Name,
        found: &mut Findings,
    ) -> bool {
        let Some(first) = self.take(group, &name.text, name.span) else { return true };
        let (what, again) = (what.to_owned(), name.span);
        found.add(&DoubledName { what, name: name.text.clone(), first, again });
        false
    }

    /// Takes something that can be said once; where it was said before, says so and gives `false`.
    pub(super) fn once(&mut self, what: String, span: Span, found: &mut Findings) -> bool {
        let Some(first) = self.take("", &what, span) else { return true };
        found.add(&SaidTwice { what, first, again: span });
        false
    }

    /// Where it was taken before; none: it is now.
    fn take(&mut self, group: &str, name: &str, span: Span) -> Option<Span> {
        if let Some(taken) = self.taken.get_mut(group) {
            if let Some(first) = taken.get(name) {
                return Some(*first);
            }
            taken.insert(name.to_owned(), span);
        } else {
            self.taken.insert(group.to_owned(), BTreeMap::from([(name.to_owned(), span)]));
        }
        None
    }
}

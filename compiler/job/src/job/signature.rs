//! Names that are put to the work.

use super::{Job, Refused};
use crate::evaluate::Taken;
use locknut_graph::{ActKind, Node, NodeId};

impl Job<'_> {
    /// The proof takes people of two roles for two people, a `sign … independent of` above all: so one name cannot stand
    /// for both.
    pub(super) fn signs_once(&self, node: NodeId, name: &str) -> Result<(), Refused> {
        let signed_as = |node: &Node| Some(node.act()?.signed_as()?.said.clone());
        let Some(wanted) = signed_as(self.graph.node(node)) else { return Ok(()) };
        let same = |node: &&Node| {
            let Some(ActKind::Record { reading }) = node.act().map(|act| &act.kind) else {
                return false;
            };
            let Some(Taken::Text(taken)) = self.readings.get(reading) else { return false };
            plain(taken) == plain(name)
        };
        let mut roles = self.graph.flow.node_weights().filter(same).filter_map(signed_as);
        match roles.find(|role| *role != wanted) {
            Some(role) => Err(Refused::SignedAs { name: name.trim().to_owned(), role, wanted }),
            None => Ok(()),
        }
    }
}

/// A name whatever its capitals and blanks.
fn plain(name: &str) -> String {
    let words: Vec<String> = name.split_whitespace().map(str::to_lowercase).collect();
    words.join(" ")
}

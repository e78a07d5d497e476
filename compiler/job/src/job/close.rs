//! Entries of the record, and its end.

use super::{Ask, Job};
use crate::record::{Entry, Record, RecordEnd, ValueEntry};
use locknut_graph::{End, NodeId, NodeKind, Prose, VariableId, Way};

impl Job<'_> {
    pub(super) fn note(
        &mut self,
        node: NodeId,
        what: &str,
        name: &str,
        values: Vec<ValueEntry>,
        way: Way,
        at: &str,
    ) {
        let noting = self
            .graph
            .follow(node, way)
            .and_then(|(edge, _)| edge.noting.as_ref())
            .map(|noting| self.told(noting, Some(node), &values));
        let mut entry = Self::entry(
            &self.step_number(node),
            Some(node),
            what,
            name,
            values,
            &way_word(way),
            at,
        );
        entry.noting = noting;
        self.record.add(entry);
    }

    /// A text with the readings that it speaks of, as they were entered: the one that is taken now, or those before.
    /// At two points two are read by one name, so they go by their acts.
    fn told(&self, text: &Prose, now: Option<NodeId>, values: &[ValueEntry]) -> String {
        text.written_with(|id| {
            let takes = |node: NodeId| self.graph.node(node).act()?.kind.reading();
            if now.and_then(takes) == Some(id) && !values.is_empty() {
                return Some(entered(values));
            }
            let taken = |entry: &&Entry| {
                entry.node.and_then(|node| takes(NodeId::new(node))) == Some(id)
                    && !entry.values.is_empty()
            };
            self.record.entries.iter().rev().find(taken).map(|entry| entered(&entry.values))
        })
    }

    /// A reading that a guarded limit could not decide: no way is taken.
    pub(super) fn note_undecided(
        &mut self,
        node: NodeId,
        what: &str,
        name: &str,
        values: Vec<ValueEntry>,
        at: &str,
    ) {
        let step = self.step_number(node);
        self.record.add(Self::entry(&step, Some(node), what, name, values, "undecided", at));
    }

    fn step_number(&self, node: NodeId) -> String {
        let step = self.graph.node(node).step;
        step.map(|step| self.graph.step(step).number.clone()).unwrap_or_default()
    }

    pub(super) fn entry(
        step: &str,
        node: Option<NodeId>,
        what: &str,
        name: &str,
        values: Vec<ValueEntry>,
        way: &str,
        at: &str,
    ) -> Entry {
        Entry {
            number: 0,
            at: at.into(),
            step: step.into(),
            node: node.map(NodeId::index),
            what: what.into(),
            name: name.into(),
            values,
            way: way.into(),
            noting: None,
            before: String::new(),
            hash: String::new(),
        }
    }

    /// Closes the record of a job that has ended.
    pub fn finish(mut self) -> Record {
        if let Ask::Ended { node } = self.ask()
            && let NodeKind::End(end) = &self.graph.node(node).kind
        {
            let (how, text) = match end {
                End::Done => ("done", String::new()),
                End::Stop { text } => ("stop", self.told(text, None, &[])),
                End::Refer { to } => ("refer", self.told(to, None, &[])),
            };
            self.record.end = Some(RecordEnd {
                how: how.into(),
                text,
                stands: self.stands(),
                head: self.record.head(),
            });
        }
        self.record
    }

    /// What is otherwise than normal: variable and value.
    pub fn odd(&self) -> Vec<(VariableId, u8)> {
        let all = (0u16..).map(VariableId).zip(self.graph.variables.iter().zip(&self.values));
        let odd = all.filter(|(_, (variable, value))| {
            variable.kind.of_machine() && variable.normal != **value
        });
        odd.map(|(id, (_, value))| (id, *value)).collect()
    }

    /// The same as name and value, in the words of the source.
    pub fn stands(&self) -> Vec<(String, String)> {
        let named = |(id, value): (VariableId, u8)| {
            let variable = self.graph.variable(id);
            let value = variable.values.get(usize::from(value));
            let value = value.map(|value| value.words.said.clone()).unwrap_or_default();
            (variable.words.said.clone(), value)
        };
        self.odd().into_iter().map(named).collect()
    }
}

/// `left 2.1 mm, right 2.3 mm`
fn entered(values: &[ValueEntry]) -> String {
    let one = |value: &ValueEntry| {
        let parts = [&value.point, &value.text, &value.unit].into_iter();
        parts.filter(|part| !part.is_empty()).map(String::as_str).collect::<Vec<_>>().join(" ")
    };
    values.iter().map(one).collect::<Vec<_>>().join(", ")
}

pub(super) fn value_entry(point: &str, text: &str, unit: &str) -> ValueEntry {
    ValueEntry { point: point.into(), text: text.into(), unit: unit.into() }
}

/// The way by its word, as the record and the step graph's JSON spell it.
fn way_word(way: Way) -> String {
    match way {
        Way::Next => "next".into(),
        Way::Accepted => "accepted".into(),
        Way::Otherwise => "otherwise".into(),
        Way::Arm(arm) => format!("arm {arm}"),
        Way::Child(child) => format!("child {child}"),
        Way::Again => "again".into(),
        Way::Failing => "failing".into(),
    }
}

//! The record of a job: entries that are never changed, each holding the hash of the one before.

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

/// A whole record, as it is saved.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Record {
    /// The version of this shape.
    pub format: String,
    /// The procedure's name.
    pub procedure: String,
    /// Its revision letter.
    pub revision: Option<String>,
    /// SHA-256 of the sources that it was built from.
    pub source: String,
    /// What was done and read, in order.
    pub entries: Vec<Entry>,
    /// How it ended; none while it is open.
    pub end: Option<RecordEnd>,
}

/// One entry.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Entry {
    /// From 1, without gaps.
    pub number: u32,
    /// When, as the caller's clock says it: UTC, `2026-11-25T14:00:00Z`.
    pub at: String,
    /// The step's printed number; empty for the machine's own data.
    pub step: String,
    /// The node in the step graph; none for the machine's own data.
    pub node: Option<usize>,
    /// `machine`, `done`, `confirmed`, `waited`, `read`, `computed`, `chosen`, `child`, `ended`.
    pub what: String,
    /// The reading's name, or what was done.
    pub name: String,
    /// Values as they were typed, with their units.
    pub values: Vec<ValueEntry>,
    /// The way taken: `accepted`, `otherwise`, `arm 1`, `next`, `again`, …; `undecided`: none.
    pub way: String,
    /// What was noted: `go on noting "…"`.
    pub noting: Option<String>,
    /// The hash of the entry before; 64 zeros for the first.
    pub before: String,
    /// SHA-256 over `before` and the entry's own fields; see [`Entry::canonical`].
    pub hash: String,
}

/// One value.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ValueEntry {
    /// The point, or empty.
    pub point: String,
    /// As typed.
    pub text: String,
    /// The unit it was typed in, or empty.
    pub unit: String,
}

/// How a job ended.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RecordEnd {
    /// `done`, `stop` or `refer`.
    pub how: String,
    /// The author's words.
    pub text: String,
    /// How the machine is left: name and value of what is otherwise than normal.
    pub stands: Vec<(String, String)>,
    /// The hash of the last entry: printed with the job, it shows a record cut short.
    pub head: String,
}

impl Record {
    /// An empty record.
    pub fn new(procedure: &str, revision: Option<&str>, source: &str) -> Self {
        Self {
            format: "locknut job record 1".into(),
            procedure: procedure.into(),
            revision: revision.map(str::to_owned),
            source: source.into(),
            entries: Vec::new(),
            end: None,
        }
    }

    /// Adds an entry: numbers it, chains it.
    pub fn add(&mut self, mut entry: Entry) {
        entry.number = u32::try_from(self.entries.len() + 1).unwrap_or(u32::MAX);
        entry.before = self.head();
        entry.hash = entry.digest();
        self.entries.push(entry);
    }

    /// The hash of the last entry.
    pub fn head(&self) -> String {
        self.entries.last().map_or_else(|| "0".repeat(64), |entry| entry.hash.clone())
    }

    /// The first entry that was altered, doubled, moved or follows a gap.
    pub fn broken(&self) -> Option<u32> {
        let mut before = "0".repeat(64);
        for (position, entry) in (1u32..).zip(&self.entries) {
            if entry.number != position || entry.before != before || entry.hash != entry.digest() {
                return Some(position);
            }
            before.clone_from(&entry.hash);
        }
        None
    }
}

impl Entry {
    /// The bytes that are hashed: every field in a fixed order, each with its length in bytes ahead
    /// of it (`2:12 `), so that two different entries never give the same bytes.
    pub fn canonical(&self) -> String {
        let mut text = String::new();
        let mut field = |value: &str| text.extend([&value.len().to_string(), ":", value, " "]);
        field(&self.before);
        field(&self.number.to_string());
        field(&self.at);
        field(&self.step);
        field(&self.node.map(|node| node.to_string()).unwrap_or_default());
        field(&self.what);
        field(&self.name);
        field(&self.values.len().to_string());
        for value in &self.values {
            field(&value.point);
            field(&value.text);
            field(&value.unit);
        }
        field(&self.way);
        field(self.noting.as_deref().unwrap_or_default());
        text
    }

    fn digest(&self) -> String {
        Sha256::digest(self.canonical())
            .iter()
            .fold(String::new(), |all, byte| all + &format!("{byte:02x}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entry(name: &str) -> Entry {
        Entry {
            number: 0,
            at: "2026-11-25T14:00:00Z".into(),
            step: "1".into(),
            node: Some(3),
            what: "done".into(),
            name: name.into(),
            values: Vec::new(),
            way: "next".into(),
            noting: None,
            before: String::new(),
            hash: String::new(),
        }
    }

    fn ten() -> Record {
        let mut record = Record::new("slew-brake-gap", Some("D"), "abc");
        for number in 0..10 {
            record.add(entry(&format!("act {number}")));
        }
        record
    }

    /// Altering, dropping (but the last), doubling or swapping an entry is found where it is
    /// (common design of hash chains; the positions are worked out by hand).
    #[test]
    fn tampering_is_found() {
        assert_eq!(ten().broken(), None);
        for at in 0..10 {
            let mut altered = ten();
            altered.entries[at].name.push('!');
            assert_eq!(altered.broken(), Some(u32::try_from(at).unwrap() + 1));
        }
        for at in 0..9 {
            let mut dropped = ten();
            dropped.entries.remove(at);
            assert_eq!(dropped.broken(), Some(u32::try_from(at).unwrap() + 1));
            let mut swapped = ten();
            swapped.entries.swap(at, at + 1);
            assert_eq!(swapped.broken(), Some(u32::try_from(at).unwrap() + 1));
        }
        let mut doubled = ten();
        doubled.entries.insert(4, doubled.entries[4].clone());
        assert_eq!(doubled.broken(), Some(6));
    }

    /// Fields carry their lengths: moving a letter from one field to the next changes the bytes.
    #[test]
    fn fields_do_not_run_together() {
        let mut one = entry("ab");
        one.way = "c".into();
        let mut other = entry("a");
        other.way = "bc".into();
        assert_ne!(one.canonical(), other.canonical());
    }

    /// FIPS 180-4, Appendix: SHA-256("abc").
    #[test]
    fn sha256_as_published() {
        let hash = Sha256::digest("abc")
            .iter()
            .fold(String::new(), |all, byte| all + &format!("{byte:02x}"));
        assert_eq!(hash, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }
}

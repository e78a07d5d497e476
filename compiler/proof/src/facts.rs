//! What the walk found out besides faults: what the sheet must say and where.

use crate::sums::Sum;
use locknut_graph::{Expression, HazardPlace, NodeId, StepId, VariableId, Words};
use locknut_quantity::{Exact, Quantity, Range};
use num_bigint::BigUint;
use std::collections::{BTreeMap, BTreeSet};

/// Steps at whose end the machine may not be left: with the variables that make it so, and their values.
pub type NotLeft = BTreeMap<StepId, BTreeMap<VariableId, BTreeSet<u8>>>;

/// Facts of one procedure.
#[derive(Clone, Debug, Default)]
pub struct Facts {
    /// Where each hazard is printed.
    pub hazards: Vec<HazardPlace>,
    /// Steps at whose end the machine may not be left on some path, though the job goes on, each with how the machine
    /// then stands that makes it so.
    pub do_not_leave: NotLeft,
    /// At the start of each step, the variables that may be otherwise than normal, with the values
    /// they may have.
    pub standing: BTreeMap<StepId, BTreeMap<VariableId, BTreeSet<u8>>>,
    /// At each `stop`, `refer` and `done`, how the machine may stand: values other than normal.
    pub left_at: BTreeMap<NodeId, BTreeMap<VariableId, BTreeSet<u8>>>,
    /// Look-up rows of each choice, by its node.
    pub choices: BTreeMap<NodeId, ChoiceTable>,
    /// Which members each choice may come to take; wider than what is taken, never narrower.
    pub may_take: BTreeMap<NodeId, Vec<usize>>,
    /// Which rows of each choice by rows a fitter may come to; as wide.
    pub rows_met: BTreeMap<NodeId, Vec<usize>>,
    /// What is accepted at each reading, where a table gives the limit; by its node.
    pub limit_rows: BTreeMap<NodeId, Vec<LimitRow>>,
    /// What was reckoned at its acts.
    pub sums: Vec<Sum>,
    /// Working time over all steps on the plain way through, shortest, likely and longest.
    pub time: Time,
    /// How many ways lead to *done*; none where they are too many to count, or none does.
    pub ways: Option<Ways>,
    /// What was covered.
    pub covered: Covered,
    /// Nodes that some path reaches.
    pub reached: BTreeSet<NodeId>,
}

/// What to take for which reading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChoiceTable {
    /// What it goes by: a reading, one of its points, or what is worked out of several.
    pub by: Expression,
    /// From the least reading that may come to the greatest, without a gap.
    pub rows: Vec<ChoiceRow>,
}

/// From reading to reading (both on the instrument's own digits), take this member.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChoiceRow {
    /// The least reading of the row, in base units.
    pub from: Quantity,
    /// The greatest.
    pub to: Quantity,
    /// Position in the choice's set; none: nothing fits, the `otherwise` is taken.
    pub member: Option<usize>,
}

/// At this reading, on the instrument's own digits, this is accepted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LimitRow {
    /// The reading.
    pub at: Quantity,
    /// What is accepted, in base units.
    pub range: Range,
}

/// Times in seconds.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Time {
    /// Shortest, likely, longest from start to *done* with no outcome taken, waits included.
    pub elapsed: Option<(Exact, Exact, Exact)>,
    /// Of which nobody is at work.
    pub waits: Exact,
    /// The mean of the elapsed time, by three-point estimates along the longest path.
    pub mean: Exact,
    /// Its variance, in square seconds.
    pub variance: Exact,
    /// Working time of each of the crew who is named, likely.
    pub work: BTreeMap<Words, Exact>,
    /// Working time that anybody of the crew may do, likely.
    pub anyone: Exact,
    /// The fewest people who can do it.
    pub least_crew: usize,
    /// Steps that say no time.
    pub untimed: usize,
}

/// How many ways lead to *done*, as the procedure is written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ways {
    /// By answers, readings, rounds and variants.
    pub ways: BigUint,
    /// The most orders that the freed steps and the people side by side of one way can come in.
    pub orders: BigUint,
    /// Acts on the shortest and on the longest way.
    pub acts: (usize, usize),
}

/// What was covered by the proof, told in one line by `check`.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Covered {
    /// Acts that some path reaches.
    pub acts: usize,
    /// Ends that some path reaches.
    pub ends: usize,
    /// Assertions and interlocks held at every place.
    pub obligations: usize,
    /// Of them interlocks: rules that hold after every act.
    pub interlocks: usize,
}

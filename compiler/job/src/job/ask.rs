//! Questions, answers, and why an answer is not taken.

use locknut_graph::{NodeId, ReadingId, VariableId, Way};
use locknut_quantity::Exact;

/// What is asked of the person next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Ask {
    /// Which series the machine is of: one of these.
    Series { variable: VariableId, values: Vec<String> },
    /// The machine's serial number.
    Serial { variable: VariableId },
    /// Do it, then tick.
    Tick { node: NodeId },
    /// Wait so long; `since` the end of that step, else from now.
    Wait { node: NodeId, seconds: Exact },
    /// Values, one a point, in the unit of the reading.
    Numbers { node: NodeId, reading: ReadingId, points: usize },
    /// One of the answers.
    Answers { node: NodeId, reading: ReadingId, answers: Vec<String> },
    /// Something to write down.
    Text { node: NodeId, reading: ReadingId },
    /// Nothing is typed: the result is shown and taken.
    Result { node: NodeId, reading: ReadingId },
    /// Which freed child is done next, or who goes on; as they are said.
    Child { node: NodeId, children: Vec<u16>, said: Vec<String> },
    /// The job has ended.
    Ended { node: NodeId },
}

/// What the person answers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answer {
    /// Ticked, waited, or read off.
    Done,
    /// Typed: one text a point.
    Typed(Vec<String>),
    /// The answer's position.
    Picked(usize),
}

/// What came of an answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// The way taken.
    pub way: Way,
    /// A result or chosen member, as a number in the reading's unit with its digits.
    pub result: Option<String>,
}

/// Why an answer is not taken; the job stays where it is.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Refused {
    /// Not a number.
    #[error("“{text}” is not a number")]
    NotANumber { text: String },
    /// The instrument cannot show it.
    #[error("{instrument} cannot show {text}: it shows {range} on its own digits")]
    NotShown { instrument: String, text: String, range: String },
    /// Not what is expected here: look again.
    #[error("{text} is not expected here (expected {range}): measure again")]
    NotExpected { text: String, range: String },
    /// A guarded limit: the true value may lie on either side of it.
    #[error(
        "this is undecided: so near the limit the error of the instrument may make it good or bad. Measure again with a better instrument; the job waits here"
    )]
    Undecided,
    /// The same of a substitute: it is asked again which instrument is used.
    #[error(
        "this is undecided: so near the limit the error of the instrument may make it good or bad. Say again which instrument is used, and take a better one"
    )]
    UndecidedHere,
    /// One name for two people: whoever signs in another role is somebody else.
    #[error(
        "{name} has signed as {role}, and as somebody else nobody signs twice: let the {wanted} sign"
    )]
    SignedAs { name: String, role: String, wanted: String },
    /// Another number of values.
    #[error("{wanted} values are wanted, {given} were given")]
    Count { wanted: usize, given: usize },
    /// Not among the answers, or not the kind of answer that is asked for.
    #[error("that is not one of the answers")]
    NoAnswer,
    /// A reading that this one is worked out from is missing.
    #[error("this cannot be worked out: a reading is missing")]
    Missing,
    /// A machine that the procedure is not for.
    #[error("this procedure is not for that machine")]
    NotFor,
}

//! LN4xx: lines that lead nowhere, acts that are not in their shape.

mod ln402_unknown_step;
mod ln403_unbounded;
mod ln404_never_reached;
mod ln405_calls_itself;
mod ln406_not_done_before;
mod ln407_out_of_freed;
mod ln408_done_in_subtask;
mod ln409_at_the_end_misplaced;
mod ln410_nothing_freed;
mod ln411_other_model;
mod ln412_too_large;
mod ln420_unknown_verb;
mod ln421_clause_does_not_fit;
mod ln422_object_does_not_fit;
mod ln423_not_taken;
mod ln424_block_does_not_fit;
mod ln425_plain_wanted;
mod ln426_changed_by_acts;
mod ln430_bad_header;
mod ln431_no_machine_left;
mod ln434_cannot_be_answered;

pub(crate) use ln402_unknown_step::UnknownStep;
pub(crate) use ln403_unbounded::Unbounded;
pub(crate) use ln404_never_reached::NeverReached;
pub(crate) use ln405_calls_itself::CallsItself;
pub(crate) use ln406_not_done_before::NotDoneBefore;
pub(crate) use ln407_out_of_freed::OutOfFreed;
pub(crate) use ln408_done_in_subtask::DoneInSubtask;
pub(crate) use ln409_at_the_end_misplaced::AtTheEndMisplaced;
pub(crate) use ln410_nothing_freed::NothingFreed;
pub(crate) use ln411_other_model::OtherModel;
pub(crate) use ln412_too_large::TooLarge;
pub(crate) use ln420_unknown_verb::UnknownVerb;
pub(crate) use ln421_clause_does_not_fit::ClauseDoesNotFit;
pub(crate) use ln422_object_does_not_fit::ObjectDoesNotFit;
pub(crate) use ln423_not_taken::NotTaken;
pub(crate) use ln424_block_does_not_fit::BlockDoesNotFit;
pub(crate) use ln425_plain_wanted::PlainWanted;
pub(crate) use ln426_changed_by_acts::ChangedByActs;
pub(crate) use ln430_bad_header::BadHeader;
pub(crate) use ln431_no_machine_left::NoMachineLeft;
pub(crate) use ln434_cannot_be_answered::CannotBeAnswered;

use locknut_finding::{Finding, Page};

/// The pages of this family.
pub(crate) const PAGES: &[Page] = &[
    UnknownStep::PAGE,
    Unbounded::PAGE,
    NeverReached::PAGE,
    CallsItself::PAGE,
    NotDoneBefore::PAGE,
    OutOfFreed::PAGE,
    DoneInSubtask::PAGE,
    AtTheEndMisplaced::PAGE,
    NothingFreed::PAGE,
    OtherModel::PAGE,
    TooLarge::PAGE,
    UnknownVerb::PAGE,
    ClauseDoesNotFit::PAGE,
    ObjectDoesNotFit::PAGE,
    NotTaken::PAGE,
    BlockDoesNotFit::PAGE,
    PlainWanted::PAGE,
    ChangedByActs::PAGE,
    BadHeader::PAGE,
    NoMachineLeft::PAGE,
    CannotBeAnswered::PAGE,
];

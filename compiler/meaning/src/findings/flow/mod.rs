//! `LN4xx`: lines that lead nowhere, acts that are not in their shape.

mod ln409_too_large;
mod ln410_unknown_step;
mod ln411_unbounded;
mod ln412_never_reached;
mod ln413_calls_itself;
mod ln414_not_done_before;
mod ln415_out_of_freed;
mod ln416_done_in_subtask;
mod ln417_at_the_end_misplaced;
mod ln418_nothing_freed;
mod ln419_other_model;
mod ln420_unknown_verb;
mod ln421_clause_does_not_fit;
mod ln422_object_does_not_fit;
mod ln423_not_taken;
mod ln424_block_does_not_fit;
mod ln425_plain_wanted;
mod ln426_changed_by_acts;
mod ln427_stands_nowhere;
mod ln430_bad_header;
mod ln431_no_machine_left;
mod ln434_cannot_be_answered;
mod ln436_broken_off;
mod ln437_two_acts;

pub(crate) use ln409_too_large::TooLarge;
pub(crate) use ln410_unknown_step::UnknownStep;
pub(crate) use ln411_unbounded::Unbounded;
pub(crate) use ln412_never_reached::NeverReached;
pub(crate) use ln413_calls_itself::CallsItself;
pub(crate) use ln414_not_done_before::NotDoneBefore;
pub(crate) use ln415_out_of_freed::OutOfFreed;
pub(crate) use ln416_done_in_subtask::DoneInSubtask;
pub(crate) use ln417_at_the_end_misplaced::AtTheEndMisplaced;
pub(crate) use ln418_nothing_freed::NothingFreed;
pub(crate) use ln419_other_model::OtherModel;
pub(crate) use ln420_unknown_verb::UnknownVerb;
pub(crate) use ln421_clause_does_not_fit::ClauseDoesNotFit;
pub(crate) use ln422_object_does_not_fit::ObjectDoesNotFit;
pub(crate) use ln423_not_taken::NotTaken;
pub(crate) use ln424_block_does_not_fit::BlockDoesNotFit;
pub(crate) use ln425_plain_wanted::PlainWanted;
pub(crate) use ln426_changed_by_acts::ChangedByActs;
pub(crate) use ln427_stands_nowhere::StandsNowhere;
pub(crate) use ln430_bad_header::BadHeader;
pub(crate) use ln431_no_machine_left::NoMachineLeft;
pub(crate) use ln434_cannot_be_answered::CannotBeAnswered;
pub(crate) use ln436_broken_off::BrokenOff;
pub(crate) use ln437_two_acts::TwoActs;

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
    StandsNowhere::PAGE,
    BadHeader::PAGE,
    NoMachineLeft::PAGE,
    CannotBeAnswered::PAGE,
    BrokenOff::PAGE,
    TwoActs::PAGE,
];

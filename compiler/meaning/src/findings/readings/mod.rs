//! `LN3xx`: limits that an instrument cannot decide, arms and choices that leave something open.

mod in_vain;
mod ln219_sorted_as_read;
mod ln220_never_sure;
mod ln221_difference_said_bare;
mod ln222_cancels_out;
mod ln223_doubted_uncertainty;
mod ln224_expected_elsewhere;
mod ln301_no_instrument;
mod ln302_wrong_instrument;
mod ln303_beyond_range;
mod ln304_between_digits;
mod ln305_arms_gap;
mod ln306_arms_overlap;
mod ln307_no_otherwise;
mod ln308_cannot_fail;
mod ln309_cannot_pass;
mod ln310_arm_never_taken;
mod ln311_which_point;
mod ln312_proves_whatever;
mod ln313_choice_gap;
mod ln314_choice_not_shown;
mod ln315_nothing_fits;
mod ln316_no_preference;
mod ln317_unusable_set;
mod ln318_not_yet_read;
mod ln319_words_not_number;
mod ln320_usually_outside;
mod ln321_rests_on_rough;
mod ln322_not_handed_in;
mod ln323_proof_failed;
mod ln324_too_rough;
mod ln325_coarse_for_limit;
mod ln326_nothing_surely_inside;
mod ln327_unguardable;
mod ln328_proved_elsewhere;
mod ln329_same_instrument;
mod ln331_other_figure;
mod ln332_accepts_more;
mod ln333_other_scale;
mod ln334_one_side_only;
mod ln335_answers_otherwise;
mod ln336_nothing_answered;
mod ln337_proved_by_half;
mod ln338_no_common_limit;
mod ln339_shows_no_figure;
mod ln340_no_such_stack;
mod ln341_nothing_stacked;
mod ln342_not_among_sizes;
mod ln343_too_many_sums;
mod ln344_may_hold_nothing;
mod ln345_read_laxer;
mod ln346_one_set_for_several;
mod ln347_end_never_met;
mod ln348_size_never_taken;
mod ln349_row_against_others;
mod ln357_judged_on_one_side;

pub(crate) use in_vain::{accepted_in_vain, nobody_goes_on};
pub(crate) use ln219_sorted_as_read::SortedAsRead;
pub(crate) use ln220_never_sure::NeverSure;
pub(crate) use ln221_difference_said_bare::DifferenceSaidBare;
pub(crate) use ln222_cancels_out::{CancelsOut, TwiceInFold};
pub(crate) use ln223_doubted_uncertainty::DoubtedUncertainty;
pub(crate) use ln224_expected_elsewhere::ExpectedElsewhere;
pub(crate) use ln301_no_instrument::NoInstrument;
pub(crate) use ln302_wrong_instrument::WrongInstrument;
pub(crate) use ln303_beyond_range::BeyondRange;
pub(crate) use ln304_between_digits::BetweenDigits;
pub(crate) use ln305_arms_gap::ArmsGap;
pub(crate) use ln306_arms_overlap::ArmsOverlap;
pub(crate) use ln307_no_otherwise::NoOtherwise;
pub(crate) use ln308_cannot_fail::{CannotFail, DecidesNothing, NeverRefused};
pub(crate) use ln309_cannot_pass::CannotPass;
pub(crate) use ln310_arm_never_taken::{AlwaysFits, ArmNeverTaken, Behind, NeverSo};
pub(crate) use ln311_which_point::WhichPoint;
pub(crate) use ln312_proves_whatever::ProvesWhatever;
pub(crate) use ln313_choice_gap::ChoiceGap;
pub(crate) use ln314_choice_not_shown::ChoiceNotShown;
pub(crate) use ln315_nothing_fits::NothingFits;
pub(crate) use ln316_no_preference::NoPreference;
pub(crate) use ln317_unusable_set::UnusableSet;
pub(crate) use ln318_not_yet_read::NotYetRead;
pub(crate) use ln319_words_not_number::WordsNotNumber;
pub(crate) use ln320_usually_outside::{Usual, UsuallyOutside, UsuallyRefused};
pub(crate) use ln321_rests_on_rough::RestsOnRough;
pub(crate) use ln322_not_handed_in::NotHandedIn;
pub(crate) use ln323_proof_failed::ProofFailed;
pub(crate) use ln324_too_rough::{NeverSurelyBad, OtherSide, TooRough, Weighed};
pub(crate) use ln325_coarse_for_limit::CoarseForLimit;
pub(crate) use ln326_nothing_surely_inside::NothingSurelyInside;
pub(crate) use ln327_unguardable::{Unguardable, Unknown};
pub(crate) use ln328_proved_elsewhere::ProvedElsewhere;
pub(crate) use ln329_same_instrument::SameInstrument;
pub(crate) use ln331_other_figure::OtherFigure;
pub(crate) use ln332_accepts_more::AcceptsMore;
pub(crate) use ln333_other_scale::OtherScale;
pub(crate) use ln334_one_side_only::OneSideOnly;
pub(crate) use ln335_answers_otherwise::AnswersOtherwise;
pub(crate) use ln336_nothing_answered::NothingAnswered;
pub(crate) use ln337_proved_by_half::ProvedByHalf;
pub(crate) use ln338_no_common_limit::NoCommonLimit;
pub(crate) use ln339_shows_no_figure::ShowsNoFigure;
pub(crate) use ln340_no_such_stack::NoSuchStack;
pub(crate) use ln341_nothing_stacked::NothingStacked;
pub(crate) use ln342_not_among_sizes::NotAmongSizes;
pub(crate) use ln343_too_many_sums::TooManySums;
pub(crate) use ln344_may_hold_nothing::MayHoldNothing;
pub(crate) use ln345_read_laxer::ReadLaxer;
pub(crate) use ln346_one_set_for_several::OneSetForSeveral;
pub(crate) use ln347_end_never_met::{EndNeverMet, NeverMet};
pub(crate) use ln348_size_never_taken::SizeNeverTaken;
pub(crate) use ln349_row_against_others::{OtherUnit, RowAgainstOthers};
pub(crate) use ln357_judged_on_one_side::JudgedOnOneSide;

use locknut_finding::{Finding, Page};

/// The pages of this family.
pub(crate) const PAGES: &[Page] = &[
    SortedAsRead::PAGE,
    NeverSure::PAGE,
    DifferenceSaidBare::PAGE,
    CancelsOut::PAGE,
    DoubtedUncertainty::PAGE,
    ExpectedElsewhere::PAGE,
    NoInstrument::PAGE,
    WrongInstrument::PAGE,
    BeyondRange::PAGE,
    BetweenDigits::PAGE,
    ArmsGap::PAGE,
    ArmsOverlap::PAGE,
    NoOtherwise::PAGE,
    CannotFail::PAGE,
    CannotPass::PAGE,
    ArmNeverTaken::PAGE,
    WhichPoint::PAGE,
    ProvesWhatever::PAGE,
    ChoiceGap::PAGE,
    ChoiceNotShown::PAGE,
    NothingFits::PAGE,
    NoPreference::PAGE,
    UnusableSet::PAGE,
    NotYetRead::PAGE,
    WordsNotNumber::PAGE,
    UsuallyOutside::PAGE,
    RestsOnRough::PAGE,
    NotHandedIn::PAGE,
    ProofFailed::PAGE,
    TooRough::PAGE,
    CoarseForLimit::PAGE,
    NothingSurelyInside::PAGE,
    Unguardable::PAGE,
    ProvedElsewhere::PAGE,
    SameInstrument::PAGE,
    OtherFigure::PAGE,
    AcceptsMore::PAGE,
    OtherScale::PAGE,
    OneSideOnly::PAGE,
    AnswersOtherwise::PAGE,
    NothingAnswered::PAGE,
    ProvedByHalf::PAGE,
    NoCommonLimit::PAGE,
    ShowsNoFigure::PAGE,
    NoSuchStack::PAGE,
    NothingStacked::PAGE,
    NotAmongSizes::PAGE,
    TooManySums::PAGE,
    MayHoldNothing::PAGE,
    ReadLaxer::PAGE,
    OneSetForSeveral::PAGE,
    EndNeverMet::PAGE,
    SizeNeverTaken::PAGE,
    RowAgainstOthers::PAGE,
    JudgedOnOneSide::PAGE,
];

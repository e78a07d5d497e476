//! Hardware: bolts, parts, seals, tools.

mod ln601_wrong_state_for_act;
mod ln602_in_the_way;
mod ln603_single_use_again;
mod ln604_sealed_touched;
mod ln605_left_undone;
mod ln606_tool_left_in;
mod ln607_not_oiled;
mod ln608_live_connector;
mod ln610_figure_yields;
mod ln611_may_yield;
mod ln612_too_loose;
mod ln613_wrench_too_coarse;
mod ln614_stretched_again;
mod ln615_two_torques;
mod ln616_pass_does_nothing;
mod ln630_joint_opens;
mod ln632_nut_takes_all;

pub(crate) use ln601_wrong_state_for_act::{OneTool, WrongStateForAct};
pub(crate) use ln602_in_the_way::InTheWay;
pub(crate) use ln603_single_use_again::{Again, SingleUseAgain};
pub(crate) use ln604_sealed_touched::SealedTouched;
pub(crate) use ln605_left_undone::LeftUndone;
pub(crate) use ln606_tool_left_in::ToolLeftIn;
pub(crate) use ln607_not_oiled::NotOiled;
pub(crate) use ln608_live_connector::LiveConnector;
pub(crate) use ln610_figure_yields::FigureYields;
pub(crate) use ln611_may_yield::MayYield;
pub(crate) use ln612_too_loose::TooLoose;
pub(crate) use ln613_wrench_too_coarse::WrenchTooCoarse;
pub(crate) use ln614_stretched_again::StretchedAgain;
pub(crate) use ln615_two_torques::TwoTorques;
pub(crate) use ln616_pass_does_nothing::{PassDoesNothing, WhyNothing};
pub(crate) use ln630_joint_opens::JointOpens;
pub(crate) use ln632_nut_takes_all::NutTakesAll;

use locknut_finding::{Finding, Page};

pub(crate) const PAGES: &[Page] = &[
    WrongStateForAct::PAGE,
    InTheWay::PAGE,
    SingleUseAgain::PAGE,
    SealedTouched::PAGE,
    LeftUndone::PAGE,
    ToolLeftIn::PAGE,
    NotOiled::PAGE,
    LiveConnector::PAGE,
    FigureYields::PAGE,
    MayYield::PAGE,
    TooLoose::PAGE,
    WrenchTooCoarse::PAGE,
    StretchedAgain::PAGE,
    TwoTorques::PAGE,
    PassDoesNothing::PAGE,
    JointOpens::PAGE,
    NutTakesAll::PAGE,
];

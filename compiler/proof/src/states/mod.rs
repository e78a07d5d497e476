//! States of the machine: needs, interlocks, proofs, times, what is owed back.

mod ln501_need_unmet;
mod ln502_broken_interlock;
mod ln503_forbidden_act;
mod ln504_not_ready_for_subtask;
mod ln505_not_proved;
mod ln506_wait_too_short;
mod ln507_not_restored;
mod ln509_not_as_found;
mod ln510_not_left_so;
mod ln511_proved_too_early;
mod ln512_unsafe_stop;
mod ln513_locked;
mod ln514_wrong_change;
mod ln515_unsafe_wait;
mod ln516_no_upper_limit;
mod ln517_counts_on_denied;

pub(crate) use ln501_need_unmet::NeedUnmet;
pub(crate) use ln502_broken_interlock::{Beside, BrokenInterlock};
pub(crate) use ln503_forbidden_act::ForbiddenAct;
pub(crate) use ln504_not_ready_for_subtask::NotReadyForSubtask;
pub(crate) use ln505_not_proved::NotProved;
pub(crate) use ln506_wait_too_short::WaitTooShort;
pub(crate) use ln507_not_restored::NotRestored;
pub(crate) use ln509_not_as_found::NotAsFound;
pub(crate) use ln510_not_left_so::NotLeftSo;
pub(crate) use ln511_proved_too_early::ProvedTooEarly;
pub(crate) use ln512_unsafe_stop::UnsafeStop;
pub(crate) use ln513_locked::Locked;
pub(crate) use ln514_wrong_change::WrongChange;
pub(crate) use ln515_unsafe_wait::UnsafeWait;
pub(crate) use ln516_no_upper_limit::NoUpperLimit;
pub(crate) use ln517_counts_on_denied::{Counts, CountsOnDenied};

use locknut_finding::{Finding, Page};

pub(crate) const PAGES: &[Page] = &[
    UnsafeWait::PAGE,
    NeedUnmet::PAGE,
    BrokenInterlock::PAGE,
    ForbiddenAct::PAGE,
    NotReadyForSubtask::PAGE,
    NotProved::PAGE,
    WaitTooShort::PAGE,
    NotRestored::PAGE,
    NotAsFound::PAGE,
    NotLeftSo::PAGE,
    ProvedTooEarly::PAGE,
    UnsafeStop::PAGE,
    Locked::PAGE,
    WrongChange::PAGE,
    NoUpperLimit::PAGE,
    CountsOnDenied::PAGE,
];

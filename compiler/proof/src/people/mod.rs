//! People.

mod ln701_not_in_crew;
mod ln702_hands_taken;
mod ln703_waiting_for_each_other;
mod ln704_nobody_holds;
mod ln705_never_let_go;
mod ln707_not_inspected;

pub(crate) use ln701_not_in_crew::NotInCrew;
pub(crate) use ln702_hands_taken::HandsTaken;
pub(crate) use ln703_waiting_for_each_other::WaitingForEachOther;
pub(crate) use ln704_nobody_holds::NobodyHolds;
pub(crate) use ln705_never_let_go::NeverLetGo;
pub(crate) use ln707_not_inspected::NotInspected;

use locknut_finding::{Finding, Page};

pub(crate) const PAGES: &[Page] = &[
    NotInCrew::PAGE,
    HandsTaken::PAGE,
    WaitingForEachOther::PAGE,
    NobodyHolds::PAGE,
    NeverLetGo::PAGE,
    NotInspected::PAGE,
];

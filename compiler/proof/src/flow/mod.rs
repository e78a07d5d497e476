//! Flow: what is reached, and how often.

mod ln401_unreachable_step;
mod ln402_useless_repeat;
mod ln403_too_many_orders;
mod ln404_order_matters;

pub(crate) use ln401_unreachable_step::UnreachableStep;
pub(crate) use ln402_useless_repeat::UselessRepeat;
pub(crate) use ln403_too_many_orders::TooManyOrders;
pub(crate) use ln404_order_matters::OrderMatters;

use locknut_finding::{Finding, Page};

pub(crate) const PAGES: &[Page] =
    &[UnreachableStep::PAGE, UselessRepeat::PAGE, TooManyOrders::PAGE, OrderMatters::PAGE];

//! The items that stand inside of another.

use super::{Act, Body, ClauseValue, End, Item, Outcome};

impl Item {
    /// What stands right inside of it: in its block, its lanes, or what follows from its reading.
    pub fn inside(&self) -> Vec<&Self> {
        match self {
            Self::Section { items, .. }
            | Self::AnyOrder { items, .. }
            | Self::Group { items, .. }
            | Self::Unbroken { items, .. }
            | Self::AtEach { items, .. }
            | Self::AtTheEnd { items, .. } => items.iter().collect(),
            Self::Step(step) => step.items.iter().collect(),
            Self::Together { lanes, strays, .. } => {
                lanes.iter().flat_map(|lane| &lane.items).chain(strays).collect()
            }
            Self::When { items, otherwise, .. } => items.iter().chain(otherwise).collect(),
            Self::Act(act) => act.inside(),
        }
    }
}

impl Act {
    fn inside(&self) -> Vec<&Item> {
        let mut all = Vec::new();
        for clause in &self.clauses {
            if let ClauseValue::Outcome(outcome) = &clause.value {
                outcome.inside(&mut all);
            }
        }
        match &self.body {
            Body::None | Body::Table { .. } => {}
            Body::Verdict { substitutes, otherwise, .. } => {
                for substitute in substitutes {
                    all.extend(&substitute.items);
                    all.extend(substitute.act.inside());
                }
                if let Some(outcome) = otherwise {
                    outcome.inside(&mut all);
                }
            }
            Body::Arms { arms, .. } => arms.iter().for_each(|arm| arm.outcome.inside(&mut all)),
        }
        all
    }
}

impl Outcome {
    fn inside<'t>(&'t self, all: &mut Vec<&'t Item>) {
        all.extend(&self.items);
        if let Some(End::Repeat { failing: Some(outcome), .. }) = &self.end {
            outcome.inside(all);
        }
    }
}

//! What stands where: panels ahead of lines, bars, outcomes by their node.

use crate::clocks::Clocks;
use crate::sheet::Panel;
use crate::words::Speaker;
use locknut_graph::{
    HazardId, Leads, NodeId, Outline, Signal, StepId, Variable, VariableId, Way, Words,
};
use locknut_proof::Facts;
use std::collections::{BTreeMap, BTreeSet};

/// Hazards and outcomes by node, for the lines to come.
pub(crate) struct Places {
    /// Hazards ahead of the first line of a step.
    step: BTreeMap<StepId, BTreeSet<HazardId>>,
    /// Hazards ahead of a later line.
    line: BTreeMap<NodeId, BTreeSet<HazardId>>,
    banner: BTreeSet<HazardId>,
    /// Outcomes of each node in written order.
    pub(crate) outcomes: BTreeMap<NodeId, Vec<(Way, Vec<Outline>, Leads)>>,
    /// Where clock times are written down.
    pub(crate) clocks: Clocks,
    at_the_end: AtTheEnd,
    /// Readings that are themselves taken at the end.
    read_at_the_end: BTreeSet<NodeId>,
}

/// What is done at the end, whatever came before.
#[derive(Clone, Copy)]
pub(crate) enum AtTheEnd {
    Nothing,
    /// It begins with this step.
    Step(StepId),
    /// It begins with something else.
    Lines,
}

impl Places {
    pub(crate) fn of(speak: Speaker<'_>, facts: &Facts) -> Self {
        let mut places = Self {
            step: BTreeMap::new(),
            line: BTreeMap::new(),
            banner: BTreeSet::new(),
            outcomes: BTreeMap::new(),
            clocks: Clocks::of(speak),
            at_the_end: AtTheEnd::Nothing,
            read_at_the_end: BTreeSet::new(),
        };
        places.gather(&speak.graph.outline);
        for place in &facts.hazards {
            match place.ahead_of {
                None => {
                    places.banner.insert(place.hazard);
                }
                Some(node) => places.ahead_of(speak, node, place.hazard),
            }
        }
        places
    }

    /// A hazard of a step's act stands ahead of the whole step: it is read before work begins.
    fn ahead_of(&mut self, speak: Speaker<'_>, node: NodeId, hazard: HazardId) {
        match speak.graph.node(node).step {
            Some(step) => self.step.entry(step).or_default().insert(hazard),
            None => self.line.entry(node).or_default().insert(hazard),
        };
    }

    fn gather(&mut self, items: &[Outline]) {
        for item in items {
            match item {
                Outline::Outcome { node, way, items, leads } => {
                    self.gather(items);
                    if let Leads::Again { failing, .. } = leads {
                        self.gather(&failing.0);
                    }
                    self.outcomes.entry(*node).or_default().push((
                        *way,
                        items.clone(),
                        leads.clone(),
                    ));
                }
                Outline::AtTheEnd { items } => {
                    let before: BTreeSet<NodeId> = self.outcomes.keys().copied().collect();
                    self.gather(items);
                    let read = self.outcomes.keys().filter(|node| !before.contains(node));
                    self.read_at_the_end = read.copied().collect();
                    self.at_the_end = match items.first() {
                        Some(Outline::Step { step, .. }) => AtTheEnd::Step(*step),
                        _ => AtTheEnd::Lines,
                    };
                }
                Outline::Section { items, .. }
                | Outline::Step { items, .. }
                | Outline::AnyOrder { items, .. }
                | Outline::Group { items }
                | Outline::Unbroken { items }
                | Outline::Call { items, .. } => self.gather(items),
                Outline::Branch { arms, .. } => arms.iter().for_each(|arm| self.gather(&arm.items)),
                Outline::Together { lanes, .. } => {
                    for lane in lanes {
                        self.gather(&lane.items);
                    }
                }
                Outline::Line { .. }
                | Outline::Note { .. }
                | Outline::Not { .. }
                | Outline::Template { .. } => {}
            }
        }
    }

    /// What is still done where the reading at a node says that the job is done.
    pub(crate) fn still_to_do(&self, node: NodeId) -> AtTheEnd {
        if self.read_at_the_end.contains(&node) { AtTheEnd::Nothing } else { self.at_the_end }
    }

    pub(crate) fn banner(&self, speak: Speaker<'_>) -> Vec<Panel> {
        panels(speak, &self.banner)
    }

    pub(crate) fn step_panels(&self, speak: Speaker<'_>, step: StepId) -> Vec<Panel> {
        self.step.get(&step).map(|hazards| panels(speak, hazards)).unwrap_or_default()
    }

    pub(crate) fn line_panels(&self, speak: Speaker<'_>, node: NodeId) -> Vec<Panel> {
        self.line.get(&node).map(|hazards| panels(speak, hazards)).unwrap_or_default()
    }
}

/// Panels, the gravest first.
fn panels(speak: Speaker<'_>, hazards: &BTreeSet<HazardId>) -> Vec<Panel> {
    let mut panels: Vec<Panel> = hazards.iter().map(|id| panel(speak, *id)).collect();
    panels.sort_by_key(|panel| panel.signal);
    panels
}

fn panel(speak: Speaker<'_>, id: HazardId) -> Panel {
    let hazard = speak.graph.hazard(id);
    let key = match hazard.signal {
        Signal::Danger => "signal-danger",
        Signal::Warning => "signal-warning",
        Signal::Caution => "signal-caution",
        Signal::Notice => "signal-notice",
    };
    Panel {
        signal: hazard.signal,
        word: speak.phrases.label(key),
        text: speak.prose(&hazard.text),
        applies: None,
    }
}

/// Whether a variable is one of the machine, not of the variant or an answer.
pub(crate) fn of_machine(speak: Speaker<'_>, variable: VariableId) -> bool {
    speak.graph.variable(variable).kind.of_machine()
}

/// `supply: isolated`, `brake cover: removed or in place`
pub(crate) fn value_words(
    speak: Speaker<'_>,
    variable: VariableId,
    values: &BTreeSet<u8>,
) -> String {
    let declared = speak.graph.variable(variable);
    let of = declared.kind.element().unwrap_or(&declared.words.name);
    let said: Vec<String> = values
        .iter()
        .filter_map(|value| declared.values.get(usize::from(*value)))
        .map(|value| speak.phrases.value(of, &value.words))
        .collect();
    format!("{}: {}", variable_name(speak, declared), speak.any_of(&said))
}

/// What a variable is called: of fasteners that are oiled, their threads have a state of their own.
pub(crate) fn variable_name(speak: Speaker<'_>, declared: &Variable) -> String {
    let Words { name, said } = &declared.words;
    let fastener = name.strip_suffix("-threads").zip(said.strip_prefix("threads of "));
    match fastener.filter(|_| declared.kind.element().is_some()) {
        Some((name, said)) => {
            let words = Words { name: name.to_owned(), said: said.to_owned() };
            speak.say("threads-of", &[("thing", speak.phrases.name(&words))])
        }
        None => speak.phrases.name(&declared.words),
    }
}

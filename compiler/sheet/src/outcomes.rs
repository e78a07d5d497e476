//! What follows when a reading goes one way.

use crate::as_written;
use crate::compose::blocks;
use crate::guarded;
use crate::places::{AtTheEnd, Places};
use crate::sheet::{Follow, Outcome};
use crate::words::Speaker;
use locknut_graph::{
    ActKind, End, Leads, NodeId, NodeKind, Outline, Prose, ReadingKind, VariableId, VariableKind,
    Verdict, Way,
};
use locknut_proof::Facts;
use std::collections::BTreeSet;

/// The outcomes of a line, in written order: those that its outline knows, and arms that just go on.
pub(crate) fn outcomes(
    speak: Speaker<'_>,
    facts: &Facts,
    places: &Places,
    node: NodeId,
) -> Vec<Outcome> {
    let Some(written) = places.outcomes.get(&node) else { return Vec::new() };
    written
        .iter()
        .map(|(way, items, leads)| Outcome {
            way: *way,
            when: when(speak, facts.limit_rows.contains_key(&node), node, *way),
            follows: (Following { speak, facts, places, node }).of(items, leads),
            // Whoever goes on may come to an end of the job, too, but not by this outcome.
            stands: ends(leads).then(|| stands(speak, facts, (node, *way), leads)).flatten(),
        })
        .collect()
}

fn when(speak: Speaker<'_>, rows: bool, node: NodeId, way: Way) -> String {
    let Some(act) = speak.graph.node(node).act() else { return String::new() };
    let speak = speak.of_act(act);
    let words = match (act.kind.verdict(), way) {
        (Some(Verdict::Accept { computed: Some(ends), .. }), Way::Otherwise) => {
            guarded::outside_by(speak, act, rows, crate::look_ups::outside_words(speak, ends))
        }
        (Some(Verdict::Accept { computed: Some(_), limit }), _)
            if rows && limit.guard.is_some() =>
        {
            speak.phrases.label("inside-of-rows")
        }
        (Some(Verdict::Accept { computed: Some(ends), .. }), _) => {
            crate::look_ups::limit_words(speak, ends)
        }
        (Some(Verdict::Accept { limit, .. }), Way::Otherwise) => {
            speak.outside(&guarded::not_refused(speak, act, limit))
        }
        (Some(Verdict::Accept { limit, .. }), _) => {
            speak.limit(&guarded::accepted(speak, act, limit))
        }
        (Some(Verdict::Arms(arms)), Way::Arm(arm)) => {
            let Some(arm) = arms.get(usize::from(arm)) else { return String::new() };
            match &arm.range {
                Some(limit) => as_written::arm(speak, act, arms, limit),
                None => answer_words(speak, act, &arm.answers),
            }
        }
        (None, Way::Otherwise) if matches!(act.kind, ActKind::Choose(_)) => {
            speak.phrases.label("choose-none-when")
        }
        _ => speak.phrases.label("outcome-otherwise"),
    };
    let several = matches!(&act.kind, ActKind::Measure { reading, .. } if speak.graph.reading(*reading).points.len() > 1);
    if several && way == Way::Otherwise {
        return Speaker::sentence(&speak.say("outcome-when-one", &[("when", words)]));
    }
    Speaker::sentence(&speak.say("outcome-when", &[("when", words)]))
}

fn answer_words(speak: Speaker<'_>, act: &locknut_graph::Act, answers: &[u8]) -> String {
    let Some(reading) = act.kind.reading() else { return String::new() };
    let ReadingKind::Answer { answers: all, .. } = &speak.graph.reading(reading).kind else {
        return String::new();
    };
    let said: Vec<String> = answers
        .iter()
        .filter_map(|answer| all.get(usize::from(*answer)))
        .map(|words| speak.phrases.value("answer", words))
        .collect();
    speak.any_of(&said)
}

/// What follows a reading at a node.
#[derive(Clone, Copy)]
struct Following<'a> {
    speak: Speaker<'a>,
    facts: &'a Facts,
    places: &'a Places,
    node: NodeId,
}

impl Following<'_> {
    /// Acts, and where they lead. What is done when no rounds are left has a list of its own: in one list with
    /// what is done before each round, a fitter would do both.
    fn of(self, items: &[Outline], leads: &Leads) -> Vec<Follow> {
        let mut sentences = self.leading(leads, !items.is_empty());
        if !items.is_empty() {
            // Whoever reads "Stop." first leaves undone what stands below it; what is repeated says "then" itself.
            let alone = sentences.is_empty() || matches!(leads, Leads::Again { .. });
            let below = if alone { "outcome-do-below" } else { "outcome-do-below-then" };
            sentences.insert(0, self.speak.phrases.label(below));
        }
        let blocks = blocks(self.speak, self.facts, self.places, items);
        let mut all = vec![Follow { text: sentences.join(" "), blocks }];
        let Leads::Again { failing, .. } = leads else { return all };
        for mut further in self.of(&failing.0, &failing.1) {
            further.text = self.speak.say("outcome-failing", &[("then", further.text)]);
            match all.last_mut() {
                Some(last) if last.blocks.is_empty() => {
                    last.text = format!("{} {}", last.text, further.text);
                    last.blocks = further.blocks;
                }
                _ => all.push(further),
            }
        }
        all
    }

    fn leading(self, leads: &Leads, after_acts: bool) -> Vec<String> {
        let speak = self.speak;
        match leads {
            Leads::On { noting: Some(noting) } => vec![
                speak.say("outcome-note", &[("note", speak.prose(noting))]),
                speak.phrases.label("outcome-go-on"),
            ],
            Leads::On { noting: None } => vec![speak.phrases.label("outcome-go-on")],
            Leads::Refer { to } => vec![speak.say("outcome-refer", &[("to", speak.prose(to))])],
            Leads::Stop { text } => {
                vec![speak.say("outcome-stop", &[("text", Speaker::sentence(&speak.prose(text)))])]
            }
            Leads::Done => vec![self.done()],
            Leads::Below => Vec::new(),
            Leads::AsAt { node } => vec![as_at(speak, *node)],
            Leads::Again { step, times, .. } => {
                let key = if after_acts { "outcome-then-repeat" } else { "outcome-repeat" };
                let number = speak.graph.step(*step).number.clone();
                let values = [("step", number)];
                let anywhere = locknut_finding::Span::default();
                vec![speak.phrases.count(key, u64::from(*times), &values, anywhere)]
            }
        }
    }

    /// The job is done, but for what stands at the end.
    fn done(self) -> String {
        let speak = self.speak;
        match self.places.still_to_do(self.node) {
            AtTheEnd::Nothing => speak.phrases.label("outcome-done"),
            AtTheEnd::Lines => speak.phrases.label("outcome-to-the-end"),
            AtTheEnd::Step(step) => {
                let number = speak.graph.step(step).number.clone();
                speak.say("outcome-to-the-end-step", &[("step", number)])
            }
        }
    }
}

/// As for the reading that a substitute stands for.
fn as_at(speak: Speaker<'_>, node: NodeId) -> String {
    let act = speak.graph.node(node).act();
    let name = |id| speak.reading(id);
    let reading = act.and_then(|act| act.kind.reading()).map(name).unwrap_or_default();
    let instrument = act
        .and_then(|act| speak.graph.instruments.get(act.instrument?))
        .map(|instrument| speak.phrases.name(&instrument.words));
    let values = [("reading", reading), ("instrument", instrument.unwrap_or_default())];
    speak.say("outcome-as-at", &values)
}

/// Whether the job may end by this, at once or when no rounds are left.
fn ends(leads: &Leads) -> bool {
    match leads {
        Leads::Refer { .. } | Leads::Stop { .. } | Leads::AsAt { .. } => true,
        Leads::Again { failing, .. } => ends(&failing.1),
        Leads::On { .. } | Leads::Done | Leads::Below => false,
    }
}

/// How the machine is left where this way ends the job, whatever is read in between: what ends it there says so itself.
fn stands(speak: Speaker<'_>, facts: &Facts, from: (NodeId, Way), leads: &Leads) -> Option<String> {
    let said = said_at_the_end(leads);
    let mut left = vec![speak.graph.follow(from.0, from.1)?.1];
    let mut seen = BTreeSet::new();
    while let Some(at) = left.pop() {
        if !seen.insert(at) {
            continue;
        }
        match &speak.graph.node(at).kind {
            NodeKind::End(End::Stop { text: own } | End::Refer { to: own }) => {
                if said.is_none_or(|said| said.span == own.span) {
                    return Some(standing(speak, facts, at));
                }
            }
            NodeKind::Repeat(_) => left.extend(speak.graph.follow(at, Way::Failing).map(|to| to.1)),
            NodeKind::Act(_)
            | NodeKind::Pass
            | NodeKind::Enter { .. }
            | NodeKind::Leave { .. }
            | NodeKind::Branch(_)
            | NodeKind::Await(_) => {
                let ways = speak.graph.ways(at);
                // Which of several ends it is, nobody could tell without its words.
                if said.is_none() && ways.len() > 1 {
                    return None;
                }
                left.extend(ways.into_iter().map(|(_, _, to)| to));
            }
            NodeKind::AnyOrder { .. } | NodeKind::Together { .. } => {
                left.extend(speak.graph.follow(at, Way::Next).map(|to| to.1));
            }
            NodeKind::End(End::Done) | NodeKind::ChildDone { .. } | NodeKind::LaneDone { .. } => {}
        }
    }
    None
}

/// What is said where the job ends by this, at once or when no rounds are left; none where another line says it.
fn said_at_the_end(leads: &Leads) -> Option<&Prose> {
    match leads {
        Leads::Refer { to: said } | Leads::Stop { text: said } => Some(said),
        Leads::Again { failing, .. } => said_at_the_end(&failing.1),
        Leads::AsAt { .. } | Leads::On { .. } | Leads::Done | Leads::Below => None,
    }
}

fn standing(speak: Speaker<'_>, facts: &Facts, end: NodeId) -> String {
    let left = || facts.left_at.get(&end).into_iter().flatten();
    let denied: BTreeSet<VariableId> = left()
        .filter_map(|(variable, _)| {
            let VariableKind::Denied { of } = speak.graph.variable(*variable).kind else {
                return None;
            };
            Some(of)
        })
        .collect();
    let parts: Vec<String> = left()
        .filter(|(variable, _)| crate::places::of_machine(speak, **variable))
        .map(|(variable, values)| {
            let said = crate::places::value_words(speak, *variable, values);
            if denied.contains(variable) {
                speak.say("stands-denied", &[("what", said)])
            } else {
                said
            }
        })
        .collect();
    if parts.is_empty() {
        speak.phrases.label("stands-normal")
    } else {
        speak.say("stands", &[("how", parts.join("; "))])
    }
}

//! Every way through a job, line by line, with nothing left out: what is wrong as things stand, and what would be wrong
//! if a state were not as it was made which a reading has denied.

use super::lines::{Job, Line, Part, Step};
use std::collections::HashSet;

/// What some way comes to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Judged {
    /// Something is wrong as things stand.
    pub(super) wrong: bool,
    /// Something counts on a state that is denied.
    pub(super) in_doubt: bool,
}

/// The machine: states and parts, nought as found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
struct Machine {
    states: [u8; 2],
    parts: [u8; 2],
}

/// Where a job is.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
struct Place {
    machine: Machine,
    denied: [bool; 2],
    /// Rounds taken of each repeat.
    rounds: Vec<u8>,
    step: usize,
    /// What whoever is at work has still to do.
    now: Vec<Vec<Line>>,
    /// Freed steps that are not begun.
    open: Vec<Vec<Line>>,
}

/// What must never be so, as the model says it: the part that is off, and the state that it is off in only.
const NEVER: [(Part, usize); 2] = [(0, 0), (1, 1)];

pub(super) fn judge(job: &Job) -> Judged {
    let mut explorer =
        Explorer { job, found: Judged::default(), seen: HashSet::new(), left: Vec::new() };
    let machine = Machine { states: [0; 2], parts: [0; 2] };
    let rounds = vec![0; job.repeats];
    let first =
        Place { machine, denied: [false; 2], rounds, step: 0, now: Vec::new(), open: Vec::new() };
    explorer.begin(first, 0);
    while let Some(place) = explorer.left.pop() {
        if explorer.seen.insert(place.clone()) {
            explorer.on(&place);
        }
    }
    explorer.found
}

struct Explorer<'j> {
    job: &'j Job,
    found: Judged,
    seen: HashSet<Place>,
    left: Vec<Place>,
}

impl Explorer<'_> {
    fn begin(&mut self, mut place: Place, step: usize) {
        place.step = step;
        (place.now, place.open) = match self.job.steps.get(step) {
            Some(Step::Plain(lines)) => (vec![lines.clone()], Vec::new()),
            Some(Step::Beside(lanes)) => (lanes.clone(), Vec::new()),
            Some(Step::Freed(children)) => (Vec::new(), children.clone()),
            None => return self.done(&place),
        };
        self.left.push(place);
    }

    /// All that may come next.
    fn on(&mut self, place: &Place) {
        if place.now.iter().all(Vec::is_empty) {
            if place.open.is_empty() {
                return self.begin(place.clone(), place.step + 1);
            }
            for child in 0..place.open.len() {
                let mut next = place.clone();
                next.now = vec![next.open.remove(child)];
                self.left.push(next);
            }
            return;
        }
        for worker in 0..place.now.len() {
            let mut next = place.clone();
            let Some(lines) = next.now.get_mut(worker).filter(|lines| !lines.is_empty()) else {
                continue;
            };
            let line = lines.remove(0);
            self.line(line, worker, next);
        }
    }

    fn line(&mut self, line: Line, worker: usize, mut place: Place) {
        let ahead = |lines: Vec<Line>, place: &Place| {
            let mut next = place.clone();
            if let Some(own) = next.now.get_mut(worker) {
                own.splice(0..0, lines);
            }
            next
        };
        match line {
            Line::Set(state, value) => {
                place.machine.states[state] = value;
                place.denied[state] = false;
                self.rules(&place, |(_, names)| names == state);
                self.left.push(place);
            }
            Line::Remove(part) => self.moved(part, 1, place),
            Line::Fit(part) => self.moved(part, 0, place),
            Line::Prove { state, otherwise, .. } => {
                // It confirms what was done; by itself it makes nothing so.
                self.found.wrong |= place.machine.states[state] != 1;
                let mut denied = ahead(otherwise, &place);
                denied.denied[state] = true;
                self.left.push(denied);
                place.denied[state] = false;
                self.left.push(place);
            }
            Line::When { state, so, else_so } => {
                self.found.in_doubt |= place.denied[state];
                let lines = if place.machine.states[state] == 1 { so } else { else_so };
                self.left.push(ahead(lines, &place));
            }
            Line::Stop => self.stop(&place),
            Line::Done => self.done(&place),
            Line::Repeat { of, step, times } => {
                if place.rounds[of] < times {
                    place.rounds[of] += 1;
                    self.begin(place, step);
                } else {
                    self.stop(&place);
                }
            }
        }
    }

    fn moved(&mut self, part: Part, to: u8, mut place: Place) {
        // Only what is in place comes off, and the belt is behind the guard.
        let reached = part == 0 || place.machine.parts[0] == 1;
        self.found.wrong |= place.machine.parts[part] == to || !reached;
        place.machine.parts[part] = to;
        self.rules(&place, |(names, _)| names == part);
        // Hands are at the machine: what is off must be off safely, but for what this act itself deals with.
        for (off, state) in NEVER {
            let deals = part == off;
            self.found.in_doubt |= !deals
                && place.denied[state]
                && place.machine.parts[off] == 1
                && place.machine.states[state] == 1;
        }
        self.left.push(place);
    }

    /// Rules that name what was just written.
    fn rules(&mut self, place: &Place, names: impl Fn((Part, usize)) -> bool) {
        for rule @ (off, state) in NEVER {
            if !names(rule) || place.machine.parts[off] == 0 {
                continue;
            }
            if place.machine.states[state] == 1 {
                self.found.in_doubt |= place.denied[state];
            } else {
                self.found.wrong = true;
            }
        }
    }

    fn stop(&mut self, place: &Place) {
        let safe = |machine: &Machine| {
            let ([supply, arm], [guard, belt]) = (machine.states, machine.parts);
            match self.job.safe {
                0 => guard == 0 && arm == 0,
                1 => supply == 1 || guard == 0,
                2 => guard == 0 && belt == 0,
                _ => supply == 1,
            }
        };
        if !safe(&place.machine) {
            self.found.wrong = true;
            return;
        }
        // What only a state decides no hands can make safe: there a job may stop where a proof has failed.
        let by_hand = matches!(self.job.safe, 1 | 2);
        let any = |machine: Machine| {
            (0..4_u8).map(move |bits| {
                let mut other = machine;
                for (state, value) in [(0, bits & 1), (1, bits >> 1)] {
                    if place.denied[state] {
                        other.states[state] = value;
                    }
                }
                other
            })
        };
        self.found.in_doubt |= by_hand && !any(place.machine).all(|machine| safe(&machine));
    }

    /// Everything is owed back as it was found.
    fn done(&mut self, place: &Place) {
        let as_found = place.machine == Machine { states: [0; 2], parts: [0; 2] };
        self.found.wrong |= !as_found;
        self.found.in_doubt |= place.denied.iter().any(|denied| *denied);
    }
}

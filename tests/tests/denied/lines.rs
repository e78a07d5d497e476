//! Small procedures, made up: lines, and how an author would write them.

use locknut_tests::random::Random;
use std::fmt::Write;

/// A state of the machine, by position: the supply, the arm.
pub(super) type State = usize;
/// A part, by position: the guard, the belt behind it.
pub(super) type Part = usize;

pub(super) const STATES: [(&str, [&str; 2]); 2] =
    [("supply", ["live", "off"]), ("arm", ["down", "up"])];
pub(super) const PARTS: [&str; 2] = ["guard", "belt"];

/// Ways to say when the machine is safe to leave.
pub(super) const SAFE: [&str; 4] = [
    "guard is in-place and arm is down",
    "supply is off or guard is in-place",
    "guard is in-place and belt is in-place",
    "supply is off",
];

/// A line of a job.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(super) enum Line {
    Set(State, u8),
    Remove(Part),
    Fit(Part),
    /// Proves a state to be as it is not at first; what is done where the reading denies that.
    Prove {
        name: usize,
        state: State,
        otherwise: Vec<Line>,
    },
    When {
        state: State,
        so: Vec<Line>,
        else_so: Vec<Line>,
    },
    Stop,
    Done,
    /// Back to a step, so many times; then it stops.
    Repeat {
        of: usize,
        step: usize,
        times: u8,
    },
}

#[derive(Clone, Debug)]
pub(super) enum Step {
    Plain(Vec<Line>),
    Freed(Vec<Vec<Line>>),
    Beside(Vec<Vec<Line>>),
}

#[derive(Clone, Debug)]
pub(super) struct Job {
    pub(super) steps: Vec<Step>,
    /// By position in [`SAFE`].
    pub(super) safe: usize,
    /// How many repeats it has.
    pub(super) repeats: usize,
}

impl Job {
    /// Mostly an order that works, with some lines left out, put in and moved.
    pub(super) fn made_up(random: &mut Random, safe: usize) -> Self {
        let mut maker = Maker {
            random,
            safe,
            names: 0,
            repeats: 0,
            step: 0,
            made: [false; 2],
            off: [false; 2],
        };
        let arm = maker.random.in_a_hundred(60);
        let mut lines = vec![Line::Set(0, 1)];
        if arm {
            lines.push(Line::Set(1, 1));
        }
        lines.push(Line::Remove(0));
        if arm {
            lines.extend([Line::Remove(1), Line::Fit(1)]);
        }
        lines.push(Line::Fit(0));
        if arm {
            lines.push(Line::Set(1, 0));
        }
        lines.push(Line::Set(0, 0));
        let mut steps: Vec<Step> = Vec::new();
        let mut here: Vec<Line> = Vec::new();
        for line in lines {
            if maker.random.in_a_hundred(35) && !here.is_empty() {
                steps.push(maker.step(std::mem::take(&mut here)));
                maker.step = steps.len();
            }
            if maker.random.in_a_hundred(20) {
                here.extend(maker.more(2));
            }
            if !maker.random.in_a_hundred(2) {
                maker.does(&line);
                here.push(line);
            }
        }
        steps.push(maker.step(here));
        Self { steps, safe, repeats: maker.repeats }
    }

    /// As an author writes it.
    pub(super) fn written(&self) -> String {
        let mut out = format!(
            "instrument tester {{ measures voltage 0 .. 500 V, resolution 1 V, error 1 V }}
model feeder {{
  title \"Feeder\"
  state supply : live, off
  state arm : down, up
  part guard
  part belt : behind guard
  never guard is removed unless supply is off because \"the belt pulls in a hand\"
  never belt is removed unless arm is up because \"the arm drops on the hand\"
  safe to leave when {}
}}
procedure job on feeder {{
  title \"Feeder: a job\"
  crew fitter, helper
",
            SAFE.get(self.safe).copied().unwrap_or("supply is off")
        );
        for (at, step) in self.steps.iter().enumerate() {
            match step {
                Step::Plain(lines) => self.plain(&format!("s{at}"), lines, &mut out),
                Step::Freed(children) => {
                    out.push_str("  any order {\n");
                    for (child, lines) in children.iter().enumerate() {
                        self.plain(&format!("s{at}-{child}"), lines, &mut out);
                    }
                    out.push_str("  }\n");
                }
                Step::Beside(lanes) => {
                    out.push_str("  together {\n");
                    for (who, lines) in ["fitter", "helper"].iter().zip(lanes) {
                        _ = writeln!(out, "  {who} {{");
                        block(lines, &mut out);
                        out.push_str("  }\n");
                    }
                    out.push_str("  }\n");
                }
            }
        }
        out.push_str("}\n");
        out
    }

    #[expect(clippy::unused_self, reason = "beside `written`, of which it is a part")]
    fn plain(&self, name: &str, lines: &[Line], out: &mut String) {
        _ = writeln!(out, "  step {name} \"Step {name}.\" {{\n    confirm \"{name}?\"");
        block(lines, out);
        out.push_str("  }\n");
    }
}

fn block(lines: &[Line], out: &mut String) {
    for line in lines {
        match line {
            Line::Set(state, value) => {
                if let Some((name, values)) = STATES.get(*state) {
                    let value = values.get(usize::from(*value)).copied().unwrap_or_default();
                    _ = writeln!(out, "    set {name} to {value}");
                }
            }
            Line::Remove(part) => _ = writeln!(out, "    remove {}", named(*part)),
            Line::Fit(part) => _ = writeln!(out, "    fit {}", named(*part)),
            Line::Prove { name, state: 0, otherwise } => {
                _ = writeln!(out, "    measure volts-{name} using tester, proves supply is off {{");
                out.push_str("      accept at most 25 V\n      otherwise ");
                outcome(otherwise, out);
                out.push_str("    }\n");
            }
            Line::Prove { name, otherwise, .. } => {
                _ = writeln!(out, "    observe up-{name} \"Is the arm up?\", proves arm is up {{");
                out.push_str("      yes -> go on\n      no -> ");
                outcome(otherwise, out);
                out.push_str("    }\n");
            }
            Line::When { state, so, else_so } => {
                if let Some((name, [_, other])) = STATES.get(*state) {
                    _ = writeln!(out, "    when {name} is {other} {{\n    confirm \"So.\"");
                    block(so, out);
                    out.push_str("    } otherwise {\n    confirm \"Not so.\"\n");
                    block(else_so, out);
                    out.push_str("    }\n");
                }
            }
            // Only ever the last of an outcome.
            Line::Stop | Line::Done | Line::Repeat { .. } => {}
        }
    }
}

fn outcome(lines: &[Line], out: &mut String) {
    out.push_str("{\n      confirm \"It is not.\"\n");
    block(lines, out);
    out.push_str("      } then ");
    match lines.last() {
        Some(Line::Stop) => out.push_str("stop \"Call an electrician.\"\n"),
        Some(Line::Done) => out.push_str("done\n"),
        Some(Line::Repeat { step, times, .. }) => {
            _ = writeln!(out, "repeat s{step} up to {times} times, failing that stop \"Call.\"");
        }
        Some(_) | None => out.push_str("go on\n"),
    }
}

fn named(part: Part) -> &'static str {
    PARTS.get(part).copied().unwrap_or_default()
}

struct Maker<'r> {
    random: &'r mut Random,
    safe: usize,
    names: usize,
    repeats: usize,
    /// The step that lines are made for.
    step: usize,
    /// States that are set by now, and parts that are off.
    made: [bool; 2],
    off: [bool; 2],
}

impl Maker<'_> {
    fn step(&mut self, lines: Vec<Line>) -> Step {
        let back =
            |line: &Line| matches!(line, Line::Prove { otherwise, .. } if holds_repeat(otherwise));
        // Only from the line of steps is it gone back to one of them.
        if lines.len() < 2 || lines.iter().any(back) {
            return Step::Plain(lines);
        }
        match self.random.below(10) {
            0 | 1 => Step::Freed(self.dealt(lines)),
            2 | 3 => Step::Beside(self.dealt(lines)),
            _ => Step::Plain(lines),
        }
    }

    /// Into two, each in its order: mostly what is read, and what is done.
    fn dealt(&mut self, lines: Vec<Line>) -> Vec<Vec<Line>> {
        let (mut one, mut other) = (Vec::new(), Vec::new());
        for line in lines {
            let read = matches!(line, Line::Prove { .. }) == self.random.in_a_hundred(92);
            if read { one.push(line) } else { other.push(line) }
        }
        vec![one, other]
    }

    /// Notes what a line of the order that works does.
    fn does(&mut self, line: &Line) {
        match line {
            Line::Set(state, value) => self.made[*state] = *value == 1,
            Line::Remove(part) => self.off[*part] = true,
            Line::Fit(part) => self.off[*part] = false,
            Line::Prove { .. }
            | Line::When { .. }
            | Line::Stop
            | Line::Done
            | Line::Repeat { .. } => {}
        }
    }

    /// Lines that were not there.
    fn more(&mut self, deep: usize) -> Vec<Line> {
        match self.random.below(30) {
            0 => vec![Line::Set(self.random.below(2), u8::from(self.random.in_a_hundred(70)))],
            1 => vec![Line::Remove(self.random.below(2))],
            2 => vec![Line::Fit(self.random.below(2))],
            3 if deep > 0 => {
                let state = self.random.below(2);
                let (so, else_so) = (self.few(deep - 1), self.few(deep - 1));
                vec![Line::When { state, so, else_so }]
            }
            _ => vec![self.proof(deep)],
        }
    }

    /// What is done where a reading denies something: often what counts on it.
    fn few(&mut self, deep: usize) -> Vec<Line> {
        if self.random.in_a_hundred(40) {
            // Off and on again, or on and off: whatever can be reached there.
            let pair = match self.off {
                [false, _] => [Line::Remove(0), Line::Fit(0)],
                [true, false] => [Line::Remove(1), Line::Fit(1)],
                [true, true] => [Line::Fit(1), Line::Remove(1)],
            };
            return pair.into();
        }
        let count = self.random.below(2);
        (0..count).map(|_| self.act(deep)).collect()
    }

    /// What is to be put back ahead of an end.
    fn owed(&self, end: &Line) -> Vec<Line> {
        let fit = |part: Part| Some(Line::Fit(part)).filter(|_| self.off[part]);
        let back = |state: State| Some(Line::Set(state, 0)).filter(|_| self.made[state]);
        let all = match end {
            Line::Done => vec![fit(1), fit(0), back(1), back(0)],
            Line::Stop if self.safe == 0 => vec![fit(1), fit(0), back(1)],
            Line::Stop if self.safe == 2 => vec![fit(1), fit(0)],
            Line::Stop if !self.made[0] => vec![fit(1), fit(0), Some(Line::Set(0, 1))],
            Line::Stop
            | Line::Set(..)
            | Line::Remove(_)
            | Line::Fit(_)
            | Line::Prove { .. }
            | Line::When { .. }
            | Line::Repeat { .. } => Vec::new(),
        };
        all.into_iter().flatten().collect()
    }

    /// Something that is done; sometimes a reading.
    fn act(&mut self, deep: usize) -> Line {
        match self.random.below(8) {
            0 => Line::Set(1, u8::from(self.random.in_a_hundred(50))),
            1 => Line::Remove(self.random.below(2)),
            2..=4 => Line::Fit(usize::from(self.off[1])),
            _ if deep > 0 => self.proof(deep - 1),
            _ => Line::Fit(0),
        }
    }

    fn proof(&mut self, deep: usize) -> Line {
        // Mostly of what was made so: else it confirms nothing.
        let state = match self.made {
            [false, true] => 1,
            [true, false] => usize::from(self.random.in_a_hundred(3)),
            _ => usize::from(self.random.in_a_hundred(40)),
        };
        let name = self.names;
        self.names += 1;
        let mut otherwise = if deep > 0 { self.few(deep - 1) } else { Vec::new() };
        let last = match self.random.below(12) {
            0..=2 => Line::Stop,
            3 => Line::Done,
            4 | 5 if deep == 2 => {
                let of = self.repeats;
                self.repeats += 1;
                let back = self.random.below(3).min(self.step);
                let times = u8::from(self.random.in_a_hundred(50)) + 1;
                Line::Repeat { of, step: self.step - back, times }
            }
            // It goes on only where the state is set anew or proved.
            _ => {
                let at = self.random.below(otherwise.len() + 1);
                otherwise.insert(at, Line::Set(state, 1));
                return Line::Prove { name, state, otherwise };
            }
        };
        // Mostly it ends as it should.
        if self.random.in_a_hundred(80) {
            otherwise.extend(self.owed(&last));
        }
        otherwise.push(last);
        Line::Prove { name, state, otherwise }
    }
}

fn holds_repeat(lines: &[Line]) -> bool {
    lines.iter().any(|line| matches!(line, Line::Repeat { .. }))
}

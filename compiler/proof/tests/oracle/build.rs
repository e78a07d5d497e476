//! Small graphs at random, built as meaning builds them.

use locknut_finding::Span;
use locknut_graph::{
    Act, ActArm, ActKind, Assertion, Band, Because, Condition, DiGraph, Edge, Effect, End,
    Expression, Guard, Heading, Interlock, Line, Moment, Node, NodeId, NodeKind, Prose, Reading,
    ReadingId, ReadingKind, Repeat, RepeatId, Restore, SourcedLimit, Step, StepGraph, StepId,
    Surely, Test, Value, Variable, VariableId, VariableKind, Verdict, Way, Words,
};
use locknut_quantity::{Exact, KindId, Limit, Range, UnitId, Units};

/// Small numbers that come again: xorshift64* (G. Marsaglia, 2003; multiplier after S. Vigna, 2016).
struct Random(u64);

impl Random {
    fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        usize::try_from(self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 33).unwrap() % end
    }

    fn one_in(&mut self, many: usize) -> bool {
        self.below(many) == 0
    }
}

struct Build {
    random: Random,
    flow: DiGraph<Node, Edge, u32>,
    variables: usize,
    steps: Vec<Step>,
    repeats: Vec<Repeat>,
    calls: u16,
    named: usize,
    readings: usize,
    /// Inside a lane no people work side by side.
    in_lane: bool,
    /// Ways that are led to *done* from anywhere.
    to_done: Loose,
}

/// Readings of a graph at most.
const READINGS: usize = 2;

/// Ways that are not yet led anywhere: from a node, by a way, with effects.
type Loose = Vec<(NodeId, Way, Vec<Effect>)>;

pub(crate) fn graph(seed: u64) -> StepGraph {
    let mut random = Random(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
    let variables = 2 + random.below(2);
    let mut build = Build {
        random,
        flow: DiGraph::default(),
        variables,
        steps: Vec::new(),
        repeats: Vec::new(),
        calls: 0,
        named: 0,
        readings: 0,
        in_lane: false,
        to_done: Vec::new(),
    };
    let start = build.node(NodeKind::Pass, Vec::new());
    let length = 2 + build.random.below(3);
    let mut loose = build.sequence(vec![(start, Way::Next, Vec::new())], length, 2);
    loose.append(&mut build.to_done);
    if build.random.one_in(3) {
        // What is done at the end, after every `done` too.
        loose = build.sequence(loose, 1, 1);
        loose.append(&mut build.to_done);
    }
    let end = build.node(NodeKind::End(End::Done), Vec::new());
    build.join(loose, end);
    build.finish(start)
}

impl Build {
    fn node(&mut self, kind: NodeKind, effects: Vec<Effect>) -> NodeId {
        let index = u32::try_from(self.flow.node_count()).unwrap();
        let span = Span { start: index * 10, end: index * 10 + 5, ..Span::default() };
        self.flow.add_node(Node { kind, effects, step: None, span })
    }

    fn join(&mut self, loose: Loose, to: NodeId) {
        for (from, way, effects) in loose {
            self.flow.add_edge(from, to, Edge { way, effects, noting: None });
        }
    }

    fn variable(&mut self) -> VariableId {
        VariableId(u16::try_from(self.random.below(self.variables)).unwrap())
    }

    fn test(&mut self) -> Condition {
        let variable = self.variable();
        let values = vec![u8::try_from(self.random.below(2)).unwrap()];
        let span = Span::default();
        Condition::Test(match self.random.below(6) {
            0 => Test::Proved { variable, values, span },
            1 => {
                let seconds = Exact::from_integer((1 + self.random.below(3)).into());
                Test::Held { variable, values, seconds, under: self.random.one_in(3), span }
            }
            _ => Test::Is { variable, values, span },
        })
    }

    fn condition(&mut self) -> Condition {
        match self.random.below(5) {
            0 => Condition::Any(vec![self.test(), self.test()]),
            1 => Condition::All(vec![self.test(), self.test()]),
            2 => Condition::Not(Box::new(self.test())),
            _ => self.test(),
        }
    }

    fn plain(&mut self) -> Condition {
        let variable = self.variable();
        Condition::Test(Test::Is {
            variable,
            values: vec![u8::try_from(self.random.below(2)).unwrap()],
            span: Span::default(),
        })
    }

    /// What must hold at some nodes that ask nothing themselves: where ways part, where somebody waits, at the ends.
    fn in_doubt(&mut self) -> Vec<(NodeId, Assertion)> {
        let may_ask = |node: &NodeId| {
            matches!(
                self.flow[*node].kind,
                NodeKind::Branch(_)
                    | NodeKind::Await(_)
                    | NodeKind::Leave { .. }
                    | NodeKind::End(_)
            )
        };
        let nodes: Vec<NodeId> = self.flow.node_indices().filter(may_ask).collect();
        let mut all = Vec::new();
        for node in nodes {
            if self.random.one_in(6) {
                self.named += 1;
                let assertion = Assertion {
                    condition: self.condition(),
                    because: Because::Denied { states: Vec::new() },
                    written: format!("doubt {}", self.named),
                    span: Span::default(),
                };
                all.push((node, assertion));
            }
        }
        all
    }

    fn act(&mut self, kind: ActKind, effects: Vec<Effect>, needs: bool) -> NodeId {
        let mut assertions = Vec::new();
        if needs {
            self.named += 1;
            let condition = self.condition();
            let written = format!("need {}", self.named);
            assertions.push(Assertion {
                condition,
                because: Because::Needs,
                written,
                span: Span::default(),
            });
        }
        let act = Act {
            kind,
            assertions,
            line: Line::default(),
            touches: Vec::new(),
            tools: Vec::new(),
            instrument: None,
            applies: Vec::new(),
            substitute: None,
            settled: std::collections::BTreeMap::new(),
            tightening: None,
            cautions: Vec::new(),
            capability: Vec::new(),
        };
        self.node(NodeKind::Act(Box::new(act)), effects)
    }

    fn write(&mut self) -> Effect {
        let value = u8::try_from(self.random.below(3)).unwrap();
        Effect::Set { variable: self.variable(), value: value.min(1) }
    }

    fn sequence(&mut self, mut loose: Loose, length: usize, depth: usize) -> Loose {
        for _ in 0..length {
            if loose.is_empty() {
                return loose;
            }
            loose = self.item(loose, depth);
        }
        loose
    }

    fn item(&mut self, loose: Loose, depth: usize) -> Loose {
        match self.random.below(if depth == 0 { 7 } else { 14 }) {
            6 if self.in_lane => {
                let condition = self.plain();
                let wait = self.node(NodeKind::Await(condition), Vec::new());
                self.join(loose, wait);
                vec![(wait, Way::Next, Vec::new())]
            }
            5 | 6 => self.measure(loose),
            12 | 13 if !self.in_lane => self.together(loose, depth),
            0 => self.wait(loose),
            1 => self.since(loose, depth),
            2 => {
                let effects = vec![Effect::Prove { variable: self.variable() }];
                let act = self.act(ActKind::Do, Vec::new(), false);
                self.join(loose, act);
                vec![(act, Way::Next, effects)]
            }
            3 | 4 => {
                let effects = vec![self.write()];
                let needs = self.random.one_in(3);
                let act = self.act(ActKind::Do, effects, needs);
                self.join(loose, act);
                vec![(act, Way::Next, Vec::new())]
            }
            7 | 8 => self.any_order(loose, depth),
            9 | 10 => self.branch(loose, depth),
            11 => self.reading(loose, depth),
            _ => self.call(loose, depth),
        }
    }

    fn wait(&mut self, loose: Loose) -> Loose {
        let seconds = Exact::from_integer((1 + self.random.below(2)).into());
        if self.in_lane {
            // Beside another person a wait has a beginning, and the other may write before its end.
            let moment = Moment::WaitBegin(StepId(u16::try_from(self.flow.node_count()).unwrap()));
            let begin = self.node(NodeKind::Pass, vec![Effect::Mark { moment }]);
            self.join(loose, begin);
            let act = self.act(ActKind::Do, vec![Effect::WaitSince { seconds, moment }], false);
            self.join(vec![(begin, Way::Next, Vec::new())], act);
            return vec![(act, Way::Next, Vec::new())];
        }
        let act = self.act(ActKind::Do, vec![Effect::Wait { seconds }], false);
        self.join(loose, act);
        vec![(act, Way::Next, Vec::new())]
    }

    /// A step, something in between, then a wait that counts from the step's end.
    fn since(&mut self, loose: Loose, depth: usize) -> Loose {
        let step = StepId(u16::try_from(self.steps.len()).unwrap());
        let effects = vec![self.write()];
        let act = self.act(ActKind::Do, effects, false);
        self.join(loose, act);
        self.steps.push(self.step(act));
        let end = self.node(NodeKind::Pass, vec![Effect::Mark { moment: Moment::StepEnd(step) }]);
        self.join(vec![(act, Way::Next, Vec::new())], end);
        let between =
            self.sequence(vec![(end, Way::Next, Vec::new())], 1, depth.saturating_sub(1).min(1));
        let seconds = Exact::from_integer((1 + self.random.below(3)).into());
        let wait = self.act(
            ActKind::Do,
            vec![Effect::WaitSince { seconds, moment: Moment::StepEnd(step) }],
            false,
        );
        self.join(between, wait);
        vec![(wait, Way::Next, Vec::new())]
    }

    /// People side by side: lanes of a few items each, sometimes made from the same numbers.
    fn together(&mut self, loose: Loose, depth: usize) -> Loose {
        let lanes = vec![Words::of("fitter"), Words::of("mate")];
        let together = self.node(NodeKind::Together { lanes }, Vec::new());
        self.join(loose, together);
        self.in_lane = true;
        for lane in 0..2 {
            let way = Way::Child(lane);
            let length = 1 + self.random.below(2);
            let inner = self.sequence(vec![(together, way, Vec::new())], length, depth - 1);
            let done = self.node(NodeKind::LaneDone { together }, Vec::new());
            self.join(inner, done);
        }
        self.in_lane = false;
        vec![(together, Way::Next, Vec::new())]
    }

    /// A reading with two or three arms, or with a limit; each arm leads to an item of its own.
    fn measure(&mut self, loose: Loose) -> Loose {
        let reading = self.some_reading();
        self.readings = self.readings.max(usize::from(reading.0) + 1);
        let cut = self.bound();
        let effects = vec![Effect::Take { reading }];
        if self.random.one_in(2) {
            let guard = self.guard();
            let limit = SourcedLimit {
                limit: limit(Range::up_to(cut, true)),
                per: None,
                guard,
                span: Span::default(),
            };
            let verdict = Verdict::Accept { limit, computed: None };
            let mut effects = effects;
            if self.random.one_in(4) {
                // Taking a reading may change the machine.
                effects.push(self.write());
            }
            let kind = ActKind::Measure { reading, expect: None, verdict };
            let act = self.act(kind, effects, false);
            self.join(loose, act);
            let write = vec![self.write()];
            return vec![(act, Way::Accepted, Vec::new()), (act, Way::Otherwise, write)];
        }
        let ranges = [Range::up_to(cut.clone(), false), Range::from(cut, true)];
        let arms = ranges.map(|range| ActArm {
            range: Some(limit(range)),
            whole: None,
            answers: Vec::new(),
            written: String::new(),
            span: Span::default(),
        });
        let verdict = Verdict::Arms(arms.to_vec());
        let act = self.act(ActKind::Count { reading, expect: None, verdict }, effects, false);
        self.join(loose, act);
        let write = vec![self.write()];
        vec![(act, Way::Arm(0), write), (act, Way::Arm(1), Vec::new())]
    }

    /// Of half of the limits: a unit is kept off, and as much beyond the limit may be undecided.
    fn guard(&mut self) -> Option<Guard> {
        let unit = Exact::from_integer(1.into());
        let outward = if self.random.one_in(2) { unit.clone() } else { -&unit };
        let upper = Some(Band { inward: unit, outward });
        self.random.one_in(2).then_some(Guard { lower: None, upper })
    }

    fn some_reading(&mut self) -> ReadingId {
        ReadingId(u16::try_from(self.random.below(READINGS)).unwrap())
    }

    fn bound(&mut self) -> Exact {
        Exact::from_integer((1 + self.random.below(2)).into())
    }

    /// A question about a reading that may have been taken.
    fn asked_of_reading(&mut self) -> Condition {
        let value = Expression::Reading(self.some_reading());
        let (bound, closed) = (self.bound(), self.random.one_in(2));
        let range = if self.random.one_in(2) {
            Range::up_to(bound, closed)
        } else {
            Range::from(bound, closed)
        };
        let written = String::new();
        let limit = Limit { range, kind: Units::NUMBER, unit: Units::ONE, decimals: 0, written };
        Condition::Test(Test::Within {
            value,
            limit,
            written: String::new(),
            span: Span::default(),
        })
    }

    fn step(&self, first: NodeId) -> Step {
        Step {
            number: format!("{}", self.steps.len() + 1),
            name: None,
            text: None,
            by: locknut_graph::By::Anyone,
            takes: None,
            first,
            span: Span::default(),
        }
    }

    fn any_order(&mut self, loose: Loose, depth: usize) -> Loose {
        let children = 2 + self.random.below(2);
        let order = self.node(NodeKind::AnyOrder { children }, Vec::new());
        self.join(loose, order);
        let alike = self.random.one_in(2);
        let before = self.random.0;
        for child in 0..children {
            // Children made from the same numbers look alike.
            if alike && child > 0 {
                self.random.0 = before;
            }
            let way = Way::Child(u16::try_from(child).unwrap());
            let length = 1 + self.random.below(2);
            let inner = self.sequence(vec![(order, way, Vec::new())], length, depth - 1);
            let done = self.node(NodeKind::ChildDone { order }, Vec::new());
            self.join(inner, done);
        }
        vec![(order, Way::Next, Vec::new())]
    }

    fn branch(&mut self, loose: Loose, depth: usize) -> Loose {
        let condition = match self.random.below(3) {
            0 if self.readings > 0 => self.asked_of_reading(),
            1 => self.condition(),
            _ => self.plain(),
        };
        let branch = self.node(NodeKind::Branch(condition), Vec::new());
        self.join(loose, branch);
        let mut out = self.sequence(vec![(branch, Way::Arm(0), Vec::new())], 1, depth - 1);
        let length = self.random.below(2);
        out.extend(self.sequence(vec![(branch, Way::Arm(1), Vec::new())], length, depth - 1));
        out
    }

    /// A reading that is accepted, or else: a stop, a few acts, or another round.
    fn reading(&mut self, loose: Loose, depth: usize) -> Loose {
        let again = self.random.one_in(2);
        let (loose, target, repeat) = if again {
            let repeat = RepeatId(u16::try_from(self.repeats.len()).unwrap());
            let afresh = self.node(NodeKind::Pass, vec![Effect::Afresh { repeat }]);
            self.join(loose, afresh);
            let first = self.act(ActKind::Do, vec![], false);
            self.join(vec![(afresh, Way::Next, Vec::new())], first);
            let step = StepId(u16::try_from(self.steps.len()).unwrap());
            self.steps.push(self.step(first));
            let times = u32::try_from(1 + self.random.below(2)).unwrap();
            self.repeats.push(Repeat { step, times, span: Span::default() });
            let inner = self.sequence(vec![(first, Way::Next, Vec::new())], 1, depth - 1);
            (inner, Some(first), Some(repeat))
        } else {
            (loose, None, None)
        };
        let act = self.act(ActKind::Confirm, Vec::new(), false);
        self.join(loose, act);
        let mut out = vec![(act, Way::Accepted, Vec::new())];
        let other = vec![(act, Way::Otherwise, Vec::new())];
        if let (Some(target), Some(repeat)) = (target, repeat) {
            let line = self.node(NodeKind::Repeat(repeat), Vec::new());
            self.join(other, line);
            let proofs =
                (0..self.variables).map(|at| VariableId(u16::try_from(at).unwrap())).collect();
            let readings = (0..u16::try_from(READINGS).unwrap()).map(ReadingId).collect();
            let void = vec![Effect::Void { readings, proofs }];
            self.join(vec![(line, Way::Again, void)], target);
            if self.random.one_in(2) {
                self.stop(vec![(line, Way::Failing, Vec::new())]);
            } else {
                out.push((line, Way::Failing, Vec::new()));
            }
        } else {
            // Something may be done on the way to where the job ends, or nothing.
            let length = self.random.below(3);
            let other = self.sequence(other, length, depth - 1);
            match self.random.below(4) {
                0 | 1 => self.done(other),
                2 => self.stop(other),
                _ => out.extend(other),
            }
        }
        out
    }

    /// `done`, wherever it stands.
    fn done(&mut self, mut loose: Loose) {
        for (.., effects) in &mut loose {
            effects.push(Effect::LeaveBlocks);
        }
        self.to_done.append(&mut loose);
    }

    fn stop(&mut self, loose: Loose) {
        let end = self.node(NodeKind::End(End::Stop { text: Prose::default() }), Vec::new());
        self.join(loose, end);
    }

    fn call(&mut self, loose: Loose, depth: usize) -> Loose {
        let call = self.calls;
        self.calls += 1;
        let owed = self.variable();
        let as_found: Vec<VariableId> = vec![owed];
        let subtask = format!("sub{call}");
        let enter = self.node(
            NodeKind::Enter {
                call,
                subtask: subtask.clone(),
                needs: Vec::new(),
                as_found: as_found.clone(),
            },
            Vec::new(),
        );
        self.join(loose, enter);
        let inner = self.sequence(vec![(enter, Way::Next, Vec::new())], 2, depth - 1);
        let leave = self.node(
            NodeKind::Leave { call, subtask, at: None, as_found, leaves: Vec::new() },
            Vec::new(),
        );
        self.join(inner, leave);
        vec![(leave, Way::Next, Vec::new())]
    }

    fn finish(mut self, start: NodeId) -> StepGraph {
        let interlocks = (0..=self.random.below(2))
            .map(|at| Interlock {
                holds: self.condition(),
                because: Prose::default(),
                span: Span::default(),
                written: format!("rule {at}"),
                held: None,
            })
            .collect();
        let safe = if self.random.one_in(2) { self.plain() } else { self.condition() };
        let ids = (0..u16::try_from(self.variables).unwrap()).map(VariableId);
        let restore = ids
            .clone()
            .map(|variable| Restore {
                variable,
                values: vec![0],
                surely: match self.random.below(24) {
                    0 => Surely::Proved,
                    1..=3 => Surely::For(Exact::from_integer((1 + self.random.below(3)).into())),
                    _ => Surely::So,
                },
                because: None,
                span: Span::default(),
            })
            .collect();
        let value = |name: &str| Value { words: Words::of(name), span: Span::default() };
        let variables = ids
            .map(|id| Variable {
                words: Words::of(&format!("v{}", id.0)),
                values: vec![value("off"), value("on")],
                normal: 0,
                kind: VariableKind::State,
                span: Span::default(),
            })
            .collect();
        let in_doubt = self.in_doubt();
        StepGraph {
            heading: Heading::default(),
            in_doubt,
            left_in_doubt: Vec::new(),
            variables,
            starts: if self.random.one_in(3) {
                vec![(VariableId(0), vec![0, 1])]
            } else {
                Vec::new()
            },
            starts_proved: Vec::new(),
            starts_held: Vec::new(),
            readings: (0..READINGS)
                .map(|at| Reading {
                    words: Words::of(&format!("r{at}")),
                    kind: ReadingKind::Quantity { kind: KindId(0), unit: UnitId(0), decimals: 1 },
                    points: Vec::new(),
                    at: Vec::new(),
                    span: Span::default(),
                })
                .collect(),
            instruments: Vec::new(),
            tools: Vec::new(),
            templates: Vec::new(),
            materials: Vec::new(),
            interlocks,
            hazards: Vec::new(),
            safe_to_leave: (safe, Span::default()),
            leave_said: true,
            restore,
            steps: self.steps,
            flow: self.flow,
            start,
            repeats: self.repeats,
            outline: Vec::new(),
            answered: Vec::new(),
            never: Vec::new(),
            verbs: std::sync::Arc::default(),
        }
    }
}

fn limit(range: Range) -> Limit {
    Limit { range, kind: KindId(0), unit: UnitId(0), decimals: 1, written: String::new() }
}

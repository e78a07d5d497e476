//! Acts, effects and ways as they are written on disk.

use crate::document::{RestoreData, restore};
use crate::value::{
    ConditionData, ExpressionData, LimitData, PieceData, QuantityData, RangeData, condition, exact,
    expression, limit, prose, quantity, range,
};
use locknut_graph::{
    Act, ActKind, Assertion, Band, Choice, ComputedLimit, Effect, End, Guard, Member, Moment,
    NodeKind, Prefer, StepGraph, Verdict, Way,
};
use locknut_quantity::Units;
use serde::Serialize;

#[derive(Clone, Debug, Serialize)]
#[serde(tag = "effect", rename_all = "kebab-case")]
pub(crate) enum EffectData {
    Set { variable: u16, value: u8 },
    Prove { variable: u16 },
    Wait { seconds: String },
    WaitSince { seconds: String, moment: String },
    Mark { moment: String },
    Take { reading: u16 },
    Void { readings: Vec<u16>, proofs: Vec<u16> },
    Afresh { repeat: u16 },
    LeaveBlocks,
}

pub(crate) fn effect(from: &Effect) -> EffectData {
    match from {
        Effect::Set { variable, value } => EffectData::Set { variable: variable.0, value: *value },
        Effect::Prove { variable } => EffectData::Prove { variable: variable.0 },
        Effect::Wait { seconds } => EffectData::Wait { seconds: exact(seconds) },
        Effect::WaitSince { seconds, moment } => {
            EffectData::WaitSince { seconds: exact(seconds), moment: moment_word(*moment) }
        }
        Effect::Mark { moment } => EffectData::Mark { moment: moment_word(*moment) },
        Effect::Take { reading } => EffectData::Take { reading: reading.0 },
        Effect::Void { readings, proofs } => EffectData::Void {
            readings: readings.iter().map(|reading| reading.0).collect(),
            proofs: proofs.iter().map(|variable| variable.0).collect(),
        },
        Effect::Afresh { repeat } => EffectData::Afresh { repeat: repeat.0 },
        Effect::LeaveBlocks => EffectData::LeaveBlocks,
    }
}

/// A moment by its word: `end 3` is the end of step 3, `begin 3` the beginning of its wait.
pub(crate) fn moment_word(from: Moment) -> String {
    match from {
        Moment::StepEnd(step) => format!("end {}", step.0),
        Moment::WaitBegin(step) => format!("begin {}", step.0),
    }
}

/// A way by its word: `next`, `accepted`, `otherwise`, `arm 2`, `child 0`, `again`, `failing`.
pub fn way_word(from: Way) -> String {
    match from {
        Way::Next => "next".into(),
        Way::Accepted => "accepted".into(),
        Way::Otherwise => "otherwise".into(),
        Way::Arm(arm) => format!("arm {arm}"),
        Way::Child(child) => format!("child {child}"),
        Way::Again => "again".into(),
        Way::Failing => "failing".into(),
    }
}

#[derive(Clone, Debug, Serialize)]
#[serde(tag = "node", rename_all = "kebab-case")]
pub(crate) enum NodeData {
    Act {
        act: Box<ActData>,
    },
    Pass,
    Branch {
        condition: ConditionData,
    },
    AnyOrder {
        children: usize,
    },
    ChildDone {
        order: usize,
    },
    Together {
        lanes: Vec<String>,
    },
    LaneDone {
        together: usize,
    },
    Await {
        condition: ConditionData,
    },
    Repeat {
        repeat: u16,
    },
    Enter {
        call: u16,
        subtask: String,
        #[serde(skip_serializing_if = "Vec::is_empty")]
        needs: Vec<NeedData>,
    },
    /// What the subtask gives back as found, and what it leaves otherwise.
    Leave {
        call: u16,
        subtask: String,
        as_found: Vec<u16>,
        #[serde(skip_serializing_if = "Vec::is_empty")]
        leaves: Vec<RestoreData>,
    },
    End {
        end: EndData,
    },
}

#[derive(Clone, Debug, Serialize)]
#[serde(tag = "how", rename_all = "kebab-case")]
pub(crate) enum EndData {
    Done,
    Stop { text: Vec<PieceData> },
    Refer { to: Vec<PieceData> },
}

pub(crate) fn node(kind: &NodeKind, units: &Units) -> NodeData {
    match kind {
        NodeKind::Act(from) => NodeData::Act { act: Box::new(act(from, units)) },
        NodeKind::Pass => NodeData::Pass,
        NodeKind::Branch(from) => NodeData::Branch { condition: condition(from, units) },
        NodeKind::AnyOrder { children } => NodeData::AnyOrder { children: *children },
        NodeKind::ChildDone { order } => NodeData::ChildDone { order: order.index() },
        NodeKind::Together { lanes } => {
            NodeData::Together { lanes: lanes.iter().map(|by| by.name.clone()).collect() }
        }
        NodeKind::LaneDone { together } => NodeData::LaneDone { together: together.index() },
        NodeKind::Await(from) => NodeData::Await { condition: condition(from, units) },
        NodeKind::Repeat(id) => NodeData::Repeat { repeat: id.0 },
        NodeKind::Enter { call, subtask, needs: asked, .. } => {
            NodeData::Enter { call: *call, subtask: subtask.clone(), needs: needs(asked, units) }
        }
        NodeKind::Leave { call, subtask, as_found, leaves, .. } => NodeData::Leave {
            call: *call,
            subtask: subtask.clone(),
            as_found: as_found.iter().map(|variable| variable.0).collect(),
            leaves: leaves.iter().map(restore).collect(),
        },
        NodeKind::End(end) => NodeData::End {
            end: match end {
                End::Done => EndData::Done,
                End::Stop { text } => EndData::Stop { text: prose(text, units) },
                End::Refer { to } => EndData::Refer { to: prose(to, units) },
            },
        },
    }
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct ActData {
    #[serde(flatten)]
    pub(crate) asks: AskData,
    /// The phrase by which it is said.
    pub(crate) phrase: String,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) needs: Vec<NeedData>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) instrument: Option<usize>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) tools: Vec<usize>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) applies: Vec<LimitData>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) touches: Vec<u16>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) substitute: Option<SubstituteData>,
    /// The role of whoever signs: a name that stands for another role is not taken.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) signed_as: Option<String>,
}

/// What it is read in the place of; `open`: the sides of that limit that it does not decide.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct SubstituteData {
    pub(crate) of: u16,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) instrument: Option<usize>,
    pub(crate) other: bool,
    pub(crate) open: Vec<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) again: Option<usize>,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct NeedData {
    pub(crate) condition: ConditionData,
    pub(crate) written: String,
}

#[derive(Clone, Debug, Serialize)]
#[serde(tag = "asks", rename_all = "kebab-case")]
pub(crate) enum AskData {
    Do,
    Confirm,
    Wait {
        seconds: String,
        #[serde(skip_serializing_if = "Option::is_none")]
        since: Option<String>,
    },
    Measure {
        reading: u16,
        #[serde(skip_serializing_if = "Option::is_none")]
        expect: Option<LimitData>,
        verdict: VerdictData,
    },
    Count {
        reading: u16,
        #[serde(skip_serializing_if = "Option::is_none")]
        expect: Option<LimitData>,
        verdict: VerdictData,
    },
    Observe {
        reading: u16,
        verdict: VerdictData,
    },
    Record {
        reading: u16,
    },
    Check {
        reading: u16,
        value: ExpressionData,
        verdict: VerdictData,
    },
    Choose(Box<ChoiceData>),
}

#[derive(Clone, Debug, Serialize)]
#[serde(tag = "verdict", rename_all = "kebab-case")]
#[expect(
    clippy::large_enum_variant,
    reason = "few of them, and each is looked into more often than moved"
)]
pub(crate) enum VerdictData {
    None,
    Accept {
        limit: Box<LimitData>,
        #[serde(skip_serializing_if = "Option::is_none")]
        computed: Option<ComputedData>,
        #[serde(skip_serializing_if = "Option::is_none")]
        guard: Option<GuardData>,
    },
    Arms {
        arms: Vec<ArmData>,
    },
}

/// Readings are accepted from `inward` inside the limit on, refused from `outward` outside it on.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct GuardData {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) lower: Option<BandData>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) upper: Option<BandData>,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct BandData {
    pub(crate) inward: String,
    pub(crate) outward: String,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct ComputedData {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) lower: Option<(ExpressionData, bool)>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) upper: Option<(ExpressionData, bool)>,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct ArmData {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) range: Option<RangeData>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) answers: Vec<u8>,
    pub(crate) written: String,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct ChoiceData {
    pub(crate) reading: u16,
    pub(crate) set: Vec<MemberData>,
    pub(crate) target: String,
    pub(crate) value: ExpressionData,
    pub(crate) range: LimitData,
    pub(crate) prefer: PreferData,
    pub(crate) otherwise: bool,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) rows: Vec<(RangeData, usize)>,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct MemberData {
    pub(crate) size: QuantityData,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) number: Option<String>,
    /// Of a stack: what lies on one another.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) pieces: Vec<PieceOfStack>,
}

/// One piece of a stack: its size as written, and its part number.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct PieceOfStack {
    pub(crate) written: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) number: Option<String>,
}

#[derive(Clone, Debug, Serialize)]
#[serde(tag = "prefer", rename_all = "kebab-case")]
pub(crate) enum PreferData {
    Smallest,
    Largest,
    Nearest { to: QuantityData },
    Fewest,
}

fn needs(from: &[Assertion], units: &Units) -> Vec<NeedData> {
    let need = |need: &Assertion| NeedData {
        condition: condition(&need.condition, units),
        written: need.written.clone(),
    };
    from.iter().map(need).collect()
}

pub(crate) fn act(from: &Act, units: &Units) -> ActData {
    ActData {
        asks: ask(&from.kind, units),
        phrase: from.line.phrase.clone(),
        needs: needs(&from.assertions, units),
        instrument: from.instrument,
        tools: from.tools.clone(),
        applies: from.applies.iter().map(|stage| limit(stage, units)).collect(),
        touches: from.touches.iter().map(|hazard| hazard.0).collect(),
        substitute: from.substitute.as_deref().map(|from| SubstituteData {
            of: from.of.0,
            instrument: from.instrument,
            other: from.other,
            open: from.open.iter().map(|side| side.word()).collect(),
            again: from.again.map(locknut_graph::NodeId::index),
        }),
        signed_as: from.signed_as().map(|role| role.said.clone()),
    }
}

fn ask(kind: &ActKind, units: &Units) -> AskData {
    match kind {
        ActKind::Do => AskData::Do,
        ActKind::Confirm => AskData::Confirm,
        ActKind::Wait { seconds, since, .. } => {
            AskData::Wait { seconds: exact(seconds), since: since.map(moment_word) }
        }
        ActKind::Measure { reading, expect, verdict: after } => AskData::Measure {
            reading: reading.0,
            expect: expect.as_ref().map(|range| limit(range, units)),
            verdict: verdict(after, units),
        },
        ActKind::Count { reading, expect, verdict: after } => AskData::Count {
            reading: reading.0,
            expect: expect.as_ref().map(|range| limit(range, units)),
            verdict: verdict(after, units),
        },
        ActKind::Observe { reading, verdict: after, .. } => {
            AskData::Observe { reading: reading.0, verdict: verdict(after, units) }
        }
        ActKind::Record { reading } => AskData::Record { reading: reading.0 },
        ActKind::Check { reading, value, verdict: after, .. } => AskData::Check {
            reading: reading.0,
            value: expression(value, units),
            verdict: verdict(after, units),
        },
        ActKind::Choose(from) => AskData::Choose(Box::new(choice(from, units))),
    }
}

fn verdict(from: &Verdict, units: &Units) -> VerdictData {
    match from {
        Verdict::None => VerdictData::None,
        Verdict::Accept { limit: accepted, computed } => VerdictData::Accept {
            limit: Box::new(limit(&accepted.limit, units)),
            computed: computed.as_ref().map(|ends| self::computed(ends, units)),
            guard: accepted.guard.as_ref().map(guard),
        },
        Verdict::Arms(arms) => VerdictData::Arms {
            arms: arms
                .iter()
                .map(|arm| ArmData {
                    range: arm.range.as_ref().map(|covers| range(&covers.range)),
                    answers: arm.answers.clone(),
                    written: arm.written.clone(),
                })
                .collect(),
        },
    }
}

fn guard(from: &Guard) -> GuardData {
    let band =
        |band: &Band| BandData { inward: exact(&band.inward), outward: exact(&band.outward) };
    GuardData { lower: from.lower.as_ref().map(band), upper: from.upper.as_ref().map(band) }
}

fn computed(from: &ComputedLimit, units: &Units) -> ComputedData {
    let end = |end: &(locknut_graph::Expression, bool)| (expression(&end.0, units), end.1);
    ComputedData { lower: from.lower.as_ref().map(end), upper: from.upper.as_ref().map(end) }
}

fn choice(from: &Choice, units: &Units) -> ChoiceData {
    let piece = |at: &usize| {
        let (size, number) = from.sizes.get(*at)?;
        Some(PieceOfStack { written: size.written.clone(), number: number.clone() })
    };
    let member = |member: &Member| {
        let mut pieces: Vec<PieceOfStack> = member.pieces.iter().filter_map(piece).collect();
        let single = if from.stacked.is_none() { pieces.pop() } else { None };
        MemberData {
            size: quantity(&member.size, units),
            number: single.and_then(|single| single.number),
            pieces,
        }
    };
    ChoiceData {
        reading: from.reading.0,
        set: from.set.iter().map(member).collect(),
        target: from.target.name.clone(),
        value: expression(&from.value, units),
        range: limit(&from.range, units),
        prefer: match &from.prefer {
            Prefer::Smallest => PreferData::Smallest,
            Prefer::Largest => PreferData::Largest,
            Prefer::Nearest(to) => PreferData::Nearest { to: quantity(to, units) },
            Prefer::Fewest => PreferData::Fewest,
        },
        otherwise: from.otherwise,
        rows: from.rows.iter().map(|(row, member)| (range(&row.range), *member)).collect(),
    }
}

/// The ways out of every node are listed with it; see the schema.
pub(crate) fn ways(graph: &StepGraph, id: locknut_graph::NodeId, units: &Units) -> Vec<WayData> {
    graph
        .ways(id)
        .into_iter()
        .map(|(taken, edge, to)| WayData {
            way: way_word(taken),
            to: to.index(),
            effects: edge.effects.iter().map(effect).collect(),
            noting: edge.noting.as_ref().map(|text| prose(text, units)),
        })
        .collect()
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct WayData {
    pub(crate) way: String,
    pub(crate) to: usize,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) effects: Vec<EffectData>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) noting: Option<Vec<PieceData>>,
}

//! Acts → lines.

use crate::as_written;
use crate::choices;
use crate::expected;
use crate::guarded;
use crate::look_ups;
use crate::outcomes::outcomes;
use crate::places::Places;
use crate::rules::{rule, unit_of};
use crate::sheet::{Field, Line as SheetLine, LineKind, Order};
use crate::words::Speaker;
use locknut_graph::{
    Act, ActKind, Layout, Line, LineValue, NodeId, Pull, Reading, ReadingId, ReadingKind, Test,
    Verdict,
};
use locknut_proof::Facts;
use locknut_quantity::{Limit, decimals_in};
use std::borrow::Cow;

/// Values that a phrase may leave out; those it leaves out are told behind it, each by its own phrase.
pub(crate) const PARTS: &[&str] = &[
    "stages",
    "quantity",
    "with",
    "sense",
    "effort",
    "effort-limit",
    "seen-from",
    "instrument",
    "points",
    "pattern",
    "by",
    "because",
];

/// The line of an act.
pub(crate) fn line(
    speak: Speaker<'_>,
    facts: &Facts,
    places: &Places,
    node: NodeId,
    act: &Act,
) -> SheetLine {
    let reader = speak;
    let speak = reader.of_act(act);
    let mut text = sentence(speak, &act.line);
    if let ActKind::Observe { question: Some(question), .. } = &act.kind {
        text = speak.prose(question);
    }
    if let ActKind::Confirm = act.kind {
        text = sentence(speak, &act.line);
    }
    SheetLine {
        node,
        text,
        kind: kind(speak, facts, node, act),
        panels: places.line_panels(speak, node),
        cautions: act
            .cautions
            .iter()
            .map(|caution| sentence(speak, caution))
            .chain(evenly(speak, act))
            .chain(as_written::caution(reader, act))
            .chain(expected::caution(speak, places, node, act))
            .chain(before_rounding(speak, act))
            .chain(guarded::caution(speak, act, facts.limit_rows.contains_key(&node)))
            .collect(),
        source: source(speak, act),
        order: order(speak, act).map(Box::new),
        tables: look_ups::tables(speak, facts.limit_rows.get(&node).map(Vec::as_slice), act),
        outcomes: outcomes(reader, facts, places, node),
    }
}

/// What has more digits than anybody writes down is held against its limit with all of them.
fn before_rounding(speak: Speaker<'_>, act: &Act) -> Option<String> {
    let ActKind::Check { rounded: true, verdict, reading, .. } = &act.kind else { return None };
    let asks = |test: &Test| matches!(test, Test::Within { value, .. } if value.readings().contains(reading));
    let asked = || speak.graph.conditions().iter().any(|one| one.tests().into_iter().any(asks));
    let compared = !matches!(verdict, Verdict::None) || asked();
    compared.then(|| speak.phrases.label("caution-before-rounding"))
}

/// The sums share one load evenly among the fasteners of a set: that is so where they are tightened evenly.
fn evenly(speak: Speaker<'_>, act: &Act) -> Option<String> {
    let load = &act.tightening.as_ref()?.carries.as_ref()?.load;
    let shared = matches!(load.pull, Pull::Whole(..)) && load.count > 1;
    shared.then(|| speak.phrases.label("caution-evenly"))
}

/// In which order fasteners are tightened, counted as they stand.
fn order(speak: Speaker<'_>, act: &Act) -> Option<Order> {
    let pattern = act.tightening.as_ref()?.pattern.as_ref()?;
    let key = match &pattern.layout {
        Layout::Circle => "order-circle",
        Layout::Rectangle(_) => "order-rectangle",
        Layout::Row(_) => "order-row",
        Layout::Listed(_) => "order-listed",
    };
    let turns: Vec<String> =
        pattern.order.iter().map(|at| (u32::from(*at) + 1).to_string()).collect();
    Some(Order {
        pattern: pattern.clone(),
        caption: speak.say("order-caption", &[]),
        words: speak.say(key, &[("order", turns.join(", "))]),
    })
}

fn source(speak: Speaker<'_>, act: &Act) -> Option<String> {
    match act.kind.verdict() {
        Some(Verdict::Accept { limit, .. }) => limit.per.as_ref().map(|per| speak.prose(per)),
        // The limit that is answered with yes or no stands in the line itself.
        _ => act.line.values.get("per").map(|per| value_words(speak, per)),
    }
}

/// A phrase filled in, with the values that it leaves out told behind it, as one sentence.
pub(crate) fn sentence(speak: Speaker<'_>, line: &Line) -> String {
    let key = worded_by_library(speak, line);
    let said: Vec<(&str, String)> = line
        .values
        .iter()
        .map(|(name, value)| (name.as_str(), value_words(speak, value)))
        .collect();
    let mut all = said.clone();
    for part in PARTS.iter().chain(&["count", "thing", "what", "set"]) {
        if !all.iter().any(|(name, _)| name == part) {
            all.push((part, String::new()));
        }
    }
    let mut text = fill(speak, &key, line, &all);
    for part in PARTS {
        let Some(value) = said.iter().find(|(name, value)| name == part && !value.is_empty())
        else {
            continue;
        };
        if used(speak, &key, line, &all, part)
            || (*part == "effort-limit" && text.contains(&value.1))
        {
            continue;
        }
        let more = speak.phrases.say(&format!("part-{part}"), &all, line.span);
        text.push_str(&more);
    }
    finished(&text)
}

/// `set-supply-isolated`, where the library words a state's write itself.
fn worded_by_library(speak: Speaker<'_>, line: &Line) -> String {
    if let (Some(LineValue::Words(state)), Some(LineValue::Words(value))) =
        (line.values.get("state"), line.values.get("value"))
    {
        let own = format!("set-{}-{}", state.name, value.name);
        if speak.phrases.has(&own) {
            return own;
        }
    }
    line.phrase.clone()
}

fn fill(speak: Speaker<'_>, key: &str, line: &Line, values: &[(&str, String)]) -> String {
    let text = match line.values.get("count") {
        Some(LineValue::Number(count)) if *count > 1 => {
            speak.phrases.count(key, *count, values, line.span)
        }
        _ => speak.phrases.say(key, values, line.span),
    };
    text.split(' ').filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
}

/// Whether a phrase tells a value itself.
fn used(speak: Speaker<'_>, key: &str, line: &Line, values: &[(&str, String)], part: &str) -> bool {
    const SIGN: &str = "\u{1}";
    let marked: Vec<(&str, String)> = values
        .iter()
        .map(|(name, value)| (*name, if *name == part { SIGN.to_owned() } else { value.clone() }))
        .collect();
    fill(speak, key, line, &marked).contains(SIGN)
}

fn finished(text: &str) -> String {
    let text = Speaker::sentence(text.trim());
    if text.is_empty() || text.ends_with(['.', '?', '!', ':']) { text } else { format!("{text}.") }
}

fn value_words(speak: Speaker<'_>, value: &LineValue) -> String {
    match value {
        LineValue::Words(words) => speak.phrases.value("", words),
        LineValue::List(list) => {
            speak.all_of(&list.iter().map(|words| speak.phrases.name(words)).collect::<Vec<_>>())
        }
        LineValue::Quantity(quantity) => speak.quantity(quantity),
        LineValue::Limit(limit) => speak.limit(limit),
        LineValue::Prose(prose) => speak.prose(prose),
        // One thing is told without its number: "the drain plug".
        LineValue::Number(1) => String::new(),
        LineValue::Number(number) => number.to_string(),
        LineValue::Stages(stages) => stages
            .iter()
            .map(|stage| {
                let values: Vec<(&str, String)> = stage
                    .values
                    .iter()
                    .map(|(name, value)| (name.as_str(), value_words(speak, value)))
                    .collect();
                speak.phrases.say(&stage.phrase, &values, stage.span)
            })
            .collect::<Vec<_>>()
            .join(&speak.phrases.label("stage-then")),
        LineValue::Reading(reading) => speak.reading_around(*reading),
        LineValue::Step(step) => speak.graph.step(*step).number.clone(),
        LineValue::Steps(steps) => {
            let numbers = steps.iter().map(|step| speak.graph.step(*step).number.clone());
            speak.all_of(&numbers.collect::<Vec<_>>())
        }
        LineValue::Text(text) => worded(speak, text),
    }
}

/// A word of sense or pattern (`clockwise`, `crosswise`) has a phrase; designations have none.
fn worded(speak: Speaker<'_>, text: &str) -> String {
    let words = text.split(", ").map(|part| {
        // How far apart they stand is the drawing's business, not the fitter's.
        let part = if part.starts_with("on pitch circle") { "on pitch circle" } else { part };
        let part = if part.starts_with("in a row") { "in a row" } else { part };
        if let Some(rows) = part.strip_prefix("on rectangle ") {
            let rows = rows.split(" of ").next().unwrap_or(rows);
            let rows = rows.replace('x', "×").replace(' ', "\u{a0}");
            return speak.say("word-on-rectangle", &[("rows", rows)]);
        }
        if let Some(points) = part.strip_prefix("on points ") {
            // A place is not broken at the end of a line.
            let places = points.replace(" x ", " × ").replace(" and ", ";").replace(' ', "\u{a0}");
            let places = places.replace(';', "; ");
            return speak.say("word-on-points", &[("places", places)]);
        }
        let key = format!("word-{}", part.replace(' ', "-"));
        if speak.phrases.has(&key) { speak.phrases.label(&key) } else { part.to_owned() }
    });
    words.collect::<Vec<_>>().join(", ")
}

fn kind(speak: Speaker<'_>, facts: &Facts, node: NodeId, act: &Act) -> LineKind {
    match &act.kind {
        ActKind::Do | ActKind::Confirm | ActKind::Wait { .. } => LineKind::Tick,
        ActKind::Measure { reading, verdict, .. } | ActKind::Count { reading, verdict, .. } => {
            let fields = fields(speak, *reading, accepted(speak, act, verdict).as_deref());
            let rows = facts.limit_rows.contains_key(&node);
            let worked = |field| worked_out_limit(speak, verdict, rows, field);
            LineKind::Fields(fields.into_iter().map(worked).collect())
        }
        ActKind::Observe { reading, .. } => LineKind::Answers(answers(speak, *reading)),
        ActKind::Record { reading } => LineKind::Fields(fields(speak, *reading, None)),
        ActKind::Check { reading, value, verdict, .. } => LineKind::Computed {
            rule: rule(speak, &speak.reading(*reading), unit_of(speak, *reading), value),
            field: worked_out_limit(
                speak,
                verdict,
                facts.limit_rows.contains_key(&node),
                one_field(speak, *reading, accepted(speak, act, verdict).as_deref()),
            ),
        },
        ActKind::Choose(choice) => {
            choices::kind(speak, (facts, node), choice, one_field(speak, choice.reading, None))
        }
    }
}

fn accepted<'v>(speak: Speaker<'_>, act: &Act, verdict: &'v Verdict) -> Option<Cow<'v, Limit>> {
    match verdict {
        Verdict::Accept { limit, computed: None } => Some(guarded::accepted(speak, act, limit)),
        Verdict::Accept { computed: Some(_), .. } | Verdict::None | Verdict::Arms(_) => None,
    }
}

/// A limit that is worked out from readings stands in words in the place of its figures; where a table is drawn in
/// for a guard, no end that is not drawn in stands beside it.
fn worked_out_limit(speak: Speaker<'_>, verdict: &Verdict, rows: bool, field: Field) -> Field {
    let Verdict::Accept { computed: Some(ends), limit } = verdict else { return field };
    let said = if rows && limit.guard.is_some() {
        speak.phrases.label("limit-see-table")
    } else {
        look_ups::limit_words(speak, ends)
    };
    Field { limit: Some(said), ..field }
}

pub(crate) fn answers(speak: Speaker<'_>, reading: ReadingId) -> Vec<String> {
    match &speak.graph.reading(reading).kind {
        ReadingKind::Answer { answers, .. } => {
            answers.iter().map(|answer| speak.phrases.value("answer", answer)).collect()
        }
        ReadingKind::Quantity { .. }
        | ReadingKind::Serial
        | ReadingKind::Date
        | ReadingKind::Text => Vec::new(),
    }
}

fn fields(speak: Speaker<'_>, id: ReadingId, limit: Option<&Limit>) -> Vec<Field> {
    let reading = speak.graph.reading(id);
    if reading.points.is_empty() {
        return vec![one_field(speak, id, limit)];
    }
    let point =
        |words: &locknut_graph::Words| field(speak, reading, speak.phrases.name(words), limit);
    reading.points.iter().map(point).collect()
}

fn one_field(speak: Speaker<'_>, id: ReadingId, limit: Option<&Limit>) -> Field {
    let reading = speak.graph.reading(id);
    field(speak, reading, speak.reading(id), limit)
}

fn field(speak: Speaker<'_>, reading: &Reading, label: String, limit: Option<&Limit>) -> Field {
    let (unit, unit_name, decimals) = match &reading.kind {
        ReadingKind::Quantity { kind, unit, decimals } => {
            let read_in = speak.reader_unit(*unit);
            let known = speak.units.unit(read_in);
            let printed = speak.qualified(speak.unit_word(known, ""), *kind);
            (printed, known.name.clone(), decimals_in(speak.units, *unit, *decimals, read_in))
        }
        ReadingKind::Answer { .. }
        | ReadingKind::Serial
        | ReadingKind::Date
        | ReadingKind::Text => (String::new(), String::new(), 0),
    };
    Field {
        label,
        unit,
        unit_name,
        limit: limit.map(|limit| speak.limit(limit)),
        band: limit.map(|limit| speak.band(limit)),
        decimals,
    }
}

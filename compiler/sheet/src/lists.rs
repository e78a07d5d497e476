//! People, time, instruments, tools, parts, consumables: all derived.

use crate::choices::needed;
use crate::sheet::List;
use crate::words::Speaker;
use locknut_graph::{Act, Instrument, Material, Words};
use locknut_proof::Facts;
use locknut_quantity::Exact;
use num_traits::Zero;
use std::collections::{BTreeMap, BTreeSet};

/// The lists that have anything in them, in the order in which a fitter gathers things.
pub(crate) fn lists(speak: Speaker<'_>, facts: &Facts) -> Vec<List> {
    let all = [
        people(speak, facts),
        time(speak, facts),
        instruments(speak),
        tools(speak, true),
        tools(speak, false),
        parts(speak),
        consumables(speak, facts),
    ];
    all.into_iter().filter(|list| !list.rows.is_empty()).collect()
}

fn list(speak: Speaker<'_>, key: &str, columns: &[&str], rows: Vec<Vec<String>>) -> List {
    List {
        key: key.to_owned(),
        title: speak.phrases.label(&format!("list-{key}")),
        columns: columns
            .iter()
            .map(
                |column| {
                    if column.is_empty() { String::new() } else { speak.phrases.label(column) }
                },
            )
            .collect(),
        rows,
    }
}

/// Whoever is needed, and how long each is at work: what two do together counts for both.
fn people(speak: Speaker<'_>, facts: &Facts) -> List {
    let said = |work: Option<&Exact>| {
        let work = work.filter(|work| !work.is_zero());
        let said = work.map(|work| speak.say("people-work", &[("time", speak.duration(work))]));
        said.unwrap_or_default()
    };
    let row = |role: &locknut_graph::Words| {
        vec![Speaker::sentence(&speak.phrases.name(role)), said(facts.time.work.get(role))]
    };
    let mut rows: Vec<Vec<String>> = speak.graph.heading.crew.iter().map(row).collect();
    if rows.len() > 1 && !facts.time.anyone.is_zero() {
        rows.push(vec![speak.phrases.label("people-anyone"), said(Some(&facts.time.anyone))]);
    }
    list(speak, "people", &["", ""], rows)
}

fn time(speak: Speaker<'_>, facts: &Facts) -> List {
    let mut rows = Vec::new();
    if let Some((least, likely, most)) = &facts.time.elapsed {
        let text = if least == most {
            speak.duration(likely)
        } else {
            speak.say(
                "time-spread",
                &[
                    ("likely", speak.duration(likely)),
                    ("least", speak.duration(least)),
                    ("most", speak.duration(most)),
                ],
            )
        };
        rows.push(vec![speak.phrases.label("time-elapsed"), text]);
        if !facts.time.waits.is_zero() {
            rows.push(vec![
                speak.phrases.label("time-waits"),
                speak.exact_duration(&facts.time.waits),
            ]);
        }
        if facts.time.untimed > 0 {
            let count = u64::try_from(facts.time.untimed).unwrap_or(u64::MAX);
            let text =
                speak.phrases.count("time-untimed", count, &[], locknut_finding::Span::default());
            rows.push(vec![String::new(), text]);
        }
    }
    list(speak, "time", &["", ""], rows)
}

fn instruments(speak: Speaker<'_>) -> List {
    let instead = instead(speak);
    let all = (0_usize..).zip(&speak.graph.instruments);
    let rows = all.map(|(at, one)| instrument(speak, one, instead.get(&at))).collect();
    list(
        speak,
        "instruments",
        &[
            "column-instrument",
            "column-range",
            "column-resolution",
            "column-error",
            "column-calibrated",
        ],
        rows,
    )
}

/// Instruments that are needed only where others are not at hand, with those.
fn instead(speak: Speaker<'_>) -> BTreeMap<usize, BTreeSet<usize>> {
    let acts = || speak.graph.flow.node_weights().filter_map(|node| node.act());
    let needed: BTreeSet<usize> =
        acts().filter(|act| act.substitute.is_none()).filter_map(|act| act.instrument).collect();
    let mut instead: BTreeMap<usize, BTreeSet<usize>> = BTreeMap::new();
    for act in acts() {
        if let (Some(own), Some(substitute)) = (act.instrument, &act.substitute)
            && !needed.contains(&own)
        {
            instead.entry(own).or_default().extend(substitute.instrument);
        }
    }
    instead
}

fn instrument(
    speak: Speaker<'_>,
    one: &Instrument,
    instead: Option<&BTreeSet<usize>>,
) -> Vec<String> {
    let range = locknut_quantity::Limit {
        range: one.range.clone(),
        kind: one.kind,
        unit: one.unit,
        decimals: range_decimals(one),
        written: one.range_written.clone(),
    };
    let scale = one.scale.as_ref().map(|scale| format!(" {scale}")).unwrap_or_default();
    // A gauge is read in its own unit, whatever the reader prefers.
    let own = Speaker { system: None, ..speak };
    vec![
        Speaker::sentence(&instrument_name(speak, one, instead)),
        if one.one_limit {
            let limit = format!("{}{scale}", own.limit(&range));
            speak.say("instrument-one-limit", &[("limit", limit)])
        } else {
            asked_in(speak, one, format!("{}{scale}", own.limit(&range)))
        },
        one.resolution.as_ref().map(|step| own.quantity(step)).unwrap_or_default(),
        one.error.as_ref().map(|error| error_words(speak, &error.written)).unwrap_or_default(),
        one.calibrate_months.map(|months| calibrated(speak, months)).unwrap_or_default(),
    ]
}

/// A range, and in which other unit the sheet asks for what the instrument shows: a figure read from its scale and written
/// there would be taken for another.
fn asked_in(speak: Speaker<'_>, one: &Instrument, range: String) -> String {
    let asked = speak.reader_unit(one.unit);
    if asked == one.unit {
        return range;
    }
    let unit = speak.unit_word(speak.units.unit(asked), "");
    let at = speak.graph.instruments.iter().position(|other| other.span == one.span);
    let kept = |act: &Act| act.kind.reading().is_some_and(|reading| speak.kept.contains(&reading));
    let used = speak.graph.acts().filter(|act| at.is_some() && act.instrument == at);
    let (kept, turned): (Vec<&Act>, Vec<&Act>) = used.partition(|act| kept(act));
    let set_in_other =
        turned.iter().any(|act| act.applies.iter().any(|to| speak.said_in_other(to, asked)));
    // Where each of its readings stays as it is written, the steps say so.
    if turned.is_empty() && !kept.is_empty() {
        return range;
    }
    // A wrench is set to small figures in a smaller unit.
    let part = !kept.is_empty() || set_in_other;
    let key = if part { "instrument-asked-in-part" } else { "instrument-asked-in" };
    speak.say(key, &[("range", range), ("unit", unit)])
}

fn instrument_name(
    speak: Speaker<'_>,
    one: &Instrument,
    instead: Option<&BTreeSet<usize>>,
) -> String {
    let name = cut_from(speak, speak.phrases.name(&one.words), one.template.as_ref());
    let Some(others) = instead else { return name };
    let others = others.iter().filter_map(|at| speak.graph.instruments.get(*at));
    let others: Vec<String> = others.map(|other| speak.phrases.name(&other.words)).collect();
    speak.say("instrument-instead", &[("instrument", name), ("of", speak.any_of(&others))])
}

/// As many digits as the ends of the range were written with.
fn range_decimals(one: &Instrument) -> u32 {
    let longest = one.range_written.split(|sign: char| !(sign.is_ascii_digit() || sign == '.'));
    let decimals = longest
        .filter_map(|number| number.trim_end_matches('.').split_once('.'))
        .map(|(_, rest)| rest.len());
    u32::try_from(decimals.max().unwrap_or(0)).unwrap_or(0)
}

/// `4 % of reading` in the reader's language: the digits are localised, `of reading` is a phrase.
fn error_words(speak: Speaker<'_>, written: &str) -> String {
    let mut text = speak.units_said(written);
    for (word, key) in [
        ("of reading", "error-of-reading"),
        ("of full scale", "error-of-full-scale"),
        ("plus", "error-plus"),
    ] {
        text = text.replace(word, &speak.phrases.label(key));
    }
    if text.starts_with('±') || text.is_empty() {
        text
    } else {
        format!("± {}", localised(speak, &text))
    }
}

fn localised(speak: Speaker<'_>, text: &str) -> String {
    text.split(' ')
        .map(|word| {
            let number =
                word.chars().all(|sign| sign.is_ascii_digit() || sign == '.') && !word.is_empty();
            if number { speak.digits(word) } else { word.to_owned() }
        })
        .collect::<Vec<_>>()
        .join(" ")
}

fn calibrated(speak: Speaker<'_>, months: u32) -> String {
    speak.phrases.count(
        "calibrated-every",
        u64::from(months),
        &[],
        locknut_finding::Span::default(),
    )
}

fn tools(speak: Speaker<'_>, special: bool) -> List {
    let rows = speak
        .graph
        .tools
        .iter()
        .filter(|tool| tool.special == special)
        .map(|tool| {
            let name = cut_from(speak, speak.phrases.name(&tool.words), tool.template.as_ref());
            vec![Speaker::sentence(&name), tool.number.clone().unwrap_or_default()]
        })
        .collect();
    let key = if special { "special-tools" } else { "tools" };
    list(speak, key, &["column-tool", "column-number"], rows)
}

/// A thing that is cut out of a page behind the sheet.
fn cut_from(speak: Speaker<'_>, name: String, template: Option<&Words>) -> String {
    let Some(template) = template else { return name };
    let template = speak.phrases.name(template);
    speak.say("cut-from", &[("name", name), ("template", template)])
}

fn parts(speak: Speaker<'_>) -> List {
    let rows = speak
        .graph
        .materials
        .iter()
        .filter(|material| material.new_part)
        .map(|material| {
            vec![Speaker::sentence(&speak.phrases.name(&material.words)), maybe(speak, material)]
        })
        .collect();
    list(speak, "parts", &["column-part", ""], rows)
}

fn consumables(speak: Speaker<'_>, facts: &Facts) -> List {
    let rows = speak
        .graph
        .materials
        .iter()
        .filter(|material| !material.new_part)
        .map(|material| {
            let sizes = needed(speak, facts, material);
            let much = material.quantity.as_ref().map(|quantity| speak.quantity(quantity));
            vec![
                Speaker::sentence(&speak.phrases.name(&material.words)),
                much.unwrap_or_else(|| sizes.join(", ")),
                maybe(speak, material),
            ]
        })
        .collect();
    list(speak, "consumables", &["column-consumable", "column-quantity", ""], rows)
}

fn maybe(speak: Speaker<'_>, material: &Material) -> String {
    if material.maybe { speak.phrases.label("maybe-needed") } else { String::new() }
}

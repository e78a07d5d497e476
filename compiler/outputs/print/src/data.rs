//! What the template gets: the sheet as JSON. The template's head lists the fields.

use crate::PrintProblem;
use crate::world::can_show;
use locknut_graph::{Paper, Signal};
use locknut_picture::{TemplateWords, TrueScale};
use locknut_sheet::{
    Block, Field, Line, LineKind, List, Outcome, Panel, Sheet, Table, TemplateSheet,
};
use serde_json::{Value, json};

/// A checklist.
pub(crate) fn sheet(sheet: &Sheet, paper: Paper, source: &str) -> Result<Vec<u8>, PrintProblem> {
    bytes(sheet_data(sheet, paper, source)?)
}

/// A template by itself.
pub(crate) fn template_alone(
    template: &TemplateSheet,
    publisher: &str,
    paper: Paper,
    source: &str,
) -> Result<Vec<u8>, PrintProblem> {
    bytes(json!({
        "paper": paper_name(paper),
        "language": template.language,
        "publisher": publisher,
        "source": source,
        "template": template_data(template, paper)?,
    }))
}

fn bytes(mut data: Value) -> Result<Vec<u8>, PrintProblem> {
    show_all(&mut data);
    Ok(serde_json::to_vec(&data)?)
}

fn paper_name(paper: Paper) -> &'static str {
    match paper {
        Paper::A4 => "a4",
        Paper::Letter => "us-letter",
    }
}

/// What a drawing of a template says.
pub(crate) fn words(template: &TemplateSheet) -> TemplateWords<'_> {
    let [across, down] = &template.lines;
    TemplateWords {
        title: &template.title,
        lines: [across, down],
        how: &template.how,
        labels: &template.labels,
    }
}

fn template_data(from: &TemplateSheet, paper: Paper) -> Result<Value, PrintProblem> {
    let placing = from.template.placing(paper);
    let placing = placing.ok_or_else(|| PrintProblem::TooLarge(from.name.clone()))?;
    let drawn = |drawn: TrueScale| json!({ "svg": drawn.svg, "size": drawn.size });
    Ok(json!({
        "name": from.name,
        "title": from.title,
        "purpose": from.purpose,
        "how": from.how,
        "dimensions": from.dimensions,
        "landscape": placing.landscape,
        "next-page": from.next_page,
        "turned": placing.turned.then_some(&from.turned),
        "proof": drawn(locknut_picture::proving_lines(&words(from))),
        "drawing": drawn(locknut_picture::template(&from.template, &words(from))),
    }))
}

/// Replaces signs that no font has, everywhere; under PDF/UA-1 one of them would refuse the sheet.
fn show_all(value: &mut Value) {
    match value {
        Value::String(text) => {
            if text.chars().any(|sign| !showable(sign)) {
                *text = text.chars().map(shown).collect();
            }
        }
        Value::Array(all) => all.iter_mut().for_each(show_all),
        Value::Object(all) => all.values_mut().for_each(show_all),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

fn showable(sign: char) -> bool {
    sign == '\u{a0}' || (!sign.is_control() && can_show(sign))
}

fn shown(sign: char) -> String {
    if showable(sign) {
        sign.to_string()
    } else if sign.is_whitespace() {
        " ".to_owned()
    } else {
        format!("⟨U+{:04X}⟩", u32::from(sign))
    }
}

fn sheet_data(sheet: &Sheet, paper: Paper, source: &str) -> Result<Value, PrintProblem> {
    let head = &sheet.head;
    let templates = sheet.templates.iter().map(|template| template_data(template, paper));
    Ok(json!({
        "paper": paper_name(paper),
        "source": source,
        "language": sheet.language,
        "units": sheet.units,
        "labels": sheet.labels,
        "head": {
            "name": head.name,
            "publisher": head.publisher,
            "title": head.title,
            "model": head.model,
            "revision": head.revision,
            "replaces": head.replaces.as_ref().map(|(what, why)| json!({ "what": what, "why": why })),
            "purpose": head.purpose,
            "applies": head.applies,
        },
        "banner": panels(&sheet.banner),
        "lists": sheet.lists.iter().map(list).collect::<Vec<_>>(),
        "asked": sheet.asked.iter().filter(|one| !one.answers.is_empty()).map(|one| json!({
            "label": one.label,
            "answers": one.answers,
        })).collect::<Vec<_>>(),
        "blocks": blocks(&sheet.blocks),
        "signatures": sheet.signatures.iter().map(|line| line.role.clone()).collect::<Vec<_>>(),
        "cautions": sheet.cautions,
        "proved": sheet.proved,
        "templates": templates.collect::<Result<Vec<_>, _>>()?,
    }))
}

fn panels(panels: &[Panel]) -> Vec<Value> {
    panels
        .iter()
        .map(|panel| {
            let signal = match panel.signal {
                Signal::Danger => "danger",
                Signal::Warning => "warning",
                Signal::Caution => "caution",
                Signal::Notice => "notice",
            };
            json!({ "signal": signal, "word": panel.word, "text": panel.text, "applies": panel.applies })
        })
        .collect()
}

fn list(list: &List) -> Value {
    json!({ "key": list.key, "title": list.title, "columns": list.columns, "rows": list.rows })
}

fn blocks(blocks: &[Block]) -> Vec<Value> {
    blocks.iter().map(block).collect()
}

fn block(from: &Block) -> Value {
    match from {
        Block::Section { title, blocks: inner } => {
            json!({ "block": "section", "title": title, "blocks": blocks(inner) })
        }
        Block::Step { number, text, by, takes, panels: ahead, blocks: inner, do_not_leave } => {
            json!({
                "block": "step",
                "number": number,
                "text": text,
                "by": by,
                "takes": takes,
                "panels": panels(ahead),
                "blocks": blocks(inner),
                "leave": do_not_leave,
            })
        }
        Block::Line(from) => line(from),
        Block::Group { label, unbroken, blocks: inner, .. } => {
            json!({ "block": "group", "label": label, "unbroken": unbroken, "blocks": blocks(inner) })
        }
        Block::Clock { fields, in_programs } => {
            json!({ "block": "clock", "fields": fields, "ahead": in_programs.is_some() })
        }
        Block::Note { label, text } => json!({ "block": "note", "label": label, "text": text }),
        Block::Not { text } => json!({ "block": "not", "text": text }),
    }
}

fn line(from: &Line) -> Value {
    let (kind, more) = match &from.kind {
        LineKind::Tick => ("tick", json!({})),
        LineKind::Fields(fields) => {
            ("fields", json!({ "fields": fields.iter().map(field).collect::<Vec<_>>() }))
        }
        LineKind::Answers(answers) => ("answers", json!({ "answers": answers })),
        LineKind::Computed { rule, field: of } => {
            ("computed", json!({ "rule": rule, "field": field(of) }))
        }
        LineKind::LookUp { table: from, field: of } => {
            ("look-up", json!({ "table": table(from), "field": field(of) }))
        }
    };
    json!({
        "block": "line",
        "kind": kind,
        "text": from.text,
        "more": more,
        "panels": panels(&from.panels),
        "cautions": from.cautions,
        "per": from.source,
        "order": from.order.as_ref().map(|order| json!({
            "caption": order.caption,
            "words": order.words,
            "svg": locknut_picture::pattern(&order.pattern, &order.words),
        })),
        "tables": from.tables.iter().map(table).collect::<Vec<_>>(),
        "outcomes": from.outcomes.iter().map(outcome).collect::<Vec<_>>(),
    })
}

fn field(from: &Field) -> Value {
    let band = from.band.as_ref().map(|(lower, upper)| json!({ "lower": lower, "upper": upper }));
    json!({ "label": from.label, "unit": from.unit, "limit": from.limit, "band": band })
}

fn table(from: &Table) -> Value {
    json!({ "columns": from.columns, "rows": from.rows, "caption": from.caption })
}

fn outcome(from: &Outcome) -> Value {
    json!({
        "when": from.when,
        "follows": from.follows.iter().map(|follow| json!({
            "text": follow.text,
            "blocks": blocks(&follow.blocks),
        })).collect::<Vec<_>>(),
        "stands": from.stands,
    })
}

//! Templates: what is said on the page that is cut out.
//!
//! Lengths stay as they are written: what is drawn is drawn at true scale, and a ruler shows no second unit.

use crate::phrases::Phrases;
use crate::sheet::TemplateSheet;
use crate::words::Speaker;
use locknut_finding::Findings;
use locknut_graph::{FeatureShape, StepGraph, Template, TemplateOutline, TemplateSide};
use locknut_quantity::{Quantity, Units, parse_exact, to_decimal};
use std::collections::BTreeSet;
use std::sync::Arc;

/// A length that no digits say is told to so many after the point: far finer than a cut in any unit.
const MOST_DIGITS: u32 = 5;

/// Says a template by itself, in the phrases' language.
pub fn compose_template(
    template: &Arc<Template>,
    units: &Units,
    phrases: &Phrases,
) -> (TemplateSheet, Findings) {
    let (nothing, kept) = (StepGraph::default(), BTreeSet::new());
    let speak = Speaker { graph: &nothing, units, phrases, system: None, kept: &kept };
    (template_sheet(speak, template), phrases.findings())
}

/// Says a template.
pub(crate) fn template_sheet(speak: Speaker<'_>, template: &Arc<Template>) -> TemplateSheet {
    let speak = Speaker { system: None, ..speak };
    let name = speak.phrases.name(&template.words);
    TemplateSheet {
        language: speak.phrases.language().to_owned(),
        name: template.words.name.clone(),
        title: speak.say("template-title", &[("template", name)]),
        purpose: template.purpose.as_ref().map(|text| speak.phrases.author(text, template.span)),
        how: ["template-print", "template-prove", "template-cut"]
            .iter()
            .map(|key| speak.phrases.label(key))
            .collect(),
        lines: ["template-across", "template-down"].map(|key| speak.phrases.label(key)),
        turned: speak.phrases.label("template-turned"),
        next_page: speak.phrases.label("template-next-page"),
        dimensions: dimensions(speak, template),
        labels: template.labels.iter().map(|label| speak.prose(&label.text)).collect(),
        template: template.clone(),
    }
}

fn dimensions(speak: Speaker<'_>, template: &Template) -> Vec<String> {
    let mut said = vec![match &template.outline {
        TemplateOutline::Rectangle { width, height } => {
            told(speak, "template-rectangle", &[("width", width), ("height", height)])
        }
        TemplateOutline::Disc { diameter } => {
            told(speak, "template-disc", &[("diameter", diameter)])
        }
    }];
    let features = template.features.iter();
    said.extend(features.map(|feature| cut(speak, template, &feature.shape)));
    if !template.tied.is_empty() {
        let names: Vec<String> =
            template.tied.iter().map(|words| speak.phrases.name(words)).collect();
        said.push(speak.say("template-tied", &[("names", speak.all_of(&names))]));
    }
    said
}

fn cut(speak: Speaker<'_>, template: &Template, shape: &FeatureShape) -> String {
    match shape {
        FeatureShape::Notch { side, at, width, depth } => {
            let key = match side {
                TemplateSide::Top => "template-notch-top",
                TemplateSide::Bottom => "template-notch-bottom",
                TemplateSide::Left => "template-notch-left",
                TemplateSide::Right => "template-notch-right",
            };
            told(speak, key, &[("at", at), ("width", width), ("depth", depth)])
        }
        FeatureShape::Hole { diameter, place } => {
            let hole = told(speak, "template-hole", &[("diameter", diameter)]);
            format!("{hole}{}", stands(speak, template, place.as_ref()))
        }
        FeatureShape::Holes { count, diameter, circle, place, first } => {
            let values = [
                ("count", count.to_string()),
                ("diameter", length(speak, diameter)),
                ("circle", length(speak, circle)),
            ];
            let mut holes = speak.say("template-holes", &values);
            if place.is_some() {
                holes.push_str(&stands(speak, template, place.as_ref()));
            }
            if let Some(first) = first {
                holes.push_str(&told(speak, "template-first", &[("angle", first)]));
            }
            holes
        }
    }
}

/// Where the middle of a hole is, or of a pitch circle.
fn stands(speak: Speaker<'_>, template: &Template, place: Option<&[Quantity; 2]>) -> String {
    let Some([right, up]) = place else { return speak.phrases.label("template-in-the-middle") };
    let key = match &template.outline {
        TemplateOutline::Rectangle { .. } => "template-from-the-corner",
        TemplateOutline::Disc { .. } => "template-from-the-middle",
    };
    told(speak, key, &[("right", right), ("up", up)])
}

fn told(speak: Speaker<'_>, key: &str, lengths: &[(&str, &Quantity)]) -> String {
    let values: Vec<(&str, String)> =
        lengths.iter().map(|(name, of)| (*name, length(speak, of))).collect();
    speak.say(key, &values)
}

/// As it is drawn: with the digits that its author wrote where they say it exactly, else with more of them.
fn length(speak: Speaker<'_>, of: &Quantity) -> String {
    let unit = speak.units.unit(of.unit);
    let in_unit = (&of.value - &unit.zero) / &unit.factor;
    if parse_exact(&to_decimal(&in_unit, of.decimals)).as_ref() == Some(&in_unit) {
        return speak.quantity(of);
    }
    let exact = (0..=MOST_DIGITS)
        .find(|decimals| parse_exact(&to_decimal(&in_unit, *decimals)).as_ref() == Some(&in_unit));
    let decimals = exact.unwrap_or(MOST_DIGITS);
    let said = speak.quantity(&Quantity { decimals, ..of.clone() });
    if exact.is_some() { said } else { format!("≈ {said}") }
}

//! One procedure said in one language and unit system.

use crate::{Checked, Compiled, standard};
use locknut_finding::Findings;
use locknut_graph::Template;
use locknut_quantity::System;
use locknut_sheet::{Phrases, Sheet, TemplateSheet};
use std::sync::Arc;

/// A sheet, and what could not be said.
#[derive(Debug)]
pub struct Composed {
    /// What is said.
    pub sheet: Sheet,
    /// Missing phrases and the like.
    pub findings: Findings,
}

/// Says a procedure in a language and unit system (none: units as written).
pub fn compose(
    checked: &Checked,
    compiled: &Compiled,
    language: &str,
    system: Option<System>,
) -> Composed {
    let (phrases, mut findings) = phrases_of(checked, language);
    let (sheet, more) = locknut_sheet::compose(
        &compiled.graph,
        &compiled.facts,
        &checked.world.units,
        &phrases,
        system,
    );
    findings.extend(more);
    Composed { sheet, findings }
}

/// Says a template in a language.
pub fn compose_template(
    checked: &Checked,
    template: &Arc<Template>,
    language: &str,
) -> (TemplateSheet, Findings) {
    let (phrases, mut findings) = phrases_of(checked, language);
    let (sheet, more) = locknut_sheet::compose_template(template, &checked.world.units, &phrases);
    findings.extend(more);
    (sheet, findings)
}

fn phrases_of(checked: &Checked, language: &str) -> (Phrases, Findings) {
    let standard: Vec<(&str, &str)> = standard()
        .iter()
        .filter(|(name, _)| {
            name.strip_prefix("phrases/").and_then(|rest| rest.strip_suffix(".ftl"))
                == Some(language)
        })
        .copied()
        .collect();
    let library: Vec<(String, String)> =
        checked.phrases.iter().filter(|(of, _)| of == language).cloned().collect();
    let translations = checked.translations.get(language).cloned().unwrap_or_default();
    Phrases::load(language, &checked.settings.language, &standard, &library, translations)
}

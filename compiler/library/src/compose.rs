//! One procedure said in one language and unit system.

use crate::findings::{TranslatedLabel, UnknownLanguage, line_at};
use crate::shelved::PhraseFile;
use crate::{Checked, Compiled, Settings, standard};
use locknut_finding::{FileId, Findings, Sources, Span};
use locknut_graph::Template;
use locknut_meaning::{World, labels_without_room};
use locknut_quantity::{System, Units};
use locknut_sheet::{Phrases, Sheet, TemplateSheet};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A sheet, and what could not be said.
#[derive(Debug)]
pub struct Composed {
    /// What is said.
    pub sheet: Sheet,
    /// Missing phrases and the like.
    pub findings: Findings,
}

/// What is wanted to say anything: phrases, translations, units.
#[derive(Clone, Copy)]
pub(crate) struct Voice<'a> {
    pub(crate) settings: &'a Settings,
    pub(crate) phrases: &'a [PhraseFile],
    pub(crate) translations: &'a BTreeMap<String, BTreeMap<String, String>>,
    pub(crate) units: &'a Units,
}

/// Says a procedure in a language and unit system (none: units as written).
pub fn compose(
    checked: &Checked,
    compiled: &Compiled,
    language: &str,
    system: Option<System>,
) -> Composed {
    let voice = Voice::of(checked);
    let (phrases, mut found) = voice.phrases(language);
    let (sheet, more) =
        locknut_sheet::compose(&compiled.graph, &compiled.facts, voice.units, &phrases, system);
    found.extend(more);
    let mut findings = voice.known(language, None).unwrap_or(found);
    for template in &sheet.templates {
        findings.extend(voice.without_room(template));
    }
    Composed { sheet, findings }
}

/// Says a template in a language.
pub fn compose_template(
    checked: &Checked,
    template: &Arc<Template>,
    language: &str,
) -> (TemplateSheet, Findings) {
    let voice = Voice::of(checked);
    let (sheet, mut findings) = voice.template(template, language);
    findings.extend(voice.without_room(&sheet));
    (sheet, findings)
}

/// What of the languages that a library prints in cannot be printed, whatever the procedure: the language itself, phrases
/// that nothing can fill, and labels of templates.
pub(crate) fn in_all_languages(
    voice: Voice<'_>,
    templates: &BTreeMap<String, Arc<Template>>,
    sources: &Sources,
) -> Findings {
    let mut found = Findings::default();
    let written: BTreeSet<&str> = voice.phrases.iter().map(|of| of.language.as_str()).collect();
    for language in written {
        found.extend(voice.own_phrases(language));
    }
    for language in &voice.settings.languages {
        if let Some(unknown) = voice.known(language, asked_for(language, voice.settings, sources)) {
            found.extend(unknown);
            continue;
        }
        let labelled = templates.values().filter(|one| !one.labels.is_empty());
        for template in labelled {
            found.extend(voice.without_room(&voice.template(template, language).0));
        }
    }
    found
}

/// The line of `library.yaml` that asks for a language.
fn asked_for(language: &str, settings: &Settings, sources: &Sources) -> Option<Span> {
    let file = sources.files().find(|file| sources.name(*file) == "library.yaml")?;
    let key = if language == settings.language { "language:" } else { "also-in:" };
    let text = sources.text(file);
    Some(line_at(file, text, text.find(key)?))
}

impl<'a> Voice<'a> {
    fn of(checked: &'a Checked) -> Self {
        let Checked { settings, phrases, translations, world, .. } = checked;
        Self { settings, phrases, translations, units: &world.units }
    }

    fn template(self, template: &Arc<Template>, language: &str) -> (TemplateSheet, Findings) {
        let (phrases, mut found) = self.phrases(language);
        let (sheet, more) = locknut_sheet::compose_template(template, self.units, &phrases);
        found.extend(more);
        (sheet, self.known(language, None).unwrap_or(found))
    }

    /// Labels that have no room as they are printed, though they have as they are written.
    fn without_room(self, sheet: &TemplateSheet) -> Findings {
        let template = &sheet.template;
        let texts: Vec<String> = template.labels.iter().map(|label| label.text.written()).collect();
        let written = labels_without_room(template, &texts, self.units);
        let told: BTreeSet<usize> = written.into_iter().map(|(at, _)| at).collect();
        let mut printed: BTreeMap<usize, _> =
            labels_without_room(template, &sheet.labels, self.units).into_iter().collect();
        let mut found = Findings::default();
        for (at, (label, text)) in template.labels.iter().zip(&sheet.labels).enumerate() {
            let (nothing, no_room) = (text.trim().is_empty(), printed.remove(&at));
            if told.contains(&at) || !(nothing || no_room.is_some()) {
                continue;
            }
            found.add(&TranslatedLabel {
                template: template.words.said.clone(),
                language: sheet.language.clone(),
                text: text.clone(),
                place: label.span,
                no_room: no_room.filter(|_| !nothing),
            });
        }
        found
    }

    /// What is wrong with the library's own phrases in a language.
    fn own_phrases(self, language: &str) -> Findings {
        let own = self.own(language);
        if own.is_empty() {
            return Findings::default();
        }
        let (_, mut found) = self.phrases(language);
        let all = || standard().iter().filter_map(|(name, text)| Some((phrase_file(name)?, *text)));
        let same: Vec<&str> =
            all().filter(|(of, _)| *of == language).map(|(_, text)| text).collect();
        let standard: Vec<&str> = all().map(|(_, text)| text).collect();
        found.extend(locknut_sheet::unknown_places(language, &own, &same, &standard));
        found
    }

    /// What records say, in the language of the authors.
    pub(crate) fn notes(self) -> BTreeMap<String, String> {
        self.phrases(&self.settings.language).0.notes(World::READING_OF_NOTE)
    }

    /// Says that there is nothing at all in a language.
    fn known(self, language: &str, place: Option<Span>) -> Option<Findings> {
        let standard = standard().iter().filter_map(|(name, _)| phrase_file(name));
        let own = self.phrases.iter().map(|of| of.language.as_str());
        let known: BTreeSet<&str> = standard.chain(own).collect();
        if known.contains(language) {
            return None;
        }
        let mut found = Findings::default();
        let known = known.into_iter().map(str::to_owned).collect();
        found.add(&UnknownLanguage { language: language.to_owned(), known, place });
        Some(found)
    }

    /// The library's own phrases in a language.
    fn own(self, language: &str) -> Vec<(FileId, String)> {
        let own = self.phrases.iter().filter(|of| of.language == language);
        own.map(|of| (of.file, of.text.clone())).collect()
    }

    fn phrases(self, language: &str) -> (Phrases, Findings) {
        let standard: Vec<(&str, &str)> = standard()
            .iter()
            .filter(|(name, _)| phrase_file(name) == Some(language))
            .copied()
            .collect();
        let translations = self.translations.get(language).cloned().unwrap_or_default();
        Phrases::load(
            language,
            &self.settings.language,
            &standard,
            self.own(language),
            translations,
        )
    }
}

/// The language of a phrase file of the standard library.
fn phrase_file(name: &'static str) -> Option<&'static str> {
    name.strip_prefix("phrases/")?.strip_suffix(".ftl")
}

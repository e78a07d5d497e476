//! Phrases of one language (Fluent), and translations of what authors wrote.

use crate::findings::{BadPhrase, MissingPhrase, Untranslated};
use crate::phrase_places::{line_of, span};
use fluent_bundle::{FluentArgs, FluentBundle, FluentResource};
use locknut_finding::{FileId, Findings, Span};
use locknut_graph::Words;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use unic_langid::LanguageIdentifier;

/// The phrases of a language. What was asked for and is missing is remembered.
pub struct Phrases {
    language: String,
    own_language: String,
    bundle: FluentBundle<FluentResource>,
    /// The library's own phrase files in this language.
    own: Vec<(FileId, String)>,
    translations: BTreeMap<String, String>,
    missing: RefCell<BTreeMap<String, Span>>,
    bad: RefCell<BTreeMap<String, String>>,
    untranslated: RefCell<BTreeMap<String, Span>>,
    order: RefCell<Vec<String>>,
}

impl Phrases {
    /// Loads the phrase files of one language: the standard library's (name and text), then the
    /// library's own (file and text), which win. `own_language` is the one the authors write in.
    pub fn load(
        language: &str,
        own_language: &str,
        standard: &[(&str, &str)],
        library: Vec<(FileId, String)>,
        translations: BTreeMap<String, String>,
    ) -> (Self, Findings) {
        let mut found = Findings::default();
        let tag: LanguageIdentifier = language.parse().unwrap_or_default();
        let mut bundle = FluentBundle::new(vec![tag]);
        bundle.set_use_isolating(false);
        let standard = standard.iter().map(|(_, text)| (None, *text));
        let own = library.iter().map(|(file, text)| (Some(*file), text.as_str()));
        for (file, text) in standard.chain(own) {
            let resource =
                FluentResource::try_new(text.to_owned()).unwrap_or_else(|(resource, errors)| {
                    let first = errors.first();
                    found.add(&BadPhrase {
                        key: "a line of the file".into(),
                        language: language.into(),
                        why: first.map(ToString::to_string).unwrap_or_default(),
                        place: file
                            .zip(first)
                            .map(|(file, error)| span(file, text, error.pos.start)),
                    });
                    resource
                });
            bundle.add_resource_overriding(resource);
        }
        let phrases = Self {
            language: language.to_owned(),
            own_language: own_language.to_owned(),
            bundle,
            own: library,
            translations,
            missing: RefCell::default(),
            bad: RefCell::default(),
            untranslated: RefCell::default(),
            order: RefCell::default(),
        };
        (phrases, found)
    }

    /// The language's tag.
    pub fn language(&self) -> &str {
        &self.language
    }

    /// What records say that no author wrote, by its key; `reading` stands where the reading is named.
    pub fn notes(&self, reading: &str) -> BTreeMap<String, String> {
        let say = |key: &str| self.say(key, &[("reading", reading.to_owned())], Span::default());
        ["note-open-low", "note-open-high"].map(|key| (key.to_owned(), say(key))).into()
    }

    pub(crate) fn has(&self, key: &str) -> bool {
        self.bundle.has_message(key)
    }

    /// A phrase filled in; where it is missing, its key, and a finding.
    pub(crate) fn say(&self, key: &str, values: &[(&str, String)], place: Span) -> String {
        let mut arguments = FluentArgs::new();
        for (name, value) in values {
            arguments.set((*name).to_owned(), value.clone());
        }
        self.fill(key, &arguments, place)
    }

    /// As [`Self::say`], with a number by which the phrase may choose a plural.
    pub(crate) fn count(
        &self,
        key: &str,
        count: u64,
        values: &[(&str, String)],
        place: Span,
    ) -> String {
        let mut arguments = FluentArgs::new();
        for (name, value) in values {
            arguments.set((*name).to_owned(), value.clone());
        }
        arguments.set("count", count);
        self.fill(key, &arguments, place)
    }

    fn fill(&self, key: &str, arguments: &FluentArgs<'_>, place: Span) -> String {
        let Some(pattern) = self.bundle.get_message(key).and_then(|message| message.value()) else {
            self.missing.borrow_mut().entry(key.to_owned()).or_insert(place);
            return key.to_owned();
        };
        let mut errors = Vec::new();
        let text = self.bundle.format_pattern(pattern, Some(arguments), &mut errors).into_owned();
        if let Some(error) = errors.first() {
            self.bad.borrow_mut().entry(key.to_owned()).or_insert_with(|| error.to_string());
        }
        text
    }

    /// A fixed word.
    pub(crate) fn label(&self, key: &str) -> String {
        self.say(key, &[], Span::default())
    }

    /// What an author wrote, translated where the library has a translation. `key` is how it is
    /// listed there; `written` is what stands otherwise.
    pub(crate) fn author(&self, key: &str, place: Span) -> String {
        if self.language == self.own_language || key.trim().is_empty() {
            return key.to_owned();
        }
        if let Some(translated) = self.translations.get(key) {
            return translated.clone();
        }
        // A text of nothing but places and signs needs no translation.
        if key.chars().any(char::is_alphabetic) {
            let mut untranslated = self.untranslated.borrow_mut();
            if !untranslated.contains_key(key) {
                self.order.borrow_mut().push(key.to_owned());
            }
            untranslated.entry(key.to_owned()).or_insert(place);
        }
        key.to_owned()
    }

    /// A thing's name in this language: a phrase `name-…`, a translation, or as declared.
    pub(crate) fn name(&self, words: &Words) -> String {
        let key = format!("name-{}", words.name);
        if self.has(&key) {
            return self.label(&key);
        }
        if self.language == self.own_language {
            return words.said.clone();
        }
        self.translations
            .get(&words.name)
            .or_else(|| self.translations.get(&words.said))
            .cloned()
            .unwrap_or_else(|| self.untranslated_name(words))
    }

    fn untranslated_name(&self, words: &Words) -> String {
        let designation =
            words.said.chars().any(|sign| sign.is_ascii_digit()) || words.said.len() <= 2;
        if !designation {
            let mut untranslated = self.untranslated.borrow_mut();
            if !untranslated.contains_key(&words.name) {
                self.order.borrow_mut().push(words.name.clone());
            }
            untranslated.entry(words.name.clone()).or_default();
        }
        words.said.clone()
    }

    /// A value of a state or element in this language.
    pub(crate) fn value(&self, of: &str, value: &Words) -> String {
        let own = format!("value-{of}-{}", value.name);
        let any = format!("value-{}", value.name);
        if self.has(&own) {
            self.label(&own)
        } else if self.has(&any) {
            self.label(&any)
        } else {
            self.name(value)
        }
    }

    /// What was missing so far.
    pub(crate) fn findings(&self) -> Findings {
        let mut found = Findings::default();
        for (key, place) in self.missing.borrow().iter() {
            let (key, language) = (key.clone(), self.language.clone());
            found.add(&MissingPhrase { key, language, place: *place });
        }
        for (key, why) in self.bad.borrow().iter() {
            found.add(&BadPhrase {
                key: key.clone(),
                language: self.language.clone(),
                why: why.clone(),
                place: self
                    .own
                    .iter()
                    .rev()
                    .find_map(|(file, text)| line_of(*file, text, key, None)),
            });
        }
        let untranslated = self.untranslated.borrow();
        if let Some(first) = self.order.borrow().first() {
            found.add(&Untranslated {
                language: self.language.clone(),
                own: self.own_language.clone(),
                count: untranslated.keys().collect::<BTreeSet<_>>().len(),
                first: first.clone(),
                place: untranslated.get(first).copied().unwrap_or_default(),
            });
        }
        found
    }
}

//! A library's files, sorted by what they are.

use crate::findings::{BadSettings, BadTranslations, UnreadableFile};
use crate::many;
use crate::shelf::LARGEST_FILE;
use crate::{Settings, standard};
use locknut_finding::{FileId, Findings, Sources};
use locknut_proof::Wanted;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::sync::Arc;

/// SHA-256 (FIPS 180-4).
pub(crate) type Hash = [u8; 32];

/// A source file, and what its bytes come to.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Source {
    pub(crate) file: FileId,
    pub(crate) hash: Hash,
}

/// A library's own phrases in a language.
#[derive(Clone, Debug)]
pub struct PhraseFile {
    /// The language's tag.
    pub language: String,
    /// Where they stand.
    pub file: FileId,
    /// The phrases, as Fluent writes them.
    pub text: String,
}

/// Files sorted by what they are.
#[derive(Default)]
pub(crate) struct Shelved {
    pub(crate) sources: Sources,
    /// The standard library's.
    pub(crate) standard: Vec<FileId>,
    /// The authors'.
    pub(crate) own: Vec<Source>,
    pub(crate) settings: Settings,
    /// What the bytes of `library.yaml` come to.
    pub(crate) settings_hash: Option<Hash>,
    pub(crate) phrases: Vec<PhraseFile>,
    pub(crate) translations: BTreeMap<String, BTreeMap<String, String>>,
    pub(crate) digest: String,
}

impl Shelved {
    /// Sorts the files, by name. Only what is put out bears the hash of all it comes from.
    pub(crate) fn of(files: Vec<(String, Vec<u8>)>, wanted: Wanted, found: &mut Findings) -> Self {
        let mut shelved = Self::default();
        let mut all = Sha256::new();
        for (name, text) in standard() {
            if wanted == Wanted::Outputs {
                stir(&mut all, name, text.as_bytes());
            }
            if std::path::Path::new(name).extension().is_some_and(|ending| ending == "lkn") {
                let file = shelved.sources.add(format!("stdlib/{name}"), *text);
                shelved.standard.push(file);
            }
        }
        let hashes: Vec<Hash> = many::each(&files, |(_, bytes)| Sha256::digest(bytes).into());
        for ((name, bytes), hash) in files.into_iter().zip(hashes) {
            stir(&mut all, &name, &hash);
            if let Some((file, text)) = readable(&name, bytes, &mut shelved.sources, found) {
                shelved.sort_in(&name, Source { file, hash }, &text, found);
            }
        }
        if wanted == Wanted::Outputs {
            let bytes = all.finalize();
            shelved.digest =
                bytes.iter().fold(String::new(), |all, byte| all + &format!("{byte:02x}"));
        }
        shelved
    }

    fn sort_in(&mut self, name: &str, source: Source, text: &str, found: &mut Findings) {
        let language = |folder: &str, ending: &str| {
            name.strip_prefix(folder).and_then(|rest| rest.strip_suffix(ending)).map(str::to_owned)
        };
        let file = source.file;
        if name == "library.yaml" {
            self.settings_hash = Some(source.hash);
            match Settings::read(text) {
                Ok(settings) => self.settings = settings,
                Err(problem) => found.add(&BadSettings::new(file, text, &problem)),
            }
        } else if let Some(language) = language("phrases/", ".ftl") {
            self.phrases.push(PhraseFile { language, file, text: text.to_owned() });
        } else if let Some(language) = language("translations/", ".yaml") {
            match serde_yaml::from_str::<BTreeMap<String, String>>(text) {
                Ok(map) => {
                    self.translations.insert(language, map);
                }
                Err(error) => found.add(&BadTranslations::new(file, text, &error)),
            }
        } else {
            self.own.push(source);
        }
    }
}

/// Names and bytes go in with their lengths, so that no two libraries look alike.
pub(crate) fn stir(hash: &mut Sha256, name: &str, bytes: &[u8]) {
    hash.update(format!("{} {} {}\n", name.len(), bytes.len(), name));
    hash.update(bytes);
}

fn readable(
    name: &str,
    bytes: Vec<u8>,
    sources: &mut Sources,
    found: &mut Findings,
) -> Option<(FileId, Arc<str>)> {
    if u64::try_from(bytes.len()).is_ok_and(|size| size > LARGEST_FILE) {
        let file = sources.add(name, "");
        found.add(&UnreadableFile::too_large(file, name, LARGEST_FILE));
        return None;
    }
    match String::from_utf8(bytes) {
        Ok(text) => {
            // A byte-order mark is no part of the text.
            let text: Arc<str> = text.strip_prefix('\u{feff}').unwrap_or(&text).into();
            Some((sources.add(name, Arc::clone(&text)), text))
        }
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            let file = sources.add(name, String::from_utf8_lossy(error.as_bytes()).into_owned());
            found.add(&UnreadableFile::not_utf8(file, name, at));
            None
        }
    }
}

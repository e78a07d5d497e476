//! `library.yaml`: who publishes, in which language and units.

use locknut_quantity::{Exact, System, parse_exact};
use serde::Deserialize;

/// What a library says of itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Settings {
    /// Who publishes.
    pub publisher: String,
    /// The language in which its authors write.
    pub language: String,
    /// Languages in which sheets are printed, its own first.
    pub languages: Vec<String>,
    /// Unit systems in which sheets are printed, the preferred one first.
    pub units: Vec<System>,
    /// The paper on which sheets are printed.
    pub paper: Paper,
    /// Which part of their proof load fasteners must hold at least; none: the usual one.
    pub least_preload: Option<Exact>,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            publisher: String::new(),
            language: "en".into(),
            languages: vec!["en".into()],
            units: vec![System::Si],
            paper: Paper::A4,
            least_preload: None,
        }
    }
}

/// A paper size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub enum Paper {
    /// 210 mm × 297 mm (ISO 216).
    A4,
    /// 8.5 inch × 11 inch (ANSI/ASME Y14.1 size A).
    Letter,
}

/// Why `library.yaml` does not serve.
#[derive(Clone, Debug)]
pub(crate) struct SettingsProblem {
    /// In words, without a full stop.
    pub(crate) why: String,
    /// Byte in the file, where known.
    pub(crate) at: usize,
}

/// The file as it is written on disk.
#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct File {
    publisher: String,
    #[serde(default = "english")]
    language: String,
    #[serde(default)]
    also_in: Vec<String>,
    #[serde(default)]
    units: Option<FileSystem>,
    #[serde(default)]
    second_units: Option<FileSystem>,
    #[serde(default)]
    decision_rule: Option<FileRule>,
    #[serde(default)]
    paper: Option<Paper>,
    #[serde(default)]
    least_preload: Option<String>,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum FileSystem {
    Si,
    Us,
}

/// The one decision rule there is so far; another is refused rather than passed over.
#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
enum FileRule {
    Simple,
}

fn english() -> String {
    "en".into()
}

impl Settings {
    pub(crate) fn read(text: &str) -> Result<Self, SettingsProblem> {
        let file: File = serde_yaml::from_str(text).map_err(|error| SettingsProblem {
            at: error.location().map_or(0, |place| place.index()),
            why: error.to_string(),
        })?;
        let FileRule::Simple = file.decision_rule.unwrap_or(FileRule::Simple);
        let mut languages = vec![file.language.clone()];
        languages.extend(file.also_in.into_iter().filter(|other| *other != file.language));
        let system = |written| match written {
            FileSystem::Si => System::Si,
            FileSystem::Us => System::Us,
        };
        let mut units = vec![file.units.map_or(System::Si, system)];
        units.extend(file.second_units.map(system).filter(|second| Some(second) != units.first()));
        Ok(Self {
            publisher: file.publisher,
            language: file.language,
            languages,
            units,
            paper: file.paper.unwrap_or(Paper::A4),
            least_preload: file.least_preload.map(|written| share(&written, text)).transpose()?,
        })
    }
}

/// `30 %`: a part of the proof load, from nothing to all of it.
fn share(written: &str, text: &str) -> Result<Exact, SettingsProblem> {
    let whole = Exact::from_integer(100.into());
    let percent = written.strip_suffix('%').map(str::trim_end).and_then(parse_exact);
    let percent = percent.filter(|percent| *percent >= Exact::default() && *percent <= whole);
    percent.map(|percent| percent / whole).ok_or_else(|| SettingsProblem {
        why: format!("least-preload: {written} is no part of a load; write a percentage, as 30 %"),
        at: text.find("least-preload").unwrap_or_default(),
    })
}

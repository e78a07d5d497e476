//! `library.yaml`: who publishes, in which language and units.

use locknut_graph::{Metrology, Paper, Rule};
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
    /// How its limits decide, and how good its checks are to be.
    pub metrology: Metrology,
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
            metrology: Metrology::default(),
        }
    }
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
    capability: Option<FileCapability>,
    #[serde(default)]
    paper: Option<FilePaper>,
    #[serde(default)]
    least_preload: Option<String>,
}

/// From which capability ratios on a check is an error no more, a warning no more, and good.
#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct FileCapability {
    #[serde(default)]
    least: Option<serde_yaml::Number>,
    #[serde(default)]
    fair: Option<serde_yaml::Number>,
    #[serde(default)]
    good: Option<serde_yaml::Number>,
}

#[derive(Clone, Copy, Deserialize)]
enum FilePaper {
    A4,
    Letter,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum FileSystem {
    Si,
    Us,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
enum FileRule {
    Simple,
    Guarded,
    GuardedAcceptance,
}

fn english() -> String {
    "en".into()
}

impl Settings {
    pub(crate) fn read(text: &str) -> Result<Self, SettingsProblem> {
        let file: File = serde_yaml::from_str(text).map_err(|error| SettingsProblem {
            at: error.location().map_or(0, |place| place.index()),
            why: in_words(&error.to_string()),
        })?;
        let mut metrology = capability(&file.capability.unwrap_or_default())
            .map_err(|why| SettingsProblem { why, at: text.find("capability").unwrap_or(0) })?;
        metrology.rule = match file.decision_rule {
            Some(FileRule::Guarded) => Rule::Guarded,
            Some(FileRule::GuardedAcceptance) => Rule::GuardedAcceptance,
            Some(FileRule::Simple) | None => Rule::Simple,
        };
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
            paper: match file.paper {
                Some(FilePaper::Letter) => Paper::Letter,
                Some(FilePaper::A4) | None => Paper::A4,
            },
            least_preload: file.least_preload.map(|written| share(&written, text)).transpose()?,
            metrology,
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

/// What the reader of the format says, without the words of programmers: `unknown field`, `expected one of`.
fn in_words(error: &str) -> String {
    let unknown = error.replace("unknown field ", "nobody knows ");
    let unknown = unknown.replace("unknown variant ", "nobody knows ");
    let (said, place) = unknown.rsplit_once(" at line ").unwrap_or((&unknown, ""));
    let place = if place.is_empty() { String::new() } else { format!(" at line {place}") };
    // What a part of the file is called inside of the program tells its author nothing.
    let said = match said.split_once(", expected struct ") {
        Some((said, _)) => format!("{said}, and lines of its own are wanted"),
        None => said.replace(", expected one of ", "; known here are "),
    };
    let said =
        said.replace("invalid type: ", "this cannot be: ").replace(", expected ", "; wanted is ");
    said.replace("missing field ", "there is no line ") + &place
}

/// What stands under `capability`, exact; the defaults for what is left out.
fn capability(file: &FileCapability) -> Result<Metrology, String> {
    let mut metrology = Metrology::default();
    let places = [
        (&file.least, &mut metrology.least),
        (&file.fair, &mut metrology.fair),
        (&file.good, &mut metrology.good),
    ];
    for (written, place) in places {
        let Some(number) = written else { continue };
        let ratio = parse_exact(&number.to_string())
            .ok_or_else(|| format!("{number} is no ratio: write 4 for 4:1"))?;
        *place = ratio;
    }
    let one = Exact::from_integer(1.into());
    if metrology.least < one {
        return Err("least is at least 1: below 1:1 no reading tells anything for certain".into());
    }
    if metrology.fair < metrology.least || metrology.good < metrology.fair {
        return Err("least, fair and good stand in rising order (1, 4, 10 where left out)".into());
    }
    Ok(metrology)
}

#[cfg(test)]
mod tests {
    use super::{Exact, Metrology, Rule, Settings};

    fn read(capability: &str) -> Result<Metrology, String> {
        let text = format!("publisher: Kestmoor\ncapability: {{ {capability} }}\n");
        Settings::read(&text).map(|settings| settings.metrology).map_err(|problem| problem.why)
    }

    #[test]
    fn capability_ratios_are_exact_and_in_order() {
        let plain = read("").unwrap();
        assert_eq!(plain, Metrology::default());
        let said = read("least: 1.1, good: 12").unwrap();
        assert_eq!(said.least, Exact::new(11.into(), 10.into()));
        assert_eq!((said.fair, said.good), (plain.fair, Exact::from_integer(12.into())));
        assert!(read("least: 0.9").unwrap_err().contains("at least 1"));
        assert!(read("fair: 11").unwrap_err().contains("rising order"));
        assert!(read("fair: .nan").unwrap_err().contains("no ratio"));
        assert!(read("best: 4").is_err());
    }

    #[test]
    fn a_library_is_simple_unless_it_says_guarded() {
        let rule = |line: &str| {
            Settings::read(&format!("publisher: Kestmoor\n{line}")).unwrap().metrology.rule
        };
        assert_eq!(rule(""), Rule::Simple);
        assert_eq!(rule("decision-rule: guarded\n"), Rule::Guarded);
        assert_eq!(rule("decision-rule: guarded-acceptance\n"), Rule::GuardedAcceptance);
    }
    #[test]
    fn what_is_wrong_is_said_without_the_words_of_programmers() {
        let why = |text: &str| {
            let read = Settings::read(&format!("publisher: Kestmoor\n{text}"));
            read.err().map(|problem| problem.why).unwrap_or_default()
        };
        let cases = [
            ("decision-rule: guardd\n", "nobody knows `guardd`; known here are `simple`"),
            ("papr: A4\n", "nobody knows `papr`; known here are"),
            ("capability: 3\n", "and lines of its own are wanted"),
            ("units: [si]\n", "this cannot be"),
        ];
        for (text, wanted) in cases {
            let said = why(text);
            assert!(said.contains(wanted), "{text}: {said}");
            let words = ["struct", "variant", "field", "invalid type", "expected"];
            assert!(!words.iter().any(|word| said.contains(word)), "{text}: {said}");
        }
        let none = Settings::read("language: en\n").err().map(|problem| problem.why);
        assert!(none.is_some_and(|why| why.contains("there is no line `publisher`")));
    }
}

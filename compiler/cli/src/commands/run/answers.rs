//! A file of answers.
//!
//! ```yaml
//! series: B
//! serial: 2050
//! order: [1, 0]            # which freed child first, by position; left out: as written
//! readings:
//!   gap: [[0.62, 0.65, 0.60], [0.62, 0.63, 0.60]]   # one entry a time that it is taken
//!   noise: ["yes"]
//! ```
//!
//! What is undecided takes the next entry: of its reading, or of the question which instrument is used.

use super::words::Words;
use locknut_job::{Answer, Ask};
use serde::Deserialize;
use std::collections::{BTreeMap, VecDeque};

/// Answers, used up from the front.
#[derive(Debug)]
pub(super) struct Answers {
    series: Option<String>,
    serial: Option<String>,
    order: VecDeque<usize>,
    readings: BTreeMap<String, VecDeque<Vec<String>>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    #[serde(default)]
    series: Option<Scalar>,
    #[serde(default)]
    serial: Option<Scalar>,
    #[serde(default)]
    order: Vec<usize>,
    #[serde(default)]
    readings: BTreeMap<String, Vec<OneOrMore>>,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum OneOrMore {
    One(Scalar),
    More(Vec<Scalar>),
}

/// A value as it was written: a number keeps its digits as far as YAML does.
#[derive(Deserialize)]
#[serde(untagged)]
enum Scalar {
    Text(String),
    Whole(i64),
    Number(serde_json::Number),
    Yes(bool),
}

impl Scalar {
    fn text(self) -> String {
        match self {
            Self::Text(text) => text,
            Self::Whole(number) => number.to_string(),
            Self::Number(number) => number.to_string(),
            // A bare `yes` is text in YAML 1.2; `true` is what some tools write for it.
            Self::Yes(yes) => if yes { "yes" } else { "no" }.into(),
        }
    }
}

impl Answers {
    pub(super) fn read(bytes: &[u8]) -> Result<Self, String> {
        let file: File = serde_yaml::from_slice(bytes).map_err(|error| error.to_string())?;
        let texts = |entry| match entry {
            OneOrMore::One(one) => vec![one.text()],
            OneOrMore::More(more) => more.into_iter().map(Scalar::text).collect(),
        };
        Ok(Self {
            series: file.series.map(Scalar::text),
            serial: file.serial.map(Scalar::text),
            order: file.order.into(),
            readings: file
                .readings
                .into_iter()
                .map(|(name, takes)| (name, takes.into_iter().map(texts).collect()))
                .collect(),
        })
    }

    /// The answer to a question.
    pub(super) fn to(&mut self, ask: &Ask, words: &Words) -> Result<Answer, String> {
        match ask {
            Ask::Tick { .. } | Ask::Wait { .. } | Ask::Result { .. } | Ask::Ended { .. } => {
                Ok(Answer::Done)
            }
            Ask::Series { values, .. } => {
                let wanted = self.series.as_deref().ok_or("it names no series")?;
                let position = values.iter().position(|value| value == wanted);
                position
                    .map(Answer::Picked)
                    .ok_or_else(|| format!("series {wanted} is not among {}", values.join(", ")))
            }
            Ask::Serial { .. } => {
                let wanted = self.serial.clone().ok_or("it names no serial")?;
                Ok(Answer::Typed(vec![wanted]))
            }
            Ask::Child { children, .. } => {
                let wanted = self.order.pop_front().unwrap_or(0);
                let left = children.len();
                if wanted < left {
                    Ok(Answer::Picked(wanted))
                } else {
                    Err(format!("order: only {left} are left"))
                }
            }
            Ask::Numbers { .. } | Ask::Text { .. } => Ok(Answer::Typed(self.take(ask, words)?)),
            Ask::Answers { answers, .. } => {
                let all = self.take(ask, words)?;
                let [wanted] = all.as_slice() else {
                    return Err(format!(
                        "{}: one answer is wanted, and {} are given",
                        words.place(ask),
                        all.len()
                    ));
                };
                let position = answers.iter().position(|answer| answer == wanted);
                position.map(Answer::Picked).ok_or_else(|| {
                    format!("{}: {wanted} is not among {}", words.place(ask), answers.join(", "))
                })
            }
        }
    }

    fn take(&mut self, ask: &Ask, words: &Words) -> Result<Vec<String>, String> {
        let name = words.reading(ask);
        let takes = self.readings.get_mut(&name).and_then(VecDeque::pop_front);
        takes.ok_or_else(|| format!("{}: it has no (further) value for {name}", words.place(ask)))
    }

    /// Whether what is asked for has a further value.
    pub(super) fn has_more(&self, ask: &Ask, words: &Words) -> bool {
        self.readings.get(&words.reading(ask)).is_some_and(|takes| !takes.is_empty())
    }

    /// A value that was never asked for is a slip of whoever wrote the file.
    pub(super) fn all_used(&self) -> Result<(), String> {
        let left: Vec<&str> = self
            .readings
            .iter()
            .filter(|(_, takes)| !takes.is_empty())
            .map(|(name, _)| name.as_str())
            .collect();
        if left.is_empty() {
            Ok(())
        } else {
            Err(format!("the job ended and never asked for: {}", left.join(", ")))
        }
    }
}

//! What was proved of a procedure in a form that outlives a run: exact numbers by their figures.

use crate::Proved;
use locknut_finding::{FileId, Span};
use locknut_graph::Words;
use locknut_proof::sums::OwnFigure;
use locknut_proof::{Covered, Time, Ways};
use locknut_quantity::Exact;
use num_bigint::BigUint;
use serde::{Deserialize, Serialize};

/// What is kept of a [`Proved`].
#[derive(Debug, Serialize, Deserialize)]
pub(super) struct KeptProved {
    name: String,
    file: FileId,
    files: Vec<FileId>,
    on: String,
    acts: usize,
    ends: usize,
    obligations: usize,
    interlocks: usize,
    time: KeptTime,
    ways: Option<KeptWays>,
    answered: Vec<(String, String)>,
    not_judged: Vec<String>,
    hazards: Vec<(Span, bool)>,
    figures: Vec<KeptFigure>,
}

/// A figure of a tightening: its act, its fasteners, how they are said, what it comes to and how it is written.
type KeptFigure = (Span, Span, String, String, String);

/// A whole number or a fraction, as written.
type Figure = String;

#[derive(Debug, Serialize, Deserialize)]
struct KeptTime {
    elapsed: Option<(Figure, Figure, Figure)>,
    waits: Figure,
    mean: Figure,
    variance: Figure,
    work: Vec<(String, String, Figure)>,
    anyone: Figure,
    least_crew: usize,
    untimed: usize,
}

#[derive(Debug, Serialize, Deserialize)]
struct KeptWays {
    ways: Figure,
    orders: Figure,
    acts: (usize, usize),
}

impl KeptProved {
    pub(super) fn of(proved: Proved) -> Self {
        let Proved {
            name,
            file,
            files,
            on,
            covered,
            time,
            ways,
            answered,
            not_judged,
            // Comes of what is found, which is kept beside it.
            wrong: _,
            hazards,
            figures,
        } = proved;
        let figures = figures.into_iter().map(|one| {
            let OwnFigure { act, declared, thing, comes_to, written } = one;
            (act, declared, thing, comes_to, written)
        });
        let figures = figures.collect();
        let Covered { acts, ends, obligations, interlocks } = covered;
        let ways = ways.map(|Ways { ways, orders, acts }| KeptWays {
            ways: ways.to_string(),
            orders: orders.to_string(),
            acts,
        });
        let (files, time) = (files.into_iter().collect(), KeptTime::of(time));
        Self {
            name,
            file,
            files,
            on,
            acts,
            ends,
            obligations,
            interlocks,
            time,
            ways,
            answered,
            not_judged,
            hazards,
            figures,
        }
    }

    /// The same as it was; none where a figure is none.
    pub(super) fn back(self) -> Option<Proved> {
        let Self {
            name, file, files, on, time, ways, answered, not_judged, hazards, figures, ..
        } = self;
        let figures = figures.into_iter().map(|(act, declared, thing, comes_to, written)| {
            OwnFigure { act, declared, thing, comes_to, written }
        });
        let Self { acts, ends, obligations, interlocks, .. } = self;
        let ways = match ways {
            Some(KeptWays { ways, orders, acts }) => {
                Some(Ways { ways: count(&ways)?, orders: count(&orders)?, acts })
            }
            None => None,
        };
        Some(Proved {
            name,
            file,
            files: files.into_iter().collect(),
            on,
            covered: Covered { acts, ends, obligations, interlocks },
            time: time.back()?,
            ways,
            answered,
            not_judged,
            wrong: false,
            hazards,
            figures: figures.collect(),
        })
    }
}

impl KeptTime {
    fn of(time: Time) -> Self {
        let Time { elapsed, waits, mean, variance, work, anyone, least_crew, untimed } = time;
        let figure = |exact: Exact| exact.to_string();
        let elapsed =
            elapsed.map(|(least, likely, most)| (figure(least), figure(likely), figure(most)));
        let work = work.into_iter().map(|(Words { name, said }, work)| (name, said, figure(work)));
        Self {
            elapsed,
            waits: figure(waits),
            mean: figure(mean),
            variance: figure(variance),
            work: work.collect(),
            anyone: figure(anyone),
            least_crew,
            untimed,
        }
    }

    fn back(self) -> Option<Time> {
        let elapsed = match self.elapsed {
            Some((least, likely, most)) => Some((exact(&least)?, exact(&likely)?, exact(&most)?)),
            None => None,
        };
        let work = self.work.into_iter();
        let work = work.map(|(name, said, work)| Some((Words { name, said }, exact(&work)?)));
        Some(Time {
            elapsed,
            waits: exact(&self.waits)?,
            mean: exact(&self.mean)?,
            variance: exact(&self.variance)?,
            work: work.collect::<Option<_>>()?,
            anyone: exact(&self.anyone)?,
            least_crew: self.least_crew,
            untimed: self.untimed,
        })
    }
}

fn exact(figure: &str) -> Option<Exact> {
    match figure.split_once('/') {
        None => Some(Exact::from_integer(figure.parse().ok()?)),
        Some(_) => figure.parse().ok(),
    }
}

fn count(figure: &str) -> Option<BigUint> {
    figure.parse().ok()
}

//! What a limit is held with: capability, guard bands, and how often it is misjudged.

use super::{Figure, Given, Judged, Outcome, Sum, Worked};
use crate::readings::risk::{self, percent};
use locknut_finding::Span;
use locknut_graph::{
    Act, ActArm, ActKind, Capability, Causes, Instrument, ReadingKind, StepGraph, Steps, Verdict,
    ratio_said, steps,
};
use locknut_quantity::{Between, Exact, Range, UnitId, Units};
use num_traits::Signed;

/// Figures that are worked out are told with so many digits more than their reading has.
const MORE_DIGITS: u32 = 2;

/// What a sum is said in.
#[derive(Clone, Copy)]
struct Said<'a> {
    units: &'a Units,
    unit: UnitId,
    decimals: u32,
}

/// One sum for each limit that a number is held against.
pub(super) fn sums(graph: &StepGraph, units: &Units, act: &Act, span: Span) -> Vec<Sum> {
    let Some(reading) = act.kind.reading().map(|id| graph.reading(id)) else { return Vec::new() };
    let ReadingKind::Quantity { unit, decimals, .. } = &reading.kind else { return Vec::new() };
    let said = Said { units, unit: *unit, decimals: decimals + MORE_DIGITS };
    let instrument = act.instrument.and_then(|position| graph.instruments.get(position));
    let source = match instrument.and_then(|one| one.error.as_ref().map(|error| (one, error))) {
        Some((one, error)) => {
            let half = error.of_step.is_positive();
            let half = if half { ", and half a step of the display" } else { "" };
            format!("as declared: {}, error {}{half}", one.words.said, error.written)
        }
        None => "from the errors of its readings, all at their worst together".to_owned(),
    };
    // A count has no error, and is not spoken of.
    let worth = act.capability.iter().filter(|held| {
        held.error.as_ref().is_none_or(Signed::is_positive)
            && !matches!(act.kind, ActKind::Count { .. })
    });
    worth
        .map(|held| Sum {
            what: format!("{} against {}", reading.words.said, held.written),
            span,
            steps: Vec::new(),
            given: given(said, held, act, (&of_both(held, &source), &of_uncertainty(instrument))),
            worked: worked(said, held, act),
            judged: judged(graph, held, act),
        })
        .collect()
}

fn of_uncertainty(instrument: Option<&Instrument>) -> String {
    match instrument.and_then(|one| Some((one, one.standard_uncertainty.as_ref()?))) {
        Some((one, stated)) => {
            let display = if stated.of_step.is_positive() {
                ", or that of half a step of the display, which is more"
            } else {
                ""
            };
            format!(
                "as declared: {}, standard uncertainty {}{display}",
                one.words.said, stated.written
            )
        }
        None => "from the standard uncertainties that are declared of its instruments".to_owned(),
    }
}

/// Whether a limit is worked out from readings: then it has no ends that stand beforehand.
fn moves(held: &Capability) -> bool {
    held.limit.lower.is_none() && held.limit.upper.is_none()
}

/// Where the error comes from: of a limit that moves, from what that is worked out from, too.
fn of_both(held: &Capability, source: &str) -> String {
    if !moves(held) {
        return source.to_owned();
    }
    format!("{source}; and what the limit may lie wrong by, both at their worst together")
}

impl Said<'_> {
    fn range(self, range: &Range) -> Option<Figure> {
        let (lower, upper) = (range.lower.as_ref()?, range.upper.as_ref()?);
        Some(Figure::between(self.units, &lower.value, &upper.value, self.unit, self.decimals))
    }

    /// A difference is said like a value of its unit, whose zero it has not.
    fn difference(self, value: &Exact) -> Figure {
        let value = value + &self.units.unit(self.unit).zero;
        Figure::between(self.units, &value, &value, self.unit, self.decimals)
    }
}

fn given(
    said: Said<'_>,
    held: &Capability,
    act: &Act,
    (error, uncertainty): (&str, &str),
) -> Vec<Given> {
    let mut all = Vec::new();
    let narrowest = held.accepted.as_ref().filter(|_| moves(held)).and_then(Range::width);
    if let Some(width) = narrowest {
        all.push(Given {
            symbol: "A".into(),
            what: "width of what is accepted".into(),
            figure: said.difference(&width),
            source: format!("of all that the limit may come to: {}", held.written),
        });
    } else if let Some(figure) = held.accepted.as_ref().and_then(|accepted| said.range(accepted)) {
        let two_sided = held.limit.lower.is_some() && held.limit.upper.is_some();
        let source = if two_sided {
            format!("as written: {}", held.written)
        } else {
            format!("as written: {}; the other side is what is expected, or nothing", held.written)
        };
        all.push(Given { symbol: "A".into(), what: "what is accepted".into(), figure, source });
    }
    if let Some(greatest) = &held.error {
        all.push(Given {
            symbol: "e".into(),
            what: "greatest error of the value where the limit decides".into(),
            figure: said.difference(greatest),
            source: error.to_owned(),
        });
    }
    // Of several instruments it is worked out below.
    let stated = combined(said, held, act).is_none();
    let doubt = held.doubt.as_ref().filter(|_| stated);
    if let Some(one) =
        doubt.map(|one| one.uncertainty_over(&held.limit)).filter(Signed::is_positive)
    {
        all.push(Given {
            symbol: "u".into(),
            what: "standard uncertainty of the value where the limit decides, errors being normal"
                .into(),
            figure: said.difference(&one),
            source: uncertainty.to_owned(),
        });
    }
    if let Some(figure) = held.usually.as_ref().and_then(|usually| said.range(usually)) {
        all.push(Given {
            symbol: "P".into(),
            what: "what it is in 95 of 100 machines".into(),
            figure,
            source: "as written: usually".into(),
        });
    }
    all
}

fn worked(said: Said<'_>, held: &Capability, act: &Act) -> Vec<Worked> {
    let mut all = Vec::new();
    if let (Some(ratio), Some(width), Some(error)) =
        (held.ratio(), held.accepted.as_ref().and_then(Range::width), &held.error)
    {
        all.push(Worked {
            symbol: "C".into(),
            what: "capability ratio: half of what is accepted to the greatest error".into(),
            formula: "width of A / 2 / e".into(),
            numbers: format!(
                "{} / 2 / {}",
                said.difference(&width).said(),
                said.difference(error).said()
            ),
            figure: Figure {
                numbers: vec![ratio_said(&ratio)],
                unit: String::new(),
                rounded: true,
            },
            source: "common practice; not the ratio to an uncertainty".into(),
        });
    }
    if let Some(Verdict::Arms(arms)) = act.kind.verdict() {
        all.extend(arms.iter().filter_map(|arm| drawn_arm(said, arm)).flatten());
    }
    all.extend(drawn_limit(said, act));
    all.extend(combined(said, held, act));
    all.extend(misjudged(held, act).into_iter().flatten());
    all
}

/// The ends of a guarded limit that stands.
fn drawn_limit(said: Said<'_>, act: &Act) -> Vec<Worked> {
    let mut all = Vec::new();
    if let Some(Verdict::Accept { limit, computed: None }) = act.kind.verdict()
        && limit.guard.is_some()
    {
        let accepted = limit.accepted();
        for (end, symbol, what) in [
            (&accepted.lower, "G1", "readings are accepted from here up"),
            (&accepted.upper, "G2", "readings are accepted up to here"),
        ] {
            let Some(end) = end else { continue };
            all.push(Worked {
                symbol: symbol.into(),
                what: what.into(),
                formula: format!("the limit, {MOVED_IN}"),
                numbers: String::new(),
                figure: Figure::between(
                    said.units,
                    &end.value,
                    &end.value,
                    said.unit,
                    said.decimals,
                ),
                source: "guarded acceptance (JCGM 106, ISO 14253-1: from memory)".into(),
            });
        }
    }
    all
}

/// How an end is guarded.
const MOVED_IN: &str = "moved in by what a reading there may be wrong by (where the instrument states a standard uncertainty u, by 1.645 u, or by 1.96 u where both ends lie nearer together than 8 u: 95 of 100 are then rightly taken, if errors are normal), to a figure that can be read";

/// The ends of an arm that were drawn in; what it takes from its neighbours stands at theirs.
fn drawn_arm(said: Said<'_>, arm: &ActArm) -> Option<Vec<Worked>> {
    let (whole, limit) = (&arm.whole.as_ref()?.range, &arm.range.as_ref()?.range);
    let drawn_up =
        whole.lower.as_ref().zip(limit.lower.as_ref()).filter(|(own, to)| to.value > own.value);
    let drawn_down =
        whole.upper.as_ref().zip(limit.upper.as_ref()).filter(|(own, to)| to.value < own.value);
    let ends = [(drawn_up, "G1", "from here up"), (drawn_down, "G2", "up to here")];
    let worked = ends.into_iter().filter_map(|(end, symbol, way)| {
        let (own, to) = end?;
        let figure = |value: &Exact| Figure::between(said.units, value, value, said.unit, said.decimals);
        Some(Worked {
            symbol: symbol.into(),
            what: format!("readings surely take “{}” {way}", arm.whole.as_ref()?.written),
            formula: format!("its end, {MOVED_IN}"),
            numbers: format!("{} moved to {}", figure(&own.value).said(), figure(&to.value).said()),
            figure: figure(&to.value),
            source: "guarded acceptance (JCGM 106, ISO 14253-1: from memory); the arm it meets takes the rest".into(),
        })
    });
    Some(worked.collect())
}

fn judged(graph: &StepGraph, held: &Capability, act: &Act) -> Vec<Judged> {
    let open = |text: &str| Judged { outcome: Outcome::Open, code: None, text: text.to_owned() };
    let mut all = vec![capability(graph, held)];
    all.extend(display(graph, held, act));
    let accept = match act.kind.verdict() {
        Some(Verdict::Accept { limit, computed: None }) => limit,
        Some(Verdict::Accept { .. } | Verdict::Arms(_) | Verdict::None) | None => return all,
    };
    if risk::of(held, &accept.accepted()).is_none() {
        all.push(open(if held.usually.is_none() {
            "how often it is misjudged: nobody has said what it usually is (usually …)"
        } else if act.instrument.is_none() {
            "how often it is misjudged: its error has no known shape, as it is no weighted sum, is picked from several points, or of a reading in it nothing is stated"
        } else {
            "how often it is misjudged: its error has no known shape"
        }));
    }
    all
}

/// How often it is misjudged, where what is known has a shape: a figure that nothing is judged by.
fn misjudged(held: &Capability, act: &Act) -> Option<[Worked; 2]> {
    let Some(Verdict::Accept { limit, computed: None }) = act.kind.verdict() else { return None };
    let (_, shape, risk) = risk::of(held, &limit.accepted())?;
    let error = match shape {
        risk::Shape::Rectangular(_) => "anything up to e alike",
        risk::Shape::Normal(_) => "normal",
    };
    // JCGM 100 5.2.2, note 1: with a correlation of 1 uncertainties add up like the values.
    let same = match &held.causes {
        _ if act.instrument.is_some() => String::new(),
        Some(causes) if !held.single => taken_of(causes),
        Some(_) | None => ", and the same at each reading of its instrument".to_owned(),
    };
    let one = |symbol: &str, which: &str, over: &str, share: f64| {
        Worked {
        symbol: symbol.into(),
        what: format!("share of all such readings that {which}, if the true values are spread normally and the error is {error}{same}"),
        formula: format!("∫ f(x) · {over}"),
        numbers: String::new(),
        figure: Figure { numbers: vec![percent(share)], unit: String::new(), rounded: true },
        source: "JCGM 106:2012 clause 9, from memory; worked in floating point, and nothing is judged by it".into(),
    }
    };
    Some([
        one(
            "Rc",
            "are of bad values and pass",
            "P(accepted | x) dx over what is out of the limit",
            risk.bad_accepted,
        ),
        one(
            "Rp",
            "are of good values and do not pass",
            "P(not accepted | x) dx over what is in the limit",
            risk.good_not_accepted,
        ),
    ])
}

/// What is taken of errors that several instruments make, or one at readings that count with both signs.
fn taken_of(causes: &Causes) -> String {
    let several = match causes.count() {
        0 | 1 => String::new(),
        many => format!(
            " with the root of the squares of what {many} instruments add, each independent of the others"
        ),
    };
    if !causes.unlike {
        return several;
    }
    format!(
        "{several}, and what one instrument adds at several readings is added up, also in a difference"
    )
}

/// The combined standard uncertainty, where several instruments make it.
fn combined(said: Said<'_>, held: &Capability, act: &Act) -> Option<Worked> {
    let causes = held.causes.as_ref().filter(|causes| !held.single && causes.count() > 1)?;
    misjudged(held, act)?;
    let said_all = |all: &[Exact], which: &str| {
        let all = all.iter().map(|one| format!("{}²{which}", said.difference(one).said()));
        all.collect::<Vec<String>>()
    };
    let numbers = [said_all(&causes.normal, ""), said_all(&causes.alike, "/3")].concat();
    let root = Between::exactly(&causes.variance()).root()?;
    Some(Worked {
        symbol: "u".into(),
        what: "combined standard uncertainty of the value".into(),
        formula: "√(Σ u² + Σ a²/3), a greatest error a being anything up to it alike".into(),
        numbers: format!("√({})", numbers.join(" + ")),
        figure: Figure { rounded: true, ..said.difference(&root.high()) },
        source: "JCGM 100:2008, 4.3.7 and 5.1.2, from memory; the instruments are taken to be independent".into(),
    })
}

/// Whether the display has steps enough for the limit. It is told and never found.
fn display(graph: &StepGraph, held: &Capability, act: &Act) -> Option<Judged> {
    let instrument = graph.instruments.get(act.instrument?)?;
    let step = &instrument.resolution.as_ref()?;
    let width = held.accepted.as_ref()?.width()?;
    let (outcome, text) = match steps(&step.value, &width) {
        Steps::Fine => (Outcome::Holds, "is a tenth of what is accepted, or less"),
        Steps::Fair => (Outcome::Holds, "is a fifth of what is accepted, or less; a tenth is good"),
        // No finding: the error of a coarse display is half a step at least, so the ratio speaks for it.
        Steps::Coarse => {
            (Outcome::Open, "is more than a fifth of what is accepted: it is kept in few steps")
        }
    };
    let text = format!("a step of the display, {}, {text} (common practice)", step.written);
    Some(Judged { outcome, code: None, text })
}

fn capability(graph: &StepGraph, held: &Capability) -> Judged {
    let least = &graph.heading.metrology;
    let Some(ratio) = held.ratio() else {
        let text = if moves(held) {
            "the limit moves: it has no width where it is worked out from what it judges, where it has one side and nothing gives it another, where its width is looked up by several readings, or where an error or an end is not known"
        } else if held.error.is_none() {
            "no error is stated that the limit could be held against, or it is no weighted sum"
        } else {
            "a limit with one side has no width: nothing to compare the error with"
        };
        return Judged { outcome: Outcome::Open, code: None, text: text.to_owned() };
    };
    let (outcome, code, text) = if ratio < least.least {
        (Outcome::Fails, Some("LN324"), "the error is greater than the limit can bear")
    } else if ratio < least.fair {
        (Outcome::Fails, Some("LN325"), "the error is great beside what is accepted")
    } else if ratio < least.good {
        (Outcome::Holds, None, "good enough")
    } else {
        (Outcome::Holds, None, "good")
    };
    let wanted = format!("{} at least, {} good", ratio_said(&least.fair), ratio_said(&least.good));
    Judged { outcome, code, text: format!("{text}: {} ({wanted})", ratio_said(&ratio)) }
}

//! Numbers, limits, times, lists and prose in one language and unit system.

use crate::phrases::Phrases;
use crate::sheet::Said;
use locknut_finding::Span;
use locknut_graph::{Act, Prose, ProsePiece, ReadingId, ReadingKind, StepGraph, Words};
use locknut_quantity::{
    Exact, KindId, Limit, Quantity, Shown, System, Unit, UnitId, Units, grouped, show, show_arm,
    show_range, to_digits,
};
use num_traits::Zero;
use std::collections::BTreeSet;

/// Between a number and its unit: a blank at which no line breaks.
const NBSP: char = '\u{a0}';

/// Says things of one graph.
#[derive(Clone, Copy)]
pub(crate) struct Speaker<'a> {
    pub(crate) graph: &'a StepGraph,
    pub(crate) units: &'a Units,
    pub(crate) phrases: &'a Phrases,
    pub(crate) system: Option<System>,
    /// Readings that stay in the units in which they are written.
    pub(crate) kept: &'a BTreeSet<ReadingId>,
}

impl Speaker<'_> {
    /// `6.5 L`
    pub(crate) fn quantity(&self, quantity: &Quantity) -> String {
        let shown = show(self.units, quantity, self.system);
        self.with_unit(&self.digits(&shown.digits), shown.unit, quantity.kind)
    }

    /// The same, in the units in which an act can be told.
    #[must_use]
    pub(crate) fn of_act(self, act: &Act) -> Self {
        let kept = act.kind.reading().is_some_and(|reading| self.kept.contains(&reading));
        if kept { Self { system: None, ..self } } else { self }
    }

    /// `at most 0.15 mm`, `20 to 24 N·m`: in the reader's units, never outside the written limit.
    pub(crate) fn limit(&self, limit: &Limit) -> String {
        self.between(limit, show_range(self.units, limit, self.system))
    }

    /// The limit of one arm among others; `decimals` are those of the reading.
    pub(crate) fn arm(&self, limit: &Limit, all: &[&Limit], decimals: u32) -> String {
        self.between(limit, show_arm(self.units, limit, all, decimals, self.system))
    }

    fn between(&self, limit: &Limit, (lower, upper): (Option<Shown>, Option<Shown>)) -> String {
        let closed = |bound: &Option<locknut_quantity::Bound>| {
            bound.as_ref().is_some_and(|bound| bound.closed)
        };
        match (&lower, &upper) {
            (Some(low), Some(high)) if low.digits == high.digits && closed(&limit.range.lower) => {
                self.shown(high, limit.kind)
            }
            (Some(low), Some(high)) => {
                let key = match (closed(&limit.range.lower), closed(&limit.range.upper)) {
                    (true, true) => "limit-between",
                    (false, true) => "limit-over-to",
                    (true, false) => "limit-to-under",
                    (false, false) => "limit-over-to-under",
                };
                self.say(
                    key,
                    &[("lower", self.digits(&low.digits)), ("upper", self.shown(high, limit.kind))],
                )
            }
            (None, Some(high)) => {
                let key = if closed(&limit.range.upper) { "limit-at-most" } else { "limit-under" };
                self.say(key, &[("value", self.shown(high, limit.kind))])
            }
            (Some(low), None) => {
                let key = if closed(&limit.range.lower) { "limit-at-least" } else { "limit-over" };
                self.say(key, &[("value", self.shown(low, limit.kind))])
            }
            (None, None) => self.say("limit-any", &[]),
        }
    }

    /// What lies outside a limit: `over 0.15 mm`, `under 0.10 mm or over 0.45 mm`.
    pub(crate) fn outside(&self, limit: &Limit) -> String {
        let (lower, upper) = show_range(self.units, limit, self.system);
        let end = |shown: Option<Shown>,
                   bound: &Option<locknut_quantity::Bound>,
                   inside: &str,
                   open: &str| {
            let key = if bound.as_ref().is_some_and(|bound| bound.closed) { inside } else { open };
            shown.map(|shown| self.say(key, &[("value", self.shown(&shown, limit.kind))]))
        };
        let under = end(lower, &limit.range.lower, "limit-under", "limit-at-most");
        let over = end(upper, &limit.range.upper, "limit-over", "limit-at-least");
        let parts: Vec<String> = under.into_iter().chain(over).collect();
        self.any_of(&parts)
    }

    /// A limit in the unit in which its reading is read, where it comes out even there; else as it was written.
    pub(crate) fn beside(&self, limit: &Limit, unit: UnitId) -> Limit {
        const MORE_DIGITS: u32 = 3;
        let alike = self.units.unit(unit).kind == self.units.unit(limit.unit).kind
            || limit.unit == Units::ONE;
        if unit == limit.unit || !alike {
            return limit.clone();
        }
        let ends = || [&limit.range.lower, &limit.range.upper].into_iter().flatten();
        let even =
            |decimals: &u32| ends().all(|end| says_all(self.units, unit, &end.value, *decimals));
        let decimals = (0..=limit.decimals.saturating_add(MORE_DIGITS)).find(even);
        decimals.map_or_else(|| limit.clone(), |decimals| Limit { unit, decimals, ..limit.clone() })
    }

    /// The ends of a limit as plain digits, for a drawn band.
    pub(crate) fn band(&self, limit: &Limit) -> (Option<String>, Option<String>) {
        let (lower, upper) = show_range(self.units, limit, self.system);
        (
            lower.map(|shown| self.digits(&shown.digits)),
            upper.map(|shown| self.digits(&shown.digits)),
        )
    }

    /// The unit that a value written in `unit` is read in.
    pub(crate) fn reader_unit(&self, unit: UnitId) -> UnitId {
        let written = self.units.unit(unit);
        match (self.system, written.system, written.counterpart) {
            (Some(wanted), Some(own), Some(other)) if wanted != own => other,
            _ => unit,
        }
    }

    /// Whether a limit is said in another unit than this one.
    pub(crate) fn said_in_other(&self, limit: &Limit, unit: UnitId) -> bool {
        let (lower, upper) = show_range(self.units, limit, self.system);
        lower.iter().chain(&upper).any(|end| end.unit != unit)
    }

    fn shown(&self, shown: &Shown, kind: KindId) -> String {
        self.with_unit(&self.digits(&shown.digits), shown.unit, kind)
    }

    fn with_unit(&self, digits: &str, unit: UnitId, kind: KindId) -> String {
        let unit = self.units.unit(unit);
        let said = self.qualified(self.unit_word(unit, digits), kind);
        if said.is_empty() {
            digits.to_owned()
        } else if unit.close {
            format!("{digits}{said}")
        } else {
            format!("{digits}{NBSP}{said}")
        }
    }

    /// A pressure says whether it is above the air outside or above a vacuum: `bar gauge`.
    pub(crate) fn qualified(&self, unit: String, kind: KindId) -> String {
        match &self.units.kind(kind).qualifier {
            Some(qualifier) => {
                let key = format!("qualifier-{qualifier}");
                let word = if self.phrases.has(&key) {
                    self.phrases.label(&key)
                } else {
                    qualifier.clone()
                };
                format!("{unit}{NBSP}{word}")
            }
            None => unit,
        }
    }

    /// Units that are words (turns, months) are said in the language.
    pub(crate) fn unit_word(&self, unit: &Unit, digits: &str) -> String {
        let key = format!("unit-{}", unit.name);
        let ascii = unit.name.chars().all(|sign| sign.is_ascii_alphabetic() || sign == '-');
        if ascii && !unit.name.is_empty() && self.phrases.has(&key) {
            let one = digits == "1";
            return self.phrases.count(&key, if one { 1 } else { 2 }, &[], Span::default());
        }
        self.units_said(&unit.printed())
    }

    /// Words in the signs of a unit that the language has others for: `inch²`, `inch/s`, `± 0.001 inch`.
    pub(crate) fn units_said(&self, text: &str) -> String {
        let mut said = String::new();
        let mut word = String::new();
        for sign in text.chars().map(Some).chain([None]) {
            if let Some(letter) = sign.filter(char::is_ascii_alphabetic) {
                word.push(letter);
                continue;
            }
            let word = std::mem::take(&mut word);
            let key = format!("unit-{word}");
            let known = word.len() > 2 && self.phrases.has(&key);
            said.push_str(&if known {
                self.phrases.count(&key, 2, &[], Span::default())
            } else {
                word
            });
            said.extend(sign);
        }
        said
    }

    /// Digits as the language writes them: its decimal sign, groups of three from five digits on.
    pub(crate) fn digits(&self, plain: &str) -> String {
        let (sign, rest) = plain.strip_prefix('-').map_or(("", plain), |rest| ("\u{2212}", rest));
        let (whole, fraction) = rest.split_once('.').unwrap_or((rest, ""));
        let grouped = grouped(whole);
        if fraction.is_empty() {
            format!("{sign}{grouped}")
        } else {
            format!("{sign}{grouped}{}{fraction}", self.phrases.label("decimal-sign"))
        }
    }

    /// `1 h 30 min`, `1 min 30 s`: nothing is rounded away, for what must have passed.
    pub(crate) fn exact_duration(&self, seconds: &Exact) -> String {
        let (minute, hour) = (Exact::from_integer(60.into()), Exact::from_integer(3600.into()));
        let (hours, rest) = ((seconds / &hour).floor(), seconds % &hour);
        let (minutes, rest) = ((&rest / &minute).floor(), &rest % &minute);
        let parts = [(hours, "h"), (minutes, "min"), (rest, "s")];
        let told = parts.iter().filter(|(value, _)| !value.is_zero());
        let said: Vec<String> = told
            .map(|(value, unit)| format!("{}{NBSP}{unit}", self.digits(&to_digits(value, 6))))
            .collect();
        if said.is_empty() { format!("0{NBSP}s") } else { said.join(" ") }
    }

    /// `1 h 30 min`, `45 s`, `1 min 30 s`, to the minute from ten minutes on.
    pub(crate) fn duration(&self, seconds: &Exact) -> String {
        let minute = Exact::from_integer(60.into());
        if *seconds < &minute * Exact::from_integer(10.into()) {
            return self.exact_duration(&seconds.round());
        }
        let minutes: u64 = (seconds / &minute).round().to_integer().try_into().unwrap_or(u64::MAX);
        let (hours, rest) = (minutes / 60, minutes % 60);
        match (hours > 0, rest > 0) {
            (true, true) => format!("{hours}{NBSP}h {rest}{NBSP}min"),
            (true, false) => format!("{hours}{NBSP}h"),
            _ => format!("{rest}{NBSP}min"),
        }
    }

    /// `a, b and c`
    pub(crate) fn all_of(&self, parts: &[String]) -> String {
        self.listed(parts, "list-and")
    }

    /// `a, b or c`
    pub(crate) fn any_of(&self, parts: &[String]) -> String {
        self.listed(parts, "list-or")
    }

    fn listed(&self, parts: &[String], last: &str) -> String {
        match parts {
            [] => String::new(),
            [only] => only.clone(),
            [first @ .., end] => {
                self.say(last, &[("first", first.join(", ")), ("last", end.clone())])
            }
        }
    }

    /// `2 October 2026`; anything but a date stays as it is.
    pub(crate) fn date(&self, iso: &str) -> String {
        let mut parts = iso.splitn(3, '-');
        let (Some(year), Some(month), Some(day)) = (parts.next(), parts.next(), parts.next())
        else {
            return iso.to_owned();
        };
        let key = format!("month-{month}");
        if !self.phrases.has(&key) {
            return iso.to_owned();
        }
        let day = day.trim_start_matches('0').to_owned();
        self.say(
            "date",
            &[("day", day), ("month", self.phrases.label(&key)), ("year", year.to_owned())],
        )
    }

    /// An author's text, translated, with its checked places in the reader's units.
    pub(crate) fn prose(&self, prose: &Prose) -> String {
        let mut text = self.phrases.author(&prose.key(), prose.span);
        let mut place = 0;
        for piece in &prose.pieces {
            let said = match piece {
                ProsePiece::Plain(_) => continue,
                ProsePiece::Name { article, words } => self.named(article.as_deref(), words),
                ProsePiece::Quantity(quantity) => self.figure(quantity),
                ProsePiece::Limit(limit) => {
                    self.beside_readings(limit.kind, |speak| speak.limit(limit))
                }
                ProsePiece::Reading(reading) => self.reading(*reading),
            };
            place += 1;
            text = text.replacen(&format!("{{{place}}}"), &said, 1);
        }
        text
    }

    /// A reading by its name: at two points two are read by one, so it says which.
    pub(crate) fn reading(&self, id: ReadingId) -> String {
        let reading = self.graph.reading(id);
        self.placed(self.phrases.name(&reading.words), reading.places())
    }

    /// One point of it: `gap (left)`.
    pub(crate) fn reading_at(&self, id: ReadingId, point: usize) -> String {
        let reading = self.graph.reading(id);
        let own = reading.points.get(point);
        let places = reading.around(own).into_iter().chain(own).collect();
        self.placed(self.phrases.name(&reading.words), places)
    }

    /// The same at a line that says the points of its fields itself.
    pub(crate) fn reading_around(&self, id: ReadingId) -> String {
        let reading = self.graph.reading(id);
        let own = if let [only] = reading.points.as_slice() { Some(only) } else { None };
        self.placed(self.phrases.name(&reading.words), reading.around(own))
    }

    fn placed(&self, name: String, places: Vec<&Words>) -> String {
        let places: Vec<String> =
            places.into_iter().map(|place| self.phrases.name(place)).collect();
        if places.is_empty() { name } else { format!("{name} ({})", places.join(", ")) }
    }

    /// A figure in a text. What it is for is not known here: a load that is hung up must not grow, and a hole for a bolt must not
    /// shrink. So what does not come out even in other units keeps its own, with the other beside it.
    fn figure(&self, quantity: &Quantity) -> String {
        let shown = show(self.units, quantity, self.system);
        if shown.value == quantity.value {
            return self.beside_readings(quantity.kind, |speak| speak.quantity(quantity));
        }
        let written = Self { system: None, ..*self }.quantity(quantity);
        let about = self.say("figure-about", &[("figure", self.quantity(quantity))]);
        format!("{written} ({about})")
    }

    /// A figure in a text agrees with the boxes: where readings of its kind stay as written, so does it, with the
    /// reader's own unit behind it.
    fn beside_readings(&self, kind: KindId, said: impl Fn(Self) -> String) -> String {
        let own = said(*self);
        let scale = self.units.difference_of(kind);
        let stays = |id: &ReadingId| match &self.graph.reading(*id).kind {
            ReadingKind::Quantity { kind, .. } => self.units.difference_of(*kind) == scale,
            ReadingKind::Answer { .. }
            | ReadingKind::Serial
            | ReadingKind::Date
            | ReadingKind::Text => false,
        };
        if self.system.is_none() || !self.kept.iter().any(stays) {
            return own;
        }
        let written = said(Self { system: None, ..*self });
        if written == own { own } else { format!("{written} ({own})") }
    }

    /// The same, with places left for readings: a program puts in what was read.
    pub(crate) fn with_readings(&self, prose: &Prose) -> Vec<Said> {
        let text = self.phrases.author(&prose.key(), prose.span);
        let mut places = prose.pieces.iter().filter_map(|piece| match piece {
            ProsePiece::Plain(_) => None,
            ProsePiece::Name { article, words } => {
                Some(Said::Text(self.named(article.as_deref(), words)))
            }
            ProsePiece::Quantity(quantity) => Some(Said::Text(self.figure(quantity))),
            ProsePiece::Limit(limit) => {
                Some(Said::Text(self.beside_readings(limit.kind, |speak| speak.limit(limit))))
            }
            ProsePiece::Reading(reading) => Some(Said::Reading(*reading)),
        });
        let places: Vec<Said> = places.by_ref().collect();
        let mut said = Vec::new();
        let mut rest = text.as_str();
        while let Some((before, place, after)) = next_place(rest, &places) {
            said.push(Said::Text(before.to_owned()));
            said.push(place.clone());
            rest = after;
        }
        said.push(Said::Text(rest.to_owned()));
        said.retain(|piece| *piece != Said::Text(String::new()));
        said
    }

    /// The article stands only in the authors' own language: another has other ones.
    fn named(&self, article: Option<&str>, words: &Words) -> String {
        let name = self.phrases.name(words);
        match article {
            Some(article) if name == words.said => format!("{article} {name}"),
            _ => name,
        }
    }

    pub(crate) fn say(&self, key: &str, values: &[(&str, String)]) -> String {
        self.phrases.say(key, values, Span::default())
    }

    /// A sentence begins with a capital.
    pub(crate) fn sentence(text: &str) -> String {
        let mut letters = text.chars();
        match letters.next() {
            Some(first) => first.to_uppercase().chain(letters).collect(),
            None => String::new(),
        }
    }
}

/// The first place of a text that something stands for, with what stands ahead of it and behind it.
fn next_place<'t, 'p>(text: &'t str, places: &'p [Said]) -> Option<(&'t str, &'p Said, &'t str)> {
    let found = (1_usize..).zip(places).filter_map(|(number, place)| {
        let (before, after) = text.split_once(&format!("{{{number}}}"))?;
        Some((before, place, after))
    });
    found.min_by_key(|(before, ..)| before.len())
}

/// Whether so many digits after the point say a value.
pub(crate) fn says_all(units: &Units, unit: UnitId, value: &Exact, decimals: u32) -> bool {
    let ten = Exact::from_integer(10.into());
    let digits = (0..decimals).fold(Exact::from_integer(1.into()), |digits, _| digits * &ten);
    (units.unit(unit).number_of(value) * digits).is_integer()
}

//! Text by an author, with its checked places.

use super::Reader;
use super::raw_number::{Raw, raw_numbers};
use crate::findings::names::{CannotBeKnown, SaysTooLittle};
use crate::findings::quantities::RawNumber;
use locknut_finding::{Findings, Span};
use locknut_graph::{Prose, ProsePiece, Words};
use locknut_quantity::{Quantity, UnitProblem};
use locknut_syntax::tree::{Expression, Limit, LimitForm, Name, Piece, Text};

impl Reader<'_> {
    /// A text with its holes resolved; what cannot be resolved has a finding and stands as written.
    pub(crate) fn prose(&self, written: &Text, found: &mut Findings) -> Prose {
        stands_for_words(written, found);
        let pieces = written.pieces.iter().map(|piece| match piece {
            Piece::Plain { text, span } => {
                self.raw_numbers(text, *span, found);
                ProsePiece::Plain(text.clone())
            }
            Piece::Hole { article, value, span } => self
                .hole(article.as_ref(), value, found)
                .unwrap_or_else(|| ProsePiece::Plain(self.written(*span))),
        });
        Prose { pieces: pieces.collect(), span: written.span }
    }

    fn hole(
        &self,
        article: Option<&Name>,
        value: &Expression,
        found: &mut Findings,
    ) -> Option<ProsePiece> {
        match value {
            Expression::Name(name) => self.named_hole(article, name, found),
            Expression::Quantity(quantity) => {
                Some(ProsePiece::Quantity(self.quantity(quantity, None, found)?))
            }
            Expression::Point { .. }
            | Expression::Call { .. }
            | Expression::Binary { .. }
            | Expression::Negative(..)
            | Expression::PercentOf { .. } => self.worked_out_hole(value, found),
        }
    }

    fn named_hole(
        &self,
        article: Option<&Name>,
        name: &Name,
        found: &mut Findings,
    ) -> Option<ProsePiece> {
        if let Some((reading, ..)) = self.readings.reading(&name.text) {
            return Some(ProsePiece::Reading(reading));
        }
        if let Some(named) = self.named_limit(&name.text) {
            let limit = named.limit.clone();
            let value =
                limit.range.lower.as_ref().filter(|_| named.is_value).map(|end| end.value.clone());
            return Some(match value {
                Some(value) => ProsePiece::Quantity(Quantity {
                    value,
                    kind: limit.kind,
                    unit: limit.unit,
                    decimals: limit.decimals,
                    written: limit.written,
                }),
                None => ProsePiece::Limit(limit),
            });
        }
        let point = self.readings.point_here(&name.text).map(|point| Words::of(&point));
        if let Some(words) = point.or_else(|| self.known_words(&name.text)) {
            let article = article.map(|article| article.text.clone());
            return Some(ProsePiece::Name { article, words });
        }
        let readings = self.readings.names();
        let known = self.variable_names().chain(self.limit_names());
        let known = known.chain(readings.iter().map(String::as_str)).chain(self.workshop_names());
        self.unknown("thing, value, limit or reading", name, known, found);
        None
    }

    fn worked_out_hole(&self, value: &Expression, found: &mut Findings) -> Option<ProsePiece> {
        let limit = Limit { form: LimitForm::Just(value.clone()), span: value.span() };
        if self.table_of_limits(&limit).is_some() {
            return self.limit(&limit, None, found).map(ProsePiece::Limit);
        }
        let typed = self.typed(value, None, found)?;
        if matches!(super::value::constant(&typed.value), super::value::Constant::Reading) {
            found.add(&CannotBeKnown {
                what: "a sum over readings",
                place: "a text",
                span: value.span(),
                mend: "work it out with “check” and name its result in the text",
            });
            return None;
        }
        Some(ProsePiece::Quantity(self.value(value, None, found)?))
    }

    fn workshop_names(&self) -> impl Iterator<Item = &str> {
        let world = self.world;
        let names =
            world.instruments.keys().chain(world.tools.keys()).chain(world.consumables.keys());
        names.map(String::as_str)
    }

    /// Numbers with a unit that stand in plain words.
    fn raw_numbers(&self, text: &str, span: Span, found: &mut Findings) {
        let source = self.world.sources.slice(span);
        // The source has the same words at known places; only without one the text itself is read.
        let plain = if source.is_empty() { text } else { source };
        for raw in raw_numbers(plain, |spelling, word| self.is_unit(spelling, word)) {
            let byte = |at: usize| span.start.saturating_add(u32::try_from(at).unwrap_or(0));
            let place = if source.is_empty() {
                span
            } else {
                Span { start: byte(raw.start), end: byte(raw.end), ..span }
            };
            let (written, checked) = (raw.written.clone(), self.checked(&raw));
            found.add(&RawNumber { written, span: place, checked });
        }
    }

    /// With the words that its unit wants behind it.
    fn checked(&self, raw: &Raw) -> Vec<String> {
        let bare = raw.bare.as_ref().map(|unit| self.units().meant(unit, None, None));
        match bare {
            Some(Err(UnitProblem::NeedsQualifier { words })) => {
                let with = |word: &String| raw.checked.replace('}', &format!(" {word}}}"));
                words.iter().map(with).collect()
            }
            Some(Ok(_) | Err(_)) | None => vec![raw.checked.clone()],
        }
    }

    fn is_unit(&self, spelling: &str, qualifier: Option<&str>) -> bool {
        match self.units().meant(spelling, qualifier, None) {
            Ok(_) | Err(UnitProblem::NeedsQualifier { .. }) => true,
            Err(
                UnitProblem::Unknown { .. }
                | UnitProblem::WrongKind { .. }
                | UnitProblem::NoQualifier,
            ) => false,
        }
    }
}

/// Dots where a mend left room for the author's own words are no words.
fn stands_for_words(written: &Text, found: &mut Findings) {
    let plain = |piece: &Piece| match piece {
        Piece::Plain { text, .. } => text.chars().all(|sign| ". \u{2026}".contains(sign)),
        Piece::Hole { .. } => false,
    };
    let dotted = |piece: &Piece| matches!(piece, Piece::Plain { text, .. } if text.contains(['.', '\u{2026}']));
    if written.pieces.iter().all(plain) && written.pieces.iter().any(dotted) {
        found.add(&SaysTooLittle {
            what: "this text".to_owned(),
            lacks: "nothing but dots",
            span: written.span,
            consequence: "a reason or a name that nobody wrote is printed as if it were one",
            mend: "write your own words in the place of the dots",
        });
    }
}

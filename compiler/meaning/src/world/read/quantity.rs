//! A number with its unit.

use super::Reader;
use crate::findings::quantities::{
    BarePressure, ImpossibleValue, Meant, NoQualifier, NoUnit, UnknownUnit, WrongKind, a_kind,
};
use locknut_finding::{Findings, Span};
use locknut_quantity::{Exact, KindId, Limit, Quantity, ReadProblem, UnitId, UnitProblem, Units};
use locknut_syntax::tree;

impl Reader<'_> {
    /// A number with its unit. `wanted`: the kind that belongs there; none: whatever the unit says.
    pub(crate) fn quantity(
        &self,
        written: &tree::Quantity,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) -> Option<Quantity> {
        let number = &written.number.text;
        if written.unit.is_none()
            && let Some(share) =
                wanted.filter(|kind| *kind != Units::NUMBER && self.is_plain(*kind))
        {
            let read = self.quantity(written, Some(Units::NUMBER), found)?;
            return Some(Quantity { kind: share, ..read });
        }
        if written.unit.is_none() && wanted.is_some_and(|kind| kind != Units::NUMBER) {
            self.no_unit(number, written.span, wanted, found);
            return None;
        }
        let unit = written.unit.as_ref().map(|unit| unit.text.as_str());
        let word = written.qualifier.as_ref().map(|word| word.text.as_str());
        match self.units().read(number, unit, word, wanted) {
            Ok(quantity) => {
                let written = self.as_written(written, quantity.written);
                Some(Quantity { written, ..quantity })
            }
            Err(ReadProblem::Unit(problem)) => {
                self.unit_problem(written, problem, wanted, found);
                None
            }
            Err(ReadProblem::TooLong { .. } | ReadProblem::NotANumber) => {
                self.no_number(&written.number, found);
                None
            }
        }
    }

    /// A bare number.
    pub(crate) fn number(&self, number: &tree::Number, found: &mut Findings) -> Option<Exact> {
        let read = self.units().read(&number.text, None, None, None);
        if read.is_err() {
            self.no_number(number, found);
        }
        read.ok().map(|quantity| quantity.value)
    }

    /// As its author wrote it; a unit that the end of a range lent it stands with it, too.
    fn as_written(&self, written: &tree::Quantity, spelled_out: String) -> String {
        let lent = written.unit.as_ref().is_some_and(|unit| unit.span.start >= written.span.end);
        if lent { spelled_out } else { self.written_or(written.span, || spelled_out) }
    }

    fn no_number(&self, number: &tree::Number, found: &mut Findings) {
        found.add(&ImpossibleValue {
            written: self.written(number.span).chars().take(12).chain("…".chars()).collect(),
            span: number.span,
            why: "a number has at most 30 digits".to_owned(),
            instead: None,
            narrow: None,
        });
    }

    fn no_unit(&self, number: &str, span: Span, wanted: Option<KindId>, found: &mut Findings) {
        let units = self.units();
        let wanted = wanted.unwrap_or(Units::NUMBER);
        found.add(&NoUnit {
            number: number.to_owned(),
            span,
            wanted: a_kind(units, wanted),
            unit: self
                .unit_beside(span, wanted)
                .or_else(|| units_of(units, wanted).into_iter().next()),
            range: self.as_range(span),
        });
    }

    /// What stands on the line of a number, from the number on.
    fn rest_of_line(&self, span: Span) -> &str {
        let text = self.world.sources.text(span.file);
        let from = usize::try_from(span.start).unwrap_or(usize::MAX);
        text.get(from..).and_then(|rest| rest.lines().next()).unwrap_or_default()
    }

    /// The unit of the next figure on the line, where it is of the kind that is wanted: a thousandth of a metre is
    /// rarely meant beside millimetres.
    fn unit_beside(&self, span: Span, wanted: KindId) -> Option<String> {
        let (units, rest) = (self.units(), self.rest_of_line(span));
        let words = rest.split(|sign: char| sign.is_whitespace() || ",;{}()".contains(sign));
        let mut spelled = words.filter(|word| {
            let fits = |id: &UnitId| units.unit(*id).kind == wanted;
            !word.is_empty() && units.spelled(word).iter().any(fits)
        });
        spelled.next().map(str::to_owned)
    }

    /// Of `0.30 - 1.60 mm` and `0.30 to 1.60 mm`: how a range is written.
    fn as_range(&self, span: Span) -> Option<String> {
        let rest = self.rest_of_line(span);
        let mut words = rest.split_whitespace();
        let (low, sign, high) = (words.next()?, words.next()?, words.next()?);
        let unit = words.next().map(|unit| unit.trim_end_matches([',', '{', '}']));
        let range = matches!(sign, "-" | "to" | "\u{2013}")
            && high.starts_with(|sign: char| sign.is_ascii_digit());
        range.then(|| format!("{low} .. {high} {}", unit.unwrap_or_default()).trim_end().to_owned())
    }

    fn unit_problem(
        &self,
        written: &tree::Quantity,
        problem: UnitProblem,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) {
        let Some(unit) = &written.unit else { return };
        let said = self.as_written(written, spelled_out(written));
        match problem {
            UnitProblem::Unknown { near } => {
                found.add(&UnknownUnit { unit: unit.text.clone(), span: unit.span, near });
            }
            UnitProblem::WrongKind { found: kinds } => {
                let points = wanted.filter(|_| written.qualifier.is_some());
                let point = points.is_some_and(|wanted| {
                    kinds.iter().all(|kind| self.units().difference_of(*kind) == wanted)
                });
                if point {
                    self.point_for_difference(written, &said, &kinds, wanted, found);
                    return;
                }
                let kinds: Vec<String> = kinds.iter().map(|kind| self.a_figure(*kind)).collect();
                self.wrong_kind(said, written.span, &kinds, wanted, found);
            }
            UnitProblem::NeedsQualifier { words } => {
                found.add(&BarePressure {
                    written: said,
                    span: written.span,
                    words,
                    product: None,
                });
            }
            UnitProblem::NoQualifier => no_qualifier(written, unit, found),
        }
    }

    /// `1.0 bar absolute` where a difference of pressures is wanted.
    fn point_for_difference(
        &self,
        written: &tree::Quantity,
        said: &str,
        kinds: &[KindId],
        wanted: Option<KindId>,
        found: &mut Findings,
    ) {
        let kinds: Vec<String> = kinds.iter().map(|kind| a_kind(self.units(), *kind)).collect();
        let bare = tree::Quantity { qualifier: None, ..written.clone() };
        let wanted = wanted.unwrap_or(Units::NUMBER);
        found.add(&WrongKind {
            written: said.to_owned(),
            span: written.span,
            found: crate::findings::names::listed(&kinds, "or"),
            wanted: a_kind(self.units(), wanted),
            fitting: units_of(self.units(), wanted),
            difference: Some(Meant::Here(format!("{} {}", spelled_out(&bare), Units::DIFFERENCE))),
        });
    }

    /// Says that one kind stands where another is wanted.
    pub(crate) fn wrong_kind(
        &self,
        written: String,
        span: Span,
        kinds: &[String],
        wanted: Option<KindId>,
        found: &mut Findings,
    ) {
        let wanted = wanted.unwrap_or(Units::NUMBER);
        found.add(&WrongKind {
            written,
            span,
            found: crate::findings::names::listed(kinds, "or"),
            wanted: self.a_figure(wanted),
            fitting: units_of(self.units(), wanted),
            difference: None,
        });
    }

    /// `a length`; of a gauge's own scale `a figure on the scale ha`.
    fn a_figure(&self, kind: KindId) -> String {
        if self.world.own_scales.contains_key(&kind) {
            return format!("a figure on the scale {}", self.units().kind(kind).name);
        }
        a_kind(self.units(), kind)
    }

    /// The same of a name that may stand for the difference that is wanted.
    pub(super) fn name_of_wrong_kind(
        &self,
        name: &tree::Name,
        limit: &Limit,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) {
        let wanted = wanted.unwrap_or(Units::NUMBER);
        let kind = limit.kind;
        let step = self.is_point(kind) && self.units().difference_of(kind) == wanted;
        let written = &limit.written;
        found.add(&WrongKind {
            written: format!("{} ({written})", name.text),
            span: name.span,
            found: a_kind(self.units(), kind),
            wanted: a_kind(self.units(), wanted),
            fitting: units_of(self.units(), wanted),
            difference: step.then(|| Meant::Declared(self.as_difference(written, kind))),
        });
    }

    /// `at most 1.0 bar difference` of `at most 1.0 bar absolute`: one word takes the place of the other.
    fn as_difference(&self, written: &str, kind: KindId) -> String {
        let word = self.units().kind(kind).qualifier.as_deref();
        let bare = word.and_then(|word| written.strip_suffix(word)).unwrap_or(written);
        format!("{} {}", bare.trim_end(), Units::DIFFERENCE)
    }

    /// Whether two kinds are one: a share may stand for a bare number, and a bare number for a share.
    pub(crate) fn is_kind(&self, kind: KindId, wanted: KindId) -> bool {
        kind == wanted || self.is_plain(kind) && self.is_plain(wanted)
    }

    /// Whether it is a bare number or a share.
    pub(super) fn is_plain(&self, kind: KindId) -> bool {
        kind == Units::NUMBER || self.units().kind_named(Units::RATIO) == Some(kind)
    }

    /// The unit of another kind that is spelled the same; else that kind's first unit.
    pub(super) fn like_unit(&self, unit: UnitId, kind: KindId) -> UnitId {
        let units = self.units();
        let spelled = units.spelled(&units.unit(unit).name);
        let same = spelled.iter().copied().find(|other| units.unit(*other).kind == kind);
        same.or_else(|| units.of_kind(kind).next()).unwrap_or(unit)
    }

    pub(crate) fn units(&self) -> &Units {
        &self.world.units
    }
}

fn spelled_out(written: &tree::Quantity) -> String {
    let words = [written.unit.as_ref(), written.qualifier.as_deref()];
    let words = words.into_iter().flatten().map(|word| word.text.as_str());
    std::iter::once(written.number.text.as_str()).chain(words).collect::<Vec<_>>().join(" ")
}

/// A few units of a kind, for examples; a kind told apart by a word takes those of its difference.
fn units_of(units: &Units, kind: KindId) -> Vec<String> {
    if kind == Units::NUMBER {
        return Vec::new();
    }
    let own = units.of_kind(kind).next().is_some();
    let of = if own { kind } else { units.difference_of(kind) };
    let word = units.kind(kind).qualifier.as_ref().map(|word| format!(" {word}"));
    let word = word.unwrap_or_default();
    units.of_kind(of).take(3).map(|unit| format!("{}{word}", units.unit(unit).name)).collect()
}

fn no_qualifier(written: &tree::Quantity, unit: &tree::Name, found: &mut Findings) {
    let Some(word) = &written.qualifier else { return };
    found.add(&NoQualifier {
        word: word.text.clone(),
        span: word.span,
        without: format!("{} {}", written.number.text, unit.text),
        whole: written.span,
    });
}

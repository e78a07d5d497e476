//! `max(gap)`, `mean(a, b)`: functions over several values.

use super::Reader;
use super::expression::{Typed, Within};
use crate::findings::quantities::{FormulaFault, FormulaUnfit, OneFigure, a_kind};
use crate::findings::readings::TwiceInFold;
use crate::world::Formula;
use locknut_finding::{Findings, Span};
use locknut_graph::{Expression, Fold};
use locknut_quantity::Units;
use locknut_syntax::tree;

/// The functions, and what each makes of its values.
const FOLDS: &[(&str, Fold)] = &[
    ("max", Fold::Max),
    ("min", Fold::Min),
    ("mean", Fold::Mean),
    ("spread", Fold::Spread),
    ("sum", Fold::Sum),
    ("count", Fold::Count),
    ("abs", Fold::Abs),
];

impl Reader<'_> {
    pub(super) fn call(
        &self,
        function: &tree::Name,
        arguments: &[tree::Expression],
        span: Span,
        within: Within,
        found: &mut Findings,
    ) -> Option<Typed> {
        if let Some(formula) = self.world.formulas.get(&function.text) {
            return self.formula_call(formula, function, arguments, span, within, found);
        }
        if let Some(table) = self.world.tables.get(&function.text) {
            return self.looked_up(table, arguments, span, found);
        }
        let Some((_, fold)) = FOLDS.iter().find(|(name, _)| *name == function.text) else {
            let folds = FOLDS.iter().map(|(name, _)| *name);
            let known = folds.chain(self.world.formulas.keys().map(String::as_str));
            let known = known.chain(self.world.tables.keys().map(String::as_str));
            self.unknown("function, formula or table", function, known, found);
            return None;
        };
        let one_value = *fold == Fold::Abs;
        if arguments.is_empty() || (one_value && arguments.len() > 1) {
            let written = self.written_or(span, || function.text.clone());
            found.add(&OneFigure {
                written,
                span,
                found: format!("{} of {} values", function.text, arguments.len()),
                wanted: if one_value { "one value" } else { "at least one value" },
                mend: format!("write {}(…) with the reading in the brackets", function.text),
            });
            return None;
        }
        let within = Within { fold: !one_value, ..within };
        let mut parts: Vec<Typed> = Vec::new();
        for argument in arguments {
            let hint = parts.first().map(|first| first.kind);
            let part = self.part(argument, hint, within, found)?;
            if let Some(first) = parts.first().filter(|first| first.kind != part.kind) {
                self.apart("compared", first, &part, found);
                return None;
            }
            parts.push(part);
        }
        self.folded(*fold, parts, span, found)
    }

    fn formula_call(
        &self,
        formula: &Formula,
        function: &tree::Name,
        arguments: &[tree::Expression],
        span: Span,
        within: Within,
        found: &mut Findings,
    ) -> Option<Typed> {
        if arguments.len() != formula.parameters.len() {
            let wants = formula.parameters.iter().map(|(name, _)| name.clone()).collect();
            let fault = FormulaFault::Count { wants, given: arguments.len() };
            found.add(&FormulaUnfit { place: span, fault });
            return None;
        }
        let within = Within { fold: false, ..within };
        let mut handed_in = Vec::new();
        for (argument, (_, kind)) in arguments.iter().zip(&formula.parameters) {
            let part = self.part(argument, Some(*kind), within, found)?;
            if part.kind != *kind {
                let said = self.written_or(part.span, || "this".to_owned());
                let is = a_kind(self.units(), part.kind);
                self.wrong_kind(said, part.span, &[is], Some(*kind), found);
                return None;
            }
            handed_in.push(part);
        }
        self.by_formula(formula, function, handed_in, span, found)
    }

    fn folded(
        &self,
        fold: Fold,
        parts: Vec<Typed>,
        span: Span,
        found: &mut Findings,
    ) -> Option<Typed> {
        let first = parts.first()?.clone();
        let units = self.units();
        for (at, part) in parts.iter().enumerate() {
            let earlier = parts.iter().take(at).find(|earlier| earlier.value == part.value);
            if let Some(earlier) = earlier.filter(|_| fold != Fold::Count) {
                let written = self.written_or(part.span, || "this".to_owned());
                found.add(&TwiceInFold { written, first: earlier.span, again: part.span });
            }
        }
        let (kind, unit) = match fold {
            Fold::Count => (Units::NUMBER, Units::ONE),
            Fold::Spread => {
                let kind = units.difference_of(first.kind);
                (kind, self.like_unit(first.unit, kind))
            }
            Fold::Sum | Fold::Abs => {
                let done = if fold == Fold::Sum { "added" } else { "taken without its sign" };
                self.no_point_on_a_scale(done, &first, found)?;
                (first.kind, first.unit)
            }
            Fold::Max | Fold::Min | Fold::Mean => (first.kind, first.unit),
        };
        if matches!(fold, Fold::Sum | Fold::Mean) && parts.iter().any(|part| self.is_level(part)) {
            let done = if fold == Fold::Sum { "added" } else { "averaged" };
            self.apart(done, &first, &first, found);
            return None;
        }
        let decimals = parts.iter().map(|part| part.decimals).max().unwrap_or(0);
        let values = parts.into_iter().map(|part| part.value).collect();
        Some(Typed { value: Expression::Fold(fold, values), kind, unit, decimals, span })
    }
}

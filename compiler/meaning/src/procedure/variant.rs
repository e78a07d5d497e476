//! Series and serial numbers as variables that are chosen at the start and never written.

use super::build::Build;
use crate::world::Model;
use locknut_graph::{Value, Variable, VariableId, VariableKind, Words};
use std::collections::BTreeSet;

/// A variable has at most so many values.
pub(super) const MOST_VALUES: usize = 250;

/// An inclusive stretch of serial numbers; an end left out is open.
pub(super) type Stretch = (Option<u64>, Option<u64>);

/// The variables of the variant; what no line asks for does not split the machine.
#[derive(Clone, Debug, Default)]
pub(super) struct Variant {
    series: Option<(VariableId, Vec<String>)>,
    serial: Option<(VariableId, Vec<Stretch>)>,
}

impl Variant {
    /// Adds the variables that some line asks for.
    pub(super) fn add(build: &mut Build, model: &Model, series: bool, serials: &[Stretch]) -> Self {
        let mut variant = Self::default();
        if series && !model.series.is_empty() {
            let id = build.add_variable(series_variable(model));
            variant.series = Some((id, model.series.clone()));
        }
        if !serials.is_empty() {
            let stretches = cut(serials);
            let id = build.add_variable(serial_variable(model, &stretches));
            variant.serial = Some((id, stretches));
        }
        variant
    }

    /// Every variable of the variant, with all of its values.
    pub(super) fn all_values(&self) -> Vec<(VariableId, Vec<u8>)> {
        let series = self.series.iter().map(|(id, all)| (*id, positions(all, |_| true)));
        let serial = self.serial.iter().map(|(id, all)| (*id, positions(all, |_| true)));
        series.chain(serial).collect()
    }

    /// The values for these series.
    pub(super) fn series_values(&self, names: &[String]) -> Option<(VariableId, Vec<u8>)> {
        let (id, all) = self.series.as_ref()?;
        Some((*id, positions(all, |series| names.contains(series))))
    }

    /// The values for a stretch of serial numbers whose ends were mentioned.
    pub(super) fn serial_values(
        &self,
        from: Option<u64>,
        to: Option<u64>,
    ) -> Option<(VariableId, Vec<u8>)> {
        let (id, stretches) = self.serial.as_ref()?;
        // None is below nought.
        let from = from.filter(|from| *from > 0);
        Some((*id, positions(stretches, |stretch| lies_in(*stretch, (from, to)))))
    }

    /// The series that these values stand for.
    pub(super) fn series_names(&self, id: VariableId, values: &[u8]) -> Option<Vec<String>> {
        let (_, all) = self.series.as_ref().filter(|(own, _)| *own == id)?;
        let named = values.iter().filter_map(|value| all.get(usize::from(*value)).cloned());
        Some(named.collect())
    }
}

fn positions<T>(all: &[T], wanted: impl Fn(&T) -> bool) -> Vec<u8> {
    (0..=u8::MAX).zip(all).filter(|(_, one)| wanted(one)).map(|(position, _)| position).collect()
}

fn lies_in(inner: Stretch, outer: Stretch) -> bool {
    let from = outer.0.is_none_or(|bound| inner.0.is_some_and(|from| from >= bound));
    let to = outer.1.is_none_or(|bound| inner.1.is_some_and(|to| to <= bound));
    from && to
}

/// Cuts all serial numbers at the mentioned bounds: `from 2044` gives `to 2043` and `from 2044`.
pub(super) fn cut(mentioned: &[Stretch]) -> Vec<Stretch> {
    // Each number at which a stretch begins; the first begins nowhere.
    let mut begins: BTreeSet<u64> = BTreeSet::new();
    for (from, to) in mentioned {
        begins.extend(from.filter(|from| *from > 0));
        begins.extend(to.and_then(|to| to.checked_add(1)));
    }
    let begins: Vec<u64> = begins.into_iter().take(MOST_VALUES - 1).collect();
    let lower = std::iter::once(None).chain(begins.iter().copied().map(Some));
    let upper = begins.iter().map(|begin| Some(begin - 1)).chain(std::iter::once(None));
    lower.zip(upper).collect()
}

fn series_variable(model: &Model) -> Variable {
    let value = |name: &String| Value { words: Words::titled(name, name), span: model.span };
    Variable {
        words: Words::of("series"),
        values: model.series.iter().take(MOST_VALUES).map(value).collect(),
        normal: 0,
        kind: VariableKind::Series,
        span: model.span,
    }
}

fn serial_variable(model: &Model, stretches: &[Stretch]) -> Variable {
    let value = |stretch: &Stretch| {
        let said = said(*stretch);
        Value { words: Words::titled(&said, &said), span: model.span }
    };
    Variable {
        words: Words::of("serial"),
        values: stretches.iter().map(value).collect(),
        normal: 0,
        kind: VariableKind::Serial { stretches: stretches.to_vec() },
        span: model.span,
    }
}

fn said(stretch: Stretch) -> String {
    match stretch {
        (None, None) => "any".to_owned(),
        (Some(from), None) => format!("from {from}"),
        (None, Some(to)) => format!("to {to}"),
        (Some(from), Some(to)) if from == to => from.to_string(),
        (Some(from), Some(to)) => format!("{from} .. {to}"),
    }
}

#[cfg(test)]
mod tests {
    use super::cut;

    #[test]
    fn serial_numbers_are_cut_at_every_mentioned_bound() {
        let cuts = cut(&[(Some(2044), None), (Some(2050), Some(2059))]);
        let wanted = [
            (None, Some(2043)),
            (Some(2044), Some(2049)),
            (Some(2050), Some(2059)),
            (Some(2060), None),
        ];
        assert_eq!(cuts, wanted);
    }

    #[test]
    fn bounds_at_both_ends_of_all_numbers_cut_nothing() {
        assert_eq!(cut(&[(Some(0), Some(u64::MAX))]), [(None, None)]);
    }
}

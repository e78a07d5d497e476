//! Which unit a spelling means, once the kind that is wanted is known.

use crate::world::near::nearest;
use locknut_quantity::{KindId, UnitId, UnitProblem, Units};

/// The unit meant by `spelling`, with the word `gauge` or `absolute` where it is written.
///
/// One spelling may serve several kinds: °C is a temperature and a temperature difference. The kind
/// wanted decides; where none is wanted the point on the scale is meant, not the difference.
pub(crate) fn unit_meant(
    units: &Units,
    spelling: &str,
    qualifier: Option<&str>,
    wanted: Option<KindId>,
) -> Result<UnitId, UnitProblem> {
    let spelled = units.spelled(spelling);
    if spelled.is_empty() {
        return Err(UnitProblem::Unknown { near: nearest(spelling, all_spellings(units)) });
    }
    match qualifier {
        Some(word) => qualified(units, spelled, word, wanted),
        None => unqualified(units, spelled, wanted),
    }
}

fn qualified(
    units: &Units,
    spelled: &[UnitId],
    word: &str,
    wanted: Option<KindId>,
) -> Result<UnitId, UnitProblem> {
    let words = qualifiers(units, spelled);
    if words.is_empty() {
        return Err(UnitProblem::NoQualifier);
    }
    let said =
        |unit: &UnitId| units.kind(units.unit(*unit).kind).qualifier.as_deref() == Some(word);
    let Some(unit) = spelled.iter().copied().find(said) else {
        return Err(UnitProblem::NeedsQualifier { words });
    };
    let kind = units.unit(unit).kind;
    match wanted {
        None => Ok(unit),
        Some(wanted) if wanted == kind => Ok(unit),
        // A difference may say the word, though it needs none.
        Some(wanted) if wanted == units.difference_of(kind) => of_kind(units, spelled, wanted),
        Some(_) => Err(UnitProblem::WrongKind { found: vec![kind] }),
    }
}

fn unqualified(
    units: &Units,
    spelled: &[UnitId],
    wanted: Option<KindId>,
) -> Result<UnitId, UnitProblem> {
    if let Some(wanted) = wanted {
        let unit = of_kind(units, spelled, wanted)?;
        return match &units.kind(wanted).qualifier {
            Some(word) => {
                Err(UnitProblem::NeedsQualifier { words: wanted_first(units, spelled, word) })
            }
            None => Ok(unit),
        };
    }
    let kinds: Vec<KindId> = spelled.iter().map(|unit| units.unit(*unit).kind).collect();
    let is_difference = |kind: KindId| {
        kinds.iter().any(|other| *other != kind && units.difference_of(*other) == kind)
    };
    let free = |kind: KindId| units.kind(kind).qualifier.is_none() && !is_difference(kind);
    let meant = spelled.iter().zip(&kinds).find(|(_, kind)| free(**kind)).map(|(unit, _)| *unit);
    match meant {
        Some(unit) => Ok(unit),
        None => Err(UnitProblem::NeedsQualifier { words: qualifiers(units, spelled) }),
    }
}

fn of_kind(units: &Units, spelled: &[UnitId], wanted: KindId) -> Result<UnitId, UnitProblem> {
    let fitting = spelled.iter().copied().find(|unit| units.unit(*unit).kind == wanted);
    fitting.ok_or_else(|| UnitProblem::WrongKind {
        found: spelled.iter().map(|unit| units.unit(*unit).kind).collect(),
    })
}

fn qualifiers(units: &Units, spelled: &[UnitId]) -> Vec<String> {
    let words =
        spelled.iter().filter_map(|unit| units.kind(units.unit(*unit).kind).qualifier.clone());
    let mut words: Vec<String> = words.collect();
    words.sort_by(|a, b| b.cmp(a));
    words.dedup();
    words
}

fn wanted_first(units: &Units, spelled: &[UnitId], first: &str) -> Vec<String> {
    let others = qualifiers(units, spelled).into_iter().filter(|word| word != first);
    std::iter::once(first.to_owned()).chain(others).collect()
}

/// Every spelling of every unit but that of bare numbers.
pub(crate) fn all_spellings(units: &Units) -> impl Iterator<Item = &str> {
    units
        .units()
        .iter()
        .flat_map(|unit| std::iter::once(&unit.name).chain(&unit.spellings))
        .map(String::as_str)
        .filter(|spelling| !spelling.is_empty())
}

/// The unit of another kind that is spelled the same; else that kind's first unit.
pub(crate) fn like_unit(units: &Units, unit: UnitId, kind: KindId) -> UnitId {
    let spelled = units.spelled(&units.unit(unit).name);
    let same = spelled.iter().copied().find(|other| units.unit(*other).kind == kind);
    same.or_else(|| first_unit(units, kind)).unwrap_or(unit)
}

/// The first declared unit of a kind.
pub(crate) fn first_unit(units: &Units, kind: KindId) -> Option<UnitId> {
    let position = units.units().iter().position(|unit| unit.kind == kind)?;
    u16::try_from(position).ok().map(UnitId)
}

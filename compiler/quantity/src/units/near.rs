//! "Did you mean": the unit whose spelling is nearest to one that nobody knows.

use super::{KindId, Unit, Units};

/// Spellings longer than this are not compared: nobody mistypes a unit into them.
const LONGEST: usize = 24;

impl Units {
    /// The name of the unit whose spelling is nearest to another, where one is near enough to be
    /// meant; units of the wanted kind go before others that are equally near.
    ///
    /// Letters that only look alike on a keyboard count as equal: `NM`, `N m`, `kpa`, `μm`, `degc`.
    pub fn nearest(&self, spelling: &str, wanted: Option<KindId>) -> Option<String> {
        let typed = plain(spelling);
        let length = typed.chars().count();
        if length == 0 || length > LONGEST {
            return None;
        }
        let reach = if length > 4 { 2 } else { 1 };
        let candidates = self.all.iter().filter(|unit| !unit.name.is_empty());
        let ranked = candidates.filter_map(|unit| {
            let distance = distance(&typed, unit).filter(|far| *far <= reach && *far < length)?;
            let elsewhere = wanted.is_some_and(|wanted| wanted != self.shared_kind(unit, wanted));
            Some((distance, elsewhere, &unit.name))
        });
        ranked.min().map(|(.., name)| name.clone())
    }

    /// `wanted`, where the unit can be read as it; else the unit's own kind.
    fn shared_kind(&self, unit: &Unit, wanted: KindId) -> KindId {
        if self.difference_of(wanted) == unit.kind { wanted } else { unit.kind }
    }
}

fn distance(typed: &str, unit: &Unit) -> Option<usize> {
    let spellings = std::iter::once(&unit.name).chain(&unit.spellings);
    let near = |spelling: &String| strsim::damerau_levenshtein(typed, &plain(spelling));
    spellings.map(near).min()
}

/// A spelling without what a keyboard or a habit changes: case, signs between letters, raised
/// figures, Greek letters.
fn plain(spelling: &str) -> String {
    let mut plain = String::new();
    for sign in spelling.chars().take(LONGEST + 1).flat_map(char::to_lowercase) {
        match sign {
            '·' | '.' | '*' | '-' | '^' | ' ' | '_' | '⋅' | '×' => {}
            '²' => plain.push('2'),
            '³' => plain.push('3'),
            'µ' | 'μ' => plain.push('u'),
            '°' | 'º' => plain.push_str("deg"),
            'ω' | 'Ω' => plain.push_str("ohm"),
            other => plain.push(other),
        }
    }
    plain
}

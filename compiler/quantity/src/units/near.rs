//! "Did you mean": the unit whose spelling is nearest to one that nobody knows.

use super::{KindId, Unit, Units};

/// Spellings longer than this are not compared: nobody mistypes a unit into them.
const LONGEST: usize = 24;

impl Units {
    /// The name of the unit whose spelling is nearest to another, where one is near enough to be
    /// meant. Of equally near ones those of the wanted kind go first, then those that begin and end
    /// alike (`lbft` is `lbf·ft` and not `lbf`).
    ///
    /// Letters that only look alike on a keyboard count as equal: `NM`, `N m`, `kpa`, `μm`, `degc`.
    pub fn nearest(&self, spelling: &str, wanted: Option<KindId>) -> Option<String> {
        let typed = plain(spelling);
        let length = typed.chars().count();
        if length == 0 || length > LONGEST {
            return None;
        }
        let reach = if length > 4 { 2 } else { 1 };
        let candidates = self.all.iter().flat_map(|unit| {
            let spellings = std::iter::once(&unit.name).chain(&unit.spellings);
            spellings.map(move |spelling| (unit, plain(spelling)))
        });
        let near = candidates.filter_map(|(unit, spelling)| {
            let far = strsim::damerau_levenshtein(&typed, &spelling);
            let elsewhere = wanted.is_some_and(|wanted| !self.may_be(unit, wanted));
            let rank = (far, elsewhere, !framed_alike(&typed, &spelling), &unit.name);
            Some(rank).filter(|_| far <= reach && far < length)
        });
        near.min().map(|(.., name)| name.clone())
    }

    /// Whether a unit can be read as a kind: its own, or one that takes the units of its difference.
    fn may_be(&self, unit: &Unit, kind: KindId) -> bool {
        unit.kind == kind || self.difference_of(kind) == unit.kind
    }
}

fn framed_alike(a: &str, b: &str) -> bool {
    a.chars().next() == b.chars().next() && a.chars().next_back() == b.chars().next_back()
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
            'ω' => plain.push_str("ohm"),
            other => plain.push(other),
        }
    }
    plain
}

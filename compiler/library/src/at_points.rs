//! What is wrong with an assembly, or with what stands at several points, is wrong at each of them: that is told once.

use locknut_finding::{Report, Span};
use locknut_meaning::World;
use std::collections::{BTreeMap, BTreeSet};

/// Code, title without its point, and places.
type Key = (&'static str, String, Vec<Span>);

/// Of findings that say the same of several points one is kept. It names them, but where they are all that there are, or
/// where it is so without any point, too. What is found on a way was told once already.
pub(crate) fn once_for_all_points(reports: Vec<Report>, world: &World) -> Vec<Report> {
    let models = || world.models.values();
    let sets: BTreeSet<&Vec<String>> =
        models().flat_map(|model| model.points.values().chain(model.placed.values())).collect();
    let points: BTreeSet<&str> = sets.iter().copied().flatten().map(String::as_str).collect();
    let mut of: BTreeMap<Key, BTreeSet<Option<&str>>> = BTreeMap::new();
    for report in reports.iter().filter(|report| report.path.is_empty()) {
        if let Some((key, point)) = key(report, &points) {
            of.entry(key).or_default().insert(point);
        }
    }
    let mut told = BTreeSet::new();
    let mut kept = Vec::new();
    for mut report in reports {
        let known = Some(()).filter(|()| report.path.is_empty());
        let Some((key, own)) = known.and_then(|()| key(&report, &points)) else {
            kept.push(report);
            continue;
        };
        let at = of.get(&key).cloned().unwrap_or_default();
        let plain = at.contains(&None);
        let named: Vec<String> = at.into_iter().flatten().map(str::to_owned).collect();
        let (Some(point), true) = (own, plain || named.len() > 1) else {
            kept.push(report);
            continue;
        };
        if plain || !told.insert(key) {
            continue;
        }
        let all = sets
            .iter()
            .any(|set| set.len() == named.len() && named.iter().all(|one| set.contains(one)));
        let words = if all { String::new() } else { format!(" at {}", named.join(" and at ")) };
        say_instead(&mut report, point, &words);
        kept.push(report);
    }
    kept
}

/// What a finding says but for the one point that it names, and that point.
fn key<'p>(report: &Report, points: &BTreeSet<&'p str>) -> Option<(Key, Option<&'p str>)> {
    let words: Vec<&str> = report.title.split(|sign: char| !is_of_name(sign)).collect();
    let behind_at = words.windows(2).filter_map(|pair| match pair {
        ["at", point] => points.iter().copied().find(|known| known == point),
        _ => None,
    });
    let named: BTreeSet<&str> = behind_at.collect();
    if named.len() > 1 {
        return None;
    }
    let point = named.first().copied();
    let title = point.map_or(report.title.clone(), |point| without(&report.title, point, ""));
    let places = report.labels.iter().map(|label| label.span).collect();
    Some(((report.code, title, places), point))
}

fn is_of_name(sign: char) -> bool {
    sign.is_alphanumeric() || sign == '-'
}

/// ` at left` wherever it ends as a word, said otherwise.
fn without(text: &str, point: &str, words: &str) -> String {
    let written = format!(" at {point}");
    let mut said = String::new();
    let mut left = text;
    while let Some(at) = left.find(&written) {
        let (ahead, rest) = (left.get(..at).unwrap_or_default(), left.get(at + written.len()..));
        let rest = rest.unwrap_or_default();
        let whole = !rest.starts_with(is_of_name);
        said.push_str(ahead);
        said.push_str(if whole { words } else { &written });
        left = rest;
    }
    said.push_str(left);
    said
}

fn say_instead(report: &mut Report, point: &str, words: &str) {
    let again = |text: &str| without(text, point, words);
    report.title = again(&report.title);
    for label in &mut report.labels {
        label.text = again(&label.text);
    }
    report.consequence = report.consequence.as_deref().map(again);
    for note in &mut report.notes {
        *note = again(note);
    }
}

#[cfg(test)]
mod tests {
    use super::without;

    #[test]
    fn a_point_is_a_whole_word() {
        assert_eq!(without("the belt at left is off", "left", ""), "the belt is off");
        assert_eq!(
            without("the belt at left-hand is off", "left", ""),
            "the belt at left-hand is off"
        );
        assert_eq!(
            without("a at left, b at left", "left", " at l and at r"),
            "a at l and at r, b at l and at r"
        );
    }
}

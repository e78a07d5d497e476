//! The tables among the choices: rows that their author gives, with gaps and overlaps that the compiler must find.

use super::{Random, by_proof, by_terminal, check, chosen, codes, document, stock, written};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// A table that an author gives, compared at every reading.
pub(crate) fn compared_table(random: &mut Random) -> Value {
    let table = table(random);
    let at = |gap: i64| table.rows.iter().filter(move |row| row.covers(gap));
    let best: Vec<(i64, Option<Vec<i64>>)> =
        table.readings().map(|gap| (gap, at(gap).next().map(|row| vec![row.part]))).collect();
    let open = best.iter().any(|(_, best)| best.is_none());
    let doubled = table.readings().any(|gap| at(gap).count() > 1);
    let dead = table.rows.iter().any(|row| !table.readings().any(|gap| row.covers(gap)));
    for otherwise in [false, true] {
        let source = table.source(otherwise);
        let found: BTreeSet<String> =
            codes(&check(&source)).iter().map(|code| (*code).to_owned()).collect();
        // Of sizes at random one often looks as if its digits had slipped: that is asked, and no fault.
        let found: BTreeSet<String> = found.into_iter().filter(|code| code != "LN349").collect();
        let mut ends = table.rows.iter().flat_map(|row| [row.over, row.to]).flatten();
        let between = ends.any(|end| end % table.step != 0);
        let wanted = [
            (open && !otherwise, "LN305"),
            (doubled, "LN306"),
            (dead, "LN310"),
            (between, "LN304"),
        ];
        let wanted = wanted.iter().filter(|(so, _)| *so).map(|(_, code)| (*code).to_owned());
        assert_eq!(found, wanted.collect(), "{source}");
    }
    if doubled {
        return json!({});
    }
    let source = table.source(true);
    let checked = check(&source);
    let one = checked.procedures.first().expect("compiled");
    let (node, choice) = chosen(&one.graph);
    by_proof(&source, choice, one.facts.choices.get(&node).expect("one reading decides"), &best);
    let case = |(gap, best): &(i64, Option<Vec<i64>>)| {
        let (text, wanted) = (
            written(*gap),
            best.iter().flatten().map(|size| format!("{} mm S-{size}", written(*size))),
        );
        let wanted: Vec<String> = wanted.collect();
        assert_eq!(
            by_terminal(&one.graph, &checked.world.units, &text),
            wanted,
            "{source}\nat {text}"
        );
        json!([text, wanted])
    };
    let cases: Vec<Value> = best.iter().map(case).collect();
    json!({ "graph": document(&checked), "node": node.index(), "cases": cases })
}

/// A row of a table: over `over`, up to `to`.
struct Row {
    over: Option<i64>,
    to: Option<i64>,
    part: i64,
}

impl Row {
    fn covers(&self, gap: i64) -> bool {
        self.over.is_none_or(|over| gap > over) && self.to.is_none_or(|to| gap <= to)
    }

    fn written(&self) -> String {
        let limit = match (self.over, self.to) {
            (Some(over), Some(to)) => format!("over {} to {} mm", written(over), written(to)),
            (Some(over), None) => format!("over {} mm", written(over)),
            (None, Some(to)) => format!("at most {} mm", written(to)),
            (None, None) => "at least 0 mm".to_owned(),
        };
        format!("      {limit} -> {} mm\n", written(self.part))
    }
}

struct Table {
    rows: Vec<Row>,
    sizes: Vec<i64>,
    first: i64,
    last: i64,
    step: i64,
}

impl Table {
    fn readings(&self) -> impl Iterator<Item = i64> {
        (self.first..=self.last).step_by(usize::try_from(self.step).unwrap_or(1))
    }

    fn source(&self, otherwise: bool) -> String {
        let rows: String = self.rows.iter().map(Row::written).collect();
        let (stock, from) = stock(&self.sizes, true);
        let otherwise = if otherwise { " otherwise refer to \"The workshop\"" } else { "" };
        format!(
            "instrument gauge {{ measures length 0 .. 100 mm, resolution {step} mm, error 0.05 mm }}
{stock}
model bench {{
  title \"Bench\"
}}
procedure choose-it on bench {{
  title \"Choose it\"
  step \"Choose it.\" {{
    measure gap using gauge, expect {first} .. {last} mm
    choose size by gap from {from} {{
{rows}    }}{otherwise}
  }}
}}
",
            step = written(self.step),
            first = written(self.first),
            last = written(self.last),
        )
    }
}

/// Rows that follow one another; of some tables one end is moved, so that rows overlap or leave a gap.
fn table(random: &mut Random) -> Table {
    let step = random.one_of(&[1, 2, 5, 10]);
    let first = step * (1 + random.below(20));
    let last = first + step * (1 + random.below(40));
    let sizes: Vec<i64> = (1..=1 + random.below(4)).map(|size| 25 * size).collect();
    let mut cuts: Vec<i64> =
        (0..random.below(4)).map(|_| first - 3 + random.below(last - first + 10)).collect();
    cuts.sort_unstable();
    cuts.dedup();
    let ends = |cuts: &[i64]| -> Vec<Option<i64>> {
        [None].into_iter().chain(cuts.iter().copied().map(Some)).chain([None]).collect()
    };
    let ends = ends(&cuts);
    let mut rows: Vec<Row> = ends
        .iter()
        .zip(ends.iter().skip(1))
        .map(|(over, to)| Row { over: *over, to: *to, part: random.one_of(&sizes) })
        .collect();
    let moved = usize::try_from(random.below(6)).unwrap_or(0);
    if let Some(Row { over: Some(over), to, .. }) = rows.get_mut(moved) {
        let by = random.below(2 * step + 3) - step - 1;
        // An end does not go beyond the other.
        *over = to.map_or(*over + by, |to| (*over + by).min(to - 1)).max(0);
    }
    Table { rows, sizes, first, last, step }
}

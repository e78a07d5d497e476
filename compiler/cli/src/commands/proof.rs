//! What was proved, in one line and in full.

use super::check::Show;
use super::sums;
use crate::files::Library;
use locknut_finding::data::{Held, Proof};
use locknut_finding::{Label, Sources, Span};
use locknut_library::{Compiled, Proved};
use locknut_proof::{Ways, assumptions, obligations};
use locknut_quantity::{Exact, grouped, to_decimal};
use num_bigint::BigUint;
use num_traits::{One, Zero};
use serde_json::{Value, json};

/// Says in one line what was proved of a procedure.
pub(crate) fn line(procedure: &Proved) -> String {
    let covered = &procedure.covered;
    let mut line = format!("{}: ", procedure.name);
    match &procedure.ways {
        Some(ways) => line.push_str(&ways_in_words(ways)),
        None => line.push_str("holds on every way"),
    }
    let rest = [
        counted(covered.obligations, "obligation", "obligations"),
        counted(covered.interlocks, "interlock", "interlocks"),
        counted(covered.ends, "end", "ends"),
    ];
    line.extend(["; ", &rest.join(", ")]);
    if let Some(Ways { acts: (least, most), .. }) = &procedure.ways {
        let acts = |count: usize| grouped(&count.to_string());
        line.extend(["; ", &span(&acts(*least), &acts(*most)), " acts"]);
    }
    if let Some((least, _, most)) = &procedure.time.elapsed {
        let minutes =
            |seconds: &Exact| to_decimal(&(seconds / Exact::from_integer(60.into())).ceil(), 0);
        let (least, most) = (grouped(&minutes(least)), grouped(&minutes(most)));
        line.extend([", ", &span(&least, &most), " min on the plain way"]);
    }
    line.push('\n');
    line
}

fn ways_in_words(ways: &Ways) -> String {
    let mut words = if ways.ways.is_one() {
        "holds on its one way".to_owned()
    } else {
        format!("holds on all {} ways", large(&ways.ways))
    };
    if !ways.orders.is_one() {
        let each = if ways.ways.is_one() { ", in up to " } else { ", each in up to " };
        words.extend([each, &large(&ways.orders), " orders"]);
    }
    words
}

/// `36`, `2.7 × 10^32`
fn large(count: &BigUint) -> String {
    let digits = count.to_string();
    let (Some(first), Some(second), true) = (digits.get(..1), digits.get(1..2), digits.len() > 7)
    else {
        return grouped(&digits);
    };
    format!("{first}.{second} × 10^{}", digits.len() - 1)
}

fn span(least: &str, most: &str) -> String {
    if least == most { least.to_owned() } else { format!("{least} to {most}") }
}

/// `1 end`, `12 000 ends`
pub(crate) fn counted(count: usize, one: &str, more: &str) -> String {
    let said = grouped(&count.to_string());
    format!("{said} {}", if count == 1 { one } else { more })
}

/// Every obligation with where it is tested, and the assumptions, for a person.
pub(crate) fn in_full(procedure: &Compiled, sources: &Sources) -> String {
    let mut text = String::new();
    for held in held(procedure) {
        say(&mut text, &format!("  {}  {}", held.code, held.asked.text));
        say(&mut text, &format!("         asked at {}", place(held.asked.span, sources)));
        let tested: Vec<&str> = held.tested.iter().map(|label| label.text.as_str()).collect();
        let tested = match tested.as_slice() {
            [] => "nothing in this job touches it".to_owned(),
            some => format!("tested at {}", runs(some)),
        };
        say(&mut text, &format!("         {tested}"));
    }
    text.push_str("  Taken for granted:\n");
    text.push_str("    the machine is as its model says, and nobody but the crew works at it\n");
    for assumed in assumed(procedure) {
        say(&mut text, &format!("    {} ({})", assumed.text, place(assumed.span, sources)));
    }
    for (code, because, _) in &procedure.graph.answered {
        say(&mut text, &format!("    {code} is answered: {}", because.written()));
    }
    let time = &procedure.facts.time;
    if !time.mean.is_zero() {
        let minutes = |seconds: &Exact| to_decimal(&(seconds / Exact::from_integer(60.into())), 1);
        say(
            &mut text,
            &format!(
                "  Time: {} min on the mean, standard deviation {} min; the fewest people: {}",
                minutes(&time.mean),
                deviation(&time.variance),
                time.least_crew
            ),
        );
        if let Some((_, likely, _)) = &time.elapsed {
            if !time.anyone.is_zero() {
                say(&mut text, &format!("    anyone: {} min at work", minutes(&time.anyone)));
            }
            for (who, work) in &time.work {
                say(
                    &mut text,
                    &format!(
                        "    {}: {} min at work, {} min free",
                        who.said,
                        minutes(work),
                        minutes(&(likely - work))
                    ),
                );
            }
        }
    }
    text
}

fn say(text: &mut String, line: &str) {
    text.extend([line, "\n"]);
}

/// The standard deviation in minutes.
#[expect(clippy::float_arithmetic, reason = "for a person to read; nothing is judged by it")]
fn deviation(variance: &Exact) -> String {
    let of = num_traits::ToPrimitive::to_f64(variance).unwrap_or_default();
    format!("{:.1}", of.sqrt() / 60.0)
}

/// `step 4, step 5 (3 times)`
fn runs(labels: &[&str]) -> String {
    let mut told: Vec<(&str, usize)> = Vec::new();
    for label in labels {
        match told.last_mut() {
            Some((last, times)) if last == label => *times += 1,
            _ => told.push((label, 1)),
        }
    }
    let told: Vec<String> = told
        .into_iter()
        .map(
            |(label, times)| {
                if times == 1 { label.to_owned() } else { format!("{label} ({times} times)") }
            },
        )
        .collect();
    told.join(", ")
}

fn place(span: Span, sources: &Sources) -> String {
    let (line, _) = sources.line_and_column(span);
    format!("{}:{line}", sources.name(span.file))
}

fn held(procedure: &Compiled) -> Vec<Held> {
    let graph = &procedure.graph;
    let tested = |(span, step): (Span, Option<locknut_graph::StepId>)| {
        let text = step.map_or_else(
            || "the end".to_owned(),
            |step| format!("step {}", graph.step(step).number),
        );
        Label { span, text }
    };
    obligations(graph)
        .into_iter()
        .map(|one| Held {
            code: one.code,
            asked: Label { span: one.asked, text: one.what },
            tested: one.tested.into_iter().map(tested).collect(),
        })
        .collect()
}

fn assumed(procedure: &Compiled) -> Vec<Label> {
    let all = assumptions(&procedure.graph).into_iter();
    all.map(|one| Label { span: one.said, text: one.what }).collect()
}

/// The same for a program; each obligation, and each calculation, only where that is asked for.
pub(crate) fn data(library: &Library, show: Option<Show>) -> Vec<Proof> {
    let whole =
        |of: &Proved, what| library.checked.procedure(&of.name).filter(|_| show == Some(what));
    let proved = library.proved();
    proved
        .map(|procedure| Proof {
            procedure: procedure.name.clone(),
            figures: figures(procedure),
            held: whole(procedure, Show::Proof).map(held).unwrap_or_default(),
            assumed: whole(procedure, Show::Proof).map(assumed).unwrap_or_default(),
            sums: whole(procedure, Show::Sums).map(sums::data).unwrap_or_default(),
        })
        .collect()
}

fn figures(procedure: &Proved) -> Vec<(&'static str, Value)> {
    let covered = &procedure.covered;
    let time = &procedure.time;
    let seconds = |exact: &Exact| to_decimal(exact, 0);
    let mut figures = vec![
        ("held", json!(covered.obligations)),
        ("interlocks", json!(covered.interlocks)),
        ("acts", json!(covered.acts)),
        ("ends", json!(covered.ends)),
        ("fewestPeople", json!(time.least_crew)),
    ];
    if !procedure.not_judged.is_empty() {
        figures.push(("notJudged", json!(procedure.not_judged)));
    }
    if let Some(Ways { ways, orders, acts: (least, most) }) = &procedure.ways {
        figures.extend([
            ("ways", json!(ways.to_string())),
            ("orders", json!(orders.to_string())),
            ("shortestActs", json!(least)),
            ("longestActs", json!(most)),
        ]);
    }
    if let Some((least, likely, most)) = &time.elapsed {
        figures.extend([
            ("shortestSeconds", json!(seconds(least))),
            ("likelySeconds", json!(seconds(likely))),
            ("longestSeconds", json!(seconds(most))),
            ("meanSeconds", json!(seconds(&time.mean))),
        ]);
    }
    figures
}

#[cfg(test)]
mod tests {
    use super::{counted, large};
    use num_bigint::BigUint;

    #[test]
    fn counts_are_told_of_one_and_of_many_in_groups_of_three() {
        let said = |count| counted(count, "procedure", "procedures").replace('\u{a0}', " ");
        assert_eq!(said(1), "1 procedure");
        assert_eq!(said(6), "6 procedures");
        assert_eq!(said(12_345), "12 345 procedures");
        let ways = |count: u32| large(&BigUint::from(count)).replace('\u{a0}', " ");
        assert_eq!(
            [ways(9_999), ways(1_234_567), ways(12_345_678)],
            ["9999", "1 234 567", "1.2 × 10^7"]
        );
    }
}

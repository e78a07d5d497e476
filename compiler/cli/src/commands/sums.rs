//! Calculations of a procedure, for a person and for a program.

use locknut_finding::{Label, Sources};
use locknut_library::Compiled;
use locknut_proof::sums::{Figure, Given, Judged, Outcome, Sum, Worked};
use serde_json::{Value, json};

/// Whoever reckons again with the printed figures comes to a digit more or less at the end.
const UNROUNDED: &str = "    every line is reckoned with unrounded figures; ≈ stands before what is rounded to be shown";

/// Every calculation of a procedure, for a person.
pub(crate) fn in_full(procedure: &Compiled, sources: &Sources) -> String {
    procedure.facts.sums.iter().map(|sum| in_words(sum, procedure, sources)).collect()
}

fn in_words(sum: &Sum, procedure: &Compiled, sources: &Sources) -> String {
    let (line, _) = sources.line_and_column(sum.span);
    let place = format!("{}:{line}", sources.name(sum.span.file));
    let mut lines = vec![format!("  {}: {} ({place})", steps(sum), sum.what)];
    lines.extend(sum.given.iter().map(given));
    lines.extend(sum.worked.iter().flat_map(worked));
    if sum.worked.iter().any(|one| one.figure.rounded && !one.numbers.is_empty()) {
        lines.push(UNROUNDED.to_owned());
    }
    lines.extend(sum.judged.iter().map(|one| judged(one, sum, procedure)));
    lines.push(String::new());
    lines.join("\n")
}

fn given(given: &Given) -> String {
    let Given { symbol, what, figure, source } = given;
    format!("    given   {symbol} = {}   {what} [{source}]", figure.said())
}

fn worked(worked: &Worked) -> Vec<String> {
    let Worked { symbol, what, formula, numbers, figure, source } = worked;
    let sign = if figure.rounded { "≈" } else { "=" };
    let mut lines = vec![format!("    {what} [{source}]"), format!("      {symbol} = {formula}")];
    if !numbers.is_empty() {
        lines.push(format!("      {symbol} = {numbers}"));
    }
    lines.push(format!("      {symbol} {sign} {}", figure.said()));
    lines
}

fn judged(judged: &Judged, sum: &Sum, procedure: &Compiled) -> String {
    let mark = match judged.outcome {
        Outcome::Holds => "holds",
        Outcome::Fails => "FAILS",
        Outcome::Open => "not judged",
    };
    let line = format!("    {mark}: {}", judged.text);
    let Some(code) = judged.code.filter(|_| judged.outcome == Outcome::Fails) else { return line };
    match answer(judged, sum, procedure) {
        Some(why) => format!("{line} ({code}); answered: {why}"),
        None => format!("{line} ({code})"),
    }
}

fn steps(sum: &Sum) -> String {
    let word = if sum.steps.len() == 1 { "step" } else { "steps" };
    format!("{word} {}", sum.steps.join(", "))
}

/// The author's reason, where what fails was answered where it stands.
fn answer(judged: &Judged, sum: &Sum, procedure: &Compiled) -> Option<String> {
    let answered = procedure.graph.answered.iter().find(|(code, _, at)| {
        Some(code.as_str()) == judged.code
            && at.file == sum.span.file
            && at.start <= sum.span.start
            && sum.span.end <= at.end
    });
    answered.map(|(_, why, _)| why.written())
}

/// The same for a program, each with its place.
pub(crate) fn data(procedure: &Compiled) -> Vec<(Label, Value)> {
    let one = |sum: &Sum| (Label { span: sum.span, text: sum.what.clone() }, whole(sum, procedure));
    procedure.facts.sums.iter().map(one).collect()
}

fn whole(sum: &Sum, procedure: &Compiled) -> Value {
    let given = sum.given.iter().map(|given| {
        json!({
            "symbol": given.symbol,
            "what": given.what,
            "figure": figure(&given.figure),
            "source": given.source,
        })
    });
    let worked = sum.worked.iter().map(|worked| {
        json!({
            "symbol": worked.symbol,
            "what": worked.what,
            "formula": worked.formula,
            "numbers": worked.numbers,
            "figure": figure(&worked.figure),
            "source": worked.source,
        })
    });
    let judged = sum.judged.iter().map(|judged| {
        let outcome = match judged.outcome {
            Outcome::Holds => "holds",
            Outcome::Fails => "fails",
            Outcome::Open => "not judged",
        };
        json!({
            "outcome": outcome,
            "code": judged.code,
            "text": judged.text,
            "answered": answer(judged, sum, procedure),
        })
    });
    json!({
        "what": sum.what,
        "steps": sum.steps,
        "given": given.collect::<Vec<_>>(),
        "worked": worked.collect::<Vec<_>>(),
        "judged": judged.collect::<Vec<_>>(),
    })
}

/// Numbers stay texts: they are exact decimals, or bounds rounded away from each other.
fn figure(figure: &Figure) -> Value {
    json!({ "numbers": figure.numbers, "unit": figure.unit, "rounded": figure.rounded })
}

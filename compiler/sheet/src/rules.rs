//! Expressions as a line that a fitter can work: "greatest gap less smallest gap".

use crate::words::Speaker;
use locknut_graph::{Expression, Fold, Operator, Words};

/// `spread = greatest of gap − smallest of gap`
pub(crate) fn rule(speak: Speaker<'_>, result: &Words, value: &Expression) -> String {
    let name = speak.phrases.name(result);
    format!("{name} = {}", worded(speak, value, false))
}

pub(crate) fn worded(speak: Speaker<'_>, value: &Expression, inner: bool) -> String {
    match value {
        Expression::Value(quantity) => speak.quantity(quantity),
        Expression::Reading(reading) => speak.phrases.name(&speak.graph.reading(*reading).words),
        Expression::Point(reading, point) => {
            let reading = speak.graph.reading(*reading);
            let point = reading.points.get(*point).map(|words| speak.phrases.name(words));
            format!("{} ({})", speak.phrases.name(&reading.words), point.unwrap_or_default())
        }
        Expression::LookUp(table, _, of) => {
            format!("{} ({})", speak.phrases.name(&table.words), worded(speak, of, false))
        }
        Expression::Negative(of) => format!("\u{2212}{}", worded(speak, of, true)),
        Expression::Binary(operator, left, right) => {
            let sign = match operator {
                Operator::Add => "+",
                Operator::Subtract => "\u{2212}",
                Operator::Multiply => "×",
                Operator::Divide => "÷",
            };
            let text =
                format!("{} {sign} {}", worded(speak, left, true), worded(speak, right, true));
            if inner { format!("({text})") } else { text }
        }
        Expression::Fold(fold, parts) => {
            let of = speak
                .all_of(&parts.iter().map(|part| worded(speak, part, false)).collect::<Vec<_>>());
            let key = match fold {
                Fold::Max => "fold-max",
                Fold::Min => "fold-min",
                Fold::Mean => "fold-mean",
                Fold::Spread => "fold-spread",
                Fold::Sum => "fold-sum",
                Fold::Count => "fold-count",
                Fold::Abs => "fold-abs",
            };
            speak.say(key, &[("of", of)])
        }
    }
}

//! The title block.

use crate::sheet::Head;
use crate::words::Speaker;
use locknut_finding::Span;
use locknut_graph::Applies;

pub(crate) fn head(speak: Speaker<'_>) -> Head {
    let heading = &speak.graph.heading;
    Head {
        name: heading.name.clone(),
        publisher: heading.publisher.clone(),
        title: speak.prose(&heading.title),
        model: speak.prose(&heading.model),
        revision: heading.revision.as_ref().map(|(letter, date)| {
            let date = date.as_ref().map(|date| speak.date(date));
            match date {
                Some(date) => {
                    speak.say("revision-of", &[("letter", letter.clone()), ("date", date)])
                }
                None => speak.say("revision", &[("letter", letter.clone())]),
            }
        }),
        replaces: heading.replaces.as_ref().map(|(letter, because)| {
            (speak.say("replaces", &[("letter", letter.clone())]), speak.prose(because))
        }),
        purpose: heading
            .purpose
            .as_ref()
            .map(|purpose| speak.phrases.author(purpose, Span::default())),
        applies: heading.applies.iter().map(|applies| applies_words(speak, applies)).collect(),
    }
}

fn applies_words(speak: Speaker<'_>, applies: &Applies) -> String {
    match applies {
        Applies::Series(series) => {
            Speaker::sentence(&speak.say("condition-series", &[("series", speak.all_of(series))]))
        }
        Applies::Serial(from, to) => Speaker::sentence(&serial_words(speak, *from, *to)),
    }
}

/// `serial numbers from 2044`, `… up to 2043`, `… 2044 to 2100`
pub(crate) fn serial_words(speak: Speaker<'_>, from: Option<u64>, to: Option<u64>) -> String {
    let number = |number: u64| number.to_string();
    match (from, to) {
        (Some(from), Some(to)) => {
            speak.say("serial-range", &[("from", number(from)), ("to", number(to))])
        }
        (Some(from), None) => speak.say("serial-from", &[("from", number(from))]),
        (None, Some(to)) => speak.say("serial-to", &[("to", number(to))]),
        (None, None) => speak.phrases.label("serial-any"),
    }
}

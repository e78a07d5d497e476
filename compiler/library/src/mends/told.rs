//! What is told of a change: what to do, and where.

use super::one_by_one;
use locknut_finding::{Change, Span};

/// What is done, told from where the fault stands.
pub(super) fn words(change: &Change, fault: Span, text: &str) -> String {
    let place = |of: &Span| {
        if of.start == fault.start {
            "this line".to_owned()
        } else {
            let of_it = text.get(of.range()).unwrap_or_default();
            let what = if of_it.starts_with("step") {
                "the step in line"
            } else if of_it.contains('\n') {
                "the block in line"
            } else {
                "line"
            };
            format!("{what} {}", line(text, *of))
        }
    };
    match change {
        Change::Ahead(of, line) => format!("write `{line}` ahead of {}", place(of)),
        Change::Behind(of, line) => format!("write `{line}` behind {}", place(of)),
        Change::Last(_, line) => format!("write `{line}` at the end"),
        Change::MoveAhead(what, of) => format!("move {} ahead of {}", place(what), place(of)),
        Change::MoveBehind(what, of) => format!("move {} behind {}", place(what), place(of)),
        Change::Away(what) => format!("take {} away: it is so already", place(what)),
        Change::Put(at, what) => {
            let old = text.get(at.range()).unwrap_or_default();
            if old.is_empty() && at.start == fault.start {
                format!("write `{}` ahead of it", what.trim())
            } else if old.is_empty() {
                let rest = text.get(at.range().start..).unwrap_or_default();
                let of = rest.split_whitespace().next().unwrap_or_default();
                let line = line(text, *at);
                format!("write `{}` ahead of `{of}` in line {line}", what.trim())
            } else {
                format!("write `{what}` instead of `{old}`")
            }
        }
        Change::Bind(block) if one_by_one::is_together(*block, text) => format!(
            "do one after the other what {} has side by side: as they are written, they can be done",
            place(block)
        ),
        Change::Bind(block) => format!(
            "take `any order` away in {}: as they are written, they can be done",
            place(block)
        ),
    }
}

fn line(text: &str, of: Span) -> usize {
    text.get(..of.range().start).unwrap_or_default().matches('\n').count() + 1
}

//! DOT.

use crate::rows::{Row, Target, rows};
use locknut_graph::StepGraph;
use std::fmt::Write as _;

/// The steps as a DOT graph: boxes in written order, exits to their ends, repeats drawn back.
pub fn dot(graph: &StepGraph) -> String {
    let mut text = String::new();
    // INVARIANT: writing to a String cannot fail, so the results of `write!` carry nothing.
    let mut line = |content: String| {
        text.push_str(&content);
        text.push('\n');
    };
    line(format!("digraph {} {{", quoted(&graph.heading.name)));
    line("  rankdir=TB; node [shape=box, style=rounded, fontname=\"sans-serif\"];".into());
    let mut last: Option<String> = None;
    let mut ends = 0;
    let mut depth = 0;
    for row in rows(graph) {
        match row {
            Row::Section(title) => line(format!("  // {}", title.replace(['\n', '\r'], " "))),
            Row::Open(title) => {
                depth += 1;
                line(format!(
                    "  subgraph cluster_{depth}_{ends} {{ label={}; style=dashed;",
                    quoted(&title)
                ));
                ends += 1;
            }
            Row::Close => line("  }".into()),
            Row::Step { step, number, text, exits } => {
                let id = format!("step{}", step.0);
                line(format!("  {id} [label={}];", quoted(&format!("{number}  {text}"))));
                if let Some(before) = last.replace(id.clone()) {
                    line(format!("  {before} -> {id};"));
                }
                for exit in exits {
                    ends += 1;
                    line(exit_line(&id, ends, &exit.when, &exit.to));
                }
            }
        }
    }
    if let Some(before) = last {
        line("  done [label=\"done\", shape=doublecircle];".into());
        line(format!("  {before} -> done;"));
    }
    line("}".into());
    text
}

fn exit_line(from: &str, number: usize, when: &str, to: &Target) -> String {
    let mut line = String::new();
    let label = quoted(when);
    let written = match to {
        Target::Again { step, times } => write!(
            line,
            "  {from} -> step{} [style=dashed, constraint=false, label={}];",
            step.0,
            quoted(&format!("{when}: repeat, up to {times} times"))
        ),
        Target::Stop(text) => write!(
            line,
            "  end{number} [shape=octagon, label={}]; {from} -> end{number} [label={label}];",
            quoted(&format!("stop: {text}"))
        ),
        Target::Refer(to) => write!(
            line,
            "  end{number} [shape=octagon, label={}]; {from} -> end{number} [label={label}];",
            quoted(&format!("refer to {to}"))
        ),
        Target::Done => write!(line, "  {from} -> done [label={label}];"),
    };
    // INVARIANT: writing to a String cannot fail.
    debug_assert!(written.is_ok(), "a String takes whatever is written");
    line
}

fn quoted(text: &str) -> String {
    let escaped: String = text
        .chars()
        .map(|sign| match sign {
            '"' => "\\\"".to_owned(),
            '\\' => "\\\\".to_owned(),
            '\n' | '\r' => "\\n".to_owned(),
            other => other.to_string(),
        })
        .collect();
    format!("\"{escaped}\"")
}

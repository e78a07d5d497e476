//! One layout for sources; comments and the authors' own columns are kept.
//!
//! Line by line: two blanks a block, continued lines deeper than their statement, no blanks at a line's
//! end, at most one empty line in a row and none at the edges of a block, one line end at the end.

use crate::comments::comment_start;
use locknut_finding::{FileId, Findings};

/// Words that go on with the line before.
const GOES_ON: &[&str] = &[
    "with", "using", "by", "at", "expect", "proves", "makes", "needs", "takes", "prefer", "from",
    "since", "until", "while", "unless", "because", "so", "where", "noting", "failing", "on", "in",
    "is", "to", "of", "each", "and", "or", "then", "per", "usually", "answers", "despite",
    "proved", "turned",
];

/// Lays a source out. The meaning does not change: only blanks and line ends do.
///
/// # Errors
/// Where the source cannot be read: what it means is not known, so nothing is moved.
pub fn format(text: &str) -> Result<String, Findings> {
    let (_, found) = crate::parse(FileId(0), text);
    if found.has_errors() {
        return Err(found);
    }
    let mut layout = Layout::default();
    for line in text.lines() {
        layout.line(line);
    }
    Ok(layout.finished())
}

#[derive(Default)]
struct Layout {
    lines: Vec<String>,
    depth: usize,
    /// Indentation, as written and as laid out, of the line that began the statement.
    statement: (usize, usize),
    /// The statement is a choice: an `otherwise` goes on with it.
    choosing: bool,
    /// The code line before ended with a comma, an operator or an open round bracket.
    goes_on: bool,
    round: usize,
}

impl Layout {
    fn line(&mut self, line: &str) {
        let body = line.trim();
        if body.is_empty() {
            if self
                .lines
                .last()
                .is_some_and(|last| !last.is_empty() && !last.trim_end().ends_with('{'))
            {
                self.lines.push(String::new());
            }
            return;
        }
        let code = body.get(..comment_start(body).unwrap_or(body.len())).unwrap_or("").trim();
        let (opens, closes, leading, round) = brackets(code);
        if leading > 0 {
            while self.lines.last().is_some_and(String::is_empty) {
                self.lines.pop();
            }
        }
        let written = width(line);
        let indent = self.indent(code, written, leading);
        self.lines.push(format!("{}{body}", " ".repeat(indent)));
        if !code.is_empty() {
            self.depth = (self.depth + opens).saturating_sub(closes);
            self.round = self.round.saturating_add_signed(round);
            self.goes_on =
                self.round > 0 || code.ends_with([',', '+', '*', '=', '(']) || code.ends_with(" -");
        }
    }

    fn indent(&mut self, code: &str, written: usize, leading: usize) -> usize {
        let plain = 2 * self.depth.saturating_sub(leading);
        let first: String =
            code.chars().take_while(|sign| sign.is_alphanumeric() || *sign == '-').collect();
        // `at the end …` begins something new, and so do an instrument's `proved on …` and a substitute.
        let begins_new = ["at the end", "proved on", "or using", "or measure", "answers only"];
        let new = begins_new.iter().any(|begins| code.starts_with(begins));
        let goes_on = GOES_ON.contains(&first.as_str()) || (first == "otherwise" && self.choosing);
        let clause = goes_on && !new && !self.opens_block();
        if self.goes_on || clause {
            let deeper = written.saturating_sub(self.statement.0);
            return self.statement.1 + if deeper >= 2 { deeper } else { 4 };
        }
        if !code.is_empty() {
            self.statement = (written, plain);
            self.choosing = first == "choose";
        }
        plain
    }

    /// The first line of a block goes on with nothing.
    fn opens_block(&self) -> bool {
        self.lines.last().is_none_or(|last| last.trim_end().ends_with('{'))
    }

    fn finished(mut self) -> String {
        while self.lines.last().is_some_and(String::is_empty) {
            self.lines.pop();
        }
        let mut text = self.lines.join("\n");
        text.push('\n');
        text
    }
}

/// Columns of blanks at a line's beginning; a tab counts as two.
fn width(line: &str) -> usize {
    line.chars()
        .take_while(|sign| sign.is_whitespace())
        .map(|sign| if sign == '\t' { 2 } else { 1 })
        .sum()
}

/// Braces opened and closed in a line's code outside texts, how many closing ones lead it, and round
/// brackets left open.
fn brackets(code: &str) -> (usize, usize, usize, isize) {
    let (mut opens, mut closes, mut leading, mut round) = (0, 0, 0, 0);
    let mut in_text = false;
    let mut first = true;
    let mut signs = code.chars();
    while let Some(sign) = signs.next() {
        match sign {
            '\\' if in_text => {
                signs.next();
            }
            '"' => in_text = !in_text,
            _ if in_text => {}
            '{' => opens += 1,
            '}' => {
                closes += 1;
                leading += usize::from(first);
            }
            '(' => round += 1,
            ')' => round -= 1,
            _ => {}
        }
        first &= sign == '}';
    }
    (opens, closes, leading, round)
}

//! A report as text for a person (miette draws the excerpts).

use crate::{Edit, FileId, Label, Mend, Report, Severity, Sources};
use miette::{
    Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, NamedSource, SourceCode,
    ThemeCharacters, ThemeStyles,
};
use std::fmt::{self, Display, Write as _};

/// How a report is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Style {
    /// With colour.
    pub color: bool,
    /// Columns that a line may take.
    pub width: usize,
}

/// A report as text, with a line end.
///
/// Control signs in an author's text are shown as `·`, so that a source cannot steer a terminal.
pub fn show(report: &Report, sources: &Sources, style: Style) -> String {
    let mut text = heading(report, style);
    for file in files_of(report) {
        text.push_str(&excerpt(report, file, sources, style));
    }
    path(report, style, &mut text);
    if let Some(consequence) = &report.consequence {
        told(&mut text, style, "in the workshop", consequence);
    }
    for mend in &report.mends {
        told(&mut text, style, "mend", &mend.text);
        // Where something is only taken away there is nothing to show.
        for edit in mend.edits.iter().filter(|edit| !edit.text.is_empty()) {
            text.push_str(&edited(edit, sources, style));
        }
    }
    for note in &report.notes {
        told(&mut text, style, "note", note);
    }
    told(&mut text, style, "more", &format!("locknut explain {}", report.code));
    text
}

/// `2 errors and 1 warning`, or `nothing wrong`.
pub fn summary(reports: &[Report]) -> String {
    let errors = reports.iter().filter(|report| report.severity == Severity::Error).count();
    let warnings = reports.len() - errors;
    let counted = |count: usize, word: &str| match count {
        1 => format!("1 {word}"),
        more => format!("{more} {word}s"),
    };
    match (errors, warnings) {
        (0, 0) => "nothing wrong".into(),
        (0, warnings) => counted(warnings, "warning"),
        (errors, 0) => counted(errors, "error"),
        (errors, warnings) => {
            format!("{} and {}", counted(errors, "error"), counted(warnings, "warning"))
        }
    }
}

fn heading(report: &Report, style: Style) -> String {
    let (word, color) = match report.severity {
        Severity::Error => ("error", "1;31"),
        Severity::Warning => ("warning", "1;33"),
    };
    let head = painted(&format!("{word} {}", report.code), color, style);
    let plain = format!("{word} {}: ", report.code).chars().count();
    let title =
        wrapped(&harmless(&report.title), style.width.saturating_sub(plain), &" ".repeat(plain));
    format!("{head}: {}\n", painted(&title, "1", style))
}

/// Files in the order in which the labels name them.
fn files_of(report: &Report) -> Vec<FileId> {
    let mut files = Vec::new();
    for label in &report.labels {
        if !files.contains(&label.span.file) {
            files.push(label.span.file);
        }
    }
    files
}

fn excerpt(report: &Report, file: FileId, sources: &Sources, style: Style) -> String {
    let source = harmless_source(sources.text(file));
    let labels: Vec<Label> =
        report.labels.iter().filter(|label| label.span.file == file).cloned().collect();
    let drawn = Excerpt { source: NamedSource::new(sources.name(file), source), labels };
    let mut text = String::new();
    // A String takes whatever is written; a failure could only come from a source that miette cannot cut.
    if handler(style).render_report(&mut text, &drawn).is_err() {
        let place = report
            .labels
            .first()
            .map(|label| sources.line_and_column(label.span))
            .unwrap_or_default();
        return format!("  {}:{}:{}\n", sources.name(file), place.0, place.1);
    }
    // The handler puts the (empty) title on a line of its own.
    let body: Vec<&str> = text.lines().filter(|line| !bare(line)).collect();
    body.join("\n") + "\n"
}

fn bare(line: &str) -> bool {
    line.trim().is_empty() || line.trim() == "×" || line.trim() == "⚠"
}

fn handler(style: Style) -> GraphicalReportHandler {
    let styles = if style.color { ThemeStyles::ansi() } else { ThemeStyles::none() };
    let mut characters = ThemeCharacters::unicode();
    characters.error = "×".into();
    let theme = GraphicalTheme { characters, styles };
    GraphicalReportHandler::new_themed(theme)
        .with_width(style.width)
        .with_context_lines(1)
        .with_links(false)
}

fn path(report: &Report, style: Style, text: &mut String) {
    if report.path.is_empty() {
        return;
    }
    let stations: Vec<String> = report.path.iter().map(|point| harmless(&point.text)).collect();
    told(text, style, "how it comes to this", &stations.join(" → "));
}

/// The line as it stands after the edit.
fn edited(edit: &Edit, sources: &Sources, style: Style) -> String {
    let source = sources.text(edit.span.file);
    let range = edit.span.range();
    let start = source
        .get(..range.start)
        .and_then(|before| before.rfind('\n'))
        .map_or(0, |newline| newline + 1);
    let end = source
        .get(range.end..)
        .and_then(|rest| rest.find('\n'))
        .map_or(source.len(), |at| range.end + at);
    let before = source.get(start..range.start).unwrap_or("");
    let after = source.get(range.end..end).unwrap_or("");
    let mut shown = String::new();
    for line in format!("{before}{}{after}", edit.text).lines() {
        let line = painted(&harmless(line.trim_end()), "32", style);
        if writeln!(shown, "       │ {line}").is_err() {
            break;
        }
    }
    shown
}

fn told(text: &mut String, style: Style, word: &str, what: &str) {
    let head = painted(&format!("{word}:"), "1;36", style);
    let indent = 2 + word.chars().count() + 2;
    let hanging = if indent > 10 { 4 } else { indent };
    let body = wrapped(&harmless(what), style.width.saturating_sub(indent), &" ".repeat(hanging));
    text.extend(["  ", &head, " ", &body, "\n"]);
}

/// Breaks at blanks; a longer word stands whole on its line.
fn wrapped(text: &str, width: usize, indent: &str) -> String {
    let mut lines: Vec<String> = vec![String::new()];
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.is_empty() => line.push_str(word),
            Some(line) if line.chars().count() + 1 + word.chars().count() <= width.max(24) => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines.join(&format!("\n{indent}"))
}

fn painted(text: &str, color: &str, style: Style) -> String {
    if style.color { format!("\u{1b}[{color}m{text}\u{1b}[0m") } else { text.to_owned() }
}

fn harmless(text: &str) -> String {
    text.chars().map(|sign| if sign.is_control() { '·' } else { sign }).collect()
}

/// As [`harmless`], but every replaced byte stays one byte, so that spans still fit; lines and tabs stay.
fn harmless_source(text: &str) -> String {
    text.chars()
        .map(|sign| {
            if sign.is_ascii_control() && sign != '\n' && sign != '\t' && sign != '\r' {
                '?'
            } else {
                sign
            }
        })
        .collect()
}

/// One file's labels, as miette draws them.
#[derive(Debug)]
struct Excerpt {
    source: NamedSource<String>,
    labels: Vec<Label>,
}

impl Display for Excerpt {
    fn fmt(&self, _into: &mut fmt::Formatter<'_>) -> fmt::Result {
        Ok(())
    }
}

impl std::error::Error for Excerpt {}

impl Diagnostic for Excerpt {
    fn source_code(&self) -> Option<&dyn SourceCode> {
        Some(&self.source)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        Some(Box::new(self.labels.iter().map(|label| {
            LabeledSpan::new(
                Some(harmless(&label.text)),
                label.span.range().start,
                label.span.range().len(),
            )
        })))
    }
}

impl Mend {
    /// Whether the compiler knows the change of the source.
    pub fn can_be_applied(&self) -> bool {
        !self.edits.is_empty()
    }
}
#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Mend, PathPoint, Span};

    #[test]
    fn look() {
        let mut sources = Sources::default();
        let file = sources.add(
            "slew-brake-gap.lkn",
            "step open {\n  remove cover-bolts\n  remove brake-cover\n}\n",
        );
        let other = sources.add(
            "models/drive.lkn",
            "never brake-cover is removed unless supply is isolated\n  because \"it kills\"\n",
        );
        let report = Report {
            code: "LN510",
            severity: Severity::Error,
            title: "the brake cover comes off while the supply is live".into(),
            labels: vec![
                Label { span: Span::new(file, 35, 53), text: "comes off here".into() },
                Label { span: Span::new(other, 0, 54), text: "this must never be".into() },
            ],
            path: vec![
                PathPoint { text: "step 1 “Tether the jib”".into(), span: None },
                PathPoint { text: "step 5 “Take off the cover”".into(), span: None },
            ],
            consequence: Some("the drive stores charge after the isolator opens".into()),
            mends: vec![Mend {
                text: "isolate the supply before this line".into(),
                edits: vec![Edit {
                    span: Span::new(file, 35, 35),
                    text: "set supply to isolated\n  ".into(),
                }],
                fallback: false,
            }],
            notes: vec![],
            rests_on: vec![],
            changes: vec![],
        };
        println!("{}", show(&report, &sources, Style { color: false, width: 90 }));
    }
}

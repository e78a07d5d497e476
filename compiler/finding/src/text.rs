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
        let lines = on_their_lines(&mend.edits, sources);
        let shown = lines.iter().filter(|edits| edits.iter().any(|edit| !edit.text.is_empty()));
        let mut above: Option<&Edit> = None;
        for edits in shown {
            if let (Some(above), Some(first)) = (above, edits.first())
                && apart(above, first, sources)
            {
                text.push_str("       ⋮\n");
            }
            text.push_str(&edited(edits, sources, style));
            above = edits.last().copied();
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

/// So many lines of a place are shown; of a longer one, its first.
const MOST_LINES: usize = 6;
/// Places with at most so many lines between them are shown in one piece.
const NEAR: usize = 3;

fn excerpt(report: &Report, file: FileId, sources: &Sources, style: Style) -> String {
    let source = harmless_source(sources.text(file));
    let of_file = report.labels.iter().filter(|label| label.span.file == file);
    let mut labels: Vec<Label> = of_file.map(|label| shortened(label, &source)).collect();
    labels.sort_by_key(|label| label.span.start);
    let mut text = String::new();
    for labels in pieces(labels, &source) {
        let drawn =
            Excerpt { source: NamedSource::new(sources.name(file), source.clone()), labels };
        // A String takes whatever is written; a failure could only come from a source that miette cannot cut.
        let mut piece = String::new();
        if handler(style).render_report(&mut piece, &drawn).is_err() {
            let place = drawn.labels.first().map(|label| sources.line_and_column(label.span));
            let (line, column) = place.unwrap_or_default();
            let place = format!("  {}:{line}:{column}\n", sources.name(file));
            text.push_str(&place);
            continue;
        }
        // The handler puts the (empty) title on a line of its own.
        let body: Vec<&str> = piece.lines().filter(|line| !bare(line)).collect();
        text.extend([body.join("\n").as_str(), "\n"]);
    }
    text
}

/// A place of many lines is shown by its first.
fn shortened(label: &Label, source: &str) -> Label {
    let whole = source.get(label.span.range()).unwrap_or_default();
    let first = whole.lines().next().unwrap_or_default().trim_end().len();
    let mut label = label.clone();
    if whole.lines().count() > MOST_LINES {
        let end = u32::try_from(first).unwrap_or(0);
        label.span.end = label.span.start.saturating_add(end.max(1));
    }
    label
}

/// Places, in their order, that are shown together: what stands between those that are far apart helps nobody.
fn pieces(labels: Vec<Label>, source: &str) -> Vec<Vec<Label>> {
    let mut pieces: Vec<(usize, Vec<Label>)> = Vec::new();
    for label in labels {
        let range = label.span.range();
        let lines = |range: std::ops::Range<usize>| {
            source.get(range).unwrap_or_default().matches('\n').count()
        };
        match pieces.last_mut() {
            Some((end, piece)) if lines(*end..range.start.max(*end)) <= NEAR => {
                *end = range.end.max(*end);
                piece.push(label);
            }
            _ => pieces.push((range.end, vec![label])),
        }
    }
    pieces.into_iter().map(|(_, piece)| piece).collect()
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

/// Edits in their order, those of one line together.
fn on_their_lines<'e>(edits: &'e [Edit], sources: &Sources) -> Vec<Vec<&'e Edit>> {
    let mut sorted: Vec<&Edit> = edits.iter().collect();
    sorted.sort_by_key(|edit| edit.span);
    let mut lines: Vec<Vec<&Edit>> = Vec::new();
    for edit in sorted {
        let same = lines.last().and_then(|line| line.last()).is_some_and(|last| {
            let between = last.span.range().end..edit.span.range().start;
            last.span.file == edit.span.file
                && sources
                    .text(edit.span.file)
                    .get(between)
                    .is_some_and(|text| !text.contains('\n'))
        });
        match lines.last_mut() {
            Some(line) if same => line.push(edit),
            _ => lines.push(vec![edit]),
        }
    }
    lines
}

/// Whether a line stands between those of two edits.
fn apart(above: &Edit, below: &Edit, sources: &Sources) -> bool {
    let between = above.span.range().end..below.span.range().start;
    let lines =
        sources.text(above.span.file).get(between).map_or(2, |text| text.matches('\n').count());
    above.span.file != below.span.file || lines > 1
}

/// The line as it stands after the edits.
fn edited(edits: &[&Edit], sources: &Sources, style: Style) -> String {
    let (Some(first), Some(last)) = (edits.first(), edits.last()) else { return String::new() };
    let source = sources.text(first.span.file);
    let (from, to) = (first.span.range().start, last.span.range().end);
    let start = source.get(..from).and_then(|ahead| ahead.rfind('\n')).map_or(0, |at| at + 1);
    let end = source.get(to..).and_then(|rest| rest.find('\n')).map_or(source.len(), |at| to + at);
    let mut line = String::new();
    let mut at = start;
    for edit in edits {
        line.push_str(source.get(at..edit.span.range().start).unwrap_or_default());
        line.push_str(&edit.text);
        at = edit.span.range().end;
    }
    line.push_str(source.get(at..end).unwrap_or_default());
    let mut shown = String::new();
    for line in line.lines() {
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
    use crate::Span;

    fn shown(text: &str, labels: &[&str]) -> String {
        let mut sources = Sources::default();
        let file = sources.add("a.lkn", text);
        let mut report = Report::blank("LN001", Severity::Error);
        for label in labels {
            let at = u32::try_from(text.find(label).unwrap_or_default()).unwrap_or_default();
            let end = at + u32::try_from(label.len()).unwrap_or_default();
            report.label(Span::new(file, at, end), "here");
        }
        show(&report, &sources, Style { color: false, width: 90 })
    }

    #[test]
    fn what_stands_between_two_places_far_apart_is_left_out() {
        let lines: Vec<String> = (1..=30).map(|line| format!("line {line};")).collect();
        let text = lines.join("\n");
        let told = shown(&text, &["line 14;", "line 29;"]);
        for line in ["line 13;", "line 14;", "line 15;", "line 28;", "line 29;", "line 30;"] {
            assert!(told.contains(line), "{line} is not in\n{told}");
        }
        assert!(!told.contains("line 16;") && !told.contains("line 27;"), "{told}");
        // Near each other they are shown in one piece.
        let told = shown(&text, &["line 14;", "line 17;"]);
        assert_eq!(told.matches("a.lkn").count(), 1, "{told}");
        assert!(told.contains("line 15;") && told.contains("line 16;"), "{told}");
        // Of a long place the first line is shown.
        let told = shown(&text, &[text.as_str()]);
        assert!(told.contains("line 2;") && !told.contains("line 3;"), "{told}");
    }

    #[test]
    fn edits_of_one_line_are_shown_together() {
        let mut sources = Sources::default();
        let file = sources.add("a.lkn", "ahead\nsizes 0,2 mm, 0,5 mm\nbehind\n");
        let mut report = Report::blank("LN005", Severity::Error);
        let edit = |start, text: &str| Edit {
            span: Span::new(file, start, start + 3),
            text: text.to_owned(),
        };
        report.mend_with_all("write 0.2, 0.5", vec![edit(12, "0.2"), edit(20, "0.5")]);
        let told = show(&report, &sources, Style { color: false, width: 90 });
        assert!(told.contains("│ sizes 0.2 mm, 0.5 mm\n"), "{told}");
        assert_eq!(told.matches('│').count(), 1, "{told}");
    }

    #[test]
    fn between_edits_that_are_apart_a_gap_is_shown() {
        let mut sources = Sources::default();
        let file = sources.add("a.lkn", "one\ntwo\nthree\nfour\n");
        let edit = |start| Edit { span: Span::new(file, start, start), text: "+".to_owned() };
        let told = |edits| {
            let mut report = Report::blank("LN001", Severity::Error);
            report.mend_with_all("write it", edits);
            show(&report, &sources, Style { color: false, width: 90 })
        };
        let near = told(vec![edit(0), edit(4)]);
        assert!(near.contains("│ +one\n       │ +two\n"), "{near}");
        let far = told(vec![edit(0), edit(14)]);
        assert!(far.contains("│ +one\n       ⋮\n       │ +four\n"), "{far}");
    }
}

//! Streams, colour, progress.

use clap::ValueEnum;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use locknut_finding::text::Style;
use locknut_finding::{Report, Sources, text};
use std::io::{IsTerminal, Write};

/// When messages are coloured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Color {
    /// Where a terminal is there and `NO_COLOR` is not set.
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

/// The two streams and how they are written.
#[derive(Debug)]
pub(crate) struct Terminal {
    style: Style,
}

impl Terminal {
    #[expect(
        clippy::disallowed_methods,
        reason = "the command line is where the environment is read"
    )]
    pub(crate) fn new(color: Color) -> Self {
        let kept_plain = std::env::var("NO_COLOR").is_ok_and(|value| !value.is_empty());
        let there = std::io::stderr().is_terminal();
        let colored = match color {
            Color::Auto => there && !kept_plain,
            Color::Always => true,
            Color::Never => false,
        };
        let columns = std::env::var("COLUMNS").ok().and_then(|columns| columns.parse().ok());
        Self { style: Style { color: colored, width: columns.unwrap_or(100).clamp(40, 140) } }
    }

    /// Writes a result to standard output. A closed pipe is the reader's wish, not a fault.
    #[expect(clippy::unused_self, reason = "whoever writes to a stream holds the terminal")]
    pub(crate) fn result(&self, text: &str) {
        put(std::io::stdout().lock(), text);
    }

    /// Writes a line to standard error.
    #[expect(clippy::unused_self, reason = "whoever writes to a stream holds the terminal")]
    pub(crate) fn message(&self, text: &str) {
        put(std::io::stderr().lock(), &format!("{text}\n"));
    }

    /// Shows findings on standard error.
    pub(crate) fn reports(&self, reports: &[Report], sources: &Sources) {
        for report in reports {
            self.message(&text::show(report, sources, self.style));
        }
    }

    /// Progress over so many things: shown where a terminal is there, after half a second.
    #[expect(clippy::unused_self, reason = "whoever writes to a stream holds the terminal")]
    pub(crate) fn progress(&self, count: usize, what: &'static str) -> ProgressBar {
        let bar = ProgressBar::new(u64::try_from(count).unwrap_or(u64::MAX));
        if !std::io::stderr().is_terminal() {
            bar.set_draw_target(ProgressDrawTarget::hidden());
            return bar;
        }
        let style = ProgressStyle::with_template("{msg} {bar:32} {pos} of {len}");
        bar.set_style(style.unwrap_or_else(|_plain| ProgressStyle::default_bar()));
        bar.set_message(what);
        bar
    }
}

fn put(mut stream: impl Write, text: &str) {
    // A reader that has gone away (`| head`) is told nothing more; there is nobody to tell it to.
    if stream.write_all(text.as_bytes()).is_ok() {
        let _flushed = stream.flush();
    }
}

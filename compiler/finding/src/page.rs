//! Pages: one for each code, in Markdown, run as tests.

/// The page of a code. Its first line is `# LN512: the job may stop where the machine is not safe`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Page {
    file: &'static str,
    text: &'static str,
    code: &'static str,
}

impl Page {
    /// Use the [`page!`](crate::page!) macro, which reads the file beside the source.
    pub const fn new(code: &'static str, file: &'static str, text: &'static str) -> Self {
        Self { file, text, code }
    }

    /// E.g. `LN512`.
    pub const fn code(&self) -> &'static str {
        self.code
    }

    /// The file's name, e.g. `ln512_unsafe_stop.md`.
    pub const fn file(&self) -> &'static str {
        self.file
    }

    /// The whole Markdown text.
    pub const fn text(&self) -> &'static str {
        self.text
    }
}

/// The page that stands beside the finding's source: `page!("LN512", "ln512_unsafe_stop.md")`.
#[macro_export]
macro_rules! page {
    ($code:literal, $file:literal) => {
        $crate::Page::new($code, $file, include_str!($file))
    };
}

impl Page {
    /// Its first line without the `#`: `LN512: the job may stop where the machine is not safe`.
    pub fn title(&self) -> &'static str {
        self.text.lines().next().unwrap_or("").trim_start_matches('#').trim()
    }
}

/// The page for a terminal: fences become indented blocks, the marks of the tests are taken out.
pub fn plain(page: &Page) -> String {
    let mut text = String::new();
    let mut in_block = false;
    for line in page.text.lines() {
        if let Some(info) = line.strip_prefix("```") {
            in_block = !in_block;
            if in_block && info.contains("wrong") {
                text.push_str("  Wrong:\n\n");
            } else if in_block && info.contains("right") {
                text.push_str("  Right:\n\n");
            } else if in_block && info.starts_with("message") {
                text.push_str("  What the compiler says:\n\n");
            }
        } else if in_block {
            text.extend(["    ", unmarked(line), "\n"]);
        } else {
            text.push_str(line.trim_start_matches("## "));
            text.push('\n');
        }
    }
    text
}

fn unmarked(line: &str) -> &str {
    let mark = line.find("//~").or_else(|| line.find("#~"));
    mark.and_then(|at| line.get(..at)).unwrap_or(line).trim_end()
}

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

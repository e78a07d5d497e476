//! What can be wrong with the writing of a file.
use crate::grammar::Rule;
use locknut_finding::{FileId, Finding, Findings, Page, Report, Span};
pub const PAGES: &[Page] = &[];
pub(crate) fn before_reading(_file: FileId, _text: &str, _found: &mut Findings) -> bool {
    false
}
pub(crate) struct Unreadable {
    span: Span,
    why: String,
}
impl Unreadable {
    pub(crate) fn whole(
        file: FileId,
        _source: &str,
        start: usize,
        _piece: &str,
        error: &pest::error::Error<Rule>,
    ) -> Self {
        Self { span: Span::new(file, start as u32, start as u32), why: error.to_string() }
    }
    pub(crate) fn piece(
        _source: &str,
        span: Span,
        _alone: Rule,
        error: Option<&pest::error::Error<Rule>>,
    ) -> Self {
        Self { span, why: error.map(|e| e.to_string()).unwrap_or_default() }
    }
}
impl Finding for Unreadable {
    const PAGE: Page = Page::new("LN001", "x", "");
    fn show(&self, say: &mut Report) {
        say.title(self.why.clone());
        say.label(self.span, "here");
    }
}

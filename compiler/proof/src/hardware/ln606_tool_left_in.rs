//! LN606: a special tool is left in the machine.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// A special tool is left in the machine.
pub(crate) struct ToolLeftIn {
    pub(crate) written_at: Span,
    pub(crate) tool: String,
    pub(crate) name: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for ToolLeftIn {
    const PAGE: Page = page!("LN606", "ln606_tool_left_in.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("the job is done and the {} is still in the machine", self.tool));
        say.label(self.written_at, "put in here");
        say.path(&self.path);
        say.consequence("the tool jams or is thrown out when the machine starts");
        say.fallback(format!("write `remove {}` before the end", self.name));
    }
}

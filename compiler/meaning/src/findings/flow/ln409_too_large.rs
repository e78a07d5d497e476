//! LN409: a procedure that is too large to be proved.

use locknut_finding::{Finding, Page, Report, Span, page};

/// More than what is laid out.
pub(crate) struct TooLarge {
    span: Span,
    title: String,
    label: String,
}

impl TooLarge {
    /// More lines, those of called subtasks counted at each call, than are laid out.
    pub(crate) fn nodes(span: Span, most: usize) -> Self {
        let title = format!("this procedure has more than {most} lines and branches");
        let label = "counted with every subtask that it does, each time".to_owned();
        Self { span, title, label }
    }

    /// Acts that ask too much together: a thing behind hundreds of others, thousands of times.
    pub(crate) fn parts(span: Span, most: usize) -> Self {
        let title = format!("the acts of this procedure ask more than {most} things");
        let label = "counted with every subtask that it does, each time".to_owned();
        Self { span, title, label }
    }

    /// Blocks inside blocks.
    pub(crate) fn blocks_too_deep(span: Span, most: usize) -> Self {
        let title = format!("blocks stand inside each other more than {most} deep");
        Self { span, title, label: "this and what follows it is not read any more".to_owned() }
    }

    /// Subtasks inside subtasks.
    pub(crate) fn calls_too_deep(span: Span, most: usize) -> Self {
        let title = format!("subtasks are done inside each other more than {most} deep");
        Self { span, title, label: "this one is not laid in any more".to_owned() }
    }
}

impl Finding for TooLarge {
    const PAGE: Page = page!("LN409", "ln409_too_large.md");

    fn show(&self, say: &mut Report) {
        say.title(self.title.clone());
        say.label(self.span, self.label.clone());
        say.consequence("nobody could follow it, and it is not proved");
        say.mend("divide it into procedures that are done one after the other");
    }
}

//! LN190: `library.yaml` says something that it may not.

use crate::settings::SettingsProblem;
use locknut_finding::{FileId, Finding, Page, Report, Span, page};

/// What is wrong in `library.yaml`.
pub(crate) struct BadSettings {
    place: Span,
    why: String,
}

impl BadSettings {
    pub(crate) fn new(file: FileId, text: &str, problem: &SettingsProblem) -> Self {
        Self { place: super::line_at(file, text, problem.at), why: problem.why.clone() }
    }
}

impl Finding for BadSettings {
    const PAGE: Page = page!("LN190", "ln190_bad_settings.md");

    fn show(&self, say: &mut Report) {
        say.title("library.yaml cannot be used as it stands");
        say.label(self.place, &self.why);
        say.consequence(
            "until it is mended, the sheets name no publisher and are in English, SI units and A4",
        );
        say.mend(
            "it may hold publisher, language, also-in, units (si or us), second-units, paper (A4 or \
             Letter), decision-rule (simple, guarded or guarded-acceptance) and capability (least, fair, good); publisher must \
             be there",
        );
    }
}

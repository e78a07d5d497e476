//! Templates that are larger than the paper of the library.

use crate::findings::OffPaper;
use locknut_finding::Findings;
use locknut_graph::{Paper, Template};
use std::sync::Arc;

/// Says which of some templates do not fit on a sheet of paper at true scale.
pub fn off_paper<'t>(
    templates: impl IntoIterator<Item = &'t Arc<Template>>,
    paper: Paper,
) -> Findings {
    let mut found = Findings::default();
    for template in templates.into_iter().filter(|template| template.placing(paper).is_none()) {
        found.add(&OffPaper {
            template: template.words.said.clone(),
            place: template.span,
            paper: match paper {
                Paper::A4 => "A4",
                Paper::Letter => "Letter",
            },
            greatest: paper.upright_and_across(),
        });
    }
    found
}

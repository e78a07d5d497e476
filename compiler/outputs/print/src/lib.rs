//! Sheet → checklist as PDF; template → true-scale PDF and SVG.
//!
//! In: a sheet. Out: the bytes of a tagged PDF/UA-1 file, the same for the same sheet on any machine.
//! The interesting idea: the layout is `sheet.typ` and its like, Typst files that a designer edits without
//! Rust; what authors wrote reaches it as a JSON file and is never glued into markup.
//!
//! *It does not know* what any line means, nor where files go.

mod data;
mod world;

use locknut_graph::Paper;
use locknut_sheet::{Sheet, TemplateSheet};
use typst::diag::SourceDiagnostic;
use typst::foundations::Smart;
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};
use world::{Document, SheetWorld};

/// Why a sheet could not be printed: a fault of the layout, told with what the typesetter said.
#[derive(Debug, thiserror::Error)]
pub enum PrintProblem {
    /// The typesetter's words.
    #[error("the typesetter says: {0}")]
    Typesetter(String),
    /// At true scale it is larger than the paper.
    #[error("at true scale {0} is larger than the paper")]
    TooLarge(String),
    /// The sheet could not be handed over.
    #[error("the sheet could not be handed over: {0}")]
    Data(#[from] serde_json::Error),
}

/// Prints a sheet. `source_hash` tells which sources it was made from.
///
/// Signs that no font on board has are printed as `⟨U+4E2D⟩`, so that nothing is lost in silence.
///
/// # Errors
/// Where a template of it is larger than the paper, or the typesetter refuses the layout.
pub fn print(sheet: &Sheet, paper: Paper, source_hash: &str) -> Result<Vec<u8>, PrintProblem> {
    printed(Document::Sheet, data::sheet(sheet, paper, source_hash)?)
}

/// Prints a template at true scale on a page of its own, with lines that prove the scale.
///
/// # Errors
/// Where it is larger than the paper, or the typesetter refuses the layout.
pub fn print_template(
    template: &TemplateSheet,
    publisher: &str,
    paper: Paper,
    source_hash: &str,
) -> Result<Vec<u8>, PrintProblem> {
    printed(Document::Template, data::template_alone(template, publisher, paper, source_hash)?)
}

/// The same as an SVG drawing, one of its units a millimetre.
pub fn draw_template(template: &TemplateSheet) -> String {
    locknut_picture::template_sheet(&template.template, &data::words(template))
}

fn printed(document: Document, data: Vec<u8>) -> Result<Vec<u8>, PrintProblem> {
    let world = SheetWorld::new(document, data);
    let printed = typeset(&world);
    // Without this, a long run keeps every sheet it ever laid out.
    comemo::evict(0);
    printed
}

fn typeset(world: &SheetWorld) -> Result<Vec<u8>, PrintProblem> {
    let document: PagedDocument =
        typst::compile(world).output.map_err(|errors| problem(world, &errors))?;
    let standards = PdfStandards::new(&[PdfStandard::Ua_1])
        .map_err(|error| PrintProblem::Typesetter(format!("{error:?}")))?;
    let options = PdfOptions {
        ident: Smart::Auto,
        creator: Smart::Custom(Some("Locknut".to_owned())),
        timestamp: None,
        page_ranges: None,
        standards,
        tagged: true,
        pretty: false,
    };
    typst_pdf::pdf(&document, &options).map_err(|errors| problem(world, &errors))
}

fn problem(world: &SheetWorld, errors: &[SourceDiagnostic]) -> PrintProblem {
    let told: Vec<String> = errors
        .iter()
        .map(|error| {
            let line = world.place(error).map(|place| format!("{place}: ")).unwrap_or_default();
            let hints: Vec<String> =
                error.hints.iter().map(|hint| format!(" ({})", hint.v)).collect();
            format!("{line}{}{}", error.message, hints.concat())
        })
        .collect();
    PrintProblem::Typesetter(told.join("; "))
}

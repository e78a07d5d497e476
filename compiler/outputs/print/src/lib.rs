//! Sheet → checklist as PDF.
//!
//! In: a sheet. Out: the bytes of a tagged PDF/UA-1 file, the same for the same sheet on any machine.
//! The interesting idea: the layout is `sheet.typ`, a Typst template that a designer edits without
//! Rust; what authors wrote reaches it as a JSON file and is never glued into markup.
//!
//! *It does not know* what any line means, nor where files go.

mod data;
mod world;

use locknut_sheet::Sheet;
use typst::diag::SourceDiagnostic;
use typst::foundations::Smart;
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};
use world::SheetWorld;

/// A paper size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 210 mm × 297 mm (ISO 216).
    A4,
    /// 8.5 inch × 11 inch (ANSI/ASME Y14.1 size A).
    Letter,
}

/// Why a sheet could not be printed: a fault of the template, told with what the typesetter said.
#[derive(Debug, thiserror::Error)]
pub enum PrintProblem {
    /// The typesetter's words.
    #[error("the typesetter says: {0}")]
    Typesetter(String),
    /// The sheet could not be handed over.
    #[error("the sheet could not be handed over: {0}")]
    Data(#[from] serde_json::Error),
}

/// Prints a sheet. `source_hash` tells which sources it was made from.
///
/// Signs that no font on board has are printed as `⟨U+4E2D⟩`, so that nothing is lost in silence.
///
/// # Errors
/// Where the typesetter refuses the template.
pub fn print(sheet: &Sheet, paper: Paper, source_hash: &str) -> Result<Vec<u8>, PrintProblem> {
    let bytes = data::json(sheet, paper, source_hash)?;
    let world = SheetWorld::new(bytes);
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
            let line = world
                .line(error)
                .map(|line| format!("sheet.typ line {line}: "))
                .unwrap_or_default();
            let hints: Vec<String> =
                error.hints.iter().map(|hint| format!(" ({})", hint.v)).collect();
            format!("{line}{}{}", error.message, hints.concat())
        })
        .collect();
    PrintProblem::Typesetter(told.join("; "))
}

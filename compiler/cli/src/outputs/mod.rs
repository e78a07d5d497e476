//! What can be made of a procedure. A new output is a crate and one line in [`OUTPUTS`].

use crate::problem::Problem;
use locknut_finding::Report;
use locknut_library::{Checked, Compiled, Paper, compose, compose_template};
use locknut_quantity::System;
use locknut_sheet::TemplateSheet;

/// One kind of output.
pub(crate) struct Output {
    /// Makes its files for a procedure; `known` tells whether a file is up to date already.
    pub(crate) make: fn(&Checked, &Compiled, &Known<'_>) -> Result<Vec<Made>, Problem>,
}

/// Whether a file is up to date already.
pub(crate) type Known<'a> = dyn Fn(&str) -> bool + Sync + 'a;

/// What came of making one file.
pub(crate) enum Made {
    /// A new file, by its name in the target folder.
    File { name: String, bytes: Vec<u8>, findings: Vec<Report> },
    /// It was up to date.
    Known,
}

/// Draws a graph.
type Draw = fn(&locknut_graph::StepGraph) -> String;

/// Everything that `build` makes.
pub(crate) const OUTPUTS: &[Output] = &[
    Output { make: sheets },
    Output { make: page },
    Output { make: graph },
    Output { make: picture },
    Output { make: templates },
];

/// A paper size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum PaperSize {
    /// 210 mm × 297 mm
    A4,
    /// 8.5 inch × 11 inch
    Letter,
}

impl From<PaperSize> for Paper {
    fn from(size: PaperSize) -> Self {
        match size {
            PaperSize::A4 => Self::A4,
            PaperSize::Letter => Self::Letter,
        }
    }
}

/// The word for a unit system in file names and options.
pub(crate) fn system_word(system: System) -> &'static str {
    match system {
        System::Si => "si",
        System::Us => "us",
    }
}

/// Which languages and systems a library prints.
fn editions(checked: &Checked) -> impl Iterator<Item = (&str, System)> {
    checked.settings.languages.iter().flat_map(|language| {
        checked.settings.units.iter().map(move |system| (language.as_str(), *system))
    })
}

fn sheets(checked: &Checked, one: &Compiled, known: &Known<'_>) -> Result<Vec<Made>, Problem> {
    let mut made = Vec::new();
    for (language, system) in editions(checked) {
        let name = format!("{}/checklist.{language}.{}.pdf", one.name, system_word(system));
        if known(&name) {
            made.push(Made::Known);
            continue;
        }
        let composed = compose(checked, one, language, Some(system));
        let bytes = print_sheet(&composed.sheet, checked.settings.paper, &checked.digest)?;
        made.push(Made::File { name, bytes, findings: composed.findings.sorted() });
    }
    Ok(made)
}

/// Prints a sheet as PDF.
pub(crate) fn print_sheet(
    sheet: &locknut_sheet::Sheet,
    paper: Paper,
    digest: &str,
) -> Result<Vec<u8>, Problem> {
    locknut_print::print(sheet, paper, digest)
        .map_err(|why| Problem::Unprintable { name: sheet.head.name.clone(), why: why.to_string() })
}

/// What is cut out for a procedure, in each language.
fn templates(checked: &Checked, one: &Compiled, known: &Known<'_>) -> Result<Vec<Made>, Problem> {
    let mut made = Vec::new();
    for (template, language) in one
        .graph
        .templates
        .iter()
        .flat_map(|template| checked.settings.languages.iter().map(move |one| (template, one)))
    {
        for form in [TemplateForm::Pdf, TemplateForm::Svg] {
            let ending = form.ending();
            let name = format!("{}/template-{}.{language}.{ending}", one.name, template.words.name);
            if known(&name) {
                made.push(Made::Known);
                continue;
            }
            let (sheet, findings) = compose_template(checked, template, language);
            let bytes = print_template(checked, &sheet, form, checked.settings.paper)?;
            made.push(Made::File { name, bytes, findings: findings.sorted() });
        }
    }
    Ok(made)
}

/// How a template is handed out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum TemplateForm {
    /// A page for a printer
    Pdf,
    /// A drawing, one unit a millimetre
    Svg,
}

impl TemplateForm {
    /// What its file's name ends in.
    pub(crate) fn ending(self) -> &'static str {
        match self {
            Self::Pdf => "pdf",
            Self::Svg => "svg",
        }
    }
}

/// Prints a template at true scale.
pub(crate) fn print_template(
    checked: &Checked,
    sheet: &TemplateSheet,
    form: TemplateForm,
    paper: Paper,
) -> Result<Vec<u8>, Problem> {
    match form {
        TemplateForm::Svg => Ok(locknut_print::draw_template(sheet).into_bytes()),
        TemplateForm::Pdf => {
            let publisher = &checked.settings.publisher;
            locknut_print::print_template(sheet, publisher, paper, &checked.digest).map_err(|why| {
                Problem::Unprintable { name: sheet.name.clone(), why: why.to_string() }
            })
        }
    }
}

#[expect(clippy::unnecessary_wraps, reason = "every output has this shape")]
fn page(checked: &Checked, one: &Compiled, known: &Known<'_>) -> Result<Vec<Made>, Problem> {
    let name = format!("{}/check-program.html", one.name);
    if known(&name) {
        return Ok(vec![Made::Known]);
    }
    let composed: Vec<_> = editions(checked)
        .map(|(language, system)| compose(checked, one, language, Some(system)).sheet)
        .collect();
    let html = locknut_page::page(
        &composed,
        &one.graph,
        &one.facts,
        &checked.world.units,
        &checked.digest,
    );
    Ok(vec![Made::File { name, bytes: html.into_bytes(), findings: Vec::new() }])
}

fn graph(checked: &Checked, one: &Compiled, known: &Known<'_>) -> Result<Vec<Made>, Problem> {
    let name = format!("{}/step-graph.json", one.name);
    if known(&name) {
        return Ok(vec![Made::Known]);
    }
    let text = locknut_data::graph_json(&one.graph, &one.facts, &checked.world.units)
        .map_err(|why| Problem::Other(why.to_string()))?;
    Ok(vec![Made::File { name, bytes: text.into_bytes(), findings: Vec::new() }])
}

#[expect(clippy::unnecessary_wraps, reason = "every output has this shape")]
fn picture(_checked: &Checked, one: &Compiled, known: &Known<'_>) -> Result<Vec<Made>, Problem> {
    let pictures: [(&str, Draw); 2] =
        [("svg", locknut_picture::svg), ("dot", locknut_picture::dot)];
    let made = pictures.into_iter().map(|(ending, draw)| {
        let name = format!("{}/step-graph.{ending}", one.name);
        if known(&name) {
            Made::Known
        } else {
            Made::File { name, bytes: draw(&one.graph).into_bytes(), findings: Vec::new() }
        }
    });
    Ok(made.collect())
}

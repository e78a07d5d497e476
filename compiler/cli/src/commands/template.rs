//! `locknut template`: one template at true scale.

use crate::files::{self, sound_library_at};
use crate::outputs::{PaperSize, TemplateForm, print_template};
use crate::problem::Problem;
use crate::terminal::Terminal;
use clap::Args;
use locknut_library::{Paper, compose_template, off_paper};
use std::path::PathBuf;

/// Print one template at true scale, with lines that prove the scale
#[derive(Debug, Args)]
pub(crate) struct Template {
    /// The template, by its name in the source
    name: String,
    /// The library's folder [default: the library here]
    #[arg(long, value_name = "DIR")]
    library: Option<PathBuf>,
    /// Language, such as en or de [default: the library's]
    #[arg(long)]
    language: Option<String>,
    /// Paper [default: the library's]
    #[arg(long, value_enum)]
    paper: Option<PaperSize>,
    /// How it is handed out
    #[arg(long = "as", value_enum, default_value_t = TemplateForm::Pdf)]
    form: TemplateForm,
    /// The file that is written [default: NAME.LANGUAGE.pdf here]
    #[arg(long, value_name = "FILE")]
    into: Option<PathBuf>,
    /// What it says, as plain text on standard output instead
    #[arg(long)]
    text: bool,
}

impl Template {
    pub(crate) fn run(&self, terminal: &Terminal) -> Result<bool, Problem> {
        let Some(library) = sound_library_at(self.library.as_ref(), terminal)? else {
            return Ok(false);
        };
        let checked = &library.checked;
        let template = library.template(&self.name)?;
        let language = self.language.as_deref().unwrap_or(&checked.settings.language);
        let (sheet, mut findings) = compose_template(checked, template, language);
        let paper = self.paper.map_or(checked.settings.paper, Paper::from);
        // A drawing lies on no paper.
        if self.form == TemplateForm::Pdf && !self.text {
            findings.extend(off_paper([template], paper));
        }
        terminal.reports(&findings.clone().sorted(), &checked.sources);
        if findings.has_errors() {
            return Ok(false);
        }
        if self.text {
            terminal.result(&locknut_sheet::template_text(&sheet));
            return Ok(true);
        }
        let bytes = print_template(checked, &sheet, self.form, paper)?;
        let plain = format!("{}.{language}.{}", self.name, self.form.ending());
        let into = self.into.clone().unwrap_or_else(|| PathBuf::from(plain));
        files::write(&into, &bytes)?;
        terminal.message(&format!("{} written", into.display()));
        Ok(true)
    }
}

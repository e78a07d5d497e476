//! `locknut template`: one template at true scale.

use super::of_library::OfLibrary;
use crate::outputs::{TemplateForm, print_template};
use crate::problem::Problem;
use crate::terminal::Terminal;
use clap::Args;
use locknut_library::{compose_template, off_paper};

/// Print one template at true scale, with lines that prove the scale
#[derive(Debug, Args)]
pub(crate) struct Template {
    /// The template, by its name in the source
    name: String,
    #[command(flatten)]
    of: OfLibrary,
    /// How it is handed out
    #[arg(long = "as", value_enum, default_value_t = TemplateForm::Pdf)]
    form: TemplateForm,
}

impl Template {
    pub(crate) fn run(&self, terminal: &Terminal) -> Result<bool, Problem> {
        let Some(library) = self.of.library(terminal)? else { return Ok(false) };
        let checked = &library.checked;
        let template = library.template(&self.name)?;
        let (language, paper) = (self.of.language(checked), self.of.paper(checked));
        let (sheet, mut found) = compose_template(checked, template, language);
        // A drawing lies on no paper.
        if self.form == TemplateForm::Pdf && !self.of.text {
            found.extend(off_paper([template], paper));
        }
        let text = || locknut_sheet::template_text(&sheet);
        self.of.hand_out(found, checked, terminal, text, || {
            let name = format!("{}.{language}.{}", self.name, self.form.ending());
            Ok((name, print_template(checked, &sheet, self.form, paper)?))
        })
    }
}

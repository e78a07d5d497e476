//! `locknut explain`: the page of an error.

use crate::problem::Problem;
use crate::terminal::Terminal;
use clap::Args;
use locknut_finding::page;

/// Explain a code: what goes wrong in the workshop, and the mend
#[derive(Debug, Args)]
pub(crate) struct Explain {
    /// The code, such as LN512; without it all codes are listed
    code: Option<String>,
}

impl Explain {
    pub(crate) fn run(&self, terminal: &Terminal) -> Result<bool, Problem> {
        let pages = locknut_library::pages();
        let Some(code) = &self.code else {
            for page in &pages {
                terminal.result(&format!("{}\n", page.title()));
            }
            return Ok(true);
        };
        let wanted = code.to_uppercase();
        let found = pages.iter().find(|page| page.code() == wanted);
        let page = found.ok_or_else(|| Problem::NoPage { code: code.clone() })?;
        terminal.result(&page::plain(page));
        Ok(true)
    }
}

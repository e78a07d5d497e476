//! The pages of names and quantities: the faulty source has the findings that it marks, and no others;
//! the mended one has none.

use super::{library, told};
use crate::findings::{names, quantities};
use locknut_finding::{Page, Report};

#[test]
fn each_page_is_true() {
    for page in names::PAGES.iter().chain(quantities::PAGES) {
        let wrong = block(page, "wrong");
        let (found, marked) = (found_at(&wrong), marked_at(&wrong));
        assert_eq!(found, marked, "{}\n{}", page.file(), told(&library(&wrong).1));
        assert!(
            marked.iter().any(|(_, code)| code == page.code()),
            "{} shows its own code",
            page.file()
        );
        let (_, reports) = library(&block(page, "right"));
        assert!(reports.is_empty(), "{}\n{}", page.file(), told(&reports));
        assert!(page.text().starts_with(&format!("# {}: ", page.code())), "{}", page.file());
    }
}

fn block(page: &Page, kind: &str) -> String {
    let begins = format!("```lkn {kind}\n");
    let (_, after) =
        page.text().split_once(&begins).unwrap_or_else(|| panic!("{}: {kind}", page.file()));
    after.split("```").next().unwrap_or_default().to_owned()
}

/// Line and code of each finding.
fn found_at(text: &str) -> Vec<(usize, String)> {
    let line = |report: &Report| {
        text.get(..report.span().range().start).unwrap_or_default().matches('\n').count() + 1
    };
    let mut all: Vec<_> =
        library(text).1.iter().map(|report| (line(report), report.code.to_owned())).collect();
    all.sort();
    all
}

/// Line and code of each mark.
fn marked_at(text: &str) -> Vec<(usize, String)> {
    let lines = text.lines().enumerate();
    lines
        .filter_map(|(at, line)| Some((at + 1, line.split_once("//~ ")?.1.trim().to_owned())))
        .collect()
}

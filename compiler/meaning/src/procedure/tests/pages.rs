//! The pages: the faulty source has the findings that it marks, and no others; the mended one none.

use super::{reports, told};
use crate::findings::{flow, hardware, people, readings};
use locknut_finding::{Page, Report};

#[test]
fn each_page_is_true() {
    for page in &[readings::PAGES, flow::PAGES, hardware::PAGES, people::PAGES].concat() {
        assert!(page.text().starts_with(&format!("# {}: ", page.code())), "{}", page.file());
        // Settings are read by the library: such a page runs in tests/tests/pages.rs.
        if page.text().contains("file=library.yaml") {
            assert_eq!(page.code(), "LN219");
            continue;
        }
        let Some(wrong) = block(page, "wrong") else {
            // A procedure that is too large makes no page.
            assert_eq!(page.code(), "LN409");
            continue;
        };
        let found = reports(&wrong);
        let marked = marked_at(&wrong);
        let seen: Vec<(usize, String)> =
            found.iter().map(|report| (line_of(&wrong, report), report.code.to_owned())).collect();
        let wanted: Vec<(usize, String)> =
            marked.iter().map(|(line, code, _)| (*line, code.clone())).collect();
        assert_eq!(seen, wanted, "{}\n{}", page.file(), told(&found));
        for (report, (_, _, label)) in found.iter().zip(&marked) {
            let first = report.labels.first().map(|label| label.text.clone()).unwrap_or_default();
            assert!(first.starts_with(label), "{}: {first}", page.file());
        }
        assert!(marked.iter().any(|(_, code, _)| code == page.code()), "{}", page.file());
        let right = block(page, "right").expect("a mended source");
        assert!(reports(&right).is_empty(), "{}\n{}", page.file(), told(&reports(&right)));
    }
}

fn block(page: &Page, kind: &str) -> Option<String> {
    let (_, after) = page.text().split_once(&format!("```lkn {kind}\n"))?;
    after.split("```").next().map(str::to_owned)
}

fn line_of(text: &str, report: &Report) -> usize {
    text.get(..report.span().range().start).unwrap_or_default().matches('\n').count() + 1
}

/// Line, code and the beginning of the label of each mark.
fn marked_at(text: &str) -> Vec<(usize, String, String)> {
    let mark = |(at, line): (usize, &str)| {
        let (_, mark) = line.split_once("//~ ")?;
        let (code, label) = mark.split_once(' ').unwrap_or((mark, ""));
        Some((at + 1, code.to_owned(), label.trim().trim_matches('"').to_owned()))
    };
    text.lines().enumerate().filter_map(mark).collect()
}

//! Writes the messages that `message` blocks hold; whoever blesses reads them.

use crate::markdown::cases;
use crate::run::{check, files, message_of};

/// The text with every `message` block filled anew; a page's `wrong` case gets one where it has none.
pub fn bless(text: &str) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    // From the end, so that the lines before keep their numbers.
    for case in cases(text).into_iter().rev() {
        let Some(last) = case.blocks.last() else { continue };
        let (reports, sources) = check(&files(&case));
        let message = message_of(&reports, &sources);
        let body: Vec<String> =
            message.trim_end().lines().map(|line| line.trim_end().to_owned()).collect();
        match &case.message {
            Some(old) => {
                let start = old.line - 1;
                let end = start + old.text.lines().count();
                lines.splice(start..end, body);
            }
            None if case.name == "wrong" => {
                let end = last.line - 1 + last.text.lines().count() + 1;
                let fenced = [String::new(), "```message".to_owned()]
                    .into_iter()
                    .chain(body)
                    .chain(["```".to_owned()]);
                lines.splice(end..end, fenced);
            }
            None => {}
        }
    }
    let mut blessed = lines.join("\n");
    blessed.push('\n');
    blessed
}

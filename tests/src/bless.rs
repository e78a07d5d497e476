//! Writes the messages that `message` blocks hold; whoever blesses reads them. A page without such a block gets none:
//! what nobody asked for is not touched.

use crate::markdown::cases;
use crate::run::{check, files, message_of};

/// The text with every `message` block filled anew.
pub fn bless(text: &str) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    // From the end, so that the lines before keep their numbers.
    for case in cases(text).into_iter().rev() {
        let Some(old) = &case.message else { continue };
        let (reports, sources) = check(&files(&case));
        let message = message_of(&reports, &sources);
        let body = message.trim_end().lines().map(|line| line.trim_end().to_owned());
        let start = old.line - 1;
        lines.splice(start..start + old.text.lines().count(), body);
    }
    let mut blessed = lines.join("\n");
    blessed.push('\n');
    blessed
}

//! The index of codes.

use std::fmt::Write as _;

/// `grammar/codes.md`: every code with its title.
pub fn codes() -> String {
    let mut text = String::from(
        "# Codes\n\nEvery finding has a code; `locknut explain LN512` prints its page. This index is generated \
         (`cargo house codes`).\n\n| code | what it says |\n|---|---|\n",
    );
    for page in locknut_library::pages() {
        let title = page.title();
        let (code, says) = title.split_once(": ").unwrap_or((page.code(), title));
        // INVARIANT: a String takes whatever is written.
        let written = writeln!(text, "| {code} | {says} |");
        debug_assert!(written.is_ok(), "a String takes whatever is written");
    }
    text
}

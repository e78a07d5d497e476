//! What two people do side by side, done by one after the other: each lane becomes a step of its own.

use locknut_finding::Span;

const TOGETHER: &str = "together";

/// Whether a block is one of people side by side.
pub(super) fn is_together(block: Span, text: &str) -> bool {
    text.get(block.range()).is_some_and(|block| block.starts_with(TOGETHER))
}

/// The block with a step for each lane in its place; none where a lane has steps itself, which say who does them.
pub(super) fn lanes(block: Span, text: &str) -> Option<String> {
    let start = text.get(..block.range().start)?.rfind('\n').map_or(0, |newline| newline + 1);
    let indent: String = text.get(start..)?.chars().take_while(|sign| *sign == ' ').collect();
    let inside = text.get(block.range())?.strip_prefix(TOGETHER)?.trim();
    let mut left = inside.strip_prefix('{')?.strip_suffix('}')?.trim();
    let mut steps = Vec::new();
    while !left.is_empty() {
        let (role, rest) = left.split_once('{')?;
        let role = role.trim();
        let plain = |sign: char| sign.is_alphanumeric() || sign == '-';
        let end = closing(rest)?;
        let acts = rest.get(..end)?;
        let bare = acts.split_whitespace().all(|word| !BLOCKS.contains(&word));
        if role.is_empty() || !role.chars().all(plain) || !bare {
            return None;
        }
        let acts = acts.replace(&format!("\n{indent}  "), &format!("\n{indent}"));
        steps.push(format!("step by {role} {{{acts}}}"));
        left = rest.get(end + 1..)?.trim();
    }
    (steps.len() > 1).then(|| steps.join(&format!("\n{indent}")))
}

/// What no step holds, or what says itself who does it.
const BLOCKS: &[&str] = &["step", "section", "any", "do", "by", "//", "together", "at"];

/// Where the brace is closed that was opened just ahead of a text.
fn closing(text: &str) -> Option<usize> {
    let (mut open, mut in_text, mut escaped) = (1_usize, false, false);
    for (at, sign) in text.char_indices() {
        match sign {
            '"' if !escaped => in_text = !in_text,
            '{' if !in_text => open += 1,
            '}' if !in_text => {
                open -= 1;
                if open == 0 {
                    return Some(at);
                }
            }
            _ => {}
        }
        escaped = sign == '\\' && !escaped;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::lanes;
    use locknut_finding::{FileId, Span};

    fn one_by_one(text: &str) -> Option<String> {
        let start = text.find("together").unwrap_or_default();
        let (start, end) = (u32::try_from(start).ok()?, u32::try_from(text.len()).ok()?);
        lanes(Span::new(FileId(0), start, end), text)
    }

    #[test]
    fn each_lane_becomes_a_step_of_whoever_does_it() {
        let block =
            "  together {\n    fitter { fit bar }\n    mate {\n      remove bar\n    }\n  }";
        let steps = "step by fitter { fit bar }\n  step by mate {\n    remove bar\n  }";
        assert_eq!(one_by_one(block).as_deref(), Some(steps));
        assert_eq!(one_by_one("together { a { step \"x\" { fit bar } } b { remove bar } }"), None);
    }
}

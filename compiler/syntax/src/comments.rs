//! Comments, gathered by one pass over the text; the grammar passes over them.

use crate::tree::Comment;
use locknut_finding::{FileId, Span};
use std::collections::BTreeMap;

/// All comments of a file in written order.
pub(crate) fn gather(file: FileId, text: &str) -> Vec<Comment> {
    let mut comments = Vec::new();
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        if let Some(start) = comment_start(line) {
            let body = line.get(start..).unwrap_or("").trim_end_matches(['\n', '\r']);
            let doc = body.starts_with("///") && !body.starts_with("////");
            let said = body.trim_start_matches('/').trim();
            comments.push(Comment {
                text: said.to_owned(),
                doc,
                span: Span::new(file, byte(at + start), byte(at + start + body.len())),
            });
        }
        at += line.len();
    }
    comments
}

/// Where a line's comment begins: the first `//` outside a text.
pub(crate) fn comment_start(line: &str) -> Option<usize> {
    let bytes = line.as_bytes();
    // Most lines have none.
    memchr::memchr(b'/', bytes)?;
    let mut in_text = false;
    let mut at = 0;
    while let Some(sign) = bytes.get(at) {
        match sign {
            b'\\' if in_text => at += 1,
            b'"' => in_text = !in_text,
            b'/' if !in_text && bytes.get(at + 1) == Some(&b'/') => return Some(at),
            _ => {}
        }
        at += 1;
    }
    None
}

/// Doc comments by the byte of what follows them, lines joined by blanks.
pub(crate) fn docs(text: &str, comments: &[Comment]) -> BTreeMap<u32, String> {
    let mut docs = BTreeMap::new();
    let mut said: Vec<&str> = Vec::new();
    for (position, comment) in comments.iter().enumerate() {
        if !comment.doc {
            continue;
        }
        said.push(&comment.text);
        let end = comment.span.range().end;
        let rest = text.get(end..).unwrap_or("");
        let next = end + (rest.len() - rest.trim_start().len());
        let goes_on = comments
            .get(position + 1)
            .is_some_and(|after| after.doc && after.span.range().start == next);
        if !goes_on {
            docs.insert(byte(next), said.join(" "));
            said.clear();
        }
    }
    docs
}

fn byte(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}

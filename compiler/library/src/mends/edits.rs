//! What a change is in the source, and where a place of the changed source was before.

use super::one_by_one;
use locknut_finding::{Change, Edit, FileId, Span};

/// A text with edits made in it.
pub(super) fn applied(text: &str, edits: &[Edit]) -> String {
    let mut sorted: Vec<&Edit> = edits.iter().collect();
    sorted.sort_by_key(|edit| (edit.span.start, edit.span.end));
    let mut changed = String::with_capacity(text.len() + 64);
    let mut at = 0;
    for edit in sorted {
        let range = edit.span.range();
        changed.push_str(text.get(at..range.start).unwrap_or_default());
        changed.push_str(&edit.text);
        at = range.end.max(at);
    }
    changed.push_str(text.get(at..).unwrap_or_default());
    changed
}

/// The edits that make a change; none where it cannot be made.
pub(super) fn edits(change: &Change, file: FileId, text: &str) -> Option<Vec<Edit>> {
    let insert = |at: u32, what: String| Edit { span: Span::new(file, at, at), text: what };
    let in_file = |span: &Span| span.file == file;
    Some(match change {
        Change::Ahead(of, line) if in_file(of) => {
            vec![insert(of.start, format!("{line}\n{}", depth(text, of.start)))]
        }
        Change::Behind(of, line) if in_file(of) => {
            let end = u32::try_from(with_comment(of.range().end, text)).ok()?;
            vec![insert(end, format!("\n{}{line}", depth(text, of.start)))]
        }
        Change::Last(of, line) if in_file(of) => {
            vec![insert(of.end.checked_sub(1)?, format!("  {line}\n"))]
        }
        Change::MoveAhead(what, of) if in_file(what) && in_file(of) => {
            let (cut, statement) = cut(*what, text)?;
            let depth = depth(text, of.start);
            let moved =
                format!("{}\n{depth}", set_in(statement, &indent(text, what.start), &depth));
            vec![Edit { span: cut, text: String::new() }, insert(of.start, moved)]
        }
        Change::MoveBehind(what, of) if in_file(what) && in_file(of) => {
            let (cut, statement) = cut(*what, text)?;
            let depth = depth(text, of.start);
            let moved =
                format!("\n{depth}{}", set_in(statement, &indent(text, what.start), &depth));
            let end = u32::try_from(with_comment(block_end(*of, text), text)).ok()?;
            vec![Edit { span: cut, text: String::new() }, insert(end, moved)]
        }
        Change::Away(what) if in_file(what) => {
            vec![Edit { span: cut(*what, text)?.0, text: String::new() }]
        }
        Change::Put(at, text) if in_file(at) => {
            vec![Edit { span: *at, text: text.clone() }]
        }
        Change::Bind(block) if in_file(block) && one_by_one::is_together(*block, text) => {
            vec![Edit { span: *block, text: one_by_one::lanes(*block, text)? }]
        }
        Change::Bind(block) if in_file(block) => {
            let rest = text.get(block.range())?;
            let words = rest.find('{')?;
            let end = block.start.checked_add(u32::try_from(words).ok()?)?;
            vec![Edit { span: Span { end, ..*block }, text: String::new() }]
        }
        Change::Ahead(..)
        | Change::Behind(..)
        | Change::Last(..)
        | Change::MoveAhead(..)
        | Change::MoveBehind(..)
        | Change::Away(..)
        | Change::Put(..)
        | Change::Bind(..) => return None,
    })
}

/// A statement of several lines, set in as far as its new place is.
fn set_in(statement: &str, from: &str, to: &str) -> String {
    statement.replace(&format!("\n{from}"), &format!("\n{to}"))
}

/// The blanks at the beginning of the line that a place lies in.
fn indent(text: &str, at: u32) -> String {
    let start = line_start(text, at);
    let line = text.get(start..).unwrap_or_default();
    line.chars().take_while(|sign| *sign == ' ' || *sign == '\t').collect()
}

fn line_start(text: &str, at: u32) -> usize {
    let at = usize::try_from(at).unwrap_or(usize::MAX);
    text.get(..at).and_then(|before| before.rfind('\n')).map_or(0, |newline| newline + 1)
}

/// How deep in a line stands that comes beside a statement; what shares the line of its block stands deeper than that.
fn depth(text: &str, at: u32) -> String {
    let ahead = text.get(line_start(text, at)..).unwrap_or_default();
    let own = usize::try_from(at).unwrap_or_default().saturating_sub(line_start(text, at));
    let first = ahead.get(..own).is_some_and(|ahead| ahead.trim().is_empty());
    let deeper = if first { "" } else { "  " };
    indent(text, at) + deeper
}

/// Where a statement ends, with the block that its line opens.
fn block_end(what: Span, text: &str) -> usize {
    let end = what.range().end;
    let rest = text.get(end..).unwrap_or_default();
    let (mut open, mut in_text, mut escaped) = (0_usize, false, false);
    for (at, sign) in rest.char_indices() {
        match sign {
            '"' if !escaped => in_text = !in_text,
            '{' if !in_text => open += 1,
            '}' if !in_text && open <= 1 => {
                return if open == 1 { end + at + 1 } else { end };
            }
            '}' if !in_text => open -= 1,
            '\n' if open == 0 => return end,
            _ => {}
        }
        escaped = sign == '\\' && !escaped;
    }
    end
}

/// The same place, or the end of its line where only a comment follows: that belongs to what stands ahead of it.
fn with_comment(at: usize, text: &str) -> usize {
    let line = text.get(at..).and_then(|rest| rest.lines().next()).unwrap_or_default();
    if line.trim_start().starts_with("//") { at + line.trim_end().len() } else { at }
}

/// What is taken out of the text for a statement to be gone, and the statement: its whole lines, where it shares them
/// with nothing. None where a block would be left with nothing in it.
fn cut(what: Span, text: &str) -> Option<(Span, &str)> {
    let range = what.range().start..with_comment(block_end(what, text), text);
    let ahead = text.get(..range.start)?;
    let start = line_start(text, what.start);
    let rest = text.get(range.end..)?;
    let line_end = range.end + rest.find('\n').map_or(rest.len(), |newline| newline + 1);
    let (before, behind) = (ahead.trim_end(), rest.trim_start());
    if before.ends_with('{') && behind.starts_with('}') {
        return None;
    }
    let alone = text.get(start..range.start)?.trim().is_empty()
        && text.get(range.end..line_end)?.trim().is_empty();
    let (from, to) = if alone { (start, line_end) } else { (before.len(), range.end) };
    let byte = |at: usize| u32::try_from(at).ok();
    let cut = Span { start: byte(from)?, end: byte(to)?, ..what };
    let statement = text.get(range)?;
    // In the middle of a line there is nothing that could be taken out by itself.
    (alone || before.ends_with('{') || start >= before.len()).then_some((cut, statement))
}

/// A change of an edited text, told in places of the untouched one; none where it speaks of what was
/// put in or taken out.
pub(super) fn back(change: &Change, made: &[Edit]) -> Option<Change> {
    let span = |span: &Span| before(*span, made);
    Some(match change {
        Change::Ahead(of, line) => Change::Ahead(span(of)?, line.clone()),
        Change::Behind(of, line) => Change::Behind(span(of)?, line.clone()),
        Change::Last(of, line) => Change::Last(span(of)?, line.clone()),
        Change::MoveAhead(what, of) => Change::MoveAhead(span(what)?, span(of)?),
        Change::MoveBehind(what, of) => Change::MoveBehind(span(what)?, span(of)?),
        Change::Away(what) => Change::Away(span(what)?),
        Change::Put(at, text) => Change::Put(span(at)?, text.clone()),
        Change::Bind(block) => Change::Bind(span(block)?),
    })
}

/// Where a span of the changed source was before; none where that is new.
pub(super) fn before(span: Span, made: &[Edit]) -> Option<Span> {
    if made.iter().any(|edit| edit.span.file != span.file) {
        return Some(span);
    }
    let (start, end) = (place_before(span.start, made)?, place_before(span.end, made)?);
    Some(Span { start, end, ..span })
}

/// Where a place of the changed source was before; none where that is new.
fn place_before(at: u32, made: &[Edit]) -> Option<u32> {
    let mut edits: Vec<&Edit> = made.iter().collect();
    edits.sort_by_key(|edit| (edit.span.start, edit.span.end));
    let mut moved: i64 = 0;
    for edit in edits {
        let start = i64::from(edit.span.start) + moved;
        let length = i64::try_from(edit.text.len()).ok()?;
        if i64::from(at) < start {
            break;
        }
        if i64::from(at) < start + length {
            return None;
        }
        moved += length - i64::from(edit.span.end - edit.span.start);
    }
    u32::try_from(i64::from(at) - moved).ok()
}

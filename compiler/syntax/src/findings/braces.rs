//! Which brace is missing, by how far the lines are set in: the brace that is left over stands at the end of the file,
//! and the one that is missing does not.

/// A brace outside of texts and comments.
#[derive(Clone, Copy, Debug)]
pub(super) struct Brace {
    pub(super) opens: bool,
    pub(super) at: usize,
}

/// Where a brace is likely missing, or too many.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Likely {
    /// Opened here, and not closed ahead of the line that begins here, if there is one.
    NotClosed { opened: usize, before: Option<usize> },
    /// A block follows this line, which begins and ends here, and nothing opens it.
    NotOpened { from: usize, to: usize },
    /// Closes nothing.
    ClosesNothing { at: usize },
}

/// A line with something in it that is no comment.
#[derive(Clone, Copy)]
struct Line {
    /// Where its first sign stands.
    at: usize,
    end: usize,
    depth: usize,
}

/// The first brace that does not fit how its lines are set in; else the one that is left over; none where each has
/// its other.
pub(super) fn likely(text: &str, braces: &[Brace]) -> Option<Likely> {
    let mut open: Vec<usize> = Vec::new();
    let mut nothing = None;
    for brace in braces {
        if brace.opens {
            open.push(brace.at);
        } else if open.pop().is_none() {
            nothing = nothing.or(Some(Likely::ClosesNothing { at: brace.at }));
        }
    }
    let left = open.last().map(|opened| Likely::NotClosed { opened: *opened, before: None });
    let left_over = nothing.or(left)?;
    Some(misfit(text, braces).unwrap_or(left_over))
}

fn misfit(text: &str, braces: &[Brace]) -> Option<Likely> {
    let lines = lines(text);
    let on = |at: usize| lines.partition_point(|line| line.at <= at).checked_sub(1);
    let depth = |at: usize| on(at).and_then(|line| lines.get(line)).map(|line| line.depth);
    let mut open: Vec<usize> = Vec::new();
    for brace in braces {
        if brace.opens {
            open.push(brace.at);
            continue;
        }
        let first_of_its_line = on(brace.at).and_then(|at| lines.get(at));
        let own = first_of_its_line.filter(|line| line.at == brace.at).map(|line| line.depth);
        let top = open.last().copied();
        let to = on(brace.at).unwrap_or(0);
        if let (Some(own), None) = (own, top) {
            // Nothing at all is open: the head of the whole declaration may lack its brace.
            return Some(not_opened(text, lines.get(..to).unwrap_or_default(), own, brace.at));
        }
        let (Some(own), Some(outer)) = (own, top.and_then(depth)) else {
            if let Some(stray) = behind_its_line(text, &lines, to, top.and_then(on), brace.at) {
                return Some(stray);
            }
            open.pop();
            continue;
        };
        let from = top.and_then(on).unwrap_or(0);
        let between = lines.get(from + 1..to).unwrap_or_default();
        if outer > own && open.iter().any(|opened| depth(*opened) == Some(own)) {
            let before = lines.iter().skip(from + 1).find(|line| line.depth <= outer);
            let opened = top.unwrap_or_default();
            return Some(Likely::NotClosed { opened, before: before.map(|line| line.at) });
        }
        if outer < own {
            return Some(not_opened(text, between, own, brace.at));
        }
        open.pop();
    }
    None
}

/// A brace that closes at the end of a line (`part cap }`) what no line opens: the line over them lacks its brace, or what
/// follows is set in as if nothing were closed.
fn behind_its_line(
    text: &str,
    lines: &[Line],
    to: usize,
    opened_on: Option<usize>,
    at: usize,
) -> Option<Likely> {
    let own = lines.get(to)?;
    let Some(opened_on) = opened_on else {
        let (before, _) = lines.split_at_checked(to)?;
        let over = before.iter().rev().find(|line| line.depth < own.depth);
        let bare = |line: &&Line| {
            let code = text.get(line.at..line.end).unwrap_or_default();
            !code.starts_with('}') && !code.contains('{')
        };
        return Some(match over.filter(bare) {
            Some(line) => Likely::NotOpened { from: line.at, to: line.end },
            None => Likely::ClosesNothing { at },
        });
    };
    let (outer, next) = (lines.get(opened_on)?, lines.get(to + 1)?);
    let goes_on = opened_on < to && next.depth > outer.depth && next.depth <= own.depth;
    goes_on.then_some(Likely::ClosesNothing { at })
}

/// The line over a block that is set in behind it and not opened; else the brace closes nothing.
fn not_opened(text: &str, between: &[Line], own: usize, at: usize) -> Likely {
    let head = between.iter().rposition(|line| line.depth <= own);
    let head = head.filter(|head| head + 1 < between.len()).and_then(|head| between.get(head));
    let bare = |line: &&Line| {
        let code = text.get(line.at..line.end).unwrap_or_default();
        line.depth == own && !code.starts_with('}') && !code.ends_with('{')
    };
    match head.filter(bare) {
        Some(line) => Likely::NotOpened { from: line.at, to: line.end },
        None => Likely::ClosesNothing { at },
    }
}

fn lines(text: &str) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let code_end = crate::comments::comment_start(line).unwrap_or(line.len());
        let code = line.get(..code_end).unwrap_or_default().trim_end();
        let depth = code.len() - code.trim_start().len();
        if depth < code.len() {
            lines.push(Line { at: start + depth, end: start + code.len(), depth });
        }
        start += line.len();
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(text: &str) -> Option<(&'static str, usize)> {
        let braces: Vec<Brace> = text
            .bytes()
            .enumerate()
            .filter(|(_, sign)| b"{}".contains(sign))
            .map(|(at, sign)| Brace { opens: sign == b'{', at })
            .collect();
        let line = |at: usize| text.get(..at).unwrap_or_default().matches('\n').count() + 1;
        Some(match likely(text, &braces)? {
            Likely::NotClosed { opened, before } => {
                ("not closed", before.map_or_else(|| line(opened), line))
            }
            Likely::NotOpened { from, .. } => ("not opened", line(from)),
            Likely::ClosesNothing { at } => ("closes nothing", line(at)),
        })
    }

    #[test]
    fn the_line_is_found_by_how_far_it_is_set_in() {
        assert_eq!(of("a {\n  b {\n    c\n  }\n  d\n}\n"), None);
        assert_eq!(of("a {\n  b\n    c\n  }\n  d {\n    e\n  }\n}\n"), Some(("not opened", 2)));
        assert_eq!(of("a {\n  b\n}\nc\n  d {\n    e\n  }\n  f\n}\n"), Some(("not opened", 4)));
        assert_eq!(of("a {\n  b {\n    c\n  d {\n    e\n  }\n}\n"), Some(("not closed", 4)));
        assert_eq!(of("a {\n  b {\n    c\n  }\n  }\n  d\n}\n"), Some(("closes nothing", 5)));
        assert_eq!(of("a {\n  b\n}\n}\n"), Some(("closes nothing", 4)));
        assert_eq!(of("a {\n  b {\n    c\n  }\n"), Some(("not closed", 1)));
        // A brace at the end of a line: what is over it opens nothing, or what follows it is still inside.
        assert_eq!(of("a\n  b\n  c }\nd {\n  e\n}\n"), Some(("not opened", 1)));
        assert_eq!(of("a {\n  b\n  c }\n  d\n}\n"), Some(("closes nothing", 3)));
        assert_eq!(of("a {\n  b\n  c }\n}\n"), Some(("closes nothing", 4)));
        assert_eq!(of("c }\n"), Some(("closes nothing", 1)));
        // A line that goes on in the next opens where it ends.
        assert_eq!(
            of("a {\n  b c\n      d {\n    e\n  }\n  f {\n    g\n}\n"),
            Some(("not closed", 8))
        );
        // Whoever sets nothing in is told what is left over.
        assert_eq!(of("a {\nb {\nc\n}\n"), Some(("not closed", 1)));
    }
}

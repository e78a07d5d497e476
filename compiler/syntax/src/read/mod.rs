//! Text → tree. The only place that knows pest.

#![expect(
    clippy::wildcard_enum_match_arm,
    reason = "the grammar's rules are many, and each place can meet only a few of them"
)]

mod act;
mod declare;
mod substitute;
mod table;
mod template;
mod terms;
mod value;

pub(crate) use terms::{Terms, without_escapes};

use crate::comments;
use crate::findings::{self, UnclosedBrace, UnclosedText};
use crate::grammar::{Grammar, Rule};
use crate::quick;
use crate::tree::{Comment, Tree};
use locknut_finding::{FileId, Finding, Findings, Span};
use pest::Parser;

type Pair<'a> = pest::iterators::Pair<'a, Rule>;

/// Steps of the grammar that one file may cost: far more than the largest file needs, and an end to
/// whatever hostile input could make of it.
const MOST_STEPS: usize = 400_000_000;

/// Reads one file. Never fails: what cannot be read has a finding and is left out of the tree.
pub fn parse(file: FileId, text: &str) -> (Tree, Findings) {
    let mut found = Findings::default();
    if findings::before_reading(file, text, &mut found) {
        return (Tree::default(), found);
    }
    let comments = comments::gather(file, text);
    let docs = comments::docs(text, &comments);
    if found.reports().is_empty()
        && let Some(declarations) = quick::read(file, text, &docs)
    {
        return (Tree { declarations, broken: false, comments }, found);
    }
    by_grammar(file, text, comments, found)
}

/// Reads a file again that was read before: what is wrong with it is told already.
pub fn parse_again(file: FileId, text: &str) -> Tree {
    let comments = comments::gather(file, text);
    match quick::read(file, text, &comments::docs(text, &comments)) {
        Some(declarations) => Tree { declarations, broken: false, comments },
        None => parse(file, text).0,
    }
}

/// Reads one file by the grammar alone, to what [`parse`] reads it, at many times the cost.
pub fn parse_by_grammar(file: FileId, text: &str) -> (Tree, Findings) {
    let mut found = Findings::default();
    if findings::before_reading(file, text, &mut found) {
        return (Tree::default(), found);
    }
    by_grammar(file, text, comments::gather(file, text), found)
}

fn by_grammar(
    file: FileId,
    text: &str,
    comments: Vec<Comment>,
    found: Findings,
) -> (Tree, Findings) {
    pest::set_call_limit(std::num::NonZeroUsize::new(MOST_STEPS));
    let docs = comments::docs(text, &comments);
    let source = text.to_owned();
    let mut build = Build { file, offset: 0, docs, found, source, unread: 0 };
    let mut tree = Tree { declarations: Vec::new(), broken: false, comments };
    match Grammar::parse(Rule::file, text) {
        Ok(pairs) => build.file(pairs, &mut tree),
        // A brace that is open to the end: what begins at the margin is read piece by piece.
        Err(_) => build.pieces(text, &mut tree),
    }
    (tree, build.found)
}

/// What is being built of one file.
pub(crate) struct Build {
    file: FileId,
    /// Where the piece that is being read begins in the file.
    offset: u32,
    /// Doc comments by the byte of what follows them.
    docs: std::collections::BTreeMap<u32, String>,
    found: Findings,
    source: String,
    /// Pieces that could not be read so far.
    unread: usize,
}

impl Build {
    fn file(&mut self, pairs: pest::iterators::Pairs<'_, Rule>, tree: &mut Tree) {
        for pair in pairs.flat_map(Pair::into_inner) {
            let unread = self.unread;
            let declaration = self.declaration(&pair);
            tree.broken |= declaration.is_none() && self.unread > unread;
            tree.declarations.extend(declaration);
        }
    }

    fn pieces(&mut self, text: &str, tree: &mut Tree) {
        tree.broken = true;
        for (start, piece) in at_the_margin(text) {
            self.offset = u32::try_from(start).unwrap_or(u32::MAX);
            // What cannot be read even so has its brace found already.
            if let Ok(pairs) = Grammar::parse(Rule::file, piece) {
                self.file(pairs, tree);
            }
        }
        self.offset = 0;
    }

    /// Says what is wrong with a piece that fits no rule: read again alone, to learn how far it fits.
    /// Where something on its lines is found already, that is the cause.
    fn bad(&mut self, pair: &Pair<'_>, alone: Rule) {
        self.unread += 1;
        let span = self.span(pair);
        // Where braces do not pair, what stands at the margin has lost its place: that is no fault of its own.
        let unpaired = [UnclosedBrace::PAGE.code(), UnclosedText::PAGE.code()];
        let follows = alone == Rule::only_declaration
            && self.found.reports().iter().any(|report| unpaired.contains(&report.code));
        if follows {
            return;
        }
        let from = self.goes_on_from(span).unwrap_or(span.start);
        let known = self.found.reports().iter().any(|report| {
            let at = report.span();
            at.start <= span.end && from <= at.end
        });
        if !known {
            let error = Grammar::parse(alone, pair.as_str()).err();
            findings::unreadable(&self.source, span, alone, error.as_ref(), &mut self.found);
        }
    }

    /// Where the line ahead begins, of a piece that only goes on with it.
    fn goes_on_from(&self, span: Span) -> Option<u32> {
        let piece = self.source.get(span.range())?;
        let first = piece.split_whitespace().next()?;
        let goes_on = ["because", "unless", "needs", "while", "per", "noting"].contains(&first);
        let ahead = self.source.get(..span.range().start).filter(|_| goes_on)?.trim_end();
        u32::try_from(ahead.rfind('\n')?).ok()
    }

    fn span(&self, pair: &Pair<'_>) -> Span {
        let span = pair.as_span();
        let at = |byte: usize| u32::try_from(byte).unwrap_or(u32::MAX).saturating_add(self.offset);
        Span::new(self.file, at(span.start()), at(span.end()))
    }

    fn doc(&self, pair: &Pair<'_>) -> Option<String> {
        self.docs.get(&self.span(pair).start).cloned()
    }
}

/// Pieces of a file that begin with a declaration's keyword at the margin.
fn at_the_margin(text: &str) -> Vec<(usize, &str)> {
    let mut starts = vec![0];
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        let word: String = line.chars().take_while(|sign| sign.is_alphabetic()).collect();
        if at > 0 && crate::words::DECLARATIONS.contains(&word.as_str()) {
            starts.push(at);
        }
        at += line.len();
    }
    starts.push(text.len());
    starts
        .windows(2)
        .filter_map(|ends| Some((*ends.first()?, text.get(*ends.first()?..*ends.last()?)?)))
        .collect()
}

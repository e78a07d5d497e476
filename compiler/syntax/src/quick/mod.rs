//! Text → tree by straight descent, for files with nothing wrong: most of them, and many times faster.
//!
//! The grammar in `grammar/locknut.pest` is the language; each function here reads one of its rules, in its order, to
//! the same tree. What fits no rule is declined, and the whole file is read by the grammar, which also says why. So a
//! rule that is missing here costs time and nothing else. `tests.rs` holds the two together.

mod act;
mod body;
mod clause;
mod condition;
mod declare;
mod item;
mod limit;
mod value;
mod vocabulary;

#[cfg(test)]
mod tests;

use crate::tree::{Declaration, Name};
use locknut_finding::{FileId, Span};
use std::cell::Cell;
use std::collections::BTreeMap;

/// The deepest that what needs no brackets may stand in each other (`5 % of 5 % of …`).
const DEEPEST: usize = 128;

/// The declarations of a file; none where some of it fits no rule.
pub(crate) fn read(
    file: FileId,
    text: &str,
    docs: &BTreeMap<u32, String>,
) -> Option<Vec<Declaration>> {
    let bytes = text.as_bytes();
    let last = Cell::new((usize::MAX, 0));
    let mut reader = Reader { file, text, bytes, at: 0, docs, last, declined: false, depth: 0 };
    let declarations = reader.file();
    declarations.filter(|_| !reader.declined && reader.at == text.len())
}

/// Where the reading of a file is.
///
/// A rule that does not fit gives `None` and may leave `at` anywhere: whoever tries it puts it back ([`Reader::attempt`]).
struct Reader<'a> {
    file: FileId,
    text: &'a str,
    bytes: &'a [u8],
    at: usize,
    /// Doc comments by the byte of what follows them.
    docs: &'a BTreeMap<u32, String>,
    /// Where the word that was looked at last begins and ends: it is looked at again and again.
    last: Cell<(usize, usize)>,
    /// Something fits no rule: the rest does not matter.
    declined: bool,
    depth: usize,
}

impl<'a> Reader<'a> {
    fn file(&mut self) -> Option<Vec<Declaration>> {
        let mut declarations = Vec::new();
        loop {
            self.ws();
            if self.at == self.bytes.len() {
                return Some(declarations);
            }
            declarations.push(self.declaration()?);
            self.item_end()?;
        }
    }

    /// Tries a rule; where it does not fit, nothing is read.
    fn attempt<T>(&mut self, rule: impl FnOnce(&mut Self) -> Option<T>) -> Option<T> {
        let before = self.at;
        let read = rule(self);
        if read.is_none() {
            self.at = before;
        }
        read
    }

    /// Whether a rule fits here; nothing is read.
    fn fits<T>(&mut self, rule: impl FnOnce(&mut Self) -> Option<T>) -> bool {
        let before = self.at;
        let fits = rule(self).is_some();
        self.at = before;
        fits
    }

    /// What a rule reads, as often as it fits.
    fn all<T>(&mut self, list: &mut Vec<T>, mut rule: impl FnMut(&mut Self) -> Option<T>) {
        while let Some(one) = self.attempt(&mut rule) {
            list.push(one);
        }
    }

    /// The lines of a block up to its closing brace. A line that fits no rule declines the file.
    fn lines<T>(&mut self, mut line: impl FnMut(&mut Self) -> Option<T>) -> Option<Vec<T>> {
        self.sign(b'{')?;
        let mut lines = Vec::new();
        loop {
            self.ws();
            if self.sign(b'}').is_some() {
                // A library keeps all its trees.
                lines.shrink_to_fit();
                return Some(lines);
            }
            let one = if self.declined { None } else { line(self) };
            let Some(one) = one else {
                self.declined = true;
                return None;
            };
            lines.push(one);
        }
    }

    /// One rule within another of its sort, no deeper than is meant.
    fn deeper<T>(&mut self, rule: impl FnOnce(&mut Self) -> Option<T>) -> Option<T> {
        self.depth += 1;
        let read = if self.depth > DEEPEST {
            self.declined = true;
            None
        } else {
            rule(self)
        };
        self.depth -= 1;
        read
    }

    /// The next byte; 0, which stands in no source, at the end.
    fn peek(&self) -> u8 {
        self.byte(self.at)
    }

    fn byte(&self, at: usize) -> u8 {
        self.bytes.get(at).copied().unwrap_or(0)
    }

    fn rest(&self) -> &'a [u8] {
        self.bytes.get(self.at..).unwrap_or_default()
    }

    fn slice(&self, from: usize) -> &'a str {
        self.text.get(from..self.at).unwrap_or_default()
    }

    fn sign(&mut self, sign: u8) -> Option<()> {
        (self.peek() == sign).then(|| self.at += 1)
    }

    fn signs(&mut self, signs: &str) -> Option<()> {
        self.rest().starts_with(signs.as_bytes()).then(|| self.at += signs.len())
    }

    /// Blanks in a line.
    fn sp(&mut self) {
        while matches!(self.peek(), b' ' | b'\t') {
            self.at += 1;
        }
    }

    /// At least one blank in a line.
    fn gap(&mut self) -> Option<()> {
        let before = self.at;
        self.sp();
        (self.at > before).then_some(())
    }

    /// Blanks, line ends and comments.
    fn ws(&mut self) {
        loop {
            match self.peek() {
                b' ' | b'\t'..=b'\r' => self.at += 1,
                b'/' if self.byte(self.at + 1) == b'/' => self.comment(),
                _ => return,
            }
        }
    }

    fn comment(&mut self) {
        let rest = self.rest();
        self.at += rest.iter().position(|sign| *sign == b'\n').unwrap_or(rest.len());
    }

    /// Blanks with a comma, or none, before a clause.
    fn ws_comma(&mut self) {
        self.ws();
        if self.sign(b',').is_some() {
            self.ws();
        }
    }

    fn comma(&mut self) -> Option<()> {
        self.sp();
        self.sign(b',')?;
        self.ws();
        Some(())
    }

    /// The end of a line, or what may stand in its stead.
    fn eol(&mut self) -> Option<()> {
        self.sp();
        if self.rest().starts_with(b"//") {
            self.comment();
            return Some(());
        }
        let ends = matches!(self.peek(), b'\n' | b'{' | b'}' | 0)
            || self.peek() == b'\r' && self.byte(self.at + 1) == b'\n';
        ends.then_some(())
    }

    /// Nothing more may stand in the line.
    fn item_end(&mut self) -> Option<()> {
        self.sp();
        if self.rest().starts_with(b"//") {
            self.comment();
        } else if self.peek() == b'}' {
            return Some(());
        }
        if self.peek() == b'\r' {
            self.at += 1;
        }
        matches!(self.peek(), b'\n' | 0).then_some(())
    }

    /// The word that begins here, if one does.
    fn word(&self) -> &'a str {
        let (mut from, mut end) = self.last.get();
        if from != self.at {
            (from, end) = (self.at, self.word_end());
            self.last.set((from, end));
        }
        self.text.get(from..end).unwrap_or_default()
    }

    fn word_end(&self) -> usize {
        let Some(first) = self.letter(self.at, false) else { return self.at };
        let mut end = first;
        loop {
            match self.byte(end) {
                b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'_' => end += 1,
                b'-' => match self.letter(end + 1, true) {
                    Some(after) => end = after,
                    None => return end,
                },
                0x80.. => match self.name_sign(end) {
                    Some(after) => end = after,
                    None => return end,
                },
                _ => return end,
            }
        }
    }

    /// Where a letter, or a digit where it may be one, ends that stands here.
    fn letter(&self, at: usize, or_digit: bool) -> Option<usize> {
        match self.byte(at) {
            b'a'..=b'z' | b'A'..=b'Z' => Some(at + 1),
            b'0'..=b'9' if or_digit => Some(at + 1),
            0x80.. => {
                let sign = self.char(at)?;
                let digit = || or_digit && pest::unicode::DECIMAL_NUMBER(sign);
                (pest::unicode::LETTER(sign) || digit()).then(|| at + sign.len_utf8())
            }
            _ => None,
        }
    }

    /// Where a sign beyond ASCII ends that may stand in a name.
    fn name_sign(&self, at: usize) -> Option<usize> {
        let sign = self.char(at)?;
        let stands = pest::unicode::LETTER(sign)
            || pest::unicode::MARK(sign)
            || pest::unicode::DECIMAL_NUMBER(sign);
        stands.then(|| at + sign.len_utf8())
    }

    /// Whether a name could not go on here.
    fn name_ends(&self) -> bool {
        match self.peek() {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'_' => false,
            b'-' => self.letter(self.at + 1, true).is_none(),
            0x80.. => self.name_sign(self.at).is_none(),
            _ => true,
        }
    }

    fn char(&self, at: usize) -> Option<char> {
        self.text.get(at..)?.chars().next()
    }

    /// A keyword: a whole word.
    fn keyword(&mut self, word: &str) -> Option<()> {
        (self.word() == word).then(|| self.at += word.len())
    }

    /// Keywords with blanks between them.
    fn keywords(&mut self, words: &[&str]) -> Option<()> {
        for (position, word) in words.iter().enumerate() {
            if position > 0 {
                self.gap()?;
            }
            self.keyword(word)?;
        }
        Some(())
    }

    /// One of some keywords, as a name.
    fn one_of(&mut self, words: &[&str]) -> Option<Name> {
        let word = self.word();
        words.contains(&word).then(|| self.named(word))
    }

    /// Reads on over a word that stands here.
    fn named(&mut self, word: &str) -> Name {
        let from = self.at;
        self.at += word.len();
        Name { text: word.to_owned(), span: self.span(from) }
    }

    /// From some byte to where the reading is.
    fn span(&self, from: usize) -> Span {
        let byte = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
        Span::new(self.file, byte(from), byte(self.at))
    }

    fn doc(&self, from: usize) -> Option<String> {
        self.docs.get(&u32::try_from(from).unwrap_or(u32::MAX)).cloned()
    }
}

/// Whether a word parts the clauses of a line: it is no name.
fn is_clause_word(word: &str) -> bool {
    let among: &[&str] = match word.as_bytes().first() {
        Some(b'a') => &["and", "answers", "at"],
        Some(b'b') => &["because", "by"],
        Some(b'd') => &["despite"],
        Some(b'e') => &["expect"],
        Some(b'f') => &["failing", "for", "from"],
        Some(b'i') => &["in", "independent", "is"],
        Some(b'm') => &["makes"],
        Some(b'n') => &["needs", "not", "noting"],
        Some(b'o') => &["of", "on", "or", "otherwise"],
        Some(b'p') => &["per", "prefer", "proved", "proves"],
        Some(b's') => &["since", "so"],
        Some(b't') => &["takes", "then", "to"],
        Some(b'u') => &["unless", "until", "using", "usually"],
        Some(b'w') => &["where", "while", "with"],
        _ => &[],
    };
    among.contains(&word)
}

//! One pass over the text before it is read: what would mislead the reading, or could not be borne.

use super::{ControlSign, DecimalComma, TooDeep, UnclosedBrace, UnclosedText};
use locknut_finding::{FileId, Findings, Span};

/// The deepest that brackets may stand in each other.
pub(crate) const DEEPEST: usize = 64;
/// The most operators, commas apart, that one line may chain.
pub(crate) const LONGEST_CHAIN: usize = 200;

/// Finds what is wrong before anything is read; true where nothing can be read at all.
pub(crate) fn before_reading(file: FileId, text: &str, found: &mut Findings) -> bool {
    let mut scan = Scan { file, found, open: Vec::new(), hopeless: false, deep: false, chained: 0 };
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        scan.line(line, at);
        at += line.len();
    }
    scan.leftover();
    scan.hopeless
}

struct Scan<'a> {
    file: FileId,
    found: &'a mut Findings,
    /// Brackets that are open, with their places.
    open: Vec<(char, usize)>,
    hopeless: bool,
    deep: bool,
    /// Operators chained so far, over the lines that a statement goes on.
    chained: usize,
}

impl Scan<'_> {
    fn line(&mut self, line: &str, start: usize) {
        let code_end = crate::comments::comment_start(line).unwrap_or(line.len());
        let mut in_text: Option<usize> = None;
        let mut before = (' ', ' ');
        let mut signs = line.char_indices().peekable();
        while let Some((at, sign)) = signs.next() {
            if sign.is_control() && !"\n\r\t".contains(sign) {
                self.found.add(&ControlSign {
                    place: self.span(start + at, sign.len_utf8()),
                    code: u32::from(sign),
                });
                self.hopeless = true;
                return;
            }
            if at >= code_end {
                continue;
            }
            match sign {
                '\\' if in_text.is_some() => {
                    signs.next();
                }
                '"' => in_text = if in_text.is_some() { None } else { Some(at) },
                _ if in_text.is_some() => {}
                '{' | '(' => self.opened(sign, start + at),
                '}' | ')' => self.closed(sign, start + at),
                ',' if before.1.is_ascii_digit()
                    && signs.peek().is_some_and(|(_, next)| next.is_ascii_digit()) =>
                {
                    self.comma(line, start, at);
                }
                '+' | '*' | '/' => self.chained += 1,
                _ => {}
            }
            before = (before.1, sign);
        }
        if let Some(quote) = in_text {
            let place = self.span(start + quote, line.trim_end().len().saturating_sub(quote));
            self.found.add(&UnclosedText { place });
        }
        let code = line.get(..code_end).unwrap_or("").trim();
        let chains = |word: &&str| ["not", "and", "or", "-"].contains(word);
        self.chained += code.split(' ').filter(chains).count();
        if self.chained > LONGEST_CHAIN {
            self.found
                .add(&TooDeep { place: self.span(start, line.trim_end().len()), chain: true });
            self.hopeless = true;
        }
        let goes_on = [" +", " -", " *", " /", " and", " or", " not", "("];
        if self.chained > LONGEST_CHAIN || !goes_on.iter().any(|end| code.ends_with(end)) {
            self.chained = 0;
        }
    }

    fn opened(&mut self, sign: char, at: usize) {
        self.open.push((sign, at));
        if self.open.len() > DEEPEST && !self.deep {
            self.deep = true;
            self.hopeless = true;
            self.found.add(&TooDeep { place: self.span(at, 1), chain: false });
        }
    }

    fn closed(&mut self, sign: char, at: usize) {
        let wanted = if sign == '}' { '{' } else { '(' };
        // A round bracket that is open at a closing brace was forgotten; its line says so.
        while sign == '}' && self.open.last().is_some_and(|(open, _)| *open == '(') {
            self.open.pop();
        }
        if self.open.last().is_some_and(|(open, _)| *open == wanted) {
            self.open.pop();
        } else if sign == '}' {
            self.found.add(&UnclosedBrace { place: self.span(at, 1), opens: false });
        }
    }

    /// `0,35 mm`; a list of whole numbers (`1,2`) is left to the reading.
    fn comma(&mut self, line: &str, start: usize, at: usize) {
        let digits = |text: &str| text.chars().take_while(char::is_ascii_digit).count();
        let head = line.get(..at).unwrap_or("");
        let from = head.len() - head.chars().rev().take_while(char::is_ascii_digit).count();
        let fraction = line.get(at + 1..).unwrap_or("");
        let length = digits(fraction);
        let written = line.get(from..at + 1 + length).unwrap_or("").to_owned();
        let place = self.span(start + from, written.len());
        self.found.add(&DecimalComma { place, written });
    }

    fn leftover(&mut self) {
        if self.deep {
            return;
        }
        if let Some((_, at)) = self.open.iter().rev().find(|(sign, _)| *sign == '{') {
            self.found.add(&UnclosedBrace { place: self.span(*at, 1), opens: true });
        }
    }

    fn span(&self, start: usize, length: usize) -> Span {
        let byte = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
        Span::new(self.file, byte(start), byte(start + length))
    }
}

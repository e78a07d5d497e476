//! One pass over the text before it is read: what would mislead the reading, or could not be borne.

use super::braces::{Brace, Likely, likely};
use super::{ControlSign, DecimalComma, Deep, Lacks, TooDeep, UnclosedBrace, UnclosedText};
use locknut_finding::{FileId, Findings, Span};

/// The deepest that brackets may stand in each other.
pub(crate) const DEEPEST: usize = 64;
/// The most operators, commas apart, that one line may chain.
pub(crate) const LONGEST_CHAIN: usize = 200;

/// The most outcomes that may wait for each other to fail.
pub(crate) const MOST_FAILING: usize = 50;

/// What a line begins with that goes on with the one before.
const JOINS: &[&[u8]] = &[b"+", b"-", b"*", b"/", b"and", b"or"];
/// What a line ends in, besides, that goes on in the next.
const LEADS_ON: &[&[u8]] = &[b"not", b"of"];

/// Finds what is wrong before anything is read; true where nothing can be read at all.
pub(crate) fn before_reading(file: FileId, text: &str, found: &mut Findings) -> bool {
    let mut scan = Scan {
        file,
        found,
        open: Vec::new(),
        commas: Vec::new(),
        braces: Vec::new(),
        hopeless: false,
        deep: false,
        failing: vec![0],
        chained: 0,
        on: false,
    };
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        scan.line(line, at);
        at += line.len();
    }
    scan.leftover(text);
    scan.hopeless
}

struct Scan<'a> {
    file: FileId,
    found: &'a mut Findings,
    /// Brackets that are open, with their places.
    open: Vec<(char, usize)>,
    /// Decimal commas of the line.
    commas: Vec<(Span, String)>,
    /// Every brace.
    braces: Vec<Brace>,
    hopeless: bool,
    deep: bool,
    /// How often `failing that` stands directly in the file, and in each bracket that is open.
    failing: Vec<usize>,
    /// Operators chained so far, over the lines that a statement goes on.
    chained: usize,
    /// Whether the statement of the line before goes on in this one.
    on: bool,
}

impl Scan<'_> {
    fn line(&mut self, line: &str, start: usize) {
        let code_end = crate::comments::comment_start(line).unwrap_or(line.len());
        let code = line.as_bytes().get(..code_end).unwrap_or_default().trim_ascii();
        let mut words = code.split(u8::is_ascii_whitespace);
        let last = words.clone().next_back().unwrap_or_default();
        let goes_on = code.ends_with(b"(") || JOINS.contains(&last) || LEADS_ON.contains(&last);
        self.on |= words.next().is_some_and(|first| JOINS.contains(&first));
        // A line without code is passed over.
        if !self.on && !code.is_empty() {
            self.chained = 0;
        }
        let mut in_text: Option<usize> = None;
        // All that means something here is a sign of one byte.
        let mut bytes = line.bytes().enumerate();
        while let Some((at, sign)) = bytes.next() {
            if sign.is_ascii_alphanumeric() || sign == b' ' {
                continue;
            }
            if Self::is_control(line.as_bytes().get(at..).unwrap_or_default()) {
                self.control(line, start, at);
                return;
            }
            if at >= code_end {
                continue;
            }
            match sign {
                b'\\' if in_text.is_some() => {
                    bytes.next();
                }
                b'"' => in_text = if in_text.is_some() { None } else { Some(at) },
                _ if in_text.is_some() => {}
                b'{' | b'(' => self.opened(char::from(sign), start + at),
                b'}' | b')' => self.closed(char::from(sign), start + at),
                b',' if line.as_bytes().get(at + 1).is_some_and(u8::is_ascii_digit) => {
                    self.comma(line, start, at);
                }
                b'+' | b'*' | b'/' => self.chained += 1,
                _ => {}
            }
        }
        if !self.commas.is_empty() {
            let numbers = std::mem::take(&mut self.commas);
            self.found.add(&DecimalComma { numbers });
        }
        if let Some(quote) = in_text {
            let code = self.unpaired(line, start, quote);
            // What opens a block behind it is not meant as words.
            if code.ends_with('{') {
                self.opened('{', start + code.len() - 1);
            }
        }
        // No line of this length chains too much alone.
        if goes_on || self.on || line.len() > LONGEST_CHAIN {
            let all = code.split(u8::is_ascii_whitespace);
            self.chained +=
                all.filter(|word| matches!(*word, b"not" | b"and" | b"or" | b"of" | b"-")).count();
        }
        if self.chained > LONGEST_CHAIN {
            self.chained = 0;
            self.too_deep(start, line, Deep::Chain);
        }
        if !code.is_empty() {
            self.on = goes_on;
        }
        self.failing(code, start, line);
    }

    /// Of quotes of which one is missing; what of the line is left without its comment.
    fn unpaired<'l>(&mut self, line: &'l str, start: usize, last: usize) -> &'l str {
        let first = line.find('"').unwrap_or(last);
        if !closes_nothing(line, first) {
            let place = self.span(start + last, line.trim_end().len().saturating_sub(last));
            self.found.add(&UnclosedText { place, lacks: Lacks::Closing });
            return line.trim_end();
        }
        let begun = first_word(line.get(..first).unwrap_or_default());
        let lacks = Lacks::Opening(begun.map(|at| self.span(start + at, 0)));
        self.found.add(&UnclosedText { place: self.span(start + first, 1), lacks });
        let behind = line.get(first..).unwrap_or_default();
        let end = behind.find("//").map_or(line.len(), |comment| first + comment);
        line.get(..end).unwrap_or_default().trim_end()
    }

    fn failing(&mut self, code: &[u8], start: usize, line: &str) {
        // Most lines have none.
        if memchr::memmem::find(code, b"failing").is_none() {
            return;
        }
        let more = code.split(u8::is_ascii_whitespace).filter(|word| *word == b"failing").count();
        if let Some(here) = self.failing.last_mut() {
            *here += more;
        }
        if self.failing.iter().sum::<usize>() > MOST_FAILING {
            self.failing.fill(0);
            self.too_deep(start, line, Deep::Failing);
        }
    }

    fn too_deep(&mut self, start: usize, line: &str, what: Deep) {
        let place = self.span(start, line.trim_end().len());
        self.found.add(&TooDeep { place, what });
        self.hopeless = true;
    }

    /// A control sign of ASCII, or of the block behind it (U+0080 to U+009F), blanks and line ends apart. What ends a line
    /// for some editors only (a carriage return alone, U+2028, U+2029) would let a comment swallow the line behind it.
    fn is_control(rest: &[u8]) -> bool {
        match rest {
            [] | [b'\n' | b'\t', ..] | [b'\r', b'\n', ..] => false,
            [0xC2, next, ..] => *next < 0xA0,
            [0xE2, 0x80, 0xA8 | 0xA9, ..] => true,
            [sign, ..] => sign.is_ascii_control(),
        }
    }

    fn control(&mut self, line: &str, start: usize, at: usize) {
        let sign = line.get(at..).and_then(|rest| rest.chars().next()).unwrap_or_default();
        let place = self.span(start + at, sign.len_utf8());
        self.found.add(&ControlSign { place, code: u32::from(sign) });
        self.hopeless = true;
    }

    fn opened(&mut self, sign: char, at: usize) {
        self.open.push((sign, at));
        self.failing.push(0);
        if sign == '{' {
            self.braces.push(Brace { opens: true, at });
        }
        if self.open.len() > DEEPEST && !self.deep {
            self.deep = true;
            self.hopeless = true;
            self.found.add(&TooDeep { place: self.span(at, 1), what: Deep::Blocks });
        }
    }

    fn left(&mut self) {
        self.open.pop();
        self.failing.pop();
    }

    fn closed(&mut self, sign: char, at: usize) {
        let wanted = if sign == '}' { '{' } else { '(' };
        // A round bracket that is open at a closing brace was forgotten; its line says so.
        while sign == '}' && self.open.last().is_some_and(|(open, _)| *open == '(') {
            self.left();
        }
        if self.open.last().is_some_and(|(open, _)| *open == wanted) {
            self.left();
        }
        if sign == '}' {
            self.braces.push(Brace { opens: false, at });
        }
    }

    /// `0,35 mm`, `1,200 s`
    fn comma(&mut self, line: &str, start: usize, at: usize) {
        let sign = |at: usize| line.as_bytes().get(at).copied().unwrap_or_default();
        let digit = |at: usize| sign(at).is_ascii_digit();
        let before = |at: usize| at.checked_sub(1).is_some_and(digit);
        // Points and commas between digits, but not the two of a range.
        let joins = |at: usize| matches!(sign(at), b'.' | b',') && before(at) && digit(at + 1);
        let of_figure = |at: &usize| digit(*at) || joins(*at);
        let from = (0..at).rev().take_while(of_figure).last().unwrap_or(at);
        let to = (at..line.len()).take_while(of_figure).last().unwrap_or(at) + 1;
        let place = self.span(start + from, to - from);
        let known = self.commas.last().is_some_and(|(known, _)| place.start <= known.start);
        if from < at && !known {
            self.commas.push((place, line.get(from..to).unwrap_or("").to_owned()));
        }
    }

    fn leftover(&mut self, text: &str) {
        if self.deep {
            return;
        }
        let Some(likely) = likely(text, &self.braces) else { return };
        let first_word = |at: usize| {
            let rest = text.get(at..).unwrap_or_default();
            self.span(at, rest.split_whitespace().next().unwrap_or_default().len())
        };
        self.found.add(&match likely {
            Likely::NotClosed { opened, before } => UnclosedBrace::NotClosed {
                opened: self.span(opened, 1),
                before: before.map(first_word),
            },
            Likely::NotOpened { from, to } => {
                let line = text.get(from..to).unwrap_or_default();
                // What others open a block with stands in its place.
                let kept = line.trim_end_matches(['(', ':', '[', ' ']).len();
                let end = self.span(from + kept, line.len() - kept);
                UnclosedBrace::NotOpened { line: self.span(from, line.len()), end }
            }
            Likely::ClosesNothing { at } => {
                UnclosedBrace::ClosesNothing { place: self.span(at, 1) }
            }
        });
    }

    fn span(&self, start: usize, length: usize) -> Span {
        let byte = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
        Span::new(self.file, byte(start), byte(start + length))
    }
}

/// Words behind which a text begins.
const AHEAD_OF_TEXTS: &[&str] = &[
    "because ",
    "title ",
    "note ",
    "noting ",
    "confirm ",
    "stop ",
    "refer to ",
    "sign ",
    "per ",
    "danger ",
    "warning ",
    "caution ",
    "notice ",
    "section ",
];

/// Whether the first quote of a line ends words that no quote begins.
fn closes_nothing(line: &str, quote: usize) -> bool {
    let ahead = line.get(..quote).unwrap_or_default();
    let behind = line.get(quote + 1..).unwrap_or_default();
    ahead.ends_with(|sign: char| !sign.is_whitespace() && !"({,".contains(sign))
        && !behind.starts_with(|sign: char| sign.is_alphanumeric())
}

/// Where the text begins that ends with this part of a line.
fn first_word(ahead: &str) -> Option<usize> {
    let word = |lead: &&str| {
        let at = ahead.rfind(*lead)?;
        let apart = ahead.get(..at)?.ends_with(|sign: char| !sign.is_whitespace());
        (!apart).then_some(at + lead.len())
    };
    let behind_word = AHEAD_OF_TEXTS.iter().filter_map(word).min();
    // A sentence begins with a capital, and no name of a step does.
    let capital = || {
        let mut words = ahead.char_indices().zip(std::iter::once(' ').chain(ahead.chars()));
        words.find(|((_, sign), before)| sign.is_uppercase() && before.is_whitespace())
    };
    behind_word.or_else(|| capital().map(|((at, _), _)| at))
}

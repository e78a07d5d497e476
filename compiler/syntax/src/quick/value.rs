//! Names, numbers, quantities, texts, expressions.

use super::{Reader, is_clause_word};
use crate::read::{Terms, without_escapes};
use crate::tree::{Expression, Name, Number, Operator, Piece, Quantity, Text};

const ARTICLES: &[&str] =
    &["the", "The", "a", "A", "an", "An", "der", "die", "das", "Der", "Die", "Das", "den", "dem"];

/// Words behind a unit.
const QUALIFIERS: &[&str] = &["gauge", "absolute", "difference"];

impl Reader<'_> {
    /// A word that is no clause word.
    pub(super) fn name(&mut self) -> Option<Name> {
        let word = self.word();
        (!word.is_empty() && !is_clause_word(word)).then(|| self.named(word))
    }

    /// Any word, clause words too.
    pub(super) fn any_word(&mut self) -> Option<Name> {
        let word = self.word();
        (!word.is_empty()).then(|| self.named(word))
    }

    /// Names parted by commas that may stand before a line's end.
    pub(super) fn comma_names(&mut self) -> Option<Vec<Name>> {
        let mut names = vec![self.name()?];
        self.all(&mut names, |reader| {
            reader.comma()?;
            reader.name()
        });
        Some(names)
    }

    /// A designation: `M16x1.5`, `8.8`, `A2-70`, `1/4-20-UNC`.
    pub(super) fn designation(&mut self) -> Option<Name> {
        let first = self.letter(self.at, true)?;
        Some(self.designated(first))
    }

    /// A word in an attribute, which may hold a point or a stroke.
    pub(super) fn attribute_word(&mut self) -> Option<Name> {
        if let Some(thread) = self.attempt(Self::unified_thread) {
            return Some(thread);
        }
        let first = self.letter(self.at, false)?;
        Some(self.designated(first))
    }

    fn designated(&mut self, first: usize) -> Name {
        let from = self.at;
        self.at = first;
        loop {
            let after = match self.peek() {
                b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'_' => Some(self.at + 1),
                b'-' | b'.' | b'/' => self.letter(self.at + 1, true),
                0x80.. => self.name_sign(self.at),
                _ => None,
            };
            match after {
                Some(after) => self.at = after,
                None => break,
            }
        }
        Name { text: self.slice(from).to_owned(), span: self.span(from) }
    }

    /// `1/4-20-UNC`, `1-1/8-7-UNC`
    pub(super) fn unified_thread(&mut self) -> Option<Name> {
        let from = self.at;
        self.digits()?;
        if self.sign(b'/').is_some() {
            self.digits()?;
        } else {
            let _over_an_inch: Option<usize> = self.attempt(|reader| {
                reader.sign(b'-')?;
                reader.digits()?;
                reader.sign(b'/')?;
                reader.digits()
            });
        }
        self.sign(b'-')?;
        self.digits()?;
        self.signs("-UN")?;
        let letters = self.rest().iter().take_while(|sign| sign.is_ascii_alphabetic()).count();
        self.at += letters;
        let name = Name { text: self.slice(from).to_owned(), span: self.span(from) };
        (letters > 0 && self.name_ends()).then_some(name)
    }

    pub(super) fn digits(&mut self) -> Option<usize> {
        let digits = self.rest().iter().take_while(|sign| sign.is_ascii_digit()).count();
        self.at += digits;
        (digits > 0).then_some(digits)
    }

    /// A sign sticks to its digits; groups of three by one blank; a digit after every point.
    pub(super) fn number(&mut self) -> Option<Number> {
        let from = self.at;
        if self.sign(b'-').is_none() {
            let _minus: Option<()> = self.signs("\u{2212}");
        }
        let digits = self.at;
        let length = self.digits()?;
        if length <= 3 {
            while self.group_of_three() {
                self.at += 4;
            }
        }
        let _fraction = self.attempt(|reader| {
            reader.sign(b'.')?;
            reader.digits()
        });
        let written = self.slice(from);
        let plain = digits - from <= 1 && !written.contains(' ');
        let text = if plain {
            written.to_owned()
        } else {
            written.replace(' ', "").replace('\u{2212}', "-")
        };
        Some(Number { text, span: self.span(from) })
    }

    /// Whether a blank and just three digits stand here.
    fn group_of_three(&self) -> bool {
        let digit = |ahead: usize| self.byte(self.at + ahead).is_ascii_digit();
        self.peek() == b' ' && digit(1) && digit(2) && digit(3) && !digit(4)
    }

    pub(super) fn unit(&mut self) -> Option<Name> {
        let from = self.at;
        match self.peek() {
            b'a'..=b'z' | b'A'..=b'Z' | b'%' => {}
            0x80.. => {
                let sign = self.char(from)?;
                let stands = pest::unicode::LETTER(sign) || "°″′µΩ‰".contains(sign);
                stands.then_some(())?;
            }
            _ => return None,
        }
        let word = self.word();
        if is_clause_word(word)
            || QUALIFIERS.contains(&word)
            || matches!(word, "x" | "up" | "times" | "guarded")
            || word == "as" && self.fits(|reader| reader.keywords(&["as", "read"]))
        {
            return None;
        }
        self.at += self.char(from)?.len_utf8();
        loop {
            let after = match self.peek() {
                b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' => Some(self.at + 1),
                b'.' | b'/' | b'-' | b'^' | b'*' => self.letter(self.at + 1, true),
                0x80.. => self.char(self.at).and_then(|sign| {
                    let stands = pest::unicode::LETTER(sign)
                        || pest::unicode::DECIMAL_NUMBER(sign)
                        || "·²³°µΩ".contains(sign);
                    stands.then(|| self.at + sign.len_utf8())
                }),
                _ => None,
            };
            match after {
                Some(after) => self.at = after,
                None => break,
            }
        }
        Some(Name { text: self.slice(from).to_owned(), span: self.span(from) })
    }

    pub(super) fn quantity(&mut self) -> Option<Quantity> {
        let from = self.at;
        let number = self.number()?;
        let unit = self.attempt(|reader| {
            reader.sp();
            reader.unit()
        });
        let qualifier = self.attempt(|reader| {
            reader.gap()?;
            reader.one_of(QUALIFIERS)
        });
        let qualifier = qualifier.map(Box::new);
        Some(Quantity { number, unit, qualifier, span: self.span(from) })
    }

    /// Text in double quotes, on one line.
    pub(super) fn quoted(&mut self) -> Option<Text> {
        let from = self.at;
        self.sign(b'"')?;
        let mut pieces = Vec::new();
        while self.peek() != b'"' {
            let hole = if self.peek() == b'{' { self.attempt(Self::hole) } else { None };
            pieces.push(match hole {
                Some(hole) => hole,
                None => self.plain()?,
            });
        }
        self.at += 1;
        pieces.shrink_to_fit();
        Some(Text { pieces, span: self.span(from) })
    }

    /// Plain words of a text, with its escapes.
    fn plain(&mut self) -> Option<Piece> {
        let from = self.at;
        loop {
            match (self.peek(), self.byte(self.at + 1)) {
                (b'{', b'{') | (b'}', b'}') | (b'\\', b'"' | b'\\') => self.at += 2,
                (b'"' | b'{' | b'}' | b'\n' | 0, _) => break,
                _ => self.at += 1,
            }
        }
        let text = without_escapes(self.slice(from));
        (self.at > from).then(|| Piece::Plain { text, span: self.span(from) })
    }

    /// A checked place of a text.
    fn hole(&mut self) -> Option<Piece> {
        let from = self.at;
        self.sign(b'{')?;
        if self.peek() == b'{' {
            return None;
        }
        self.sp();
        let article = self.attempt(|reader| {
            let article = reader.one_of(ARTICLES)?;
            reader.gap()?;
            reader.fits(Self::name).then_some(article)
        });
        let value = Box::new(self.expression()?);
        self.sp();
        self.sign(b'}')?;
        Some(Piece::Hole { article, value, span: self.span(from) })
    }

    /// Terms and operators in written order, settled by precedence afterwards.
    pub(super) fn expression(&mut self) -> Option<Expression> {
        let first = self.term()?;
        self.terms_behind(first, Self::term)
    }

    /// An expression in which `at` says no point.
    pub(super) fn dimension(&mut self) -> Option<Expression> {
        let first = self.dimension_term()?;
        self.terms_behind(first, Self::dimension_term)
    }

    fn terms_behind(
        &mut self,
        first: Expression,
        term: fn(&mut Self) -> Option<Expression>,
    ) -> Option<Expression> {
        let mut terms: Option<Terms> = None;
        let mut only = Some(first);
        while let Some((operator, next)) = self.attempt(|reader| {
            reader.ws();
            let operator = reader.operator()?;
            reader.ws();
            Some((operator, term(reader)?))
        }) {
            let terms = terms.get_or_insert_with(Terms::default);
            terms.terms.extend(only.take());
            terms.operators.push(operator);
            terms.terms.push(next);
        }
        terms.map_or(only, Terms::settled)
    }

    /// An operator has a blank on both sides.
    fn operator(&mut self) -> Option<Operator> {
        let operator = match self.peek() {
            b'+' => Operator::Add,
            b'-' => Operator::Subtract,
            b'*' => Operator::Multiply,
            b'/' => Operator::Divide,
            _ => {
                self.signs("\u{2212}")?;
                self.at -= 1;
                Operator::Subtract
            }
        };
        self.at += 1;
        matches!(self.peek(), b' ' | b'\t' | b'\r' | b'\n').then_some(operator)
    }

    fn at_number(&self) -> bool {
        matches!(self.peek(), b'0'..=b'9' | b'-') || self.rest().starts_with("\u{2212}".as_bytes())
    }

    fn term(&mut self) -> Option<Expression> {
        if self.at_number()
            && let Some(quantity) = self.attempt(Self::quantity_or_percent)
        {
            return Some(quantity);
        }
        self.no_number(true)
    }

    fn dimension_term(&mut self) -> Option<Expression> {
        if self.at_number()
            && let Some(quantity) = self.attempt(Self::quantity)
        {
            return Some(Expression::Quantity(quantity));
        }
        self.no_number(false)
    }

    fn no_number(&mut self, points: bool) -> Option<Expression> {
        match self.peek() {
            b'(' => self.group(),
            _ if self.at_number() => self.negative(),
            _ => self.name_call_or_point(points),
        }
    }

    /// `10 mm`, `102 % of Q`
    fn quantity_or_percent(&mut self) -> Option<Expression> {
        let from = self.at;
        let quantity = self.quantity()?;
        let of = |reader: &mut Self| {
            reader.gap()?;
            reader.keyword("of")
        };
        if !self.fits(of) {
            return Some(Expression::Quantity(quantity));
        }
        of(self)?;
        self.sp();
        let of = Box::new(self.deeper(Self::term)?);
        Some(Expression::PercentOf { percent: Box::new(quantity), of, span: self.span(from) })
    }

    /// `max(gap)`, `gap at top`, `span^2`, `gap`
    fn name_call_or_point(&mut self, points: bool) -> Option<Expression> {
        let from = self.at;
        let name = self.name()?;
        if self.peek() == b'('
            && let Some(arguments) = self.attempt(Self::arguments)
        {
            return Some(Expression::Call { function: name, arguments, span: self.span(from) });
        }
        if points && let Some(point) = self.attempt(Self::point) {
            return Some(Expression::Point { reading: name, point });
        }
        let base = Expression::Name(name);
        let before = self.at;
        let exponent = self.attempt(|reader| {
            reader.sign(b'^')?;
            reader.digits()
        });
        Some(match exponent {
            Some(_) => Terms::power(&base, self.slice(before), self.span(before)),
            None => base,
        })
    }

    fn arguments(&mut self) -> Option<Vec<Expression>> {
        self.sign(b'(')?;
        self.ws();
        let mut arguments = vec![self.expression()?];
        self.all(&mut arguments, |reader| {
            reader.comma()?;
            reader.expression()
        });
        self.ws();
        self.sign(b')')?;
        Some(arguments)
    }

    fn point(&mut self) -> Option<Name> {
        self.gap()?;
        self.keyword("at")?;
        if self.fits(|reader| {
            reader.sp();
            reader.one_of(&["most", "least", "the", "each"])
        }) {
            return None;
        }
        self.gap()?;
        self.name()
    }

    /// `-x`
    fn negative(&mut self) -> Option<Expression> {
        let from = self.at;
        if self.sign(b'-').is_none() {
            self.signs("\u{2212}")?;
        }
        let of = if self.peek() == b'(' { self.group()? } else { self.call_or_name()? };
        Some(Expression::Negative(Box::new(of), self.span(from)))
    }

    fn call_or_name(&mut self) -> Option<Expression> {
        let from = self.at;
        let name = self.name()?;
        Some(match self.attempt(Self::arguments) {
            Some(arguments) => {
                Expression::Call { function: name, arguments, span: self.span(from) }
            }
            None => Expression::Name(name),
        })
    }

    /// `(a + b)`
    fn group(&mut self) -> Option<Expression> {
        self.sign(b'(')?;
        self.ws();
        let expression = self.expression()?;
        self.ws();
        self.sign(b')')?;
        Some(expression)
    }
}

//! Names, numbers, quantities, limits, expressions, conditions, text.

use locknut_finding::Span;

/// `span^6`: no sum of a workshop has a greater power.
pub const GREATEST_POWER: usize = 6;

/// A name or a word, as written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Name {
    /// E.g. `brake-cover`.
    pub text: String,
    /// Where.
    pub span: Span,
}

/// A number as written: `-0.1`, `60 000`; the sign `−` is kept as `-`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Number {
    /// Digits with an optional sign and point; blanks between groups of three are taken out.
    pub text: String,
    /// Where, with its blanks.
    pub span: Span,
}

/// A number with an optional unit: `0.35 mm`, `45°`, `4 %`, `2.5 bar gauge`, `3`.
///
/// In `0.2 .. 1.6 mm` the unit is only on the last number; whoever reads the range lends it to the
/// first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quantity {
    /// The number.
    pub number: Number,
    /// The unit's spelling as written, e.g. `N·m`, `Nm`, `%`, `°C`.
    pub unit: Option<Name>,
    /// `gauge` or `absolute`.
    pub qualifier: Option<Box<Name>>,
    /// From the number to the unit.
    pub span: Span,
}

/// What may stand where a value is wanted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Expression {
    /// `0.35 mm`
    Quantity(Quantity),
    /// A value, limit, reading or choice.
    Name(Name),
    /// `gap at top`
    Point { reading: Name, point: Name },
    /// `max(gap)`
    Call { function: Name, arguments: Vec<Expression>, span: Span },
    /// `a + b`; the span covers both sides.
    Binary { operator: Operator, left: Box<Expression>, right: Box<Expression>, span: Span },
    /// `-a`
    Negative(Box<Expression>, Span),
    /// `102 % of Q`
    PercentOf { percent: Box<Quantity>, of: Box<Expression>, span: Span },
}

/// The operators, weakest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Operator {
    /// `+`
    Add,
    /// `-`
    Subtract,
    /// `*`
    Multiply,
    /// `/`
    Divide,
}

/// A limit or range, in any form of the language.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Limit {
    /// How it is said.
    pub form: LimitForm,
    /// All of it, without `per`.
    pub span: Span,
}

/// How a limit is said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LimitForm {
    /// `at most a` (closed)
    AtMost(Expression),
    /// `at least a` (closed)
    AtLeast(Expression),
    /// `under a` (open)
    Under(Expression),
    /// `over a` (open)
    Over(Expression),
    /// `a .. b` (closed)
    Between(Expression, Box<Expression>),
    /// `over a to b` (open below, closed above)
    OverTo(Expression, Box<Expression>),
    /// `a .. b .. c`: shortest, likely, longest.
    Triple(Expression, Box<Expression>, Box<Expression>),
    /// `a ± t`; the tolerance may be a percent of the value.
    PlusMinus(Expression, Box<Expression>),
    /// `20 mm +0.1/-0.2 mm`: middle, upper and lower deviation with their signs.
    Unequal(Expression, Box<Quantity>, Box<Quantity>),
    /// A single value, or the name of a limit or value.
    Just(Expression),
}

/// A condition on states, variants and readings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Condition {
    /// `supply is [not] [proved] live or isolated [for [under] D]`
    Is {
        /// A state, element, tool, observation.
        subject: Name,
        /// `at north`: the one that stands there.
        point: Option<Name>,
        /// `is not`
        negated: bool,
        /// `is proved`
        proved: bool,
        /// One or several values, joined by `or`.
        values: Vec<Name>,
        /// `for D`; the flag tells `for under D`.
        lasting: Option<(Box<Expression>, bool)>,
        /// All of it.
        span: Span,
    },
    /// `series B or C`
    Series { values: Vec<Name>, span: Span },
    /// `serial from 2044`, `serial to 2043`, `serial 2044 .. 2100`: bounds as whole numbers.
    Serial { from: Option<Number>, to: Option<Number>, span: Span },
    /// `gap over 0.2 mm`, `max(gap) at most 1 mm`
    Within { value: Box<Expression>, limit: Box<Limit>, span: Span },
    /// In a vocabulary: `each fastens is in-place`.
    Each { relation: Name, negated: bool, values: Vec<Name>, span: Span },
    /// In a vocabulary: a mark or a conditional attribute, e.g. `single use`, `dead`.
    Mark { words: Vec<Name>, span: Span },
    /// `not …`
    Not(Box<Condition>, Span),
    /// `… and …`, two or more.
    And(Vec<Condition>, Span),
    /// `… or …`, two or more.
    Or(Vec<Condition>, Span),
}

/// Text in double quotes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Text {
    /// What it is made of, in order.
    pub pieces: Vec<Piece>,
    /// With its quotes.
    pub span: Span,
}

/// A piece of a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Piece {
    /// Plain words, escapes resolved; the span is as written.
    Plain { text: String, span: Span },
    /// `{the brake-disc}`, `{10 mm}`, `{gap}`: checked, and printed in the reader's language and units.
    Hole { article: Option<Name>, value: Box<Expression>, span: Span },
}

impl Expression {
    /// Where it stands.
    pub fn span(&self) -> Span {
        match self {
            Self::Quantity(quantity) => quantity.span,
            Self::Name(name) => name.span,
            Self::Point { reading, point } => reading.span.to(point.span),
            Self::Call { span, .. }
            | Self::Binary { span, .. }
            | Self::Negative(_, span)
            | Self::PercentOf { span, .. } => *span,
        }
    }
}

impl Condition {
    /// Where it stands.
    pub fn span(&self) -> Span {
        match self {
            Self::Is { span, .. }
            | Self::Series { span, .. }
            | Self::Serial { span, .. }
            | Self::Within { span, .. }
            | Self::Each { span, .. }
            | Self::Mark { span, .. }
            | Self::Not(_, span)
            | Self::And(_, span)
            | Self::Or(_, span) => *span,
        }
    }
}

impl Text {
    /// The text as one string, holes as their source says them, for titles and names.
    pub fn plain(&self) -> String {
        let mut all = String::new();
        for piece in &self.pieces {
            match piece {
                Piece::Plain { text, .. } => all.push_str(text),
                Piece::Hole { value, .. } => {
                    if let Expression::Name(name) = &**value {
                        all.push_str(&name.text);
                    } else {
                        all.push('…');
                    }
                }
            }
        }
        all
    }
}

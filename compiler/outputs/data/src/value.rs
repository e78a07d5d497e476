//! Numbers, limits, conditions and expressions as they are written on disk.

use locknut_graph::{Between, Condition, Expression, Fold, Operator, Prose, ProsePiece, Test};
use locknut_quantity::{Exact, Limit, Quantity, Range, Units};
use serde::Serialize;

/// An exact number: `"7"` or `"7/20"`.
pub(crate) fn exact(value: &Exact) -> String {
    value.to_string()
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct QuantityData {
    pub(crate) value: String,
    pub(crate) kind: String,
    pub(crate) unit: String,
    pub(crate) decimals: u32,
    pub(crate) written: String,
}

pub(crate) fn quantity(from: &Quantity, units: &Units) -> QuantityData {
    QuantityData {
        value: exact(&from.value),
        kind: units.kind(from.kind).name.clone(),
        unit: units.unit(from.unit).name.clone(),
        decimals: from.decimals,
        written: from.written.clone(),
    }
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct BoundData {
    pub(crate) value: String,
    pub(crate) closed: bool,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct RangeData {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) lower: Option<BoundData>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) upper: Option<BoundData>,
}

pub(crate) fn range(from: &Range) -> RangeData {
    let bound = |bound: &locknut_quantity::Bound| BoundData {
        value: exact(&bound.value),
        closed: bound.closed,
    };
    RangeData { lower: from.lower.as_ref().map(bound), upper: from.upper.as_ref().map(bound) }
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct LimitData {
    pub(crate) range: RangeData,
    pub(crate) kind: String,
    pub(crate) unit: String,
    pub(crate) decimals: u32,
    pub(crate) written: String,
}

pub(crate) fn limit(from: &Limit, units: &Units) -> LimitData {
    LimitData {
        range: range(&from.range),
        kind: units.kind(from.kind).name.clone(),
        unit: units.unit(from.unit).name.clone(),
        decimals: from.decimals,
        written: from.written.clone(),
    }
}

#[derive(Clone, Debug, Serialize)]
#[serde(tag = "is", rename_all = "kebab-case")]
pub(crate) enum ConditionData {
    Always { so: bool },
    Value { variable: u16, values: Vec<u8> },
    Proved { variable: u16, values: Vec<u8> },
    Held { variable: u16, values: Vec<u8>, seconds: String, under: bool },
    Within { value: ExpressionData, range: RangeData },
    Not { of: Box<ConditionData> },
    All { of: Vec<ConditionData> },
    Any { of: Vec<ConditionData> },
}

pub(crate) fn condition(from: &Condition, units: &Units) -> ConditionData {
    let each = |parts: &[Condition]| parts.iter().map(|part| condition(part, units)).collect();
    match from {
        Condition::Always(so) => ConditionData::Always { so: *so },
        Condition::Not(inner) => ConditionData::Not { of: Box::new(condition(inner, units)) },
        Condition::All(parts) => ConditionData::All { of: each(parts) },
        Condition::Any(parts) => ConditionData::Any { of: each(parts) },
        Condition::Test(test) => self::test(test, units),
    }
}

fn test(from: &Test, units: &Units) -> ConditionData {
    match from {
        Test::Is { variable, values, .. } => {
            ConditionData::Value { variable: variable.0, values: values.clone() }
        }
        Test::Proved { variable, values, .. } => {
            ConditionData::Proved { variable: variable.0, values: values.clone() }
        }
        Test::Held { variable, values, seconds, under, .. } => ConditionData::Held {
            variable: variable.0,
            values: values.clone(),
            seconds: exact(seconds),
            under: *under,
        },
        Test::Within { value, limit, .. } => {
            ConditionData::Within { value: expression(value, units), range: range(&limit.range) }
        }
    }
}

#[derive(Clone, Debug, Serialize)]
#[serde(tag = "is", rename_all = "kebab-case")]
pub(crate) enum ExpressionData {
    Value {
        quantity: QuantityData,
    },
    Reading {
        reading: u16,
    },
    Point {
        reading: u16,
        point: usize,
    },
    Fold {
        fold: &'static str,
        of: Vec<ExpressionData>,
    },
    Binary {
        operator: &'static str,
        left: Box<ExpressionData>,
        right: Box<ExpressionData>,
    },
    Negative {
        of: Box<ExpressionData>,
    },
    LookUp {
        table: String,
        between: &'static str,
        rows: Vec<(String, String)>,
        of: Box<ExpressionData>,
    },
}

pub(crate) fn expression(from: &Expression, units: &Units) -> ExpressionData {
    let boxed = |inner: &Expression| Box::new(expression(inner, units));
    match from {
        Expression::Value(value) => ExpressionData::Value { quantity: quantity(value, units) },
        Expression::Reading(reading) => ExpressionData::Reading { reading: reading.0 },
        Expression::Point(reading, point) => {
            ExpressionData::Point { reading: reading.0, point: *point }
        }
        Expression::Fold(fold, of) => ExpressionData::Fold {
            fold: fold_word(*fold),
            of: of.iter().map(|part| expression(part, units)).collect(),
        },
        Expression::Binary(operator, left, right) => ExpressionData::Binary {
            operator: operator_sign(*operator),
            left: boxed(left),
            right: boxed(right),
        },
        Expression::Negative(inner) => ExpressionData::Negative { of: boxed(inner) },
        Expression::LookUp(table, end, of) => ExpressionData::LookUp {
            table: table.words.name.clone(),
            between: between_word(table.between),
            rows: table.points(*end).map(|(key, value)| (exact(key), exact(value))).collect(),
            of: boxed(of),
        },
    }
}

fn between_word(between: Between) -> &'static str {
    match between {
        Between::Proportion => "in proportion",
        Between::Nothing => "nothing",
        Between::NextLower => "take next lower",
    }
}

fn fold_word(fold: Fold) -> &'static str {
    match fold {
        Fold::Max => "max",
        Fold::Min => "min",
        Fold::Mean => "mean",
        Fold::Spread => "spread",
        Fold::Sum => "sum",
        Fold::Count => "count",
        Fold::Abs => "abs",
    }
}

fn operator_sign(operator: Operator) -> &'static str {
    match operator {
        Operator::Add => "+",
        Operator::Subtract => "-",
        Operator::Multiply => "*",
        Operator::Divide => "/",
    }
}

/// Prose as pieces: plain text, or a named, measured or read place.
#[derive(Clone, Debug, Serialize)]
#[serde(untagged)]
pub(crate) enum PieceData {
    Plain(String),
    Name { name: String, said: String },
    Quantity { quantity: QuantityData },
    Limit { limit: LimitData },
    Reading { reading: u16 },
}

pub(crate) fn prose(from: &Prose, units: &Units) -> Vec<PieceData> {
    from.pieces
        .iter()
        .map(|piece| match piece {
            ProsePiece::Plain(text) => PieceData::Plain(text.clone()),
            ProsePiece::Name { words, .. } => {
                PieceData::Name { name: words.name.clone(), said: words.said.clone() }
            }
            ProsePiece::Quantity(value) => PieceData::Quantity { quantity: quantity(value, units) },
            ProsePiece::Limit(value) => PieceData::Limit { limit: limit(value, units) },
            ProsePiece::Reading(reading) => PieceData::Reading { reading: reading.0 },
        })
        .collect()
}

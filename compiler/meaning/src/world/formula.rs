//! `formula belt-tension : force of m : mass-per-length, span : length, f : frequency = 4 * m * span^2 * f^2`
//!
//! A formula is laid in wherever a sum calls it. Inside of it kinds may be multiplied: what comes out is checked
//! by its dimension, once, where the formula is declared. It sees what is handed in, and nothing else.

use super::World;
use super::declared::FormulaLine;
use super::read::{NoReadings, Reader, Typed};
use crate::findings::names::{TooMany, UnknownName, listed};
use crate::findings::quantities::{BarePressure, FormulaFault, FormulaUnfit, InProduct, a_kind};
use crate::world::near::nearest;
use locknut_finding::{Findings, Span};
use locknut_graph::{Expression, Operator};
use locknut_quantity::{Dimension, Exact, KindId, Quantity, UnitId, Units};
use locknut_syntax::tree;
use std::collections::{BTreeMap, BTreeSet};

/// A sum has at most so many parts once its formulas are laid in: more are no line of any sheet.
const MOST_PARTS: usize = 1_000;

/// A formula whose kinds fit.
#[derive(Clone, Debug)]
pub struct Formula {
    /// The kind of what comes out, and the unit that it is shown in.
    pub kind: KindId,
    pub unit: UnitId,
    /// What is handed in, with its kind.
    pub parameters: Vec<(String, KindId)>,
    value: tree::Expression,
    pub span: Span,
}

/// Reads all formulas; what does not fit has a finding, and is named apart.
pub(super) fn formulas(
    lines: &[FormulaLine<'_>],
    world: &World,
    found: &mut Findings,
) -> (BTreeMap<String, Formula>, BTreeSet<String>) {
    let (mut formulas, mut broken) = (BTreeMap::new(), BTreeSet::new());
    for FormulaLine { formula } in lines {
        let read = formula_of(formula, world, found);
        match read {
            Some(read) => drop(formulas.insert(formula.name.text.clone(), read)),
            None => drop(broken.insert(formula.name.text.clone())),
        }
    }
    (formulas, broken)
}

fn formula_of(line: &tree::Formula, world: &World, found: &mut Findings) -> Option<Formula> {
    let reader = Reader { world, model: None, readings: &NoReadings };
    let kind = kind_of(&line.kind, reader, found);
    let mut parameters = Vec::new();
    let mut worked_from = BTreeMap::new();
    for (name, kind) in &line.parameters {
        let of_kind = kind_of(kind, reader, found)?;
        let worth = Worth {
            value: nothing(of_kind),
            kind: Some(of_kind),
            dimension: dimension(of_kind, kind.span, reader, found)?,
        };
        parameters.push((name.text.clone(), of_kind));
        if worked_from.insert(name.text.clone(), worth).is_some() {
            let fault = FormulaFault::Twice { name: name.text.clone() };
            found.add(&FormulaUnfit { place: name.span, fault });
        }
    }
    let kind = kind?;
    let wanted = dimension(kind, line.kind.span, reader, found)?;
    let unit = match &line.unit {
        Some(unit) => unit_of(unit, kind, reader, found)?,
        None => reader.units().of_kind(kind).next()?,
    };
    let worth = Inside { reader, worked_from: &worked_from }.worth(&line.value, found)?;
    if worth.dimension != wanted || worth.kind.is_some_and(|of| of != kind) {
        let units = reader.units();
        let gives = match worth.kind {
            Some(of) => a_kind(units, of),
            None => a_dimension(units, worth.dimension),
        };
        let named = units.of_kind(units.difference_of(kind)).take(3);
        let fitting = named.map(|unit| units.unit(unit).name.clone()).collect();
        let fault = FormulaFault::GivesOther { gives, wanted: a_kind(units, kind), units: fitting };
        found.add(&FormulaUnfit { place: line.value.span(), fault });
        return None;
    }
    Some(Formula { kind, unit, parameters, value: line.value.clone(), span: line.span })
}

fn kind_of(name: &tree::Name, reader: Reader<'_>, found: &mut Findings) -> Option<KindId> {
    let kind = reader.units().kind_named(&name.text);
    if kind.is_none() {
        let kinds = reader.units().kinds().iter().map(|kind| kind.name.as_str());
        let near = nearest(&name.text, kinds);
        let (wanted, span) = ("kind of quantity", name.span);
        found.add(&UnknownName { wanted, name: name.text.clone(), span, near, else_is: None });
    }
    kind
}

fn unit_of(
    name: &tree::Name,
    kind: KindId,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<UnitId> {
    let units = reader.units();
    let unit =
        units.spelled(&name.text).iter().copied().find(|unit| units.unit(*unit).kind == kind);
    if unit.is_none() {
        let fitting = units.of_kind(kind).map(|unit| units.unit(unit).name.clone());
        let fault =
            FormulaFault::Unit { of: a_kind(units, kind), fitting: fitting.take(5).collect() };
        found.add(&FormulaUnfit { place: name.span, fault });
    }
    unit
}

fn dimension(
    kind: KindId,
    place: Span,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<Dimension> {
    let dimension = reader.units().kind(kind).dimension;
    if dimension.is_none() {
        let fault = FormulaFault::NoDimension { of: a_kind(reader.units(), kind) };
        found.add(&FormulaUnfit { place, fault });
    }
    dimension
}

/// A place for what is handed in, while only kinds are looked at.
fn nothing(kind: KindId) -> Expression {
    let value = locknut_quantity::Exact::from_integer(1.into());
    Expression::Value(Quantity {
        value,
        kind,
        unit: Units::ONE,
        decimals: 0,
        written: String::new(),
    })
}

/// The kinds that have this dimension, or what it is told in: `a force`, `something in kg·m³/s`.
fn a_dimension(units: &Units, dimension: Dimension) -> String {
    if dimension.is_none() {
        return "a plain number".to_owned();
    }
    let kinds = (0u16..).zip(units.kinds()).filter(|(_, kind)| kind.dimension == Some(dimension));
    let kinds: Vec<String> = kinds.map(|(at, _)| a_kind(units, KindId(at))).collect();
    if kinds.is_empty() {
        format!("something in {}", in_base_units(dimension))
    } else {
        listed(&kinds, "or")
    }
}

/// `kg·m/s²`; `1/s` where nothing stands above the line.
fn in_base_units(dimension: Dimension) -> String {
    const UNITS: [(char, &str); 5] = [('M', "kg"), ('L', "m"), ('T', "s"), ('I', "A"), ('Θ', "K")];
    let (mut above, mut below) = (Vec::new(), Vec::new());
    let written = dimension.to_string();
    for (symbol, unit) in UNITS {
        let mut factors = written.split(' ');
        let Some(power) = factors.find_map(|factor| factor.strip_prefix(symbol)) else { continue };
        let (place, power) = match power.strip_prefix('-') {
            Some("1") => (&mut below, ""),
            Some(power) => (&mut below, power),
            None => (&mut above, power),
        };
        let raised: String = power.chars().map(superscript).collect();
        place.push(format!("{unit}{raised}"));
    }
    let above = if above.is_empty() { "1".to_owned() } else { above.join("·") };
    match below.len() {
        0 => above,
        1 => format!("{above}/{}", below.join("")),
        _ => format!("{above}/({})", below.join("·")),
    }
}

fn superscript(digit: char) -> char {
    const RAISED: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
    let at = digit.to_digit(10).and_then(|at| usize::try_from(at).ok());
    at.and_then(|at| RAISED.get(at)).copied().unwrap_or(digit)
}

/// What a part of a formula comes to.
#[derive(Clone, Debug)]
struct Worth {
    value: Expression,
    /// None: a product, of which only the dimension is known.
    kind: Option<KindId>,
    dimension: Dimension,
}

struct Inside<'a> {
    reader: Reader<'a>,
    worked_from: &'a BTreeMap<String, Worth>,
}

impl Inside<'_> {
    fn worth(&self, part: &tree::Expression, found: &mut Findings) -> Option<Worth> {
        match part {
            tree::Expression::Name(name) if self.worked_from.contains_key(&name.text) => {
                self.worked_from.get(&name.text).cloned()
            }
            tree::Expression::Quantity(_) => self.figure(part, found),
            tree::Expression::Name(name) => {
                let own = self.worked_from.keys().map(String::as_str);
                self.reader.unknown("figure that this formula works from", name, own, found);
                None
            }
            tree::Expression::Negative(inner, _) => {
                let inner = self.worth(inner, found)?;
                Some(Worth { value: Expression::Negative(Box::new(inner.value)), ..inner })
            }
            tree::Expression::Binary { operator, left, right, span } => {
                let (one, other) = (self.worth(left, found), self.worth(right, found));
                self.both(*operator, one?, other?, *span, found)
            }
            tree::Expression::Call { span, .. } | tree::Expression::PercentOf { span, .. } => {
                refused(*span, found)
            }
            tree::Expression::Point { reading, point } => {
                refused(reading.span.to(point.span), found)
            }
        }
    }

    fn figure(&self, part: &tree::Expression, found: &mut Findings) -> Option<Worth> {
        if let tree::Expression::Quantity(figure) = part
            && let Some(kind) = self.reader.as_bare_difference(figure)
        {
            let product = format!("{} in a formula", a_kind(self.reader.units(), kind));
            let product = Some(InProduct { product, plain: true, gives: Vec::new() });
            let (written, span) = (self.reader.written(part.span()), part.span());
            let words = vec![Units::DIFFERENCE.to_owned()];
            found.add(&BarePressure { written, span, words, product });
            return None;
        }
        let figure = self.reader.typed(part, None, found)?;
        let dimension = dimension(figure.kind, figure.span, self.reader, found)?;
        Some(Worth { value: figure.value, kind: Some(figure.kind), dimension })
    }

    fn both(
        &self,
        operator: tree::Operator,
        one: Worth,
        other: Worth,
        place: Span,
        found: &mut Findings,
    ) -> Option<Worth> {
        let units = self.reader.units();
        let said = |worth: &Worth| match worth.kind {
            Some(kind) => a_kind(units, kind),
            None => a_dimension(units, worth.dimension),
        };
        let adds = matches!(operator, tree::Operator::Add | tree::Operator::Subtract);
        let kinds_differ =
            matches!((one.kind, other.kind), (Some(one), Some(other)) if one != other);
        if adds && (kinds_differ || one.dimension != other.dimension) {
            let fault = FormulaFault::Apart { one: said(&one), other: said(&other) };
            found.add(&FormulaUnfit { place, fault });
            return None;
        }
        let by_nothing = operator == tree::Operator::Divide
            && matches!(&other.value, Expression::Value(by) if by.value == Exact::from_integer(0.into()));
        if by_nothing {
            found.add(&FormulaUnfit { place, fault: FormulaFault::ByNothing });
            return None;
        }
        let (dimension, kind) = match operator {
            tree::Operator::Add | tree::Operator::Subtract => {
                (Some(one.dimension), one.kind.or(other.kind))
            }
            tree::Operator::Multiply => (
                one.dimension.times(other.dimension),
                kept(&one, &other).or_else(|| kept(&other, &one)),
            ),
            tree::Operator::Divide => (one.dimension.per(other.dimension), kept(&one, &other)),
        };
        let Some(dimension) = dimension else {
            found.add(&FormulaUnfit { place, fault: FormulaFault::Form });
            return None;
        };
        let operator = match operator {
            tree::Operator::Add => Operator::Add,
            tree::Operator::Subtract => Operator::Subtract,
            tree::Operator::Multiply => Operator::Multiply,
            tree::Operator::Divide => Operator::Divide,
        };
        let value = Expression::Binary(operator, Box::new(one.value), Box::new(other.value));
        Some(Worth { value, kind, dimension })
    }
}

/// Says that no formula can have this in it.
fn refused(place: Span, found: &mut Findings) -> Option<Worth> {
    found.add(&FormulaUnfit { place, fault: FormulaFault::Form });
    None
}

/// What is multiplied with or divided by a plain number stays what it is.
fn kept(one: &Worth, by: &Worth) -> Option<KindId> {
    let plain = by.dimension.is_none() && by.kind.is_some();
    one.kind.filter(|_| plain)
}

impl Reader<'_> {
    /// Lays a formula in; says so where what is handed in does not fit. None of the name: another function.
    pub(in crate::world) fn by_formula(
        &self,
        formula: &Formula,
        name: &tree::Name,
        handed_in: Vec<Typed>,
        span: Span,
        found: &mut Findings,
    ) -> Option<Typed> {
        let mut worked_from = BTreeMap::new();
        let mut decimals = 0;
        for ((parameter, kind), given) in formula.parameters.iter().zip(handed_in) {
            let dimension = self.units().kind(*kind).dimension?;
            decimals = decimals.max(given.decimals);
            worked_from.insert(
                parameter.clone(),
                Worth { value: given.value, kind: Some(*kind), dimension },
            );
        }
        let laid =
            Inside { reader: *self, worked_from: &worked_from }.worth(&formula.value, found)?;
        if parts_of(&laid.value) > MOST_PARTS {
            found.add(&TooMany { what: "parts in one sum", most: MOST_PARTS, span: name.span });
            return None;
        }
        Some(Typed { value: laid.value, kind: formula.kind, unit: formula.unit, decimals, span })
    }
}

/// How many figures and signs a sum has; no more are counted than are allowed.
fn parts_of(value: &Expression) -> usize {
    let (mut left, mut parts) = (vec![value], 0);
    while let Some(part) = left.pop() {
        parts += 1;
        if parts > MOST_PARTS {
            break;
        }
        match part {
            Expression::Value(_) | Expression::Reading(_) | Expression::Point(..) => {}
            Expression::Fold(_, all) => left.extend(all),
            Expression::Binary(_, one, other) => left.extend([&**one, &**other]),
            Expression::Negative(inner) | Expression::LookUp(_, _, inner) => left.push(inner),
        }
    }
    parts
}

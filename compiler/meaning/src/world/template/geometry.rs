//! Whether a template can be cut: its cuts lie inside the outline, keep apart, and leave the wall that is stated.
//!
//! Distances are compared by their squares, so that no root is needed. Places on a pitch circle are known to
//! 18 digits; what is missing by less than a nanometre is not missing.

use super::Template;
use crate::findings::templates::{Beside, CutOutside, CutsMeet, Meeting, Outside, ThinWall};
use locknut_finding::{Findings, Span};
use locknut_graph::{Cut, CutForm, Feature, TemplateLabel, TemplateOutline};
use locknut_quantity::{Between, Exact, Quantity, UnitId, Units, to_digits};
use num_traits::{Signed, Zero};

/// A metre has so many nanometres.
const NANOMETRES: u32 = 1_000_000_000;
/// What signs of a label need in width, and all of them in height: tenths of a millimetre of a sans serif of 3.5 mm,
/// rather more than less.
const NARROW: u32 = 22;
const WIDE: u32 = 35;

/// Says what cannot be cut.
pub(super) fn check(template: &Template, units: &Units, found: &mut Findings) {
    let whole = Whole { template, units };
    let cuts = template.cuts();
    let of = |at| cuts.iter().filter(move |cut| cut.feature == at).map(|cut| &cut.form);
    let features: Vec<(&Feature, Vec<&CutForm>)> =
        template.features.iter().enumerate().map(|(at, one)| (one, of(at).collect())).collect();
    let edges: Vec<Edge> =
        features.iter().map(|(feature, forms)| whole.edge(feature, forms, found)).collect();
    let all: Vec<_> = features.iter().zip(&edges).collect();
    for (at, ((one, forms), edge)) in all.iter().enumerate() {
        for ((other, other_forms), other_edge) in all.iter().skip(at) {
            // Where it is wrong already, only what is worse is told, too.
            let worst = (*edge).max(other_edge);
            if *worst != Edge::Beyond
                && let Some(left) = least_apart(forms, other_forms)
            {
                whole.near((one, other), &left, *worst, found);
            }
        }
    }
    let texts: Vec<String> = template.labels.iter().map(|label| label.text.written()).collect();
    for (at, no_room) in whole.without_room(&texts) {
        let Some(label) = template.labels.get(at) else { continue };
        match no_room {
            NoRoom::Beyond { need } => {
                whole.beyond(label.span, Outside::Words { need }, found);
            }
            NoRoom::Cut(cut) => whole.meet(label.span, Meeting::Words(cut), found),
            NoRoom::Words(other) => whole.meet(label.span, Meeting::OtherWords(other), found),
        }
    }
}

/// Why words of a label cannot be printed where they stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoRoom {
    /// They leave the outline; about so much is needed across.
    Beyond { need: String },
    /// They stand where the cut of this line is.
    Cut(Span),
    /// They stand where the words of this line do.
    Words(Span),
}

/// Which labels have no room once they say these texts, by their position, and why.
pub fn labels_without_room(
    template: &Template,
    texts: &[String],
    units: &Units,
) -> Vec<(usize, NoRoom)> {
    Whole { template, units }.without_room(texts)
}

/// How the cuts of one line lie to the edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Edge {
    Inside,
    Thin,
    Beyond,
}

/// What lies between the nearest cuts of two lines, or of one.
fn least_apart(one: &[&CutForm], other: &[&CutForm]) -> Option<Exact> {
    let pairs = one.iter().flat_map(|form| other.iter().map(move |other| (form, other)));
    pairs
        .filter(|(form, other)| !std::ptr::eq(**form, **other))
        .map(|(form, other)| apart(form, other))
        .min()
}

struct Whole<'a> {
    template: &'a Template,
    units: &'a Units,
}

impl Whole<'_> {
    /// Whether cuts of one line leave the outline, or too little beside it; says so.
    fn edge(&self, feature: &Feature, forms: &[&CutForm], found: &mut Findings) -> Edge {
        let Some(left) = forms.iter().filter_map(|form| self.left(form)).min() else {
            return Edge::Inside;
        };
        if nothing(&left) {
            let beyond = left < -nanometre();
            let outside =
                if beyond { Outside::Beyond { by: self.said(&-left) } } else { Outside::Touches };
            self.beyond(feature.span, outside, found);
            return Edge::Beyond;
        }
        if self.too_thin(&left, feature.span, Beside::Edge, found) {
            Edge::Thin
        } else {
            Edge::Inside
        }
    }

    /// Says where two cuts meet, or leave too little between them.
    fn near(
        &self,
        (one, other): (&Feature, &Feature),
        left: &Exact,
        known: Edge,
        found: &mut Findings,
    ) {
        let of_one_line = one.span == other.span;
        if nothing(left) {
            let meeting = if of_one_line { Meeting::OneLine } else { Meeting::Other(one.span) };
            self.meet(other.span, meeting, found);
        } else if known == Edge::Inside {
            let beside = if of_one_line { Beside::OneLine } else { Beside::Other(one.span) };
            self.too_thin(left, other.span, beside, found);
        }
    }

    fn beyond(&self, place: Span, outside: Outside, found: &mut Findings) {
        let (template, outline) = (self.template.words.said.clone(), self.template.span);
        found.add(&CutOutside { template, place, outline, outside });
    }

    fn meet(&self, place: Span, meeting: Meeting, found: &mut Findings) {
        found.add(&CutsMeet { template: self.template.words.said.clone(), place, meeting });
    }

    /// Whether less is left than is stated; says so.
    fn too_thin(&self, left: &Exact, place: Span, beside: Beside, found: &mut Findings) -> bool {
        let Some(wall) = self.thin(left) else { return false };
        let (template, wanted) = (self.template.words.said.clone(), wall.written.clone());
        let left = self.said_in(left, wall.unit);
        found.add(&ThinWall { template, place, beside, left, wanted });
        true
    }

    /// The wall that is stated, where less is left.
    fn thin(&self, left: &Exact) -> Option<&Quantity> {
        self.template.wall.as_ref().filter(|wall| left < &(&wall.value - nanometre()))
    }

    /// What is left between a cut and the edge; below zero where it goes beyond. A notch is open to its own edge.
    fn left(&self, form: &CutForm) -> Option<Exact> {
        let [wide, high] = self.template.size();
        match (&self.template.outline, form) {
            (TemplateOutline::Disc { .. }, CutForm::Round { right, up, radius }) => {
                let edge = half(&wide);
                Some(&edge - root_above(&square_of(&(right - &edge), &(up - &edge))) - radius)
            }
            (_, CutForm::Round { right, up, radius }) => {
                least([right - radius, up - radius, wide - right - radius, high - up - radius])
            }
            (_, CutForm::Square { from: [left, bottom], to: [right, top] }) => {
                let sides = [left.clone(), bottom.clone(), wide - right, high - top];
                // The one that lies on the edge is the notch's own; where none or two do, all count.
                let own = sides.iter().position(Zero::is_zero);
                let others = sides.into_iter().enumerate().filter(|(at, _)| Some(*at) != own);
                others.map(|(_, left)| left).min()
            }
        }
    }

    /// Labels whose texts would be cut through, or stand beside the template or over one another.
    fn without_room(&self, texts: &[String]) -> Vec<(usize, NoRoom)> {
        let labels = self.template.labels.iter().zip(texts);
        let printed: Vec<(Span, CutForm)> =
            labels.map(|(label, text)| (label.span, self.printed(label, text))).collect();
        let cuts = self.template.cuts();
        let all = printed.iter().enumerate();
        all.filter_map(|(at, (_, form))| {
            Some((at, self.no_room(form, &cuts, printed.get(..at).unwrap_or_default())?))
        })
        .collect()
    }

    fn no_room(&self, form: &CutForm, cuts: &[Cut], before: &[(Span, CutForm)]) -> Option<NoRoom> {
        if self.around(form).is_some_and(|left| left.is_negative()) {
            return Some(NoRoom::Beyond { need: self.said(&width(form)) });
        }
        let met = cuts.iter().find(|cut| apart(form, &cut.form).is_negative());
        if let Some(feature) = met.and_then(|cut| self.template.features.get(cut.feature)) {
            return Some(NoRoom::Cut(feature.span));
        }
        let other = before.iter().find(|(_, other)| apart(form, other).is_negative());
        other.map(|(span, _)| NoRoom::Words(*span))
    }

    /// What a text covers where a label stands.
    fn printed(&self, label: &TemplateLabel, text: &str) -> CutForm {
        let needs = |sign: char| if narrow(sign) { NARROW } else { WIDE };
        let tenth = |tenths: u32| Exact::new(tenths.into(), 10_000.into());
        let wide = text.chars().map(needs).fold(0, u32::saturating_add);
        let (wide, high) = (half(&tenth(wide)), half(&tenth(WIDE)));
        let [right, up] = self.template.placed(&label.place);
        CutForm::Square { from: [&right - &wide, &up - &high], to: [right + wide, up + high] }
    }

    /// What is left around a rectangle that is open nowhere.
    fn around(&self, form: &CutForm) -> Option<Exact> {
        let CutForm::Square { from: [left, bottom], to: [right, top] } = form else { return None };
        let [wide, high] = self.template.size();
        match &self.template.outline {
            TemplateOutline::Rectangle { .. } => {
                least([left.clone(), bottom.clone(), wide - right, high - top])
            }
            TemplateOutline::Disc { .. } => {
                let edge = half(&wide);
                let far =
                    |one: &Exact, other: &Exact| (one - &edge).abs().max((other - &edge).abs());
                Some(&edge - root_above(&square_of(&far(left, right), &far(bottom, top))))
            }
        }
    }

    /// A length in the unit of the outline, to a hundredth of a millimetre.
    fn said(&self, length: &Exact) -> String {
        let outline = match &self.template.outline {
            TemplateOutline::Rectangle { width, .. } => width,
            TemplateOutline::Disc { diameter } => diameter,
        };
        self.said_in(length, outline.unit)
    }

    fn said_in(&self, length: &Exact, unit: UnitId) -> String {
        let unit = self.units.unit(unit);
        format!("{} {}", to_digits(&(length / &unit.factor), 3), unit.name)
    }
}

fn narrow(sign: char) -> bool {
    !(sign.is_uppercase() || sign > '\u{2fff}' || matches!(sign, 'm' | 'w' | '%' | '@' | '—'))
}

fn width(form: &CutForm) -> Exact {
    match form {
        CutForm::Square { from: [left, _], to: [right, _] } => right - left,
        CutForm::Round { radius, .. } => radius * whole(2),
    }
}

/// What lies between two cuts; below zero where they overlap.
fn apart(one: &CutForm, other: &CutForm) -> Exact {
    match (one, other) {
        (
            CutForm::Round { right, up, radius },
            CutForm::Round { right: other_right, up: other_up, radius: other_radius },
        ) => {
            root_below(&square_of(&(right - other_right), &(up - other_up))) - radius - other_radius
        }
        (CutForm::Round { right, up, radius }, CutForm::Square { from, to })
        | (CutForm::Square { from, to }, CutForm::Round { right, up, radius }) => {
            let point = [right.clone(), up.clone()];
            between_squares(&[point.clone(), point], &[from.clone(), to.clone()]) - radius
        }
        (CutForm::Square { from, to }, CutForm::Square { from: other_from, to: other_to }) => {
            between_squares(&[from.clone(), to.clone()], &[other_from.clone(), other_to.clone()])
        }
    }
}

/// The distance of two upright rectangles; below zero by their lesser overlap.
fn between_squares(one: &[[Exact; 2]; 2], other: &[[Exact; 2]; 2]) -> Exact {
    let [[left, bottom], [right, top]] = one;
    let [[other_left, other_bottom], [other_right, other_top]] = other;
    let across = (other_left - right).max(left - other_right);
    let along = (other_bottom - top).max(bottom - other_top);
    match (across.is_negative(), along.is_negative()) {
        (true, true) => across.max(along),
        (true, false) => along,
        (false, true) => across,
        (false, false) => root_below(&square_of(&across, &along)),
    }
}

/// Nothing is left: cuts that touch are one cut.
fn nothing(left: &Exact) -> bool {
    left <= &nanometre()
}

fn least(of: [Exact; 4]) -> Option<Exact> {
    of.into_iter().min()
}

fn square_of(across: &Exact, along: &Exact) -> Exact {
    across * across + along * along
}

/// Not more than the root, by less than 10⁻¹⁷ of it.
fn root_below(square: &Exact) -> Exact {
    Between::exactly(square).root().map_or_else(zero, |root| root.low())
}

fn root_above(square: &Exact) -> Exact {
    Between::exactly(square).root().map_or_else(zero, |root| root.high())
}

fn nanometre() -> Exact {
    Exact::new(1.into(), NANOMETRES.into())
}

fn half(value: &Exact) -> Exact {
    value / whole(2)
}

fn whole(number: u32) -> Exact {
    Exact::from_integer(number.into())
}

fn zero() -> Exact {
    Exact::zero()
}

#[cfg(test)]
#[expect(clippy::float_arithmetic, reason = "an independent reckoning, of points")]
mod tests {
    use super::apart;
    use locknut_graph::CutForm;
    use locknut_quantity::Exact;
    use num_traits::ToPrimitive;
    use proptest::prelude::*;

    fn whole(number: i64) -> Exact {
        Exact::from_integer(number.into())
    }

    fn cuts() -> impl Strategy<Value = CutForm> {
        let round = (-40i64..40, -40i64..40, 1i64..15).prop_map(|(right, up, radius)| {
            CutForm::Round { right: whole(right), up: whole(up), radius: whole(radius) }
        });
        let square =
            (-40i64..40, -40i64..40, 1i64..30, 1i64..30).prop_map(|(left, bottom, wide, high)| {
                CutForm::Square {
                    from: [whole(left), whole(bottom)],
                    to: [whole(left + wide), whole(bottom + high)],
                }
            });
        prop_oneof![round, square]
    }

    /// How far a point lies outside of a cut; nought inside.
    fn outside((right, up): (f64, f64), cut: &CutForm) -> f64 {
        let float = |value: &Exact| value.to_f64().unwrap();
        match cut {
            CutForm::Round { right: middle, up: height, radius } => {
                ((right - float(middle)).hypot(up - float(height)) - float(radius)).max(0.0)
            }
            CutForm::Square { from: [left, bottom], to: [end, top] } => {
                let across = (float(left) - right).max(right - float(end)).max(0.0);
                across.hypot((float(bottom) - up).max(up - float(top)).max(0.0))
            }
        }
    }

    /// Points of a whole cut, closely enough to one another that none of it is farther away than `STEP`.
    const STEP: f64 = 0.5;
    fn points(cut: &CutForm) -> Vec<(f64, f64)> {
        let grid = (-200..=200).flat_map(|right| (-200..=200).map(move |up| (right, up)));
        let grid = grid.map(|(right, up)| (f64::from(right) * STEP, f64::from(up) * STEP));
        grid.filter(|point| outside(*point, cut) == 0.0).collect()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        /// What is left between two cuts, held against the nearest of many points of one to the other.
        #[test]
        fn what_is_left_between_two_cuts_is_what_points_of_them_tell(one in cuts(), other in cuts()) {
            let left = apart(&one, &other).to_f64().unwrap();
            let nearest = points(&one).into_iter().map(|point| outside(point, &other));
            let nearest = nearest.fold(f64::INFINITY, f64::min);
            prop_assert!(nearest >= left.max(0.0) - 1e-9, "{nearest} {left}");
            prop_assert!(nearest <= left.max(0.0) + STEP, "{nearest} {left}");
            let back = apart(&other, &one).to_f64().unwrap();
            prop_assert!((left - back).abs() < 1e-12);
        }
    }
}

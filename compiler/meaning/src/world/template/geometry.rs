//! Whether a template can be cut: its cuts lie inside the outline, keep apart, and leave the wall that is stated.
//!
//! Distances are compared by their squares, so that no root is needed. Places on a pitch circle are known to
//! 18 digits; what is missing by less than a nanometre is not missing.

use super::Template;
use crate::findings::templates::{Beside, CutOutside, CutsMeet, Meeting, Outside, ThinWall};
use crate::world::read::Reader;
use locknut_finding::{Findings, Span};
use locknut_graph::{Cut, CutForm, Feature, TemplateLabel, TemplateOutline};
use locknut_quantity::{Between, Exact, Quantity, to_digits};
use num_traits::{Signed, Zero};

/// A metre has so many nanometres.
const NANOMETRES: u32 = 1_000_000_000;
/// What signs of a label need in width, and all of them in height: tenths of a millimetre of a sans serif of 3.5 mm,
/// rather more than less.
const NARROW: u32 = 22;
const WIDE: u32 = 35;

/// Says what cannot be cut.
pub(super) fn check(template: &Template, reader: Reader<'_>, found: &mut Findings) {
    let whole = Whole { template, reader };
    let cuts = template.cuts();
    let mut told = vec![false; template.features.len()];
    for cut in &cuts {
        if told.get(cut.feature) == Some(&false) && whole.outside(cut, found) {
            mark(&mut told, cut.feature);
        }
    }
    let mut pairs: Vec<(usize, usize)> = Vec::new();
    for (at, cut) in cuts.iter().enumerate() {
        for other in cuts.iter().skip(at + 1) {
            let pair = (cut.feature, other.feature);
            let known = |feature| told.get(feature) == Some(&true);
            if known(pair.0) || known(pair.1) || pairs.contains(&pair) {
                continue;
            }
            if whole.near(cut, other, found) {
                pairs.push(pair);
            }
        }
    }
    for label in &template.labels {
        whole.label(label, &cuts, found);
    }
}

fn mark(told: &mut [bool], at: usize) {
    if let Some(told) = told.get_mut(at) {
        *told = true;
    }
}

struct Whole<'a> {
    template: &'a Template,
    reader: Reader<'a>,
}

impl Whole<'_> {
    /// Whether a cut leaves the outline, or too little beside it; says so.
    fn outside(&self, cut: &Cut, found: &mut Findings) -> bool {
        let (Some(left), Some(feature)) = (self.left(&cut.form), self.feature(cut)) else {
            return false;
        };
        if nothing(&left) {
            let beyond = left < -nanometre();
            let outside =
                if beyond { Outside::Beyond { by: self.said(&-left) } } else { Outside::Touches };
            self.beyond(feature.span, outside, found);
            return true;
        }
        self.too_thin(&left, feature.span, Beside::Edge, found)
    }

    /// Whether two cuts meet, or leave too little between them; says so.
    fn near(&self, one: &Cut, other: &Cut, found: &mut Findings) -> bool {
        let (Some(first), Some(again)) = (self.feature(one), self.feature(other)) else {
            return false;
        };
        let left = apart(&one.form, &other.form);
        let of_one_line = one.feature == other.feature;
        if nothing(&left) {
            let meeting = if of_one_line { Meeting::OneLine } else { Meeting::Other(first.span) };
            self.meet(again.span, meeting, found);
            return true;
        }
        let beside = if of_one_line { Beside::OneLine } else { Beside::Other(first.span) };
        self.too_thin(&left, again.span, beside, found)
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
        found.add(&ThinWall { template, place, beside, left: self.said(left), wanted });
        true
    }

    /// The wall that is stated, where less is left.
    fn thin(&self, left: &Exact) -> Option<&Quantity> {
        self.template.wall.as_ref().filter(|wall| left < &(&wall.value - nanometre()))
    }

    fn feature(&self, cut: &Cut) -> Option<&Feature> {
        self.template.features.get(cut.feature)
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

    /// Says where words would be cut through, or stand beside the template.
    fn label(&self, label: &TemplateLabel, cuts: &[Cut], found: &mut Findings) {
        let form = self.printed(label);
        if self.around(&form).is_some_and(|left| left.is_negative()) {
            let need = self.said(&width(&form));
            self.beyond(label.span, Outside::Words { need }, found);
            return;
        }
        let met = cuts.iter().find(|cut| apart(&form, &cut.form).is_negative());
        if let Some(cut) = met.and_then(|cut| self.feature(cut)) {
            self.meet(label.span, Meeting::Words(cut.span), found);
            return;
        }
        let before = self.template.labels.iter().take_while(|other| other.span != label.span);
        let other =
            before.into_iter().find(|other| apart(&form, &self.printed(other)).is_negative());
        if let Some(other) = other {
            self.meet(label.span, Meeting::OtherWords(other.span), found);
        }
    }

    /// What the words of a label cover.
    fn printed(&self, label: &TemplateLabel) -> CutForm {
        let needs = |sign: char| if narrow(sign) { NARROW } else { WIDE };
        let tenth = |tenths: u32| Exact::new(tenths.into(), 10_000.into());
        let wide = label.text.written().chars().map(needs).fold(0, u32::saturating_add);
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
        let unit = self.reader.units().unit(outline.unit);
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

//! Templates: outlines and cuts that are printed at true scale.
//!
//! All lengths are exact, in the base unit of their kind. A rectangle is measured from its lower left
//! corner, a disc from its middle; [`Template::cuts`] and [`Template::labels`] are all from the lower left
//! corner of what encloses the outline, so that whoever checks and whoever draws see the same places.

use crate::{Prose, Words};
use locknut_finding::Span;
use locknut_quantity::{Exact, Quantity, sine_and_cosine};

/// A card, a gasket, a drilling jig, cut out of a printed sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Template {
    /// As said.
    pub words: Words,
    /// What it is for: the doc comment.
    pub purpose: Option<String>,
    /// Its edge.
    pub outline: TemplateOutline,
    /// What is cut out of it, in written order.
    pub features: Vec<Feature>,
    /// What is printed on it, in written order.
    pub labels: Vec<TemplateLabel>,
    /// What must be left between two cuts, and between a cut and the edge.
    pub wall: Option<Quantity>,
    /// Limits and values that its dimensions come from.
    pub tied: Vec<Words>,
    /// Where it is declared.
    pub span: Span,
}

/// The edge of a template.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TemplateOutline {
    /// So wide and so high.
    Rectangle { width: Quantity, height: Quantity },
    /// So wide everywhere.
    Disc { diameter: Quantity },
}

/// What one line cuts out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Feature {
    /// What.
    pub shape: FeatureShape,
    /// The line that says so.
    pub span: Span,
}

/// The shape of a cut as its author gave it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FeatureShape {
    /// A rectangle from an edge inwards; `at` is its middle, along the edge.
    Notch { side: TemplateSide, at: Quantity, width: Quantity, depth: Quantity },
    /// One round hole; without a place it stands in the middle.
    Hole { diameter: Quantity, place: Option<[Quantity; 2]> },
    /// Round holes evenly on a pitch circle, the first at an angle clockwise from the top.
    Holes {
        count: u16,
        diameter: Quantity,
        circle: Quantity,
        place: Option<[Quantity; 2]>,
        first: Option<Quantity>,
    },
}

/// A side of a rectangle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TemplateSide {
    /// Positions count from the left.
    Top,
    /// Positions count from the left.
    Bottom,
    /// Positions count from the bottom.
    Left,
    /// Positions count from the bottom.
    Right,
}

/// Words that are printed on a template.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TemplateLabel {
    /// What they say.
    pub text: Prose,
    /// Where their middle is: to the right, and upwards.
    pub place: [Quantity; 2],
    /// The line that says so.
    pub span: Span,
}

/// A size of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 210 mm × 297 mm (ISO 216).
    A4,
    /// 8.5 inch × 11 inch (ANSI/ASME Y14.1 size A).
    Letter,
}

impl Paper {
    /// Its shorter and its longer side, in tenths of a millimetre.
    fn sides(self) -> [u32; 2] {
        match self {
            Self::A4 => [2100, 2970],
            Self::Letter => [2159, 2794],
        }
    }

    /// What fits on it beside the lines that prove the scale, wide and high in whole millimetres: the sheet upright,
    /// and across.
    pub fn upright_and_across(self) -> [[u32; 2]; 2] {
        let [shorter, longer] = self.sides();
        let room = |side: u32, less: u32| side.saturating_sub(10 * less) / 10;
        [(shorter, longer), (longer, shorter)]
            .map(|(wide, high)| [room(wide, 2 * BLANK), room(high, 2 * BLANK + HEAD)])
    }
}

/// How a template lies on a sheet of paper at true scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placing {
    /// The longer side of the paper is the lower one.
    pub landscape: bool,
    /// The template is turned by a quarter.
    pub turned: bool,
}

/// What a printer leaves blank at each edge of a sheet, in millimetres: more than most of them do (common practice).
const BLANK: u32 = 6;
/// What its head, with the lines that prove the scale, and its foot need of the height of a sheet, in millimetres.
const HEAD: u32 = 74;

/// A single cut, placed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cut {
    /// Whose line it is, by its position in [`Template::features`].
    pub feature: usize,
    /// Where.
    pub form: CutForm,
}

/// Where a cut runs, from the lower left corner.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CutForm {
    /// Around its middle.
    Round { right: Exact, up: Exact, radius: Exact },
    /// From its lower left to its upper right corner.
    Square { from: [Exact; 2], to: [Exact; 2] },
}

impl Template {
    /// How wide and how high it is.
    pub fn size(&self) -> [Exact; 2] {
        match &self.outline {
            TemplateOutline::Rectangle { width, height } => {
                [width.value.clone(), height.value.clone()]
            }
            TemplateOutline::Disc { diameter } => [diameter.value.clone(), diameter.value.clone()],
        }
    }

    /// How it lies on paper; none where it does not fit.
    pub fn placing(&self, paper: Paper) -> Option<Placing> {
        let [wide, high] = self.size();
        let [shorter, longer] = paper.sides();
        let ways = [(false, false), (true, false), (false, true), (true, true)];
        let ways = ways.map(|(landscape, turned)| Placing { landscape, turned });
        ways.into_iter().find(|placing| {
            let (across, along) =
                if placing.landscape { (longer, shorter) } else { (shorter, longer) };
            let (wide, high) = if placing.turned { (&high, &wide) } else { (&wide, &high) };
            let room = |length: u32, less: u32| {
                Exact::new(length.saturating_sub(10 * less).into(), 10_000.into())
            };
            *wide <= room(across, 2 * BLANK) && *high <= room(along, 2 * BLANK + HEAD)
        })
    }

    /// All cuts, each where it stands.
    pub fn cuts(&self) -> Vec<Cut> {
        let features = self.features.iter().enumerate();
        features.flat_map(|(at, feature)| self.cuts_of(at, &feature.shape)).collect()
    }

    /// A place as written, from the lower left corner.
    pub fn placed(&self, place: &[Quantity; 2]) -> [Exact; 2] {
        let [right, up] = place;
        let origin = match &self.outline {
            TemplateOutline::Rectangle { .. } => [zero(), zero()],
            TemplateOutline::Disc { .. } => self.middle(),
        };
        let [from_left, from_below] = origin;
        [from_left + &right.value, from_below + &up.value]
    }

    fn middle(&self) -> [Exact; 2] {
        self.size().map(|side| half(&side))
    }

    fn cuts_of(&self, feature: usize, shape: &FeatureShape) -> Vec<Cut> {
        let placed = |place: &Option<[Quantity; 2]>| {
            place.as_ref().map_or_else(|| self.middle(), |place| self.placed(place))
        };
        match shape {
            FeatureShape::Notch { side, at, width, depth } => {
                vec![Cut {
                    feature,
                    form: self.notch(*side, &at.value, &width.value, &depth.value),
                }]
            }
            FeatureShape::Hole { diameter, place } => {
                let [right, up] = placed(place);
                let radius = half(&diameter.value);
                vec![Cut { feature, form: CutForm::Round { right, up, radius } }]
            }
            FeatureShape::Holes { count, diameter, circle, place, first } => {
                let [right, up] = placed(place);
                let (radius, pitch) = (half(&diameter.value), half(&circle.value));
                let first = first.as_ref().map_or_else(zero, |first| first.value.clone());
                let turn = |hole: u16| &first + Exact::new(hole.into(), (*count).max(1).into());
                (0..*count)
                    .map(|hole| {
                        let (sine, cosine) = sine_and_cosine(&turn(hole));
                        let (right, up) = (&right + &pitch * sine, &up + &pitch * cosine);
                        Cut { feature, form: CutForm::Round { right, up, radius: radius.clone() } }
                    })
                    .collect()
            }
        }
    }

    fn notch(&self, side: TemplateSide, at: &Exact, width: &Exact, depth: &Exact) -> CutForm {
        let [wide, high] = self.size();
        let (from, to) = (at - half(width), at + half(width));
        match side {
            TemplateSide::Bottom => {
                CutForm::Square { from: [from, zero()], to: [to, depth.clone()] }
            }
            TemplateSide::Top => CutForm::Square { from: [from, &high - depth], to: [to, high] },
            TemplateSide::Left => CutForm::Square { from: [zero(), from], to: [depth.clone(), to] },
            TemplateSide::Right => CutForm::Square { from: [&wide - depth, from], to: [wide, to] },
        }
    }
}

fn half(value: &Exact) -> Exact {
    value / Exact::from_integer(2.into())
}

fn zero() -> Exact {
    Exact::from_integer(0.into())
}

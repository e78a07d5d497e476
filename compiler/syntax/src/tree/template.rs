//! Templates: what is printed at true scale.

use super::{Expression, Name, Number, Text};
use locknut_finding::Span;

/// A card, a gasket, a drilling jig, cut out of a printed sheet.
#[derive(Clone, Debug)]
pub struct Template {
    /// Its name.
    pub name: Name,
    /// Its lines, in written order.
    pub lines: Vec<TemplateLine>,
    /// Some line of it could not be read.
    pub broken: bool,
    /// What the doc comment says of it.
    pub doc: Option<String>,
    /// All of it.
    pub span: Span,
}

/// A line of a template.
#[derive(Clone, Debug)]
pub enum TemplateLine {
    /// `rectangle 280 mm x 30 mm`
    Rectangle { width: Expression, height: Expression, span: Span },
    /// `disc 62 mm`
    Disc { diameter: Expression, span: Span },
    /// `notch bottom at 10 mm, width 6 mm, depth 8 mm`
    Notch { side: Name, at: Expression, width: Expression, depth: Expression, span: Span },
    /// `hole 38 mm`
    Hole { diameter: Expression, place: Option<Box<Place>>, span: Span },
    /// `holes 4 of 6.5 mm on pitch circle 50 mm, first at 45°`
    Holes {
        count: Number,
        diameter: Expression,
        circle: Expression,
        place: Option<Box<Place>>,
        first: Option<Expression>,
        span: Span,
    },
    /// `label "…" at 140 mm, 15 mm`
    Label { text: Text, place: Place, span: Span },
    /// `wall at least 2 mm`
    Wall { least: Expression, span: Span },
}

/// `at 20 mm, 15 mm`
#[derive(Clone, Debug)]
pub struct Place {
    /// To the right.
    pub right: Expression,
    /// Upwards.
    pub up: Expression,
}

impl TemplateLine {
    /// All of the line.
    pub fn span(&self) -> Span {
        match self {
            Self::Rectangle { span, .. }
            | Self::Disc { span, .. }
            | Self::Notch { span, .. }
            | Self::Hole { span, .. }
            | Self::Holes { span, .. }
            | Self::Label { span, .. }
            | Self::Wall { span, .. } => *span,
        }
    }

    /// Its dimensions, in written order.
    pub fn dimensions(&self) -> Vec<&Expression> {
        match self {
            Self::Rectangle { width, height, .. } => vec![width, height],
            Self::Disc { diameter, .. } => vec![diameter],
            Self::Notch { at, width, depth, .. } => vec![at, width, depth],
            Self::Hole { diameter, place, .. } => {
                let mut all = vec![diameter];
                all.extend(place.iter().flat_map(|place| place.both()));
                all
            }
            Self::Holes { diameter, circle, place, first, .. } => {
                let mut all = vec![diameter, circle];
                all.extend(place.iter().flat_map(|place| place.both()));
                all.extend(first);
                all
            }
            Self::Label { place, .. } => place.both().to_vec(),
            Self::Wall { least, .. } => vec![least],
        }
    }
}

impl Place {
    fn both(&self) -> [&Expression; 2] {
        [&self.right, &self.up]
    }
}

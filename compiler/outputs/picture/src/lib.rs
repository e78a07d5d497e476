//! Step graph → pictures: SVG for a person, DOT for other programs that lay out graphs.
//!
//! In: a graph. Out: text in one of the two formats. The interesting idea: the picture follows the
//! written order, one row a step, so that a reviewer can hold it beside the sheet; what leaves the
//! straight way (stop, refer, repeat) hangs at the step's right or arches back on its left.
//!
//! Beside it the drawing of a pattern of fasteners, numbered in the order of tightening, and that of a template at
//! true scale.
//!
//! *It does not know* phrases, facts, or how the sheet looks.

mod dot;
mod pattern;
mod rows;
mod svg;
mod template;

pub use dot::dot;
pub use pattern::pattern;
pub use svg::svg;
pub use template::{TemplateWords, TrueScale, proving_lines, template, template_sheet};

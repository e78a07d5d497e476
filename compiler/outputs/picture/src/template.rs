//! Templates at true scale, with the lines that prove it.
//!
//! One unit of the drawing is one millimetre. Digits go to a thousandth of it, a hundred times finer than a cut.

use locknut_graph::{Cut, CutForm, FeatureShape, Template, TemplateOutline, TemplateSide};
use locknut_quantity::{Exact, to_decimal};
use quick_xml::escape::escape;

/// Room around a drawing, so that a line at its edge is whole; millimetres.
const ROOM: u32 = 2;
/// Length of the lines that prove the scale.
const ACROSS: u32 = 100;
const DOWN: u32 = 40;
/// Height of what proves the scale, and the gap below it.
const PROOF: u32 = DOWN + 8;
/// A sheet for a printer begins and ends so far from its edges.
const BLANK: u32 = 10;
const FONT: &str = "font-family=\"Noto Sans, DejaVu Sans, sans-serif\" fill=\"#111\"";

/// What a template says beside its drawing.
pub struct TemplateWords<'a> {
    /// What it is called.
    pub title: &'a str,
    /// At the line across, and at the line down.
    pub lines: [&'a str; 2],
    /// How it is printed, proved and cut.
    pub how: &'a [String],
    /// What stands on it, in the order of its labels.
    pub labels: &'a [String],
}

/// An SVG drawing, and how wide and high it is in millimetres.
pub struct TrueScale {
    /// The drawing.
    pub svg: String,
    /// Its width and height, as digits.
    pub size: [String; 2],
}

/// The template alone, for a layout of its own.
pub fn template(template: &Template, words: &TemplateWords<'_>) -> TrueScale {
    let [wide, high] = template.size().map(|side| side * whole(1000) + whole(2 * ROOM));
    let body = format!("<g transform=\"translate({ROOM} {ROOM})\">{}</g>", piece(template, words));
    drawing(&wide, &high, words.title, &body)
}

/// The lines that prove the scale, alone.
pub fn proving_lines(words: &TemplateWords<'_>) -> TrueScale {
    let (wide, high) = (whole(ACROSS + 2 * ROOM), whole(DOWN + 2 * ROOM));
    let body = format!("<g transform=\"translate({ROOM} {ROOM})\">{}</g>", proof(words.lines));
    let told = words.how.join(" ");
    drawing(&wide, &high, &told, &body)
}

/// The whole of it as a file of its own: the lines that prove the scale, what to do with them, and the template.
pub fn template_sheet(template: &Template, words: &TemplateWords<'_>) -> String {
    let [wide, high] = template.size().map(|side| side * whole(1000));
    let lines: Vec<String> = words.how.iter().flat_map(|line| wrapped(line)).collect();
    let said = 10 + 5 * u32::try_from(lines.len()).unwrap_or(0);
    let head = PROOF + said;
    let wide = wide.max(whole(ACROSS + 30)) + whole(2 * BLANK);
    let high = high + whole(head + 2 * BLANK);
    let mut body = format!("<g transform=\"translate({BLANK} {BLANK})\">{}", proof(words.lines));
    body.push_str(&text(0, PROOF + 4, "5", "start", words.title));
    for (line, down) in lines.iter().zip((PROOF + 10..).step_by(5)) {
        body.push_str(&text(0, down, "3.5", "start", line));
    }
    let framed = format!("<g transform=\"translate(0 {head})\">{}</g></g>", piece(template, words));
    body.push_str(&framed);
    drawing(&wide, &high, words.title, &body).svg
}

/// Outline, cuts and words; the lower left corner of the template is at the lower left of what is drawn.
fn piece(template: &Template, words: &TemplateWords<'_>) -> String {
    let [wide, high] = template.size();
    let cuts = template.cuts();
    let drawn = "fill=\"none\" stroke=\"#111\" stroke-width=\"0.25\"";
    let mut body = match &template.outline {
        TemplateOutline::Rectangle { .. } => {
            format!("<path d=\"{}\" {drawn}/>", rim(template, &cuts))
        }
        TemplateOutline::Disc { .. } => {
            let radius = millimetres(&(&wide / whole(2)));
            format!("<circle cx=\"{radius}\" cy=\"{radius}\" r=\"{radius}\" {drawn}/>")
        }
    };
    for cut in &cuts {
        if let CutForm::Round { right, up, radius } = &cut.form {
            let hole = format!(
                "<circle cx=\"{}\" cy=\"{}\" r=\"{}\" {drawn}/>",
                millimetres(right),
                millimetres(&(&high - up)),
                millimetres(radius)
            );
            body.push_str(&hole);
        }
    }
    for (label, said) in template.labels.iter().zip(words.labels) {
        let [right, up] = template.placed(&label.place);
        let written = format!(
            "<text x=\"{}\" y=\"{}\" font-size=\"3.5\" text-anchor=\"middle\" {FONT}>{}</text>",
            millimetres(&right),
            // A third of the size below its middle is where a sign stands.
            millimetres(&(&high - up + Exact::new(12.into(), 10_000.into()))),
            escape(said)
        );
        body.push_str(&written);
    }
    body
}

/// The edge of a rectangle with its notches, clockwise from the upper left corner: open where they are.
fn rim(template: &Template, cuts: &[Cut]) -> String {
    let [wide, high] = template.size();
    let mut points: Vec<[Exact; 2]> = Vec::new();
    for side in [TemplateSide::Top, TemplateSide::Right, TemplateSide::Bottom, TemplateSide::Left] {
        points.push(match side {
            TemplateSide::Top => [whole(0), high.clone()],
            TemplateSide::Right => [wide.clone(), high.clone()],
            TemplateSide::Bottom => [wide.clone(), whole(0)],
            TemplateSide::Left => [whole(0), whole(0)],
        });
        let mut notches: Vec<[[Exact; 2]; 4]> =
            cuts.iter().filter_map(|cut| notch(template, cut, side)).collect();
        // In the direction in which the side is gone along.
        notches.sort_by(|[one, ..], [other, ..]| {
            let [[right, up], [other_right, other_up]] = [one, other];
            match side {
                TemplateSide::Top => right.cmp(other_right),
                TemplateSide::Right => other_up.cmp(up),
                TemplateSide::Bottom => other_right.cmp(right),
                TemplateSide::Left => up.cmp(other_up),
            }
        });
        points.extend(notches.into_iter().flatten());
    }
    let mut path = String::new();
    for (at, [right, up]) in points.iter().enumerate() {
        let to = if at == 0 { "M" } else { " L" };
        let step = format!("{to} {} {}", millimetres(right), millimetres(&(&high - up)));
        path.push_str(&step);
    }
    path.push_str(" Z");
    path
}

/// The four corners of a notch in this side, as one comes by them clockwise.
fn notch(template: &Template, cut: &Cut, side: TemplateSide) -> Option<[[Exact; 2]; 4]> {
    let FeatureShape::Notch { side: of, .. } = &template.features.get(cut.feature)?.shape else {
        return None;
    };
    let CutForm::Square { from: [left, bottom], to: [right, top] } = &cut.form else { return None };
    let corner = |right: &Exact, up: &Exact| [right.clone(), up.clone()];
    let (lower_left, lower_right) = (corner(left, bottom), corner(right, bottom));
    let (upper_left, upper_right) = (corner(left, top), corner(right, top));
    (*of == side).then_some(match side {
        TemplateSide::Top => [upper_left, lower_left, lower_right, upper_right],
        TemplateSide::Right => [upper_right, upper_left, lower_left, lower_right],
        TemplateSide::Bottom => [lower_right, upper_right, upper_left, lower_left],
        TemplateSide::Left => [lower_left, lower_right, upper_right, upper_left],
    })
}

/// An angle of two lines, each with its length beside it and a tick every ten millimetres.
fn proof([across, down]: [&str; 2]) -> String {
    let ticks = |length: u32, one: fn(u32) -> String| -> String {
        (0..=length).step_by(10).map(one).collect()
    };
    let along = ticks(ACROSS, |at| format!("M {at} 0 v 2.5 "));
    let beside = ticks(DOWN, |at| format!("M 0 {at} h 2.5 "));
    format!(
        "<path d=\"M 0 0 H {ACROSS} M 0 0 V {DOWN} {along}{beside}\" fill=\"none\" stroke=\"#111\" \
         stroke-width=\"0.25\" stroke-linecap=\"butt\"/>{}{}",
        text(ACROSS / 2, 7, "4", "middle", across),
        text(4, DOWN / 2 + 1, "4", "start", down)
    )
}

fn text(right: u32, down: u32, size: &str, anchor: &str, said: &str) -> String {
    format!(
        "<text x=\"{right}\" y=\"{down}\" font-size=\"{size}\" text-anchor=\"{anchor}\" {FONT}>{}</text>",
        escape(said)
    )
}

/// Lines of at most so many signs as fit beside one another in 125 mm.
fn wrapped(text: &str) -> Vec<String> {
    const SIGNS: usize = 68;
    let mut lines = vec![String::new()];
    for word in text.split(' ') {
        match lines.last_mut() {
            Some(line) if line.is_empty() => line.push_str(word),
            Some(line) if line.chars().count() + 1 + word.chars().count() <= SIGNS => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

fn drawing(wide: &Exact, high: &Exact, told: &str, body: &str) -> TrueScale {
    let size = [wide, high].map(|side| to_decimal(side, 3));
    let [wide, high] = &size;
    let svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide}mm\" height=\"{high}mm\" \
         viewBox=\"0 0 {wide} {high}\" role=\"img\"><title>{}</title>\
         <rect x=\"0\" y=\"0\" width=\"{wide}\" height=\"{high}\" fill=\"#fff\"/>{body}</svg>",
        escape(told)
    );
    TrueScale { svg, size }
}

/// A length in the base unit as millimetres.
fn millimetres(length: &Exact) -> String {
    to_decimal(&(length * whole(1000)), 3)
}

fn whole(number: u32) -> Exact {
    Exact::from_integer(number.into())
}

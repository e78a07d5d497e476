//! SVG.

use crate::rows::{Exit, Row, Target, rows};
use locknut_graph::{StepGraph, StepId};
use quick_xml::escape::escape;
use std::collections::BTreeMap;

const WIDTH: usize = 860;
const LEFT: usize = 96;
const BOX: usize = 430;
const INDENT: usize = 22;
const LINE: usize = 18;
/// Signs that fit a line of a box, and of an exit; found by looking at the pictures.
const BOX_SIGNS: usize = 54;
const EXIT_SIGNS: usize = 38;

/// The steps as an SVG picture: one row a step, exits at the right, repeats arching back at the left.
pub fn svg(graph: &StepGraph) -> String {
    let mut picture = Picture::default();
    for row in rows(graph) {
        picture.row(row);
    }
    picture.end();
    picture.arches();
    picture.finish(graph)
}

/// The picture so far; `y` is where the next row begins.
#[derive(Default)]
struct Picture {
    body: Vec<String>,
    y: usize,
    frames: Vec<(usize, String)>,
    tops: BTreeMap<StepId, usize>,
    repeats: Vec<(usize, StepId, u32)>,
    last_bottom: Option<usize>,
}

impl Picture {
    fn row(&mut self, row: Row) {
        match row {
            Row::Section(title) => self.section(&title),
            Row::Open(title) => {
                self.y += 10;
                self.frames.push((self.y, title));
                self.y += 24;
            }
            Row::Close => self.close(),
            Row::Step { step, number, text, exits } => self.step(step, &number, &text, &exits),
        }
    }

    fn section(&mut self, title: &str) {
        self.y += 34;
        self.text(LEFT, self.y, "section", title);
        self.y += 14;
        self.last_bottom = None;
    }

    fn step(&mut self, step: StepId, number: &str, text: &str, exits: &[Exit]) {
        let lines = wrapped(text, BOX_SIGNS.saturating_sub(4 * self.frames.len()));
        let exit_lines: Vec<(bool, Vec<String>)> = exits
            .iter()
            .map(|exit| {
                (
                    matches!(exit.to, Target::Stop(_) | Target::Refer(_)),
                    wrapped(&told(exit), EXIT_SIGNS),
                )
            })
            .collect();
        let exit_height: usize = exit_lines.iter().map(|(_, lines)| lines.len() * LINE + 12).sum();
        let height = (lines.len() * LINE + 18).max(exit_height).max(36);
        let x = LEFT + INDENT * self.frames.len();
        self.y += 14;
        if let Some(bottom) = self.last_bottom {
            self.body.push(format!(
                "<path class=\"way\" d=\"M {0} {bottom} V {1}\" marker-end=\"url(#head)\"/>",
                x + 40,
                self.y
            ));
        }
        let width = BOX - INDENT * self.frames.len().min(8);
        self.body.push(format!(
            "<rect class=\"step\" x=\"{x}\" y=\"{}\" width=\"{width}\" height=\"{height}\" rx=\"5\"/>",
            self.y
        ));
        self.text(x + 12, self.y + 23, "number", number);
        for (row, line) in lines.iter().enumerate() {
            self.text(x + 64, self.y + 23 + row * LINE, "words", line);
        }
        let mut exit_y = self.y;
        for (exit, (ends, lines)) in exits.iter().zip(&exit_lines) {
            if let Target::Again { step: to, times } = exit.to {
                self.repeats.push((exit_y + 16, to, times));
            }
            self.exit(x + width, exit_y, *ends, lines);
            exit_y += lines.len() * LINE + 12;
        }
        self.tops.insert(step, self.y);
        self.y += height;
        self.last_bottom = Some(self.y);
    }

    fn exit(&mut self, from: usize, y: usize, ends: bool, lines: &[String]) {
        let x = LEFT + BOX + 26;
        let height = lines.len() * LINE + 6;
        let class = if ends { "end" } else { "exit" };
        self.body.push(format!(
            "<path class=\"way\" d=\"M {from} {0} H {x}\" marker-end=\"url(#head)\"/>",
            y + 16
        ));
        self.body.push(format!(
            "<rect class=\"{class}\" x=\"{x}\" y=\"{y}\" width=\"{}\" height=\"{height}\" rx=\"3\"/>",
            WIDTH - x - 14
        ));
        for (row, line) in lines.iter().enumerate() {
            self.text(x + 8, y + 17 + row * LINE, "small", line);
        }
    }

    fn close(&mut self) {
        let Some((top, title)) = self.frames.pop() else { return };
        self.y += 12;
        let inset = INDENT * self.frames.len();
        self.body.push(format!(
            "<rect class=\"frame\" x=\"{}\" y=\"{top}\" width=\"{}\" height=\"{}\" rx=\"7\"/>",
            LEFT - 8 + inset,
            BOX + 16 - inset,
            self.y - top
        ));
        self.text(LEFT + inset + 4, top + 17, "small", &title);
    }

    fn end(&mut self) {
        self.y += 14;
        if let Some(bottom) = self.last_bottom {
            self.body.push(format!(
                "<path class=\"way\" d=\"M {0} {bottom} V {1}\" marker-end=\"url(#head)\"/>",
                LEFT + 40,
                self.y
            ));
        }
        self.body.push(format!(
            "<rect class=\"done\" x=\"{LEFT}\" y=\"{}\" width=\"80\" height=\"30\" rx=\"15\"/>",
            self.y
        ));
        self.text(LEFT + 22, self.y + 20, "number", "done");
        self.y += 44;
    }

    fn arches(&mut self) {
        for (lane, (from, to, times)) in std::mem::take(&mut self.repeats).into_iter().enumerate() {
            let Some(top) = self.tops.get(&to).copied() else { continue };
            let x = LEFT - 20 - 12 * (lane % 4);
            let target = top + 18;
            self.body.push(format!(
                "<path class=\"back\" d=\"M {LEFT} {from} C {x} {from} {x} {target} {LEFT} {target}\" marker-end=\"url(#head)\"/>"
            ));
            let middle = usize::midpoint(from, target);
            self.text(14, middle, "small", &format!("≤ {times} ×"));
        }
    }

    fn text(&mut self, x: usize, y: usize, class: &str, text: &str) {
        self.body.push(format!(
            "<text class=\"{class}\" x=\"{x}\" y=\"{y}\">{}</text>",
            escape(visible(text))
        ));
    }

    fn finish(self, graph: &StepGraph) -> String {
        let title = visible(&graph.heading.title.written());
        let height = self.y;
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {WIDTH} {height}\" width=\"{WIDTH}\" \
             height=\"{height}\" role=\"img\" aria-labelledby=\"title\">\n<title id=\"title\">{}</title>\n{STYLE}\n{}\n</svg>\n",
            escape(title),
            self.body.join("\n")
        )
    }
}

const STYLE: &str =
    "<defs><marker id=\"head\" viewBox=\"0 0 8 8\" refX=\"8\" refY=\"4\" markerWidth=\"8\" \
markerHeight=\"8\" orient=\"auto\"><path d=\"M 0 0 L 8 4 L 0 8 z\"/></marker></defs>
<style>
text { font-family: 'Noto Sans', 'DejaVu Sans', sans-serif; font-size: 14px; fill: #111 }
.section { font-weight: 700; font-size: 16px }
.number { font-weight: 700 }
.small { font-size: 12.5px }
rect { fill: #fff; stroke: #111; stroke-width: 1.4 }
.frame { fill: none; stroke-dasharray: 6 4; stroke-width: 1 }
.end { stroke-width: 2.4 }
.exit { stroke-dasharray: 2 2 }
.done { fill: #111 }
.done + .number { fill: #fff }
.way, .back { fill: none; stroke: #111; stroke-width: 1.3 }
.back { stroke-dasharray: 5 3 }
</style>
<rect x=\"0\" y=\"0\" width=\"100%\" height=\"100%\" style=\"stroke:none\"/>";

fn told(exit: &Exit) -> String {
    match &exit.to {
        Target::Stop(text) => format!("{}: stop. {text}", exit.when),
        Target::Refer(to) => format!("{}: refer to {to}", exit.when),
        Target::Again { times, .. } => format!("{}: repeat, up to {times} times", exit.when),
        Target::Done => format!("{}: done", exit.when),
    }
}

/// Breaks a text at blanks; a word longer than a line is cut.
fn wrapped(text: &str, signs: usize) -> Vec<String> {
    let signs = signs.max(16);
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let letters: Vec<char> = word.chars().collect();
        for piece in letters.chunks(signs) {
            let piece: String = piece.iter().collect();
            match lines.last_mut() {
                Some(line) if line.is_empty() => line.push_str(&piece),
                Some(line) if line.chars().count() + 1 + piece.chars().count() <= signs => {
                    line.push(' ');
                    line.push_str(&piece);
                }
                _ => lines.push(piece),
            }
        }
    }
    lines
}

/// XML allows no control signs, however escaped.
fn visible(text: &str) -> String {
    text.chars().map(|sign| if sign.is_control() { ' ' } else { sign }).collect()
}

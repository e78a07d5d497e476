//! The order of tightening: the fasteners where they stand, each with its turn.

use locknut_graph::{Layout, Pattern};
use quick_xml::escape::escape;

/// The side of the square that the places lie in; around it there is room for half a head.
const SIDE: usize = 200;
const ROOM: usize = 20;
/// The greatest radius of a head.
const HEAD: usize = 15;
/// Places come in so many parts of the longer side.
const PARTS: usize = 1000;
/// Of more, the numbers cannot be read: their order is told in words alone.
const MOST: usize = 48;

/// An SVG drawing of a pattern, with what it shows in words; none where too many stand in it.
pub fn pattern(pattern: &Pattern, told: &str) -> Option<String> {
    let count = pattern.order.len();
    if count > MOST {
        return None;
    }
    let (body, height) = match &pattern.layout {
        Layout::Circle => (circle(&pattern.order), SIDE),
        Layout::Rectangle(places) | Layout::Row(places) | Layout::Listed(places) => {
            let lowest = places.iter().map(|(_, down)| scaled(*down)).max().unwrap_or(0);
            (plane(places, &pattern.order), lowest)
        }
    };
    let (width, height) = (SIDE + 2 * ROOM, height + 2 * ROOM);
    Some(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" width=\"{width}\" \
         height=\"{height}\" role=\"img\"><title>{}</title>\
         <rect x=\"0\" y=\"0\" width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>{body}</svg>",
        escape(told)
    ))
}

/// Around a circle, by turning: so no sine is needed, and nothing is rounded.
fn circle(order: &[u16]) -> String {
    let (middle, radius) = (SIDE / 2 + ROOM, SIDE / 2);
    let count = order.len().max(1);
    let head = HEAD.min(5 * radius / (2 * count).max(1));
    let mut body = format!(
        "<circle cx=\"{middle}\" cy=\"{middle}\" r=\"{radius}\" fill=\"none\" stroke=\"#777\" stroke-dasharray=\"4 3\"/>"
    );
    for (turn, at) in order.iter().enumerate() {
        let thousandths = usize::from(*at) * 360_000 / count;
        let angle = format!("{}.{:03}", thousandths / 1000, thousandths % 1000);
        let turned = format!(
            "<g transform=\"translate({middle} {middle}) rotate({angle}) translate(0 -{radius}) rotate(-{angle})\">{}</g>",
            bolt(0, 0, head, turn + 1)
        );
        body.push_str(&turned);
    }
    body
}

fn plane(places: &[(u16, u16)], order: &[u16]) -> String {
    let head = HEAD.min(closest(places) * 2 / 5);
    let mut body = String::new();
    for (turn, at) in order.iter().enumerate() {
        if let Some((right, down)) = places.get(usize::from(*at)) {
            body.push_str(&bolt(scaled(*right) + ROOM, scaled(*down) + ROOM, head, turn + 1));
        }
    }
    body
}

/// How far apart the nearest two stand, along the axis in which they are farther apart.
fn closest(places: &[(u16, u16)]) -> usize {
    let mut least = SIDE;
    for (at, one) in places.iter().enumerate() {
        for other in places.iter().skip(at + 1) {
            let apart = one.0.abs_diff(other.0).max(one.1.abs_diff(other.1));
            least = least.min(scaled(apart));
        }
    }
    least
}

fn scaled(part: u16) -> usize {
    usize::from(part) * SIDE / PARTS
}

/// A head with its turn; the first is filled, so that it is found at a glance.
fn bolt(x: usize, y: usize, radius: usize, turn: usize) -> String {
    let (fill, ink) = if turn == 1 { ("#111", "#fff") } else { ("#fff", "#111") };
    let size = if turn < 10 { radius * 6 / 5 } else { radius };
    format!(
        "<circle cx=\"{x}\" cy=\"{y}\" r=\"{radius}\" fill=\"{fill}\" stroke=\"#111\" stroke-width=\"1.4\"/>\
         <text x=\"{x}\" y=\"{}\" font-family=\"Noto Sans, DejaVu Sans, sans-serif\" font-size=\"{size}\" \
         font-weight=\"700\" text-anchor=\"middle\" fill=\"{ink}\">{turn}</text>",
        y + size * 9 / 25
    )
}

#[cfg(test)]
mod tests {
    use super::pattern;
    use locknut_graph::{Layout, Pattern};

    #[test]
    fn every_turn_is_drawn_once() {
        let order: Vec<u16> = vec![0, 2, 1, 3];
        let square = vec![(0, 0), (1000, 0), (1000, 1000), (0, 1000)];
        for layout in [Layout::Circle, Layout::Rectangle(square)] {
            let drawn = pattern(&Pattern { layout, order: order.clone() }, "1 < 3").unwrap();
            for turn in 1..=4 {
                assert_eq!(drawn.matches(&format!(">{turn}</text>")).count(), 1, "{drawn}");
            }
            assert!(drawn.contains("<title>1 &lt; 3</title>"));
        }
    }

    #[test]
    fn the_second_turn_on_a_circle_of_four_stands_opposite_the_first() {
        let of = Pattern { layout: Layout::Circle, order: vec![0, 2, 1, 3] };
        let drawn = pattern(&of, "").unwrap();
        let turns: Vec<&str> = drawn.split("<g ").skip(1).collect();
        assert!(turns[0].contains("rotate(0.000)") && turns[0].contains(">1</text>"));
        assert!(turns[1].contains("rotate(180.000)") && turns[1].contains(">2</text>"));
    }

    #[test]
    fn too_many_are_not_drawn() {
        let of = Pattern { layout: Layout::Circle, order: (0..49).collect() };
        assert_eq!(pattern(&of, ""), None);
    }
}

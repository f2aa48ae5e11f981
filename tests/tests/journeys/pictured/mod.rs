//! What an SVG file of a quilt shows, read from its text: the size of the page, and every filled outline with its area.

/// What is on the page.
pub struct Pictured {
    /// Inches.
    pub width: f64,
    /// Inches.
    pub height: f64,
    /// Colour and square inches of every filled outline.
    pub areas: Vec<(String, f64)>,
}

/// Reads a picture of straight-sided outlines, each written once as a path.
pub fn pictured(svg: &str) -> Pictured {
    let view: Vec<f64> = numbers(between(svg, "viewBox=\"", "\"").unwrap());
    let mut areas = Vec::new();
    for path in svg.split("<path ").skip(1) {
        let fill = between(path, "fill=\"", "\"").unwrap();
        if fill == "none" {
            continue;
        }
        let outlines = between(path, " d=\"", "\"").unwrap().split('Z').filter(|ring| !ring.is_empty());
        areas.extend(outlines.map(|ring| (fill.to_owned(), area(&numbers(ring)))));
    }
    Pictured { width: view[2], height: view[3], areas }
}

fn between<'a>(text: &'a str, before: &str, after: &str) -> Option<&'a str> {
    let rest = &text[text.find(before)? + before.len()..];
    Some(&rest[..rest.find(after)?])
}

fn numbers(text: &str) -> Vec<f64> {
    let words = text.split(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-')).filter(|word| !word.is_empty());
    words.map(|word| word.parse().unwrap()).collect()
}

/// Area of an outline of x and y in turn, by the trapezoids below its sides.
fn area(ring: &[f64]) -> f64 {
    let corners: Vec<[f64; 2]> = ring.chunks(2).map(|p| [p[0], p[1]]).collect();
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).map(|(p, q)| (p[0] - q[0]) * (p[1] + q[1]) / 2.0).sum::<f64>().abs()
}

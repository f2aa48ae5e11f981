//! A drawing as a standalone SVG 1.1 file, the same bytes on every machine.
//!
//! User units are inches. Fills of neighbouring areas are antialiased one after the other, so a pixel on their
//! common edge would let the page show through as a pale hairline. Each run of areas is therefore laid down twice:
//! first every area with a thin stroke of its own colour, which reaches a little under its neighbours, then the true
//! shapes on top. What shows through at an edge is then a neighbour's colour, and no edge is moved. The first
//! laying refers to the second with `<use>`, so every area is written down, and can be edited, once.

use std::fmt::Write as _;

use crate::{Anchor, Area, Drawing, Item, Lines, Point, Text, Weight};

/// The type that texts are set in.
pub(crate) const FAMILY: &str = "Lato";

/// Width of the first laying's stroke, as a share of the longer side of the page: 2 pixels in a view of 1,000. Half
/// of it lies outside the outermost areas, 0.2 mm on a print 8 inches long.
const BLEED_SHARE: f64 = 0.002;

/// Writes the drawing as an SVG file.
///
/// Width and height are in inches, and so are the user units. Each [`Area`] is one `<path>` with its label as
/// `<title>`; coordinates have at most five decimals. Characters XML does not allow become U+FFFD in titles.
/// Identifiers are unique within the file only: show two such files on one web page as images, not inline.
///
/// Sources: SVG 1.1 (W3C, second edition); XML 1.0 (W3C, fifth edition), production 2 `Char`.
#[must_use]
pub fn svg(drawing: &Drawing) -> String {
    let page = drawing.page();
    svg_with_bleed(drawing, BLEED_SHARE * page.width_in.max(page.height_in))
}

/// The same with the first laying's stroke `bleed_in` inches wide, for who knows how large a pixel will be.
pub(crate) fn svg_with_bleed(drawing: &Drawing, bleed_in: f64) -> String {
    let page = drawing.page();
    let (width, height) = (number(page.width_in), number(page.height_in));
    let mut out = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" \
         xmlns:xlink=\"http://www.w3.org/1999/xlink\" version=\"1.1\" width=\"{width}in\" height=\"{height}in\" \
         viewBox=\"0 0 {width} {height}\">\n"
    );
    if let Some(colour) = page.background {
        put(&mut out, format_args!("<rect width=\"{width}\" height=\"{height}\" fill=\"{colour}\"/>\n"));
    }
    let mut first = 1;
    let belong = |a: &Item, b: &Item| matches!((a, b), (Item::Area(_), Item::Area(_)) | (Item::Text(_), Item::Text(_)));
    for run in drawing.items().chunk_by(|a, b| belong(a, b)) {
        put_run(&mut out, run, first, bleed_in);
        first += run.len();
    }
    out.push_str("</svg>\n");
    out
}

/// Writes neighbouring areas in two layings, neighbouring texts, or one item of another kind. Items count from `first`
/// on.
fn put_run(out: &mut String, run: &[Item], first: usize, bleed_in: f64) {
    let areas = || {
        run.iter().zip(first..).filter_map(|(item, id)| match item {
            Item::Area(area) if !area.polygons.is_empty() => Some((area, id)),
            _ => None,
        })
    };
    if areas().next().is_some() {
        let bleed = number(bleed_in);
        put(out, format_args!("<g stroke-width=\"{bleed}\" stroke-linejoin=\"round\">\n"));
        for (Area { fill, .. }, id) in areas() {
            put(out, format_args!("<use xlink:href=\"#item-{id}\" stroke=\"{fill}\"/>\n"));
        }
        out.push_str("</g>\n");
        areas().for_each(|(area, id)| put_area(out, area, id));
    }
    for item in run {
        if let Item::Lines(lines) = item {
            put_lines(out, lines);
        }
    }
    put_texts(out, run);
}

/// Writes the texts of a run in one group, which names the type.
fn put_texts(out: &mut String, run: &[Item]) {
    let texts = || run.iter().filter_map(|item| if let Item::Text(text) = item { Some(text) } else { None });
    if texts().next().is_some() {
        put(out, format_args!("<g font-family=\"{FAMILY}, sans-serif\">\n"));
        texts().for_each(|text| put_line_of_text(out, text));
        out.push_str("</g>\n");
    }
}

fn put_line_of_text(out: &mut String, text: &Text) {
    let [x, y] = text.at.map(number);
    put(out, format_args!("<text x=\"{x}\" y=\"{y}\" font-size=\"{}\"", number(text.size_in)));
    if text.weight == Weight::Bold {
        out.push_str(" font-weight=\"bold\"");
    }
    match text.anchor {
        Anchor::Start => {}
        Anchor::Middle => out.push_str(" text-anchor=\"middle\""),
        Anchor::End => out.push_str(" text-anchor=\"end\""),
    }
    let turned = number(text.turned);
    if turned != "0" {
        put(out, format_args!(" transform=\"rotate({turned} {x} {y})\""));
    }
    put(out, format_args!(" fill=\"{}\">", text.fill));
    put_text(out, &text.text);
    out.push_str("</text>\n");
}

fn put_area(out: &mut String, area: &Area, id: usize) {
    put(out, format_args!("<path id=\"item-{id}\" fill=\"{}\" fill-rule=\"evenodd\" d=\"", area.fill));
    area.polygons.iter().for_each(|corners| put_path(out, corners, true));
    if area.label.is_empty() {
        out.push_str("\"/>\n");
    } else {
        out.push_str("\"><title>");
        put_text(out, &area.label);
        out.push_str("</title></path>\n");
    }
}

fn put_lines(out: &mut String, lines: &Lines) {
    if lines.polylines.is_empty() {
        return;
    }
    // Round ends would close the gaps of dashes in part.
    let ends = if lines.dashes.is_empty() { "round" } else { "butt" };
    let (stroke, width) = (lines.stroke, number(lines.width_in));
    put(out, format_args!("<path fill=\"none\" stroke=\"{stroke}\" stroke-width=\"{width}\""));
    put(out, format_args!(" stroke-linecap=\"{ends}\" stroke-linejoin=\"round\""));
    if !lines.dashes.is_empty() {
        let lengths: Vec<String> = lines.dashes.iter().map(|length| number(*length)).collect();
        put(out, format_args!(" stroke-dasharray=\"{}\"", lengths.join(" ")));
    }
    out.push_str(" d=\"");
    lines.polylines.iter().for_each(|line| put_path(out, &line.points, line.closed));
    out.push_str("\"/>\n");
}

/// Writes `M x y L x y x y …`, with `Z` where the path is closed.
fn put_path(out: &mut String, points: &[Point], closed: bool) {
    for (index, [x, y]) in points.iter().enumerate() {
        out.push(match index {
            0 => 'M',
            1 => 'L',
            _ => ' ',
        });
        put(out, format_args!("{} {}", number(*x), number(*y)));
    }
    if closed {
        out.push('Z');
    }
}

/// Writes text between tags.
fn put_text(out: &mut String, text: &str) {
    for character in text.chars() {
        match character {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            // A bare carriage return would be read back as a line feed.
            '\r' => out.push_str("&#13;"),
            '\t' | '\n' | ' '..='\u{FFFD}' | '\u{10000}'.. => out.push(character),
            _ => out.push('\u{FFFD}'),
        }
    }
}

/// The number with at most five decimals, shortest form; never `-0`.
fn number(value: f64) -> String {
    let long = format!("{value:.5}");
    match long.trim_end_matches('0').trim_end_matches('.') {
        "-0" => "0".to_owned(),
        short => short.to_owned(),
    }
}

/// Appends formatted text. Writing to a `String` cannot fail.
fn put(out: &mut String, text: std::fmt::Arguments<'_>) {
    let _ = out.write_fmt(text);
}

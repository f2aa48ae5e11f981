//! Drawings for black-and-white print: a hatch in place of every fabric's colour.
//!
//! The value of a fabric decides the kind of its hatch, so that dark reads dark on any copier: crossed lines close to each
//! other for dark, lines for medium, dashes far apart for light. Fabrics of one value are told apart by the direction of
//! their lines. Everything else on a drawing becomes the grey that is as light as its colour.

use std::collections::BTreeMap;

use geometry::Value;
use layout::{Colour, Design, Fabric, FabricId};

use crate::set_text::{INK, PAPER};
use crate::typeface::text_width;
use crate::{Anchor, Area, Drawing, Item, Lines, Page, Point, Polyline, PublishError, Text};

/// Directions of the lines in degrees, in the order in which fabrics of one value get them.
const DIRECTIONS: [f64; 4] = [45.0, 135.0, 0.0, 90.0];
/// The same where lines are crossed: those look alike after a quarter turn.
const CROSSED: [f64; 4] = [45.0, 0.0, 22.5, 67.5];
/// Width of a hatch line as it is printed, in inches.
const LINE_IN: f64 = 0.009;
/// Sides of a swatch, in inches.
const SWATCH_IN: [f64; 2] = [0.42, 0.28];
/// Width of the outline of a swatch.
const OUTLINE_IN: f64 = 0.012;

/// The hatch of one fabric.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Hatch {
    value: Value,
    /// Which fabric of its value it is, from 0.
    number: usize,
}

impl Hatch {
    /// Distance of its lines as they are printed, in inches.
    const fn spacing_in(self) -> f64 {
        match self.value {
            Value::Dark => 0.05,
            Value::Medium => 0.08,
            Value::Light => 0.16,
        }
    }

    /// Dash and gap of its lines as they are printed, in inches; empty for whole lines. After as many fabrics of one value
    /// as there are directions the dashes change.
    fn dashes_in(self) -> Vec<f64> {
        let again = self.number / DIRECTIONS.len() % 2 == 1;
        match (self.value, again) {
            (Value::Light, false) => vec![0.02, 0.1],
            (Value::Light, true) => vec![0.08, 0.08],
            (_, false) => Vec::new(),
            (_, true) => vec![0.1, 0.04],
        }
    }

    /// Directions of its lines in degrees.
    fn directions(self) -> Vec<f64> {
        let turn = self.number % DIRECTIONS.len();
        match self.value {
            Value::Dark => vec![CROSSED[turn], CROSSED[turn] + 90.0],
            Value::Medium | Value::Light => vec![DIRECTIONS[turn]],
        }
    }

    /// Its lines within polygons (even-odd), on a drawing that is printed `printed` times as large.
    fn lines(self, polygons: &[Vec<Point>], printed: f64) -> Item {
        let spacing = self.spacing_in() / printed;
        let within = |degrees| hatch_lines(polygons, degrees, spacing);
        Item::Lines(Lines {
            stroke: INK.grey(),
            width_in: LINE_IN / printed,
            dashes: self.dashes_in().into_iter().map(|length| length / printed).collect(),
            polylines: self.directions().into_iter().flat_map(within).collect(),
        })
    }
}

/// The hatches of a quilt's fabrics.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hatching {
    hatches: BTreeMap<FabricId, Hatch>,
    /// What the areas of a fabric are called on drawings, with its colour there.
    areas: Vec<([String; 2], Colour, Hatch)>,
}

impl Hatching {
    /// A hatch for every fabric of a design.
    #[must_use]
    pub fn new(design: &Design) -> Self {
        let mut found: BTreeMap<Value, usize> = BTreeMap::new();
        let mut hatching = Self { hatches: BTreeMap::new(), areas: Vec::new() };
        for (id, fabric) in design.fabrics() {
            let number = found.entry(fabric.value).or_insert(0);
            let hatch = Hatch { value: fabric.value, number: *number };
            *number += 1;
            let names = [fabric.name.clone(), named_with_value(fabric)];
            hatching.hatches.insert(id, hatch);
            hatching.areas.push((names, fabric.look.colour(), hatch));
        }
        hatching
    }

    /// The drawing in black and white, to be printed `printed` times as large as it is. Its text is printed no smaller than
    /// `least_text_in` inches, on a white ground.
    ///
    /// # Errors
    /// A drawing of more than an exporter can take.
    pub fn drawing(&self, drawing: &Drawing, printed: f64, least_text_in: f64) -> Result<Drawing, PublishError> {
        let page = drawing.page();
        let mut items = Vec::with_capacity(drawing.items().len());
        let is_area = |item: &Item| matches!(item, Item::Area(_));
        // Areas that follow each other stay together, so that no hatch is nibbled at by its neighbour's ground.
        for run in drawing.items().chunk_by(|a, b| is_area(a) && is_area(b)) {
            let mut hatches = Vec::new();
            for item in run {
                match item {
                    Item::Area(area) => {
                        let hatch = self.of_area(area);
                        let fill = if hatch.is_some() { PAPER } else { area.fill.grey() };
                        hatches.extend(hatch.map(|hatch| hatch.lines(&area.polygons, printed)));
                        items.push(Item::Area(Area { fill, ..area.clone() }));
                    }
                    Item::Lines(lines) => {
                        items.push(Item::Lines(Lines { stroke: lines.stroke.grey(), ..lines.clone() }));
                    }
                    Item::Text(text) => items.extend(readable(text, least_text_in / printed)),
                }
            }
            items.append(&mut hatches);
        }
        Drawing::new(Page { background: page.background.map(Colour::grey), ..page }, items)
    }

    /// The hatch of an area that shows a fabric.
    fn of_area(&self, area: &Area) -> Option<Hatch> {
        let shows =
            |(names, colour, _): &&([String; 2], Colour, Hatch)| names.contains(&area.label) && *colour == area.fill;
        self.areas.iter().find(shows).map(|(.., hatch)| *hatch)
    }

    /// A swatch of a fabric's hatch, to be printed at its own size.
    ///
    /// # Errors
    /// [`PublishError::Design`] for a fabric of another design.
    pub fn swatch(&self, id: FabricId) -> Result<Drawing, PublishError> {
        let hatch = self.hatches.get(&id).copied().ok_or(layout::EditError::NoFabric(id))?;
        let [width_in, height_in] = SWATCH_IN;
        let edge = OUTLINE_IN / 2.0;
        let outline =
            vec![[edge, edge], [width_in - edge, edge], [width_in - edge, height_in - edge], [edge, height_in - edge]];
        let polylines = vec![Polyline { points: outline.clone(), closed: true }];
        let frame = Lines { stroke: INK.grey(), width_in: OUTLINE_IN, dashes: Vec::new(), polylines };
        let items = vec![hatch.lines(&[outline], 1.0), Item::Lines(frame)];
        Drawing::new(Page { width_in, height_in, background: Some(PAPER) }, items)
    }
}

/// How the hatch of a value looks, for a legend.
#[must_use]
pub const fn hatch_words(value: Value) -> &'static str {
    match value {
        Value::Dark => "dark: crossed lines",
        Value::Medium => "medium: lines",
        Value::Light => "light: dashes",
    }
}

/// A text in grey, at least so large, on a white ground.
fn readable(text: &Text, least_in: f64) -> [Item; 2] {
    let text = Text { fill: text.fill.grey(), size_in: text.size_in.max(least_in), ..text.clone() };
    let width = text_width(&text.text, text.size_in, text.weight);
    let left = match text.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -width / 2.0,
        Anchor::End => -width,
    };
    let (margin, size) = (0.15 * text.size_in, text.size_in);
    let corners =
        [[-margin, -0.8 * size], [width + margin, -0.8 * size], [width + margin, 0.2 * size], [-margin, 0.2 * size]];
    let (sin, cos) = text.turned.to_radians().sin_cos();
    let place = |[x, y]: Point| {
        let x = x + left;
        [text.at[0] + x * cos - y * sin, text.at[1] + x * sin + y * cos]
    };
    let ground = Area { label: String::new(), fill: PAPER, polygons: vec![corners.map(place).to_vec()] };
    [Item::Area(ground), Item::Text(text)]
}

/// Parallel lines within polygons, even-odd. They stand on one grid over the whole page, so that neighbours in one fabric
/// show no break.
fn hatch_lines(polygons: &[Vec<Point>], degrees: f64, spacing: f64) -> Vec<Polyline> {
    let (sin, cos) = degrees.to_radians().sin_cos();
    // Along the lines, and across them in steps of the spacing.
    let turned = |[x, y]: Point| [x * cos + y * sin, (y * cos - x * sin) / spacing];
    let mut crossings: BTreeMap<i64, Vec<f64>> = BTreeMap::new();
    for corners in polygons {
        let next = corners.iter().skip(1).chain(corners.first());
        for (from, to) in corners.iter().zip(next) {
            let (a, b) = (turned(*from), turned(*to));
            let (low, high) = if a[1] < b[1] { (a, b) } else { (b, a) };
            // A corner on a line belongs to the edge above it, so that a line through corners crosses evenly.
            for line in whole(low[1].ceil())..whole(high[1].ceil()) {
                let share = (line_at(line) - low[1]) / (high[1] - low[1]);
                crossings.entry(line).or_default().push(low[0] + (high[0] - low[0]) * share);
            }
        }
    }
    let back = |along: f64, line: i64| {
        let across = line_at(line) * spacing;
        [along * cos - across * sin, along * sin + across * cos]
    };
    let mut lines = Vec::new();
    for (line, mut along) in crossings {
        along.sort_by(f64::total_cmp);
        for pair in along.chunks_exact(2) {
            if pair[1] - pair[0] > spacing * 0.01 {
                lines.push(Polyline { points: vec![back(pair[0], line), back(pair[1], line)], closed: false });
            }
        }
    }
    lines
}

/// A whole float as a number; pages are far smaller than the numbers there are.
#[expect(clippy::cast_possible_truncation, reason = "saturates; lines on a page are far below")]
const fn whole(value: f64) -> i64 {
    value as i64
}

/// A number of a line as a float; lines on a page are far below 2⁵³.
const fn line_at(line: i64) -> f64 {
    line as f64
}

/// The grey of a colour.
trait Grey {
    /// The grey that is as light as the colour.
    fn grey(self) -> Self;
}

impl Grey for Colour {
    /// Luma weights of Rec. ITU-R BT.709, in hundredths (rounded).
    fn grey(self) -> Self {
        let weighted = 21 * u16::from(self.red) + 72 * u16::from(self.green) + 7 * u16::from(self.blue);
        let grey = u8::try_from((weighted + 50) / 100).unwrap_or(u8::MAX);
        Self::rgb(grey, grey, grey)
    }
}

/// "Plum (dark)": what a fabric is called on drawings and in legends.
#[must_use]
pub fn named_with_value(fabric: &Fabric) -> String {
    format!("{} ({})", fabric.name, fabric.value.word())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn length(lines: &[Polyline]) -> f64 {
        lines
            .iter()
            .map(|line| (line.points[1][0] - line.points[0][0]).hypot(line.points[1][1] - line.points[0][1]))
            .sum()
    }

    /// Lines of a spacing fill an area with their length times the spacing.
    #[test]
    fn lines_fill_their_polygon_and_leave_holes() {
        let square = |low: f64, high: f64| vec![[low, low], [high, low], [high, high], [low, high]];
        for degrees in DIRECTIONS {
            let whole = hatch_lines(&[square(0.0, 3.0)], degrees, 0.01);
            assert!((length(&whole) * 0.01 - 9.0).abs() < 0.05, "{degrees}");
            let holed = hatch_lines(&[square(0.0, 3.0), square(1.0, 2.0)], degrees, 0.01);
            assert!((length(&holed) * 0.01 - 8.0).abs() < 0.05, "{degrees}");
            let middle = |line: &Polyline| [0, 1].map(|axis| line.points[0][axis].midpoint(line.points[1][axis]));
            assert!(holed.iter().map(middle).all(|at| !at.iter().all(|c| (1.001..1.999).contains(c))), "{degrees}");
        }
    }

    #[test]
    fn greys_keep_order_and_ends() {
        for (colour, grey) in [((0, 0, 0), 0), ((255, 255, 255), 255), ((255, 0, 0), 54), ((0, 255, 0), 184)] {
            let (r, g, b) = colour;
            assert_eq!(Colour::rgb(r, g, b).grey(), Colour::rgb(grey, grey, grey));
        }
    }

    #[test]
    fn darker_values_hold_more_ink() {
        let square = vec![vec![[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]]];
        let ink = |value, number| {
            let hatch = Hatch { value, number };
            let Item::Lines(lines) = hatch.lines(&square, 1.0) else { unreachable!("a hatch is lines") };
            let whole: f64 = lines.dashes.iter().sum();
            let drawn: f64 = lines.dashes.iter().step_by(2).sum();
            length(&lines.polylines) * if whole > 0.0 { drawn / whole } else { 1.0 }
        };
        for number in 0..8 {
            assert!(ink(Value::Dark, number) > 1.5 * ink(Value::Medium, number));
            assert!(ink(Value::Medium, number) > 1.5 * ink(Value::Light, number));
        }
    }
}

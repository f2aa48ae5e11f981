//! The blocks in their places: rows drawn apart where they are sewn in rows, every block with its letter and a mark that
//! points to its top.

use std::collections::{BTreeMap, BTreeSet};

use geometry::Vector;
use layout::{Design, FabricId, MAX_ROWS, PlaceId, Placed, SamplerPlan, Setting};

use super::kinds::Standing;
use crate::set_text::{INK, PAPER, QUIET, tinted};
use crate::typeface::{DIGIT_HEIGHT, text_width};
use crate::{Anchor, Area, Drawing, Item, Lines, Page, Point, Polyline, PublishError, Text, Weight};

/// The widest and highest that the drawing is, in inches, without the numbers of rows; and how large it may become so that
/// its letters are read.
const LARGEST_IN: [f64; 2] = [6.1, 5.0];
const WHOLE_PAGE_IN: [f64; 2] = [6.4, 7.8];
/// Room round it, in inches.
const ROOM_IN: f64 = 0.28;
/// From row to row more than they are sewn, as a share of the pitch of the rows.
const APART: f64 = 0.22;
/// The same with strips between the rows, which are drawn halfway.
const APART_WITH_SASHES: f64 = 0.4;
/// The largest letter, and the smallest that is read on paper (6 points), in inches; its size as a share of the block's
/// side, and the share that it may take so that it is read.
const LETTER_IN: [f64; 2] = [0.17, 6.0 / 72.0];
const LETTER_SHARE: f64 = 0.24;
const MOST_LETTER_SHARE: f64 = 0.36;
/// The small drawing is at least this share of the other.
const LEAST: f64 = 0.5;
/// The smallest number of a filler that is still drawn, in inches.
const FILLER_IN: f64 = 0.04;
/// The most of a filler's shorter side that its number takes.
const FILLER_SHARE: f64 = 0.8;
/// Widths of seams in a block and of its outline, in inches.
const LINES_IN: [f64; 2] = [0.003, 0.01];
/// How much of a fabric's colour is drawn, so that letters read on it.
const TINT: f64 = 0.55;
/// Corners of the disc under a letter.
const DISC_CORNERS: u8 = 20;
/// Numbers of rows.
const NUMBER_IN: f64 = 0.11;
/// What stands after the letter of a block that is pressed the other way round.
pub(super) const REVERSED: &str = "*";
/// How far they stand before the row.
const BEFORE_IN: f64 = 0.14;

/// The blocks in their places.
pub(super) struct RowsPicture {
    pub(super) drawing: Drawing,
    /// The same, smaller, with larger letters in its blocks: for a page that has less room.
    pub(super) small: Drawing,
}

/// Draws the blocks of a quilt, borders apart; those that are pressed the other way round have a star after their letter.
pub(super) fn rows_picture(
    design: &Design,
    kinds: &[Standing],
    reversed: &BTreeSet<PlaceId>,
) -> Result<RowsPicture, PublishError> {
    let top = design.top()?;
    let inside: Vec<&Placed> = top.placed.iter().filter(|placed| !is_of_border(placed.place)).collect();
    let apart = if design.sashing().is_some() { APART_WITH_SASHES } else { APART };
    let rows = Rows::new(design.setting(), &inside, apart);
    let mut sheet = Sheet::default();
    for placed in &inside {
        sheet.place(design, placed, &rows)?;
    }
    let letter = |kind: &Standing, place: &PlaceId| {
        let star = if reversed.contains(place) { REVERSED } else { "" };
        format!("{}{star}", kind.letter)
    };
    let letters: BTreeMap<PlaceId, String> =
        kinds.iter().flat_map(|kind| kind.places.iter().map(|place| (*place, letter(kind, place)))).collect();
    let scale = sheet.scale(&letters);
    let drawing = sheet.finished(design, &letters, &rows, scale)?;
    let small = sheet.finished(design, &letters, &rows, sheet.least_scale(&letters).max(scale * LEAST).min(scale))?;
    Ok(RowsPicture { drawing, small })
}

/// Whether a place belongs to a border.
pub(super) const fn is_of_border(place: PlaceId) -> bool {
    matches!(place, PlaceId::Border { .. } | PlaceId::BorderCorner { .. } | PlaceId::BorderBlock { .. })
}

/// The middle of some corners: that of their least and greatest coordinates.
pub(super) fn middle_of(corners: &[Point]) -> Point {
    let [low, high] = bounds_of(corners);
    [low[0].midpoint(high[0]), low[1].midpoint(high[1])]
}

/// The least and greatest coordinates.
fn bounds_of(corners: &[Point]) -> [Point; 2] {
    corners.iter().fold([[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]], |[low, high], p| {
        [[low[0].min(p[0]), low[1].min(p[1])], [high[0].max(p[0]), high[1].max(p[1])]]
    })
}

/// The outline of something in the top, y up.
fn outline(placed: &Placed) -> Vec<Point> {
    placed.block.base().corners().iter().map(|corner| placed.motion.point(corner).to_f64()).collect()
}

/// The mean of some corners, which lies inside any block.
fn mean(corners: &[Point]) -> Point {
    #[expect(clippy::cast_precision_loss, reason = "a block has few corners")]
    let share = 1.0 / corners.len().max(1) as f64;
    corners.iter().fold([0.0; 2], |sum, p| [sum[0] + p[0] * share, sum[1] + p[1] * share])
}

/// How rows are drawn apart: their direction, and where each of them lies across it.
struct Rows {
    /// Across the rows, from the first to the last, y up.
    across: Point,
    /// Along the rows, to the end.
    along: Point,
    /// Across the middle of row 0, and from row to row, in inches of the quilt.
    first: f64,
    pitch: f64,
    apart: f64,
    on_point: bool,
    setting: Setting,
}

impl Rows {
    fn new(setting: Setting, inside: &[&Placed], apart: f64) -> Self {
        let on_point = matches!(setting, Setting::OnPoint { .. });
        let (across, along) = if on_point {
            let half = std::f64::consts::FRAC_1_SQRT_2;
            ([half, -half], [half, half])
        } else {
            ([0.0, -1.0], [1.0, 0.0])
        };
        let mut rows = Self { across, along, first: 0.0, pitch: 1.0, apart: 0.0, on_point, setting };
        let mut found: BTreeMap<u16, f64> = BTreeMap::new();
        for placed in inside {
            if let PlaceId::Cell { row, column } = placed.place {
                let at = rows.position(middle_of(&outline(placed)));
                found.entry(rows.sewn_row(row, column)).or_insert(at);
            }
        }
        let (Some((low, first)), Some((high, last))) = (found.first_key_value(), found.last_key_value()) else {
            return rows;
        };
        if high > low && !matches!(setting, Setting::Sampler { .. }) {
            rows.pitch = (last - first) / f64::from(high - low);
            rows.first = first - rows.pitch * f64::from(*low);
            rows.apart = apart * rows.pitch;
        }
        rows
    }

    /// The row in which the block of a cell is sewn.
    const fn sewn_row(&self, row: u16, column: u16) -> u16 {
        if self.on_point { self.setting.sewn_at(row, column).0 } else { row }
    }

    /// Where a point lies across the rows.
    fn position(&self, [x, y]: Point) -> f64 {
        x * self.across[0] + y * self.across[1]
    }

    /// The row of something, counted from 0; between two rows for what lies there.
    fn row_of(&self, placed: &Placed) -> f64 {
        let between = |row: u16| f64::from(row) - 0.5;
        match placed.place {
            PlaceId::Cell { row, column } => f64::from(self.sewn_row(row, column)),
            PlaceId::Sash { row, level: false, .. }
            | PlaceId::RowEnd { row, .. }
            | PlaceId::SettingTriangle { row, .. } => f64::from(row),
            PlaceId::Sash { row, .. } | PlaceId::LongSash { row } | PlaceId::Cornerstone { row, .. } => between(row),
            _ => {
                let row = (self.position(middle_of(&outline(placed))) - self.first) / self.pitch;
                if self.on_point && matches!(placed.place, PlaceId::SideTriangle { .. }) { row.round() } else { row }
            }
        }
    }

    /// How far something is moved, in inches of the quilt.
    fn shift(&self, placed: &Placed) -> Point {
        let far = if self.apart > 0.0 { self.row_of(placed) * self.apart } else { 0.0 };
        [self.across[0] * far, self.across[1] * far]
    }
}

/// A block or filler that is named.
struct Named {
    place: PlaceId,
    /// Its middle, y up, in inches of the quilt.
    at: Point,
    /// Towards its top.
    up: Point,
    /// The side of a square as large.
    side: f64,
    /// Its shorter extent.
    least: f64,
}

/// What is drawn, y up, in inches of the quilt.
#[derive(Default)]
struct Sheet {
    fabrics: BTreeMap<FabricId, Vec<Vec<Point>>>,
    outlines: Vec<Vec<Point>>,
    named: Vec<Named>,
    /// For each row of blocks, where it lies across the rows, and where its first piece begins.
    begins: BTreeMap<u16, [f64; 2]>,
}

impl Sheet {
    fn place(&mut self, design: &Design, placed: &Placed, rows: &Rows) -> Result<(), PublishError> {
        let [dx, dy] = rows.shift(placed);
        let moved = |[x, y]: Point| [x + dx, y + dy];
        for (index, patch) in placed.block.patches().iter().enumerate() {
            let fabric = design.paint(placed.place, placed.source, &placed.block, index)?;
            let corners = patch.outline.corners().iter();
            let points = corners.map(|corner| moved(placed.motion.point(corner).to_f64())).collect();
            self.fabrics.entry(fabric).or_default().push(points);
        }
        let outline: Vec<Point> = outline(placed).into_iter().map(moved).collect();
        self.begin_row(placed, &outline, rows);
        if matches!(placed.place, PlaceId::Cell { .. } | PlaceId::Filler(_)) {
            let (width, height) = placed.block.base().extent();
            let up = placed.motion.vector(&Vector::new(geometry::Exact::ZERO, geometry::Exact::ONE));
            self.named.push(Named {
                place: placed.place,
                at: mean(&outline),
                up: [up.x.to_f64(), up.y.to_f64()],
                side: placed.block.base().area().to_f64().abs().sqrt(),
                least: width.to_f64().min(height.to_f64()),
            });
        }
        self.outlines.push(outline);
        Ok(())
    }

    fn finished(
        &self,
        design: &Design,
        letters: &BTreeMap<PlaceId, String>,
        rows: &Rows,
        scale: f64,
    ) -> Result<Drawing, PublishError> {
        let ([low, high], [wide, tall]) = self.extent();
        let page = Page {
            width_in: wide * scale + 2.0 * ROOM_IN,
            height_in: tall * scale + 2.0 * ROOM_IN,
            background: Some(PAPER),
        };
        let on_page = |[x, y]: Point| [(x - low[0]) * scale + ROOM_IN, (high[1] - y) * scale + ROOM_IN];
        let all = |shapes: &[Vec<Point>]| -> Vec<Vec<Point>> {
            shapes.iter().map(|shape| shape.iter().copied().map(on_page).collect()).collect()
        };
        let closed = |shapes: Vec<Vec<Point>>, width_in| {
            let polylines = shapes.into_iter().map(|points| Polyline { points, closed: true }).collect();
            Item::Lines(Lines { stroke: INK, width_in, dashes: Vec::new(), polylines })
        };
        let mut items = Vec::new();
        for (fabric, shapes) in &self.fabrics {
            let fabric = design.fabric(*fabric)?;
            let fill = tinted(fabric.look.colour(), TINT);
            items.push(Item::Area(Area { label: fabric.name.clone(), fill, polygons: all(shapes) }));
        }
        let seams: Vec<Vec<Point>> = self.fabrics.values().flat_map(|shapes| all(shapes)).collect();
        items.push(closed(seams, LINES_IN[0]));
        items.push(closed(all(&self.outlines), LINES_IN[1]));
        items.extend(self.names(design, letters, scale, &on_page));
        items.extend(self.row_numbers(rows, scale, &on_page));
        Drawing::new(page, items)
    }

    /// Its least and greatest coordinates, and how wide and tall it is.
    fn extent(&self) -> ([Point; 2], Point) {
        let corners: Vec<Point> = self.outlines.iter().flatten().copied().collect();
        let [low, high] = bounds_of(&corners);
        ([low, high], [high[0] - low[0], high[1] - low[1]])
    }

    /// Inches of the page for an inch of the quilt: as many as make every letter legible, as far as the page is large
    /// enough.
    fn scale(&self, letters: &BTreeMap<PlaceId, String>) -> f64 {
        let (_, [wide, tall]) = self.extent();
        let fit = |[width, height]: Point| (width / wide).min(height / tall);
        let legible = LETTER_IN[1] / (self.least_side(letters) * LETTER_SHARE);
        fit(LARGEST_IN).max(legible).min(fit(WHOLE_PAGE_IN))
    }

    /// The fewest inches with which letters are legible when they take as much of their blocks as they may.
    fn least_scale(&self, letters: &BTreeMap<PlaceId, String>) -> f64 {
        LETTER_IN[1] / (self.least_side(letters) * MOST_LETTER_SHARE)
    }

    /// The side of the smallest block with a letter.
    fn least_side(&self, letters: &BTreeMap<PlaceId, String>) -> f64 {
        let lettered = self.named.iter().filter(|named| letters.contains_key(&named.place));
        lettered.map(|named| named.side).fold(f64::INFINITY, f64::min)
    }

    /// Notes where the row of something begins; what lies between two rows begins none.
    fn begin_row(&mut self, placed: &Placed, outline: &[Point], rows: &Rows) {
        let row = rows.row_of(placed);
        let Some(number) = (0..MAX_ROWS * 2).find(|number| (f64::from(*number) - row).abs() < 1e-6) else { return };
        let along = |p: &Point| p[0] * rows.along[0] + p[1] * rows.along[1];
        let from = outline.iter().map(along).fold(f64::INFINITY, f64::min);
        let begin = self.begins.entry(number).or_insert([0.0, f64::INFINITY]);
        begin[1] = begin[1].min(from);
        if matches!(placed.place, PlaceId::Cell { .. }) {
            begin[0] = rows.position(middle_of(outline));
        }
    }

    /// Letters with their marks, and the numbers of fillers.
    fn names(
        &self,
        design: &Design,
        letters: &BTreeMap<PlaceId, String>,
        scale: f64,
        on_page: &impl Fn(Point) -> Point,
    ) -> Vec<Item> {
        let is_free = matches!(design.sampler_plan(), Some(SamplerPlan::Free(_)));
        let (mut discs, mut marks, mut texts) = (Vec::new(), Vec::new(), Vec::new());
        for named in &self.named {
            let side = named.side * scale;
            let mut size_in = letter_in(side);
            if matches!(named.place, PlaceId::Filler(_)) {
                // A long filler is narrow: its number stays between its seams.
                size_in = size_in.min(named.least * scale * FILLER_SHARE);
            }
            if size_in < FILLER_IN {
                continue;
            }
            let text = match (named.place, letters.get(&named.place)) {
                (PlaceId::Cell { column, .. }, Some(letter)) if is_free => {
                    format!("{letter} {}", u32::from(column) + 1)
                }
                (_, Some(letter)) => letter.clone(),
                (PlaceId::Filler(number), None) => (u32::from(number) + 1).to_string(),
                (_, None) => continue,
            };
            let at = on_page(named.at);
            if letters.contains_key(&named.place) {
                let radius = (size_in * 0.78).max(text_width(&text, size_in, Weight::Bold) / 2.0 + size_in * 0.25);
                discs.push(disc(at, radius));
                marks.push(mark(at, named.up, radius, size_in));
            }
            texts.push(centred(text, at, size_in));
        }
        let area = |label: &str, fill, polygons: Vec<Vec<Point>>| {
            (!polygons.is_empty()).then(|| Item::Area(Area { label: label.to_owned(), fill, polygons }))
        };
        let marks = area("this side on top", INK, marks);
        marks.into_iter().chain(area("", PAPER, discs)).chain(texts).collect()
    }

    /// The number of each row, before it begins.
    fn row_numbers(&self, rows: &Rows, scale: f64, on_page: &impl Fn(Point) -> Point) -> Vec<Item> {
        if rows.apart <= 0.0 {
            return Vec::new();
        }
        let number = |(row, [across, from]): (&u16, &[f64; 2])| {
            let along = from - BEFORE_IN / scale;
            let at = |axis: usize| rows.across[axis] * across + rows.along[axis] * along;
            let [x, y] = on_page([at(0), at(1)]);
            let text = (u32::from(*row) + 1).to_string();
            Item::Text(Text {
                text,
                at: [x, y + NUMBER_IN * DIGIT_HEIGHT / 2.0],
                anchor: Anchor::Middle,
                size_in: NUMBER_IN,
                weight: Weight::Bold,
                fill: QUIET,
                turned: 0.0,
            })
        };
        self.begins.iter().map(number).collect()
    }
}

/// The size of the letter of a block whose side is so long on paper.
fn letter_in(side: f64) -> f64 {
    (side * LETTER_SHARE).max(LETTER_IN[1].min(side * MOST_LETTER_SHARE)).min(LETTER_IN[0])
}

/// Text in the middle of a place.
pub(super) fn centred(text: String, [x, y]: Point, size_in: f64) -> Item {
    let at = [x, y + size_in * DIGIT_HEIGHT / 2.0];
    Item::Text(Text { text, at, anchor: Anchor::Middle, size_in, weight: Weight::Bold, fill: INK, turned: 0.0 })
}

/// A disc under a letter.
pub(super) fn disc([x, y]: Point, radius: f64) -> Vec<Point> {
    let corner = |k: u8| {
        let angle = f64::from(k) / f64::from(DISC_CORNERS) * std::f64::consts::TAU;
        [x + radius * angle.cos(), y + radius * angle.sin()]
    };
    (0..DISC_CORNERS).map(corner).collect()
}

/// A triangle on the rim of a disc that points to the top of its block.
fn mark([x, y]: Point, [up_x, up_y]: Point, radius: f64, size_in: f64) -> Vec<Point> {
    // The page's y axis points down.
    let (up, side) = ([up_x, -up_y], [up_y, up_x]);
    let at = |far: f64, wide: f64| [x + up[0] * far + side[0] * wide, y + up[1] * far + side[1] * wide];
    let half = size_in * 0.42;
    vec![at(radius * 0.8, -half), at(radius + size_in * 0.5, 0.0), at(radius * 0.8, half)]
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use layout::file::Document;
    use piecing::QuiltPlan;

    use super::super::kinds::kinds_of;
    use super::*;

    /// Six points is the smallest type for paper (common practice, no source); that many blocks have a letter.
    #[test]
    fn letters_are_read_on_paper() {
        let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts");
        for name in ["full-six-winds.json", "lap-owl-lane.json", "queen-weathervane.json"] {
            let design = Document::open(&samples.join(name)).unwrap().variants()[0].design.clone();
            let sewing = QuiltPlan::new(&design, &BTreeMap::new()).unwrap();
            let kinds = kinds_of(&design, &sewing).unwrap();
            let reversed = sewing.reversed.map(|reversed| reversed.places).unwrap_or_default();
            let rows = rows_picture(&design, &kinds, &reversed).unwrap();
            for drawing in [&rows.drawing, &rows.small] {
                let texts = drawing.items().iter().filter_map(|item| match item {
                    Item::Text(text) if text.fill == INK => Some((text.text.as_str(), text.size_in)),
                    _ => None,
                });
                let letters: Vec<(&str, f64)> = texts.collect();
                assert_eq!(letters.len(), design.places().count(), "{name}");
                for (letter, size_in) in &letters {
                    assert!(size_in * 72.0 > 5.999, "{name}: {letter} at {size_in}");
                }
                let stars = letters.iter().filter(|(letter, _)| letter.ends_with(REVERSED)).count();
                assert_eq!(stars, reversed.len(), "{name}");
            }
        }
    }
}

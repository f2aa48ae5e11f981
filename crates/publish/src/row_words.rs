//! How the pieces of a row are cut off their strip: angles to the strip's edge, and how far apart the cuts are.

use cutting::rounding::{GRID_ALLOWANCE, ceil_div};
use cutting::{RowPattern, Segment, StripRun};
use geometry::Exact;
use geometry::lay::LayPolygon;
use layout::Units;

use crate::cut_shape_words::degrees;
use crate::lengths::{marked, on_ruler_in, up_to_ruler};

/// A row in its strip.
#[derive(Clone, Copy)]
pub(crate) struct CutRow<'a> {
    pub(crate) pattern: &'a RowPattern,
    pub(crate) count: u64,
    /// How far it is to the next row or the end of the strip, in lay units.
    space: i64,
}

impl<'a> CutRow<'a> {
    /// A row of `strip`, which is `length` lay units long.
    pub(crate) fn new(pattern: &'a RowPattern, segment: &Segment, (strip, length): (&StripRun, i64)) -> Self {
        let begins = strip.segments.iter().map(|other| other.start_x).filter(|x| *x > segment.start_x);
        let end = begins.min().unwrap_or(length);
        Self { pattern, count: segment.count, space: end.saturating_sub(segment.start_x) }
    }

    /// The same row as part of a longer one.
    pub(crate) const fn with_others(self) -> Self {
        Self { count: if self.count > 1 { self.count } else { 2 }, ..self }
    }

    /// Whether its last piece can be cut off at a mark of the ruler too; else it ends with the strip.
    fn has_room(&self) -> bool {
        self.pattern.room_of(self.count) <= self.space
    }

    /// How far apart the cuts of pieces that lie alike are set, in lay units; none where nothing is set but the piece itself.
    pub(crate) fn pitch(&self) -> Option<i64> {
        match self.pattern.pitches() {
            [pitch] if self.count > 1 || self.has_room() => Some(*pitch),
            _ => None,
        }
    }
}

/// How the pieces of a row are cut off: ", cut at 45°, 3¼″ apart", or ", every 3¼″" where cuts run square across; empty where
/// there is nothing to say.
pub(crate) fn subcut(row: &CutRow<'_>, units: Units, template: &str) -> String {
    let CutRow { pattern, count, .. } = *row;
    match (pattern.polygons(), pattern.pitches()) {
        ([polygon, ..], _) if count == 1 => single(polygon, row, units, template),
        ([polygon], [pitch]) => straight(polygon, *pitch, units, template),
        ([one, other], [first, second]) => {
            let over = pattern.orientations().windows(2).any(|pair| pair[0].over != pair[1].over);
            let turned = if over { "every other one turned over" } else { "every other one turned" };
            format!(
                ", {turned}{}",
                by_turns([one, other], ([*first, *second], pattern.strip_height()), units, template)
            )
        }
        _ => String::new(),
    }
}

/// Whether no straight cuts across the strip can give the pieces of a row, so that they are cut round a template.
pub(crate) fn is_cut_round(pattern: &RowPattern) -> bool {
    pattern.polygons().iter().any(|polygon| Ends::of(polygon).is_none())
}

/// Whether the pieces of a row are cut apart square across the strip.
pub(crate) fn is_cut_square(pattern: &RowPattern) -> bool {
    pattern.polygons().iter().all(|polygon| Ends::of(polygon).is_some_and(|ends| ends.is_square()))
}

/// What is said of pieces that no straight cuts across the strip can give, with what one or two of them take of it.
fn round(template: &str, taken: &str) -> String {
    format!(", cut round {template}, {taken} along the strip")
}

/// A size along the strip, with the nearest mark of the ruler where it has none of its own.
fn along(value: i64, units: Units) -> String {
    marked(&on_ruler_in(value), units)
}

/// One piece alone, with its cuts as far apart as is set on the ruler where there is room for that.
fn single(polygon: &LayPolygon, row: &CutRow<'_>, units: Units, template: &str) -> String {
    let (width, pitch) = (row.pattern.first_width(), row.pitch().unwrap_or(0));
    match Ends::of(polygon) {
        None => round(template, &along(width.max(pitch), units)),
        Some(ends) if ends.is_square() => format!(", {} long", along(width.max(pitch), units)),
        Some(ends) => match ends.parallel() {
            Some(cut) => {
                format!(", cut at {}, {} apart", cut.angle(), along(cut.square_to(ends.base.max(pitch)), units))
            }
            None => {
                let long = longest(&ends, row, units);
                format!(", ends cut at {}, {long} at its longest", ends.angles())
            }
        },
    }
}

/// How long a piece alone is cut whose ends lean against each other: so that it holds the piece although its strip is set
/// wider, and up to a mark of the ruler, where there is room for that.
fn longest(ends: &Ends, row: &CutRow<'_>, units: Units) -> String {
    let wider = row.pattern.strip_height() - ends.left.height;
    let leaning = ends.left.run.saturating_abs().saturating_add(ends.right.run.saturating_abs());
    let more = ceil_div(i128::from(leaning) * i128::from(wider), i128::from(ends.left.height.max(1)));
    let width = row.pattern.first_width();
    let holds = width.saturating_add(i64::try_from(more).unwrap_or(i64::MAX));
    let at_mark = up_to_ruler(&on_ruler_in(holds), units);
    let is_free = |inches: &Exact| *inches <= on_ruler_in(row.space);
    if is_free(&at_mark) { marked(&at_mark, units) } else { along(holds.min(row.space).max(width), units) }
}

/// Pieces that all lie alike.
fn straight(polygon: &LayPolygon, pitch: i64, units: Units, template: &str) -> String {
    match Ends::of(polygon) {
        None => round(template, &format!("one every {}", along(pitch, units))),
        Some(ends) if ends.is_square() => format!(", every {}", along(pitch, units)),
        Some(ends) => match ends.parallel() {
            Some(cut) => format!(", cut at {}, {} apart", cut.angle(), along(cut.square_to(pitch), units)),
            None => format!(", ends cut at {}, one every {}", ends.angles(), along(pitch, units)),
        },
    }
}

/// Pieces of which every other one is turned: each cut is an end of two of them.
fn by_turns(
    [one, other]: [&LayPolygon; 2],
    ([first, second], strip_height): ([i64; 2], i64),
    units: Units,
    template: &str,
) -> String {
    let Some((ends, turned)) = Ends::of(one).zip(Ends::of(other)) else {
        return round(template, &format!("each two {}", along(first + second, units)));
    };
    let angles = format!(", cut at {}", ends.angles());
    let angles = if ends.left.angle() == ends.right.angle() { angles } else { format!("{angles} by turns") };
    // Along the lower edge of the strip, from the start of one piece to the start of the next.
    let (step, next) = (first + turned.start - ends.start, second + ends.start - turned.start);
    // Between the edges of a strip that is set wider than the pieces are high, they differ by as much more.
    let (period, differ) = (step + next, as_high(step - next, ends.left.height, strip_height));
    let (step, next) = (i64::midpoint(period, differ), i64::midpoint(period, -differ));
    let is_triangle = one.corners().len() == 3 && other.corners().len() == 3;
    match (is_triangle, step.abs_diff(next) <= GRID_ALLOWANCE.unsigned_abs()) {
        (true, _) => format!("{angles}, each two {} along the strip", along(first + second, units)),
        (false, true) => format!("{angles}, every {} along the strip", along(step, units)),
        (false, false) => {
            format!("{angles}, {} and {} along one edge by turns", along(step, units), along(next, units))
        }
    }
}

/// A length along a strip that grows with its height, when the strip is `strip_height` instead of `height` high.
fn as_high(length: i64, height: i64, strip_height: i64) -> i64 {
    let grown = i128::from(length) * i128::from(strip_height) / i128::from(height.max(1));
    i64::try_from(grown).unwrap_or(length)
}

/// A cut from one edge of the strip to the other.
#[derive(Clone, Copy)]
struct Cut {
    /// How far it leans over to the right, in lay units.
    run: i64,
    /// How high the piece is.
    height: i64,
}

impl Cut {
    /// Its angle to the strip's edge, at most 90°.
    fn angle(self) -> String {
        degrees(float(self.height).atan2(float(self.run.abs())).to_degrees())
    }

    /// How far apart two such cuts are, measured square to them, that are `along` apart along the strip.
    fn square_to(self, along: i64) -> i64 {
        let (run, height) = (float(self.run), float(self.height));
        // The nearest unit below, so that the ruler's own mark is told where it is meant.
        #[expect(clippy::cast_possible_truncation, reason = "shorter than the distance along the strip")]
        let square = (float(along) * height / run.hypot(height)).floor() as i64;
        square
    }
}

/// The two ends of a piece that lies between the edges of its strip.
struct Ends {
    left: Cut,
    right: Cut,
    /// Where its lower side begins.
    start: i64,
    /// How long its lower side is.
    base: i64,
}

impl Ends {
    /// None if an end is no single straight cut from one edge of the strip to the other.
    fn of(polygon: &LayPolygon) -> Option<Self> {
        let bounds = polygon.bounds();
        // Counter-clockwise, edges that go up are on the right, edges that go down on the left.
        let (mut right, mut left) = (None, None);
        for (from, to) in polygon.edges() {
            let rise = to.y - from.y;
            if rise.abs() <= GRID_ALLOWANCE {
                continue;
            }
            if rise.abs() + GRID_ALLOWANCE < bounds.height() {
                return None;
            }
            let (end, bottom, run) =
                if rise > 0 { (&mut right, from, to.x - from.x) } else { (&mut left, to, from.x - to.x) };
            if end.is_some() {
                return None;
            }
            *end = Some((Cut { run, height: bounds.height() }, bottom.x));
        }
        let ((right, stop), (left, start)) = right.zip(left)?;
        Some(Self { left, right, start, base: stop - start })
    }

    const fn is_square(&self) -> bool {
        self.left.run.abs() <= GRID_ALLOWANCE && self.right.run.abs() <= GRID_ALLOWANCE
    }

    /// The cut that both ends are, if they lean alike.
    fn parallel(&self) -> Option<Cut> {
        (self.left.run.abs_diff(self.right.run) <= GRID_ALLOWANCE.unsigned_abs()).then_some(self.right)
    }

    /// "45° both ways", or "90° and 45°".
    fn angles(&self) -> String {
        let (left, right) = (self.left.angle(), self.right.angle());
        if left == right { format!("{left} both ways") } else { format!("{left} and {right}") }
    }
}

/// Lengths of quilts in lay units are far below 2⁵³.
#[expect(clippy::cast_precision_loss, reason = "words for a ruler, not a decision")]
pub(crate) const fn float(units: i64) -> f64 {
    units as f64
}

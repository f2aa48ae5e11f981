//! Nested rows: odd shapes whose rows are pushed into each other.
//!
//! Hexagons, half hexagons and kites leave notches along a straight row. The next row, moved along and turned by half
//! if the print allows, sinks into them. How far is exact: the least vertical distance over all upright lines, found
//! like the distance between neighbours in a row ([`crate::row::least_distance`]) with the axes exchanged. On every
//! upright line each row lies wholly above all the rows before it, so no two pieces of a panel overlap.
//!
//! Which way to move a row is tried, not proved best: offsets at which a corner of one row comes to lie over a corner
//! of the other, where the distance has its kinks.

use std::collections::{BTreeMap, BTreeSet};

use geometry::lay::{LayPoint, LayPolygon, MAX_COORDINATE};

use super::{Blank, MOST_PIECES, Method, NoBlank, placed};
use crate::lay::Placement;
use crate::piece::{CutPiece, Orientation, PreparedPiece};
use crate::rounding::{GRID_ALLOWANCE, RulerStep};
use crate::row::least_distance;

/// The most rows in the panels that [`super::blanks_for`] offers.
pub const MAX_NESTED_ROWS: u32 = 12;

/// The most corners of a piece whose rows are nested: the search takes time with the fourth power of them.
const MAX_CORNERS: usize = 12;

/// The most corners of a piece for which rows with gaps are tried too.
const MAX_CORNERS_APART: usize = 8;

/// How many periods of its row a piece may reach over: more is a sliver that leans across the fabric.
const LONGEST_REACH: i64 = 16;

/// The most arrangements that are laid out in full.
const MOST_LAID: usize = 8;

/// A panel of `rows` nested rows across fabric `width` lay units wide: of the arrangements tried, the one that yields
/// most for its height.
///
/// # Errors
/// [`NoBlank::TooManyCorners`], [`NoBlank::TooNarrow`], and [`NoBlank::NothingSaved`] when as many plain rows
/// yield as much for their height.
pub fn nested(piece: &PreparedPiece, width: i64, rows: u32, step: RulerStep) -> Result<Blank, NoBlank> {
    let arrangements = arrangements(piece, width)?;
    panel(piece, &arrangements, width, rows, step)
}

/// Panels of 2 to [`MAX_NESTED_ROWS`] rows that save fabric.
///
/// # Errors
/// As [`nested`].
pub(super) fn panels(piece: &PreparedPiece, width: i64, step: RulerStep) -> Result<Vec<Blank>, NoBlank> {
    let arrangements = arrangements(piece, width)?;
    Ok((2..=MAX_NESTED_ROWS).filter_map(|rows| panel(piece, &arrangements, width, rows, step).ok()).collect())
}

fn panel(
    piece: &PreparedPiece,
    arrangements: &[Arrangement],
    width: i64,
    rows: u32,
    step: RulerStep,
) -> Result<Blank, NoBlank> {
    let panels = arrangements.iter().filter_map(|a| a.panel(piece.piece(), width, rows, step));
    // Pieces for height, compared crosswise; the first of equals stays.
    let better = |a: Blank, b: Blank| if yields(&b, a.height) > yields(&a, b.height) { b } else { a };
    let best = panels.reduce(better).ok_or(NoBlank::TooNarrow)?;
    let saves = piece.patterns().iter().all(|row| {
        let plain = i128::from(row.capacity(width));
        let height = row.polygons().iter().map(|p| p.bounds().height()).max().unwrap_or(0);
        let exact = best.exact_height + i64::from(rows) * GRID_ALLOWANCE;
        yields(&best, row.strip_height()) > plain * i128::from(best.height)
            && yields(&best, height) > plain * i128::from(exact)
    });
    if saves { Ok(best) } else { Err(NoBlank::NothingSaved) }
}

/// Number of pieces times a height.
fn yields(blank: &Blank, height: i64) -> i128 {
    i128::try_from(blank.inner.len()).unwrap_or(i128::MAX) * i128::from(height)
}

/// A row without end: some polygons, and after `period` lay units the same again.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Row {
    polygons: Vec<LayPolygon>,
    /// The same with the axes exchanged.
    exchanged: Vec<LayPolygon>,
    period: i64,
}

impl Row {
    /// `None` when a piece reaches over so many of its neighbours that the row is no row to nest.
    fn new(polygons: Vec<LayPolygon>, period: i64) -> Option<Self> {
        let reach = polygons.iter().map(|p| p.bounds().width()).max()?;
        if period < 1 || reach / period > LONGEST_REACH {
            return None;
        }
        let exchanged = polygons.iter().map(exchanged).collect::<Option<_>>()?;
        Some(Self { polygons, exchanged, period })
    }

    /// The row seen from the other selvage.
    fn half_turned(&self) -> Option<Self> {
        let turned = self.polygons.iter().map(|p| p.turned(2));
        let turned: Vec<LayPolygon> = turned.rev().collect();
        let x = turned.iter().map(|p| p.bounds().min.x).min()?;
        let y = turned.iter().map(|p| p.bounds().min.y).min()?;
        Self::new(turned.iter().map(|p| p.moved(-x, -y)).collect(), self.period)
    }

    /// How far `upper`, moved `shift` along, must lie above this row so that no two pieces overlap.
    fn rise(&self, upper: &Self, shift: i64) -> i64 {
        let mut rise = 0;
        for (low, low_exchanged) in self.polygons.iter().zip(&self.exchanged) {
            for (high, high_exchanged) in upper.polygons.iter().zip(&upper.exchanged) {
                let (low, high) = (low.bounds(), high.bounds());
                // The pieces of the upper row that stand over this one: shift + k·period for these k.
                let first = (low.min.x - high.max.x - shift).div_euclid(self.period) + 1;
                let last = (low.max.x - high.min.x - shift - 1).div_euclid(self.period);
                for k in first..=last {
                    let above = high_exchanged.moved(0, shift + k * self.period);
                    rise = rise.max(least_distance(low_exchanged, &above));
                }
            }
        }
        rise
    }

    /// The pieces that fit in `width` when the row begins at `shift`.
    fn fill(&self, shift: i64, width: i64) -> Vec<LayPolygon> {
        let mut found = Vec::new();
        let mut start = shift;
        while found.len() < MOST_PIECES {
            for polygon in &self.polygons {
                if start.saturating_add(polygon.bounds().max.x) > width {
                    return found;
                }
                found.push(polygon.moved(start, 0));
            }
            start = start.saturating_add(self.period);
        }
        found
    }

    /// The offsets, at least 0 and less than a period, at which a corner of `other` comes over one of this row.
    fn offsets(&self, other: &Self) -> BTreeSet<i64> {
        let xs = |row: &Self| -> BTreeSet<i64> {
            row.polygons.iter().flat_map(|p| p.corners()).map(|p| p.x.rem_euclid(row.period)).collect()
        };
        let (ours, theirs) = (xs(self), xs(other));
        ours.iter().flat_map(|a| theirs.iter().map(move |b| (a - b).rem_euclid(self.period))).collect()
    }
}

/// The polygon with x and y exchanged, counter-clockwise again.
fn exchanged(polygon: &LayPolygon) -> Option<LayPolygon> {
    LayPolygon::new(polygon.corners().iter().rev().map(|p| LayPoint::new(p.y, p.x)).collect()).ok()
}

/// How the rows of a panel follow each other.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Arrangement {
    first: Row,
    /// The second row and every other one after it, if they lie another way than the first.
    second: Option<Row>,
    shift: i64,
    /// Whether each row is moved on from the one before, instead of back and forth.
    onward: bool,
}

impl Arrangement {
    fn row(&self, index: u32) -> &Row {
        if index % 2 == 1 { self.second.as_ref().unwrap_or(&self.first) } else { &self.first }
    }

    fn shift_of(&self, index: u32) -> i64 {
        let times = if self.onward { i64::from(index) } else { i64::from(index % 2) };
        let shift = i128::from(times) * i128::from(self.shift);
        i64::try_from(shift.rem_euclid(i128::from(self.first.period))).unwrap_or(0)
    }

    /// Fabric for one piece in a panel without end, in square lay units.
    fn fabric_each(&self) -> i128 {
        let rise = |a: u32, b: u32| self.row(a).rise(self.row(b), self.shift_of(b) - self.shift_of(a));
        let two_rows = i128::from((rise(0, 1) + rise(1, 2)).max(rise(0, 2)));
        let in_a_period = i128::try_from(2 * self.first.polygons.len()).unwrap_or(i128::MAX);
        two_rows * i128::from(self.first.period) / in_a_period
    }

    fn panel(&self, piece: &CutPiece, width: i64, rows: u32, step: RulerStep) -> Option<Blank> {
        let mut starts: Vec<i64> = Vec::new();
        let mut inner: Vec<Placement> = Vec::new();
        let mut rises: BTreeMap<(u32, u32, i64), i64> = BTreeMap::new();
        let mut top = 0;
        for index in 0..rows {
            let (row, shift) = (self.row(index), self.shift_of(index));
            let mut start = 0;
            // A row may sink deeper than the row before it, so all rows below are asked.
            for (j, below) in (0..).zip(&starts) {
                let by = (shift - self.shift_of(j)).rem_euclid(row.period);
                let rise = *rises.entry((j % 2, index % 2, by)).or_insert_with(|| self.row(j).rise(row, by));
                start = start.max(below + rise);
            }
            starts.push(start);
            for polygon in row.fill(shift, width) {
                top = top.max(start + polygon.bounds().max.y);
                inner.push(placed(piece, &polygon, 0, start));
            }
            if inner.len() > MOST_PIECES || top > MAX_COORDINATE {
                return None;
            }
        }
        if inner.is_empty() {
            return None;
        }
        let height = step.round_up(top);
        let method = Method::Nested { rows };
        Some(Blank { method, width, height, exact_width: width, exact_height: top, inner })
    }
}

/// The arrangements worth laying: for each row, and each way the next one can lie, the offset with least advance.
fn arrangements(piece: &PreparedPiece, width: i64) -> Result<Vec<Arrangement>, NoBlank> {
    let corners = piece.piece().polygon.corners().len();
    if corners > MAX_CORNERS {
        return Err(NoBlank::TooManyCorners { corners, limit: MAX_CORNERS });
    }
    let half_turn = piece.piece().freedom.allows(Orientation { over: false, quarters: 2 });
    let mut found = Vec::new();
    for row in rows(piece).into_iter().filter(|row| !row.fill(0, width).is_empty()) {
        let turned = row.half_turned().filter(|turned| half_turn && *turned != row);
        let mut ways = vec![(None, true), (None, false)];
        ways.extend(turned.map(|turned| (Some(turned), false)));
        for (second, onward) in ways {
            let offsets = row.offsets(second.as_ref().unwrap_or(&row));
            let tried = offsets.into_iter().map(|shift| Arrangement {
                first: row.clone(),
                second: second.clone(),
                shift,
                onward,
            });
            let scored = tried.map(|arrangement| (arrangement.fabric_each(), arrangement));
            found.extend(scored.min_by_key(|(fabric, _)| *fabric));
        }
    }
    found.sort_by_key(|(fabric, _)| *fabric);
    found.truncate(MOST_LAID);
    Ok(found.into_iter().map(|(_, arrangement)| arrangement).collect())
}

/// Rows to nest: those that plain strips are cut in, and single pieces next to each other, with gaps into which
/// the pieces of the next row may sink.
fn rows(piece: &PreparedPiece) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for pattern in piece.patterns() {
        let starts = (0..).map(|index| pattern.start_of(index));
        let polygons: Vec<LayPolygon> = pattern.polygons().iter().zip(starts).map(|(p, x)| p.moved(x, 0)).collect();
        rows.extend(Row::new(polygons, pattern.pitches().iter().sum()));
    }
    for quarters in [0, 1] {
        let orientation = Orientation { over: false, quarters };
        if !piece.piece().freedom.allows(orientation) {
            continue;
        }
        let polygon = orientation.of(&piece.piece().polygon);
        let close = least_distance(&polygon, &polygon);
        rows.extend(gaps(&polygon).into_iter().filter_map(|gap| Row::new(vec![polygon.clone()], close + gap)));
    }
    rows.dedup();
    rows
}

/// Gaps worth leaving between neighbours: none, and the distances along the row between corners.
fn gaps(polygon: &LayPolygon) -> BTreeSet<i64> {
    let mut gaps = BTreeSet::from([0]);
    if polygon.corners().len() <= MAX_CORNERS_APART {
        let xs = || polygon.corners().iter().map(|p| p.x);
        gaps.extend(xs().flat_map(|a| xs().map(move |b| b - a)).filter(|gap| *gap > GRID_ALLOWANCE));
    }
    gaps
}

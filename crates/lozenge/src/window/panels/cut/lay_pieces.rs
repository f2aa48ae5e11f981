//! Every piece of a plan where it lies, in inches, cloth under cloth, made once for each plan.

use std::sync::Arc;

use cutting::{FabricPlan, PieceId, PreparedPiece, SheetRun, StripPlan};
use geometry::lay::LayPolygon;
use layout::{Design, Fabric, Units};
use publish::{LayPicture, LayRow};

use crate::window::carry_cut::{LayPlaces, lay_inches};
use crate::window::wall::triangles;

/// More pieces than this are not drawn one by one.
const MOST_DRAWN: u64 = 20_000;

/// One piece on the fabric. Lengths are inches, x across the fabric, y up; the first strip lies on top.
#[derive(Debug, Clone)]
pub(super) struct Lying {
    /// Which kind.
    pub(super) piece: PieceId,
    /// Its number in the list.
    pub(super) number: usize,
    /// What it is to what lies on it or under it.
    pub(super) part: Part,
    /// Its corners.
    pub(super) outline: Vec<[f64; 2]>,
    /// Lower left and upper right corner of the rectangle round it.
    pub(super) bounds: [[f64; 2]; 2],
    /// Where its number stands.
    pub(super) middle: [f64; 2],
    /// How much room there is for the number: half width and half height of a box round `middle`.
    pub(super) room: [f64; 2],
    /// Corners of its triangles.
    pub(super) points: Vec<[f32; 2]>,
    /// Three to a triangle.
    pub(super) indices: Vec<u32>,
}

/// Whether a piece is cut from the strip or out of a blank.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Part {
    /// A piece cut from the strip.
    Whole,
    /// A blank; what comes out of it follows.
    Blank,
    /// A piece that comes out of a blank of this kind.
    Of(PieceId),
}

impl Lying {
    /// Whether it is lit while a kind of piece is: it is of that kind, or comes out of such a blank.
    pub(super) fn is_lit_by(&self, lit: PieceId) -> bool {
        self.piece == lit || self.part == Part::Of(lit)
    }
}

/// Equal strips where they lie.
#[derive(Debug, Clone, Copy)]
pub(super) struct Run {
    /// Lower left corner of all of them together.
    pub(super) low: [f64; 2],
    /// Upper right corner.
    pub(super) high: [f64; 2],
}

/// A length of fabric or a sheet where it lies.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spread {
    /// Lower left corner.
    pub(super) low: [f64; 2],
    /// Upper right corner.
    pub(super) high: [f64; 2],
}

/// The pieces of one plan.
#[derive(Debug, Clone)]
pub(super) struct LayPieces {
    plan: StripPlan,
    sheets: Vec<SheetRun>,
    prepared: Vec<Arc<PreparedPiece>>,
    fabric: Fabric,
    units: Units,
    /// What the drawing on paper shows: letters, numbers and words are the same here.
    pub(super) picture: LayPicture,
    /// Width and height of all cloths.
    pub(super) size: [f64; 2],
    /// The cloths of the picture.
    pub(super) cloths: Vec<Spread>,
    /// The runs of strips of all cloths, in the order of work.
    pub(super) runs: Vec<Run>,
    /// The pieces, strip by strip, blanks before what comes out of them; none when there are too many to draw.
    pub(super) lying: Vec<Lying>,
}

impl LayPieces {
    /// Places the pieces of a plan; none for a plan that cannot be drawn.
    pub(super) fn new(plan: &FabricPlan, design: &Design) -> Option<Self> {
        let fabric = design.fabric(plan.fabric).ok()?.clone();
        let picture = LayPicture::new(plan, &fabric, design.units()).ok()?;
        let places = LayPlaces::new(plan);
        let is_many = plan.pieces.iter().map(|p| p.count).fold(0, u64::saturating_add) > MOST_DRAWN;
        let (mut cloths, mut runs, mut lying) = (Vec::new(), Vec::new(), Vec::new());
        for (cloth, &[left, high]) in picture.cloths.iter().zip(&places.corners) {
            let [width, length] = [cloth.width, cloth.length].map(lay_inches);
            cloths.push(Spread { low: [left, high - length], high: [left + width, high] });
            let mut top = high;
            for strip in &cloth.strips {
                let high = top;
                for _ in 0..strip.repeat {
                    top -= lay_inches(strip.height);
                    if !is_many {
                        lying.extend(strip.rows.iter().flat_map(|row| lying_in(plan, row, [left, top])));
                    }
                }
                runs.push(Run { low: [left, top], high: [left + width, high] });
            }
        }
        let prepared = plan.pieces.iter().map(|piece| Arc::clone(&piece.prepared)).collect();
        let (sheets, plan, units) = (plan.sheets.clone(), plan.plan.clone(), design.units());
        Some(Self { plan, sheets, prepared, fabric, units, picture, size: places.size, cloths, runs, lying })
    }

    /// Whether this is made of this plan.
    pub(super) fn is_of(&self, plan: &FabricPlan, design: &Design) -> bool {
        let same =
            |(a, b): (&Arc<PreparedPiece>, &cutting::PlannedPiece)| Arc::ptr_eq(a, &b.prepared) || **a == *b.prepared;
        self.units == design.units()
            && design.fabric(plan.fabric).is_ok_and(|fabric| *fabric == self.fabric)
            && self.plan == plan.plan
            && self.sheets == plan.sheets
            && self.prepared.len() == plan.pieces.len()
            && self.prepared.iter().zip(&plan.pieces).all(same)
    }

    /// The piece at a point: what comes out of a blank before the blank itself.
    pub(super) fn at(&self, p: [f64; 2]) -> Option<usize> {
        self.lying.iter().rposition(|piece| {
            let [low, high] = piece.bounds;
            (0..2).all(|k| (low[k]..=high[k]).contains(&p[k])) && contains(&piece.outline, p)
        })
    }

    /// The letters of the strips that a kind of piece is cut from.
    pub(super) fn letters_of(&self, number: usize) -> Vec<&str> {
        self.picture.strips().filter(|strip| strip.has(number)).map(|strip| strip.letter.as_str()).collect()
    }
}

/// The pieces of a row in a strip whose lower left corner lies at `low`, blanks first.
fn lying_in(plan: &FabricPlan, row: &LayRow, low: [f64; 2]) -> Vec<Lying> {
    let id = |number: usize| plan.pieces.get(number.wrapping_sub(1)).map_or(PieceId(0), |piece| piece.prepared.id());
    let own = if row.cuts.is_empty() { Part::Whole } else { Part::Blank };
    let outer = row.polygons.iter().map(|polygon| (row.number, own, polygon));
    let inner = row
        .cuts
        .iter()
        .flat_map(|cut| cut.polygons.iter().map(|polygon| (cut.number, Part::Of(id(row.number)), polygon)));
    outer.chain(inner).map(|(number, part, polygon)| lying(id(number), number, part, polygon, low)).collect()
}

fn lying(piece: PieceId, number: usize, part: Part, polygon: &LayPolygon, low: [f64; 2]) -> Lying {
    let corner = |p: &geometry::lay::LayPoint| [low[0] + lay_inches(p.x), low[1] + lay_inches(p.y)];
    let outline: Vec<[f64; 2]> = polygon.corners().iter().map(corner).collect();
    let (points, indices) = triangles(&outline);
    let (middle, room) = room_for_number(&outline);
    let bounds = bounds_of(&outline);
    Lying { piece, number, part, bounds, middle, room, outline, points, indices }
}

fn bounds_of(outline: &[[f64; 2]]) -> [[f64; 2]; 2] {
    outline.iter().fold([[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]], |[low, high], p| {
        [[low[0].min(p[0]), low[1].min(p[1])], [high[0].max(p[0]), high[1].max(p[1])]]
    })
}

/// The middle of a piece, and the half sides of the largest box of a digit's shape round it.
fn room_for_number(outline: &[[f64; 2]]) -> ([f64; 2], [f64; 2]) {
    /// A digit is about this much narrower than it is high.
    const SHAPE: f64 = 0.75;
    let middle = centroid(outline);
    let fits = |half: f64| {
        let corners = [[-SHAPE, -1.0], [SHAPE, -1.0], [SHAPE, 1.0], [-SHAPE, 1.0]];
        corners.iter().all(|c| contains(outline, [middle[0] + c[0] * half, middle[1] + c[1] * half]))
    };
    let (mut low, mut high) = (0.0, bounds_of(outline)[1][1] - bounds_of(outline)[0][1]);
    for _ in 0..12 {
        let half = f64::midpoint(low, high);
        if fits(half) {
            low = half;
        } else {
            high = half;
        }
    }
    (middle, [low * SHAPE, low])
}

fn centroid(corners: &[[f64; 2]]) -> [f64; 2] {
    let ends = corners.iter().zip(corners.iter().cycle().skip(1));
    let [area, x, y] = ends.fold([0.0; 3], |[area, x, y], (a, b)| {
        let cross = a[0] * b[1] - b[0] * a[1];
        [area + cross, x + (a[0] + b[0]) * cross, y + (a[1] + b[1]) * cross]
    });
    if area.abs() < 1e-12 { corners.first().copied().unwrap_or_default() } else { [x / (3.0 * area), y / (3.0 * area)] }
}

/// Even-odd rule; good enough for a pointer.
fn contains(corners: &[[f64; 2]], p: [f64; 2]) -> bool {
    let ends = corners.iter().zip(corners.iter().cycle().skip(1));
    ends.fold(false, |inside, (a, b)| {
        let crosses = (a[1] > p[1]) != (b[1] > p[1]);
        inside ^ (crosses && p[0] < a[0] + (p[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0]))
    })
}

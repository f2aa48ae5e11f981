//! The plans of `cut` as JSON: every piece in its place, so that a stranger can check them.

use std::collections::BTreeMap;

use cutting::{Cloth, CutError, FabricPlan, PlannedPiece, SewnRun, StripRun};
use geometry::lay::LayPolygon;
use layout::{Design, FabricId, Units};
use publish::blank_words::blank_words;
use publish::cut_words::{buy_words, piece_of, sewn_line};
use serde::Serialize;

use crate::decimal::{Decimal, coordinate, lay, length, unit_name};
use crate::error::CommandError;

/// The plans of a design's fabrics.
pub(super) type Plans = BTreeMap<FabricId, Result<FabricPlan, CutError>>;

/// What is printed.
#[derive(Serialize)]
pub(super) struct Cut {
    unit: &'static str,
    plan: &'static str,
    grid: Decimal,
    name: String,
    fabrics: Vec<FabricCut>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    sewn_first: Vec<String>,
}

#[derive(Serialize)]
struct FabricCut {
    id: u32,
    name: String,
    usable_width: Decimal,
    required_length: Decimal,
    buy_length: Decimal,
    buy_label: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    precuts: Option<u64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cost: Option<String>,
    /// So many fabrics are cut like this; everything below is of one of them.
    #[serde(skip_serializing_if = "is_one")]
    parts: u16,
    lower_bound_length: Decimal,
    #[serde(skip_serializing_if = "Option::is_none")]
    least_by_straight_strips_length: Option<Decimal>,
    cuts: u64,
    lines: Vec<LineCut>,
    pieces: Vec<PieceCut>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    blanks: Vec<BlankCut>,
    strips: Vec<StripCut>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    sheets: Vec<SheetCut>,
    lays: Vec<LayCut>,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands over a reference")]
const fn is_one(parts: &u16) -> bool {
    *parts == 1
}

/// One of the lines that add up to what is bought.
#[derive(Serialize)]
struct LineCut {
    line: &'static str,
    length: Decimal,
}

#[derive(Serialize)]
struct PieceCut {
    id: u32,
    label: String,
    count: u64,
    #[serde(skip_serializing_if = "is_none")]
    spare: u64,
    turn_over: bool,
    grain: Option<u16>,
    finished: Option<Vec<[Decimal; 2]>>,
    cut: Vec<[Decimal; 2]>,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands over a reference")]
const fn is_none(count: &u64) -> bool {
    *count == 0
}

/// A rectangle that several pieces are cut from; its pieces stand in the lays.
#[derive(Serialize)]
struct BlankCut {
    id: u32,
    label: String,
    count: u64,
    width: Decimal,
    height: Decimal,
    method: String,
}

#[derive(Serialize)]
struct StripCut {
    height: Decimal,
    strips: u64,
    rows: Vec<RowCut>,
}

#[derive(Serialize)]
struct RowCut {
    piece: u32,
    count: u64,
    turned_alternately: bool,
    start: [Decimal; 2],
    steps: Vec<Decimal>,
}

/// Equal sheets and the strips of each.
#[derive(Serialize)]
struct SheetCut {
    sheets: u64,
    width: Decimal,
    length: Decimal,
    strips: Vec<StripCut>,
}

#[derive(Serialize)]
struct LayCut {
    width: Decimal,
    length: Decimal,
    placements: Vec<PlacementCut>,
}

#[derive(Serialize)]
struct PlacementCut {
    piece: u32,
    polygon: Vec<[Decimal; 2]>,
}

/// The plans of all fabrics that have one.
pub(super) fn cut(
    design: &Design,
    plans: &Plans,
    sewn: &[SewnRun],
    planner: &'static str,
) -> Result<Cut, CommandError> {
    let units = design.units();
    let made = plans.values().filter_map(|plan| plan.as_ref().ok());
    Ok(Cut {
        unit: unit_name(units),
        plan: planner,
        grid: lay(1, units),
        name: design.name().to_owned(),
        fabrics: made.map(|plan| fabric_cut(design, plan)).collect::<Result<_, _>>()?,
        sewn_first: sewn.iter().map(|run| sewn_line(run, design)).collect::<Result<_, _>>()?,
    })
}

fn fabric_cut(design: &Design, plan: &FabricPlan) -> Result<FabricCut, CommandError> {
    let units = design.units();
    let lays = plan.lays()?.into_iter().map(|on| LayCut {
        width: lay(on.lay.width, units),
        length: lay(on.lay.length, units),
        placements: on
            .lay
            .placements
            .iter()
            .map(|p| PlacementCut { piece: p.piece.0, polygon: corners(&p.polygon, units) })
            .collect(),
    });
    let (blanks, pieces): (Vec<_>, Vec<_>) = plan.pieces.iter().partition(|p| p.blank.is_some());
    let (sheets, rolls): (Vec<_>, Vec<_>) = plan.cloths().into_iter().partition(|cloth| cloth.sheet.is_some());
    Ok(FabricCut {
        id: plan.fabric.0,
        name: design.fabric(plan.fabric)?.name.clone(),
        usable_width: lay(plan.width, units),
        required_length: length(&plan.all_parts().required(), units),
        buy_length: length(&plan.all_parts().to_buy(), units),
        buy_label: buy_words(plan),
        precuts: plan.precuts.as_ref().map(|precuts| precuts.buy),
        cost: plan.all_parts().cost().map(|cost| cost.to_string()),
        parts: plan.parts,
        lower_bound_length: lay(plan.least_by_any_means, units),
        least_by_straight_strips_length: plan.least_by_straight_strips.map(|bound| lay(bound, units)),
        cuts: plan.cuts(),
        lines: lines(plan, units),
        pieces: pieces.into_iter().map(|p| piece_cut(p, units)).collect(),
        blanks: blanks.into_iter().map(|p| blank_cut(p, units)).collect(),
        strips: rolls.iter().flat_map(|cloth| cloth.strips).map(|s| strip_cut(plan, s, units)).collect(),
        sheets: sheets.iter().map(|cloth| sheet_cut(plan, cloth, units)).collect(),
        lays: lays.collect(),
    })
}

/// Where the length goes and what is added for buying, in this order; all but the last add up to the last.
fn lines(plan: &FabricPlan, units: Units) -> Vec<LineCut> {
    let bought = &plan.purchase;
    let added = [
        ("squaring up", &bought.squaring_up),
        ("shrinkage", &bought.shrinkage),
        ("rounding to the step of sale", &bought.rounding),
        ("to buy", &bought.buy),
    ];
    let all = plan.breakdown.lines().into_iter().chain(added);
    all.map(|(line, inches)| LineCut { line, length: length(inches, units) }).collect()
}

fn corners(polygon: &LayPolygon, units: Units) -> Vec<[Decimal; 2]> {
    polygon.corners().iter().map(|p| [lay(p.x, units), lay(p.y, units)]).collect()
}

fn piece_cut(piece: &PlannedPiece, units: Units) -> PieceCut {
    let cut = piece.prepared.piece();
    let frame = piece.shape.as_ref().map(|shape| shape.finished_in_frame());
    PieceCut {
        id: cut.id.0,
        label: piece.label.clone(),
        count: piece.count,
        spare: piece.spare,
        turn_over: cut.freedom.turn_over,
        // The frame of a piece is the fabric's: its straight grain lies across, along x.
        grain: piece.has_grain.then_some(0),
        finished: frame.map(|f| f.iter().map(|p| p.map(|v| coordinate(v, units))).collect()),
        cut: corners(&cut.polygon, units),
    }
}

fn blank_cut(piece: &PlannedPiece, units: Units) -> BlankCut {
    let bounds = piece.prepared.bounds();
    BlankCut {
        id: piece.prepared.id().0,
        label: piece.label.clone(),
        count: piece.count,
        width: lay(bounds.width(), units),
        height: lay(bounds.height(), units),
        method: blank_words(piece, units).unwrap_or_default(),
    }
}

fn sheet_cut(plan: &FabricPlan, cloth: &Cloth<'_>, units: Units) -> SheetCut {
    SheetCut {
        sheets: cloth.repeat,
        width: lay(cloth.width, units),
        length: lay(cloth.length, units),
        strips: cloth.strips.iter().map(|s| strip_cut(plan, s, units)).collect(),
    }
}

fn strip_cut(plan: &FabricPlan, strip: &StripRun, units: Units) -> StripCut {
    let rows = strip.segments.iter().filter_map(|segment| {
        let (_, piece) = piece_of(plan, segment)?;
        let pattern = piece.prepared.patterns().get(segment.pattern)?;
        Some(RowCut {
            piece: segment.piece.0,
            count: segment.count,
            turned_alternately: pattern.alternates(),
            start: [lay(segment.start_x, units), lay(segment.start_y, units)],
            steps: pattern.pitches().iter().map(|p| lay(*p, units)).collect(),
        })
    });
    StripCut { height: lay(strip.height, units), strips: strip.repeat, rows: rows.collect() }
}

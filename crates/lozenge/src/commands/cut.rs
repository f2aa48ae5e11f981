//! `cut`: strips and subcuts for every fabric, with every piece placed so that a stranger can check them.

use std::io::Write;

use cutting::{FabricPlan, Ledger, PlannedPiece, StripRun, audit};
use geometry::lay::LayPolygon;
use layout::{Design, Units};
use publish::cut_words::{piece_name, piece_of, strip_heading, strip_lines};
use serde::Serialize;

use super::{chosen, open, planned, print_json, uncut};
use crate::args::Reading;
use crate::decimal::{Decimal, coordinate, lay, length, unit_name};
use crate::error::CommandError;
use crate::words::{fabric_length, ruler};

#[derive(Serialize)]
struct Cut {
    unit: &'static str,
    plan: &'static str,
    grid: Decimal,
    name: String,
    fabrics: Vec<FabricCut>,
}

#[derive(Serialize)]
struct FabricCut {
    id: u32,
    name: String,
    usable_width: Decimal,
    required_length: Decimal,
    buy_length: Decimal,
    lower_bound_length: Decimal,
    pieces: Vec<PieceCut>,
    strips: Vec<StripCut>,
    lays: Vec<LayCut>,
}

#[derive(Serialize)]
struct PieceCut {
    id: u32,
    label: String,
    count: u64,
    turn_over: bool,
    grain: Option<u16>,
    finished: Option<Vec<[Decimal; 2]>>,
    cut: Vec<[Decimal; 2]>,
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

/// Prints the cutting plan of one variant, after it has passed its audit.
pub(super) fn run(reading: &Reading, out: &mut dyn Write) -> Result<(), CommandError> {
    let document = open(&reading.file)?;
    let design = &chosen(&document, reading.variant.as_deref())?.design;
    let (_, ledger) = planned(design)?;
    if let Err(problems) = audit(design, ledger.plans()) {
        let count = problems.len();
        if let Some((_, first)) = problems.into_iter().next() {
            return Err(CommandError::Audit { count, first });
        }
    }
    if reading.json {
        print_json(&cut(design, &ledger)?, out)?;
    } else {
        print(design, &ledger, out)?;
    }
    uncut(&ledger)
}

fn cut(design: &Design, ledger: &Ledger) -> Result<Cut, CommandError> {
    let units = design.units();
    let plans = ledger.plans().values().filter_map(|plan| plan.as_ref().ok());
    let fabrics = plans.map(|plan| fabric_cut(design, plan)).collect::<Result<_, _>>()?;
    let name = design.name().to_owned();
    Ok(Cut { unit: unit_name(units), plan: "quick", grid: lay(1, units), name, fabrics })
}

fn fabric_cut(design: &Design, plan: &FabricPlan) -> Result<FabricCut, CommandError> {
    let units = design.units();
    let lays = plan.lays()?.into_iter().map(|on| on.lay).map(|l| LayCut {
        width: lay(l.width, units),
        length: lay(l.length, units),
        placements: l
            .placements
            .iter()
            .map(|p| PlacementCut { piece: p.piece.0, polygon: corners(&p.polygon, units) })
            .collect(),
    });
    Ok(FabricCut {
        id: plan.fabric.0,
        name: design.fabric(plan.fabric)?.name.clone(),
        usable_width: lay(plan.width, units),
        required_length: length(&plan.purchase.required, units),
        buy_length: length(&plan.purchase.buy, units),
        lower_bound_length: lay(plan.least_by_any_means, units),
        pieces: plan.pieces.iter().map(|p| piece_cut(p, units)).collect(),
        strips: plan.plan.strips.iter().map(|s| strip_cut(plan, s, units)).collect(),
        lays: lays.collect(),
    })
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
        turn_over: cut.freedom.turn_over,
        // The frame of a piece is the fabric's: its straight grain lies across, along x.
        grain: piece.has_grain.then_some(0),
        finished: frame.map(|f| f.iter().map(|p| p.map(|v| coordinate(v, units))).collect()),
        cut: corners(&cut.polygon, units),
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

/// Prints the plan in words.
fn print(design: &Design, ledger: &Ledger, out: &mut dyn Write) -> Result<(), CommandError> {
    let units = design.units();
    writeln!(out, "{} · quick cutting plan", design.name())?;
    writeln!(
        out,
        "Read the makers' instructions for rotary cutter and iron; keep blades and small parts from children."
    )?;
    writeln!(out, "Strips and cuts are rounded up to the ruler's step; the exact cut sizes stand beside the pieces.")?;
    for plan in ledger.plans().values().filter_map(|plan| plan.as_ref().ok()) {
        let fabric = design.fabric(plan.fabric)?;
        writeln!(out)?;
        writeln!(
            out,
            "{}: {} long, {} wide; buy {}",
            fabric.name,
            fabric_length(plan.plan.length, units),
            ruler(plan.width, units),
            plan.purchase.label
        )?;
        for piece in &plan.pieces {
            let bounds = piece.prepared.bounds();
            let (width, height) = (ruler(bounds.width(), units), ruler(bounds.height(), units));
            writeln!(out, "  {} × {} ({width} × {height})", piece.count, piece_name(piece, units))?;
        }
        for strip in &plan.plan.strips {
            writeln!(out, "  Cut {}:", strip_heading(strip, units))?;
            for line in strip_lines(plan, strip, units) {
                writeln!(out, "    {}", line.text)?;
            }
        }
    }
    Ok(())
}

//! The steps of `sew` as JSON: units as patches, so that a stranger can put the block together again.

use geometry::{Exact, Point};
use layout::{Design, EditError, Units};
use piecing::pressing::top::TopMeeting;
use piecing::pressing::{Count, Toward};
use piecing::{BlockPlan, Making, Trim, UnitId, Variant};
use publish::sewing::{OtherWay, OversizeReport, StepPage};
use serde::Serialize;

use super::sew::{Told, margin_for_all};
use crate::decimal::{Decimal, coordinate, length, unit_name};
use crate::error::CommandError;

/// What is printed.
#[derive(Serialize)]
pub(super) struct SewJson {
    unit: &'static str,
    name: String,
    seam: Decimal,
    oversize: Option<Decimal>,
    blocks: Vec<BlockJson>,
    /// A quilt has one margin: what is enough for all its blocks.
    #[serde(skip_serializing_if = "Option::is_none")]
    margin_for_all: Option<Decimal>,
    top: Vec<String>,
    /// Where seams of neighbouring blocks do not nest when all copies of a block are pressed alike.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    unnested: Vec<LostJson>,
}

#[derive(Serialize)]
struct LostJson {
    /// In the frame of the top, from its lower left corner.
    at: [Decimal; 2],
    places: Vec<String>,
}

#[derive(Serialize)]
struct BlockJson {
    id: u32,
    name: String,
    copies: u64,
    patches: usize,
    pivots: Bounded,
    unnested: Bounded,
    releases: Bounded,
    most_layers: Option<usize>,
    /// Which patches are cut exactly, and which with the margin.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    cutting: Vec<String>,
    /// Strips and squares that are sewn before they are cut, in words: as the cutting plan has it, and as it could.
    sewn_first: Vec<String>,
    could_be_sewn_first: Vec<String>,
    /// Ways to sew the block; the chosen one is what the steps tell.
    ways: Vec<WayJson>,
    steps: Vec<StepJson>,
    test_block: TestJson,
    margins: MarginsJson,
}

#[derive(Serialize)]
struct WayJson {
    title: String,
    patches: usize,
    pivots: Bounded,
    chosen: bool,
    fabric: Option<String>,
}

/// A number that is kept small: what is proved, and what was found.
#[derive(Serialize)]
struct Bounded {
    at_least: usize,
    found: usize,
}

#[derive(Serialize)]
struct StepJson {
    number: usize,
    makes: u64,
    /// Units of the block that are made in this step, each as the keys of its patches and those of its parts.
    units: Vec<UnitJson>,
    variants: Vec<VariantJson>,
    words: Vec<String>,
    pressing: Vec<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    trim: Vec<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    trimmed: Option<TrimJson>,
    measures: Option<String>,
}

#[derive(Serialize)]
struct UnitJson {
    patches: Vec<u32>,
    parts: Vec<Vec<u32>>,
    seams: Vec<SeamJson>,
}

#[derive(Serialize)]
struct SeamJson {
    /// From end to end; between them the pivots.
    path: Vec<[Decimal; 2]>,
    segments: Vec<PressJson>,
}

#[derive(Serialize)]
struct PressJson {
    from: [Decimal; 2],
    to: [Decimal; 2],
    toward: &'static str,
}

#[derive(Serialize)]
struct VariantJson {
    count: u64,
    mirrored: bool,
    patches: Vec<u32>,
    fabrics: Vec<u32>,
}

#[derive(Serialize)]
struct TrimJson {
    /// Finished outline of the unit, in the block's frame.
    finished: Vec<[Decimal; 2]>,
    allowance: Decimal,
    /// Edges of the outline that are cut now, counted from its first corner.
    edges: Vec<usize>,
}

#[derive(Serialize)]
struct TestJson {
    pieces: Vec<String>,
    checks: Vec<CheckJson>,
    bias: Option<String>,
}

#[derive(Serialize)]
struct CheckJson {
    step: usize,
    measures: String,
}

#[derive(Serialize)]
struct MarginsJson {
    blocks: u32,
    recommended: Option<Decimal>,
    words: Vec<String>,
    margins: Vec<MarginJson>,
}

#[derive(Serialize)]
struct MarginJson {
    margin: Decimal,
    large_enough: f64,
    success: f64,
}

/// Everything about sewing a design.
pub(super) fn sew(
    design: &Design,
    told: &[Told],
    (top, lost): (&[String], &[TopMeeting]),
) -> Result<SewJson, CommandError> {
    let units = design.units();
    let inches = |value: &Exact| length(value, units);
    let blocks = told.iter().map(|told| block(design, told)).collect::<Result<_, EditError>>()?;
    Ok(SewJson {
        unit: unit_name(units),
        name: design.name().to_owned(),
        seam: inches(design.seam().inches()),
        oversize: design.cutting().oversize.as_ref().map(|margin| inches(margin.inches())),
        blocks,
        margin_for_all: margin_for_all(told).map(|margin| inches(&margin)),
        top: top.to_vec(),
        unnested: lost.iter().map(|meeting| lost_json(meeting, units)).collect(),
    })
}

fn block(design: &Design, told: &Told) -> Result<BlockJson, EditError> {
    let plan = &told.plan;
    let bounded = |count: Count| Bounded { at_least: count.at_least, found: count.found };
    let pivots = plan.tree.pivots();
    let steps = told.pages.steps.iter().enumerate().map(|(index, page)| step(design, plan, index, page));
    let checks = told.test.checks.iter().map(|(step, measures)| CheckJson { step: *step, measures: measures.clone() });
    Ok(BlockJson {
        id: plan.block.0,
        name: told.pages.name.clone(),
        copies: told.pages.copies,
        patches: design.block(plan.block)?.block().patches().len(),
        pivots: Bounded { at_least: pivots.at_least, found: pivots.found },
        unnested: bounded(plan.pressing.unnested),
        releases: bounded(plan.pressing.releases),
        most_layers: plan.pressing.thickest().map(|(_, layers)| layers),
        cutting: told.pages.cutting.clone(),
        sewn_first: told.strips.used.clone(),
        could_be_sewn_first: told.strips.possible.clone(),
        ways: told.ways.iter().map(way).collect(),
        steps: steps.collect(),
        test_block: TestJson {
            pieces: told.test.pieces.clone(),
            checks: checks.collect(),
            bias: told.test.bias.clone(),
        },
        margins: margins(design, &told.oversize),
    })
}

fn way(way: &OtherWay) -> WayJson {
    WayJson {
        title: way.title.clone(),
        patches: way.patches,
        pivots: Bounded { at_least: way.pivots.at_least, found: way.pivots.found },
        chosen: way.chosen,
        fabric: way.fabric.clone(),
    }
}

fn step(design: &Design, plan: &BlockPlan, index: usize, page: &StepPage) -> StepJson {
    let step = &plan.steps[index];
    let trim = plan.trim_of(&plan.tree.unit(step.units[0]).patches);
    StepJson {
        number: page.number,
        makes: page.makes,
        units: step.units.iter().map(|id| unit(design, plan, *id)).collect(),
        variants: plan.variants[index].iter().map(|v| variant(plan, v)).collect(),
        words: page.lines.clone(),
        pressing: page.pressing.clone(),
        trim: page.trim.clone(),
        trimmed: trim.map(|trim| trimmed(design, trim)),
        measures: page.measures.clone(),
    }
}

/// A point of the block in the named unit.
fn on_paper(point: &Point, units: Units) -> [Decimal; 2] {
    point.to_f64().map(|inches| coordinate(inches, units))
}

fn lost_json(meeting: &TopMeeting, units: Units) -> LostJson {
    LostJson { at: on_paper(&meeting.at, units), places: meeting.places.iter().map(ToString::to_string).collect() }
}

/// The keys of a unit's patches.
fn keys(plan: &BlockPlan, patches: &piecing::PatchSet) -> Vec<u32> {
    let all = plan.tree.graph().block().patches();
    patches.iter().map(|patch| all[patch].key.0).collect()
}

fn unit(design: &Design, plan: &BlockPlan, id: UnitId) -> UnitJson {
    let unit = plan.tree.unit(id);
    let (parts, seams) = match &unit.making {
        Making::Cut(_) => (&[][..], &[][..]),
        Making::Sewn { parts, seams } => (parts.as_slice(), seams.as_slice()),
    };
    let point = |index: &usize| on_paper(&plan.tree.graph().points()[*index], design.units());
    let press = |(segment, toward): (&piecing::pressing::Segment, Toward)| PressJson {
        from: point(&segment.from),
        to: point(&segment.to),
        toward: match toward {
            Toward::Left => "left",
            Toward::Right => "right",
            Toward::Open => "open",
        },
    };
    let seam = |(index, join): (usize, &piecing::Join)| SeamJson {
        path: join.path.iter().map(point).collect(),
        segments: plan.pressing.seam(id, index).map(press).collect(),
    };
    UnitJson {
        patches: keys(plan, &unit.patches),
        parts: parts.iter().map(|part| keys(plan, &plan.tree.unit(*part).patches)).collect(),
        seams: seams.iter().enumerate().map(seam).collect(),
    }
}

fn variant(plan: &BlockPlan, variant: &Variant) -> VariantJson {
    VariantJson {
        count: variant.count,
        mirrored: variant.mirrored,
        patches: keys(plan, &variant.patches),
        fabrics: variant.patches.iter().map(|patch| variant.fabrics[patch].0).collect(),
    }
}

fn trimmed(design: &Design, trim: &Trim) -> TrimJson {
    let units = design.units();
    TrimJson {
        finished: trim.outline.corners().iter().map(|p| on_paper(p, units)).collect(),
        allowance: length(&trim.allowance, units),
        edges: trim.edges.iter().map(|edge| edge.edge).collect(),
    }
}

fn margins(design: &Design, report: &OversizeReport) -> MarginsJson {
    let units = design.units();
    let margin = |rung: &piecing::simulate::Rung| MarginJson {
        margin: length(&rung.margin, units),
        large_enough: rung.large_enough.share(),
        success: rung.success.share(),
    };
    MarginsJson {
        blocks: publish::sewing::SAMPLE_BLOCKS,
        recommended: report.recommended.as_ref().map(|margin| length(margin, units)),
        words: report.lines.clone(),
        margins: report.rungs.iter().map(margin).collect(),
    }
}

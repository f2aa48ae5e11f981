//! How hard a quilt is, graded by what can be counted in its plans.
//!
//! Grades and thresholds are common practice, no source; so the reasons stand beside the grade, each with its figure.

use std::collections::{BTreeMap, BTreeSet};

use cutting::methods::{bias_by_role, outside_grain};
use cutting::{FabricPlan, PlannedPiece};
use piecing::QuiltPlan;
use serde::Serialize;

use crate::cut_shape_words::least_width;
use crate::lengths::{counted, measured};
use crate::names::listed_names;
use crate::sewing::pivots_of_rows;
use crate::{Offered, PublishError};

/// A piece that finishes narrower than this, in inches, is small to handle.
const SMALL_IN: f64 = 1.0;
/// A piece that finishes narrower than this is very small.
const VERY_SMALL_IN: f64 = 0.5;
/// More patches than this are many, and very many.
const MANY: [u64; 2] = [800, 2500];

/// The grade and what it rests on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Skill {
    /// The grade in a word.
    pub grade: String,
    /// How the points make the grade.
    pub scale: String,
    /// What was counted.
    pub reasons: Vec<Reason>,
}

/// One thing that was counted.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Reason {
    /// What.
    pub name: String,
    /// The figure.
    pub told: String,
    /// How many points it adds.
    pub points: u8,
}

/// The grade of a quilt.
pub(super) fn skill(quilt: &Offered<'_>, sewing: &QuiltPlan) -> Result<Skill, PublishError> {
    let plans = quilt.made()?;
    let patches: u64 = quilt.ledger.uses().values().map(|used| used.patches).sum();
    let many = MANY.iter().filter(|most| patches > **most).count();
    let mut reasons = vec![set_in(quilt, sewing)?];
    reasons.extend(smallest(quilt, &plans));
    reasons.push(bias(quilt));
    reasons.push(hands(&plans));
    reasons.push(reason("Patches", counted(patches, "patch", "patches"), points(many)));
    let sum = reasons.iter().map(|reason| reason.points).sum();
    Ok(Skill { grade: grade(sum).to_owned(), scale: SCALE.to_owned(), reasons })
}

/// How the points of all reasons make a grade.
const SCALE: &str = "No point: beginner; 1 or 2: confident beginner; 3 or 4: intermediate; more: experienced.";

const fn grade(points: u8) -> &'static str {
    match points {
        0 => "beginner",
        1 | 2 => "confident beginner",
        3 | 4 => "intermediate",
        _ => "experienced",
    }
}

fn points(count: usize) -> u8 {
    u8::try_from(count).unwrap_or(u8::MAX)
}

fn reason(name: &str, told: String, points: u8) -> Reason {
    Reason { name: name.to_owned(), told, points }
}

/// Pivots of each kind of block.
fn set_in(quilt: &Offered<'_>, sewing: &QuiltPlan) -> Result<Reason, PublishError> {
    let mut found = BTreeMap::new();
    for plan in &sewing.blocks {
        note(&mut found, plan.tree.pivots().found, quilt.design.block(plan.block)?.name());
    }
    let mut told: Vec<String> = Vec::new();
    told.extend((!found.is_empty()).then(|| in_blocks(&found, "pivot", "pivots")));
    let between = pivots_of_rows(quilt.design);
    told.extend((between > 0).then(|| format!("{} between hexagons of the top", counted(between, "pivot", "pivots"))));
    let (told, points) = if told.is_empty() { ("none".to_owned(), 0) } else { (told.join("; "), 2) };
    Ok(reason("Set-in seams", told, points))
}

/// Notes that a block of this name has so many of something; none is not noted.
fn note<'a>(found: &mut BTreeMap<usize, BTreeSet<&'a str>>, count: usize, name: &'a str) {
    if count > 0 {
        found.entry(count).or_default().insert(name);
    }
}

/// "8 pivots in each Star, Wheel; 4 pivots in each Fan", most first, or "none".
fn in_blocks(found: &BTreeMap<usize, BTreeSet<&str>>, one: &str, many: &str) -> String {
    let told = found.iter().rev().map(|(count, names)| {
        let names = names.iter().copied();
        format!("{} in each {}", counted(*count as u64, one, many), listed_names(names))
    });
    let told: Vec<String> = told.collect();
    if told.is_empty() { "none".to_owned() } else { told.join("; ") }
}

/// The patch that finishes narrowest, border strips and fillers apart: what is narrow is fiddly to handle, however long.
fn smallest(quilt: &Offered<'_>, plans: &[&FabricPlan]) -> Option<Reason> {
    let units = quilt.design.units();
    let is_patch = |piece: &&PlannedPiece| piece.blank.is_none() && piece.strips.is_empty();
    let patches = plans.iter().flat_map(|plan| &plan.pieces).filter(is_patch);
    let widths = patches.filter_map(|piece| Some((piece, least_width(&piece.shape.as_ref()?.finished_in_frame()))));
    let (least, width) = widths.min_by(|(_, a), (_, b)| a.total_cmp(b))?;
    let points = [SMALL_IN, VERY_SMALL_IN].iter().filter(|limit| width < **limit).count();
    let narrowest = measured(width, units);
    let told = format!("{}, finished {narrowest} at its narrowest", least.label);
    Some(reason("Smallest piece", told, self::points(points)))
}

/// Outside edges of blocks that stretch.
fn bias(quilt: &Offered<'_>) -> Reason {
    let design = quilt.design;
    let mut found = BTreeMap::new();
    for (_, def) in design.blocks().filter(|(id, _)| design.places_of(*id).next().is_some()) {
        note(&mut found, bias_by_role(&outside_grain(def.block())).values().sum(), def.name());
    }
    reason("Bias edges round blocks", in_blocks(&found, "edge", "edges"), u8::from(!found.is_empty()))
}

/// Pieces whose mirror image is cut as well and may not be taken for them.
fn hands(plans: &[&FabricPlan]) -> Reason {
    let both = |plan: &&FabricPlan| {
        let has = |id| plan.pieces.iter().any(|other| other.prepared.id() == id);
        plan.pieces.iter().filter(|piece| piece.mirror.is_some_and(has)).map(|piece| piece.count).sum::<u64>()
    };
    let count: u64 = plans.iter().map(both).sum();
    let told = if count == 0 { "none".to_owned() } else { counted(count, "piece", "pieces") };
    reason("Mirror-image pieces", told, u8::from(count > 0))
}

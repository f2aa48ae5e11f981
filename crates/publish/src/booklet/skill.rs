//! How hard a quilt is, graded by what can be counted in its plans.
//!
//! Grades and thresholds are common practice, no source; so the reasons stand beside the grade, each with its figure.

use cutting::methods::{bias_by_role, outside_grain};
use cutting::{FabricPlan, PlannedPiece};
use geometry::lay::UNITS_PER_INCH;
use piecing::QuiltPlan;
use serde::Serialize;

use super::Offered;
use crate::PublishError;
use crate::cut_words::cut_size;
use crate::lengths::counted;

/// A piece with a shorter side than this when cut is small: one and a half inches.
const SMALL: i64 = UNITS_PER_INCH * 3 / 2;
/// A piece with a shorter side than this is very small.
const VERY_SMALL: i64 = UNITS_PER_INCH;
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
    let mut told: Vec<String> = Vec::new();
    for plan in &sewing.blocks {
        let pivots = plan.tree.pivots().found as u64;
        let name = quilt.design.block(plan.block)?.name();
        let words = format!("{} in each {name}", counted(pivots, "pivot", "pivots"));
        if pivots > 0 && !told.contains(&words) {
            told.push(words);
        }
    }
    let (told, points) = if told.is_empty() { ("none".to_owned(), 0) } else { (told.join("; "), 2) };
    Ok(reason("Set-in seams in blocks", told, points))
}

/// The piece with the shortest side when cut.
fn smallest(quilt: &Offered<'_>, plans: &[&FabricPlan]) -> Option<Reason> {
    let side = |piece: &PlannedPiece| {
        let bounds = piece.prepared.bounds();
        (bounds.width().min(bounds.height()), bounds.width().max(bounds.height()))
    };
    let patches = plans.iter().flat_map(|plan| &plan.pieces).filter(|p| p.shape.is_some() && p.blank.is_none());
    let least = patches.min_by_key(|piece| side(piece))?;
    let points = u8::from(side(least).0 < SMALL) + u8::from(side(least).0 < VERY_SMALL);
    let told = format!("{}, {} when cut", least.label, cut_size(least, quilt.design.units()));
    Some(reason("Smallest piece", told, points))
}

/// Outside edges of blocks that stretch.
fn bias(quilt: &Offered<'_>) -> Reason {
    let design = quilt.design;
    let mut told: Vec<String> = Vec::new();
    for (id, def) in design.blocks().filter(|(id, _)| design.places_of(*id).next().is_some()) {
        let edges: usize = bias_by_role(&outside_grain(def.block())).values().sum();
        let name = design.block(id).map_or("", |def| def.name());
        let words = format!("{edges} on each {name}");
        if edges > 0 && !told.contains(&words) {
            told.push(words);
        }
    }
    let (told, points) = if told.is_empty() { ("none".to_owned(), 0) } else { (told.join("; "), 1) };
    reason("Bias edges round blocks", told, points)
}

/// Pieces whose mirror image is cut as well and may not be taken for them.
fn hands(plans: &[&FabricPlan]) -> Reason {
    let both = |plan: &&FabricPlan| {
        let has = |id| plan.pieces.iter().any(|other| other.prepared.id() == id);
        plan.pieces.iter().filter(|piece| piece.mirror.is_some_and(has)).map(|piece| piece.count).sum::<u64>()
    };
    let count: u64 = plans.iter().map(both).sum();
    let told = if count == 0 { "none".to_owned() } else { counted(count, "piece", "pieces") };
    reason("Pieces that have a left and a right hand", told, u8::from(count > 0))
}

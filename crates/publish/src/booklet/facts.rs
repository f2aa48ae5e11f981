//! The quilt at a glance.

use std::collections::BTreeMap;

use layout::Design;
use piecing::QuiltPlan;
use serde::Serialize;

use super::skill::{Skill, skill};
use crate::lengths::{counted, finished};
use crate::{Offered, PublishError};

/// What is known of the quilt before anything is cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Facts {
    /// Name and figure of each fact.
    pub rows: Vec<Fact>,
    /// How hard it is.
    pub skill: Skill,
}

/// A fact.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Fact {
    /// What it is about.
    pub name: String,
    /// The figure.
    pub told: String,
}

/// The facts of a quilt.
pub(super) fn facts(quilt: &Offered<'_>, sewing: &QuiltPlan) -> Result<Facts, PublishError> {
    let design = quilt.design;
    let units = design.units();
    let (width, height) = design.finished_size();
    let size = format!("{} × {}", finished(&width, units), finished(&height, units));
    let patches = quilt.ledger.uses().values().map(|used| used.patches).sum();
    let mut rows = vec![("Finished size", size), ("Patches", counted(patches, "patch", "patches"))];
    rows.extend(blocks(design).into_iter().enumerate().map(|(i, told)| (if i == 0 { "Blocks" } else { "" }, told)));
    rows.push(("Fabrics", counted(quilt.plans.len() as u64, "fabric", "fabrics")));
    rows.push(("Seam allowance", format!("{}, in all sizes to cut", finished(design.seam().inches(), units))));
    if let Some(margin) = &design.cutting().oversize {
        rows.push(("Oversize", format!("{} on edges that are trimmed later", finished(margin.inches(), units))));
    }
    rows.push(("Cutting plan", format!("{} plan", quilt.planner.name())));
    let rows = rows.into_iter().map(|(name, told)| Fact { name: name.to_owned(), told }).collect();
    Ok(Facts { rows, skill: skill(quilt, sewing)? })
}

/// "10 × Night star, 9″ × 9″ finished": kinds of block that stand in the quilt, those of one name and size together.
fn blocks(design: &Design) -> Vec<String> {
    let units = design.units();
    let mut found: Vec<((&str, String), u64)> = Vec::new();
    let mut known: BTreeMap<(&str, String), usize> = BTreeMap::new();
    for (id, def) in design.blocks() {
        let count = design.places_of(id).count() as u64;
        if count == 0 {
            continue;
        }
        let (width, height) = def.block().base().extent();
        let key = (def.name(), format!("{} × {}", finished(&width, units), finished(&height, units)));
        match known.get(&key) {
            Some(index) => found[*index].1 += count,
            None => {
                known.insert(key.clone(), found.len());
                found.push((key, count));
            }
        }
    }
    found.into_iter().map(|((name, size), count)| format!("{count} × {name}, {size} finished")).collect()
}

//! The words of a step: what is sewn to what, how it is pressed, trimmed and measured.

use std::collections::BTreeSet;

use geometry::{Exact, Point};
use layout::{Design, EditError, FabricId, Units};
use piecing::{
    BlockPlan, CuttingHand, Guide, Making, Measured, Step, Trim, TrimmedEdge, Unit, UnitId, Variant, measured,
};

use crate::lengths::{counted, distance_words, finished};

/// "24 × diamond in Plum, sector triangle in Oat": how many of a variant, and the fabrics of its patches.
pub(super) fn variant_words(plan: &BlockPlan, variant: &Variant, design: &Design) -> Result<String, EditError> {
    let patches = plan.tree.graph().block().patches();
    let mut told: BTreeSet<(&str, FabricId)> = BTreeSet::new();
    let mut parts = Vec::new();
    for patch in variant.patches.iter() {
        let (role, fabric) = (patches[patch].role.name(), variant.fabrics[patch]);
        if told.insert((role, fabric)) {
            parts.push(format!("{role} in {}", design.fabric(fabric)?.name));
        }
    }
    let hand = if variant.mirrored { " mirrored" } else { "" };
    Ok(format!("{}{hand}: {}", variant.count, parts.join(", ")))
}

/// The name of a part: a patch by its role, a unit by the number of its step.
pub(super) fn part_name(plan: &BlockPlan, id: UnitId) -> String {
    let unit = plan.tree.unit(id);
    match unit.making {
        Making::Cut(patch) => plan.tree.graph().block().patches()[patch].role.name().to_owned(),
        Making::Sewn { .. } => {
            let step = plan.steps.iter().position(|step| step.class == unit.class);
            step.map_or_else(String::new, |step| format!("unit {}", step + 1))
        }
    }
}

/// "2 × unit 1, diamond": names in order, equal neighbours counted.
fn listed(names: &[String]) -> String {
    let runs = names.chunk_by(|a, b| a == b);
    let told = runs.map(|run| if run.len() == 1 { run[0].clone() } else { format!("{} × {}", run.len(), run[0]) });
    told.collect::<Vec<_>>().join(", ")
}

/// Whether equal parts are sewn round another one.
fn is_around(core: &String, around: &[String]) -> bool {
    around.len() > 2 && around.iter().all(|name| *name == around[0]) && *core != around[0]
}

/// How the parts of a unit are sewn together.
pub(super) fn sewing_words(plan: &BlockPlan, unit: &Unit) -> Vec<String> {
    let Making::Sewn { parts, seams } = &unit.making else { return Vec::new() };
    let names: Vec<String> = parts.iter().map(|id| part_name(plan, *id)).collect();
    let mut lines = match names.as_slice() {
        [a, b] => vec![format!("Sew {a} to {b}.")],
        [core, around @ ..] if is_around(core, around) => {
            vec![format!("Sew {} to {core}, opposite ones first; press each before the next.", listed(around))]
        }
        names => vec![format!("Sew together in this order: {}.", listed(names))],
    };
    let pivots: usize = seams.iter().map(piecing::Join::pivots).sum();
    lines.extend(open_ends(plan, unit));
    if pivots > 0 {
        let set_in = seams.iter().filter(|seam| seam.pivots() > 0).count();
        let seams = counted(set_in as u64, "seam is", "seams are");
        lines.push(format!(
            "{seams} set in: stop one seam allowance before the corner, needle down, turn the pieces about the needle, \
             sew on.",
        ));
    }
    lines
}

/// Seams that must end one seam allowance early, since something is set in there later.
fn open_ends(plan: &BlockPlan, unit: &Unit) -> Option<String> {
    let Making::Sewn { seams, .. } = &unit.making else { return None };
    let larger = plan
        .tree
        .units()
        .iter()
        .filter(|other| other.patches != unit.patches && unit.patches.is_within(&other.patches));
    let mut later: BTreeSet<usize> = BTreeSet::new();
    for other in larger {
        if let Making::Sewn { seams, .. } = &other.making {
            later.extend(seams.iter().flat_map(|seam| &seam.path[1..seam.path.len() - 1]));
        }
    }
    let ends = seams.iter().flat_map(|seam| seam.path.first().into_iter().chain(seam.path.last()));
    let open = ends.filter(|point| later.contains(point)).count();
    (open > 0).then(|| {
        format!(
            "Stop {} one seam allowance before the inner corner and backstitch: a piece is set in there later.",
            if open == 1 { "the seam".to_owned() } else { format!("at {open} ends of seams") }
        )
    })
}

/// What the sewn units of a step measure; none for shapes that nobody measures. With a margin, edges that are trimmed only
/// with a larger unit still have it, and units that are alike when finished may differ in how many such edges they have.
pub(super) fn measure_words(plan: &BlockPlan, step: &Step, design: &Design) -> Option<String> {
    let (seam, units) = (design.seam().inches(), design.units());
    let margin = design.cutting().oversize.as_ref().map_or(Exact::ZERO, |margin| margin.inches().clone());
    let mut told: Vec<String> = Vec::new();
    let mut is_larger = false;
    for unit in &step.units {
        let patches = &plan.tree.unit(*unit).patches;
        let waits = |from: &Point, to: &Point| plan.is_trimmed_later(patches, from, to);
        let raw = |from: &Point, to: &Point| if waits(from, to) { seam + &margin } else { seam.clone() };
        let words = size_words(&measured(plan.tree.graph(), patches, raw)?, units);
        is_larger |= measured(plan.tree.graph(), patches, |_, _| seam.clone())
            .is_some_and(|exact| size_words(&exact, units) != words);
        if !told.contains(&words) {
            told.push(words);
        }
    }
    let later = if is_larger { ", with what is trimmed later" } else { "" };
    Some(format!("{}{later}", told.join(" or ")))
}

fn size_words(size: &Measured, units: Units) -> String {
    let words = |d: &piecing::Distance| distance_words(d, units);
    match size {
        Measured::Rectangle(sides) => sides.each_ref().map(words).join(" × "),
        Measured::Between(all) => {
            let all: Vec<String> = all.iter().map(words).collect();
            format!("{} between parallel edges", all.join(" and "))
        }
        Measured::Triangle(high) => format!("{} from each edge to the tip opposite, tips not trimmed", words(high)),
    }
}

/// How a unit is trimmed.
pub(crate) fn trim_words(trim: &Trim, hand: CuttingHand, units: Units) -> Vec<String> {
    let size = match trim.rectangle() {
        Some((width, height)) => format!("Trim to {} × {}.", finished(&width, units), finished(&height, units)),
        None => format!("Trim {}.", counted(trim.edges.len() as u64, "edge", "edges")),
    };
    let mut lines = vec![size];
    let mut told: Vec<(String, usize)> = Vec::new();
    for edge in &trim.edges {
        let words = edge_words(trim, edge, units);
        match told.iter_mut().find(|(known, _)| *known == words) {
            Some((_, count)) => *count += 1,
            None => told.push((words, 1)),
        }
    }
    for (words, count) in told.into_iter().filter(|(words, _)| !words.is_empty()) {
        let edges = if count == 1 { "One edge".to_owned() } else { format!("{count} edges") };
        lines.push(format!("{edges}: {words}."));
    }
    lines.push(hand_words(trim, hand));
    lines
}

/// What the ruler is laid by along one edge.
fn edge_words(trim: &Trim, edge: &TrimmedEdge, units: Units) -> String {
    let guides = edge.ruler_guides();
    let mut words: Vec<String> = match guides.as_slice() {
        [Guide::Parallel { distance: a, .. }, Guide::Parallel { distance: b, .. }] => {
            let (near, far) = if a.to_f64() < b.to_f64() { (a, b) } else { (b, a) };
            let [near, far] = [near, far].map(|distance| distance_words(distance, units));
            vec![format!("{far} from the farther and {near} from the nearer of the parallel seams")]
        }
        guides => guides.iter().map(|guide| guide_words(guide, units)).collect(),
    };
    if edge.point_on_edge(&trim.allowance).is_some() {
        let allowance = finished(&trim.allowance, units);
        words.push(format!("{allowance} outside the point where seams meet at the edge"));
    }
    words.extend(edge.slanted().map(|guide| guide_words(guide, units)));
    words.join("; ")
}

fn guide_words(guide: &Guide, units: Units) -> String {
    match guide {
        Guide::Parallel { distance, .. } => format!("{} from the parallel seam", distance_words(distance, units)),
        Guide::Crossing { distance, .. } => {
            format!("{} from the farthest seam crossing", distance_words(distance, units))
        }
        Guide::Slanted { degrees, .. } => format!("seam at {}° to the edge", angle(*degrees)),
    }
}

/// Degrees with as many decimals as they need, one at most.
fn angle(degrees: f64) -> String {
    let text = format!("{degrees:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

/// The order of the cuts.
fn hand_words(trim: &Trim, hand: CuttingHand) -> String {
    let side = match hand {
        CuttingHand::Right => "right",
        CuttingHand::Left => "left",
    };
    let holds = trim.holds(hand);
    if holds.iter().any(|hold| hold.edges.len() == 2) {
        format!("Cut along the {side} and the upper side of the ruler, turn the unit by half, cut the other two sides.")
    } else {
        format!("Turn the unit so that each edge in turn lies to the {side} of the ruler, and cut.")
    }
}

//! The words of a step: what is sewn to what, how it is pressed, trimmed and measured.

use std::collections::BTreeSet;

use geometry::{Exact, Point};
use layout::{Design, EditError, FabricId, Units};
use piecing::{BlockPlan, CuttingHand, Guide, Making, Measured, Trim, TrimmedEdge, Unit, UnitId, Variant, measured};

use super::piece_names::{PieceNames, is_lettered, numbered};
use super::seam_numbers::told_parts;
use crate::lengths::{counted, distance_words, finished};

/// "24 × diamond in Plum, sector triangle in Oat": how many of a variant, and the fabrics of its patches.
/// Where its step makes several, "24 of unit 2a".
pub(super) fn variant_words(
    plan: &BlockPlan,
    (step, which): (usize, usize),
    names: &PieceNames<'_>,
    design: &Design,
) -> Result<String, EditError> {
    let (patches, variant) = (plan.tree.graph().block().patches(), &plan.variants[step][which]);
    // Pieces have their whole names where they are sewn first; later they are parts of units.
    let is_part = |patch| match &plan.tree.unit(variant.unit).making {
        Making::Sewn { parts, .. } => parts.iter().any(|part| plan.tree.unit(*part).making == Making::Cut(patch)),
        Making::Cut(_) => true,
    };
    let mut told: BTreeSet<(String, FabricId)> = BTreeSet::new();
    let mut parts = Vec::new();
    // In the order in which the parts are sewn, as the diagram shows it.
    let by_part = told_parts(plan, variant).into_iter().flat_map(|part| plan.tree.unit(part).patches.iter());
    for patch in by_part.collect::<Vec<_>>() {
        let name = if is_part(patch) { names.piece(variant, patch) } else { patches[patch].role.name().to_owned() };
        let fabric = variant.fabrics[patch];
        let words = format!("{name} in {}", design.fabric(fabric)?.name);
        if told.insert((name, fabric)) {
            parts.push(words);
        }
    }
    let hand = if variant.mirrored { " mirrored" } else { "" };
    let unit =
        if is_lettered(plan, step) { format!(" of unit {}", numbered(plan, step, which)) } else { String::new() };
    let made_of: Vec<String> =
        names.lettered_parts(variant).into_iter().map(|(_, number)| format!("unit {number}")).collect();
    let made_of = if made_of.is_empty() { String::new() } else { format!(". Made of {}", listed(&made_of)) };
    Ok(format!("{}{unit}{hand}: {}{made_of}", variant.count, separated(&parts)))
}

/// Names in a row, parted by semicolons where some have commas of their own.
fn separated(names: &[String]) -> String {
    let by = if names.iter().any(|name| name.contains(", ")) { "; " } else { ", " };
    names.join(by)
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
    separated(&told.collect::<Vec<_>>())
}

/// Whether equal parts are sewn round another one.
fn is_around(core: &String, around: &[String]) -> bool {
    around.len() > 2 && around.iter().all(|name| *name == around[0]) && *core != around[0]
}

/// How the parts of a unit are sewn together.
pub(super) fn sewing_words(plan: &BlockPlan, unit: &Unit, variants: &[Variant], names: &PieceNames<'_>) -> Vec<String> {
    let Making::Sewn { parts, seams } = &unit.making else { return Vec::new() };
    let told = variants.first().map_or_else(|| parts.clone(), |variant| told_parts(plan, variant));
    let plain: Vec<String> = told.iter().map(|id| part_name(plan, *id)).collect();
    let is_round = matches!(plain.as_slice(), [core, around @ ..] if is_around(core, around));
    // Whole names where they hold for all that the step makes; else those of each stand with its diagram.
    let whole = |variant| told_parts(plan, variant).into_iter().map(|id| names.part(variant, id)).collect::<Vec<_>>();
    let mut wholes = variants.iter().map(whole);
    let names = match wholes.next() {
        Some(first) if !is_round && wholes.all(|other| other == first) => first,
        _ => plain,
    };
    let mut lines = match names.as_slice() {
        [a, b] => vec![format!("Sew {a}{} to {b}.", if a.contains(", ") { "," } else { "" })],
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
pub(super) fn measure_words(plan: &BlockPlan, step: usize, design: &Design) -> Option<String> {
    let variants = plan.variants.get(step).map_or(&[] as &[Variant], Vec::as_slice);
    let each = variants.iter().map(|variant| {
        let units: Vec<UnitId> = variant.members.iter().map(|member| member.unit).collect();
        sizes(plan, &units, design)
    });
    let each: Vec<(Vec<String>, bool)> = each.collect::<Option<_>>()?;
    let later = if each.iter().any(|(_, is_larger)| *is_larger) { ", with what is trimmed later" } else { "" };
    let mut told: Vec<String> = each.iter().map(|(sizes, _)| sizes.join(" or ")).collect();
    if is_lettered(plan, step) && told.windows(2).any(|pair| pair[0] != pair[1]) {
        let of = |(which, sizes): (usize, &String)| format!("unit {} {sizes}", numbered(plan, step, which));
        let told: Vec<String> = told.iter().enumerate().map(of).collect();
        return Some(format!("{}{later}", told.join("; ")));
    }
    told.sort_unstable();
    told.dedup();
    (!told.is_empty()).then(|| format!("{}{later}", told.join(" or ")))
}

/// What units measure, each size once, and whether it is more than they measure without a margin.
fn sizes(plan: &BlockPlan, of: &[UnitId], design: &Design) -> Option<(Vec<String>, bool)> {
    let (seam, units) = (design.seam().inches(), design.units());
    let margin = design.cutting().oversize.as_ref().map_or(Exact::ZERO, |margin| margin.inches().clone());
    let mut told: Vec<String> = Vec::new();
    let mut is_larger = false;
    let mut of = of.to_vec();
    of.sort_unstable();
    of.dedup();
    for unit in &of {
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
    Some((told, is_larger))
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
            vec![format!("{far} from one parallel seam and {near} from one nearer to the edge")]
        }
        guides => guides.iter().map(|guide| guide_words(guide, units)).collect(),
    };
    if edge.point_on_edge(&trim.allowance).is_some_and(|point| seams_meet_at(edge, point)) {
        let allowance = finished(&trim.allowance, units);
        words.push(format!("{allowance} outside the point where seams meet at the edge"));
    }
    words.extend(edge.slanted().map(|guide| guide_words(guide, units)));
    words.join("; ")
}

/// Whether more than one seam runs into an edge at a point of it.
fn seams_meet_at(edge: &TrimmedEdge, point: &Guide) -> bool {
    let Guide::Crossing { at, .. } = point else { return false };
    let ends = edge.guides.iter().filter(|guide| matches!(guide, Guide::Slanted { at: end, .. } if end == at));
    ends.count() > 1
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

//! The words of pressing: towards which part each seam of a unit goes.

use layout::{Design, EditError};
use piecing::pressing::{Segment, Toward};
use piecing::{BlockPlan, Making, UnitId, Variant};

use super::seam_numbers::number_of;
use super::words::part_name;
use crate::lengths::counted;

/// How the units of a variant are pressed.
pub(super) fn press_words(plan: &BlockPlan, variant: &Variant, design: &Design) -> Result<Vec<String>, EditError> {
    let unit = variant.unit;
    let told = told_seams(plan, variant, design)?;
    let mut lines = match told.as_slice() {
        [] => return Ok(Vec::new()),
        [Some(one)] => vec![format!("Press the seam {one}.")],
        [None] => vec!["Press the seam as the arrow shows.".to_owned()],
        [Some(first), rest @ ..] if rest.iter().all(|words| words.as_ref() == Some(first)) => {
            vec![format!("Press the seams {first}.")]
        }
        all if is_told_one_by_one(all) => {
            let numbered = all.iter().flatten().enumerate();
            let mut numbered: Vec<(usize, &String)> =
                numbered.map(|(seam, words)| (number_of(plan, variant, seam), words)).collect();
            numbered.sort_unstable();
            let told: Vec<String> = numbered.into_iter().map(|(n, words)| format!("seam {n} {words}")).collect();
            vec![format!("Press {}.", told.join(", "))]
        }
        _ => vec!["Press each seam as its arrow shows.".to_owned()],
    };
    lines.extend(crossing_words(plan, unit));
    Ok(lines)
}

/// So many seams are told one by one.
const NUMBERED: usize = 3;

/// Whether the words name the seams of the variant's unit by their numbers, which its diagram must show then.
pub(super) fn are_seams_numbered(plan: &BlockPlan, variant: &Variant, design: &Design) -> Result<bool, EditError> {
    Ok(is_told_one_by_one(&told_seams(plan, variant, design)?))
}

fn is_told_one_by_one(told: &[Option<String>]) -> bool {
    told.len() <= NUMBERED && told.iter().all(Option::is_some) && told.windows(2).any(|pair| pair[0] != pair[1])
}

/// The side of each seam of the variant's unit.
fn told_seams(plan: &BlockPlan, variant: &Variant, design: &Design) -> Result<Vec<Option<String>>, EditError> {
    let Making::Sewn { seams, .. } = &plan.tree.unit(variant.unit).making else { return Ok(Vec::new()) };
    (0..seams.len()).map(|seam| seam_words(plan, variant, seam, design)).collect()
}

/// What is done where seams cross.
fn crossing_words(plan: &BlockPlan, unit: UnitId) -> Vec<String> {
    let at = |wanted: &dyn Fn(&piecing::pressing::Meeting) -> bool| {
        let count = plan.pressing.meetings.iter().filter(|m| m.unit == unit && wanted(m)).count();
        (count > 0).then(|| counted(count as u64, "crossing", "crossings"))
    };
    let told = [
        at(&|m| m.released && m.spins)
            .map(|at| format!("At {at}, undo the stitches in the seam allowance and press all seams one way round.")),
        at(&|m| m.released && !m.spins).map(|at| {
            format!("At {at}, undo the stitches in the seam allowance, so that the seam can change sides there.")
        }),
        at(&|m| !m.nested).map(|at| format!("At {at} the seams cannot nest; pin there.")),
    ];
    told.into_iter().flatten().collect()
}

/// The side of one seam; none where only an arrow can tell it.
fn seam_words(plan: &BlockPlan, variant: &Variant, seam: usize, design: &Design) -> Result<Option<String>, EditError> {
    let sides: Vec<(&Segment, Toward)> = plan.pressing.seam(variant.unit, seam).collect();
    let words = |(segment, toward): (&Segment, Toward)| side_words(plan, variant, (seam, segment, toward), design);
    let mut told: Vec<Option<String>> = sides.into_iter().map(words).collect::<Result<_, _>>()?;
    told.dedup();
    Ok(if told.len() == 1 { told.remove(0) } else { None })
}

/// "toward the diamond", or "open".
fn side_words(
    plan: &BlockPlan,
    variant: &Variant,
    (seam, segment, toward): (usize, &Segment, Toward),
    design: &Design,
) -> Result<Option<String>, EditError> {
    let (patches, others) = match toward {
        Toward::Left => (&segment.left, &segment.right),
        Toward::Right => (&segment.right, &segment.left),
        Toward::Open => return Ok(Some("open".to_owned())),
    };
    let Making::Sewn { parts, .. } = &plan.tree.unit(variant.unit).making else { return Ok(None) };
    let part_of = |set: &piecing::PatchSet| parts.iter().find(|p| set.is_within(&plan.tree.unit(**p).patches));
    let (Some(part), Some(other)) = (part_of(patches), part_of(others)) else {
        // One side is several parts sewn before: the other names the seam.
        return Ok(part_of(patches)
            .map(|part| toward_the(plan, *part))
            .or_else(|| (seam > 0).then(|| "toward what was sewn before".to_owned())));
    };
    if part_name(plan, *part) != part_name(plan, *other) {
        return Ok(Some(toward_the(plan, *part)));
    }
    // Two patches of one name are told apart by their fabrics.
    let fabric = |id: &UnitId| match plan.tree.unit(*id).making {
        Making::Cut(patch) => Some(variant.fabrics[patch]),
        Making::Sewn { .. } => None,
    };
    match (fabric(part), fabric(other)) {
        (Some(a), Some(b)) if a != b => {
            Ok(Some(format!("toward the {} in {}", part_name(plan, *part), design.fabric(a)?.name)))
        }
        _ => Ok(None),
    }
}

fn toward_the(plan: &BlockPlan, part: UnitId) -> String {
    match plan.tree.unit(part).making {
        Making::Cut(_) => format!("toward the {}", part_name(plan, part)),
        Making::Sewn { .. } => format!("toward {}", part_name(plan, part)),
    }
}

//! The words of pressing: towards which part each seam of a step goes.

use piecing::pressing::{Segment, Toward};
use piecing::{BlockPlan, Making, Step, UnitId};

use super::words::part_name;
use crate::lengths::counted;

/// How the seams of a step are pressed: one line for all its units where they are pressed alike, else one for each way.
pub(super) fn press_words(plan: &BlockPlan, step: &Step) -> Vec<String> {
    let mut ways: Vec<(Vec<String>, usize)> = Vec::new();
    for unit in &step.units {
        let words = unit_words(plan, *unit);
        match ways.iter_mut().find(|(known, _)| *known == words) {
            Some((_, count)) => *count += 1,
            None => ways.push((words, 1)),
        }
    }
    let [(lines, _)] = ways.as_slice() else {
        let of = step.units.len();
        let told =
            ways.into_iter().map(|(lines, count)| format!("{count} of every {of}: {}", after_colon(&lines.join(" "))));
        return told.collect();
    };
    lines.clone()
}

/// A sentence as it goes on after a colon.
fn after_colon(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// How one unit is pressed.
fn unit_words(plan: &BlockPlan, unit: UnitId) -> Vec<String> {
    let Making::Sewn { seams, .. } = &plan.tree.unit(unit).making else { return Vec::new() };
    let told: Vec<String> = (0..seams.len()).map(|seam| seam_words(plan, unit, seam)).collect();
    let mut lines = match told.as_slice() {
        [one] => vec![format!("Press the seam {one}.")],
        all if all.iter().all(|words| *words == all[0]) => vec![format!("Press the seams {}.", all[0])],
        all => {
            let numbered = all.iter().enumerate().map(|(i, words)| format!("the {} {words}", ordinal(i)));
            vec![format!("Press seam by seam: {}.", numbered.collect::<Vec<_>>().join(", "))]
        }
    };
    let released = plan.pressing.meetings.iter().filter(|m| m.unit == unit && m.released).count();
    if released > 0 {
        lines.push(format!(
            "At {}, undo the stitches in the seam allowance and press all seams one way round.",
            counted(released as u64, "crossing", "crossings")
        ));
    }
    let lost = plan.pressing.meetings.iter().filter(|m| m.unit == unit && !m.nested).count();
    if lost > 0 {
        lines.push(format!("At {} the seams cannot nest; pin there.", counted(lost as u64, "crossing", "crossings")));
    }
    lines
}

/// The side of one seam.
fn seam_words(plan: &BlockPlan, unit: UnitId, seam: usize) -> String {
    let sides: Vec<(&Segment, Toward)> = plan.pressing.seam(unit, seam).collect();
    let mut told: Vec<String> =
        sides.iter().map(|(segment, toward)| side_words(plan, unit, segment, *toward)).collect();
    told.dedup();
    match told.as_slice() {
        [one] => one.clone(),
        _ => "to both sides, as the arrows show".to_owned(),
    }
}

/// "toward the diamond", or "open".
fn side_words(plan: &BlockPlan, unit: UnitId, segment: &Segment, toward: Toward) -> String {
    let patches = match toward {
        Toward::Left => &segment.left,
        Toward::Right => &segment.right,
        Toward::Open => return "open".to_owned(),
    };
    let Making::Sewn { parts, .. } = &plan.tree.unit(unit).making else { return String::new() };
    let part = parts.iter().find(|part| patches.is_within(&plan.tree.unit(**part).patches));
    let name = |part: &UnitId| match plan.tree.unit(*part).making {
        Making::Cut(_) => format!("toward the {}", part_name(plan, *part)),
        Making::Sewn { .. } => format!("toward {}", part_name(plan, *part)),
    };
    let both_alike = parts.len() == 2 && part_name(plan, parts[0]) == part_name(plan, parts[1]);
    match part {
        Some(_) if both_alike => "to the side the arrow shows".to_owned(),
        Some(part) => name(part),
        None => "toward the parts sewn before".to_owned(),
    }
}

fn ordinal(index: usize) -> String {
    match index {
        0 => "first".to_owned(),
        1 => "second".to_owned(),
        2 => "third".to_owned(),
        3 => "fourth".to_owned(),
        n => format!("{}th", n + 1),
    }
}

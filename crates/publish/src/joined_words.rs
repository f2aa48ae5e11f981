//! Where the pieces of borders and fillers go, and how those are joined that come in sections.

use std::collections::BTreeMap;

use cutting::{FabricPlan, PlannedPiece};
use geometry::Exact;
use layout::{Design, Source};

use crate::PublishError;
use crate::lengths::{counted, finished, ruler};

/// Where pieces of borders and fillers go, after their name: " (sides of border 1)", " (numbers 2, 5)"; empty for others.
pub(crate) fn where_it_goes(piece: &PlannedPiece) -> String {
    let mut borders: BTreeMap<u16, Vec<bool>> = BTreeMap::new();
    let mut fillers: Vec<String> = Vec::new();
    for source in piece.strips.keys() {
        match *source {
            Source::Border { border, level } => borders.entry(border).or_default().push(level),
            Source::Filler(filler) => fillers.push((u32::from(filler) + 1).to_string()),
            _ => {}
        }
    }
    let of_border = |(border, levels): (u16, Vec<bool>)| {
        let sides = match levels[..] {
            [false] => "sides",
            [true] => "top and bottom",
            _ => "all sides",
        };
        format!("{sides} of border {}", u32::from(border) + 1)
    };
    let mut told: Vec<String> = borders.into_iter().map(of_border).collect();
    if !fillers.is_empty() {
        told.push(format!("{} {}", if fillers.len() == 1 { "number" } else { "numbers" }, fillers.join(", ")));
    }
    if told.is_empty() { String::new() } else { format!(" ({})", told.join("; ")) }
}

/// How the pieces of every border are joined that come in sections, in the order of sewing, a line for the sides and one
/// for top and bottom.
///
/// # Errors
/// A border that the design does not have.
pub(crate) fn joined_words(design: &Design, plans: &[&FabricPlan]) -> Result<Vec<String>, PublishError> {
    let borders = u16::try_from(design.borders().len()).unwrap_or(u16::MAX);
    let all = (0..borders).flat_map(|border| [false, true].map(|level| Source::Border { border, level }));
    let mut lines = Vec::new();
    for source in all {
        let sections: Vec<(&PlannedPiece, u64)> = plans
            .iter()
            .flat_map(|plan| &plan.pieces)
            .filter(|piece| piece.is_section)
            .filter_map(|piece| piece.strips.get(&source).map(|each| (piece, *each)))
            .collect();
        if !sections.is_empty() {
            lines.push(joined(design, source, &sections)?);
        }
    }
    Ok(lines)
}

fn joined(design: &Design, source: Source, sections: &[(&PlannedPiece, u64)]) -> Result<String, PublishError> {
    let units = design.units();
    let each = sections.iter().map(|(piece, each)| {
        let long = ruler(piece.prepared.bounds().width(), units);
        format!("{} {long} long", counted(*each, "section", "sections"))
    });
    let each = each.collect::<Vec<_>>().join(" and ");
    // What a section has beyond its two allowances lies at its end.
    let seams = design.seam().inches().scale_int(2);
    let length = |piece: &PlannedPiece| match &piece.shape {
        Some(shape) => {
            &(&shape.finished().extent().0 + &(&shape.allowance_of_edge(1) + &shape.allowance_of_edge(3))) - &seams
        }
        None => Exact::ZERO,
    };
    let has = sections.iter().fold(Exact::ZERO, |sum, (piece, each)| {
        &sum + &length(piece).scale_int(i64::try_from(*each).unwrap_or(i64::MAX))
    });
    let (width, height) = design.source_block(source)?.base().extent();
    let reserve = &has - &width.max(height);
    let spare = if reserve.is_positive() {
        format!("the joined piece is {} longer than it is planned", finished(&reserve, units))
    } else {
        "the joined piece is just as long as it is planned, with nothing to spare".to_owned()
    };
    Ok(match source {
        Source::Border { border, level } => {
            let side = if level { "top and bottom are each" } else { "the sides are each" };
            format!("Border {}: {side} joined from {each}; {spare}.", u32::from(border) + 1)
        }
        _ => format!("The {} is joined from {each}; {spare}.", design.source_name(source)),
    })
}

//! Where the pieces of borders and fillers go, and how those are joined that come in sections.

use std::collections::{BTreeMap, BTreeSet};

use cutting::{FabricPlan, PlannedPiece};
use geometry::Exact;
use layout::{Design, Source, Units};

use crate::PublishError;
use crate::lengths::{at_most, counted, ruler};
use crate::names::listed;

/// Where pieces of borders and fillers go, after their name: " (sides of border 1)", " (numbers 2, 5 of the top)"; empty for others.
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
        told.push(format!(
            "{} {} of the top",
            if fillers.len() == 1 { "number" } else { "numbers" },
            fillers.join(", ")
        ));
    }
    if told.is_empty() { String::new() } else { format!(" ({})", told.join("; ")) }
}

/// Which fillers are joined of sections, and how; none where no filler is.
pub(crate) fn joined_fillers(plans: &[&FabricPlan]) -> Option<String> {
    let sections = plans.iter().flat_map(|plan| &plan.pieces).filter(|piece| piece.is_section);
    let sources = sections.flat_map(|piece| piece.strips.keys());
    let numbers = sources.filter_map(|source| match source {
        Source::Filler(filler) => Some(u32::from(*filler) + 1),
        _ => None,
    });
    let numbers: BTreeSet<u32> = numbers.collect();
    let told: Vec<String> = numbers.iter().map(u32::to_string).collect();
    (!told.is_empty()).then(|| {
        format!(
            "Fillers that come in sections ({}) are joined first: sew their sections end to end with straight seams, press the \
             seams open, and cut them to length.",
            listed(&told)
        )
    })
}

/// How the pieces of each border are joined that come in several sections, by the number of the border from 0: a line for the
/// sides and one for top and bottom.
///
/// # Errors
/// A border that the design does not have.
pub(crate) fn joined_words(design: &Design, plans: &[&FabricPlan]) -> Result<BTreeMap<u16, Vec<String>>, PublishError> {
    let borders = u16::try_from(design.borders().len()).unwrap_or(u16::MAX);
    let mut lines: BTreeMap<u16, Vec<String>> = BTreeMap::new();
    for (border, level) in (0..borders).flat_map(|border| [(border, false), (border, true)]) {
        let source = Source::Border { border, level };
        let sections: Vec<(&PlannedPiece, u64)> = plans
            .iter()
            .flat_map(|plan| &plan.pieces)
            .filter(|piece| piece.is_section)
            .filter_map(|piece| piece.strips.get(&source).map(|each| (piece, *each)))
            .collect();
        // One alone is joined to nothing.
        if sections.iter().map(|(_, each)| *each).sum::<u64>() > 1 {
            lines.entry(border).or_default().push(joined(design, (border, level), &sections)?);
        }
    }
    Ok(lines)
}

fn joined(
    design: &Design,
    (border, level): (u16, bool),
    sections: &[(&PlannedPiece, u64)],
) -> Result<String, PublishError> {
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
    let (width, height) = design.source_block(Source::Border { border, level })?.base().extent();
    let side = if level { "top and bottom are each" } else { "the sides are each" };
    let spare = spare_words(&(&has - &width.max(height)), units);
    Ok(format!("Border {}: {side} joined from {each}; {spare}.", u32::from(border) + 1))
}

/// How much longer a joined piece is, down to what a ruler shows: less than its mark is nothing.
fn spare_words(reserve: &Exact, units: Units) -> String {
    let mark = match units {
        Units::Inches => Exact::ratio(1, 16),
        Units::Centimetres => Exact::ratio(5, 127),
    };
    if mark.is_some_and(|mark| *reserve >= mark) {
        format!("the joined piece is {} longer than it is planned", at_most(reserve, units))
    } else {
        "cut as planned, the joined piece has nothing to spare".to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_no_ruler_shows_is_no_reserve() {
        let nothing = "cut as planned, the joined piece has nothing to spare";
        for (reserve, units) in [
            (Exact::ZERO, Units::Inches),
            (Exact::ratio(1, 40).unwrap(), Units::Inches),
            (Exact::ratio(1, 1000).unwrap(), Units::Centimetres),
        ] {
            assert_eq!(spare_words(&reserve, units), nothing, "{reserve:?}");
        }
        let two = spare_words(&Exact::int(2), Units::Inches);
        assert_eq!(two, "the joined piece is 2″ longer than it is planned");
    }
}

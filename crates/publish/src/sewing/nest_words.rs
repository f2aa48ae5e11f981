//! Where the seams of a quilt top nest and where they do not, and which blocks are pressed the other way round for it.
//!
//! Rows and blocks are counted as they are sewn and as the picture of the rows numbers them: rows from the first that is
//! sewn, blocks from the beginning of their row.

use std::collections::{BTreeMap, BTreeSet};

use layout::{Design, PlaceId, Setting};
use piecing::pressing::top::{TopMeeting, TopSeam};
use piecing::quilt_plan::Reversed;
use piecing::{BlockPlan, QuiltPlan};

use crate::lengths::counted;
use crate::names::listed;

/// Whether seams nest where blocks meet, and what to do where they do not.
#[must_use]
pub fn nest_words(design: &Design, plan: &QuiltPlan) -> Vec<String> {
    // Where three hexagons meet no two seams run on in a line: there is nothing to nest but the seams of blocks. Between star
    // rows seams of setting triangles meet too, which nobody has counted. Nesting of samplers is not planned, and one block
    // alone meets no other.
    let is_of_hexagons = matches!(design.setting(), Setting::HexagonRows { .. } | Setting::StarRows { .. });
    let may_nest = !is_of_hexagons || plan.unnested.found > 0;
    let meets = design.places().nth(1).is_some();
    if may_nest && meets && design.sampler_plan().is_none() { nested(design, plan) } else { Vec::new() }
}

/// What is told before a block is sewn of which some copies are pressed the other way round; none where all are pressed
/// alike.
pub(super) fn reversed_words(design: &Design, plan: &BlockPlan) -> Option<String> {
    let copies: usize = plan.colourings.iter().map(|colouring| colouring.places.len()).sum();
    let which = match plan.reversed.len() {
        0 => return None,
        all if all == copies => format!("all {copies} of these blocks"),
        some => format!("{some} of these {copies} blocks"),
    };
    Some(format!(
        "Pressing: press {which} the other way round, every seam to the other side than its arrow shows, so that more seams \
         nest in the quilt top: {}. Every step says how many; keep the two groups apart and label them.",
        places_words(design, &plan.reversed)
    ))
}

/// Whether seams nest all over the top.
fn nested(design: &Design, plan: &QuiltPlan) -> Vec<String> {
    let points = |n: usize| counted(n as u64, "meeting of seams", "meetings of seams");
    if plan.unnested.found == 0 {
        // Sashes part all blocks: none meets another.
        if design.sashing().is_some() {
            return Vec::new();
        }
        return vec!["Pressed as the arrows show, seams nest wherever blocks meet.".to_owned()];
    }
    let alike = match &plan.reversed {
        Some(reversed) => {
            return with_reversed(design, reversed, &points(plan.unnested.found));
        }
        None if plan.unnested.is_least() => {
            "fewer are not possible with all copies of a block pressed alike (proved)".to_owned()
        }
        None => format!("at least {} are left with all copies of a block pressed alike", plan.unnested.at_least),
    };
    let mut lines = vec![format!("{} between blocks cannot nest: {alike}. {OPEN_OR_PIN}", points(plan.unnested.found))];
    lines.extend(lost_words(design, &plan.lost));
    lines
}

/// What is done where seams do not nest.
const OPEN_OR_PIN: &str = "Press one of the two open there, or pin.";

/// The same with blocks that are pressed the other way round.
fn with_reversed(design: &Design, reversed: &Reversed, alike: &str) -> Vec<String> {
    let blocks = counted(reversed.places.len() as u64, "block is", "blocks are");
    let mut lines = vec![format!(
        "{blocks} pressed the other way round throughout: {}. With all copies of a block pressed alike, {alike} between \
         blocks could not nest.",
        places_words(design, &reversed.places)
    )];
    lines.push(match reversed.count.found {
        0 => "Pressed so, seams nest wherever blocks meet.".to_owned(),
        found => {
            let told = counted(found as u64, "meeting of seams still cannot", "meetings of seams still cannot");
            format!("{told} nest. {OPEN_OR_PIN}")
        }
    });
    lines.extend(lost_words(design, &reversed.lost));
    lines
}

/// The row in which every block is sewn, and its number in the row, both from 1.
fn standing(design: &Design) -> BTreeMap<PlaceId, (u16, u16)> {
    let mut rows: BTreeMap<u16, BTreeMap<u16, PlaceId>> = BTreeMap::new();
    for (place, _) in design.places() {
        if let PlaceId::Cell { row, column } = place {
            let (row, column) = design.setting().sewn_at(row, column);
            rows.entry(row).or_default().insert(column, place);
        }
    }
    let numbered = rows
        .into_iter()
        .flat_map(|(row, places)| places.into_values().zip(1..).map(move |(place, number)| (place, (row + 1, number))));
    numbered.collect()
}

/// Where on a seam of the top others meet: the rows, and the blocks whose seams end there.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Spot {
    /// The row, and the one below it if the seam lies between the two.
    rows: (u16, Option<u16>),
    /// Numbers of the blocks; two at a corner.
    blocks: BTreeSet<u16>,
}

/// Where seams do not nest: all places, those alike together.
fn lost_words(design: &Design, lost: &[TopMeeting]) -> Option<String> {
    let standing = standing(design);
    let mut spots: BTreeMap<Spot, usize> = BTreeMap::new();
    let mut elsewhere: BTreeSet<String> = BTreeSet::new();
    for meeting in lost {
        let stands: Option<Vec<(u16, u16)>> = meeting.places.iter().map(|place| standing.get(place).copied()).collect();
        match stands.filter(|stands| !stands.is_empty()) {
            Some(stands) => *spots.entry(spot(meeting.seam, &stands)).or_default() += 1,
            // Half units at the ends of rows have no number.
            None => {
                elsewhere.insert(meeting.places.iter().map(PlaceId::to_string).collect::<Vec<_>>().join(" and "));
            }
        }
    }
    let mut told = grouped(&spots);
    told.extend(elsewhere);
    (!told.is_empty()).then(|| format!("They are {}.", told.join("; ")))
}

fn spot(seam: TopSeam, stands: &[(u16, u16)]) -> Spot {
    let rows: BTreeSet<u16> = stands.iter().map(|stand| stand.0).collect();
    let (first, last) = (rows.first().copied().unwrap_or_default(), rows.last().copied().unwrap_or_default());
    let between = matches!(seam, TopSeam::BelowRow(_)) && first != last;
    Spot { rows: (first, between.then_some(last)), blocks: stands.iter().map(|stand| stand.1).collect() }
}

/// The blocks of spots, by whether they lie at a corner and how many meetings each has.
type Kinds<'a> = BTreeMap<(bool, usize), Vec<&'a BTreeSet<u16>>>;

/// "between rows 1 and 2, 3 and 4 at blocks 1 to 8": spots in words, rows with the same spots together.
fn grouped(spots: &BTreeMap<Spot, usize>) -> Vec<String> {
    let mut of_rows: BTreeMap<(u16, Option<u16>), Kinds<'_>> = BTreeMap::new();
    for (spot, times) in spots {
        let kinds = of_rows.entry(spot.rows).or_default();
        kinds.entry((spot.blocks.len() > 1, *times)).or_default().push(&spot.blocks);
    }
    let mut alike: Vec<(String, bool, Vec<String>)> = Vec::new();
    for ((row, below), kinds) in of_rows {
        let told: Vec<String> = kinds.into_iter().map(|((corner, times), blocks)| at(corner, times, &blocks)).collect();
        let told = listed(&told);
        let rows = below.map_or_else(|| row.to_string(), |below| format!("{row} and {below}"));
        match alike.iter_mut().find(|(known, between, _)| *known == told && *between == below.is_some()) {
            Some((_, _, known)) => known.push(rows),
            None => alike.push((told, below.is_some(), vec![rows])),
        }
    }
    let words = |(told, between, rows): (String, bool, Vec<String>)| match (between, rows.len()) {
        (true, _) => format!("between rows {} {told}", rows.join(", ")),
        (false, 1) => format!("in row {} {told}", rows[0]),
        (false, _) => format!("in rows {} {told}", listed(&rows)),
    };
    alike.into_iter().map(words).collect()
}

/// "at blocks 1 to 8", "twice at block 4", "at the corners of blocks 1 and 2".
fn at(is_corner: bool, times: usize, blocks: &[&BTreeSet<u16>]) -> String {
    let often = match times {
        1 => String::new(),
        2 => "twice ".to_owned(),
        times => format!("{times} times "),
    };
    if is_corner {
        let name = if blocks.len() == 1 { "corner" } else { "corners" };
        let pair = |blocks: &&BTreeSet<u16>| {
            let numbers: Vec<String> = blocks.iter().map(u16::to_string).collect();
            listed(&numbers)
        };
        return format!("{often}at the {name} of blocks {}", blocks.iter().map(pair).collect::<Vec<_>>().join(", "));
    }
    let numbers: BTreeSet<u16> = blocks.iter().flat_map(|blocks| blocks.iter().copied()).collect();
    let name = if numbers.len() == 1 { "block" } else { "blocks" };
    format!("{often}at {name} {}", ranges(&numbers))
}

/// "1 to 4, 6 and 8".
fn ranges(numbers: &BTreeSet<u16>) -> String {
    let numbers: Vec<u16> = numbers.iter().copied().collect();
    let runs = numbers.chunk_by(|a, b| a + 1 == *b);
    let told: Vec<String> = runs
        .flat_map(|run| match run {
            [first, .., last] if run.len() > 2 => vec![format!("{first} to {last}")],
            run => run.iter().map(u16::to_string).collect(),
        })
        .collect();
    listed(&told)
}

/// "all of rows 2 and 4; row 1: blocks 2 and 4": places by row.
fn places_words(design: &Design, places: &BTreeSet<PlaceId>) -> String {
    let standing = standing(design);
    let mut rows: BTreeMap<u16, BTreeSet<u16>> = BTreeMap::new();
    for (row, number) in places.iter().filter_map(|place| standing.get(place)) {
        rows.entry(*row).or_default().insert(*number);
    }
    let in_row = |wanted: u16| standing.values().filter(|(row, _)| *row == wanted).count();
    let (whole, part): (Vec<_>, Vec<_>) = rows.into_iter().partition(|(row, blocks)| blocks.len() == in_row(*row));
    let whole: BTreeSet<u16> = whole.into_iter().map(|(row, _)| row).collect();
    let mut told: Vec<String> = match whole.len() {
        0 => Vec::new(),
        1 => vec![format!("all of row {}", ranges(&whole))],
        _ => vec![format!("all of rows {}", ranges(&whole))],
    };
    told.extend(part.into_iter().map(|(row, blocks)| {
        let name = if blocks.len() == 1 { "block" } else { "blocks" };
        format!("row {row}: {name} {}", ranges(&blocks))
    }));
    told.join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Three rows of the same spots are told once; what is twice at a block and what lies at a corner are told apart.
    #[test]
    fn spots_alike_are_told_together() {
        let spot = |rows, blocks: &[u16]| Spot { rows, blocks: blocks.iter().copied().collect() };
        let mut spots = BTreeMap::new();
        for row in [1, 3, 5] {
            for block in [1, 2, 3, 5] {
                spots.insert(spot((row, Some(row + 1)), &[block]), 1);
            }
        }
        spots.insert(spot((2, Some(3)), &[4]), 2);
        spots.insert(spot((2, Some(3)), &[4, 5]), 1);
        spots.insert(spot((6, None), &[1, 2]), 1);
        assert_eq!(
            grouped(&spots),
            [
                "between rows 1 and 2, 3 and 4, 5 and 6 at blocks 1 to 3 and 5",
                "between rows 2 and 3 twice at block 4 and at the corner of blocks 4 and 5",
                "in row 6 at the corner of blocks 1 and 2",
            ]
        );
    }
}

//! Sashing: strips and cornerstones of the right number and size, in straight settings and on point, tiled exactly.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::collections::BTreeMap;

use common::{
    FOURTH, LIGHT, THIRD, block_of, check_top, edited, half_block, inches, jumbled, on_point, sashing, side_of,
    starter, straight, triangles,
};
use geometry::{Exact, Length, PatchKey, Recipe};
use layout::{BlockId, Design, Edit, PlaceId, Sashing, Setting, Source, Tally, apply};
use proptest::prelude::*;

fn sashed(recipe: Recipe, setting: Setting, sashing: Sashing) -> Design {
    let design = starter(&[recipe], setting, &[]).design().unwrap();
    edited(&design, &[Edit::SetSashing(Some(sashing))])
}

/// How many sashes in rows and between them, long sashes and cornerstones there are.
fn pieces(design: &Design) -> [usize; 4] {
    let mut counts = [0; 4];
    for place in design.all_places() {
        match place {
            PlaceId::Sash { level: false, .. } => counts[0] += 1,
            PlaceId::Sash { level: true, .. } => counts[1] += 1,
            PlaceId::LongSash { .. } => counts[2] += 1,
            PlaceId::Cornerstone { .. } => counts[3] += 1,
            _ => {}
        }
    }
    counts
}

/// 3 rows of 4 blocks, counted by hand: 3·3 sashes in rows and 2·4 between them within the blocks, 3·5 and 4·4 with
/// outer ones; cornerstones 2·3 or 4·5. On point 2 rows of 3 with 2 between: 8 blocks with 32 sides, of which 8 pairs
/// meet, so 8 sashes within and 24 with outer ones, half of each in either direction.
#[test]
fn sashes_and_cornerstones_by_hand() {
    let rows = [
        (straight(3, 4), true, false, [9, 8, 0, 6]),
        (straight(3, 4), true, true, [15, 16, 0, 20]),
        (straight(3, 4), false, false, [9, 0, 2, 0]),
        (straight(3, 4), false, true, [15, 0, 4, 0]),
        (straight(1, 1), true, false, [0, 0, 0, 0]),
        (straight(1, 1), true, true, [2, 2, 0, 4]),
        (on_point(2, 3), true, false, [4, 4, 0, 1]),
        (on_point(2, 3), true, true, [12, 12, 0, 17]),
        (on_point(2, 3), false, true, [12, 0, 5, 0]),
        (on_point(2, 3), false, false, [4, 0, 3, 0]),
    ];
    for (setting, cornerstones, outer, expected) in rows {
        let design = sashed(half_block(6), setting, sashing(inches(1), cornerstones, outer));
        assert_eq!(pieces(&design), expected, "{setting:?}, cornerstones {cornerstones}, outer {outer}");
    }
}

/// n blocks and the sashes between them; outer sashing adds two more. On point the same, times √2: the diagonals of the
/// blocks and of the cornerstones between them lie in one line.
#[test]
fn finished_sizes_by_hand() {
    let root = |n: i64| Exact::sqrt2().scale_int(n);
    let rows = [
        (straight(3, 4), false, Exact::int(4 * 6 + 3), Exact::int(3 * 6 + 2)),
        (straight(3, 4), true, Exact::int(4 * 6 + 5), Exact::int(3 * 6 + 4)),
        (on_point(3, 4), false, root(4 * 6 + 3), root(3 * 6 + 2)),
        (on_point(3, 4), true, root(4 * 6 + 5), root(3 * 6 + 4)),
    ];
    for (setting, outer, width, height) in rows {
        for cornerstones in [false, true] {
            let design = sashed(half_block(6), setting, sashing(inches(1), cornerstones, outer));
            assert_eq!(design.finished_size(), (width.clone(), height.clone()), "{setting:?}, outer {outer}");
        }
    }
    let geese = sashed(Recipe::FlyingGoose(block_of(6)), straight(2, 2), sashing(inches(1), true, true));
    assert_eq!(geese.finished_size(), (Exact::int(15), Exact::int(9)));
    assert_eq!(geese.source_block(Source::Sash { level: true }).unwrap().base().extent().0, Exact::int(6));
    assert_eq!(geese.source_block(Source::Sash { level: false }).unwrap().base().extent().1, Exact::int(3));
}

#[test]
fn sashed_tops_are_tiled_in_every_small_size() {
    for rows in 1..=4 {
        for columns in 1..=4 {
            for (cornerstones, outer) in [(false, false), (false, true), (true, false), (true, true)] {
                for setting in [straight(rows, columns), on_point(rows, columns)] {
                    let design = starter(&[half_block(12)], setting, &[2]).design().unwrap();
                    let edit = Edit::SetSashing(Some(sashing(inches(2), cornerstones, outer)));
                    let told = format!("{setting:?}, cornerstones {cornerstones}, outer {outer}");
                    let only_tips = setting == on_point(rows, columns) && rows.min(columns) == 1 && rows != columns;
                    if only_tips && !outer {
                        let why = "the blocks of a single row on point touch only at their tips; sash them on the outside too";
                        assert_eq!(apply(&design, &edit).unwrap_err().to_string(), why, "{told}");
                        continue;
                    }
                    let design = edited(&design, &[edit]);
                    check_top(&jumbled(&design), &told);
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 192, failure_persistence: None, ..ProptestConfig::default() })]

    /// Any widths, counts and floats, in straight settings and on point.
    #[test]
    fn every_sashed_top_is_tiled(
        side in 3_i64..24, width in (1_i64..200, 1_i64..30), rows in 2_u16..6, columns in 2_u16..6,
        cornerstones in any::<bool>(), outer in any::<bool>(), pointed in any::<bool>(), part in 0_i64..70,
    ) {
        let recipe = Recipe::TiltedStar(block_of(side));
        let setting = if pointed { on_point(rows, columns) } else { straight(rows, columns) };
        let width = Length::inch_fraction(width.0, width.1).unwrap();
        let design = sashed(recipe, setting, sashing(width, cornerstones, outer));
        let float = Length::new(Exact::ratio(side * part, 100).unwrap()).ok().filter(|_| pointed);
        let design = jumbled(&edited(&design, &[Edit::SetFloat(float)]));
        check_top(&design, "random sashing");
        // What stands in one corner of the numbering stands in the other.
        let places: BTreeMap<PlaceId, Source> =
            design.all_places().map(|place| (place, design.source(place).unwrap())).collect();
        prop_assert_eq!(places.len(), design.top().unwrap().placed.len());
    }
}

#[test]
fn sashes_show_their_fabrics_and_can_be_painted() {
    let design = sashed(half_block(6), straight(2, 2), sashing(inches(1), true, true));
    let sash = PlaceId::Sash { row: 0, column: 1, level: false };
    let stone = PlaceId::Cornerstone { row: 1, column: 1 };
    let fabric_at = |design: &Design, place| {
        let source = design.source(place).unwrap();
        design.paint(place, source, &design.source_block(source).unwrap(), 0).unwrap()
    };
    assert_eq!((fabric_at(&design, sash), fabric_at(&design, stone)), (THIRD, FOURTH));
    let painted = edited(&design, &[Edit::PaintPatch { place: stone, patch: PatchKey(0), fabric: LIGHT }]);
    assert_eq!((fabric_at(&painted, sash), fabric_at(&painted, stone)), (THIRD, LIGHT));
    // Without cornerstones there is no such place any more.
    let (_, delta) = apply(&painted, &Edit::SetSashing(Some(sashing(inches(1), false, true)))).unwrap();
    assert_eq!(delta.lost, ["cornerstone above row 2, left of column 2: paint of patch 0"]);
    let swapped = edited(&design, &[Edit::SwapFabrics(THIRD, FOURTH)]);
    assert_eq!((fabric_at(&swapped, sash), fabric_at(&swapped, stone)), (FOURTH, THIRD));
    assert!(apply(&design, &Edit::RemoveFabric(FOURTH)).is_err());
}

#[test]
fn rows_of_triangles_have_no_sashing() {
    let design = starter(&[Recipe::SixtyUnit(side_of(6))], triangles(2, 3), &[]).design().unwrap();
    let told = apply(&design, &Edit::SetSashing(Some(sashing(inches(1), true, true)))).unwrap_err().to_string();
    assert_eq!(
        told,
        "rows of triangles, hexagons and stars have no sashing; set squares or rectangles, or take the sashing away"
    );
    let sashed = sashed(half_block(6), straight(2, 2), sashing(inches(1), true, false));
    let pointed = edited(&sashed, &[Edit::SetSetting { setting: on_point(2, 2), fill: BlockId(1) }]);
    assert!(pointed.sashing().is_some(), "sashing stays where it can");
}

/// Painting one sash of a large quilt looks at one patch, and turning a block at none.
#[test]
fn an_edit_in_one_place_looks_at_that_place() {
    for side in [3, 12, 40] {
        for setting in [straight(side, side), on_point(side, side)] {
            let design = sashed(half_block(6), setting, sashing(inches(1), true, true));
            let tally = Tally::count(&design).unwrap();
            let sash = PlaceId::Sash { row: side - 1, column: side - 1, level: true };
            let cell = PlaceId::Cell { row: 1, column: 1 };
            let edits = [
                (Edit::PaintPatch { place: sash, patch: PatchKey(0), fabric: LIGHT }, 1),
                // It has no paint of its own.
                (Edit::ClearPaint(sash), 0),
                // Turned, it has as many patches of every kind as before.
                (Edit::Turn { place: cell, turn: 2 }, 0),
            ];
            for (edit, patches) in edits {
                let (next, delta) = apply(&design, &edit).unwrap();
                let mut tally = tally.clone();
                let (_, work) = tally.follow(&design, &next, &delta.touched).unwrap();
                assert_eq!(work.patches_scanned, patches, "{setting:?}: {edit:?}");
            }
        }
    }
}

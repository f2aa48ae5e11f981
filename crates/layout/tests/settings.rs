//! Settings and borders: every top is proved, sizes and areas are exact, what does not fit is refused.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::collections::BTreeSet;

use common::{
    DARK, LIGHT, block_of, cell, check_top, half_block, inches, jumbled, own_recipe, quilts, side_of, starter,
    straight, triangles,
};
use geometry::{Exact, Length, Measure, PatchKey, Point, Recipe, ShapeClass, Size, Value};
use layout::{BlockId, Border, Design, DesignParts, Edit, PlaceId, Side, Source, apply};

#[test]
fn straight_settings_prove() {
    let recipes = [half_block(12), own_recipe(), Recipe::FlyingGoose(block_of(6)), Recipe::TiltedStar(block_of(7))];
    for recipe in &recipes {
        for (rows, columns) in [(1, 1), (1, 6), (6, 1), (2, 3), (3, 2), (5, 4)] {
            let design = starter(std::slice::from_ref(recipe), straight(rows, columns), &[1, 3]).design().unwrap();
            check_top(&jumbled(&design), &format!("{recipe:?} {rows} × {columns}"));
        }
    }
}

#[test]
fn rows_of_triangles_prove_and_their_ends_come_in_two_hands() {
    for rows in 1..=6 {
        for columns in 1..=6 {
            let recipe = if (rows + columns) % 3 == 0 {
                Recipe::SixtyTriangle(side_of(6))
            } else {
                Recipe::SixtyUnit(side_of(6))
            };
            let design = starter(&[recipe], triangles(rows, columns), &[2]).design().unwrap();
            let design = jumbled(&design);
            check_top(&design, &format!("{rows} rows of {columns}"));
            check_hands(&design, rows, columns);
        }
    }
}

/// A row of an odd number of triangles has an end of each hand; one of an even number has two of one hand, and
/// the next row two of the other.
fn check_hands(design: &Design, rows: u16, columns: u16) {
    let top = design.top().unwrap();
    let ends: Vec<ShapeClass> = top
        .placed
        .iter()
        .filter(|placed| placed.source == Source::RowEnd)
        .map(|placed| ShapeClass::of(&placed.motion.polygon(placed.block.base()), None, &[]))
        .collect();
    assert_eq!(ends.len(), 2 * usize::from(rows));
    let hands: BTreeSet<&ShapeClass> = ends.iter().collect();
    let expected = if rows == 1 && columns.is_multiple_of(2) { 1 } else { 2 };
    assert_eq!(hands.len(), expected, "{rows} rows of {columns}");
    assert!(!ends[0].is_mirror_symmetric());
    if expected == 2 {
        assert!(hands.contains(&ends[0].mirrored()), "{rows} rows of {columns}");
    }
}

/// Side 6: width (columns + 1)·3, height rows·3√3. With (h/2)·b by hand: 2 rows of 5 make 18 × 6√3.
#[test]
fn sizes_by_hand() {
    let root = |n: i64| Exact::sqrt3().scale_int(n);
    let rows = [
        (starter(&[half_block(12)], straight(4, 4), &[2, 6]), Exact::int(64), Exact::int(64)),
        (starter(&[half_block(12)], straight(5, 4), &[]), Exact::int(48), Exact::int(60)),
        (starter(&[Recipe::FlyingGoose(block_of(6))], straight(4, 3), &[1]), Exact::int(20), Exact::int(14)),
        (starter(&[Recipe::SixtyUnit(side_of(6))], triangles(2, 5), &[]), Exact::int(18), root(6)),
        (starter(&[Recipe::SixtyUnit(side_of(6))], triangles(3, 4), &[2]), Exact::int(19), &root(9) + &Exact::int(4)),
    ];
    for (starter, width, height) in rows {
        assert_eq!(starter.design().unwrap().finished_size(), (width, height));
    }
}

/// Butted corners: the sides as high as what they enclose, top and bottom as wide as all.
#[test]
fn border_pieces_by_hand() {
    let design = starter(&[half_block(12)], straight(4, 3), &[2, 6]).design().unwrap();
    let piece = |border, level| {
        let block = design.source_block(Source::Border { border, level }).unwrap();
        let (w, h) = block.base().extent();
        [w.to_f64(), h.to_f64()]
    };
    assert_eq!([piece(0, false), piece(0, true)], [[2.0, 48.0], [40.0, 2.0]]);
    assert_eq!([piece(1, false), piece(1, true)], [[6.0, 52.0], [52.0, 6.0]]);
}

#[test]
fn six_diamonds_meet_in_complete_stars() {
    let (rows, columns) = (4, 7);
    let mut design = starter(&[Recipe::SixtyUnit(side_of(6))], triangles(rows, columns), &[]).design().unwrap();
    // The rows of triangles meet there: three stand on the line and three hang from it.
    let star = Point::new(Exact::int(9), Exact::sqrt3().scale_int(6));
    for place in design.places().map(|(id, _)| id).collect::<Vec<_>>() {
        for turn in 0..3 {
            let turned = apply(&design, &Edit::Turn { place, turn }).unwrap().0;
            if turned.motion(place).unwrap().point(&Point::origin()) == star {
                design = turned;
                break;
            }
        }
    }
    let top = design.top().unwrap();
    let meeting = |role: &str| {
        let patches = top.placed.iter().flat_map(|placed| placed.block.patches().iter().map(move |p| (placed, p)));
        patches
            .filter(|(placed, p)| p.role.name() == role && placed.motion.polygon(&p.outline).corners().contains(&star))
            .count()
    };
    assert_eq!((meeting("diamond"), meeting("side triangle")), (6, 0));
    check_top(&design, "a star of 60° units");
}

fn refused(design: &Design, edit: &Edit) -> String {
    apply(design, edit).unwrap_err().to_string()
}

#[test]
#[expect(clippy::too_many_lines, reason = "a table of refusals")]
fn what_does_not_fit_is_refused() {
    let design = starter(&[half_block(12), half_block(9)], straight(2, 2), &[]).design().unwrap();
    let flying = starter(&[Recipe::FlyingGoose(block_of(6))], straight(2, 2), &[]).design().unwrap();
    let units = starter(&[Recipe::SixtyUnit(side_of(6)), half_block(6)], triangles(2, 3), &[]).design().unwrap();
    let rows = [
        (
            &design,
            Edit::SetBlock { place: cell(1, 0), block: BlockId(2) },
            "block \"Block 2\" does not fit the setting at row 2, column 1: it is 9.0000 × 9.0000 in, its place is 12.0000 × 12.0000 in",
        ),
        (
            &design,
            Edit::Turn { place: cell(0, 0), turn: 4 },
            "block \"Block 1\" fits its place only in 4 turns, counted from 0; 4 is not one of them",
        ),
        (
            &design,
            Edit::SetSetting { setting: triangles(2, 2), fill: BlockId(1) },
            "block \"Block 1\" does not fit the setting at row 1, column 1: rows of triangles need 60° triangles that stand on a side",
        ),
        (
            &units,
            Edit::SetSetting { setting: straight(2, 2), fill: BlockId(1) },
            "block \"Block 1\" does not fit the setting at row 1, column 1: a straight setting needs square or rectangular blocks",
        ),
        (
            &units,
            Edit::Turn { place: cell(0, 0), turn: 3 },
            "block \"Block 1\" fits its place only in 3 turns, counted from 0; 3 is not one of them",
        ),
        (
            &design,
            Edit::SetSetting { setting: straight(0, 2), fill: BlockId(1) },
            "a quilt needs at least one row and column",
        ),
        (
            &design,
            Edit::SetSetting { setting: straight(401, 1), fill: BlockId(1) },
            "a quilt may have at most 400 rows or columns, not 401",
        ),
        (
            &design,
            Edit::SetSetting { setting: straight(400, 400), fill: BlockId(1) },
            "a quilt may have at most 40000 blocks, not 160000",
        ),
        (
            &design,
            Edit::SetHalf { place: cell(0, 0), half: 0, value: Value::Medium },
            "a half is dark or light, not medium",
        ),
        (
            &design,
            Edit::SetHalf { place: cell(0, 0), half: 2, value: Value::Dark },
            "Block 1 has 2 halves; there is no half 2",
        ),
    ];
    for (design, edit, told) in rows {
        assert_eq!(refused(design, &edit), told);
    }
    let told = refused(&flying, &Edit::Turn { place: cell(0, 0), turn: 1 });
    assert!(told.contains("1 is not one of them"), "{told}");
    assert!(apply(&flying, &Edit::Turn { place: cell(0, 0), turn: 2 }).is_ok());
}

#[test]
fn an_empty_cell_is_told_as_such() {
    let design = quilts().swap_remove(0);
    let mut parts: DesignParts = design.parts();
    parts.places.remove(&cell(2, 1));
    let told = Design::assemble(parts).unwrap_err().to_string();
    assert_eq!(told, "no block stands in row 3, column 2; every cell of the setting needs one");
}

#[test]
fn a_smaller_setting_and_fewer_borders_drop_their_paint() {
    let mut design = starter(&[half_block(12)], straight(3, 3), &[2, 6]).design().unwrap();
    let patch = geometry::PatchKey(0);
    for place in [cell(2, 2), cell(0, 0), PlaceId::Border { border: 1, side: Side::Top }] {
        design = apply(&design, &Edit::PaintPatch { place, patch, fabric: LIGHT }).unwrap().0;
    }
    design = apply(&design, &Edit::SetSetting { setting: straight(2, 2), fill: BlockId(1) }).unwrap().0;
    design = apply(&design, &Edit::SetBorders(vec![Border::plain(inches(3), DARK)])).unwrap().0;
    assert_eq!(design.place_patches().map(|(place, _, _)| place).collect::<Vec<_>>(), [cell(0, 0)]);
    check_top(&design, "after both");
}

/// A quilt drafted in millimetres and one sized by its diamonds have exact sizes as well.
#[test]
fn other_measures_prove_too() {
    let metric = Size { by: Measure::Block, length: Length::millimetres(305).unwrap() };
    let diamond = Size { by: Measure::Diamond, length: Length::inch_fraction(7, 2).unwrap() };
    for size in [metric, diamond] {
        let design = starter(&[Recipe::TiltedStar(size)], straight(3, 2), &[2]).design().unwrap();
        check_top(&jumbled(&design), "other measures");
    }
}

/// Paint of places that a smaller setting or fewer borders no longer have is reported, not lost in silence.
#[test]
fn shrinking_reports_the_paint_it_drops() {
    let mut design = starter(&[half_block(6)], straight(2, 2), &[1, 3]).design().unwrap();
    let corner = PlaceId::Cell { row: 1, column: 1 };
    let border = PlaceId::Border { border: 1, side: Side::Top };
    for place in [corner, border] {
        design = apply(&design, &Edit::PaintPatch { place, patch: PatchKey(0), fabric: LIGHT }).unwrap().0;
    }
    let fewer = design.borders()[..1].to_vec();
    let (design, delta) = apply(&design, &Edit::SetBorders(fewer)).unwrap();
    assert_eq!(delta.lost, ["top side of border 2: paint of patch 0"]);
    let (_, delta) = apply(&design, &Edit::SetSetting { setting: straight(1, 1), fill: BlockId(1) }).unwrap();
    assert_eq!(delta.lost, ["row 2, column 2: paint of patch 0"]);
}

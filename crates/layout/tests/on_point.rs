//! Blocks on point: setting triangles of the right size and grain, floats, and a top that is tiled exactly.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::collections::BTreeMap;

use common::{FOURTH, THIRD, block_of, check_top, edited, half_block, inches, jumbled, on_point, own_recipe, starter};
use geometry::{Exact, Length, Measure, Point, Recipe, Size};
use layout::{BlockId, Corner, Design, Edit, PlaceId, Side, Source, apply};
use proptest::prelude::*;

fn pointed(recipe: &Recipe, rows: u16, columns: u16, float: Option<Length>) -> Design {
    let design = starter(std::slice::from_ref(recipe), on_point(rows, columns), &[]).design().unwrap();
    edited(&design, &[Edit::SetFloat(float)])
}

/// How many times each source stands.
fn counts(design: &Design) -> BTreeMap<Source, usize> {
    let mut counts = BTreeMap::new();
    for placed in design.top().unwrap().placed {
        *counts.entry(placed.source).or_insert(0) += 1;
    }
    counts
}

#[test]
fn on_point_proves_in_every_small_size() {
    for rows in 1..=5 {
        for columns in 1..=5 {
            for float in [None, Some(inches(2))] {
                let told = format!("{rows} × {columns}, float {float:?}");
                let design = pointed(&half_block(12), rows, columns, float);
                check_top(&jumbled(&design), &told);
                let cells = usize::from(rows * columns + (rows - 1) * (columns - 1));
                assert_eq!(design.places().count(), cells, "{told}");
                let found = counts(&design);
                let of = |wanted: fn(&Source) -> bool| -> usize {
                    found.iter().filter(|(source, _)| wanted(source)).map(|(_, n)| n).sum()
                };
                let sides = of(|source| matches!(source, Source::SideTriangle { .. }));
                assert_eq!(sides, usize::from(2 * (rows - 1) + 2 * (columns - 1)), "{told}");
                assert_eq!(of(|source| matches!(source, Source::CornerTriangle { .. })), 4, "{told}");
            }
        }
    }
}

/// The trade's arithmetic: blocks on point are finished side × √2 wide; with seams of ¼ in the square of a side triangle
/// is that + 1¼ in and the square of a corner triangle the side ÷ √2 + ⅞ in. Moonlight Quilters guild: blocks of 6 in
/// take squares of 9¾ and 5⅛ in, of 12 in corners of 9⅜ in. The exact sums are 1.207107 and 0.853553 in. The long side
/// of one and the legs of the other are the finished parts of them.
#[test]
fn sizes_of_setting_triangles_by_the_trade() {
    for (side, side_square, corner_square) in [(6, 9.75, 5.125), (12, 18.25, 9.375)] {
        let design = pointed(&half_block(side), 3, 4, None);
        let [width, height] = [4, 3].map(|n| Exact::sqrt2().scale_int(n * side));
        assert_eq!(design.finished_size(), (width, height));
        let extent = |source| {
            let (w, h) = design.source_block(source).unwrap().base().extent();
            if w > h { w } else { h }
        };
        let long = extent(Source::SideTriangle { by_corner: false });
        assert_eq!(long, Exact::sqrt2().scale_int(side));
        let leg = extent(Source::CornerTriangle { row_end: false });
        assert_eq!(leg, Exact::sqrt2().half().scale_int(side));
        // The least eighth that holds the exact sum is what the guild prints, except where it rounds up to a quarter.
        let eighths = |inches: f64| (inches * 8.0).ceil() / 8.0;
        assert!((0.0..=0.125).contains(&(side_square - eighths(long.to_f64() + 1.207_107))));
        assert!((eighths(leg.to_f64() + 0.853_553) - corner_square).abs() < 1e-9);
    }
}

/// Whatever stands at the edge of the quilt has its straight grain along that edge.
#[test]
fn setting_triangles_keep_the_straight_grain_on_the_outside() {
    for float in [None, Some(inches(1))] {
        let design = pointed(&half_block(6), 3, 4, float);
        let top = design.top().unwrap();
        let on_edge = |p: &Point| p.x.is_zero() || p.y.is_zero() || p.x == top.width || p.y == top.height;
        let mut edges = 0;
        for placed in top.placed.iter().filter(|placed| !matches!(placed.source, Source::Block(_))) {
            let patch = &placed.block.patches()[0];
            let grain = placed.motion.vector(patch.grain.as_ref().unwrap());
            let outline = placed.motion.polygon(&patch.outline);
            for (a, b) in outline.edges().filter(|(a, b)| on_edge(a) && on_edge(b) && on_edge(&a.midpoint(b))) {
                let edge = &b.to_vector() + &-&a.to_vector();
                let along = edge.cross(&grain).is_zero() || edge.dot(&grain).is_zero();
                assert!(along, "{} has its edge on the bias", placed.place);
                edges += 1;
            }
        }
        assert_eq!(edges, 2 * 2 + 2 * 3 + 4 * 2, "every piece of the edge was looked at");
    }
}

/// Level row by level row; on the left the block of row 1 stands lower and further in by half a diagonal.
#[test]
fn cells_are_counted_as_they_are_seen() {
    let design = pointed(&half_block(6), 2, 3, None);
    let cells: Vec<(u16, u16)> = design
        .places()
        .map(|(place, _)| match place {
            PlaceId::Cell { row, column } => (row, column),
            other => panic!("{other}"),
        })
        .collect();
    assert_eq!(cells, [(0, 0), (0, 1), (0, 2), (1, 0), (1, 1), (2, 0), (2, 1), (2, 2)]);
    let half = Exact::sqrt2().scale_int(3);
    let centre = Point::new(Exact::int(3), Exact::int(3));
    for (row, column) in cells {
        let at = design.motion(PlaceId::Cell { row, column }).unwrap().point(&centre);
        let x = half.scale_int(i64::from(2 * column + 1 + row % 2));
        let y = half.scale_int(4 - 1 - i64::from(row));
        assert_eq!(at, Point::new(x, y), "row {row}, column {column}");
    }
}

/// With a float of 2 in everything is 2 in further from the edge, and every tip is as far from it as any other.
#[test]
fn a_float_keeps_every_block_away_from_the_edge() {
    let exact = pointed(&half_block(6), 3, 2, None);
    let floating = pointed(&half_block(6), 3, 2, Some(inches(2)));
    let grown = |n: &Exact| n + &Exact::int(4);
    let (width, height) = exact.finished_size();
    assert_eq!(floating.finished_size(), (grown(&width), grown(&height)));
    let shift = Point::new(Exact::int(2), Exact::int(2)).to_vector();
    for (place, _) in exact.places() {
        let origin = |design: &Design| design.motion(place).unwrap().point(&Point::origin());
        assert_eq!(origin(&floating), &origin(&exact) + &shift, "{place}");
    }
    // All four corners are alike and larger by the float on both sides of their legs.
    for corner in Corner::ALL {
        let block = floating.source_block(floating.source(PlaceId::CornerTriangle(corner)).unwrap()).unwrap();
        assert_eq!(block.base().extent().0, &Exact::sqrt2().scale_int(3) + &Exact::int(4));
        assert_eq!(block.base().corners().len(), 3);
    }
}

#[test]
fn what_cannot_stand_on_point_is_told() {
    let design = pointed(&half_block(12), 2, 2, None);
    let straight = starter(&[half_block(12)], common::straight(2, 2), &[]).design().unwrap();
    let geese = starter(&[Recipe::FlyingGoose(block_of(12))], common::straight(2, 2), &[]).design().unwrap();
    let rows = [
        (
            &straight,
            Edit::SetFloat(Some(inches(1))),
            "only blocks on point can float; set the blocks on point, or take the float away",
        ),
        (
            &design,
            Edit::SetFloat(Some(inches(9))),
            "the float must be less than 8.485 in, half the long side of a side triangle",
        ),
        (
            &geese,
            Edit::SetSetting { setting: on_point(2, 2), fill: BlockId(1) },
            "block \"Block 1\" does not fit the setting at row 1, column 1: only square blocks can be set on point",
        ),
        (
            &design,
            Edit::SetSetting { setting: on_point(150, 150), fill: BlockId(1) },
            "a quilt may have at most 40000 blocks, not 44701",
        ),
        (
            &design,
            Edit::ClearPaint(PlaceId::SideTriangle { side: Side::Top, index: 1 }),
            "there is no place at side triangle 2 at the top in this setting",
        ),
        (
            &design,
            Edit::Turn { place: PlaceId::CornerTriangle(Corner::TopLeft), turn: 1 },
            "corner triangle at the top left holds no block; only blocks can be turned, mirrored or exchanged",
        ),
    ];
    for (design, edit, told) in rows {
        assert_eq!(apply(design, &edit).unwrap_err().to_string(), told);
    }
}

/// A float belongs to blocks on point; it goes when the setting does, and painted setting triangles are told. Blocks that
/// have a place in the new setting keep their paint.
#[test]
fn another_setting_takes_the_float_and_the_triangles_away() {
    let triangle = PlaceId::SideTriangle { side: Side::Left, index: 0 };
    let cell = PlaceId::Cell { row: 0, column: 0 };
    let paint = |place| Edit::PaintPatch { place, patch: geometry::PatchKey(0), fabric: FOURTH };
    let design = edited(&pointed(&half_block(6), 2, 2, Some(inches(1))), &[paint(triangle), paint(cell)]);
    let (next, delta) =
        apply(&design, &Edit::SetSetting { setting: common::straight(2, 2), fill: BlockId(1) }).unwrap();
    assert_eq!(next.float(), None);
    assert_eq!(delta.lost, ["side triangle 1 at the left: paint of patch 0"]);
    assert_eq!(next.place_patches().collect::<Vec<_>>(), [(cell, geometry::PatchKey(0), FOURTH)]);
    // The same triangle without a float is of another shape, but it is the same triangle.
    let (next, delta) = apply(&design, &Edit::SetFloat(None)).unwrap();
    assert!(delta.lost.is_empty());
    assert_eq!(next.place_patches().count(), 2);
}

fn lengths() -> impl Strategy<Value = Length> {
    (1_i64..400, 1_i64..20).prop_map(|(n, d)| Length::inch_fraction(n, d).unwrap())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 192, failure_persistence: None, ..ProptestConfig::default() })]

    /// Any size of block, any count, any float there may be.
    #[test]
    fn every_top_on_point_is_tiled(side in lengths(), rows in 1_u16..6, columns in 1_u16..6, part in 0_i64..70, by in any::<bool>()) {
        let measure = if by { Measure::Block } else { Measure::Diamond };
        let recipe = Recipe::TiltedStar(Size { by: measure, length: side });
        let cell = recipe.draft().unwrap().base().extent().0;
        // Less than 1/√2 of the block.
        let float = Length::new(&cell * &Exact::ratio(part, 100).unwrap()).ok();
        let design = jumbled(&pointed(&recipe, rows, columns, float.clone()));
        let told = format!("{recipe:?} {rows} × {columns}, {float:?}");
        check_top(&design, &told);
        let around = float.map_or(Exact::ZERO, |f| f.inches().scale_int(2));
        let wide = |n: u16| &(&cell * &Exact::sqrt2().scale_int(n.into())) + &around;
        prop_assert_eq!(design.finished_size(), (wide(columns), wide(rows)));
    }
}

#[test]
fn setting_triangles_show_their_fabrics() {
    let design = starter(&[own_recipe()], on_point(2, 3), &[]).design().unwrap();
    for placed in design.top().unwrap().placed {
        let fabric = design.paint(placed.place, placed.source, &placed.block, 0).unwrap();
        match placed.place {
            PlaceId::SideTriangle { .. } => assert_eq!(fabric, THIRD),
            PlaceId::CornerTriangle(_) => assert_eq!(fabric, FOURTH),
            _ => {}
        }
    }
}

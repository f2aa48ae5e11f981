//! Rows of hexagons and star rows: a rectangle tiled exactly, pieces in the right number and hand, grain on the outside.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::collections::BTreeMap;

use common::{
    FOURTH, THIRD, check_top, edited, file_text, half_block, hexagon_rows, inches, jumbled, sashing, side_of,
    star_rows, starter, straight,
};
use geometry::{Exact, Length, Measure, Motion, PatchKey, Point, Polygon, Recipe, Role, Size, Tone, Value};
use layout::{Border, BorderKind, Corner, Design, Edit, PlaceId, Setting, Side, Source, Tally, apply};
use proptest::prelude::*;

fn star(size: Size) -> Recipe {
    Recipe::HexagonStar { size, split: [true; 6] }
}

/// A star and a plain hexagon of edge 3 in.
fn hexagons(setting: Setting, borders: &[i64]) -> Design {
    starter(&[star(side_of(3)), Recipe::Hexagon(side_of(3))], setting, borders).design().unwrap()
}

/// How often each source stands, mirrored or not.
fn counts(design: &Design) -> BTreeMap<(Source, bool), u64> {
    let mut counts = BTreeMap::new();
    for (source, mirrored, _, n) in Tally::count(design).unwrap().usage() {
        if !matches!(source, Source::Block(_)) {
            *counts.entry((source, mirrored)).or_insert(0) += n;
        }
    }
    counts
}

const EDGE: Source = Source::SideTriangle { by_corner: false };
const CORNER: Source = Source::CornerTriangle { row_end: false };
const BETWEEN: Source = Source::SettingTriangle { at_end: false };
const END: Source = Source::SettingTriangle { at_end: true };

/// The counts that are not 0.
fn wanted<const N: usize>(list: [((Source, bool), u64); N]) -> BTreeMap<(Source, bool), u64> {
    list.into_iter().filter(|(_, n)| *n > 0).collect()
}

/// With r rows and c columns: r·c − ⌊r/2⌋ hexagons, 2·⌊r/2⌋ halves; at a side whose row is whole c − 1 edge triangles and
/// a corner triangle of each hand, at one whose row ends in halves c edge triangles. Areas in twelfths of a hexagon: whole 12,
/// half 6, edge triangle 2, corner triangle 1; a rectangle of e√3·c × e·(3r + 1)/2 has c·(12r + 4) of them.
#[test]
fn rows_of_hexagons_prove_and_count() {
    for (rows, columns) in (1..=5_u16).flat_map(|rows| (1..=5_u16).map(move |columns| (rows, columns))) {
        let told = format!("{rows} × {columns}");
        let design = hexagons(hexagon_rows(rows, columns), &[1]);
        check_top(&jumbled(&design), &told);
        let (r, c) = (u64::from(rows), u64::from(columns));
        let cells = r * c - r / 2;
        assert_eq!(design.places().count() as u64, cells, "{told}");
        let whole_sides = 1 + r % 2;
        let (halves, edges) = (2 * (r / 2), whole_sides * (c - 1) + (2 - whole_sides) * c);
        let pieces = [
            ((Source::RowEnd, false), halves),
            ((EDGE, false), edges),
            ((CORNER, false), whole_sides),
            ((CORNER, true), whole_sides),
        ];
        assert_eq!(counts(&design), without_borders(&design, wanted(pieces)), "{told}");
        assert_eq!(12 * cells + 6 * halves + 2 * edges + 2 * whole_sides, c * (12 * r + 4), "{told}");
    }
}

/// The counts with the four sides of the plain borders, which the tally has too.
fn without_borders(design: &Design, mut counts: BTreeMap<(Source, bool), u64>) -> BTreeMap<(Source, bool), u64> {
    for border in 0..u16::try_from(design.borders().len()).unwrap() {
        for level in [false, true] {
            counts.insert((Source::Border { border, level }, false), 2);
        }
    }
    counts
}

/// With r rows and c columns: r·c hexagons, two triangles a gap and four a row at its ends, two of each hand.
#[test]
fn star_rows_prove_and_count() {
    for (rows, columns) in (1..=4_u16).flat_map(|rows| (1..=5_u16).map(move |columns| (rows, columns))) {
        let told = format!("{rows} × {columns}");
        let design = hexagons(star_rows(rows, columns), &[1]);
        check_top(&jumbled(&design), &told);
        let (r, c) = (u64::from(rows), u64::from(columns));
        assert_eq!(design.places().count() as u64, r * c, "{told}");
        let pieces = [((BETWEEN, false), 2 * r * (c - 1)), ((END, false), 2 * r), ((END, true), 2 * r)];
        assert_eq!(counts(&design), without_borders(&design, wanted(pieces)), "{told}");
    }
}

/// What is mirrored by the tally is the mirror image in the picture, and nothing else is.
#[test]
fn hands_are_those_that_are_seen() {
    for design in [hexagons(hexagon_rows(3, 3), &[]), hexagons(hexagon_rows(4, 2), &[]), hexagons(star_rows(2, 3), &[])]
    {
        for placed in design.top().unwrap().placed {
            assert_eq!(design.is_mirrored(placed.place), placed.motion.is_mirrored(), "{}", placed.place);
        }
    }
}

/// Edge 3 in: 3√3 wide on a point and 6 high; on a side 6 wide and 3√3 high. By hand.
#[test]
fn sizes_by_hand() {
    let root = |n: i64| Exact::sqrt3().scale_int(n);
    let rows = [
        (hexagon_rows(1, 1), root(3), Exact::int(6)),
        (hexagon_rows(2, 3), root(9), &Exact::int(6) + &Exact::ratio(9, 2).unwrap()),
        (hexagon_rows(5, 4), root(12), Exact::int(24)),
        (star_rows(1, 1), Exact::int(6), root(3)),
        (star_rows(2, 3), Exact::int(18), root(6)),
    ];
    for (setting, width, height) in rows {
        assert_eq!(hexagons(setting, &[]).finished_size(), (width, height), "{setting:?}");
    }
}

/// Where everything stands in 3 rows of 3 and 2: centres by hand, in halves of a width and quarters of a height.
#[test]
fn hexagons_stand_where_they_are_counted() {
    let design = hexagons(hexagon_rows(3, 3), &[]);
    let quarter = Exact::ratio(3, 2).unwrap();
    let half_width = Exact::sqrt3().scale_int(3).half();
    // The middle of a hexagon of edge 3 on a side, as it is drafted.
    let middle = Point::new(Exact::int(3), half_width.clone());
    let seen: Vec<Point> = design.places().map(|(place, _)| design.motion(place).unwrap().point(&middle)).collect();
    let at = |x: i64, y: i64| Point::new(half_width.scale_int(x), quarter.scale_int(y));
    assert_eq!(seen, [at(1, 8), at(3, 8), at(5, 8), at(2, 5), at(4, 5), at(1, 2), at(3, 2), at(5, 2)]);
}

/// The same hexagon drafted on a point.
fn pointed_hexagon(edge: i64) -> Recipe {
    let drafted = Recipe::Hexagon(side_of(edge)).draft().unwrap();
    let turned = Motion::turn(2, &Point::origin()).polygon(drafted.base());
    let patch = geometry::Patch {
        key: PatchKey(0),
        outline: turned.clone(),
        role: Role::new("hexagon").unwrap(),
        tone: Tone::Own(Value::Dark),
        grain: None,
    };
    Recipe::Own { base: turned, patches: vec![patch] }
}

/// However a hexagon is drafted, it stands as its setting wants it; both ways stand side by side in one quilt.
#[test]
fn hexagons_are_turned_to_stand() {
    for setting in [hexagon_rows(3, 2), star_rows(2, 2)] {
        let blocks = [pointed_hexagon(3), star(side_of(3))];
        let design = starter(&blocks, setting, &[2]).design().unwrap();
        let mixed = Edit::SetBlock { place: common::cell(1, 0), block: layout::BlockId(2) };
        check_top(&jumbled(&edited(&design, &[mixed])), &format!("{setting:?}"));
    }
}

/// Whatever stands at the edge of the quilt has its straight grain along that edge.
#[test]
fn the_outside_keeps_the_straight_grain() {
    for setting in [hexagon_rows(3, 3), hexagon_rows(4, 3), hexagon_rows(2, 1), star_rows(2, 3)] {
        let design = hexagons(setting, &[]);
        let top = design.top().unwrap();
        let on_edge = |p: &Point| p.x.is_zero() || p.y.is_zero() || p.x == top.width || p.y == top.height;
        let mut edges = 0;
        for placed in top.placed.iter().filter(|placed| !matches!(placed.source, Source::Block(_))) {
            let patch = &placed.block.patches()[0];
            let grain = placed.motion.vector(patch.grain.as_ref().unwrap());
            let outline = placed.motion.polygon(&patch.outline);
            for (a, b) in outline.edges().filter(|(a, b)| on_edge(a) && on_edge(b) && on_edge(&a.midpoint(b))) {
                let edge = &b.to_vector() + &-&a.to_vector();
                assert!(
                    edge.cross(&grain).is_zero() || edge.dot(&grain).is_zero(),
                    "{} lies on the bias",
                    placed.place
                );
                edges += 1;
            }
        }
        let (rows, columns) = design.setting().size();
        let (r, c) = (usize::from(rows), usize::from(columns));
        let whole = 1 + r % 2;
        let wanted = match setting {
            // Halves at the sides; edge triangles above and below; corners on two sides each.
            Setting::HexagonRows { .. } => 2 * (r / 2) + whole * (c - 1) + (2 - whole) * c + 4 * whole,
            // Both legs at the four corners, one leg of the other end triangles, and those between above and below.
            _ => 4 * r + 4 + 2 * (c - 1),
        };
        assert_eq!(edges, wanted, "{setting:?}");
    }
}

/// Six sixths come back to the same; every turn keeps the hexagon in its cell, and the star's first diamond turns with it.
#[test]
fn hexagons_turn_by_sixths() {
    let place = common::cell(0, 0);
    for setting in [hexagon_rows(1, 1), star_rows(1, 1)] {
        let design = hexagons(setting, &[]);
        let tips: Vec<Polygon> = (0..6)
            .map(|turn| {
                let design = edited(&design, &[Edit::Turn { place, turn }]);
                check_top(&design, "turned");
                let block = design.block(layout::BlockId(1)).unwrap().block();
                design.motion(place).unwrap().polygon(&block.patches()[0].outline)
            })
            .collect();
        for (turn, tip) in tips.iter().enumerate() {
            let (width, height) = design.finished_size();
            let centre = Point::new(width.half(), height.half());
            let turned = Motion::turn(4 * i32::try_from(turn).unwrap(), &centre).polygon(&tips[0]);
            assert!(tip.same_outline(&turned), "{turn} sixths");
        }
        let told = apply(&design, &Edit::Turn { place, turn: 6 }).unwrap_err().to_string();
        assert_eq!(told, "block \"Block 1\" fits its place only in 6 turns, counted from 0; 6 is not one of them");
    }
}

#[test]
fn what_does_not_fit_is_told() {
    let design = hexagons(hexagon_rows(2, 2), &[]);
    let squares = starter(&[half_block(6), Recipe::Hexagon(side_of(4))], straight(2, 2), &[]).design().unwrap();
    let fill = layout::BlockId(1);
    let rows = [
        (
            &squares,
            Edit::SetSetting { setting: hexagon_rows(2, 2), fill },
            "block \"Block 1\" does not fit the setting at row 1, column 1: rows of hexagons need regular hexagons that stand on a side or on a point",
        ),
        (
            &squares,
            Edit::SetSetting { setting: star_rows(2, 2), fill },
            "block \"Block 1\" does not fit the setting at row 1, column 1: star rows need regular hexagons that stand on a side or on a point",
        ),
        (
            &design,
            Edit::SetSetting { setting: straight(2, 2), fill },
            "block \"Block 1\" does not fit the setting at row 1, column 1: a straight setting needs square or rectangular blocks",
        ),
        (
            &design,
            Edit::SetSashing(Some(sashing(inches(1), true, false))),
            "rows of triangles, hexagons and stars have no sashing; set squares or rectangles, or take the sashing away",
        ),
        (
            &design,
            Edit::SetFloat(Some(inches(1))),
            "only blocks on point can float; set the blocks on point, or take the float away",
        ),
        (&design, Edit::SetSetting { setting: star_rows(0, 3), fill }, "a quilt needs at least one row and column"),
        (
            &design,
            Edit::SetSetting { setting: hexagon_rows(300, 200), fill },
            "a quilt may have at most 40000 blocks, not 59850",
        ),
        (&design, Edit::ClearPaint(common::cell(1, 1)), "there is no place at row 2, column 2 in this setting"),
        (
            &design,
            Edit::ClearPaint(PlaceId::CornerTriangle(Corner::BottomLeft)),
            "there is no place at corner triangle at the bottom left in this setting",
        ),
    ];
    for (design, edit, told) in rows {
        assert_eq!(apply(design, &edit).unwrap_err().to_string(), told);
    }
    let irregular = |corners: &[(i64, i64)]| {
        let patch = common::patch(0, "all", Tone::Own(Value::Dark), corners);
        starter(&[Recipe::Own { base: common::polygon(corners), patches: vec![patch] }], star_rows(1, 1), &[]).design()
    };
    assert!(irregular(&[(1, 0), (3, 0), (4, 2), (3, 4), (1, 4), (0, 2)]).is_err());
}

/// Setting pieces show their fabrics, take paint by patch and role, and come back from a file byte for byte; when the
/// setting becomes of another kind the paint is told as lost, since the same names mean other pieces then.
#[test]
fn pieces_are_painted_and_kept() {
    let triangle = PlaceId::SettingTriangle { row: 1, gap: 0, upper: false };
    let edge = PlaceId::SideTriangle { side: Side::Top, index: 1 };
    let half = PlaceId::RowEnd { row: 1, side: Side::Right };
    let corner = PlaceId::CornerTriangle(Corner::TopLeft);
    for (setting, places) in [
        (star_rows(2, 2), vec![(triangle, "end triangle", FOURTH)]),
        (
            hexagon_rows(2, 3),
            vec![(edge, "edge triangle", FOURTH), (half, "half hexagon", THIRD), (corner, "corner triangle", FOURTH)],
        ),
    ] {
        let mut design = hexagons(setting, &[2]);
        for (place, role, fabric) in &places {
            let source = design.source(*place).unwrap();
            let block = design.source_block(source).unwrap();
            assert_eq!(design.paint(*place, source, &block, 0).unwrap(), *fabric);
            assert_eq!(block.patches()[0].role.name(), *role);
            let recoloured = design.recolour_pieces(source, common::DARK).unwrap();
            let other = edited(&design, &[recoloured]);
            assert_eq!(other.paint(*place, source, &block, 0).unwrap(), common::DARK);
            design = edited(
                &design,
                &[Edit::PaintRoleHere { place: *place, role: Role::new(role).unwrap(), fabric: common::LIGHT }],
            );
        }
        let saved = file_text(&design);
        let again = layout::file::Document::from_bytes(&saved).unwrap();
        assert_eq!(file_text(&again.variants()[0].design), saved);
        let other = if design.setting() == star_rows(2, 2) { hexagon_rows(4, 4) } else { star_rows(4, 4) };
        let (next, delta) = apply(&design, &Edit::SetSetting { setting: other, fill: layout::BlockId(1) }).unwrap();
        assert_eq!((delta.lost.len(), next.place_roles().count()), (places.len(), 0), "{:?}", delta.lost);
        let larger = design.setting().with_size(5, 5);
        let (next, delta) = apply(&design, &Edit::SetSetting { setting: larger, fill: layout::BlockId(1) }).unwrap();
        assert_eq!((delta.lost.len(), next.place_roles().count()), (0, places.len()), "{:?}", delta.lost);
    }
}

/// Rows of hexagons take two blocks in turn row by row, star rows like a chessboard.
#[test]
fn two_blocks_in_turn() {
    let second = |setting| {
        let design = hexagons(setting, &[]);
        let put = design.in_turn(layout::BlockId(1), layout::BlockId(2)).unwrap();
        put.into_iter().map(|(place, _)| place).collect::<Vec<_>>()
    };
    let cell = common::cell;
    assert_eq!(second(hexagon_rows(3, 3)), [cell(1, 0), cell(1, 1)]);
    assert_eq!(second(star_rows(2, 2)), [cell(0, 1), cell(1, 0)]);
}

fn lengths() -> impl Strategy<Value = Length> {
    (1_i64..400, 1_i64..20).prop_map(|(n, d)| Length::inch_fraction(n, d).unwrap())
}

fn borders(width: Length, kind: u8) -> Vec<Border> {
    let plain = Border::plain(width, THIRD);
    match kind {
        0 => Vec::new(),
        1 => vec![plain],
        2 => vec![Border { kind: BorderKind::Mitred, ..plain }],
        _ => vec![plain.clone(), Border { kind: BorderKind::CornerSquares(FOURTH), ..plain }],
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, failure_persistence: None, ..ProptestConfig::default() })]

    /// Any size of hexagon by either measure, any count, any border.
    #[test]
    fn every_top_of_hexagons_is_tiled(
        size in lengths(), rows in 1_u16..7, columns in 1_u16..6, across in any::<bool>(), rows_of_stars in any::<bool>(),
        (width, kind) in (lengths(), 0_u8..4), split in any::<[bool; 6]>()
    ) {
        let by = if across { Measure::AcrossFlats } else { Measure::Side };
        let recipe = Recipe::HexagonStar { size: Size { by, length: size }, split };
        let setting = if rows_of_stars { star_rows(rows, columns) } else { hexagon_rows(rows, columns) };
        let design = starter(std::slice::from_ref(&recipe), setting, &[]).design().unwrap();
        let design = edited(&design, &[Edit::SetBorders(borders(width, kind))]);
        check_top(&jumbled(&design), &format!("{recipe:?} {setting:?}"));
        let around = design.borders().iter().fold(Exact::ZERO, |sum, b| &sum + &b.width.inches().scale_int(2));
        let flats = recipe.draft().unwrap().base().extent().1;
        let points = recipe.draft().unwrap().base().extent().0;
        let (c, r) = (i64::from(columns), i64::from(rows));
        let inner = if rows_of_stars {
            (points.scale_int(c), flats.scale_int(r))
        } else {
            (flats.scale_int(c), &points.scale_int(3 * r + 1) * &Exact::ratio(1, 4).unwrap())
        };
        prop_assert_eq!(design.finished_size(), (&inner.0 + &around, &inner.1 + &around));
    }
}

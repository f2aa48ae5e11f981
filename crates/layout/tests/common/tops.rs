//! Whole tops: quilts in every kind of setting, and the proof of a top patch by patch.

use geometry::{Exact, Point, Polygon, Recipe, Value, prove_tiling};
use layout::{BlockId, Design, Edit, FabricId, Halves, PlaceId, Setting, apply};

use super::{
    FIT_WIDTH, FOURTH, THIRD, edited, half_block, inches, on_point, own_recipe, pieced, sashing, side_of, starter,
    straight, triangles,
};

/// How many there are of [`quilts`].
pub(crate) const QUILTS: usize = 12;

pub(crate) const fn hexagon_rows(rows: u16, columns: u16) -> Setting {
    Setting::HexagonRows { rows, columns, halves: THIRD, edges: FOURTH }
}

pub(crate) const fn star_rows(rows: u16, columns: u16) -> Setting {
    Setting::StarRows { rows, columns, between: THIRD, ends: FOURTH }
}

/// Another setting from a random number, mostly one that takes the same blocks.
pub(super) fn some_setting(
    now: Setting,
    (rows, columns): (u16, u16),
    (one, other): (FabricId, FabricId),
    die: u16,
) -> Setting {
    match (now, die % 11) {
        (Setting::Straight { .. } | Setting::OnPoint { .. }, 0) | (Setting::TriangleRows { .. }, 2..) => {
            triangles(rows, columns)
        }
        (Setting::Straight { .. }, 1..=3) | (Setting::OnPoint { .. }, 3..) => {
            Setting::OnPoint { rows, columns, sides: one, corners: other }
        }
        (Setting::HexagonRows { .. }, 3..) | (Setting::StarRows { .. }, 7..) => {
            Setting::HexagonRows { rows, columns, halves: one, edges: other }
        }
        (Setting::StarRows { .. }, 1..) | (Setting::HexagonRows { .. }, 1..) => {
            Setting::StarRows { rows, columns, between: one, ends: other }
        }
        _ => straight(rows, columns),
    }
}

/// Quilts on point, with sashing, and of hexagons.
pub(super) fn set_quilts() -> [Design; 7] {
    let star = Recipe::HexagonStar { size: side_of(3), split: [true; 6] };
    let hexagons = [Recipe::Hexagon(side_of(3)), star];
    let blocks = [half_block(12), own_recipe()];
    let pointed = starter(&blocks, on_point(3, 2), &[2]).design().unwrap();
    let straight = starter(&blocks, straight(2, 3), &[2, 1]).design().unwrap();
    let strips = |cornerstones, outer| Edit::SetSashing(Some(sashing(inches(2), cornerstones, outer)));
    let hexagons = [starter(&hexagons, hexagon_rows(4, 3), &[2]), starter(&hexagons, star_rows(2, 3), &[])]
        .map(|starter| starter.design().unwrap());
    let [hexagon_rows, star_rows] = hexagons;
    [
        edited(&pointed, &[Edit::SetFloat(Some(inches(1)))]),
        edited(&pointed, &[strips(true, true)]),
        edited(&straight, &[strips(true, false)]),
        edited(&straight, &[strips(false, true)]),
        edited(&straight, &[Edit::SetBorders(vec![pieced(FIT_WIDTH, BlockId(1), BlockId(2))])]),
        hexagon_rows,
        star_rows,
    ]
}

/// Turns and mirrors every cell in another way, as far as its turns allow.
pub(crate) fn jumbled(design: &Design) -> Design {
    let mut next = design.clone();
    let places: Vec<PlaceId> = design.places().map(|(id, _)| id).collect();
    for (place, i) in places.into_iter().zip(0_u8..) {
        let turn = (0..6)
            .cycle()
            .skip(usize::from(i))
            .find(|turn| design.cell().allows_turn(design.setting(), *turn))
            .unwrap();
        for edit in [Edit::Turn { place, turn }, Edit::Mirror { place, mirrored: i % 3 == 0 }] {
            next = apply(&next, &edit).unwrap().0;
        }
    }
    next
}

/// Proves the top piece by piece and patch by patch, and compares the sum of areas with width × height.
pub(crate) fn check_top(design: &Design, told: &str) {
    let top = design.top().unwrap();
    top.prove().unwrap();
    let patches: Vec<Polygon> = top
        .placed
        .iter()
        .flat_map(|placed| placed.block.patches().iter().map(|p| placed.motion.polygon(&p.outline)))
        .collect();
    let area = patches.iter().fold(Exact::ZERO, |sum, p| &sum + &p.area());
    assert_eq!(area, &top.width * &top.height, "{told}");
    let zero = Exact::ZERO;
    let corner = |x: &Exact, y: &Exact| Point::new(x.clone(), y.clone());
    let (w, h) = (&top.width, &top.height);
    let rectangle = vec![corner(&zero, &zero), corner(w, &zero), corner(w, h), corner(&zero, h)];
    prove_tiling(&Polygon::new(rectangle).unwrap(), &patches).unwrap();
}

/// The halves of a block that has two.
pub(crate) fn halves(values: [Value; 2]) -> Halves {
    Halves::new(&values)
}

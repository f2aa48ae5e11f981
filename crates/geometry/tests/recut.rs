//! Symmetry lines of outlines, and blocks whose patches are cut in two along them.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::collections::{BTreeMap, BTreeSet};

use common::*;
use geometry::{
    Block, Exact, ExtraSeam, MAX_ROLE_CHARS, Measure, Motion, Patch, Place, Point, Polygon, Recipe, RecipeError,
    RecutError, Role, ShapeClass, Tone, Value, Vector,
};
use proptest::prelude::*;

fn outline(recipe: &Recipe) -> Polygon {
    recipe.draft().unwrap().base().clone()
}

fn recut(of: Recipe, seams: &[(u32, u8)]) -> Recipe {
    let seams = seams.iter().map(|(patch, axis)| ExtraSeam { patch: *patch, axis: *axis }).collect();
    Recipe::Recut { of: Box::new(of), seams }
}

/// The polygon mirrored in the line.
fn mirrored(polygon: &Polygon, (point, direction): &(Point, Vector)) -> Polygon {
    let end = point + direction;
    Polygon::new(polygon.corners().iter().map(|p| p.reflected(point, &end).unwrap()).collect()).unwrap()
}

/// Sides, and symmetry lines in degrees from the x axis: school geometry.
#[test]
fn symmetry_lines_of_known_outlines() {
    let side = sized(Measure::Side, &inches(4));
    let rows: Vec<(&str, Polygon, &[f64])> = vec![
        ("square", ring(&[(1, 1), (7, 1), (7, 7), (1, 7)]), &[0.0, 45.0, 90.0, 135.0]),
        ("square on point", ring(&[(3, 0), (6, 3), (3, 6), (0, 3)]), &[0.0, 45.0, 90.0, 135.0]),
        ("rectangle", ring(&[(0, 0), (5, 0), (5, 3), (0, 3)]), &[0.0, 90.0]),
        ("equilateral triangle", outline(&Recipe::SixtyTriangle(side.clone())), &[30.0, 90.0, 150.0]),
        ("hexagon", outline(&Recipe::Hexagon(side.clone())), &[0.0, 30.0, 60.0, 90.0, 120.0, 150.0]),
        ("half hexagon", outline(&Recipe::HalfHexagon(side.clone())), &[90.0]),
        ("60° diamond", outline(&Recipe::SixtyDiamond(side)), &[30.0, 120.0]),
        ("isosceles triangle", ring(&[(0, 0), (4, 0), (2, 5)]), &[90.0]),
        ("scalene triangle", ring(&[(0, 0), (4, 0), (1, 3)]), &[]),
        ("parallelogram", ring(&[(0, 0), (5, 0), (7, 3), (2, 3)]), &[]),
        ("house", ring(&[(0, 0), (6, 0), (6, 4), (3, 6), (0, 4)]), &[90.0]),
        ("house with its ridge aside", ring(&[(0, 0), (6, 0), (6, 4), (4, 6), (0, 4)]), &[]),
        ("corner", ring(&[(0, 0), (4, 0), (4, 2), (2, 2), (2, 4), (0, 4)]), &[45.0]),
        ("corner with a longer arm", ring(&[(0, 0), (4, 0), (4, 2), (2, 2), (2, 5), (0, 5)]), &[]),
        ("hexagon with one corner out", ring(&[(2, 0), (6, 0), (8, 3), (6, 6), (2, 6), (-1, 3)]), &[0.0]),
        ("arrow", ring(&[(0, 0), (4, 2), (0, 4), (1, 2)]), &[0.0]),
    ];
    for (name, polygon, degrees) in rows {
        let lines = polygon.symmetry_lines();
        let found: Vec<f64> = lines.iter().map(|(_, v)| v.y.to_f64().atan2(v.x.to_f64()).to_degrees()).collect();
        assert_eq!(found.len(), degrees.len(), "{name}: {found:?}");
        assert!(found.iter().zip(degrees).all(|(f, d)| (f - d).abs() < 1e-9), "{name}: {found:?}");
    }
}

/// The tilted star of the field's two routes: its 4 squares and 4 side triangles cut along the 4 lines of the block.
fn cut_star(whole: i64) -> Recipe {
    // Squares 8 to 11 stand on the diagonals at 45°, 135°, 225°, 315°; triangles 12 to 15 at 0°, 90°, 180°, 270°.
    let seams = [(8, 1), (9, 3), (10, 1), (11, 3), (12, 0), (13, 2), (14, 0), (15, 2)];
    recut(Recipe::TiltedStar(block_side(whole)), &seams)
}

fn classes(block: &Block, role: &str) -> (usize, BTreeSet<ShapeClass>) {
    let patches: Vec<&Patch> = block.patches().iter().filter(|p| p.role.name() == role).collect();
    let class = |p: &&Patch| ShapeClass::of(&p.outline, None, &[]).either_hand();
    (patches.len(), patches.iter().map(class).collect())
}

#[test]
fn the_tilted_star_in_24_patches() {
    let block = cut_star(12).draft().unwrap();
    assert_eq!(block.patches().len(), 24);
    assert_eq!(patch_area(&block), Exact::int(144));
    for role in ["diamond", "half background square", "half background triangle"] {
        let (count, shapes) = classes(&block, role);
        assert_eq!((count, shapes.len()), (8, 1), "{role}");
    }
    let whole = Recipe::TiltedStar(block_side(12)).draft().unwrap();
    for (index, patch) in block.patches().iter().enumerate() {
        let of = if index < 16 { index } else { index - 8 };
        let old = &whole.patches()[of];
        assert_eq!((patch.tone, &patch.grain), (old.tone, &old.grain));
        assert_eq!(patch.key.0 as usize, index);
    }
    // A 12 in star's squares finish at 12/(2+√2) in: each half has that squared, halved.
    let s = Exact::int(12).checked_div(&geometry::tilted_side_ratio()).unwrap();
    assert_eq!(block.patches()[8].outline.area(), (&s * &s).half());
}

#[test]
fn cuts_that_cannot_be_are_refused() {
    let star = || Recipe::TiltedStar(block_side(12));
    let own = |corners: &[(i64, i64)]| Recipe::Own { base: ring(corners), patches: vec![patch(0, ring(corners))] };
    let own_square = |first: &[(i64, i64)], second: &[(i64, i64)]| Recipe::Own {
        base: ring(&[(0, 0), (8, 0), (8, 6), (0, 6)]),
        patches: vec![patch(0, ring(first)), patch(1, ring(second))],
    };
    // Two prongs above the level line, apart, or joined in one point of the line.
    let fork = own_square(
        &[(0, 0), (8, 0), (8, 4), (6, 4), (6, 2), (2, 2), (2, 4), (0, 4)],
        &[(2, 2), (6, 2), (6, 4), (8, 4), (8, 6), (0, 6), (0, 4), (2, 4)],
    );
    let notch = own_square(&[(0, 0), (8, 0), (8, 6), (4, 3), (0, 6)], &[(0, 6), (4, 3), (8, 6)]);
    let rows = [
        (recut(star(), &[]), RecutError::NoSeam),
        (recut(star(), &[(8, 4)]), RecutError::NoAxis { axis: 4, has: 4 }),
        (recut(star(), &[(16, 0)]), RecutError::NoPatch { patch: 16, has: 16 }),
        (recut(star(), &[(8, 1), (9, 3), (8, 1)]), RecutError::Twice(8)),
        (recut(star(), &[(8, 0)]), RecutError::NotInTwo { patch: 8, axis: 0 }),
        (recut(star(), &[(0, 0)]), RecutError::NotInTwo { patch: 0, axis: 0 }),
        (recut(recut(star(), &[(8, 1)]), &[(9, 3)]), RecutError::Nested),
        (recut(fork.clone(), &[(0, 0)]), RecutError::NotInTwo { patch: 0, axis: 0 }),
        (recut(notch.clone(), &[(0, 0)]), RecutError::NotInTwo { patch: 0, axis: 0 }),
        (recut(notch.clone(), &[(1, 0)]), RecutError::NotInTwo { patch: 1, axis: 0 }),
    ];
    for (recipe, why) in rows {
        assert_eq!(recipe.draft().unwrap_err(), RecipeError::Recut(why), "{recipe:?}");
    }
    let scalene = own(&[(0, 0), (4, 0), (1, 3)]);
    assert_eq!(
        recut(scalene, &[(0, 0)]).draft().unwrap_err().to_string(),
        "the outline of this block has 0 symmetry lines, counted from 0; there is no line 0"
    );
    // A patch that is not convex may fall into two all the same: across a fork, through the point of a notch.
    let bow = own(&[(0, 0), (6, 2), (6, 4), (0, 6), (3, 3)]);
    for (recipe, patch, axis) in [(fork.clone(), 0, 1), (fork, 1, 0), (notch.clone(), 0, 1), (notch, 1, 1), (bow, 0, 0)]
    {
        let block = recut(recipe, &[(patch, axis)]).draft().unwrap();
        assert_eq!(patch_area(&block), block.base().area());
    }
}

#[test]
fn parts_keep_the_role_where_half_of_it_cannot_be_said() {
    let long = "é".repeat(MAX_ROLE_CHARS - 4);
    let with_roles = |first: &str, second: &str| {
        let role = |name: &str, patch: Patch| Patch { role: Role::new(name).unwrap(), ..patch };
        let patches = vec![
            role(first, patch(0, ring(&[(0, 0), (4, 0), (4, 2), (0, 2)]))),
            role(second, patch(1, ring(&[(0, 2), (4, 2), (4, 4), (0, 4)]))),
        ];
        let of = Recipe::Own { base: ring(&[(0, 0), (4, 0), (4, 4), (0, 4)]), patches };
        recut(of, &[(0, 2)]).draft().unwrap().patches().iter().map(|p| p.role.name().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(with_roles("bar", "post"), ["half bar", "post", "half bar"]);
    assert_eq!(with_roles("bar", "half bar"), ["bar", "half bar", "bar"]);
    assert_eq!(with_roles(&long, "post"), [long.as_str(), "post", long.as_str()]);
}

#[test]
fn a_re_cut_of_a_drawing_that_is_none_is_refused_as_that_drawing_is() {
    let stripes = Recipe::Stripes { width: inches(3), height: inches(3), count: 65 };
    assert_eq!(recut(stripes, &[(0, 0)]).draft().unwrap_err(), RecipeError::Stripes(65));
}

/// Every (patch, line) that cuts a patch of the block in two.
fn possible_seams(recipe: &Recipe) -> Vec<ExtraSeam> {
    let block = recipe.draft().unwrap();
    let lines = block.base().symmetry_lines().len();
    let all = (0..block.patches().len())
        .flat_map(|patch| (0..lines).map(move |axis| (u32::try_from(patch).unwrap(), u8::try_from(axis).unwrap())));
    all.filter(|seam| recut(recipe.clone(), &[*seam]).draft().is_ok())
        .map(|(patch, axis)| ExtraSeam { patch, axis })
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Whichever patches are cut, the block is tiled, and parts lie within their patch on both sides of the line.
    #[test]
    fn any_re_cut_tiles(length in any_length(), dice in prop::collection::vec(any::<u16>(), 1..12)) {
        for (recipe, _) in all_recipes(&length) {
            let possible = possible_seams(&recipe);
            let mut chosen: BTreeMap<u32, ExtraSeam> = BTreeMap::new();
            for die in &dice {
                if let Some(seam) = possible.get(usize::from(*die) % possible.len().max(1)) {
                    chosen.insert(seam.patch, *seam);
                }
            }
            let seams: Vec<ExtraSeam> = chosen.into_values().collect();
            let Some(first) = seams.first().copied() else { continue };
            let whole = recipe.draft().unwrap();
            let block = Recipe::Recut { of: Box::new(recipe), seams: seams.clone() }.draft().unwrap();
            prop_assert_eq!(block.patches().len(), whole.patches().len() + seams.len());
            prop_assert_eq!(patch_area(&block), whole.base().area());
            prop_assert_eq!(block.halves(), whole.halves());
            for (index, patch) in block.patches().iter().enumerate() {
                let of = index.checked_sub(whole.patches().len()).map_or(index, |k| seams[k].patch as usize);
                let old = &whole.patches()[of].outline;
                prop_assert_eq!(old.place(&patch.outline.witness()), Place::Inside);
                // The patch's own place is kept by the part in which it is known again.
                if index < whole.patches().len() {
                    prop_assert_ne!(patch.outline.place(&old.witness()), Place::Outside);
                }
            }
            let line = &whole.base().symmetry_lines()[usize::from(first.axis)];
            let parts = [first.patch as usize, whole.patches().len()].map(|i| &block.patches()[i].outline);
            let sides = parts.map(|p| line.1.cross(&(&p.witness() - &line.0)).signum());
            prop_assert_eq!(sides[0] * sides[1], -1);
        }
    }

    /// Lines mirror the outline onto itself, however it is turned, and no line is missed that mirrors a corner.
    #[test]
    fn symmetry_lines_mirror_the_outline(length in any_length(), steps in 0..24_i32, shift in -9_i64..9) {
        for (recipe, _) in all_recipes(&length) {
            let base = outline(&recipe);
            let motion = Motion::turn(steps, &p(1, 2)).then(&Motion::shift(Vector::new(Exact::int(shift), Exact::ONE)));
            let turned = motion.polygon(&base);
            let lines = turned.symmetry_lines();
            prop_assert_eq!(lines.len(), base.symmetry_lines().len());
            for line in &lines {
                prop_assert!(turned.same_outline(&mirrored(&turned, line)));
                prop_assert!(line.1.y.is_positive() || (line.1.y.is_zero() && line.1.x.is_positive()));
            }
            for pair in lines.windows(2) {
                prop_assert!(pair[0].1.cross(&pair[1].1).is_positive());
            }
            // By another way: every line through the centre and a corner, or the middle of an edge.
            let Some((centre, _)) = lines.first() else { continue };
            let middles = turned.edges().map(|(a, b)| a.midpoint(b));
            let through: Vec<Point> = turned.corners().iter().cloned().chain(middles).collect();
            let mirrors = |q: &&Point| turned.same_outline(&mirrored(&turned, &(centre.clone(), *q - centre)));
            let is_told = |q: &Point| lines.iter().any(|(_, v)| v.cross(&(q - centre)).is_zero());
            prop_assert!(through.iter().filter(mirrors).all(is_told));
        }
    }
}

#[test]
fn an_edge_is_outside_a_unit_when_no_stretch_of_it_is_shared() {
    // A tall piece at the left, two squares at the right: the tall piece's right edge is shared in two stretches.
    let recipe = Recipe::Own {
        base: ring(&[(0, 0), (12, 0), (12, 12), (0, 12)]),
        patches: vec![
            patch(0, ring(&[(0, 0), (6, 0), (6, 12), (0, 12)])),
            patch(1, ring(&[(6, 0), (12, 0), (12, 6), (6, 6)])),
            patch(2, ring(&[(6, 6), (12, 6), (12, 12), (6, 12)])),
        ],
    };
    let block = recipe.draft().unwrap();
    assert_eq!(block.edge_neighbours()[0], [vec![], vec![1, 2], vec![], vec![]]);
    let of = |unit: &[usize]| block.unit_outside_edges(unit);
    assert_eq!(of(&[0, 1]), [[true, false, true, true], [true, true, true, false]], "half of an edge is not all of it");
    assert_eq!(of(&[1, 2]), [[true, true, false, true], [false, true, true, true]]);
    assert_eq!(of(&[2]), [[true; 4]]);
    assert_eq!(of(&[9, 2]), [vec![], vec![true; 4]]);
}

#[test]
fn the_whole_block_is_a_unit_whose_outside_is_the_outline() {
    for (recipe, _) in all_recipes(&inches(7)) {
        let block = recipe.draft().unwrap();
        let all: Vec<usize> = (0..block.patches().len()).collect();
        let outside: Vec<Vec<bool>> = all.iter().map(|i| block.outside_edges(*i)).collect();
        assert_eq!(block.unit_outside_edges(&all), outside, "{recipe:?}");
    }
}

#[test]
fn a_sector_of_the_on_axis_star_is_open_all_round() {
    let block = Recipe::OnAxisStar { size: block_side(12), split: ALL_SPLIT }.draft().unwrap();
    for sector in 0..8 {
        let outside = block.unit_outside_edges(&[3 * sector, 3 * sector + 1, 3 * sector + 2]);
        let counts: Vec<usize> = outside.iter().map(|edges| edges.iter().filter(|o| **o).count()).collect();
        // The diamond's two edges at the centre, and two of each triangle; the two seams between them are inside.
        assert_eq!(counts, [2, 2, 2]);
    }
    assert_eq!(block.patches()[0].tone, Tone::Own(Value::Dark));
}

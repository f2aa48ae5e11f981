//! Every recipe drafts a block that tiles its base, with the parts and measures that the trade expects.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::collections::{BTreeMap, BTreeSet};

use common::*;
use geometry::{
    Block, Exact, Length, Measure, Motion, Patch, Point, Polygon, Recipe, RecipeError, Tone, Vector, diagonal_mirror,
    widest_band,
};
use proptest::prelude::*;

fn draft(recipe: &Recipe) -> Block {
    recipe.draft().unwrap()
}

fn tilted(whole: i64) -> Block {
    draft(&Recipe::TiltedStar(block_side(whole)))
}

fn on_axis(whole: i64, split: [bool; 8]) -> Block {
    draft(&Recipe::OnAxisStar { size: block_side(whole), split })
}

fn diagonal_half(whole: i64) -> Block {
    draft(&Recipe::DiagonalHalf { size: block_side(whole), band: None })
}

fn role_counts(block: &Block) -> BTreeMap<&str, usize> {
    let mut counts = BTreeMap::new();
    for patch in block.patches() {
        *counts.entry(patch.role.name()).or_insert(0) += 1;
    }
    counts
}

fn with_role<'a>(block: &'a Block, role: &'a str) -> impl Iterator<Item = &'a Patch> {
    block.patches().iter().filter(move |patch| patch.role.name() == role)
}

/// Edge lengths of a patch to four decimals, shortest first.
fn edges(patch: &Patch) -> Vec<String> {
    let mut lengths: Vec<Exact> =
        (0..patch.outline.corners().len()).map(|i| patch.outline.edge(i).length_squared()).collect();
    lengths.sort();
    lengths.iter().map(|squared| format!("{:.4}", squared.to_f64().sqrt())).collect()
}

#[test]
fn twelve_inch_tilted_star() {
    let star = tilted(12);
    assert_eq!(star.base().area(), Exact::int(144));
    assert_eq!(patch_area(&star), Exact::int(144));
    let counts = BTreeMap::from([("background square", 4), ("background triangle", 4), ("diamond", 8)]);
    assert_eq!(role_counts(&star), counts);
    for diamond in with_role(&star, "diamond") {
        // Tilted star of edge e fills a block of side (2+√2)e: mathematics.
        assert_eq!(edges(diamond), ["3.5147"; 4]);
    }
    for square in with_role(&star, "background square") {
        assert_eq!(edges(square), ["3.5147"; 4]);
    }
    for triangle in with_role(&star, "background triangle") {
        // 12 − 2 × 3.5147 = 4.9706 on the outer side.
        assert_eq!(edges(triangle), ["3.5147", "3.5147", "4.9706"]);
    }
}

#[test]
fn twelve_inch_on_axis_star() {
    for (split, sectors) in
        [(NO_SPLIT, vec![("sector", 8)]), (ALL_SPLIT, vec![("diamond", 8), ("sector triangle", 16)])]
    {
        let star = on_axis(12, split);
        assert_eq!(patch_area(&star), Exact::int(144));
        let mut counts: BTreeMap<&str, usize> = sectors.into_iter().collect();
        counts.insert("corner triangle", 4);
        assert_eq!(role_counts(&star), counts);
        for sector in with_role(&star, "sector") {
            assert_eq!(edges(sector)[0], "4.9706");
        }
        for diamond in with_role(&star, "diamond") {
            assert_eq!(edges(diamond), ["3.2472"; 4]);
        }
    }
}

#[test]
fn twelve_inch_diagonal_half() {
    let block = diagonal_half(12);
    assert_eq!(patch_area(&block), Exact::int(144));
    assert_eq!(role_counts(&block), BTreeMap::from([("diamond", 4), ("trapezoid", 2), ("triangle", 2)]));
    for trapezoid in with_role(&block, "trapezoid") {
        assert_eq!(edges(trapezoid), ["3.5147", "3.5147", "4.9706", "9.9411"]);
    }
    for patch in block.patches() {
        let against = patch.role.name() == "diamond";
        assert_eq!(matches!(patch.tone, Tone::AgainstHalf(_)), against, "diamonds never take their half's value");
    }
    assert_eq!(block.halves(), 2);
}

#[test]
fn on_axis_star_proves_with_every_split() {
    for pattern in 0..256_usize {
        let split = std::array::from_fn(|k| pattern & (1 << k) != 0);
        let star = on_axis(12, split);
        let split_sectors = pattern.count_ones() as usize;
        assert_eq!(star.patches().len(), 12 + 2 * split_sectors);
        assert_eq!(with_role(&star, "diamond").count(), split_sectors);
        assert_eq!(patch_area(&star), Exact::int(144));
    }
}

#[test]
fn tables_of_regular_polygons() {
    // Machinery's Handbook, 31st ed., p. 82, to the figures printed there.
    let check = |value: f64, printed: f64, what: &str| {
        let unit = if printed >= 10.0 { 1e-3 } else { 1e-4 };
        assert!((value - printed).abs() <= 0.501 * unit, "{what}: {value} is not {printed}");
    };
    let ratio = |a: &Exact, b: &Exact| a.checked_div(b).unwrap().to_f64();
    let star = on_axis(12, NO_SPLIT);
    let sector = with_role(&star, "sector").next().unwrap();
    let side = sector.outline.edge(1);
    let (s, r) = (side.length().unwrap(), Exact::int(6));
    let circumradius_squared = sector.outline.edge(0).length_squared();
    let octagon: Exact = with_role(&star, "sector").map(|sector| sector.outline.area()).sum();
    check(ratio(&octagon, &(&s * &s)), 4.8284, "n = 8, A/S²");
    check(ratio(&octagon, &circumradius_squared), 2.8284, "n = 8, A/R²");
    check(ratio(&octagon, &(&r * &r)), 3.3137, "n = 8, A/r²");
    check(ratio(&s, &r), 0.8284, "n = 8, S/r: base to height of the 45° sector");
    check(ratio(&r, &s), 1.2071, "n = 8, r/S");
    check(ratio(&(&s * &s), &circumradius_squared).sqrt(), 0.7654, "n = 8, S/R: base to leg of the 45° sector");
    check(ratio(&circumradius_squared, &(&r * &r)).sqrt(), 1.0824, "n = 8, R/r");
    // Weisstein, MathWorld, "Octagon": r = (1+√2)s/2 and A = 2(1+√2)s².
    let silver = Exact::ONE + Exact::sqrt2();
    assert_eq!(r, (&silver * &s).half());
    assert_eq!(octagon, &(&silver * &(&s * &s)) * &Exact::int(2));

    let hexagon = draft(&Recipe::Hexagon(sized(Measure::Side, &inches(5))));
    check(ratio(&hexagon.base().area(), &Exact::int(25)), 2.5981, "n = 6, A/S²");
    let flats = draft(&Recipe::Hexagon(sized(Measure::AcrossFlats, &inches(10))));
    check(ratio(&flats.base().area(), &Exact::int(25)), 3.4641, "n = 6, A/r²");
    let edge = flats.base().edge(0).length().unwrap();
    check(ratio(&edge, &Exact::int(5)), 1.1547, "n = 6, S/r");
    check(ratio(&Exact::int(5), &edge), 0.8660, "n = 6, r/S");
    let diamond = draft(&Recipe::SixtyDiamond(sized(Measure::Side, &inches(5))));
    check(ratio(&diamond.base().area(), &Exact::int(25)), 2.5981 / 3.0, "two sixths of the hexagon");
}

#[test]
fn half_sector_against_the_table_for_sixteen() {
    // The wedge of 22.5° from the centre to half an octagon edge, made isosceles: base/leg = S/R = 2·sin 11.25° and
    // base/height = S/r = 2·tan 11.25° of n = 16 in Machinery's Handbook, 31st ed., p. 82. Neither is in the field,
    // so the half angle is taken in floats, from the sector's leg and height.
    let star = on_axis(12, NO_SPLIT);
    let sector = with_role(&star, "sector").next().unwrap();
    let leg = length_f64(&sector.outline.edge(0));
    let cos = 6.0 / leg;
    let base_to_leg = (2.0 * (1.0 - cos)).sqrt();
    let base_to_height = base_to_leg / ((1.0 + cos) / 2.0).sqrt();
    assert!((base_to_leg - 0.3902).abs() < 5.1e-5, "{base_to_leg}");
    assert!((base_to_height - 0.3978).abs() < 5.1e-5, "{base_to_height}");
}

#[test]
fn band_within_its_bounds() {
    let side = inches(12);
    let with_band = |band: Exact| {
        let band = Some(Length::new(band).unwrap());
        Recipe::DiagonalHalf { size: sized(Measure::Block, &side), band }.draft()
    };
    let most = widest_band(side.inches());
    let widest = with_band(most.clone()).unwrap();
    assert_eq!(patch_area(&widest), Exact::int(144));
    for trapezoid in with_role(&widest, "trapezoid") {
        assert_eq!(trapezoid.outline.corners().len(), 3, "the short edge has shrunk to a point");
    }
    let narrow = with_band(frac(1, 64)).unwrap();
    assert_eq!(patch_area(&narrow), Exact::int(144));
    let above = with_band(&most + &frac(1, 1_000_000_000)).unwrap_err();
    assert_eq!(above, RecipeError::Band { side: "12.0000".into(), most: "4.9706".into() });
    assert_eq!(with_band(frac(1, 65)).unwrap_err(), RecipeError::TooSmall);
    let twice = Recipe::DiagonalHalf { size: sized(Measure::Diamond, &side), band: Some(inches(1)) };
    assert_eq!(twice.draft().unwrap_err(), RecipeError::BandTwice);
}

#[test]
fn measures_that_a_family_lacks_are_named() {
    let error = Recipe::FourPatch(sized(Measure::Diamond, &inches(3))).draft().unwrap_err();
    assert_eq!(error.to_string(), "this block is not sized by diamond side; give its block side");
    let error = Recipe::Hexagon(sized(Measure::Height, &inches(3))).draft().unwrap_err();
    assert_eq!(error.to_string(), "this block is not sized by height; give its side or across flats");
    for count in [0, 65] {
        let stripes = Recipe::Stripes { width: inches(3), height: inches(3), count };
        assert_eq!(stripes.draft().unwrap_err(), RecipeError::Stripes(count));
    }
    let small = Length::inch_fraction(1, 65).unwrap();
    for (recipe, _) in all_recipes(&small) {
        assert_eq!(recipe.draft().unwrap_err(), RecipeError::TooSmall, "{recipe:?}");
    }
}

/// Four blocks around the point (`size`, `size`), each turned so that a split corner points at it.
#[test]
fn four_diagonal_halves_make_a_star() {
    let size = Exact::int(12);
    let block = diagonal_half(12);
    let centre = Point::new(size.half(), size.half());
    let mut diamonds: Vec<Vec<Point>> = Vec::new();
    // The upper right corner is split. Turned by quarters it is the upper left, lower left, lower right one.
    for (quarters, dx, dy) in [(0, 0, 0), (1, 1, 0), (2, 1, 1), (3, 0, 1)] {
        let shift = Vector::new(size.scale_int(dx), size.scale_int(dy));
        let motion = Motion::turn(6 * quarters, &centre).then(&Motion::shift(shift));
        let around = Point::new(size.clone(), size.clone());
        let placed = with_role(&block, "diamond").map(|patch| motion.polygon(&patch.outline));
        diamonds
            .extend(placed.filter(|polygon| polygon.corners().contains(&around)).map(|polygon| corner_set(&polygon)));
    }
    let star = tilted(12);
    let to_middle = Motion::shift(Vector::new(size.half(), size.half()));
    let mut expected: Vec<Vec<Point>> =
        with_role(&star, "diamond").map(|patch| corner_set(&to_middle.polygon(&patch.outline))).collect();
    let by_corners = |a: &Vec<Point>, b: &Vec<Point>| {
        a.iter().zip(b).map(|(p, q)| p.order(q)).find(|order| order.is_ne()).unwrap_or(std::cmp::Ordering::Equal)
    };
    diamonds.sort_by(by_corners);
    expected.sort_by(by_corners);
    assert_eq!(expected.len(), 8);
    assert_eq!(diamonds, expected);
}

#[test]
fn mirrored_diagonal_half_is_its_quarter_turn_with_the_halves_swapped() {
    let block = diagonal_half(12);
    let centre = Point::new(Exact::int(6), Exact::int(6));
    let described = |motion: &Motion, swap: bool| -> BTreeSet<String> {
        let half = |half: u8| if swap { 1 - half } else { half };
        let tone = |tone| match tone {
            Tone::Half(h) => Tone::Half(half(h)),
            Tone::AgainstHalf(h) => Tone::AgainstHalf(half(h)),
            own @ Tone::Own(_) => own,
        };
        let line = |patch: &Patch| {
            format!("{} {:?} {:?}", patch.role, tone(patch.tone), corner_set(&motion.polygon(&patch.outline)))
        };
        block.patches().iter().map(line).collect()
    };
    let mirror = Motion::mirror(&centre);
    let (turned, turned_back) = (Motion::turn(6, &centre), Motion::turn(-6, &centre));
    assert_eq!(described(&mirror, false), described(&turned, true));
    assert_eq!(described(&mirror, false), described(&turned_back, false));
    assert_eq!(described(&diagonal_mirror(&Exact::int(12)), false), described(&Motion::still(), true));
    assert_ne!(described(&Motion::still(), false), described(&turned, false), "a quarter turn is another drawing");
}

#[test]
fn sizes_by_other_measures_agree() {
    let s = Length::new(&Exact::int(3) * &Exact::sqrt2()).unwrap();
    let star = draft(&Recipe::TiltedStar(sized(Measure::Diamond, &s)));
    assert_eq!(with_role(&star, "diamond").next().unwrap().outline.edge(0).length().as_ref(), Some(s.inches()));
    let star = draft(&Recipe::OnAxisStar { size: sized(Measure::OctagonEdge, &s), split: NO_SPLIT });
    assert_eq!(with_role(&star, "sector").next().unwrap().outline.edge(1).length().as_ref(), Some(s.inches()));
    let triangle = draft(&Recipe::SixtyTriangle(sized(Measure::Height, &s)));
    assert_eq!(triangle.base().extent().1, *s.inches());
    let hexagon = draft(&Recipe::Hexagon(sized(Measure::AcrossFlats, &s)));
    assert_eq!(hexagon.base().extent().1, *s.inches());
    let half = draft(&Recipe::HalfHexagon(sized(Measure::AcrossFlats, &s)));
    assert_eq!(half.base().extent().1.scale_int(2), *s.inches());
    assert_eq!(half.base().area().scale_int(2), hexagon.base().area());
}

/// Interior seams, counted by hand on a drawing of each block.
#[test]
fn seams_counted_by_hand() {
    let half_square = draft(&Recipe::HalfSquare(block_side(3)));
    let rows: Vec<(&str, Block, usize)> = vec![
        // 8 between diamonds, 2 on each of 4 squares, 2 on each of 4 triangles.
        ("tilted star", tilted(12), 24),
        // 8 between sectors, 4 at the corners.
        ("whole on-axis star", on_axis(12, NO_SPLIT), 12),
        // 8 between diamonds, 16 between a diamond and its triangles, 8 between the triangles of neighbouring
        // sectors, and each of the 4 corner triangles against 2 triangles of its sector.
        ("split on-axis star", on_axis(12, ALL_SPLIT), 40),
        // Along the diagonal diamond–diamond, trapezoid–trapezoid, diamond–diamond; in each half 2 between
        // diamonds and trapezoid, 3 along the triangle: diamond, trapezoid, diamond.
        ("diagonal half", diagonal_half(12), 13),
        ("half-square", half_square, 1),
        ("nine-patch", draft(&Recipe::NinePatch(block_side(9))), 12),
        ("flying goose", draft(&Recipe::FlyingGoose(block_side(6))), 2),
        ("square in square", draft(&Recipe::SquareInSquare(block_side(6))), 4),
        ("60° unit", draft(&Recipe::SixtyUnit(sized(Measure::Side, &inches(6)))), 2),
        ("hexagon", draft(&Recipe::Hexagon(sized(Measure::Side, &inches(6)))), 0),
        // 2 on each of 6 lines from the centre, 2 in each unit.
        ("hexagon star", six_point_star([true; 6]), 24),
        ("hexagon of whole sixths", six_point_star([false; 6]), 6),
    ];
    for (name, block, count) in rows {
        assert_eq!(block.seams().len(), count, "{name}");
        check_seams(&block);
    }
}

fn six_point_star(split: [bool; 6]) -> Block {
    draft(&Recipe::HexagonStar { size: sized(Measure::Side, &inches(6)), split })
}

/// Edge 6 in: diamonds of side 3 in meet at the centre, their far corners in the middles of the edges; half of the area is
/// theirs, as in a 60° unit. All that lies on the outline has its straight grain there.
#[test]
fn six_diamonds_make_a_star_in_a_hexagon() {
    let block = six_point_star([true; 6]);
    let root3 = Exact::sqrt3();
    assert_eq!(block.base().extent(), (Exact::int(12), root3.scale_int(6)));
    let centre = Point::new(Exact::int(6), root3.scale_int(3));
    let diamonds: Vec<_> = block.patches().iter().filter(|p| p.role.name() == "diamond").collect();
    assert_eq!(diamonds.len(), 6);
    let area = diamonds.iter().fold(Exact::ZERO, |sum, p| &sum + &p.outline.area());
    assert_eq!(area.scale_int(2), block.base().area());
    for diamond in &diamonds {
        assert!(diamond.outline.corners().contains(&centre));
        let middles = block.base().edges().map(|(a, b)| a.midpoint(b));
        assert_eq!(middles.filter(|middle| diamond.outline.corners().contains(middle)).count(), 1);
        assert!(diamond.outline.edges().all(|(a, b)| (b - a).length_squared() == Exact::int(9)));
    }
    let outer = |a: &Point, b: &Point| block.base().place(&a.midpoint(b)) == geometry::Place::Boundary;
    for patch in block.patches() {
        for (a, b) in patch.outline.edges().filter(|(a, b)| outer(a, b)) {
            assert_eq!((b - a).cross(patch.grain.as_ref().unwrap()), Exact::ZERO);
        }
    }
}

/// Every seam lies on both of its patches, and the seams account for all edges that are not on the outline.
fn check_seams(block: &Block) {
    let seams = block.seams();
    let mut total = perimeter_f64(block.base());
    for seam in &seams {
        let middle = seam.from.midpoint(&seam.to);
        for patch in [seam.left, seam.right] {
            assert_eq!(block.patches()[patch].outline.place(&middle), geometry::Place::Boundary);
        }
        let witness = block.patches()[seam.left].outline.clone();
        let left = (&seam.to - &seam.from).left();
        let step = &middle + &(&left * &frac(1, 1000));
        assert_eq!(witness.place(&step), geometry::Place::Inside, "the left patch lies on the left");
        total += 2.0 * length_f64(&(&seam.to - &seam.from));
    }
    let perimeters: f64 = block.patches().iter().map(|patch| perimeter_f64(&patch.outline)).sum();
    assert!((total - perimeters).abs() < 1e-9 * perimeters, "{total} is not {perimeters}");
}

fn scaled_base(block: &Block, factor: &Exact) -> Polygon {
    block.base().scaled(factor).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn every_recipe_tiles_at_every_size(length in any_length(), factor in 1..=9_i64) {
        let larger = Length::new(length.inches().scale_int(factor)).unwrap();
        for ((recipe, patches), (enlarged, _)) in all_recipes(&length).into_iter().zip(all_recipes(&larger)) {
            let block = draft(&recipe);
            prop_assert_eq!(block.patches().len(), patches);
            prop_assert_eq!(patch_area(&block), block.base().area());
            let keys: BTreeSet<_> = block.patches().iter().map(|patch| patch.key).collect();
            prop_assert_eq!(keys.len(), patches);
            check_seams(&block);
            let enlarged = draft(&enlarged);
            prop_assert_eq!(enlarged.base(), &scaled_base(&block, &Exact::int(factor)));
            for (small, large) in block.patches().iter().zip(enlarged.patches()) {
                prop_assert_eq!((small.key, &small.role, small.tone), (large.key, &large.role, large.tone));
                prop_assert_eq!(&small.outline.scaled(&Exact::int(factor)).unwrap(), &large.outline);
            }
        }
    }

    #[test]
    fn any_band_tiles(length in any_length(), part in 1..=1000_i64) {
        let band = Length::new(&widest_band(length.inches()) * &frac(part, 1000)).unwrap();
        let recipe = Recipe::DiagonalHalf { size: sized(Measure::Block, &length), band: Some(band.clone()) };
        match recipe.draft() {
            Ok(block) => {
                prop_assert_eq!(patch_area(&block), block.base().area());
                prop_assert_eq!(block.patches().len(), 8);
            }
            Err(error) => {
                prop_assert_eq!(error, RecipeError::TooSmall);
                prop_assert!(*band.inches() < frac(1, 64));
            }
        }
    }
}

/// How many edges of patches with each role lie on the outline of the block.
fn outside_by_role(block: &Block) -> BTreeMap<&str, usize> {
    let mut counts = BTreeMap::new();
    for (index, patch) in block.patches().iter().enumerate() {
        *counts.entry(patch.role.name()).or_insert(0) += block.outside_edges(index).iter().filter(|o| **o).count();
    }
    counts
}

#[test]
fn edges_on_the_outline_are_told_from_seams() {
    let tilted_counts = BTreeMap::from([("background square", 8), ("background triangle", 4), ("diamond", 0)]);
    assert_eq!(outside_by_role(&tilted(12)), tilted_counts);
    let star = on_axis(12, [true; 8]);
    let outside: usize = outside_by_role(&star).values().sum();
    // Two legs of each corner triangle, and the four flats of the octagon on the sides of the square, each split in
    // two by the point of a rhombus.
    assert_eq!(outside, 16);
    assert!(tilted(12).outside_edges(99).is_empty());
}

#[test]
fn outside_edges_make_up_the_outline() {
    for block in [tilted(9), on_axis(10, [true, false, true, false, false, true, true, false]), diagonal_half(6)] {
        let outside = block.patches().iter().enumerate().flat_map(|(i, patch)| {
            let flags = block.outside_edges(i);
            flags.into_iter().enumerate().filter(|(_, o)| *o).map(|(e, _)| patch.outline.edge(e).length().unwrap())
        });
        let sum = outside.fold(Exact::ZERO, |sum, edge| &sum + &edge);
        let around = block.base().edges().fold(Exact::ZERO, |sum, (a, b)| &sum + &(b - a).length().unwrap());
        assert_eq!(sum, around);
    }
}

//! What is recognised in a block: every family of recipes, and copies that are turned and mirrored.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;
mod drawn;

use std::collections::BTreeMap;

use cutting::methods::edges::outside_grain_with;
use cutting::methods::{
    Blank, EdgeGrain, SewnMethod, SewnUnit, SquareSize, bias_by_role, outside_grain, sewn_units, unit_blanks,
};
use cutting::{ClassBook, CutPiece, verify};
use drawn::{block, fraction, inches, pieces_of, ratio};
use geometry::{Block, Exact, Measure, Motion, Patch, PatchKey, Point, Polygon, Recipe, Size, Vector};
use layout::{BlockId, Print, Setting, Source};
use proptest::prelude::*;

const PAIRED: SewnMethod = SewnMethod::PairedSquares;
const QUARTERED: SewnMethod = SewnMethod::QuarteredPairs;
const SET: SewnMethod = SewnMethod::StripSet;
const ONTO: SewnMethod = SewnMethod::OntoStrip;

fn units_of(block: &Block) -> Vec<SewnUnit> {
    sewn_units(block, &fraction(1, 4))
}

/// What is told of a unit: how, the angle in steps of 15°, patches that are cut, how often, alternatives.
type Told = (SewnMethod, Option<i32>, usize, usize, Vec<usize>);

fn told(unit: &SewnUnit) -> Told {
    (unit.method, unit.angle.steps15(), unit.positions.len(), unit.count(), unit.alternatives.clone())
}

/// Every family, with the units that are expected of it.
fn families() -> Vec<(Recipe, Vec<Told>)> {
    let side = || Size { by: Measure::Side, length: inches(6) };
    let split = [true, false, true, true, false, true, false, true];
    let checkerboard = |n: usize| vec![(SET, Some(6), n, n, vec![1]), (SET, Some(6), n, n, vec![0])];
    vec![
        (Recipe::TiltedStar(block(12)), vec![]),
        (Recipe::OnAxisStar { size: block(12), split: [false; 8] }, vec![]),
        // Sector triangles fed along strips for the diamonds, one side of each diamond on the grain.
        (Recipe::OnAxisStar { size: block(12), split }, vec![(ONTO, Some(3), 1, 5, vec![])]),
        // Trapezoids fed along strips for the diamonds, whose hands differ from end to end.
        (
            Recipe::DiagonalHalf { size: block(12), band: None },
            vec![(ONTO, Some(3), 1, 2, vec![]), (ONTO, Some(9), 1, 2, vec![])],
        ),
        // The top triangle fed along a strip for the diamond.
        (Recipe::SixtyUnit(side()), vec![(ONTO, Some(4), 1, 1, vec![])]),
        (Recipe::SixtyTriangle(side()), vec![]),
        (Recipe::SixtyDiamond(side()), vec![]),
        (Recipe::Hexagon(side()), vec![]),
        (Recipe::HalfHexagon(side()), vec![]),
        (Recipe::Plain { width: inches(8), height: inches(5) }, vec![]),
        (Recipe::FourPatch(block(12)), checkerboard(2)),
        (Recipe::NinePatch(block(12)), checkerboard(3)),
        (Recipe::HalfSquare(block(12)), vec![(PAIRED, Some(6), 2, 1, vec![])]),
        (Recipe::QuarterSquare(block(12)), vec![(QUARTERED, Some(6), 4, 1, vec![])]),
        (Recipe::FlyingGoose(block(12)), vec![]),
        (Recipe::SquareInSquare(block(12)), vec![]),
        (Recipe::Stripes { width: inches(6), height: inches(12), count: 5 }, vec![(SET, Some(6), 5, 1, vec![])]),
        (Recipe::Stripes { width: inches(6), height: inches(12), count: 1 }, vec![]),
    ]
}

#[test]
fn every_family_is_recognised_and_nothing_else() {
    for (recipe, wanted) in families() {
        let units = units_of(&recipe.draft().unwrap());
        assert_eq!(units.iter().map(told).collect::<Vec<_>>(), wanted, "{recipe:?}");
    }
}

/// The block as patches of the user's own, carried by `motion`.
fn carried(block: &Block, motion: &Motion) -> Block {
    let patch = |p: &Patch| Patch {
        outline: motion.polygon(&p.outline),
        grain: p.grain.as_ref().map(|g| motion.vector(g)),
        ..p.clone()
    };
    Block::prove(motion.polygon(block.base()), block.patches().iter().map(patch).collect()).unwrap()
}

/// Places of a unit, their patches in order of key: which end a unit is read from may change in a mirror.
type Places = Vec<Vec<PatchKey>>;

fn places(unit: &SewnUnit) -> Places {
    let sorted = |place: &Vec<PatchKey>| {
        let mut place = place.clone();
        place.sort();
        place
    };
    let mut places: Places = unit.places.iter().map(sorted).collect();
    places.sort();
    places
}

#[test]
fn turned_and_mirrored_copies_have_the_same_units() {
    let centre = Point::new(Exact::int(5), ratio(7, 2));
    for (recipe, _) in families() {
        let drawn = recipe.draft().unwrap();
        let units = units_of(&drawn);
        let (all, where_): (Vec<Told>, Vec<Places>) =
            (units.iter().map(told).collect(), units.iter().map(places).collect());
        for steps in [0, 1, 3, 4, 6, 11, 12, 18] {
            let copy = carried(&drawn, &Motion::turn(steps, &centre));
            let found = units_of(&copy);
            assert_eq!(found.iter().map(told).collect::<Vec<_>>(), all, "{recipe:?} turned {steps}");
            assert_eq!(found.iter().map(places).collect::<Vec<_>>(), where_, "{recipe:?} turned {steps}");
            let mirror = carried(&copy, &Motion::mirror(&centre));
            let mut seen: Vec<(Told, Places)> = units_of(&mirror).iter().map(|u| (told(u), places(u))).collect();
            let mut wanted: Vec<(Told, Places)> = units.iter().map(|u| (told(&u.mirrored()), places(u))).collect();
            seen.sort();
            wanted.sort();
            assert_eq!(seen, wanted, "{recipe:?} mirrored and turned {steps}");
        }
    }
}

/// A diamond of sides `sides` × `sides` small ones, along x and at `steps` × 15°; the grain of all of them along x.
fn subdivided(sides: i32, steps: i32, small: &Exact) -> Block {
    let (right, up) = (Vector::new(small.clone(), Exact::ZERO), &Vector::unit15(steps) * small);
    let at = |i: i32, j: i32| {
        &(&Point::origin() + &(&right * &Exact::int(i64::from(i)))) + &(&up * &Exact::int(i64::from(j)))
    };
    let ring = |i: i32, j: i32, n: i32| Polygon::new(vec![at(i, j), at(i + n, j), at(i + n, j + n), at(i, j + n)]);
    let cells = (0..sides).flat_map(|j| (0..sides).map(move |i| (i, j)));
    let patches =
        (0..).zip(cells).map(|(key, (i, j))| drawn::from_outline(key, ring(i, j, 1).unwrap(), Some(right.clone())));
    Block::prove(ring(0, 0, sides).unwrap(), patches.collect()).unwrap()
}

/// Diamonds of diamonds: strips along the grain only, since the other direction would turn every patch off it.
#[test]
fn subdivided_diamonds_are_strip_sets_along_their_grain() {
    for (sides, steps) in [(2_i32, 3), (3, 3), (2, 4), (4, 4), (3, 8)] {
        let units = units_of(&subdivided(sides, steps, &ratio(5, 2)));
        let n = usize::try_from(sides).unwrap();
        assert_eq!(units.iter().map(told).collect::<Vec<_>>(), [(SET, Some(steps), n, n, vec![])]);
        let heights: Vec<_> = units[0].positions.iter().map(|p| p.finished.clone()).collect();
        let sine = Vector::unit15(steps).y;
        assert_eq!(heights, vec![Some(&sine * &ratio(5, 2)); n]);
        assert_eq!(units[0].segment, Some(&sine * &ratio(5, 2)));
    }
}

/// Every diamond of a tilted star split in four: sixteen equal pairs, two in each diamond, whichever way it points.
#[test]
fn units_that_point_eight_ways_are_one_kind() {
    let star = Recipe::TiltedStar(block(12)).draft().unwrap();
    let mut patches: Vec<Patch> = Vec::new();
    for patch in star.patches() {
        if patch.role.name() != "diamond" {
            patches.push(Patch { key: PatchKey(u32::try_from(patches.len()).unwrap()), ..patch.clone() });
            continue;
        }
        let corners: Vec<&Point> = patch.outline.corners().iter().collect();
        let middle = corners[0].midpoint(corners[2]);
        for k in 0..4 {
            let (before, after) = (corners[(k + 3) % 4], corners[(k + 1) % 4]);
            let ring =
                vec![corners[k].midpoint(before), corners[k].clone(), corners[k].midpoint(after), middle.clone()];
            let key = u32::try_from(patches.len()).unwrap();
            patches.push(drawn::from_outline(key, Polygon::new(ring).unwrap(), patch.grain.clone()));
        }
    }
    let units = units_of(&Block::prove(star.base().clone(), patches).unwrap());
    assert_eq!(units.iter().map(told).collect::<Vec<_>>(), [(SET, Some(3), 2, 16, vec![])]);
}

/// Two pairs of a wide and a narrow stripe, the second upside down: one kind, read from the wide stripe or the narrow
/// one both times.
#[test]
fn a_chain_is_the_same_from_either_end() {
    let across = Some(Vector::new(Exact::ONE, Exact::ZERO));
    let rings = [
        [(0, 0), (4, 0), (4, 2), (0, 2)],
        [(0, 2), (4, 2), (4, 3), (0, 3)],
        [(4, 0), (9, 0), (9, 3), (4, 3)],
        [(9, 0), (13, 0), (13, 1), (9, 1)],
        [(9, 1), (13, 1), (13, 3), (9, 3)],
    ];
    let patches = (0..).zip(rings).map(|(key, ring)| drawn::whole_patch(key, &ring, across.clone())).collect();
    let base = drawn::whole_patch(9, &[(0, 0), (13, 0), (13, 3), (0, 3)], None).outline;
    let units = units_of(&Block::prove(base, patches).unwrap());
    assert_eq!(units.iter().map(told).collect::<Vec<_>>(), [(SET, Some(6), 2, 2, vec![])]);
    let wide_first = units[0].places[0][0] == PatchKey(0);
    let wanted = if wide_first { [[0, 1], [4, 3]] } else { [[1, 0], [3, 4]] };
    assert_eq!(units[0].places, wanted.map(|place| place.map(PatchKey)));
    assert_eq!(units[0].positions[0].finished, Some(Exact::int(if wide_first { 2 } else { 1 })));
}

#[test]
fn a_free_grain_follows_and_a_crossed_grain_forbids() {
    let set_grain = |block: &Block, grain: Option<Vector>| {
        let patches = block.patches().iter().map(|p| Patch { grain: grain.clone(), ..p.clone() }).collect();
        Block::prove(block.base().clone(), patches).unwrap()
    };
    let diamonds = subdivided(2, 3, &Exact::int(2));
    let free: Vec<Told> = units_of(&set_grain(&diamonds, None)).iter().map(told).collect();
    assert_eq!(free.iter().map(|t| (t.0, t.2, t.3)).collect::<Vec<_>>(), [(SET, 2, 2), (SET, 2, 2)]);
    let askew = Some(Vector::unit15(1));
    for block in [diamonds, Recipe::HalfSquare(block(3)).draft().unwrap(), Recipe::NinePatch(block(9)).draft().unwrap()]
    {
        assert!(units_of(&set_grain(&block, askew.clone())).is_empty());
    }
    let along_the_long_side = Some(Vector::new(Exact::ONE, Exact::ONE));
    assert!(units_of(&set_grain(&Recipe::HalfSquare(block(3)).draft().unwrap(), along_the_long_side)).is_empty());
}

/// A small triangle whose long side is the leg of a larger one makes no square with it.
#[test]
fn unequal_triangles_are_no_half_square_unit() {
    let large = drawn::whole_patch(0, &[(0, 0), (2, 0), (1, 1)], Some(Vector::new(Exact::ONE, Exact::ONE)));
    let small = drawn::whole_patch(1, &[(0, 0), (1, 1), (0, 1)], Some(Vector::new(Exact::ONE, Exact::ZERO)));
    let base = drawn::whole_patch(9, &[(0, 0), (2, 0), (1, 1), (0, 1)], None).outline;
    for patches in [vec![large.clone(), small.clone()], vec![small, large]] {
        let units = units_of(&Block::prove(base.clone(), patches).unwrap());
        assert!(units.iter().all(|unit| unit.method != PAIRED), "{units:?}");
    }
}

/// Seams that do not meet at their ends are no chain: bricks laid with half a brick's offset.
#[test]
fn bricks_are_no_strip_set() {
    let across = Some(Vector::new(Exact::ONE, Exact::ZERO));
    let low = drawn::whole_patch(0, &[(0, 0), (4, 0), (4, 2), (0, 2)], across.clone());
    let left = drawn::whole_patch(1, &[(0, 2), (2, 2), (2, 4), (0, 4)], across.clone());
    let right = drawn::whole_patch(2, &[(2, 2), (4, 2), (4, 4), (2, 4)], across);
    let base = drawn::whole_patch(9, &[(0, 0), (4, 0), (4, 4), (0, 4)], None).outline;
    let units = units_of(&Block::prove(base, vec![low, left, right]).unwrap());
    assert_eq!(units.iter().map(told).collect::<Vec<_>>(), [(SET, Some(6), 2, 1, vec![])]);
    assert_eq!(units[0].places, [[PatchKey(1), PatchKey(2)]]);
}

/// In a quilt, as drawn and mirrored: the classes that the quilt is cut as fit the blanks of its units, whatever patch
/// of a class stands in the first place.
#[test]
fn the_pieces_of_a_quilt_fit_the_blanks_of_its_units() {
    let triangles = Setting::TriangleRows { rows: 1, columns: 1, ends: common::THIRD };
    let mut blanks_seen = 0;
    for (recipe, _) in families() {
        let setting = match recipe {
            Recipe::SixtyUnit(_) => triangles,
            Recipe::SixtyTriangle(_) | Recipe::SixtyDiamond(_) | Recipe::Hexagon(_) | Recipe::HalfHexagon(_) => {
                continue;
            }
            _ => common::straight(1, 1),
        };
        let design = common::starter(std::slice::from_ref(&recipe), setting, &[]).design().unwrap();
        let source = Source::Block(BlockId(1));
        let mut book = ClassBook::new(&design, [(source, false), (source, true)]).unwrap();
        let units = sewn_units(&design.source_block(source).unwrap(), design.seam());
        for (unit, mirrored) in units.iter().flat_map(|u| [(u.clone(), false), (u.mirrored(), true)]) {
            let mut blanks: Vec<Vec<Blank>> = Vec::new();
            for place in &unit.places {
                let piece = |key: &PatchKey| {
                    let class = book.of_patch(source, *key, mirrored, Print::Tossed).unwrap();
                    book.prepared(class, Print::Tossed).unwrap().piece().clone()
                };
                let pieces: Vec<CutPiece> = place[..unit.positions.len()].iter().map(piece).collect();
                let pieces: Vec<&CutPiece> = pieces.iter().collect();
                let found = unit_blanks(&unit, &pieces, 40 << 16, book.step(), SquareSize::Exact).unwrap();
                for (blank, piece) in found.iter().zip(pieces) {
                    let wanted = u64::try_from(blank.inner.len()).unwrap();
                    assert!(verify(blank.width, &[(piece, wanted)], &[blank.to_lay()]).is_ok(), "{recipe:?}");
                    blanks_seen += 1;
                }
                blanks.push(found);
            }
            assert!(blanks.iter().all(|found| *found == blanks[0]), "{recipe:?}: places of one unit are cut alike");
        }
    }
    assert!(blanks_seen > 50, "{blanks_seen}");
}

/// How many edges on the outline lie how: of a family as it is drawn.
#[test]
fn the_grain_of_the_edges_outside() {
    let side = || Size { by: Measure::Side, length: inches(6) };
    let rows = [
        (Recipe::TiltedStar(block(12)), 12, 0),
        (Recipe::DiagonalHalf { size: block(12), band: None }, 8, 0),
        (Recipe::QuarterSquare(block(12)), 4, 0),
        (Recipe::FlyingGoose(block(12)), 5, 0),
        (Recipe::SquareInSquare(block(12)), 8, 0),
        (Recipe::SixtyUnit(side()), 3, 3),
        (Recipe::HexagonStar { size: side(), split: [true; 6] }, 12, 0),
        (Recipe::HexagonStar { size: side(), split: [false; 6] }, 6, 0),
        (Recipe::SixtyTriangle(side()), 1, 2),
        (Recipe::Hexagon(side()), 2, 4),
        (Recipe::NinePatch(block(9)), 12, 0),
    ];
    for (recipe, straight, bias) in rows {
        let edges = outside_grain(&recipe.draft().unwrap());
        let count = |grain| edges.iter().filter(|e| e.grain == grain).count();
        assert_eq!(
            (count(EdgeGrain::Straight), count(EdgeGrain::Bias), count(EdgeGrain::Free)),
            (straight, bias, 0),
            "{recipe:?}"
        );
        assert_eq!(bias_by_role(&edges).values().sum::<usize>(), bias);
    }
    let unit = outside_grain(&Recipe::SixtyUnit(side()).draft().unwrap());
    let told: BTreeMap<String, usize> =
        bias_by_role(&unit).into_iter().map(|(role, n)| (role.to_string(), n)).collect();
    assert_eq!(told, BTreeMap::from([("diamond".to_owned(), 1), ("side triangle".to_owned(), 2)]));
}

/// Quarter-square units sewn from half-square triangles would have all four sides on the bias.
#[test]
fn another_grain_puts_the_bias_outside() {
    let quarters = Recipe::QuarterSquare(block(12)).draft().unwrap();
    let turned = outside_grain_with(&quarters, |patch| patch.grain.as_ref().map(|g| g.turned15(3)));
    assert_eq!(turned.iter().map(|e| e.grain).collect::<Vec<_>>(), [EdgeGrain::Bias; 4]);
    let free = outside_grain_with(&quarters, |_| None);
    assert_eq!(free.iter().map(|e| e.grain).collect::<Vec<_>>(), [EdgeGrain::Free; 4]);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    /// Grids of squares that are halved or left whole: every halved one is a half-square unit, and rows and columns of
    /// whole ones are strip sets.
    #[test]
    fn grids_of_halved_squares(halves in prop::collection::vec(0_u8..3, 9)) {
        let along = || Some(Vector::new(Exact::ONE, Exact::ZERO));
        let mut patches = Vec::new();
        for (cell, half) in (0_i64..).zip(&halves) {
            let (x, y) = (cell % 3 * 2, cell / 3 * 2);
            let [a, b, c, d] = [(x, y), (x + 2, y), (x + 2, y + 2), (x, y + 2)];
            let rings = match half { 0 => vec![vec![a, b, c, d]], 1 => vec![vec![a, b, c], vec![a, c, d]], _ => vec![vec![a, b, d], vec![b, c, d]] };
            for ring in rings {
                patches.push(drawn::whole_patch(u32::try_from(patches.len()).unwrap(), &ring, along()));
            }
        }
        let base = drawn::whole_patch(99, &[(0, 0), (6, 0), (6, 6), (0, 6)], None).outline;
        let block = Block::prove(base, patches).unwrap();
        let units = units_of(&block);
        let paired: usize = units.iter().filter(|u| u.method == PAIRED).map(SewnUnit::count).sum();
        prop_assert_eq!(paired, halves.iter().filter(|h| **h > 0).count());
        let whole = |row: usize, column: usize| halves[3 * row + column] == 0;
        let runs = |line: [bool; 3]| match line { [true, true, true] => 1, [true, true, _] | [_, true, true] => 1, _ => 0_usize };
        let wanted: usize = (0..3).map(|k| runs([0, 1, 2].map(|j| whole(k, j))) + runs([0, 1, 2].map(|j| whole(j, k)))).sum();
        let sets: Vec<&SewnUnit> = units.iter().filter(|u| u.method == SET).collect();
        prop_assert_eq!(sets.iter().map(|u| u.count()).sum::<usize>(), wanted);
        for unit in &units {
            let mut cut: Vec<PatchKey> = unit.cut_patches().collect();
            cut.sort();
            let all = cut.len();
            cut.dedup();
            prop_assert_eq!(cut.len(), all, "a patch is cut twice");
            prop_assert_eq!(pieces_of(&block, unit, &fraction(1, 4), cutting::Freedom::NONE).len(), unit.positions.len());
            let others = |o: &usize| units[*o].cut_patches().any(|p| cut.contains(&p));
            prop_assert!(unit.alternatives.iter().all(others));
        }
    }
}

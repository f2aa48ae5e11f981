//! Dog ears: trimmed against the mate so that raw edges end together, and never into the finished patch.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::*;
use geometry::cut::{CutOutline, CutShape, OffsetLine};
use geometry::dog_ear::trimmed_outline;
use geometry::lay::UNITS_PER_INCH;
use geometry::{Block, Exact, Measure, Polygon, Recipe, Vector};
use proptest::prelude::*;

fn quarter() -> Exact {
    frac(1, 4)
}

/// Index of the first patch with this role.
fn first(block: &Block, role: &str) -> usize {
    block.patches().iter().position(|patch| patch.role.name() == role).unwrap()
}

fn tilted_star() -> Block {
    Recipe::TiltedStar(block_side(12)).draft().unwrap()
}

#[test]
fn diamond_against_the_background_square() {
    // The first diamond of a 12 in tilted star lies along the x axis: from the centre (6, 6), 6 in long in x, since
    // s(1 + √2/2) = 6. The square beside its outer tip meets the seam, which runs along x, at a right angle. Laid
    // over the diamond, its raw edge is upright, ¼ in beyond the finished tip. The inner tip lies between equal
    // diamonds and keeps its mitre, which reaches ¼(1+√2) = 0.6036 in to the left.
    let star = tilted_star();
    let outline = trimmed_outline(&star, 0, &quarter()).unwrap();
    assert_eq!(outline.lines().len(), 5, "one corner is trimmed");
    let diamond = &star.patches()[0].outline;
    let upright = outline.lines().iter().find(|line| line.normal.y.is_zero()).unwrap();
    assert!(upright.normal.x.is_positive());
    assert_eq!(&upright.through + &diamond.corner(0).to_vector(), diamond.corner(2).to_vector());
    assert_eq!(upright.distance, quarter());
    let along = x_axis();
    let trimmed = CutShape::new(diamond, outline, &along).unwrap();
    let mitred = CutShape::mitred(diamond, &vec![quarter(); 4], &along).unwrap();
    let width = |cut: &CutShape| cut.outline().bounds().width() as f64 / UNITS_PER_INCH as f64;
    let close = |value: f64, inches: f64| assert!((0.0..1e-4).contains(&(value - inches)), "{value} is not {inches}");
    close(width(&trimmed), 6.0 + 0.25 + 0.25 * (1.0 + 2_f64.sqrt()) - 1e-9);
    close(width(&mitred), 6.0 + 0.5 * (1.0 + 2_f64.sqrt()) - 1e-9);
    assert_eq!(trimmed.outline().bounds().height(), mitred.outline().bounds().height(), "the strip stays");
}

#[test]
fn equal_mates_trim_nothing() {
    let side = |by| sized(by, &inches(6));
    let rows = [
        ("half-square triangles", Recipe::HalfSquare(block_side(3)), "half-square triangle", 2),
        ("quarter-square triangles", Recipe::QuarterSquare(block_side(3)), "quarter-square triangle", 4),
        ("squares", Recipe::FourPatch(block_side(6)), "square", 4),
        ("stripes", Recipe::Stripes { width: inches(4), height: inches(6), count: 3 }, "stripe", 3),
        ("a lone hexagon", Recipe::Hexagon(side(Measure::Side)), "hexagon", 1),
        // 67.5° against 67.5° of the next sector, and against 45° of the sharper corner triangle.
        ("sectors", Recipe::OnAxisStar { size: block_side(12), split: NO_SPLIT }, "sector", 8),
    ];
    for (what, recipe, role, expected) in rows {
        let block = recipe.draft().unwrap();
        let count = block.patches().iter().filter(|patch| patch.role.name() == role).count();
        assert_eq!(count, expected, "{what}");
        for (i, patch) in block.patches().iter().enumerate().filter(|(_, patch)| patch.role.name() == role) {
            let trimmed = trimmed_outline(&block, i, &quarter()).unwrap();
            assert_eq!(trimmed, CutOutline::mitred(&patch.outline, &even(&patch.outline)).unwrap(), "{what}");
        }
    }
}

#[test]
fn background_triangle_meets_a_diamond_of_its_own_angle() {
    // 45° against 45° at both outer tips: nothing to trim there. The right angle is set into the 135° corners of
    // two diamonds, whose raw edges both run at 45° over it: one trim line.
    let star = tilted_star();
    let index = first(&star, "background triangle");
    let triangle = &star.patches()[index].outline;
    let outline = trimmed_outline(&star, index, &quarter()).unwrap();
    assert_eq!(outline.lines().len(), 4);
    let mitred = CutOutline::mitred(triangle, &even(triangle)).unwrap();
    let extra: Vec<&OffsetLine> = outline.lines().iter().filter(|line| !mitred.lines().contains(line)).collect();
    let [line] = extra[..] else { panic!("{} extra lines", extra.len()) };
    let long_side = (0..3).map(|i| triangle.edge(i)).max_by_key(Vector::length_squared).unwrap();
    assert!(line.normal.dot(&long_side).is_zero(), "parallel to the long side");
    let right_angle = (0..3).find(|i| (triangle.corner(*i) - triangle.corner(0)) == line.through).unwrap();
    assert!(triangle.edge(right_angle).dot(&triangle.edge(right_angle + 2)).is_zero());
}

#[test]
fn the_order_of_the_patches_does_not_matter() {
    // A tip at the origin between two wider mates: walked
    // counter-clockwise, the tip is reached along the edge from (3, 6), so it is trimmed against the mate there.
    let tip = ring(&[(0, 0), (6, 3), (3, 6)]);
    let low = ring(&[(0, 0), (6, -6), (6, 3)]);
    let high = ring(&[(0, 0), (3, 6), (-6, 6)]);
    let base = ring(&[(6, -6), (6, 3), (3, 6), (-6, 6)]);
    let trimmed = |order: [&Polygon; 3]| {
        let patches = (0..).zip(order).map(|(key, outline)| patch(key, outline.clone())).collect();
        let block = Block::prove(base.clone(), patches).unwrap();
        let index = order.iter().position(|outline| **outline == tip).unwrap();
        trimmed_outline(&block, index, &quarter()).unwrap()
    };
    let outline = trimmed([&tip, &low, &high]);
    assert_eq!(outline.lines().len(), 4);
    for order in [[&tip, &high, &low], [&high, &tip, &low], [&low, &high, &tip]] {
        assert_eq!(trimmed(order), outline);
    }
    let mirrored = p(-6, 6).reflected(&p(0, 0), &p(3, 6)).unwrap();
    assert!(outline.lines().iter().any(|line| line.normal.dot(&mirrored.to_vector()).is_zero()));
}

fn even(polygon: &Polygon) -> Vec<Exact> {
    vec![quarter(); polygon.corners().len()]
}

/// The trimmed shape lies within the mitred one and keeps the full allowance round the finished patch.
fn check_trim(block: &Block, index: usize) -> Result<(), TestCaseError> {
    let finished = &block.patches()[index].outline;
    let outline = trimmed_outline(block, index, &quarter()).unwrap();
    let mitred = CutOutline::mitred(finished, &even(finished)).unwrap();
    for line in mitred.lines() {
        prop_assert!(outline.lines().contains(line), "a trim replaces no edge");
    }
    for line in outline.lines() {
        prop_assert_eq!(&line.distance, &quarter());
        for p in finished.corners() {
            let beyond = line.normal.dot(&(&(p - finished.corner(0)) + &-&line.through));
            prop_assert!(!beyond.is_positive(), "a trim stays ¼ in away from every finished corner");
        }
    }
    let cut = CutShape::new(finished, outline, &finished.edge(0)).unwrap();
    prop_assert!(cut.covers_cut_shape());
    prop_assert!(cut.outline().is_simple() && cut.outline().is_convex());
    Ok(())
}

/// The ends of the raw edge beside the edge from corner `edge`, along the edge, in inches from its first corner.
fn raw_edge(finished: &Polygon, outline: &CutOutline, edge: usize) -> [f64; 2] {
    let lines = outline.lines();
    let own = CutOutline::mitred(finished, &even(finished)).unwrap().lines()[edge].clone();
    let at = lines.iter().position(|line| *line == own).unwrap();
    let direction = finished.edge(edge);
    let unit = [direction.x.to_f64(), direction.y.to_f64()].map(|v| v / length_f64(&direction));
    let n = [unit[1], -unit[0]];
    [at + lines.len() - 1, at + 1].map(|neighbour| {
        let line = &lines[neighbour % lines.len()];
        let length = length_f64(&line.normal);
        let (x, y) = (line.normal.x.to_f64() / length, line.normal.y.to_f64() / length);
        let through = [&line.through.x - &own.through.x, &line.through.y - &own.through.y].map(|v| v.to_f64());
        // The raw edge is t·unit + ¼·n; where it meets the neighbour.
        let offset = x * through[0] + y * through[1] + 0.25;
        (offset - 0.25 * (x * n[0] + y * n[1])) / (x * unit[0] + y * unit[1])
    })
}

/// A convex polygon with whole corners and four to six sides, in two along a diagonal.
fn two_mates() -> impl Strategy<Value = [Polygon; 3]> {
    let on_ring = prop::sample::subsequence(
        vec![(8, 0), (7, 4), (4, 7), (0, 8), (-4, 7), (-7, 3), (-8, -1), (-5, -6), (0, -8), (5, -6)],
        4..=6,
    );
    (on_ring, 2..=4_usize).prop_filter_map("a diagonal", |(ring_corners, split)| {
        let split = split.min(ring_corners.len() - 2);
        let mut far = ring_corners[split..].to_vec();
        far.push(ring_corners[0]);
        let polygons = [ring_corners.clone(), ring_corners[..=split].to_vec(), far];
        Some(polygons.map(|corners| ring(&corners)))
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn raw_edges_end_together([base, near, far] in two_mates()) {
        let block = Block::prove(base, vec![patch(0, near.clone()), patch(1, far.clone())]).unwrap();
        let outlines = [0, 1].map(|i| trimmed_outline(&block, i, &quarter()).unwrap());
        let seam = &block.seams()[0];
        let edge = |polygon: &Polygon| {
            (0..polygon.corners().len())
                .find(|i| [&seam.from, &seam.to].iter().all(|end| {
                    *end == polygon.corner(*i) || *end == polygon.corner(i + 1)
                }))
                .unwrap()
        };
        let ours = raw_edge(&near, &outlines[0], edge(&near));
        let theirs = raw_edge(&far, &outlines[1], edge(&far));
        let length = length_f64(&(&seam.to - &seam.from));
        // Walked the other way round, the mate's raw edge begins where ours ends.
        prop_assert!((ours[0] - (length - theirs[1])).abs() < 1e-9, "{ours:?} and {theirs:?} of {length}");
        prop_assert!((ours[1] - (length - theirs[0])).abs() < 1e-9, "{ours:?} and {theirs:?} of {length}");
        check_trim(&block, 0)?;
        check_trim(&block, 1)?;
    }

    #[test]
    fn every_recipe_trims_within_its_mitre(length in any_length()) {
        prop_assume!(*length.inches() > Exact::int(2));
        for (recipe, _) in all_recipes(&length) {
            let block = recipe.draft().unwrap();
            for index in 0..block.patches().len() {
                check_trim(&block, index)?;
            }
        }
    }
}

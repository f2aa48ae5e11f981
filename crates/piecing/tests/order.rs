//! Orders of sewing of the blocks of the library.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use std::sync::Arc;

use geometry::{Length, Measure, Recipe, Size};
use piecing::{Making, SeamTree, order_of_sewing};

fn sized(inches: i64) -> Size {
    Size { by: Measure::Block, length: Length::whole_inches(inches).unwrap() }
}

fn tree(recipe: &Recipe) -> SeamTree {
    order_of_sewing(&Arc::new(recipe.draft().unwrap())).unwrap()
}

/// Each step as (parts, copies).
fn steps(tree: &SeamTree) -> Vec<(usize, usize)> {
    let parts = |step: &piecing::Step| match &tree.unit(step.units[0]).making {
        Making::Sewn { parts, .. } => parts.len(),
        Making::Cut(_) => 0,
    };
    tree.steps().iter().map(|step| (parts(step), step.units.len())).collect()
}

#[test]
fn blocks_of_the_library_are_sewn_in_few_steps() {
    let check = |recipe: Recipe, pivots: usize, wanted: &[(usize, usize)]| {
        let tree = tree(&recipe);
        assert_eq!((tree.pivots().found, steps(&tree).as_slice()), (pivots, wanted), "{recipe:?}");
    };
    check(Recipe::FourPatch(sized(6)), 0, &[(2, 2), (2, 1)]);
    check(Recipe::NinePatch(sized(6)), 0, &[(3, 3), (3, 1)]);
    check(Recipe::HalfSquare(sized(6)), 0, &[(2, 1)]);
    check(Recipe::QuarterSquare(sized(6)), 0, &[(2, 2), (2, 1)]);
    // Two bands of three pieces; then triangle, band, band, triangle.
    check(Recipe::DiagonalHalf { size: sized(6), band: None }, 0, &[(3, 2), (4, 1)]);
    // The four corner triangles are sewn on in one step.
    check(Recipe::SquareInSquare(sized(12)), 0, &[(5, 1)]);
    check(Recipe::SixtyUnit(Size { by: Measure::Side, length: Length::whole_inches(6).unwrap() }), 0, &[(3, 1)]);
}

#[test]
fn the_star_with_points_on_the_axes_has_straight_seams_only_and_the_tilted_one_eight_pivots() {
    let axis = tree(&Recipe::OnAxisStar { size: sized(12), split: [true; 8] });
    assert_eq!(axis.pivots().found, 0);
    assert!(axis.stuck().is_empty());
    assert_eq!(steps(&axis)[0], (3, 8), "a sector is a diamond between two triangles");
    let tilted = tree(&Recipe::TiltedStar(sized(12)));
    assert_eq!((tilted.pivots().at_least, tilted.pivots().found), (8, 8));
    // Diamonds in pairs, pairs in halves, the star; then four triangles, or squares, are set in, then the others.
    assert_eq!(steps(&tilted), [(2, 4), (2, 2), (2, 1), (5, 1), (5, 1)]);
    assert_eq!(tilted.stuck(), [tilted.graph().all()], "no straight seam divides it");
}

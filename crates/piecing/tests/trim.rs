//! Trims of the library's blocks.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use std::sync::Arc;

use geometry::{Block, Exact, Length, Measure, Recipe, Size};
use piecing::{CuttingHand, Guide, PatchSet, SeamGraph, Trim, outline_of, trims};

fn sized(inches: i64) -> Size {
    Size { by: Measure::Block, length: Length::whole_inches(inches).unwrap() }
}

fn quarter() -> Length {
    Length::inch_fraction(1, 4).unwrap()
}

fn graph(recipe: &Recipe) -> SeamGraph {
    SeamGraph::new(Arc::new(recipe.draft().unwrap())).unwrap()
}

fn with_role(block: &Block, role: &str) -> PatchSet {
    let patches = block.patches().iter().enumerate();
    patches.filter(|(_, patch)| patch.role.name() == role).map(|(i, _)| i).collect()
}

/// Trimmed to exactly 6½ × 6½ in with ¼ in seams: common practice, no source.
#[test]
fn a_diagonal_half_block_of_six_inches_is_trimmed_to_six_and_a_half() {
    let graph = graph(&Recipe::DiagonalHalf { size: sized(6), band: None });
    let all = trims(&graph, &[graph.all()], &quarter());
    let [trim] = all.as_slice() else { unreachable!("one unit is trimmed") };
    let side = Exact::ratio(13, 2).unwrap();
    assert_eq!(trim.rectangle(), Some((side.clone(), side)));
    assert_eq!(trim.edges.len(), 4);
    // The diamonds' seams beside the band stand at 45° to the side; the seam between the halves runs into the corner.
    let slants = |edge: &piecing::TrimmedEdge| {
        let slanted = |g: &Guide| matches!(g, Guide::Slanted { degrees, .. } if (degrees - 45.0).abs() < 1e-9);
        edge.guides.iter().filter(|g| slanted(g)).count()
    };
    assert!(trim.edges.iter().all(|edge| slants(edge) == 2), "{:?}", trim.edges);
}

fn lengths(trim: &Trim) -> Vec<usize> {
    trim.edges.iter().map(|e| e.edge).collect()
}

#[test]
fn an_on_axis_star_is_trimmed_sector_by_sector_then_octagon_then_square() {
    let graph = graph(&Recipe::OnAxisStar { size: sized(12), split: [true; 8] });
    let block = Arc::clone(graph.block());
    let octagon = graph.all().without(&with_role(&block, "corner triangle"));
    // A sector is a diamond and the two triangles that follow it in the drawing.
    let sectors = (0..8).map(|k| (3 * k..3 * k + 3).collect::<PatchSet>());
    let mut units: Vec<PatchSet> = sectors.collect();
    units.extend([octagon, graph.all()]);
    let trims = trims(&graph, &units, &quarter());
    let counts: Vec<usize> = trims.iter().map(|trim| trim.edges.len()).collect();
    // The two long sides of each sector; then the four slanting edges of the octagon, whose others lie on the block's own
    // sides and are cut with these.
    assert_eq!(counts, [2, 2, 2, 2, 2, 2, 2, 2, 4, 4]);
    let square = Exact::ratio(25, 2).unwrap();
    assert_eq!(trims[9].rectangle(), Some((square.clone(), square.clone())));
    // Across flats: 12 in and two allowances.
    for (_, _, across) in trims[8].across() {
        assert_eq!(across.exact(), Some(square.clone()));
    }
    assert_eq!(trims[8].across().len(), 4);
}

#[test]
fn both_hands_cut_every_edge_once() {
    let graph = graph(&Recipe::NinePatch(sized(9)));
    let trim = &trims(&graph, &[graph.all()], &quarter())[0];
    for hand in [CuttingHand::Right, CuttingHand::Left] {
        let mut cut: Vec<usize> = trim.holds(hand).iter().flat_map(|hold| hold.edges.clone()).collect();
        assert_eq!(trim.holds(hand).len(), 2, "turned once");
        cut.sort_unstable();
        assert_eq!(cut, lengths(trim));
    }
    // The seams of a nine-patch of 3 in squares: 3¼ in and 6¼ in from a trimmed edge.
    for edge in &trim.edges {
        let parallel = edge.guides.iter().filter_map(|g| match g {
            Guide::Parallel { distance, .. } => distance.exact(),
            _ => None,
        });
        let wanted = [25, 13].map(|quarters| Exact::ratio(quarters, 4).unwrap());
        assert_eq!(parallel.collect::<Vec<_>>(), wanted);
    }
}

#[test]
fn the_outline_of_all_patches_is_the_blocks() {
    for recipe in [
        Recipe::TiltedStar(sized(12)),
        Recipe::OnAxisStar { size: sized(12), split: [true; 8] },
        Recipe::DiagonalHalf { size: sized(6), band: None },
        Recipe::FlyingGoose(sized(4)),
        Recipe::SquareInSquare(sized(5)),
    ] {
        let graph = graph(&recipe);
        assert!(outline_of(&graph, &graph.all()).unwrap().same_outline(graph.block().base()), "{recipe:?}");
    }
    // A ring of patches round one that is missing has no single outline.
    let graph = graph(&Recipe::NinePatch(sized(9)));
    let middle = (0..9).find(|&i| graph.around(i).len() == 4).unwrap();
    assert_eq!(outline_of(&graph, &graph.all().without(&PatchSet::one(middle))), None);
}

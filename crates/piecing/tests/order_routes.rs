//! Routes: by way of a centre, and with extra seams instead of set-in ones.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod order_common;

use std::sync::Arc;

use geometry::{Length, Measure, Recipe, Size};
use order_common::check_tree;
use piecing::{PatchSet, PiecingError, Route, RouteKind, centred_units, order_of_sewing_with, routes};

fn star(axis: bool) -> Vec<Route> {
    let size = Size { by: Measure::Block, length: Length::whole_inches(12).unwrap() };
    let recipe = if axis { Recipe::OnAxisStar { size, split: [true; 8] } } else { Recipe::TiltedStar(size) };
    routes(&Arc::new(recipe.draft().unwrap())).unwrap()
}

fn copies(route: &Route) -> Vec<(usize, usize)> {
    let tree = &route.tree;
    tree.steps().iter().map(|step| (tree.unit(step.units[0]).patches.len(), step.units.len())).collect()
}

#[test]
fn the_tilted_star_is_sewn_straight_once_eight_background_patches_are_halved() {
    let routes = star(false);
    let route = routes.last().unwrap();
    let seams = match &route.what {
        RouteKind::Recut { seams } => seams.as_slice(),
        _ => &[],
    };
    check_tree(&route.tree, "re-cut star");
    assert_eq!((seams.len(), route.block.patches().len(), route.tree.pivots().found), (8, 24, 0));
    let units = route.tree.steps();
    let halves: Vec<_> = units.iter().filter(|s| route.tree.unit(s.units[0]).patches.len() == 3).collect();
    assert_eq!(halves.iter().map(|step| step.units.len()).collect::<Vec<_>>(), [4, 4], "{:?}", copies(route));
    assert_eq!(halves[0].mirror, Some(halves[1].class), "four of either hand");
    assert_eq!(halves[1].mirror, Some(halves[0].class));
}

#[test]
fn the_star_with_points_on_the_axes_has_its_octagon_first() {
    let routes = star(true);
    let centre = |route: &&Route| matches!(&route.what, RouteKind::CentreFirst { centre } if centre.len() == 24);
    let route = routes.iter().find(centre).unwrap();
    check_tree(&route.tree, "centre first");
    let steps = copies(route);
    assert!(steps.contains(&(3, 8)) && steps.contains(&(24, 1)), "eight sectors, one octagon: {steps:?}");
    assert_eq!(steps.last(), Some(&(28, 1)), "then the four corners");
    assert!(!routes.iter().any(|route| matches!(route.what, RouteKind::Recut { .. })), "nothing is set in");
    let units: Vec<usize> = centred_units(route.tree.graph()).iter().map(PatchSet::len).collect();
    assert!(units.contains(&3) && units.contains(&24), "{units:?}");
}

#[test]
fn units_asked_for_are_made_or_refused() {
    let nine = Recipe::NinePatch(Size { by: Measure::Block, length: Length::whole_inches(9).unwrap() });
    let block = Arc::new(nine.draft().unwrap());
    let order = |units: &[&[usize]]| {
        let wanted: Vec<PatchSet> = units.iter().map(|unit| unit.iter().copied().collect()).collect();
        let tree = order_of_sewing_with(&block, &wanted)?;
        check_tree(&tree, "nine-patch");
        assert!(wanted.iter().all(|unit| tree.units().iter().any(|made| made.patches == *unit)));
        Ok(tree.pivots().found)
    };
    assert_eq!(order(&[&[0, 1, 3, 4]]), Ok(0), "a four-patch in the corner, the others round it");
    assert_eq!(order(&[&[0, 3, 6], &[1, 2]]), Ok(0), "a column, and a pair beside it");
    assert!(order(&[&[0, 1, 3]]).unwrap() > 0, "an angle has to be set in");
    assert!(matches!(order(&[&[0, 1], &[1, 2]]), Err(PiecingError::Cross { .. })));
    assert!(matches!(order(&[&[0, 8]]), Err(PiecingError::NoUnit { .. })));
    assert!(
        matches!(order(&[&[0, 1, 2, 3, 5, 6, 7, 8]]), Err(PiecingError::NoOrder { .. })),
        "a ring closes on nothing"
    );
}

//! Whole tops: quilts in every kind of setting, and the proof of a top patch by patch.

use geometry::{Exact, Point, Polygon, Value, prove_tiling};
use layout::{BlockId, Design, Edit, Halves, PlaceId, apply};

use super::{FIT_WIDTH, edited, half_block, inches, on_point, own_recipe, pieced, sashing, starter, straight};

/// How many there are of [`quilts`].
pub(crate) const QUILTS: usize = 12;

/// Quilts on point and with sashing.
pub(super) fn set_quilts() -> [Design; 5] {
    let blocks = [half_block(12), own_recipe()];
    let pointed = starter(&blocks, on_point(3, 2), &[2]).design().unwrap();
    let straight = starter(&blocks, straight(2, 3), &[2, 1]).design().unwrap();
    let strips = |cornerstones, outer| Edit::SetSashing(Some(sashing(inches(2), cornerstones, outer)));
    [
        edited(&pointed, &[Edit::SetFloat(Some(inches(1)))]),
        edited(&pointed, &[strips(true, true)]),
        edited(&straight, &[strips(true, false)]),
        edited(&straight, &[strips(false, true)]),
        edited(&straight, &[Edit::SetBorders(vec![pieced(FIT_WIDTH, BlockId(1), BlockId(2))])]),
    ]
}

/// Turns and mirrors every cell in another way, as far as its turns allow.
pub(crate) fn jumbled(design: &Design) -> Design {
    let mut next = design.clone();
    let places: Vec<PlaceId> = design.places().map(|(id, _)| id).collect();
    for (place, i) in places.into_iter().zip(0_u8..) {
        let turn = (0..4)
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

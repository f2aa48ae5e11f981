//! Congruence: the same class after any turn and move, the mirror class after a mirror, and no other merges.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::*;
use geometry::{Exact, Motion, Point, Polygon, Recipe, ShapeClass, Vector};
use proptest::prelude::*;

/// A shape with its grain and a note for each edge.
#[derive(Debug, Clone)]
struct Shape {
    outline: Polygon,
    grain: Option<Vector>,
    notes: Vec<Exact>,
}

impl Shape {
    fn class(&self) -> ShapeClass {
        ShapeClass::of(&self.outline, self.grain.as_ref(), &self.notes)
    }

    /// Sent through `map`, which keeps the turning sense.
    fn moved(&self, map: impl Fn(&Vector) -> Vector, shift: &Vector) -> Self {
        let point = |p: &Point| &Point::origin() + &(&map(&p.to_vector()) + shift);
        let outline = Polygon::new(self.outline.corners().iter().map(point).collect()).unwrap();
        Self { outline, grain: self.grain.as_ref().map(map), notes: self.notes.clone() }
    }

    /// The same outline begun at another corner.
    fn begun_at(&self, start: usize) -> Self {
        let mut corners = self.outline.corners().to_vec();
        let mut notes = self.notes.clone();
        let n = corners.len();
        corners.rotate_left(start % n);
        notes.rotate_left(start % n);
        Self { outline: Polygon::new(corners).unwrap(), grain: self.grain.clone(), notes }
    }

    /// Mirrored in the upright axis.
    fn mirrored(&self) -> Self {
        let flip = |v: &Vector| Vector::new(-&v.x, v.y.clone());
        let corners = self.outline.corners().iter().map(|p| &Point::origin() + &flip(&p.to_vector()));
        // Listed backwards: corner n−1−i, and the edge that leaves it led from corner n−2−i.
        let corners: Vec<Point> = corners.rev().collect();
        let mut notes = self.notes.clone();
        notes.reverse();
        notes.rotate_left(1);
        Self { outline: Polygon::new(corners).unwrap(), grain: self.grain.as_ref().map(flip), notes }
    }
}

/// Turned by the angle with this rational sine and cosine, worked out here from (a, b, c) with a² + b² = c².
fn pythagorean(v: &Vector, (a, b, c): (i64, i64, i64)) -> Vector {
    assert_eq!(a * a + b * b, c * c);
    let (cos, sin) = (frac(a, c), frac(b, c));
    Vector::new(&(&v.x * &cos) - &(&v.y * &sin), &(&v.x * &sin) + &(&v.y * &cos))
}

fn any_shape() -> impl Strategy<Value = Shape> {
    let radii = prop::collection::vec((1..=30_i64, 0..=2_i64, 1..=4_i64), 3..=7);
    let grain = prop::option::of((-9..=9_i64, 1..=9_i64));
    (radii, grain).prop_filter_map("simple", |(radii, grain)| {
        let n = i32::try_from(radii.len()).unwrap();
        let corner = |(k, (whole, root, _)): (i32, &(i64, i64, i64))| {
            let radius = Exact::int(*whole) + Exact::sqrt3().scale_int(*root);
            &Point::origin() + &(&Vector::unit15(k * 24 / n) * &radius)
        };
        let outline = Polygon::new((0..).zip(&radii).map(corner).collect()).ok()?;
        let notes: Vec<Exact> = radii.iter().map(|(_, _, note)| frac(*note, 4)).collect();
        let grain = grain.map(|(x, y)| Vector::new(Exact::int(x), Exact::int(y)));
        (outline.corners().len() == notes.len()).then_some(Shape { outline, grain, notes })
    })
}

const TURNS: [(i64, i64, i64); 5] = [(3, 4, 5), (5, 12, 13), (-8, 15, 17), (-20, -21, 29), (9999, -200, 10001)];

proptest! {
    #[test]
    fn the_class_survives_any_motion(
        shape in any_shape(),
        steps in 0..24_i32,
        turn in prop::sample::select(&TURNS[..]),
        (dx, dy) in (-99..99_i64, -99..99_i64),
        start in 0..9_usize,
    ) {
        let class = shape.class();
        let shift = Vector::new(frac(dx, 7), Exact::sqrt6() * frac(dy, 3));
        prop_assert_eq!(&shape.begun_at(start).class(), &class);
        prop_assert_eq!(&shape.moved(|v| v.turned15(steps), &shift).class(), &class);
        let turned = shape.moved(|v| pythagorean(v, turn), &shift);
        prop_assert_eq!(&turned.class(), &class);
        prop_assert_eq!(&turned.moved(|v| v.turned15(steps), &shift).begun_at(start).class(), &class);
        // Grain has neither arrow nor length, and may run lengthwise or crosswise; half way between is bias.
        let grain = shape.grain.as_ref().map(|g| g.left() * &Exact::int(-3));
        prop_assert_eq!(&Shape { grain, ..shape.clone() }.class(), &class);
        let bias = shape.grain.as_ref().map(|g| g.turned15(3));
        prop_assert_eq!(Shape { grain: bias, ..shape.clone() }.class() == class, shape.grain.is_none());
    }

    #[test]
    fn the_mirror_class_is_that_of_the_mirror_image(shape in any_shape(), turn in prop::sample::select(&TURNS[..])) {
        let still = Vector::new(Exact::ZERO, Exact::ZERO);
        let image = shape.mirrored().moved(|v| pythagorean(v, turn), &still);
        prop_assert_eq!(image.class(), shape.class().mirrored());
        prop_assert_eq!(shape.class().mirrored().mirrored(), shape.class());
        prop_assert_eq!(image.class().either_hand(), shape.class().either_hand());
        prop_assert_eq!(shape.class().is_mirror_symmetric(), image.class() == shape.class());
    }

    #[test]
    fn other_shapes_never_merge(shape in any_shape(), corner in 0..9_usize, power in 1..=60_usize) {
        // Nearer than any float tells apart: (√2 − 1)^60 is 1e-23.
        let hair = (0..power).fold(Exact::ONE, |x, _| x * (Exact::sqrt2() - Exact::ONE));
        let mut corners = shape.outline.corners().to_vec();
        let k = corner % corners.len();
        let n = corners.len();
        // Along an edge the one leaving it gets shorter, and no other motion can undo that.
        corners[k] = corners[k].along(&corners[(k + 1) % n], &hair.half());
        prop_assume!(Polygon::new(corners.clone()).is_ok_and(|polygon| polygon.corners().len() == n));
        let bent = Shape { outline: Polygon::new(corners).unwrap(), ..shape.clone() };
        prop_assert_ne!(bent.outline.area(), shape.outline.area());
        prop_assert_ne!(bent.class().either_hand(), shape.class().either_hand());
        let mut notes = shape.notes.clone();
        notes[k] += &hair;
        prop_assert_ne!(Shape { notes, ..shape.clone() }.class().either_hand(), shape.class().either_hand());
    }
}

/// The first 45° diamond of a tilted star, which lies along the x axis.
fn diamond() -> Polygon {
    Recipe::TiltedStar(block_side(12)).draft().unwrap().patches()[0].outline.clone()
}

#[test]
fn a_diamond_with_grain_along_a_side_has_two_hands() {
    let outline = diamond();
    let class = |grain: Vector| ShapeClass::of(&outline, Some(&grain), &[]);
    let (one, other) = (class(outline.edge(0)), class(outline.edge(1)));
    assert_ne!(one, other);
    assert_eq!(one.mirrored(), other);
    assert!(!one.is_mirror_symmetric());
    assert_eq!(one.clone().either_hand(), other.either_hand());
    // Along or across its long diagonal, or with the grain free, a diamond is its own mirror image.
    let long = outline.corner(2) - outline.corner(0);
    assert!(class(long.clone()).is_mirror_symmetric());
    assert!(class(long.left()).is_mirror_symmetric());
    assert_eq!(class(long.clone()), class(long.left()), "lengthwise and crosswise grain are both straight grain");
    assert!(ShapeClass::of(&outline, None, &[]).is_mirror_symmetric());
    assert_ne!(ShapeClass::of(&outline, None, &[]), class(long));
}

#[test]
fn a_bump_is_no_notch() {
    // The same edges and the same right angles in the same order; only the sense of four turns differs.
    let bump = ring(&[(0, 0), (6, 0), (6, 3), (4, 3), (4, 4), (2, 4), (2, 3), (0, 3)]);
    let notch = ring(&[(0, 0), (6, 0), (6, 3), (4, 3), (4, 2), (2, 2), (2, 3), (0, 3)]);
    let class = |outline: &Polygon| ShapeClass::of(outline, None, &[]).either_hand();
    assert_ne!(class(&bump), class(&notch));
}

#[test]
fn patches_of_a_star_share_classes() {
    // In the drawing: 8 diamonds with grain along a side of one hand, 4 squares, 4 triangles.
    let star = Recipe::TiltedStar(block_side(12)).draft().unwrap();
    let class = |patch: &geometry::Patch| ShapeClass::of(&patch.outline, patch.grain.as_ref(), &[]);
    let classes: std::collections::BTreeSet<_> = star.patches().iter().map(class).collect();
    assert_eq!(classes.len(), 3);
    // The two triangles of a split sector have two sides as long as the diamond's: one class, its own mirror image.
    let on_axis = Recipe::OnAxisStar { size: block_side(12), split: ALL_SPLIT }.draft().unwrap();
    let triangles = on_axis.patches().iter().filter(|patch| patch.role.name() == "sector triangle").map(class);
    let classes: std::collections::BTreeSet<_> = triangles.collect();
    assert_eq!(classes.len(), 1);
    assert!(classes.iter().all(ShapeClass::is_mirror_symmetric));
}

#[test]
fn motions_carry_patches_to_their_class() {
    let outline = diamond();
    let centre = Point::new(frac(7, 3), Exact::sqrt3());
    let grain = outline.edge(0);
    let class = ShapeClass::of(&outline, Some(&grain), &[]);
    for steps in -24..=24 {
        let turn = Motion::turn(steps, &centre);
        assert_eq!(turn.point(&centre), centre);
        assert_eq!(ShapeClass::of(&turn.polygon(&outline), Some(&turn.vector(&grain)), &[]), class);
        let flipped = turn.then(&Motion::mirror(&centre)).then(&Motion::shift(grain.clone()));
        assert!(flipped.is_mirrored());
        let image = flipped.polygon(&outline);
        assert_eq!(ShapeClass::of(&image, Some(&flipped.vector(&grain)), &[]), class.mirrored());
        assert!(image.area().is_positive(), "still counter-clockwise");
        // One after the other is the same as both at once.
        let step_by_step = &Motion::mirror(&centre).point(&turn.point(outline.corner(1))) + &grain;
        assert_eq!(flipped.point(outline.corner(1)), step_by_step);
        assert_eq!(turn.then(&Motion::turn(-steps, &centre)), Motion::still());
        assert_eq!(flipped.then(&turn).point(&centre), turn.point(&flipped.point(&centre)));
    }
    let mirror = Motion::mirror(&p(3, 5));
    assert_eq!(mirror.point(&p(1, 7)), p(5, 7));
    assert_eq!(mirror.then(&mirror), Motion::still());
}

//! Blocks to test orders of sewing with, and a check of a tree that trusts nothing of the search.
#![allow(clippy::unwrap_used, dead_code, reason = "a failed unwrap is a failed test; each test uses its part")]

use std::sync::Arc;

use geometry::{
    Block, Exact, Length, Measure, Patch, PatchKey, Point, Polygon, Recipe, Role, ShapeClass, Size, Tone, Value,
    Vector, meet,
};
use piecing::{Making, PatchSet, SeamTree};

pub(crate) fn ratio(num: i64, den: i64) -> Exact {
    Exact::ratio(num, den).unwrap()
}

pub(crate) fn point(x: i64, y: i64) -> Point {
    Point::new(Exact::int(x), Exact::int(y))
}

pub(crate) fn polygon(corners: &[(i64, i64)]) -> Polygon {
    Polygon::new(corners.iter().map(|&(x, y)| point(x, y)).collect()).unwrap()
}

pub(crate) fn block(base: &Polygon, outlines: &[Polygon]) -> Block {
    let role = Role::new("piece").unwrap();
    let patch = |(key, outline): (u32, &Polygon)| Patch {
        key: PatchKey(key),
        outline: outline.clone(),
        role: role.clone(),
        tone: Tone::Own(Value::Light),
        grain: None,
    };
    Block::prove(base.clone(), (0..).zip(outlines).map(patch).collect()).unwrap()
}

/// Every family of the library, once.
pub(crate) fn library() -> Vec<Recipe> {
    let inches = |n| Length::whole_inches(n).unwrap();
    let sized = |n| Size { by: Measure::Block, length: inches(n) };
    let sided = |n| Size { by: Measure::Side, length: inches(n) };
    vec![
        Recipe::TiltedStar(sized(12)),
        Recipe::OnAxisStar { size: sized(12), split: [true; 8] },
        Recipe::OnAxisStar { size: sized(12), split: [true, false, true, true, false, false, true, true] },
        Recipe::DiagonalHalf { size: sized(6), band: None },
        Recipe::DiagonalHalf { size: sized(6), band: Some(inches(1)) },
        Recipe::SixtyUnit(sided(6)),
        Recipe::SixtyTriangle(sided(3)),
        Recipe::SixtyDiamond(sided(3)),
        Recipe::Hexagon(sided(2)),
        Recipe::HalfHexagon(sided(2)),
        Recipe::HexagonStar { size: sided(4), split: [true; 6] },
        Recipe::HexagonStar { size: sided(4), split: [true, false, true, true, false, false] },
        Recipe::Plain { width: inches(3), height: inches(5) },
        Recipe::FourPatch(sized(6)),
        Recipe::NinePatch(sized(6)),
        Recipe::HalfSquare(sized(6)),
        Recipe::QuarterSquare(sized(6)),
        Recipe::FlyingGoose(sized(6)),
        Recipe::SquareInSquare(sized(6)),
        Recipe::Stripes { width: inches(6), height: inches(6), count: 5 },
    ]
}

/// Seeded numbers (SplitMix64), so that every run tests the same blocks.
pub(crate) struct Seeded(pub(crate) u64);

impl Seeded {
    pub(crate) fn below(&mut self, bound: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        usize::try_from((z ^ (z >> 31)) % u64::try_from(bound).unwrap()).unwrap()
    }
}

/// A random drafted block of at most `most` patches: straight cuts, lines through many patches, patches taken apart like
/// a pinwheel or a mitred frame; on a square, a rectangle, a hexagon, or an L that is not convex.
pub(crate) fn drafted(seed: u64, most: usize) -> Block {
    let mut random = Seeded(seed);
    let base = match random.below(4) {
        0 => polygon(&[(0, 0), (12, 0), (12, 12), (0, 12)]),
        1 => polygon(&[(0, 0), (16, 0), (16, 9), (0, 9)]),
        2 => polygon(&[(4, 0), (12, 0), (16, 6), (12, 12), (4, 12), (0, 6)]),
        _ => polygon(&[(0, 0), (12, 0), (12, 6), (6, 6), (6, 12), (0, 12)]),
    };
    let mut pieces = vec![base.clone()];
    if !base.is_convex() {
        pieces = vec![polygon(&[(0, 0), (12, 0), (12, 6), (0, 6)]), polygon(&[(0, 6), (6, 6), (6, 12), (0, 12)])];
    }
    let wanted = 2 + random.below(most - 1);
    let mut fruitless = 0;
    while pieces.len() < wanted && fruitless < 40 {
        let at = random.below(pieces.len());
        let how = random.below(8);
        let (p, q) = chord(if how == 2 { &base } else { &pieces[at] }, &mut random);
        let change = |(i, piece): (usize, &Polygon)| match how {
            0 if i == at => pinwheel(piece),
            1 if i == at => frame(piece),
            2 => cut(piece, &p, &q),
            3.. if i == at => cut(piece, &p, &q),
            _ => vec![piece.clone()],
        };
        let changed: Vec<Polygon> = pieces.iter().enumerate().flat_map(change).collect();
        let too_fine = changed.iter().flat_map(Polygon::corners).any(|p| p.x.bits() > 100 || p.y.bits() > 100);
        if p == q || too_fine || changed.len() > wanted || changed.len() == pieces.len() {
            fruitless += 1;
        } else {
            pieces = changed;
        }
    }
    block(&base, &pieces)
}

/// Two points on different edges.
fn chord(piece: &Polygon, random: &mut Seeded) -> (Point, Point) {
    let n = piece.corners().len();
    let (first, gap) = (random.below(n), 1 + random.below(n - 1));
    let mut on = |edge: usize| {
        let den = 2 + random.below(3);
        let part = random.below(den);
        piece
            .corner(edge)
            .along(piece.corner(edge + 1), &ratio(i64::try_from(part).unwrap(), i64::try_from(den).unwrap()))
    };
    (on(first), on(first + gap))
}

/// A convex piece cut along the line through two points; whole if the line misses it.
fn cut(piece: &Polygon, p: &Point, q: &Point) -> Vec<Polygon> {
    let direction = q - p;
    let side = |c: &Point| direction.cross(&(c - p)).signum();
    let (mut left, mut right) = (Vec::new(), Vec::new());
    for (a, b) in piece.edges() {
        let (at, next) = (side(a), side(b));
        if at >= 0 {
            left.push(a.clone());
        }
        if at <= 0 {
            right.push(a.clone());
        }
        if at * next < 0 {
            let x = meet(a, &(b - a), p, &direction).unwrap();
            left.push(x.clone());
            right.push(x);
        }
    }
    match (Polygon::new(left), Polygon::new(right)) {
        (Ok(left), Ok(right)) => vec![left, right],
        _ => vec![piece.clone()],
    }
}

/// A convex piece taken apart by seams from each corner to the seam from the next one.
fn pinwheel(piece: &Polygon) -> Vec<Polygon> {
    let n = piece.corners().len();
    let seam = |i: usize| {
        let to = piece.corner(i + 1).along(piece.corner(i + 2), &ratio(1, 3));
        (piece.corner(i).clone(), &to - piece.corner(i))
    };
    let crossing = |i: usize| {
        let ((p, u), (q, v)) = (seam(i % n), seam((i + 1) % n));
        meet(&p, &u, &q, &v).unwrap()
    };
    let inner: Vec<Point> = (0..n).map(crossing).collect();
    let outer = (0..n).map(|i| vec![piece.corner(i).clone(), piece.corner(i + 1).clone(), inner[i].clone()]);
    outer.chain([inner.clone()]).map(|ring| Polygon::new(ring).unwrap()).collect()
}

/// A convex piece as a smaller one in a frame with mitred corners.
fn frame(piece: &Polygon) -> Vec<Polygon> {
    let n = piece.corners().len();
    let middle = piece.corner(0).midpoint(piece.corner(n / 2));
    let inner: Vec<Point> = piece.corners().iter().map(|c| c.midpoint(&middle)).collect();
    if piece.place(&middle) != geometry::Place::Inside {
        return vec![piece.clone()];
    }
    let side = |i: usize| {
        let next = (i + 1) % n;
        vec![piece.corner(i).clone(), piece.corner(next).clone(), inner[next].clone(), inner[i].clone()]
    };
    (0..n).map(side).chain([inner.clone()]).map(|ring| Polygon::new(ring).unwrap()).collect()
}

/// Checks a whole tree: units are the disjoint unions of their parts, seams the whole shared edges of what they join,
/// pivots as counted, and units of one class carried to each other by a motion that turns nothing over.
pub(crate) fn check_tree(tree: &SeamTree, label: &str) {
    let mut pivots = 0;
    for unit in tree.units() {
        let Making::Sewn { parts, seams } = &unit.making else {
            assert_eq!(unit.making, Making::Cut(unit.patches.iter().next().unwrap()), "{label}");
            continue;
        };
        assert_eq!(seams.len() + 1, parts.len(), "{label}");
        let mut sewn = tree.unit(parts[0]).patches;
        for (part, seam) in parts[1..].iter().zip(seams) {
            let part = tree.unit(*part).patches;
            assert!(sewn.common(&part).is_empty(), "{label}: a patch is sewn twice");
            assert_eq!((seam.left, seam.right), (sewn, part), "{label}");
            check_seam(tree, &seam.path, &sewn, &part, label);
            assert_eq!(seam.line.is_some(), seam.path.len() == 2, "{label}");
            pivots += seam.path.len() - 2;
            sewn = sewn.union(&part);
        }
        assert_eq!(sewn, unit.patches, "{label}");
    }
    assert_eq!(tree.unit(tree.root()).patches, tree.graph().all(), "{label}");
    assert_eq!(tree.pivots().found, pivots, "{label}");
    assert!(tree.pivots().at_least <= pivots, "{label}");
    assert_eq!(tree.stuck().is_empty(), pivots == 0, "{label}: a set-in seam has a stuck region as its reason");
    check_classes(tree, label);
}

/// The path goes along the whole shared edge of both sides, bends at each of its inner points, and meets none twice.
fn check_seam(tree: &SeamTree, path: &[usize], left: &PatchSet, right: &PatchSet, label: &str) {
    let graph = tree.graph();
    let at = |i: usize| &graph.points()[i];
    let mut shared: Vec<(usize, usize)> = Vec::new();
    for s in graph.stretches() {
        if left.contains(s.left) && right.contains(s.right) {
            shared.push((s.low, s.high));
        } else if left.contains(s.right) && right.contains(s.left) {
            shared.push((s.high, s.low));
        }
    }
    for pair in path.windows(2) {
        let mut here = pair[0];
        let along = at(pair[1]) - at(pair[0]);
        while here != pair[1] {
            let next = shared.iter().position(|s| s.0 == here);
            assert!(next.is_some(), "{label}: the seam has a gap");
            let (from, to) = shared.swap_remove(next.unwrap());
            let step = at(to) - at(from);
            assert!(
                along.cross(&step).is_zero() && along.dot(&step).is_positive(),
                "{label}: the seam leaves its line"
            );
            here = to;
        }
    }
    assert!(shared.is_empty(), "{label}: the sides share more than the seam");
    let bend = |three: &[usize]| !(at(three[1]) - at(three[0])).cross(&(at(three[2]) - at(three[1]))).is_zero();
    assert!(path.windows(3).all(bend), "{label}");
}

fn check_classes(tree: &SeamTree, label: &str) {
    let mean = |patch: usize| {
        let corners = tree.graph().block().patches()[patch].outline.corners();
        let sum = corners.iter().fold(Vector::new(Exact::ZERO, Exact::ZERO), |sum, p| &sum + &p.to_vector());
        &sum * &ratio(1, i64::try_from(corners.len()).unwrap())
    };
    let shape = |patch: usize| ShapeClass::of(&tree.graph().block().patches()[patch].outline, None, &[]);
    let making = |unit: &piecing::Unit| match &unit.making {
        Making::Sewn { parts, .. } => parts.iter().map(|part| tree.unit(*part).class).collect(),
        Making::Cut(_) => Vec::new(),
    };
    for step in tree.steps() {
        let first = tree.unit(step.units[0]);
        assert_ne!(step.mirror, Some(step.class), "{label}");
        for &id in &step.units[1..] {
            let unit = tree.unit(id);
            assert_eq!(making(unit), making(first), "{label}: units of one kind are made alike");
            let pairs: Vec<(usize, usize)> = first.order.iter().copied().zip(unit.order.iter().copied()).collect();
            assert!(pairs.iter().all(|&(a, b)| shape(a) == shape(b)), "{label}");
            let from = |pair: &(usize, usize)| {
                let (a, b) = (&mean(pair.0) + &-&mean(pairs[0].0), &mean(pair.1) + &-&mean(pairs[0].1));
                (a, b)
            };
            let moved: Vec<(Vector, Vector)> = pairs.iter().map(from).collect();
            let edge = &moved[1];
            let same = |(a, b): &(Vector, Vector)| edge.0.dot(a) == edge.1.dot(b) && edge.0.cross(a) == edge.1.cross(b);
            assert!(moved.iter().all(same), "{label}: units of one kind are carried to each other without a mirror");
        }
    }
}

/// What the steps are, in numbers that no copy of the block changes.
pub(crate) fn signature(tree: &SeamTree) -> Vec<(usize, usize, usize, Vec<usize>, bool)> {
    let of_step = |step: &piecing::Step| {
        let unit = tree.unit(step.units[0]);
        let Making::Sewn { parts, seams } = &unit.making else { return (1, 0, 0, Vec::new(), false) };
        let mut bends: Vec<usize> = seams.iter().map(piecing::Join::pivots).collect();
        bends.sort_unstable();
        (unit.patches.len(), step.units.len(), parts.len(), bends, step.mirror.is_some())
    };
    let mut steps: Vec<_> = tree.steps().iter().map(of_step).collect();
    steps.sort_unstable();
    steps
}

pub(crate) fn plan(block: Block) -> SeamTree {
    piecing::order_of_sewing(&Arc::new(block)).unwrap()
}

/// The blocks of all sample quilts.
pub(crate) fn sample_blocks() -> Vec<Block> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../sample-quilts");
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|ending| ending == "json"));
    files.sort();
    let mut blocks = Vec::new();
    for file in files {
        for variant in layout::file::Document::open(&file).unwrap().variants() {
            blocks.extend(variant.design.blocks().map(|(_, def)| Block::clone(def.block())));
        }
    }
    blocks
}

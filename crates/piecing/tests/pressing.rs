//! Pressing of single blocks.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use std::sync::Arc;

use geometry::{
    Block, Exact, Length, Measure, Motion, Patch, PatchKey, Point, Polygon, Recipe, Role, Size, Tone, Value, Vector,
};
use piecing::pressing::{Demand, Meeting, Toward};
use piecing::{Pressing, PressingWishes, SeamTree, order_of_sewing, press_block};
use proptest::prelude::*;

fn sized(inches: i64) -> Size {
    Size { by: Measure::Block, length: Length::whole_inches(inches).unwrap() }
}

fn polygon(corners: &[(i64, i64)]) -> Polygon {
    Polygon::new(corners.iter().map(|&(x, y)| Point::new(Exact::int(x), Exact::int(y))).collect()).unwrap()
}

fn own(base: &[(i64, i64)], patches: &[&[(i64, i64)]]) -> Block {
    let patch = |(key, corners): (u32, &&[(i64, i64)])| Patch {
        key: PatchKey(key),
        outline: polygon(corners),
        role: Role::new("patch").unwrap(),
        tone: Tone::Own(Value::Medium),
        grain: None,
    };
    Block::prove(polygon(base), (0..).zip(patches).map(patch).collect()).unwrap()
}

/// Four half-square units, their diagonals meeting in the middle.
fn pinwheel() -> Block {
    let square = [(0, 0), (4, 0), (4, 4), (0, 4)];
    own(
        &square,
        &[
            &[(2, 2), (0, 0), (2, 0)],
            &[(2, 2), (2, 0), (4, 0)],
            &[(2, 2), (4, 0), (4, 2)],
            &[(2, 2), (4, 2), (4, 4)],
            &[(2, 2), (4, 4), (2, 4)],
            &[(2, 2), (2, 4), (0, 4)],
            &[(2, 2), (0, 4), (0, 2)],
            &[(2, 2), (0, 2), (0, 0)],
        ],
    )
}

/// A triangle on the middles of a triangle, and that again, its outer corners halved towards the inner corners: about
/// the three corners of the innermost triangle seams meet from both sides of a straight seam.
fn triangles_in_triangles() -> Block {
    own(
        &[(0, 0), (16, 0), (0, 16)],
        &[
            &[(4, 4), (8, 4), (4, 8)],
            &[(8, 0), (8, 4), (4, 4)],
            &[(8, 8), (4, 8), (8, 4)],
            &[(0, 8), (4, 4), (4, 8)],
            &[(0, 0), (8, 0), (4, 4)],
            &[(0, 0), (4, 4), (0, 8)],
            &[(16, 0), (8, 8), (8, 4)],
            &[(16, 0), (8, 4), (8, 0)],
            &[(0, 16), (0, 8), (4, 8)],
            &[(0, 16), (4, 8), (8, 8)],
        ],
    )
}

fn tree_of(block: Block) -> SeamTree {
    order_of_sewing(&Arc::new(block)).unwrap()
}

fn drafted(recipe: &Recipe) -> SeamTree {
    tree_of(recipe.draft().unwrap())
}

fn star(tilted: bool) -> SeamTree {
    let split = [true; 8];
    drafted(&if tilted { Recipe::TiltedStar(sized(12)) } else { Recipe::OnAxisStar { size: sized(12), split } })
}

/// Whether a segment is pressed counter-clockwise as seen from one of its ends.
fn turns(pressing: &Pressing, segment: usize, point: usize) -> Option<bool> {
    let outward = pressing.segments[segment].from == point;
    match pressing.toward[segment] {
        Toward::Left => Some(outward),
        Toward::Right => Some(!outward),
        Toward::Open => None,
    }
}

fn middle(tree: &SeamTree) -> usize {
    let (low, high) = tree.graph().block().base().bounds();
    let middle = low.midpoint(&high);
    tree.graph().points().iter().position(|p| *p == middle).unwrap()
}

fn at(pressing: &Pressing, point: usize) -> Vec<&Meeting> {
    pressing.meetings.iter().filter(|m| m.point == point).collect()
}

#[test]
fn blocks_that_can_nest_do_so() {
    // (block, releases, meetings)
    let check = |tree: &SeamTree, releases: usize, meetings: usize| {
        let pressing = press_block(tree, &PressingWishes::default());
        assert!(pressing.unnested.is_least() && pressing.releases.is_least() && pressing.unspun.is_least());
        let found = (pressing.unnested.found, pressing.unspun.found, pressing.releases.found, pressing.meetings.len());
        assert_eq!(found, (0, 0, releases, meetings), "{:?}", tree.graph().block());
        assert!(pressing.conflicts.iter().all(|conflict| !conflict.is_about_nesting()));
        assert!(!pressing.toward.contains(&Toward::Open));
    };
    check(&drafted(&Recipe::FourPatch(sized(6))), 0, 1);
    check(&drafted(&Recipe::NinePatch(sized(6))), 0, 4);
    check(&drafted(&Recipe::QuarterSquare(sized(6))), 0, 1);
    check(&drafted(&Recipe::HalfSquare(sized(6))), 0, 0);
    check(&drafted(&Recipe::FlyingGoose(sized(6))), 0, 0);
    // Four half-square units, two pairs, joined by a seam that is released since eight patches meet.
    let pinwheel = tree_of(pinwheel());
    assert_eq!(pinwheel.steps().iter().map(|step| step.units.len()).collect::<Vec<_>>(), [4, 2, 1]);
    check(&pinwheel, 1, 3);
    // Eight places where the triangles of neighbouring sectors meet, and the centre.
    check(&star(false), 1, 9);
}

#[test]
fn a_star_nests_pressed_one_way_round_with_its_last_seam_released() {
    for tilted in [false, true] {
        let tree = star(tilted);
        let pressing = press_block(&tree, &PressingWishes::default());
        let centre = middle(&tree);
        let meetings = at(&pressing, centre);
        // The last seam runs through the centre; all others end there.
        let last = meetings.iter().find(|m| m.spins).unwrap();
        assert!(last.released && meetings.iter().all(|m| m.nested), "{meetings:?}");
        let round: Vec<bool> = (0..pressing.segments.len())
            .filter(|&s| pressing.segments[s].from == centre || pressing.segments[s].to == centre)
            .map(|s| turns(&pressing, s, centre).unwrap())
            .collect();
        assert_eq!(round.len(), 8);
        assert!(round.iter().all(|way| *way == round[0]));
        // Eight seams an eighth turn apart, each over a quarter turn: two of them lie on each other on every patch.
        assert_eq!(pressing.layers[centre], 5);
        // Without that wish nothing has to be released.
        let flat = press_block(&tree, &PressingWishes { spin_from: usize::MAX, ..PressingWishes::default() });
        assert_eq!((flat.unnested.found, flat.releases.found), (0, 0));
        assert!(at(&flat, centre).iter().all(|m| m.nested && !m.released));
    }
}

#[test]
fn an_odd_cycle_of_meetings_is_told_with_its_proof() {
    let tree = tree_of(triangles_in_triangles());
    assert_eq!(tree.pivots().found, 0);
    let pressing = press_block(&tree, &PressingWishes::default());
    assert_eq!((pressing.unnested.at_least, pressing.unnested.found), (1, 1), "{pressing:#?}");
    let proof: Vec<_> = pressing.conflicts.iter().filter(|c| c.is_about_nesting()).collect();
    assert_eq!(proof.len(), 1);
    assert_odd(&pressing, &proof[0].links);
}

/// Goes round a conflict and finds that it contradicts itself: what it demands of the second segment follows from the
/// first, and so on, and at last the first one would have to be pressed to its other side.
fn assert_odd(pressing: &Pressing, links: &[(usize, Demand)]) {
    let outward = |segment: usize, point: usize| pressing.segments[segment].from == point;
    let mut turned = false;
    for (i, &(segment, demand)) in links.iter().enumerate() {
        let next = links[(i + 1) % links.len()].0;
        let nest = if let Demand::Nest(meeting) = demand { Some(meeting) } else { None };
        let meeting = nest.unwrap();
        let point = pressing.meetings[meeting].point;
        assert!(pressing.meetings[meeting].segments.contains(&segment));
        assert!(pressing.meetings[meeting].segments.contains(&next));
        turned ^= outward(segment, point) != outward(next, point);
    }
    assert!(turned, "{links:?}");
}

/// Costs of directions, counted from the pictures of the meetings alone.
fn costs(pressing: &Pressing, left: &[bool], spin_from: usize, tree: &SeamTree) -> [usize; 3] {
    let turn = |segment: usize, point: usize| left[segment] == (pressing.segments[segment].from == point);
    let mut costs = [0; 3];
    for meeting in &pressing.meetings {
        let point = meeting.point;
        let ways: Vec<bool> = meeting.segments.iter().map(|&s| turn(s, point)).collect();
        let one_way = ways.iter().all(|w| *w == ways[0]);
        costs[0] += usize::from(!one_way);
        let own: Vec<usize> = (0..left.len())
            .filter(|&s| {
                let segment = &pressing.segments[s];
                let here = segment.from == point || segment.to == point;
                here && segment.unit == meeting.unit && segment.seam == meeting.seam
            })
            .collect();
        if let [a, b] = own[..] {
            costs[2] += usize::from(left[a] != left[b]);
            let around = tree.graph().stretches().iter().filter(|s| s.low == point || s.high == point).count();
            let all = one_way && turn(a, point) == ways[0] && turn(b, point) == ways[0];
            costs[1] += usize::from(around >= spin_from && !all);
        }
    }
    costs
}

/// Compares with every way to press the block.
fn assert_least(tree: &SeamTree, spin_from: usize) {
    let wishes = PressingWishes { spin_from, ..PressingWishes::default() };
    let pressing = press_block(tree, &wishes);
    let count = pressing.segments.len();
    assert!(count <= 16, "{count} segments");
    let found = [pressing.unnested.found, pressing.unspun.found, pressing.releases.found];
    let bits = |way: u32| -> Vec<bool> { (0..count).map(|s| way >> s & 1 == 1).collect() };
    let least = (0..1_u32 << count).map(|way| costs(&pressing, &bits(way), spin_from, tree)).min().unwrap();
    assert_eq!(found, least);
    assert!(pressing.unnested.is_least() && pressing.unspun.is_least() && pressing.releases.is_least());
}

#[test]
fn every_way_to_press_some_blocks_is_tried() {
    for spin_from in [4, 6, usize::MAX] {
        for recipe in [
            Recipe::FourPatch(sized(6)),
            Recipe::NinePatch(sized(6)),
            Recipe::SquareInSquare(sized(6)),
            Recipe::DiagonalHalf { size: sized(6), band: None },
        ] {
            assert_least(&drafted(&recipe), spin_from);
        }
        assert_least(&tree_of(pinwheel()), spin_from);
        assert_least(&tree_of(triangles_in_triangles()), spin_from);
    }
}

/// A square cut by straight seams again and again, as far as the random numbers say: each part along a line between
/// two points of its outline.
fn cut_up(numbers: &[(u8, u8, u8)]) -> Block {
    let mut parts = vec![polygon(&[(0, 0), (240, 0), (240, 240), (0, 240)])];
    for &(part, from, to) in numbers {
        let part = usize::from(part) % parts.len();
        let outline = parts[part].clone();
        let marks: Vec<Point> = outline.edges().flat_map(|(a, b)| [a.clone(), a.midpoint(b)]).collect();
        let (a, b) = (usize::from(from) % marks.len(), usize::from(to) % marks.len());
        let (a, b) = (a.min(b), a.max(b));
        let near = Polygon::new(marks[a..=b].to_vec());
        let far = Polygon::new(marks[b..].iter().chain(&marks[..=a]).cloned().collect());
        if let (Ok(near), Ok(far)) = (near, far) {
            parts[part] = near;
            parts.push(far);
        }
    }
    let role = Role::new("patch").unwrap();
    let patch = |(key, outline): (u32, Polygon)| Patch {
        key: PatchKey(key),
        outline,
        role: role.clone(),
        tone: Tone::Own(Value::Medium),
        grain: None,
    };
    let base = polygon(&[(0, 0), (240, 0), (240, 240), (0, 240)]);
    Block::prove(base, (0..).zip(parts).map(patch).collect()).unwrap()
}

fn moved(block: &Block, motion: &Motion) -> Block {
    let patches = block.patches().iter().map(|p| Patch { outline: motion.polygon(&p.outline), ..p.clone() }).collect();
    Block::prove(motion.polygon(block.base()), patches).unwrap()
}

/// Each seam of a pressed block as (patches on the left, on the right, pressed toward), sides in order.
fn seen(pressing: &Pressing) -> Vec<(piecing::PatchSet, piecing::PatchSet, Toward)> {
    let mut seen: Vec<_> = pressing
        .segments
        .iter()
        .zip(&pressing.toward)
        .map(|(s, &t)| if s.left < s.right { (s.left, s.right, t) } else { (s.right, s.left, t.reversed()) })
        .collect();
    seen.sort_unstable();
    seen
}

fn units(tree: &SeamTree) -> std::collections::BTreeSet<piecing::PatchSet> {
    tree.units().iter().map(|unit| unit.patches).collect()
}

#[test]
fn turned_and_mirrored_blocks_are_pressed_turned_and_mirrored() {
    let motions = [
        Motion::turn(6, &Point::origin()),
        Motion::turn(3, &Point::new(Exact::int(5), Exact::int(-2))),
        Motion::mirror(&Point::origin()),
        Motion::shift(Vector::new(Exact::ratio(1, 3).unwrap(), Exact::ONE)),
    ];
    let values = |patch: usize| Some(Value::ALL[patch * 7 % 3]);
    let blocks = [
        pinwheel(),
        triangles_in_triangles(),
        Recipe::NinePatch(sized(6)).draft().unwrap(),
        Recipe::OnAxisStar { size: sized(12), split: [true; 8] }.draft().unwrap(),
    ];
    let mut compared = 0;
    for block in &blocks {
        for motion in &motions {
            let wishes = PressingWishes { value: &values, ..PressingWishes::default() };
            let (tree, other) = (tree_of(block.clone()), tree_of(moved(block, motion)));
            let (a, b) = (press_block(&tree, &wishes), press_block(&other, &wishes));
            assert_eq!((a.unnested, a.unspun, a.releases), (b.unnested, b.unspun, b.releases));
            // Where several orders of sewing are as good, the turned block may be sewn in another one.
            if units(&tree) == units(&other) {
                assert_eq!(seen(&a), seen(&b), "{motion:?}");
                compared += 1;
            }
        }
    }
    assert!(compared >= 8, "{compared} were sewn in the same order");
}

#[test]
fn copies_are_pressed_alike_and_seams_to_the_dark() {
    // Pairs of triangles: the second like the first.
    let dark = |patch: usize| Some(if patch.is_multiple_of(2) { Value::Dark } else { Value::Light });
    let wishes = PressingWishes { value: &dark, ..PressingWishes::default() };
    let tree = drafted(&Recipe::QuarterSquare(sized(6)));
    let pressing = press_block(&tree, &wishes);
    let units = &tree.steps()[0].units;
    assert_eq!(units.len(), 2);
    for unit in units {
        assert_eq!(pressing.like[unit.0], units[0]);
        let (segment, toward) = pressing.seam(*unit, 0).next().unwrap();
        let side = if toward == Toward::Left { segment.left } else { segment.right };
        assert!(side.iter().all(|patch| dark(patch) == Some(Value::Dark)));
    }
    // Rows of a nine-patch are the same turned about, unless values tell them apart.
    let tree = drafted(&Recipe::NinePatch(sized(6)));
    let rows = tree.steps()[0].units.clone();
    let ways = |pressing: &Pressing| rows.iter().map(|row| pressing.like[row.0]).collect::<Vec<_>>();
    assert_eq!(ways(&press_block(&tree, &PressingWishes::default())), [rows[0]; 3]);
    let pressing = press_block(&tree, &wishes);
    assert_eq!(ways(&pressing), [rows[0], rows[1], rows[0]]);
    for row in &rows {
        for (seam, (segment, toward)) in (0..2).flat_map(|k| pressing.seam(*row, k)).enumerate() {
            let side = if toward == Toward::Left { segment.left } else { segment.right };
            assert!(side.iter().all(|patch| dark(patch) == Some(Value::Dark)), "seam {seam}");
        }
    }
}

#[test]
fn layers_of_a_four_patch_are_counted() {
    let tree = drafted(&Recipe::FourPatch(sized(6)));
    let centre = middle(&tree);
    // Nested and the last seam to one side: a quarter has its face, one short seam and the last seam: 1 + 2 + 2.
    let pressing = press_block(&tree, &PressingWishes::default());
    assert_eq!((pressing.layers[centre], pressing.releases.found), (5, 0));
    assert_eq!(pressing.thickest(), Some((centre, 5)));
    // Spun: each quarter has its face and one seam.
    let spun = press_block(&tree, &PressingWishes { spin_from: 4, ..PressingWishes::default() });
    assert_eq!((spun.layers[centre], spun.releases.found), (3, 1));
    // A seam by itself: one face and two allowances.
    let half = press_block(&drafted(&Recipe::HalfSquare(sized(6))), &PressingWishes::default());
    assert_eq!(half.layers, [3, 3]);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn no_way_to_press_a_random_block_is_better(
        numbers in prop::collection::vec(any::<(u8, u8, u8)>(), 3..9), spin in 4_usize..7
    ) {
        let tree = tree_of(cut_up(&numbers));
        assert_least(&tree, spin);
    }

    #[test]
    fn a_random_block_is_pressed_the_same_every_time(
        numbers in prop::collection::vec(any::<(u8, u8, u8)>(), 3..40)
    ) {
        let block = cut_up(&numbers);
        let tree = tree_of(block.clone());
        let pressing = press_block(&tree, &PressingWishes::default());
        prop_assert_eq!(&pressing, &press_block(&tree_of(block.clone()), &PressingWishes::default()));
        let reversed = pressing.clone().reversed(&tree).reversed(&tree);
        prop_assert_eq!(&pressing, &reversed);
        let mirrored = press_block(&tree_of(moved(&block, &Motion::mirror(&Point::origin()))), &PressingWishes::default());
        prop_assert!(pressing.unnested.is_least() && mirrored.unnested.is_least());
        for conflict in pressing.conflicts.iter().filter(|c| c.is_about_nesting()) {
            assert_odd(&pressing, &conflict.links);
        }
    }
}

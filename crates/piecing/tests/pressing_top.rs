//! Pressing of whole quilt tops.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use geometry::{Length, Measure, Point, Recipe, Size, Value};
use layout::file::Document;
use layout::{
    BlockId, Colour, ColourScheme, Design, Edit, FabricId, PlaceId, Setting, Side, Source, Starter, Units, apply,
};
use piecing::pressing::Toward;
use piecing::pressing::top::{Why, press_top};
use piecing::{BlockPlans, Pressing, PressingWishes, SeamTree, TopPressing, order_of_sewing, plan_blocks, press_block};
use proptest::prelude::*;

type Plans = BTreeMap<BlockId, (SeamTree, Pressing)>;

const STEPS: u64 = 2_000_000;

fn sized(by: Measure, inches: i64) -> Size {
    Size { by, length: Length::whole_inches(inches).unwrap() }
}

fn block(inches: i64) -> Size {
    sized(Measure::Block, inches)
}

const fn cell(row: u16, column: u16) -> PlaceId {
    PlaceId::Cell { row, column }
}

fn quilt(blocks: &[Recipe], setting: Setting) -> Design {
    let fabric = |name: &str, colour: &str, value| (name.to_owned(), Colour::parse(colour).unwrap(), value);
    Starter {
        name: "Test quilt".to_owned(),
        units: Units::Inches,
        fabrics: vec![fabric("Moss", "#33402a", Value::Dark), fabric("Chalk", "#f2eee2", Value::Light)],
        blocks: (1..).zip(blocks).map(|(i, recipe)| (format!("Block {i}"), recipe.clone())).collect(),
        scheme: ColourScheme::Two { dark: FabricId(1), light: FabricId(2) },
        setting,
        borders: vec![(Length::whole_inches(2).unwrap(), FabricId(1))],
        binding: FabricId(2),
    }
    .design()
    .unwrap()
}

const fn straight(rows: u16, columns: u16) -> Setting {
    Setting::Straight { rows, columns }
}

fn plans(design: &Design) -> Plans {
    let plan = |block: &layout::BlockDef| {
        let tree = order_of_sewing(block.block()).unwrap();
        let pressing = press_block(&tree, &PressingWishes::default());
        (tree, pressing)
    };
    design.blocks().map(|(id, block)| (id, plan(block))).collect()
}

fn pressed(design: &Design) -> TopPressing {
    press_top(design, &plans(design), STEPS).unwrap()
}

/// A seam that ends at a point: its row, its number in the row (that of a seam between two places is between theirs),
/// and whether it is pressed counter-clockwise about the point.
struct Ray {
    at: Point,
    row: u16,
    number: f64,
    turn: bool,
}

/// The row of a place and its number in the row.
fn numbered(design: &Design, place: PlaceId) -> Option<(u16, f64)> {
    match place {
        PlaceId::Cell { row, column } => Some((row, column.into())),
        PlaceId::RowEnd { row, side: Side::Left } => Some((row, -1.0)),
        PlaceId::RowEnd { row, .. } => Some((row, design.setting().size().1.into())),
        _ => None,
    }
}

/// Seams that end on outlines, drawn in the frame of the top and compared there: the slow way to look at a top.
fn rays(design: &Design, plans: &Plans, reversed: &BTreeSet<PlaceId>, rows: &[Side]) -> Vec<Ray> {
    let top = design.top().unwrap();
    let mut rays = Vec::new();
    let centre = |placed: &layout::Placed| placed.motion.point(&placed.block.base().witness());
    let mut push = |row, number, from: &Point, to: &Point, toward: &Point| {
        for (at, other) in [(from, to), (to, from)] {
            let turn = (other - at).cross(&(toward - at)).is_positive();
            rays.push(Ray { at: at.clone(), row, number, turn });
        }
    };
    for placed in &top.placed {
        let Some((row, number)) = numbered(design, placed.place) else { continue };
        if let Source::Block(id) = placed.source {
            let (tree, pressing) = &plans[&id];
            for (segment, toward) in pressing.segments.iter().zip(&pressing.toward) {
                let left = (*toward == Toward::Left) != reversed.contains(&placed.place);
                let side = if left { segment.left } else { segment.right };
                let toward = placed.block.patches()[side.iter().next().unwrap()].outline.witness();
                let points = [segment.from, segment.to].map(|p| placed.motion.point(&tree.graph().points()[p]));
                push(row, number, &points[0], &points[1], &placed.motion.point(&toward));
            }
        }
        let is_next = |other: &&layout::Placed| numbered(design, other.place) == Some((row, number + 1.0));
        if let Some(next) = top.placed.iter().find(is_next) {
            let (a, b) = (placed.motion.polygon(placed.block.base()), next.motion.polygon(next.block.base()));
            let shared = |(from, to): &(&Point, &Point)| b.corners().contains(from) && b.corners().contains(to);
            let (from, to) = a.edges().find(shared).unwrap();
            let toward = if rows[usize::from(row)] == Side::Right { centre(next) } else { centre(placed) };
            push(row, number + 0.5, from, to, &toward);
        }
    }
    rays
}

/// Counts the meetings that do not nest, point by point.
fn unnested(design: &Design, rays: &[Ray]) -> usize {
    let top = design.top().unwrap();
    let on_outline = |p: &Point| {
        let on =
            |placed: &layout::Placed| placed.motion.polygon(placed.block.base()).place(p) == geometry::Place::Boundary;
        top.placed.iter().any(|placed| numbered(design, placed.place).is_some() && on(placed))
    };
    let mut points: Vec<&Point> = rays.iter().map(|ray| &ray.at).collect();
    points.sort_by(|a, b| a.order(b));
    points.dedup();
    let mut count = 0;
    for point in points.into_iter().filter(|p| on_outline(p)) {
        let here: Vec<&Ray> = rays.iter().filter(|ray| ray.at == *point).collect();
        let fails = |before: &[&Ray], after: &[&Ray]| {
            let turns: BTreeSet<bool> = before.iter().chain(after).map(|ray| ray.turn).collect();
            !before.is_empty() && !after.is_empty() && turns.len() > 1
        };
        let rows: BTreeSet<u16> = here.iter().map(|ray| ray.row).collect();
        for row in &rows {
            let in_row: Vec<&Ray> = here.iter().copied().filter(|ray| ray.row == *row).collect();
            for column in 1..20_u16 {
                let number = f64::from(column);
                let before: Vec<&Ray> = in_row.iter().copied().filter(|ray| ray.number < number - 0.75).collect();
                let after: Vec<&Ray> =
                    in_row.iter().copied().filter(|ray| (ray.number - number).abs() < 0.25).collect();
                count += usize::from(fails(&before, &after));
            }
        }
        let (above, below): (Vec<&Ray>, Vec<&Ray>) = here.iter().partition(|ray| Some(&ray.row) == rows.first());
        count += usize::from(fails(&above, &below));
    }
    count
}

/// Reversed places of an answer that is given by blocks.
fn places_of(design: &Design, blocks: &BTreeSet<BlockId>) -> BTreeSet<PlaceId> {
    design.places().filter(|(_, place)| blocks.contains(&place.block)).map(|(id, _)| id).collect()
}

/// Compares both answers with every way to press a small top.
fn assert_least(design: &Design) {
    let plans = plans(design);
    let pressing = press_top(design, &plans, STEPS).unwrap();
    let rows = usize::from(design.setting().size().0);
    let every = |sets: Vec<BTreeSet<PlaceId>>| {
        let ways = sets.iter().flat_map(|reversed| (0..1_u32 << rows).map(move |bits| (reversed, bits)));
        ways.map(|(reversed, bits)| {
            let side = |row: usize| if bits >> row & 1 == 1 { Side::Right } else { Side::Left };
            let sides: Vec<Side> = (0..rows).map(side).collect();
            unnested(design, &rays(design, &plans, reversed, &sides))
        })
        .min()
        .unwrap()
    };
    let places: Vec<PlaceId> = design.places().map(|(id, _)| id).collect();
    let ids: Vec<BlockId> = plans.keys().copied().collect();
    let some = |bits: u32, count: usize| (0..count).filter(move |i| bits >> i & 1 == 1);
    let by_place = (0..1 << places.len()).map(|bits| some(bits, places.len()).map(|i| places[i]).collect()).collect();
    let by_block =
        (0..1 << ids.len()).map(|bits| places_of(design, &some(bits, ids.len()).map(|i| ids[i]).collect())).collect();
    let (per_place, same) = (&pressing.per_place, &pressing.same_for_all);
    assert_eq!((per_place.count.found, per_place.count.at_least), (every(by_place), per_place.count.found));
    assert_eq!((same.count.found, same.count.at_least), (every(by_block), same.count.found));
    let slow = unnested(design, &rays(design, &plans, &per_place.reversed, &per_place.rows));
    assert_eq!(slow, per_place.unnested.len());
    let reversed = places_of(design, &same.reversed);
    assert_eq!(unnested(design, &rays(design, &plans, &reversed, &same.rows)), same.unnested.len());
}

#[test]
fn rows_of_blocks_nest_where_they_can() {
    // (blocks, per place, same for all): meetings that do not nest.
    let check = |recipe: Recipe, rows, columns, per_place: usize, same: usize| {
        let design = quilt(std::slice::from_ref(&recipe), straight(rows, columns));
        let pressing = pressed(&design);
        assert!(pressing.per_place.count.is_least() && pressing.same_for_all.count.is_least());
        let found = (pressing.per_place.count.found, pressing.same_for_all.count.found);
        assert_eq!(found, (per_place, same), "{recipe:?}: {:#?}", pressing.same_for_all.unnested);
        assert_eq!(pressing.same_for_all.conflicts.is_empty(), same == 0);
    };
    // Diagonals in line, all pressed to one side, lie on each other at each of the six corners inside; every other one
    // reversed, they nest.
    check(Recipe::HalfSquare(block(6)), 3, 4, 0, 6);
    check(
        Recipe::Plain { width: Length::whole_inches(6).unwrap(), height: Length::whole_inches(6).unwrap() },
        3,
        3,
        0,
        0,
    );
    // A seam across the block pressed to one side: its two ends cannot nest with copies of it above and below.
    check(Recipe::FourPatch(block(6)), 4, 5, 0, 15);
}

#[test]
fn spun_four_patches_nest_when_all_are_pressed_alike() {
    let design = quilt(&[Recipe::FourPatch(block(6))], straight(4, 5));
    let tree = order_of_sewing(design.block(BlockId(1)).unwrap().block()).unwrap();
    let pressing = press_block(&tree, &PressingWishes { spin_from: 4, ..PressingWishes::default() });
    let plans = Plans::from([(BlockId(1), (tree, pressing))]);
    let answer = press_top(&design, &plans, STEPS).unwrap().same_for_all;
    assert_eq!((answer.count.found, answer.conflicts.len()), (0, 0));
}

#[test]
fn rows_are_pressed_in_turn() {
    let plain = Recipe::Plain { width: Length::whole_inches(6).unwrap(), height: Length::whole_inches(6).unwrap() };
    let pressing = pressed(&quilt(&[plain], straight(3, 3)));
    // Four corners inside.
    assert_eq!(pressing.meetings, 4);
    for rows in [&pressing.per_place.rows, &pressing.same_for_all.rows] {
        assert_eq!(*rows, [Side::Right, Side::Left, Side::Right]);
    }
    assert!(pressing.per_place.reversed.is_empty() && pressing.per_place.unnested.is_empty());
}

#[test]
fn every_way_to_press_some_tops_is_tried() {
    let star = Recipe::OnAxisStar { size: block(6), split: [true; 8] };
    for recipes in [
        vec![Recipe::FourPatch(block(6))],
        vec![Recipe::NinePatch(block(6)), Recipe::HalfSquare(block(6))],
        vec![Recipe::QuarterSquare(block(6)), Recipe::NinePatch(block(6))],
        vec![Recipe::SquareInSquare(block(6))],
        vec![Recipe::DiagonalHalf { size: block(6), band: None }],
        vec![star],
    ] {
        assert_least(&quilt(&recipes, straight(2, 3)));
    }
    let side = sized(Measure::Side, 6);
    let ends = FabricId(1);
    assert_least(&quilt(&[Recipe::SixtyUnit(side)], Setting::TriangleRows { rows: 2, columns: 3, ends }));
}

#[test]
fn a_block_pressed_both_ways_at_its_edge_is_told() {
    let recipe = Recipe::SquareInSquare(block(6));
    let design = quilt(&[recipe], straight(1, 2));
    let mut plans = plans(&design);
    let (_, pressing) = plans.get_mut(&BlockId(1)).unwrap();
    // All corners are pressed outwards: at the middle of a side one seam each way.
    for (segment, toward) in pressing.segments.iter().zip(&mut pressing.toward) {
        *toward = if segment.left.contains(0) { Toward::Right } else { Toward::Left };
    }
    let answer = press_top(&design, &plans, STEPS).unwrap().per_place;
    assert_eq!((answer.count.at_least, answer.count.found), (1, 1));
    assert_eq!(answer.unnested[0].why, Why::Mixed(cell(0, 0)));
    assert_eq!(answer.unnested[0].places, [cell(0, 0), cell(0, 1)]);
}

fn samples() -> Vec<(String, Design)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts");
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|f| f.unwrap().path()).collect();
    files.retain(|file| file.extension().is_some_and(|e| e == "json"));
    files.sort();
    assert!(files.len() >= 7);
    let name = |file: &Path| file.file_name().unwrap().to_str().unwrap().to_owned();
    files.iter().map(|file| (name(file), Document::open(file).unwrap().variants()[0].design.clone())).collect()
}

#[test]
fn every_sample_has_an_answer_that_the_slow_way_agrees_with() {
    for (name, design) in samples() {
        let plans = plans(&design);
        let pressing = press_top(&design, &plans, STEPS).unwrap();
        assert!(pressing.unplanned.is_empty());
        // The slow way compares every point with every other, in rows of equal blocks side by side.
        let is_in_rows = matches!(design.setting(), Setting::Straight { .. } | Setting::TriangleRows { .. })
            && design.sampler_plan().is_none();
        if is_in_rows && design.places().count() <= 64 && design.sashing().is_none() {
            let answer = &pressing.per_place;
            let slow = unnested(&design, &rays(&design, &plans, &answer.reversed, &answer.rows));
            assert_eq!(slow, answer.unnested.len());
        }
        for (count, steps) in [
            (pressing.per_place.count, pressing.per_place.steps),
            (pressing.same_for_all.count, pressing.same_for_all.steps),
        ] {
            println!("{name}: {} meetings, {count:?}, {steps} steps", pressing.meetings);
            assert!(count.at_least <= count.found);
        }
        assert!(pressing.per_place.count.found <= pressing.same_for_all.count.found, "{name}");
        assert_eq!(pressing, pressed(&design), "{name}");
    }
}

#[test]
fn the_work_for_a_large_top_grows_with_its_seams() {
    let star = || Recipe::OnAxisStar { size: block(6), split: [true; 8] };
    let work = |rows, columns| {
        let design = filled(&quilt(&[Recipe::NinePatch(block(6)), star()], straight(rows, columns)), &[0, 8, 13, 3, 6]);
        let top = press_top(&design, &plans(&design), 0).unwrap();
        (top.meetings as u64, top.per_place.steps + top.same_for_all.steps)
    };
    let (few, some) = work(10, 10);
    let (many, more) = work(50, 100);
    println!("{few} meetings in {some} steps, {many} in {more}");
    assert!(many > 40 * few);
    assert!(more / many <= 8 * (some / few), "{more} steps for {many}, {some} for {few}");
}

/// Fills the cells: block, turn and hand by the numbers, round and round.
fn filled(design: &Design, numbers: &[u8]) -> Design {
    let blocks = u32::try_from(design.blocks().count()).unwrap();
    let cells: Vec<PlaceId> = design.places().map(|(id, _)| id).collect();
    let turns = |turn: u8| design.cell().allows_turn(design.setting(), turn);
    let mut filled = design.clone();
    for (place, number) in cells.into_iter().zip(numbers.iter().cycle()) {
        let turn = Some(number / 2 % 4).filter(|turn| turns(*turn)).unwrap_or(0);
        for edit in [
            Edit::SetBlock { place, block: BlockId(u32::from(number / 8) % blocks + 1) },
            Edit::Turn { place, turn },
            Edit::Mirror { place, mirrored: number % 2 == 1 },
        ] {
            // An edit that changes nothing is refused.
            if let Ok((next, _)) = apply(&filled, &edit) {
                filled = next;
            }
        }
    }
    filled
}

/// The plan of all blocks together with their trees.
fn planned(design: &Design) -> (BlockPlans, Plans) {
    let trees: BTreeMap<BlockId, SeamTree> =
        design.blocks().map(|(id, block)| (id, order_of_sewing(block.block()).unwrap())).collect();
    let plan = plan_blocks(design, &trees, |_| PressingWishes::default(), STEPS).unwrap();
    let plans = trees.into_iter().map(|(id, tree)| (id, (tree, plan.pressings[&id].clone()))).collect();
    (plan, plans)
}

/// Meetings inside blocks that do not nest, over the whole top.
fn unnested_inside(design: &Design, plans: &Plans) -> usize {
    let inside = |pressing: &Pressing| {
        let turn = |segment: usize, point: usize| {
            (pressing.toward[segment] == Toward::Left) == (pressing.segments[segment].from == point)
        };
        let nests = |m: &&piecing::pressing::Meeting| {
            m.segments.iter().all(|&s| turn(s, m.point) == turn(m.segments[0], m.point))
        };
        pressing.meetings.len() - pressing.meetings.iter().filter(nests).count()
    };
    design.places().map(|(_, place)| inside(&plans[&place.block].1)).sum()
}

/// Compares the plan of all blocks with every way to press them.
fn assert_plan_is_least(design: &Design) {
    let (plan, mut plans) = planned(design);
    let rows = usize::from(design.setting().size().0);
    let counts: Vec<(BlockId, usize)> = plans.iter().map(|(id, plan)| (*id, plan.1.toward.len())).collect();
    let total = counts.iter().map(|count| count.1).sum::<usize>();
    assert!(total + rows <= 9, "{total} segments");
    let slow = |plans: &Plans, rows: &[Side]| {
        unnested_inside(design, plans) + unnested(design, &rays(design, plans, &BTreeSet::new(), rows))
    };
    let mut least = usize::MAX;
    for bits in 0..1_u32 << (total + rows) {
        let mut bits = bits;
        let mut bit = || {
            bits /= 2;
            bits % 2 == 1
        };
        for (id, count) in &counts {
            let toward = (0..*count).map(|_| if bit() { Toward::Left } else { Toward::Right }).collect();
            plans.get_mut(id).unwrap().1.toward = toward;
        }
        let sides: Vec<Side> = (0..rows).map(|_| if bit() { Side::Right } else { Side::Left }).collect();
        least = least.min(slow(&plans, &sides));
    }
    assert_eq!((plan.unnested.at_least, plan.unnested.found), (least, least));
}

#[test]
fn blocks_are_planned_with_their_neighbours_in_view() {
    let check = |recipe: Recipe, rows, columns, releases: usize, unnested: usize| {
        let (plan, plans) = planned(&quilt(std::slice::from_ref(&recipe), straight(rows, columns)));
        let pressing = &plans[&BlockId(1)].1;
        assert!(plan.unnested.is_least());
        assert_eq!((plan.unnested.found, pressing.releases.found), (unnested, releases), "{recipe:?}");
    };
    // The long seam is released in the middle, so that its ends nest with copies; what one block asks for itself, or
    // place by place, would not release it.
    check(Recipe::FourPatch(block(6)), 4, 5, 1, 0);
    // Nested inside, its first and last row are pressed alike, so it cannot nest with copies above and below: two seams
    // in each of three columns on two long seams.
    check(Recipe::NinePatch(block(6)), 3, 3, 2, 12);
    // Diagonals in line can only be pressed to one side.
    check(Recipe::HalfSquare(block(6)), 3, 4, 0, 6);
}

#[test]
fn every_way_to_press_the_blocks_of_some_tops_is_tried() {
    assert_plan_is_least(&quilt(&[Recipe::FourPatch(block(6))], straight(2, 2)));
    assert_plan_is_least(&quilt(&[Recipe::SquareInSquare(block(6))], straight(2, 2)));
    let mixed = quilt(&[Recipe::FourPatch(block(6)), Recipe::HalfSquare(block(6))], straight(2, 3));
    for numbers in [[0, 8, 2, 10, 13, 3], [8, 0, 10, 0, 9, 1], [14, 3, 8, 8, 4, 7]] {
        assert_plan_is_least(&filled(&mixed, &numbers));
    }
    let setting = Setting::TriangleRows { rows: 2, columns: 3, ends: FabricId(1) };
    let sixty = quilt(&[Recipe::SixtyUnit(sized(Measure::Side, 6))], setting);
    for numbers in [[0, 2, 4, 0, 2, 4], [0, 1, 2, 3, 4, 5], [0, 0, 0, 0, 0, 0]] {
        assert_plan_is_least(&filled(&sixty, &numbers));
    }
}

#[test]
fn the_plan_of_every_sample_is_what_the_top_then_shows() {
    for (name, design) in samples() {
        let (plan, plans) = planned(&design);
        let top = press_top(&design, &plans, STEPS).unwrap();
        println!("{name}: {:?} in {} steps; per place {:?}", plan.unnested, plan.steps, top.per_place.count);
        let inside = unnested_inside(&design, &plans);
        assert_eq!(plan.unnested.found, inside + top.same_for_all.count.found, "{name}");
        assert!(plan.unnested.at_least <= plan.unnested.found);
        assert_eq!(plan, planned(&design).0, "{name}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn no_way_to_press_a_random_top_is_better(
        numbers in prop::collection::vec(any::<u8>(), 6), kind in 0_usize..4
    ) {
        let star = Recipe::OnAxisStar { size: block(6), split: [true; 8] };
        let half = Recipe::DiagonalHalf { size: block(6), band: None };
        let recipes = match kind {
            0 => vec![Recipe::NinePatch(block(6)), Recipe::HalfSquare(block(6)), half],
            1 => vec![star, Recipe::NinePatch(block(6))],
            2 => vec![Recipe::QuarterSquare(block(6)), Recipe::HalfSquare(block(6)), Recipe::FourPatch(block(6))],
            _ => {
                let side = || sized(Measure::Side, 6);
                let setting = Setting::TriangleRows { rows: 2, columns: 3, ends: FabricId(1) };
                let design = quilt(&[Recipe::SixtyUnit(side()), Recipe::SixtyTriangle(side())], setting);
                assert_least(&filled(&design, &numbers));
                return Ok(());
            }
        };
        assert_least(&filled(&quilt(&recipes, straight(2, 3)), &numbers));
    }
}

//! How many units of each step a quilt needs.
#![allow(clippy::panic, clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use geometry::{Exact, Length, Measure, Patch, PatchKey, Point, Polygon, Recipe, Role, Size, Tone, Value};
use layout::file::Document;
use layout::{BlockId, Colour, ColourScheme, Design, Edit, FabricId, PlaceId, Setting, Starter, Units, apply};
use piecing::{
    Making, PressingWishes, QuiltPlan, SeamTree, UnitId, Variant, Variants, colourings, order_of_sewing, press_block,
};

/// For each step the counts of its variants, mirror images marked.
fn counts(design: &Design, block: BlockId) -> Vec<Vec<(u64, bool)>> {
    let tree = order_of_sewing(design.block(block).unwrap().block()).unwrap();
    let colourings = colourings(design, block).unwrap();
    let pressing = press_block(&tree, &PressingWishes::default());
    let variants = Variants::new(&tree).of_steps(&colourings, &pressing, &BTreeSet::new());
    variants.iter().map(|step| step.iter().map(|v| (v.count, v.mirrored)).collect()).collect()
}

fn quilt(recipe: Recipe) -> Design {
    let fabric = |name: &str, colour: &str, value| (name.to_owned(), Colour::parse(colour).unwrap(), value);
    let starter = Starter {
        name: "Test quilt".to_owned(),
        units: Units::Inches,
        fabrics: vec![fabric("Plum", "#4b1d3f", Value::Dark), fabric("Oat", "#efe6d2", Value::Light)],
        blocks: vec![("Block".to_owned(), recipe)],
        scheme: ColourScheme::Two { dark: FabricId(1), light: FabricId(2) },
        setting: Setting::Straight { rows: 2, columns: 3 },
        borders: Vec::new(),
        binding: FabricId(1),
    };
    starter.design().unwrap()
}

fn size() -> Size {
    Size { by: Measure::Block, length: Length::whole_inches(12).unwrap() }
}

const FIRST: PlaceId = PlaceId::Cell { row: 0, column: 0 };

fn edited(design: &Design, edit: &Edit) -> Design {
    apply(design, edit).unwrap().0
}

fn block(design: &Design) -> BlockId {
    design.blocks().next().unwrap().0
}

#[test]
fn rows_of_a_nine_patch_are_told_apart_by_their_fabrics_only() {
    let design = quilt(Recipe::NinePatch(size()));
    let id = block(&design);
    // Six blocks: twelve rows of one kind, six of the other, which a half turn leaves as they are.
    assert_eq!(counts(&design, id), [vec![(12, false), (6, false)], vec![(6, false)]]);
    let painted = edited(&design, &Edit::PaintPatch { place: FIRST, patch: PatchKey(0), fabric: FabricId(2) });
    let repainted = edited(&painted, &Edit::PaintPatch { place: FIRST, patch: PatchKey(2), fabric: FabricId(1) });
    let sum = |design| counts(design, id).iter().map(|step| step.iter().map(|v| v.0).sum()).collect::<Vec<u64>>();
    assert_eq!(sum(&repainted), [18, 6]);
}

#[test]
fn mirrored_blocks_ask_for_mirrored_units_only_where_the_hand_shows() {
    // A band of the half block is its own mirror image; its block is not, when its halves differ.
    let design = quilt(Recipe::DiagonalHalf { size: size(), band: None });
    let id = block(&design);
    let mirrored = edited(&design, &Edit::Mirror { place: FIRST, mirrored: true });
    assert_eq!(counts(&mirrored, id), counts(&design, id), "its mirror image is its quarter turn");
    // An own block of three bars with a slanted end has a hand.
    let corners = |list: &[(i64, i64)]| {
        Polygon::new(list.iter().map(|(x, y)| Point::new(Exact::int(*x), Exact::int(*y))).collect()).unwrap()
    };
    let patch = |key, list: &[(i64, i64)]| Patch {
        key: PatchKey(key),
        outline: corners(list),
        role: Role::new("bar").unwrap(),
        tone: Tone::Own(Value::Dark),
        grain: None,
    };
    let patches = vec![
        patch(0, &[(0, 0), (12, 0), (12, 4), (0, 4)]),
        patch(1, &[(0, 4), (3, 4), (6, 12), (0, 12)]),
        patch(2, &[(3, 4), (12, 4), (12, 12), (6, 12)]),
    ];
    let own = Recipe::Own { base: corners(&[(0, 0), (12, 0), (12, 12), (0, 12)]), patches };
    let design = quilt(own);
    let id = block(&design);
    let mirrored = edited(&design, &Edit::Mirror { place: FIRST, mirrored: true });
    assert_eq!(counts(&design, id), [vec![(6, false)], vec![(6, false)]]);
    assert_eq!(counts(&mirrored, id), [vec![(5, false), (1, true)], vec![(5, false), (1, true)]]);
}

/// Two halves of a block are sewn alike and pressed apart, so that they nest. A block in two fabrics is then another one turned
/// by half: of every half as many are made as the blocks take.
#[test]
fn parts_that_are_pressed_apart_are_not_taken_for_each_other() {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../../sample-quilts/lap-owl-lane.json");
    let design = Document::open(Path::new(file)).unwrap().variants()[0].design.clone();
    let plan = QuiltPlan::new(&design, &BTreeMap::new()).unwrap().blocks.remove(0);
    let (tree, like) = (&plan.tree, &plan.pressing.like);
    let Making::Sewn { parts, .. } = &tree.unit(tree.root()).making else { panic!("a block of one patch") };
    // Triangle, half, half, triangle.
    let [one, other] = [parts[1], parts[2]];
    assert_eq!(tree.unit(one).class, tree.unit(other).class);
    assert_ne!(like[one.0], like[other.0]);
    let [halves, blocks] = plan.variants.as_slice() else { panic!("{} steps", plan.variants.len()) };
    let made = |part: UnitId, fabrics: &[FabricId]| {
        let of = |v: &&Variant| like[v.unit.0] == like[part.0] && in_part(tree, v.unit, &v.fabrics) == fabrics;
        halves.iter().filter(of).map(|v| v.count).sum::<u64>()
    };
    let mut taken: BTreeMap<(UnitId, Vec<FabricId>), u64> = BTreeMap::new();
    for block in blocks {
        for part in [one, other] {
            *taken.entry((part, in_part(tree, part, &block.fabrics))).or_default() += block.count;
        }
    }
    assert_eq!(taken.len(), 4);
    for ((part, fabrics), count) in taken {
        assert_eq!(made(part, &fabrics), count, "{part:?} in {fabrics:?}");
    }
}

/// The fabrics of a unit in the order of its class.
fn in_part(tree: &SeamTree, unit: UnitId, fabrics: &[FabricId]) -> Vec<FabricId> {
    tree.unit(unit).order.iter().map(|&patch| fabrics[patch]).collect()
}

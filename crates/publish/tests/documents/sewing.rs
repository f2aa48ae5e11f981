//! Steps of sewing in words and diagrams.

use crate::made;

use std::collections::BTreeMap;
use std::fmt::Write as _;

use cutting::Ledger;
use geometry::{Exact, Length, Measure, Point, Recipe, Size};
use layout::{
    BlockId, ColourScheme, Design, Edit, FabricId, SamplerBlock, SamplerDraft, SamplerFree, SamplerPlan, SamplerRow,
    SamplerRows, Setting, Tally, apply,
};
use made::{quilt, sized, with_margin};
use piecing::{CuttingHand, QuiltPlan};
use publish::sewing::{BlockPages, block_pages, other_ways, sewing_sheets, strip_ways, test_block, top_words};
use publish::{Item, Paper};

const BLOCK: BlockId = BlockId(1);

fn quilt_in(recipe: Recipe, setting: Setting) -> Design {
    made::quilt_in(recipe, setting, &[Length::whole_inches(2).unwrap()])
}

fn pages(design: &Design, hand: CuttingHand) -> BlockPages {
    block_pages(design, QuiltPlan::new(design, &BTreeMap::new()).unwrap().block(BLOCK).unwrap(), &[], hand).unwrap()
}

/// All words of a block.
fn words(design: &Design) -> String {
    let pages = pages(design, CuttingHand::Right);
    let mut text = format!("{}, {}: {}\n", pages.name, pages.copies, pages.seams);
    for step in &pages.steps {
        writeln!(text, "{}. make {}", step.number, step.makes).unwrap();
        for line in step.variants.iter().chain(&step.lines).chain(&step.pressing).chain(&step.trim) {
            writeln!(text, "   {line}").unwrap();
        }
        writeln!(text, "   measures {:?}", step.measures).unwrap();
    }
    text
}

#[test]
fn a_tilted_star_in_words() {
    insta::assert_snapshot!("tilted star", words(&quilt(Recipe::TiltedStar(sized(Measure::Block, 12)))));
}

#[test]
fn a_trimmed_diagonal_half_block_in_words() {
    insta::assert_snapshot!(
        "diagonal half",
        words(&with_margin(&quilt(Recipe::DiagonalHalf { size: sized(Measure::Block, 6), band: None })))
    );
}

/// The centre of an on-axis star is an octagon: its sectors are trimmed, then it, then the block.
#[test]
fn an_on_axis_star_by_way_of_its_octagon() {
    let design = with_margin(&quilt(Recipe::OnAxisStar { size: sized(Measure::Block, 12), split: [true; 8] }));
    let ways = other_ways(&design, BLOCK).unwrap();
    let octagon = ways.iter().find(|way| way.title.contains("centre of 24 patches")).unwrap();
    let chosen = apply(&design, &octagon.edit).unwrap().0;
    assert!(other_ways(&chosen, BLOCK).unwrap().iter().any(|way| way.chosen && way.title == octagon.title));
    let pages = pages(&chosen, CuttingHand::Right);
    let trimmed: Vec<usize> = pages.steps.iter().filter(|step| !step.trim.is_empty()).map(|s| s.number).collect();
    assert_eq!(trimmed.len(), 3, "sector, octagon, square");
    insta::assert_snapshot!("on-axis star by its octagon", words(&chosen));
}

#[test]
fn a_star_cut_once_more_has_straight_seams_and_more_pieces() {
    let design = quilt(Recipe::TiltedStar(sized(Measure::Block, 12)));
    let ways = other_ways(&design, BLOCK).unwrap();
    let facts: Vec<(usize, usize, bool)> = ways.iter().map(|w| (w.patches, w.pivots.found, w.chosen)).collect();
    assert_eq!(facts, [(16, 8, true), (24, 0, false)]);
    assert!(ways[1].fabric.as_ref().unwrap().contains("more fabric"), "{:?}", ways[1].fabric);
    let recut = apply(&design, &ways[1].edit).unwrap().0;
    assert_eq!(recut.top().unwrap().patches() - design.top().unwrap().patches(), 6 * 8);
    let back = other_ways(&recut, BLOCK).unwrap();
    assert!(back[1].chosen && !back[0].chosen);
    assert_eq!(apply(&recut, &back[0].edit).unwrap().0, design);
    insta::assert_snapshot!("tilted star cut once more", words(&recut));
}

#[test]
fn the_hand_changes_the_order_of_the_cuts() {
    let design = with_margin(&quilt(Recipe::NinePatch(sized(Measure::Block, 9))));
    let trim = |hand| pages(&design, hand).steps.last().unwrap().trim.join(" ");
    assert!(trim(CuttingHand::Right).contains("right"));
    assert!(trim(CuttingHand::Left).contains("left") && !trim(CuttingHand::Left).contains("right"));
}

#[test]
fn a_test_block_counts_its_pieces_and_names_what_to_measure() {
    let design = quilt(Recipe::NinePatch(sized(Measure::Block, 9)));
    let ledger = Ledger::new(&design, &Tally::count(&design).unwrap()).unwrap();
    let plan = QuiltPlan::new(&design, &BTreeMap::new()).unwrap();
    let test = test_block(&design, plan.block(BLOCK).unwrap(), ledger.book()).unwrap();
    assert_eq!(
        test.pieces,
        ["5 × square in Plum, from a strip 3½″ wide: 3½″ × 3½″", "4 × square in Oat, from a strip 3½″ wide: 3½″ × 3½″"]
    );
    assert_eq!(test.checks, [(1, "3½″ × 9½″".to_owned()), (2, "9½″ × 9½″".to_owned())]);
    assert_eq!(test.bias, None);
    let ways = strip_ways(&design, plan.block(BLOCK).unwrap(), ledger.book(), &[]);
    for (set, needed) in [("Plum 3½″ + Oat 3½″ + Plum 3½″", 12), ("Oat 3½″ + Plum 3½″ + Oat 3½″", 6)]
    {
        let wanted = format!(
            "Strip set of {set}: cut across at 90° every 3½″, 11 segments from a set; makes unit 1 ({needed} units needed)."
        );
        assert!(ways.possible.contains(&wanted), "{:?}", ways.possible);
    }
    assert!(ways.used.is_empty());
}

#[test]
fn sheets_hold_all_steps_within_their_margins() {
    let design = with_margin(&quilt(Recipe::TiltedStar(sized(Measure::Block, 12))));
    let plan = QuiltPlan::new(&design, &BTreeMap::new()).unwrap();
    let sheets =
        sewing_sheets(&design, &[pages(&design, CuttingHand::Right)], &top_words(&design, &plan).unwrap(), Paper::A4);
    let mut text = String::new();
    for sheet in sheets.unwrap() {
        for item in sheet.items() {
            if let Item::Text(told) = item {
                let inside = told.at[0] >= 0.25 && told.at[0] <= sheet.page().width_in - 0.25;
                assert!(inside && told.at[1] <= sheet.page().height_in - 0.25, "{told:?}");
                writeln!(text, "{}", told.text).unwrap();
            }
        }
    }
    for step in 1..=5 {
        assert!(text.contains(&format!("Step {step} of 5")), "{text}");
    }
    assert!(text.contains("Putting the top together") && text.contains("makers’ instructions"));
}

/// Finished 38 × 26 in with its border, cut with ¼ in seams.
#[test]
fn the_top_is_put_together_in_rows() {
    let design = quilt(Recipe::NinePatch(sized(Measure::Block, 12)));
    let lines = top_words(&design, &QuiltPlan::new(&design, &BTreeMap::new()).unwrap()).unwrap().join("\n");
    for figure in ["36½″ × 12½″", "36½″ × 24½″", "2½″ × 24½″", "2½″ × 40½″", "40½″ × 28½″"]
    {
        assert!(lines.contains(figure), "{figure} in {lines}");
    }
    assert_eq!(design.finished_size(), (Exact::int(40), Exact::int(28)));
}

fn six_point_star() -> Recipe {
    Recipe::HexagonStar { size: Size { by: Measure::Side, length: Length::whole_inches(4).unwrap() }, split: [true; 6] }
}

fn told_top(design: &Design) -> String {
    let mut text = top_words(design, &QuiltPlan::new(design, &BTreeMap::new()).unwrap()).unwrap().join("\n");
    text.push('\n');
    text
}

/// Corners of pieces inside the centre: where three hexagons, or two and an edge triangle, meet. Counted in the picture.
fn inner_corners(design: &Design) -> usize {
    let bare = apply(design, &Edit::SetBorders(Vec::new())).unwrap().0;
    let top = bare.top().unwrap();
    let inside = |p: &geometry::Point| {
        let strictly = |at: &Exact, end: &Exact| *at > Exact::ZERO && at < end;
        strictly(&p.x, &top.width) && strictly(&p.y, &top.height)
    };
    let outlines = top.placed.iter().map(|placed| placed.motion.polygon(placed.block.base()));
    let corners: std::collections::HashSet<geometry::Point> =
        outlines.flat_map(|outline| outline.corners().to_vec()).filter(inside).collect();
    corners.len()
}

/// Every inner corner of rows of hexagons is a pivot: those between rows, and one at each edge triangle.
#[test]
fn rows_of_hexagons_are_set_in_with_as_many_pivots_as_there_are() {
    for (rows, columns) in [(1, 1), (1, 3), (2, 1), (2, 3), (3, 4), (4, 2)] {
        let setting = Setting::HexagonRows { rows, columns, halves: FabricId(2), edges: FabricId(2) };
        let design = quilt_in(six_point_star(), setting);
        let text = told_top(&design);
        let number = |before: &str, after: &str| -> usize {
            let told = text.split_once(after).map_or("", |(front, _)| front);
            told.rsplit_once(before).map_or(0, |(_, number)| number.trim().parse().unwrap())
        };
        let in_a_seam = number(" with ", " pivots to set in") + number(" with ", " pivot to set in");
        let edges = number("each with one pivot, ", " in all.");
        assert_eq!(in_a_seam * usize::from(rows - 1) + edges, inner_corners(&design), "{rows} × {columns}: {text}");
    }
}

#[test]
fn rows_of_hexagons_in_words() {
    let setting = Setting::HexagonRows { rows: 3, columns: 4, halves: FabricId(2), edges: FabricId(2) };
    insta::assert_snapshot!("hexagon rows", told_top(&quilt_in(six_point_star(), setting)));
}

#[test]
fn star_rows_in_words() {
    let setting = Setting::StarRows { rows: 3, columns: 4, between: FabricId(2), ends: FabricId(2) };
    let design = quilt_in(six_point_star(), setting);
    insta::assert_snapshot!("star rows", told_top(&design));
    insta::assert_snapshot!("six-point star", words(&design));
}

/// The quilt of six blocks with one more of half the size, set as a sampler without borders.
fn sampler(plan: SamplerPlan, blocks: &[u32]) -> Vec<String> {
    let design = quilt(Recipe::NinePatch(sized(Measure::Block, 12)));
    let table = layout::colour_table(
        &Recipe::NinePatch(sized(Measure::Block, 6)).draft().unwrap(),
        ColourScheme::Two { dark: FabricId(1), light: FabricId(2) },
    );
    let small = Edit::AddBlock { name: "Small".to_owned(), recipe: Recipe::NinePatch(sized(Measure::Block, 6)), table };
    let design = apply(&design, &small).unwrap().0;
    let place = |block: &u32| {
        let (_, place) = design.places().next().unwrap();
        SamplerBlock { place: layout::Place { block: BlockId(*block), ..*place }, was: None }
    };
    let draft = SamplerDraft { plan, filler: FabricId(2), blocks: blocks.iter().map(place).collect() };
    let design = apply(&design, &Edit::SetSampler(draft)).unwrap().0;
    let design = apply(&design, &Edit::SetBorders(Vec::new())).unwrap().0;
    top_words(&design, &QuiltPlan::new(&design, &BTreeMap::new()).unwrap()).unwrap()
}

/// 12 and 6 in, 2 in apart, in the first row; 12 in alone in the second: every size is ½ in more with its seams.
#[test]
fn a_sampler_in_rows_is_put_together_unit_by_unit() {
    let plan = SamplerRows {
        rows: vec![SamplerRow::of(2), SamplerRow::of(1)],
        gap: Length::whole_inches(2).ok(),
        row_gap: None,
    };
    let lines = sampler(SamplerPlan::Rows(plan), &[1, 2, 1]);
    let told = [
        "Lay out 3 blocks and 3 fillers as in the picture of the quilt, and turn every block as it is shown. Fillers count \
         from the top, those at one height from the left. Press every part before you sew on: seams of fillers toward the \
         fillers, long seams to one side. Which seams of neighbouring blocks nest is not planned for a sampler: match them \
         where blocks touch, and pin.",
        "Part 1: sew together, from the left: filler 2 (2½″ × 6½″) and Small (row 1, column 2). It measures 8½″ × 6½″.",
        "Part 2: sew together, from the top: filler 1 (8½″ × 6½″) and part 1. It measures 8½″ × 12½″.",
        "Part 3: sew together, from the left: Block (row 1, column 1) and part 2. It measures 20½″ × 12½″.",
        "Part 4: sew together, from the left: Block (row 2, column 1) and filler 3 (8½″ × 12½″). It measures 20½″ × 12½″.",
        "Last of all, sew together, from the top: part 3 and part 4. The top measures 20½″ × 24½″ now.",
    ];
    assert_eq!(lines, told);
}

/// Where blocks touch and fill the top there are no fillers; the arms of a pinwheel of fillers and blocks are set in.
#[test]
fn what_no_straight_seam_divides_is_told() {
    let at = |x: i64, y: i64| Point::new(Exact::int(x), Exact::int(y));
    let whole = |inches: i64| Length::whole_inches(inches).unwrap();
    let one = SamplerFree { width: whole(12), height: whole(12), corners: vec![at(0, 0)] };
    let lines = sampler(SamplerPlan::Free(one), &[1]);
    assert_eq!(lines[0], "Lay out 1 block as in the picture of the quilt, and turn every block as it is shown.");
    assert_eq!(lines[1], "One block is the whole top. It measures 12½″ × 12½″.");
    // 12 in squares, each 6 in along the next, round a hole of 6 in that holds a small block.
    let corners = vec![at(0, 6), at(12, 0), at(6, 18), at(18, 12), at(12, 12)];
    let wheel = SamplerFree { width: whole(30), height: whole(30), corners };
    let lines = sampler(SamplerPlan::Free(wheel), &[1, 1, 1, 1, 2]).join("\n");
    assert!(lines.contains("no straight seam runs from edge to edge through"), "{lines}");
    assert!(lines.contains("partial seam") && lines.contains("Small (number 5)"), "{lines}");
}

fn sample(file: &str) -> Design {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts");
    layout::file::Document::open(&folder.join(file)).unwrap().variants()[0].design.clone()
}

/// By hand: a centre of 18 in; 3 geese of 6 × 3 in a side; 3 in of mitred border to 30 in, whose outer edge is longer by
/// 2 × (1 + √2) × ¼ = 1.207 in; 5 stars of 6 in a side; 3 in with corner squares to 48 in. Raw edges add ½ in.
#[test]
fn a_medallion_is_put_together_round_by_round() {
    let lines = told_top(&sample("lap-wellhouse-green.json"));
    for told in [
        "Well star is the centre, turned as in the picture of the quilt. It measures 18½″ × 18½″.\n",
        "Border 1: sew 3 × Goose together for each of the four sides, turned as the picture shows; the sides measure \
         3½″ × 18½″. Sew a Half-square corner to either end of top and bottom; they measure 3½″ × 24½″ then.",
        "the four pieces are 3½″ wide and 31.207″ (just under 31¼″) along their outer edge, whatever is measured.",
        "Border 3: sew 5 × Small star together for each of the four sides",
        "the side pieces are 3½″ × 42½″, top and bottom 3½″ × 42½″. Sew a corner square of ",
        "The top measures 48½″ × 48½″ with its borders.",
    ] {
        assert!(lines.contains(told), "{told} in {lines}");
    }
    assert!(!lines.contains("nest"), "one block meets no other: {lines}");
}

/// Only borders longer than their fabric is wide, 40 in here, come in sections.
#[test]
fn long_borders_are_joined_before_they_are_cut_to_length() {
    let design = quilt(Recipe::NinePatch(sized(Measure::Block, 12)));
    let joined = |lines: &str| lines.contains("sew its sections end to end with straight seams");
    assert!(joined(&told_top(&design)), "40½ in are more than 40");
    let small = quilt(Recipe::NinePatch(sized(Measure::Block, 11)));
    assert!(!joined(&told_top(&small)), "37½ in are not");
}

/// Where some seams cannot nest, nobody is told that all do; whole rows of blocks to press otherwise are told as rows, and
/// no place is left out.
#[test]
fn seams_that_cannot_nest_are_not_said_to() {
    let lines = told_top(&sample("lap-owl-lane.json"));
    assert!(lines.contains("Sew the rows together. Press") && !lines.contains("seams nested"), "{lines}");
    let told = "40 blocks are pressed the other way round throughout: all of rows 2, 4, 6, 8 and 10.";
    assert!(lines.contains(told), "{lines}");
    assert!(lines.contains("They are ") && !lines.contains(" more."), "{lines}");
}

/// What is pressed the other way round is told before the first step and at every step, and adds up to the blocks.
#[test]
fn pressing_the_other_way_round_is_told_before_it_is_sewn() {
    for name in ["lap-owl-lane.json", "queen-weathervane.json"] {
        let design = sample(name);
        let plan = QuiltPlan::new(&design, &BTreeMap::new()).unwrap();
        let reversed = plan.reversed.as_ref().unwrap();
        let (mut told, mut last) = (0, 0);
        for block in &plan.blocks {
            let pages = block_pages(&design, block, &[], CuttingHand::Right).unwrap();
            assert_eq!(pages.reversed.is_some(), !block.reversed.is_empty(), "{name}, {}", pages.name);
            for (step, variants) in pages.steps.iter().zip(&block.variants) {
                let pressed: u64 = variants.iter().map(|variant| variant.reversed).sum();
                // Each block has as many of the units of a step as any other.
                assert_eq!(pressed * pages.copies, step.makes * block.reversed.len() as u64, "{name}, {}", pages.name);
                let words = step.variants.iter().filter(|words| words.contains("the other way round.")).count();
                assert_eq!(
                    words,
                    variants.iter().filter(|variant| variant.reversed > 0).count(),
                    "{:?}",
                    step.variants
                );
            }
            told += block.reversed.len();
            last += block.variants.last().unwrap().iter().map(|variant| variant.reversed).sum::<u64>();
        }
        assert_eq!((told, last), (reversed.places.len(), reversed.places.len() as u64), "{name}");
    }
}

/// Toward the sashes (common practice, no source), so that seams nest at cornerstones; rows without sashes on point are
/// pressed as the plan of the top says.
#[test]
fn tops_with_sashes_and_on_point_are_told_how_to_press() {
    let sashed = told_top(&sample("king-lantern-orchard.json"));
    assert!(sashed.contains("toward the sashes, away from blocks and cornerstones"), "{sashed}");
    let on_point = told_top(&quilt_in(
        Recipe::NinePatch(sized(Measure::Block, 12)),
        Setting::OnPoint { rows: 3, columns: 2, sides: FabricId(2), corners: FabricId(2) },
    ));
    assert!(on_point.contains("Press the seams between the blocks to the"), "{on_point}");
    assert!(on_point.contains("Press the seams of side and corner triangles toward the triangles."), "{on_point}");
}

/// A triangle of 6 in sides is 3√3 = 5.196 in high, and its raw edges, ¼ in outside, make one of 5.196 + ¾ in.
#[test]
fn a_triangle_of_equal_sides_is_measured_too() {
    let unit = Recipe::SixtyUnit(Size { by: Measure::Side, length: Length::whole_inches(6).unwrap() });
    let setting = Setting::TriangleRows { rows: 2, columns: 3, ends: FabricId(2) };
    let last = pages(&quilt_in(unit, setting), CuttingHand::Right).steps.pop().unwrap();
    assert!(last.measures.unwrap().starts_with("5.946″ (just under 6″) from each edge to the tip opposite"));
}

#[test]
fn a_block_of_one_piece_is_not_sewn() {
    let design = sample("crib-pebble-ford.json");
    let plan = QuiltPlan::new(&design, &BTreeMap::new()).unwrap();
    let pages: Vec<BlockPages> =
        plan.blocks.iter().map(|block| block_pages(&design, block, &[], CuttingHand::Right).unwrap()).collect();
    let pebble = pages.iter().find(|page| page.name == "Pebble").unwrap();
    assert!(pebble.steps.is_empty());
    assert_eq!(pebble.seams, "This block is one piece: there is nothing to sew.");
}

/// A nine-patch of 12 in with ½ in to spare round it: a row at the edge is cut 4½ + ½ high and 12½ + 2 × ½ wide, the middle
/// row 4½ high; the block is trimmed to 12½.
#[test]
fn what_is_trimmed_later_is_in_the_measures_before() {
    let measures = |design: &Design| -> Vec<Option<String>> {
        pages(design, CuttingHand::Right).steps.into_iter().map(|step| step.measures).collect()
    };
    let exact = quilt(Recipe::NinePatch(sized(Measure::Block, 12)));
    assert_eq!(measures(&exact), [Some("4½″ × 12½″".to_owned()), Some("12½″ × 12½″".to_owned())]);
    let mut told = measures(&with_margin(&exact));
    let last = told.pop().unwrap();
    assert_eq!(last.as_deref(), Some("12½″ × 12½″"));
    let first = told.pop().unwrap().unwrap();
    let (sizes, later) = first.split_once(", ").unwrap();
    // The units are told apart by their letters: of the rows two lie at the edge.
    let mut sizes: Vec<&str> = sizes.split("; ").map(|size| size.split_once(" 1").unwrap().1).collect();
    sizes.sort_unstable();
    assert_eq!((sizes, later), (vec!["a 5″ × 13½″", "b 4½″ × 13½″"], "with what is trimmed later"));
}

/// A top of 12 in with a mitred border of 3 in finishes 18 in; its pieces reach 1 + √2 allowances past either corner, 19.2071 in
/// in all, which is 6.7071 in more than the 12½ in that are measured.
#[test]
fn a_mitred_border_is_as_long_as_what_is_measured_and_more() {
    let three = Length::whole_inches(3).unwrap();
    let block = Recipe::NinePatch(sized(Measure::Block, 6));
    let plain = made::quilt_in(block, Setting::Straight { rows: 2, columns: 2 }, &[three]);
    let borders = plain
        .borders()
        .iter()
        .map(|border| layout::Border { kind: layout::BorderKind::Mitred, ..border.clone() })
        .collect();
    let design = apply(&plain, &Edit::SetBorders(borders)).unwrap().0;
    let lines = publish::sewing::border_words(&design).unwrap().join("\n");
    let told = "the four pieces are 3½″ wide and 19.207″ (just under 19¼″) along their outer edge, what is measured and 6¾″ more.";
    assert!(lines.contains(told), "{told} in {lines}");
}

//! Samplers: blocks of different sizes in rows and freely placed, and fillers that make a rectangle of them, exactly.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]
#![allow(clippy::panic, clippy::float_cmp, clippy::type_complexity, reason = "exact figures and tables in a test")]

mod common;

use std::collections::BTreeSet;

use common::samplers::{as_free, bench, draft, free, in_row, pinwheel, rows_sampler};
use common::{block_of, check_top, edited, half_block, inches, starter, straight};
use geometry::{Exact, Length, Point, Recipe};
use layout::{
    Along, Design, Edit, PlaceId, SamplerBlock, SamplerDraft, SamplerFree, SamplerMade, SamplerPlan, SamplerRows,
    SamplerUnit, Stand, apply,
};
use proptest::prelude::*;

/// Left, bottom, width and height of a place, in inches.
fn rect(design: &Design, place: PlaceId) -> [Exact; 4] {
    let block = design.source_block(design.source(place).unwrap()).unwrap();
    let outline = design.motion(place).unwrap().polygon(block.base());
    let (low, _) = outline.bounds();
    let (width, height) = outline.extent();
    [low.x, low.y, width, height]
}

fn told(design: &Design, place: PlaceId) -> [f64; 4] {
    rect(design, place).map(|n| n.to_f64())
}

fn fillers(design: &Design) -> Vec<PlaceId> {
    design.all_places().filter(|place| matches!(place, PlaceId::Filler(_))).collect()
}

fn blocks_area(design: &Design) -> Exact {
    let area = |block| design.block(block).unwrap().block().base().area();
    design.places().fold(Exact::ZERO, |sum, (_, place)| &sum + &area(place.block))
}

/// What the fillers must come to: the rectangle without its blocks. And every place is in the tree of seams once, inside
/// the part it is joined to, parts of a stack as wide as the stack and parts of a row as high as the row.
fn check_sampler(design: &Design, label: &str) {
    check_top(design, label);
    let (width, height) = design.setting_extent();
    let area = fillers(design).into_iter().fold(Exact::ZERO, |sum, place| {
        let [_, _, width, height] = rect(design, place);
        &sum + &(&width * &height)
    });
    assert_eq!(area, &(&width * &height) - &blocks_area(design), "{label}");
    let unit = design.sampler_unit().unwrap();
    assert_eq!((&unit.width, &unit.height), (&width, &height), "{label}");
    let mut seen = BTreeSet::new();
    check_unit(design, unit, &mut seen);
    let cells: BTreeSet<PlaceId> = design.places().map(|(id, _)| id).chain(fillers(design)).collect();
    assert_eq!(seen, cells, "{label}");
}

fn check_unit(design: &Design, unit: &SamplerUnit, seen: &mut BTreeSet<PlaceId>) {
    let parts = unit.parts();
    let sum = |size: fn(&SamplerUnit) -> &Exact| parts.iter().fold(Exact::ZERO, |sum, part| &sum + size(part));
    match &unit.made {
        SamplerMade::Piece(place) => {
            assert!(seen.insert(*place), "{place} twice");
            let at = [unit.corner.x.clone(), unit.corner.y.clone(), unit.width.clone(), unit.height.clone()];
            let [dx, dy] =
                [design.borders().iter().fold(Exact::ZERO, |sum, border| &sum + border.across(false)), Exact::ZERO];
            assert_eq!(rect(design, *place), [&at[0] + &dx, &at[1] + &dy, at[2].clone(), at[3].clone()], "{place}");
        }
        SamplerMade::Stack(_) => {
            assert!(
                parts.len() > 1 && parts.iter().all(|part| part.width == unit.width && part.corner.x == unit.corner.x)
            );
            assert_eq!(sum(|part| &part.height), unit.height);
            assert!(parts.windows(2).all(|pair| pair[0].corner.y > pair[1].corner.y), "from the top");
            assert!(parts.iter().all(|part| !matches!(part.made, SamplerMade::Stack(_))));
        }
        SamplerMade::Row(_) => {
            assert!(
                parts.len() > 1
                    && parts.iter().all(|part| part.height == unit.height && part.corner.y == unit.corner.y)
            );
            assert_eq!(sum(|part| &part.width), unit.width);
            assert!(parts.windows(2).all(|pair| pair[0].corner.x < pair[1].corner.x), "from the left");
            assert!(parts.iter().all(|part| !matches!(part.made, SamplerMade::Row(_))));
        }
        SamplerMade::SetIn(_) => {
            assert!(parts.len() > 4, "what has fewer parts than a pinwheel has a straight seam");
            assert!(!has_straight_seam(parts), "a straight seam divides what is said to be set in");
        }
    }
    parts.iter().for_each(|part| check_unit(design, part, seen));
}

/// Whether a line along an edge of a part runs from edge to edge of all of them and cuts none.
fn has_straight_seam(parts: &[SamplerUnit]) -> bool {
    let spans = |level: bool| -> Vec<(Exact, Exact)> {
        let span = |part: &SamplerUnit| {
            let (from, size) = if level { (&part.corner.y, &part.height) } else { (&part.corner.x, &part.width) };
            (from.clone(), from + size)
        };
        parts.iter().map(span).collect()
    };
    [true, false].into_iter().any(|level| {
        let spans = spans(level);
        let last = spans.iter().map(|(_, to)| to).max().unwrap();
        let free = |at: &Exact| at < last && spans.iter().all(|(from, to)| to <= at || at <= from);
        spans.iter().any(|(_, at)| free(at))
    })
}

/// 12 + 1 + 6 + 1 + 4 in = 24 in; the second row has a goose on its side, 4 in wide, and a star of 6 in: 11 in, at the
/// right. The rows are 12 and 8 in high with 2 in between.
#[test]
fn rows_by_hand() {
    let design = rows_sampler();
    check_sampler(&design, "rows");
    assert_eq!(design.finished_size(), (Exact::int(24), Exact::int(22)));
    let cells = [
        ((0, 0), [0.0, 10.0, 12.0, 12.0]),
        ((0, 1), [13.0, 10.0, 6.0, 6.0]),
        ((0, 2), [20.0, 10.0, 4.0, 4.0]),
        ((1, 0), [13.0, 0.0, 4.0, 8.0]),
        ((1, 1), [18.0, 1.0, 6.0, 6.0]),
    ];
    for ((row, column), wanted) in cells {
        assert_eq!(told(&design, PlaceId::Cell { row, column }), wanted, "row {row}, column {column}");
    }
    let wanted: [[f64; 4]; 9] = [
        // One strip over the star and the square and the gaps beside them, which makes the star as high as the rest.
        [12.0, 16.0, 12.0, 6.0],
        [12.0, 10.0, 1.0, 6.0],
        // One strip over the square and its gap.
        [19.0, 14.0, 5.0, 2.0],
        [19.0, 10.0, 1.0, 4.0],
        // Between the rows.
        [0.0, 8.0, 24.0, 2.0],
        // Before the second row, over and under the star and its gap, and the gap.
        [0.0, 0.0, 13.0, 8.0],
        [17.0, 7.0, 7.0, 1.0],
        [17.0, 1.0, 1.0, 6.0],
        [17.0, 0.0, 7.0, 1.0],
    ];
    let found: Vec<[f64; 4]> = fillers(&design).into_iter().map(|place| told(&design, place)).collect();
    assert_eq!(found, wanted);
    assert_eq!(design.sampler_unit().unwrap().set_ins(), 0);
}

/// The pinwheel in the textbook: no line runs from edge to edge round the square in the middle. The margin of an inch
/// round all of it, and the gap to the block beside it, are cut off by straight seams first.
#[test]
fn a_pinwheel_is_set_in_and_filled_all_the_same() {
    let design = pinwheel();
    check_sampler(&design, "pinwheel");
    let unit = design.sampler_unit().unwrap();
    assert_eq!(unit.set_ins(), 1);
    fn find(unit: &SamplerUnit) -> Option<&SamplerUnit> {
        if matches!(unit.made, SamplerMade::SetIn(_)) { Some(unit) } else { unit.parts().iter().find_map(find) }
    }
    let set_in = find(unit).unwrap();
    assert_eq!(set_in.parts().len(), 5);
    assert_eq!(set_in.width, Exact::int(12));
    assert!(fillers(&design).len() <= 5, "{:?}", fillers(&design).len());
}

/// One block in the middle has four strips round it; two alike at one height have one over both.
#[test]
fn fillers_are_few_and_long() {
    let design = bench();
    let set = |plan, blocks: &[(u32, u8)]| edited(&design, &[Edit::SetSampler(draft(&design, plan, blocks))]);
    let rows: [(SamplerPlan, &[(u32, u8)], usize); 6] = [
        (free(20, 20, &[(4, 4)]), &[(1, 0)], 4),
        (free(12, 12, &[(0, 0)]), &[(1, 0)], 0),
        (free(12, 14, &[(0, 0)]), &[(1, 0)], 1),
        (free(12, 10, &[(0, 0), (6, 0)]), &[(2, 0), (2, 0)], 1),
        (free(14, 14, &[(0, 0), (8, 0), (0, 8), (8, 8)]), &[(2, 0), (2, 0), (2, 0), (2, 0)], 3),
        // Nine squares of 4 in, 2 in apart: two strips from edge to edge, and two short ones in each of three rows.
        (
            free(16, 16, &[(0, 0), (6, 0), (12, 0), (0, 6), (6, 6), (12, 6), (0, 12), (6, 12), (12, 12)]),
            &[(3, 0); 9],
            8,
        ),
    ];
    for (plan, blocks, count) in rows {
        let design = set(plan, blocks);
        check_sampler(&design, "few");
        assert_eq!(fillers(&design).len(), count, "{:?}", design.sampler_plan());
    }
}

fn refusal(design: &Design, plan: SamplerPlan, blocks: &[(u32, u8)]) -> String {
    apply(design, &Edit::SetSampler(draft(design, plan, blocks))).unwrap_err().to_string()
}

#[test]
fn what_makes_no_sampler_is_told() {
    let design = bench();
    let rows = |rows: &[u16]| {
        let rows = rows.iter().map(|n| in_row(*n, Stand::Top, Along::Left)).collect();
        SamplerPlan::Rows(SamplerRows { rows, gap: None, row_gap: None })
    };
    let none: &[(u32, u8)] = &[];
    assert_eq!(
        refusal(&design, free(30, 30, &[(0, 0), (10, 8)]), &[(1, 0), (1, 0)]),
        "block \"Block 1\" at row 1, column 1 and block \"Block 1\" at row 1, column 2 overlap at (10, 8) in from the \
         lower left; move one of them, or make it smaller"
    );
    assert_eq!(
        refusal(&design, free(30, 30, &[(20, 0)]), &[(1, 0)]),
        "block \"Block 1\" at row 1, column 1 reaches out of the 30 × 30 in of the sampler; move it inside"
    );
    assert!(refusal(&design, free(30, 30, &[(-1, 0)]), &[(1, 0)]).contains("reaches out"));
    assert_eq!(refusal(&design, free(30, 30, &[]), none), "a quilt needs at least one block");
    assert_eq!(
        refusal(&design, rows(&[2, 0]), &[(1, 0); 2]),
        "a quilt needs at least one block in every row of a sampler"
    );
    assert_eq!(refusal(&design, rows(&[1001]), none), "a quilt may have at most 1000 blocks in a sampler, not 1001");
    assert_eq!(refusal(&design, rows(&[1; 401]), none), "a quilt may have at most 400 rows, not 401");
    assert_eq!(
        refusal(&design, rows(&[2]), &[(1, 0)]),
        "the sampler has 2 places, but 1 blocks are to stand in it; give as many"
    );
    let sampler = rows_sampler();
    let sashing = Edit::SetSashing(Some(common::sashing(inches(1), true, true)));
    assert_eq!(
        apply(&sampler, &sashing).unwrap_err().to_string(),
        "a sampler has no sashing; its gaps and fillers lie between the blocks"
    );
    let stars = starter(&[Recipe::SixtyUnit(common::side_of(6))], common::triangles(1, 2), &[]).design().unwrap();
    let no_rectangle = refusal(&stars, rows(&[1]), &[(1, 0)]);
    assert!(no_rectangle.ends_with("a sampler needs square or rectangular blocks"), "{no_rectangle}");
}

/// Sizes with and without √2, one block of each.
fn sized(kind: u8, n: i64, d: i64) -> Recipe {
    let length = Length::inch_fraction(n, d).unwrap();
    match kind % 4 {
        0 => Recipe::Plain { width: length.clone(), height: Length::inch_fraction(d + 7, 4).unwrap() },
        1 => Recipe::TiltedStar(common::by(geometry::Measure::Diamond, length)),
        2 => Recipe::FlyingGoose(common::by(geometry::Measure::Block, length)),
        _ => half_block(n % 9 + 1),
    }
}

fn blocks() -> impl Strategy<Value = Vec<Recipe>> {
    prop::collection::vec((any::<u8>(), 8_i64..60, 1_i64..9).prop_map(|(kind, n, d)| sized(kind, n, d)), 1..6)
}

fn gap() -> impl Strategy<Value = Option<Length>> {
    prop::option::of((1_i64..40, 1_i64..12).prop_map(|(n, d)| Length::inch_fraction(n, d).unwrap()))
}

/// A block by die, its quarter turns and mirror.
type Die = (u16, u8, bool);

fn standing(design: &Design, count: u16, (die, turn, mirrored): Die) -> SamplerBlock {
    let mut block = common::samplers::standing(design, u32::from(die % count) + 1, turn % 4);
    block.place.mirrored = mirrored;
    block
}

fn dice() -> impl Strategy<Value = Die> {
    any::<Die>()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, failure_persistence: None, ..ProptestConfig::default() })]

    /// Rows of any blocks: as wide as the widest, each as high as its highest.
    #[test]
    fn every_sampler_in_rows_is_tiled(
        recipes in blocks(), gap in gap(), row_gap in gap(),
        rows in prop::collection::vec((prop::collection::vec(dice(), 1..6), 0_usize..3, 0_usize..3), 1..6),
    ) {
        let design = starter(&recipes, straight(1, 1), &[]).design().unwrap();
        let count = u16::try_from(recipes.len()).unwrap();
        let of = |stand: usize, along: usize, n: usize| in_row(
            u16::try_from(n).unwrap(),
            [Stand::Top, Stand::Middle, Stand::Bottom][stand],
            [Along::Left, Along::Middle, Along::Right][along],
        );
        let plan = SamplerPlan::Rows(SamplerRows {
            rows: rows.iter().map(|(dice, stand, along)| of(*stand, *along, dice.len())).collect(),
            gap: gap.clone(),
            row_gap: row_gap.clone(),
        });
        let blocks: Vec<SamplerBlock> =
            rows.iter().flat_map(|(dice, _, _)| dice).map(|die| standing(&design, count, *die)).collect();
        let set = Edit::SetSampler(SamplerDraft { plan, filler: common::FOURTH, blocks });
        let design = edited(&design, &[set]);
        check_sampler(&design, "random rows");
        let size = |gap: &Option<Length>| gap.as_ref().map_or(Exact::ZERO, |gap| gap.inches().clone());
        let (mut widest, mut high) = (Exact::ZERO, size(&row_gap).scale_int(i64::try_from(rows.len()).unwrap() - 1));
        for row in 0..u16::try_from(rows.len()).unwrap() {
            let sizes: Vec<[Exact; 4]> = design.places().map(|(id, _)| id)
                .filter(|id| matches!(id, PlaceId::Cell { row: own, .. } if *own == row)).map(|id| rect(&design, id)).collect();
            let gaps = size(&gap).scale_int(i64::try_from(sizes.len()).unwrap() - 1);
            widest = widest.max(sizes.iter().fold(gaps, |sum, size| &sum + &size[2]));
            high = &high + sizes.iter().map(|size| &size[3]).max().unwrap();
        }
        prop_assert_eq!(design.setting_extent(), (widest, high));
        prop_assert_eq!(design.sampler_unit().unwrap().set_ins(), 0, "rows have straight seams");
        // The same places told one by one give the same top, with no more fillers.
        let free = as_free(&design);
        check_sampler(&free, "the same, placed freely");
        prop_assert!(free.places().all(|(id, _)| rect(&free, id) == rect(&design, place_in(&design, id))));
    }

    /// Blocks thrown anywhere; what falls on another is left out.
    #[test]
    fn every_free_sampler_is_tiled(
        recipes in blocks(), throws in prop::collection::vec((dice(), 0_i64..48, 0_i64..48, 1_i64..4), 1..24),
    ) {
        let design = starter(&recipes, straight(1, 1), &[]).design().unwrap();
        let count = u16::try_from(recipes.len()).unwrap();
        let mut kept: Vec<([Exact; 4], SamplerBlock)> = Vec::new();
        for (die, x, y, d) in throws {
            let block = standing(&design, count, die);
            let (width, height) = design.block(block.place.block).unwrap().block().base().extent();
            let (width, height) = if block.place.turn.is_multiple_of(2) { (width, height) } else { (height, width) };
            let own = [Exact::ratio(x, d).unwrap(), Exact::ratio(y, d).unwrap(), width, height];
            let apart = |a: &[Exact; 4], b: &[Exact; 4], k: usize| &a[k] + &a[k + 2] <= b[k] || &b[k] + &b[k + 2] <= a[k];
            if kept.iter().all(|(other, _)| apart(&own, other, 0) || apart(&own, other, 1)) {
                kept.push((own, block));
            } else {
                let told = set_free(&design, kept.iter().cloned().chain([(own, block)]).collect()).unwrap_err();
                prop_assert!(told.to_string().contains("overlap at"), "{told}");
            }
        }
        let design = set_free(&design, kept.clone()).unwrap();
        check_sampler(&design, "random places");
        for (column, (wanted, _)) in (0..).zip(&kept) {
            prop_assert_eq!(&rect(&design, PlaceId::Cell { row: 0, column }), wanted);
        }
    }

    /// Whatever was cut from a rectangle by straight seams is sewn by straight seams: no block is set in, however many
    /// parts are taken out to be filled.
    #[test]
    fn what_straight_seams_made_they_join(cuts in prop::collection::vec((any::<u8>(), any::<bool>(), 1_i64..8), 1..30), left in any::<u32>()) {
        let mut parts = vec![[0, 0, 960, 960]];
        for (which, level, eighths) in cuts {
            let number = usize::from(which) % parts.len();
            let [x, y, w, h] = parts[number];
            let (along, across) = if level { (h, w) } else { (w, h) };
            let at = along * eighths / 8;
            if at < 4 || along - at < 4 || across < 4 {
                continue;
            }
            parts[number] = if level { [x, y, w, at] } else { [x, y, at, h] };
            parts.push(if level { [x, y + at, w, h - at] } else { [x + at, y, w - at, h] });
        }
        let blocks: Vec<[i64; 4]> = (0..).zip(&parts).filter(|(i, _)| *i == 0 || left >> (i % 32) & 1 == 0).map(|(_, part)| *part).collect();
        let inch = |n: i64| Length::inch_fraction(n, 16).unwrap();
        let recipes: Vec<Recipe> = blocks.iter().map(|[_, _, w, h]| Recipe::Plain { width: inch(*w), height: inch(*h) }).collect();
        let design = starter(&recipes, straight(1, 1), &[]).design().unwrap();
        let corner = |[x, y, _, _]: &[i64; 4]| Point::new(Exact::ratio(*x, 16).unwrap(), Exact::ratio(*y, 16).unwrap());
        let plan = SamplerFree { width: inches(60), height: inches(60), corners: blocks.iter().map(corner).collect() };
        let numbers: Vec<(u32, u8)> = (1..).take(blocks.len()).map(|n| (n, 0)).collect();
        let design = edited(&design, &[Edit::SetSampler(draft(&design, SamplerPlan::Free(plan), &numbers))]);
        check_sampler(&design, "cut by straight seams");
        prop_assert_eq!(design.sampler_unit().unwrap().set_ins(), 0);
    }
}

/// The cell of a sampler in rows that is the same block as this one of the free one.
fn place_in(rows: &Design, free: PlaceId) -> PlaceId {
    let PlaceId::Cell { column, .. } = free else { panic!("{free}") };
    rows.places().nth(usize::from(column)).unwrap().0
}

fn set_free(design: &Design, kept: Vec<([Exact; 4], SamplerBlock)>) -> Result<Design, layout::EditError> {
    let corners = kept.iter().map(|([x, y, _, _], _)| Point::new(x.clone(), y.clone())).collect();
    let plan = SamplerPlan::Free(SamplerFree { width: inches(400), height: inches(400), corners });
    let blocks = kept.into_iter().map(|(_, block)| block).collect();
    apply(design, &Edit::SetSampler(SamplerDraft { plan, filler: common::FOURTH, blocks })).map(|(design, _)| design)
}

/// A thousand blocks, the most there may be, are laid out.
#[test]
fn the_largest_sampler_is_laid_out() {
    let design = starter(&[Recipe::FourPatch(block_of(2))], straight(1, 1), &[]).design().unwrap();
    let corners: Vec<(i64, i64)> = (0..1000).map(|n| (n % 40 * 3 + n / 40 % 2, n / 40 * 4)).collect();
    let plan = free(121, 100, &corners);
    let blocks: Vec<(u32, u8)> = vec![(1, 0); corners.len()];
    let design = edited(&design, &[Edit::SetSampler(draft(&design, plan, &blocks))]);
    assert_eq!(design.places().count(), 1000);
    let (width, height) = design.setting_extent();
    assert_eq!((width, height), (Exact::int(121), Exact::int(100)));
}

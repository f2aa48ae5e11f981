//! Borders: mitred and square corners, blocks along the sides with an exact fit or the spacer that makes one.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::{
    DARK, FOURTH, LIGHT, THIRD, block_of, check_top, edited, half_block, inches, jumbled, on_point, pieced, starter,
    straight,
};
use geometry::{Exact, Length, PatchKey, Recipe, Value};
use layout::{
    BlockId, Border, BorderKind, Corner, Design, Edit, EditError, PiecedBorder, PlaceId, Setting, Side, Source, Tally,
    apply,
};
use proptest::prelude::*;

/// Blocks of 12 in; and as 2 and 3 a flying goose of 4 × 2 in and a half-square triangle of 2 in for borders.
fn quilt(setting: Setting, borders: Vec<Border>) -> Result<Design, EditError> {
    let geese = Recipe::FlyingGoose(block_of(4));
    let design = starter(&[half_block(12), geese, Recipe::HalfSquare(block_of(2))], setting, &[]).design().unwrap();
    apply(&design, &Edit::SetBorders(borders)).map(|(design, _)| design)
}

fn border(width: i64, kind: BorderKind) -> Border {
    Border { kind, ..Border::plain(inches(width), DARK) }
}

fn count(design: &Design, wanted: impl Fn(&PlaceId) -> bool) -> usize {
    design.all_places().filter(wanted).count()
}

#[test]
fn every_kind_of_border_proves_round_every_kind_of_setting() {
    let kinds = [BorderKind::Butted, BorderKind::Mitred, BorderKind::CornerSquares(FOURTH)];
    for setting in [straight(1, 1), straight(3, 2), on_point(2, 3)] {
        for (first, second) in kinds.iter().flat_map(|a| kinds.map(|b| (*a, b))) {
            let uneven = Border { level_width: Some(inches(5)), ..Border::plain(inches(1), LIGHT) };
            let design = quilt(setting, vec![border(2, first), uneven, border(3, second)]).unwrap();
            check_top(&jumbled(&design), &format!("{setting:?} {first:?} {second:?}"));
            let (inner, outer) = (design.setting_extent(), design.finished_size());
            assert_eq!(&outer.0 - &inner.0, Exact::int(2 * 6));
            assert_eq!(&outer.1 - &inner.1, Exact::int(2 * 10));
        }
    }
}

/// Round 24 × 36 in, 3 in wide. Mitred: the long sides are those of the finished quilt, and the grain runs along them.
/// With squares, the sides are as long as what they enclose.
#[test]
fn border_pieces_by_hand() {
    let size = |design: &Design, level| {
        let block = design.source_block(Source::Border { border: 0, level }).unwrap();
        let (w, h) = block.base().extent();
        ([w.to_f64(), h.to_f64()], block.base().area().to_f64())
    };
    let mitred = quilt(straight(3, 2), vec![border(3, BorderKind::Mitred)]).unwrap();
    assert_eq!(size(&mitred, true), ([30.0, 3.0], 81.0));
    assert_eq!(size(&mitred, false), ([3.0, 42.0], 117.0));
    for level in [false, true] {
        let block = mitred.source_block(Source::Border { border: 0, level }).unwrap();
        let grain = block.patches()[0].grain.clone().unwrap();
        assert_eq!(grain.x.is_zero(), !level);
    }
    let squares = quilt(straight(3, 2), vec![border(3, BorderKind::CornerSquares(FOURTH))]).unwrap();
    assert_eq!([size(&squares, true).0, size(&squares, false).0], [[24.0, 3.0], [3.0, 36.0]]);
    assert_eq!(count(&squares, |place| matches!(place, PlaceId::BorderCorner { .. })), 4);
    let corner = PlaceId::BorderCorner { border: 0, corner: Corner::TopLeft };
    let source = squares.source(corner).unwrap();
    let paint = squares.paint(corner, source, &squares.source_block(source).unwrap(), 0).unwrap();
    assert_eq!((source, paint), (Source::BorderCorner { border: 0 }, FOURTH));
}

/// 24 × 36 in hold 6 and 9 geese of 4 in along their sides; the corners are squares of 2 in.
#[test]
fn blocks_fill_the_sides_and_turn_with_them() {
    let design = quilt(straight(3, 2), vec![pieced(2, BlockId(2), BlockId(3))]).unwrap();
    check_top(&design, "geese");
    for (side, n) in [(Side::Top, 6), (Side::Bottom, 6), (Side::Left, 9), (Side::Right, 9)] {
        assert_eq!(count(&design, |p| matches!(p, PlaceId::BorderBlock { side: s, .. } if *s == side)), n);
    }
    // The long side of a goose lies towards the centre, its tip at the edge of the quilt.
    let goose = design.block(BlockId(2)).unwrap().block().clone();
    let tip = goose.patches()[0].outline.corners().iter().find(|p| p.y == Exact::int(2)).unwrap().clone();
    let (width, height) = design.finished_size();
    for (side, on_edge) in [(Side::Top, 0), (Side::Bottom, 1), (Side::Left, 2), (Side::Right, 3)] {
        let at = design.motion(PlaceId::BorderBlock { border: 0, side, index: 1 }).unwrap().point(&tip);
        assert!([at.y == height, at.y.is_zero(), at.x.is_zero(), at.x == width][on_edge], "{side:?}");
    }
    // The first of a side is the one at the left or at the top.
    let first = design.motion(PlaceId::BorderBlock { border: 0, side: Side::Top, index: 0 }).unwrap().point(&tip);
    assert_eq!(first.x, Exact::int(4));
    let first = design.motion(PlaceId::BorderBlock { border: 0, side: Side::Left, index: 0 }).unwrap().point(&tip);
    assert_eq!(first.y, Exact::int(36));
}

/// Round 24 × 36 in squares of 5 in leave 4 and 1 in: ½ in more at either side makes 5 of them, and 2 in at either end 8.
#[test]
fn what_does_not_fit_is_told_with_the_spacer_that_makes_it_fit() {
    let recipes = [half_block(12), Recipe::HalfSquare(block_of(5))];
    let design = starter(&recipes, straight(3, 2), &[]).design().unwrap();
    let blocks = pieced(5, BlockId(2), BlockId(2));
    let refused = apply(&design, &Edit::SetBorders(vec![blocks.clone()])).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "the blocks of border 1 do not fill its sides: top and bottom are 24.0000 in, 4 blocks of 5.0000 in and 4.0000 in \
         more; left and right are 36.0000 in, 7 blocks of 5.0000 in and 1.0000 in more; put a plain border inside it, \
         0.5000 in at the left and right and 2.0000 in at top and bottom"
    );
    let EditError::BorderMisfit(misfit) = refused else { panic!("{refused}") };
    assert_eq!([misfit.level.over.clone(), misfit.upright.over.clone()], [Exact::int(4), Exact::int(1)]);
    let spacer = misfit.spacer(LIGHT).unwrap();
    assert_eq!(spacer.across(false), &Exact::ratio(1, 2).unwrap());
    assert_eq!(spacer.across(true), &Exact::int(2));
    let fits = edited(&design, &[Edit::SetBorders(vec![spacer, blocks])]);
    check_top(&fits, "with the spacer");
    assert_eq!(fits.finished_size(), (Exact::int(35), Exact::int(50)));
}

#[test]
fn borders_that_cannot_be_are_told() {
    let geese = |width, turn, corner| {
        let kind = BorderKind::Pieced(PiecedBorder { block: BlockId(2), turn, mirrored: false, corner });
        Border { kind, ..Border::plain(inches(width), DARK) }
    };
    let two_widths = Border { level_width: Some(inches(1)), ..border(2, BorderKind::Mitred) };
    let rows = [
        (
            geese(3, 0, BlockId(3)),
            "block \"Block 2\" does not fit border 1: it is 2.0000 in deep, the border 3.0000 in wide",
        ),
        (geese(2, 0, BlockId(1)), "block \"Block 1\" does not fit border 1: its corners need squares of 2.0000 in"),
        (geese(4, 1, BlockId(3)), "block \"Block 3\" does not fit border 1: its corners need squares of 4.0000 in"),
        (
            geese(2, 4, BlockId(3)),
            "block \"Block 2\" fits its place only in 4 turns, counted from 0; 4 is not one of them",
        ),
        (two_widths, "border 1 has two widths; only a plain border with butted corners may"),
        (pieced(2, BlockId(9), BlockId(3)), "there is no block 9; choose one of the quilt's blocks"),
    ];
    for (border, told) in rows {
        assert_eq!(quilt(straight(2, 2), vec![border]).unwrap_err().to_string(), told);
    }
    let tiny = starter(
        &[Recipe::Plain { width: inches(2000), height: inches(20) }, Recipe::HalfSquare(layout_size(1, 2))],
        straight(1, 1),
        &[],
    );
    let kind = BorderKind::Pieced(PiecedBorder { block: BlockId(2), turn: 0, mirrored: false, corner: BlockId(2) });
    let border = Border { kind, ..Border::plain(Length::inch_fraction(1, 2).unwrap(), DARK) };
    let told = apply(&tiny.design().unwrap(), &Edit::SetBorders(vec![border])).unwrap_err().to_string();
    assert_eq!(told, "a quilt may have at most 2000 blocks on a side of a border, not 4000");
}

fn layout_size(num: i64, den: i64) -> geometry::Size {
    common::by(geometry::Measure::Block, Length::inch_fraction(num, den).unwrap())
}

/// A block in a border is painted, counted, kept and redrafted like any other.
#[test]
fn border_blocks_are_blocks() {
    let design = quilt(straight(2, 2), vec![pieced(2, BlockId(2), BlockId(3))]).unwrap();
    let told = apply(&design, &Edit::RemoveBlock(BlockId(2))).unwrap_err().to_string();
    assert_eq!(told, "block \"Block 2\" is still used in the quilt; put another block in its places first");
    let place = PlaceId::BorderBlock { border: 0, side: Side::Left, index: 2 };
    let goose = design.block(BlockId(2)).unwrap().block().clone();
    let role = goose.patches()[0].role.clone();
    let all = edited(&design, &[Edit::PaintRole { block: BlockId(2), role, value: None, fabric: THIRD }]);
    assert_eq!(all.paint(place, Source::Block(BlockId(2)), &goose, 0).unwrap(), THIRD);
    let one = edited(&all, &[Edit::PaintPatch { place, patch: PatchKey(0), fabric: LIGHT }]);
    let tally = Tally::count(&one).unwrap();
    let geese: i64 = tally
        .counts()
        .filter(|m| m.source == Source::Block(BlockId(2)) && m.patch == PatchKey(0))
        .map(|m| if m.fabric == LIGHT { 100 * m.change } else { m.change })
        .sum();
    assert_eq!(geese, 100 + 23, "24 geese round 24 × 24 in, one of them light");
    assert_eq!(
        one.halves(PlaceId::BorderCorner { border: 0, corner: Corner::TopLeft }).values(),
        [Value::Dark, Value::Light]
    );
    // Half as large, twice as many: the border follows its blocks, and paint of places that are there stays.
    let half = [(BlockId(2), Recipe::FlyingGoose(block_of(2))), (BlockId(3), Recipe::HalfSquare(block_of(1)))];
    let (redrafted, delta) = apply(&one, &Edit::Redraft(half.to_vec())).unwrap();
    assert_eq!(*redrafted.borders()[0].width.inches(), Exact::ONE);
    assert_eq!((redrafted.place_patches().count(), delta.lost.len()), (1, 0));
    check_top(&redrafted, "redrafted");
    // Without the border its paint goes, and is told.
    let (_, delta) = apply(&one, &Edit::SetBorders(Vec::new())).unwrap();
    assert_eq!(delta.lost, ["block 3 on the left side of border 1: paint of patch 0"]);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 192, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever the quilt and the block, the blocks fit, or they do with the spacer that is proposed.
    #[test]
    fn the_spacer_always_makes_it_fit(
        side in 3_i64..20, rows in 1_u16..4, columns in 1_u16..5, num in 1_i64..60, den in 1_i64..8, width in 1_i64..5,
        pointed in any::<bool>(), turn in 0_u8..4, mirrored in any::<bool>(),
    ) {
        let setting = if pointed { on_point(rows, columns) } else { straight(rows, columns) };
        let length = Length::inch_fraction(num + den, den).unwrap();
        let square = Recipe::HalfSquare(common::by(geometry::Measure::Block, length.clone()));
        let design = starter(&[half_block(side), square], setting, &[width]).design().unwrap();
        let kind = BorderKind::Pieced(PiecedBorder { block: BlockId(2), turn, mirrored, corner: BlockId(2) });
        let blocks = Border { kind, ..Border::plain(length, DARK) };
        let mut borders = design.borders().to_vec();
        borders.push(blocks);
        let design = match apply(&design, &Edit::SetBorders(borders.clone())) {
            Ok((design, _)) => design,
            Err(EditError::BorderMisfit(misfit)) => {
                let spacer = misfit.spacer(LIGHT).unwrap();
                let block = &misfit.level.block;
                prop_assert!(*spacer.width.inches() <= block.half() && spacer.across(true) <= &block.half());
                borders.insert(1, spacer);
                edited(&design, &[Edit::SetBorders(borders)])
            }
            Err(other) => return Err(TestCaseError::fail(other.to_string())),
        };
        check_top(&jumbled(&design), "random border");
    }
}

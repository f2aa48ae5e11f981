//! Medallions: rounds of blocks about a centre, and the plain borders that make every one of them fit.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::{
    DARK, FOURTH, LIGHT, block_of, check_top, edited, file_text, half_block, inches, jumbled, on_point, starter,
    straight,
};
use geometry::{Exact, Length, Measure, Recipe};
use layout::file::Document;
use layout::{BlockId, Border, BorderKind, Design, Edit, PiecedBorder, Round, Setting, medallion};
use proptest::prelude::*;

/// A centre of 12 in, and as 2 to 5: a goose of 4 × 2 in with corners of 2 in, a star of 3 in, and plain blocks of 5 × 3.
fn centre(setting: Setting) -> Design {
    let blocks = [
        half_block(12),
        Recipe::FlyingGoose(block_of(4)),
        Recipe::HalfSquare(block_of(2)),
        Recipe::TiltedStar(block_of(3)),
        Recipe::Plain { width: inches(5), height: inches(3) },
    ];
    starter(&blocks, setting, &[]).design().unwrap()
}

fn round(block: u32, corner: u32, least: Option<Length>) -> Round {
    let blocks = PiecedBorder { block: BlockId(block), turn: 0, mirrored: false, corner: BlockId(corner) };
    Round { blocks, spacer: LIGHT, least }
}

fn set(design: &Design, rounds: &[Round]) -> Design {
    edited(design, &[Edit::SetBorders(medallion(design, rounds).unwrap())])
}

fn widths(borders: &[Border]) -> Vec<(f64, f64, bool)> {
    borders.iter().map(|b| (b.across(false).to_f64(), b.across(true).to_f64(), b.pieced().is_some())).collect()
}

/// 12 in hold three geese of 4 in as they are: 16 in outside. Stars of 3 in then want 18 in, so 1 in more on each side.
/// On point the centre is 12√2 = 16.97 in: five geese are 20 in, (20 − 12√2) ÷ 2 = 1.5147 in on each side.
#[test]
fn rounds_by_hand() {
    let design = centre(straight(1, 1));
    let rounds = [round(2, 3, None), round(4, 4, None)];
    let borders = medallion(&design, &rounds).unwrap();
    assert_eq!(widths(&borders), [(2.0, 2.0, true), (1.0, 1.0, false), (3.0, 3.0, true)]);
    let whole = set(&design, &rounds);
    check_top(&jumbled(&whole), "medallion");
    assert_eq!(whole.finished_size(), (Exact::int(24), Exact::int(24)));
    // At least an inch inside each: the geese then want 16 in, 2 in on each side.
    let wide = [round(2, 3, Some(inches(1))), round(4, 4, Some(inches(1)))];
    assert_eq!(
        widths(&medallion(&design, &wide).unwrap()),
        [(2.0, 2.0, false), (2.0, 2.0, true), (2.0, 2.0, false), (3.0, 3.0, true)]
    );
    let pointed = centre(on_point(1, 1));
    let borders = medallion(&pointed, &rounds[..1]).unwrap();
    let spacer = (&Exact::int(20) - &Exact::sqrt2().scale_int(12)).half();
    assert_eq!(borders[0].width.inches(), &spacer);
    check_top(&set(&pointed, &rounds), "medallion on point");
}

/// Centre, plain border with mitred corners, geese with corner blocks, plain, stars, plain with corner squares: proved,
/// written and read again.
#[test]
fn a_whole_medallion_is_a_quilt() {
    let design = centre(on_point(1, 1));
    let mut borders = medallion(&design, &[round(2, 3, Some(inches(2))), round(4, 4, Some(inches(1)))]).unwrap();
    assert_eq!(borders.len(), 4);
    borders[0].kind = BorderKind::Mitred;
    borders.push(Border { kind: BorderKind::CornerSquares(FOURTH), ..Border::plain(inches(4), DARK) });
    let design = edited(&design, &[Edit::SetBorders(borders)]);
    check_top(&design, "whole medallion");
    let text = Document::new(design.clone()).to_bytes().unwrap();
    let again = Document::from_bytes(&text).unwrap();
    assert_eq!(again.variants()[0].design, design);
    assert_eq!(file_text(&again.variants()[0].design), file_text(&design));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    /// Any centre and any rounds that exist fit: a border of blocks that did not would be refused.
    #[test]
    fn every_round_fits(
        side in (20_i64..400, 1_i64..20), pointed in any::<bool>(), goose in (8_i64..90, 1_i64..9),
        rounds in prop::collection::vec((0_usize..3, prop::option::of((1_i64..50, 1_i64..9))), 1..5),
    ) {
        let length = |(n, d): (i64, i64)| Length::inch_fraction(n, d).unwrap();
        let by = |length: Length| common::by(Measure::Block, length);
        let depth = Length::new(length(goose).inches().half()).unwrap();
        let diamond = Recipe::TiltedStar(common::by(Measure::Diamond, depth.clone()));
        let blocks = [
            Recipe::FourPatch(by(length(side))),
            Recipe::FlyingGoose(by(length(goose))),
            Recipe::HalfSquare(by(depth)),
            diamond,
        ];
        let setting = if pointed { on_point(1, 1) } else { straight(1, 1) };
        let design = starter(&blocks, setting, &[]).design().unwrap();
        let kinds = [(2, 3), (4, 4), (1, 1)];
        let rounds: Vec<Round> =
            rounds.into_iter().map(|(kind, least)| round(kinds[kind].0, kinds[kind].1, least.map(length))).collect();
        let borders = medallion(&design, &rounds).unwrap();
        prop_assert_eq!(borders.iter().filter(|border| border.pieced().is_some()).count(), rounds.len());
        let whole = edited(&design, &[Edit::SetBorders(borders.clone())]);
        whole.top().unwrap().prove().unwrap();
        // No plain border could be narrower by half a block and keep the blocks whole and its least width.
        let mut left = borders.iter();
        for round in &rounds {
            let spacer = left.next().filter(|border| border.pieced().is_none());
            let Some(spacer) = spacer else { continue };
            prop_assert!(left.next().unwrap().pieced().is_some());
            let half = whole.block(round.blocks.block).unwrap().block().base().extent().0.half();
            let narrower = spacer.across(false) - &half;
            let narrowest = Exact::ratio(1, 64).unwrap();
            let least = round.least.as_ref().map_or(narrowest.clone(), |least| least.inches().clone());
            prop_assert!(narrower < least.max(narrowest));
        }
    }
}

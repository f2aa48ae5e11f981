//! What the maker wishes of the plan: margins, spare pieces, the ruler, and where the length goes.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::{DARK, LIGHT, THIRD, block_of, cell, edited, fraction, ledger, starter, straight};
use cutting::{BlockFit, FabricPlan, audit};
use geometry::{Exact, Recipe};
use layout::{Border, CuttingWishes, Design, Edit, FabricId, MethodKind, RulerRounding};

fn stars() -> Design {
    starter(&[Recipe::TiltedStar(block_of(12))], straight(4, 4), &[]).design().unwrap()
}

fn wishing(design: &Design, wishes: CuttingWishes) -> Design {
    edited(design, &Edit::SetCutting(wishes))
}

fn plan(design: &Design, id: FabricId) -> FabricPlan {
    let ledger = ledger(design);
    assert!(audit(design, ledger.plans()).is_ok());
    ledger.plans()[&id].clone().unwrap()
}

/// Cut width and height of the pieces whose label begins like this, in inches to four decimals.
fn cut_size(plan: &FabricPlan, label: &str) -> (String, String) {
    let piece = plan.pieces.iter().find(|p| p.label.starts_with(label)).unwrap();
    let bounds = piece.prepared.bounds();
    let text = |units| cutting::buying::inches(units).to_decimal(4);
    (text(bounds.width()), text(bounds.height()))
}

#[test]
fn margins_are_laid_on_block_edges_only() {
    let design = stars();
    let margin = CuttingWishes { oversize: Some(fraction(1, 2)), ..CuttingWishes::default() };
    let generous = wishing(&design, margin);
    // The background square of a 12 in tilted star finishes at 12/(2+√2) = 3.5147 in; two of its sides are the block's.
    let of = |design: &Design, label: &str| {
        let ledger = ledger(design);
        let plans = ledger.plans().values().filter_map(|p| p.as_ref().ok());
        plans
            .filter(|p| p.pieces.iter().any(|x| x.label.starts_with(label)))
            .map(|p| cut_size(p, label))
            .next()
            .unwrap()
    };
    assert_eq!(of(&design, "background square"), ("4.0147".to_owned(), "4.0147".to_owned()));
    assert_eq!(of(&generous, "background square"), ("4.5147".to_owned(), "4.5147".to_owned()));
    assert_eq!(of(&design, "diamond"), of(&generous, "diamond"));
    let more: Exact = ledger(&generous)
        .plans()
        .values()
        .map(|p| p.clone().unwrap().breakdown.oversize)
        .fold(Exact::ZERO, |a, b| &a + &b);
    // On 40 in: of each block 4 squares grow from 4.0147² to 4.5147², and 4 triangles by ½ in along their long side,
    // which is then 3.5147·√2 + 1.2071 + 2·½ in for a height grown by ½ in.
    let squares = 4.0 * (4.514_719_f64.powi(2) - 4.014_719_f64.powi(2));
    let long = 3.514_719 * 2.0_f64.sqrt() + 1.207_107;
    let triangles = 4.0 * ((long + 1.0).powi(2) - long.powi(2)) / 4.0;
    let wanted = 16.0 * (squares + triangles) / 40.0;
    assert!((more.to_f64() - wanted).abs() < 1e-3, "{} {wanted}", more.to_f64());
    audit(&generous, ledger(&generous).plans()).unwrap();
    assert!(audit(&generous, ledger(&design).plans()).is_err(), "a plan without the margin is no plan for it");
}

#[test]
fn mirrored_blocks_keep_their_margins_outside() {
    let half =
        starter(&[Recipe::DiagonalHalf { size: block_of(6), band: None }], straight(3, 3), &[]).design().unwrap();
    let half = wishing(&half, CuttingWishes { oversize: Some(fraction(3, 8)), ..CuttingWishes::default() });
    let mirrored = edited(&half, &Edit::Mirror { place: cell(1, 1), mirrored: true });
    audit(&mirrored, ledger(&mirrored).plans()).unwrap();
}

#[test]
fn spare_pieces_are_rounded_up_and_told_apart() {
    let design = stars();
    let spare = wishing(&design, CuttingWishes { spare_permille: 50, ..CuttingWishes::default() });
    let (before, after) = (plan(&design, DARK), plan(&spare, DARK));
    for (a, b) in before.pieces.iter().zip(&after.pieces) {
        assert_eq!((b.spare, b.count), (a.count.div_ceil(20), a.count + a.count.div_ceil(20)), "{}", a.label);
    }
    assert!(after.breakdown.spare.is_positive() && before.breakdown.spare.is_zero());
    assert_eq!(after.breakdown.pieces, before.breakdown.pieces);
}

/// A 12 in tilted star wants strips of 2.9853 in; set at 3 in it finishes at 12.07 in (12/(2+√2)/√2 + ½: mathematics).
#[test]
fn the_ruler_changes_the_size_of_a_star_and_sizes_that_fit_are_proposed() {
    let design = stars();
    let ledger = ledger(&design);
    let fits = BlockFit::of_design(&design, ledger.book());
    let diamonds = &fits[0].strips[0];
    assert_eq!(diamonds.roles[0].name(), "diamond");
    let figures = [&diamonds.strip.exact, &diamonds.strip.ruler, &diamonds.finishes].map(|f| f.to_decimal(4));
    assert_eq!(figures, ["2.9853", "3.0000", "12.0711"]);
    // S = h(2+2√2): finished strips of 2½ in make a star of 12.0711 in, those of 2⅝ in one of 12.6746 in.
    let sizes: Vec<(String, String)> =
        fits[0].sizes.iter().map(|s| (s.strip.to_decimal(3), s.size.to_decimal(4))).collect();
    for wanted in [("3.000", "12.0711"), ("3.125", "12.6746")] {
        assert!(sizes.iter().any(|(strip, size)| (strip.as_str(), size.as_str()) == wanted), "{sizes:?}");
    }
    assert!(sizes.windows(2).all(|pair| pair[0].0 < pair[1].0));
}

#[test]
fn a_strip_set_below_its_width_is_laid_as_it_is() {
    // 2.93 in strips: the nearest eighth is 2⅞ in, the next up 3 in.
    let design = starter(
        &[Recipe::FourPatch(geometry::Size { by: geometry::Measure::Block, length: fraction(486, 100) })],
        straight(3, 3),
        &[],
    )
    .design()
    .unwrap();
    let nearest = wishing(&design, CuttingWishes { ruler: RulerRounding::Nearest, ..CuttingWishes::default() });
    let (up, nearest) = (plan(&design, LIGHT), plan(&nearest, LIGHT));
    let heights = |plan: &FabricPlan| {
        let all = plan.plan.strips.iter().map(|s| cutting::buying::inches(s.height).to_decimal(2));
        all.collect::<std::collections::BTreeSet<_>>().into_iter().collect::<Vec<_>>()
    };
    assert_eq!(heights(&up), ["2.50", "3.00"]);
    assert_eq!(heights(&nearest), ["2.50", "2.93"]);
}

#[test]
fn long_borders_lie_lengthwise_where_that_takes_less() {
    let king = starter(&[Recipe::NinePatch(block_of(9))], straight(10, 10), &[]).design().unwrap();
    let king = edited(&king, &Edit::SetBorders(vec![Border::plain(fraction(19, 2), THIRD)]));
    let joined = wishing(&king, CuttingWishes { avoid: MethodKind::ALL.into(), ..CuttingWishes::default() });
    let (free, joined) = (plan(&king, THIRD), plan(&joined, THIRD));
    assert!(joined.pieces.iter().any(|p| p.is_section) && joined.breakdown.joins.is_positive());
    assert!(free.plan.length < joined.plan.length);
    assert!(!free.pieces.iter().any(|p| p.is_section), "four strips of 10 in beside each other are 40 in wide");
}

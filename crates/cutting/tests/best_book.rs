//! The best plans of whole quilts: they survive the audit, are never worse than the quick ones, keep what has not
//! changed, and use the methods that the maker allows where these pay.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::collections::BTreeSet;

use common::{DARK, LIGHT, block_of, cell, edited, inches, ledger, quilt, quilt_dice, starter, straight};
use cutting::methods::SewnMethod;
use cutting::{BestBook, Bought, CutError, FabricPlan, Planner, Watch, audit};
use geometry::{PatchKey, Recipe};
use layout::{ColourScheme, CuttingWishes, Design, Edit, Fabric, FabricId, MethodKind, Precut, Sold};
use proptest::prelude::*;

fn best(design: &Design) -> BestBook {
    BestBook::new(design, &ledger(design), &BestBook::default(), &Watch::new()).unwrap()
}

fn plan(book: &BestBook, id: FabricId) -> &FabricPlan {
    book.plans()[&id].as_ref().unwrap()
}

/// The design with only these methods avoided, and this many hundredths of an inch for each cut saved.
fn avoiding(design: &Design, avoid: &[MethodKind], cut_worth: u8) -> Design {
    let avoid: BTreeSet<MethodKind> = avoid.iter().copied().collect();
    edited(design, &Edit::SetCutting(CuttingWishes { avoid, cut_worth, ..design.cutting().clone() }))
}

fn used(book: &BestBook) -> BTreeSet<MethodKind> {
    let plans = book.plans().values().filter_map(|p| p.as_ref().ok());
    plans.flat_map(|p| &p.pieces).filter_map(|p| Some(p.blank.as_ref()?.method.kind())).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn best_plans_survive_the_audit(dice in quilt_dice(8)) {
        let design = quilt(&dice);
        let quick = ledger(&design);
        let book = best(&design);
        let verified = audit(&design, book.plans());
        prop_assert!(verified.is_ok(), "{:?}", verified);
        prop_assert_eq!(book.plans().keys().collect::<Vec<_>>(), quick.plans().keys().collect::<Vec<_>>());
        for (id, plan) in book.plans() {
            let Ok(plan) = plan else { continue };
            let before = quick.plans()[id].as_ref().unwrap();
            prop_assert_eq!(plan.planner, Planner::Best);
            prop_assert!(plan.plan.length >= plan.least_by_any_means);
            prop_assert_eq!(plan.breakdown.sum(), plan.purchase.required.clone());
            if design.cutting().cut_worth == 0 && book.sewn().is_empty() {
                prop_assert!(amount(plan) <= amount(before));
            }
        }
    }
}

/// How much is bought: lay units of length, or sheets.
fn amount(plan: &FabricPlan) -> i64 {
    match plan.bought {
        Bought::Nothing => 0,
        Bought::Length(length) => length,
        Bought::Sheets { count, .. } => i64::try_from(count).unwrap(),
    }
}

#[test]
fn only_fabrics_whose_pieces_changed_are_planned_again() {
    let design = starter(&[Recipe::DiagonalHalf { size: block_of(6), band: None }], straight(4, 4), &[inches(2)])
        .design()
        .unwrap();
    let first = best(&design);
    assert!(first.planned() >= 3);
    let again = BestBook::new(&design, &ledger(&design), &first, &Watch::new()).unwrap();
    assert_eq!(again.planned(), 0);
    let painted = edited(&design, &Edit::PaintPatch { place: cell(1, 2), patch: PatchKey(0), fabric: LIGHT });
    let next = BestBook::new(&painted, &ledger(&painted), &first, &Watch::new()).unwrap();
    assert_eq!(next.planned(), 2, "the fabric that lost a piece and the one that got it");
    audit(&painted, next.plans()).unwrap();
    let fresh = best(&painted);
    for (id, plan) in next.plans() {
        assert_eq!(plan.as_ref().unwrap().plan, plan_of(&fresh, *id), "kept plans are those that would be made anew");
    }
}

fn plan_of(book: &BestBook, id: FabricId) -> cutting::StripPlan {
    plan(book, id).plan.clone()
}

#[test]
fn a_stopped_plan_is_no_plan() {
    let design = starter(&[Recipe::TiltedStar(block_of(12))], straight(3, 3), &[]).design().unwrap();
    let watch = Watch::new();
    watch.stop();
    let stopped = BestBook::new(&design, &ledger(&design), &BestBook::default(), &watch);
    assert!(matches!(stopped, Err(CutError::Stopped)));
}

/// A quilt of one block in two fabrics.
fn two_fabrics(recipe: Recipe) -> Design {
    let mut quilt = starter(&[recipe], straight(6, 6), &[]);
    quilt.scheme = ColourScheme::Two { dark: DARK, light: LIGHT };
    quilt.design().unwrap()
}

#[test]
fn methods_that_are_sewn_first_are_used_where_they_save_cuts() {
    let rows = [
        (Recipe::FourPatch(block_of(6)), MethodKind::StripSets, SewnMethod::StripSet),
        (Recipe::NinePatch(block_of(9)), MethodKind::StripSets, SewnMethod::StripSet),
        (Recipe::HalfSquare(block_of(4)), MethodKind::PairedSquares, SewnMethod::PairedSquares),
    ];
    for (recipe, kind, method) in rows {
        let design = two_fabrics(recipe.clone());
        let others: Vec<MethodKind> = MethodKind::ALL.into_iter().filter(|other| *other != kind).collect();
        let avoided = best(&avoiding(&design, &MethodKind::ALL, 50));
        assert!(avoided.sewn().is_empty() && used(&avoided).is_empty());
        let allowed = avoiding(&design, &others, 50);
        let book = best(&allowed);
        assert_eq!(used(&book), [kind].into(), "{recipe:?}");
        assert!(book.sewn().iter().all(|run| run.method == method));
        audit(&allowed, book.plans()).unwrap();
        let cuts = |book: &BestBook| book.plans().values().map(|p| p.as_ref().unwrap().cuts()).sum::<u64>();
        assert!(cuts(&book) < cuts(&avoided), "{recipe:?}: {} {}", cuts(&book), cuts(&avoided));
    }
}

/// Two darks in one: what is sewn first is counted for the whole quilt, so such a fabric is cut piece by piece.
#[test]
fn a_fabric_that_stands_for_several_is_not_sewn_first() {
    let design = avoiding(&two_fabrics(Recipe::FourPatch(block_of(6))), &[], 100);
    assert!(used(&best(&design)).contains(&MethodKind::StripSets));
    let fabric = Fabric { mixed_from: 2, ..design.fabric(DARK).unwrap().clone() };
    let mixed = edited(&design, &Edit::ChangeFabric { id: DARK, fabric });
    let book = best(&mixed);
    assert!(book.sewn().is_empty());
    let pieces = |plan: &FabricPlan| plan.pieces.iter().map(|p| p.count).sum::<u64>();
    // Six by six four-patches have 72 dark squares, 36 of each fabric.
    assert_eq!((plan(&book, DARK).parts, pieces(plan(&book, DARK))), (2, 36));
}

#[test]
fn fat_quarters_are_counted() {
    let design = two_fabrics(Recipe::DiagonalHalf { size: block_of(6), band: None });
    let fat_quarter = Precut { width: inches(22), length: inches(18) };
    let fabric = Fabric { sold: Sold::Precut(fat_quarter), mixed_from: 8, ..design.fabric(DARK).unwrap().clone() };
    let design = edited(&design, &Edit::ChangeFabric { id: DARK, fabric });
    let book = best(&design);
    let verified = audit(&design, book.plans()).unwrap();
    let plan = plan(&book, DARK);
    assert!(plan.precuts.as_ref().unwrap().buy >= 1 && plan.plan.length == 0);
    assert_eq!(
        verified[&DARK].placements,
        plan.pieces.iter().filter(|p| p.blank.is_none()).map(|p| p.count).sum::<u64>()
    );
}

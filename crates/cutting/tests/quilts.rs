//! Whole quilts: every random quilt is planned and its plan survives the audit; copies of a quilt have one plan.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::{
    block_of, by, cell, edited, inches, ledger, plan_text, quilt, quilt_dice, starter, straight, tally, view,
};
use cutting::{FabricPlan, Ledger, audit};
use geometry::{Exact, Measure, Motion, Patch, Point, Polygon, Recipe};
use layout::{BlockId, Design, Edit, Setting, Sold};
use proptest::prelude::*;

/// Everything that must hold of any quilt's ledger.
fn check(design: &Design) -> Result<(), TestCaseError> {
    let tally = tally(design);
    let ledger = Ledger::new(design, &tally).unwrap();
    let verified = audit(design, ledger.plans());
    prop_assert!(verified.is_ok(), "{:?}", verified);
    let (width, height) = design.finished_size();
    let area = ledger.uses().values().fold(Exact::ZERO, |sum, used| &sum + &used.area);
    prop_assert_eq!(area, &width * &height);
    prop_assert_eq!(ledger.uses().values().map(|used| used.patches).sum::<u64>(), tally.total());
    for used in ledger.uses().values() {
        prop_assert_eq!(used.roles.values().sum::<u64>(), used.patches);
        prop_assert_eq!(used.classes.values().sum::<u64>(), used.patches);
    }
    for (id, plan) in ledger.plans() {
        let fabric = design.fabric(*id).unwrap();
        match plan {
            Ok(plan) => {
                prop_assert!(plan.plan.length >= plan.least_by_any_means);
                prop_assert!(plan.purchase.buy >= plan.purchase.required);
                prop_assert_eq!(plan.breakdown.sum(), plan.purchase.required.clone());
                for (name, line) in plan.breakdown.lines() {
                    prop_assert!(!line.is_negative(), "{}: {:?}", name, line);
                }
                if plan.sheets.is_empty() {
                    prop_assert_eq!(verified.as_ref().unwrap()[id].length, i128::from(plan.plan.length));
                }
            }
            // Only what is too wide in every allowed way may be left without a plan.
            Err(error) => {
                let text = error.to_string();
                let narrow = text.contains("wide") && *fabric.usable_width.inches() < Exact::int(65);
                let small = text.contains("does not fit on a sheet") && fabric.sold != Sold::ByLength;
                prop_assert!(text.starts_with(&format!("{}: the ", fabric.name)) && (narrow || small), "{}", text);
            }
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_quilt_is_planned_and_survives_the_audit(dice in quilt_dice(12)) {
        check(&quilt(&dice))?;
    }
}

/// One recipe of every family that a setting takes, in its setting.
fn families() -> Vec<(Recipe, Setting)> {
    let split = [true, false, true, true, false, true, false, true];
    let triangles = Setting::TriangleRows { rows: 3, columns: 4, ends: common::THIRD };
    let stars = Setting::StarRows { rows: 3, columns: 3, between: common::THIRD, ends: common::FOURTH };
    let hexagons = Setting::HexagonRows { rows: 4, columns: 3, halves: common::THIRD, edges: common::FOURTH };
    let square = straight(3, 3);
    vec![
        (Recipe::TiltedStar(block_of(12)), square),
        (Recipe::OnAxisStar { size: block_of(12), split }, square),
        (Recipe::DiagonalHalf { size: block_of(12), band: None }, square),
        (Recipe::SixtyUnit(by(Measure::Side, inches(12))), triangles),
        (Recipe::SixtyTriangle(by(Measure::Side, inches(12))), triangles),
        (Recipe::HexagonStar { size: by(Measure::Side, inches(6)), split: [true; 6] }, stars),
        (Recipe::Hexagon(by(Measure::Side, inches(4))), hexagons),
        (Recipe::Plain { width: inches(12), height: inches(8) }, square),
        (Recipe::FourPatch(block_of(12)), square),
        (Recipe::NinePatch(block_of(12)), square),
        (Recipe::HalfSquare(block_of(12)), square),
        (Recipe::QuarterSquare(block_of(12)), square),
        (Recipe::FlyingGoose(block_of(12)), square),
        (Recipe::SquareInSquare(block_of(12)), square),
        (Recipe::Stripes { width: inches(12), height: inches(12), count: 5 }, square),
    ]
}

fn quilt_of(recipe: &Recipe, setting: Setting) -> Design {
    starter(std::slice::from_ref(recipe), setting, &[inches(2)]).design().unwrap()
}

/// The recipe as patches of the user's own, carried by `motion` and scaled by `factor`.
fn own(recipe: &Recipe, motion: &Motion, factor: &Exact) -> Recipe {
    let block = recipe.draft().unwrap();
    let carried = |polygon: &Polygon| motion.polygon(polygon).scaled(factor).unwrap();
    let patch = |p: &Patch| Patch {
        outline: carried(&p.outline),
        grain: p.grain.as_ref().map(|g| motion.vector(g)),
        ..p.clone()
    };
    Recipe::Own { base: carried(block.base()), patches: block.patches().iter().map(patch).collect() }
}

#[test]
fn a_copy_under_another_name_or_of_the_same_patches_has_the_same_plan() {
    for (recipe, setting) in families() {
        let design = quilt_of(&recipe, setting);
        let wanted = view(&ledger(&design));
        let renamed = edited(&design, &Edit::RenameBlock(BlockId(1), "Evening".to_owned()));
        assert_eq!(view(&ledger(&edited(&renamed, &Edit::Rename("Harbour".to_owned())))), wanted, "{recipe:?}");
        let copy = quilt_of(&own(&recipe, &Motion::still(), &Exact::ONE), setting);
        assert_eq!(view(&ledger(&copy)), wanted, "{recipe:?} as own patches");
    }
}

#[test]
fn a_copy_of_half_the_size_is_the_recipe_of_half_the_size() {
    let half = Exact::ratio(1, 2).unwrap();
    for (large, small) in [
        (Recipe::TiltedStar(block_of(12)), Recipe::TiltedStar(block_of(6))),
        (
            Recipe::DiagonalHalf { size: block_of(18), band: None },
            Recipe::DiagonalHalf { size: block_of(9), band: None },
        ),
        (Recipe::NinePatch(block_of(18)), Recipe::NinePatch(block_of(9))),
    ] {
        let scaled = quilt_of(&own(&large, &Motion::still(), &half), straight(3, 3));
        assert_eq!(view(&ledger(&scaled)), view(&ledger(&quilt_of(&small, straight(3, 3)))), "{large:?}");
    }
}

/// What a turned or mirrored copy shares with its original: counts, lengths, purchase; hands may change names.
fn figures(design: &Design) -> Vec<String> {
    let text = |plan: &FabricPlan| {
        let mut counts: Vec<(u64, i128)> =
            plan.pieces.iter().map(|p| (p.count, p.prepared.piece().polygon.double_area() >> 24)).collect();
        counts.sort_unstable();
        format!("{counts:?} {} {}", plan.plan.length, plan.least_by_any_means >> 8)
    };
    ledger(design).plans().values().map(|plan| text(plan.as_ref().unwrap())).collect()
}

#[test]
fn turned_and_mirrored_copies_need_the_same() {
    let centre = Point::new(Exact::int(6), Exact::int(6));
    for (recipe, setting) in families() {
        let design = quilt_of(&recipe, setting);
        let wanted = figures(&design);
        let places: Vec<_> = design.places().map(|(place, _)| place).collect();
        let mirrored =
            places.iter().fold(design.clone(), |d, p| edited(&d, &Edit::Mirror { place: *p, mirrored: true }));
        assert_eq!(figures(&mirrored), wanted, "{recipe:?} mirrored in place");
        let turn = if matches!(setting, Setting::TriangleRows { .. }) { 1 } else { 2 };
        let turned = places.iter().fold(design.clone(), |d, p| edited(&d, &Edit::Turn { place: *p, turn }));
        assert_eq!(figures(&turned), wanted, "{recipe:?} turned in place");
        let drawn_mirrored = quilt_of(&own(&recipe, &Motion::mirror(&centre), &Exact::ONE), setting);
        assert_eq!(figures(&drawn_mirrored), wanted, "{recipe:?} drawn mirrored");
        if setting == straight(3, 3) && !matches!(recipe, Recipe::Plain { .. } | Recipe::FlyingGoose(_)) {
            let drawn_turned = quilt_of(&own(&recipe, &Motion::turn(6, &centre), &Exact::ONE), setting);
            assert_eq!(figures(&drawn_turned), wanted, "{recipe:?} drawn turned");
        }
    }
}

/// A block that stands beside itself under another name adds to the same pieces.
#[test]
fn two_blocks_of_the_same_patches_are_cut_together() {
    let recipe = Recipe::TiltedStar(block_of(12));
    let one = starter(std::slice::from_ref(&recipe), straight(2, 2), &[]).design().unwrap();
    let two = starter(&[recipe.clone(), recipe], straight(2, 2), &[]).design().unwrap();
    let two = edited(&two, &Edit::SetBlock { place: cell(1, 0), block: BlockId(2) });
    let text =
        |design| -> Vec<String> { ledger(design).plans().values().map(|p| plan_text(p.as_ref().unwrap())).collect() };
    assert_eq!(text(&one), text(&two));
}

//! The ledger follows edits: what it follows equals what is planned anew, and a repaint plans two fabrics.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::{
    DARK, FOURTH, LIGHT, THIRD, block_of, cell, edit_from, edited, inches, plain_quilt, quilt_dice, starter, straight,
    view, with_fabric,
};
use cutting::{ClassBook, Ledger, LedgerWork};
use geometry::{PatchKey, Recipe, Role};
use layout::{BlockId, Design, Edit, FabricId, Print, Source, Tally, TallyChange, apply};
use proptest::prelude::*;

/// A design with its counts and plans, followed edit by edit.
struct Followed {
    design: Design,
    tally: Tally,
    ledger: Ledger,
}

impl Followed {
    fn new(design: Design) -> Self {
        let tally = Tally::count(&design).unwrap();
        let ledger = Ledger::new(&design, &tally).unwrap();
        Self { design, tally, ledger }
    }

    fn edit(&mut self, edit: &Edit) -> Option<LedgerWork> {
        let (next, delta) = apply(&self.design, edit).ok()?;
        let (change, _) = self.tally.follow(&self.design, &next, &delta.touched).unwrap();
        self.design = next;
        Some(self.ledger.follow(&self.design, &self.tally, &change).unwrap())
    }

    fn made_anew(&self) -> Vec<String> {
        view(&Ledger::new(&self.design, &Tally::count(&self.design).unwrap()).unwrap())
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn following_equals_planning_anew(dice in quilt_dice(14)) {
        let mut followed = Followed::new(plain_quilt(&dice));
        for roll in &dice.3 {
            let edit = edit_from(&followed.design, *roll);
            let Some(work) = followed.edit(&edit) else { continue };
            prop_assert_eq!(view(&followed.ledger), followed.made_anew(), "{:?}", edit);
            if let Edit::PaintPatch { .. } = edit {
                prop_assert!(work.fabrics_planned <= 2 && work.moves <= 2, "{:?}: {:?}", edit, work);
            }
        }
    }
}

/// The classes of what stands in a quilt as blocks, with their rows on any fabric.
fn of_blocks(design: &Design) -> ClassBook {
    let tally = Tally::count(design).unwrap();
    let mut sources: Vec<(Source, bool)> = tally.usage().map(|(source, mirrored, _, _)| (source, mirrored)).collect();
    sources.retain(|(source, _)| matches!(source, Source::Block(_)));
    sources.dedup();
    let mut book = ClassBook::new(design, sources).unwrap();
    Print::ALL.into_iter().for_each(|print| book.prepare(print).unwrap());
    book
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever is known of a quilt, plans of another are what they would be without.
    #[test]
    fn going_on_from_known_classes_changes_no_plan(dice in quilt_dice(14)) {
        let mut design = plain_quilt(&dice);
        let known = of_blocks(&design);
        for roll in &dice.3 {
            let edit = edit_from(&design, *roll);
            let Ok((next, _)) = apply(&design, &edit) else { continue };
            design = next;
            let tally = Tally::count(&design).unwrap();
            let ledger = Ledger::with_known(&design, &tally, &known).unwrap();
            prop_assert_eq!(view(&ledger), view(&Ledger::new(&design, &tally).unwrap()), "{:?}", edit);
        }
    }
}

#[test]
fn a_fabric_with_the_same_pieces_keeps_its_plan_when_others_are_exchanged() {
    let mut followed = Followed::new(stars());
    followed.edit(&paint(0, FOURTH)).unwrap();
    assert_eq!(followed.ledger.plans().len(), 4);
    let swap = Edit::SwapFabrics(THIRD, FOURTH);
    let (next, delta) = apply(&followed.design, &swap).unwrap();
    let (change, _) = followed.tally.follow(&followed.design, &next, &delta.touched).unwrap();
    assert_eq!(change, TallyChange::Repainted);
    let work = followed.ledger.follow(&next, &followed.tally, &change).unwrap();
    followed.design = next;
    assert_eq!(work, LedgerWork { fabrics_planned: 2, moves: 0 });
    assert_eq!(view(&followed.ledger), followed.made_anew());
}

fn stars() -> Design {
    let recipes = [Recipe::TiltedStar(block_of(12)), Recipe::DiagonalHalf { size: block_of(12), band: None }];
    starter(&recipes, straight(4, 4), &[inches(3)]).design().unwrap()
}

fn paint(patch: u32, fabric: FabricId) -> Edit {
    Edit::PaintPatch { place: cell(1, 2), patch: PatchKey(patch), fabric }
}

#[test]
fn recolouring_one_patch_plans_two_fabrics() {
    let mut followed = Followed::new(stars());
    let work = followed.edit(&paint(0, LIGHT)).unwrap();
    assert_eq!(work, LedgerWork { fabrics_planned: 2, moves: 2 });
    let again = followed.edit(&paint(0, LIGHT)).unwrap();
    assert_eq!(again, LedgerWork { fabrics_planned: 0, moves: 0 }, "nothing changes");
}

/// Each is a story of edits; after every one the ledger is what it would be anew.
#[test]
fn fabrics_and_hands_that_come_and_go() {
    let half = |row, column| Edit::SetBlock { place: cell(row, column), block: BlockId(2) };
    let mirror = |mirrored| Edit::Mirror { place: cell(0, 0), mirrored };
    let stories: Vec<(&str, Vec<Edit>)> = vec![
        ("a fabric appears and vanishes", vec![paint(0, FOURTH), paint(0, THIRD), paint(0, FOURTH), paint(0, DARK)]),
        (
            "a block appears and vanishes",
            vec![half(0, 0), half(1, 1), Edit::SetBlock { place: cell(0, 0), block: BlockId(1) }],
        ),
        ("a mirrored block appears and vanishes", vec![half(0, 0), mirror(true), mirror(false), half(0, 1)]),
        (
            "a role is repainted until its fabric is gone",
            vec![
                Edit::PaintRole { block: BlockId(1), role: Role::new("diamond").unwrap(), value: None, fabric: FOURTH },
                Edit::PaintRole { block: BlockId(1), role: Role::new("diamond").unwrap(), value: None, fabric: LIGHT },
            ],
        ),
    ];
    for print in Print::ALL {
        for (name, edits) in &stories {
            let mut design = stars();
            for id in [DARK, LIGHT, THIRD, FOURTH] {
                design = with_fabric(&design, id, print, inches(40));
            }
            let mut followed = Followed::new(design);
            for edit in edits {
                followed.edit(edit).unwrap();
                assert_eq!(view(&followed.ledger), followed.made_anew(), "{name}, {print:?}: {edit:?}");
            }
        }
    }
}

#[test]
fn a_fabric_that_is_used_no_more_has_no_plan_unless_it_is_the_binding() {
    let mut followed = Followed::new(stars());
    followed.edit(&paint(0, FOURTH)).unwrap();
    let plans = |f: &Followed| f.ledger.plans().keys().copied().collect::<Vec<_>>();
    let before = plans(&followed);
    followed.edit(&Edit::ReplaceFabric { from: THIRD, to: DARK }).unwrap();
    assert!(before.contains(&THIRD) && !plans(&followed).contains(&THIRD));
    let one = edited(&followed.design, &Edit::ReplaceFabric { from: LIGHT, to: DARK });
    assert!(!Followed::new(one).ledger.plans().contains_key(&LIGHT), "the binding went with it");
}

//! Two blocks in turn over a setting, set in one step.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::{cell, edited, file_text, half_block, inches, on_point, starter, straight};
use geometry::{PatchKey, Recipe};
use layout::{BlockId, Design, Edit, EditError, FabricId, History, Setting, Source, Tally, TallyChange, apply};

fn quilt(setting: Setting) -> Design {
    let plain = Recipe::Plain { width: inches(12), height: inches(12) };
    starter(&[half_block(12), plain, Recipe::Plain { width: inches(6), height: inches(6) }], setting, &[])
        .design()
        .unwrap()
}

/// The blocks row by row, as a maker would write them down.
fn rows(design: &Design) -> Vec<String> {
    let setting = design.setting();
    let name = |row, column| if design.place(cell(row, column)).unwrap().block == BlockId(1) { 'x' } else { '.' };
    (0..setting.cell_rows())
        .map(|row| (0..setting.cells_in_row(row)).map(|column| name(row, column)).collect())
        .collect()
}

#[test]
fn a_pieced_and_a_plain_block_in_turn() {
    for (setting, wanted) in
        [(straight(3, 4), vec!["x.x.", ".x.x", "x.x."]), (on_point(3, 3), vec!["xxx", "..", "xxx", "..", "xxx"])]
    {
        let start = quilt(setting);
        let mut history = History::new(start.clone());
        history.apply(&Edit::Turn { place: cell(0, 0), turn: 3 }).unwrap();
        history.apply(&Edit::Arrange(history.design().in_turn(BlockId(1), BlockId(2)).unwrap())).unwrap();
        assert_eq!(rows(history.design()), wanted);
        assert_eq!(history.design().place(cell(0, 0)).unwrap().turn, 3, "the block that stood there stays");
        assert_eq!(history.undo_label(), Some("Arrange blocks"));
        assert!(history.undo() && history.undo());
        assert_eq!(file_text(history.design()), file_text(&start));
    }
}

/// The count follows the places that were set and looks at no others; paint of a block that is gone is told.
#[test]
fn an_arrangement_costs_what_it_touches() {
    for side in [4, 20] {
        let paint = Edit::PaintPatch { place: cell(0, 1), patch: PatchKey(1), fabric: FabricId(3) };
        let design = edited(&quilt(straight(side, side)), &[paint]);
        let few: Vec<_> = design.in_turn(BlockId(1), BlockId(2)).unwrap().into_iter().take(3).collect();
        let mut tally = Tally::count(&design).unwrap();
        let (next, delta) = apply(&design, &Edit::Arrange(few)).unwrap();
        assert_eq!(delta.lost, ["row 1, column 2: 1 painted patches or roles"]);
        let (change, work) = tally.follow(&design, &next, &delta.touched).unwrap();
        assert!(matches!(change, TallyChange::Moves(_)));
        assert_eq!(work.patches_scanned, 8 + 8 + 1, "the painted place, and each kind of the others once");
        assert_eq!(tally, Tally::count(&next).unwrap());
    }
}

/// Every piece that the setting or a border makes takes the fabric that all of its kind are given; blocks do not.
#[test]
fn all_pieces_of_a_kind_take_a_fabric() {
    for design in common::quilts() {
        for placed in design.top().unwrap().placed {
            let edit = design.recolour_pieces(placed.source, FabricId(2));
            if matches!(placed.source, Source::Block(_)) {
                assert_eq!(edit, None);
                continue;
            }
            let next = edited(&design, &[edit.unwrap()]);
            assert_eq!(next.paint(placed.place, placed.source, &placed.block, 0).unwrap(), FabricId(2));
        }
    }
}

#[test]
fn an_arrangement_that_does_not_fit_changes_nothing() {
    let design = quilt(straight(2, 2));
    let mut places = design.in_turn(BlockId(1), BlockId(2)).unwrap();
    places[1].1.block = BlockId(3);
    assert!(matches!(apply(&design, &Edit::Arrange(places)), Err(EditError::Misfit { .. })));
    assert_eq!(design.in_turn(BlockId(1), BlockId(9)).unwrap_err(), EditError::NoBlock(BlockId(9)));
}

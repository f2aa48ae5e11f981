//! Samplers edited: blocks moved, put in and taken out, turned on their sides and drafted anew, with their paint.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]
#![allow(clippy::float_cmp, reason = "figures without a fraction are exact")]

mod common;

use common::samplers::{at, bench, draft, free, pinwheel, rows_sampler, standing};
use common::{
    DARK, FOURTH, LIGHT, THIRD, block_of, cell, check_top, edited, file_text, inches, on_point, sashing, starter,
    straight,
};
use geometry::{Exact, PatchKey, Recipe};
use layout::file::Document;
use layout::{BlockId, Design, Edit, FabricId, History, PlaceId, SamplerPlan, Setting, Source, Tally, apply};

fn fabric_at(design: &Design, place: PlaceId) -> FabricId {
    let source = design.source(place).unwrap();
    design.paint(place, source, &design.source_block(source).unwrap(), 0).unwrap()
}

fn paint(place: PlaceId, fabric: FabricId) -> Edit {
    Edit::PaintPatch { place, patch: PatchKey(0), fabric }
}

fn two_stars() -> Design {
    let design = bench();
    edited(&design, &[Edit::SetSampler(draft(&design, free(30, 20, &[(2, 2), (12, 2)]), &[(2, 0), (2, 0)]))])
}

fn corner_of(design: &Design, place: PlaceId) -> [f64; 2] {
    let base = design.source_block(design.source(place).unwrap()).unwrap().base().clone();
    design.motion(place).unwrap().polygon(&base).bounds().0.to_f64()
}

#[test]
fn a_moved_block_keeps_its_number_and_its_paint() {
    let design = edited(&two_stars(), &[paint(cell(0, 1), FOURTH)]);
    let mut moved = design.sampler_draft().unwrap();
    let SamplerPlan::Free(plan) = &mut moved.plan else { panic!("a free sampler") };
    plan.corners[1] = at(0, 10);
    let mut history = History::new(design.clone());
    let delta = history.apply(&Edit::SetSampler(moved)).unwrap();
    assert!(delta.lost.is_empty(), "{:?}", delta.lost);
    let next = history.design().clone();
    assert_eq!(corner_of(&next, cell(0, 1)), [0.0, 10.0]);
    assert_eq!((fabric_at(&next, cell(0, 1)), fabric_at(&next, cell(0, 0))), (FOURTH, fabric_at(&design, cell(0, 0))));
    check_top(&next, "moved");
    assert!(history.undo());
    assert_eq!(history.design(), &design);
    assert!(!history.undo(), "the move was one step");
}

#[test]
fn blocks_put_in_and_taken_out_leave_the_others_their_paint() {
    let design = edited(&two_stars(), &[paint(cell(0, 0), THIRD), paint(cell(0, 1), FOURTH)]);
    let mut more = design.sampler_draft().unwrap();
    let SamplerPlan::Free(plan) = &mut more.plan else { panic!("a free sampler") };
    plan.corners.insert(0, at(20, 2));
    more.blocks.insert(0, standing(&design, 2, 0));
    let (next, delta) = apply(&design, &Edit::SetSampler(more)).unwrap();
    assert!(delta.lost.is_empty());
    assert_eq!((fabric_at(&next, cell(0, 1)), fabric_at(&next, cell(0, 2))), (THIRD, FOURTH));
    let mut fewer = next.sampler_draft().unwrap();
    let SamplerPlan::Free(plan) = &mut fewer.plan else { panic!("a free sampler") };
    plan.corners.remove(1);
    fewer.blocks.remove(1);
    let (last, delta) = apply(&next, &Edit::SetSampler(fewer)).unwrap();
    assert_eq!(delta.lost, ["row 1, column 2: paint of patch 0"]);
    assert_eq!(fabric_at(&last, cell(0, 1)), FOURTH);
}

/// A goose of 8 × 4 in on its side takes 4 × 8 in: the row grows with it, and a free place has room or has not.
#[test]
fn a_rectangle_turned_on_its_side_turns_its_place() {
    let rows = rows_sampler();
    assert_eq!(rows.finished_size(), (Exact::int(24), Exact::int(22)));
    let (turned, delta) = apply(&rows, &Edit::Turn { place: cell(1, 0), turn: 0 }).unwrap();
    assert_eq!(turned.finished_size(), (Exact::int(24), Exact::int(12 + 2 + 6)));
    assert_eq!(delta.touched, layout::Touched::Everything);
    check_top(&turned, "turned");
    let half = apply(&rows, &Edit::Turn { place: cell(1, 0), turn: 3 }).unwrap().1;
    assert_eq!(half.touched, layout::Touched::Place(cell(1, 0)), "a half turn leaves everything where it is");
    let told = apply(&pinwheel(), &Edit::Turn { place: cell(0, 1), turn: 0 }).unwrap_err().to_string();
    assert!(told.starts_with("block \"Block 4\" at row 1, column 2 and block \"Block 1\""), "{told}");
    let told = apply(&rows, &Edit::Turn { place: cell(1, 0), turn: 4 }).unwrap_err().to_string();
    assert_eq!(told, "block \"Block 4\" fits its place only in 4 turns, counted from 0; 4 is not one of them");
}

/// Another block in a cell, or a block drafted anew, takes the room it needs.
#[test]
fn sizes_that_change_lay_the_sampler_out_anew() {
    let rows = rows_sampler();
    let other = edited(&rows, &[Edit::SetBlock { place: cell(0, 0), block: BlockId(3) }]);
    assert_eq!(other.finished_size(), (Exact::int(16), Exact::int(6 + 2 + 8)));
    let redraft = |n: i64| Edit::Redraft(vec![(BlockId(2), Recipe::TiltedStar(block_of(n)))]);
    let larger = edited(&rows, &[redraft(14)]);
    check_top(&larger, "redrafted");
    assert_eq!(larger.finished_size(), (Exact::int(12 + 1 + 14 + 1 + 4), Exact::int(14 + 2 + 14)));
    let told = apply(&two_stars(), &redraft(11)).unwrap_err().to_string();
    assert_eq!(
        told,
        "block \"Block 2\" at row 1, column 1 and block \"Block 2\" at row 1, column 2 overlap at (12, 2) in from the lower \
         left; move one of them, or make it smaller"
    );
    let grown = edited(&two_stars(), &[redraft(8)]);
    check_top(&grown, "grown");
}

/// A painted filler is found again by its middle; where a block stands now its paint is lost, and told.
#[test]
fn paint_of_fillers_stays_where_it_was() {
    let design = two_stars();
    let over = PlaceId::Filler(0);
    assert_eq!(corner_of(&design, over), [0.0, 8.0], "the strip over both stars");
    let between = design.all_places().find(|p| matches!(p, PlaceId::Filler(_)) && corner_of(&design, *p) == [8.0, 2.0]);
    let between = between.unwrap();
    let design = edited(&design, &[paint(over, FOURTH), paint(between, LIGHT)]);
    let mut moved = design.sampler_draft().unwrap();
    let SamplerPlan::Free(plan) = &mut moved.plan else { panic!("a free sampler") };
    plan.corners[1] = at(9, 2);
    let (next, delta) = apply(&design, &Edit::SetSampler(moved.clone())).unwrap();
    assert_eq!(delta.lost, [format!("{between}: its paint")], "the block stands on the middle of the filler");
    assert_eq!(fabric_at(&next, over), FOURTH);
    let SamplerPlan::Free(plan) = &mut moved.plan else { panic!("a free sampler") };
    plan.corners[1] = at(14, 2);
    let (next, delta) = apply(&design, &Edit::SetSampler(moved)).unwrap();
    assert!(delta.lost.is_empty(), "{:?}", delta.lost);
    assert_eq!(next.place_patches().count(), 2);
    // All fillers take another fabric by one edit, except the painted ones.
    let edit = design.recolour_pieces(Source::Filler(0), DARK).unwrap();
    let recoloured = edited(&design, &[edit]);
    assert_eq!(recoloured.setting(), Setting::Sampler { rows: 1, columns: 2, filler: DARK });
    assert_eq!((fabric_at(&recoloured, over), fabric_at(&recoloured, PlaceId::Filler(1))), (FOURTH, DARK));
    assert!(apply(&recoloured, &Edit::RemoveFabric(DARK)).is_err());
}

/// From straight rows with sashes to a sampler with gaps as wide, and back.
#[test]
fn settings_change_to_samplers_and_back() {
    let sampler = |rows, columns| Setting::Sampler { rows, columns, filler: THIRD };
    let set = |setting| Edit::SetSetting { setting, fill: BlockId(1) };
    let blocks = [Recipe::NinePatch(block_of(6)), Recipe::FourPatch(block_of(6))];
    let design = starter(&blocks, straight(2, 3), &[2]).design().unwrap();
    let sashed = edited(&design, &[Edit::SetSashing(Some(sashing(inches(1), true, false))), paint(cell(1, 2), FOURTH)]);
    let (next, delta) = apply(&sashed, &set(sampler(2, 3))).unwrap();
    assert!(delta.lost.is_empty(), "{:?}", delta.lost);
    assert_eq!(next.finished_size(), sashed.finished_size());
    assert_eq!(fabric_at(&next, cell(1, 2)), FOURTH);
    check_top(&next, "from straight");
    let wider = edited(&next, &[set(sampler(3, 2))]);
    assert_eq!(wider.places().count(), 6);
    check_top(&wider, "resized");
    let back = edited(&next, &[set(straight(2, 2))]);
    assert!(back.sampler_plan().is_none() && back.places().count() == 4);
    let pointed = edited(&next, &[set(on_point(2, 2)), set(sampler(1, 2))]);
    check_top(&pointed, "from on point");
    let told = apply(&pinwheel(), &set(sampler(2, 3))).unwrap_err().to_string();
    assert_eq!(
        told,
        "freely placed blocks have no rows and columns; add and remove them one by one, or set them in rows first"
    );
    let edits = [Edit::SetBlock { place: cell(9, 9), block: BlockId(1) }, paint(PlaceId::Filler(99), DARK)];
    for edit in edits {
        assert!(apply(&next, &edit).unwrap_err().to_string().starts_with("there is no place at"), "{edit:?}");
    }
    let told = apply(&next, &Edit::Turn { place: PlaceId::Filler(0), turn: 1 }).unwrap_err().to_string();
    assert_eq!(told, "filler 1 holds no block; only blocks can be turned, mirrored or exchanged");
}

#[test]
fn samplers_are_written_and_read_again() {
    for (design, word) in [(rows_sampler(), "\"sampler\""), (pinwheel(), "\"free sampler\"")] {
        let design = edited(&design, &[paint(PlaceId::Filler(1), LIGHT), paint(cell(0, 0), FOURTH)]);
        let text = String::from_utf8(file_text(&design)).unwrap();
        assert!(text.contains(word) && text.contains("\"filler\""), "{text}");
        let again = Document::from_bytes(text.as_bytes()).unwrap().variants()[0].design.clone();
        assert_eq!(again, design);
        assert_eq!(file_text(&again), text.as_bytes());
        assert_eq!(Tally::count(&again).unwrap(), Tally::count(&design).unwrap());
    }
    let text = String::from_utf8(file_text(&rows_sampler())).unwrap();
    let wrong = [
        ("\"filler\":3", "\"filler\":77", "variants[0].setting.filler: there is no fabric 77"),
        ("\"blocks\":2", "\"blocks\":3", "no block stands in row 2, column 3"),
        ("\"blocks\":2", "\"blocks\":1", "there is no place at row 2, column 2"),
        ("\"blocks\":2", "\"blocks\":0", "at least one block in every row"),
        ("\"blocks\":2", "\"blocks\":70000", "line"),
    ];
    let squeezed: String = text.replace(": ", ":");
    for (old, new, told) in wrong {
        assert!(squeezed.contains(old), "{old} in {squeezed}");
        let error = Document::from_bytes(squeezed.replacen(old, new, 1).as_bytes()).unwrap_err().to_string();
        assert!(error.contains(told), "{new}: {error}");
    }
}

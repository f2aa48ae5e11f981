//! Beds and proposals: what is proposed is what is got, the best is the best there is, and one step takes it back.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::collections::BTreeSet;
use std::path::PathBuf;

use common::{
    DARK, block_of, cell, check_top, edited, half_block, inches, jumbled, on_point, own_recipe, pieced, quilts,
    sashing, side_of, starter, straight, triangles,
};
use geometry::{Exact, Length, Recipe};
use layout::beds::{BEDS, BedError, Change, Drops, Origin, Proposal, Target, Wishes, bed, fit, propose, propose_while};
use layout::file::Document;
use layout::{BlockId, Border, BorderKind, Design, Edit, History, PiecedBorder, Resize, Units, apply};
use proptest::prelude::*;

/// A bed with the drops of the task: sides, foot and tuck in inches.
fn covered(id: &str, side: i64, foot: i64, tuck: i64) -> Target {
    let (width, length) = bed(id).unwrap().size();
    let [side, foot, tuck] = [side, foot, tuck].map(Exact::int);
    let drops = Drops { left: side.clone(), right: side, foot, head: Exact::ZERO };
    Target { drops, tuck, ..Target::plain(width, length) }
}

fn listed(design: &Design, target: &Target) -> Vec<Proposal> {
    propose(design, target, &Wishes::usual(design).unwrap()).unwrap()
}

/// Carries a proposal out as one step, and compares what is got with what was said.
fn carried_out(design: &Design, target: &Target, proposal: &Proposal) -> Design {
    let mut history = History::new(design.clone());
    history.begin("Fit to bed");
    for edit in proposal.edits() {
        history.apply(&edit).unwrap();
    }
    history.commit();
    let got = history.design().clone();
    let size = got.finished_size();
    assert_eq!(size, proposal.size, "{:?}", proposal.changes);
    let wanted = target.wanted();
    assert_eq!((&size.0 - &wanted.0, &size.1 - &wanted.1), proposal.over);
    assert_eq!(got.setting().size(), (proposal.rows, proposal.columns));
    assert_eq!(got.places().count(), proposal.blocks);
    assert_eq!(got.borders(), proposal.borders);
    assert_eq!(history.steps(), 1);
    assert!(history.undo());
    assert_eq!(history.design(), design);
    got
}

fn samples() -> Vec<(String, Design)> {
    let folder = PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/../../sample-quilts"));
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|ending| ending == "json"));
    files.sort();
    let name = |path: &PathBuf| path.file_stem().unwrap().to_string_lossy().into_owned();
    let designs = files.iter().map(|path| (name(path), Document::open(path).unwrap().variants()[0].design.clone()));
    designs.collect()
}

#[test]
fn every_sample_is_proposed_for_every_bed_and_comes_out_as_said() {
    let samples = samples();
    assert!(samples.len() >= 8);
    for (name, design) in samples {
        for bed in BEDS {
            let target = bed.target();
            let wishes = Wishes { count: 2, ..Wishes::usual(&design).unwrap() };
            let proposals = propose(&design, &target, &wishes).unwrap();
            for proposal in &proposals {
                let got = carried_out(&design, &target, proposal);
                got.top().unwrap().prove().unwrap();
            }
            // A sampler is as large as its blocks and gaps make it: only borders are proposed, however far they come.
            if design.sampler_plan().is_some() {
                let of_borders =
                    |change: &Change| matches!(change, Change::BorderAdded { .. } | Change::BorderWidth { .. });
                let only_borders = |proposal: &Proposal| proposal.changes.iter().all(of_borders);
                assert!(proposals.iter().all(only_borders), "{name} for {}: {proposals:?}", bed.name);
                let now = design.finished_size();
                let is_larger = target.wanted().0 > now.0 && target.wanted().1 > now.1;
                assert!(!(is_larger && proposals.is_empty()), "nothing for {name} on {}", bed.name);
                continue;
            }
            let first = proposals.first().unwrap_or_else(|| panic!("nothing for {name} on {}", bed.name));
            // Borders are as wide all round, so that half a block is the most that must be missed; the largest are 12 in. A
            // single row or column cannot be less, whatever its borders take.
            let is_least = first.rows == 1 || first.columns == 1;
            assert!(is_least || first.error() <= Exact::int(6), "{name} for {}: {first:?}", bed.name);
        }
    }
}

/// 60 × 80 in, 15 in at each side, 12 in at the foot, 8 in tucked: 90 × 100 in (the mattress as published, the sum by
/// hand). With blocks of 9 in and borders of 1½ and 4½ in: 90 = 12 + 78, which 9 does not go into.
#[test]
fn a_queen_by_hand() {
    let target = covered("queen", 15, 12, 8);
    assert_eq!(target.wanted(), (Exact::int(90), Exact::int(100)));
    let design = starter(&[half_block(10)], straight(7, 7), &[5]).design().unwrap();
    let best = listed(&design, &target).remove(0);
    // 8 × 9 blocks of 10 in with the border there is: 80 + 2 · 5 = 90, 90 + 2 · 5 = 100.
    assert_eq!((best.rows, best.columns, best.blocks), (9, 8, 72));
    assert!(best.error().is_zero());
    assert_eq!(best.changes, [Change::Rows { from: 7, to: 9 }, Change::Columns { from: 7, to: 8 }]);
    check_top(&carried_out(&design, &target, &best), "queen");
}

/// Made to fit, a quilt is what its first proposal makes of it; one that fits already stays as it is.
#[test]
fn fitting_is_the_first_proposal_or_nothing() {
    for (name, design) in samples().into_iter().filter(|(_, design)| design.sampler_plan().is_none()) {
        let wishes = Wishes::usual(&design).unwrap();
        for bed in BEDS {
            let target = bed.target();
            let first = propose(&design, &target, &wishes).unwrap().remove(0);
            let fitted = fit(&design, &target, &wishes).unwrap().unwrap();
            let (width, height) = fitted.design.finished_size();
            let wanted = target.wanted();
            assert_eq!(fitted.over, (&width - &wanted.0, &height - &wanted.1), "{name} for {}", bed.name);
            if fitted.design != design {
                assert_eq!(fitted.design, edited(&design, &first.edits()), "{name} for {}", bed.name);
            }
        }
        let (width, height) = design.finished_size();
        let own = Target::plain(&width + &Exact::ratio(1, 4).unwrap(), height);
        assert_eq!(fit(&design, &own, &wishes).unwrap().unwrap().design, design, "{name} is near enough as it is");
    }
}

#[test]
fn the_table_names_its_sources() {
    let ids: BTreeSet<&str> = BEDS.iter().map(|bed| bed.id).collect();
    assert_eq!(ids.len(), BEDS.len());
    for bed in BEDS {
        bed.target().check().unwrap();
        assert_eq!(bed.mattress, bed.origin != Origin::CommonPractice, "{}", bed.name);
        assert_eq!(layout::beds::bed(bed.id), Some(bed));
    }
    let metric = bed("140x200").unwrap();
    assert_eq!(metric.units, Units::Centimetres);
    let (width, length) = metric.size();
    assert_eq!([width, length], [1400, 2000].map(|mm| Length::millimetres(mm).unwrap().inches().clone()));
    // 16 CFR 1508.3, since taken over in 16 CFR 1219: inside, a full-size crib is 28 ± 5/8 × 52 3/8 ± 5/8 in.
    let (width, length) = bed("crib").unwrap().size();
    assert!(width <= Exact::ratio(229, 8).unwrap() && length <= Exact::int(53));
    assert!(bed("crib").unwrap().caution.is_some());
    assert_eq!(bed("crib").unwrap().target().wanted(), (width, length));
}

/// All quilts of whole blocks and at most one new border, counted out in quarter inches without the program's numbers.
#[test]
fn none_comes_nearer_than_the_first() {
    let design = starter(&[half_block(9)], straight(3, 3), &[]).design().unwrap();
    for (width, length) in [(40, 40), (59, 71), (66, 103), (91, 97), (115, 62)] {
        let target = Target::plain(Exact::int(width), Exact::int(length));
        let usual = Wishes::usual(&design).unwrap();
        let sizes = [inches(7), inches(9), Length::inch_fraction(21, 2).unwrap()];
        let wishes = Wishes { sizes: sizes.to_vec(), added: 1, alike: Length::inch_fraction(1, 64).unwrap(), ..usual };
        let borders = std::iter::once(0).chain(4..=32);
        let quilts = borders.flat_map(|border| [28, 36, 42].map(|block| (border, block)));
        let missed = |(border, block): (i64, i64)| {
            let miss = |wanted: i64| (1..200).map(|n| (n * block + 2 * border - 4 * wanted).abs()).min().unwrap();
            miss(width) + miss(length)
        };
        let least = quilts.map(missed).min().unwrap();
        let found = propose(&design, &target, &wishes).unwrap();
        assert_eq!(found[0].error(), Exact::ratio(least, 4).unwrap(), "{width} × {length}");
    }
}

#[test]
fn the_order_is_fixed_and_no_two_are_alike() {
    let design = quilts().remove(0);
    let target = covered("full", 14, 14, 0);
    let wishes = Wishes::usual(&design).unwrap();
    let found = propose(&design, &target, &wishes).unwrap();
    let mut backwards = wishes.clone();
    backwards.sizes.reverse();
    assert_eq!(propose(&design, &target, &backwards).unwrap(), found);
    let alike = |p: &Proposal| p.error().floor_div(wishes.alike.inches()).unwrap();
    assert!(found.is_sorted_by_key(alike));
    for (i, one) in found.iter().enumerate() {
        let like = |other: &&Proposal| {
            (other.rows, other.columns, &other.block_size) == (one.rows, one.columns, &one.block_size)
        };
        assert_eq!(found.iter().skip(i + 1).find(like), None);
    }
}

#[test]
fn every_kind_of_setting_is_resized_with_its_sashing_float_and_paint() {
    let target = covered("twin", 10, 12, 0);
    let pointed = starter(&[half_block(8)], on_point(4, 3), &[2]).design().unwrap();
    let sashed = edited(&pointed, &[Edit::SetSashing(Some(sashing(inches(1), true, true)))]);
    let floating = edited(&pointed, &[Edit::SetFloat(Some(inches(1)))]);
    let rows = starter(&[Recipe::SixtyUnit(side_of(6))], triangles(5, 9), &[]).design().unwrap();
    let own = starter(&[own_recipe()], straight(3, 3), &[2, 3]).design().unwrap();
    for design in [pointed, sashed, floating, rows, own] {
        let design = jumbled(&design);
        let proposals = listed(&design, &target);
        assert!(proposals[0].error() < Exact::int(4), "{:?}", proposals[0]);
        for proposal in &proposals {
            let got = carried_out(&design, &target, proposal);
            check_top(&got, &format!("{:?}", proposal.changes));
            assert_eq!((got.float(), got.sashing()), (design.float(), design.sashing()));
        }
    }
}

/// Blocks of 12 in, and geese of 4 × 2 in round them with squares of 2 in in the corners.
fn geese() -> Design {
    let recipes = [half_block(12), Recipe::FlyingGoose(block_of(4)), Recipe::HalfSquare(block_of(2))];
    let design = starter(&recipes, straight(3, 2), &[]).design().unwrap();
    edited(&design, &[Edit::SetBorders(vec![pieced(2, BlockId(2), BlockId(3))])])
}

#[test]
fn pieced_borders_fit_or_get_a_spacer_or_are_left_out() {
    let design = geese();
    let target = covered("twin-xl", 9, 9, 0);
    let wishes = Wishes::usual(&design).unwrap();
    let found = propose(&design, &target, &wishes).unwrap();
    for proposal in &found {
        check_top(&carried_out(&design, &target, proposal), &format!("{:?}", proposal.changes));
        let geese = proposal.borders.iter().filter(|border| matches!(border.kind, BorderKind::Pieced(_)));
        assert_eq!(geese.count(), 1);
    }
    // Geese of 4 in do not go round blocks of 11½ in without one.
    let odd = Wishes { sizes: vec![Length::inch_fraction(23, 2).unwrap()], ..wishes };
    let spaced = propose(&design, &target, &odd).unwrap();
    assert!(!spaced.is_empty());
    for proposal in &spaced {
        assert!(matches!(proposal.borders[0].kind, BorderKind::Butted));
        check_top(&carried_out(&design, &target, proposal), &format!("{:?}", proposal.changes));
    }
    assert_eq!(propose(&design, &target, &Wishes { spacers: false, ..odd }).unwrap(), []);
}

/// The blocks of a border that stand in the setting too grow with it, and the border with them.
#[test]
fn borders_of_the_settings_own_blocks_grow_with_them() {
    let design = starter(&[half_block(6)], straight(4, 4), &[]).design().unwrap();
    let own = PiecedBorder { block: BlockId(1), turn: 0, mirrored: false, corner: BlockId(1) };
    let border = Border { kind: BorderKind::Pieced(own), ..Border::plain(inches(6), DARK) };
    let design = edited(&design, &[Edit::SetBorders(vec![border])]);
    let target = Target::plain(Exact::int(48), Exact::int(48));
    let wishes = Wishes { sizes: vec![inches(8)], added: 0, ..Wishes::usual(&design).unwrap() };
    let best = propose(&design, &target, &wishes).unwrap().remove(0);
    assert!(best.error().is_zero());
    assert_eq!(best.borders[0].width, inches(8));
    check_top(&carried_out(&design, &target, &best), "own blocks");
}

#[test]
fn new_blocks_go_on_with_the_pattern() {
    for (setting, rows, columns) in [(straight(3, 4), 6, 7), (on_point(2, 3), 4, 5), (straight(2, 2), 5, 1)] {
        let blocks = [half_block(12), own_recipe()];
        let design = starter(&blocks, setting, &[]).design().unwrap();
        let design = edited(&design, &[Edit::Arrange(design.in_turn(BlockId(1), BlockId(2)).unwrap())]);
        let resize = Resize { recipes: Vec::new(), rows, columns, borders: Vec::new() };
        let got = apply(&design, &Edit::Resize(resize)).unwrap().0;
        let wanted = edited(&got, &[Edit::Arrange(got.in_turn(BlockId(1), BlockId(2)).unwrap())]);
        assert_eq!(got, wanted, "{setting:?}");
    }
    // A quilt in which nothing repeats begins again.
    let design = jumbled(&starter(&[half_block(12)], straight(2, 3), &[]).design().unwrap());
    let resize = Resize { recipes: Vec::new(), rows: 4, columns: 3, borders: Vec::new() };
    let got = apply(&design, &Edit::Resize(resize)).unwrap().0;
    for (row, column) in [(0, 0), (1, 2)] {
        assert_eq!(got.place(cell(row + 2, column)).unwrap(), design.place(cell(row, column)).unwrap());
    }
}

#[test]
fn what_makes_no_sense_is_refused_and_long_work_stops() {
    let design = starter(&[half_block(12)], straight(2, 3), &[]).design().unwrap();
    let target = covered("queen", 10, 10, 0);
    let wishes = Wishes::usual(&design).unwrap();
    let nothing = Target::plain(Exact::ZERO, Exact::int(80));
    assert!(matches!(propose(&design, &nothing, &wishes), Err(BedError::Mattress { .. })));
    let up = Target { tuck: Exact::int(-1), ..target.clone() };
    assert!(matches!(propose(&design, &up, &wishes), Err(BedError::Drop { .. })));
    for wrong in [
        Wishes { sizes: Vec::new(), ..wishes.clone() },
        Wishes { least: inches(9), ..wishes.clone() },
        Wishes { count: 0, ..wishes.clone() },
        Wishes { added: 3, ..wishes.clone() },
        Wishes { step: Length::inch_fraction(1, 100).unwrap(), ..wishes.clone() },
    ] {
        assert!(matches!(propose(&design, &target, &wrong), Err(BedError::Wish(_))));
    }
    assert_eq!(propose_while(&design, &target, &wishes, || false), Err(BedError::Stopped));
    let none = Resize { recipes: Vec::new(), rows: 0, columns: 3, borders: Vec::new() };
    assert!(apply(&design, &Edit::Resize(none)).is_err());
}

proptest! {
    #[test]
    fn what_is_proposed_is_what_is_got(
        quilt in 0..common::QUILTS,
        (width, length) in (200_i64..900, 200_i64..900),
        (left, foot, tuck) in (0_i64..100, 0_i64..100, 0_i64..60),
        (added, spacers, size) in (0_u8..3, any::<bool>(), 2_i64..30),
    ) {
        let design = quilts().remove(quilt);
        let eighths = |n| Exact::ratio(n, 8).unwrap();
        let drops = Drops { left: eighths(left), foot: eighths(foot), ..Drops::default() };
        let target = Target { drops, tuck: eighths(tuck), ..Target::plain(eighths(width), eighths(length)) };
        let mut wishes = Wishes { added, spacers, count: 4, ..Wishes::usual(&design).unwrap() };
        wishes.sizes.push(Length::inch_fraction(size, 2).unwrap());
        for proposal in propose(&design, &target, &wishes).unwrap() {
            let got = carried_out(&design, &target, &proposal);
            got.top().unwrap().prove().unwrap();
            prop_assert!(!proposal.changes.is_empty());
            let plain = |b: &&Border| matches!(b.kind, BorderKind::Butted) && b.level_width.is_none();
            for border in got.borders().iter().filter(plain).filter(|b| !design.borders().contains(b)) {
                prop_assert!(border.width <= wishes.most);
            }
            prop_assert!(got.setting().with_size(1, 1) == design.setting().with_size(1, 1));
        }
    }
}

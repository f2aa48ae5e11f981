//! Units that are trimmed on the way: which are taken, which edges they make oversize, how they are kept and lost.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::collections::BTreeSet;

use common::{
    Dice, QUILTS, block_of, cut_star, edit_from, file_text, own_recipe, patch, polygon, quilts, recut, scaled, starter,
    straight, unit,
};
use geometry::{Exact, PatchKey, Recipe, Tone};
use layout::file::Document;
use layout::{BlockDef, BlockId, Design, Edit, History, MAX_TRIM_UNITS, Touched, UnitKeys, apply};
use proptest::prelude::*;

fn design_of(recipe: Recipe) -> Design {
    starter(&[recipe], straight(2, 2), &[]).design().unwrap()
}

fn on_axis() -> Recipe {
    Recipe::OnAxisStar { size: block_of(12), split: [true; 8] }
}

fn def(design: &Design) -> &BlockDef {
    design.block(BlockId(1)).unwrap()
}

fn set(units: UnitKeys) -> Edit {
    Edit::SetTrimmedUnits { block: BlockId(1), units }
}

/// The eight sectors of an on-axis star, a diamond and two triangles each.
fn sectors() -> UnitKeys {
    (0..8).map(|k| unit(&[3 * k, 3 * k + 1, 3 * k + 2])).collect()
}

fn redraft(design: &Design, recipe: Recipe) -> (Design, Vec<String>) {
    let (next, delta) = apply(design, &Edit::Redraft(vec![(BlockId(1), recipe)])).unwrap();
    (next, delta.lost)
}

#[test]
fn a_sector_is_oversize_all_round_and_exact_inside() {
    let design = design_of(on_axis());
    let (trimmed, delta) = apply(&design, &set(sectors())).unwrap();
    assert_eq!(delta.touched, Touched::Plans);
    let oversize = |design: &Design| -> Vec<usize> {
        let def = def(design);
        let count = |i| def.oversize_edges(i).iter().filter(|o| **o).count();
        (0..def.block().patches().len()).map(count).collect()
    };
    let (before, after) = (oversize(&design), oversize(&trimmed));
    for (index, patch) in def(&design).block().patches().iter().enumerate() {
        assert_eq!(before[index], def(&design).block().outside_edges(index).iter().filter(|o| **o).count());
        let wanted = match patch.role.name() {
            "corner triangle" => before[index],
            // The diamond's two edges at the centre; of each triangle, all but the seam to its diamond.
            _ => 2,
        };
        assert_eq!(after[index], wanted, "{}", patch.role);
    }
    assert!(def(&design).oversize_edges(99).is_empty());
}

#[test]
fn nested_units_add_up_edge_by_edge() {
    let inner = unit(&[0, 1, 2]);
    let outer: BTreeSet<PatchKey> = unit(&[0, 1, 2, 3, 4, 5]);
    let with = |units: &[&BTreeSet<PatchKey>]| {
        let units = units.iter().map(|u| (*u).clone()).collect();
        let def = def(&design_of(on_axis())).clone().with_trimmed(units).unwrap();
        (0..6).map(|i| def.oversize_edges(i)).collect::<Vec<_>>()
    };
    let (one, other, both) = (with(&[&inner]), with(&[&outer]), with(&[&inner, &outer]));
    for ((one, other), both) in one.iter().zip(&other).zip(&both) {
        let either: Vec<bool> = one.iter().zip(other).map(|(a, b)| *a || *b).collect();
        assert_eq!(*both, either);
    }
    assert!(one != both && other != both);
}

#[test]
fn what_is_no_unit_is_refused() {
    let design = design_of(on_axis());
    let block = "block \"Block 1\": ";
    let rows = [
        (vec![unit(&[0, 77])], "there is no patch 77 in Block 1".to_owned()),
        (vec![unit(&[])], format!("{block}a trimmed unit has at least two patches; a single patch is cut to its size")),
        (
            vec![unit(&[4])],
            format!("{block}a trimmed unit has at least two patches; a single patch is cut to its size"),
        ),
        (
            vec![(0..28).map(PatchKey).collect()],
            format!(
                "{block}a trimmed unit is a part of the block; the whole block is trimmed last without being named"
            ),
        ),
        // A sector and a corner of the sector opposite, which touch in the centre only by points.
        (
            vec![unit(&[0, 1, 12])],
            format!("{block}the patches of a trimmed unit are joined by seams, but patch 12 is apart from patch 0"),
        ),
        (
            vec![unit(&[0, 1, 2]), unit(&[0, 3, 4])],
            format!(
                "{block}two trimmed units share patch 0, but only one of them has patch 3; a unit lies whole in another \
                 or apart from it"
            ),
        ),
    ];
    for (units, told) in rows {
        let refused = apply(&design, &set(units.into_iter().collect())).unwrap_err();
        assert_eq!(refused.to_string(), told);
    }
    let nobody = Edit::SetTrimmedUnits { block: BlockId(9), units: sectors() };
    assert_eq!(
        apply(&design, &nobody).unwrap_err().to_string(),
        "there is no block 9; choose one of the quilt's blocks"
    );
    let stripes = Recipe::Stripes { width: common::inches(12), height: common::inches(12), count: 64 };
    let many = |count: u32| -> UnitKeys {
        let runs = (1..64).flat_map(|long| (0..63).map(move |start| start..(start + long + 1)));
        runs.filter(|run| run.end <= 64).take(count as usize).map(|run| run.map(PatchKey).collect()).collect()
    };
    let most = u32::try_from(MAX_TRIM_UNITS).unwrap();
    let refused = apply(&design_of(stripes), &set(many(most + 1))).unwrap_err();
    assert_eq!(refused.to_string(), "a quilt may have at most 256 trimmed units in one block, not 257");
}

#[test]
fn trims_are_one_step_that_is_undone() {
    let start = design_of(on_axis());
    let before = file_text(&start);
    let mut history = History::new(start);
    history.apply(&set(sectors())).unwrap();
    assert_eq!((def(history.design()).trimmed(), history.undo_label()), (&sectors(), Some("Change trimmed units")));
    history.apply(&set(sectors())).unwrap();
    assert_eq!(history.steps(), 1, "the same again is no step");
    assert!(history.undo());
    assert_eq!(file_text(history.design()), before);
    assert!(history.redo());
    assert_eq!(def(history.design()).trimmed(), &sectors());
}

#[test]
fn another_size_keeps_the_units_and_another_drawing_drops_what_it_lacks() {
    let (design, _) = apply(&design_of(on_axis()), &set(sectors())).unwrap();
    let (larger, lost) = redraft(&design, scaled(&on_axis(), &Exact::sqrt2()));
    assert_eq!((def(&larger).trimmed(), lost), (&sectors(), Vec::new()));
    // Two sectors are left whole: their three patches have become one.
    let mut split = [true; 8];
    split[1] = false;
    split[4] = false;
    let (next, lost) = redraft(&design, Recipe::OnAxisStar { size: block_of(12), split });
    let still: UnitKeys =
        (0..8).filter(|k| ![1, 4].contains(k)).map(|k| unit(&[3 * k, 3 * k + 1, 3 * k + 2])).collect();
    assert_eq!(def(&next).trimmed(), &still);
    assert_eq!(lost, ["Block 1: trimmed unit of patches 3, 4, 5", "Block 1: trimmed unit of patches 12, 13, 14"]);
    // As patches outside the unit are sewn to one of it, the unit is no more what it was.
    let (panes, _) = apply(&design_of(own_recipe()), &set([unit(&[1, 2])].into())).unwrap();
    let other = Recipe::Own {
        base: polygon(&[(0, 0), (12, 0), (12, 12), (0, 12)]),
        patches: vec![
            patch(0, "post", Tone::Half(0), &[(0, 0), (12, 0), (12, 6), (0, 6)]),
            patch(1, "pane", Tone::AgainstHalf(0), &[(0, 6), (12, 6), (12, 12), (0, 12)]),
        ],
    };
    let (next, lost) = redraft(&panes, other);
    assert!(def(&next).trimmed().is_empty());
    assert_eq!(lost, ["Block 1: trimmed unit of patches 1, 2"]);
}

/// A unit holds both parts of a patch of its own that is cut in two, and the whole again when it is not.
#[test]
fn re_cut_patches_stay_in_their_unit() {
    let star = Recipe::TiltedStar(block_of(12));
    // A corner: square 8 with the diamonds on both sides of it.
    let (design, _) = apply(&design_of(star.clone()), &set([unit(&[0, 1, 8])].into())).unwrap();
    let (cut, lost) = redraft(&design, cut_star(12));
    assert_eq!((def(&cut).trimmed(), lost), (&[unit(&[0, 1, 8, 16])].into(), Vec::new()));
    let (back, lost) = redraft(&cut, star);
    assert_eq!(lost, Vec::<String>::new());
    assert_eq!(back, design);
    assert_eq!(file_text(&back), file_text(&design));
}

#[test]
fn the_file_has_them_only_where_there_are_some() {
    let design = design_of(on_axis());
    assert!(!String::from_utf8(file_text(&design)).unwrap().contains("trimmed"));
    let units: UnitKeys = [unit(&[0, 1, 2]), unit(&[0, 1, 2, 3, 4, 5])].into();
    let (design, _) = apply(&design, &set(units)).unwrap();
    let text = String::from_utf8(file_text(&design)).unwrap();
    let field = "\"trimmed\":[[0,1,2],[0,1,2,3,4,5]]";
    assert!(text.contains(field), "{text}");
    let read = |units: &str| {
        let text = text.replacen(field, &format!("\"trimmed\":{units}"), 1);
        Document::from_bytes(text.as_bytes()).map(|d| d.variants()[0].design.clone()).map_err(|e| e.to_string())
    };
    assert_eq!(read("[[5,4,3,2,1,0],[2,0,1]]").unwrap(), design, "in any order");
    assert_eq!(read("[]").unwrap(), design_of(on_axis()));
    let at = "variants[0].blocks[0].trimmed";
    for (units, told) in [
        ("[[0,1,2],[2,1,0]]", format!("{at}[1]: this stands twice; leave one of them out")),
        ("[[0,1,0]]", format!("{at}[0][2]: this stands twice; leave one of them out")),
        ("[[0,99]]", format!("{at}: there is no patch 99 in Block 1")),
        (
            "[[7]]",
            format!(
                "{at}: block \"Block 1\": a trimmed unit has at least two patches; a single patch is cut to its size"
            ),
        ),
    ] {
        assert_eq!(read(units).unwrap_err(), told);
    }
    assert!(read("[[-1,2]]").unwrap_err().contains("invalid value: integer `-1`"));
}

#[test]
fn a_re_cut_block_is_read_as_strictly_as_the_rest() {
    let text = String::from_utf8(file_text(&design_of(cut_star(12)))).unwrap();
    let recipe = "{\"family\":\"re-cut\",\"of\":{\"family\":\"tilted star\",\"size\":{\"by\":\"block side\",\"length\":\
                  [12,0,0,0,1]}},\"seams\":[{\"patch\":8,\"axis\":1},";
    assert!(text.contains(recipe), "{text}");
    let at = "variants[0].blocks[0]";
    for (old, new, told) in [
        ("\"patch\":8,\"axis\":1", "\"patch\":8,\"axis\":4", "symmetry lines, counted from 0; there is no line 4"),
        ("\"patch\":8,\"axis\":1", "\"patch\":9,\"axis\":3", "patch 9 is cut in two twice"),
        ("\"patch\":8,\"axis\":1", "\"patch\":8,\"axis\":1,\"angle\":1", "unknown field `angle`"),
        (
            "\"length\":[12,0,0,0,1]}},\"seams\"",
            "\"length\":[-1,0,0,0,1]}},\"seams\"",
            "recipe.of.size.length: a length",
        ),
    ] {
        assert!(text.contains(old), "{old}");
        let refused = Document::from_bytes(text.replacen(old, new, 1).as_bytes()).unwrap_err().to_string();
        assert!(refused.contains(told), "{refused}");
    }
    let inner = "{\"family\":\"tilted star\",\"size\":{\"by\":\"block side\",\"length\":[12,0,0,0,1]}}";
    let nested = format!("{{\"family\":\"re-cut\",\"of\":{inner},\"seams\":[{{\"patch\":8,\"axis\":1}}]}}");
    let refused = Document::from_bytes(text.replacen(inner, &nested, 1).as_bytes()).unwrap_err().to_string();
    let told = "a re-cut block is not cut again; give all extra seams in one list";
    assert_eq!(refused, format!("{at}.recipe: {told}"));
    let deep = (0..100).fold(inner.to_owned(), |of, _| format!("{{\"family\":\"re-cut\",\"of\":{of},\"seams\":[]}}"));
    assert!(Document::from_bytes(text.replacen(inner, &deep, 1).as_bytes()).is_err());
    assert!(recut(cut_star(12), &[(0, 0)]).draft().unwrap_err().to_string().contains(told));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever is done to a quilt, its trimmed units are units of its blocks, and an edge is oversize exactly when it
    /// lies outside the block or a unit: told here edge by edge from the patches of each unit alone.
    #[test]
    fn oversize_edges_follow_the_units(which in 0..QUILTS, dice in prop::collection::vec(any::<Dice>(), 1..16)) {
        let mut design = quilts().swap_remove(which);
        for [kind, a, b, c, d] in dice {
            // Mostly edits of drawings and units: kinds 12, 13 and 29 to 32.
            let kind = [12, 13, 29, 30, 31, 32, 31, kind][usize::from(kind % 8)];
            if let Ok((next, _)) = apply(&design, &edit_from(&design, [kind, a, b, c, d])) {
                design = next;
            }
        }
        for (_, def) in design.blocks() {
            prop_assert!(def.clone().with_trimmed(def.trimmed().clone()).is_ok());
            let block = def.block();
            for (index, patch) in block.patches().iter().enumerate() {
                let mut wanted = block.outside_edges(index);
                for unit in def.trimmed().iter().filter(|unit| unit.contains(&patch.key)) {
                    let inside: Vec<usize> = unit.iter().map(|key| block.index_of(*key).unwrap()).collect();
                    let place = inside.iter().position(|i| *i == index).unwrap();
                    let outside = &block.unit_outside_edges(&inside)[place];
                    wanted.iter_mut().zip(outside).for_each(|(edge, outside)| *edge |= outside);
                }
                prop_assert_eq!(def.oversize_edges(index), wanted);
            }
        }
    }
}

/// Random edits are a test of units and re-cuts only if they make some.
#[test]
fn random_edits_do_trim_and_cut_again() {
    let (mut trimmed, mut nested, mut cut) = (0, 0, 0);
    for (which, start) in (0_u16..).zip(quilts()) {
        let mut design = start;
        for step in 0..200_u16 {
            let mixed = |k: u16| (which * 211 + step * 97 + k * 53).wrapping_mul(30_011).rotate_left(u32::from(k));
            let dice = [29 + step % 4, mixed(1), mixed(2), mixed(3), mixed(4)];
            if let Ok((next, _)) = apply(&design, &edit_from(&design, dice)) {
                design = next;
            }
            for (_, def) in design.blocks() {
                trimmed += usize::from(!def.trimmed().is_empty());
                nested += usize::from(def.trimmed().len() > 1);
                cut += usize::from(matches!(def.recipe(), Recipe::Recut { .. }));
            }
        }
    }
    assert!(trimmed > 100 && nested > 20 && cut > 100, "{trimmed} {nested} {cut}");
}

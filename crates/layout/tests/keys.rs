//! Patch keys: a patch keeps its name, and with it its paint, through redrafting, saving and opening.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::{
    DARK, FOURTH, LIGHT, THIRD, block_of, cell, cut_star, families, file_text, own_recipe, patch, polygon, quilt_of,
    recut, scaled, shown, starter, straight,
};
use geometry::{Exact, PatchKey, Recipe, Role, Tone, Value};
use layout::file::Document;
use layout::{BlockDef, BlockId, Design, Edit, FabricId, History, Tally, apply, carry_keys};

fn keys(design: &Design) -> Vec<u32> {
    design.block(BlockId(1)).unwrap().block().patches().iter().map(|p| p.key.0).collect()
}

fn paint_here(design: &Design, key: u32, fabric: FabricId) -> Design {
    apply(design, &Edit::PaintPatch { place: cell(0, 1), patch: PatchKey(key), fabric }).unwrap().0
}

fn paint_everywhere(design: &Design, key: u32, fabric: FabricId) -> Design {
    apply(design, &Edit::PaintPatchEverywhere { block: BlockId(1), patch: PatchKey(key), fabric }).unwrap().0
}

fn redraft(design: &Design, recipe: Recipe) -> (Design, Vec<String>) {
    let (next, delta) = apply(design, &Edit::Redraft(vec![(BlockId(1), recipe)])).unwrap();
    assert_eq!(Tally::count(&next).unwrap().total(), u64::try_from(shown(&next).len()).unwrap());
    (next, delta.lost)
}

#[test]
fn another_size_keeps_every_key_and_all_paint() {
    for (family, recipe) in families() {
        let mut design = quilt_of(family, &recipe);
        for key in keys(&design) {
            design = paint_everywhere(&design, key, if key % 2 == 0 { THIRD } else { FOURTH });
        }
        design = paint_here(&design, 0, DARK);
        for factor in [Exact::ratio(7, 3).unwrap(), Exact::sqrt2(), Exact::ratio(1, 5).unwrap()] {
            let larger: Vec<_> = design.blocks().map(|(id, def)| (id, scaled(def.recipe(), &factor))).collect();
            let (next, delta) = apply(&design, &Edit::Redraft(larger)).unwrap();
            assert_eq!(delta.lost, Vec::<String>::new(), "{family}");
            assert_eq!(keys(&next), keys(&design), "{family}");
            assert_eq!(shown(&next), shown(&design), "{family}");
        }
    }
}

/// The square of the tests with its two panes sewn as one.
fn merged() -> Recipe {
    Recipe::Own {
        base: polygon(&[(0, 0), (12, 0), (12, 12), (0, 12)]),
        patches: vec![
            patch(0, "pane", Tone::AgainstHalf(0), &[(6, 0), (12, 0), (12, 12), (6, 12)]),
            patch(1, "post", Tone::Half(0), &[(0, 0), (6, 0), (6, 12), (0, 12)]),
        ],
    }
}

#[test]
fn merged_patches_keep_one_name_and_report_the_other() {
    let design = starter(&[own_recipe()], straight(2, 2), &[]).design().unwrap();
    let design = paint_here(&paint_here(&design, 1, THIRD), 2, FOURTH);
    let design = paint_everywhere(&paint_everywhere(&design, 0, FOURTH), 2, DARK);
    let design = paint_here(&design, 2, FOURTH);
    let (next, lost) = redraft(&design, merged());
    assert_eq!(keys(&next), [1, 0], "names in the order of the new recipe");
    assert_eq!(lost, ["Block 1: paint of patch 2", "row 1, column 2: paint of patch 2"]);
    let fabrics = shown(&next);
    assert_eq!(fabrics[&(cell(0, 1), PatchKey(1))], THIRD);
    assert_eq!(fabrics[&(cell(1, 1), PatchKey(0))], FOURTH);
    assert_eq!(Document::from_bytes(&file_text(&next)).unwrap().variants()[0].design, next);
}

#[test]
fn a_split_patch_keeps_its_name_where_its_witness_lies() {
    let design = starter(&[merged()], straight(2, 2), &[]).design().unwrap();
    let design = paint_everywhere(&design, 0, LIGHT);
    let old = design.block(BlockId(1)).unwrap().block().clone();
    let witness = old.patches()[0].outline.witness();
    let (next, lost) = redraft(&design, own_recipe());
    assert_eq!(lost, Vec::<String>::new());
    let block = next.block(BlockId(1)).unwrap().block();
    let heir = &block.patches()[block.index_of(PatchKey(0)).unwrap()];
    assert_eq!(heir.outline.place(&witness), geometry::Place::Inside);
    let fresh: Vec<u32> = keys(&next).into_iter().filter(|key| *key > 1).collect();
    assert_eq!(fresh, [2], "the other half has a new name");
    assert_eq!(shown(&next)[&(cell(0, 0), PatchKey(0))], LIGHT);
    assert_ne!(shown(&next)[&(cell(0, 0), PatchKey(2))], LIGHT);
}

#[test]
fn names_survive_save_and_open_and_further_redrafts() {
    let design = starter(&[own_recipe()], straight(2, 2), &[]).design().unwrap();
    let design = paint_here(&paint_everywhere(&design, 1, THIRD), 0, FOURTH);
    let (design, _) = redraft(&design, merged());
    let opened = Document::from_bytes(&file_text(&design)).unwrap().variants()[0].design.clone();
    assert_eq!(opened, design);
    let (again, lost) = redraft(&opened, scaled(&own_recipe(), &Exact::int(2)));
    assert_eq!(lost, Vec::<String>::new());
    assert_eq!(shown(&again)[&(cell(0, 1), PatchKey(0))], FOURTH);
    assert_eq!(shown(&again)[&(cell(1, 1), PatchKey(1))], THIRD);
}

/// Keys at the very end of their range leave room for new patches all the same.
#[test]
fn fresh_names_are_found_beside_the_highest_of_all() {
    let design = starter(&[merged()], straight(1, 1), &[]).design().unwrap();
    let def = design.block(BlockId(1)).unwrap();
    let held = [PatchKey(u32::MAX), PatchKey(7)];
    let held = BlockDef::with_keys("Block", merged(), def.table().clone(), &held).unwrap();
    let (block, lost) = carry_keys(held.block(), own_recipe().draft().unwrap()).unwrap();
    let keys: Vec<u32> = block.patches().iter().map(|p| p.key.0).collect();
    assert_eq!(lost, []);
    assert!(keys.contains(&u32::MAX) && keys.contains(&7) && keys.contains(&0), "{keys:?}");
}

#[test]
fn a_new_role_needs_a_fabric_first() {
    let design = starter(&[merged()], straight(1, 1), &[]).design().unwrap();
    let mut recipe = merged();
    if let Recipe::Own { patches, .. } = &mut recipe {
        patches[0].role = geometry::Role::new("glass").unwrap();
        patches[0].tone = Tone::Own(Value::Medium);
    }
    let refused = apply(&design, &Edit::Redraft(vec![(BlockId(1), recipe)])).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "Block 1 has no fabric for its glass when the value is medium; add it to the block's role table"
    );
}

/// A re-cut shows the fabrics that its patches had, and so does the whole again; nothing is lost on the way.
#[test]
fn a_re_cut_block_shows_the_same_fabrics() {
    let star = Recipe::TiltedStar(block_of(12));
    let design = starter(std::slice::from_ref(&star), straight(2, 2), &[]).design().unwrap();
    let square = Role::new("background square").unwrap();
    let paint = |role: &Role, fabric| Edit::PaintRole {
        block: BlockId(1),
        role: role.clone(),
        value: Some(Value::Light),
        fabric,
    };
    let here = Edit::PaintRoleHere { place: cell(1, 1), role: square.clone(), fabric: THIRD };
    let design = apply(&apply(&design, &paint(&square, FOURTH)).unwrap().0, &here).unwrap().0;
    // Patches painted apart, cut and whole ones, in every block and in one.
    let design = paint_everywhere(&paint_everywhere(&design, 0, LIGHT), 9, DARK);
    let design = paint_here(&paint_here(&design, 13, THIRD), 8, DARK);
    let mut history = History::new(design.clone());
    history.apply(&Edit::Redraft(vec![(BlockId(1), cut_star(12))])).unwrap();
    let cut = history.design().clone();
    assert_eq!(keys(&cut), (0..24).collect::<Vec<_>>());
    assert_eq!([&design, &cut].map(|d| Tally::count(d).unwrap().total()), [4 * 16, 4 * 24]);
    let (whole, parts) = (shown(&design), shown(&cut));
    for ((place, key), fabric) in &parts {
        let of = PatchKey(if key.0 < 16 { key.0 } else { key.0 - 8 });
        assert_eq!(whole[&(*place, of)], *fabric, "patch {} in {place}", key.0);
    }
    let (back, lost) = redraft(&cut, star);
    assert_eq!(lost, Vec::<String>::new());
    assert_eq!(back, design);
    assert_eq!(file_text(&back), file_text(&design));
    assert!(history.undo());
    assert_eq!(file_text(history.design()), file_text(&design));
    assert!(history.redo());
    assert_eq!(*history.design(), cut);
}

/// Where only some patches of a role are cut, both roles are painted as the one was.
#[test]
fn a_block_cut_in_part_has_both_roles_painted() {
    let star = Recipe::TiltedStar(block_of(12));
    let design = starter(std::slice::from_ref(&star), straight(1, 2), &[]).design().unwrap();
    let square = Role::new("background square").unwrap();
    let here = Edit::PaintRoleHere { place: cell(0, 1), role: square.clone(), fabric: THIRD };
    let design = apply(&design, &here).unwrap().0;
    let (cut, lost) = redraft(&design, recut(star.clone(), &[(9, 3)]));
    assert_eq!(lost, Vec::<String>::new());
    let painted: Vec<&str> = cut.place_roles().map(|(_, role, _)| role.name()).collect();
    assert_eq!(painted, ["background square", "half background square"]);
    let (back, lost) = redraft(&cut, star);
    assert_eq!(back, design);
    assert_eq!(lost, ["row 1, column 2: paint of half background square"]);
}

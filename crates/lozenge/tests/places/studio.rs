//! What a user does in the window, without the window: recolour, watch the totals, undo, save, open again.

use crate::common;

use std::collections::BTreeMap;

use common::{SAMPLES, document, sample, studio, totals};
use geometry::Value;
use layout::file::Document;
use layout::{Design, Edit, FabricId, Overwrite, PlaceId, Setting, Source};
use lozenge::window::blocks::BlockChange;
use lozenge::window::derived::Derived;
use lozenge::window::gallery::Choice;
use lozenge::window::paint::{click_says, fabrics_by_value, shown_fabric};
use lozenge::window::session::{Scope, Spot, Tool};
use lozenge::window::settings::Settings;
use lozenge::window::studio::Studio;

/// What every patch of the top shows.
fn shown(studio: &Studio) -> BTreeMap<(PlaceId, usize), FabricId> {
    let standing = studio.derived().scene().standing().iter();
    standing.flat_map(|s| s.fabrics.iter().enumerate().map(|(patch, fabric)| ((s.place, patch), *fabric))).collect()
}

/// A few patches from all over the top: blocks, row ends and borders.
fn spots(studio: &Studio) -> Vec<Spot> {
    let all: Vec<Spot> = shown(studio).keys().map(|(place, patch)| Spot { place: *place, patch: *patch }).collect();
    let blocks = all.iter().step_by(all.len() / 5 + 1).copied();
    let others = all.iter().filter(|s| !matches!(s.place, PlaceId::Cell { .. })).step_by(7).take(4).copied();
    blocks.chain(others).collect()
}

/// A fabric other than the one that shows at `spot`.
fn another(design: &Design, spot: Spot) -> FabricId {
    let now = shown_fabric(design, spot).unwrap();
    fabrics_by_value(design).into_iter().find(|id| *id != now).unwrap()
}

/// The totals that were followed edit by edit are those that are worked out anew.
fn check_totals(studio: &Studio) {
    let fresh = Derived::new(studio.design()).unwrap();
    assert_eq!(totals(studio.derived()), totals(&fresh));
    assert_eq!(studio.derived().tally().total(), fresh.tally().total());
    let followed: Vec<_> = studio.derived().scene().standing().iter().map(|s| (s.place, &s.fabrics)).collect();
    let again: Vec<_> = fresh.scene().standing().iter().map(|s| (s.place, &s.fabrics)).collect();
    assert_eq!(followed, again);
}

/// Which patches a stroke must reach, worked out from the drafted blocks alone.
fn reach(
    design: &Design,
    before: &BTreeMap<(PlaceId, usize), FabricId>,
    spot: Spot,
    scope: Scope,
) -> Vec<(PlaceId, usize)> {
    let source = design.source(spot.place).unwrap();
    let block = design.source_block(source).unwrap();
    let patch = &block.patches()[spot.patch];
    let value = |place, index: usize| block.patches()[index].tone.table_value(design.halves(place).values());
    let same_border = |place| match (design.source(place).unwrap(), source) {
        (Source::Border { border: a, .. }, Source::Border { border: b, .. }) => a == b,
        (a, b) => a == b,
    };
    let reached = |(place, index): (PlaceId, usize)| match (scope, source) {
        (Scope::Patch, _) => (place, index) == (spot.place, spot.patch),
        (Scope::Fabric, _) => before[&(place, index)] == before[&(spot.place, spot.patch)],
        (Scope::SamePatch, Source::Block(_)) => same_border(place) && index == spot.patch,
        (Scope::Role, Source::Block(_)) => {
            same_border(place)
                && block.patches()[index].role == patch.role
                && value(place, index) == value(spot.place, spot.patch)
        }
        (Scope::SamePatch | Scope::Role, _) => same_border(place),
    };
    before.keys().copied().filter(|key| reached(*key)).collect()
}

/// One stroke: the sentence beforehand is true, the totals follow, undo gives everything back.
fn check_stroke(studio: &mut Studio, spot: Spot, scope: Scope) {
    let (design, before, bought) = (studio.design().clone(), shown(studio), totals(studio.derived()));
    let source = design.source(spot.place).unwrap();
    studio.session.scope = scope;
    studio.session.fabric = another(&design, spot);
    studio.session.hover = Some(spot);
    let fabric = studio.session.fabric;
    let says = click_says(&design, &studio.session);
    studio.paint(spot);
    let told = format!("{says:?} at {} patch {}", spot.place, spot.patch);
    let after = shown(studio);
    let reached = reach(&design, &before, spot, scope);
    for (key, now) in &after {
        let expected = if reached.contains(key) { fabric } else { before[key] };
        // Paint that was put on one border strip by hand stays when the whole border is repainted.
        if matches!(source, Source::Block(_)) || matches!(scope, Scope::Patch | Scope::Fabric) {
            assert_eq!(*now, expected, "{told}: {} patch {}", key.0, key.1);
        }
    }
    check_sentence(&design, &says, spot, scope, fabric, &reached);
    check_totals(studio);
    assert_ne!(totals(studio.derived()), bought, "{told}");
    assert_eq!(studio.notices(), [], "{told}");
    assert!(studio.unsaved(), "{told}");
    studio.undo();
    assert_eq!(*studio.design(), design, "{told}");
    assert_eq!(totals(studio.derived()), bought, "{told}");
    assert!(!studio.unsaved(), "{told}");
}

/// The sentence names the fabric, and what it says of the reach is so.
fn check_sentence(
    design: &Design,
    says: &str,
    spot: Spot,
    scope: Scope,
    fabric: FabricId,
    reached: &[(PlaceId, usize)],
) {
    let name = &design.fabric(fabric).unwrap().name;
    let source = design.source(spot.place).unwrap();
    let block = design.source_block(source).unwrap();
    let role = &block.patches()[spot.patch].role;
    assert!(says.contains(name.as_str()), "{says}");
    match (scope, source) {
        (Scope::Patch, _) => assert_eq!((says, reached.len()), (format!("Paints this {role} with {name}").as_str(), 1)),
        (Scope::Fabric, _) => {
            let old = &design.fabric(shown_fabric(design, spot).unwrap()).unwrap().name;
            assert_eq!(says, format!("Replaces {old} by {name} everywhere"));
        }
        (Scope::SamePatch, Source::Block(_)) => {
            assert!(says.contains(&format!("this {role}")), "{says}");
            assert!(says.contains(&format!("all {} blocks", reached.len())), "{says}: {}", reached.len());
        }
        (Scope::Role, Source::Block(id)) => {
            let value = block.patches()[spot.patch].tone.table_value(design.halves(spot.place).values());
            for word in [role.name(), value.word(), design.block(id).unwrap().name()] {
                assert!(says.contains(word), "{says}: {word}");
            }
        }
        (Scope::SamePatch | Scope::Role, Source::Border { border, .. }) => {
            assert_eq!(says, format!("Paints the whole of border {} with {name}", border + 1));
        }
        (Scope::SamePatch | Scope::Role, Source::RowEnd) => {
            assert_eq!(says, format!("Paints all row ends with {name}"));
        }
        (Scope::SamePatch | Scope::Role, _) => {
            assert_eq!(says, format!("Paints every {role} of the setting with {name}"));
        }
    }
}

#[test]
fn a_stroke_does_what_was_said_in_every_scope_and_undo_takes_it_back() {
    for name in SAMPLES {
        let mut studio = studio(name);
        for spot in spots(&studio) {
            for scope in Scope::ALL {
                check_stroke(&mut studio, spot, scope);
            }
        }
    }
}

#[test]
fn recoloured_saved_and_opened_again_it_is_the_same() {
    for name in SAMPLES {
        for scope in Scope::ALL {
            let folder = tempfile::tempdir().unwrap();
            let file = folder.path().join("quilt.json");
            let mut studio = studio(name);
            let spot = spots(&studio)[1];
            studio.session.scope = scope;
            studio.session.fabric = another(studio.design(), spot);
            studio.paint(spot);
            studio.save_to(&file, Overwrite::Refuse).unwrap();
            assert!(!studio.unsaved());
            let again = Studio::new(&Document::open(&file).unwrap(), Some(file), Settings::default()).unwrap();
            assert_eq!(again.design(), studio.design(), "{name}, {scope:?}");
            assert_eq!(totals(again.derived()), totals(studio.derived()), "{name}, {scope:?}");
        }
    }
}

#[test]
fn sentences_without_a_patch_and_of_the_other_tools() {
    let mut studio = studio("crib-night-ferry");
    let cell = PlaceId::Cell { row: 1, column: 2 };
    let border = shown(&studio).keys().map(|k| k.0).find(|p| matches!(p, PlaceId::Border { .. })).unwrap();
    let rows = [
        (
            Tool::Select,
            None,
            "Point at a block to select it; drag on empty ground, or with Shift or Alt, to select several",
        ),
        (Tool::Paint, None, "Point at a patch to paint it with Midnight"),
        (Tool::Pick, None, "Point at a patch to take up its fabric"),
        (Tool::Select, Some(cell), "Selects Star on midnight in row 2, column 3; Shift adds it, a drag exchanges it"),
        (Tool::Select, Some(border), &format!("The {border} holds no block to select")),
    ];
    for (tool, place, says) in rows {
        studio.session.tool = tool;
        studio.session.hover = place.map(|place| Spot { place, patch: 0 });
        assert_eq!(click_says(studio.design(), &studio.session), says);
    }
    studio.session.tool = Tool::Pick;
    for spot in spots(&studio) {
        studio.session.hover = Some(spot);
        let says = click_says(studio.design(), &studio.session);
        studio.pick(spot);
        let name = &studio.design().fabric(studio.session.fabric).unwrap().name;
        assert_eq!(says, format!("Takes up {name}"));
    }
}

#[test]
fn a_stroke_over_several_patches_is_one_step() {
    let mut studio = studio("lap-owl-lane");
    let design = studio.design().clone();
    let bought = totals(studio.derived());
    let spots = spots(&studio);
    let paint_all = |studio: &mut Studio| {
        studio.begin_gesture("Paint");
        for (i, spot) in spots.iter().enumerate() {
            studio.session.fabric = another(&design, *spot);
            studio.paint(*spot);
            assert_eq!(studio.history().undo_label(), None, "patch {i}");
        }
    };
    paint_all(&mut studio);
    studio.cancel_gesture();
    assert_eq!((studio.design(), totals(studio.derived())), (&design, bought.clone()));
    assert_eq!(studio.history().undo_label(), None);
    assert!(!studio.unsaved());

    paint_all(&mut studio);
    studio.end_gesture();
    assert_eq!(studio.history().undo_label(), Some("Paint"));
    let (painted, painted_totals) = (studio.design().clone(), totals(studio.derived()));
    studio.undo();
    assert_eq!((studio.design(), totals(studio.derived())), (&design, bought));
    assert_eq!(studio.history().redo_label(), Some("Paint"));
    studio.redo();
    assert_eq!((studio.design(), totals(studio.derived())), (&painted, painted_totals));
}

#[test]
fn the_mark_follows_what_is_in_the_file() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("quilt.json");
    let mut studio = studio("crib-night-ferry");
    assert!(!studio.unsaved());
    studio.edit(&Edit::Rename("Ferry by day".to_owned()));
    assert!(studio.unsaved());
    studio.undo();
    assert!(!studio.unsaved(), "undone back to the file");
    studio.redo();
    studio.save_to(&file, Overwrite::Refuse).unwrap();
    assert_eq!((studio.unsaved(), studio.path()), (false, Some(file.as_path())));
    studio.undo();
    assert!(studio.unsaved(), "undone to before the save");
    studio.redo();
    assert!(!studio.unsaved());
    studio.edit(&Edit::Rename("Ferry by day".to_owned()));
    assert!(!studio.unsaved(), "the same name is no change");

    let new = Studio::new(&Document::new(Choice::default().design().unwrap()), None, Settings::default()).unwrap();
    assert!(new.unsaved(), "a quilt without a file");
}

#[test]
fn a_refused_edit_is_told_and_changes_nothing() {
    let mut studio = studio("crib-night-ferry");
    let design = studio.design().clone();
    let bought = totals(studio.derived());
    let rows = [
        (Edit::RemoveFabric(FabricId(1)), "Midnight"),
        (Edit::Rename(String::new()), "name"),
        (Edit::RemoveFabric(FabricId(99)), "99"),
    ];
    for (number, (edit, word)) in rows.into_iter().enumerate() {
        studio.edit(&edit);
        assert_eq!(studio.notices().len(), number + 1, "{edit:?}");
        let notice = studio.notices().last().unwrap();
        assert!(notice.problem && notice.text.contains(word), "{edit:?}: {}", notice.text);
        assert_eq!((studio.design(), totals(studio.derived())), (&design, bought.clone()));
        assert_eq!(studio.history().undo_label(), None);
        assert!(!studio.unsaved());
    }
    studio.edit(&Edit::RemoveFabric(FabricId(99)));
    assert_eq!(studio.notices().len(), 3, "the same refusal is not told twice in a row");
    studio.dismiss(1);
    assert_eq!(studio.notices().len(), 2);
    studio.dismiss(7);
    assert_eq!(studio.notices().len(), 2);
}

#[test]
fn a_save_that_fails_leaves_it_unsaved() {
    let folder = tempfile::tempdir().unwrap();
    let taken = folder.path().join("taken.json");
    std::fs::write(&taken, "mine").unwrap();
    let mut studio = studio("crib-night-ferry");
    studio.edit(&Edit::Rename("Ferry by day".to_owned()));
    for (file, overwrite) in [
        (folder.path().join("no such folder").join("quilt.json"), Overwrite::Replace),
        (folder.path().to_path_buf(), Overwrite::Replace),
        (taken.clone(), Overwrite::Refuse),
    ] {
        assert!(studio.save_to(&file, overwrite).is_err(), "{}", file.display());
        assert!(studio.unsaved());
        assert_eq!(studio.path(), Some(sample("crib-night-ferry").as_path()));
    }
    assert_eq!(std::fs::read_to_string(&taken).unwrap(), "mine");
    studio.save_to(&taken, Overwrite::Replace).unwrap();
    assert_eq!(studio.settings.recent.first(), Some(&taken));
}

#[test]
fn every_variant_keeps_its_own_work() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("quilt.json");
    let mut studio = studio("throw-two-windows");
    assert_eq!(studio.variants().collect::<Vec<_>>(), [("Dusk", true), ("Noon", false)]);
    studio.edit(&Edit::Rename("Dusk repainted".to_owned()));
    studio.show_variant(1);
    assert_eq!(studio.variants().collect::<Vec<_>>(), [("Dusk", false), ("Noon", true)]);
    assert_eq!(studio.history().undo_label(), None, "steps of another variant are not taken back in this one");
    check_totals(&studio);
    assert!(studio.unsaved(), "the other variant has work that is not in the file");
    studio.edit(&Edit::Rename("Noon repainted".to_owned()));
    studio.show_variant(0);
    assert_eq!(studio.design().name(), "Dusk repainted");
    studio.show_variant(9);
    assert_eq!(studio.design().name(), "Dusk repainted");
    studio.save_to(&file, Overwrite::Refuse).unwrap();
    studio.show_variant(1);
    assert!(!studio.unsaved(), "both variants are in the file");
    let again = Document::open(&file).unwrap();
    let names: Vec<&str> = again.variants().iter().map(|v| v.design.name()).collect();
    assert_eq!(names, ["Dusk repainted", "Noon repainted"]);
}

#[test]
fn opening_replaces_the_quilt_and_keeps_the_settings() {
    let mut studio = studio("crib-night-ferry");
    studio.settings.dark = true;
    studio.session.selection.insert(PlaceId::Cell { row: 0, column: 0 });
    let next = document("throw-two-windows");
    studio.open(&next, Some(sample("throw-two-windows")));
    assert_eq!(*studio.design(), next.variants()[0].design);
    assert!(studio.settings.dark && !studio.unsaved() && studio.session.selection.is_empty());
    assert_eq!(studio.settings.recent, [sample("throw-two-windows")]);
    check_totals(&studio);
}

/// The selected cells after a command, with the label of the step.
fn select(studio: &mut Studio, cells: &[(u16, u16)]) -> Vec<PlaceId> {
    let places: Vec<PlaceId> = cells.iter().map(|(row, column)| PlaceId::Cell { row: *row, column: *column }).collect();
    studio.session.selection = places.iter().copied().collect();
    places
}

#[test]
fn selected_blocks_turn_all_the_way_round() {
    for (name, turns) in [("lap-owl-lane", 4), ("full-six-winds", 3)] {
        for step in [1, -1] {
            let mut studio = studio(name);
            let places = select(&mut studio, &[(0, 0), (1, 1), (1, 2)]);
            let mut seen = vec![studio.design().clone()];
            for _ in 0..turns {
                studio.change_blocks(if step > 0 { BlockChange::TurnLeft } else { BlockChange::TurnRight });
                check_totals(&studio);
                assert_eq!(studio.notices(), [], "{name}");
                seen.push(studio.design().clone());
            }
            assert_eq!(seen.first(), seen.last(), "{name}: round after {turns} turns");
            for (a, b) in seen.iter().zip(&seen[1..]) {
                assert!(places.iter().all(|p| a.place(*p).unwrap().turn != b.place(*p).unwrap().turn), "{name}");
                let others = a.places().filter(|(id, _)| !places.contains(id));
                assert!(others.into_iter().all(|(id, place)| place == b.place(id).unwrap()), "{name}");
            }
            for before in seen.iter().rev().skip(1) {
                assert_eq!(studio.history().undo_label(), Some("Turn blocks"));
                studio.undo();
                assert_eq!(studio.design(), before, "{name}: one step for all selected blocks");
            }
        }
    }
}

#[test]
fn turning_left_and_right_undo_each_other() {
    for name in SAMPLES {
        let mut studio = studio(name);
        let before = studio.design().clone();
        select(&mut studio, &[(0, 0), (0, 1)]);
        studio.change_blocks(BlockChange::TurnLeft);
        assert_ne!(*studio.design(), before, "{name}");
        studio.change_blocks(BlockChange::TurnRight);
        assert_eq!(*studio.design(), before, "{name}");
    }
}

#[test]
fn halves_flip_where_there_are_halves() {
    for (name, halves) in [("lap-owl-lane", 2), ("full-six-winds", 0), ("crib-night-ferry", 0)] {
        let mut studio = studio(name);
        let places = select(&mut studio, &[(0, 0), (1, 1)]);
        for half in 0..3 {
            let before = studio.design().clone();
            studio.change_blocks(BlockChange::FlipHalf(half));
            let changed = *studio.design() != before;
            let has = |p: &PlaceId| before.place(*p).unwrap().halves.values().len() > usize::from(half);
            assert_eq!(changed, places.iter().any(has), "{name}, half {half}");
            check_totals(&studio);
            if changed {
                studio.change_blocks(BlockChange::FlipHalf(half));
                assert_eq!(*studio.design(), before, "{name}, half {half}: twice is none");
            }
        }
        let most = places.iter().map(|p| studio.design().place(*p).unwrap().halves.values().len()).max();
        assert_eq!(most, Some(halves), "{name}");
    }
}

#[test]
fn an_edit_of_the_selection_needs_one() {
    let mut studio = studio("crib-night-ferry");
    studio.change_blocks(BlockChange::TurnLeft);
    assert_eq!(studio.history().undo_label(), None);
    assert_eq!(studio.notices().iter().map(|n| n.problem).collect::<Vec<_>>(), [false]);
}

#[test]
fn what_is_gone_leaves_the_session() {
    let mut studio = studio("crib-night-ferry");
    let last = PlaceId::Cell { row: 4, column: 3 };
    select(&mut studio, &[(0, 0), (4, 3)]);
    studio.session.hover = Some(Spot { place: last, patch: 0 });
    let fill = studio.design().places().next().unwrap().1.block;
    studio.edit(&Edit::SetSetting { setting: Setting::Straight { rows: 2, columns: 2 }, fill });
    assert_eq!(studio.session.selection.iter().copied().collect::<Vec<_>>(), [PlaceId::Cell { row: 0, column: 0 }]);
    assert_eq!(studio.session.hover, None);
    check_totals(&studio);

    let own = studio.design().fabric(FabricId(1)).unwrap().clone();
    studio.edit(&Edit::AddFabric(own));
    let added = studio.design().fabrics().map(|(id, _)| id).max().unwrap();
    studio.session.fabric = added;
    studio.undo();
    assert!(studio.design().fabric(studio.session.fabric).is_ok(), "the fabric in hand is one of the quilt");
}

#[test]
fn number_keys_go_from_dark_to_light() {
    for name in SAMPLES {
        let studio = studio(name);
        let design = studio.design();
        let order = fabrics_by_value(design);
        assert_eq!(order.len(), design.fabrics().count());
        let values: Vec<(Value, FabricId)> = order.iter().map(|id| (design.fabric(*id).unwrap().value, *id)).collect();
        let rank = |v: Value| [Value::Dark, Value::Medium, Value::Light].iter().position(|x| *x == v).unwrap();
        let sorted = values.windows(2).all(|w| (rank(w[0].0), w[0].1) < (rank(w[1].0), w[1].1));
        assert!(sorted, "{name}: {values:?}");
        assert_eq!(studio.session.fabric, order[0], "{name}: the darkest is in hand at first");
    }
}

#[test]
fn turned_blocks_are_pointed_at_where_they_are_drawn() {
    for (name, edit) in [
        ("lap-owl-lane", BlockChange::TurnLeft),
        ("full-six-winds", BlockChange::TurnLeft),
        ("lap-owl-lane", BlockChange::TurnRight),
    ] {
        let mut studio = studio(name);
        select(&mut studio, &[(0, 0), (2, 1)]);
        studio.change_blocks(edit);
        let scene = studio.derived().scene();
        for spot in spots(&studio) {
            let outline = scene.outline(spot).unwrap();
            let count = f64::from(u32::try_from(outline.len()).unwrap());
            let middle = [0, 1].map(|k| outline.iter().map(|p| p[k]).sum::<f64>() / count);
            assert_eq!(scene.spot(middle), Some(spot), "{name}: the middle of a convex patch lies in it");
        }
    }
}

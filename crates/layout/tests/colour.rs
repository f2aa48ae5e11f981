//! Designs of two, three and four colours: stars that are complete, counts that are equal, tables without a gap.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::collections::{BTreeMap, BTreeSet};

use common::{
    DARK, FOURTH, LIGHT, THIRD, block_of, cell, families, half_block, inches, scheme, shown, starter, straight,
};
use geometry::{Exact, Point, Recipe, Role, Tone, Value};
use layout::{BlockDef, ColourScheme, Design, Edit, EditError, FabricId, apply, colour_table, needed_roles};

/// A 4 × 4 top of diagonal half blocks turned so that eight diamonds meet, with the halves that `values` says for
/// row and column.
fn four_by_four(colours: usize, values: impl Fn(u16, u16) -> [Value; 2]) -> Design {
    let mut start = starter(&[half_block(12)], straight(4, 4), &[]);
    start.scheme = scheme(colours);
    let mut design = start.design().unwrap();
    for row in 0..4 {
        for column in 0..4 {
            let place = cell(row, column);
            let turn = if (row + column).is_multiple_of(2) { 1 } else { 0 };
            let mut edits = vec![Edit::Turn { place, turn }];
            for (half, value) in (0..).zip(values(row, column)) {
                edits.push(Edit::SetHalf { place, half, value });
            }
            design = edits.iter().fold(design, |design, edit| apply(&design, edit).unwrap().0);
        }
    }
    design
}

/// For every interior lattice point: the fabrics of the diamonds that meet there.
fn diamonds_at_lattice_points(design: &Design) -> BTreeMap<(i64, i64), Vec<FabricId>> {
    let top = design.top().unwrap();
    let mut met = BTreeMap::new();
    for (i, j) in (1..4).flat_map(|i| (1..4).map(move |j| (i, j))) {
        let at = Point::new(Exact::int(12 * i), Exact::int(12 * j));
        for placed in &top.placed {
            for (index, patch) in placed.block.patches().iter().enumerate() {
                let outline = placed.motion.polygon(&patch.outline);
                if patch.role.name() == "diamond" && outline.corners().contains(&at) {
                    let fabric = design.paint(placed.place, placed.source, &placed.block, index).unwrap();
                    met.entry((i, j)).or_insert_with(Vec::new).push(fabric);
                }
            }
        }
    }
    met
}

fn counts(design: &Design) -> BTreeMap<FabricId, usize> {
    let mut counts = BTreeMap::new();
    for fabric in shown(design).into_values() {
        *counts.entry(fabric).or_insert(0) += 1;
    }
    counts
}

/// Lattice points where eight diamonds meet, and those of them where all eight are of one fabric.
fn stars(design: &Design) -> (usize, Vec<FabricId>) {
    let met = diamonds_at_lattice_points(design);
    let complete: Vec<_> = met.values().filter(|fabrics| fabrics.len() == 8).collect();
    let one = |fabrics: &&&Vec<FabricId>| fabrics.iter().all(|f| *f == fabrics[0]);
    (complete.len(), complete.iter().filter(one).map(|fabrics| fabrics[0]).collect())
}

#[test]
fn dark_light_blocks_give_five_stars_and_equal_counts() {
    let design = four_by_four(2, |_, _| [Value::Dark, Value::Light]);
    assert_eq!(stars(&design), (5, vec![]));
    for fabrics in diamonds_at_lattice_points(&design).into_values().filter(|f| f.len() == 8) {
        assert_eq!(fabrics.iter().filter(|f| **f == DARK).count(), 4, "every other point of a star is dark");
    }
    assert_eq!(counts(&design), BTreeMap::from([(DARK, 64), (LIGHT, 64)]));
}

/// Blocks dark on both sides in two opposite quarters, light in the others: stars of one fabric in each.
#[test]
fn quarters_of_one_value_give_stars_of_one_fabric_and_equal_counts() {
    let design = four_by_four(2, |row, column| [if (row < 2) == (column < 2) { Value::Dark } else { Value::Light }; 2]);
    let (complete, mut whole) = stars(&design);
    whole.sort();
    assert_eq!((complete, whole), (5, vec![DARK, DARK, LIGHT, LIGHT]));
    assert_eq!(counts(&design), BTreeMap::from([(DARK, 64), (LIGHT, 64)]));
}

#[test]
fn a_third_fabric_makes_every_star_of_one_fabric() {
    let design =
        four_by_four(3, |row, _| [[Value::Dark, Value::Light], [Value::Light, Value::Light]][usize::from(row % 2)]);
    assert_eq!(stars(&design), (5, vec![THIRD; 5]));
    assert_eq!(counts(&design)[&THIRD], 64);
}

#[test]
fn diamonds_never_take_the_value_of_their_half() {
    for (values, dark, light) in [
        ([Value::Dark; 2], [("trapezoid", 2), ("triangle", 2)].as_slice(), [("diamond", 4)].as_slice()),
        ([Value::Light; 2], &[("diamond", 4)], &[("trapezoid", 2), ("triangle", 2)]),
        (
            [Value::Light, Value::Dark],
            &[("diamond", 2), ("trapezoid", 1), ("triangle", 1)],
            &[("diamond", 2), ("trapezoid", 1), ("triangle", 1)],
        ),
    ] {
        let design = four_by_four(2, |_, _| values);
        let block = half_block(12).draft().unwrap();
        let mut found: BTreeMap<(FabricId, &str), usize> = BTreeMap::new();
        for ((place, key), fabric) in shown(&design) {
            if place == cell(0, 0) {
                *found.entry((fabric, block.patches()[block.index_of(key).unwrap()].role.name())).or_insert(0) += 1;
            }
        }
        let rows = |fabric, rows: &[(&'static str, usize)]| {
            rows.iter().map(move |(role, n)| ((fabric, *role), *n)).collect::<Vec<_>>()
        };
        let expected: BTreeMap<_, _> = rows(DARK, dark).into_iter().chain(rows(LIGHT, light)).collect();
        assert_eq!(found, expected, "{values:?}");
    }
}

/// Every table is complete and uses the scheme's fabrics only; a family with the roles for all of them uses all.
#[test]
fn tables_are_complete() {
    for (family, recipe) in families() {
        let block = recipe.draft().unwrap();
        let against = block.patches().iter().any(|p| matches!(p.tone, Tone::AgainstHalf(_)));
        let medium = block.patches().iter().any(|p| p.tone == Tone::Own(Value::Medium));
        for (colours, fabrics) in
            [(2, vec![DARK, LIGHT]), (3, vec![DARK, LIGHT, THIRD]), (4, vec![DARK, LIGHT, THIRD, FOURTH])]
        {
            let table = colour_table(&block, scheme(colours));
            assert_eq!(
                table.keys().cloned().collect::<BTreeSet<_>>(),
                needed_roles(&block),
                "{family}, {colours} colours"
            );
            let used: BTreeSet<FabricId> = table.values().copied().collect();
            assert!(used.iter().all(|f| fabrics.contains(f)), "{family}, {colours} colours");
            if against || (medium && colours < 4) || family == "tilted star" || family == "on-axis star" {
                let all: BTreeSet<FabricId> = fabrics.into_iter().collect();
                assert_eq!(used, all, "{family}, {colours} colours");
            }
        }
    }
}

/// In two colours a patch and what lies against it differ: dark on light, light on dark.
#[test]
fn two_colours_keep_contrast() {
    for (family, recipe) in families() {
        let block = recipe.draft().unwrap();
        let table = colour_table(&block, scheme(2));
        for patch in block.patches() {
            for half in [Value::Dark, Value::Light] {
                let values = [half; 8];
                let fabric = table[&(patch.role.clone(), patch.tone.table_value(&values))];
                let expected = match patch.tone {
                    Tone::AgainstHalf(_) => half.opposite(),
                    Tone::Half(_) => half,
                    Tone::Own(value) => value,
                };
                let light = expected == Value::Light;
                assert_eq!(fabric == LIGHT, light, "{family}, {} in {half:?}", patch.role);
            }
        }
    }
}

/// The bounds of the band hold in a design as well.
#[test]
fn narrow_and_wide_bands_make_stars_too() {
    for band in [1, 2, 4] {
        let recipe = Recipe::DiagonalHalf { size: block_of(12), band: Some(inches(band)) };
        let mut start = starter(&[recipe], straight(2, 2), &[]);
        start.scheme = scheme(3);
        let mut design = start.design().unwrap();
        for (row, column, turn) in [(0, 0, 1), (1, 1, 1)] {
            design = apply(&design, &Edit::Turn { place: cell(row, column), turn }).unwrap().0;
        }
        let at = diamonds_at_lattice_points(&design);
        assert_eq!(at[&(1, 1)], vec![THIRD; 8], "band {band}");
    }
}

/// A table with a role that no patch has is a slip of the pen, not an entry to carry along.
#[test]
fn a_table_for_a_role_that_is_not_there_is_refused() {
    let recipe = half_block(6);
    let scheme = ColourScheme::Two { dark: FabricId(1), light: FabricId(2) };
    let mut table = colour_table(&recipe.draft().unwrap(), scheme);
    assert!(BlockDef::new("Half", recipe.clone(), table.clone()).is_ok());
    table.insert((Role::new("nonsense").unwrap(), geometry::Value::Dark), FabricId(1));
    let refused = BlockDef::new("Half", recipe, table).unwrap_err();
    assert!(matches!(&refused, EditError::NoRole { role, .. } if role.name() == "nonsense"), "{refused}");
}

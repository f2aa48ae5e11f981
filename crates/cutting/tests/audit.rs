//! The audit finds what a plan does not cut, and classes are what patches are cut alike.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use common::{DARK, FOURTH, LIGHT, THIRD, block_of, by, cell, edited, inches, ledger, starter, straight, with_fabric};
use cutting::joined::section_shape;
use cutting::{ClassId, CutError, CutPiece, FabricPlan, Ledger, PreparedPiece, Problem, RulerStep, audit, quick};
use geometry::{Exact, Measure, Patch, PatchKey, Point, Polygon, Recipe, Role, Tone, Vector};
use layout::{Border, Design, Edit, FabricId, Print, Setting, Source};

type Plans = BTreeMap<FabricId, Result<FabricPlan, CutError>>;

fn quilt() -> Design {
    let design =
        starter(&[Recipe::DiagonalHalf { size: block_of(12), band: None }], straight(4, 4), &[]).design().unwrap();
    edited(&design, &Edit::SetBorders(vec![Border::plain(inches(3), THIRD)]))
}

/// Changes one fabric's pieces and plans them again, so that only the comparison with the quilt can tell.
fn tamper(plans: &mut Plans, id: FabricId, change: impl FnOnce(&mut FabricPlan)) {
    let plan = plans.get_mut(&id).unwrap().as_mut().unwrap();
    change(plan);
    let listed: Vec<(&PreparedPiece, u64)> = plan.pieces.iter().map(|p| (p.prepared.as_ref(), p.count)).collect();
    plan.plan = quick(plan.width, &listed).unwrap();
}

fn problems(design: &Design, plans: &Plans) -> Vec<FabricId> {
    let found = audit(design, plans).unwrap_err();
    assert!(
        found.iter().all(|(_, p)| matches!(p, Problem::NotTheQuilt { .. } | Problem::JoinedArea { .. })),
        "{found:?}"
    );
    found.into_iter().map(|(id, _)| id).collect::<BTreeSet<_>>().into_iter().collect()
}

fn position(plans: &Plans, id: FabricId, wanted: impl Fn(&cutting::PlannedPiece) -> bool) -> usize {
    plans[&id].as_ref().unwrap().pieces.iter().position(wanted).unwrap()
}

/// A section as wide as it was long and as long as it was wide.
fn turn_a_section(plans: &mut Plans) {
    let at = position(plans, THIRD, |piece| piece.is_section);
    tamper(plans, THIRD, |plan| {
        let (length, width) = plan.pieces[at].shape.as_ref().unwrap().finished().extent();
        let wrong = section_shape(&width, &length, &common::fraction(1, 4)).unwrap();
        let piece = CutPiece { polygon: wrong.outline().clone(), ..plan.pieces[at].prepared.piece().clone() };
        plan.pieces[at].prepared = Arc::new(PreparedPiece::new(piece, RulerStep::EIGHTH_INCH).unwrap());
        plan.pieces[at].shape = Some(Arc::new(wrong));
    });
}

#[test]
fn tampering_is_found_in_the_fabric_where_it_was_done() {
    type Change = fn(&mut Plans);
    let changes: Vec<(&str, Change, Vec<FabricId>)> = vec![
        ("a piece left out", |p| tamper(p, DARK, |plan| drop(plan.pieces.remove(0))), vec![DARK]),
        ("a piece left out beside sections", |p| tamper(p, THIRD, |plan| drop(plan.pieces.remove(0))), vec![THIRD]),
        ("one too many", |p| tamper(p, DARK, |plan| plan.pieces[0].count += 1), vec![DARK]),
        ("one too few", |p| tamper(p, LIGHT, |plan| plan.pieces[1].count -= 1), vec![LIGHT]),
        (
            "a section too few",
            |p| {
                let at = position(p, THIRD, |piece| piece.is_section);
                tamper(p, THIRD, |plan| plan.pieces[at].count -= 1);
            },
            vec![THIRD],
        ),
        ("a section on its side, of the same area", turn_a_section, vec![THIRD]),
        (
            "a section left out",
            |p| {
                let at = position(p, THIRD, |piece| piece.is_section);
                tamper(p, THIRD, |plan| drop(plan.pieces.remove(at)));
            },
            vec![THIRD],
        ),
        (
            "a binding strip too few",
            |p| {
                let at = position(p, LIGHT, |piece| piece.label == "binding strip");
                tamper(p, LIGHT, |plan| plan.pieces[at].count -= 1);
            },
            vec![LIGHT],
        ),
        (
            "a piece in another fabric",
            |p| {
                let mut moved = None;
                tamper(p, DARK, |plan| moved = Some(plan.pieces.remove(0)));
                let count = moved.unwrap().count;
                tamper(p, LIGHT, |plan| plan.pieces[0].count += count);
            },
            vec![DARK, LIGHT],
        ),
        ("a fabric left out", |p| drop(p.remove(&DARK)), vec![DARK]),
    ];
    let design = quilt();
    let plans = ledger(&design).plans().clone();
    assert!(audit(&design, &plans).is_ok());
    for (name, change, wanted) in changes {
        let mut tampered = plans.clone();
        change(&mut tampered);
        assert_eq!(problems(&design, &tampered), wanted, "{name}");
    }
}

#[test]
fn the_plan_of_another_design_is_found() {
    let design = quilt();
    let others = [
        Edit::PaintPatch { place: cell(1, 1), patch: PatchKey(0), fabric: DARK },
        Edit::SetSeam(common::fraction(3, 8)),
        Edit::Mirror { place: cell(0, 0), mirrored: true },
        Edit::SetBorders(Vec::new()),
        Edit::SetHalf { place: cell(2, 2), half: 0, value: geometry::Value::Light },
    ];
    for edit in others {
        let other = edited(&design, &edit);
        let found = audit(&design, ledger(&other).plans());
        let same = matches!(edit, Edit::Mirror { .. });
        assert_eq!(found.is_ok(), same, "{edit:?}: a half block and its mirror image have the same hands");
    }
}

#[test]
fn a_piece_that_is_not_laid_is_found() {
    let design = quilt();
    let mut plans = ledger(&design).plans().clone();
    plans.get_mut(&DARK).unwrap().as_mut().unwrap().plan.strips[0].segments[0].count -= 1;
    let found = audit(&design, &plans).unwrap_err();
    assert!(found.iter().any(|(id, p)| *id == DARK && matches!(p, Problem::Count { .. })), "{found:?}");
}

/// The classes of a role's patches, as they stand and mirrored.
fn classes(design: &Design, ledger: &Ledger, source: Source, role: &str, print: Print) -> BTreeSet<ClassId> {
    let block = design.source_block(source).unwrap();
    let patches = block.patches().iter().filter(|p| p.role.name() == role);
    patches
        .flat_map(|p| [false, true].map(|mirrored| ledger.book().of_patch(source, p.key, mirrored, print)))
        .flatten()
        .collect()
}

fn labels(ledger: &Ledger, classes: &BTreeSet<ClassId>) -> Vec<String> {
    let mut labels: Vec<String> = classes.iter().map(|id| ledger.book().class(*id).unwrap().label()).collect();
    labels.sort();
    labels
}

const BLOCK: Source = Source::Block(layout::BlockId(1));

#[test]
fn diamonds_of_a_diagonal_half_block_have_two_hands() {
    let design = quilt();
    let ledger = ledger(&design);
    let found = classes(&design, &ledger, BLOCK, "diamond", Print::Tossed);
    assert_eq!(labels(&ledger, &found), ["diamond, leaning left", "diamond, leaning right"]);
    assert_eq!(classes(&design, &ledger, BLOCK, "diamond", Print::Directional), found);
    assert_eq!(classes(&design, &ledger, BLOCK, "diamond", Print::TwoSided).len(), 1, "turned over they are one");
    let triangles = classes(&design, &ledger, BLOCK, "triangle", Print::Tossed);
    assert_eq!(labels(&ledger, &triangles), ["triangle"], "its own mirror image");
}

#[test]
fn a_two_sided_fabric_cuts_both_hands_as_one_piece() {
    let design = quilt();
    let diamonds = |design: &Design, id| -> Vec<(String, u64)> {
        let plan = ledger(design).plans()[&id].clone().unwrap();
        plan.pieces.iter().filter(|p| p.label.starts_with("diamond")).map(|p| (p.label.clone(), p.count)).collect()
    };
    assert_eq!(
        diamonds(&design, THIRD),
        [("diamond, leaning right".to_owned(), 16), ("diamond, leaning left".to_owned(), 16)]
    );
    let two_sided = with_fabric(&design, THIRD, Print::TwoSided, inches(40));
    assert_eq!(diamonds(&two_sided, THIRD), [("diamond".to_owned(), 32)]);
    assert_eq!(diamonds(&two_sided, FOURTH).len(), 2, "the other fabric has a right side");
    assert!(audit(&two_sided, ledger(&two_sided).plans()).is_ok());
}

/// Both legs of a half-square triangle lie on the straight grain when one does.
#[test]
fn a_half_square_triangle_is_one_class_whichever_leg_carries_the_grain() {
    let at = |x, y| Point::new(Exact::int(x), Exact::int(y));
    let polygon = |corners: &[(i64, i64)]| Polygon::new(corners.iter().map(|(x, y)| at(*x, *y)).collect()).unwrap();
    let design_with = |grains: [(i64, i64); 2]| {
        let patch = |key, corners: &[(i64, i64)], (x, y): (i64, i64)| Patch {
            key: PatchKey(key),
            outline: polygon(corners),
            role: Role::new("corner").unwrap(),
            tone: Tone::Half(0),
            grain: Some(Vector::new(Exact::int(x), Exact::int(y))),
        };
        let recipe = Recipe::Own {
            base: polygon(&[(0, 0), (6, 0), (6, 6), (0, 6)]),
            patches: vec![
                patch(0, &[(0, 0), (6, 0), (6, 6)], grains[0]),
                patch(1, &[(0, 0), (6, 6), (0, 6)], grains[1]),
            ],
        };
        starter(&[recipe], straight(1, 1), &[]).design().unwrap()
    };
    let count = |grains| {
        let design = design_with(grains);
        classes(&design, &ledger(&design), BLOCK, "corner", Print::Tossed).len()
    };
    assert_eq!(count([(1, 0), (0, 1)]), 1);
    assert_eq!(count([(1, 0), (-1, 0)]), 1);
    assert_eq!(count([(1, 0), (1, 1)]), 2, "with the grain along the long side it is another piece");
}

#[test]
fn ends_of_rows_of_triangles_come_in_two_hands() {
    // An even row slants: both its ends have one hand, the other one in every second row.
    for (columns, wanted) in [(4, [4, 2]), (5, [3, 3])] {
        let setting = Setting::TriangleRows { rows: 3, columns, ends: FOURTH };
        let recipe = Recipe::SixtyTriangle(by(Measure::Side, inches(6)));
        let design = starter(&[recipe], setting, &[]).design().unwrap();
        let found = ledger(&design);
        let ends = classes(&design, &found, Source::RowEnd, "row end triangle", Print::Tossed);
        assert_eq!(labels(&found, &ends), ["row end triangle, leaning left", "row end triangle, leaning right"]);
        let plan = found.plans()[&FOURTH].as_ref().unwrap();
        assert_eq!(plan.pieces.iter().map(|p| p.count).collect::<Vec<_>>(), wanted, "{columns} columns");
    }
}

/// Right triangles with legs 4 and 6, one drawn with the grain along its long leg, its mirror image along the short.
#[test]
fn mirror_images_never_share_a_label() {
    let at = |x, y| Point::new(Exact::int(x), Exact::int(y));
    let polygon = |corners: &[(i64, i64)]| Polygon::new(corners.iter().map(|(x, y)| at(*x, *y)).collect()).unwrap();
    let patch = |key, corners: &[(i64, i64)], (x, y): (i64, i64)| Patch {
        key: PatchKey(key),
        outline: polygon(corners),
        role: Role::new("wing").unwrap(),
        tone: Tone::Half(0),
        grain: Some(Vector::new(Exact::int(x), Exact::int(y))),
    };
    let recipe = Recipe::Own {
        base: polygon(&[(0, 0), (8, 0), (8, 6), (0, 6)]),
        patches: vec![
            patch(0, &[(0, 0), (4, 0), (4, 6)], (0, 1)),
            patch(1, &[(0, 0), (4, 6), (0, 6)], (0, 1)),
            patch(2, &[(4, 0), (8, 0), (4, 6)], (1, 0)),
            patch(3, &[(8, 0), (8, 6), (4, 6)], (1, 0)),
        ],
    };
    let design = starter(&[recipe], straight(1, 1), &[]).design().unwrap();
    let found = ledger(&design);
    let wings = classes(&design, &found, BLOCK, "wing", Print::Tossed);
    assert_eq!(labels(&found, &wings), ["wing, leaning left", "wing, leaning right"]);
}

/// A square with its grain askew has two hands, but no side that it leans to: rounding must not make one up.
#[test]
fn a_square_with_its_grain_askew_does_not_lean() {
    let corners = [(0, 0), (6, 0), (6, 6), (0, 6)].map(|(x, y)| Point::new(Exact::int(x), Exact::int(y)));
    let outline = Polygon::new(corners.to_vec()).unwrap();
    for steps in [1, 2, 4, 5] {
        let patch = Patch {
            key: PatchKey(0),
            outline: outline.clone(),
            role: Role::new("pane").unwrap(),
            tone: Tone::Half(0),
            grain: Some(Vector::unit15(steps)),
        };
        let recipe = Recipe::Own { base: outline.clone(), patches: vec![patch] };
        let design = starter(&[recipe], straight(1, 1), &[]).design().unwrap();
        let found = ledger(&design);
        let panes = classes(&design, &found, BLOCK, "pane", Print::Tossed);
        assert_eq!(labels(&found, &panes), ["pane"], "{} degrees", 15 * steps);
    }
}

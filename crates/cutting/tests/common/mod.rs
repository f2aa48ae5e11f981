//! Quilts of our own invention for the tests of this crate, made and edited through the quilt document.
#![allow(dead_code, reason = "each test file uses some of it")]
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use std::collections::BTreeMap;

use cutting::{FabricPlan, Ledger};
use geometry::{Exact, ExtraSeam, Length, Measure, Recipe, Size, Value};
use layout::{
    Backing, Binding, BindingGrain, BlockDef, BlockId, Border, BorderKind, Buying, BuyingStep, Colour, ColourScheme,
    CuttingWishes, Design, Edit, EditError, Fabric, FabricId, InHand, Join, Look, MethodKind, PiecedBorder, PlaceId,
    Precut, Print, RulerRounding, Sashing, Setting, Sold, Source, Starter, Tally, UnitKeys, Units, apply,
};
use proptest::prelude::*;

pub(crate) const DARK: FabricId = FabricId(1);
pub(crate) const LIGHT: FabricId = FabricId(2);
pub(crate) const THIRD: FabricId = FabricId(3);
pub(crate) const FOURTH: FabricId = FabricId(4);

pub(crate) fn inches(n: i64) -> Length {
    Length::whole_inches(n).unwrap()
}

pub(crate) fn fraction(num: i64, den: i64) -> Length {
    Length::inch_fraction(num, den).unwrap()
}

pub(crate) fn ratio(num: i64, den: i64) -> Exact {
    Exact::ratio(num, den).unwrap()
}

pub(crate) const fn by(by: Measure, length: Length) -> Size {
    Size { by, length }
}

pub(crate) fn block_of(n: i64) -> Size {
    by(Measure::Block, inches(n))
}

pub(crate) const fn cell(row: u16, column: u16) -> PlaceId {
    PlaceId::Cell { row, column }
}

pub(crate) const fn straight(rows: u16, columns: u16) -> Setting {
    Setting::Straight { rows, columns }
}

/// A starter with four fabrics in four colours; borders are of the dark fabric, the binding of the light one.
pub(crate) fn starter(blocks: &[Recipe], setting: Setting, borders: &[Length]) -> Starter {
    let fabric = |name: &str, value| (name.to_owned(), Colour { red: 120, green: 80, blue: 60 }, value);
    Starter {
        name: "Test quilt".to_owned(),
        units: Units::Inches,
        fabrics: vec![
            fabric("Plum", Value::Dark),
            fabric("Oat", Value::Light),
            fabric("Rust", Value::Medium),
            fabric("Fern", Value::Medium),
        ],
        blocks: (1..).zip(blocks).map(|(i, recipe)| (format!("Block {i}"), recipe.clone())).collect(),
        scheme: ColourScheme::Four { dark: DARK, light: LIGHT, on_dark: THIRD, on_light: FOURTH },
        setting,
        borders: borders.iter().map(|width| (width.clone(), DARK)).collect(),
        binding: LIGHT,
    }
}

pub(crate) fn edited(design: &Design, edit: &Edit) -> Design {
    apply(design, edit).unwrap().0
}

/// The design with one fabric's print and usable width set.
pub(crate) fn with_fabric(design: &Design, id: FabricId, print: Print, usable_width: Length) -> Design {
    let fabric = Fabric { print, usable_width, ..design.fabric(id).unwrap().clone() };
    edited(design, &Edit::ChangeFabric { id, fabric })
}

pub(crate) fn tally(design: &Design) -> Tally {
    Tally::count(design).unwrap()
}

pub(crate) fn ledger(design: &Design) -> Ledger {
    Ledger::new(design, &tally(design)).unwrap()
}

/// A ledger as text that can be compared: what stands of every fabric, and its plan piece by piece.
pub(crate) fn view(ledger: &Ledger) -> Vec<String> {
    let uses = ledger.uses().iter().map(|(id, used)| format!("{id:?}: {used:?}"));
    let plans = ledger.plans().iter().map(|(id, plan)| match plan {
        Ok(plan) => format!("{id:?}: {}", plan_text(plan)),
        // The text holds the fabric's name, which may change without a new plan.
        Err(_) => format!("{id:?}: no plan"),
    });
    let rest = [format!("{:?}", ledger.binding()), format!("{:?}", ledger.backing())];
    uses.chain(plans).chain(rest).collect()
}

pub(crate) fn plan_text(plan: &FabricPlan) -> String {
    let pieces: Vec<String> = plan.pieces.iter().map(|p| format!("{} × {}", p.count, p.label)).collect();
    format!("{} lay units {:?} {pieces:?} {:?} {:?}", plan.width, plan.least_by_any_means, plan.plan, plan.purchase)
}

/// Random numbers of one quilt or one edit.
pub(crate) type Dice = [u16; 6];

fn pick<T: Clone>(list: &[T], die: u16) -> T {
    list[usize::from(die) % list.len()].clone()
}

/// A size from 3 to 18 in: whole inches, 64ths, or millimetres.
fn length_from(a: u16, b: u16) -> Length {
    let whole = i64::from(a % 15) + 3;
    match b % 4 {
        0 | 1 => inches(whole),
        2 => fraction((whole * 64 + i64::from(b % 61)).min(18 * 64), 64),
        _ => Length::millimetres(77 + i64::from(a) * 7 % 380).unwrap(),
    }
}

/// A recipe that stands in a straight setting; a square of side `length` unless it says otherwise itself.
fn straight_recipe(a: u16, b: u16, length: Length) -> Recipe {
    let size = by(Measure::Block, length.clone());
    let small = fraction(i64::from(b % 4) + 2, 2);
    let split = [0, 1, 2, 3, 4, 5, 6, 7].map(|k| b >> k & 1 == 0);
    match a % 15 {
        0 => Recipe::TiltedStar(size),
        1 => Recipe::TiltedStar(by(Measure::Diamond, small)),
        2 => Recipe::OnAxisStar { size, split },
        3 => Recipe::OnAxisStar { size: by(Measure::OctagonEdge, small), split },
        4 | 5 => Recipe::DiagonalHalf { size, band: None },
        6 => Recipe::DiagonalHalf { size: by(Measure::Diamond, small), band: None },
        7 => Recipe::DiagonalHalf { band: Length::new(length.inches() * &ratio(2, 5)).ok(), size },
        8 => Recipe::Plain { width: length, height: fraction(i64::from(b % 20) + 6, 2) },
        9 => pick(&[Recipe::FourPatch(size.clone()), Recipe::NinePatch(size)], b),
        10 => Recipe::HalfSquare(size),
        11 => Recipe::QuarterSquare(size),
        12 => Recipe::FlyingGoose(size),
        13 => Recipe::SquareInSquare(size),
        _ => Recipe::Stripes { height: length.clone(), width: length, count: b.to_le_bytes()[0] % 7 + 1 },
    }
}

/// Figures of a random quilt and what is done to it.
pub(crate) type QuiltDice = (Dice, Dice, [u16; 4], Vec<Dice>);

pub(crate) fn quilt_dice(edits: usize) -> impl Strategy<Value = QuiltDice> {
    (any::<Dice>(), any::<Dice>(), any::<[u16; 4]>(), prop::collection::vec(any::<Dice>(), 0..edits))
}

/// A quilt before anything is done to it: any family that a setting takes, two blocks of one size, borders, inches or
/// centimetres, ruler steps, prints and widths of fabric.
pub(crate) fn plain_quilt((a, b, fabrics, _): &QuiltDice) -> Design {
    let length = length_from(a[0], a[1]);
    let (rows, columns) = (b[0] % 5 + 1, b[1] % 5 + 1);
    let (recipes, setting) = if a[2] % 5 == 0 {
        let size = by(pick(&[Measure::Side, Measure::Height], a[3]), length);
        let ends = pick(&[THIRD, FOURTH, DARK], a[4]);
        let recipes = vec![Recipe::SixtyUnit(size.clone()), Recipe::SixtyTriangle(size)];
        (recipes, Setting::TriangleRows { rows, columns, ends })
    } else if a[2] % 5 == 4 {
        hexagons((rows, columns), by(pick(&[Measure::Side, Measure::AcrossFlats], a[3]), length), [a[4], a[5]])
    } else {
        let first = straight_recipe(a[3], a[4], length.clone());
        let second = Recipe::HalfSquare(by(Measure::Block, length));
        let (sides, corners) = (pick(&[THIRD, FOURTH, DARK], a[4]), pick(&[FOURTH, LIGHT], a[5]));
        let is_square = first.draft().is_ok_and(|block| block.base().extent().0 == block.base().extent().1);
        let setting = match a[2] % 5 {
            1 | 2 if is_square => Setting::OnPoint { rows, columns, sides, corners },
            _ => straight(rows, columns),
        };
        (vec![first, second], setting)
    };
    let borders: Vec<Length> = (0..b[2] % 3).map(|i| fraction(i64::from(b[3] % 20) + 2 + i64::from(i), 4)).collect();
    let mut quilt = starter(&recipes, setting, &borders);
    if b[4] % 3 == 0 {
        quilt.units = Units::Centimetres;
    }
    let mut design = quilt.design().unwrap();
    let usual = design.ruler_step().clone();
    let step = pick(&[usual, fraction(1, 8), fraction(1, 16), Length::millimetres(1).unwrap()], b[5]);
    design = edited(&design, &Edit::SetRulerStep(step));
    for edit in edges_from([a[2], b[3], b[4], b[5]]) {
        design = apply(&design, &edit).map_or(design, |(next, _)| next);
    }
    for (id, die) in (1..).map(FabricId).zip(fabrics) {
        design = with_fabric(&design, id, pick(&Print::ALL, *die), width_from(*die / 3));
    }
    design
}

/// A six-point star and a hexagon in rows of hexagons or star rows.
fn hexagons((rows, columns): (u16, u16), size: Size, [a, b]: [u16; 2]) -> (Vec<Recipe>, Setting) {
    let split = [0, 1, 2, 3, 4, 5].map(|k| b >> k & 3 != 0);
    let (one, other) = (pick(&[THIRD, FOURTH, DARK], a), pick(&[FOURTH, LIGHT], b));
    let setting = if a.is_multiple_of(2) {
        Setting::HexagonRows { rows, columns, halves: one, edges: other }
    } else {
        Setting::StarRows { rows, columns, between: one, ends: other }
    };
    (vec![Recipe::HexagonStar { size: size.clone(), split }, Recipe::Hexagon(size)], setting)
}

/// Sashing and a float, or none of them, from random numbers.
fn edges_from([a, b, c, d]: [u16; 4]) -> [Edit; 2] {
    let sashing = (a / 5 % 3 > 0).then(|| Sashing {
        width: fraction(i64::from(b % 24) + 2, 8),
        fabric: pick(&[THIRD, FOURTH, LIGHT], c),
        cornerstones: pick(&[None, Some(DARK), Some(FOURTH)], d),
        outer: c.is_multiple_of(2),
    });
    let float = (d % 3 == 0).then(|| fraction(i64::from(c % 16) + 1, 8));
    [Edit::SetSashing(sashing), Edit::SetFloat(float)]
}

/// A usable width: 40 in mostly, else 18 to 110 in or metric.
fn width_from(die: u16) -> Length {
    match die % 5 {
        0 => inches(i64::from(die / 5 % 93) + 18),
        1 => Length::millimetres(460 + i64::from(die / 5 % 2300)).unwrap(),
        _ => inches(40),
    }
}

/// The quilt with all that is done to it.
pub(crate) fn quilt(dice: &QuiltDice) -> Design {
    let mut design = plain_quilt(dice);
    for roll in &dice.3 {
        if let Ok((next, _)) = apply(&design, &edit_from(&design, *roll)) {
            design = next;
        }
    }
    design
}

/// An edit from random numbers; now and then one that is refused.
pub(crate) fn edit_from(design: &Design, [kind, a, b, c, d, e]: Dice) -> Edit {
    let fabrics: Vec<FabricId> = design.fabrics().map(|(id, _)| id).collect();
    let blocks: Vec<BlockId> = design.blocks().map(|(id, _)| id).collect();
    let places: Vec<PlaceId> = design.all_places().collect();
    let (place, block, fabric, other) = (pick(&places, a), pick(&blocks, a), pick(&fabrics, c), pick(&fabrics, d));
    let patch_of = |source| pick(design.source_block(source).unwrap().patches(), b);
    let (here, anywhere) = (patch_of(design.source(place).unwrap()), patch_of(Source::Block(block)));
    let dark_or_light = pick(&[Value::Dark, Value::Light], d);
    let any_value = d.is_multiple_of(2).then_some(dark_or_light);
    match kind % 32 {
        0..=3 => Edit::PaintPatch { place, patch: here.key, fabric },
        4 => Edit::PaintRoleHere { place, role: here.role, fabric },
        5 => Edit::PaintPatchEverywhere { block, patch: anywhere.key, fabric },
        6 => Edit::PaintRole { block, role: anywhere.role, value: any_value, fabric },
        7 => Edit::ClearPaint(place),
        8 | 9 => Edit::SetBlock { place, block: pick(&blocks, b) },
        10 | 11 => Edit::Turn { place, turn: b.to_le_bytes()[0] % 4 },
        12 | 13 => Edit::Mirror { place, mirrored: b.is_multiple_of(2) },
        14 | 15 => Edit::SetHalf { place, half: b.to_le_bytes()[0] % 2, value: dark_or_light },
        16 => {
            let old = design.fabric(fabric).unwrap().clone();
            Edit::ChangeFabric {
                id: fabric,
                fabric: sold_from(
                    [b, d, e],
                    Fabric { print: pick(&Print::ALL, d), usable_width: width_from(e), ..old },
                ),
            }
        }
        17 => Edit::ReplaceFabric { from: fabric, to: other },
        18 => Edit::SwapFabrics(fabric, other),
        19 => Edit::SetBorders(
            (0..a % 3).flat_map(|i| borders_from(design, [b.wrapping_add(i), c, d, e], fabric)).collect(),
        ),
        20 => Edit::SetBinding(Binding {
            strip_width: pick(&[fraction(5, 2), fraction(9, 4)], d),
            fabric,
            extra: inches(12),
            join: pick(&[Join::Straight, Join::Diagonal], e),
            grain: pick(&[BindingGrain::Across, BindingGrain::Bias], a),
        }),
        21 => Edit::SetBacking(Backing {
            overhang: inches(i64::from(a % 2) + 3),
            usable_width: pick(&[inches(40), inches(108)], b),
        }),
        22 => Edit::SetBuying(
            Buying::new(d % 250, None, pick(&[BuyingStep::EighthYard, BuyingStep::TenCentimetres], e)).unwrap(),
        ),
        23 | 24 => Edit::SetCutting(wishes_from([a, b, c, d, e])),
        25 | 26 => Edit::SetTrimmedUnits { block, units: units_from(design.block(block).unwrap(), [b, c, d]) },
        27 => Edit::Redraft(vec![(block, recut_or_back(design.block(block).unwrap().recipe(), [b, c]))]),
        28 | 29 => edges_from([a, b, c, d])[usize::from(e % 2)].clone(),
        _ => {
            let old = design.fabric(fabric).unwrap().clone();
            Edit::AddFabric(Fabric {
                name: "Dusk".to_owned(),
                look: Look::Plain(Colour { red: 9, green: 9, blue: 9 }),
                ..old
            })
        }
    }
}

/// A border of any kind from random numbers; a pieced one with the spacer that makes it fit.
fn borders_from(design: &Design, [a, b, c, d]: [u16; 4], fabric: FabricId) -> Vec<Border> {
    let plain = Border::plain(fraction(i64::from(a % 16) + 1, 2), fabric);
    let blocks: Vec<BlockId> = design.blocks().map(|(id, _)| id).collect();
    match b % 5 {
        0 => vec![Border { kind: BorderKind::Mitred, ..plain }],
        1 => vec![Border { kind: BorderKind::CornerSquares(pick(&[DARK, LIGHT, THIRD], c)), ..plain }],
        2 | 3 => {
            let block = pick(&blocks, c);
            let own = PiecedBorder { block, turn: 0, mirrored: d.is_multiple_of(2), corner: pick(&blocks, d) };
            let Ok(width) = Length::new(design.block(block).unwrap().block().base().extent().1) else {
                return Vec::new();
            };
            let blocks = Border { width, kind: BorderKind::Pieced(own), ..plain };
            match apply(design, &Edit::SetBorders(vec![blocks.clone()])) {
                Err(EditError::BorderMisfit(misfit)) => misfit.spacer(fabric).into_iter().chain([blocks]).collect(),
                _ => vec![blocks],
            }
        }
        _ => vec![plain],
    }
}

/// The trimmed units of a block, with one more: a patch and one to three others, each joined to the one before it.
fn units_from(def: &BlockDef, [a, b, c]: [u16; 3]) -> UnitKeys {
    let neighbours = def.block().edge_neighbours();
    let mut walk = vec![usize::from(a) % neighbours.len()];
    for step in 0..b % 3 + 1 {
        let open: Vec<usize> = neighbours[walk[walk.len() - 1]].concat();
        walk.extend(open.get(usize::from(c.rotate_left(u32::from(step))) % open.len().max(1)));
    }
    let unit = walk.into_iter().map(|i| def.block().patches()[i].key).collect();
    def.trimmed().iter().cloned().chain([unit]).collect()
}

/// The block with one or two of its patches cut in two, or the block before it was.
fn recut_or_back(recipe: &Recipe, [a, b]: [u16; 2]) -> Recipe {
    if let Recipe::Recut { of, .. } = recipe {
        return (**of).clone();
    }
    let count = u16::try_from(recipe.draft().unwrap().patches().len()).unwrap();
    let seam = |die: u16| {
        let patch = u32::from(die % count);
        let seams = (0..6).map(|axis| ExtraSeam { patch, axis });
        seams.into_iter().find(|seam| recut(recipe.clone(), vec![*seam]).draft().is_ok())
    };
    let seams: BTreeMap<u32, ExtraSeam> = [a, b].into_iter().filter_map(seam).map(|seam| (seam.patch, seam)).collect();
    recut(recipe.clone(), seams.into_values().collect())
}

fn recut(of: Recipe, seams: Vec<ExtraSeam>) -> Recipe {
    Recipe::Recut { of: Box::new(of), seams }
}

/// A tilted star of 12 in with its squares and side triangles cut in two along the symmetry lines of the block.
pub(crate) fn cut_star() -> Recipe {
    let seams = [(8, 1), (9, 3), (10, 1), (11, 3), (12, 0), (13, 2), (14, 0), (15, 2)];
    recut(Recipe::TiltedStar(block_of(12)), seams.into_iter().map(|(patch, axis)| ExtraSeam { patch, axis }).collect())
}

/// The fabric as it is sold and as far as it is at hand, from random numbers; most are plain lengths.
fn sold_from([a, b, c]: [u16; 3], fabric: Fabric) -> Fabric {
    let fat_quarter = Precut { width: inches(22), length: inches(18) };
    let piece = InHand { width: inches(i64::from(b % 30) + 5), length: fraction(i64::from(c % 90) + 9, 2), count: 3 };
    match a % 7 {
        0 => Fabric { sold: Sold::Precut(fat_quarter), ..fabric },
        1 => Fabric { in_hand: vec![piece], ..fabric },
        2 => Fabric { mixed_from: b % 9 + 1, ..fabric },
        3 => Fabric { sold: Sold::Precut(fat_quarter), in_hand: vec![piece], mixed_from: 8, ..fabric },
        _ => fabric,
    }
}

/// Wishes from random numbers.
fn wishes_from([a, b, c, d, e]: [u16; 5]) -> CuttingWishes {
    CuttingWishes {
        cut_worth: pick(&[0, 5, 50], a),
        oversize: pick(&[None, Some(fraction(1, 2)), Some(Length::millimetres(9).unwrap())], b),
        spare_permille: pick(&[0, 20, 125], c),
        ruler: pick(&[RulerRounding::Up, RulerRounding::Nearest], d),
        avoid: MethodKind::ALL.into_iter().enumerate().filter(|(i, _)| e >> i & 1 == 1).map(|(_, m)| m).collect(),
        ..CuttingWishes::default()
    }
}

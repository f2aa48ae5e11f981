//! Quilts, edits and the slow way to look at paint, shared by the tests of this crate.
#![allow(dead_code, reason = "each test file uses some of it")]
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod borders;
mod imprints;
mod recuts;
pub(crate) mod samplers;
mod tops;

use std::collections::{BTreeMap, BTreeSet};

use geometry::{
    Block, Exact, ExtraSeam, Length, Measure, Patch, PatchKey, Point, Polygon, Recipe, Role, Size, Tone, Value,
};
use layout::{
    Backing, Binding, BindingGrain, BlockId, Buying, BuyingStep, Colour, ColourScheme, CuttingWishes, Design, Edit,
    Fabric, FabricId, Halves, InHand, Join, MethodKind, Place, PlaceId, PlacePaint, Precut, Price, Print,
    RulerRounding, Sashing, Setting, Side, Sold, Source, Starter, UnitKeys, Units, apply,
};

use borders::some_border;
pub(crate) use borders::{FIT_WIDTH, pieced};
use imprints::some_imprint;
#[allow(unused_imports, reason = "each test file uses some of it")]
pub(crate) use imprints::{imprinted, words};
use recuts::{drafted, recut_or_back};
#[allow(unused_imports, reason = "each test file uses some of it")]
pub(crate) use tops::{QUILTS, check_top, halves, hexagon_rows, jumbled, star_rows};
use tops::{set_quilts, some_setting};

pub(crate) const DARK: FabricId = FabricId(1);
pub(crate) const LIGHT: FabricId = FabricId(2);
pub(crate) const THIRD: FabricId = FabricId(3);
pub(crate) const FOURTH: FabricId = FabricId(4);

pub(crate) fn inches(n: i64) -> Length {
    Length::whole_inches(n).unwrap()
}

pub(crate) fn by(by: Measure, length: Length) -> Size {
    Size { by, length }
}

pub(crate) fn block_of(n: i64) -> Size {
    by(Measure::Block, inches(n))
}

pub(crate) fn side_of(n: i64) -> Size {
    by(Measure::Side, inches(n))
}

pub(crate) fn half_block(n: i64) -> Recipe {
    Recipe::DiagonalHalf { size: block_of(n), band: None }
}

pub(crate) const fn cell(row: u16, column: u16) -> PlaceId {
    PlaceId::Cell { row, column }
}

pub(crate) const fn straight(rows: u16, columns: u16) -> Setting {
    Setting::Straight { rows, columns }
}

pub(crate) const fn triangles(rows: u16, columns: u16) -> Setting {
    Setting::TriangleRows { rows, columns, ends: THIRD }
}

pub(crate) const fn on_point(rows: u16, columns: u16) -> Setting {
    Setting::OnPoint { rows, columns, sides: THIRD, corners: FOURTH }
}

/// Sashing of rust-coloured strips with fern cornerstones or none.
pub(crate) fn sashing(width: Length, cornerstones: bool, outer: bool) -> Sashing {
    Sashing { width, fabric: THIRD, cornerstones: cornerstones.then_some(FOURTH), outer }
}

/// The design after `edits`.
pub(crate) fn edited(design: &Design, edits: &[Edit]) -> Design {
    edits.iter().fold(design.clone(), |design, edit| apply(&design, edit).unwrap().0)
}

/// The scheme with this many colours.
pub(crate) fn scheme(colours: usize) -> ColourScheme {
    match colours {
        2 => ColourScheme::Two { dark: DARK, light: LIGHT },
        3 => ColourScheme::Three { dark: DARK, light: LIGHT, accent: THIRD },
        _ => ColourScheme::Four { dark: DARK, light: LIGHT, on_dark: THIRD, on_light: FOURTH },
    }
}

/// A starter with four fabrics of our own invention.
pub(crate) fn starter(blocks: &[Recipe], setting: Setting, borders: &[i64]) -> Starter {
    let fabric = |name: &str, colour: &str, value| (name.to_owned(), Colour::parse(colour).unwrap(), value);
    Starter {
        name: "Test quilt".to_owned(),
        units: Units::Inches,
        fabrics: vec![
            fabric("Plum", "#4b1d3f", Value::Dark),
            fabric("Oat", "#efe6d2", Value::Light),
            fabric("Rust", "#b5532a", Value::Medium),
            fabric("Fern", "#5c8a4a", Value::Medium),
        ],
        blocks: (1..).zip(blocks).map(|(i, recipe)| (format!("Block {i}"), recipe.clone())).collect(),
        scheme: scheme(4),
        setting,
        borders: borders.iter().map(|width| (inches(*width), DARK)).collect(),
        binding: LIGHT,
    }
}

pub(crate) fn point(x: i64, y: i64) -> Point {
    Point::new(Exact::int(x), Exact::int(y))
}

pub(crate) fn polygon(corners: &[(i64, i64)]) -> Polygon {
    Polygon::new(corners.iter().map(|(x, y)| point(*x, *y)).collect()).unwrap()
}

pub(crate) fn patch(key: u32, role: &str, tone: Tone, corners: &[(i64, i64)]) -> Patch {
    Patch { key: PatchKey(key), outline: polygon(corners), role: Role::new(role).unwrap(), tone, grain: None }
}

/// A square of the user's own, 12 in: a tall piece at the left and two squares at the right.
pub(crate) fn own_recipe() -> Recipe {
    Recipe::Own {
        base: polygon(&[(0, 0), (12, 0), (12, 12), (0, 12)]),
        patches: vec![
            patch(0, "post", Tone::Half(0), &[(0, 0), (6, 0), (6, 12), (0, 12)]),
            patch(1, "pane", Tone::AgainstHalf(0), &[(6, 0), (12, 0), (12, 6), (6, 6)]),
            patch(2, "pane", Tone::AgainstHalf(0), &[(6, 6), (12, 6), (12, 12), (6, 12)]),
        ],
    }
}

/// The recipe with these patches cut in two along these symmetry lines.
pub(crate) fn recut(of: Recipe, seams: &[(u32, u8)]) -> Recipe {
    let seams = seams.iter().map(|(patch, axis)| ExtraSeam { patch: *patch, axis: *axis }).collect();
    Recipe::Recut { of: Box::new(of), seams }
}

/// The tilted star with its squares and side triangles cut in two along the four symmetry lines of the block.
pub(crate) fn cut_star(n: i64) -> Recipe {
    let seams = [(8, 1), (9, 3), (10, 1), (11, 3), (12, 0), (13, 2), (14, 0), (15, 2)];
    recut(Recipe::TiltedStar(block_of(n)), &seams)
}

/// A unit of patches with these keys.
pub(crate) fn unit(keys: &[u32]) -> BTreeSet<PatchKey> {
    keys.iter().copied().map(PatchKey).collect()
}

/// One recipe of every family.
pub(crate) fn families() -> Vec<(&'static str, Recipe)> {
    let split = [true, false, true, true, false, true, false, true];
    vec![
        ("tilted star", Recipe::TiltedStar(block_of(12))),
        ("on-axis star", Recipe::OnAxisStar { size: block_of(12), split }),
        ("diagonal half block", half_block(12)),
        ("60° unit", Recipe::SixtyUnit(side_of(6))),
        ("60° triangle", Recipe::SixtyTriangle(side_of(6))),
        ("60° diamond", Recipe::SixtyDiamond(side_of(6))),
        ("hexagon", Recipe::Hexagon(side_of(3))),
        ("half hexagon", Recipe::HalfHexagon(side_of(3))),
        ("hexagon star", Recipe::HexagonStar { size: side_of(3), split: [true, true, false, true, false, true] }),
        ("plain", Recipe::Plain { width: inches(12), height: inches(8) }),
        ("four-patch", Recipe::FourPatch(block_of(12))),
        ("nine-patch", Recipe::NinePatch(block_of(12))),
        ("half-square triangle", Recipe::HalfSquare(block_of(12))),
        ("quarter-square triangle", Recipe::QuarterSquare(block_of(12))),
        ("flying goose", Recipe::FlyingGoose(block_of(12))),
        ("square in square", Recipe::SquareInSquare(block_of(12))),
        ("stripes", Recipe::Stripes { width: inches(12), height: inches(8), count: 5 }),
        ("own", own_recipe()),
        ("re-cut", cut_star(12)),
    ]
}

/// A small quilt of this family; shapes that no setting takes are kept beside a plain square.
pub(crate) fn quilt_of(name: &str, recipe: &Recipe) -> Design {
    let recipes = match name {
        "60° unit" | "60° triangle" => {
            return starter(std::slice::from_ref(recipe), triangles(2, 3), &[2]).design().unwrap();
        }
        "hexagon" => return starter(std::slice::from_ref(recipe), hexagon_rows(2, 3), &[2]).design().unwrap(),
        "hexagon star" => return starter(std::slice::from_ref(recipe), star_rows(2, 2), &[2]).design().unwrap(),
        "60° diamond" | "half hexagon" => vec![Recipe::FourPatch(block_of(12)), recipe.clone()],
        _ => vec![recipe.clone()],
    };
    starter(&recipes, straight(2, 3), &[2]).design().unwrap()
}

/// Quilts for random edits: every kind of setting, blocks with and without halves, turns of every kind.
pub(crate) fn quilts() -> Vec<Design> {
    let split = [true, true, false, true, true, false, true, true];
    let on_axis = Recipe::OnAxisStar { size: block_of(12), split };
    [
        starter(&[half_block(12), own_recipe()], straight(4, 4), &[2, 6]),
        starter(&[Recipe::TiltedStar(block_of(9)), Recipe::NinePatch(block_of(9))], straight(3, 2), &[]),
        starter(&[Recipe::SixtyUnit(side_of(6)), Recipe::SixtyTriangle(side_of(6))], triangles(2, 5), &[3]),
        starter(
            &[Recipe::FlyingGoose(block_of(8)), Recipe::Plain { width: inches(8), height: inches(4) }],
            straight(3, 3),
            &[1],
        ),
        starter(&[own_recipe(), on_axis, half_block(12)], straight(2, 2), &[2]),
    ]
    .iter()
    .map(|starter| starter.design().unwrap())
    .chain(set_quilts())
    .chain([samplers::rows_sampler(), samplers::pinwheel()])
    .collect()
}

/// What every patch of the top shows, looked up one by one.
pub(crate) fn shown(design: &Design) -> BTreeMap<(PlaceId, PatchKey), FabricId> {
    let top = design.top().unwrap();
    let mut shown = BTreeMap::new();
    for placed in &top.placed {
        for (index, patch) in placed.block.patches().iter().enumerate() {
            let fabric = design.paint(placed.place, placed.source, &placed.block, index).unwrap();
            shown.insert((placed.place, patch.key), fabric);
        }
    }
    shown
}

/// The fabric sold, kept, priced and mixed in one of several ways; now and then in one that must be refused.
fn stocked(fabric: Fabric, die: u16) -> Fabric {
    let usual = Precut::usual(&fabric.usable_width).unwrap();
    let piece = |i: u16| InHand {
        width: inches(i64::from(i) + 1),
        length: Length::inch_fraction(18, 7).unwrap(),
        count: u32::from(die % 19) * 60,
    };
    Fabric {
        sold: usual.get(usize::from(die % 8)).map_or(Sold::ByLength, |(_, precut)| Sold::Precut(precut.clone())),
        in_hand: (0..if die % 31 == 30 { 51 } else { die % 3 }).map(piece).collect(),
        bolt_width: (die % 5 > 1).then(|| inches(38 + i64::from(die % 7))),
        price: (die % 2 == 1).then(|| Price::new(u32::from(die) * 100).unwrap()),
        mixed_from: die % 11,
        ..fabric
    }
}

/// Wishes of any kind, now and then out of bounds.
fn some_wishes(a: u16, b: u16) -> CuttingWishes {
    CuttingWishes {
        cut_worth: u8::try_from(a % 110).unwrap(),
        oversize: (!b.is_multiple_of(3)).then(|| Length::inch_fraction(i64::from(b % 40) + 1, 9).unwrap()),
        spare_permille: (a % 5) * (b % 120),
        squaring_every: if a.is_multiple_of(17) { b } else { b % 1000 },
        ruler: if b.is_multiple_of(2) { RulerRounding::Up } else { RulerRounding::Nearest },
        avoid: (0..).zip(MethodKind::ALL).filter(|(i, _)| a.rotate_right(*i) & 1 == 1).map(|(_, kind)| kind).collect(),
    }
}

/// A quilt in which nothing about fabrics and cutting has its usual value.
pub(crate) fn wished() -> Design {
    let mut parts = quilts().swap_remove(0).parts();
    for (die, fabric) in (1..).step_by(2).zip(parts.fabrics.values_mut()) {
        let stock = stocked(fabric.clone(), die);
        *fabric = Fabric { bolt_width: Some(inches(44)), mixed_from: 3, ..stock };
    }
    parts.cutting = CuttingWishes {
        cut_worth: 25,
        oversize: Some(Length::inch_fraction(1, 2).unwrap()),
        spare_permille: 50,
        squaring_every: 6,
        ruler: RulerRounding::Nearest,
        avoid: [MethodKind::Templates, MethodKind::Lengthwise].into(),
    };
    Design::assemble(parts).unwrap()
}

/// The trimmed units with one more, grown from a patch over its seams, or without any; now and then with a patch that
/// is not there.
fn some_units(units: &UnitKeys, block: &Block, [a, b, c]: [u16; 3]) -> UnitKeys {
    let neighbours = block.edge_neighbours();
    let mut grown = BTreeSet::from([usize::from(a) % neighbours.len()]);
    for step in 0..b % 4 + 1 {
        let open: BTreeSet<usize> = grown.iter().flat_map(|i| neighbours[*i].iter().flatten().copied()).collect();
        grown.extend(open.iter().nth(usize::from(c.rotate_left(u32::from(step))) % open.len().max(1)));
    }
    let mut unit: BTreeSet<PatchKey> = grown.into_iter().map(|i| block.patches()[i].key).collect();
    if c.is_multiple_of(23) {
        unit.insert(PatchKey(u32::MAX));
    }
    let mut units = if c % 5 == 0 { UnitKeys::new() } else { units.clone() };
    if c % 10 != 0 {
        units.insert(unit);
    }
    units
}

/// Seeds of one random edit.
pub(crate) type Dice = [u16; 5];

/// An edit from five random numbers: mostly sensible for `design`, sometimes with ids or places that are not there.
#[expect(clippy::too_many_lines, reason = "one arm for each edit")]
pub(crate) fn edit_from(design: &Design, dice: Dice) -> Edit {
    let [kind, a, b, c, d] = dice;
    let pick = |n: usize, die: u16| usize::from(die) % n.max(1);
    let fabric = |die: u16| {
        let ids: Vec<FabricId> = design.fabrics().map(|(id, _)| id).collect();
        if die.is_multiple_of(23) { FabricId(4_000_000_000) } else { ids[pick(ids.len(), die)] }
    };
    let block = |die: u16| {
        let ids: Vec<BlockId> = design.blocks().map(|(id, _)| id).collect();
        if die.is_multiple_of(23) { BlockId(77) } else { ids[pick(ids.len(), die)] }
    };
    let places: Vec<PlaceId> = design.all_places().collect();
    let place = |die: u16| match die % 29 {
        0 => cell(u16::MAX, u16::MAX),
        1 => PlaceId::RowEnd { row: 0, side: Side::Top },
        2 => PlaceId::Border { border: u16::MAX, side: Side::Left },
        _ => places[pick(places.len(), die)],
    };
    // Mostly a cell, for edits of blocks: there may be many more places that hold none.
    let cells: Vec<PlaceId> = design.places().map(|(id, _)| id).collect();
    let block_place = |die: u16| if die.is_multiple_of(4) { place(die / 4) } else { cells[pick(cells.len(), die)] };
    let role_in = |source: Source, die: u16| {
        let Ok(block) = design.source_block(source) else { return Role::new("nothing").unwrap() };
        let patches = block.patches();
        if die.is_multiple_of(23) {
            Role::new("nothing").unwrap()
        } else {
            patches[pick(patches.len(), die)].role.clone()
        }
    };
    let key_in = |source: Source, die: u16| {
        let Ok(block) = design.source_block(source) else { return PatchKey(9) };
        let patches = block.patches();
        if die.is_multiple_of(23) { PatchKey(u32::MAX) } else { patches[pick(patches.len(), die)].key }
    };
    let source = |die: u16| design.source(place(die)).unwrap_or(Source::Block(BlockId(1)));
    let value = |die: u16| Value::ALL[pick(3, die)];
    let quilt_name =
        |die: u16| if die.is_multiple_of(5) { "  \u{7}".to_owned() } else { format!(" Name {} ", die % 3) };
    let some_fabric = |die: u16| {
        let colour = Colour { red: 1, green: 2, blue: die.to_le_bytes()[0] };
        let plain = Fabric::plain(quilt_name(die), colour, value(die), inches(40 + i64::from(die % 2)));
        stocked(Fabric { print: Print::ALL[pick(3, die)], ..plain }, die / 4)
    };
    let resized = |id: BlockId| {
        // Thousands of edits must not shrink a quilt to dust, in which hardly any other edit means anything.
        let wide = design.block(id).map_or(12.0, |def| def.block().base().extent().0.to_f64());
        let halves = if wide < 4.0 {
            4
        } else if wide > 16.0 {
            1
        } else {
            i64::from(c % 3) + 1
        };
        let factor = Exact::ratio(halves, 2).unwrap();
        let recipe = design.block(id).map(|def| def.recipe().clone());
        recipe.map_or(Recipe::HalfSquare(block_of(3)), |recipe| scaled(&recipe, &factor))
    };
    match kind % 40 {
        0 => Edit::Rename(quilt_name(a)),
        1 => Edit::SetUnits(if a.is_multiple_of(2) { Units::Inches } else { Units::Centimetres }),
        2 => Edit::SetSeam(Length::inch_fraction(i64::from(a % 4) + 1, 8).unwrap()),
        3 => Edit::SetRulerStep(Length::inch_fraction(1, i64::from(a % 4) + 1).unwrap()),
        4 => Edit::SetBuying(Buying::new(a % 250, None, BuyingStep::TenCentimetres).unwrap()),
        5 => Edit::AddFabric(some_fabric(a)),
        6 => Edit::ChangeFabric { id: fabric(b), fabric: some_fabric(a) },
        7 => Edit::RemoveFabric(fabric(a)),
        8 => Edit::ReplaceFabric { from: fabric(a), to: fabric(b) },
        9 => Edit::SwapFabrics(fabric(a), fabric(b)),
        10 => {
            let recipe = design.block(block(a)).map_or(Recipe::FourPatch(block_of(12)), |def| def.recipe().clone());
            let mut table = layout::colour_table(&drafted(&recipe).unwrap(), scheme(4));
            // Of the fabrics of the scheme some may be gone by now.
            let (held, _) = design.fabrics().next().unwrap();
            table.values_mut().filter(|id| design.fabric(**id).is_err()).for_each(|id| *id = held);
            if b.is_multiple_of(5) {
                table.pop_first();
            }
            Edit::AddBlock { name: quilt_name(c), recipe, table }
        }
        11 => Edit::RenameBlock(block(a), quilt_name(b)),
        12 => Edit::Redraft(design.blocks().map(|(id, _)| (id, resized(id))).collect()),
        13 => Edit::Redraft(vec![(block(a), resized(block(a)))]),
        14 => {
            let mut table = design.block(block(a)).map(|def| def.table().clone()).unwrap_or_default();
            let entry = pick(table.len(), b);
            if let Some(held) = table.values_mut().nth(entry) {
                *held = fabric(c);
            }
            Edit::SetRoleTable(block(a), table)
        }
        15 => Edit::RemoveBlock(block(a)),
        16 | 17 => Edit::PaintPatch { place: place(a), patch: key_in(source(a), b), fabric: fabric(c) },
        18 => Edit::PaintRoleHere { place: place(a), role: role_in(source(a), b), fabric: fabric(c) },
        19 => {
            let id = block(a);
            Edit::PaintPatchEverywhere { block: id, patch: key_in(Source::Block(id), b), fabric: fabric(c) }
        }
        20 => {
            let id = block(a);
            let value = (!d.is_multiple_of(3)).then(|| value(d));
            Edit::PaintRole { block: id, role: role_in(Source::Block(id), b), value, fabric: fabric(c) }
        }
        21 => Edit::ClearPaint(place(a)),
        22 => Edit::SetBlock { place: block_place(a), block: block(b) },
        23 => Edit::Turn { place: block_place(a), turn: b.to_le_bytes()[0] % 5 },
        24 => Edit::Mirror { place: block_place(a), mirrored: b.is_multiple_of(2) },
        25 => Edit::SetHalf { place: block_place(a), half: b.to_le_bytes()[0] % 3, value: value(c) },
        26 => {
            let setting = some_setting(design.setting(), (a % 5, b % 5 + 1), (fabric(c), fabric(d)), d);
            Edit::SetSetting { setting, fill: block(c) }
        }
        27 => Edit::SetBorders((0..a % 3).map(|i| some_border(design, i, [b, c, d], fabric)).collect()),
        28 => Edit::SetCutting(some_wishes(a, b)),
        29 | 30 => {
            let recipe = design.block(block(a)).map(|def| recut_or_back(def.recipe(), [b, c, d]));
            Edit::Redraft(vec![(block(a), recipe.unwrap_or_else(|_| cut_star(3)))])
        }
        31 | 32 => {
            let def = design.block(block(a));
            let units = def.map(|def| some_units(def.trimmed(), def.block(), [b, c, d]));
            Edit::SetTrimmedUnits { block: block(a), units: units.unwrap_or_default() }
        }
        33 => {
            let place_of = |die: u16| {
                let id = block(die);
                let count = design.block(id).map_or(0, |def| def.block().halves());
                let values: Vec<Value> =
                    (0..count).map(|k| if (die >> k) & 1 == 0 { Value::Dark } else { Value::Light }).collect();
                let turn = if d.is_multiple_of(7) { 3 } else { 2 * u8::from(die & 4 == 0) };
                Place { block: id, turn, mirrored: die & 8 == 0, halves: Halves::new(&values) }
            };
            let dice = (0..a % 12).map(|i| (b.wrapping_mul(i + 1), c.rotate_left(u32::from(i))));
            Edit::Arrange(dice.map(|(where_, what)| (block_place(where_ | 1), place_of(what))).collect())
        }
        37 => {
            let paint_of = |place: PlaceId, die: u16| {
                let source = design.source(place).unwrap_or(Source::Block(BlockId(1)));
                let role = (die & 1 == 1).then(|| (role_in(source, die / 2), fabric(die / 3)));
                let patch = (die & 2 == 2).then(|| (key_in(source, die / 5), fabric(die / 7)));
                PlacePaint { roles: role.into_iter().collect(), patches: patch.into_iter().collect() }
            };
            let dice = (0..a % 7).map(|i| (place(b.wrapping_mul(2 * i + 1)), c.rotate_left(u32::from(i))));
            Edit::Repaint(dice.map(|(place, die)| (place, paint_of(place, die))).collect())
        }
        34 => Edit::SetFloat((a % 3 > 0).then(|| Length::inch_fraction(i64::from(b % 80) + 1, 8).unwrap())),
        35 => Edit::SetSashing((a % 4 > 0).then(|| Sashing {
            width: Length::inch_fraction(i64::from(b % 24) + 1, 8).unwrap(),
            fabric: fabric(b),
            cornerstones: (c % 2 == 0).then(|| fabric(d)),
            outer: d % 3 > 0,
        })),
        36 => samplers::some_sampler(design, [a, b, c, d], block, fabric),
        38 => Edit::SetImprint(some_imprint(a, b)),
        _ if a.is_multiple_of(2) => Edit::SetBinding(Binding {
            strip_width: inches(2),
            fabric: fabric(b),
            extra: inches(12),
            join: Join::Straight,
            grain: if c % 3 == 0 { BindingGrain::Bias } else { BindingGrain::Across },
        }),
        _ => Edit::SetBacking(Backing { overhang: inches(i64::from(b % 3) + 2), usable_width: inches(108) }),
    }
}

/// The recipe of the same block, larger or smaller where it may be.
pub(crate) fn scaled(recipe: &Recipe, factor: &Exact) -> Recipe {
    recipe.scaled(factor).unwrap_or_else(|_| recipe.clone())
}

/// The bytes of a file that holds `design` alone.
pub(crate) fn file_text(design: &Design) -> Vec<u8> {
    layout::file::Document::new(design.clone()).to_bytes().unwrap()
}

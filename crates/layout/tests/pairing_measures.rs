//! What is said of arrangements equals what is found on a quilt top that is laid with them, patch by patch; classics
//! look as their names say; an arrangement is laid as one step.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use common::{block_of, cell, half_block, on_point, own_recipe, starter, straight, triangles};
use geometry::{Exact, Motion, Point, Polygon, Recipe, Tone, Value, seams};
use layout::pairings::{
    Allowed, Area, Arrangement, BlockStates, Browser, Classic, Corner, Exchange, Group, HalfType, Identified, Kept,
    Measured, Measures, Motif, PairingError, State, StateId, Stratum, Turning, Wrap, arrange, lay,
};
use layout::{BlockId, Design, Edit, FabricId, Halves, History, PlaceId, Touched, apply};
use proptest::prelude::*;

const BLOCK: BlockId = BlockId(1);

/// A quilt of one block, so many rows and columns, and all states of the block.
fn quilt(recipe: &Recipe, rows: u16, columns: u16) -> (Design, BlockStates) {
    let design = starter(std::slice::from_ref(recipe), straight(rows, columns), &[]).design().unwrap();
    let block = Arc::clone(design.block(BLOCK).unwrap().block());
    let states = BlockStates::new(block, &Allowed::types(&HalfType::ALL)).unwrap();
    (design, states)
}

/// A patch of the laid top.
struct Laid {
    /// Row and column of its cell, and its number in the block.
    name: (u16, u16, usize),
    outline: Polygon,
    fabric: FabricId,
    shown: Value,
}

const fn row_and_column(place: PlaceId) -> (u16, u16) {
    // The tops here have cells only.
    if let PlaceId::Cell { row, column } = place { (row, column) } else { (u16::MAX, u16::MAX) }
}

fn laid(design: &Design) -> Vec<Laid> {
    let top = design.top().unwrap();
    top.prove().unwrap();
    let mut found = Vec::new();
    for placed in &top.placed {
        let (row, column) = row_and_column(placed.place);
        for (index, patch) in placed.block.patches().iter().enumerate() {
            let table = patch.tone.table_value(placed.halves.values());
            found.push(Laid {
                name: (row, column, index),
                outline: placed.motion.polygon(&patch.outline),
                fabric: design.paint(placed.place, placed.source, &placed.block, index).unwrap(),
                shown: if matches!(patch.tone, Tone::AgainstHalf(_)) { table.opposite() } else { table },
            });
        }
    }
    found
}

/// What a patch has at one of its corners: direction of an edge, angle, fabric, and whether it is a sharp corner of a
/// rhombus.
type Ray = (f64, f64, FabricId, bool);

/// Stars as they are seen on the top: about a point, only rhombi, each with its sharp corner there, that fill the turn.
fn stars_on(patches: &[Laid], within: impl Fn(&Point) -> bool) -> usize {
    let mut about: BTreeMap<[String; 2], Vec<Ray>> = BTreeMap::new();
    let mut points: BTreeMap<[String; 2], Point> = BTreeMap::new();
    for patch in patches {
        let corners = patch.outline.corners();
        let n = corners.len();
        for (i, p) in corners.iter().enumerate() {
            let key = [p.x.to_decimal(9), p.y.to_decimal(9)];
            let ([x, y], next, before) = (p.to_f64(), corners[(i + 1) % n].to_f64(), corners[(i + n - 1) % n].to_f64());
            let angle = |to: [f64; 2]| (to[1] - y).atan2(to[0] - x);
            let wide = (angle(before) - angle(next)).rem_euclid(std::f64::consts::TAU);
            let lengths: BTreeSet<String> =
                patch.outline.edges().map(|(a, b)| (b - a).length_squared().to_decimal(9)).collect();
            let rhombus = n == 4 && lengths.len() == 1 && wide < 1.5;
            about.entry(key.clone()).or_default().push((angle(next), wide, patch.fabric, rhombus));
            points.insert(key, p.clone());
        }
    }
    let is_star = |rays: &[Ray]| {
        let whole: f64 = rays.iter().map(|ray| ray.1).sum();
        let alternate = (0..rays.len()).all(|i| rays[i].2 == rays[(i + 2) % rays.len()].2);
        rays.len() >= 6 && rays.iter().all(|ray| ray.3) && (whole - std::f64::consts::TAU).abs() < 1e-6 && alternate
    };
    about.values_mut().for_each(|rays| rays.sort_by(|a, b| a.0.total_cmp(&b.0)));
    about.iter().filter(|(key, rays)| within(&points[*key]) && is_star(rays)).count()
}

/// Connected regions of light and of dark, where `same` names what counts as one patch.
fn islands_on(patches: &[Laid], same: impl Fn(&Laid) -> (u16, u16, usize)) -> [usize; 2] {
    let mut region: BTreeMap<(u16, u16, usize), (u16, u16, usize)> = BTreeMap::new();
    for patch in patches {
        region.insert(same(patch), same(patch));
    }
    for seam in seams(patches.iter().map(|patch| &patch.outline)) {
        let (a, b) = (&patches[seam.left], &patches[seam.right]);
        if a.shown == b.shown {
            let (from, to) = (region[&same(a)], region[&same(b)]);
            region.values_mut().filter(|name| **name == from).for_each(|name| *name = to);
        }
    }
    [Value::Light, Value::Dark].map(|value| {
        let of_value = patches.iter().filter(|patch| patch.shown == value);
        of_value.map(|patch| region[&same(patch)]).collect::<BTreeSet<_>>().len()
    })
}

fn motif(rows: u8, columns: u8, wrap: Wrap) -> Motif {
    Motif::new(rows, columns, wrap).unwrap()
}

/// The filling whose states are these dice.
fn filling(states: &BlockStates, motif: Motif, dice: &[u16]) -> Arrangement {
    let count = u16::try_from(states.states().len()).unwrap();
    let chosen: Vec<StateId> = dice.iter().take(motif.cells()).map(|die| StateId(die % count)).collect();
    let fixed = Identified { turning: Turning::Fixed, exchange: Exchange::Nothing, shifts: true };
    let raw = Group::new(states, motif, fixed).raw_of(&chosen).unwrap();
    Arrangement { motif, states: chosen, raw }
}

fn blocks() -> Vec<Recipe> {
    let split = [true, false, true, true, false, true, false, true];
    vec![
        half_block(12),
        own_recipe(),
        Recipe::HalfSquare(block_of(6)),
        Recipe::TiltedStar(block_of(12)),
        Recipe::OnAxisStar { size: block_of(12), split },
        Recipe::FlyingGoose(block_of(8)),
    ]
}

/// Lays an arrangement on a top of `copies` motifs each way and measures what is seen there.
fn check_measures(recipe: &Recipe, (rows, columns): (u8, u8), wrap: Wrap, dice: &[u16]) -> Measured {
    let copies: u16 = if wrap == Wrap::Repeats { 3 } else { 1 };
    let (high, wide) = (u16::from(rows), u16::from(columns));
    let (design, states) = quilt(recipe, high * copies, wide * copies);
    let motif = motif(rows, columns, wrap);
    let arrangement = filling(&states, motif, dice);
    let edit = arrange(&design, &states, BLOCK, &arrangement, Area::whole(&design)).unwrap();
    let (design, _) = apply(&design, &edit).unwrap();
    let patches = laid(&design);
    let measured = Measures::new(&states, motif).of(&arrangement).unwrap();
    let told = format!("{recipe:?} {rows} × {columns} {wrap:?} {:?}", arrangement.states);
    let (width, height) = design.finished_size();
    let third = Exact::ratio(1, i64::from(copies)).unwrap();
    let (width, height) = (&width * &third, &height * &third);
    // Of a repeating motif, the middle copy with its lower and left edge, where each star is met once.
    let within = |p: &Point| {
        wrap == Wrap::Alone || (p.x >= width && p.x < width.scale_int(2) && p.y >= height && p.y < height.scale_int(2))
    };
    assert_eq!(usize::from(measured.stars), stars_on(&patches, within), "stars: {told}");
    let same = |patch: &Laid| (patch.name.0 % high, patch.name.1 % wide, patch.name.2);
    let islands = [measured.light_islands, measured.dark_islands].map(usize::from);
    assert_eq!(islands, islands_on(&patches, same), "islands: {told}");
    let dark = patches.iter().filter(|patch| patch.shown == Value::Dark);
    let dark = dark.fold(Exact::ZERO, |sum, patch| &sum + &patch.outline.area());
    let (width, height) = design.finished_size();
    assert_eq!(&*measured.dark * &(&width * &height), dark, "dark: {told}");
    measured
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn measures_equal_what_is_seen_on_the_top(
        which in 0_usize..6, size in (1_u8..4, 1_u8..4), repeats in any::<bool>(), dice in any::<[u16; 9]>(),
    ) {
        let wrap = if repeats { Wrap::Repeats } else { Wrap::Alone };
        check_measures(&blocks()[which], size, wrap, &dice);
    }

    /// The symmetries of a repeating motif are those of the plane that it covers: about every point, in every line.
    #[test]
    fn symmetries_are_those_of_the_plane(side in 1_u8..5, dice in any::<[u16; 16]>(), few in 1_u16..9) {
        let (_, states) = quilt(&half_block(12), 1, 1);
        let motif = motif(side, side, Wrap::Repeats);
        let dice: Vec<u16> = dice.iter().map(|die| die % few).collect();
        let mut arrangement = filling(&states, motif, &dice);
        if let Some(kept) = Kept::ALL.get(usize::from(few) % 6) {
            // Few arrangements are symmetric by chance.
            let fixed = Identified { turning: Turning::Fixed, exchange: Exchange::Nothing, shifts: true };
            let stratum = Stratum::new(&states, &Browser::new(Group::new(&states, motif, fixed)).unwrap(), *kept);
            let number = dice.iter().fold(0, |number: u128, die| number * 8 + u128::from(*die));
            arrangement.states = stratum.filling(number % stratum.count().max(1)).unwrap_or(arrangement.states);
        }
        let found = Measures::new(&states, motif).of(&arrangement).unwrap().symmetry;
        let n = u16::from(side);
        let at = |row: u16, column: u16| arrangement.state(row, column);
        let moved = |turn, mirrored| states.moved(turn, mirrored, Exchange::Nothing).unwrap();
        // Whether the state at each (row, column), moved, is that at (row, column) of `to`.
        let fits = |turn, mirrored, to: &dyn Fn(u16, u16) -> (u16, u16)| {
            let table = moved(turn, mirrored);
            (0..n).all(|r| (0..n).all(|c| {
                let (row, column) = to(r, c);
                at(row % n, column % n) == table[usize::from(at(r, c).0)]
            }))
        };
        let any = |f: &dyn Fn(u16, u16) -> bool| (0..n).any(|i| (0..n).any(|j| f(i, j)));
        let quarter = any(&|i, j| fits(1, false, &|r, c| (2 * n - c + i, r + j)));
        let half = any(&|i, j| fits(2, false, &|r, c| (2 * n - r + i, 2 * n - c + j)));
        let upright = any(&|i, _| fits(0, true, &|r, c| (r, 2 * n - c + i)));
        let level = any(&|i, _| fits(2, true, &|r, c| (2 * n - r + i, c)));
        let falling = any(&|i, _| fits(1, true, &|r, c| (c + i, r + n - i)));
        let rising = any(&|i, _| fits(3, true, &|r, c| (2 * n - c + i, 2 * n - r + i)));
        let glides = [
            !upright && any(&|i, j| fits(0, true, &|r, c| (r + j, 2 * n - c + i))),
            !level && any(&|i, j| fits(2, true, &|r, c| (2 * n - r + i, c + j))),
            !falling && any(&|i, j| fits(1, true, &|r, c| (c + i, r + j))),
            !rising && any(&|i, j| fits(3, true, &|r, c| (2 * n - c + i, 2 * n - r + j))),
        ];
        prop_assert_eq!(found.turns, if quarter { 4 } else { 1 + u8::from(half) });
        prop_assert_eq!(found.straight_mirrors, u8::from(upright) + u8::from(level));
        prop_assert_eq!(found.diagonal_mirrors, u8::from(falling) + u8::from(rising));
        prop_assert_eq!(usize::from(found.glides), glides.iter().filter(|glide| **glide).count());
    }
}

/// The numbers of a star and of a frame that can be counted by eye.
#[test]
fn eight_diamonds_make_a_star() {
    let (_, states) = quilt(&half_block(12), 1, 1);
    // Dark–dark blocks whose diagonals meet in the middle: eight light diamonds, and all the rest is dark.
    let dark = |corner: Corner| {
        let toward = Classic::SmallDiamonds;
        let id = toward.states(&states, 2, 2).unwrap()[corner as usize];
        let way = states.states()[usize::from(id.0)];
        let halves = Halves::new(&[Value::Dark, Value::Dark]);
        states.state_of(&State { halves, ..way }).unwrap()
    };
    // The diagonal of a block that is dark toward the middle lies across; one quarter turn on, it meets the middle.
    let (across, falling) = (dark(Corner::LowerLeft), dark(Corner::LowerRight));
    let check = |cells: [StateId; 4], wrap, stars| {
        let dice: Vec<u16> = cells.iter().map(|state| state.0).collect();
        assert_eq!(check_measures(&half_block(12), (2, 2), wrap, &dice).stars, stars, "{cells:?} {wrap:?}");
    };
    check([falling, across, across, falling], Wrap::Alone, u16::from(falling != across));
    check([across, falling, falling, across], Wrap::Alone, 0);
    check([falling, across, across, falling], Wrap::Repeats, 2);
}

/// A star has six points or more and a notch between each two: four kites are none, nor are the sectors of an octagon.
#[test]
fn what_only_looks_like_a_star_is_none() {
    let kite = Recipe::Own {
        base: common::polygon(&[(0, 0), (12, 0), (12, 12), (0, 12)]),
        patches: vec![
            common::patch(0, "kite", Tone::Half(0), &[(0, 0), (4, 0), (5, 5), (0, 4)]),
            common::patch(1, "rest", Tone::AgainstHalf(0), &[(4, 0), (12, 0), (12, 12), (0, 12), (0, 4), (5, 5)]),
        ],
    };
    let (_, states) = quilt(&kite, 1, 1);
    // The kites of the four blocks meet in the middle.
    let turned = [1, 0, 2, 3].map(|turn| State { turn, mirrored: false, halves: Halves::new(&[Value::Dark]) });
    let dice = turned.map(|state| states.state_of(&state).unwrap().0);
    assert_eq!(check_measures(&kite, (2, 2), Wrap::Alone, &dice).stars, 0);
    for (split, stars) in [(true, 1), (false, 0)] {
        let star = Recipe::OnAxisStar { size: block_of(12), split: [split; 8] };
        assert_eq!(check_measures(&star, (1, 1), Wrap::Alone, &[0]).stars, stars);
    }
}

#[test]
fn symmetry_is_told_in_plain_words() {
    let (_, states) = quilt(&half_block(12), 1, 1);
    let told = |classic: Classic, side: u8, wrap| {
        let motif = motif(side, side, wrap);
        let filling = classic.filling(&states, motif).unwrap();
        Measures::new(&states, motif).of(&filling).unwrap().symmetry.words()
    };
    let exchanged = |plain: &str| format!("{plain}, more with dark and light exchanged");
    for (classic, side, wrap, words) in [
        (Classic::Pinwheel, 2, Wrap::Alone, exchanged("quarter turns")),
        (Classic::StraightRows, 2, Wrap::Alone, exchanged("diagonal mirror")),
        (Classic::StraightRows, 1, Wrap::Repeats, exchanged("diagonal mirror")),
        (Classic::Zigzag, 2, Wrap::Alone, "mirror".to_owned()),
        (Classic::Zigzag, 3, Wrap::Alone, "only with dark and light exchanged".to_owned()),
        (Classic::Zigzag, 2, Wrap::Repeats, exchanged("mirror")),
        (Classic::Furrows, 2, Wrap::Alone, exchanged("diagonal mirror")),
        (Classic::Furrows, 2, Wrap::Repeats, exchanged("half turn, diagonal mirror and mirror with a step")),
        (Classic::Diamonds, 3, Wrap::Alone, "diagonal mirror".to_owned()),
        (Classic::Diamonds, 4, Wrap::Alone, "quarter turns, mirrors and diagonal mirrors".to_owned()),
        (Classic::SmallDiamonds, 2, Wrap::Alone, "quarter turns, mirrors and diagonal mirrors".to_owned()),
    ] {
        assert_eq!(told(classic, side, wrap), words, "{classic:?} {side} {wrap:?}");
    }
}

/// In each cell the corner that a classic names lies in a dark patch, and the opposite one in a light patch.
#[test]
fn classics_are_dark_where_they_say() {
    for recipe in [half_block(12), Recipe::HalfSquare(block_of(6))] {
        for (rows, columns) in [(1, 1), (2, 2), (3, 5), (8, 6)] {
            let (design, states) = quilt(&recipe, rows, columns);
            for classic in Classic::ALL {
                let chosen = classic.states(&states, rows, columns).unwrap();
                let at = |row, column| chosen[usize::from(row * columns + column)];
                let edit = lay(&design, &states, BLOCK, Area::whole(&design), at).unwrap();
                let (design, _) = apply(&design, &edit).unwrap();
                let side = f64::from(if recipe == half_block(12) { 12_u8 } else { 6 });
                for patch in laid(&design) {
                    let (row, column, _) = patch.name;
                    let corner = classic.dark_corner((row, column), (rows, columns));
                    let (right, up) = match corner {
                        Corner::LowerLeft => (0.0, 0.0),
                        Corner::LowerRight => (1.0, 0.0),
                        Corner::UpperRight => (1.0, 1.0),
                        Corner::UpperLeft => (0.0, 1.0),
                    };
                    let (x, y) = (f64::from(column) * side, f64::from(rows - 1 - row) * side);
                    let has = |right: f64, up: f64| {
                        let near = |p: &Point| {
                            let [px, py] = p.to_f64();
                            (px - x - right * side).abs() + (py - y - up * side).abs() < 1e-9
                        };
                        patch.outline.corners().len() == 3 && patch.outline.corners().iter().any(near)
                    };
                    let told = format!("{classic:?} {rows} × {columns}, row {row}, column {column}");
                    if has(right, up) {
                        assert_eq!(patch.shown, Value::Dark, "{told}");
                    }
                    if has(1.0 - right, 1.0 - up) {
                        assert_eq!(patch.shown, Value::Light, "{told}");
                    }
                }
            }
        }
    }
    let (_, star) = quilt(&Recipe::TiltedStar(block_of(12)), 2, 2);
    assert_eq!(Classic::Furrows.states(&star, 2, 2), Err(PairingError::NoDarkCorners));
}

/// What the eye sees in a classic: bands and diamonds hang together.
#[test]
fn classics_hang_together_as_their_names_say() {
    let regions = |classic: Classic, rows: u16, columns: u16| {
        let (design, states) = quilt(&Recipe::HalfSquare(block_of(6)), rows, columns);
        let chosen = classic.states(&states, rows, columns).unwrap();
        let edit = lay(&design, &states, BLOCK, Area::whole(&design), |row, column| {
            chosen[usize::from(row * columns + column)]
        });
        let (design, _) = apply(&design, &edit.unwrap()).unwrap();
        islands_on(&laid(&design), |patch| patch.name)
    };
    // Light and dark regions. A triangle of its own in each block:
    assert_eq!(regions(Classic::StraightRows, 4, 4), [16, 16]);
    // Seven diagonals part a 4 × 4 square into eight stripes.
    assert_eq!(regions(Classic::Furrows, 4, 4), [4, 4]);
    // A light diamond in the middle, a dark ring about it, light bands across the four quarters, dark corners.
    assert_eq!(regions(Classic::Diamonds, 4, 4), [5, 5]);
    assert_eq!(regions(Classic::SmallDiamonds, 4, 4)[1], 4);
    assert_eq!(regions(Classic::Pinwheel, 2, 2), [4, 4]);
}

#[test]
fn an_arrangement_is_laid_as_one_step() {
    let (design, states) = quilt(&half_block(12), 5, 6);
    let motif = motif(2, 2, Wrap::Repeats);
    let pinwheel = Classic::Pinwheel.filling(&states, motif).unwrap();
    let area = Area { row: 1, column: 2, rows: 4, columns: 3 };
    let edit = arrange(&design, &states, BLOCK, &pinwheel, area).unwrap();
    let mut history = History::new(design.clone());
    let delta = history.apply(&edit).unwrap();
    let Touched::Places(places) = delta.touched else { panic!("{:?}", delta.touched) };
    // Blocks that stood so already are not touched.
    let moved = design.places().filter(|(id, place)| history.design().place(*id).unwrap() != *place);
    assert_eq!(places, moved.map(|(id, _)| id).collect::<Vec<_>>());
    assert!((6..=12).contains(&places.len()), "{places:?}");
    for (id, place) in history.design().places() {
        let (row, column) = row_and_column(id);
        let inside = row >= 1 && (2..5).contains(&column);
        let way = inside.then(|| states.states()[usize::from(pinwheel.state(row - 1, column - 2).0)]);
        let before = design.place(id).unwrap();
        let expected = way.map_or((before.turn, before.mirrored, before.halves), |w| (w.turn, w.mirrored, w.halves));
        assert_eq!((place.turn, place.mirrored, place.halves), expected, "{id}");
    }
    assert_eq!((history.undo_label(), history.steps()), (Some("Arrange blocks"), 1));
    assert!(history.undo());
    assert_eq!(*history.design(), design);
}

/// On point an arrangement runs along the diagonals: it is what a straight quilt shows, seen an eighth turned.
#[test]
fn on_point_an_arrangement_is_turned_with_the_blocks() {
    let (straight, states) = quilt(&half_block(12), 6, 6);
    let (rows, columns) = (3, 4);
    let design = starter(&[half_block(12)], on_point(rows, columns), &[]).design().unwrap();
    assert_eq!(design.setting().sewn_size(), (6, 6));
    let pinwheel = Classic::Pinwheel.filling(&states, motif(2, 2, Wrap::Repeats)).unwrap();
    let lay = |design: &Design| {
        let edit = arrange(design, &states, BLOCK, &pinwheel, Area::whole(design)).unwrap();
        apply(design, &edit).unwrap().0
    };
    let (straight, design) = (lay(&straight), lay(&design));
    let turn = Motion::turn(3, &Point::origin());
    let corners = straight.block(BLOCK).unwrap().block().base().corners().to_vec();
    let mut steps = BTreeSet::new();
    let mut seen = 0;
    for (id, place) in design.places() {
        let (row, column) = row_and_column(id);
        let (row, column) = design.setting().sewn_at(row, column);
        let like = straight.place(cell(row, column)).unwrap();
        assert_eq!((place.turn, place.mirrored, place.halves), (like.turn, like.mirrored, like.halves), "{id}");
        let there = straight.motion(cell(row, column)).unwrap().then(&turn);
        let here = design.motion(id).unwrap();
        steps.extend(corners.iter().map(|p| {
            let step = &here.point(p) - &there.point(p);
            (step.x.to_string(), step.y.to_string())
        }));
        seen += 1;
    }
    assert_eq!((seen, steps.len()), (18, 1), "one shift carries every corner of every block");
    let some = Area { row: 1, column: 2, rows: 2, columns: 3 };
    let edit = arrange(&design, &states, BLOCK, &pinwheel, some).unwrap();
    let Edit::Arrange(places) = &edit else { panic!("{edit:?}") };
    assert_eq!(Area::about(&design, places.iter().map(|(id, _)| *id)), Some(some));
    assert_eq!(Area::about(&design, []), None);
}

#[test]
fn what_cannot_be_laid_is_refused() {
    let (design, states) = quilt(&half_block(12), 3, 3);
    let pinwheel = Classic::Pinwheel.filling(&states, motif(2, 2, Wrap::Alone)).unwrap();
    let check = |design: &Design, states: &BlockStates, block, area, expected: PairingError| {
        assert_eq!(arrange(design, states, block, &pinwheel, area), Err(expected));
    };
    let whole = Area::whole(&design);
    for area in [
        Area { rows: 0, ..whole },
        Area { columns: 4, ..whole },
        Area { row: 3, rows: 1, ..whole },
        Area { row: u16::MAX, rows: u16::MAX, ..whole },
    ] {
        check(&design, &states, BLOCK, area, PairingError::Area { rows: 3, columns: 3 });
    }
    let missing = PairingError::Edit(layout::EditError::NoBlock(BlockId(9)));
    check(&design, &states, BlockId(9), whole, missing);
    let (_, others) = quilt(&half_block(9), 1, 1);
    check(&design, &others, BLOCK, whole, PairingError::OtherBlock);
    let sixty = starter(&[Recipe::SixtyUnit(common::side_of(6))], triangles(2, 3), &[]).design().unwrap();
    check(&sixty, &states, BLOCK, whole, PairingError::NotStraight);
    let foreign = Arrangement { states: vec![StateId(99); 4], ..pinwheel.clone() };
    let refused = arrange(&design, &states, BLOCK, &foreign, whole);
    assert_eq!(refused, Err(PairingError::Foreign { cells: 9, states: 8 }));
    let measures = Measures::new(&states, motif(2, 2, Wrap::Alone));
    assert_eq!(measures.of(&foreign), Err(PairingError::Foreign { cells: 4, states: 8 }));
}

/// Two places at once with one block twice named: the later counts, and paint of another block goes.
#[test]
fn of_two_for_one_place_the_later_counts() {
    let design = common::quilts().swap_remove(0);
    let paint = Edit::PaintPatch { place: cell(0, 0), patch: geometry::PatchKey(0), fabric: FabricId(3) };
    let (design, _) = apply(&design, &paint).unwrap();
    let first = *design.place(cell(0, 0)).unwrap();
    let own = layout::Place { block: BlockId(2), turn: 1, mirrored: true, halves: Halves::new(&[Value::Light]) };
    let (kept, delta) = apply(&design, &Edit::Arrange(vec![(cell(0, 0), own), (cell(0, 0), first)])).unwrap();
    assert_eq!((&kept, delta.lost.len()), (&design, 0));
    let (next, delta) = apply(&design, &Edit::Arrange(vec![(cell(0, 0), first), (cell(0, 0), own)])).unwrap();
    assert_eq!(next.place(cell(0, 0)), Ok(&own));
    assert_eq!(delta.lost, ["row 1, column 1: 1 painted patches or roles"]);
    assert_eq!(next.place_patches().count(), 0);
}

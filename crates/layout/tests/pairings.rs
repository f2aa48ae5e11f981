//! Counting and listing arrangements: published sequences, brute force over all fillings, and full walks.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use common::{block_of, families, half_block, inches, own_recipe};
use geometry::{Block, Motion, Point, Polygon, Recipe, Tone, Value};
use layout::Halves;
use layout::pairings::{
    Allowed, BlockStates, Browser, Exchange, Group, HalfType, Identified, Motif, PairingError, Position, State,
    StateId, Turning, Wrap,
};
use num_bigint::BigUint;
use proptest::prelude::*;

const MIXED: [HalfType; 1] = [HalfType::DarkLight];

fn states_of(recipe: &Recipe, types: &[HalfType]) -> BlockStates {
    BlockStates::new(Arc::new(recipe.draft().unwrap()), &Allowed::types(types)).unwrap()
}

fn motif(rows: u8, columns: u8, wrap: Wrap) -> Motif {
    Motif::new(rows, columns, wrap).unwrap()
}

const fn same(turning: Turning, exchange: Exchange) -> Identified {
    Identified { turning, exchange, shifts: true }
}

/// How many states a block has, by types of half.
#[test]
fn geometry_gives_the_states() {
    let check = |recipe: &Recipe, types: &[HalfType], expected: usize| {
        let found = states_of(recipe, types);
        assert_eq!(found.states().len(), expected, "{recipe:?} {types:?}");
    };
    let all = HalfType::ALL;
    // A dark–light half block's mirror image is its quarter turn. Both halves alike, only the diagonal is seen.
    check(&half_block(12), &MIXED, 4);
    check(&half_block(12), &[HalfType::DarkDark], 2);
    check(&half_block(12), &all, 8);
    check(&Recipe::HalfSquare(block_of(6)), &MIXED, 4);
    check(&Recipe::HalfSquare(block_of(6)), &all, 8);
    check(&Recipe::NinePatch(block_of(9)), &MIXED, 1);
    check(&Recipe::FourPatch(block_of(12)), &MIXED, 2);
    check(&Recipe::FlyingGoose(block_of(8)), &MIXED, 2);
    check(&Recipe::Plain { width: inches(8), height: inches(4) }, &all, 2);
    // A post at one side, panes opposite: four turns of it, which mirrors do not add to, dark or light.
    check(&own_recipe(), &all, 8);
    check(&own_recipe(), &[HalfType::LightLight], 4);
}

#[test]
fn what_is_not_allowed_is_left_out() {
    let block = Arc::new(half_block(12).draft().unwrap());
    let allowed =
        |turns: &[u8], mirrored| Allowed { types: MIXED.into(), turns: turns.iter().copied().collect(), mirrored };
    let count = |turns: &[u8], mirrored| {
        BlockStates::new(Arc::clone(&block), &allowed(turns, mirrored)).map(|states| states.states().len())
    };
    // Turn 0 with either half dark; the mirror image lies across the other diagonal.
    assert_eq!(count(&[0], false), Ok(2));
    assert_eq!(count(&[0], true), Ok(4));
    assert_eq!(count(&[0, 1], false), Ok(4));
    assert_eq!(count(&[], true), Err(PairingError::NoState));
    let states = BlockStates::new(Arc::clone(&block), &allowed(&[0], false)).unwrap();
    assert_eq!(states.moved(1, false, Exchange::Nothing), None, "a quarter turn leads out of turns 0 and 2");
    assert!(states.moved(2, false, Exchange::Nothing).is_some());
    let group = Group::new(&states, motif(2, 2, Wrap::Alone), same(Turning::TurnsAndMirrors, Exchange::Nothing));
    assert_eq!(group.order(), 4, "half turn and the mirrors in both diagonals");
    let sixty = Arc::new(Recipe::SixtyUnit(common::side_of(6)).draft().unwrap());
    assert_eq!(BlockStates::new(sixty, &Allowed::types(&MIXED)).err(), Some(PairingError::NotARectangle));
}

/// A picture as a set of outlines, each with its role and what it shows.
type Picture = BTreeSet<(Vec<[String; 2]>, String, Value, bool)>;

fn picture(block: &Block, way: &State, then: &Motion) -> Picture {
    let (low, high) = block.base().bounds();
    let centre = low.midpoint(&high);
    let start = if way.mirrored { Motion::mirror(&centre) } else { Motion::still() };
    let motion = start.then(&Motion::turn(6 * i32::from(way.turn), &centre)).then(then);
    let corners = |outline: &Polygon| {
        let mut ring: Vec<[String; 2]> =
            outline.corners().iter().map(|p| [p.x.to_decimal(12), p.y.to_decimal(12)]).collect();
        let least = (0..ring.len()).min_by_key(|i| ring[*i].clone()).unwrap();
        ring.rotate_left(least);
        ring
    };
    let entry = |patch: &geometry::Patch| {
        let value = patch.tone.table_value(way.halves.values());
        let against = matches!(patch.tone, Tone::AgainstHalf(_));
        (corners(&motion.polygon(&patch.outline)), patch.role.to_string(), value, against)
    };
    block.patches().iter().map(entry).collect()
}

/// Pictures moved patch by patch agree with the tables, for every rectangular block of the library.
#[test]
fn tables_of_states_are_pictures_moved() {
    let fits = |recipe: &Recipe| BlockStates::new(Arc::new(recipe.draft().unwrap()), &Allowed::types(&HalfType::ALL));
    let mut looked_at = 0;
    for (name, recipe) in families() {
        let Ok(states) = fits(&recipe) else { continue };
        let block = states.block();
        let (low, high) = block.base().bounds();
        let centre: Point = low.midpoint(&high);
        let still: Vec<Picture> = states.states().iter().map(|state| picture(block, state, &Motion::still())).collect();
        let different: BTreeSet<&Picture> = still.iter().collect();
        assert_eq!(different.len(), still.len(), "{name}: two states of one picture");
        let motions = [(1, false), (2, false), (0, true), (3, true)];
        for (turn, mirrored) in motions.into_iter().filter(|(turn, _)| states.is_square() || turn % 2 == 0) {
            let start = if mirrored { Motion::mirror(&centre) } else { Motion::still() };
            let motion = start.then(&Motion::turn(6 * i32::from(turn), &centre));
            let table = states.moved(turn, mirrored, Exchange::Nothing).unwrap();
            for (state, target) in states.states().iter().zip(table) {
                let moved = picture(block, state, &motion);
                assert_eq!(moved, still[usize::from(target.0)], "{name}: {state:?} moved by {turn} {mirrored}");
                looked_at += 1;
            }
        }
        let table = states.moved(0, false, Exchange::Colours).unwrap();
        for (state, target) in states.states().iter().zip(table) {
            let opposite: Vec<Value> = state.halves.values().iter().map(|value| value.opposite()).collect();
            let exchanged = State { halves: Halves::new(&opposite), ..*state };
            assert_eq!(picture(block, &exchanged, &Motion::still()), still[usize::from(target.0)], "{name}");
        }
    }
    assert!(looked_at > 100, "{looked_at}");
}

/// Which wrap and symmetries, for states of which types: the counts for motifs of 1 × 1, 2 × 2 and so on.
#[test]
fn counts_are_the_published_ones() {
    let check = |source: &str, types: &[HalfType], wrap, identified, expected: &[u64]| {
        let states = states_of(&half_block(12), types);
        for (side, expected) in (1..).zip(expected) {
            let group = Group::new(&states, motif(side, side, wrap), identified);
            assert_eq!(group.classes(), BigUint::from(*expected), "{source}, {side} × {side}");
        }
    };
    let d4 = same(Turning::TurnsAndMirrors, Exchange::Nothing);
    let swap = same(Turning::TurnsAndMirrors, Exchange::Colours);
    let turns = same(Turning::Turns, Exchange::Nothing);
    let fixed = same(Turning::Fixed, Exchange::Nothing);
    let all = HalfType::ALL;
    check("4 to the power of the cells", &MIXED, Wrap::Alone, fixed, &[4, 256, 262_144, 4_294_967_296]);
    check("OEIS A302484", &MIXED, Wrap::Alone, d4, &[1, 43, 32_896, 536_911_936]);
    check("OEIS A367532", &MIXED, Wrap::Alone, turns, &[1, 70, 65_536]);
    // The rest was found by orbit counting in a program of its own; brute force below agrees where it can.
    check("with exchange", &MIXED, Wrap::Alone, swap, &[1, 27, 16_576, 268_476_480]);
    check("repeating", &MIXED, Wrap::Repeats, swap, &[1, 17, 1_932, 16_811_626]);
    check("eight states", &all, Wrap::Alone, d4, &[3, 610, 16_806_912, 35_184_463_315_968]);
    check("eight states, exchange", &all, Wrap::Alone, swap, &[2, 322, 8_404_992, 17_592_235_328_512]);
    check("eight states, repeating", &all, Wrap::Repeats, swap, &[2, 118, 938_928, 1_099_528_013_448]);
}

/// Two-colour squares up to turns and mirrors, OEIS A054247: a plain square that is dark or light.
#[test]
fn plain_squares_count_as_colourings() {
    let states = states_of(&plain_square(), &HalfType::ALL);
    assert_eq!(states.states().len(), 2);
    for (side, expected) in (1..).zip([2_u32, 6, 102, 8548]) {
        let group =
            Group::new(&states, motif(side, side, Wrap::Alone), same(Turning::TurnsAndMirrors, Exchange::Nothing));
        assert_eq!(group.classes(), BigUint::from(expected), "{side} × {side}");
    }
}

/// A square of one patch, which follows its only half.
fn plain_square() -> Recipe {
    Recipe::Plain { width: inches(6), height: inches(6) }
}

/// The class of every filling, found by moving pictures about: no table of the library is used but the list of states.
struct BruteForce {
    classes: BTreeMap<Vec<StateId>, usize>,
}

/// For the new row and column, the old ones, and what becomes of each state.
type Generator = (Box<dyn Fn(usize, usize) -> (usize, usize)>, Vec<StateId>);

impl BruteForce {
    fn generators(states: &BlockStates, motif: Motif, identified: Identified) -> Vec<Generator> {
        let block = states.block();
        let (low, high) = block.base().bounds();
        let centre = low.midpoint(&high);
        let pictures: BTreeMap<Picture, StateId> = (0..)
            .zip(states.states())
            .map(|(i, state)| (picture(block, state, &Motion::still()), StateId(i)))
            .collect();
        let moved =
            |way: StateId, motion: &Motion| pictures[&picture(block, &states.states()[usize::from(way.0)], motion)];
        let quarter = |way: StateId| moved(way, &Motion::turn(6, &centre));
        let half = |way: StateId| moved(way, &Motion::turn(12, &centre));
        let mirror = |way: StateId| moved(way, &Motion::mirror(&centre));
        let exchange = |way: StateId| {
            let state = states.states()[usize::from(way.0)];
            let opposite: Vec<Value> = state.halves.values().iter().map(|value| value.opposite()).collect();
            pictures[&picture(block, &State { halves: Halves::new(&opposite), ..state }, &Motion::still())]
        };
        let (rows, columns) = (usize::from(motif.rows()), usize::from(motif.columns()));
        let count = u16::try_from(states.states().len()).unwrap();
        let table = |f: &dyn Fn(StateId) -> StateId| (0..count).map(|i| f(StateId(i))).collect::<Vec<_>>();
        let mut generators: Vec<Generator> = Vec::new();
        if identified.turning != Turning::Fixed {
            generators.push((Box::new(move |r, c| (rows - 1 - r, columns - 1 - c)), table(&half)));
            if rows == columns && states.is_square() {
                // Counter-clockwise, the right column becomes the top row.
                generators.push((Box::new(move |r, c| (c, columns - 1 - r)), table(&quarter)));
            }
        }
        if identified.turning == Turning::TurnsAndMirrors {
            generators.push((Box::new(move |r, c| (r, columns - 1 - c)), table(&mirror)));
        }
        if identified.exchange == Exchange::Colours {
            generators.push((Box::new(|r, c| (r, c)), table(&exchange)));
        }
        if motif.wrap() == Wrap::Repeats {
            generators.push((Box::new(move |r, c| ((r + 1) % rows, c)), table(&|state| state)));
            generators.push((Box::new(move |r, c| (r, (c + 1) % columns)), table(&|state| state)));
        }
        generators
    }

    fn new(states: &BlockStates, motif: Motif, identified: Identified) -> Self {
        let generators = Self::generators(states, motif, identified);
        let (rows, columns) = (usize::from(motif.rows()), usize::from(motif.columns()));
        let all = filling(&vec![u16::try_from(states.states().len()).unwrap(); motif.cells()]);
        let mut classes: BTreeMap<Vec<StateId>, usize> = BTreeMap::new();
        let mut number = 0;
        for start in all {
            let mut open = vec![start];
            let mut fresh = false;
            while let Some(one) = open.pop() {
                if classes.contains_key(&one) {
                    continue;
                }
                fresh = true;
                for (from, becomes) in &generators {
                    let image = (0..rows).flat_map(|r| (0..columns).map(move |c| (r, c))).map(|(r, c)| {
                        let (r, c) = from(r, c);
                        becomes[usize::from(one[r * columns + c].0)]
                    });
                    open.push(image.collect());
                }
                classes.insert(one, number);
            }
            number += usize::from(fresh);
        }
        Self { classes }
    }

    fn count(&self) -> usize {
        self.classes.values().max().map_or(0, |last| last + 1)
    }
}

/// All fillings with so many states for each cell.
fn filling(counts: &[u16]) -> Vec<Vec<StateId>> {
    counts.iter().fold(vec![Vec::new()], |all, count| {
        all.iter()
            .flat_map(|one| (0..*count).map(move |state| one.iter().copied().chain([StateId(state)]).collect()))
            .collect()
    })
}

/// Counts by the lemma equal those by brute force, and a walk through the whole list meets every class once.
#[test]
fn counts_and_walks_equal_brute_force() {
    let goose = Recipe::FlyingGoose(block_of(8));
    let cases: [(&Recipe, &[HalfType], u8, u8); 9] = [
        (&half_block(12), &MIXED, 1, 1),
        (&half_block(12), &MIXED, 2, 2),
        (&half_block(12), &HalfType::ALL, 2, 2),
        (&half_block(12), &MIXED, 2, 3),
        (&half_block(12), &MIXED, 3, 2),
        (&half_block(12), &HalfType::ALL, 1, 4),
        (&own_recipe(), &HalfType::ALL, 2, 2),
        (&goose, &MIXED, 3, 3),
        (&plain_square(), &HalfType::ALL, 3, 3),
    ];
    for (recipe, types, rows, columns) in cases {
        let states = states_of(recipe, types);
        for (wrap, turning, exchange) in [
            (Wrap::Alone, Turning::TurnsAndMirrors, Exchange::Nothing),
            (Wrap::Alone, Turning::Turns, Exchange::Colours),
            (Wrap::Repeats, Turning::TurnsAndMirrors, Exchange::Colours),
            (Wrap::Repeats, Turning::Fixed, Exchange::Nothing),
        ] {
            let (motif, identified) = (motif(rows, columns, wrap), same(turning, exchange));
            let group = Group::new(&states, motif, identified);
            let brute = BruteForce::new(&states, motif, identified);
            let told = format!("{recipe:?} {types:?} {rows} × {columns} {wrap:?} {identified:?}");
            assert_eq!(group.classes(), BigUint::from(brute.count()), "{told}");
            let met = walk(&Browser::new(group).unwrap());
            let classes: BTreeSet<usize> = met.iter().map(|states| brute.classes[states]).collect();
            assert_eq!((met.len(), classes.len()), (brute.count(), brute.count()), "{told}");
        }
    }
}

/// Everything a list shows, page by page.
fn walk(browser: &Browser) -> Vec<Vec<StateId>> {
    let mut met = Vec::new();
    let mut from = Some(0);
    while let Some(raw) = from {
        let page = browser.page(Position::Raw(raw), 37);
        met.extend(page.arrangements.into_iter().map(|arrangement| arrangement.states));
        from = page.next;
    }
    met
}

#[test]
fn a_walk_through_a_large_list_meets_as_many_as_are_counted() {
    let states = states_of(&half_block(12), &MIXED);
    for (wrap, exchange) in [(Wrap::Alone, Exchange::Nothing), (Wrap::Repeats, Exchange::Colours)] {
        let group = Group::new(&states, motif(3, 3, wrap), same(Turning::TurnsAndMirrors, exchange));
        let classes = group.classes();
        assert_eq!(BigUint::from(walk(&Browser::new(group).unwrap()).len()), classes);
    }
}

/// The list of 10¹² classes: the 4 × 4 motif that repeats, with all eight states.
fn long_list() -> Browser {
    let states = states_of(&half_block(12), &HalfType::ALL);
    let identified = same(Turning::TurnsAndMirrors, Exchange::Colours);
    Browser::new(Group::new(&states, motif(4, 4, Wrap::Repeats), identified)).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// Wherever a page begins, it goes on as a page that began before, forwards and backwards, and is of like effort.
    #[test]
    fn a_long_list_can_be_opened_anywhere(part in 0_u32..1_000_000) {
        let browser = long_list();
        let page = browser.page(Position::Share { part, of: 1_000_000 }, 24);
        prop_assert_eq!(page.arrangements.len(), 24);
        let middle = page.arrangements[9].raw;
        let later = browser.page(Position::Raw(middle), 15);
        prop_assert_eq!(&later.arrangements[..], &page.arrangements[9..]);
        let earlier = browser.page_before(middle, 9);
        let back: Vec<_> = page.arrangements[..9].iter().rev().collect();
        prop_assert_eq!(earlier.arrangements.iter().collect::<Vec<_>>(), back);
        for shown in &page.arrangements {
            prop_assert_eq!(&browser.shown(shown.raw), shown);
            prop_assert_eq!(browser.group().raw_of(&shown.states).unwrap(), shown.raw);
        }
        // 256 symmetries: a class in 256 fillings on average, 24 of them with a spread of some 20 %.
        prop_assert!(page.steps / 24 < 700, "{} steps", page.steps);
    }

    /// Every member of a class leads to the one that the list shows.
    #[test]
    fn all_members_of_a_class_are_shown_as_one(raw in 0_u128..1 << 48, turn in 0_u8..4, mirrored in any::<bool>()) {
        let browser = long_list();
        let states = states_of(&half_block(12), &HalfType::ALL);
        let becomes = states.moved(turn, mirrored, Exchange::Colours).unwrap();
        let before = browser.arrangement(raw);
        let mut after = before.states.clone();
        for (row, column) in (0..4).flat_map(|row| (0..4).map(move |column| (row, column))) {
            let (mut r, mut c) = (row, if mirrored { 3 - column } else { column });
            for _ in 0..turn {
                (r, c) = (3 - c, r);
            }
            // Shifted by one row and two columns as well.
            let target = (r + 1) % 4 * 4 + (c + 2) % 4;
            after[target] = becomes[usize::from(before.states[row * 4 + column].0)];
        }
        let after = browser.group().raw_of(&after).unwrap();
        prop_assert_eq!(browser.shown(after), browser.shown(raw));
    }
}

#[test]
fn pages_end_where_the_list_ends() {
    let states = states_of(&half_block(12), &MIXED);
    let identified = same(Turning::TurnsAndMirrors, Exchange::Nothing);
    let browser = Browser::new(Group::new(&states, motif(2, 2, Wrap::Alone), identified)).unwrap();
    let last = browser.page(Position::Share { part: 7, of: 7 }, 50);
    assert_eq!((last.next, last.steps), (None, 1));
    assert_eq!(browser.page(Position::Raw(u128::MAX), 50), last);
    assert_eq!(browser.page(Position::Share { part: 1, of: 0 }, 0).arrangements, []);
    let backwards = browser.page_before(u128::MAX, 50);
    assert_eq!((backwards.arrangements.len(), backwards.next), (43, None));
    assert!(browser.page_before(0, 5).arrangements.is_empty());
}

#[test]
fn too_large_is_refused_and_still_counted() {
    for (rows, columns) in [(0, 1), (1, 0), (5, 1), (1, 5)] {
        let refused = Motif::new(rows, columns, Wrap::Alone);
        assert_eq!(refused, Err(PairingError::MotifSize { rows, columns }));
    }
    // Eight squares that follow eight halves, none like another: 2048 states, 2¹⁷⁶ fillings.
    let corners = |i: i64| [(i, 0), (i + 1, 0), (i + 1, 8), (i, 8)];
    let patches = (0..8_u8).map(|half| {
        let role = format!("piece {half}");
        common::patch(half.into(), &role, Tone::Half(half), &corners(half.into()))
    });
    let base = common::polygon(&[(0, 0), (8, 0), (8, 8), (0, 8)]);
    let states = states_of(&Recipe::Own { base, patches: patches.collect() }, &HalfType::ALL);
    assert_eq!(states.states().len(), 1024, "top and bottom of a stripe are alike");
    let identified = same(Turning::Fixed, Exchange::Nothing);
    let group = Group::new(&states, motif(4, 4, Wrap::Alone), identified);
    assert_eq!(group.classes(), BigUint::from(1024_u32).pow(16));
    assert_eq!(Browser::new(group).err(), Some(PairingError::TooManyToList));
    // Sixty-four bits and more: scrambled wide.
    let group = Group::new(&states, motif(2, 4, Wrap::Alone), same(Turning::TurnsAndMirrors, Exchange::Nothing));
    let browser = Browser::new(group).unwrap();
    let page = browser.page(Position::Share { part: 1, of: 3 }, 40);
    assert_eq!(page.arrangements.len(), 40);
    assert!(page.arrangements.iter().all(|shown| browser.shown(shown.raw) == *shown));
}

/// Without shifts, a motif that repeats has the symmetries of one that stands alone; with them, as many more as it has
/// cells.
#[test]
fn shifts_count_only_where_they_are_asked_for() {
    let states = states_of(&half_block(12), &MIXED);
    let group = |wrap, shifts| {
        let identified = Identified { shifts, ..same(Turning::TurnsAndMirrors, Exchange::Nothing) };
        Group::new(&states, motif(2, 2, wrap), identified)
    };
    let alone = group(Wrap::Alone, true);
    let (fixed, shifted) = (group(Wrap::Repeats, false), group(Wrap::Repeats, true));
    assert_eq!((alone.order(), fixed.order(), shifted.order()), (8, 8, 32));
    assert_eq!(fixed.classes(), alone.classes());
    assert!(shifted.classes() < fixed.classes());
}

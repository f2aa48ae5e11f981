//! Fabric first: what is listed can be cut from what is in hand, and nothing that could be is lost with more fabric.

use std::collections::BTreeMap;
use std::path::Path;

use cutting::{Bought, Ledger, Stock, Watch, audit};
use geometry::lay::UNITS_PER_INCH;
use geometry::{Exact, Length, Value};
use layout::file::Document;
use layout::{Colour, Fabric, FabricId, InHand, Precut, Sold, Tally, Units};
use proptest::prelude::*;
use publish::fits::{
    Buy, Entry, FabricsFile, FabricsFileError, Family, FitsError, Hand, Listing, Pairing, Wanted, fits, next_words,
};

fn inches(inches: i64) -> Length {
    Length::whole_inches(inches).unwrap()
}

/// A fabric with pieces of these widths, lengths and counts.
fn fabric(name: &str, value: Value, pieces: &[(i64, i64, u32)]) -> Fabric {
    let piece = |(width, length, count): &(i64, i64, u32)| InHand {
        width: inches(*width),
        length: inches(*length),
        count: *count,
    };
    let plain = Fabric::plain(name, Colour::rgb(9, 9, 9), value, inches(40));
    Fabric { in_hand: pieces.iter().map(piece).collect(), ..plain }
}

/// A fabric of which there are fat quarters, 22 × 18 in.
fn fat_quarters(name: &str, value: Value, count: u32) -> Fabric {
    let precut = Precut { width: inches(22), length: inches(18) };
    Fabric { sold: Sold::Precut(precut), ..fabric(name, value, &[(22, 18, count)]) }
}

fn hand(fabrics: Vec<Fabric>) -> Hand {
    Hand { name: "Test shelf".to_owned(), units: Units::Inches, fabrics }
}

fn wanted(families: &[Family], sizes: &[i64], count: usize) -> Wanted {
    let sizes = sizes.iter().map(|side| inches(*side)).collect();
    Wanted { families: families.to_vec(), sizes, count, ..Wanted::usual(Units::Inches).unwrap() }
}

fn listed(hand: &Hand, wanted: &Wanted) -> Listing {
    fits(hand, wanted, &Watch::new()).unwrap()
}

fn sixteen_fat_quarters() -> Hand {
    let of = |value: Value| (0..8).map(move |n| fat_quarters(&format!("{} {n}", value.word()), value, 1));
    hand(of(Value::Dark).chain(of(Value::Light)).collect())
}

/// Checks an entry against the hand alone: the saved quilt read again, planned and audited; every lay on a piece that
/// is in hand, no piece cut twice; nothing bought but the binding; every block's patches of one value in one fabric.
fn check(hand: &Hand, entry: &Entry) {
    let saved = Document::new(entry.design.clone()).to_bytes().unwrap();
    let document = Document::from_bytes(&saved).unwrap();
    let design = &document.variants()[0].design;
    assert_eq!(design, &entry.design);
    let ledger = Ledger::new(design, &Tally::count(design).unwrap()).unwrap();
    let verified = audit(design, ledger.plans()).unwrap();
    let binding = FabricId(u32::try_from(hand.fabrics.len()).unwrap() + 1);
    for (id, plan) in ledger.plans() {
        let plan = plan.as_ref().unwrap();
        if *id == binding {
            assert!(plan.pieces.iter().all(|piece| piece.shape.is_none()), "binding fabric is for binding alone");
            continue;
        }
        assert_eq!(plan.bought, Bought::Nothing);
        assert!(verified[id].placements > 0);
        let fabric = &hand.fabrics[usize::try_from(id.0).unwrap() - 1];
        let mut left: BTreeMap<(i64, i64), u64> = BTreeMap::new();
        for piece in &fabric.in_hand {
            *left.entry((units(&piece.width), units(&piece.length))).or_default() += u64::from(piece.count);
        }
        for on in plan.lays().unwrap() {
            let size = if on.turned { (on.lay.length, on.lay.width) } else { (on.lay.width, on.lay.length) };
            let Stock::Sheet { width, length, .. } = plan.stock[on.stock] else { panic!("a lay on a roll") };
            assert!(size.0 <= width && size.1 <= length, "{size:?} on {width} × {length}");
            let there = left.get_mut(&(width, length)).expect("a lay on a piece that is not in hand");
            *there = there.checked_sub(1).expect("a piece cut twice");
        }
    }
    one_fabric_for_each_value(hand, entry);
}

fn units(length: &Length) -> i64 {
    i64::try_from(length.inches().scale_int(UNITS_PER_INCH).floor()).unwrap()
}

fn one_fabric_for_each_value(hand: &Hand, entry: &Entry) {
    for placed in entry.design.top().unwrap().placed {
        let mut of_value: BTreeMap<Value, FabricId> = BTreeMap::new();
        for index in 0..placed.block.patches().len() {
            let id = entry.design.paint(placed.place, placed.source, &placed.block, index).unwrap();
            let value = hand.fabrics[usize::try_from(id.0).unwrap() - 1].value;
            assert_eq!(*of_value.entry(value).or_insert(id), id, "two {} fabrics in one block", value.word());
        }
    }
}

fn area(entry: &Entry) -> Exact {
    let (width, height) = entry.finished_size();
    &width * &height
}

/// A lap quilt is about 48 × 60 to 60 × 72 in (common practice, no source).
#[test]
fn sixteen_fat_quarters_give_a_lap_quilt_of_diagonal_half_blocks() {
    let hand = sixteen_fat_quarters();
    let listing = listed(&hand, &wanted(&[Family::DiagonalHalf], &[8, 10, 12], 12));
    assert!(listing.complete);
    let is_lap = |entry: &&Entry| {
        let (width, height) = entry.finished_size();
        (Exact::int(48)..=Exact::int(60)).contains(&width) && (Exact::int(60)..=Exact::int(72)).contains(&height)
    };
    let lap = listing.entries.iter().find(is_lap).expect("a lap quilt");
    assert_eq!((lap.block.as_str(), lap.pairing), ("diagonal half block", Some(Pairing::DarkLight)));
    assert_eq!(lap.gives.len(), 16, "all fabrics are used");
    check(&hand, lap);
}

#[test]
fn entries_come_largest_first_and_each_is_laid_again_on_what_is_in_hand() {
    let scraps = [(40, 30, 1), (22, 18, 2), (15, 9, 3)];
    let hands = [
        sixteen_fat_quarters(),
        hand(vec![fabric("a", Value::Dark, &scraps), fabric("b", Value::Light, &[(40, 54, 1)])]),
        hand(vec![
            fabric("a", Value::Dark, &[(40, 18, 1)]),
            fat_quarters("b", Value::Dark, 3),
            fabric("c", Value::Light, &[(40, 27, 1), (12, 12, 6)]),
            fabric("d", Value::Medium, &[(40, 13, 2)]),
            fat_quarters("e", Value::Light, 2),
        ]),
    ];
    for hand in hands {
        let families = [Family::DiagonalHalf, Family::TiltedStar, Family::OnAxisStar];
        let listing = listed(&hand, &wanted(&families, &[6, 9], 6));
        assert_eq!(listing.entries.len(), 6);
        assert!(listing.short.is_empty());
        assert!(listing.entries.windows(2).all(|pair| area(&pair[0]) >= area(&pair[1])));
        listing.entries.iter().for_each(|entry| check(&hand, entry));
    }
}

#[test]
fn three_colours_are_tried_where_there_is_medium_fabric() {
    let two = hand(vec![fat_quarters("a", Value::Dark, 2), fat_quarters("b", Value::Light, 2)]);
    let three = hand([two.fabrics.clone(), vec![fat_quarters("c", Value::Medium, 2)]].concat());
    let wanted = wanted(&[Family::DiagonalHalf], &[8], 12);
    let of = |hand: &Hand| listed(hand, &wanted).entries.into_iter().map(|e| e.colours.words()).collect::<Vec<_>>();
    assert!(of(&two).iter().all(|words| *words == "two colours"));
    assert!(of(&three).contains(&"three colours"));
    for entry in listed(&three, &wanted).entries {
        check(&three, &entry);
    }
}

#[test]
fn an_arrangement_keeps_the_pieces_and_turns_the_blocks() {
    let hand = sixteen_fat_quarters();
    let listing = listed(&hand, &wanted(&[Family::DiagonalHalf], &[12], 1));
    let entry = &listing.entries[0];
    assert!(entry.arrangements().len() > 2, "{:?}", entry.arrangements());
    for name in entry.arrangements() {
        let design = entry.arranged(name).unwrap();
        let ledger = Ledger::new(&design, &Tally::count(&design).unwrap()).unwrap();
        audit(&design, ledger.plans()).unwrap();
        for (id, plan) in ledger.plans() {
            let (plan, before) = (plan.as_ref().unwrap(), entry.plans[id].as_ref().unwrap());
            assert_eq!(plan.sheets, before.sheets, "{name}");
        }
    }
    let turns = |name| entry.arranged(name).unwrap().places().map(|(_, place)| place.turn).collect::<Vec<_>>();
    assert_ne!(turns(entry.arrangements()[0]), turns(entry.arrangements()[1]));
    assert!(matches!(entry.arranged("spirals"), Err(FitsError::NoArrangement { .. })));
}

#[test]
fn blocks_of_a_quilt_are_tried_with_its_values() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts/throw-two-windows.json");
    let quilt = Document::open(&file).unwrap().variants()[0].design.clone();
    let hand = hand(vec![
        fabric("a", Value::Dark, &[(40, 60, 1)]),
        fabric("b", Value::Light, &[(40, 60, 1)]),
        fabric("c", Value::Medium, &[(40, 60, 1)]),
    ]);
    let wanted = Wanted { quilt: Some(quilt.clone()), ..wanted(&[], &[12], 6) };
    let listing = listed(&hand, &wanted);
    let names: Vec<&str> = quilt.blocks().map(|(_, def)| def.name()).collect();
    assert!(!listing.entries.is_empty());
    for entry in &listing.entries {
        assert!(names.contains(&entry.block.as_str()));
        check(&hand, entry);
    }
}

/// What more is needed, added to the hand, makes the next size of the same block fit.
fn check_next(hand: &Hand, entry: &Entry, wanted: &Wanted) -> bool {
    let Some(next) = &entry.next else { return false };
    assert!(next.shape.blocks() > entry.shape.blocks());
    assert!(!next.more.is_empty(), "more blocks without more fabric");
    let more = hand.with(&next.more);
    let listing = listed(&more, &Wanted { count: 100, ..wanted.clone() });
    let same = |other: &&Entry| {
        (&other.block, &other.block_size, other.colours, other.pairing)
            == (&entry.block, &entry.block_size, entry.colours, entry.pairing)
    };
    let then = listing.entries.iter().find(same).unwrap();
    assert!(then.shape.blocks() >= next.shape.blocks(), "{}: {:?}", next_words(next, hand), then.shape);
    true
}

#[test]
fn what_more_is_told_makes_the_next_size_fit() {
    let hand = hand(vec![
        fat_quarters("a", Value::Dark, 2),
        fabric("b", Value::Dark, &[(40, 18, 1)]),
        fabric("c", Value::Light, &[(40, 45, 1)]),
    ]);
    let wanted = wanted(&[Family::DiagonalHalf, Family::TiltedStar], &[8, 10], 8);
    let listing = listed(&hand, &wanted);
    let checked = listing.entries.iter().filter(|entry| check_next(&hand, entry, &wanted)).count();
    assert_eq!(checked, listing.entries.len(), "every entry says what more it needs");
    let of_fat_quarters = listed(&sixteen_fat_quarters(), &wanted).entries;
    let buys = of_fat_quarters.iter().filter_map(|entry| entry.next.as_ref()).flat_map(|next| &next.more);
    assert!(buys.clone().count() > 0 && buys.clone().all(|more| matches!(more.buy, Buy::Precuts { .. })));
}

#[test]
fn a_tiny_stock_says_what_is_missing() {
    let wanted = wanted(&[Family::DiagonalHalf], &[10], 8);
    let tiny = hand(vec![fabric("a", Value::Dark, &[(3, 3, 1)])]);
    let listing = listed(&tiny, &wanted);
    // Two diamonds of dark fit nothing; dark–light needs a triangle of dark, and light fabric, of which there is none.
    assert!(listing.entries.is_empty());
    let dark_light = listing.short.iter().find(|short| short.pairing == Some(Pairing::DarkLight)).unwrap();
    let values: Vec<Value> = dark_light.next.more.iter().map(|more| more.value).collect();
    assert_eq!(values, [Value::Light, Value::Dark]);
    assert_eq!(dark_light.next.more[0].fabric, None, "there is no light fabric");
    assert_eq!(dark_light.next.more[1].fabric, Some(0));
    assert_eq!(dark_light.next.shape.blocks(), 1);
    let then = listed(&tiny.with(&dark_light.next.more), &wanted);
    assert!(then.entries.iter().any(|entry| entry.pairing == Some(Pairing::DarkLight)));
    assert!(matches!(fits(&hand(Vec::new()), &wanted, &Watch::new()), Err(FitsError::NoFabrics)));
    let many = hand(vec![fat_quarters("a", Value::Dark, 1); 65]);
    assert!(matches!(fits(&many, &wanted, &Watch::new()), Err(FitsError::TooManyFabrics(65))));
}

#[test]
fn steps_are_counted_and_a_stop_is_heeded() {
    let hand = sixteen_fat_quarters();
    let all = wanted(&[Family::DiagonalHalf], &[8, 10, 12], 4);
    let watch = Watch::new();
    let listing = fits(&hand, &all, &watch).unwrap();
    assert!(listing.complete && listing.steps > 0);
    let (done, expected) = watch.progress();
    assert_eq!(done, expected);
    // Equal fabrics are asked once, so sixteen cost no more than two.
    let two = hand_of_two();
    assert!(listed(&two, &all).steps <= 2 * listing.steps);
    let few = fits(&hand, &Wanted { steps: listing.steps / 4, ..all.clone() }, &Watch::new()).unwrap();
    assert!(!few.complete && few.steps <= listing.steps / 4);
    few.entries.iter().for_each(|entry| check(&hand, entry));
    let stopped = Watch::new();
    stopped.stop();
    assert!(matches!(fits(&hand, &all, &stopped), Err(FitsError::Stopped)));
}

fn hand_of_two() -> Hand {
    hand(vec![fat_quarters("a", Value::Dark, 1), fat_quarters("b", Value::Light, 1)])
}

#[test]
fn what_cannot_be_searched_is_refused() {
    let hand = hand_of_two();
    for (bad, what) in [
        (wanted(&[Family::DiagonalHalf], &[8], 0), "entries"),
        (wanted(&[Family::DiagonalHalf], &[8], 101), "entries"),
        (wanted(&[Family::DiagonalHalf], &[], 5), "sizes"),
        (wanted(&[], &[8], 5), "blocks"),
    ] {
        let told = fits(&hand, &bad, &Watch::new()).unwrap_err().to_string();
        assert!(told.contains(what), "{told}");
    }
}

/// Whether a fabric is dark, and its pieces: width, length and how many.
type Pieces = (bool, Vec<((i64, i64), u32)>);

/// A small stock: fabrics of two values, each with a few pieces.
fn small_hand() -> impl Strategy<Value = Hand> {
    let piece = prop_oneof![Just((22, 18)), (5_i64..=40, 4_i64..=30),];
    let pieces = prop::collection::vec((piece, 1_u32..=2), 1..=3);
    let fabrics = prop::collection::vec((prop::bool::ANY, pieces), 2..=4);
    fabrics.prop_map(|rows| {
        let of = |(number, (dark, pieces)): (usize, Pieces)| {
            let value = if dark { Value::Dark } else { Value::Light };
            let pieces: Vec<_> = pieces.into_iter().map(|((width, length), count)| (width, length, count)).collect();
            fabric(&format!("fabric {number}"), value, &pieces)
        };
        hand(rows.into_iter().enumerate().map(of).collect())
    })
}

fn largest(hand: &Hand, wanted: &Wanted) -> Exact {
    listed(hand, wanted).entries.first().map_or(Exact::ZERO, area)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn more_fabric_never_makes_the_largest_entry_smaller(
        hand in small_hand(),
        (at, width, length) in (0_usize..8, 4_i64..=40, 4_i64..=30),
    ) {
        for family in [Family::DiagonalHalf, Family::HalfSquare] {
            let wanted = wanted(&[family], &[6], 1);
            let mut more = hand.clone();
            let piece = InHand { width: inches(width), length: inches(length), count: 1 };
            match more.fabrics.get_mut(at) {
                Some(fabric) => fabric.in_hand.push(piece),
                None => more.fabrics.push(fabric("new", Value::Dark, &[(width, length, 1)])),
            }
            prop_assert!(largest(&more, &wanted) >= largest(&hand, &wanted));
        }
    }

    #[test]
    fn every_entry_of_a_small_stock_fits_what_is_in_hand(hand in small_hand()) {
        let wanted = wanted(&[Family::DiagonalHalf, Family::FourPatch], &[5], 4);
        let listing = listed(&hand, &wanted);
        for entry in &listing.entries {
            check(&hand, entry);
            check_next(&hand, entry, &wanted);
        }
        prop_assert!(listing.entries.is_empty() || listing.short.is_empty());
    }
}

const GOOD: &str = r##"{
 "format": "lozenge fabrics", "version": 1, "name": "Shelf", "units": "in",
 "fabrics": [
  {"name": "Plum", "value": "dark", "colour": "#4b1d3f", "fat_quarters": 2},
  {"name": "Oat", "value": "light", "lengths": ["1 1/2 yd", 12.5], "usable_width": 42,
   "scraps": [{"width": "7½", "length": 10, "count": 3}]}
 ],
 "sizes": [8, "25/2"]
}"##;

fn read(text: &str) -> Result<FabricsFile, FabricsFileError> {
    FabricsFile::from_bytes(text.as_bytes(), Path::new("."))
}

#[test]
fn a_file_is_read_exactly() {
    let file = read(GOOD).unwrap();
    assert_eq!((file.hand.name.as_str(), file.hand.units), ("Shelf", Units::Inches));
    let [plum, oat] = file.hand.fabrics.as_slice() else { panic!("two fabrics") };
    assert_eq!((plum.value, oat.value), (Value::Dark, Value::Light));
    assert_eq!(plum.sold, Sold::Precut(Precut { width: inches(22), length: inches(18) }));
    assert_eq!(plum.in_hand, [InHand { width: inches(22), length: inches(18), count: 2 }]);
    let half = |halves| Length::inch_fraction(halves, 2).unwrap();
    assert_eq!(
        oat.in_hand,
        [
            InHand { width: inches(42), length: inches(54), count: 1 },
            InHand { width: inches(42), length: half(25), count: 1 },
            InHand { width: half(15), length: inches(10), count: 3 },
        ]
    );
    assert_eq!(oat.sold, Sold::ByLength);
    assert_eq!(file.wanted.sizes, [inches(8), half(25)]);
    assert_eq!(file.wanted.families, Family::USUAL);
}

#[test]
fn the_example_of_the_format_is_read() {
    let text = include_str!("../../FABRICS_FORMAT.md");
    let example = text.split("```json").nth(1).and_then(|rest| rest.split("```").next()).unwrap();
    assert_eq!(read(example).unwrap().hand.fabrics.len(), 4);
}

#[test]
fn a_bad_file_is_refused_at_its_place() {
    let with = |from: &str, to: &str| {
        assert!(GOOD.contains(from), "{from}");
        GOOD.replacen(from, to, 1)
    };
    let rows = [
        (String::new(), "line 1, column 0"),
        ("{}".to_owned(), "not a list of fabrics"),
        (with("lozenge fabrics", "lozenge quilt"), "not a list of fabrics"),
        (with("\"version\": 1", "\"version\": 2"), "version 2"),
        (with("\"units\": \"in\"", "\"units\": \"ells\""), "line 2, column"),
        (with("\"value\": \"dark\"", "\"value\": \"black\""), "line 4, column"),
        (with("\"fat_quarters\": 2", "\"fat_quarter\": 2"), "line 4, column"),
        (with("\"fat_quarters\": 2", "\"fat_quarters\": -2"), "line 4, column"),
        (with("\"fat_quarters\": 2", "\"fat_quarters\": 1001"), "fabrics[0].fat_quarters: give a count"),
        (with("#4b1d3f", "plum"), "fabrics[0].colour: write a colour"),
        (with("\"Plum\"", "\" \""), "fabrics[0].name: give a name"),
        (with("1 1/2 yd", "1 1/2 ell"), "fabrics[1].lengths[0]: \"1 1/2 ell\" is no length"),
        (with("12.5", "-3"), "fabrics[1].lengths[1]: \"-3\" is no length"),
        (with("12.5", "0"), "fabrics[1].lengths[1]"),
        (with("12.5", "1e300"), "fabrics[1].lengths[1]"),
        (with("12.5", "[3]"), "line 5, column"),
        (with("\"count\": 3", "\"count\": 0"), "fabrics[1].scraps[0].count: give a count"),
        (with("7½", "half"), "fabrics[1].scraps[0].width"),
        (with("42", "\"0\""), "fabrics[1].usable_width"),
        (with("\"sizes\": [8, \"25/2\"]", "\"sizes\": []"), "sizes: list 1 to 24"),
        (with("\"sizes\": [8, \"25/2\"]", "\"blocks\": [\"windmill\"]"), "blocks[0]: there is no block \"windmill\""),
        (with("\"sizes\": [8, \"25/2\"]", "\"blocks\": [\"tilted star\", \"tilted star\"]"), "blocks[1]: "),
        (with("\"sizes\": [8, \"25/2\"]", "\"quilt\": \"not-there.json\""), "quilt: "),
    ];
    for (text, told) in rows {
        let error = read(&text).unwrap_err().to_string();
        assert!(error.contains(told), "{told}: {error}");
    }
    let many = format!("[{}]", vec!["{\"name\": \"a\", \"value\": \"dark\"}"; 65].join(","));
    let start = GOOD.find('[').unwrap();
    let end = GOOD.rfind("],").unwrap() + 1;
    let text = format!("{}{many}{}", &GOOD[..start], &GOOD[end..]);
    assert!(read(&text).unwrap_err().to_string().starts_with("fabrics: list 1 to 64"));
    assert!(matches!(read(&" ".repeat(300 << 10)), Err(FabricsFileError::TooLarge)));
}

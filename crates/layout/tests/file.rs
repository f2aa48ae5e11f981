//! The quilt file: the text is pinned, saving and opening give the same design and bytes, and every refusal says
//! where and what to do.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::fs;

use common::{
    Dice, LIGHT, QUILTS, cell, edit_from, edited, families, file_text, half_block, quilt_of, quilts, side_of, starter,
    straight, triangles,
};
use geometry::{Exact, Length, Measure, PatchKey, Recipe, Role, Size};
use layout::file::{Document, FileError, MAX_VARIANTS, Variant};
use layout::{Corner, Design, Edit, FabricId, Overwrite, PlaceId, Side, apply};
use num_bigint::BigInt;
use proptest::prelude::*;

fn text(design: &Design) -> String {
    String::from_utf8(file_text(design)).unwrap()
}

fn opened(bytes: &[u8]) -> Design {
    Document::from_bytes(bytes).unwrap().variants()[0].design.clone()
}

fn check_round_trip(design: &Design, told: &str) {
    let saved = file_text(design);
    let again = opened(&saved);
    assert_eq!(again, *design, "{told}");
    assert_eq!(file_text(&again), saved, "{told}");
}

#[test]
fn the_text_is_pinned() {
    let design = starter(&[half_block(12)], straight(1, 2), &[2]).design().unwrap();
    let paint = Edit::PaintPatch { place: cell(0, 1), patch: PatchKey(0), fabric: FabricId(4) };
    insta::assert_snapshot!(text(&apply(&design, &paint).unwrap().0));
}

#[test]
fn every_family_comes_back() {
    for (family, recipe) in families() {
        check_round_trip(&quilt_of(family, &recipe), family);
    }
}

#[test]
fn paint_of_borders_and_row_ends_comes_back() {
    let mut design = starter(&[Recipe::SixtyUnit(side_of(6))], triangles(2, 3), &[2]).design().unwrap();
    for place in
        [PlaceId::RowEnd { row: 1, side: Side::Right }, PlaceId::Border { border: 0, side: Side::Top }, cell(1, 2)]
    {
        design = apply(&design, &Edit::PaintPatch { place, patch: PatchKey(0), fabric: FabricId(4) }).unwrap().0;
    }
    let edit = Edit::PaintRoleHere { place: cell(0, 0), role: Role::new("diamond").unwrap(), fabric: FabricId(2) };
    check_round_trip(&apply(&design, &edit).unwrap().0, "paint");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_edited_quilt_comes_back(which in 0..QUILTS, dice in prop::collection::vec(any::<Dice>(), 0..24)) {
        let mut design = quilts().swap_remove(which);
        for roll in dice {
            if let Ok((next, _)) = apply(&design, &edit_from(&design, roll)) {
                design = next;
            }
        }
        check_round_trip(&design, "edited");
    }

    /// Sizes of all kinds, also with integers that only fit in quotes.
    #[test]
    fn any_size_comes_back(num in [any::<i64>(), any::<i64>(), any::<i64>(), any::<i64>()], den in 1_i64..i64::MAX, shift in 0_u32..60) {
        let number = Exact::from_parts(num.map(BigInt::from), BigInt::from(den) << shift).unwrap();
        let Ok(length) = Length::new(number) else { return Ok(()) };
        let size = Size { by: Measure::Block, length };
        let Ok(design) = starter(&[Recipe::TiltedStar(size)], straight(1, 2), &[]).design() else { return Ok(()) };
        check_round_trip(&design, "size");
    }
}

#[test]
fn variants_come_back_in_order() {
    let variants: Vec<Variant> =
        (1..).zip(quilts()).map(|(i, design)| Variant { label: format!("Number {i}"), design }).collect();
    let document = Document::with_variants(variants.clone()).unwrap();
    assert_eq!(Document::from_bytes(&document.to_bytes().unwrap()).unwrap(), document);
    let told = |variants| Document::with_variants(variants).unwrap_err().to_string();
    assert_eq!(told(Vec::new()), "variants: a file has 1 to 50 variants, not 0");
    assert_eq!(told(vec![variants[0].clone(); MAX_VARIANTS + 1]), "variants: a file has 1 to 50 variants, not 51");
}

#[test]
fn numbers_need_not_be_in_lowest_terms() {
    let design = quilts().swap_remove(0);
    let text = text(&design);
    for (given, meant) in
        [("[24,0,0,0,2]", "[12,0,0,0,1]"), ("[-12,0,0,0,-1]", "[12,0,0,0,1]"), ("[\"12\",0,0,0,\"1\"]", "[12,0,0,0,1]")]
    {
        let other = text.replace(meant, given);
        assert_ne!(other, text);
        assert_eq!(opened(other.as_bytes()), design, "{given}");
        assert_eq!(file_text(&opened(other.as_bytes())), text.as_bytes());
    }
    assert_eq!(opened(format!("\u{feff}{text}").as_bytes()), design, "a byte order mark");
}

/// The file of a family with one piece of text replaced, and the whole message it is refused with.
#[test]
#[expect(clippy::too_many_lines, reason = "a table of refusals")]
fn refusals_say_where_and_what_to_do() {
    let rows = [
        (
            "plain",
            "\"version\": 1",
            "\"version\": 2",
            "this file has version 2, and this program reads versions up to 1; update the program to open it",
        ),
        (
            "plain",
            "\"version\": 1",
            "\"version\": 0",
            "there is no file version 0; this file is damaged or made by hand: set \"version\" to 1",
        ),
        (
            "plain",
            "lozenge quilt",
            "shopping list",
            "this is not a quilt file: its \"format\" should be \"lozenge quilt\"",
        ),
        (
            "plain",
            "{\"width\":[2,0,0,0,1]",
            "{\"width\":[2.5,0,0,0,1]",
            "line 55, column 17: invalid type: floating point `2.5`, expected a whole number, or one in quotes when it is beyond 2^53; correct the file there or open a copy",
        ),
        (
            "plain",
            "{\"width\":[2,0,0,0,1]",
            "{\"width\":[2,0,0,0,0]",
            "line 55, column 24: the last of the five integers, the denominator, must not be 0; correct the file there or open a copy",
        ),
        (
            "plain",
            "{\"width\":[2,0,0,0,1]",
            "{\"width\":[-2,0,0,0,1]",
            "variants[0].borders[0].width: a length must be more than 0",
        ),
        (
            "plain",
            "{\"width\":[2,0,0,0,1],\"fabric\":1}",
            "{\"width\":[2,0,0,0,1],\"fabric\":9}",
            "variants[0].borders[0].fabric: there is no fabric 9; choose one of the quilt's fabrics",
        ),
        (
            "plain",
            "{\"row\":1,\"column\":1,\"block\":1,",
            "{\"row\":1,\"column\":1,\"block\":7,",
            "variants[0].places[4].block: there is no block 7; choose one of the quilt's blocks",
        ),
        (
            "plain",
            "{\"row\":1,\"column\":1,",
            "{\"row\":65535,\"column\":1,",
            "variants[0]: there is no place at row 65536, column 2 in this setting",
        ),
        (
            "plain",
            "{\"row\":1,\"column\":1,",
            "{\"row\":0,\"column\":1,",
            "variants[0].places[4]: this stands twice; leave one of them out",
        ),
        (
            "plain",
            "\"rows\": 2",
            "\"rows\": 3",
            "variants[0]: no block stands in row 3, column 1; every cell of the setting needs one",
        ),
        (
            "plain",
            "{\"id\":2,\"name\":\"Oat\"",
            "{\"id\":1,\"name\":\"Oat\"",
            "variants[0].blocks[0].roles[0].fabric: there is no fabric 2; choose one of the quilt's fabrics",
        ),
        ("plain", "{\"id\":4,", "{\"id\":3,", "variants[0].fabrics[3]: this stands twice; leave one of them out"),
        (
            "plain",
            "#4b1d3f",
            "plum",
            "variants[0].fabrics[0].colour: a colour is written #rrggbb, six hexadecimal digits",
        ),
        (
            "on-axis star",
            "\"by\":\"block side\",\"length\":[12,0,0,0,1]",
            "\"by\":\"diamond side\",\"length\":[3,0,0,0,1]",
            "variants[0].blocks[0]: block \"Block 1\": the block side of an on-axis star with this diamond side has no exact size; the nearest exact choices are 709/64 in (11.0781 in) and 355/32 in (11.0938 in)",
        ),
        (
            "diagonal half block",
            "\"length\":[12,0,0,0,1]}",
            "\"length\":[12,0,0,0,1]},\"band\":[5,0,0,0,1]",
            "variants[0].blocks[0]: block \"Block 1\": the diamond side of a diagonal half block must be more than 0 and at most 4.9706 of its 12.0000 in side (block side × (√2 − 1) = 4.9706)",
        ),
        (
            "own",
            "\"corners\":[[[0,0,0,0,1],[0,0,0,0,1]],[[6,0,0,0,1]",
            "\"corners\":[[[0,0,0,0,1],[0,0,0,0,1]],[[5,0,0,0,1]",
            "variants[0].blocks[0]: block \"Block 1\": the patches do not tile the block: near x = 5.0000 in, y = 0.0000 in there is a gap: 6.0000 square inches too little in all; correct the corners there",
        ),
        (
            "own",
            "\"half\":0",
            "\"half\":0,\"value\":\"dark\"",
            "variants[0].blocks[0].recipe.patches[0]: give exactly one of value, half and against_half",
        ),
    ];
    for (family, old, new, told) in rows {
        let recipe = families().into_iter().find(|(name, _)| *name == family).unwrap().1;
        let text = text(&quilt_of(family, &recipe));
        assert!(text.contains(old), "{old}");
        let refused = Document::from_bytes(text.replacen(old, new, 1).as_bytes()).unwrap_err();
        assert_eq!(refused.to_string(), told);
    }
}

/// The text of one of the quilts for random edits, with the one patch of `place` painted.
fn painted(quilt: usize, place: PlaceId) -> String {
    text(&edited(&quilts()[quilt], &[Edit::PaintPatch { place, patch: PatchKey(0), fabric: LIGHT }]))
}

/// For each row, `text` with the first replaced by the second is refused in the words of the third.
fn check_refusals(text: &str, rows: &[(&str, &str, &str)]) {
    for (old, new, told) in rows {
        assert!(text.contains(old), "{old} in {text}");
        let refused = Document::from_bytes(text.replacen(old, new, 1).as_bytes()).unwrap_err();
        assert_eq!(refused.to_string(), *told);
    }
}

/// What blocks on point add to a file is as strict as the rest of it.
#[test]
fn refusals_of_settings_on_point() {
    let rows = [
        ("\"float\": [1,0,0,0,1]", "\"float\": [0,0,0,0,1]", "variants[0].setting.float: a length must be more than 0"),
        (
            "\"float\": [1,0,0,0,1]",
            "\"float\": [9,0,0,0,1]",
            "variants[0]: the float must be less than 8.485 in, half the long side of a side triangle",
        ),
        (
            "\"corner\":\"top left\"",
            "\"side\":\"left\"",
            "variants[0].paint.patches[0].at: a corner triangle has a corner",
        ),
        (
            "\"corners\": 4",
            "\"corners\": 44",
            "variants[0].setting.corners: there is no fabric 44; choose one of the quilt's fabrics",
        ),
    ];
    check_refusals(&painted(5, PlaceId::CornerTriangle(Corner::TopLeft)), &rows);
}

/// So is sashing.
#[test]
fn refusals_of_sashing() {
    let rows = [
        (
            "\"cornerstones\": 4",
            "\"cornerstones\": 44",
            "variants[0].sashing.cornerstones: there is no fabric 44; choose one of the quilt's fabrics",
        ),
        (
            "\"sash between rows\",\"row\":1",
            "\"sash between rows\",\"row\":7",
            "variants[0]: there is no place at sash above row 8 in column 2 in this setting",
        ),
        ("\"sash between rows\"", "\"long sash\"", "variants[0].paint.patches[0].at: a long sash has a row"),
    ];
    check_refusals(&painted(6, PlaceId::Sash { row: 1, column: 1, level: true }), &rows);
}

/// So are borders.
#[test]
fn refusals_of_borders() {
    let rows = [
        (
            "\"pieced\":{\"block\":1",
            "\"mitred\":true,\"pieced\":{\"block\":1",
            "variants[0].borders[0]: give at most one of mitred, corner_squares and pieced",
        ),
        (
            "\"pieced\":{\"block\":1",
            "\"pieced\":{\"block\":11",
            "variants[0].borders[0].pieced.block: there is no block 11; choose one of the quilt's blocks",
        ),
        (
            "\"pieced\":{\"block\":1",
            "\"pieced\":{\"turn\":4,\"block\":1",
            "variants[0].borders[0].pieced.turn: a block has 0 to 3 quarter turns",
        ),
        (
            "\"index\":1",
            "\"index\":3",
            "variants[0]: there is no place at block 4 on the top side of border 1 in this setting",
        ),
        (",\"index\":1", "", "variants[0].paint.patches[0].at: a border block has border, side and index"),
    ];
    check_refusals(&painted(9, PlaceId::BorderBlock { border: 0, side: Side::Top, index: 1 }), &rows);
}

#[test]
fn broken_text_is_told_by_line() {
    let text = text(&quilts().swap_remove(0));
    let cut = Document::from_bytes(&text.as_bytes()[..text.len() / 2]).unwrap_err();
    assert!(matches!(&cut, FileError::Syntax { line, .. } if *line > 10), "{cut}");
    assert!(cut.to_string().contains("EOF while parsing"), "{cut}");
    let unknown = text.replacen("\"units\"", "\"unit\\u001b\"", 1);
    let told = Document::from_bytes(unknown.as_bytes()).unwrap_err().to_string();
    assert!(told.starts_with("line 8, column 15: unknown field `unit\u{fffd}`, expected one of"), "{told}");
    assert!(Document::from_bytes(b"").unwrap_err().to_string().starts_with("line 1, column 0: EOF"));
}

#[test]
fn a_failed_open_or_save_leaves_the_file_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("old.quilt");
    fs::write(&path, "not a quilt").unwrap();
    assert!(Document::open(&path).is_err());
    let document = Document::new(quilts().swap_remove(0));
    assert!(document.save(&path, Overwrite::Refuse).is_err());
    assert_eq!(fs::read(&path).unwrap(), b"not a quilt");
    document.save(&path, Overwrite::Replace).unwrap();
    assert_eq!(Document::open(&path).unwrap(), document);
    let missing = Document::open(&folder.path().join("none.quilt")).unwrap_err().to_string();
    assert!(missing.starts_with("cannot read: ") && missing.ends_with("none.quilt"), "{missing}");
}

/// The example of the format's description is a quilt, and is what the program would write but for line breaks.
#[test]
fn the_described_example_opens() {
    let described = include_str!("../FILE_FORMAT.md");
    let example = described.split("```json\n").nth(1).unwrap().split("```").next().unwrap();
    let document = Document::from_bytes(example.as_bytes()).unwrap();
    let bare = |text: &str| text.split_whitespace().collect::<String>();
    assert_eq!(bare(std::str::from_utf8(&document.to_bytes().unwrap()).unwrap()), bare(example));
}

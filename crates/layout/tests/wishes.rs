//! Stock of fabrics and wishes for the cutting plan: saved, left out at their usual values, bounded, undone.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::fs;
use std::path::Path;

use common::{DARK, file_text, inches, quilts, wished};
use geometry::Length;
use layout::file::Document;
use layout::{
    Colour, CuttingWishes, Design, Edit, EditError, Fabric, History, InHand, Look, MethodKind, Precut, Price,
    RulerRounding, Sold, Touched, apply,
};

fn text(design: &Design) -> String {
    String::from_utf8(file_text(design)).unwrap()
}

fn opened(text: &str) -> Result<Design, String> {
    Document::from_bytes(text.as_bytes()).map(|d| d.variants()[0].design.clone()).map_err(|e| e.to_string())
}

#[test]
fn stock_and_wishes_come_back() {
    let design = wished();
    let text = text(&design);
    assert_eq!(opened(&text).unwrap(), design);
    let (head, _) = text.split_once("   \"blocks\"").unwrap();
    insta::assert_snapshot!(head);
}

/// Files from before there were wishes are written again byte for byte.
#[test]
fn usual_values_are_left_out() {
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts");
    let mut count = 0;
    for entry in fs::read_dir(samples).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|e| e == "json") {
            let bytes = fs::read(&path).unwrap();
            assert!(Document::from_bytes(&bytes).unwrap().to_bytes().unwrap() == bytes, "{}", path.display());
            count += 1;
        }
    }
    assert!(count > 2);
    for design in quilts() {
        let text = text(&design);
        for word in ["cutting", "precut", "in_hand", "bolt_width", "price", "mixed_from"] {
            assert!(!text.contains(word), "{word}");
        }
        for (given, then) in [
            ("\"print\":\"tossed\"", "\"print\":\"tossed\",\"in_hand\":[],\"mixed_from\":1"),
            ("   \"fabrics\"", "   \"cutting\":{},\n   \"fabrics\""),
            (
                "   \"fabrics\"",
                "   \"cutting\":{\"ruler\":\"up\",\"cut_worth\":0,\"spare_permille\":0,\"squaring_every\":0,\"avoid\":\
                 [\"folded\",\"paired squares\",\"strip sets\",\"onto strips\"]},\n   \"fabrics\"",
            ),
        ] {
            let spelled = text.replacen(given, then, 1);
            assert_ne!(spelled, text);
            assert_eq!(opened(&spelled).unwrap(), design);
        }
    }
}

/// A quilt with every wish, one piece of its text replaced, and what it is refused with.
#[test]
#[expect(clippy::too_many_lines, reason = "a table of refusals")]
fn wishes_out_of_bounds_are_refused_by_field() {
    let fabric = |rest: &str| format!("variants[0].fabrics[0].{rest}");
    let cutting = |rest: &str| format!("variants[0].cutting.{rest}");
    let rows = [
        (
            "\"cut_worth\": 25",
            "\"cut_worth\": 101",
            cutting("cut_worth: what a cut is worth, in hundredths of an inch, must be 0 to 100, not 101"),
        ),
        (
            "\"spare_permille\": 50",
            "\"spare_permille\": 501",
            cutting("spare_permille: spare pieces in thousandths must be 0 to 500, not 501"),
        ),
        (
            "\"squaring_every\": 6",
            "\"squaring_every\": 1001",
            cutting("squaring_every: the number of strips between two squarings must be 0 to 1000, not 1001"),
        ),
        (
            "\"oversize\": [1,0,0,0,2]",
            "\"oversize\": [9,0,0,0,2]",
            cutting("oversize: the oversize margin must be at most 4 in"),
        ),
        ("\"oversize\": [1,0,0,0,2]", "\"oversize\": [0,0,0,0,2]", cutting("oversize: a length must be more than 0")),
        (
            "[\"templates\",\"lengthwise\"]",
            "[\"templates\",\"templates\"]",
            cutting("avoid[1]: this stands twice; leave one of them out"),
        ),
        (
            "\"price\":100",
            "\"price\":100000001",
            fabric("price: a price in hundredths must be 0 to 100000000, not 100000001"),
        ),
        (
            "\"mixed_from\":3",
            "\"mixed_from\":0",
            fabric("mixed_from: the number of fabrics in a mix must be 1 to 100, not 0"),
        ),
        (
            "\"bolt_width\":[44",
            "\"bolt_width\":[39",
            fabric(
                "bolt_width: a bolt is at least as wide as what can be cut from it; give its width from selvage to \
                 selvage",
            ),
        ),
        (
            "\"count\":60",
            "\"count\":1001",
            fabric("in_hand[0].count: the count of a piece in hand must be 1 to 1000, not 1001"),
        ),
        (
            "\"precut\":{\"width\":[2750",
            "\"precut\":{\"width\":[-2750",
            fabric("precut.width: a length must be more than 0"),
        ),
    ];
    let text = text(&wished());
    for (old, new, told) in rows {
        assert!(text.contains(old), "{old} in {text}");
        assert_eq!(opened(&text.replacen(old, new, 1)).unwrap_err(), told);
    }
    for (old, new, told) in [
        ("\"nearest\"", "\"down\"", "unknown variant `down`, expected `up` or `nearest`"),
        ("\"templates\"", "\"weaving\"", "unknown variant `weaving`, expected one of `cut squares`"),
        ("\"cut_worth\": 25", "\"cut_worth\": 2.5", "invalid type: floating point `2.5`"),
        ("\"spare_permille\"", "\"spare\"", "unknown field `spare`"),
    ] {
        let refused = opened(&text.replacen(old, new, 1)).unwrap_err();
        assert!(refused.starts_with("line ") && refused.contains(told), "{refused}");
    }
    let piece = "{\"width\":[1,0,0,0,1],\"length\":[18,0,0,0,7],\"count\":60}";
    let refused = opened(&text.replacen(piece, &vec![piece; 51].join(","), 1)).unwrap_err();
    assert_eq!(
        refused,
        "variants[0].fabrics[0].in_hand: a quilt may have at most 50 kinds of pieces in hand of one fabric, not 51"
    );
}

#[test]
fn edits_out_of_bounds_are_refused() {
    let design = wished();
    let usual = CuttingWishes::default();
    let oversize = |num| Some(Length::inch_fraction(num, 8).unwrap());
    for (wishes, is_good) in [
        (CuttingWishes { cut_worth: 100, ..usual.clone() }, true),
        (CuttingWishes { cut_worth: 101, ..usual.clone() }, false),
        (CuttingWishes { spare_permille: 500, ..usual.clone() }, true),
        (CuttingWishes { spare_permille: 501, ..usual.clone() }, false),
        (CuttingWishes { squaring_every: 1000, ..usual.clone() }, true),
        (CuttingWishes { squaring_every: 1001, ..usual.clone() }, false),
        (CuttingWishes { oversize: oversize(32), ..usual.clone() }, true),
        (CuttingWishes { oversize: oversize(33), ..usual.clone() }, false),
    ] {
        let done = apply(&design, &Edit::SetCutting(wishes.clone()));
        assert_eq!(done.as_ref().ok().map(|(next, _)| next.cutting()), is_good.then_some(&wishes));
        let mut parts = design.parts();
        parts.cutting = wishes;
        assert_eq!(Design::assemble(parts).is_ok(), is_good, "through the other door");
    }
    let old = design.fabric(DARK).unwrap();
    let piece = |count| InHand { width: inches(9), length: inches(9), count };
    for (fabric, refused) in [
        (Fabric { in_hand: vec![piece(0)], ..old.clone() }, "the count of a piece in hand must be 1 to 1000, not 0"),
        (Fabric { mixed_from: 101, ..old.clone() }, "the number of fabrics in a mix must be 1 to 100, not 101"),
        (
            Fabric { in_hand: vec![piece(1); 51], ..old.clone() },
            "a quilt may have at most 50 kinds of pieces in hand of one fabric, not 51",
        ),
    ] {
        for edit in [Edit::AddFabric(fabric.clone()), Edit::ChangeFabric { id: DARK, fabric: fabric.clone() }] {
            assert_eq!(apply(&design, &edit).unwrap_err().to_string(), refused);
        }
    }
    let narrow = Fabric { bolt_width: Some(inches(39)), ..old.clone() };
    assert_eq!(apply(&design, &Edit::AddFabric(narrow)).unwrap_err(), EditError::NarrowBolt);
}

#[test]
fn wishes_are_undone() {
    let start = quilts().swap_remove(0);
    let mut history = History::new(start.clone());
    let wishes = CuttingWishes { ruler: RulerRounding::Nearest, avoid: [].into(), ..CuttingWishes::default() };
    history.apply(&Edit::SetCutting(wishes.clone())).unwrap();
    assert_eq!((history.design().cutting(), history.undo_label()), (&wishes, Some("Change cutting wishes")));
    assert!(history.undo());
    assert_eq!(*history.design(), start);
    assert!(!start.cutting().avoid.contains(&MethodKind::CutSquares), "it asks for no decision about sewing");
}

/// How a fabric looks is nothing to the cutting plan; whatever is cut or bought is.
#[test]
fn changes_of_stock_touch_the_plan() {
    let design = quilts().swap_remove(0);
    let old = design.fabric(DARK).unwrap();
    let precut = || Precut::usual(&old.usable_width).unwrap().swap_remove(0).1;
    let look = Look::Plain(Colour::rgb(1, 2, 3));
    for (fabric, touched) in [
        (Fabric { name: "Sloe".into(), look, ..old.clone() }, Touched::Nothing),
        (Fabric { sold: Sold::Precut(precut()), ..old.clone() }, Touched::Plans),
        (Fabric { price: Some(Price::new(1250).unwrap()), ..old.clone() }, Touched::Plans),
        (Fabric { mixed_from: 2, ..old.clone() }, Touched::Plans),
        (
            Fabric { in_hand: vec![InHand { width: inches(9), length: inches(9), count: 1 }], ..old.clone() },
            Touched::Plans,
        ),
    ] {
        assert_eq!(apply(&design, &Edit::ChangeFabric { id: DARK, fabric }).unwrap().1.touched, touched);
    }
}

//! Lists and sheets of a quilt as data and as pages.

use crate::pdf_words::{plain, words};

use std::collections::{BTreeMap, BTreeSet};

use cutting::{Ledger, Planner};
use geometry::{Length, Measure, Recipe, Size, Value};
use layout::{
    BuyingStep, Colour, ColourScheme, Design, Edit, Fabric, FabricId, InHand, Price, Setting, Starter, Tally, Units,
    apply,
};
use piecing::QuiltPlan;
use publish::exports::{cutting_list, cutting_table, share_sheet, shopping_list, testers_sheet};
use publish::{About, Offered, Paper};

/// Twelve diagonal half blocks in two fabrics of our own invention.
fn quilt() -> Design {
    let length = |inches| Length::whole_inches(inches).unwrap();
    let fabric = |name: &str, colour: &str, value| (name.to_owned(), Colour::parse(colour).unwrap(), value);
    let size = Size { by: Measure::Block, length: length(8) };
    let starter = Starter {
        name: "Lantern walk".to_owned(),
        units: Units::Inches,
        fabrics: vec![fabric("Plum", "#4b1d3f", Value::Dark), fabric("Oat", "#efe6d2", Value::Light)],
        blocks: vec![("Half star".to_owned(), Recipe::TiltedStar(size))],
        scheme: ColourScheme::Two { dark: FabricId(1), light: FabricId(2) },
        setting: Setting::Straight { rows: 4, columns: 3 },
        borders: vec![(length(2), FabricId(1))],
        binding: FabricId(1),
    };
    starter.design().unwrap()
}

fn changed(design: &Design, id: FabricId, change: impl FnOnce(&mut Fabric)) -> Design {
    let mut fabric = design.fabric(id).unwrap().clone();
    change(&mut fabric);
    apply(design, &Edit::ChangeFabric { id, fabric }).unwrap().0
}

fn with<T>(design: &Design, use_it: impl FnOnce(&Offered<'_>) -> T) -> T {
    let ledger = Ledger::new(design, &Tally::count(design).unwrap()).unwrap();
    let plans = ledger.plans();
    use_it(&Offered { label: "First", design, ledger: &ledger, plans, sewn: &[], planner: Planner::Quick })
}

fn about(design: &Design) -> About {
    About { author: "A. Maker".into(), edition: "Edition 3".into(), ..About::quilt(design, Paper::A4) }
}

/// What is priced is summed, what is at hand is told, and both stand on paper.
#[test]
fn prices_and_pieces_at_hand_are_listed() {
    let design = quilt();
    let priced = changed(&design, FabricId(2), |fabric| {
        fabric.price = Some(Price::new(1250).unwrap());
        let side = Length::whole_inches(18).unwrap();
        fabric.in_hand = vec![InHand { width: side.clone(), length: side, count: 2 }];
    });
    with(&priced, |quilt| {
        let list = shopping_list(quilt, &about(&priced)).unwrap();
        let names: Vec<&str> = list.rows.iter().map(|row| row.name.as_str()).collect();
        assert_eq!(names, ["Plum", "Oat", "Backing", "Batting"]);
        assert_eq!(list.rows[1].at_hand, "2 pieces at hand 18″ × 18″");
        let plan = quilt.plans[&FabricId(2)].as_ref().unwrap();
        assert_eq!(list.rows[1].cost, plan.all_parts().cost().unwrap().to_string());
        assert_eq!((list.rows[0].cost.as_str(), &list.total), ("", &list.rows[1].cost));
        let paper = words(&list.pages().unwrap());
        for row in &list.rows {
            for figure in [&row.name, &row.used_for, &row.takes, &row.at_hand, &row.buy, &row.cost] {
                assert!(paper.contains(&plain(figure)), "{figure} in {paper}");
            }
        }
        assert!(paper.contains("Edition3") && paper.contains("A.Maker"), "{paper}");
        let table = list.table();
        assert_eq!(table.head.last().unwrap(), "Edition");
        assert!(table.rows.iter().all(|row| row.last() == Some(&about(&priced).edition)), "{:?}", table.rows);
    });
    assert_eq!(priced.buying().step, BuyingStep::EighthYard);
    with(&design, |quilt| assert_eq!(shopping_list(quilt, &about(&design)).unwrap().total, ""));
}

#[test]
fn pieces_of_the_cutting_list_are_those_of_the_plan_and_name_their_blocks() {
    let design = quilt();
    with(&design, |quilt| {
        let lines = cutting_list(quilt).unwrap();
        let mut made: BTreeMap<(String, u32), u64> = BTreeMap::new();
        for line in &lines {
            *made.entry((line.fabric.clone(), line.piece.0)).or_default() += line.count();
        }
        for plan in quilt.plans.values().map(|plan| plan.as_ref().unwrap()) {
            let name = &design.fabric(plan.fabric).unwrap().name;
            for piece in &plan.pieces {
                assert_eq!(made.remove(&(name.clone(), piece.prepared.id().0)), Some(piece.from_strips()), "{name}");
            }
        }
        assert!(made.is_empty(), "{made:?}");
        let of = |label: &str| -> BTreeSet<&str> {
            let lines = lines.iter().filter(|line| line.name.starts_with(label));
            lines.flat_map(|line| &line.used_in).map(String::as_str).collect()
        };
        assert_eq!(of("diamond"), BTreeSet::from(["Half star"]));
        assert_eq!(of("border"), BTreeSet::from(["border 1, sides", "border 1, top and bottom"]));
        assert!(of("binding strip").is_empty());
        let table = cutting_table(&lines, Units::Inches);
        assert!(table.rows.iter().all(|row| row.len() == table.head.len()));
        assert!(table.head.contains(&"Strip width (in)".to_owned()));
    });
}

/// However many fabrics there are and whatever they are called, the share sheet is one page and its picture stays.
#[test]
fn the_share_sheet_is_one_page() {
    let mut design = quilt();
    for number in 0..40_u8 {
        let name = format!("{number} {}", "very long name of a fabric ".repeat(4));
        let width = Length::whole_inches(40).unwrap();
        let fabric = Fabric::plain(name, Colour::rgb(number, 90, 120), Value::Medium, width);
        design = apply(&design, &Edit::AddFabric(fabric)).unwrap().0;
        let (place, patch) = {
            let (place, placed) = design.places().nth(usize::from(number) % 12).unwrap();
            let patches = design.block(placed.block).unwrap().block().patches();
            (place, patches[usize::from(number) / 12].key)
        };
        let fabric = FabricId(u32::from(number) + 3);
        design = apply(&design, &Edit::PaintPatch { place, patch, fabric }).unwrap().0;
    }
    let wordy = About { author: "A. Maker ".repeat(12), edition: "Edition3 ".repeat(12), ..about(&design) };
    with(&design, |quilt| {
        let (sheet, figures) = share_sheet(quilt, &wordy).unwrap();
        assert_eq!(sheet.rows.len(), 22);
        assert_eq!(sheet.blocks.len(), 1, "one kind of block, with its picture");
        assert_eq!(sheet.more_fabrics, "and 22 more, as in the shopping list");
        let pages = sheet.pages(&figures).unwrap();
        assert_eq!(pages.count(), 1);
        let text = words(&pages);
        for row in &sheet.rows {
            assert!(text.contains(&plain(&row.name)) && text.contains(&plain(&row.buy)), "{}: {text}", row.name);
        }
        assert!(text.contains("Edition3") && text.contains("Halfstar:12,8″×8″"), "{text}");
        // The picture's first fabric covers more than a twentieth of the page.
        let picture = pages.picture(0, 30.0).unwrap();
        let plum = picture.rgba.chunks(4).filter(|pixel| pixel[..3] == [0x4b, 0x1d, 0x3f]).count();
        assert!(plum * 20 > picture.rgba.len() / 4, "{plum} of {}", picture.rgba.len() / 4);
    });
}

#[test]
fn the_testers_sheet_has_every_size_and_room_for_another() {
    let design = quilt();
    let sewing = QuiltPlan::new(&design, &BTreeMap::new()).unwrap();
    with(&design, |quilt| {
        let sheet = testers_sheet(quilt, &sewing, &about(&design)).unwrap();
        let sizes: Vec<&[String; 2]> = sheet.measures.iter().flat_map(|part| &part.rows).collect();
        let printed = |what: &str| &sizes.iter().find(|row| row[0].starts_with(what)).unwrap()[1];
        // Eight-inch blocks in four rows of three, two inches of border all round, quarter-inch seams.
        assert_eq!(printed("Finished quilt"), "28″ × 36″");
        assert_eq!(printed("Top, before"), "28½″ × 36½″");
        assert_eq!(printed("Centre, before"), "24½″ × 32½″");
        let last = sizes.iter().find(|row| row[0].contains(", the block")).unwrap();
        assert_eq!(last[1], "8½″ × 8½″");
        assert!(sheet.work.contains(&"Sewing one Half star".to_owned()));
        let text = words(&sheet.pages().unwrap());
        let figures = sizes.iter().flat_map(|row| row.iter()).chain(sheet.materials.iter().map(|row| &row.buy));
        for figure in figures.chain(&sheet.work) {
            assert!(text.contains(&plain(figure)), "{figure} in {text}");
        }
        assert!(text.contains("Edition3"), "{text}");
    });
}

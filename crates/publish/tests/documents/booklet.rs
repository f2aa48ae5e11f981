//! The booklet as data, and the photos it takes.

use std::path::Path;

use cutting::{Ledger, Planner};
use layout::file::Document;
use layout::{Design, Tally};
use piecing::{CuttingHand, QuiltPlan};
use publish::booklet::{BookletData, MAX_PHOTO_BYTES, booklet_data};
use publish::{
    About, BookletInput, BookletOptions, Offered, Paper, Photo, PublishError, Seams, booklet, png, quilt_picture,
};

/// A sample's first variant.
fn sample(name: &str) -> Design {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts");
    Document::open(&folder.join(name)).unwrap().variants()[0].design.clone()
}

fn options(design: &Design, paper: Paper) -> BookletOptions {
    let about = About::quilt(design, paper);
    BookletOptions { about, photo: None, hand: CuttingHand::Right }
}

/// Calls `look` with what a booklet of the design is made from, quick plans in it.
fn with_input<T>(design: &Design, look: impl FnOnce(&BookletInput<'_>) -> T) -> T {
    let ledger = Ledger::new(design, &Tally::count(design).unwrap()).unwrap();
    let sewing = QuiltPlan::new(design, &std::collections::BTreeMap::new()).unwrap();
    let (plans, sewn) = (ledger.plans(), [].as_slice());
    let offered = [Offered { label: "First", design, ledger: &ledger, plans, sewn, planner: Planner::Quick }];
    look(&BookletInput { quilt: offered[0], sewing: &sewing, offered: &offered })
}

fn data(design: &Design) -> BookletData {
    with_input(design, |input| booklet_data(input, &options(design, Paper::A4)).unwrap().0)
}

#[test]
fn words_are_explained_only_where_they_are_used() {
    let crib = data(&sample("crib-night-ferry.json"));
    let king = data(&sample("king-lantern-orchard.json"));
    let has = |data: &BookletData, term: &str| data.glossary.iter().any(|entry| entry.term == term);
    for term in ["Binding", "Backing", "Seam allowance", "Unit"] {
        assert!(has(&crib, term) && has(&king, term), "{term}");
    }
    for term in ["Cornerstone", "On point"] {
        assert!(!has(&crib, term) && has(&king, term), "{term}");
    }
}

#[test]
fn kinds_of_block_stand_in_all_places() {
    for name in ["crib-night-ferry.json", "king-lantern-orchard.json", "queen-weathervane.json"] {
        let design = sample(name);
        let data = data(&design);
        let places: usize = design.blocks().map(|(id, _)| design.places_of(id).count()).sum();
        assert_eq!(data.top.kinds.iter().map(|kind| kind.count).sum::<u64>(), places as u64, "{name}");
        assert_eq!(data.sewing.iter().map(|block| block.copies).sum::<u64>(), places as u64, "{name}");
    }
}

/// By hand: 7 rows of hexagons meet in 6 seams of 9 pivots each, and 8 edge triangles are set in: 62. The quilt is 5 × 4√3 in
/// and two borders of 2 in wide, 38.641 in, and its backing 8 in more, which no ruler has.
#[test]
fn rows_of_hexagons_are_graded_and_their_backing_is_cut_by_the_ruler() {
    let data = data(&sample("crib-pebble-ford.json"));
    let set_in = &data.facts.skill.reasons[0];
    assert_eq!((set_in.name.as_str(), set_in.told.as_str()), ("Set-in seams", "62 pivots between hexagons of the top"));
    assert_eq!(set_in.points, 2);
    assert!(data.finishing.backing[0].contains("Cut 2 panels 46¾″ long"), "{:?}", data.finishing.backing);
    assert!(data.finishing.backing[1].starts_with("Trim the backing to 46¾″ × 56″"), "{:?}", data.finishing.backing);
    let backing = data.fabrics[0].rows.iter().find(|row| row.name == "Backing").unwrap();
    assert_eq!(backing.takes, "93½″ long, 40″ wide", "two panels of 46¾ in");
    assert_eq!(data.cover.size, "about 38⅝″ × 48″");
}

#[test]
fn one_block_alone_has_no_drawing_of_rows() {
    let medallion = data(&sample("lap-wellhouse-green.json"));
    assert!(medallion.top.rows.is_none() && medallion.top.notes.is_empty());
    assert_eq!(medallion.top.kinds.len(), 5, "blocks of its rounds are kinds too");
    assert!(data(&sample("crib-night-ferry.json")).top.rows.is_some());
}

#[test]
fn sections_are_told_to_be_joined() {
    let told = |name| data(&sample(name)).cutting.notes.iter().any(|note| note.contains("sew them end to end"));
    assert!(told("crib-night-ferry.json"), "its borders are longer than 40 in");
    let mut small = sample("crib-night-ferry.json");
    small = layout::apply(&small, &layout::Edit::SetBorders(Vec::new())).unwrap().0;
    let notes = data(&small).cutting.notes;
    assert!(!notes.iter().any(|note| note.contains("sew them end to end")), "{notes:?}");
}

#[test]
fn every_page_has_the_paper_asked_for() {
    let design = sample("crib-night-ferry.json");
    for paper in Paper::ALL {
        let pages = with_input(&design, |input| booklet(input, &options(&design, paper)).unwrap());
        let [width, height] = paper.size_in();
        for page in 0..pages.count() {
            let picture = pages.picture(page, 10.0).unwrap();
            let near = |pixels: u32, inches: f64| (f64::from(pixels) - inches * 10.0).abs() <= 1.0;
            assert!(near(picture.width, width) && near(picture.height, height), "{paper:?}, page {page}");
        }
    }
}

/// A sheet of templates says which of them it is, and which page of the booklet.
#[test]
fn sheets_of_templates_are_numbered_as_sheets_and_as_pages() {
    let design = sample("crib-night-ferry.json");
    let sheets = data(&design).templates.len();
    let pdf = with_input(&design, |input| booklet(input, &options(&design, Paper::A4)).unwrap()).pdf().unwrap();
    let pdf = lopdf::Document::load_mem(&pdf).unwrap();
    let pages = pdf.get_pages().len();
    assert!(sheets > 1 && pages > sheets);
    for sheet in 1..=sheets {
        let page = pages - sheets + sheet;
        let text = pdf.extract_text(&[u32::try_from(page).unwrap()]).unwrap();
        let text: String = text.chars().filter(|c| !c.is_whitespace()).collect();
        for told in [format!("Templates,sheet{sheet}of{sheets}"), format!("page{page}/{pages}")] {
            assert!(text.contains(&told), "{told} in {text}");
        }
    }
}

#[test]
fn a_photo_is_known_by_its_bytes() {
    let design = sample("crib-night-ferry.json");
    let good = png(&quilt_picture(&design, Seams::Hidden).unwrap(), 40).unwrap();
    let photo = Photo::new(good.clone()).unwrap();
    assert_eq!(photo.pixels()[0], 40);
    let with_photo = BookletOptions { photo: Some(photo), ..options(&design, Paper::A4) };
    assert!(with_input(&design, |input| booklet(input, &with_photo)).is_ok());
    let refused = |bytes: Vec<u8>, word: &str| {
        let error = Photo::new(bytes).unwrap_err();
        assert!(matches!(&error, PublishError::Photo { cause } if cause.contains(word)), "{error}");
    };
    refused(Vec::new(), "no PNG");
    refused(b"<svg/>".to_vec(), "no PNG");
    refused(good[..12].to_vec(), "damaged");
    refused(vec![0; MAX_PHOTO_BYTES + 1], "megabytes");
    // IHDR of a picture of 65,535 × 65,535 pixels.
    let mut huge = good;
    huge[16..24].copy_from_slice(&[0, 0, 255, 255, 0, 0, 255, 255]);
    refused(huge, "65535 × 65535");
}

/// A variant in other fabrics says which of them stands for which; one that is painted in another way says whose steps are
/// shown.
#[test]
fn other_variants_say_how_they_follow_the_first() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts");
    let document = Document::open(&folder.join("throw-two-windows.json")).unwrap();
    let [dusk, noon] = document.variants() else { panic!("two variants") };
    let ledgers = [dusk, noon].map(|v| Ledger::new(&v.design, &Tally::count(&v.design).unwrap()).unwrap());
    let sewing = QuiltPlan::new(&dusk.design, &std::collections::BTreeMap::new()).unwrap();
    let offer = |which: usize, label, design| {
        let ledger: &Ledger = &ledgers[which];
        Offered { label, design, ledger, plans: ledger.plans(), sewn: &[], planner: Planner::Quick }
    };
    let note = |offered: [Offered<'_>; 2]| {
        let input = BookletInput { quilt: offered[0], sewing: &sewing, offered: &offered };
        let data = booklet_data(&input, &options(&dusk.design, Paper::A4)).unwrap().0;
        assert!(
            !data.fabrics[0].notes[0].contains("are those of"),
            "the first is its own: {:?}",
            data.fabrics[0].notes
        );
        data.fabrics[1].notes[0].clone()
    };
    let told = note([offer(0, "Dusk", &dusk.design), offer(1, "Noon", &noon.design)]);
    assert!(told.contains("are those of Dusk: for Noon take "), "{told}");
    // By hand, from the file: what each fabric has in Dusk and in Noon.
    for pair in ["Harbour for Aubergine", "Salt for Cream", "Coral for Apricot", "Shallows for Heather"] {
        assert!(told.contains(pair), "{pair} in {told}");
    }
    let bare = layout::apply(&noon.design, &layout::Edit::SetBorders(Vec::new())).unwrap().0;
    let bare_ledger = Ledger::new(&bare, &Tally::count(&bare).unwrap()).unwrap();
    let other = Offered {
        label: "Bare",
        design: &bare,
        ledger: &bare_ledger,
        plans: bare_ledger.plans(),
        ..offer(1, "Bare", &bare)
    };
    assert_eq!(
        note([offer(0, "Dusk", &dusk.design), other]),
        "Cutting, steps and pictures of this booklet are those of Dusk."
    );
}

/// Notes that only some quilts need: bands and angles in cutting, fillers in sections, the border inside a pieced one.
#[test]
fn quilts_say_what_only_they_need() {
    let shelf = data(&sample("throw-toymakers-shelf.json"));
    let (orchard, ferry) = (data(&sample("king-lantern-orchard.json")), data(&sample("crib-night-ferry.json")));
    let notes = |data: &BookletData, words: &str| data.cutting.notes.iter().any(|note| note.contains(words));
    assert!(notes(&shelf, "A band is cut along the strip") && notes(&shelf, "no line for an angle"));
    assert!(!notes(&ferry, "no line for an angle"), "45° and 90° alone: {:?}", ferry.cutting.notes);
    assert!(notes(&orchard, "Wait with the strips of border 1 until") && !notes(&ferry, "Wait with the strips"));
    let joined =
        |data: &BookletData| data.top.lines.iter().any(|line| line.starts_with("Fillers that come in sections"));
    assert!(joined(&shelf) && !joined(&ferry));
    // The pieced border needs 84 × 96 in finished, so half of what 84½ × 96½ in has more, and ½ in.
    let needs = "needs a top of 84½″ × 96½″. If yours measures otherwise than planned, cut the sides as wide as half of what \
                 the width is short of that, and ½″ more";
    let borders = |data: &BookletData| data.top.borders.join(" ");
    assert!(borders(&orchard).contains(needs), "{}", borders(&orchard));
    assert!(borders(&orchard).find(needs) < borders(&orchard).find("trim them to"), "before strips are trimmed");
    assert!(
        borders(&orchard).contains("Border 1: if the top measures as planned, the strips of the sides are set at 4⅜″")
    );
    assert!(!borders(&ferry).contains("is pieced and needs"), "{}", borders(&ferry));
    assert!(
        borders(&data(&sample("lap-wellhouse-green.json"))).contains("needs a top of 30½″ × 30½″"),
        "a mitred one, too"
    );
}

/// Equilateral triangles show which of their sides lay along the strip: nothing else tells it.
#[test]
fn sides_on_the_straight_grain_are_shown_where_all_are_as_long() {
    let told = |name: &str| {
        let data = data(&sample(name));
        data.sewing.iter().any(|block| block.notes.iter().any(|note| note.contains("shows its straight grain")))
    };
    assert!(told("full-six-winds.json"), "60° triangles");
    assert!(!told("throw-two-windows.json"), "squares and triangles with a longest side");
}

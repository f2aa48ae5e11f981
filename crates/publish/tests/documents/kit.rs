//! Kits for a class: what is bought covers what is cut, nothing is lost between students, and the papers can be read.

use crate::painted;

use std::collections::BTreeMap;
use std::path::Path;

use cutting::{CutPiece, FabricPlan, Ledger, Planner, PreparedPiece, StripPlan, lays, verify};
use geometry::Exact;
use geometry::lay::UNITS_PER_INCH;
use layout::file::Document;
use layout::{CuttingWishes, Design, Edit, Fabric, InHand, Tally, apply};
use painted::painted;
use piecing::{CuttingHand, QuiltPlan};
use publish::kit::{
    ClassFabric, ClassFault, ClassKit, ClassOrder, MAX_STUDENTS, Minutes, Owner, Reserve, Share, Taken, Task,
    WorkMinutes, handout_pages, label_pages, teacher_pages, without_what_is_at_hand,
};
use publish::{About, Offered, Pages, Paper, PublishError};

/// The samples that are small enough to be set page by page here.
const SAMPLES: [&str; 4] = ["crib-night-ferry", "throw-two-windows", "single-birch-and-slate", "full-six-winds"];

/// A variant with everything that is planned for it.
struct Quilt {
    label: String,
    design: Design,
    ledger: Ledger,
    sewing: QuiltPlan,
}

impl Quilt {
    fn new(label: &str, design: &Design) -> Self {
        let design = without_what_is_at_hand(design).unwrap();
        let ledger = Ledger::new(&design, &Tally::count(&design).unwrap()).unwrap();
        let sewing = QuiltPlan::new(&design, &BTreeMap::new()).unwrap();
        Self { label: label.to_owned(), design, ledger, sewing }
    }

    fn taken(&self, students: u16, spare: u16) -> Taken<'_> {
        let offered = Offered {
            label: &self.label,
            design: &self.design,
            ledger: &self.ledger,
            plans: self.ledger.plans(),
            sewn: &[],
            planner: Planner::Quick,
        };
        Taken { offered, sewing: &self.sewing, share: Share { variant: 0, students, spare } }
    }

    fn plans(&self) -> Vec<&FabricPlan> {
        self.ledger.plans().values().map(|plan| plan.as_ref().unwrap()).collect()
    }
}

/// The variants of a sample.
fn sample(name: &str) -> Vec<Quilt> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts");
    let document = Document::open(&folder.join(name).with_extension("json")).unwrap();
    document.variants().iter().map(|variant| Quilt::new(&variant.label, &variant.design)).collect()
}

fn first(name: &str) -> Quilt {
    sample(name).remove(0)
}

fn kit<'a>(taken: &[Taken<'a>]) -> ClassKit<'a> {
    ClassKit::new(taken, WorkMinutes::default()).unwrap()
}

/// What can be cut of a length that was bought: it shrinks, and its end is squared up.
fn left_to_cut(fabric: &ClassFabric, design: &Design, bought: &Exact) -> Exact {
    let left = Exact::ratio(1000 - i64::from(design.buying().shrinkage_permille()), 1000).unwrap();
    &(bought * &left) - &fabric.purchase.squaring_up
}

/// Lays the strips of so many kits one after the other, checks every piece, and gives the length they take.
fn laid(plan: &FabricPlan, kits: u64) -> Exact {
    assert!(plan.sheets.is_empty() && plan.parts == 1);
    let mut strips = plan.plan.strips.clone();
    for run in &mut strips {
        run.repeat *= kits;
    }
    let length = plan.plan.length * i64::try_from(kits).unwrap();
    let all = StripPlan { width: plan.width, length, strips };
    let pieces: Vec<&PreparedPiece> = plan.pieces.iter().map(|piece| piece.prepared.as_ref()).collect();
    let counted: Vec<(&CutPiece, u64)> =
        plan.pieces.iter().map(|piece| (piece.prepared.piece(), piece.count * kits)).collect();
    let verified = verify(plan.width, &counted, &lays(&all, &pieces).unwrap()).unwrap();
    assert_eq!(verified.placements, counted.iter().map(|(_, count)| count).sum::<u64>());
    Exact::ratio(i64::try_from(verified.length).unwrap(), UNITS_PER_INCH).unwrap()
}

#[test]
fn the_strips_of_all_kits_lie_on_what_is_bought() {
    for (name, students, spare) in [("crib-night-ferry", 10, 1), ("lap-owl-lane", 7, 0), ("throw-two-windows", 3, 1)] {
        let quilts = sample(name);
        let taken: Vec<Taken<'_>> = quilts.iter().map(|quilt| quilt.taken(students, spare)).collect();
        let kit = kit(&taken);
        assert!(kit.fabrics.len() > 1);
        for fabric in &kit.fabrics {
            let mut needed = Exact::ZERO;
            for ((index, id), taker) in fabric.members().zip(&fabric.takers) {
                let plan = quilts[index].plans().into_iter().find(|plan| plan.fabric == id).unwrap();
                assert_eq!(taker.kits, u64::from(students + spare));
                needed += &laid(plan, taker.kits);
            }
            let design = &quilts[0].design;
            let enough = |bought: &Exact| left_to_cut(fabric, design, bought) >= needed;
            assert!(enough(&fabric.purchase.buy), "{name}, {}", fabric.fabric.name);
            // One step of sale less would not do: nothing is bought in vain, and this test can fail.
            let step = match design.buying().step {
                layout::BuyingStep::EighthYard => Exact::ratio(9, 2).unwrap(),
                layout::BuyingStep::TenCentimetres => Exact::ratio(500, 127).unwrap(),
            };
            assert!(!enough(&(&fabric.purchase.buy - &step)), "{name}, {}", fabric.fabric.name);
        }
    }
}

#[test]
fn kits_bought_together_take_no_more_than_kits_bought_apart() {
    let quilt = first("crib-night-ferry");
    let kit = kit(&[quilt.taken(10, 0)]);
    let mut saved = false;
    for (fabric, plan) in kit.fabrics.iter().zip(quilt.plans()) {
        let apart = plan.all_parts().to_buy().scale_int(10);
        assert!(fabric.all_parts().to_buy() <= apart);
        saved |= fabric.all_parts().to_buy() < apart;
        assert_eq!(fabric.one_kit(), plan.purchase.label);
        assert_eq!(fabric.strips, 10 * plan.strips_cut());
    }
    assert!(saved);
}

/// Both variants are cut of the same fabrics where they are the same, and those are bought once.
#[test]
fn fabrics_that_variants_share_are_bought_together() {
    let quilt = first("crib-night-ferry");
    let darker = {
        let (id, fabric) = quilt.design.fabrics().next().unwrap();
        let fabric = Fabric { name: "Other ground".to_owned(), ..fabric.clone() };
        Quilt::new("Other", &apply(&quilt.design, &Edit::ChangeFabric { id, fabric }).unwrap().0)
    };
    let kit = kit(&[quilt.taken(4, 0), darker.taken(2, 1)]);
    let used = quilt.plans().len();
    assert_eq!(kit.fabrics.len(), used + 1);
    let shared = kit.fabrics.iter().filter(|fabric| fabric.takers.len() == 2).count();
    assert_eq!(shared, used - 1);
    for fabric in &kit.fabrics {
        let expected = match (fabric.takers.len(), fabric.fabric.name.as_str()) {
            (2, _) => 7,
            (_, "Other ground") => 3,
            _ => 4,
        };
        assert_eq!(fabric.kits(), expected, "{}", fabric.fabric.name);
    }
    assert_eq!((kit.students(), kit.kits()), (6, 7));
    let owners: Vec<Owner> = kit.quilts.iter().flat_map(|quilt| quilt.owners.clone()).collect();
    let student = Owner::Student;
    assert_eq!(owners, [student(1), student(2), student(3), student(4), student(5), student(6), Owner::Spare(1)]);
}

#[test]
fn more_reserve_never_buys_less() {
    let quilt = first("throw-two-windows");
    let labels = [quilt.label.as_str()];
    let kits_with = |reserve| {
        let order = ClassOrder { students: 9, takes: Vec::new(), reserve };
        let share = order.shares(&labels).unwrap()[0];
        let kit = kit(&[quilt.taken(share.students, share.spare)]);
        let lengths: Vec<Exact> = kit.fabrics.iter().map(|fabric| fabric.all_parts().to_buy()).collect();
        let strips: u64 = kit.fabrics.iter().map(|fabric| fabric.strips).sum();
        (kit.kits(), kit.bags(), strips, lengths)
    };
    let rising = |reserves: Vec<Reserve>| {
        let found: Vec<_> = reserves.into_iter().map(kits_with).collect();
        for pair in found.windows(2) {
            assert!(pair[0].0 <= pair[1].0 && pair[0].1 <= pair[1].1 && pair[0].2 <= pair[1].2);
            assert!(pair[0].3.iter().zip(&pair[1].3).all(|(a, b)| a <= b));
        }
        assert!(found[0].2 < found[found.len() - 1].2);
        found.into_iter().map(|f| f.0).collect::<Vec<_>>()
    };
    assert_eq!(rising((0..5).map(Reserve::Kits).collect()), [9, 10, 11, 12, 13]);
    assert_eq!(rising([0, 1, 11, 12, 50, 100].map(Reserve::Percent).to_vec()), [9, 10, 10, 11, 14, 18]);
}

#[test]
fn classes_that_cannot_be_are_refused() {
    let labels = ["Dusk", "Noon"];
    let shares = |students, takes: &[(&str, u16)], reserve| {
        let takes = takes.iter().map(|(label, students)| ((*label).to_owned(), *students)).collect();
        ClassOrder { students, takes, reserve }.shares(&labels)
    };
    let none = Reserve::Kits(0);
    let share = |variant, students| Share { variant, students, spare: 0 };
    assert_eq!(shares(5, &[], none), Ok(vec![share(0, 5)]));
    assert_eq!(shares(5, &[("Noon", 5)], none), Ok(vec![share(1, 5)]));
    assert_eq!(shares(5, &[("Noon", 4), ("Dusk", 1)], none), Ok(vec![share(0, 1), share(1, 4)]));
    assert_eq!(shares(5, &[("Noon", 5), ("Dusk", 0)], none), Ok(vec![share(1, 5)]));
    assert_eq!(shares(MAX_STUDENTS, &[], none), Ok(vec![share(0, MAX_STUDENTS)]));
    type Case<'a> = (u16, &'a [(&'a str, u16)], Reserve, &'a [&'a str]);
    let cases: [Case<'_>; 9] = [
        (0, &[], none, &["1 to 200", "not 0"]),
        (201, &[], none, &["1 to 200", "not 201"]),
        (5, &[("Dawn", 5)], none, &["\"Dawn\"", "Dusk, Noon"]),
        (5, &[("Dusk", 2), ("Dusk", 3)], none, &["\"Dusk\"", "twice"]),
        (5, &[("Dusk", 2), ("Noon", 2)], none, &["4 kits", "5 students"]),
        (5, &[("Dusk", 65535), ("Noon", 65535)], none, &["131070 kits"]),
        (5, &[("Dusk", 0)], none, &["0 kits"]),
        (5, &[], Reserve::Kits(51), &["0 to 50 kits"]),
        (5, &[], Reserve::Percent(101), &["100 %"]),
    ];
    for (students, takes, reserve, words) in cases {
        let told = shares(students, takes, reserve).unwrap_err().to_string();
        assert!(words.iter().all(|word| told.contains(word)), "{told}");
    }
}

/// A seam joins two parts into one: whatever the order, a top of n patches has n − 1 seams, beside those that join strips
/// end to end.
#[test]
fn every_seam_and_every_cut_is_timed_once() {
    for name in ["crib-night-ferry", "throw-two-windows", "full-six-winds", "king-lantern-orchard", "queen-weathervane"]
    {
        let quilt = first(name);
        let kit = kit(&[quilt.taken(3, 0)]);
        let timing = &kit.quilts[0].timing;
        let sum = |of: fn(&Task) -> u64| timing.tasks.iter().map(of).sum::<u64>();
        let patches = quilt.design.top().unwrap().placed.iter().map(|p| p.block.patches().len() as u64).sum::<u64>();
        let end_to_end: u64 =
            timing.tasks.iter().filter(|task| task.what.contains("end to end")).map(|t| t.joins).sum();
        assert_eq!(sum(|task| task.seams + task.joins) - end_to_end, patches - 1, "{name}");
        // By hand: 4 joins in the outer border, 2 in the sides of the inner one, 5 between 6 strips of binding.
        assert!(end_to_end > 0 && (end_to_end == 11 || name != "crib-night-ferry"), "{name}: {end_to_end}");
        let strips: u64 = quilt.plans().iter().map(|plan| plan.strips_cut()).sum();
        let cuts: u64 = quilt.plans().iter().map(|plan| plan.cuts()).sum();
        assert_eq!((timing.strips_ahead, sum(|task| task.cuts)), (strips, cuts - strips), "{name}");
        assert_eq!(timing.ahead, Minutes::whole(strips));
        let minutes = WorkMinutes::default();
        let by_hand = [
            (sum(|task| task.cuts), minutes.cut_piece),
            (sum(|task| task.seams), minutes.sew_seam),
            (sum(|task| task.seams + task.joins), minutes.press_seam),
            (sum(|task| task.joins), minutes.join_seam),
            (sum(|task| task.turns), minutes.set_in),
            (sum(|task| task.trims), minutes.trim_unit),
        ];
        let by_hand: u64 = by_hand.iter().map(|(count, minutes)| count * minutes.0).sum();
        assert_eq!(timing.total.0, by_hand, "{name}");
    }
}

#[test]
fn trims_and_set_in_seams_are_timed() {
    let plain = first("crib-night-ferry");
    let margin = geometry::Length::inch_fraction(1, 4).ok();
    let wishes = CuttingWishes { oversize: margin, ..plain.design.cutting().clone() };
    let trimmed = Quilt::new("Trimmed", &apply(&plain.design, &Edit::SetCutting(wishes)).unwrap().0);
    let sums = |quilt: &Quilt| {
        let kit = kit(&[quilt.taken(1, 0)]);
        let tasks = &kit.quilts[0].timing.tasks;
        (tasks.iter().map(|task| task.trims).sum::<u64>(), tasks.iter().map(|task| task.turns).sum::<u64>())
    };
    let blocks = plain.design.places().count() as u64;
    let (none, turns) = sums(&plain);
    let (some, _) = sums(&trimmed);
    assert_eq!(none, 0);
    assert!(some >= blocks, "{some}");
    // A tilted star has eight set-in pieces with a turn each.
    assert_eq!(turns, 8 * blocks);
}

#[test]
fn times_follow_the_minutes() {
    let quilt = first("crib-night-ferry");
    let timed = |minutes: WorkMinutes| ClassKit::new(&[quilt.taken(1, 0)], minutes).unwrap().quilts.remove(0).timing;
    let usual = WorkMinutes::default();
    let base = timed(usual);
    let sum = |of: fn(&Task) -> u64| base.tasks.iter().map(of).sum::<u64>();
    let one = Minutes::whole(1);
    let rows: [(WorkMinutes, u64); 6] = [
        (WorkMinutes { cut_piece: usual.cut_piece.and(one), ..usual }, sum(|task| task.cuts)),
        (WorkMinutes { sew_seam: usual.sew_seam.and(one), ..usual }, sum(|task| task.seams)),
        (WorkMinutes { press_seam: usual.press_seam.and(one), ..usual }, sum(|task| task.seams + task.joins)),
        (WorkMinutes { set_in: usual.set_in.and(one), ..usual }, sum(|task| task.turns)),
        (WorkMinutes { join_seam: usual.join_seam.and(one), ..usual }, sum(|task| task.joins)),
        (WorkMinutes { session: usual.session.and(one), ..usual }, 0),
    ];
    for (minutes, more) in rows {
        assert_eq!(timed(minutes).total.0, base.total.0 + 100 * more, "{minutes:?}");
    }
    assert!(sum(|task| task.turns) > 0 && sum(|task| task.joins) > 0);
}

#[test]
fn minutes_are_read_as_they_are_written() {
    let usual = WorkMinutes::default();
    let text = serde_json::to_string(&usual).unwrap();
    assert_eq!(serde_json::from_str::<WorkMinutes>(&text).unwrap(), usual);
    let own: WorkMinutes = serde_json::from_str(r#"{"sew_seam": 2.25, "break": 10}"#).unwrap();
    assert_eq!(own, WorkMinutes { sew_seam: Minutes(225), pause: Minutes::whole(10), ..usual });
    for text in [
        r#"{"sew_seem": 1}"#,
        r#"{"sew_seam": -1}"#,
        r#"{"sew_seam": 721}"#,
        r#"{"sew_seam": 0.125}"#,
        r#"{"sew_seam": "1"}"#,
        "7",
    ] {
        assert!(serde_json::from_str::<WorkMinutes>(text).is_err(), "{text}");
    }
    let quilt = first("crib-night-ferry");
    for (minutes, name) in [
        (WorkMinutes { session: Minutes::whole(29), ..usual }, "session"),
        (WorkMinutes { welcome: Minutes::whole(171), ..usual }, "welcome"),
        (WorkMinutes { break_after: Minutes::whole(9), ..usual }, "break_after"),
    ] {
        let refused = ClassKit::new(&[quilt.taken(1, 0)], minutes).unwrap_err();
        let is_it = |fault: &ClassFault| matches!(fault, ClassFault::Minutes { name: found, .. } if *found == name);
        assert!(matches!(&refused, PublishError::Class(fault) if is_it(fault)), "{refused}");
    }
}

/// What is at hand is the teacher's own and is not counted on for anybody's kit.
#[test]
fn pieces_at_hand_are_left_out() {
    let quilt = first("crib-night-ferry");
    let (id, fabric) = quilt.design.fabrics().next().unwrap();
    let side = geometry::Length::whole_inches(30).unwrap();
    let in_hand = vec![InHand { width: side.clone(), length: side, count: 3 }];
    let rich =
        apply(&quilt.design, &Edit::ChangeFabric { id, fabric: Fabric { in_hand, ..fabric.clone() } }).unwrap().0;
    assert_ne!(rich, quilt.design);
    assert_eq!(without_what_is_at_hand(&rich).unwrap(), quilt.design);
}

fn about(quilt: &Quilt, paper: Paper) -> About {
    About { author: "Invented for this test".to_owned(), ..About::quilt(&quilt.design, paper) }
}

/// Whether nothing but white is in the outermost part of every page, so many inches wide at left, right, top and bottom.
fn assert_margins(pages: &Pages, [left, right, top, bottom]: [f64; 4], name: &str) {
    const PIXELS_AN_INCH: f64 = 36.0;
    let pixels = |inches: f64| (0..1000_u32).take_while(|p| f64::from(*p) < inches * PIXELS_AN_INCH).count();
    for page in 0..pages.count() {
        let picture = pages.picture(page, 36.0).unwrap();
        let (width, height) = (picture.width as usize, picture.height as usize);
        let mut inked = 0;
        for (index, pixel) in picture.rgba.chunks_exact(4).enumerate() {
            let (x, y) = (index % width, index / width);
            let outside =
                x < pixels(left) || x + pixels(right) >= width || y < pixels(top) || y + pixels(bottom) >= height;
            let white = pixel[..3].iter().all(|channel| *channel > 250);
            assert!(white || !outside, "{name}, page {}: ink at {x}, {y} of {width} × {height}", page + 1);
            inked += usize::from(!white);
        }
        assert!(inked > 0, "{name}, page {} is empty", page + 1);
    }
}

#[test]
fn the_handout_is_large_and_without_colour() {
    for name in SAMPLES {
        let quilt = first(name);
        for paper in Paper::ALL {
            let kit = kit(&[quilt.taken(8, 1)]);
            let pages = handout_pages(&kit, &about(&quilt, paper), CuttingHand::Right).unwrap();
            assert_margins(&pages, [0.7, 0.7, 0.7, 0.35], name);
            let painted = painted(&pages.pdf().unwrap());
            assert!(painted.sizes.len() > 100 && painted.colours.len() > 100, "{name}: too little was read");
            assert!(painted.smallest() >= 13.99, "{name}: type of {} points", painted.smallest());
            assert_eq!(painted.coloured(), Vec::<&Vec<f64>>::new(), "{name}");
        }
    }
}

/// The teacher's papers have colour and small type: the reading above would find both.
#[test]
fn colour_and_small_type_are_found_where_they_are() {
    let quilt = first("crib-night-ferry");
    let kit = kit(&[quilt.taken(8, 1)]);
    let painted = painted(&teacher_pages(&kit, &about(&quilt, Paper::Letter)).unwrap().pdf().unwrap());
    assert!(!painted.coloured().is_empty());
    assert!(painted.smallest() < 9.0);
}

#[test]
fn papers_and_labels_keep_their_margins() {
    for name in SAMPLES {
        let quilts = sample(name);
        let taken: Vec<Taken<'_>> = quilts.iter().map(|quilt| quilt.taken(4, 1)).collect();
        let kit = kit(&taken);
        for paper in Paper::ALL {
            let about = about(&quilts[0], paper);
            assert_margins(&teacher_pages(&kit, &about).unwrap(), [0.7, 0.7, 0.3, 0.3], name);
            let labels = label_pages(&kit, &about).unwrap();
            assert_eq!(labels.count() as u64, kit.bags().div_ceil(10));
            assert_margins(&labels, [0.5, 0.5, 0.4, 0.4], name);
        }
    }
}

/// Every bag of every kit has its label, numbered without gaps, with the strips of the cutting plan.
#[test]
fn labels_are_complete() {
    let quilts = sample("throw-two-windows");
    let taken = [quilts[0].taken(3, 1), quilts[1].taken(2, 0)];
    let kit = kit(&taken);
    let pages = label_pages(&kit, &about(&quilts[0], Paper::A4)).unwrap();
    let document = lopdf::Document::load_mem(&pages.pdf().unwrap()).unwrap();
    let numbers: Vec<u32> = document.get_pages().into_keys().collect();
    let text = document.extract_text(&numbers).unwrap();
    let count = |words: &str| text.split(words).count() - 1;
    for (quilt, of_kit) in quilts.iter().zip(&kit.quilts) {
        let strips: usize =
            quilt.plans().iter().map(|p| p.cloths().iter().map(|c| c.strips.len()).sum::<usize>()).sum();
        assert_eq!(of_kit.bundles.len(), strips);
        let numbers: Vec<usize> = of_kit.bundles.iter().map(|bundle| bundle.number).collect();
        assert_eq!(numbers, (1..=strips).collect::<Vec<_>>());
    }
    let bags = kit.quilts[0].bundles.len();
    assert_eq!(bags, kit.quilts[1].bundles.len(), "both variants are one size");
    for number in 1..=bags {
        let told = format!("{number} of {bags}");
        let longer = (1..=9).map(|tens| count(&format!("{tens}{told}"))).sum::<usize>();
        assert_eq!(count(&told) - longer, 6, "bag {told}");
    }
    for student in 1..=5 {
        assert_eq!(count(&format!("Student {student}")), bags, "student {student}");
    }
    assert_eq!(count("Spare 1"), bags);
    let bundle = &kit.quilts[0].bundles[0];
    assert_eq!(bundle.letter, "A");
    assert!(count(&format!("strip A, {}", bundle.wide)) >= 6, "{text}");
}

#[test]
fn the_same_class_gives_the_same_bytes() {
    let quilt = first("crib-night-ferry");
    let pdf = || handout_pages(&kit(&[quilt.taken(2, 0)]), &about(&quilt, Paper::A4), CuttingHand::Left);
    assert_eq!(pdf().unwrap().pdf().unwrap(), pdf().unwrap().pdf().unwrap());
}

#[test]
fn too_many_labels_are_refused() {
    let quilt = first("king-lantern-orchard");
    let kit = kit(&[quilt.taken(200, 200)]);
    assert!(kit.bags() > publish::kit::MAX_LABELS);
    let refused = label_pages(&kit, &about(&quilt, Paper::A4)).unwrap_err();
    assert!(matches!(&refused, PublishError::Class(ClassFault::Labels { labels, .. }) if *labels == kit.bags()));
    assert!(refused.to_string().contains("fewer students"), "{refused}");
}

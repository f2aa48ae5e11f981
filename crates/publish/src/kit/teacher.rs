//! The teacher's papers: the class at a glance, what to buy, what to cut ahead, what goes into the bags, and the times.

use cutting::Purchase;
use layout::{EditError, FabricId};
use serde::Serialize;

use super::minutes::Minutes;
use super::timetable::Timetable;
use super::{ClassFabric, ClassKit, ClassQuilt, strips_words};
use crate::exports::materials::backing_size;
use crate::lengths::counted;
use crate::{About, Figures, Pages, PublishError, typeset};

/// All that the papers say, in their order.
#[derive(Serialize)]
struct Papers<'a> {
    about: &'a About,
    /// A line under the title.
    lead: String,
    /// The variants: label, size, students, spare kits, kits, bags of a kit, time of a quilt.
    quilts: Vec<[String; 7]>,
    plan: String,
    checklist: Vec<String>,
    cautions: &'static [&'static str],
    buy: Vec<BuyRow>,
    buy_notes: Vec<String>,
    ahead: Vec<AheadFabric>,
    packing: Vec<Packing>,
    timing: Vec<TimedQuilt>,
    /// What each kind of work takes.
    minutes: Vec<(&'static str, String)>,
    timetable: Vec<Vec<[String; 2]>>,
    timetable_notes: Vec<String>,
}

/// A fabric to buy.
#[derive(Serialize)]
struct BuyRow {
    fabric: Shown,
    kits: String,
    /// The lines that lead to what is bought.
    lines: Vec<(&'static str, String)>,
    buy: String,
    cost: String,
    one_kit: String,
}

/// A fabric as it is shown: colour and hatch.
#[derive(Serialize, Clone)]
struct Shown {
    colour: String,
    hatch: String,
    name: String,
    value: String,
}

/// Strips of a fabric to cut ahead.
#[derive(Serialize)]
struct AheadFabric {
    fabric: Shown,
    buy: String,
    /// Letter, variant, width, length, strips of a kit, kits, strips in all.
    rows: Vec<[String; 7]>,
    total: String,
}

/// What one kit of a variant holds.
#[derive(Serialize)]
struct Packing {
    label: String,
    kits: String,
    /// Fabric; bag, letter, width and length, strips of a kit, what is cut from them.
    bags: Vec<(Shown, [String; 5])>,
    owners: Vec<String>,
    bring: Vec<String>,
}

/// The times of a variant.
#[derive(Serialize)]
struct TimedQuilt {
    label: String,
    ahead: String,
    /// What, how many made, cuts, seams, turns, trims, time.
    rows: Vec<[String; 7]>,
    total: [String; 6],
}

/// What may hurt someone or cost dear in a class (common practice, no source).
const CAUTIONS: [&str; 5] = [
    "Rotary blades are as sharp as razors. Show how to close the blade after every cut, and let nobody cut towards a hand \
     or leave an open blade on a table.",
    "Set irons where nobody reaches across them or trips over the lead, and switch them off in every break.",
    "Count blades, pins and needles out and in again. Keep them and small parts from children and pets.",
    "Cut one kit and sew one block of it before you cut the others: fabric that is cut cannot be uncut.",
    "The makers of blades, irons, machines and fabrics have the last word: follow their instructions where they differ.",
];

/// Sets the teacher's papers.
///
/// # Errors
/// Not for figures of a checked design.
pub fn teacher_pages(kit: &ClassKit<'_>, about: &About) -> Result<Pages, PublishError> {
    let mut figures = Figures::default();
    let students = counted(kit.students(), "student", "students");
    let spare = kit.kits() - kit.students();
    let reserve = if spare == 0 { "no reserve".to_owned() } else { counted(spare, "spare kit", "spare kits") };
    let papers = Papers {
        about,
        lead: format!("Class kits for {students}, {reserve}: {} in all", counted(kit.kits(), "kit", "kits")),
        quilts: kit.quilts.iter().map(|quilt| at_a_glance(kit, quilt)).collect(),
        plan: plan_words(kit),
        checklist: checklist(kit),
        cautions: &CAUTIONS,
        buy: kit.fabrics.iter().map(|fabric| buy_row(kit, fabric, &mut figures)).collect::<Result<_, _>>()?,
        buy_notes: buy_notes(),
        ahead: kit.fabrics.iter().map(|fabric| ahead(kit, fabric, &mut figures)).collect::<Result<_, _>>()?,
        packing: kit.quilts.iter().map(|quilt| packing(kit, quilt, &mut figures)).collect::<Result<_, _>>()?,
        timing: kit.quilts.iter().map(|quilt| timed(kit, quilt)).collect(),
        minutes: kit.minutes.told().into_iter().map(|(what, minutes)| (what, plain(minutes))).collect(),
        timetable: sessions(&kit.timetable),
        timetable_notes: timetable_notes(kit),
    };
    typeset("kit.typ", &papers, &figures)
}

/// What a quilt of the class is called: by its variant where there are several, else by its name.
fn called(kit: &ClassKit<'_>, quilt: &ClassQuilt<'_>) -> String {
    let offered = &quilt.taken.offered;
    if kit.is_mixed() { offered.label.to_owned() } else { offered.design.name().to_owned() }
}

/// Minutes as they are edited: "0.25".
fn plain(minutes: Minutes) -> String {
    format!("{} min", minutes.in_minutes())
}

fn at_a_glance(kit: &ClassKit<'_>, quilt: &ClassQuilt<'_>) -> [String; 7] {
    let share = quilt.taken.share;
    [
        called(kit, quilt),
        quilt.size(),
        share.students.to_string(),
        share.spare.to_string(),
        quilt.kits().to_string(),
        quilt.bundles.len().to_string(),
        quilt.timing.total.to_string(),
    ]
}

/// Which cutting plan the kits follow.
fn plan_words(kit: &ClassKit<'_>) -> String {
    let plan = kit.quilts.first().map_or("", |quilt| quilt.taken.offered.planner.name());
    format!(
        "Strips, letters and lengths are those of the {plan} cutting plan of one quilt, the same as in its cutting list, times \
         the kits. Each kit has whole strips of its own: nothing is shared between students."
    )
}

fn checklist(kit: &ClassKit<'_>) -> Vec<String> {
    let bags = counted(kit.bags(), "bag", "bags");
    vec![
        "Buy the fabrics, wash and press them all or none, and measure the usable width of each.".to_owned(),
        "Cut one kit, sew one block of it and measure it.".to_owned(),
        "Cut the strips ahead, fabric by fabric.".to_owned(),
        format!("Pack {bags}, a label to each, and put every kit together: the labels are numbered within a kit."),
        "Print the handout, one for each student, without scaling.".to_owned(),
        "Set out cutters with new blades, mats, rulers, irons and machines, and try them.".to_owned(),
    ]
}

/// A fabric of a variant with its colour and hatch.
fn shown(quilt: &ClassQuilt<'_>, id: FabricId, figures: &mut Figures) -> Result<Shown, PublishError> {
    let fabric = quilt.taken.offered.design.fabric(id)?;
    Ok(Shown {
        colour: fabric.look.colour().to_string(),
        hatch: figures.add(&quilt.hatching.swatch(id)?),
        name: fabric.name.clone(),
        value: fabric.value.word().to_owned(),
    })
}

/// A fabric to buy as the first variant that has it shows it.
fn shown_to_buy(kit: &ClassKit<'_>, fabric: &ClassFabric, figures: &mut Figures) -> Result<Shown, PublishError> {
    let (index, id) = fabric.first;
    let quilt = kit.quilts.get(index).ok_or(EditError::NoFabric(id))?;
    shown(quilt, id, figures)
}

fn buy_row(kit: &ClassKit<'_>, fabric: &ClassFabric, figures: &mut Figures) -> Result<BuyRow, PublishError> {
    Ok(BuyRow {
        fabric: shown_to_buy(kit, fabric, figures)?,
        kits: fabric.kits_words(),
        lines: fabric.lines().into_iter().filter(|(line, _)| *line != "to buy").collect(),
        buy: fabric.buy.clone(),
        cost: fabric.all_parts().cost().map_or_else(String::new, |cost| cost.to_string()),
        one_kit: fabric.one_kit(),
    })
}

fn buy_notes() -> Vec<String> {
    [
        "For the class, the strips of all kits of a fabric lie one after the other on one length, each as wide as the fabric. \
         Their lengths are added first; squaring up, shrinkage and rounding to the step of sale come once, on the sum. The last \
         column is for someone who buys one kit alone: kits bought apart are rounded up one by one, and take more in all.",
        "When a length comes from more than one bolt, or is folded and cut in several goes, add the squaring up for every new \
         end. Pieces at hand are not counted.",
    ]
    .map(str::to_owned)
    .to_vec()
}

fn ahead(kit: &ClassKit<'_>, fabric: &ClassFabric, figures: &mut Figures) -> Result<AheadFabric, PublishError> {
    let mut rows = Vec::new();
    let mut total = 0;
    for (index, id) in fabric.members() {
        let Some(quilt) = kit.quilts.get(index) else { continue };
        for bundle in quilt.bundles.iter().filter(|bundle| bundle.fabric == id) {
            let in_all = bundle.strips * quilt.kits();
            total += in_all;
            rows.push([
                bundle.letter.clone(),
                called(kit, quilt),
                bundle.wide.clone(),
                bundle.long.clone(),
                strips_words(bundle.strips, bundle.parts),
                quilt.kits().to_string(),
                in_all.to_string(),
            ]);
        }
    }
    let total = counted(total, "strip", "strips");
    Ok(AheadFabric { fabric: shown_to_buy(kit, fabric, figures)?, buy: fabric.buy.clone(), rows, total })
}

fn packing(kit: &ClassKit<'_>, quilt: &ClassQuilt<'_>, figures: &mut Figures) -> Result<Packing, PublishError> {
    let mut bags = Vec::new();
    for bundle in &quilt.bundles {
        let row = [
            format!("{} of {}", bundle.number, quilt.bundles.len()),
            bundle.letter.clone(),
            format!("{} × {}", bundle.wide, bundle.long),
            strips_words(bundle.strips, bundle.parts),
            (bundle.strips * quilt.kits()).to_string(),
        ];
        bags.push((shown(quilt, bundle.fabric, figures)?, row));
    }
    Ok(Packing {
        label: called(kit, quilt),
        kits: counted(quilt.kits(), "kit", "kits"),
        bags,
        owners: quilt.owners.iter().map(ToString::to_string).collect(),
        bring: bring(quilt)?,
    })
}

/// What is in no kit.
fn bring(quilt: &ClassQuilt<'_>) -> Result<Vec<String>, PublishError> {
    let design = quilt.taken.offered.design;
    let backing = quilt.taken.offered.ledger.backing()?;
    let size = backing_size(backing, design.units());
    let buy = Purchase::new(backing.required.clone(), design.buying()).label;
    Ok(vec![
        format!("backing {size} ({buy})"),
        format!("batting {size}"),
        "thread, pins, scissors and seam ripper; a machine with a foot that sews the seam allowance".to_owned(),
    ])
}

fn timed(kit: &ClassKit<'_>, quilt: &ClassQuilt<'_>) -> TimedQuilt {
    let timing = &quilt.timing;
    let count = |number: u64| if number == 0 { String::new() } else { number.to_string() };
    let rows = timing.tasks.iter().map(|task| {
        let seams = task.seams + task.joins;
        let counts = [task.makes, task.cuts, seams, task.turns, task.trims].map(count);
        let [makes, cuts, seams, turns, trims] = counts;
        [task.what.clone(), makes, cuts, seams, turns, trims, task.minutes.to_string()]
    });
    let sum = |of: fn(&super::Task) -> u64| timing.tasks.iter().map(of).sum::<u64>().to_string();
    let total = [
        sum(|task| task.cuts),
        sum(|task| task.seams + task.joins),
        sum(|task| task.turns),
        sum(|task| task.trims),
        timing.total.to_string(),
        counted(timing.strips_ahead, "strip", "strips"),
    ];
    TimedQuilt {
        label: called(kit, quilt),
        ahead: format!(
            "Cutting ahead, before the class: {} a kit, {} for one kit and {} for all {}.",
            counted(timing.strips_ahead, "strip", "strips"),
            timing.ahead,
            timing.ahead.times(quilt.kits()),
            counted(quilt.kits(), "kit", "kits"),
        ),
        rows: rows.collect(),
        total,
    }
}

fn sessions(table: &Timetable) -> Vec<Vec<[String; 2]>> {
    let entry = |entry: &super::Entry| [format!("{} – {}", entry.from, entry.to), entry.what.clone()];
    table.sessions.iter().map(|session| session.entries.iter().map(entry).collect()).collect()
}

fn timetable_notes(kit: &ClassKit<'_>) -> Vec<String> {
    let slowest = kit.quilts.iter().max_by_key(|quilt| quilt.timing.total);
    let is_slower = |slow: &&ClassQuilt<'_>| kit.quilts.iter().any(|quilt| quilt.timing.total < slow.timing.total);
    let who = match slowest.filter(is_slower) {
        Some(quilt) => format!(" The times are those of {}, which takes longest.", quilt.taken.offered.label),
        None => String::new(),
    };
    let table = &kit.timetable;
    let listed = table.sessions.len() as u64;
    let more = table.count.saturating_sub(listed);
    let more = if more == 0 { String::new() } else { format!(" The first {listed} are listed.") };
    let mut notes = vec![format!(
        "The whole top takes {} for one student at this pace.{who}{more} Layering, quilting and sewing \
         the binding on are not in the times.",
        counted(table.count, "session", "sessions"),
    )];
    if kit.quilts.iter().any(|quilt| !quilt.taken.offered.sewn.is_empty()) {
        let told = "Units that are sewn before they are cut are timed seam by seam: expect them to go faster.";
        notes.push(told.to_owned());
    }
    notes
}

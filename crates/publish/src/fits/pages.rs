//! What can be made, on paper: a picture of every top, what it is cut from, and what the next size needs.

use layout::{FabricId, Units};
use serde::Serialize;

use super::hand::Hand;
use super::listing::{Entry, Listing, Short};
use super::more::Next;
use super::words::{entry_words, hand_words, next_words, share_words, short_words};
use crate::cut_words::at_hand_words;
use crate::lengths::{about_size, counted};
use crate::{About, Figures, Pages, Paper, PublishError, Seams, quilt_picture, typeset};

/// Small tops show their seams; on larger ones the lines would be darker than the fabrics.
const MOST_BLOCKS_WITH_SEAMS: u64 = 64;

const NOTES: [&str; 3] = [
    "Binding, backing and batting are not cut from these fabrics: they are to be bought. Their figures stand among the \
     totals as soon as a top is opened as a quilt.",
    "Every top was planned and laid again piece by piece on what is in hand; nothing of it has to be bought.",
    "Colours are for orientation. In one block, all patches of one value are of one fabric.",
];

const CAUTIONS: [&str; 3] = [
    "Measure every piece in hand before the first cut, after washing and squaring up: one that is smaller than its size \
     in the list does not give its patches.",
    "A rotary cutter is a bare blade and an iron burns: read their makers’ instructions, close the blade after each cut, \
     and keep both away from children.",
    "The maker of a fabric has the last word on washing and pressing it.",
];

#[derive(Serialize)]
struct Printed {
    about: About,
    hand: String,
    entries: Vec<PrintedEntry>,
    short: Vec<PrintedShort>,
    tried: String,
    notes: [&'static str; 3],
    cautions: [&'static str; 3],
}

#[derive(Serialize)]
struct PrintedEntry {
    number: usize,
    size: String,
    words: String,
    arrangement: String,
    picture: String,
    used: Vec<Used>,
    next: String,
}

/// What is cut from one fabric.
#[derive(Serialize)]
struct Used {
    colour: String,
    name: String,
    value: &'static str,
    pieces: String,
    blocks: String,
}

#[derive(Serialize)]
struct PrintedShort {
    words: String,
    next: String,
}

/// Sets the pages of what can be made of the fabrics in hand.
///
/// # Errors
/// A top that cannot be drawn, such as one of too many patches for a picture.
pub fn fits_pages(hand: &Hand, listing: &Listing, paper: Paper) -> Result<Pages, PublishError> {
    let mut figures = Figures::default();
    let entries = (1..).zip(&listing.entries).map(|(number, entry)| printed(number, entry, hand, &mut figures));
    let about = About { title: hand.name.clone(), author: String::new(), edition: String::new(), paper };
    let printed = Printed {
        about,
        hand: hand_words(hand),
        entries: entries.collect::<Result<_, _>>()?,
        short: listing.short.iter().map(|short| printed_short(short, hand)).collect(),
        tried: tried_words(listing),
        notes: NOTES,
        cautions: CAUTIONS,
    };
    typeset("fits.typ", &printed, &figures)
}

/// How much was tried: "12 ways tried with 340 plans of one fabric."
fn tried_words(listing: &Listing) -> String {
    let ways = counted(listing.tried as u64, "way", "ways");
    let told = format!("{ways} tried with {}.", counted(listing.steps, "plan of one fabric", "plans of one fabric"));
    if listing.complete {
        told
    } else {
        format!("{told} The plans were used up before all was tried: name fewer blocks or sizes in the file.")
    }
}

fn printed(number: usize, entry: &Entry, hand: &Hand, figures: &mut Figures) -> Result<PrintedEntry, PublishError> {
    let (width, height) = entry.finished_size();
    let seams = if entry.shape.blocks() <= MOST_BLOCKS_WITH_SEAMS { Seams::Shown } else { Seams::Hidden };
    Ok(PrintedEntry {
        number,
        size: about_size(&width, &height, hand.units),
        words: entry_words(entry, hand.units),
        arrangement: arrangement_words(&entry.arrangements()),
        picture: figures.add(&quilt_picture(&entry.design, seams)?),
        used: used(entry, hand),
        next: entry.next.as_ref().map_or_else(String::new, |next| needs_words(next, hand)),
    })
}

/// "Pictured: small diamonds. The same patches also give pinwheels, zigzag."
fn arrangement_words(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [only] => format!("Pictured: {only}."),
        [first, others @ ..] => format!("Pictured: {first}. The same patches also give: {}.", others.join(", ")),
    }
}

fn needs_words(next: &Next, hand: &Hand) -> String {
    format!("{}.", next_words(next, hand))
}

/// What is cut from each fabric, in the order of the hand.
fn used(entry: &Entry, hand: &Hand) -> Vec<Used> {
    let of = |(index, shares): (&usize, &u64)| {
        let fabric = hand.fabrics.get(*index)?;
        let id = FabricId(u32::try_from(index + 1).ok()?);
        let plan = entry.plans.get(&id)?.as_ref().ok()?;
        Some(Used {
            colour: fabric.look.colour().to_string(),
            name: fabric.name.clone(),
            value: fabric.value.word(),
            pieces: pieces_words(&at_hand_words(plan, hand.units)),
            blocks: share_words(*shares, entry.pairing),
        })
    };
    entry.gives.iter().filter_map(of).collect()
}

/// The pieces without the words that hold for all of them.
fn pieces_words(told: &str) -> String {
    told.replace(" at hand", "")
}

fn printed_short(short: &Short, hand: &Hand) -> PrintedShort {
    let units: Units = hand.units;
    PrintedShort { words: short_words(short, units), next: needs_words(&short.next, hand) }
}

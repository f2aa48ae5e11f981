//! `pairings`: how many ways there are to fill a small motif with one block, and a page of them.

use std::collections::BTreeSet;
use std::io::Write;
use std::sync::Arc;

use layout::pairings::{
    Allowed, Arrangement, BlockStates, Browser, Exchange, Group, HalfType, Identified, Measured, Measures, Motif, Page,
    Position, State, StateId, Turning, Wrap,
};
use layout::{BlockId, Design};
use serde::Serialize;

use super::{chosen, open, print_json};
use crate::args::{HalfArg, Pairings};
use crate::decimal::{Decimal, share};
use crate::error::CommandError;
use crate::words::{counted, grouped, state_letter, turn_word};

#[derive(Serialize)]
struct Listing {
    block: u32,
    block_name: String,
    states: Vec<StateRow>,
    rows: u8,
    columns: u8,
    repeats: bool,
    counts: Counts,
    /// Number of the filling at which the page begins, and that at which the next one does.
    from: String,
    next: Option<String>,
    arrangements: Vec<ArrangementRow>,
}

#[derive(Serialize)]
struct StateRow {
    letter: String,
    turn: u8,
    mirrored: bool,
    halves: Vec<&'static str>,
}

/// Counts as text: they can be longer than JSON numbers are read exactly.
#[derive(Serialize)]
struct Counts {
    fillings: String,
    up_to_turns: String,
    up_to_turns_and_mirrors: String,
    with_exchange_of_dark_and_light: String,
    listed: String,
}

#[derive(Serialize)]
struct ArrangementRow {
    number: String,
    cells: Vec<Vec<String>>,
    symmetry: String,
    complete_stars: u16,
    dark_islands: u16,
    light_islands: u16,
    dark: Decimal,
}

/// Counts the arrangements and prints a page of them.
pub(super) fn run(args: &Pairings, out: &mut dyn Write) -> Result<(), CommandError> {
    let document = open(&args.reading.file)?;
    let design = &chosen(&document, args.reading.variant.as_deref())?.design;
    let id = block_of(design, args.block)?;
    let def = design.block(id)?;
    let types: BTreeSet<HalfType> = args.types.iter().map(|kind| half_type(*kind)).collect();
    let allowed = Allowed { types, ..Allowed::types(&[]) };
    let states = BlockStates::new(Arc::clone(def.block()), &allowed)?;
    let wrap = if args.repeat { Wrap::Repeats } else { Wrap::Alone };
    let motif = Motif::new(args.motif.0, args.motif.1, wrap)?;
    let exchange = if args.swap { Exchange::Colours } else { Exchange::Nothing };
    let group = |turning, exchange| Group::new(&states, motif, Identified { turning, exchange, shifts: true });
    let browser = Browser::new(group(Turning::TurnsAndMirrors, exchange))?;
    let from = args.number.map_or(args.from, Position::Raw);
    let page = browser.page(from, args.count.into());
    let measures = Measures::new(&states, motif);
    let measured = page.arrangements.iter().map(|one| measures.of(one)).collect::<Result<Vec<_>, _>>()?;
    let listing = Listing {
        block: id.0,
        block_name: def.name().to_owned(),
        states: (0..).zip(states.states()).map(|(i, state)| state_row(StateId(i), state)).collect(),
        rows: motif.rows(),
        columns: motif.columns(),
        repeats: args.repeat,
        counts: Counts {
            fillings: browser.group().raw().to_string(),
            up_to_turns: group(Turning::Turns, Exchange::Nothing).classes().to_string(),
            up_to_turns_and_mirrors: group(Turning::TurnsAndMirrors, Exchange::Nothing).classes().to_string(),
            with_exchange_of_dark_and_light: group(Turning::TurnsAndMirrors, Exchange::Colours).classes().to_string(),
            listed: browser.group().classes().to_string(),
        },
        from: browser.raw_at(from).to_string(),
        next: next_number(&page),
        arrangements: page.arrangements.iter().zip(&measured).map(|(a, m)| arrangement_row(a, m)).collect(),
    };
    if args.reading.json { print_json(&listing, out) } else { print(&listing, out) }
}

/// The block of this number, or the first of the quilt.
fn block_of(design: &Design, number: Option<u32>) -> Result<BlockId, CommandError> {
    let first = || design.blocks().next().map(|(id, _)| id);
    let id = number.map(BlockId).or_else(first).unwrap_or(BlockId(1));
    design.block(id)?;
    Ok(id)
}

const fn half_type(kind: HalfArg) -> HalfType {
    match kind {
        HalfArg::Dl => HalfType::DarkLight,
        HalfArg::Dd => HalfType::DarkDark,
        HalfArg::Ll => HalfType::LightLight,
    }
}

fn next_number(page: &Page) -> Option<String> {
    page.next.map(|raw| raw.to_string())
}

fn state_row(id: StateId, state: &State) -> StateRow {
    StateRow {
        letter: state_letter(id),
        turn: state.turn,
        mirrored: state.mirrored,
        halves: state.halves.values().iter().map(|value| value.word()).collect(),
    }
}

fn arrangement_row(arrangement: &Arrangement, measured: &Measured) -> ArrangementRow {
    let columns = usize::from(arrangement.motif.columns());
    let row = |states: &[StateId]| states.iter().map(|state| state_letter(*state)).collect();
    ArrangementRow {
        number: arrangement.raw.to_string(),
        cells: arrangement.states.chunks(columns).map(row).collect(),
        symmetry: measured.symmetry.words(),
        complete_stars: measured.stars,
        dark_islands: measured.dark_islands,
        light_islands: measured.light_islands,
        dark: share(&measured.dark),
    }
}

/// Prints the listing for a person.
fn print(listing: &Listing, out: &mut dyn Write) -> Result<(), CommandError> {
    writeln!(out, "Block {} \"{}\", {}", listing.block, listing.block_name, states_word(listing.states.len()))?;
    for state in &listing.states {
        let halves = if state.halves.is_empty() { "no halves".to_owned() } else { state.halves.join("–") };
        let mirrored = if state.mirrored { ", mirrored" } else { "" };
        writeln!(out, "  {:>2}  {halves}, {}{mirrored}", state.letter, turn_word(state.turn))?;
    }
    let wrap = if listing.repeats { "repeating" } else { "standing alone" };
    writeln!(out)?;
    writeln!(out, "Motif of {} × {} blocks, {wrap}", listing.rows, listing.columns)?;
    let counts = &listing.counts;
    for (count, what) in [
        (&counts.fillings, "ways to fill it"),
        (&counts.up_to_turns, "up to turns"),
        (&counts.up_to_turns_and_mirrors, "up to turns and mirrors"),
        (&counts.with_exchange_of_dark_and_light, "up to turns, mirrors and exchange of dark and light"),
    ] {
        writeln!(out, "  {:>26}  {what}", grouped(count))?;
    }
    writeln!(out)?;
    writeln!(out, "From number {} on, of {}:", grouped(&listing.from), grouped(&counts.listed))?;
    for one in &listing.arrangements {
        let cells: Vec<String> = one.cells.iter().map(|row| row.join(" ")).collect();
        let stars = counted(one.complete_stars.into(), "complete star", "complete stars");
        let islands = counted(one.dark_islands.into(), "dark island", "dark islands");
        let light = counted(one.light_islands.into(), "light island", "light islands");
        writeln!(out, "  {}   {}; {stars}; {islands}; {light}", cells.join(" / "), one.symmetry)?;
    }
    if let Some(next) = &listing.next {
        writeln!(out, "Goes on with --number {next}")?;
    }
    Ok(())
}

fn states_word(count: usize) -> String {
    counted(count as u64, "state", "states")
}

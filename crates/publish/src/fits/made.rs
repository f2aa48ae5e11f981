//! Shares dealt, the quilt made of them, and its plans proved.

use std::collections::BTreeMap;

use cutting::{Bought, CutError, FabricPlan, Ledger, Verified, audit};
use geometry::Value;
use layout::pairings::{Allowed, BlockStates, Classic, HalfType, State, StateId};
use layout::{BlockDef, Colour, Design, DesignParts, Fabric, FabricId, Look, Place, PlaceId, Setting, Tally};

use super::capacity::{Bench, Halt, Steps, leaving};
use super::choice::Pairing;
use super::deal::{counts, deal};
use super::error::FitsError;
use super::probe::{BLOCK, Drawn, Probe, stand_in};
use super::shape::Shape;

/// Classic arrangements as they are proposed: those in which stars come together first.
const ORDER: [Classic; 6] = [
    Classic::SmallDiamonds,
    Classic::Pinwheel,
    Classic::Zigzag,
    Classic::Diamonds,
    Classic::Furrows,
    Classic::StraightRows,
];

/// How the blocks are turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Turning {
    /// A classic arrangement of dark and light halves.
    Classic(Classic),
    /// A quarter turn in every other block, so that diagonals meet.
    InTurn,
    /// All as drafted.
    Alike,
}

impl Turning {
    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::Classic(classic) => classic.name(),
            Self::InTurn => "turned by turns",
            Self::Alike => "all alike",
        }
    }

    /// The ways to turn the blocks of a probe; the pieces are the same in all of them.
    pub(super) fn of(probe: &Probe) -> Result<Vec<Self>, FitsError> {
        let Some(pairing) = probe.pairing else { return Ok(vec![Self::Alike]) };
        let base = probe.drawn.block()?.base();
        let (width, height) = base.extent();
        if pairing != Pairing::DarkLight {
            let ways: &[Self] = if width == height { &[Self::InTurn, Self::Alike] } else { &[Self::Alike] };
            return Ok(ways.to_vec());
        }
        let can = |classic: &Classic| classic_states(&probe.drawn, *classic, Shape { rows: 2, columns: 2 });
        let ways: Vec<Self> = ORDER.into_iter().filter(|c| can(c).is_some()).map(Self::Classic).collect();
        Ok(if ways.is_empty() { vec![Self::Alike] } else { ways })
    }
}

/// The turns that make a classic arrangement, row by row; none for a block that gives none. It is never mirrored, so
/// that no piece is cut as a mirror image, and its halves keep their values.
fn classic_states(drawn: &Drawn, classic: Classic, shape: Shape) -> Option<Vec<State>> {
    let allowed = Allowed { mirrored: false, ..Allowed::types(Pairing::DarkLight.types()) };
    let states = BlockStates::new(drawn.block().ok()?.clone(), &allowed).ok()?;
    let halves = drawn.halves(Some(HalfType::DarkLight)).ok()?;
    let numbers = classic.states(&states, shape.rows, shape.columns).ok()?;
    let of_number = |id: &StateId| states.states().get(usize::from(id.0)).filter(|state| state.halves == halves);
    numbers.iter().map(|id| of_number(id).copied()).collect()
}

/// A quilt made of fabrics in hand, its plans proved.
#[derive(Debug, Clone)]
pub(super) struct Made {
    pub(super) design: Design,
    pub(super) plans: BTreeMap<FabricId, Result<FabricPlan, CutError>>,
    pub(super) verified: BTreeMap<FabricId, Verified>,
    /// How many shares each fabric gives, by its number in the hand.
    pub(super) gives: BTreeMap<usize, u64>,
}

/// The shares of one value.
struct Dealt {
    /// The fabric of each share, by its number in the hand.
    of_share: Vec<usize>,
    /// For each fabric that gives any, the kind of piece of which one stays on the shelf.
    ways: BTreeMap<usize, Option<usize>>,
}

impl Bench<'_> {
    /// Makes a quilt of this shape; none if the fabrics do not give it.
    pub(super) fn make(&mut self, shape: Shape, steps: &mut Steps<'_>) -> Result<Option<Made>, Halt> {
        let shares = shape.blocks().div_ceil(self.probe.blocks_in_share());
        let mut dealt = BTreeMap::new();
        for value in self.probe.values().collect::<Vec<_>>() {
            let Some(of_value) = self.settle(value, shares, steps)? else { return Ok(None) };
            dealt.insert(value, of_value);
        }
        let turning = Turning::of(&self.probe)?.first().copied().unwrap_or(Turning::Alike);
        let design = self.design(shape, turning, &dealt)?;
        steps.spend(dealt.values().map(|of_value| of_value.ways.len() as u64).sum())?;
        let ledger = Ledger::new(&design, &Tally::count(&design).map_err(FitsError::from)?)?;
        let binding = design.binding().fabric;
        let in_hand = |(id, plan): (&FabricId, &Result<FabricPlan, CutError>)| {
            *id == binding || plan.as_ref().is_ok_and(|plan| plan.bought == Bought::Nothing)
        };
        if !ledger.plans().iter().all(in_hand) {
            return Ok(None);
        }
        let verified = audit(&design, ledger.plans()).map_err(|problems| {
            let first = problems.into_iter().next().map_or_else(String::new, |(_, problem)| problem.to_string());
            FitsError::Unsound(first)
        })?;
        let mut gives = BTreeMap::new();
        for fabric in dealt.values().flat_map(|of_value| &of_value.of_share) {
            *gives.entry(*fabric).or_insert(0) += 1;
        }
        Ok(Some(Made { plans: ledger.plans().clone(), verified, gives, design }))
    }

    /// Deals the shares of a value so that a plan is found for what each fabric gives.
    fn settle(&mut self, value: Value, shares: u64, steps: &mut Steps<'_>) -> Result<Option<Dealt>, Halt> {
        let capacities = self.capacities(value, steps)?;
        let mut given: Vec<Option<u64>> = vec![None; capacities.len()];
        loop {
            let settled: u64 = given.iter().flatten().sum();
            let open: Vec<u64> =
                capacities.iter().zip(&given).map(|(c, given)| if given.is_some() { 0 } else { c.1.shares }).collect();
            let Some(dealt) = shares.checked_sub(settled).and_then(|rest| deal(&open, rest)) else { return Ok(None) };
            let tried: Vec<u64> =
                counts(&dealt, open.len()).iter().zip(&given).map(|(n, given)| given.unwrap_or(*n)).collect();
            let mut ways = BTreeMap::new();
            let mut refused = None;
            for (place, count) in tried.iter().enumerate().filter(|(_, count)| **count > 0) {
                match self.way(capacities[place].0, value, *count, steps)? {
                    Some(without) => ways.insert(capacities[place].0, without),
                    None => {
                        refused = Some((place, *count));
                        break;
                    }
                };
            }
            let Some((place, count)) = refused else {
                let of_share = deal(&tried, shares).unwrap_or_default();
                let of_share = of_share.into_iter().map(|place| capacities[place].0).collect();
                return Ok(Some(Dealt { of_share, ways }));
            };
            // A plan for fewer shares than were found possible: the fabric gives some more, the others less.
            given[place] = self.more_than(capacities[place].0, value, count, capacities[place].1.shares, steps)?;
            if given[place].is_none() {
                return Ok(None);
            }
        }
    }

    /// The fewest shares above `count` for which a plan is found.
    fn more_than(
        &mut self,
        index: usize,
        value: Value,
        count: u64,
        most: u64,
        steps: &mut Steps<'_>,
    ) -> Result<Option<u64>, Halt> {
        for shares in count + 1..=most {
            if self.way(index, value, shares, steps)?.is_some() {
                return Ok(Some(shares));
            }
        }
        Ok(None)
    }

    /// The quilt, its fabrics numbered as they stand in the hand, from 1.
    fn design(&self, shape: Shape, turning: Turning, dealt: &BTreeMap<Value, Dealt>) -> Result<Design, FitsError> {
        let drawn = &self.probe.drawn;
        let mut parts = drawn.design.parts();
        parts.name = quilt_name(&self.hand.name, &drawn.name);
        parts.setting = Setting::Straight { rows: shape.rows, columns: shape.columns };
        parts.fabrics = self.fabrics(dealt, &parts)?;
        parts.binding.fabric = binding_id(self.hand.fabrics.len());
        parts.blocks = BTreeMap::from([(BLOCK, self.block(dealt)?)]);
        let placed = turned(&self.probe, shape, turning)?;
        for (place, value, index, fabric) in self.shown(shape, dealt)? {
            let base = parts.blocks[&BLOCK].paint(index, placed[&place].halves.values());
            let painted = FabricId(number(fabric));
            let patch = drawn.block()?.patches().get(index).filter(|_| base != Some(painted));
            debug_assert!(dealt.contains_key(&value), "a share has every value that its blocks show");
            if let Some(patch) = patch {
                parts.place_patches.insert((place, patch.key), painted);
            }
        }
        parts.places = placed;
        Ok(Design::assemble(parts)?)
    }

    /// The fabrics that give something, and one for the binding.
    fn fabrics(
        &self,
        dealt: &BTreeMap<Value, Dealt>,
        parts: &DesignParts,
    ) -> Result<BTreeMap<FabricId, Fabric>, FitsError> {
        let ways = dealt.values().flat_map(|of_value| &of_value.ways);
        let mut fabrics: BTreeMap<FabricId, Fabric> =
            ways.map(|(i, without)| (FabricId(number(*i)), leaving(&self.hand.fabrics[*i], *without))).collect();
        let darkest = fabrics.values().max_by_key(|fabric| fabric.value).map(|fabric| fabric.look);
        let Look::Plain(colour) = darkest.unwrap_or(Look::Plain(Colour::rgb(0, 0, 0)));
        let width = parts.backing.usable_width.clone();
        let binding = Fabric::plain("Binding", colour, Value::Dark, width);
        fabrics.insert(binding_id(self.hand.fabrics.len()), binding);
        Ok(fabrics)
    }

    /// The block, its roles in the first fabric of each value.
    fn block(&self, dealt: &BTreeMap<Value, Dealt>) -> Result<BlockDef, FitsError> {
        let def = self.probe.drawn.def()?;
        let first = |value: Value| dealt.get(&value).and_then(|of_value| of_value.of_share.first());
        let any = dealt.values().find_map(|of_value| of_value.of_share.first());
        let of_stand_in = |id: FabricId| {
            let value = Value::ALL.into_iter().find(|value| stand_in(*value) == id);
            let fabric = value.and_then(first).or(any);
            fabric.map_or(FabricId(1), |index| FabricId(number(*index)))
        };
        let table = def.table().iter().map(|(need, id)| (need.clone(), of_stand_in(*id))).collect();
        let keys: Vec<_> = def.block().patches().iter().map(|patch| patch.key).collect();
        let block = BlockDef::with_keys(def.name(), def.recipe().clone(), table, &keys)?;
        Ok(block.with_trimmed(def.trimmed().clone())?)
    }

    /// For every patch of every block, its place, value, number in the block, and the fabric of the hand it is cut from.
    fn shown(
        &self,
        shape: Shape,
        dealt: &BTreeMap<Value, Dealt>,
    ) -> Result<Vec<(PlaceId, Value, usize, usize)>, FitsError> {
        let probe = &self.probe;
        let patches = probe.drawn.block()?.patches().len();
        let mut shown = Vec::new();
        for (value, of_value) in dealt {
            let mut shares: BTreeMap<_, usize> = BTreeMap::new();
            for (row, column) in walk(*value, shape) {
                let kind = probe.kind(row, column);
                let share = shares.entry(kind).or_default();
                let Some(fabric) = of_value.of_share.get(*share) else { continue };
                *share += 1;
                let halves = probe.drawn.halves(kind)?;
                for index in 0..patches {
                    if probe.drawn.value(index, &halves)? == *value {
                        shown.push((PlaceId::Cell { row, column }, *value, index, *fabric));
                    }
                }
            }
        }
        Ok(shown)
    }
}

/// The cells in the order in which the fabrics of a value are dealt to them: along rows, along columns, or back along
/// rows, each row beginning one cell further, so that fabrics are scattered and meet others in every block.
fn walk(value: Value, shape: Shape) -> Vec<(u16, u16)> {
    let Shape { rows, columns } = shape;
    let along_rows = (0..rows).flat_map(|row| (0..columns).map(move |column| (row, (column + row) % columns)));
    match value {
        Value::Dark => along_rows.collect(),
        Value::Medium => along_rows.collect::<Vec<_>>().into_iter().rev().collect(),
        Value::Light => {
            (0..columns).flat_map(|column| (0..rows).map(move |row| ((row + column) % rows, column))).collect()
        }
    }
}

/// The block in every cell, turned.
fn turned(probe: &Probe, shape: Shape, turning: Turning) -> Result<BTreeMap<PlaceId, Place>, FitsError> {
    let Shape { rows, columns } = shape;
    let classic = match turning {
        Turning::Classic(classic) => classic_states(&probe.drawn, classic, shape).unwrap_or_default(),
        Turning::InTurn | Turning::Alike => Vec::new(),
    };
    let mut placed = BTreeMap::new();
    let cells = (0..rows).flat_map(|row| (0..columns).map(move |column| (row, column)));
    for (number, (row, column)) in cells.enumerate() {
        let place = match classic.get(number) {
            Some(state) => Place { block: BLOCK, turn: state.turn, mirrored: state.mirrored, halves: state.halves },
            None => {
                let turn = u8::from(turning == Turning::InTurn && !(row + column).is_multiple_of(2));
                Place { block: BLOCK, turn, mirrored: false, halves: probe.drawn.halves(probe.kind(row, column))? }
            }
        };
        placed.insert(PlaceId::Cell { row, column }, place);
    }
    Ok(placed)
}

/// The number of a fabric of the hand in a quilt file.
fn number(index: usize) -> u32 {
    u32::try_from(index + 1).unwrap_or(u32::MAX)
}

fn binding_id(fabrics: usize) -> FabricId {
    FabricId(number(fabrics))
}

/// Named after the hand and the block, as far as a name goes.
fn quilt_name(hand: &str, block: &str) -> String {
    format!("{hand}, {block}").chars().take(layout::MAX_NAME_CHARS).collect()
}

/// The same quilt with its blocks turned in another way; the pieces stay the same.
pub(super) fn arranged(probe: &Probe, design: &Design, shape: Shape, turning: Turning) -> Result<Design, FitsError> {
    let mut parts = design.parts();
    parts.places = turned(probe, shape, turning)?;
    Ok(Design::assemble(parts)?)
}

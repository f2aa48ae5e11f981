//! One way to make blocks, ready to be asked how many of them a fabric gives.

use std::collections::BTreeMap;
use std::sync::Arc;

use cutting::{ClassBook, ClassId, CutError, FabricPlan, Needs, Terms};
use geometry::{Block, Length, PatchKey, Recipe, Value};
use layout::pairings::HalfType;
use layout::{
    BlockDef, BlockId, Colour, ColourScheme, Design, Fabric, FabricId, Halves, Print, Setting, Source, Starter, Units,
};

use super::choice::{Colours, Family, Pairing};
use super::error::FitsError;

/// The block of a probe's design.
pub(super) const BLOCK: BlockId = BlockId(1);

/// The stand-in fabrics of a probe: one for each value.
const STAND_INS: [(FabricId, Value); 3] =
    [(FabricId(1), Value::Dark), (FabricId(2), Value::Light), (FabricId(3), Value::Medium)];

/// The stand-in for a value.
pub(super) fn stand_in(value: Value) -> FabricId {
    STAND_INS.iter().find(|(_, of)| *of == value).map_or(FabricId(1), |(id, _)| *id)
}

/// A block at a size, in colours.
#[derive(Debug, Clone)]
pub(super) struct Drawn {
    /// What the block is called.
    pub(super) name: String,
    /// Which values its patches take.
    pub(super) colours: Colours,
    /// A quilt of one such block, in a stand-in fabric for each value.
    pub(super) design: Design,
    /// Patches that do not follow their role, with their value.
    painted: BTreeMap<PatchKey, Value>,
    book: ClassBook,
}

impl Drawn {
    /// A block of a family.
    pub(super) fn of_family(family: Family, side: &Length, colours: Colours, units: Units) -> Result<Self, FitsError> {
        let (dark, light, accent) = (stand_in(Value::Dark), stand_in(Value::Light), stand_in(Value::Medium));
        let scheme = match colours {
            Colours::Three => ColourScheme::Three { dark, light, accent },
            Colours::Two | Colours::Own => ColourScheme::Two { dark, light },
        };
        let stand_ins = STAND_INS.map(|(_, value)| (value.word().to_owned(), Colour::rgb(0, 0, 0), value));
        let starter = Starter {
            name: family.name().to_owned(),
            units,
            fabrics: stand_ins.to_vec(),
            blocks: vec![(family.name().to_owned(), family.recipe(side))],
            scheme,
            setting: Setting::Straight { rows: 1, columns: 1 },
            borders: Vec::new(),
            binding: dark,
        };
        Self::new(family.name(), colours, starter.design()?, BTreeMap::new())
    }

    /// A block of a quilt, at another size if need be: its roles keep their values, and the quilt's seam allowance,
    /// ruler and wishes of cutting hold.
    pub(super) fn of_quilt(quilt: &Design, id: BlockId, recipe: Recipe, units: Units) -> Result<Self, FitsError> {
        let def = quilt.block(id)?;
        let value_of = |fabric: FabricId| quilt.fabric(fabric).map(|fabric| fabric.value);
        let table = def.table().iter().map(|(need, fabric)| Ok((need.clone(), stand_in(value_of(*fabric)?))));
        let table = table.collect::<Result<_, layout::EditError>>()?;
        let painted = def.painted().iter().map(|(key, fabric)| Ok((*key, value_of(*fabric)?)));
        let painted = painted.collect::<Result<_, layout::EditError>>()?;
        let keys: Vec<PatchKey> = def.block().patches().iter().map(|patch| patch.key).collect();
        let own = BlockDef::with_keys(def.name(), recipe, table, &keys)?.with_trimmed(def.trimmed().clone())?;
        // A plain quilt whose block is replaced.
        let side = Length::whole_inches(12)?;
        let plain = Self::of_family(Family::FourPatch, &side, Colours::Two, units)?;
        let mut parts = plain.design.parts();
        parts.places.values_mut().for_each(|place| place.halves = Halves::alternating(own.block().halves()));
        parts.blocks = BTreeMap::from([(BLOCK, own)]);
        parts.seam = quilt.seam().clone();
        parts.ruler_step = quilt.ruler_step().clone();
        parts.buying = quilt.buying().clone();
        parts.cutting = quilt.cutting().clone();
        Self::new(def.name(), Colours::Own, Design::assemble(parts)?, painted)
    }

    fn new(
        name: &str,
        colours: Colours,
        design: Design,
        painted: BTreeMap<PatchKey, Value>,
    ) -> Result<Self, FitsError> {
        let book = ClassBook::new(&design, [(Source::Block(BLOCK), false)])?;
        Ok(Self { name: name.to_owned(), colours, design, painted, book })
    }

    /// The block's definition.
    pub(super) fn def(&self) -> Result<&BlockDef, FitsError> {
        Ok(self.design.block(BLOCK)?)
    }

    /// The proved block.
    pub(super) fn block(&self) -> Result<&Arc<Block>, FitsError> {
        Ok(self.def()?.block())
    }

    /// The pairings that the block can have: none for a block without halves.
    pub(super) fn pairings(&self) -> Result<Vec<Option<Pairing>>, FitsError> {
        let halves = self.block()?.halves();
        let can = |pairing: &Pairing| halves > 1 || *pairing != Pairing::DarkLight;
        Ok(match halves {
            0 => vec![None],
            _ => Pairing::ALL.into_iter().filter(can).map(Some).collect(),
        })
    }

    /// The values of the halves in a block of this type.
    pub(super) fn halves(&self, kind: Option<HalfType>) -> Result<Halves, FitsError> {
        let count = self.block()?.halves();
        Ok(match kind {
            None => Halves::NONE,
            Some(HalfType::DarkLight) => Halves::alternating(count),
            Some(HalfType::DarkDark) => Halves::new(&vec![Value::Dark; usize::from(count)]),
            Some(HalfType::LightLight) => Halves::new(&vec![Value::Light; usize::from(count)]),
        })
    }

    /// Whether a patch takes this value, in some pairing.
    pub(super) fn shows(&self, value: Value) -> Result<bool, FitsError> {
        Ok(self.def()?.table().values().any(|id| *id == stand_in(value)))
    }

    /// The value that a patch takes beside these halves.
    pub(super) fn value(&self, index: usize, halves: &Halves) -> Result<Value, FitsError> {
        let def = self.def()?;
        let own = def.block().patches().get(index).and_then(|patch| self.painted.get(&patch.key));
        let by_role = || {
            let id = def.paint(index, halves.values())?;
            STAND_INS.iter().find(|(of, _)| *of == id).map(|(_, value)| *value)
        };
        Ok(own.copied().or_else(by_role).unwrap_or(Value::Dark))
    }
}

/// A block in one pairing, and what each value gives to a share of it.
#[derive(Debug, Clone)]
pub(super) struct Probe {
    /// The block.
    pub(super) drawn: Drawn,
    /// Its pairing.
    pub(super) pairing: Option<Pairing>,
    /// For each value that is shown, the pieces of one share: of one block of each type.
    patches: BTreeMap<Value, Vec<PatchKey>>,
}

impl Probe {
    pub(super) fn new(drawn: Drawn, pairing: Option<Pairing>) -> Result<Self, FitsError> {
        let mut patches: BTreeMap<Value, Vec<PatchKey>> = BTreeMap::new();
        let block = Arc::clone(drawn.block()?);
        for kind in kinds(pairing) {
            let halves = drawn.halves(kind)?;
            for (index, patch) in block.patches().iter().enumerate() {
                patches.entry(drawn.value(index, &halves)?).or_default().push(patch.key);
            }
        }
        Ok(Self { drawn, pairing, patches })
    }

    /// How many blocks make a share.
    pub(super) fn blocks_in_share(&self) -> u64 {
        self.pairing.map_or(1, |pairing| pairing.types().len() as u64)
    }

    /// The type of the block in a row and column.
    pub(super) fn kind(&self, row: u16, column: u16) -> Option<HalfType> {
        let types = self.pairing?.types();
        types.get((usize::from(row) + usize::from(column)) % types.len()).copied()
    }

    /// The values that its patches take.
    pub(super) fn values(&self) -> impl Iterator<Item = Value> + '_ {
        self.patches.keys().copied()
    }

    /// The pieces of so many shares of a value, as they are cut from fabric of this print.
    pub(super) fn pieces(&self, value: Value, shares: u64, print: Print) -> BTreeMap<ClassId, u64> {
        let mut pieces = BTreeMap::new();
        for key in self.patches.get(&value).into_iter().flatten() {
            if let Some(class) = self.drawn.book.of_patch(Source::Block(BLOCK), *key, false, print) {
                *pieces.entry(class).or_insert(0) += shares;
            }
        }
        pieces
    }

    /// Twice the area of one share of a value when it is cut, in square lay units.
    pub(super) fn double_area(&mut self, value: Value, print: Print) -> Result<i128, FitsError> {
        let mut area: i128 = 0;
        for (class, count) in self.pieces(value, 1, print) {
            let piece = self.drawn.book.prepared(class, print)?;
            area = area.saturating_add(piece.piece().polygon.double_area().saturating_mul(count.into()));
        }
        Ok(area)
    }

    /// The plan of so many shares of a value on a fabric; an error if they cannot be laid on it, nor on more of it.
    pub(super) fn plan(&mut self, fabric: &Fabric, value: Value, shares: u64) -> Result<FabricPlan, CutError> {
        let needs = Needs { classes: self.pieces(value, shares, fabric.print), binding: None, used: None };
        let Drawn { design, book, .. } = &mut self.drawn;
        FabricPlan::new(stand_in(value), fabric, &needs, book, Terms::of(design))
    }
}

/// The types of block of a pairing; one without halves for none.
fn kinds(pairing: Option<Pairing>) -> Vec<Option<HalfType>> {
    pairing.map_or_else(|| vec![None], |pairing| pairing.types().iter().copied().map(Some).collect())
}

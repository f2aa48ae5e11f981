//! A quilt to begin with: one or more blocks, a setting, fabrics, and sensible finishing.
//!
//! New quilts, samples, tests and benches begin here, so that all of them are what a user would get.

use std::collections::BTreeMap;

use geometry::{Length, Recipe, Value};

use crate::assemble::DesignParts;
use crate::block_def::{BlockDef, RoleTable, needed_roles};
use crate::border::Border;
use crate::colour_table::{ColourScheme, colour_table};
use crate::design::{Design, Place};
use crate::error::EditError;
use crate::fabric::{Colour, Fabric};
use crate::finishing::{Backing, Binding, BindingGrain, Buying, BuyingStep, Join, Units};
use crate::ids::{BlockId, FabricId, Halves, PlaceId};
use crate::imprint::Imprint;
use crate::sampler::SamplerPlan;
use crate::setting::Setting;
use crate::wishes::CuttingWishes;

/// What a new quilt is made of.
#[derive(Debug, Clone)]
pub struct Starter {
    /// Name of the quilt.
    pub name: String,
    /// Units; they choose the usual seam allowance, ruler step, widths and step of sale too.
    pub units: Units,
    /// Fabrics by name, colour and value; ids count from 1.
    pub fabrics: Vec<(String, Colour, Value)>,
    /// Blocks by name and recipe; ids count from 1.
    pub blocks: Vec<(String, Recipe)>,
    /// Which fabrics the blocks' roles take.
    pub scheme: ColourScheme,
    /// Rows and columns, or rows of triangles.
    pub setting: Setting,
    /// Borders from the inside, by finished width and fabric.
    pub borders: Vec<(Length, FabricId)>,
    /// Fabric of the binding.
    pub binding: FabricId,
}

impl Starter {
    /// The design: the first block in every cell, its halves dark and light in turn.
    ///
    /// # Errors
    /// Any [`EditError`] of a design that cannot be.
    pub fn design(&self) -> Result<Design, EditError> {
        let first = BlockId(1);
        let blocks = (1..)
            .zip(&self.blocks)
            .map(|(id, (name, recipe))| Ok((BlockId(id), self.block(name, recipe)?)))
            .collect::<Result<BTreeMap<_, _>, EditError>>()?;
        let halves = blocks.get(&first).map_or(Halves::NONE, |def| Halves::alternating(def.block().halves()));
        let place = Place { block: first, turn: 0, mirrored: false, halves };
        let usual = Usual::of(self.units)?;
        let fabrics = (1..).zip(&self.fabrics).map(|(id, (name, colour, value))| {
            (FabricId(id), Fabric::plain(name, *colour, *value, usual.usable_width.clone()))
        });
        let sampler = match self.setting {
            Setting::Sampler { rows, columns, .. } => Some(SamplerPlan::even_rows(rows, columns)),
            _ => None,
        };
        Design::assemble(DesignParts {
            name: self.name.clone(),
            units: self.units,
            seam: usual.seam,
            ruler_step: usual.ruler_step,
            buying: usual.buying,
            cutting: CuttingWishes::default(),
            fabrics: fabrics.collect(),
            blocks,
            setting: self.setting,
            float: None,
            sashing: None,
            sampler,
            places: self.setting.cells().map(|id: PlaceId| (id, place)).collect(),
            place_roles: BTreeMap::new(),
            place_patches: BTreeMap::new(),
            borders: self.borders.iter().map(|(width, fabric)| Border::plain(width.clone(), *fabric)).collect(),
            binding: Binding {
                strip_width: usual.binding_width,
                fabric: self.binding,
                extra: usual.binding_extra,
                join: Join::Diagonal,
                grain: BindingGrain::Across,
            },
            backing: Backing { overhang: usual.overhang, usable_width: usual.usable_width },
            imprint: Imprint::default(),
        })
    }

    fn block(&self, name: &str, recipe: &Recipe) -> Result<BlockDef, EditError> {
        // Drafted once to learn its roles, and once more in the definition, which keeps it.
        let drafted = recipe.draft().map_err(|e| EditError::Recipe { name: name.to_owned(), source: Box::new(e) })?;
        let table: RoleTable = colour_table(&drafted, self.scheme);
        debug_assert_eq!(table.len(), needed_roles(&drafted).len(), "a colour table has an entry for every role");
        BlockDef::new(name, recipe.clone(), table)
    }
}

/// The usual figures of a unit system.
struct Usual {
    seam: Length,
    ruler_step: Length,
    usable_width: Length,
    binding_width: Length,
    binding_extra: Length,
    overhang: Length,
    buying: Buying,
}

impl Usual {
    /// Inches: ¼ in seams, ⅛ in ruler, 40 in usable of 44, 2½ in binding with 12 in extra, 4 in overhang, sold by
    /// ⅛ yd. Metric: 7.5 mm seams, 1 mm ruler, 110 cm, 6.5 cm binding with 30 cm extra, 10 cm overhang, sold by
    /// 10 cm. Shrinkage 3 % and one inch or 2 cm to square up. Common practice, no source.
    fn of(units: Units) -> Result<Self, EditError> {
        Ok(match units {
            Units::Inches => Self {
                seam: Length::inch_fraction(1, 4)?,
                ruler_step: Length::inch_fraction(1, 8)?,
                usable_width: Length::whole_inches(40)?,
                binding_width: Length::inch_fraction(5, 2)?,
                binding_extra: Length::whole_inches(12)?,
                overhang: Length::whole_inches(4)?,
                buying: Buying::new(30, Some(Length::whole_inches(1)?), BuyingStep::EighthYard)?,
            },
            Units::Centimetres => Self {
                seam: Length::millimetre_fraction(15, 2)?,
                ruler_step: Length::millimetres(1)?,
                usable_width: Length::millimetres(1100)?,
                binding_width: Length::millimetres(65)?,
                binding_extra: Length::millimetres(300)?,
                overhang: Length::millimetres(100)?,
                buying: Buying::new(30, Some(Length::millimetres(20)?), BuyingStep::TenCentimetres)?,
            },
        })
    }
}

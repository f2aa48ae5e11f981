//! A quilt in two, three or four fabrics: which of its own they are, and the edits that make it so.
//!
//! Every role takes the fabric that [`colour_table`] gives it, as in a new quilt; what is no block (borders, setting
//! triangles, sashes, binding) takes the dark or the light one by the value it had. Paint of single patches goes: it is
//! not of so few fabrics.

use std::collections::BTreeSet;

use cutting::Ledger;
use geometry::{Exact, Role, Value};
use layout::{
    BlockId, Colour, ColourScheme, Design, Edit, EditError, Fabric, FabricId, PlaceId, PlacePaint, apply, colour_table,
};

use super::wishes::Colours;

/// The most fabrics of a variation.
const MOST: usize = 4;

/// What a fabric of a variation is there for, in order.
const PARTS: [(&str, Value, Colour); MOST] = [
    ("Dark fabric", Value::Dark, Colour::rgb(0x33, 0x3b, 0x45)),
    ("Light fabric", Value::Light, Colour::rgb(0xee, 0xea, 0xe2)),
    ("Third fabric", Value::Medium, Colour::rgb(0x9a, 0x6a, 0x4a)),
    ("Fourth fabric", Value::Medium, Colour::rgb(0xc9, 0xa9, 0x6a)),
];

/// The fabrics of the quilt that a variation keeps.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Cast {
    /// Dark, light, third and fourth; none where the quilt has no such fabric, so that one is added.
    own: [Option<FabricId>; MOST],
}

impl Cast {
    /// The dark and the light fabric that the quilt shows most of; then of the others, medium ones first, those it shows
    /// most of. Of equal ones the first counts.
    pub(super) fn of(design: &Design, ledger: &Ledger) -> Self {
        let mut shown: Vec<(FabricId, Value, &Exact)> = Vec::new();
        for (id, used) in ledger.uses() {
            if let Ok(fabric) = design.fabric(*id) {
                shown.push((*id, fabric.value, &used.area));
            }
        }
        // Stable, so that equal ones stay in the order of their ids.
        shown.sort_by(|a, b| b.2.cmp(a.2));
        let mut take = |values: &[Value]| {
            let at = values.iter().find_map(|value| shown.iter().position(|(_, own, _)| own == value))?;
            Some(shown.remove(at).0)
        };
        let dark = take(&[Value::Dark, Value::Medium]);
        let light = take(&[Value::Light, Value::Medium]);
        let any = [Value::Medium, Value::Dark, Value::Light];
        Self { own: [dark, light, take(&any), take(&any)] }
    }

    /// `design` in so many fabrics.
    pub(super) fn dress(&self, design: &Design, colours: Colours) -> Result<Design, EditError> {
        let Some(count) = colours.count() else { return Ok(design.clone()) };
        let mut dressed = Dressing(bare(design)?);
        let fabrics = dressed.fabrics(&self.own[..count])?;
        dressed.replace_others(&fabrics)?;
        if let Some(scheme) = scheme(&fabrics) {
            dressed.paint_blocks(scheme)?;
        }
        Ok(dressed.0)
    }
}

/// The scheme of two, three or four fabrics; none for another number.
fn scheme(fabrics: &[FabricId]) -> Option<ColourScheme> {
    Some(match *fabrics {
        [dark, light, on_dark, on_light] => ColourScheme::Four { dark, light, on_dark, on_light },
        [dark, light, accent] => ColourScheme::Three { dark, light, accent },
        [dark, light] => ColourScheme::Two { dark, light },
        _ => return None,
    })
}

/// Without paint of single places.
fn bare(design: &Design) -> Result<Design, EditError> {
    let by_patch = design.place_patches().map(|(place, _, _)| place);
    let painted: BTreeSet<PlaceId> = by_patch.chain(design.place_roles().map(|(place, _, _)| place)).collect();
    if painted.is_empty() {
        return Ok(design.clone());
    }
    let bare = painted.into_iter().map(|place| (place, PlacePaint::default())).collect();
    Ok(apply(design, &Edit::Repaint(bare))?.0)
}

/// A design on the way from its own fabrics to those of a variation.
struct Dressing(Design);

impl Dressing {
    fn edit(&mut self, edit: &Edit) -> Result<(), EditError> {
        self.0 = apply(&self.0, edit)?.0;
        Ok(())
    }

    /// The fabrics of the variation, in order; those that the quilt has not are added.
    fn fabrics(&mut self, own: &[Option<FabricId>]) -> Result<Vec<FabricId>, EditError> {
        let mut fabrics = Vec::with_capacity(own.len());
        for (own, (name, value, colour)) in own.iter().zip(PARTS) {
            if let Some(id) = own {
                fabrics.push(*id);
                continue;
            }
            let there: BTreeSet<FabricId> = self.0.fabrics().map(|(id, _)| id).collect();
            let width = self.0.backing().usable_width.clone();
            self.edit(&Edit::AddFabric(Fabric::plain(name, colour, value, width)))?;
            fabrics.extend(self.0.fabrics().map(|(id, _)| id).filter(|id| !there.contains(id)));
        }
        Ok(fabrics)
    }

    /// Puts fabrics of the variation wherever another is.
    fn replace_others(&mut self, fabrics: &[FabricId]) -> Result<(), EditError> {
        let [dark, light, more @ ..] = fabrics else { return Ok(()) };
        let others: Vec<(FabricId, Value)> = self.0.fabrics().map(|(id, fabric)| (id, fabric.value)).collect();
        for (from, value) in others.into_iter().filter(|(id, _)| !fabrics.contains(id)) {
            let to = match value {
                Value::Light => light,
                Value::Medium => more.first().unwrap_or(dark),
                Value::Dark => dark,
            };
            self.edit(&Edit::ReplaceFabric { from, to: *to })?;
        }
        Ok(())
    }

    /// Gives every role of every block the fabric of the scheme.
    fn paint_blocks(&mut self, scheme: ColourScheme) -> Result<(), EditError> {
        let blocks: Vec<BlockId> = self.0.blocks().map(|(id, _)| id).collect();
        for block in blocks {
            let table = colour_table(self.0.block(block)?.block(), scheme);
            let mut before: Option<&Role> = None;
            for ((role, value), fabric) in &table {
                // The first of a role takes off what was painted apart from it; the others are of single values.
                let value = (before == Some(role)).then_some(*value);
                before = Some(role);
                self.edit(&Edit::PaintRole { block, role: role.clone(), value, fabric: *fabric })?;
            }
        }
        Ok(())
    }
}

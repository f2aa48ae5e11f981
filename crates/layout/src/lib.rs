//! The quilt document: fabrics, blocks, setting, borders, paint, edits with undo, counts, and the file.
//!
//! A [`Design`] is an immutable value; [`apply`] makes the next one from an [`Edit`], [`History`] keeps the steps,
//! [`Tally`] follows with the counts, and [`mod@file`] reads and writes it. [`pairings`] lists every way to fill a small
//! motif with one block, and [`beds`] how to make a quilt fit a bed.
//!
//! What it does not know: how pieces are cut and laid, how they are sewn, and anything about a window.

mod alternate;
mod apply_arrange;
mod apply_paint;
mod apply_redraft;
mod apply_resize;
mod apply_structure;
mod assemble;
pub mod beds;
mod block_def;
mod border;
mod carry;
mod centre;
mod choice;
mod colour_table;
mod design;
mod edit;
mod error;
mod fabric;
pub mod file;
mod finishing;
mod frame;
mod history;
mod ids;
mod imprint;
mod medallion;
mod motif;
pub mod pairings;
mod pieces;
mod places;
mod recolour;
mod sampler;
mod sashing;
mod save;
mod setting;
mod starter;
mod stock;
mod tally;
mod top;
mod trim;
mod wishes;

pub use apply_arrange::PlacePaint;
pub use assemble::DesignParts;
pub use block_def::{BlockDef, RoleTable, needed_roles};
pub use border::{Border, BorderFit, BorderKind, BorderMisfit, MAX_BORDER_BLOCKS, PiecedBorder};
pub use carry::carry_keys;
pub use colour_table::{ColourScheme, colour_table};
pub use design::{Design, MAX_BLOCKS, MAX_BORDERS, MAX_FABRICS, MAX_TOP_PATCHES, Place};
pub use edit::{Delta, Edit, Resize, Touched, apply};
pub use error::EditError;
pub use fabric::{Colour, Fabric, Look, MAX_NAME_CHARS, Print, default_usable_width};
pub use finishing::{Backing, Binding, BindingGrain, Buying, BuyingStep, Join, MAX_SHRINKAGE, Units};
pub use history::{History, MAX_STEPS};
pub use ids::{BlockId, Corner, FabricId, Halves, PlaceId, Side, Source};
pub use imprint::{Imprint, MAX_NOTE_CHARS, MAX_NOTES, MAX_PHOTO_CHARS};
pub use medallion::{Round, medallion};
pub use sampler::{
    Along, MAX_SAMPLER_BLOCKS, SamplerBlock, SamplerDraft, SamplerFree, SamplerMade, SamplerPlan, SamplerRow,
    SamplerRows, SamplerUnit, Stand,
};
pub use sashing::Sashing;
pub use save::{Overwrite, SaveError, SaveFault, save, save_all};
pub use setting::{Cell, MAX_CELLS, MAX_ROWS, Setting};
pub use starter::Starter;
pub use stock::{InHand, MAX_IN_HAND, MAX_IN_HAND_COUNT, MAX_MIXED, MAX_PRICE, Precut, Price, Sold};
pub use tally::{Move, Tally, TallyChange, TallyWork};
pub use top::{Placed, Top};
pub use trim::{MAX_TRIM_UNITS, TrimFault, UnitKeys};
pub use wishes::{
    CuttingWishes, MAX_CUT_WORTH, MAX_OVERSIZE_INCHES, MAX_SPARE, MAX_SQUARING_EVERY, MethodKind, RulerRounding,
};

//! The panels round the design wall. Each reads what it needs and sends actions.

mod beds_ui;
mod blocks_ui;
mod colour_room;
mod cut;
mod dialogs;
mod fabrics;
mod gallery_ui;
mod later;
mod length_ui;
mod lit_quilt;
mod pairings;
mod publish;
mod rail;
mod set;
mod set_room;
mod sew;
mod stock_ui;
mod top_bar;
mod totals;
pub(crate) mod widgets;
mod wishes_ui;

pub(crate) use colour_room::colour_room_ui;
pub(crate) use cut::{CutState, cut_room_ui};
pub(crate) use dialogs::{Dialogs, PathBox, PathUse, dialogs_ui};
pub(crate) use fabrics::fabrics_ui;
pub(crate) use later::later_ui;
pub(crate) use pairings::{PairingsState, grid_id, pairings_controls_ui, pairings_ui};
pub(crate) use publish::{PublishState, publish_room_ui};
pub(crate) use rail::rail_ui;
pub(crate) use set_room::set_room_ui;
pub(crate) use sew::{SewState, sew_room_ui};
pub(crate) use top_bar::top_bar_ui;
pub(crate) use totals::{totals_text, totals_ui};
pub(crate) use wishes_ui::{oversize_ui, wishes_ui};

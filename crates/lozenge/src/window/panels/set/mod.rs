//! The sections of the place Set, one file each.

mod borders;
mod fields;
mod finishing;
mod in_turn;
mod kinds;
mod medallion;
mod sashing;
mod setting;

pub(crate) use borders::borders_ui;
pub(crate) use fields::{folded_section, section};
pub(crate) use finishing::finishing_ui;
pub(crate) use in_turn::in_turn_ui;
pub(crate) use medallion::medallion_ui;
pub(crate) use sashing::sashing_ui;
pub(crate) use setting::setting_ui;

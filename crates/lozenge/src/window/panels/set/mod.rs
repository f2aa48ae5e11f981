//! The sections of the place Set, one file each.

mod borders;
mod fields;
mod finishing;
mod setting;

pub(crate) use borders::borders_ui;
pub(crate) use finishing::finishing_ui;
pub(crate) use setting::setting_ui;

//! What a finished quilt gives to others: a shopping list, a cutting list, a sheet to hang up, a tester's sheet.
//!
//! Every figure is one of the plan that `cut` prints, or of the totals; a list holds it once as data, and its CSV and its
//! pages only write that down.

mod cutting_list;
mod file_name;
pub(crate) mod materials;
mod share_sheet;
mod shopping_list;
mod spreadsheet;
mod testers_sheet;

pub use cutting_list::{CutLine, cutting_list, cutting_table};
pub use file_name::file_name;
pub use materials::Material;
pub use share_sheet::{ShareSheet, share_sheet};
pub use shopping_list::{ShoppingList, shopping_list};
pub use spreadsheet::{Table, harmless};
pub use testers_sheet::{Measures, TestersSheet, testers_sheet};

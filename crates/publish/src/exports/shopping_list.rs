//! The shopping list: what to buy, with a box to tick.

use cutting::Cost;
use serde::Serialize;

use super::materials::{Material, finished_size, materials};
use super::spreadsheet::Table;
use crate::{About, Figures, Offered, Pages, PublishError, typeset};

/// What to buy for one variant of a quilt.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ShoppingList {
    /// Head and foot.
    pub about: About,
    /// Finished size of the quilt.
    pub size: String,
    /// Fabrics, backing and batting.
    pub rows: Vec<Material>,
    /// What the priced fabrics cost together; empty where no price is known.
    pub total: String,
    /// What the figures hold.
    pub notes: Vec<String>,
}

/// The shopping list of a quilt.
///
/// # Errors
/// A fabric that cannot be cut, or a backing or binding that cannot be joined.
pub fn shopping_list(quilt: &Offered<'_>, about: &About) -> Result<ShoppingList, PublishError> {
    let costs: Vec<Cost> = quilt.made()?.into_iter().filter_map(|plan| plan.all_parts().cost()).collect();
    let sum = costs.iter().map(|cost| cost.hundredths).fold(0, u64::saturating_add);
    let total = if costs.is_empty() { String::new() } else { Cost { hundredths: sum }.to_string() };
    let mut notes = vec![
        format!("Figures of the {} cutting plan: buy and cut by the same one.", quilt.planner.name()),
        "Lengths to buy are rounded up to the step of sale. Colours are for orientation; compare fabrics by their value."
            .to_owned(),
        "Before you buy, measure the usable width without selvages: the plan needs the width that is named.".to_owned(),
    ];
    if !costs.is_empty() {
        notes.push(
            "Prices are those kept with the quilt, in your own currency; fabrics without one are not in the sum."
                .to_owned(),
        );
    }
    Ok(ShoppingList { about: about.clone(), size: finished_size(quilt.design), rows: materials(quilt)?, total, notes })
}

impl ShoppingList {
    /// The list as a table for a spreadsheet. The first column is for a mark.
    #[must_use]
    pub fn table(&self) -> Table {
        let head = ["Bought", "Item", "Value", "Colour", "Used for", "Takes", "At hand", "To buy", "Price"];
        let row = |item: &Material| {
            let Material { colour, name, value, used_for, takes, at_hand, buy, cost } = item.clone();
            vec![String::new(), name, value, colour, used_for, takes, at_hand, buy, cost]
        };
        let table = Table { head: head.map(str::to_owned).to_vec(), rows: self.rows.iter().map(row).collect() };
        table.in_edition(&self.about.edition)
    }

    /// The list on paper.
    ///
    /// # Errors
    /// [`PublishError::Typeset`]; a defect.
    pub fn pages(&self) -> Result<Pages, PublishError> {
        typeset("shopping.typ", self, &Figures::default())
    }
}

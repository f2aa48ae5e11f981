//! Templates at their true size, as the last sheets of the booklet.

use layout::Tally;
use piecing::QuiltPlan;

use super::{Picture, picture};
use crate::templates::{SheetOptions, templates};
use crate::{About, Figures, Offered, PublishError};

/// Draws the sheets, each exactly as large as the paper.
pub(super) fn template_sheets(
    quilt: &Offered<'_>,
    sewing: &QuiltPlan,
    about: &About,
    figures: &mut Figures,
) -> Result<Vec<Picture>, PublishError> {
    let tally = Tally::count(quilt.design)?;
    let made = templates(quilt.design, &tally, quilt.ledger, Some(sewing), about, &SheetOptions::default())?;
    let sheets = made.document.sheets;
    let count = sheets.len();
    let sheet = |(index, drawing)| picture(figures, drawing, format!("Templates, sheet {} of {count}", index + 1));
    Ok(sheets.iter().enumerate().map(sheet).collect())
}

//! Templates at their true size, as the last sheets of the booklet.

use layout::Tally;
use piecing::QuiltPlan;

use super::{Picture, picture};
use crate::templates::{SheetOptions, Templates, templates};
use crate::{About, Figures, Offered, PublishError};

/// The templates of the quilt, with their letters and sheets.
pub(super) fn made_templates(
    quilt: &Offered<'_>,
    sewing: &QuiltPlan,
    about: &About,
) -> Result<Templates, PublishError> {
    let tally = Tally::count(quilt.design)?;
    templates(quilt.design, &tally, quilt.ledger, Some(sewing), about, &SheetOptions::default())
}

/// Their sheets as figures, each exactly as large as the paper.
pub(super) fn template_sheets(made: &Templates, figures: &mut Figures) -> Vec<Picture> {
    let sheets = &made.document.sheets;
    let count = sheets.len();
    let sheet = |(index, drawing)| picture(figures, drawing, format!("Templates, sheet {} of {count}", index + 1));
    sheets.iter().enumerate().map(sheet).collect()
}

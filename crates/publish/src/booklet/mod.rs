//! The booklet: a whole pattern on paper, from the cover to the words it uses.
//!
//! Nothing is stored for a quilt or a block: every sentence, number and figure follows from the design, its cutting plans
//! and its plan of sewing, the same that `totals`, `cut` and `sew` tell. [`BookletData`] is all of it as data, in the order
//! of the pages; [`booklet`] sets the pages.

mod backing_picture;
mod border_picture;
mod cautions;
mod cover;
mod cutting_part;
mod exchanged;
mod fabrics_part;
mod facts;
mod finishing_part;
mod glossary;
mod kinds;
mod photo;
mod rows_picture;
mod sewing_part;
mod skill;
mod templates_part;
mod top_part;

use piecing::{CuttingHand, QuiltPlan};
use serde::Serialize;

use crate::{About, Drawing, Figures, Offered, Pages, PublishError, typeset};

pub use self::cautions::Cautions;
pub use self::cover::Cover;
pub use self::cutting_part::{CutCloth, CutFabric, CutPiece, CutStrip, Cutting};
pub use self::fabrics_part::{FabricRow, OfferedFabrics};
pub use self::facts::{Fact, Facts};
pub use self::finishing_part::Finishing;
pub use self::glossary::Entry;
pub use self::photo::{MAX_PHOTO_BYTES, MAX_PHOTO_PIXELS, Photo, PhotoError};
pub use self::sewing_part::{SewnBlock, SewnFigure, SewnSection, SewnStep};
pub use self::skill::{Reason, Skill};
pub use self::top_part::{Kind, TopPart};

/// What a booklet is made from.
#[derive(Debug, Clone, Copy)]
pub struct BookletInput<'a> {
    /// The variant that is cut and sewn.
    pub quilt: Offered<'a>,
    /// How it is sewn, with the units that its cutting plan sews before it cuts.
    pub sewing: &'a QuiltPlan,
    /// All variants that the pattern offers, this one among them, in their order.
    pub offered: &'a [Offered<'a>],
}

/// How a booklet is made; the line under its title and its notes are those of [`layout::Design::imprint`].
#[derive(Debug, Clone, PartialEq)]
pub struct BookletOptions {
    /// Title, author, edition and paper.
    pub about: About,
    /// A photo for the cover; without one the quilt is drawn.
    pub photo: Option<Photo>,
    /// The hand that holds the rotary cutter.
    pub hand: CuttingHand,
}

/// All that a booklet says and shows, in the order of its pages. Lengths in words are in the design's units; figures are
/// called by their names among the [`Figures`] of the document.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BookletData {
    /// Head and foot.
    pub about: About,
    /// The first page.
    pub cover: Cover,
    /// The quilt at a glance.
    pub facts: Facts,
    /// What may hurt someone or cost dear.
    pub cautions: Cautions,
    /// What to buy, for each variant that is offered.
    pub fabrics: Vec<OfferedFabrics>,
    /// How every fabric is cut.
    pub cutting: Cutting,
    /// How every block is sewn.
    pub sewing: Vec<SewnBlock>,
    /// How the top is put together.
    pub top: TopPart,
    /// Backing, batting and binding.
    pub finishing: Finishing,
    /// The top without colours.
    pub colouring: Picture,
    /// The words of the trade that stand above, with what they mean.
    pub glossary: Vec<Entry>,
    /// Templates at their true size: sheets exactly as large as the paper.
    pub templates: Vec<Picture>,
}

/// A figure of the booklet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Picture {
    /// Its name among the figures.
    pub file: String,
    /// The width at which its words have their size, in inches.
    pub width_in: f64,
    /// The height that goes with it.
    pub height_in: f64,
    /// What it shows, for those who do not see it.
    pub alt: String,
}

/// Takes in a drawing as a figure of its own size.
fn picture(figures: &mut Figures, drawing: &Drawing, alt: impl Into<String>) -> Picture {
    let page = drawing.page();
    Picture { file: figures.add(drawing), width_in: page.width_in, height_in: page.height_in, alt: alt.into() }
}

/// All that a booklet says, and its figures.
///
/// # Errors
/// A fabric that cannot be cut ([`PublishError::Uncut`]), or a drawing that cannot be drawn.
pub fn booklet_data(
    input: &BookletInput<'_>,
    options: &BookletOptions,
) -> Result<(BookletData, Figures), PublishError> {
    let mut figures = Figures::default();
    let BookletInput { quilt, sewing, offered } = input;
    let templates = templates_part::made_templates(quilt, sewing, &options.about)?;
    let mut data = BookletData {
        about: options.about.clone(),
        cover: cover::cover(input, options, &mut figures)?,
        facts: facts::facts(quilt, sewing)?,
        cautions: cautions::cautions(),
        fabrics: fabrics_part::fabrics_part(quilt, offered)?,
        cutting: cutting_part::cutting(quilt, &templates.templates, &mut figures)?,
        sewing: sewing_part::sewing(quilt, sewing, options.hand, &mut figures)?,
        top: top_part::top_part(quilt, sewing, &mut figures)?,
        finishing: finishing_part::finishing(quilt, &mut figures)?,
        colouring: picture(&mut figures, &crate::quilt_picture::line_art(quilt.design)?, "The quilt top in outline"),
        glossary: Vec::new(),
        templates: templates_part::template_sheets(&templates, &mut figures),
    };
    data.glossary = glossary::used_terms(&data, quilt.design)?;
    Ok((data, figures))
}

/// The pages of a booklet.
///
/// # Errors
/// As [`booklet_data`]; [`PublishError::Typeset`] when the photo cannot be read.
pub fn booklet(input: &BookletInput<'_>, options: &BookletOptions) -> Result<Pages, PublishError> {
    let (data, figures) = booklet_data(input, options)?;
    typeset("booklet.typ", &data, &figures)
}

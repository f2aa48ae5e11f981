//! Lay drawings: a length of fabric to scale with every piece on it, lettered and numbered as in the cutting list.
//!
//! Strips run across the page from selvage to selvage, the first to be cut on top. Equal strips are drawn once and
//! counted ("6 like this"), so that a lay of several yards is read on one page. Nothing is told by colour alone: pieces
//! have numbers, strips have letters, and what is left over is hatched, so a drawing says the same in black and white.

mod strip;
mod table;

use cutting::{FabricPlan, PlannedPiece, StripPlan, StripRun, lays};
use geometry::Value;
use geometry::lay::LayPolygon;
use layout::{Colour, Fabric, Units};

use crate::block::{Block, stacked};
use crate::cut_words::{RowWords, cut_size, piece_name, piece_of, strip_heading, strip_letter, strip_lines};
use crate::lengths::{fabric_length, ruler};
use crate::{Drawing, Page, PublishError};

/// Width of a lay drawing in inches: what is printed on a page of letter size or A4.
pub const LAY_WIDTH_IN: f64 = 7.5;

/// What a lay drawing of one fabric shows, and says in words.
#[derive(Debug, Clone, PartialEq)]
pub struct LayPicture {
    /// Name of the fabric.
    pub fabric: String,
    /// How light or dark it reads.
    pub value: Value,
    /// Its colour on screen.
    pub colour: Colour,
    /// Units of the words.
    pub units: Units,
    /// Usable width of the fabric in lay units.
    pub width: i64,
    /// Length of fabric that is taken, in lay units.
    pub length: i64,
    /// What to buy, such as `1¼ yd`.
    pub buy: String,
    /// Whether the fabric is folded in half along its length while strips are cut: the fold is then drawn.
    pub folded: bool,
    /// The kinds of pieces, numbered from 1.
    pub pieces: Vec<LayPiece>,
    /// The strips in the order of work, equal ones once.
    pub strips: Vec<LayStrip>,
}

/// One kind of piece in a lay drawing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LayPiece {
    /// Its number in the list, from 1.
    pub number: usize,
    /// What it is called.
    pub name: String,
    /// Width and height when cut, in words.
    pub size: String,
    /// How many.
    pub count: u64,
}

/// Equal strips of a lay drawing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LayStrip {
    /// A, B, C in the order of work.
    pub letter: String,
    /// Height of each, in lay units.
    pub height: i64,
    /// How many there are.
    pub repeat: u64,
    /// How many of what width, in words.
    pub heading: String,
    /// What is cut from each, in words.
    pub words: Vec<RowWords>,
    /// The rows of pieces in each, from the left.
    pub rows: Vec<LayRow>,
}

/// A row of equal pieces in a strip.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LayRow {
    /// The number of the piece.
    pub number: usize,
    /// The pieces, from the lower left corner of the strip, y up, in lay units.
    pub polygons: Vec<LayPolygon>,
}

impl LayPicture {
    /// What is drawn of a plan.
    ///
    /// # Errors
    /// [`PublishError::Cut`] for a plan of too many pieces to place one by one.
    pub fn new(plan: &FabricPlan, fabric: &Fabric, units: Units) -> Result<Self, PublishError> {
        let strips = plan.plan.strips.iter().enumerate();
        let strips = strips.map(|(index, run)| lay_strip(plan, index, run, units)).collect::<Result<_, _>>()?;
        Ok(Self {
            fabric: fabric.name.clone(),
            value: fabric.value,
            colour: fabric.look.colour(),
            units,
            width: plan.width,
            length: plan.plan.length,
            buy: plan.purchase.label.clone(),
            folded: false,
            pieces: plan.pieces.iter().enumerate().map(|(index, piece)| lay_piece(index, piece, units)).collect(),
            strips,
        })
    }

    /// "42″ long, 40″ wide": what the plan takes of the fabric.
    #[must_use]
    pub fn extent(&self) -> String {
        format!("{} long, {} wide", fabric_length(self.length, self.units), ruler(self.width, self.units))
    }

    /// Strips in all.
    #[must_use]
    pub fn strips_cut(&self) -> u64 {
        self.strips.iter().map(|strip| strip.repeat).fold(0, u64::saturating_add)
    }
}

fn lay_piece(index: usize, piece: &PlannedPiece, units: Units) -> LayPiece {
    LayPiece { number: index + 1, name: piece_name(piece, units), size: cut_size(piece, units), count: piece.count }
}

/// One strip of a run, with its pieces placed as every plan places them.
fn lay_strip(plan: &FabricPlan, index: usize, run: &StripRun, units: Units) -> Result<LayStrip, PublishError> {
    let once = StripRun { repeat: 1, ..run.clone() };
    let alone = StripPlan { width: plan.width, length: run.height, strips: vec![once] };
    let pieces: Vec<_> = plan.pieces.iter().map(|piece| piece.prepared.as_ref()).collect();
    let placed = lays(&alone, &pieces)?;
    let mut polygons = placed.into_iter().flat_map(|lay| lay.placements).map(|placement| placement.polygon);
    let rows = run.segments.iter().filter_map(|segment| {
        let (number, _) = piece_of(plan, segment)?;
        let count = usize::try_from(segment.count).unwrap_or(usize::MAX);
        Some(LayRow { number, polygons: polygons.by_ref().take(count).collect() })
    });
    Ok(LayStrip {
        letter: strip_letter(index),
        height: run.height,
        repeat: run.repeat,
        heading: strip_heading(run, units),
        rows: rows.collect(),
        words: strip_lines(plan, run, units),
    })
}

/// Draws the lay: the fabric to scale, a measured bar, and the list of its pieces.
///
/// The drawing is [`LAY_WIDTH_IN`] wide with a margin round it, and as long as it needs to be; type has the size that is
/// read on paper.
///
/// # Errors
/// A drawing of more than an exporter can take.
pub fn lay_picture(lay: &LayPicture) -> Result<Drawing, PublishError> {
    let blocks = [table::title(lay), strip::cloth(lay), vec![table::scale_bar(lay)], table::pieces(lay)].concat();
    let (items, height_in) = stacked(&blocks);
    let page = Page {
        width_in: LAY_WIDTH_IN + 2.0 * MARGIN_IN,
        height_in: height_in + 2.0 * MARGIN_IN,
        background: Some(PAPER),
    };
    Drawing::new(page, items.into_iter().map(|item| item.moved([MARGIN_IN; 2])).collect())
}

/// Margin round a drawing, in inches.
const MARGIN_IN: f64 = 0.25;

/// A sheet of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 8½ by 11 inches.
    Letter,
    /// 210 by 297 mm (ISO 216).
    A4,
}

impl Paper {
    /// The paper that goes with units.
    #[must_use]
    pub const fn of(units: Units) -> Self {
        match units {
            Units::Inches => Self::Letter,
            Units::Centimetres => Self::A4,
        }
    }

    /// Width and height in inches.
    const fn size_in(self) -> [f64; 2] {
        match self {
            Self::Letter => [8.5, 11.0],
            Self::A4 => [210.0 / 25.4, 297.0 / 25.4],
        }
    }
}

/// Room left at the head and the foot of a sheet, in inches.
const HEAD_IN: f64 = 0.5;

/// Draws the lay on sheets of paper, with its pieces and the cutting list in words; one sheet where it has room.
///
/// # Errors
/// A drawing of more than an exporter can take.
pub fn lay_sheets(lay: &LayPicture, paper: Paper) -> Result<Vec<Drawing>, PublishError> {
    let blocks: Vec<Block> = [
        table::title(lay),
        strip::cloth(lay),
        vec![table::scale_bar(lay)],
        table::pieces(lay),
        table::cutting_list(lay),
        table::cautions(),
    ]
    .concat();
    let [width_in, height_in] = paper.size_in();
    let page = Page { width_in, height_in, background: Some(PAPER) };
    let left = (width_in - LAY_WIDTH_IN) / 2.0;
    let sheets = crate::block::paged(&blocks, height_in - 2.0 * HEAD_IN - table::RUNNING_FOOT_IN);
    let count = sheets.len();
    let sheet = |(index, items): (usize, Vec<crate::Item>)| {
        let foot = table::running_foot(lay, index + 1, count).at(height_in - HEAD_IN);
        let items = items.into_iter().map(|item| item.moved([left, HEAD_IN]));
        Drawing::new(page, items.chain(foot.into_iter().map(|item| item.moved([left, 0.0]))).collect())
    };
    sheets.into_iter().enumerate().map(sheet).collect()
}

/// Paper.
const PAPER: Colour = Colour::rgb(255, 255, 255);
/// Text and outlines.
const INK: Colour = Colour::rgb(26, 28, 32);
/// Quieter text.
const QUIET: Colour = Colour::rgb(88, 92, 100);

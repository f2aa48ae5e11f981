//! What a lay drawing shows, taken from a plan: the same for paper and for the screen.

use cutting::methods::Method;
use cutting::{Cloth, FabricPlan, PlannedPiece, StripPlan, StripRun, lays};
use geometry::Value;
use geometry::lay::LayPolygon;
use layout::{Colour, Fabric, Units};

use crate::PublishError;
use crate::cut_words::{
    RowWords, buy_words, cloth_headings, cloth_names, cloth_words, cut_size, listed_name, piece_of, strip_heading,
    strip_letter, trim_words,
};
use crate::strip_words::strip_lines_by;
use crate::template_letters::TemplateLetters;

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
    /// What the strips are cut from, such as `42″ long, 40″ wide`.
    pub extent: String,
    /// What to buy, such as `1¼ yd`.
    pub buy: String,
    /// The kinds of pieces, numbered from 1; blanks are pieces of their own.
    pub pieces: Vec<LayPiece>,
    /// What is cut, in the order of work, equal sheets once.
    pub cloths: Vec<LayCloth>,
}

/// One kind of piece in a lay drawing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LayPiece {
    /// Its number in the list, from 1.
    pub number: usize,
    /// What it is called.
    pub name: String,
    /// Its exact size when cut, in words.
    pub size: String,
    /// What is trimmed of it because the ruler set it wider; empty where it is cut exactly.
    pub trim: String,
    /// How many.
    pub count: u64,
}

/// A length of fabric, or equal sheets.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LayCloth {
    /// What it is called in short, such as `fat quarter 2 of 5`; none for a length that is all there is.
    pub name: Option<String>,
    /// The same with its size, as the heading of its strips.
    pub heading: Option<String>,
    /// Whether it is a sheet, with four cut edges; a length has two selvages.
    pub is_sheet: bool,
    /// How many are cut like this.
    pub repeat: u64,
    /// Length of its strips in lay units: for a length, the usable width of the fabric.
    pub width: i64,
    /// Its other side in lay units; of a length, what is taken of it.
    pub length: i64,
    /// The strips in the order of work, equal ones once.
    pub strips: Vec<LayStrip>,
}

/// Equal strips of a lay drawing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LayStrip {
    /// A, B, C in the order of work, going on from cloth to cloth.
    pub letter: String,
    /// Height of each, in lay units.
    pub height: i64,
    /// How many there are in one cloth.
    pub repeat: u64,
    /// Where along the strip the fabric is folded while it is cut, in lay units; none if it lies flat.
    pub fold: Option<i64>,
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
    /// What comes out of them, kind by kind, where they are blanks.
    pub cuts: Vec<LayCut>,
}

/// Equal pieces that come out of the blanks of a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LayCut {
    /// The number of the piece.
    pub number: usize,
    /// The pieces, placed as those of the row are.
    pub polygons: Vec<LayPolygon>,
}

impl LayPicture {
    /// What is drawn of a plan.
    ///
    /// # Errors
    /// [`PublishError::Cut`] for a plan of too many pieces to place one by one.
    pub fn new(plan: &FabricPlan, fabric: &Fabric, units: Units) -> Result<Self, PublishError> {
        Self::with_letters(plan, fabric, units, &TemplateLetters::default())
    }

    /// The same, pointing to templates by their letters.
    pub(crate) fn with_letters(
        plan: &FabricPlan,
        fabric: &Fabric,
        units: Units,
        letters: &TemplateLetters,
    ) -> Result<Self, PublishError> {
        let mut names = (0..).map(strip_letter);
        let words = cloth_names(plan).into_iter().zip(cloth_headings(plan, units));
        let cloths = plan.cloths().into_iter().zip(words).map(|(cloth, (name, heading))| {
            let strip = |run| lay_strip(plan, &cloth, run, (names.next().unwrap_or_default(), letters), units);
            Ok(LayCloth {
                name,
                heading,
                is_sheet: cloth.sheet.is_some(),
                repeat: cloth.repeat,
                width: cloth.width,
                length: cloth.length,
                strips: cloth.strips.iter().map(strip).collect::<Result<_, PublishError>>()?,
            })
        });
        Ok(Self {
            fabric: fabric.name.clone(),
            value: fabric.value,
            colour: fabric.look.colour(),
            units,
            cloths: cloths.collect::<Result<_, PublishError>>()?,
            extent: cloth_words(plan, units),
            buy: buy_words(plan),
            pieces: plan.pieces.iter().enumerate().map(|(index, piece)| lay_piece(index, plan, piece, units)).collect(),
        })
    }

    /// Equal strips of all cloths, in the order of work.
    pub fn strips(&self) -> impl Iterator<Item = &LayStrip> {
        self.cloths.iter().flat_map(|cloth| &cloth.strips)
    }

    /// Strips in all.
    #[must_use]
    pub fn strips_cut(&self) -> u64 {
        let of_cloth = |cloth: &LayCloth| {
            let each = cloth.strips.iter().map(|strip| strip.repeat).fold(0, u64::saturating_add);
            each.saturating_mul(cloth.repeat)
        };
        self.cloths.iter().map(of_cloth).fold(0, u64::saturating_add)
    }
}

impl LayCloth {
    /// What is left of a sheet beyond its strips, in lay units.
    #[must_use]
    pub fn rest(&self) -> i64 {
        let of_strips = |strip: &LayStrip| strip.height.saturating_mul(i64::try_from(strip.repeat).unwrap_or(i64::MAX));
        self.length.saturating_sub(self.strips.iter().map(of_strips).fold(0, i64::saturating_add)).max(0)
    }
}

impl LayStrip {
    /// Whether a kind of piece is cut from the strip, as it is or out of a blank.
    #[must_use]
    pub fn has(&self, number: usize) -> bool {
        self.rows.iter().any(|row| row.number == number || row.cuts.iter().any(|cut| cut.number == number))
    }
}

fn lay_piece(index: usize, plan: &FabricPlan, piece: &PlannedPiece, units: Units) -> LayPiece {
    LayPiece {
        number: index + 1,
        name: listed_name(piece, units),
        size: cut_size(piece, units),
        trim: trim_words(plan, piece, units).unwrap_or_default(),
        count: piece.count,
    }
}

/// One strip of a run, with its pieces placed as every plan places them.
fn lay_strip(
    plan: &FabricPlan,
    cloth: &Cloth<'_>,
    run: &StripRun,
    (letter, letters): (String, &TemplateLetters),
    units: Units,
) -> Result<LayStrip, PublishError> {
    let once = StripRun { repeat: 1, ..run.clone() };
    let alone = StripPlan { width: cloth.width, length: run.height, strips: vec![once] };
    let pieces: Vec<_> = plan.pieces.iter().map(|piece| piece.prepared.as_ref()).collect();
    let placed = lays(&alone, &pieces)?;
    let mut polygons = placed.into_iter().flat_map(|lay| lay.placements).map(|placement| placement.polygon);
    let mut fold = None;
    let mut rows = Vec::with_capacity(run.segments.len());
    for segment in &run.segments {
        let count = usize::try_from(segment.count).unwrap_or(usize::MAX);
        let polygons: Vec<LayPolygon> = polygons.by_ref().take(count).collect();
        let Some((number, piece)) = piece_of(plan, segment) else { continue };
        fold = fold.or_else(|| fold_of(piece, &polygons));
        rows.push(LayRow { number, cuts: cuts(plan, piece, &polygons), polygons });
    }
    let (heading, words) = (strip_heading(run, units), strip_lines_by(plan, (run, cloth.width), units, letters));
    Ok(LayStrip { letter, height: run.height, repeat: run.repeat, fold, heading, words, rows })
}

/// Where the fold lies for a blank that is cut from folded fabric.
fn fold_of(piece: &PlannedPiece, blanks: &[LayPolygon]) -> Option<i64> {
    let folded = piece.blank.as_ref().filter(|blank| matches!(blank.method, Method::Folded { .. }));
    let bounds = blanks.first().filter(|_| folded.is_some())?.bounds();
    Some(bounds.min.x.midpoint(bounds.max.x))
}

/// What comes out of the blanks of a row; nothing out of a piece that is no blank.
fn cuts(plan: &FabricPlan, piece: &PlannedPiece, blanks: &[LayPolygon]) -> Vec<LayCut> {
    let Some(blank) = &piece.blank else { return Vec::new() };
    let mut cuts: Vec<LayCut> = Vec::new();
    for inner in blanks.iter().flat_map(|outline| blank.inner_at(outline)) {
        let Some(index) = plan.pieces.iter().position(|p| p.prepared.id() == inner.piece) else { continue };
        let number = index + 1;
        match cuts.iter_mut().find(|cut| cut.number == number) {
            Some(cut) => cut.polygons.push(inner.polygon),
            None => cuts.push(LayCut { number, polygons: vec![inner.polygon] }),
        }
    }
    cuts
}

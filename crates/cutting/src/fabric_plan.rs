//! The quick plan of one fabric: pieces with counts, strips, required length, bound and purchase.

use std::collections::BTreeMap;
use std::sync::Arc;

use geometry::cut::CutShape;
use geometry::lay::{LayPolygon, UNITS_PER_INCH};
use geometry::{Exact, Length};
use layout::{Buying, Fabric, FabricId, Print};

use crate::bound::least_by_area;
use crate::buying::{Purchase, inches};
use crate::class::{ClassBook, ClassId, freedom_of};
use crate::error::CutError;
use crate::joined::{BindingCut, rectangle_up, section_shape, sections};
use crate::lay::{Lay, lays};
use crate::piece::{CutPiece, Freedom, PieceId, PreparedPiece};
use crate::quick::quick;
use crate::strip_plan::StripPlan;
use crate::verify::{Problem, Verified, verify};

/// One kind of piece in a fabric's plan.
#[derive(Debug, Clone)]
pub struct PlannedPiece {
    /// What it is.
    pub label: String,
    /// How many.
    pub count: u64,
    /// Finished and cut shape; none for what is no patch, such as binding.
    pub shape: Option<Arc<CutShape>>,
    /// Whether straight grain is asked for.
    pub has_grain: bool,
    /// Whether it is a section of a longer strip, to be joined with others.
    pub is_section: bool,
    /// Its cut outline, what may be done to it, and the rows it can be cut in.
    pub prepared: Arc<PreparedPiece>,
}

/// The quick plan of one fabric.
#[derive(Debug, Clone)]
pub struct FabricPlan {
    /// Which fabric.
    pub fabric: FabricId,
    /// Usable width in lay units, rounded down.
    pub width: i64,
    /// The pieces, patches first.
    pub pieces: Vec<PlannedPiece>,
    /// Strips and subcuts.
    pub plan: StripPlan,
    /// No lay of these pieces, however clever, is shorter; in lay units.
    pub least_by_any_means: i64,
    /// Required length and what to buy.
    pub purchase: Purchase,
}

/// What one fabric has to give.
#[derive(Debug, Clone, Default)]
pub struct Needs<'a> {
    /// How many pieces of each class.
    pub classes: BTreeMap<ClassId, u64>,
    /// Binding strips, if the binding is of this fabric.
    pub binding: Option<&'a BindingCut>,
}

impl FabricPlan {
    /// Plans a fabric.
    ///
    /// # Errors
    /// A piece that does not fit the fabric, named with its fabric, size and remedy.
    pub fn new(
        id: FabricId,
        fabric: &Fabric,
        needs: &Needs<'_>,
        book: &mut ClassBook,
        seam: &Length,
        buying: &Buying,
    ) -> Result<Self, CutError> {
        let named = |error: CutError| error.on_fabric(&fabric.name);
        let width = usable_units(fabric).map_err(named)?;
        let mut list = CutList { book, fabric, width, seam, pieces: Vec::new(), joined: BTreeMap::new() };
        let pieces = list.fill(needs).map_err(named)?;
        let listed: Vec<(&PreparedPiece, u64)> = pieces.iter().map(|p| (p.prepared.as_ref(), p.count)).collect();
        let plan = quick(width, &listed).map_err(|e| name_piece(e, &pieces)).map_err(named)?;
        let counted: Vec<(&CutPiece, u64)> = pieces.iter().map(|p| (p.prepared.piece(), p.count)).collect();
        let least_by_any_means = least_by_area(width, &counted).map_err(named)?;
        let purchase = Purchase::new(inches(plan.length), buying);
        Ok(Self { fabric: id, width, pieces, plan, least_by_any_means, purchase })
    }

    /// Every piece placed on the fabric.
    ///
    /// # Errors
    /// As [`lays`].
    pub fn lays(&self) -> Result<Vec<Lay>, CutError> {
        let pieces: Vec<&PreparedPiece> = self.pieces.iter().map(|p| p.prepared.as_ref()).collect();
        lays(&self.plan, &pieces)
    }

    /// Checks lays of this plan piece by piece, trusting nothing but the pieces and their counts, and proves that
    /// each cut outline covers its exact cut shape.
    ///
    /// # Errors
    /// Every problem found.
    pub fn verify(&self, lays: &[Lay]) -> Result<Verified, Vec<Problem>> {
        let counted: Vec<(&CutPiece, u64)> = self.pieces.iter().map(|p| (p.prepared.piece(), p.count)).collect();
        let uncovered: Vec<Problem> = self
            .pieces
            .iter()
            .filter(|p| p.shape.as_ref().is_some_and(|shape| !shape.covers_cut_shape()))
            .map(|p| Problem::CutTooSmall { piece: p.prepared.id() })
            .collect();
        if uncovered.is_empty() { verify(self.width, &counted, lays) } else { Err(uncovered) }
    }
}

/// Usable width in lay units, rounded down.
fn usable_units(fabric: &Fabric) -> Result<i64, CutError> {
    let units = fabric.usable_width.inches().scale_int(UNITS_PER_INCH).floor();
    i64::try_from(units).map_err(|_| CutError::WidthOutOfRange { width: fabric.usable_width.inches().to_decimal(4) })
}

/// The pieces of one fabric as they are listed, one kind after the other.
struct CutList<'a> {
    book: &'a mut ClassBook,
    fabric: &'a Fabric,
    /// Usable width in lay units.
    width: i64,
    seam: &'a Length,
    pieces: Vec<PlannedPiece>,
    /// Sections of long strips by finished length and width in inches: what they are, and how many.
    joined: BTreeMap<(Exact, Exact), (String, u64)>,
}

impl CutList<'_> {
    /// Lists patches, sections of long strips, and binding, in this order.
    fn fill(&mut self, needs: &Needs<'_>) -> Result<Vec<PlannedPiece>, CutError> {
        for (class, count) in needs.classes.iter().filter(|(_, n)| **n > 0) {
            self.add_class(*class, *count)?;
        }
        self.add_sections()?;
        if let Some(binding) = needs.binding {
            self.add_binding(binding)?;
        }
        Ok(std::mem::take(&mut self.pieces))
    }

    /// Adds a class, or the sections it is joined from when it is a strip longer than the fabric is wide.
    fn add_class(&mut self, id: ClassId, count: u64) -> Result<(), CutError> {
        let prepared = self.book.prepared(id, self.fabric.print)?;
        let Some(class) = self.book.class(id) else { return Err(CutError::UnknownPiece { piece: PieceId(id.0) }) };
        let bounds = prepared.bounds();
        let too_long = bounds.width() > self.width && bounds.height() <= self.width;
        if too_long
            && is_rectangle(prepared.piece())
            && let Some((long, short)) = sides(&class.shape)
        {
            let label = format!("{}, section", class.label());
            return self.join(&long, &short, &label, count);
        }
        let label = match self.fabric.print {
            Print::TwoSided => class.label_of_either_hand(),
            Print::Tossed | Print::Directional => class.label(),
        };
        self.pieces.push(PlannedPiece {
            label,
            count,
            shape: Some(Arc::clone(&class.shape)),
            has_grain: class.has_grain,
            is_section: false,
            prepared,
        });
        Ok(())
    }

    /// Splits a long strip into whole widths and the rest; equal sections of different strips are cut together.
    fn join(&mut self, long: &Exact, short: &Exact, label: &str, count: u64) -> Result<(), CutError> {
        for length in sections(long, &self.section_width(short)?, self.seam)? {
            self.joined.entry((length, short.clone())).or_insert_with(|| (label.to_owned(), 0)).1 += count;
        }
        Ok(())
    }

    /// The width that sections are cut to: the fabric's, or 1/64 in less when a section of the whole width would be
    /// wider than the fabric by the outward rounding of the lay grid, as on most metric widths.
    fn section_width(&self, short: &Exact) -> Result<Exact, CutError> {
        let width = self.fabric.usable_width.inches();
        let whole = width - &self.seam.inches().scale_int(2);
        let fits =
            !whole.is_positive() || section_shape(&whole, short, self.seam)?.outline().bounds().width() <= self.width;
        Ok(if fits { width.clone() } else { width - &Exact::ratio(1, 64).unwrap_or_default() })
    }

    /// Adds the sections of all long strips.
    fn add_sections(&mut self) -> Result<(), CutError> {
        for ((length, width), (label, count)) in std::mem::take(&mut self.joined) {
            let shape = section_shape(&length, &width, self.seam)?;
            let prepared = self.prepare(shape.outline().clone(), freedom_of(self.fabric.print))?;
            let shape = Some(Arc::new(shape));
            self.pieces.push(PlannedPiece { label, count, shape, has_grain: true, is_section: true, prepared });
        }
        Ok(())
    }

    /// Adds the binding's strips: the whole width of the fabric.
    fn add_binding(&mut self, binding: &BindingCut) -> Result<(), CutError> {
        let prepared = self.prepare(rectangle_up(self.width, &binding.strip_width)?, Freedom::NONE)?;
        let (label, count) = ("binding strip".to_owned(), binding.strips);
        self.pieces.push(PlannedPiece { label, count, shape: None, has_grain: true, is_section: false, prepared });
        Ok(())
    }

    /// A piece beyond those of the class book: its id is the first free one.
    fn prepare(&self, polygon: LayPolygon, freedom: Freedom) -> Result<Arc<PreparedPiece>, CutError> {
        let classes = u32::try_from(self.book.len()).unwrap_or(u32::MAX);
        let next = self.pieces.iter().map(|p| p.prepared.id().0 + 1).max().unwrap_or(0).max(classes);
        Ok(Arc::new(PreparedPiece::new(CutPiece { id: PieceId(next), polygon, freedom }, self.book.step())?))
    }
}

fn is_rectangle(piece: &CutPiece) -> bool {
    let bounds = piece.polygon.bounds();
    piece.polygon.double_area() == 2 * i128::from(bounds.width()) * i128::from(bounds.height())
}

/// The longer and the shorter finished side of a rectangle, which may stand askew in its block. None if a length is
/// no exact number; such a strip cannot be divided exactly.
fn sides(shape: &CutShape) -> Option<(Exact, Exact)> {
    let (a, b) = (shape.finished().edge(0).length()?, shape.finished().edge(1).length()?);
    (shape.finished().corners().len() == 4).then(|| if a >= b { (a, b) } else { (b, a) })
}

/// Puts the piece's label into an error that knows only its number.
fn name_piece(error: CutError, pieces: &[PlannedPiece]) -> CutError {
    match error {
        CutError::TooWide { piece, piece_width, piece_height, width } => {
            let label = pieces.iter().find(|p| p.prepared.id() == piece).map_or_else(String::new, |p| p.label.clone());
            CutError::LabelledTooWide { label, piece_width, piece_height, width }
        }
        CutError::TooLargeForSheet { piece, label: None, size, sheet } => {
            let label = pieces.iter().find(|p| p.prepared.id() == piece).map(|p| p.label.clone());
            CutError::TooLargeForSheet { piece, label, size, sheet }
        }
        other => other,
    }
}

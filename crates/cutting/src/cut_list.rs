//! What one fabric has to give, piece by piece: patches, sections of long strips, binding.

use std::collections::BTreeMap;
use std::sync::Arc;

use geometry::cut::CutShape;
use geometry::lay::LayPolygon;
use geometry::{Exact, Role};
use layout::{BindingGrain, Fabric, MethodKind, Print, Sold, Source};

use crate::bias::bias_strip;
use crate::buying::{inches, with_spares};
use crate::class::{ClassBook, ClassId, freedom_of};
use crate::error::CutError;
use crate::fabric_plan::{Terms, cut_width, parts};
use crate::joined::{BindingCut, down_to, rectangle_up, sections};
use crate::ledger::FabricUse;
use crate::methods::Blank;
use crate::piece::{CutPiece, Freedom, PieceId, PreparedPiece};

/// One kind of piece in a fabric's plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlannedPiece {
    /// What it is.
    pub label: String,
    /// How many are cut, spare ones included.
    pub count: u64,
    /// How many of them are spare.
    pub spare: u64,
    /// How many of them are cut from blanks, which stand in the list as pieces of their own.
    pub from_blanks: u64,
    /// Finished and cut shape; none for what is no patch, such as binding.
    pub shape: Option<Arc<CutShape>>,
    /// Whether straight grain is asked for.
    pub has_grain: bool,
    /// Which way it leans, where that tells it from its mirror image and the fabric has a right side; its label ends with it.
    pub hand: Option<&'static str>,
    /// Whether it is a section of a longer strip, to be joined with others.
    pub is_section: bool,
    /// The border sides, long sashes and fillers that it is, or that are joined from it and other sections, and how many
    /// of it each of them takes.
    pub strips: BTreeMap<Source, u64>,
    /// The piece that is its mirror image, if there is one.
    pub mirror: Option<PieceId>,
    /// For a blank, the pieces that are cut from it and where.
    pub blank: Option<Arc<Blank>>,
    /// Whether it is cut apart together with another blank that it is sewn to.
    pub cut_with_another: bool,
    /// Fabric that the joins of all its pieces use up, in square inches.
    pub joins: Exact,
    /// How many seams join them end to end.
    pub join_seams: u64,
    /// Twice the area that its oversize margins add to one piece, in square lay units.
    pub oversize_area2: i128,
    /// Its cut outline, what may be done to it, and the rows it can be cut in.
    pub prepared: Arc<PreparedPiece>,
}

impl PlannedPiece {
    /// How many cuts take it apart; none if it is no blank, or a strip of a set whose cuts are told at another strip.
    #[must_use]
    pub fn blank_cuts(&self) -> u64 {
        self.blank.as_ref().filter(|_| !self.cut_with_another).map_or(0, |blank| blank.cuts())
    }

    /// How many are cut from strips, not from blanks.
    #[must_use]
    pub const fn from_strips(&self) -> u64 {
        self.count.saturating_sub(self.from_blanks)
    }
}

/// What one fabric has to give.
#[derive(Debug, Clone, Default)]
pub struct Needs<'a> {
    /// How many pieces of each class.
    pub classes: BTreeMap<ClassId, u64>,
    /// Binding strips, if the binding is of this fabric.
    pub binding: Option<&'a BindingCut>,
    /// What the pieces are in this fabric; where it is not known, they are called all that their class is anywhere.
    pub used: Option<&'a FabricUse>,
}

/// What becomes of border strips that are longer than the fabric is wide.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum LongStrips {
    /// Joined from sections that lie across the fabric.
    Joined,
    /// Cut whole, lengthwise.
    Lengthwise,
}

/// The pieces of one fabric as they are listed, one kind after the other.
pub(crate) struct CutList<'a> {
    book: &'a mut ClassBook,
    fabric: &'a Fabric,
    /// Usable width in lay units.
    width: i64,
    terms: Terms<'a>,
    long_strips: LongStrips,
    pieces: Vec<PlannedPiece>,
    joined: BTreeMap<(Exact, Exact), Sections>,
}

/// Equal sections of long strips: what they are, how many, and how many joins they are sewn with.
#[derive(Default)]
struct Sections {
    label: String,
    count: u64,
    joins: u64,
    /// How many of them each of these strips takes.
    of: BTreeMap<Source, u64>,
}

impl<'a> CutList<'a> {
    pub(crate) const fn new(
        book: &'a mut ClassBook,
        fabric: &'a Fabric,
        width: i64,
        terms: Terms<'a>,
        long_strips: LongStrips,
    ) -> Self {
        Self { book, fabric, width, terms, long_strips, pieces: Vec::new(), joined: BTreeMap::new() }
    }

    /// Lists patches, sections of long strips, and binding, in this order.
    pub(crate) fn fill(mut self, needs: &Needs<'_>) -> Result<Vec<PlannedPiece>, CutError> {
        for (class, count) in needs.classes.iter().filter(|(_, n)| **n > 0) {
            self.add_class(*class, self.of_one_part(*count), needs)?;
        }
        self.add_sections()?;
        if let Some(binding) = needs.binding {
            self.add_binding(binding)?;
        }
        Ok(self.pieces)
    }

    /// Whether any of these classes is a strip that can be cut both ways.
    pub(crate) fn has_choice(book: &mut ClassBook, fabric: &Fabric, width: i64, needs: &Needs<'_>) -> bool {
        freedom_of(fabric.print).quarter_turn
            && needs.classes.keys().any(|&id| {
                let is_border = book.class(id).is_some_and(|class| class.of_border);
                is_border && book.prepared(id, fabric.print).is_ok_and(|piece| is_long_strip(&piece, width))
            })
    }

    /// Adds a class, or the sections it is joined from when it is a strip longer than the fabric is wide.
    fn add_class(&mut self, id: ClassId, count: u64, needs: &Needs<'_>) -> Result<(), CutError> {
        let prepared = self.book.prepared(id, self.fabric.print)?;
        let Some(class) = self.book.class(id) else { return Err(CutError::UnknownPiece { piece: PieceId(id.0) }) };
        let occurs = |role: &Role| needs.used.is_none_or(|used| used.named.contains_key(&(id, role.clone())));
        let of_class = needs.used.into_iter().flat_map(|used| used.strips.keys()).filter(|(class, _)| *class == id);
        let strips: Vec<Source> = of_class.map(|(_, source)| *source).collect();
        if is_long_strip(&prepared, self.width)
            && self.joins(class.of_border, prepared.bounds().width())
            && let Some((long, short)) = sides(&class.shape)
        {
            let label = format!("{}, section", class.label_as(occurs));
            return self.join((&long, &short), (&label, &strips), count);
        }
        let (label, hand) = match self.fabric.print {
            Print::TwoSided => (class.label_of_either_hand(occurs), None),
            Print::Tossed | Print::Directional => (class.label_as(occurs), class.hand),
        };
        let with_spares = with_spares(count, self.terms.wishes.spare_permille);
        self.pieces.push(PlannedPiece {
            shape: Some(Arc::clone(&class.shape)),
            has_grain: class.has_grain,
            hand,
            strips: strips.into_iter().map(|source| (source, 1)).collect(),
            oversize_area2: class.oversize_area2,
            spare: with_spares - count,
            mirror: self.book.mirror_of(id).map(|id| PieceId(id.0)),
            ..PlannedPiece::new(label, with_spares, prepared)
        });
        Ok(())
    }

    /// Whether a long strip is joined here. Only borders are joined by choice; a patch of a block that is longer than
    /// the fabric is wide is cut whole where the print allows it to lie lengthwise.
    fn joins(&self, of_border: bool, length: i64) -> bool {
        let sheet = match &self.fabric.sold {
            Sold::ByLength => None,
            Sold::Precut(precut) => Some(precut.length.inches()),
        };
        let fits = sheet.is_none_or(|longest| inches(length) <= *longest);
        let can_turn = fits && freedom_of(self.fabric.print).quarter_turn;
        let avoided = self.terms.wishes.avoid.contains(&MethodKind::Lengthwise);
        !can_turn || (of_border && (avoided || self.long_strips == LongStrips::Joined))
    }

    /// What each of the fabrics gives that this one stands for, all alike.
    fn of_one_part(&self, count: u64) -> u64 {
        count.div_ceil(parts(self.fabric).into())
    }

    /// Splits a long strip into whole widths and the rest; equal sections of different strips are cut together.
    fn join(
        &mut self,
        (long, short): (&Exact, &Exact),
        (label, strips): (&str, &[Source]),
        count: u64,
    ) -> Result<(), CutError> {
        let width = self.section_width(short)?;
        let lengths = sections(long, &width, self.terms.seam)?;
        for (number, length) in lengths.into_iter().enumerate() {
            let sections = self.joined.entry((length, short.clone())).or_default();
            if sections.label.is_empty() {
                label.clone_into(&mut sections.label);
            }
            sections.count += count;
            sections.joins += if number == 0 { 0 } else { count };
            for source in strips {
                *sections.of.entry(*source).or_default() += 1;
            }
        }
        Ok(())
    }

    /// The width that sections are cut to: as many steps of the ruler as the fabric is wide, or one less when a section of
    /// the whole width would be wider than the fabric by the outward rounding of the lay grid, as on most metric widths.
    fn section_width(&mut self, short: &Exact) -> Result<Exact, CutError> {
        let step = self.terms.step.inches();
        let width = down_to(cut_width(self.fabric).inches(), step);
        let whole = &width - &self.terms.seam.inches().scale_int(2);
        let fits = !whole.is_positive()
            || self.book.section(&whole, short, self.terms.step)?.outline().bounds().width() <= self.width;
        Ok(if fits { width } else { &width - step })
    }

    /// Adds the sections of all long strips.
    fn add_sections(&mut self) -> Result<(), CutError> {
        for ((length, width), sections) in std::mem::take(&mut self.joined) {
            let shape = self.book.section(&length, &width, self.terms.step)?;
            let prepared = self.prepare(shape.outline().clone(), freedom_of(self.fabric.print))?;
            // Each join has the allowances of both its sections over the whole width.
            let allowances = self.terms.seam.inches().scale_int(2);
            let joins = (&allowances * &(&width + &allowances)).scale_int(signed(sections.joins));
            self.pieces.push(PlannedPiece {
                shape: Some(shape),
                has_grain: true,
                is_section: true,
                strips: sections.of,
                joins,
                join_seams: sections.joins,
                ..PlannedPiece::new(sections.label, sections.count, prepared)
            });
        }
        Ok(())
    }

    /// Adds the binding's strips: the whole width of the fabric, or slanted ones on the bias.
    fn add_binding(&mut self, binding: &BindingCut) -> Result<(), CutError> {
        let (label, strip) = match binding.grain {
            BindingGrain::Across => ("binding strip", rectangle_up(self.width, &binding.strip_width)?),
            BindingGrain::Bias => ("bias binding strip", bias_strip(binding)?),
        };
        let prepared = self.prepare(strip, Freedom::NONE)?;
        self.pieces.push(PlannedPiece {
            has_grain: true,
            joins: &binding.join_loss * &binding.strip_width,
            join_seams: self.of_one_part(binding.strips).saturating_sub(1),
            ..PlannedPiece::new(label.to_owned(), self.of_one_part(binding.strips), prepared)
        });
        Ok(())
    }

    /// A piece beyond those of the class book.
    fn prepare(&mut self, polygon: LayPolygon, freedom: Freedom) -> Result<Arc<PreparedPiece>, CutError> {
        let id = next_id(self.book, &self.pieces);
        self.book.prepared_other(CutPiece { id, polygon, freedom })
    }
}

impl PlannedPiece {
    /// A piece that is no patch.
    pub(crate) fn new(label: String, count: u64, prepared: Arc<PreparedPiece>) -> Self {
        Self {
            label,
            count,
            spare: 0,
            from_blanks: 0,
            shape: None,
            has_grain: false,
            hand: None,
            is_section: false,
            strips: BTreeMap::new(),
            mirror: None,
            blank: None,
            cut_with_another: false,
            joins: Exact::ZERO,
            join_seams: 0,
            oversize_area2: 0,
            prepared,
        }
    }
}

/// The first id that is free beside the classes of the book and the pieces listed so far.
pub(crate) fn next_id(book: &ClassBook, pieces: &[PlannedPiece]) -> PieceId {
    let classes = u32::try_from(book.len()).unwrap_or(u32::MAX);
    PieceId(pieces.iter().map(|p| p.prepared.id().0.saturating_add(1)).max().unwrap_or(0).max(classes))
}

/// Whether a piece is a rectangle longer than the fabric is wide, and narrower than that.
fn is_long_strip(piece: &PreparedPiece, width: i64) -> bool {
    let bounds = piece.bounds();
    bounds.width() > width && bounds.height() <= width && is_rectangle(piece.piece())
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

/// Counts stay far below 2⁶³.
fn signed(n: u64) -> i64 {
    i64::try_from(n).unwrap_or(i64::MAX)
}

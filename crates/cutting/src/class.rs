//! Piece classes: which patches of a quilt are cut alike.
//!
//! A class is the exact finished shape with its seam allowances, its straight grain and its hand. Patches of one
//! class and one fabric are cut together, whatever block they stand in and whatever their role is called.

use std::collections::BTreeMap;
use std::sync::Arc;

use geometry::cut::CutShape;
use geometry::lay::LayPolygon;
use geometry::{Block, Exact, Length, Motion, Patch, PatchKey, Point, Polygon, Role, ShapeClass, Vector};
use layout::{Design, RulerRounding, Source};

use crate::error::CutError;
use crate::joined::section_on_ruler;
use crate::piece::{CutPiece, Freedom, PieceId, PreparedPiece};
use crate::rounding::RulerStep;

/// Names one class within a [`ClassBook`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ClassId(pub u32);

/// One class of pieces.
#[derive(Debug, Clone)]
pub struct PieceClass {
    /// What its patches are, such as "diamond", or "half-square triangle / corner triangle".
    pub roles: Vec<Role>,
    /// Finished and cut shape in the frame of the fabric.
    pub shape: Arc<CutShape>,
    /// The class of the mirror image, when that is another one that the quilt also has or could have.
    pub mirror: ShapeClass,
    /// Whether the patch asks for straight grain; without it, the longest edge is laid across the fabric.
    pub has_grain: bool,
    /// Whether the shape is its own mirror image.
    pub symmetric: bool,
    /// Which way it leans, for a shape that has a hand.
    pub hand: Option<&'static str>,
    /// Whether a border piece, a long sash or a filler is among its patches; when long, they may be joined from sections.
    pub of_border: bool,
    /// Twice the area that margins beyond the seam allowance add, in square lay units.
    pub oversize_area2: i128,
}

impl PieceClass {
    /// What its patches are, as text, with the hand if they have one.
    #[must_use]
    pub fn label(&self) -> String {
        self.label_as(|_| true)
    }

    /// The same with only the roles that `occurs` says, such as those of one fabric; all of them if there are none.
    #[must_use]
    pub fn label_as(&self, occurs: impl Fn(&Role) -> bool) -> String {
        let roles = self.label_of_either_hand(occurs);
        match self.hand {
            Some(hand) => format!("{roles}, {hand}"),
            None => roles,
        }
    }

    /// As [`PieceClass::label_as`], for fabric without a right side, where one class stands for both hands.
    #[must_use]
    pub fn label_of_either_hand(&self, occurs: impl Fn(&Role) -> bool) -> String {
        let mut names: Vec<&str> = self.roles.iter().filter(|role| occurs(role)).map(Role::name).collect();
        if names.is_empty() {
            names = self.roles.iter().map(Role::name).collect();
        }
        let roles = names.join(" / ");
        if self.is_square_cut_oblong() { format!("{roles}, cut oblong") } else { roles }
    }

    /// Whether it finishes square and is cut as a rectangle that is none, with a margin at some of its edges.
    fn is_square_cut_oblong(&self) -> bool {
        let finished = self.shape.finished();
        let is_square = finished.corners().len() == 4
            && finished.edge(0).dot(&finished.edge(1)).is_zero()
            && (1..4).all(|i| finished.edge(i).length_squared() == finished.edge(0).length_squared());
        let across = |i: usize| &self.shape.allowance_of_edge(i) + &self.shape.allowance_of_edge(i + 2);
        is_square && across(0) != across(1)
    }
}

/// Which way the piece leans when it lies on its straight grain, its longer extent across.
fn hand(outline: &LayPolygon) -> Option<&'static str> {
    // A quarter turn changes the sign of the lean, and the two hands of a shape may be drawn a quarter turn apart.
    let bounds = outline.bounds();
    let lies = if bounds.height() > bounds.width() { outline.turned(1).at_origin() } else { outline.clone() };
    match lean(&lies) {
        1 => Some("leaning right"),
        -1 => Some("leaning left"),
        _ => None,
    }
}

/// Sign of the product moment of area about the middle of the piece: it keeps its sign in a half turn and changes
/// it in a mirror image. Coordinates are coarsened to 19 bits: the greatest product here is 18·area2³, below 2¹²².
fn lean(outline: &LayPolygon) -> i128 {
    let bounds = outline.bounds();
    let shift = (bounds.width() | bounds.height()).ilog2().saturating_sub(18);
    let coarse = |v: i64| i128::from(v >> shift);
    let corners: Vec<(i128, i128)> = outline.corners().iter().map(|p| (coarse(p.x), coarse(p.y))).collect();
    let n = corners.len();
    let (mut area2, mut sx, mut sy, mut sxy) = (0, 0, 0, 0);
    for i in 0..n {
        let ((x0, y0), (x1, y1)) = (corners[i], corners[(i + 1) % n]);
        let cross = x0 * y1 - x1 * y0;
        area2 += cross;
        sx += (x0 + x1) * cross;
        sy += (y0 + y1) * cross;
        sxy += (x0 * y1 + 2 * x0 * y0 + 2 * x1 * y1 + x1 * y0) * cross;
    }
    // ∫xy = sxy/24, centroid = s/(3·area2), so the central moment is sxy/24 − sx·sy/(18·area2), times 72·area2:
    let moment = 3 * sxy * area2 - 4 * sx * sy;
    // Area² is area2²/4, times 72·area2 like the moment. What is within the grid's rounding of 0 is no lean.
    if moment.abs() < 18 * area2 * area2 * area2 / 20_000 { 0 } else { moment.signum() }
}

/// All classes of one design's patches, with the rows each can be cut in.
#[derive(Debug, Clone)]
pub struct ClassBook {
    /// Whose classes these are, in the order in which they were entered.
    sources: Vec<(Source, bool, Arc<Block>)>,
    classes: Vec<PieceClass>,
    by_shape: BTreeMap<ShapeClass, ClassId>,
    of_patch: BTreeMap<(Source, PatchKey, bool), ClassId>,
    areas: BTreeMap<(Source, PatchKey), Exact>,
    roles: BTreeMap<(Source, PatchKey), Role>,
    seam: Length,
    /// What edges of blocks and trimmed units have beyond the seam allowance, to be trimmed off later.
    oversize: Option<Length>,
    step: RulerStep,
    /// How the strips of pieces that are not trimmed later are set on the ruler.
    rounding: RulerRounding,
    prepared: BTreeMap<(ClassId, Handling), Arc<PreparedPiece>>,
    /// Sections of long strips by length and width: each plan of a fabric asks for the same ones again.
    sections: BTreeMap<(Exact, Exact), Arc<CutShape>>,
    /// Pieces that are of no class, such as sections and binding strips, for the same reason.
    others: Vec<Arc<PreparedPiece>>,
}

/// So many pieces that are of no class are kept: those of a few plans.
const MOST_OTHERS: usize = 64;

/// How pieces of a fabric may be handled; what the print allows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Handling {
    AsGiven,
    Turned,
    TurnedOver,
}

impl ClassBook {
    /// The classes of every patch that stands in the design.
    ///
    /// # Errors
    /// A patch that has no cut shape ([`CutError::Shape`]), a piece that cannot be prepared, or a ruler step that
    /// the lay grid cannot state.
    pub fn new(design: &Design, sources: impl IntoIterator<Item = (Source, bool)>) -> Result<Self, CutError> {
        let mut book = Self::empty(design)?;
        for (source, mirrored) in sources {
            book.add_source(design, source, mirrored)?;
        }
        Ok(book)
    }

    /// The classes of `sources`, of which the first ones may be known already: of blocks that are the very same in
    /// `design`, in the same order and under the same terms. What is known else is not used.
    ///
    /// # Errors
    /// As [`ClassBook::new`].
    pub fn going_on(&self, design: &Design, sources: &[(Source, bool)]) -> Result<Self, CutError> {
        let empty = Self::empty(design)?;
        // With a margin the trimmed units of a block count too.
        let same_terms = (&self.seam, self.step, self.rounding) == (&empty.seam, empty.step, empty.rounding)
            && self.oversize.is_none()
            && empty.oversize.is_none();
        let same = |(known, asked): (&(Source, bool, Arc<Block>), &(Source, bool))| {
            let block = if let Source::Block(id) = known.0 { design.block(id).ok() } else { None };
            (known.0, known.1) == *asked && block.is_some_and(|def| Arc::ptr_eq(def.block(), &known.2))
        };
        let goes_on = same_terms && self.sources.len() <= sources.len() && self.sources.iter().zip(sources).all(same);
        let mut book = if goes_on { self.clone() } else { empty };
        for (source, mirrored) in sources.iter().skip(book.sources.len()) {
            book.add_source(design, *source, *mirrored)?;
        }
        Ok(book)
    }

    fn empty(design: &Design) -> Result<Self, CutError> {
        Ok(Self {
            sources: Vec::new(),
            classes: Vec::new(),
            by_shape: BTreeMap::new(),
            of_patch: BTreeMap::new(),
            areas: BTreeMap::new(),
            roles: BTreeMap::new(),
            seam: design.seam().clone(),
            oversize: design.cutting().oversize.clone(),
            step: RulerStep::of_length(design.ruler_step())?,
            rounding: design.cutting().ruler,
            prepared: BTreeMap::new(),
            sections: BTreeMap::new(),
            others: Vec::new(),
        })
    }

    fn add_source(&mut self, design: &Design, source: Source, mirrored: bool) -> Result<(), CutError> {
        let finished = design.source_block(source)?;
        let block: Arc<Block> = design.cut_block(source)?;
        for ((index, patch), finished) in block.patches().iter().enumerate().zip(finished.patches()) {
            let allowances = patch_allowances(design, source, &block, index);
            let class = self.class_of(patch, allowances, mirrored).map_err(|error| CutError::Shape {
                block: design.source_name(source),
                role: patch.role.clone(),
                source: Box::new(error),
            })?;
            self.classes[class.0 as usize].of_border |= is_strip(source);
            self.of_patch.insert((source, patch.key, mirrored), class);
            self.areas.entry((source, patch.key)).or_insert_with(|| finished.outline.area());
            self.roles.entry((source, patch.key)).or_insert_with(|| patch.role.clone());
        }
        self.sources.push((source, mirrored, finished));
        Ok(())
    }

    fn class_of(
        &mut self,
        patch: &Patch,
        allowances: Vec<Exact>,
        mirrored: bool,
    ) -> Result<ClassId, geometry::cut::CutShapeError> {
        let (outline, grain, allowances) = as_it_stands(patch, allowances, mirrored);
        let class = ShapeClass::of(&outline, grain.as_ref(), &allowances);
        if let Some(&id) = self.by_shape.get(&class) {
            let roles = &mut self.classes[id.0 as usize].roles;
            if !roles.contains(&patch.role) {
                roles.push(patch.role.clone());
            }
            return Ok(id);
        }
        let has_grain = grain.is_some();
        let grain = grain.unwrap_or_else(|| longest_edge(&outline));
        let shape = CutShape::mitred(&outline, &allowances, &grain)?;
        let oversize_area2 = if self.oversize.is_some() {
            let plain = vec![self.seam.inches().clone(); allowances.len()];
            shape.outline().double_area() - CutShape::mitred(&outline, &plain, &grain)?.outline().double_area()
        } else {
            0
        };
        let mirror = class.mirrored();
        let symmetric = mirror == class;
        let id = ClassId(u32::try_from(self.classes.len()).unwrap_or(u32::MAX));
        self.classes.push(PieceClass {
            roles: vec![patch.role.clone()],
            hand: if symmetric { None } else { hand(shape.outline()) },
            shape: Arc::new(shape),
            mirror,
            has_grain,
            symmetric,
            of_border: false,
            oversize_area2,
        });
        self.by_shape.insert(class, id);
        Ok(id)
    }

    /// A class.
    #[must_use]
    pub fn class(&self, id: ClassId) -> Option<&PieceClass> {
        self.classes.get(id.0 as usize)
    }

    /// How many classes there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.classes.len()
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.classes.is_empty()
    }

    /// The class that a patch is cut as; on fabric without a right side, one class stands for both hands.
    #[must_use]
    pub fn of_patch(&self, source: Source, patch: PatchKey, mirrored: bool, print: layout::Print) -> Option<ClassId> {
        let id = *self.of_patch.get(&(source, patch, mirrored))?;
        let mirror = self.class(id).and_then(|class| self.by_shape.get(&class.mirror)).copied();
        Some(match (print, mirror) {
            (layout::Print::TwoSided, Some(mirror)) => id.min(mirror),
            _ => id,
        })
    }

    /// The class of the mirror image, if some patch is cut as that; none for a shape that is its own mirror image.
    #[must_use]
    pub fn mirror_of(&self, id: ClassId) -> Option<ClassId> {
        let class = self.class(id).filter(|class| !class.symmetric)?;
        self.by_shape.get(&class.mirror).copied()
    }

    /// Finished area of a patch in square inches.
    #[must_use]
    pub fn area(&self, source: Source, patch: PatchKey) -> Option<&Exact> {
        self.areas.get(&(source, patch))
    }

    /// Role of a patch.
    #[must_use]
    pub fn role(&self, source: Source, patch: PatchKey) -> Option<&Role> {
        self.roles.get(&(source, patch))
    }

    /// The step to which strips and subcuts are rounded up.
    #[must_use]
    pub const fn step(&self) -> RulerStep {
        self.step
    }

    /// Finds the rows of all classes on fabrics with this print, so that whoever goes on from here need not.
    ///
    /// # Errors
    /// As [`PreparedPiece::new`].
    pub fn prepare(&mut self, print: layout::Print) -> Result<(), CutError> {
        let classes = u32::try_from(self.classes.len()).unwrap_or(u32::MAX);
        (0..classes).try_for_each(|id| self.prepared(ClassId(id), print).map(drop))
    }

    /// The piece of a class with the rows it can be cut in on a fabric with this print; computed once.
    ///
    /// # Errors
    /// As [`PreparedPiece::new`].
    pub fn prepared(&mut self, id: ClassId, print: layout::Print) -> Result<Arc<PreparedPiece>, CutError> {
        let (handling, freedom) = freedom(print);
        if let Some(piece) = self.prepared.get(&(id, handling)) {
            return Ok(Arc::clone(piece));
        }
        let Some(class) = self.class(id) else { return Err(CutError::UnknownPiece { piece: PieceId(id.0) }) };
        let polygon = class.shape.outline().clone();
        // What is trimmed later is rounded up in any case.
        let step = if class.oversize_area2 > 0 { self.step } else { self.step.set_to(self.rounding) };
        let piece = Arc::new(PreparedPiece::new(CutPiece { id: PieceId(id.0), polygon, freedom }, step)?);
        self.prepared.insert((id, handling), Arc::clone(&piece));
        Ok(piece)
    }

    /// A piece that is of no class, with the rows it can be cut in.
    ///
    /// # Errors
    /// As [`PreparedPiece::new`].
    pub(crate) fn prepared_other(&mut self, piece: CutPiece) -> Result<Arc<PreparedPiece>, CutError> {
        if let Some(known) = self.others.iter().find(|known| *known.piece() == piece) {
            return Ok(Arc::clone(known));
        }
        let prepared = Arc::new(PreparedPiece::new(piece, self.step)?);
        if self.others.len() >= MOST_OTHERS {
            self.others.clear();
        }
        self.others.push(Arc::clone(&prepared));
        Ok(prepared)
    }

    /// One section of a strip that is joined, finished `length` × `width` inches, cut to whole steps of the ruler.
    ///
    /// # Errors
    /// [`CutError::Shape`] when it does not fit the lay grid.
    pub(crate) fn section(&mut self, length: &Exact, width: &Exact, step: &Length) -> Result<Arc<CutShape>, CutError> {
        let size = (length.clone(), width.clone());
        if let Some(shape) = self.sections.get(&size) {
            return Ok(Arc::clone(shape));
        }
        let shape = Arc::new(section_on_ruler(length, width, &self.seam, step)?);
        self.sections.insert(size, Arc::clone(&shape));
        Ok(shape)
    }
}

/// What each edge of patch `index` is cut beyond its finished edge, in inches: the seam allowance, and on the outline of
/// a block or of a trimmed unit the margin that is trimmed off later.
#[must_use]
pub fn patch_allowances(design: &Design, source: Source, block: &Block, index: usize) -> Vec<Exact> {
    let seam = design.seam().inches();
    let def = if let Source::Block(id) = source { design.block(id).ok() } else { None };
    match def.zip(design.cutting().oversize.as_ref()) {
        Some((def, margin)) => {
            let of_edge = |oversize| if oversize { seam + margin.inches() } else { seam.clone() };
            def.oversize_edges(index).into_iter().map(of_edge).collect()
        }
        None => vec![seam.clone(); block.patches().get(index).map_or(0, |p| p.outline.corners().len())],
    }
}

/// Outline, grain and allowances of a patch as it stands, or mirrored.
#[must_use]
pub fn as_it_stands(
    patch: &Patch,
    mut allowances: Vec<Exact>,
    mirrored: bool,
) -> (Polygon, Option<Vector>, Vec<Exact>) {
    if !mirrored {
        return (patch.outline.clone(), patch.grain.clone(), allowances);
    }
    let motion = Motion::mirror(&Point::origin());
    let outline = motion.polygon(&patch.outline);
    // Mirrored corners are told the other way round: the edge from corner i to i+1 is now the one that ends at i.
    let n = allowances.len();
    allowances.reverse();
    allowances.rotate_left(usize::from(n > 0));
    (outline, patch.grain.as_ref().map(|g| motion.vector(g)), allowances)
}

/// Whether what stands under a source is a strip of its own, which may be joined from sections: a border side, a long sash
/// or a filler.
pub(crate) const fn is_strip(source: Source) -> bool {
    matches!(source, Source::Border { .. } | Source::LongSash { .. } | Source::Filler(_))
}

/// What a print allows.
pub(crate) const fn freedom_of(print: layout::Print) -> Freedom {
    freedom(print).1
}

const fn freedom(print: layout::Print) -> (Handling, Freedom) {
    match print {
        layout::Print::Directional => (Handling::AsGiven, Freedom::NONE),
        layout::Print::Tossed => (Handling::Turned, Freedom::TURNS),
        layout::Print::TwoSided => (Handling::TurnedOver, Freedom::ALL),
    }
}

/// The longest edge of an outline, the first of equals.
fn longest_edge(outline: &Polygon) -> Vector {
    let mut longest = outline.edge(0);
    for i in 1..outline.corners().len() {
        let edge = outline.edge(i);
        if edge.length_squared() > longest.length_squared() {
            longest = edge;
        }
    }
    longest
}

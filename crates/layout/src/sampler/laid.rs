//! A sampler laid out: where every block and every filler stands, exactly, and how they are joined.

use std::collections::BTreeMap;
use std::sync::Arc;

use geometry::ruler::inch_text;
use geometry::{Block, Exact, Motion, Point, Polygon, Vector};

use super::divide::{Divider, Inches, Made, Part, Span, Standing, joined};
use super::{Along, SamplerFree, SamplerMade, SamplerPlan, SamplerRows, SamplerUnit, Stand};
use crate::assemble::DesignParts;
use crate::design::Place;
use crate::error::EditError;
use crate::ids::PlaceId;
use crate::pieces::rectangle;
use crate::setting::{MAX_CELL_BITS, Setting};

/// A rectangle of the sampler, in inches from its lower left corner.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Rect {
    pub(crate) corner: Point,
    pub(crate) width: Exact,
    pub(crate) height: Exact,
}

impl Rect {
    fn ends(&self) -> Point {
        Point::new(&self.corner.x + &self.width, &self.corner.y + &self.height)
    }
}

/// A plan and what follows from it and from the sizes of the blocks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Sampler {
    pub(crate) plan: SamplerPlan,
    width: Exact,
    height: Exact,
    cells: BTreeMap<PlaceId, Rect>,
    /// As they are read: from the top, then from the left.
    fillers: Vec<Rect>,
    unit: SamplerUnit,
}

/// A block in its cell, not yet laid.
struct Sized {
    place: PlaceId,
    name: String,
    width: Exact,
    height: Exact,
}

impl Sampler {
    /// The sampler of `parts`; none in another setting.
    ///
    /// # Errors
    /// A plan without the setting or the other way round, cells without a block, blocks that are no rectangles, overlap
    /// or reach out of the whole, numbers of too many digits.
    pub(crate) fn of(parts: &DesignParts) -> Result<Option<Arc<Self>>, EditError> {
        let plan = match (parts.setting, &parts.sampler) {
            (Setting::Sampler { filler, .. }, Some(plan)) if plan.setting(filler) == parts.setting => plan,
            (Setting::Sampler { .. }, _) => return Err(EditError::SamplerPlan),
            (_, Some(_)) => return Err(EditError::NotASampler),
            (_, None) => return Ok(None),
        };
        plan.check()?;
        if parts.sashing.is_some() {
            return Err(EditError::SashedSampler);
        }
        let sized = plan.cells().map(|id| {
            let place = parts.places.get(&id).ok_or(EditError::EmptyCell(id))?;
            let def = parts.blocks.get(&place.block).ok_or(EditError::NoBlock(place.block))?;
            check_block(id, def.name(), def.block().base())?;
            let (width, height) = extent(place, def.block());
            Ok(Sized { place: id, name: def.name().to_owned(), width, height })
        });
        let sized = sized.collect::<Result<Vec<_>, EditError>>()?;
        let (size, rects, bands) = match plan {
            SamplerPlan::Rows(rows) => in_rows(rows, &sized),
            SamplerPlan::Free(free) => free_places(free, &sized)?,
        };
        let too_long = rects.iter().map(bits).max().filter(|bits| *bits > MAX_CELL_BITS);
        if let Some(bits) = too_long {
            return Err(EditError::TooFine { bits, cells: rects.len() });
        }
        Ok(Some(Arc::new(Self::laid(plan.clone(), size, &sized, rects, &bands)?)))
    }

    fn laid(
        plan: SamplerPlan,
        (width, height): (Exact, Exact),
        sized: &[Sized],
        rects: Vec<Rect>,
        bands: &[Exact],
    ) -> Result<Self, EditError> {
        let whole = Rect { corner: Point::origin(), width: width.clone(), height: height.clone() };
        let lines = Lines::of(rects.iter().chain([&whole]));
        let blocks: Vec<Standing> = rects.iter().map(|rect| lines.span(rect)).enumerate().collect();
        if let Some((first, second)) = overlapping(&blocks) {
            return Err(overlap(&sized[first], &sized[second], &rects[first], &rects[second]));
        }
        let part = divided(&lines, lines.span(&whole), &blocks, bands);
        let mut spans = Vec::new();
        filler_spans(&part, &mut spans);
        spans.sort_by_key(|span| (std::cmp::Reverse(span.y[1]), span.x[0]));
        let numbers: BTreeMap<Span, u16> = spans.iter().copied().zip(0..).collect();
        let cells = |number: usize| sized[number].place;
        let unit = lines.unit(&part, &cells, &numbers);
        let fillers = spans.iter().map(|span| lines.rect(*span)).collect();
        let cells = sized.iter().map(|block| block.place).zip(rects).collect();
        Ok(Self { plan, width, height, cells, fillers, unit })
    }

    /// Width and height in inches.
    pub(crate) fn size(&self) -> (Exact, Exact) {
        (self.width.clone(), self.height.clone())
    }

    /// How it is joined.
    pub(crate) const fn unit(&self) -> &SamplerUnit {
        &self.unit
    }

    /// Its cells, row by row.
    pub(crate) fn cells(&self) -> impl Iterator<Item = PlaceId> + '_ {
        self.cells.keys().copied()
    }

    pub(crate) fn has_cell(&self, place: PlaceId) -> bool {
        self.cells.contains_key(&place)
    }

    /// The filler of a number.
    pub(crate) fn filler(&self, number: u16) -> Option<&Rect> {
        self.fillers.get(usize::from(number))
    }

    /// The numbers of its fillers.
    pub(crate) fn fillers(&self) -> impl Iterator<Item = u16> + use<> {
        (0..).take(self.fillers.len())
    }

    /// The filler that holds a point; of several that touch it the first.
    pub(crate) fn filler_at(&self, p: &Point) -> Option<u16> {
        let holds = |rect: &&Rect| {
            let end = rect.ends();
            rect.corner.x <= p.x && p.x <= end.x && rect.corner.y <= p.y && p.y <= end.y
        };
        (0..).zip(&self.fillers).find(|(_, rect)| holds(rect)).map(|(number, _)| number)
    }

    /// The block of a filler.
    pub(crate) fn filler_block(&self, number: u16) -> Option<Result<Block, EditError>> {
        self.filler(number).map(|rect| rectangle("filler", &rect.width, &rect.height))
    }

    /// Where the block that stands in a cell goes, from the lower left of the sampler; at the origin for other places.
    pub(crate) fn cell_motion(&self, place: PlaceId, turn: u8, mirrored: bool, base: &Polygon) -> Motion {
        let corner = self.cells.get(&place).map_or_else(Point::origin, |rect| rect.corner.clone());
        let (min, _) = base.bounds();
        let (width, height) = base.extent();
        let centre = Point::new(width.half(), height.half());
        let motion = Motion::shift(-&min.to_vector());
        let motion = if mirrored { motion.then(&Motion::mirror(&centre)) } else { motion };
        // Turned about its centre, a rectangle on its side begins elsewhere.
        let aside = if turn.is_multiple_of(2) { Exact::ZERO } else { (&height - &width).half() };
        let at = Vector::new(&corner.x + &aside, &corner.y - &aside);
        motion.then(&Motion::turn(6 * i32::from(turn), &centre)).then(&Motion::shift(at))
    }

    /// Whether a block of this place would take as much room in the cell as the one that stands there.
    pub(crate) fn is_as_large(&self, id: PlaceId, place: &Place, block: &Block) -> bool {
        let size = extent(place, block);
        self.cells.get(&id).is_none_or(|rect| (&rect.width, &rect.height) == (&size.0, &size.1))
    }

    /// The most bits that a corner or a size needs.
    pub(crate) fn bits(&self) -> u64 {
        self.cells.values().chain(&self.fillers).map(bits).max().unwrap_or(0)
    }
}

/// Refuses a block that is no rectangle, or whose size has too many digits.
pub(crate) fn check_block(place: PlaceId, name: &str, base: &Polygon) -> Result<(), EditError> {
    let (width, height) = base.extent();
    let refuse = |why: &str| Err(EditError::Misfit { block: name.to_owned(), place, why: why.to_owned() });
    if width.bits().max(height.bits()) > MAX_CELL_BITS {
        return refuse(&format!(
            "its size needs more than {MAX_CELL_BITS} bits; draw its outline through simpler points"
        ));
    }
    if base.area() != &width * &height {
        return refuse("a sampler needs square or rectangular blocks");
    }
    Ok(())
}

/// Width and height of a block as it stands turned.
fn extent(place: &Place, block: &Block) -> (Exact, Exact) {
    let (width, height) = block.base().extent();
    if place.turn.is_multiple_of(2) { (width, height) } else { (height, width) }
}

fn bits(rect: &Rect) -> u64 {
    [&rect.corner.x, &rect.corner.y, &rect.width, &rect.height].map(Exact::bits).into_iter().max().unwrap_or(0)
}

type Places = ((Exact, Exact), Vec<Rect>, Vec<Exact>);

/// The blocks in their rows, and the level lines at which rows begin and end.
fn in_rows(plan: &SamplerRows, sized: &[Sized]) -> Places {
    let inches = |gap: &Option<geometry::Length>| gap.as_ref().map_or(Exact::ZERO, |gap| gap.inches().clone());
    let (gap, row_gap) = (inches(&plan.gap), inches(&plan.row_gap));
    let mut rest = sized;
    let rows: Vec<&[Sized]> = plan.rows.iter().map(|row| split_off(&mut rest, row.blocks.into())).collect();
    let width_of = |row: &[Sized]| {
        let gaps = i64::try_from(row.len()).unwrap_or(1) - 1;
        row.iter().fold(gap.scale_int(gaps), |sum, block| &sum + &block.width)
    };
    let height_of = |row: &[Sized]| row.iter().map(|block| block.height.clone()).max().unwrap_or(Exact::ZERO);
    let widths: Vec<Exact> = rows.iter().map(|row| width_of(row)).collect();
    let heights: Vec<Exact> = rows.iter().map(|row| height_of(row)).collect();
    let width = widths.iter().max().cloned().unwrap_or(Exact::ZERO);
    let gaps = i64::try_from(rows.len()).unwrap_or(1) - 1;
    let height = heights.iter().fold(row_gap.scale_int(gaps), |sum, height| &sum + height);
    let mut rects = Vec::new();
    let mut bands = Vec::new();
    let mut top = height.clone();
    for (((own, row), row_width), row_height) in plan.rows.iter().zip(&rows).zip(&widths).zip(&heights) {
        let bottom = &top - row_height;
        let mut x = match own.along {
            Along::Left => Exact::ZERO,
            Along::Middle => (&width - row_width).half(),
            Along::Right => &width - row_width,
        };
        for block in *row {
            let y = match own.stand {
                Stand::Bottom => bottom.clone(),
                Stand::Middle => &bottom + &(row_height - &block.height).half(),
                Stand::Top => &top - &block.height,
            };
            let corner = Point::new(x.clone(), y);
            rects.push(Rect { corner, width: block.width.clone(), height: block.height.clone() });
            x = &(&x + &block.width) + &gap;
        }
        bands.extend([top, bottom.clone()]);
        top = &bottom - &row_gap;
    }
    ((width, height), rects, bands)
}

/// Takes the first `count` off.
fn split_off<'a, T>(rest: &mut &'a [T], count: usize) -> &'a [T] {
    let (first, others) = rest.split_at(count.min(rest.len()));
    *rest = others;
    first
}

/// The blocks at places of their own.
fn free_places(plan: &SamplerFree, sized: &[Sized]) -> Result<Places, EditError> {
    let (whole, high) = (plan.width.inches(), plan.height.inches());
    let mut rects = Vec::new();
    for (block, corner) in sized.iter().zip(&plan.corners) {
        let rect = Rect { corner: corner.clone(), width: block.width.clone(), height: block.height.clone() };
        let end = rect.ends();
        if corner.x.is_negative() || corner.y.is_negative() || end.x > *whole || end.y > *high {
            return Err(EditError::OutOfSampler {
                block: block.name.clone(),
                place: block.place,
                width: inch_text(whole),
                height: inch_text(high),
            });
        }
        rects.push(rect);
    }
    Ok(((whole.clone(), high.clone()), rects, Vec::new()))
}

/// Two blocks that overlap, by their numbers.
fn overlapping(blocks: &[Standing]) -> Option<(usize, usize)> {
    let pairs = (1..).zip(blocks).flat_map(|(next, first)| blocks.iter().skip(next).map(move |second| (first, second)));
    pairs.into_iter().find(|(first, second)| first.1.overlaps(second.1)).map(|(first, second)| (first.0, second.0))
}

fn overlap(first: &Sized, second: &Sized, a: &Rect, b: &Rect) -> EditError {
    let name = |block: &Sized| format!("block \"{}\" at {}", block.name, block.place);
    EditError::SamplerOverlap {
        first: name(first),
        second: name(second),
        x: inch_text((&a.corner.x).max(&b.corner.x)),
        y: inch_text((&a.corner.y).max(&b.corner.y)),
    }
}

/// The whole divided: rows first where there are rows.
fn divided(lines: &Lines, whole: Span, blocks: &[Standing], bands: &[Exact]) -> Part {
    let mut divider = Divider::new(lines.inches());
    let mut edges: Vec<u16> = bands.iter().map(|y| Lines::number(&lines.y, y)).collect();
    edges.sort_unstable();
    edges.dedup();
    let bands = edges.windows(2).map(|pair| Span { x: whole.x, y: [pair[0], pair[1]] });
    let in_band =
        |band: &Span| -> Vec<Standing> { blocks.iter().copied().filter(|(_, own)| own.overlaps(*band)).collect() };
    let parts: Vec<Part> = bands.map(|band| divider.divide(band, &in_band(&band))).collect();
    let stacked = parts.into_iter().reduce(|below, above| joined(true, below, above));
    stacked.unwrap_or_else(|| divider.divide(whole, blocks))
}

fn filler_spans(part: &Part, found: &mut Vec<Span>) {
    match &part.made {
        Made::Filler => found.push(part.span),
        Made::Block(_) => {}
        Made::Stack(parts) | Made::Row(parts) | Made::SetIn(parts) => {
            parts.iter().for_each(|part| filler_spans(part, found));
        }
    }
}

/// The lines on which something begins or ends.
struct Lines {
    x: Vec<Exact>,
    y: Vec<Exact>,
}

impl Lines {
    fn of<'a>(rects: impl Iterator<Item = &'a Rect>) -> Self {
        let (mut x, mut y) = (Vec::new(), Vec::new());
        for rect in rects {
            let end = rect.ends();
            x.extend([rect.corner.x.clone(), end.x]);
            y.extend([rect.corner.y.clone(), end.y]);
        }
        for lines in [&mut x, &mut y] {
            lines.sort();
            lines.dedup();
        }
        Self { x, y }
    }

    fn number(lines: &[Exact], at: &Exact) -> u16 {
        let number = lines.binary_search(at).unwrap_or_else(|next| next);
        u16::try_from(number).unwrap_or(u16::MAX)
    }

    fn span(&self, rect: &Rect) -> Span {
        let end = rect.ends();
        let numbers = |lines, from, to| [Self::number(lines, from), Self::number(lines, to)];
        Span { x: numbers(&self.x, &rect.corner.x, &end.x), y: numbers(&self.y, &rect.corner.y, &end.y) }
    }

    fn rect(&self, span: Span) -> Rect {
        let at = |lines: &[Exact], line: u16| lines.get(usize::from(line)).cloned().unwrap_or(Exact::ZERO);
        let (left, bottom) = (at(&self.x, span.x[0]), at(&self.y, span.y[0]));
        let (width, height) = (&at(&self.x, span.x[1]) - &left, &at(&self.y, span.y[1]) - &bottom);
        Rect { corner: Point::new(left, bottom), width, height }
    }

    fn inches(&self) -> Inches {
        let inches = |lines: &[Exact]| lines.iter().map(Exact::to_f64).collect();
        Inches { x: inches(&self.x), y: inches(&self.y) }
    }

    fn unit(&self, part: &Part, cell: &impl Fn(usize) -> PlaceId, fillers: &BTreeMap<Span, u16>) -> SamplerUnit {
        let all = |parts: &[Part]| parts.iter().map(|part| self.unit(part, cell, fillers)).collect();
        let made = match &part.made {
            Made::Block(number) => SamplerMade::Piece(cell(*number)),
            Made::Filler => SamplerMade::Piece(PlaceId::Filler(fillers.get(&part.span).copied().unwrap_or(u16::MAX))),
            Made::Stack(parts) => SamplerMade::Stack(all(parts)),
            Made::Row(parts) => SamplerMade::Row(all(parts)),
            Made::SetIn(parts) => SamplerMade::SetIn(all(parts)),
        };
        let Rect { corner, width, height } = self.rect(part.span);
        SamplerUnit { corner, width, height, made }
    }
}

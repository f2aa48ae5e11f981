//! How straight cuts take a strip apart, and in which order that can be done with a ruler.
//!
//! Rows side by side are cut off one after the other. Rows on one another lie in bands, and what holds them has to be cut
//! along the strip first; so a strip is arranged with the rows that need no such cut before the others, and what is left of it
//! is what the bands are cut from.

use crate::piece::PreparedPiece;
use crate::rounding::RulerStep;
use crate::row::RowPattern;
use crate::strip_plan::{Segment, StripPlan, StripRun};

/// Part of a strip, from edge to edge of the cuts that made it. Lengths are lay units.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StripPart {
    /// Its extent along the strip, as far as pieces reach.
    pub least: i64,
    /// The same with the last piece of each row cut off at a mark of the ruler.
    pub room: i64,
    /// Its extent across the strip.
    pub height: i64,
    /// What is cut from it.
    pub content: PartContent,
}

/// What a [`StripPart`] is cut into.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PartContent {
    /// A row: its place in [`StripRun::segments`].
    Row(usize),
    /// Parts side by side, in the order in which they are cut off.
    Beside(Vec<StripPart>),
    /// Bands on one another, each as long as the part, from the lower edge up.
    Bands(Vec<StripPart>),
}

/// How often a strip is looked at again after its rows have moved.
const PASSES: u32 = 4;

/// A row where it lies.
#[derive(Clone, Copy)]
struct Lying {
    index: usize,
    x: i64,
    y: i64,
    least: i64,
    room: i64,
    height: i64,
}

impl StripPart {
    /// How the strips of a run are taken apart; none for an empty strip, an unknown piece, or rows that straight cuts from
    /// edge to edge cannot part.
    #[must_use]
    pub fn of(run: &StripRun, pieces: &[&PreparedPiece]) -> Option<Self> {
        let lying = run.segments.iter().enumerate().map(|(index, segment)| Lying::new(index, segment, pieces));
        part(lying.collect::<Option<Vec<_>>>()?)
    }

    /// Puts the parts that are cut off as they are before those that are cut into bands, higher ones first.
    fn arrange(&mut self) {
        match &mut self.content {
            PartContent::Row(_) => {}
            PartContent::Bands(bands) => {
                bands.iter_mut().for_each(Self::arrange);
                (self.least, self.room) = longest(bands);
            }
            PartContent::Beside(parts) => {
                parts.iter_mut().for_each(Self::arrange);
                parts.sort_by_key(|part| (!matches!(part.content, PartContent::Row(_)), -part.height));
                (self.least, self.room) = beside(parts);
            }
        }
    }

    /// Whether something in it has to be cut along the strip.
    #[must_use]
    pub fn holds_bands(&self) -> bool {
        match &self.content {
            PartContent::Row(_) => false,
            PartContent::Beside(parts) => parts.iter().any(Self::holds_bands),
            PartContent::Bands(_) => true,
        }
    }

    /// Lets what is cut off to be cut into bands end at a mark of the ruler, where a strip of this length has the room.
    fn end_at_marks(&mut self, length: i64, step: RulerStep) {
        let PartContent::Beside(parts) = &mut self.content else { return };
        let mut spare = length - self.least;
        let last = parts.len().saturating_sub(1);
        for part in parts.iter_mut().take(last).filter(|part| part.holds_bands()) {
            let more = step.round_up(part.room) - part.room;
            if more <= spare {
                part.room += more;
                spare -= more;
            }
        }
        (self.least, self.room) = beside(parts);
    }

    /// The rows in the order of work, with where each of them begins when the part lies at a place.
    fn places(&self, (x, y): (i64, i64), places: &mut Vec<(usize, (i64, i64))>) {
        match &self.content {
            PartContent::Row(index) => places.push((*index, (x, y))),
            PartContent::Beside(parts) => {
                parts.iter().fold(x, |x, part| {
                    part.places((x, y), places);
                    x + part.room
                });
            }
            PartContent::Bands(bands) => {
                bands.iter().fold(y, |y, band| {
                    band.places((x, y), places);
                    y + band.height
                });
            }
        }
    }
}

impl StripPlan {
    /// The same plan with the rows of every strip in an order in which they can be cut: what is cut into bands comes last. A
    /// strip that is nothing but bands from end to end becomes as many strips.
    #[must_use]
    pub fn in_order_of_work(self, pieces: &[&PreparedPiece], step: RulerStep) -> Self {
        Self { strips: arrange(self.strips, (self.width, step), pieces), ..self }
    }
}

/// Arranges the rows of strips of one length in an order in which they can be cut. A strip that has no room for that stays
/// as it is; one that is nothing but bands from end to end becomes as many strips.
pub(crate) fn arrange(
    runs: Vec<StripRun>,
    (length, step): (i64, RulerStep),
    pieces: &[&PreparedPiece],
) -> Vec<StripRun> {
    let mut arranged: Vec<StripRun> =
        runs.into_iter().flat_map(|run| strips_of(run, (length, step), pieces, PASSES)).collect();
    arranged.sort_by_key(|run| -run.height);
    let mut merged: Vec<StripRun> = Vec::with_capacity(arranged.len());
    for run in arranged {
        match merged.iter_mut().find(|other| other.height == run.height && other.segments == run.segments) {
            Some(alike) => alike.repeat += run.repeat,
            None => merged.push(run),
        }
    }
    merged
}

/// One run, arranged, as strips that are cut crosswise from the fabric. Rows that have moved together can let a cut through
/// that was not there before, so what comes out is arranged again.
fn strips_of(run: StripRun, (length, step): (i64, RulerStep), pieces: &[&PreparedPiece], passes: u32) -> Vec<StripRun> {
    let strips = arranged_once(&run, (length, step), pieces);
    if passes == 0 || strips[..] == [run] {
        return strips;
    }
    strips.into_iter().flat_map(|strip| strips_of(strip, (length, step), pieces, passes - 1)).collect()
}

fn arranged_once(run: &StripRun, (length, step): (i64, RulerStep), pieces: &[&PreparedPiece]) -> Vec<StripRun> {
    let Some(found) = (run.segments.len() > 1).then(|| StripPart::of(run, pieces)).flatten() else {
        return vec![run.clone()];
    };
    let mut part = found.clone();
    part.arrange();
    if part.least > length {
        return vec![listed(run, &found)];
    }
    part.end_at_marks(length, step);
    let PartContent::Bands(bands) = &part.content else { return vec![placed(run, &part, run.height)] };
    let mut left = run.height;
    let mut strips = Vec::with_capacity(bands.len());
    for (index, band) in bands.iter().enumerate() {
        // What the bands do not take of the strip stays with the last of them.
        let height = if index + 1 == bands.len() { left } else { band.height };
        left -= height;
        strips.push(placed(run, band, height));
    }
    strips
}

/// The same run with its rows in the order in which they can be cut where they lie.
fn listed(run: &StripRun, part: &StripPart) -> StripRun {
    let mut places = Vec::with_capacity(run.segments.len());
    part.places((0, 0), &mut places);
    let row = |(index, _): &(usize, (i64, i64))| run.segments.get(*index).copied();
    StripRun { segments: places.iter().filter_map(row).collect(), ..run.clone() }
}

/// The rows of a part of a run as a strip of their own.
fn placed(run: &StripRun, part: &StripPart, height: i64) -> StripRun {
    let mut places = Vec::with_capacity(run.segments.len());
    part.places((0, 0), &mut places);
    let row = |(index, (start_x, start_y)): (usize, (i64, i64))| {
        run.segments.get(index).map(|segment| Segment { start_x, start_y, ..*segment })
    };
    StripRun { height, repeat: run.repeat, segments: places.into_iter().filter_map(row).collect() }
}

impl Lying {
    fn new(index: usize, segment: &Segment, pieces: &[&PreparedPiece]) -> Option<Self> {
        let piece = pieces.iter().find(|piece| piece.id() == segment.piece)?;
        let row: &RowPattern = piece.patterns().get(segment.pattern)?;
        Some(Self {
            index,
            x: segment.start_x,
            y: segment.start_y,
            least: row.width_of(segment.count),
            room: row.room_of(segment.count),
            height: row.strip_height(),
        })
    }
}

/// The part that holds just these rows.
fn part(mut rows: Vec<Lying>) -> Option<StripPart> {
    if let [row] = rows[..] {
        let Lying { index, least, room, height, .. } = row;
        return Some(StripPart { least, room, height, content: PartContent::Row(index) });
    }
    let columns = parted(&mut rows, |row| (row.x, row.least));
    if columns.len() > 1 {
        let parts = columns.into_iter().map(part).collect::<Option<Vec<_>>>()?;
        let (least, room) = beside(&parts);
        let height = parts.iter().map(|part| part.height).max()?;
        return Some(StripPart { least, room, height, content: PartContent::Beside(parts) });
    }
    let bands = parted(&mut rows, |row| (row.y, row.height));
    if bands.len() < 2 {
        return None;
    }
    let bands = bands.into_iter().map(part).collect::<Option<Vec<_>>>()?;
    let (least, room) = longest(&bands);
    let height = bands.iter().map(|band| band.height).sum();
    Some(StripPart { least, room, height, content: PartContent::Bands(bands) })
}

/// Rows parted wherever a cut in one direction meets none of them. `extent` tells where a row begins in that direction and how
/// far it reaches.
fn parted(rows: &mut [Lying], extent: impl Fn(&Lying) -> (i64, i64)) -> Vec<Vec<Lying>> {
    rows.sort_by_key(|row| extent(row).0);
    let mut groups: Vec<Vec<Lying>> = Vec::new();
    let mut end = i64::MIN;
    for row in &*rows {
        let (start, length) = extent(row);
        match groups.last_mut() {
            Some(group) if start < end => group.push(*row),
            _ => groups.push(vec![*row]),
        }
        end = end.max(start.saturating_add(length));
    }
    groups
}

/// What the longest of several bands takes, at the least and with what is in it cut off at marks.
fn longest(bands: &[StripPart]) -> (i64, i64) {
    let most = |of: fn(&StripPart) -> i64| bands.iter().map(of).max().unwrap_or(0);
    (most(|band| band.least), most(|band| band.room))
}

/// What parts side by side take, at the least and with all of them cut off at marks.
fn beside(parts: &[StripPart]) -> (i64, i64) {
    let room: i64 = parts.iter().map(|part| part.room).fold(0, i64::saturating_add);
    let last = parts.last().map_or(0, |part| part.room - part.least);
    (room - last, room)
}

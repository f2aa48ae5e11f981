//! In which order the rows of a strip are cut, and what is cut along it before: rows on one another lie in bands.

use std::collections::BTreeSet;

use cutting::{FabricPlan, PartContent, PieceId, PlannedPiece, PreparedPiece, StripPart, StripRun};
use layout::Units;

use crate::cut_words::piece_of;
use crate::lengths::{counted, marked, on_ruler_in, ruler};
use crate::names::listed;
use crate::row_words::CutRow;
use crate::strip_words::how_cut;
use crate::template_letters::TemplateLetters;

/// Rows of one kind of piece that are cut alike, from like parts of a strip.
pub(crate) struct Found<'a> {
    pub(crate) number: usize,
    pub(crate) piece: &'a PlannedPiece,
    /// How many in each row.
    pub(crate) rows: Vec<u64>,
    /// What is cut before them, a sentence each.
    pub(crate) first: Vec<String>,
    /// How they are cut apart; empty or beginning with a comma.
    pub(crate) how: String,
    /// Which part of the strip they are cut from.
    pub(crate) from: CutFrom,
    /// How many bands there are of that name.
    bands: usize,
}

/// What rows are cut from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum CutFrom {
    /// The strip as it is.
    Strip,
    /// A part of it.
    Part(String),
    /// Several bands of a name.
    Bands(String),
}

impl Found<'_> {
    /// Whether each of several bands gives one row, as long as the others.
    pub(crate) fn is_one_a_band(&self) -> bool {
        self.rows.len() == self.bands && self.rows.windows(2).all(|two| two[0] == two[1])
    }
}

/// The rows of the strips of a run in the order of work.
pub(crate) fn rows_in_order<'a>(
    plan: &'a FabricPlan,
    (strip, length): (&StripRun, i64),
    units: Units,
    letters: &TemplateLetters,
) -> Vec<Found<'a>> {
    let pieces: Vec<&PreparedPiece> = plan.pieces.iter().map(|piece| piece.prepared.as_ref()).collect();
    let (found, first, names) = (Vec::new(), Vec::new(), BTreeSet::new());
    let mut walk = Walk { plan, strip, length, units, letters, found, first, names };
    match StripPart::of(strip, &pieces) {
        Some(part) => walk.part(&part, &Whole { name: "", again: "", height: strip.height, bands: 1 }),
        // No planner lays rows so; they are told one by one all the same.
        None => (0..strip.segments.len()).for_each(|row| walk.row(row, (CutFrom::Strip, 1))),
    }
    walk.found
}

/// Goes through a strip as whoever cuts it does.
struct Walk<'a, 'b> {
    plan: &'a FabricPlan,
    strip: &'b StripRun,
    length: i64,
    units: Units,
    letters: &'b TemplateLetters,
    found: Vec<Found<'a>>,
    /// What is to be cut before the next row.
    first: Vec<String>,
    /// Names of bands so far.
    names: BTreeSet<String>,
}

/// What a part is cut from.
#[derive(Clone, Copy)]
struct Whole<'a> {
    /// "the 7¼″ band"; empty for the strip itself.
    name: &'a str,
    /// What it is called once something has been cut from it.
    again: &'a str,
    height: i64,
    /// How many bands there are of the name.
    bands: usize,
}

impl Whole<'_> {
    fn told(&self) -> &str {
        if self.name.is_empty() { "the strip" } else { self.name }
    }
}

impl Walk<'_, '_> {
    fn part(&mut self, part: &StripPart, whole: &Whole<'_>) {
        match &part.content {
            PartContent::Row(_) => self.beside(std::slice::from_ref(part), whole),
            PartContent::Beside(parts) => self.beside(parts, whole),
            PartContent::Bands(bands) => self.bands(bands, &format!("Cut {}, along the strip,", whole.told()), whole),
        }
    }

    fn beside(&mut self, parts: &[StripPart], whole: &Whole<'_>) {
        for (index, part) in parts.iter().enumerate() {
            let whole = &Whole { name: if index == 0 { whole.name } else { whole.again }, ..*whole };
            let is_last = index + 1 == parts.len();
            match &part.content {
                PartContent::Row(row) => {
                    let is_end = parts[index..]
                        .iter()
                        .all(|part| part.height < whole.height && matches!(part.content, PartContent::Row(_)));
                    let from = self.cut_from(part, whole, is_end);
                    self.row(*row, (from, whole.bands));
                }
                PartContent::Bands(bands) if is_last => {
                    self.bands(bands, &format!("Cut the rest of {}, along the strip,", whole.told()), whole);
                }
                PartContent::Bands(bands) => {
                    let end = parts.get(index + 1).and_then(|next| self.start_of(next));
                    let long = end.zip(self.start_of(part)).map_or(part.room, |(end, start)| end - start);
                    let long = marked(&on_ruler_in(long), self.units);
                    self.bands(
                        bands,
                        &format!("Cut off {long} of {} and cut that, along the strip,", whole.told()),
                        whole,
                    );
                }
                // What stands side by side within what stands side by side is one row of parts.
                PartContent::Beside(inner) => self.beside(inner, whole),
            }
        }
    }

    /// Where a part begins along the strip.
    fn start_of(&self, part: &StripPart) -> Option<i64> {
        match &part.content {
            PartContent::Row(index) => self.strip.segments.get(*index).map(|segment| segment.start_x),
            PartContent::Beside(parts) | PartContent::Bands(parts) => self.start_of(parts.first()?),
        }
    }

    /// Which part of the strip a row is cut from.
    fn cut_from(&self, part: &StripPart, whole: &Whole<'_>, is_end: bool) -> CutFrom {
        let is_lower = part.height < whole.height;
        let down = || format!(" cut down to {}", ruler(part.height, self.units));
        match (whole.name, is_lower) {
            ("", false) => CutFrom::Strip,
            ("", true) if is_end => CutFrom::Part(format!("the strip’s end{}", down())),
            ("", true) => CutFrom::Part(format!("a part of the strip{}", down())),
            (name, false) if whole.bands > 1 => CutFrom::Bands(name.to_owned()),
            (name, false) => CutFrom::Part(name.to_owned()),
            // What follows may need the whole width of a band.
            (name, true) if whole.bands > 1 => CutFrom::Bands(format!("{name}, a part{}", down())),
            (name, true) => CutFrom::Part(format!("a part of {name}{}", down())),
        }
    }

    fn row(&mut self, index: usize, (from, bands): (CutFrom, usize)) {
        let Some(segment) = self.strip.segments.get(index) else { return };
        let Some((number, piece)) = piece_of(self.plan, segment) else { return };
        let Some(pattern) = piece.prepared.patterns().get(segment.pattern) else { return };
        let row = CutRow::new(pattern, segment, (self.strip, self.length));
        if self.goes_on(index) && row.pitch().is_some() {
            let how = how_cut(piece, &row.with_others(), self.units, self.letters);
            if let Some(found) = self.found.last_mut().filter(|found| found.how == how || found.rows == [1]) {
                found.how = how;
                found.rows.last_mut().into_iter().for_each(|count| *count += segment.count);
                return;
            }
        }
        let how = how_cut(piece, &row, self.units, self.letters);
        let first = std::mem::take(&mut self.first);
        let alike = |row: &&mut Found<'_>| row.number == number && row.how == how && row.from == from;
        match self.found.iter_mut().find(alike).filter(|_| first.is_empty()) {
            Some(row) => row.rows.push(segment.count),
            None => self.found.push(Found { number, piece, rows: vec![segment.count], first, how, from, bands }),
        }
    }

    /// Whether a row only goes on with the row before it, cut from what is left at the same height.
    fn goes_on(&self, index: usize) -> bool {
        let [Some(before), Some(row)] = [index.checked_sub(1), Some(index)].map(|at| self.strip.segments.get(at?))
        else {
            return false;
        };
        let is_alike = (before.piece, before.pattern, before.start_y) == (row.piece, row.pattern, row.start_y);
        is_alike && row.start_x > before.start_x && self.first.is_empty()
    }

    /// Bands on one another: what is cut along the strip, then each of them. `cut` begins the sentence.
    fn bands(&mut self, bands: &[StripPart], cut: &str, whole: &Whole<'_>) {
        let mut kinds: Vec<BandKind<'_>> = Vec::new();
        for band in bands {
            let pieces = self.pieces_in(band);
            match kinds.iter_mut().find(|kind| kind.height == band.height && kind.pieces == pieces) {
                Some(kind) => kind.bands.push(band),
                None => kinds.push(BandKind { height: band.height, pieces, bands: vec![band] }),
            }
        }
        // Bands that are cut along again come last, so that none is named while another one of its width is in hand.
        kinds.sort_by_key(|kind| kind.bands.iter().any(|band| band.holds_bands()));
        let mut widths: Vec<(i64, usize)> = Vec::new();
        for band in kinds.iter().flat_map(|kind| &kind.bands) {
            match widths.iter_mut().find(|(height, _)| *height == band.height) {
                Some((_, count)) => *count += 1,
                None => widths.push((band.height, 1)),
            }
        }
        let told = |(height, count): &(i64, usize)| {
            let bands = if *count == 1 { "a band".to_owned() } else { counted(*count as u64, "band", "bands") };
            format!("{bands} {} wide", ruler(*height, self.units))
        };
        let told: Vec<String> = widths.iter().map(told).collect();
        self.first.push(format!("{cut} into {}", listed(&told)));
        for (index, kind) in kinds.iter().enumerate() {
            let of_height = |kinds: &[BandKind<'_>]| kinds.iter().filter(|other| other.height == kind.height).count();
            let name = self.name(kind, of_height(&kinds[..index]), of_height(&kinds), whole);
            let is_one_of_several = kind.bands.len() == 1 && of_height(&kinds) > 1;
            let again = if is_one_of_several { "the same band".to_owned() } else { name.clone() };
            for band in &kind.bands {
                let (name, again) = (name.as_str(), again.as_str());
                self.part(band, &Whole { name, again, height: band.height, bands: kind.bands.len() });
            }
        }
    }

    /// What bands of one kind are called, `before` being the kinds as high before them, of `kinds` in all.
    fn name(&mut self, kind: &BandKind<'_>, before: usize, kinds: usize, whole: &Whole<'_>) -> String {
        let width = ruler(kind.height, self.units);
        let name = match (kind.bands.len(), kinds, before) {
            (1, 1, _) => format!("the {width} band"),
            (_, 1, _) => format!("the {width} bands"),
            (1, _, 0) => format!("a {width} band"),
            (1, _, _) => format!("another {width} band"),
            (count, ..) => format!("{count} of the {width} bands"),
        };
        let is_new = self.names.insert(name.clone());
        if is_new || whole.name.is_empty() { name } else { format!("{name} of {}", whole.name) }
    }

    /// Which pieces the rows of a part give, whatever their number.
    fn pieces_in(&self, part: &StripPart) -> Vec<(PieceId, usize)> {
        match &part.content {
            PartContent::Row(index) => {
                self.strip.segments.get(*index).map(|segment| (segment.piece, segment.pattern)).into_iter().collect()
            }
            PartContent::Beside(parts) | PartContent::Bands(parts) => {
                parts.iter().flat_map(|part| self.pieces_in(part)).collect()
            }
        }
    }
}

/// Bands of one height from which the same pieces are cut.
struct BandKind<'a> {
    height: i64,
    pieces: Vec<(PieceId, usize)>,
    bands: Vec<&'a StripPart>,
}

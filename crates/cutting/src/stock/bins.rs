//! Strips packed into sheets of one length: first fit, then better where there are few.
//!
//! The bound is that of Martello and Toth (1990, "Lower bounds and reduction procedures for the bin packing problem";
//! from memory): strips longer than half a sheet lie alone, and whatever does not fit beside them needs sheets more.

/// The most strips for which an exact packing is looked for.
const MAX_EXACT: u64 = 40;

/// The most steps of that search for one number of sheets.
const MAX_STEPS: u32 = 200_000;

/// Equal sheets and the strips in each, as numbers of strips of each run.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bin {
    /// How many sheets.
    pub repeat: u64,
    /// Length that is left.
    pub room: i64,
    /// Which run of strips, and how many of it.
    pub strips: Vec<(usize, u64)>,
}

/// Strips in sheets.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Packing {
    /// The sheets.
    pub bins: Vec<Bin>,
    /// Whether it is proved that these strips need as many.
    pub is_least: bool,
}

impl Packing {
    /// Sheets in all.
    #[must_use]
    pub fn sheets(&self) -> u64 {
        count(&self.bins)
    }
}

fn count(bins: &[Bin]) -> u64 {
    bins.iter().map(|bin| bin.repeat).fold(0, u64::saturating_add)
}

/// Packs runs of equal strips, given as height (above 0 and at most `length`) and number, tallest first, into sheets
/// of `length`.
#[must_use]
pub fn pack(runs: &[(i64, u64)], length: i64) -> Packing {
    let mut bins = first_fit(runs, length);
    let least = least_bins(runs, length);
    let strips: u64 = runs.iter().map(|run| run.1).fold(0, u64::saturating_add);
    let mut most = count(&bins);
    while most > least && strips <= MAX_EXACT {
        let mut search = Search::new(runs, length, most - 1);
        match search.place(0, 0) {
            Some(true) => {
                bins = search.into_bins();
                most -= 1;
            }
            Some(false) => return Packing { bins, is_least: true },
            None => break,
        }
    }
    Packing { is_least: most == least, bins }
}

/// First fit, decreasing: every strip goes into the first sheet that has room. Equal sheets are kept as one, so that
/// the work depends on how many kinds of strip there are.
fn first_fit(runs: &[(i64, u64)], length: i64) -> Vec<Bin> {
    let mut bins: Vec<Bin> = Vec::new();
    for (run, &(height, number)) in runs.iter().enumerate() {
        let mut left = number;
        let mut index = 0;
        while left > 0 && index < bins.len() {
            let each = (bins[index].room / height).unsigned_abs();
            let Some(sheets) = left.checked_div(each) else {
                index += 1;
                continue;
            };
            let full = sheets.min(bins[index].repeat);
            let rest = if full < bins[index].repeat { left % each } else { 0 };
            index = put(&mut bins, index, (run, height), [(full, each), (u64::from(rest > 0), rest)]);
            left -= full * each + rest;
        }
        let each = (length / height).unsigned_abs();
        for (repeat, number) in [(left / each, each), (u64::from(!left.is_multiple_of(each)), left % each)] {
            if repeat > 0 {
                bins.push(Bin { repeat, room: length - taken(height, number), strips: vec![(run, number)] });
            }
        }
    }
    bins
}

/// Puts strips into some of the equal sheets at `index`, so many of them with so many strips each, and splits the
/// sheets accordingly. Gives the index of the next sheet after them.
fn put(bins: &mut Vec<Bin>, index: usize, (run, height): (usize, i64), parts: [(u64, u64); 2]) -> usize {
    let old = bins[index].clone();
    let mut next = Vec::with_capacity(3);
    let mut left = old.repeat;
    for (repeat, number) in parts.into_iter().filter(|part| part.0 > 0) {
        let mut strips = old.strips.clone();
        strips.push((run, number));
        next.push(Bin { repeat, room: old.room - taken(height, number), strips });
        left -= repeat;
    }
    if left > 0 {
        next.push(Bin { repeat: left, ..old });
    }
    let after = index + next.len();
    bins.splice(index..=index, next);
    after
}

/// Length of `number` strips; they fit a sheet, so the product is no longer than that.
fn taken(height: i64, number: u64) -> i64 {
    i64::try_from(i128::from(height) * i128::from(number)).unwrap_or(i64::MAX)
}

/// No packing of these strips needs fewer sheets.
#[must_use]
pub fn least_bins(runs: &[(i64, u64)], length: i64) -> u64 {
    let halves = runs.iter().map(|run| run.0).filter(|height| 2 * height <= length);
    let cutoffs = halves.chain([0]).map(|cutoff| least_above(runs, length, cutoff));
    cutoffs.max().unwrap_or(0)
}

/// The bound from strips at least `cutoff` long. Those longer than the rest of a sheet beside `cutoff` lie alone;
/// others above half a sheet lie one in each, and leave that much room for the lower ones.
fn least_above(runs: &[(i64, u64)], length: i64, cutoff: i64) -> u64 {
    let (mut alone, mut large, mut beside, mut small) = (0_u64, 0_u64, 0_i128, 0_i128);
    for &(height, number) in runs {
        let all = i128::from(height).saturating_mul(number.into());
        if height > length - cutoff {
            alone = alone.saturating_add(number);
        } else if 2 * height > length {
            large = large.saturating_add(number);
            beside = beside.saturating_add(i128::from(length - height).saturating_mul(number.into()));
        } else if height >= cutoff {
            small = small.saturating_add(all);
        }
    }
    let more = (small - beside).max(0);
    let sheets = more / i128::from(length) + i128::from(more % i128::from(length) > 0);
    alone.saturating_add(large).saturating_add(u64::try_from(sheets).unwrap_or(u64::MAX))
}

/// Depth-first search for a packing into a given number of sheets.
struct Search {
    length: i64,
    /// Strips one by one, tallest first: run and height.
    strips: Vec<(usize, i64)>,
    rooms: Vec<i64>,
    /// The sheet of each strip placed so far.
    chosen: Vec<usize>,
    /// Strips placed so far, those taken back included.
    steps: u32,
}

impl Search {
    fn new(runs: &[(i64, u64)], length: i64, sheets: u64) -> Self {
        let strips: Vec<(usize, i64)> = runs
            .iter()
            .enumerate()
            .flat_map(|(run, &(height, number))| (0..number).map(move |_| (run, height)))
            .collect();
        let sheets = usize::try_from(sheets).unwrap_or(usize::MAX);
        Self { length, rooms: vec![length; sheets], chosen: Vec::with_capacity(strips.len()), strips, steps: 0 }
    }

    /// Places strip `index` and all after it; equal strips go to sheets in ascending order, from `from` on. None when
    /// the steps ran out.
    fn place(&mut self, index: usize, from: usize) -> Option<bool> {
        let Some(&(run, height)) = self.strips.get(index) else { return Some(true) };
        self.steps += 1;
        if self.steps > MAX_STEPS {
            return None;
        }
        let mut tried: Vec<i64> = Vec::new();
        for sheet in from..self.rooms.len() {
            let room = self.rooms[sheet];
            // Sheets with equal room are the same to this strip and all after it, but for the order of equal strips.
            if room < height || tried.contains(&room) {
                continue;
            }
            tried.push(room);
            self.rooms[sheet] = room - height;
            self.chosen.push(sheet);
            let equal_next = self.strips.get(index + 1).is_some_and(|next| next.0 == run);
            if self.place(index + 1, if equal_next { sheet } else { 0 })? {
                return Some(true);
            }
            self.chosen.pop();
            self.rooms[sheet] = room;
        }
        Some(false)
    }

    fn into_bins(self) -> Vec<Bin> {
        let mut bins: Vec<Bin> = self.rooms.iter().map(|&room| Bin { repeat: 1, room, strips: Vec::new() }).collect();
        for (&sheet, &(run, _)) in self.chosen.iter().zip(&self.strips) {
            match bins[sheet].strips.last_mut() {
                Some(last) if last.0 == run => last.1 += 1,
                _ => bins[sheet].strips.push((run, 1)),
            }
        }
        bins.retain(|bin| bin.room < self.length);
        bins.sort_by(|a, b| a.strips.cmp(&b.strips));
        bins.dedup_by(|next, kept| {
            let same = next.strips == kept.strips;
            if same {
                kept.repeat += 1;
            }
            same
        });
        bins
    }
}

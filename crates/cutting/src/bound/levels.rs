//! Strips seen as a number of levels: rows that lie side by side on one level.
//!
//! **Lemma.** Give each row a whole number of levels by its height, and let a strip of height h have as many levels as
//! the most that rows on one another, together at most h high, can use. Then the rows of a strip can be put on its
//! levels, each on as many as it uses, so that rows on one level lie side by side.
//!
//! *Proof.* Seen from the strip's long edge each row is an interval, taken as often as it uses levels. At every place
//! along the strip the rows there lie on one another, so what they use is at most what the strip has. Interval graphs
//! are perfect: where no point lies in more than u intervals, u colours do. The colours are the levels. ∎
//!
//! So if no content of one level, rows side by side at most as wide as the fabric and no kind in more pieces than are
//! wanted, is worth more than 1 when a piece of value v in a row that uses u levels counts v/u, then every plan has
//! levels enough for the value of all pieces: Σ levels(h) · strips(h) ≥ ⌈Σ n·v⌉.

use microlp::{ComparisonOp, OptimizationDirection, Problem, Variable};

use super::strip_counts::Condition;
use super::worth::{CELLS, cells_of, narrowest};
use crate::best::Budget;
use crate::best::order::Order;
use crate::error::CutError;

/// The whole number that stands for what a row of the most levels is worth when it alone fills them.
const FULL: i64 = 1 << 45;

/// Rounds of contents of one level.
const ROUNDS: usize = 60;

/// How many levels each row uses and each strip has.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Levels {
    pub(super) of_row: Vec<i64>,
    pub(super) of_strip: Vec<i64>,
}

impl Levels {
    /// All ways to count levels that are worth a try.
    pub(super) fn all(order: &Order) -> Vec<Self> {
        let mut found: Vec<Self> = Vec::new();
        let mut add = |of_height: Option<Vec<i64>>| {
            let Some(levels) = of_height.map(|l| Self::new(order, &l)) else { return };
            if !found.contains(&levels) && levels.of_row.iter().any(|&l| l > 0) {
                found.push(levels);
            }
        };
        let lowest = order.heights[0];
        // As many levels as lay units: rows take up length, wherever they lie.
        add(Some(order.heights.clone()));
        for &tall in order.heights.iter().rev() {
            add(Some(order.heights.iter().map(|h| h / tall).collect()));
            if 2 * lowest <= tall {
                add(shares(order, tall));
                add(Some(order.heights.iter().map(|h| 2 * h / tall).collect()));
                add(Some(order.heights.iter().map(|h| 3 * h / tall).collect()));
            }
        }
        found.truncate(40);
        found
    }

    fn new(order: &Order, of_height: &[i64]) -> Self {
        let of_strip = stacked(order, of_height);
        let of_row = order.rows.iter().map(|row| order.height_within(row.height).map_or(0, |h| of_height[h])).collect();
        Self { of_row, of_strip }
    }
}

/// Rows that fit so often into a strip `tall` high use the share of its levels that makes just so many fit.
fn shares(order: &Order, tall: i64) -> Option<Vec<i64>> {
    let often: Vec<i64> = order.heights.iter().map(|h| tall / h).filter(|&n| n > 0).collect();
    let mut common = 1_i64;
    for n in often {
        common = common / gcd(common, n) * n;
        if common > 1 << 20 {
            return None;
        }
    }
    let low: Vec<i64> = order.heights.iter().map(|h| if *h <= tall { common / (tall / h) } else { 0 }).collect();
    // Higher rows use what lower ones could in their stead.
    Some(stacked(order, &low))
}

const fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

/// The most levels that rows on one another use in a strip of each height: a knapsack over the heights.
fn stacked(order: &Order, of_height: &[i64]) -> Vec<i64> {
    let items: Vec<(i64, i64)> = order.heights.iter().copied().zip(of_height.iter().copied()).collect();
    items.iter().map(|&(h, _)| most_stacked(&items, h, items.len())).collect()
}

/// The most that `items` (height, levels), the first `among` of them and each any number of times, give within `room`.
fn most_stacked(items: &[(i64, i64)], room: i64, among: usize) -> i64 {
    let Some(&(height, levels)) = among.checked_sub(1).and_then(|last| items.get(last)) else { return 0 };
    (0..=room / height).map(|n| n * levels + most_stacked(items, room - n * height, among - 1)).max().unwrap_or(0)
}

/// The condition that levels give, with the values of the pieces that make most of it.
pub(super) fn condition(
    order: &Order,
    levels: &Levels,
    budget: &mut Budget<'_>,
) -> Result<Option<Condition>, CutError> {
    let level = Level::new(order, levels);
    let wanted = order.counts();
    let mut contents: Vec<Vec<f64>> = level.single();
    let unit = (FULL / levels.of_row.iter().copied().max().unwrap_or(1).max(1)).max(1) as f64;
    let mut best: Option<Condition> = None;
    for _ in 0..ROUNDS {
        if !budget.spend((CELLS * order.choices() / 4) as u64)? {
            break;
        }
        let Some(values) = values(&wanted, &level.counts, &contents) else { break };
        let whole: Vec<i64> = values.iter().map(|v| whole(v * unit)).collect();
        let (worth, content) = level.most(order, &whole);
        if worth > 0 {
            let total: i128 = whole.iter().zip(&wanted).map(|(&v, &n)| i128::from(v) * i128::from(n)).sum();
            let need = -(-total).div_euclid(i128::from(worth));
            if let Some(need) = i64::try_from(need).ok().filter(|&n| best.as_ref().is_none_or(|b| b.need < n)) {
                best = Some(Condition { worth: levels.of_strip.clone(), need });
            }
        }
        if worth as f64 <= unit * (1.0 + 1e-6) || contents.contains(&content) {
            break;
        }
        contents.push(content);
    }
    Ok(best)
}

/// Values that give most in all with no content worth more than 1.
fn values(wanted: &[u64], counts: &[bool], contents: &[Vec<f64>]) -> Option<Vec<f64>> {
    let mut problem = Problem::new(OptimizationDirection::Maximize);
    let most = |counts: &bool| if *counts { f64::INFINITY } else { 0.0 };
    let kinds: Vec<Variable> =
        wanted.iter().zip(counts).map(|(&n, c)| problem.add_var(n as f64, (0.0, most(c)))).collect();
    for content in contents {
        let terms: Vec<(Variable, f64)> =
            kinds.iter().zip(content).filter(|t| *t.1 > 0.0).map(|(&v, &n)| (v, n)).collect();
        problem.add_constraint(&terms, ComparisonOp::Le, 1.0);
    }
    let solution = problem.solve().ok()?.into_solution().ok()?;
    Some(kinds.iter().map(|&v| solution.var_value(v).max(0.0)).collect())
}

#[allow(clippy::cast_possible_truncation, reason = "values are between zero and the number of levels")]
fn whole(number: f64) -> i64 {
    number.clamp(0.0, 1e15) as i64
}

/// Number of pieces, their width in cells, and levels used by the row they are in, for one choice on a level.
struct Choice {
    width: usize,
    /// Pieces by the levels that their rows use.
    pieces: Vec<(i64, i64)>,
}

/// What one level may hold.
struct Level {
    /// For each kind: for each number of levels that its rows use, the least widths of one piece, two, three …
    widths: Vec<Vec<(i64, Vec<usize>)>>,
    /// Whether the kind counts: a kind with a row that uses no level is worth nothing.
    counts: Vec<bool>,
}

impl Level {
    fn new(order: &Order, levels: &Levels) -> Self {
        let cells: Vec<Vec<usize>> = order.rows.iter().map(|row| cells_of(order.width, row)).collect();
        let mut rows_of: Vec<std::collections::BTreeMap<i64, Vec<usize>>> = vec![Default::default(); order.kinds.len()];
        for (index, row) in order.rows.iter().enumerate() {
            rows_of[row.kind].entry(levels.of_row[index]).or_default().push(index);
        }
        // Nothing lies above or below such rows in any strip, so one level holds one of each at most.
        let top = order.heights[order.heights.len() - 1];
        let lone = |rows: &[usize]| rows.iter().all(|&r| order.rows[r].height + order.heights[0] > top);
        let counts = rows_of.iter().map(|rows| !rows.contains_key(&0)).collect();
        let widths = rows_of
            .iter()
            .zip(&order.kinds)
            .map(|(rows, kind)| {
                rows.iter().map(|(&l, rows)| (l, narrowest(rows, &cells, kind.count, lone(rows)))).collect()
            })
            .collect();
        Self { widths, counts }
    }

    /// Contents of one kind in rows of one sort, to begin with.
    fn single(&self) -> Vec<Vec<f64>> {
        let mut list = Vec::new();
        for (kind, sorts) in self.widths.iter().enumerate().filter(|k| self.counts[k.0]) {
            for (levels, widths) in sorts {
                let mut content = vec![0.0; self.widths.len()];
                content[kind] = widths.len() as f64 / *levels as f64;
                list.push(content);
            }
        }
        list
    }

    /// An upper limit for what a level is worth, in units, and the content that has it.
    fn most(&self, order: &Order, values: &[i64]) -> (i64, Vec<f64>) {
        let mut table = vec![0_i64; CELLS + 1];
        let mut steps: Vec<(usize, Vec<Choice>, Vec<u32>)> = Vec::new();
        for (kind, sorts) in self.widths.iter().enumerate() {
            if !self.counts[kind] || values[kind] == 0 {
                continue;
            }
            let choices = choices(sorts, order.kinds[kind].count);
            let mut chosen = vec![u32::MAX; CELLS + 1];
            let before = table.clone();
            for (index, choice) in (0_u32..).zip(&choices) {
                // Each part rounded up, so that the limit is one.
                let worth: i64 = choice.pieces.iter().map(|(n, l)| (n * values[kind] + l - 1) / l).sum();
                for at in choice.width..=CELLS {
                    let worth = before[at - choice.width] + worth;
                    if worth > table[at] {
                        table[at] = worth;
                        chosen[at] = index;
                    }
                }
            }
            steps.push((kind, choices, chosen));
        }
        let mut content = vec![0.0; self.widths.len()];
        let mut at = CELLS;
        for (kind, choices, chosen) in steps.iter().rev() {
            if let Some(choice) = choices.get(chosen[at] as usize) {
                content[*kind] = choice.pieces.iter().map(|&(n, l)| n as f64 / l as f64).sum();
                at -= choice.width;
            }
        }
        (table[CELLS], content)
    }
}

/// All numbers of pieces of one kind that fit side by side, by the levels that their rows use.
fn choices(sorts: &[(i64, Vec<usize>)], count: u64) -> Vec<Choice> {
    let mut list = vec![Choice { width: 0, pieces: Vec::new() }];
    for (levels, widths) in sorts {
        let mut more = Vec::new();
        for choice in &list {
            let so_far: i64 = choice.pieces.iter().map(|p| p.0).sum();
            for (n, width) in (1_i64..).zip(widths) {
                let width = choice.width + width;
                if width > CELLS || (so_far + n) as u64 > count {
                    break;
                }
                let mut pieces = choice.pieces.clone();
                pieces.push((n, *levels));
                more.push(Choice { width, pieces });
            }
        }
        list.extend(more);
    }
    list.remove(0);
    list
}

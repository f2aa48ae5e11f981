//! What can be made, in words: the same on screen and on paper.

use geometry::{Exact, Value};
use layout::{Precut, Units};

use crate::lengths::{counted, finished};

use super::choice::{Colours, Pairing};
use super::hand::Hand;
use super::listing::{Entry, Short};
use super::more::{Buy, More, Next};
use super::shape::Shape;

/// What is in hand: "8 dark fabrics, 8 light fabrics".
#[must_use]
pub fn hand_words(hand: &Hand) -> String {
    let of = |value: Value| {
        let count = hand.of_value(value).count() as u64;
        (count > 0).then(|| counted(count, &format!("{} fabric", value.word()), &format!("{} fabrics", value.word())))
    };
    [Value::Dark, Value::Medium, Value::Light].into_iter().filter_map(of).collect::<Vec<_>>().join(", ")
}

/// An entry: "6 rows × 4 columns of diagonal half block, 12″; two colours; dark–light".
#[must_use]
pub fn entry_words(entry: &Entry, units: Units) -> String {
    let block = block_words(&entry.block, &entry.block_size, entry.colours, entry.pairing, units);
    format!("{} of {block}", shape_words(entry.shape))
}

/// A block of which not one can be cut: "diagonal half block, 12″; two colours; dark–light".
#[must_use]
pub fn short_words(short: &Short, units: Units) -> String {
    block_words(&short.block, &short.block_size, short.colours, short.pairing, units)
}

fn block_words(
    block: &str,
    (width, height): &(Exact, Exact),
    colours: Colours,
    pairing: Option<Pairing>,
    units: Units,
) -> String {
    let size = if width == height {
        finished(width, units)
    } else {
        format!("{} × {}", finished(width, units), finished(height, units))
    };
    let pairing = pairing.map(|pairing| format!("; {}", pairing.words())).unwrap_or_default();
    format!("{block}, {size}; {}{pairing}", colours.words())
}

fn shape_words(shape: Shape) -> String {
    let rows = counted(shape.rows.into(), "row", "rows");
    format!("{rows} × {}", counted(shape.columns.into(), "column", "columns"))
}

/// What an entry is cut from: "from 16 fabrics, each in 2 to 3 blocks".
#[must_use]
pub fn used_words(entry: &Entry) -> String {
    let least = entry.gives.values().min().copied().unwrap_or(0);
    let most = entry.gives.values().max().copied().unwrap_or(0);
    let fabrics = counted(entry.gives.len() as u64, "fabric", "fabrics");
    let blocks = share_words(most, entry.pairing);
    if least == most {
        format!("from {fabrics}, each in {blocks}")
    } else {
        format!("from {fabrics}, each in {least} to {blocks}")
    }
}

/// How many blocks a fabric has a share in: "3 blocks", or "1 pair of blocks" where the kinds of block take turns.
#[must_use]
pub fn share_words(shares: u64, pairing: Option<Pairing>) -> String {
    let kinds = pairing.map_or(1, |pairing| pairing.types().len());
    if kinds == 1 { counted(shares, "block", "blocks") } else { counted(shares, "pair of blocks", "pairs of blocks") }
}

/// The next size and what it needs: "60″ × 60″ (5 rows × 5 columns) needs 1 fat quarter of Plum more".
#[must_use]
pub fn next_words(next: &Next, hand: &Hand) -> String {
    let size = format!("{} × {}", finished(&next.width, hand.units), finished(&next.height, hand.units));
    let more: Vec<String> = next.more.iter().map(|more| more_words(more, hand)).collect();
    format!("{size} ({}) needs {} more", shape_words(next.shape), more.join(" and "))
}

/// What more of one fabric is needed: "⅜ yd (usable width 40″) of Plum", "2 fat quarters of Oat".
#[must_use]
pub fn more_words(more: &More, hand: &Hand) -> String {
    let units = hand.units;
    match &more.buy {
        Buy::Length { width, label, .. } => {
            let usable = finished(width.inches(), units);
            format!("{label} (usable width {usable}) of {}", more.name)
        }
        Buy::Precuts { precut, count } => {
            format!("{} of {}", precut_words(precut, u64::from(*count), units), more.name)
        }
    }
}

/// "2 fat quarters", or "2 pieces 21″ × 17½″" of another size.
fn precut_words(precut: &Precut, count: u64, units: Units) -> String {
    let usual = Precut::usual(&precut.width).unwrap_or_default();
    let is_fat_quarter = usual.iter().any(|(name, known)| name.starts_with("fat quarter") && known == precut);
    if is_fat_quarter {
        return counted(count, "fat quarter", "fat quarters");
    }
    let (width, length) = (finished(precut.width.inches(), units), finished(precut.length.inches(), units));
    format!("{} {width} × {length}", counted(count, "piece", "pieces"))
}

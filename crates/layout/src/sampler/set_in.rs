//! A rectangle that no straight seam divides, as when blocks lie round another like the arms of a pinwheel.
//!
//! What is left between the blocks is cut into rectangles all the same, along the level edges or along the upright ones,
//! whichever makes fewer. Then whatever shares a whole edge is joined to units, and what is left of them is set in.

use std::collections::BTreeMap;

use super::divide::{Made, Part, Span, Standing, joined};

/// Fills `span` round `blocks`.
pub(super) fn fill(span: Span, blocks: &[Standing]) -> Part {
    let level = fillers(span, blocks, true);
    let upright = fillers(span, blocks, false);
    let fillers = if upright.len() < level.len() { upright } else { level };
    let mut parts: Vec<Part> =
        blocks.iter().map(|(number, span)| Part { span: *span, made: Made::Block(*number) }).collect();
    parts.extend(fillers.into_iter().map(|span| Part { span, made: Made::Filler }));
    loop {
        let count = parts.len();
        parts = joined_pairs(joined_pairs(parts, true), false);
        if parts.len() == count {
            break;
        }
    }
    // From the top left, as they are read.
    parts.sort_by_key(|part| (std::cmp::Reverse(part.span.y[1]), part.span.x[0]));
    match parts.len() {
        1 => parts.swap_remove(0),
        _ => Part { span, made: Made::SetIn(parts) },
    }
}

/// What the blocks leave of `span`, cut along all their level edges or all their upright ones, and joined again where
/// two have the same ends.
fn fillers(span: Span, blocks: &[Standing], level: bool) -> Vec<Span> {
    let mut edges: Vec<u16> = blocks.iter().flat_map(|(_, own)| own.across(level)).chain(span.across(level)).collect();
    edges.sort_unstable();
    edges.dedup();
    let mut done = Vec::new();
    // What ends at the line reached, by its ends.
    let mut open: BTreeMap<[u16; 2], u16> = BTreeMap::new();
    for pair in edges.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        let gaps = gaps(span, blocks, level, [from, to]);
        let mut next = BTreeMap::new();
        for ends in gaps {
            next.insert(ends, open.remove(&ends).unwrap_or(from));
        }
        done.extend(open.into_iter().map(|(ends, start)| laid(level, ends, [start, from])));
        open = next;
    }
    let [_, last] = span.across(level);
    done.extend(open.into_iter().map(|(ends, start)| laid(level, ends, [start, last])));
    done
}

/// What the blocks leave between two neighbouring lines.
fn gaps(span: Span, blocks: &[Standing], level: bool, [from, to]: [u16; 2]) -> Vec<[u16; 2]> {
    let in_band = |own: &Span| own.across(level)[0] < to && from < own.across(level)[1];
    let mut taken: Vec<[u16; 2]> =
        blocks.iter().filter(|(_, own)| in_band(own)).map(|(_, own)| own.across(!level)).collect();
    taken.sort_unstable();
    let [mut reached, end] = span.across(!level);
    let mut gaps = Vec::new();
    for [start, stop] in taken.into_iter().chain([[end, end]]) {
        if reached < start {
            gaps.push([reached, start]);
        }
        reached = stop;
    }
    gaps
}

/// The rectangle with these ends, between these lines.
const fn laid(level: bool, ends: [u16; 2], between: [u16; 2]) -> Span {
    if level { Span { x: ends, y: between } } else { Span { x: between, y: ends } }
}

/// Joins parts in pairs that share a whole level edge, or a whole upright one.
fn joined_pairs(parts: Vec<Part>, level: bool) -> Vec<Part> {
    let key = |part: &Part, end: usize| (part.span.across(!level), part.span.across(level)[end]);
    let mut parts: Vec<Option<Part>> = parts.into_iter().map(Some).collect();
    let starts: BTreeMap<_, usize> =
        parts.iter().enumerate().filter_map(|(i, part)| Some((key(part.as_ref()?, 0), i))).collect();
    for i in 0..parts.len() {
        let Some(next) = parts[i].as_ref().and_then(|part| starts.get(&key(part, 1))).copied() else { continue };
        if parts[next].is_some()
            && let (Some(first), Some(second)) = (parts[i].take(), parts[next].take())
        {
            parts[i] = Some(joined(level, first, second));
        }
    }
    parts.into_iter().flatten().collect()
}

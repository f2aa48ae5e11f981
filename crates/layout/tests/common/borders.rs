//! Borders of every kind for random edits.

use geometry::Length;
use layout::{BlockId, Border, BorderKind, Design, FabricId, PiecedBorder};

use super::inches;

/// A border of `block`, depth `width` inches, with `corner` in its corners.
pub(crate) fn pieced(width: i64, block: BlockId, corner: BlockId) -> Border {
    let kind = BorderKind::Pieced(PiecedBorder { block, turn: 0, mirrored: false, corner });
    Border { kind, ..Border::plain(inches(width), FabricId(1)) }
}

/// Width of a border of blocks that fits the quilts for random edits when they are as they were made.
pub(crate) const FIT_WIDTH: i64 = 12;

/// A border from random numbers; a pieced one often does not fit.
pub(crate) fn some_border(
    design: &Design,
    number: u16,
    [a, b, c]: [u16; 3],
    fabric: impl Fn(u16) -> FabricId,
) -> Border {
    let plain = Border::plain(inches(i64::from(number) + 1), fabric(a));
    let blocks: Vec<BlockId> = design.blocks().map(|(id, _)| id).collect();
    let block = |die: u16| blocks[usize::from(die) % blocks.len()];
    match b.wrapping_add(number) % 6 {
        0 => Border { kind: BorderKind::Mitred, ..plain },
        1 => Border { kind: BorderKind::CornerSquares(fabric(c)), ..plain },
        2 => Border { level_width: Length::inch_fraction(i64::from(c % 9) + 1, 3).ok(), ..plain },
        3 | 4 => {
            let own = PiecedBorder {
                block: block(c),
                turn: u8::try_from(a % 4).unwrap_or(0),
                mirrored: a % 3 == 0,
                corner: block(c / 5),
            };
            let depth = design.block(own.block).map(|def| def.block().base().extent().1);
            let width = depth.ok().and_then(|depth| Length::new(depth).ok()).unwrap_or_else(|| inches(FIT_WIDTH));
            Border { width, kind: BorderKind::Pieced(own), ..plain }
        }
        _ => plain,
    }
}

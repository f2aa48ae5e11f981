//! Samplers in rows and freely placed, for tests and for random edits.

use geometry::{Exact, Length, Point, Recipe};
use layout::{
    Along, BlockId, Design, Edit, FabricId, Place, SamplerBlock, SamplerDraft, SamplerFree, SamplerPlan, SamplerRow,
    SamplerRows, Setting, Stand, apply,
};

use super::{DARK, THIRD, block_of, edited, half_block, inches, starter, straight};

/// Blocks of 12, 6 and 4 in, and a goose of 8 × 4 in, each in one place of a straight setting until they are set.
pub(crate) fn bench() -> Design {
    let blocks = [
        half_block(12),
        Recipe::TiltedStar(block_of(6)),
        Recipe::FourPatch(block_of(4)),
        Recipe::FlyingGoose(block_of(8)),
    ];
    starter(&blocks, straight(1, 1), &[]).design().unwrap()
}

/// A block as it is drafted, with its halves dark and light in turn.
pub(crate) fn standing(design: &Design, block: u32, turn: u8) -> SamplerBlock {
    let id = BlockId(block);
    let halves = layout::Halves::alternating(design.block(id).unwrap().block().halves());
    SamplerBlock { place: Place { block: id, turn, mirrored: false, halves }, was: None }
}

pub(crate) const fn in_row(blocks: u16, stand: Stand, along: Along) -> SamplerRow {
    SamplerRow { blocks, stand, along }
}

/// The quilt with this plan and these blocks, each with its quarter turns.
pub(crate) fn draft(design: &Design, plan: SamplerPlan, blocks: &[(u32, u8)]) -> SamplerDraft {
    let blocks = blocks.iter().map(|(block, turn)| standing(design, *block, *turn)).collect();
    SamplerDraft { plan, filler: THIRD, blocks }
}

pub(crate) fn at(x: i64, y: i64) -> Point {
    Point::new(Exact::int(x), Exact::int(y))
}

pub(crate) fn free(width: i64, height: i64, corners: &[(i64, i64)]) -> SamplerPlan {
    let corners = corners.iter().map(|(x, y)| at(*x, *y)).collect();
    SamplerPlan::Free(SamplerFree { width: inches(width), height: inches(height), corners })
}

/// Two rows with gaps: 12, 6 and 4 in, then a goose on its side and a star.
pub(crate) fn rows_sampler() -> Design {
    let design = bench();
    let rows = vec![in_row(3, Stand::Bottom, Along::Left), in_row(2, Stand::Middle, Along::Right)];
    let plan = SamplerPlan::Rows(SamplerRows { rows, gap: Some(inches(1)), row_gap: Some(inches(2)) });
    edited(&design, &[Edit::SetSampler(draft(&design, plan, &[(1, 0), (2, 1), (3, 0), (4, 1), (2, 0)]))])
}

/// Four geese round a square of 4 in like the arms of a pinwheel, and a block of 12 in beside them.
pub(crate) fn pinwheel() -> Design {
    let design = bench();
    let plan = free(26, 14, &[(1, 1), (9, 1), (5, 9), (1, 5), (5, 5), (14, 1)]);
    edited(&design, &[Edit::SetSampler(draft(&design, plan, &[(4, 0), (4, 1), (4, 0), (4, 1), (3, 0), (1, 0)]))])
}

/// An edit of samplers from random numbers: a setting, a move, another plan; often one that must be refused.
pub(crate) fn some_sampler(
    design: &Design,
    [a, b, c, d]: [u16; 4],
    block: impl Fn(u16) -> BlockId,
    fabric: impl Fn(u16) -> FabricId,
) -> Edit {
    let (rows, columns) = (a % 4, b % 5 + 1);
    let Some(mut draft) = design.sampler_draft().filter(|_| d % 5 > 0) else {
        return Edit::SetSetting { setting: Setting::Sampler { rows, columns, filler: fabric(c) }, fill: block(c) };
    };
    let length = |die: u16| Length::inch_fraction(i64::from(die % 60) + 1, 8).ok();
    match &mut draft.plan {
        SamplerPlan::Free(free) => {
            let number = usize::from(a) % free.corners.len();
            let part = |length: &Length, die: u16| length.inches() * &Exact::ratio(i64::from(die % 17), 16).unwrap();
            free.corners[number] = Point::new(part(&free.width, b), part(&free.height, c));
            if d % 3 == 0 {
                draft.blocks.remove(number);
                free.corners.remove(number);
            }
        }
        SamplerPlan::Rows(plan) => {
            let number = usize::from(a) % plan.rows.len();
            plan.rows[number].stand = [Stand::Top, Stand::Middle, Stand::Bottom][usize::from(b % 3)];
            plan.rows[number].along = [Along::Left, Along::Middle, Along::Right][usize::from(c % 3)];
            (plan.gap, plan.row_gap) = (length(b).filter(|_| d % 2 == 0), length(c).filter(|_| d % 3 == 0));
            if d % 4 == 0 {
                draft.blocks.rotate_left(1);
            }
        }
    }
    Edit::SetSampler(draft)
}

/// The same sampler, each block where it stands now.
pub(crate) fn as_free(design: &Design) -> Design {
    let draft = design.sampler_draft().unwrap();
    let corners = design.places().map(|(id, place)| {
        let outline = design.block(place.block).unwrap().block().base().clone();
        design.motion(id).unwrap().polygon(&outline).bounds().0
    });
    let (width, height) = design.setting_extent();
    let free = SamplerFree {
        width: Length::new(width).unwrap(),
        height: Length::new(height).unwrap(),
        corners: corners.collect(),
    };
    let bare = Design::assemble(layout::DesignParts { borders: Vec::new(), ..design.parts() }).unwrap();
    apply(&bare, &Edit::SetSampler(SamplerDraft { plan: SamplerPlan::Free(free), filler: DARK, ..draft })).unwrap().0
}

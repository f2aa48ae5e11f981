//! Everything that a quilt document refuses, and what to do about it.

use geometry::{BlockError, LengthError, RecipeError, Role, Value};
use thiserror::Error;

use crate::border::BorderMisfit;
use crate::ids::{BlockId, FabricId, PlaceId};
use crate::trim::TrimFault;
use crate::wishes::MAX_OVERSIZE_INCHES;

/// Why an edit was refused. The design is as it was.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum EditError {
    /// A name that cannot be shown.
    #[error("a name needs 1 to 120 printable characters, not \"{0}\"")]
    Name(String),
    /// No such fabric.
    #[error("there is no fabric {}; choose one of the quilt's fabrics", .0.0)]
    NoFabric(FabricId),
    /// No such block.
    #[error("there is no block {}; choose one of the quilt's blocks", .0.0)]
    NoBlock(BlockId),
    /// No such place.
    #[error("there is no place at {0} in this setting")]
    NoPlace(PlaceId),
    /// A piece that nothing in the quilt asks for.
    #[error("this quilt has no {0}")]
    NoPiece(String),
    /// A float without setting triangles.
    #[error("only blocks on point can float; set the blocks on point, or take the float away")]
    NoFloat,
    /// A float that leaves nothing of the side triangles.
    #[error("the float must be less than {most} in, half the long side of a side triangle")]
    WideFloat {
        /// The limit, in inches.
        most: String,
    },
    /// Sashing where no two blocks face each other along a straight side.
    #[error(
        "rows of triangles, hexagons and stars have no sashing; set squares or rectangles, or take the sashing away"
    )]
    NoSashing,
    /// A sampler of which nothing says where its blocks stand.
    #[error("nothing says where the blocks of this sampler stand; set the whole sampler with its plan")]
    SamplerPlan,
    /// A plan for blocks that are not set as a sampler.
    #[error("only a sampler has a plan of its places; choose the sampler setting, or take the plan away")]
    NotASampler,
    /// Sashing in a sampler.
    #[error("a sampler has no sashing; its gaps and fillers lie between the blocks")]
    SashedSampler,
    /// A number of rows and columns for blocks that do not stand in rows.
    #[error("freely placed blocks have no rows and columns; add and remove them one by one, or set them in rows first")]
    FreeSampler,
    /// A plan and blocks that do not go together.
    #[error("the sampler has {cells} places, but {blocks} blocks are to stand in it; give as many")]
    SamplerBlocks {
        /// Places of the plan.
        cells: usize,
        /// Blocks given.
        blocks: usize,
    },
    /// Two blocks of a sampler that overlap.
    #[error("{first} and {second} overlap at ({x}, {y}) in from the lower left; move one of them, or make it smaller")]
    SamplerOverlap {
        /// The one block and where it stands.
        first: String,
        /// The other.
        second: String,
        /// The lower left corner of what they share, in inches.
        x: String,
        /// The same.
        y: String,
    },
    /// A block that reaches out of its sampler.
    #[error("block \"{block}\" at {place} reaches out of the {width} × {height} in of the sampler; move it inside")]
    OutOfSampler {
        /// The block's name.
        block: String,
        /// Where.
        place: PlaceId,
        /// Width of the sampler in inches.
        width: String,
        /// Its height.
        height: String,
    },
    /// Inner sashing of blocks that touch only at their tips.
    #[error("the blocks of a single row on point touch only at their tips; sash them on the outside too")]
    NothingToSash,
    /// Blocks that do not fill the sides of a pieced border.
    #[error("{0}")]
    BorderMisfit(Box<BorderMisfit>),
    /// A block of which no border can be pieced.
    #[error("block \"{block}\" does not fit border {border}: {why}")]
    BorderBlock {
        /// The block's name.
        block: String,
        /// Number of the border, from 1.
        border: u32,
        /// In which way.
        why: String,
    },
    /// Two widths in a border that has one.
    #[error("border {0} has two widths; only a plain border with butted corners may")]
    TwoWidths(u32),
    /// A cell in which nothing stands.
    #[error("no block stands in {0}; every cell of the setting needs one")]
    EmptyCell(PlaceId),
    /// A place without a block of the quilt, such as a border.
    #[error("{0} holds no block; only blocks can be turned, mirrored or exchanged")]
    NotABlockPlace(PlaceId),
    /// No such patch in the block.
    #[error("there is no patch {patch} in {block}")]
    NoPatch {
        /// The patch's key.
        patch: u32,
        /// The block's name.
        block: String,
    },
    /// No such role in the block.
    #[error("no patch of {block} is a {role}")]
    NoRole {
        /// The role.
        role: Role,
        /// The block's name.
        block: String,
    },
    /// A role without a fabric.
    #[error("{block} has no fabric for its {role} when the value is {}; add it to the block's role table", .value.word())]
    NoPaint {
        /// The block's name.
        block: String,
        /// The role.
        role: Role,
        /// The value.
        value: Value,
    },
    /// A half that the block does not have.
    #[error("{block} has {has} halves; there is no half {half}")]
    NoHalf {
        /// The block's name.
        block: String,
        /// How many it has.
        has: u8,
        /// The one asked for, counted from 0.
        half: u8,
    },
    /// A half of medium value.
    #[error("a half is dark or light, not medium")]
    MediumHalf,
    /// A fabric in use.
    #[error("fabric \"{0}\" is still used; replace it by another fabric first")]
    FabricInUse(String),
    /// A block in use.
    #[error("block \"{0}\" is still used in the quilt; put another block in its places first")]
    BlockInUse(String),
    /// A block that does not fit the cells.
    #[error("block \"{block}\" does not fit the setting at {place}: {why}")]
    Misfit {
        /// The block's name.
        block: String,
        /// Where.
        place: PlaceId,
        /// In which way.
        why: String,
    },
    /// A turn that would not fit.
    #[error("block \"{block}\" fits its place only in {turns} turns, counted from 0; {given} is not one of them")]
    Turn {
        /// The block's name.
        block: String,
        /// How many turns it has.
        turns: u8,
        /// The one asked for.
        given: u8,
    },
    /// Too many of something.
    #[error("a quilt may have at most {most} {what}, not {given}")]
    TooMany {
        /// Of what.
        what: &'static str,
        /// The limit.
        most: usize,
        /// How many there would be.
        given: usize,
    },
    /// A text of the imprint that is too long.
    #[error("{what} has {given} characters, more than the {most} that it may have; shorten it")]
    LongText {
        /// Which text.
        what: String,
        /// The limit.
        most: usize,
        /// What was given.
        given: usize,
    },
    /// A text of the imprint with control characters.
    #[error("{0} has a character that cannot be printed, such as a line break; take it out")]
    Unprintable(String),
    /// A note without words.
    #[error("note {0} is empty; write it, or leave it out")]
    EmptyNote(usize),
    /// Sizes with more digits than so many places bear: every place is computed from them.
    #[error("the sizes of this quilt need {bits} bits, too many for {cells} blocks; use simpler sizes or fewer rows")]
    TooFine {
        /// Bits of the longest coefficient.
        bits: u64,
        /// Number of cells.
        cells: usize,
    },
    /// None of something that is needed.
    #[error("a quilt needs at least one {0}")]
    TooFew(&'static str),
    /// A number outside its bounds.
    #[error("{what} must be {least} to {most}, not {given}")]
    OutOfBounds {
        /// Which number.
        what: &'static str,
        /// Lower bound.
        least: u32,
        /// Upper bound.
        most: u32,
        /// What was given.
        given: u32,
    },
    /// A bolt that is narrower than its usable width.
    #[error("a bolt is at least as wide as what can be cut from it; give its width from selvage to selvage")]
    NarrowBolt,
    /// An oversize margin that no seam asks for.
    #[error("the oversize margin must be at most {MAX_OVERSIZE_INCHES} in")]
    Oversize,
    /// Patches that are no unit to be trimmed.
    #[error("block \"{block}\": {source}")]
    Trim {
        /// The block's name.
        block: String,
        /// Why.
        source: TrimFault,
    },
    /// A ruler step that no ruler has.
    #[error("a ruler step must be a fraction of an inch or of a millimetre, from 1/64 in to 12 in")]
    RulerStep,
    /// The pieces of the top do not tile it.
    #[error("the pieces of the quilt top do not tile it near ({x}, {y}) in")]
    TopNotTiled {
        /// Where, in inches.
        x: String,
        /// Where, in inches.
        y: String,
    },
    /// A block that cannot be drafted.
    #[error("block \"{name}\": {source}")]
    Recipe {
        /// The block's name.
        name: String,
        /// Why.
        source: Box<RecipeError>,
    },
    /// A block whose patches cannot be named.
    #[error(transparent)]
    Block(#[from] BlockError),
    /// A length that is none.
    #[error(transparent)]
    Length(#[from] LengthError),
}

/// Refuses `given` when it is not from `least` to `most`.
pub(crate) fn bounded(what: &'static str, least: u32, most: u32, given: u32) -> Result<(), EditError> {
    if (least..=most).contains(&given) { Ok(()) } else { Err(EditError::OutOfBounds { what, least, most, given }) }
}

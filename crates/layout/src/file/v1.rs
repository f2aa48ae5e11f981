//! The file format, version 1: types of its own, so that the program's types can change and old files still open.
//!
//! The format is described in `FILE_FORMAT.md` beside this crate's `Cargo.toml`.

use serde::{Deserialize, Serialize};

use super::number::FileNumber;
pub(super) use super::v1_recipe::{ExtraSeam, Measure, OwnPatch, Recipe, Size};

/// The whole file.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct File {
    pub(super) format: String,
    pub(super) version: u32,
    pub(super) variants: Vec<Variant>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Variant {
    pub(super) variant: String,
    pub(super) name: String,
    pub(super) units: Units,
    pub(super) seam_allowance: FileNumber,
    pub(super) ruler_step: FileNumber,
    pub(super) buying: Buying,
    /// Left out when nothing is wished that is not usual.
    #[serde(default, skip_serializing_if = "Cutting::is_usual")]
    pub(super) cutting: Cutting,
    pub(super) fabrics: Vec<Fabric>,
    pub(super) blocks: Vec<Block>,
    pub(super) setting: Setting,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) sashing: Option<Sashing>,
    pub(super) places: Vec<Place>,
    pub(super) paint: Paint,
    pub(super) borders: Vec<Border>,
    pub(super) binding: Binding,
    pub(super) backing: Backing,
    /// Left out when nothing is said.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) imprint: Imprint,
}

#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
pub(super) enum Units {
    #[serde(rename = "in")]
    Inches,
    #[serde(rename = "cm")]
    Centimetres,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Buying {
    pub(super) shrinkage_permille: u16,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) squaring_up: Option<FileNumber>,
    pub(super) step: BuyingStep,
}

#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
pub(super) enum BuyingStep {
    #[serde(rename = "1/8 yd")]
    EighthYard,
    #[serde(rename = "10 cm")]
    TenCentimetres,
}

#[derive(Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Cutting {
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) cut_worth: u8,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) oversize: Option<FileNumber>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) spare_permille: u16,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) squaring_every: u16,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) ruler: RulerRounding,
    /// All the methods to avoid, when they are not the usual ones.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) avoid: Option<Vec<MethodKind>>,
}

impl Cutting {
    fn is_usual(&self) -> bool {
        *self == Self::default()
    }
}

#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum RulerRounding {
    #[default]
    Up,
    Nearest,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub(super) enum MethodKind {
    #[serde(rename = "cut squares")]
    CutSquares,
    #[serde(rename = "paired squares")]
    PairedSquares,
    #[serde(rename = "strip sets")]
    StripSets,
    #[serde(rename = "onto strips")]
    OntoStrips,
    #[serde(rename = "folded")]
    Folded,
    #[serde(rename = "templates")]
    Templates,
    #[serde(rename = "lengthwise")]
    Lengthwise,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Fabric {
    pub(super) id: u32,
    pub(super) name: String,
    pub(super) colour: String,
    pub(super) value: Value,
    pub(super) usable_width: FileNumber,
    pub(super) print: Print,
    /// The size in which it is sold, when not by length.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) precut: Option<Precut>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) in_hand: Vec<InHand>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) bolt_width: Option<FileNumber>,
    /// Hundredths of the currency.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) price: Option<u32>,
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub(super) mixed_from: u16,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Precut {
    pub(super) width: FileNumber,
    pub(super) length: FileNumber,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct InHand {
    pub(super) width: FileNumber,
    pub(super) length: FileNumber,
    pub(super) count: u32,
}

const fn one() -> u16 {
    1
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde calls it with a reference")]
const fn is_one(number: &u16) -> bool {
    *number == 1
}

#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Value {
    Light,
    Medium,
    Dark,
}

#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Print {
    Tossed,
    TwoSided,
    Directional,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Block {
    pub(super) id: u32,
    pub(super) name: String,
    pub(super) recipe: Recipe,
    /// Patch keys in the order of the recipe, when they are not 0, 1, 2 and so on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) keys: Option<Vec<u32>>,
    pub(super) roles: Vec<RolePaint>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) painted: Vec<PatchPaint>,
    /// Units that are trimmed on the way, each as the keys of its patches.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) trimmed: Vec<Vec<u32>>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RolePaint {
    pub(super) role: String,
    pub(super) value: Value,
    pub(super) fabric: u32,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PatchPaint {
    pub(super) patch: u32,
    pub(super) fabric: u32,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(tag = "kind", deny_unknown_fields)]
pub(super) enum Setting {
    #[serde(rename = "straight")]
    Straight { rows: u16, columns: u16 },
    #[serde(rename = "triangle rows")]
    TriangleRows { rows: u16, columns: u16, ends: u32 },
    #[serde(rename = "on point")]
    OnPoint {
        rows: u16,
        columns: u16,
        sides: u32,
        corners: u32,
        /// How far the blocks stay away from the edge.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        float: Option<FileNumber>,
    },
    #[serde(rename = "hexagon rows")]
    HexagonRows { rows: u16, columns: u16, halves: u32, edges: u32 },
    #[serde(rename = "star rows")]
    StarRows { rows: u16, columns: u16, between: u32, ends: u32 },
    #[serde(rename = "sampler")]
    Sampler {
        filler: u32,
        /// From the top.
        rows: Vec<SamplerRow>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        gap: Option<FileNumber>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        row_gap: Option<FileNumber>,
    },
    #[serde(rename = "free sampler")]
    FreeSampler {
        filler: u32,
        width: FileNumber,
        height: FileNumber,
        /// Where the lower left corners of the blocks are.
        stand: Vec<[FileNumber; 2]>,
    },
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SamplerRow {
    pub(super) blocks: u16,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) stand: Stand,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) along: Along,
}

#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Stand {
    Top,
    Middle,
    #[default]
    Bottom,
}

#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Along {
    #[default]
    Left,
    Middle,
    Right,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Sashing {
    pub(super) width: FileNumber,
    pub(super) fabric: u32,
    /// Their fabric; rows are joined by long sashes without it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) cornerstones: Option<u32>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) outer: bool,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Place {
    pub(super) row: u16,
    pub(super) column: u16,
    pub(super) block: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) turn: u8,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) mirrored: bool,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) halves: Vec<Value>,
}

fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Paint {
    pub(super) roles: Vec<PlaceRole>,
    pub(super) patches: Vec<PlacePatch>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PlaceRole {
    pub(super) at: At,
    pub(super) role: String,
    pub(super) fabric: u32,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PlacePatch {
    pub(super) at: At,
    pub(super) patch: u32,
    pub(super) fabric: u32,
}

/// A place: `{"row", "column"}`, `{"row", "end"}` or `{"border", "side"}`; all others name their `piece`.
#[derive(Debug, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct At {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) piece: Option<Piece>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) row: Option<u16>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) column: Option<u16>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) end: Option<Side>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) border: Option<u16>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) side: Option<Side>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) corner: Option<Corner>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) index: Option<u16>,
}

#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Piece {
    #[serde(rename = "side triangle")]
    SideTriangle,
    #[serde(rename = "corner triangle")]
    CornerTriangle,
    #[serde(rename = "setting triangle")]
    SettingTriangle,
    #[serde(rename = "sash in a row")]
    SashInRow,
    #[serde(rename = "sash between rows")]
    SashBetweenRows,
    #[serde(rename = "long sash")]
    LongSash,
    Cornerstone,
    #[serde(rename = "border corner")]
    BorderCorner,
    #[serde(rename = "border block")]
    BorderBlock,
    Filler,
}

#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
pub(super) enum Corner {
    #[serde(rename = "bottom left")]
    BottomLeft,
    #[serde(rename = "bottom right")]
    BottomRight,
    #[serde(rename = "top right")]
    TopRight,
    #[serde(rename = "top left")]
    TopLeft,
}

#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Side {
    Left,
    Right,
    Bottom,
    Top,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Border {
    pub(super) width: FileNumber,
    pub(super) fabric: u32,
    /// Another width at the bottom and top.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) level_width: Option<FileNumber>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) mitred: bool,
    /// Fabric of squares in the corners.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) corner_squares: Option<u32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) pieced: Option<PiecedBorder>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PiecedBorder {
    pub(super) block: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) turn: u8,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) mirrored: bool,
    pub(super) corner: u32,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Binding {
    pub(super) strip_width: FileNumber,
    pub(super) fabric: u32,
    pub(super) extra: FileNumber,
    pub(super) join: Join,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) grain: BindingGrain,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum BindingGrain {
    #[default]
    Across,
    Bias,
}

#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Join {
    Diagonal,
    Straight,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Backing {
    pub(super) overhang: FileNumber,
    pub(super) usable_width: FileNumber,
}

#[derive(Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Imprint {
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) author: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) edition: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) lead: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) notes: Vec<String>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) photo: String,
}

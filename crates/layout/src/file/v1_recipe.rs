//! Recipes of blocks in the file format, version 1.

use serde::{Deserialize, Serialize};

use super::number::FileNumber;
use super::v1::Value;

#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
pub(super) enum Measure {
    #[serde(rename = "block side")]
    Block,
    #[serde(rename = "diamond side")]
    Diamond,
    #[serde(rename = "octagon edge")]
    OctagonEdge,
    #[serde(rename = "side")]
    Side,
    #[serde(rename = "height")]
    Height,
    #[serde(rename = "across flats")]
    AcrossFlats,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Size {
    pub(super) by: Measure,
    pub(super) length: FileNumber,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(tag = "family", deny_unknown_fields)]
pub(super) enum Recipe {
    #[serde(rename = "tilted star")]
    TiltedStar { size: Size },
    #[serde(rename = "on-axis star")]
    OnAxisStar { size: Size, split: [bool; 8] },
    #[serde(rename = "diagonal half block")]
    DiagonalHalf {
        size: Size,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        band: Option<FileNumber>,
    },
    #[serde(rename = "60° unit")]
    SixtyUnit { size: Size },
    #[serde(rename = "60° triangle")]
    SixtyTriangle { size: Size },
    #[serde(rename = "60° diamond")]
    SixtyDiamond { size: Size },
    #[serde(rename = "hexagon")]
    Hexagon { size: Size },
    #[serde(rename = "half hexagon")]
    HalfHexagon { size: Size },
    #[serde(rename = "hexagon star")]
    HexagonStar { size: Size, split: [bool; 6] },
    #[serde(rename = "plain")]
    Plain { width: FileNumber, height: FileNumber },
    #[serde(rename = "four-patch")]
    FourPatch { size: Size },
    #[serde(rename = "nine-patch")]
    NinePatch { size: Size },
    #[serde(rename = "half-square triangle")]
    HalfSquare { size: Size },
    #[serde(rename = "quarter-square triangle")]
    QuarterSquare { size: Size },
    #[serde(rename = "flying goose")]
    FlyingGoose { size: Size },
    #[serde(rename = "square in square")]
    SquareInSquare { size: Size },
    #[serde(rename = "stripes")]
    Stripes { width: FileNumber, height: FileNumber, count: u8 },
    #[serde(rename = "own")]
    Own { base: Vec<[FileNumber; 2]>, patches: Vec<OwnPatch> },
    #[serde(rename = "re-cut")]
    Recut { of: Box<Self>, seams: Vec<ExtraSeam> },
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ExtraSeam {
    pub(super) patch: u32,
    pub(super) axis: u8,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct OwnPatch {
    pub(super) role: String,
    /// Its own value; or else `half` or `against_half`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) value: Option<Value>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) half: Option<u8>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) against_half: Option<u8>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) grain: Option<[FileNumber; 2]>,
    pub(super) corners: Vec<[FileNumber; 2]>,
}

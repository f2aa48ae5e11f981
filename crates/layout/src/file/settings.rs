//! Settings in files, with what belongs to them: the float of blocks on point and the plan of a sampler.

use geometry::{Length, Point};

use super::number::FileNumber;
use super::read::{content, length};
use super::write::{number, point_of};
use super::{FileError, v1};
use crate::{Design, FabricId, SamplerFree, SamplerPlan, SamplerRow, SamplerRows, Setting};

/// The most bits of a coordinate of a sampler, as of a length.
const MAX_POSITION_BITS: u64 = 128;

/// A setting as it stands in a file.
pub(super) struct ReadSetting {
    pub(super) setting: Setting,
    pub(super) float: Option<Length>,
    pub(super) sampler: Option<SamplerPlan>,
}

/// The setting that `file` names.
pub(super) fn read(path: &str, file: &v1::Setting) -> Result<ReadSetting, FileError> {
    let optional = |name: &str, number: &Option<FileNumber>| {
        number.as_ref().map(|number| length(&format!("{path}.{name}"), number)).transpose()
    };
    let plain = |setting| ReadSetting { setting, float: None, sampler: None };
    let (plan, filler) = match file {
        v1::Setting::Straight { rows, columns } => {
            return Ok(plain(Setting::Straight { rows: *rows, columns: *columns }));
        }
        v1::Setting::TriangleRows { rows, columns, ends } => {
            return Ok(plain(Setting::TriangleRows { rows: *rows, columns: *columns, ends: FabricId(*ends) }));
        }
        v1::Setting::OnPoint { rows, columns, sides, corners, float } => {
            let (sides, corners) = (FabricId(*sides), FabricId(*corners));
            let setting = Setting::OnPoint { rows: *rows, columns: *columns, sides, corners };
            return Ok(ReadSetting { float: optional("float", float)?, ..plain(setting) });
        }
        v1::Setting::HexagonRows { rows, columns, halves, edges } => {
            let (halves, edges) = (FabricId(*halves), FabricId(*edges));
            return Ok(plain(Setting::HexagonRows { rows: *rows, columns: *columns, halves, edges }));
        }
        v1::Setting::StarRows { rows, columns, between, ends } => {
            let (between, ends) = (FabricId(*between), FabricId(*ends));
            return Ok(plain(Setting::StarRows { rows: *rows, columns: *columns, between, ends }));
        }
        v1::Setting::Sampler { filler, rows, gap, row_gap } => {
            let row = |row: &v1::SamplerRow| SamplerRow {
                blocks: row.blocks,
                stand: row.stand.into(),
                along: row.along.into(),
            };
            let (gap, row_gap) = (optional("gap", gap)?, optional("row_gap", row_gap)?);
            (SamplerPlan::Rows(SamplerRows { rows: rows.iter().map(row).collect(), gap, row_gap }), *filler)
        }
        v1::Setting::FreeSampler { filler, width, height, stand } => {
            let (width, height) =
                (length(&format!("{path}.width"), width)?, length(&format!("{path}.height"), height)?);
            (SamplerPlan::Free(SamplerFree { width, height, corners: corners(path, stand)? }), *filler)
        }
    };
    Ok(ReadSetting { sampler: Some(plan.clone()), ..plain(plan.setting(FabricId(filler))) })
}

fn corners(path: &str, stand: &[[FileNumber; 2]]) -> Result<Vec<Point>, FileError> {
    let corner = |(i, [x, y]): (usize, &[FileNumber; 2])| {
        if x.0.bits().max(y.0.bits()) > MAX_POSITION_BITS {
            let why = format!("a corner may need at most {MAX_POSITION_BITS} bits; use simpler numbers");
            return Err(content(&format!("{path}.stand[{i}]"), why));
        }
        Ok(Point::new(x.0.clone(), y.0.clone()))
    };
    stand.iter().enumerate().map(corner).collect()
}

/// How a file names the setting of `design`.
pub(super) fn write(design: &Design) -> v1::Setting {
    match design.setting() {
        Setting::Straight { rows, columns } => v1::Setting::Straight { rows, columns },
        Setting::TriangleRows { rows, columns, ends } => v1::Setting::TriangleRows { rows, columns, ends: ends.0 },
        Setting::OnPoint { rows, columns, sides, corners } => {
            let float = design.float().map(|float| number(float.inches()));
            v1::Setting::OnPoint { rows, columns, sides: sides.0, corners: corners.0, float }
        }
        Setting::HexagonRows { rows, columns, halves, edges } => {
            v1::Setting::HexagonRows { rows, columns, halves: halves.0, edges: edges.0 }
        }
        Setting::StarRows { rows, columns, between, ends } => {
            v1::Setting::StarRows { rows, columns, between: between.0, ends: ends.0 }
        }
        Setting::Sampler { filler, .. } => match design.sampler_plan() {
            Some(SamplerPlan::Free(free)) => v1::Setting::FreeSampler {
                filler: filler.0,
                width: number(free.width.inches()),
                height: number(free.height.inches()),
                stand: free.corners.iter().map(point_of).collect(),
            },
            Some(SamplerPlan::Rows(plan)) => sampler_of(plan, filler),
            // A checked design has its plan.
            None => sampler_of(&SamplerRows::even(0, 0), filler),
        },
    }
}

fn sampler_of(plan: &SamplerRows, filler: FabricId) -> v1::Setting {
    let inches = |gap: &Option<Length>| gap.as_ref().map(|gap| number(gap.inches()));
    let row =
        |row: &SamplerRow| v1::SamplerRow { blocks: row.blocks, stand: row.stand.into(), along: row.along.into() };
    v1::Setting::Sampler {
        filler: filler.0,
        rows: plan.rows.iter().map(row).collect(),
        gap: inches(&plan.gap),
        row_gap: inches(&plan.row_gap),
    }
}

//! From any setting to a sampler in rows, and from one number of rows and columns to another.

use std::collections::BTreeMap;

use super::{SamplerPlan, SamplerRow, SamplerRows};
use crate::apply_structure::{Applied, resettle_from};
use crate::design::{Design, Place};
use crate::error::EditError;
use crate::ids::{FabricId, PlaceId};
use crate::setting::Setting;

/// Makes a sampler of `rows` rows, of which the longest has `columns` blocks. Blocks of a straight setting or of a
/// sampler in rows stay where they are, a straight setting's sashes become the gaps between them, and new cells are
/// filled with `fill`.
pub(crate) fn set_setting(design: &Design, (rows, columns): (u16, u16), filler: FabricId, fill: Place) -> Applied {
    let stays = matches!(design.setting, Setting::Straight { .. } | Setting::Sampler { .. });
    let plan = plan(design, rows, columns)?;
    plan.check()?;
    let mut parts = design.parts();
    let keep = |id: &PlaceId| parts.places.get(id).copied().filter(|_| stays);
    parts.places = plan.cells().map(|id| (id, keep(&id).unwrap_or(fill))).collect::<BTreeMap<_, _>>();
    parts.setting = plan.setting(filler);
    parts.sampler = Some(plan);
    (parts.float, parts.sashing) = (None, None);
    resettle_from(design, parts, |place| (stays || !matches!(place, PlaceId::Cell { .. })).then_some(*place))
}

fn plan(design: &Design, rows: u16, columns: u16) -> Result<SamplerPlan, EditError> {
    Ok(match design.sampler_plan() {
        Some(plan) if plan.size() == (rows, columns) => plan.clone(),
        Some(SamplerPlan::Free(_)) => return Err(EditError::FreeSampler),
        Some(SamplerPlan::Rows(old)) => {
            SamplerPlan::Rows(SamplerRows { rows: resized(old, rows, columns), ..old.clone() })
        }
        None => {
            let gap = design.sashing.as_ref().filter(|_| matches!(design.setting, Setting::Straight { .. }));
            let gap = gap.map(|sashing| sashing.width.clone());
            SamplerPlan::Rows(SamplerRows { gap: gap.clone(), row_gap: gap, ..SamplerRows::even(rows, columns) })
        }
    })
}

/// The rows with one added or taken away at the bottom, those that were the longest as long as the longest is now.
fn resized(old: &SamplerRows, rows: u16, columns: u16) -> Vec<SamplerRow> {
    let longest = old.rows.iter().map(|row| row.blocks).max().unwrap_or(columns);
    let fresh = old.rows.last().map_or(SamplerRow::of(columns), |last| SamplerRow { blocks: columns, ..*last });
    let mut resized: Vec<SamplerRow> = old.rows.clone();
    resized.resize(usize::from(rows), fresh);
    for row in &mut resized {
        row.blocks = if row.blocks == longest { columns } else { row.blocks.min(columns) };
    }
    resized
}

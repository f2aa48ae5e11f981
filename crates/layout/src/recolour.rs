//! One fabric for all pieces of a kind that the setting or a border makes.

use crate::border::BorderKind;
use crate::design::Design;
use crate::edit::Edit;
use crate::ids::{FabricId, Source};
use crate::setting::Setting;

impl Design {
    /// The edit that gives all pieces of this kind another fabric, such as all side triangles or a whole border; none
    /// for blocks, which have a role table for it, and for what is not there.
    #[must_use]
    pub fn recolour_pieces(&self, source: Source, fabric: FabricId) -> Option<Edit> {
        match source {
            Source::Block(_) => None,
            Source::RowEnd
            | Source::SideTriangle { .. }
            | Source::CornerTriangle { .. }
            | Source::SettingTriangle { .. }
            | Source::Filler(_) => {
                let setting = match (source, self.setting) {
                    (Source::RowEnd, Setting::TriangleRows { rows, columns, .. }) => {
                        Setting::TriangleRows { rows, columns, ends: fabric }
                    }
                    (Source::SideTriangle { .. }, Setting::OnPoint { rows, columns, corners, .. }) => {
                        Setting::OnPoint { rows, columns, sides: fabric, corners }
                    }
                    (Source::CornerTriangle { .. }, Setting::OnPoint { rows, columns, sides, .. }) => {
                        Setting::OnPoint { rows, columns, sides, corners: fabric }
                    }
                    (Source::RowEnd, Setting::HexagonRows { rows, columns, edges, .. }) => {
                        Setting::HexagonRows { rows, columns, halves: fabric, edges }
                    }
                    (_, Setting::HexagonRows { rows, columns, halves, .. }) => {
                        Setting::HexagonRows { rows, columns, halves, edges: fabric }
                    }
                    (Source::SettingTriangle { at_end: false }, Setting::StarRows { rows, columns, ends, .. }) => {
                        Setting::StarRows { rows, columns, between: fabric, ends }
                    }
                    (Source::SettingTriangle { at_end: true }, Setting::StarRows { rows, columns, between, .. }) => {
                        Setting::StarRows { rows, columns, between, ends: fabric }
                    }
                    (Source::Filler(_), Setting::Sampler { rows, columns, .. }) => {
                        Setting::Sampler { rows, columns, filler: fabric }
                    }
                    _ => return None,
                };
                let (_, place) = self.places().next()?;
                Some(Edit::SetSetting { setting, fill: place.block })
            }
            Source::Sash { .. } | Source::LongSash { .. } => {
                let mut sashing = self.sashing.clone()?;
                sashing.fabric = fabric;
                Some(Edit::SetSashing(Some(sashing)))
            }
            Source::Cornerstone => {
                let mut sashing = self.sashing.clone()?;
                sashing.cornerstones = Some(fabric);
                Some(Edit::SetSashing(Some(sashing)))
            }
            Source::Border { border, .. } | Source::BorderCorner { border } => {
                let mut borders = self.borders.to_vec();
                let own = borders.get_mut(usize::from(border))?;
                match (source, &mut own.kind) {
                    (Source::BorderCorner { .. }, BorderKind::CornerSquares(corners)) => *corners = fabric,
                    _ => own.fabric = fabric,
                }
                Some(Edit::SetBorders(borders))
            }
        }
    }
}

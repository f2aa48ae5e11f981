//! Sashing: strips between the blocks, with or without cornerstones where they cross.

use geometry::Length;

use crate::ids::{FabricId, PlaceId, Source};
use crate::setting::Setting;

/// Strips between the blocks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sashing {
    /// Finished width.
    pub width: Length,
    /// Fabric of the sashes.
    pub fabric: FabricId,
    /// Fabric of the cornerstones; without cornerstones, rows are joined by long sashes.
    pub cornerstones: Option<FabricId>,
    /// Whether sashes go round the outer blocks too.
    pub outer: bool,
}

impl Sashing {
    /// The fabrics that it takes.
    pub(crate) fn fabrics(&self) -> impl Iterator<Item = FabricId> + use<> {
        std::iter::once(self.fabric).chain(self.cornerstones)
    }

    /// Sends its fabrics through `map`.
    pub(crate) fn map_fabrics(&mut self, map: impl Fn(FabricId) -> FabricId) {
        self.fabric = map(self.fabric);
        self.cornerstones = self.cornerstones.map(map);
    }

    /// What stands in a place of the sashing; none where it has no such place.
    ///
    /// Within the blocks a sash lies where blocks face each other, and a cornerstone where four blocks meet. With outer
    /// sashing there is one along every side of a block, and at every corner.
    pub(crate) fn source(&self, setting: Setting, place: PlaceId) -> Option<Source> {
        let is_sewn = |row, column| setting.is_sewn(row, column);
        match place {
            PlaceId::Sash { level: true, .. } if self.cornerstones.is_none() => None,
            PlaceId::Sash { row, column, level } => {
                let before = if level {
                    is_sewn(row.checked_sub(1), Some(column))
                } else {
                    is_sewn(Some(row), column.checked_sub(1))
                };
                self.has(&[before, is_sewn(Some(row), Some(column))]).then_some(Source::Sash { level })
            }
            PlaceId::Cornerstone { row, column } if self.cornerstones.is_some() => {
                let rows = [row.checked_sub(1), Some(row)];
                let round = rows.map(|row| [column.checked_sub(1), Some(column)].map(|column| is_sewn(row, column)));
                self.has(round.as_flattened()).then_some(Source::Cornerstone)
            }
            PlaceId::LongSash { row } if self.cornerstones.is_none() => {
                let (first, last) = self.span(setting, row)?;
                Some(Source::LongSash { blocks: last - first + 1 })
            }
            _ => None,
        }
    }

    /// Whether something lies between these, where blocks are or are not.
    fn has(&self, blocks: &[bool]) -> bool {
        if self.outer { blocks.contains(&true) } else { !blocks.contains(&false) }
    }

    /// The columns along which the long sash above `row` runs, first and last.
    pub(crate) fn span(&self, setting: Setting, row: u16) -> Option<(u16, u16)> {
        match (setting.sewn_row(row.checked_sub(1)), setting.sewn_row(Some(row))) {
            (Some(above), Some(below)) if self.outer => Some((above.0.min(below.0), above.1.max(below.1))),
            (Some(above), Some(below)) => Some((above.0.max(below.0), above.1.min(below.1))),
            (Some(only), None) | (None, Some(only)) if self.outer => Some(only),
            _ => None,
        }
    }

    /// Every place of the sashing: for each row what lies above it, then what lies in it.
    pub(crate) fn places(&self, setting: Setting) -> impl Iterator<Item = PlaceId> + '_ {
        let (rows, columns) = setting.sewn_size();
        let in_row = move |row| {
            let at = move |column| {
                [
                    PlaceId::Cornerstone { row, column },
                    PlaceId::Sash { row, column, level: true },
                    PlaceId::Sash { row, column, level: false },
                ]
            };
            std::iter::once(PlaceId::LongSash { row }).chain((0..=columns).flat_map(at))
        };
        (0..=rows).flat_map(in_row).filter(move |place| self.source(setting, *place).is_some())
    }
}

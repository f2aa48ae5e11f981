//! How a sampler is put together: what is sewn to what, unit by unit, with the size to check each by.

use geometry::Exact;
use layout::{Design, PlaceId, SamplerMade, SamplerPlan, SamplerUnit};
use piecing::Distance;

use crate::lengths::{counted, distance_words};
use crate::names::listed;

/// The steps up to the borders.
pub(super) fn sampler_words(design: &Design, whole: &SamplerUnit) -> Vec<String> {
    let pressing = if whole.parts().is_empty() { String::new() } else { format!(" {PRESSING}") };
    let beginning = format!("{}{pressing}", beginning(design));
    let mut told = Told { design, lines: vec![beginning] };
    let parts: Vec<String> = whole.parts().iter().map(|part| told.unit(part)).collect();
    let size = told.size(whole);
    told.lines.push(match sewn(&whole.made, &parts) {
        Some(sewn) => format!("Last of all, {sewn} The top measures {size} now."),
        None => format!("One block is the whole top. It measures {size}."),
    });
    told.lines
}

/// How the seams of a sampler are pressed, after every part.
const PRESSING: &str = "Press every part before you sew on: seams of fillers toward the fillers, long seams to one side. Which seams of \
                        neighbouring blocks nest is not planned for a sampler: match them where blocks touch, and pin.";

fn beginning(design: &Design) -> String {
    let fillers = design.all_places().filter(|place| matches!(place, PlaceId::Filler(_))).count();
    let blocks = counted(design.places().count() as u64, "block", "blocks");
    let laid = "as in the picture of the quilt, and turn every block as it is shown.";
    if fillers == 0 {
        return format!("Lay out {blocks} {laid}");
    }
    let fillers = counted(fillers as u64, "filler", "fillers");
    format!("Lay out {blocks} and {fillers} {laid} Fillers count from the top, those at one height from the left.")
}

/// What has been told.
struct Told<'a> {
    design: &'a Design,
    /// The beginning, and then a line for each unit.
    lines: Vec<String>,
}

impl Told<'_> {
    /// The name of a part; how it is sewn is told first where it is sewn from others.
    fn unit(&mut self, unit: &SamplerUnit) -> String {
        let parts: Vec<String> = unit.parts().iter().map(|part| self.unit(part)).collect();
        match (&unit.made, sewn(&unit.made, &parts)) {
            (SamplerMade::Piece(place), _) => self.piece(*place, unit),
            (_, None) => String::new(),
            (_, Some(sewn)) => {
                let name = format!("part {}", self.lines.len());
                self.lines.push(format!("Part {}: {sewn} It measures {}.", self.lines.len(), self.size(unit)));
                name
            }
        }
    }

    fn piece(&self, place: PlaceId, unit: &SamplerUnit) -> String {
        let block = self.design.place(place).and_then(|own| self.design.block(own.block));
        match (place, block, self.design.sampler_plan()) {
            (PlaceId::Cell { column, .. }, Ok(def), Some(SamplerPlan::Free(_))) => {
                format!("{} (number {})", def.name(), u32::from(column) + 1)
            }
            (_, Ok(def), _) => format!("{} ({place})", def.name()),
            _ => format!("{place} ({})", self.size(unit)),
        }
    }

    /// Width × height from raw edge to raw edge.
    fn size(&self, unit: &SamplerUnit) -> String {
        let seams = self.design.seam().inches().scale_int(2);
        let raw = |inches: &Exact| distance_words(&Distance::of(inches + &seams), self.design.units());
        format!("{} × {}", raw(&unit.width), raw(&unit.height))
    }
}

/// How these parts are joined, a sentence; none for a single piece.
fn sewn(made: &SamplerMade, parts: &[String]) -> Option<String> {
    let list = listed(parts);
    Some(match made {
        SamplerMade::Piece(_) => return None,
        SamplerMade::Stack(_) => format!("sew together, from the top: {list}."),
        SamplerMade::Row(_) => format!("sew together, from the left: {list}."),
        SamplerMade::SetIn(_) => format!(
            "no straight seam runs from edge to edge through {list}. Sew the first seam only part of its way, add the \
             others in turn round it, and close the first seam last (a partial seam); set in whatever that leaves."
        ),
    })
}

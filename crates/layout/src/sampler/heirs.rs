//! Paint of fillers when a sampler is laid out anew: a filler is known again by its middle.

use std::collections::{BTreeMap, BTreeSet};

use geometry::{Exact, Point};

use crate::assemble::DesignParts;
use crate::design::Design;
use crate::ids::PlaceId;

/// Passes the paint of the fillers of `old` on to the fillers of `new` that hold their middles, carried as the size of
/// the whole is; gives back, one line each, what found none. Of two for one filler the first stays.
pub(crate) fn pass_on_fillers(old: &Design, new: &Design, parts: &mut DesignParts) -> Vec<String> {
    let (Some(before), Some(after)) = (&old.sampler, &new.sampler) else { return Vec::new() };
    let ((old_width, old_height), (width, height)) = (before.size(), after.size());
    let ratio = |new: &Exact, old: &Exact| new.checked_div(old).unwrap_or(Exact::ONE);
    let (across, up) = (ratio(&width, &old_width), ratio(&height, &old_height));
    let heir = |number: u16| {
        let rect = before.filler(number)?;
        let (x, y) = (&rect.corner.x + &rect.width.half(), &rect.corner.y + &rect.height.half());
        after.filler_at(&Point::new(&x * &across, &y * &up))
    };
    let painted = parts.place_patches.keys().map(|(place, _)| *place);
    let painted: BTreeSet<PlaceId> = painted.chain(parts.place_roles.keys().map(|(place, _)| *place)).collect();
    let mut taken: BTreeMap<u16, PlaceId> = BTreeMap::new();
    let mut heirs: BTreeMap<PlaceId, Option<PlaceId>> = BTreeMap::new();
    for place in painted {
        let PlaceId::Filler(number) = place else { continue };
        let found = heir(number).filter(|heir| *taken.entry(*heir).or_insert(place) == place);
        heirs.insert(place, found.map(PlaceId::Filler));
    }
    let now = |place: PlaceId| heirs.get(&place).copied().unwrap_or(Some(place));
    let patches = std::mem::take(&mut parts.place_patches);
    parts.place_patches = patches.into_iter().filter_map(|((p, key), f)| Some(((now(p)?, key), f))).collect();
    let roles = std::mem::take(&mut parts.place_roles);
    parts.place_roles = roles.into_iter().filter_map(|((p, role), f)| Some(((now(p)?, role), f))).collect();
    heirs.iter().filter(|(_, heir)| heir.is_none()).map(|(place, _)| format!("{place}: its paint")).collect()
}

//! A block as it lies in its place, with the paint of that place, and the edits that lay it somewhere else.

use std::collections::BTreeMap;

use geometry::{PatchKey, Role};
use layout::{Design, Edit, FabricId, Place, PlaceId, PlacePaint};

/// What lies in one place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Laid {
    /// The block, its turn, mirror and halves.
    pub place: Place,
    /// Paint of roles, here only.
    pub roles: BTreeMap<Role, FabricId>,
    /// Paint of single patches, here only.
    pub patches: BTreeMap<PatchKey, FabricId>,
}

/// What places are to hold.
pub type Change = BTreeMap<PlaceId, Laid>;

impl Laid {
    /// What lies in each of these places; places that hold no block are left out.
    #[must_use]
    pub fn of(design: &Design, places: impl IntoIterator<Item = PlaceId>) -> Change {
        places.into_iter().filter_map(|id| Some((id, Self::at(design, id)?))).collect()
    }

    /// What lies in a place; none where no block does.
    #[must_use]
    pub fn at(design: &Design, id: PlaceId) -> Option<Self> {
        let place = *design.place(id).ok()?;
        if !design.is_painted(id) {
            return Some(Self::bare(place));
        }
        let roles = design.painted_roles(id).map(|(role, fabric)| (role.clone(), fabric)).collect();
        Some(Self { place, roles, patches: design.painted_patches(id).collect() })
    }

    /// A block without paint.
    #[must_use]
    pub const fn bare(place: Place) -> Self {
        Self { place, roles: BTreeMap::new(), patches: BTreeMap::new() }
    }

    /// Whether the place has paint of its own.
    #[must_use]
    pub fn is_painted(&self) -> bool {
        !self.roles.is_empty() || !self.patches.is_empty()
    }
}

/// The edits after which the places hold what `change` says, a handful whatever their number; none when they hold it
/// already.
#[must_use]
pub fn edits_for(design: &Design, change: &Change) -> Vec<Edit> {
    let (mut cleared, mut places, mut paints) = (Vec::new(), Vec::new(), Vec::new());
    for (id, next) in change {
        let Some(mut now) = Laid::at(design, *id) else { continue };
        if now.place != next.place {
            places.push((*id, next.place));
        }
        if now.place.block != next.place.block && now.is_painted() {
            // Taken off first: paint of another block's patches would be told as lost.
            cleared.push((*id, PlacePaint::default()));
            now = Laid::bare(now.place);
        }
        if (&now.roles, &now.patches) != (&next.roles, &next.patches) {
            paints.push((*id, PlacePaint { roles: next.roles.clone(), patches: next.patches.clone() }));
        }
    }
    let mut edits = Vec::new();
    edits.extend((!cleared.is_empty()).then_some(Edit::Repaint(cleared)));
    edits.extend((!places.is_empty()).then_some(Edit::Arrange(places)));
    edits.extend((!paints.is_empty()).then_some(Edit::Repaint(paints)));
    edits
}

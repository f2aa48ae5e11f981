//! A block as it lies in its place, with the paint of that place, and the edits that lay it somewhere else.

use std::collections::BTreeMap;

use geometry::{PatchKey, Role};
use layout::{Design, Edit, FabricId, Halves, Place, PlaceId};

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
        let lay = |id| Some((id, Self { place: *design.place(id).ok()?, roles: [].into(), patches: [].into() }));
        let mut laid: Change = places.into_iter().filter_map(lay).collect();
        for (place, role, fabric) in design.place_roles() {
            if let Some(laid) = laid.get_mut(&place) {
                laid.roles.insert(role.clone(), fabric);
            }
        }
        for (place, patch, fabric) in design.place_patches() {
            if let Some(laid) = laid.get_mut(&place) {
                laid.patches.insert(patch, fabric);
            }
        }
        laid
    }

    /// Whether the place has paint of its own.
    #[must_use]
    pub fn is_painted(&self) -> bool {
        !self.roles.is_empty() || !self.patches.is_empty()
    }
}

/// The edits after which the places hold what `change` says; none for what they hold already.
#[must_use]
pub fn edits_for(design: &Design, change: &Change) -> Vec<Edit> {
    let now = Laid::of(design, change.keys().copied());
    let mut edits = Vec::new();
    for (id, next) in change {
        if let Some(now) = now.get(id)
            && now != next
        {
            lay(design, *id, now, next, &mut edits);
        }
    }
    edits
}

fn lay(design: &Design, id: PlaceId, now: &Laid, next: &Laid, edits: &mut Vec<Edit>) {
    let (from, to) = (now.place, next.place);
    let repaint = from.block != to.block || now.roles != next.roles || now.patches != next.patches;
    if repaint && now.is_painted() {
        edits.push(Edit::ClearPaint(id));
    }
    let mut halves = from.halves;
    if from.block != to.block {
        edits.push(Edit::SetBlock { place: id, block: to.block });
        // A block with another number of halves comes with its usual ones.
        let count = design.block(to.block).map_or(0, |def| def.block().halves());
        if usize::from(count) != halves.values().len() {
            halves = Halves::alternating(count);
        }
    }
    if from.turn != to.turn {
        edits.push(Edit::Turn { place: id, turn: to.turn });
    }
    if from.mirrored != to.mirrored {
        edits.push(Edit::Mirror { place: id, mirrored: to.mirrored });
    }
    for (half, value) in (0..).zip(to.halves.values()) {
        if halves.values().get(usize::from(half)) != Some(value) {
            edits.push(Edit::SetHalf { place: id, half, value: *value });
        }
    }
    if repaint {
        let roles =
            next.roles.iter().map(|(role, f)| Edit::PaintRoleHere { place: id, role: role.clone(), fabric: *f });
        let patches = next.patches.iter().map(|(patch, f)| Edit::PaintPatch { place: id, patch: *patch, fabric: *f });
        // A role's paint takes that of its patches away, so it comes first.
        edits.extend(roles.chain(patches));
    }
}

//! What the user is looking at and holding: never saved with the quilt, never undone.

use std::collections::BTreeSet;

use layout::{FabricId, PlaceId};

use super::beds::BedSession;
use super::blocks::BlockSession;
use super::cut_session::CutSession;
use super::pairings::PairingsSession;
use super::publishing::PublishSession;
use super::set_session::SetSession;
use super::sew_session::SewSession;
use super::wall::Camera;

/// The six places in the window, in the order of the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Room {
    /// Draft blocks.
    Draft,
    /// Arrange blocks, borders and sizes.
    Set,
    /// Try fabrics.
    Colour,
    /// Cutting plan.
    Cut,
    /// Order of sewing.
    Sew,
    /// Patterns and pictures.
    Publish,
}

impl Room {
    /// All, in order.
    pub const ALL: [Self; 6] = [Self::Draft, Self::Set, Self::Colour, Self::Cut, Self::Sew, Self::Publish];

    /// Whether the wall can be worked on there, not only looked at.
    #[must_use]
    pub const fn works_on_wall(self) -> bool {
        matches!(self, Self::Set | Self::Colour)
    }

    /// Its name in the rail.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Draft => "Draft",
            Self::Set => "Set",
            Self::Colour => "Colour",
            Self::Cut => "Cut",
            Self::Sew => "Sew",
            Self::Publish => "Publish",
        }
    }
}

/// How far a stroke of paint reaches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Scope {
    /// The patch under the pointer.
    Patch,
    /// The same patch in every block of its kind.
    SamePatch,
    /// The same role in every block of its kind, where the half has this value.
    Role,
    /// Every patch of its fabric.
    Fabric,
}

impl Scope {
    /// All, from narrow to wide.
    pub const ALL: [Self; 4] = [Self::Patch, Self::SamePatch, Self::Role, Self::Fabric];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Patch => "This patch",
            Self::SamePatch => "Same patch in every block",
            Self::Role => "Same role",
            Self::Fabric => "Whole fabric",
        }
    }
}

/// What a click on the design wall does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Tool {
    /// Selects blocks.
    Select,
    /// Paints with the chosen fabric.
    Paint,
    /// Takes up the fabric under the pointer.
    Pick,
}

impl Tool {
    /// All.
    pub const ALL: [Self; 3] = [Self::Select, Self::Paint, Self::Pick];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Select => "Select",
            Self::Paint => "Paint",
            Self::Pick => "Pick fabric",
        }
    }
}

/// A patch on the wall.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spot {
    /// Where it is.
    pub place: PlaceId,
    /// Its index within the block that stands there.
    pub patch: usize,
}

/// The state of one sitting.
#[derive(Debug, Clone)]
pub struct Session {
    /// Which of the six places is shown.
    pub room: Room,
    /// What a click does.
    pub tool: Tool,
    /// How far paint reaches.
    pub scope: Scope,
    /// The fabric in hand.
    pub fabric: FabricId,
    /// Selected blocks.
    pub selection: BTreeSet<PlaceId>,
    /// The patch under the pointer.
    pub hover: Option<Spot>,
    /// Whether seam lines are drawn.
    pub seams: bool,
    /// What part of the wall is in view; fitted when there is none yet.
    pub camera: Option<Camera>,
    /// What is held while blocks are worked on.
    pub blocks: BlockSession,
    /// The bed that the quilt is to fit.
    pub bed: BedSession,
    /// What is looked at and done in Cut.
    pub cut: CutSession,
    /// What is being done in Set.
    pub set: SetSession,
    /// What is looked at and done in Sew.
    pub sew: SewSession,
    /// What is looked at in the pairings explorer of Set.
    pub pairings: PairingsSession,
    /// What is looked at in Publish.
    pub publish: PublishSession,
}

impl Session {
    /// A sitting that begins in Colour with this fabric in hand.
    #[must_use]
    pub fn new(fabric: FabricId) -> Self {
        Self {
            room: Room::Colour,
            tool: Tool::Paint,
            scope: Scope::Patch,
            fabric,
            selection: BTreeSet::new(),
            hover: None,
            seams: true,
            camera: None,
            blocks: BlockSession::default(),
            bed: BedSession::with_bed(""),
            cut: CutSession::default(),
            set: SetSession::default(),
            sew: SewSession::default(),
            pairings: PairingsSession::default(),
            publish: PublishSession::default(),
        }
    }

    /// Selects these blocks; when the selection is extended, a block that was selected is taken out again.
    pub fn select(&mut self, places: BTreeSet<PlaceId>, extend: bool) {
        if !extend {
            self.selection.clear();
        }
        // A selection that is grown by keys goes on from the block that was clicked last.
        self.blocks.anchor = if places.len() == 1 { places.first().copied() } else { None };
        for place in places {
            if !self.selection.insert(place) && extend {
                self.selection.remove(&place);
            }
        }
    }
}

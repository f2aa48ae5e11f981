//! What a view asks for. Views read the state and send actions; only the window carries them out.

use std::collections::BTreeSet;
use std::path::PathBuf;

use layout::{Design, Edit, FabricId, Overwrite, PlaceId};

use super::beds::BedSession;
use super::blocks::BlockAction;
use super::command::Command;
use super::cut_session::CutAction;
use super::gallery::Choice;
use super::pairings::PairingsAction;
use super::publishing::{Document, FileKind, PublishAction};
use super::session::Spot;
use super::set_session::SetAction;
use super::sew_session::{SewAction, SewingDrawing};
use super::wall::Camera;

/// What is to happen to the quilt that is open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Leave {
    /// The program closes.
    Close,
    /// A new quilt takes its place.
    Begin(Choice),
    /// Another file takes its place.
    Open(PathBuf),
    /// A quilt that was made here takes its place.
    Show(Box<Design>),
}

/// Something a view asks for.
#[derive(Debug, Clone, PartialEq)]
pub enum Action {
    /// A command of the table.
    Do(Command),
    /// One edit of the design.
    Edit(Box<Edit>),
    /// Several edits as one step with this name.
    Edits(&'static str, Vec<Edit>),
    /// Take this fabric in hand.
    TakeFabric(FabricId),
    /// Exchange two fabrics everywhere.
    Swap(FabricId, FabricId),
    /// The pointer is over this patch now.
    Hover(Option<Spot>),
    /// Paint this patch; a drag sends one for each patch it passes.
    Paint(Spot),
    /// The stroke of paint is over.
    PaintEnd,
    /// Take up the fabric of this patch.
    Pick(Spot),
    /// Select these blocks, or add them and take away those that were selected.
    Select {
        /// Which.
        places: BTreeSet<PlaceId>,
        /// Whether the selection is kept.
        extend: bool,
    },
    /// Something in Set.
    Set(SetAction),
    /// Something with blocks on the wall.
    Blocks(BlockAction),
    /// Hold this of the bed that is looked at.
    Bed(Box<BedSession>),
    /// Look here.
    Camera(Camera),
    /// Open this file.
    OpenFile(PathBuf),
    /// Save to this file.
    SaveTo(PathBuf, Overwrite),
    /// Save the picture to this file.
    SavePictureTo(PathBuf, Overwrite),
    /// Save the drawing of the fabric that is shown in Cut to this file.
    SaveLayTo(PathBuf, Overwrite),
    /// Something in Cut.
    Cut(CutAction),
    /// Save what is asked for of the steps in Sew to this file.
    SaveSewingTo(SewingDrawing, PathBuf, Overwrite),
    /// Something in Sew.
    Sew(SewAction),
    /// Save a document of Publish to this file.
    SaveDocumentTo(Document, FileKind, PathBuf, Overwrite),
    /// Save a list of fabrics to begin with to this file.
    SaveExampleTo(PathBuf, Overwrite),
    /// This picture file is the photo of the pattern.
    Photo(PathBuf),
    /// Something in Publish.
    Publish(PublishAction),
    /// Something in the pairings explorer.
    Pairings(PairingsAction),
    /// Begin this quilt.
    Begin(Choice),
    /// Show this variant.
    Variant(usize),
    /// Take this notice away.
    Dismiss(usize),
    /// Leave the quilt that is open, whatever is unsaved.
    LeaveAnyway(Leave),
    /// Save it, and leave it if that worked.
    SaveThenLeave(Leave),
    /// Open the quilt that was left unsaved when the program last ended.
    Recover,
    /// Throw it away.
    Discard,
    /// Stop the picture that is being made.
    Stop,
    /// The totals panel is this wide now.
    TotalsWidth(u16),
}

impl Action {
    /// One edit of the design.
    pub(crate) fn edit(edit: Edit) -> Self {
        Self::Edit(Box::new(edit))
    }
}

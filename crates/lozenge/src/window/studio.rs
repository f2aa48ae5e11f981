//! The whole state of the window, and everything that can be done to it. It knows nothing of egui: whatever the
//! window does, a test can do without one.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use cutting::{FabricPlan, SewnRun};
use layout::file::{Document, FileError, Variant};
use layout::{BlockId, Delta, Design, Edit, EditError, FabricId, History, Overwrite, Touched};

use super::beds::{BedSession, Fit, Fitting};
use super::derived::{Derived, DerivedError};
use super::paint;
use super::pairings::Explorer;
use super::planning::{Planning, Quilt};
use super::publishing::{Beside, Publishing, Variants};
use super::session::{Room, Scope, Session, Spot};
use super::settings::Settings;
use super::sewing::{self, Aside, Sewing, SewingBook};

/// A word to the user that goes away by itself or is dismissed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Notice {
    /// What is said.
    pub text: String,
    /// Whether something went wrong.
    pub problem: bool,
    /// When it was first shown; the window sets it, so that a word that is no problem can fade.
    pub shown: Option<std::time::Instant>,
}

/// The quilt that is open, and all that belongs to this sitting.
#[derive(Debug)]
pub struct Studio {
    pub(super) history: History,
    derived: Derived,
    /// The variants of the file; the one that is open stands in `history` instead.
    variants: Vec<Variant>,
    open_variant: usize,
    path: Option<PathBuf>,
    /// The variants as they are in the file.
    saved: Vec<Variant>,
    /// Whether a variant that is not open has work that is not in the file.
    others_unsaved: bool,
    recovered: bool,
    unsaved: bool,
    /// What the user is looking at.
    pub session: Session,
    /// What holds for all quilts.
    pub settings: Settings,
    notices: Vec<Notice>,
    revision: u64,
    planning: Planning,
    sewing: Sewing,
    fitting: Fitting,
    pub(super) explorer: Explorer,
    pub(super) publishing: Publishing,
}

impl Studio {
    /// A studio with this document open.
    ///
    /// # Errors
    /// Not for a checked design.
    pub fn new(document: &Document, path: Option<PathBuf>, settings: Settings) -> Result<Self, DerivedError> {
        let variants = document.variants().to_vec();
        let design = variants.first().map(|v| v.design.clone()).ok_or(EditError::TooFew("variant"))?;
        let unsaved = path.is_none();
        Ok(Self {
            derived: Derived::new(&design)?,
            session: Session { bed: BedSession::with_bed(&settings.bed), ..Session::new(darkest(&design)) },
            history: History::new(design),
            variants,
            open_variant: 0,
            path,
            saved: document.variants().to_vec(),
            others_unsaved: false,
            recovered: false,
            unsaved,
            settings,
            notices: Vec::new(),
            revision: 0,
            planning: Planning::default(),
            sewing: Sewing::default(),
            fitting: Fitting::default(),
            explorer: Explorer::default(),
            publishing: Publishing::default(),
        })
    }

    /// The design as it is now.
    #[must_use]
    pub const fn design(&self) -> &Design {
        self.history.design()
    }

    /// Past and future steps.
    #[must_use]
    pub const fn history(&self) -> &History {
        &self.history
    }

    /// Counts, plans and picture.
    #[must_use]
    pub const fn derived(&self) -> &Derived {
        &self.derived
    }

    /// Grows with every change of the design: equal revisions are equal designs.
    #[must_use]
    pub const fn revision(&self) -> u64 {
        self.revision
    }

    /// The best plans and how far they are.
    #[must_use]
    pub(crate) const fn planning(&self) -> &Planning {
        &self.planning
    }

    /// Follows the quilt with the best plans while they are looked at; says when to look again.
    pub(crate) fn plan_best(&mut self, now: Instant, wake: impl Fn() + Send + 'static) -> Option<Duration> {
        let wanted = self.session.room == Room::Cut;
        let quilt =
            Quilt { revision: self.revision, design: self.history.design(), ledger: self.derived.ledger().ok() };
        self.planning.follow(quilt, wanted, now, wake)
    }

    /// Stops the best plans, or has them worked out again.
    pub(crate) fn stop_planning(&mut self, stop: bool) {
        if stop {
            self.planning.stop();
        } else {
            self.planning.again();
        }
    }

    /// The plan of a fabric that is cut by: the best one when it is that of the quilt as it is, else the quick one.
    #[must_use]
    pub fn plan_to_cut(&self, fabric: FabricId) -> Option<&FabricPlan> {
        let ledger = self.derived.ledger().ok()?;
        let quick = ledger.plans().get(&fabric)?.as_ref().ok()?;
        Some(self.planning.plan(self.revision, fabric).unwrap_or(quick))
    }

    /// What is sewn before it is cut, when the best plans are those of the quilt as it is.
    #[must_use]
    pub fn sewn_to_cut(&self) -> Option<&[SewnRun]> {
        self.planning.sewn(self.revision)
    }

    /// Follows the quilt with the order of sewing while it is looked at.
    pub(crate) fn plan_sewing(&mut self, wake: impl Fn() + Send + 'static) {
        if self.session.room == Room::Sew {
            let sewn = self.planning.sewn(self.revision).unwrap_or_default();
            let ledger = self.derived.ledger().ok();
            let quilt = sewing::Quilt { design: self.history.design(), ledger, sewn };
            self.sewing.follow(self.revision, quilt, self.settings.habits(), wake);
        }
    }

    /// How the blocks are sewn; while that is being worked out, how they were before.
    #[must_use]
    pub fn sewing(&self) -> &Arc<SewingBook> {
        self.sewing.book()
    }

    /// What stands beside the steps of a block, and whether it is of the quilt as it is now.
    #[must_use]
    pub fn beside_steps(&self, block: BlockId) -> Option<(&Aside, bool)> {
        self.sewing.aside(block, self.revision, self.settings.errors)
    }

    /// Whether [`Studio::sewing`] is that of the quilt as it is now.
    #[must_use]
    pub fn is_sewing_current(&self) -> bool {
        self.sewing.is_current(self.revision, self.settings.hand())
    }

    /// Follows the quilt with proposals for a bed while they are looked at.
    pub(crate) fn fit_bed(&mut self, wake: impl Fn() + Send + 'static) {
        let shown =
            BedSession { open: self.session.bed.open && self.session.room == Room::Set, ..self.session.bed.clone() };
        self.fitting.follow(self.revision, self.history.design(), &shown, wake);
    }

    /// Holds another bed or other wishes; the bed is kept for other quilts.
    pub fn hold_bed(&mut self, bed: BedSession) {
        bed.bed.id.clone_into(&mut self.settings.bed);
        self.session.bed = bed;
    }

    /// The proposals for the bed that is looked at.
    #[must_use]
    pub fn fit(&self) -> Fit<'_> {
        self.fitting.fit(self.revision, &self.session.bed.target)
    }

    /// The file, if it has one.
    #[must_use]
    pub fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// Whether there is something that is not in the file.
    #[must_use]
    pub const fn unsaved(&self) -> bool {
        self.unsaved
    }

    /// Whether something would be lost if the quilt were left now: work that is in no file. A new quilt that nothing
    /// was done to holds none.
    #[must_use]
    pub fn has_work(&self) -> bool {
        self.unsaved && (self.path.is_some() || self.recovered || self.history.steps() > 0)
    }

    /// Marks what is open as recovered: it is in no file, though nothing was done to it in this sitting.
    pub fn mark_recovered(&mut self) {
        self.recovered = true;
    }

    /// What is said to the user, oldest first.
    #[must_use]
    pub fn notices(&self) -> &[Notice] {
        &self.notices
    }

    /// Notes that the notices are shown `now`, takes those that are no problem away after `stay`, and says how long it
    /// is until the next one goes.
    pub fn age_notices(&mut self, now: std::time::Instant, stay: std::time::Duration) -> Option<std::time::Duration> {
        for notice in &mut self.notices {
            notice.shown.get_or_insert(now);
        }
        let age = |notice: &Notice| notice.shown.map_or(std::time::Duration::ZERO, |shown| now - shown);
        self.notices.retain(|notice| notice.problem || age(notice) < stay);
        self.notices.iter().filter(|notice| !notice.problem).map(|notice| stay.saturating_sub(age(notice))).min()
    }

    /// Takes the notice with this number away.
    pub fn dismiss(&mut self, number: usize) {
        if number < self.notices.len() {
            self.notices.remove(number);
        }
    }

    /// Says something.
    pub fn say(&mut self, text: impl Into<String>) {
        self.notices.push(Notice { text: text.into(), problem: false, shown: None });
    }

    /// Says that something went wrong.
    pub fn complain(&mut self, text: impl Into<String>) {
        let text = text.into();
        if self.notices.last().is_none_or(|last| last.text != text) {
            self.notices.push(Notice { text, problem: true, shown: None });
        }
    }

    /// Applies an edit as a step, or within the gesture under way. A refusal is told and changes nothing.
    pub fn edit(&mut self, edit: &Edit) {
        let before = self.history.design().clone();
        match self.history.apply(edit) {
            Ok(delta) => self.follow(&before, delta),
            Err(error) => self.complain(error.to_string()),
        }
    }

    fn follow(&mut self, before: &Design, delta: Delta) {
        self.work_out(before, &delta);
        for lost in delta.lost {
            self.say(format!("Could not be kept: {lost}"));
        }
        match delta.touched {
            // Paint takes nothing away, and a long stroke must not compare the whole quilt again and again.
            Touched::Patch(..) | Touched::Place(_) | Touched::Source(..) if self.unsaved => {}
            _ => self.mark(),
        }
    }

    /// Brings what follows from the design up to date, looking no farther than where it may differ from `before`.
    fn work_out(&mut self, before: &Design, delta: &Delta) {
        self.revision += 1;
        let result = self.derived.follow(before, self.history.design(), delta);
        self.told(result);
    }

    fn told(&mut self, result: Result<(), DerivedError>) {
        if let Err(error) = result {
            self.complain(error.to_string());
        }
    }

    /// Notes whether the design differs from the saved one, and drops what is no longer there from the session.
    fn mark(&mut self) {
        let same = self.saved.get(self.open_variant).is_some_and(|saved| saved.design == *self.history.design());
        self.unsaved = self.path.is_none() || self.others_unsaved || !same;
        let design = self.history.design();
        self.session.selection.retain(|place| design.place(*place).is_ok());
        if self.session.hover.is_some_and(|spot| design.source(spot.place).is_err()) {
            self.session.hover = None;
        }
        if design.fabric(self.session.fabric).is_err() {
            self.session.fabric = darkest(design);
        }
    }

    /// Begins a gesture: what follows until [`Studio::end_gesture`] is one step.
    pub fn begin_gesture(&mut self, label: &str) {
        self.history.begin(label);
    }

    /// Ends the gesture.
    pub fn end_gesture(&mut self) {
        self.history.commit();
        if !self.unsaved {
            self.mark();
        }
    }

    /// Takes the gesture back.
    pub fn cancel_gesture(&mut self) {
        let left = self.history.design().clone();
        if let Some((_, touched)) = self.history.gesture() {
            self.history.cancel();
            self.moved(&left, touched);
        }
    }

    /// Takes the last step back.
    pub fn undo(&mut self) {
        let left = self.history.design().clone();
        if let Some(touched) = self.history.back() {
            self.moved(&left, touched);
        }
    }

    /// Does the last step again.
    pub fn redo(&mut self) {
        let left = self.history.design().clone();
        if let Some(touched) = self.history.forth() {
            self.moved(&left, touched);
        }
    }

    /// Follows a move from the design that was left to another one of the history.
    fn moved(&mut self, left: &Design, touched: Touched) {
        self.work_out(left, &Delta { touched, lost: Vec::new() });
        self.mark();
    }

    fn rebuild(&mut self) {
        self.revision += 1;
        let design = self.history.design().clone();
        let result = self.derived.rebuild(&design);
        self.told(result);
        self.mark();
    }

    /// Paints the patch at `spot` with the fabric in hand, as far as the session's scope reaches; a single patch also in
    /// its mirror images, where that is asked for.
    pub fn paint(&mut self, spot: Spot) {
        let images = if self.session.scope == Scope::Patch { self.images_of(spot) } else { Vec::new() };
        for spot in std::iter::once(spot).chain(images) {
            match paint::edit_for(self.design(), spot, self.session.scope, self.session.fabric) {
                Ok(Some(edit)) => self.edit(&edit),
                Ok(None) => {}
                Err(error) => self.complain(error.to_string()),
            }
        }
    }

    /// Takes up the fabric of the patch at `spot`.
    pub fn pick(&mut self, spot: Spot) {
        if let Some(fabric) = self.derived.scene().at(spot.place).and_then(|s| s.fabrics.get(spot.patch)) {
            self.session.fabric = *fabric;
        }
    }

    /// Applies several edits as one step, all or none; false when one of them was refused, which is told.
    pub fn edit_all(&mut self, label: &str, edits: &[Edit]) -> bool {
        self.begin_gesture(label);
        let mut lost = Vec::new();
        for edit in edits {
            match self.history.apply(edit) {
                Ok(delta) => lost.extend(delta.lost),
                Err(error) => {
                    // Nothing was worked out yet that had to be taken back.
                    self.history.cancel();
                    self.complain(error.to_string());
                    return false;
                }
            }
        }
        if let Some((before, touched)) = self.history.gesture() {
            let before = before.clone();
            self.follow(&before, Delta { touched, lost });
        }
        self.end_gesture();
        true
    }

    /// Shows another variant of the file; steps of the one before are kept as its design only.
    pub fn show_variant(&mut self, number: usize) {
        let Some(next) = self.variants.get(number).map(|v| v.design.clone()) else { return };
        self.variants[self.open_variant].design = self.history.design().clone();
        self.open_variant = number;
        let others = self.variants.iter().zip(&self.saved).enumerate().filter(|(i, _)| *i != number);
        self.others_unsaved = others.into_iter().any(|(_, (now, saved))| now.design != saved.design);
        self.history = History::new(next);
        self.rebuild();
    }

    /// Labels of the variants and which one is open.
    pub fn variants(&self) -> impl Iterator<Item = (&str, bool)> {
        self.variants.iter().enumerate().map(|(i, v)| (v.label.as_str(), i == self.open_variant))
    }

    /// Opens another document in this studio.
    pub fn open(&mut self, document: &Document, path: Option<PathBuf>) {
        match Self::new(document, path.clone(), self.settings.clone()) {
            Ok(next) => {
                self.planning.stop();
                let publishing = self.publishing.for_another_quilt();
                let fabrics = self.session.publish.files.remove_entry(&Beside::Fabrics);
                *self = Self { revision: self.revision + 1, publishing, ..next };
                self.session.publish.files.extend(fabrics);
                if let Some(path) = path {
                    self.settings.remember(&path);
                }
            }
            Err(error) => self.complain(error.to_string()),
        }
    }

    /// All variants as they are now.
    ///
    /// # Errors
    /// Not for a document that was opened here.
    pub fn document(&self) -> Result<Document, FileError> {
        Document::with_variants(self.all_variants().all)
    }

    pub(super) fn all_variants(&self) -> Variants {
        let mut all = self.variants.clone();
        all[self.open_variant].design = self.history.design().clone();
        Variants { all, open: self.open_variant }
    }

    /// Saves to `path`, whole or not at all.
    ///
    /// # Errors
    /// As [`Document::save`].
    pub fn save_to(&mut self, path: &Path, overwrite: Overwrite) -> Result<(), FileError> {
        self.history.commit();
        let document = self.document()?;
        document.save(path, overwrite)?;
        self.variants = document.variants().to_vec();
        self.saved.clone_from(&self.variants);
        self.others_unsaved = false;
        self.recovered = false;
        self.path = Some(path.to_path_buf());
        self.unsaved = false;
        self.settings.remember(path);
        Ok(())
    }
}

/// The darkest fabric, the first of equals: what is in hand at the start.
fn darkest(design: &Design) -> FabricId {
    design.fabrics().max_by_key(|(id, fabric)| (fabric.value, std::cmp::Reverse(*id))).map_or(FabricId(1), |(id, _)| id)
}

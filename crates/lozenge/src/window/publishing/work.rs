//! The work on documents: begun when the quilt rests, stopped when it changes, with the pages of before kept in view.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::{Duration, Instant};

use cutting::Watch;

use super::documents::Document;
use super::ingredients::Variants;
use super::made::Made;
use super::planned::Worked;
use super::unmade::Unmade;
use super::wishes::{Beside, Options};

/// A document is made when the quilt has not changed for so long.
const PAUSE: Duration = Duration::from_millis(250);

/// While a document is made, its progress is shown so often.
const LOOK_AGAIN: Duration = Duration::from_millis(100);

/// A document that is wanted: equal orders give equal documents.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Order {
    document: Document,
    /// The quilt: equal revisions are equal quilts. Always the same for a document that is not of the quilt.
    revision: u64,
    /// What it depends on.
    options: Options,
}

impl Order {
    /// An order for a document, of what that document depends on.
    pub(crate) fn new(document: Document, revision: u64, options: Options) -> Self {
        let revision = if document.is_of_quilt() { revision } else { 0 };
        Self { document, revision, options: options.only(document.entry().wishes) }
    }

    /// What has to be chosen first.
    fn missing(&self) -> Option<Beside> {
        self.options.missing(self.document.entry().wishes)
    }
}

/// How far a document is.
#[derive(Debug, Clone, PartialEq)]
pub enum Stage {
    /// It is made.
    Done,
    /// This file has to be chosen before it can be made.
    Missing(Beside),
    /// It will be begun soon.
    Waiting,
    /// The cutting plan is worked out: share of the steps, 0 to 1.
    Planning(f32),
    /// Quilt tops are tried on the fabrics in hand: so many plans so far.
    Trying(u64),
    /// Its pages are set.
    Setting,
    /// The user stopped it.
    Stopped,
    /// It cannot be made, and why.
    Failed(String),
}

/// What comes back from the thread.
#[derive(Debug)]
struct Answer {
    worked: Arc<Worked>,
    made: Result<Made, Unmade>,
}

/// A document that is being made.
#[derive(Debug)]
struct Running {
    order: Order,
    watch: Arc<Watch>,
    /// Set once the plans are there and pages are set.
    setting: Arc<AtomicBool>,
    answer: Receiver<Answer>,
}

/// The documents that are made, and the work on the one that is wanted.
#[derive(Debug, Default)]
pub(crate) struct Publishing {
    made: BTreeMap<Document, (Order, Arc<Made>)>,
    worked: Arc<Worked>,
    running: Option<Running>,
    /// Work that was stopped and has not ended yet; nothing is begun beside it.
    leaving: Option<Receiver<Answer>>,
    /// The revision that was last looked at, and since when the quilt has been like that.
    seen: Option<(u64, Instant)>,
    /// The order that came to nothing, and how.
    ended: Option<(Order, Stage)>,
}

impl Publishing {
    /// Looks at what is wanted now: takes an answer, stops what is out of date, begins what is due. Says when to look
    /// again; none when there is nothing to wait for. `wake` is called from another thread when an answer is there.
    pub(crate) fn follow(
        &mut self,
        order: &Order,
        variants: impl FnOnce() -> Variants,
        now: Instant,
        wake: impl Fn() + Send + 'static,
    ) -> Option<Duration> {
        self.take_answer();
        let since = match self.seen {
            Some((seen, since)) if seen == order.revision => since,
            _ => {
                self.seen = Some((order.revision, now));
                now
            }
        };
        if self.running.as_ref().is_some_and(|running| running.order != *order) {
            self.abandon();
        }
        if self.running.is_some() {
            return Some(LOOK_AGAIN);
        }
        if self.is_settled(order) {
            return None;
        }
        let quiet = now.saturating_duration_since(since);
        if quiet < PAUSE {
            return Some(PAUSE.saturating_sub(quiet));
        }
        if self.leaving.is_none() {
            self.begin(order, variants(), wake);
        }
        Some(LOOK_AGAIN)
    }

    fn is_settled(&self, order: &Order) -> bool {
        self.is_made(order) || order.missing().is_some() || self.ended.as_ref().is_some_and(|(ended, _)| ended == order)
    }

    fn is_made(&self, order: &Order) -> bool {
        self.made.get(&order.document).is_some_and(|(of, _)| of == order)
    }

    fn begin(&mut self, order: &Order, variants: Variants, wake: impl Fn() + Send + 'static) {
        let (send, answer) = channel();
        let (watch, setting) = (Arc::new(Watch::new()), Arc::new(AtomicBool::new(false)));
        let (told, set) = (Arc::clone(&watch), Arc::clone(&setting));
        self.running = Some(Running { order: order.clone(), watch, setting, answer });
        let (order, before) = (order.clone(), Arc::clone(&self.worked));
        std::thread::spawn(move || {
            // The window may be gone by now; then nobody waits for the answer.
            let _ = send.send(make(&order, &variants, &before, &told, &set));
            wake();
        });
    }

    fn take_answer(&mut self) {
        if self.leaving.as_ref().is_some_and(|left| !matches!(left.try_recv(), Err(TryRecvError::Empty))) {
            self.leaving = None;
        }
        let Some(running) = &self.running else { return };
        let answer = match running.answer.try_recv() {
            Ok(answer) => answer,
            Err(TryRecvError::Empty) => return,
            Err(TryRecvError::Disconnected) => {
                let why = "the program failed to make it; choose another document, or change the quilt".to_owned();
                self.ended = self.running.take().map(|running| (running.order, Stage::Failed(why)));
                return;
            }
        };
        let Some(running) = self.running.take() else { return };
        self.worked = answer.worked;
        match answer.made {
            Ok(made) => {
                self.ended = None;
                self.made.insert(running.order.document, (running.order, Arc::new(made)));
            }
            Err(Unmade::Stopped) => self.ended = Some((running.order, Stage::Stopped)),
            Err(error) => self.ended = Some((running.order, Stage::Failed(error.to_string()))),
        }
    }

    /// Stops what is running; its answer is thrown away.
    pub(crate) fn abandon(&mut self) {
        if let Some(running) = self.running.take() {
            running.watch.stop();
            self.leaving = Some(running.answer);
        }
    }

    /// Stops the making of a document, begun or not, until something changes or it is asked for again.
    pub(crate) fn stop(&mut self, order: Order) {
        self.abandon();
        self.ended = Some((order, Stage::Stopped));
    }

    /// What holds for another quilt too; the rest is stopped and let go.
    pub(crate) fn for_another_quilt(&mut self) -> Self {
        self.abandon();
        let made = std::mem::take(&mut self.made).into_iter().filter(|(document, _)| !document.is_of_quilt());
        Self { made: made.collect(), worked: Arc::new(self.worked.for_another_quilt()), ..Self::default() }
    }

    /// Makes again what came to nothing.
    pub(crate) fn again(&mut self) {
        self.ended = None;
    }

    /// How far the document is that is wanted.
    pub(crate) fn stage(&self, order: &Order) -> Stage {
        if self.is_made(order) {
            return Stage::Done;
        }
        if let Some(beside) = order.missing() {
            return Stage::Missing(beside);
        }
        match (&self.running, &self.ended) {
            (Some(running), _) if running.setting.load(Ordering::Relaxed) => Stage::Setting,
            (Some(running), _) if !running.order.document.is_of_quilt() => Stage::Trying(running.watch.progress().0),
            (Some(running), _) => {
                let (done, all) = running.watch.progress();
                #[expect(clippy::cast_precision_loss, reason = "a bar on the screen")]
                let share = if all == 0 { 0.0 } else { done as f32 / all as f32 };
                Stage::Planning(share)
            }
            (None, Some((ended, stage))) if ended == order => stage.clone(),
            (None, _) => Stage::Waiting,
        }
    }

    /// The document as it was made last, and whether it is the one that is wanted.
    pub(crate) fn made(&self, order: &Order) -> Option<(&Arc<Made>, bool)> {
        self.made.get(&order.document).map(|(of, made)| (made, of == order))
    }
}

/// The work of the thread.
fn make(order: &Order, variants: &Variants, before: &Worked, watch: &Arc<Watch>, setting: &AtomicBool) -> Answer {
    let entry = order.document.entry();
    let mut worked = before.clone();
    let made = worked.ingredients(variants, entry.needs, &order.options, watch).and_then(|ingredients| {
        setting.store(true, Ordering::Relaxed);
        (entry.make)(&ingredients)
    });
    Answer { worked: Arc::new(worked), made }
}

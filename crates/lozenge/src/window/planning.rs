//! The best plans of the open quilt: worked out beside the window, stopped when the quilt changes, kept fabric by fabric.

use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::{Duration, Instant};

use cutting::{BestBook, CutError, FabricPlan, Ledger, SewnRun, Watch};
use layout::{Design, FabricId};

/// Plans begin when the quilt has not changed for so long, so that a stroke of paint is not planned patch by patch.
const PAUSE: Duration = Duration::from_millis(250);

/// While plans are worked out, their progress is shown so often.
const LOOK_AGAIN: Duration = Duration::from_millis(100);

/// The quilt as it is now: equal revisions are equal quilts.
#[derive(Clone, Copy)]
pub(crate) struct Quilt<'a> {
    /// Grows with every change.
    pub(crate) revision: u64,
    /// The design.
    pub(crate) design: &'a Design,
    /// Its quick plans, if it can be cut.
    pub(crate) ledger: Option<&'a Ledger>,
}

/// A plan that is being worked out.
#[derive(Debug)]
struct Running {
    revision: u64,
    watch: Arc<Watch>,
    answer: Receiver<Result<BestBook, CutError>>,
    began: Instant,
}

/// The best plans and the work on them.
#[derive(Debug, Default)]
pub(crate) struct Planning {
    book: Arc<BestBook>,
    /// The revision of the quilt that the plans are of, once they are whole.
    planned: Option<u64>,
    running: Option<Running>,
    /// The revision that was last looked at, and since when the quilt has been like that.
    seen: Option<(u64, Instant)>,
    /// The revision whose planning the user stopped; it is not begun again by itself.
    stopped: Option<u64>,
}

/// How far the plans are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Progress {
    /// They are those of the quilt as it is.
    Done,
    /// They are being worked out: share of the steps, 0 to 1, and for how long.
    Running(f32, Duration),
    /// They will be, soon.
    Waiting,
    /// The user stopped them.
    Stopped,
}

impl Planning {
    /// Looks at the quilt as it is now: takes an answer, stops what is out of date, begins what is due. Says when to look
    /// again; none when there is nothing to wait for. `wake` is called from another thread when an answer is there.
    pub(crate) fn follow(
        &mut self,
        quilt: Quilt<'_>,
        wanted: bool,
        now: Instant,
        wake: impl Fn() + Send + 'static,
    ) -> Option<Duration> {
        self.take_answer();
        let revision = quilt.revision;
        let since = match self.seen {
            Some((seen, since)) if seen == revision => since,
            _ => {
                self.seen = Some((revision, now));
                now
            }
        };
        if self.running.as_ref().is_some_and(|running| running.revision != revision) {
            self.abandon();
        }
        if self.running.is_some() {
            return Some(LOOK_AGAIN);
        }
        let ledger = quilt.ledger?;
        if !wanted || self.planned == Some(revision) || self.stopped == Some(revision) {
            return None;
        }
        let quiet = now.saturating_duration_since(since);
        if quiet < PAUSE {
            return Some(PAUSE.saturating_sub(quiet));
        }
        self.begin(revision, quilt.design.clone(), ledger.clone(), now, wake);
        Some(LOOK_AGAIN)
    }

    fn begin(&mut self, revision: u64, design: Design, ledger: Ledger, now: Instant, wake: impl Fn() + Send + 'static) {
        let (send, answer) = channel();
        let watch = Arc::new(Watch::new());
        self.running = Some(Running { revision, watch: Arc::clone(&watch), answer, began: now });
        let before = Arc::clone(&self.book);
        std::thread::spawn(move || {
            // The window may be gone by now; then nobody waits for the answer.
            let _ = send.send(BestBook::new(&design, &ledger, &before, &watch));
            wake();
        });
    }

    fn take_answer(&mut self) {
        let Some(running) = &self.running else { return };
        match running.answer.try_recv() {
            Ok(answer) => {
                if let (Ok(book), Some(running)) = (answer, self.running.take()) {
                    self.book = Arc::new(book);
                    self.planned = Some(running.revision);
                }
                self.running = None;
            }
            Err(TryRecvError::Disconnected) => self.running = None,
            Err(TryRecvError::Empty) => {}
        }
    }

    /// Stops what is running; its answer is not waited for.
    fn abandon(&mut self) {
        if let Some(running) = self.running.take() {
            running.watch.stop();
        }
    }

    /// Stops the planning of this quilt, begun or not, until it changes or is asked for again.
    pub(crate) fn stop(&mut self) {
        let seen = self.seen.map(|(revision, _)| revision);
        self.stopped = self.running.as_ref().map(|running| running.revision).or(seen);
        self.abandon();
    }

    /// Plans again what was stopped.
    pub(crate) fn again(&mut self) {
        self.stopped = None;
    }

    /// How far the plans of this revision are.
    pub(crate) fn progress(&self, revision: u64, now: Instant) -> Progress {
        match &self.running {
            _ if self.planned == Some(revision) => Progress::Done,
            Some(running) => {
                let (done, all) = running.watch.progress();
                #[expect(clippy::cast_precision_loss, reason = "a bar on the screen")]
                let share = if all == 0 { 0.0 } else { done as f32 / all as f32 };
                Progress::Running(share, now.saturating_duration_since(running.began))
            }
            None if self.stopped == Some(revision) => Progress::Stopped,
            None => Progress::Waiting,
        }
    }

    /// The best plan of a fabric of the quilt at this revision; none while it is worked out.
    pub(crate) fn plan(&self, revision: u64, id: FabricId) -> Option<&FabricPlan> {
        let is_true = self.planned == Some(revision);
        self.book.plans().get(&id).filter(|_| is_true)?.as_ref().ok()
    }

    /// What is sewn before it is cut, of the quilt at this revision.
    pub(crate) fn sewn(&self, revision: u64) -> Option<&[SewnRun]> {
        (self.planned == Some(revision)).then(|| self.book.sewn())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::window::derived::Derived;
    use crate::window::gallery::Choice;
    use layout::{Edit, apply};

    fn quilt<'a>(revision: u64, design: &'a Design, derived: &'a Derived) -> Quilt<'a> {
        Quilt { revision, design, ledger: derived.ledger().ok() }
    }

    /// Follows until the plans are there, the clock going on by itself.
    fn finish(planning: &mut Planning, quilt: Quilt<'_>) {
        let mut now = Instant::now();
        for _ in 0..5000 {
            if planning.follow(quilt, true, now, || {}).is_none() {
                break;
            }
            now += PAUSE;
            std::thread::sleep(Duration::from_millis(5));
        }
        assert_eq!(planning.progress(quilt.revision, now), Progress::Done);
    }

    #[test]
    fn plans_follow_the_quilt_and_keep_what_is_the_same() {
        let design = Choice::default().design().unwrap();
        let derived = Derived::new(&design).unwrap();
        let mut planning = Planning::default();
        assert_eq!(planning.progress(1, Instant::now()), Progress::Waiting);
        finish(&mut planning, quilt(1, &design, &derived));
        assert!(planning.book.planned() > 1);
        let renamed = apply(&design, &Edit::Rename("Another name".to_owned())).unwrap().0;
        finish(&mut planning, quilt(2, &renamed, &Derived::new(&renamed).unwrap()));
        assert_eq!(planning.book.planned(), 0, "a name changes no plan");
    }

    #[test]
    fn what_is_not_wanted_or_was_stopped_is_not_begun() {
        let design = Choice::default().design().unwrap();
        let derived = Derived::new(&design).unwrap();
        let quilt = quilt(7, &design, &derived);
        let mut planning = Planning::default();
        let began = Instant::now();
        assert_eq!(planning.follow(quilt, false, began, || {}), None);
        assert_eq!(planning.follow(quilt, true, began, || {}), Some(PAUSE));
        planning.follow(quilt, true, began + PAUSE, || {});
        assert!(matches!(planning.progress(7, began), Progress::Running(..)));
        planning.stop();
        assert_eq!(planning.progress(7, began), Progress::Stopped);
        assert_eq!(planning.follow(quilt, true, began + 9 * PAUSE, || {}), None);
        planning.again();
        finish(&mut planning, quilt);
    }
}

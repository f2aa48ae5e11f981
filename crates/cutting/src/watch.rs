//! Progress of long work, and stopping it: shared between the thread that plans and whoever watches.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

/// How far a plan is, in steps of search, and whether it is still wanted.
///
/// Steps are counted, never seconds, so a plan that was not stopped is the same on every machine. A plan that was
/// stopped is not used.
#[derive(Debug, Default)]
pub struct Watch {
    stopped: AtomicBool,
    done: AtomicU64,
    all: AtomicU64,
}

impl Watch {
    /// Work that nobody has asked to stop.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Asks the work to end soon.
    pub fn stop(&self) {
        self.stopped.store(true, Ordering::Relaxed);
    }

    /// Whether the work is to end.
    #[must_use]
    pub fn is_stopped(&self) -> bool {
        self.stopped.load(Ordering::Relaxed)
    }

    /// Says that up to `steps` more steps lie ahead.
    pub fn expect(&self, steps: u64) {
        self.all.fetch_add(steps, Ordering::Relaxed);
    }

    /// Says that `steps` steps are done, or no longer needed.
    pub fn advance(&self, steps: u64) {
        self.done.fetch_add(steps, Ordering::Relaxed);
    }

    /// Steps done and steps expected so far.
    #[must_use]
    pub fn progress(&self) -> (u64, u64) {
        let all = self.all.load(Ordering::Relaxed);
        (self.done.load(Ordering::Relaxed).min(all), all)
    }
}

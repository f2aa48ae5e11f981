//! How far a survey is, and the way to stop it: shared with the thread that works.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use super::error::PairingError;

/// Told by a survey how far it is; stops it when asked.
#[derive(Debug, Default)]
pub struct SurveyWatch {
    done: AtomicU64,
    all: AtomicU64,
    stop: AtomicBool,
}

impl SurveyWatch {
    /// A watch for one survey.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// How far the survey is: what is done, and what is to be done in all. Both are 0 before it begins.
    #[must_use]
    pub fn progress(&self) -> (u64, u64) {
        let all = self.all.load(Ordering::Relaxed);
        (self.done.load(Ordering::Relaxed).min(all), all)
    }

    /// Has the survey end soon, with [`PairingError::Stopped`].
    pub fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    pub(super) fn begin(&self, all: u128) {
        self.all.store(u64::try_from(all).unwrap_or(u64::MAX), Ordering::Relaxed);
    }

    /// So much is done in all.
    pub(super) fn reach(&self, done: u128) {
        self.done.store(u64::try_from(done).unwrap_or(u64::MAX), Ordering::Relaxed);
    }

    /// So much more is done; an error if it is to stop.
    pub(super) fn go_on(&self, more: u64) -> Result<(), PairingError> {
        self.done.fetch_add(more, Ordering::Relaxed);
        if self.stop.load(Ordering::Relaxed) { Err(PairingError::Stopped) } else { Ok(()) }
    }
}

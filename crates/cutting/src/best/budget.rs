//! Steps of search: counted, never timed.

use crate::error::CutError;
use crate::watch::Watch;

/// Entries of a table that count as one step.
const ENTRIES_PER_STEP: u64 = 1 << 16;

/// How many steps may still be taken.
#[derive(Debug)]
pub(crate) struct Budget<'a> {
    left: u64,
    used: u64,
    watch: &'a Watch,
}

impl<'a> Budget<'a> {
    pub(crate) fn new(steps: u64, watch: &'a Watch) -> Self {
        watch.expect(steps);
        Self { left: steps, used: 0, watch }
    }

    /// Takes as many steps as `entries` entries of a table are worth, at least one; `false` if too few are left.
    ///
    /// # Errors
    /// [`CutError::Stopped`].
    pub(crate) fn spend(&mut self, entries: u64) -> Result<bool, CutError> {
        if self.watch.is_stopped() {
            return Err(CutError::Stopped);
        }
        let steps = 1 + entries / ENTRIES_PER_STEP;
        if steps > self.left {
            return Ok(false);
        }
        self.left -= steps;
        self.used += steps;
        self.watch.advance(steps);
        Ok(true)
    }

    pub(crate) const fn left(&self) -> u64 {
        self.left
    }

    /// Says that the rest is not needed.
    pub(crate) fn finish(self) -> u64 {
        self.watch.advance(self.left);
        self.used
    }
}

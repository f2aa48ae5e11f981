//! Which places of a scene changed since when, so that who keeps a picture of it need not look at all of them.

use std::sync::atomic::{AtomicU64, Ordering};

/// The most places that are kept by name; when more have changed, all count as changed.
const MOST_KEPT: usize = 256;

/// Stamps never come twice, not even in scenes of different quilts, so that a stamp says what a picture shows.
static NEXT: AtomicU64 = AtomicU64::new(1);

/// Places changed lately.
#[derive(Debug, Clone)]
pub(super) struct Changes {
    /// Who is older than this must look at everything.
    whole: u64,
    now: u64,
    places: Vec<(u64, usize)>,
}

impl Changes {
    /// Everything is new.
    pub(super) fn everything() -> Self {
        let now = NEXT.fetch_add(1, Ordering::Relaxed);
        Self { whole: now, now, places: Vec::new() }
    }

    /// The stamp of the last change.
    pub(super) const fn now(&self) -> u64 {
        self.now
    }

    /// Notes that the place with this number changed.
    pub(super) fn note(&mut self, number: usize) {
        self.now = NEXT.fetch_add(1, Ordering::Relaxed);
        self.places.push((self.now, number));
        if self.places.len() > MOST_KEPT {
            self.places.clear();
            self.whole = self.now;
        }
    }

    /// The numbers of the places changed after a stamp; none when it may be any.
    pub(super) fn since(&self, stamp: u64) -> Option<Vec<usize>> {
        if stamp < self.whole {
            return None;
        }
        let mut changed: Vec<usize> =
            self.places.iter().rev().take_while(|(at, _)| *at > stamp).map(|(_, number)| *number).collect();
        changed.sort_unstable();
        changed.dedup();
        Some(changed)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tells_what_came_after_a_stamp() {
        let mut changes = Changes::everything();
        let begun = changes.now();
        changes.note(4);
        let later = changes.now();
        changes.note(2);
        changes.note(4);
        assert_eq!(changes.since(begun), Some(vec![2, 4]));
        assert_eq!(changes.since(later), Some(vec![2, 4]));
        assert_eq!(changes.since(changes.now()), Some(Vec::new()));
    }

    #[test]
    fn another_scene_and_too_many_changes_are_everything() {
        let mut changes = Changes::everything();
        let begun = changes.now();
        assert_eq!(Changes::everything().since(begun), None);
        (0..=MOST_KEPT).for_each(|number| changes.note(number));
        assert_eq!(changes.since(begun), None);
        assert_eq!(changes.since(changes.now()), Some(Vec::new()));
    }
}

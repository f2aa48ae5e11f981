//! What was not saved when the program ended in the middle of work.
//!
//! While there are unsaved changes a copy of the quilt is written beside the settings now and then, whole or not at
//! all; saving or closing in order removes it. A copy that is there at the start is offered.

use std::path::{Path, PathBuf};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use layout::Overwrite;
use layout::file::Document;

/// The least time between two copies.
const PAUSE: Duration = Duration::from_secs(15);

/// Keeps the copy.
#[derive(Debug)]
pub(crate) struct Recovery {
    path: Option<PathBuf>,
    last: Option<Instant>,
    steps: Option<usize>,
    writing: Option<JoinHandle<()>>,
}

impl Recovery {
    /// A keeper of the copy beside this settings file.
    pub(crate) fn beside(settings: Option<&Path>) -> Self {
        let path = settings.and_then(Path::parent).map(|folder| folder.join("unsaved.json"));
        Self { path, last: None, steps: None, writing: None }
    }

    /// The quilt that was left behind, if there is one that can be read.
    pub(crate) fn found(&self) -> Option<Document> {
        let path = self.path.as_deref().filter(|path| path.exists())?;
        Document::open(path).ok()
    }

    /// Whether it is time for a copy, given how many steps there are to undo.
    pub(crate) fn due(&self, unsaved: bool, steps: usize) -> bool {
        let rested = self.last.is_none_or(|last| last.elapsed() >= PAUSE);
        self.path.is_some() && unsaved && steps > 0 && self.steps != Some(steps) && rested
    }

    /// Writes a copy on a thread of its own. One that cannot be written is passed over: it must not disturb the work
    /// it guards.
    pub(crate) fn keep(&mut self, document: Document, steps: usize) {
        let Some(path) = self.path.clone() else { return };
        self.finish();
        self.last = Some(Instant::now());
        self.steps = Some(steps);
        self.writing = Some(std::thread::spawn(move || {
            if let Some(folder) = path.parent() {
                let _ = std::fs::create_dir_all(folder);
            }
            let _ = document.save(&path, Overwrite::Replace);
        }));
    }

    /// Waits for a copy that is being written, so that it cannot come after what is done next.
    fn finish(&mut self) {
        if let Some(writing) = self.writing.take() {
            // Its thread has nothing to tell.
            let _ = writing.join();
        }
    }

    /// Removes the copy.
    pub(crate) fn forget(&mut self) {
        self.finish();
        if let Some(path) = &self.path {
            // A copy that is not there is what is wanted.
            let _ = std::fs::remove_file(path);
        }
        self.steps = None;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::window::gallery::Choice;

    #[test]
    fn a_copy_is_kept_offered_and_forgotten() {
        let folder = tempfile::tempdir().unwrap();
        let settings = folder.path().join("deep").join("settings.json");
        let mut recovery = Recovery::beside(Some(&settings));
        assert!(recovery.found().is_none());
        assert!(!recovery.due(true, 0) && !recovery.due(false, 3) && recovery.due(true, 3));
        let document = Document::new(Choice::default().design().unwrap());
        recovery.keep(document.clone(), 3);
        recovery.finish();
        assert!(!recovery.due(true, 3), "nothing changed since");
        assert!(!recovery.due(true, 4), "too soon");
        assert_eq!(Recovery::beside(Some(&settings)).found(), Some(document));
        recovery.forget();
        assert!(recovery.found().is_none());
        for _ in 0..20 {
            recovery.keep(document_again(), 5);
            recovery.forget();
            assert!(recovery.found().is_none(), "a copy still being written must not outlive forgetting");
        }
    }

    fn document_again() -> Document {
        Document::new(Choice::default().design().unwrap())
    }

    #[test]
    fn a_damaged_copy_is_not_offered() {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("unsaved.json"), "{").unwrap();
        assert!(Recovery::beside(Some(&folder.path().join("settings.json"))).found().is_none());
    }
}

//! Undo and redo: the designs of earlier steps, each with the name of the step.
//!
//! One gesture is one step: between [`History::begin`] and [`History::commit`] any number of edits count as one,
//! and [`History::cancel`] goes back to where the gesture began. An edit that changes nothing makes no step.

use crate::design::Design;
use crate::edit::{Delta, Edit, Touched, apply};
use crate::error::EditError;

/// The most steps that are kept.
pub const MAX_STEPS: usize = 10_000;

/// A step of the past or future: its name and the design on its other side.
#[derive(Debug, Clone)]
struct Step {
    label: String,
    design: Design,
}

/// The present design with its past and future.
#[derive(Debug, Clone)]
pub struct History {
    past: std::collections::VecDeque<Step>,
    present: Design,
    future: Vec<Step>,
    gesture: Option<Step>,
    /// What the edits of the gesture touched.
    touched: Vec<Touched>,
}

impl History {
    /// A history that begins now.
    #[must_use]
    pub const fn new(design: Design) -> Self {
        Self {
            past: std::collections::VecDeque::new(),
            present: design,
            future: Vec::new(),
            gesture: None,
            touched: Vec::new(),
        }
    }

    /// The present design.
    #[must_use]
    pub const fn design(&self) -> &Design {
        &self.present
    }

    /// Applies an edit as a step, or as part of the gesture that is under way.
    ///
    /// # Errors
    /// As [`apply`]; nothing has changed then.
    pub fn apply(&mut self, edit: &Edit) -> Result<Delta, EditError> {
        let (next, delta) = apply(&self.present, edit)?;
        let before = std::mem::replace(&mut self.present, next);
        if self.gesture.is_some() {
            self.touched.push(delta.touched.clone());
        } else if !same_where_touched(&before, &self.present, &delta.touched) {
            self.push(Step { label: edit.label().to_owned(), design: before });
        }
        Ok(delta)
    }

    /// Begins a gesture with this name; one that is under way is committed first.
    pub fn begin(&mut self, label: &str) {
        self.commit();
        self.touched.clear();
        self.gesture = Some(Step { label: label.to_owned(), design: self.present.clone() });
    }

    /// Ends the gesture as one step.
    pub fn commit(&mut self) {
        if let Some(step) = self.gesture.take()
            && !self.touched.iter().all(|touched| same_where_touched(&step.design, &self.present, touched))
        {
            self.push(step);
        }
    }

    /// Ends the gesture and goes back to where it began.
    pub fn cancel(&mut self) {
        if let Some(step) = self.gesture.take() {
            self.present = step.design;
        }
    }

    /// Keeps a step that changed something.
    fn push(&mut self, step: Step) {
        self.future.clear();
        self.past.push_back(step);
        if self.past.len() > MAX_STEPS {
            self.past.pop_front();
        }
    }

    /// How many steps can be taken back.
    #[must_use]
    pub fn steps(&self) -> usize {
        self.past.len()
    }

    /// The name of the step that [`History::undo`] would take back.
    #[must_use]
    pub fn undo_label(&self) -> Option<&str> {
        self.past.back().map(|step| step.label.as_str())
    }

    /// The name of the step that [`History::redo`] would do again.
    #[must_use]
    pub fn redo_label(&self) -> Option<&str> {
        self.future.last().map(|step| step.label.as_str())
    }

    /// Takes the last step back; false when there is none. A gesture under way is committed first.
    pub fn undo(&mut self) -> bool {
        self.commit();
        let Some(step) = self.past.pop_back() else { return false };
        let design = std::mem::replace(&mut self.present, step.design);
        self.future.push(Step { label: step.label, design });
        true
    }

    /// Does the last step that was taken back again; false when there is none.
    pub fn redo(&mut self) -> bool {
        self.commit();
        let Some(step) = self.future.pop() else { return false };
        let design = std::mem::replace(&mut self.present, step.design);
        self.past.push_back(Step { label: step.label, design });
        true
    }
}

/// Whether two designs, one edit apart, are equal, looking no farther than the edit reached: a repaint of one
/// patch must not compare a hundred thousand others.
fn same_where_touched(before: &Design, after: &Design, touched: &Touched) -> bool {
    match touched {
        Touched::Patch(place, patch) => {
            let key = (*place, *patch);
            before.place_patches.get(&key) == after.place_patches.get(&key)
        }
        _ => before == after,
    }
}

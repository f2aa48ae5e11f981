//! Undo and redo: the designs of earlier steps, each with the name of the step.
//!
//! One gesture is one step: between [`History::begin`] and [`History::commit`] any number of edits count as one,
//! and [`History::cancel`] goes back to where the gesture began. An edit that changes nothing makes no step.

use crate::design::Design;
use crate::edit::{Delta, Edit, Touched, apply};
use crate::error::EditError;

/// The most steps that are kept.
pub const MAX_STEPS: usize = 10_000;

/// A step of the past or future: its name, the design on its other side, and where the two may differ.
#[derive(Debug, Clone)]
struct Step {
    label: String,
    design: Design,
    touched: Touched,
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
        } else if !same_where_touched(&before, &self.present, std::slice::from_ref(&delta.touched)) {
            self.push(Step { label: edit.label().to_owned(), design: before, touched: delta.touched.clone() });
        }
        Ok(delta)
    }

    /// Begins a gesture with this name; one that is under way is committed first.
    pub fn begin(&mut self, label: &str) {
        self.commit();
        self.touched.clear();
        let (label, design) = (label.to_owned(), self.present.clone());
        self.gesture = Some(Step { label, design, touched: Touched::Nothing });
    }

    /// The design before the gesture that is under way, and what its edits have touched so far; none when there is none.
    #[must_use]
    pub fn gesture(&self) -> Option<(&Design, Touched)> {
        self.gesture.as_ref().map(|step| (&step.design, Touched::by_all(&self.touched)))
    }

    /// Ends the gesture as one step.
    pub fn commit(&mut self) {
        if let Some(step) = self.gesture.take()
            && !same_where_touched(&step.design, &self.present, &self.touched)
        {
            self.push(Step { touched: Touched::by_all(&self.touched), ..step });
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
        self.back().is_some()
    }

    /// Does the last step that was taken back again; false when there is none.
    pub fn redo(&mut self) -> bool {
        self.forth().is_some()
    }

    /// As [`History::undo`]; where the design may differ from what it was.
    pub fn back(&mut self) -> Option<Touched> {
        self.commit();
        let step = self.past.pop_back()?;
        let design = std::mem::replace(&mut self.present, step.design);
        self.future.push(Step { design, touched: step.touched.clone(), label: step.label });
        Some(step.touched)
    }

    /// As [`History::redo`]; where the design may differ from what it was.
    pub fn forth(&mut self) -> Option<Touched> {
        self.commit();
        let step = self.future.pop()?;
        let design = std::mem::replace(&mut self.present, step.design);
        self.past.push_back(Step { design, touched: step.touched.clone(), label: step.label });
        Some(step.touched)
    }
}

/// Whether two designs, some edits apart, are equal, looking no farther than these reached: a repaint of one patch must
/// not compare a hundred thousand others.
fn same_where_touched(before: &Design, after: &Design, touched: &[Touched]) -> bool {
    let painted = |touched: &Touched| match touched {
        Touched::Patch(place, patch) => Some((*place, *patch)),
        _ => None,
    };
    if touched.iter().any(|touched| painted(touched).is_none()) {
        return before == after;
    }
    touched.iter().filter_map(painted).all(|key| before.place_patches.get(&key) == after.place_patches.get(&key))
}

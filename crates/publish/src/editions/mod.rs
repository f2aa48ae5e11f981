//! What changed in figures between two editions of a pattern.
//!
//! The figures of an edition are listed in the order of the booklet, each under a name that stays the same as long as it
//! means the same. Fabrics and blocks of two editions are the same ones when they share their name, or
//! else their number in the file: then one was renamed. The two lists are then compared line by line.

mod compare;
mod figures;
mod names;

use piecing::QuiltPlan;
use serde::Serialize;

use self::compare::compare;
use self::figures::figures;
use self::names::Names;
use crate::lengths::counted;
use crate::{About, Figures, Offered, Pages, PublishError, typeset};

/// A variant of one edition, with everything that its figures follow from.
#[derive(Debug, Clone, Copy)]
pub struct EditionOf<'a> {
    /// The variant and its cutting plans.
    pub quilt: Offered<'a>,
    /// How it is sewn.
    pub sewing: &'a QuiltPlan,
}

/// A figure that is another one now, or that one of the editions does not have.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Change {
    /// The part of the booklet.
    pub part: &'static str,
    /// What the figure is of.
    pub what: String,
    /// What it was; nothing for a new one.
    pub old: Option<String>,
    /// What it is; nothing for one that is gone.
    pub new: Option<String>,
}

/// The changes of one variant, in the order of the booklet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct VariantChanges {
    /// What the variant is called.
    pub label: String,
    /// Its changes; none when no figure changed.
    pub changes: Vec<Change>,
}

/// What changed between two editions.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Editions {
    /// Head and foot, of the new edition.
    pub about: About,
    /// What the old edition is called.
    pub old: String,
    /// What the new edition is called.
    pub new: String,
    /// In short: how much changed, and which variants came or went.
    pub summary: Vec<String>,
    /// Variants that only the new edition has.
    pub added: Vec<String>,
    /// Variants that only the old edition has.
    pub removed: Vec<String>,
    /// Variants that both have, in the order of the new edition.
    pub variants: Vec<VariantChanges>,
}

/// Compares two editions, variant by variant; variants are the same when their labels are. `about` is the new edition,
/// `edition` the mark of the old one.
///
/// # Errors
/// A fabric that cannot be cut, or a block whose steps cannot be drawn.
pub fn editions(
    old: &[EditionOf<'_>],
    new: &[EditionOf<'_>],
    about: &About,
    edition: &str,
) -> Result<Editions, PublishError> {
    let mut variants = Vec::new();
    for after in new {
        let Some(before) = old.iter().find(|before| before.quilt.label == after.quilt.label) else { continue };
        let names = [Names::of(before.quilt.design), Names::matched(before.quilt.design, after.quilt.design)];
        let changes = compare(&figures(before, &names[0])?, &figures(after, &names[1])?);
        variants.push(VariantChanges { label: after.quilt.label.to_owned(), changes });
    }
    let only = |these: &[EditionOf<'_>], those: &[EditionOf<'_>]| -> Vec<String> {
        let missing = these.iter().filter(|one| those.iter().all(|other| other.quilt.label != one.quilt.label));
        missing.map(|one| one.quilt.label.to_owned()).collect()
    };
    let called = |mark: &str, age: &str| {
        if mark.is_empty() { format!("{age} edition") } else { format!("{mark} ({age})") }
    };
    let (added, removed) = (only(new, old), only(old, new));
    Ok(Editions {
        about: about.clone(),
        old: called(edition, "old"),
        new: called(&about.edition, "new"),
        summary: summary(&variants, &added, &removed),
        added,
        removed,
        variants,
    })
}

fn summary(variants: &[VariantChanges], added: &[String], removed: &[String]) -> Vec<String> {
    let changed: usize = variants.iter().map(|variant| variant.changes.len()).sum();
    let mut lines = vec![match changed {
        0 if variants.is_empty() => "The editions have no variant in common.".to_owned(),
        0 => "No figure changed.".to_owned(),
        1 => "1 figure changed.".to_owned(),
        changed => format!("{changed} figures changed."),
    }];
    let listed = |labels: &[String], what: &str| {
        let count = counted(labels.len() as u64, "variant", "variants");
        (!labels.is_empty()).then(|| format!("{count} {what}: {}.", labels.join(", ")))
    };
    lines.extend(listed(added, "only in the new edition"));
    lines.extend(listed(removed, "only in the old edition"));
    lines
}

impl Editions {
    /// Whether a figure changed, or a variant came or went.
    #[must_use]
    pub fn differ(&self) -> bool {
        let changed = self.variants.iter().any(|variant| !variant.changes.is_empty());
        changed || !self.added.is_empty() || !self.removed.is_empty()
    }

    /// The changes on paper.
    ///
    /// # Errors
    /// [`PublishError::Typeset`]; a defect.
    pub fn pages(&self) -> Result<Pages, PublishError> {
        typeset("editions.typ", self, &Figures::default())
    }
}

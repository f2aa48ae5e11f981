//! What a user sets once for all quilts: look, text size, panel widths, recent files.

use std::path::{Path, PathBuf};

use etcetera::BaseStrategy as _;
use layout::Overwrite;
use piecing::CuttingHand;
use piecing::simulate::{Errors, Inches};
use publish::Paper;
use publish::kit::WorkMinutes;
use serde::{Deserialize, Serialize};

use super::sewing::Habits;

/// How many recent files are kept.
const MAX_RECENT: usize = 8;

/// The least and the greatest text scale, in hundredths.
const TEXT_SCALES: std::ops::RangeInclusive<u16> = 80..=200;

/// The largest settings file that is read, in bytes.
const MAX_BYTES: u64 = 1 << 16;

/// Settings of one user.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Settings {
    /// Whether the dark look is on.
    pub dark: bool,
    /// Text size in hundredths of the usual one.
    pub text_percent: u16,
    /// Width of the totals panel in points.
    pub totals_width: u16,
    /// Whether the cutter is in the left hand.
    pub left_handed: bool,
    /// What the user's own cutting and sewing is off by.
    pub errors: SewingErrors,
    /// The paper that documents are set on; that of the quilt's units when none was chosen.
    pub paper: Option<Paper>,
    /// How long each kind of work takes in the user's classes.
    pub minutes: WorkMinutes,
    /// The bed that was chosen last, by what it is asked for.
    pub bed: String,
    /// Files opened or saved lately, newest first.
    pub recent: Vec<PathBuf>,
}

/// Errors of cutting and sewing in 128ths of an inch, as measured on a test block.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct SewingErrors {
    /// By how much seams are too deep on average; negative for scant seams.
    pub seam_mean: i16,
    /// By how much seams vary.
    pub seam_spread: i16,
    /// By how much the ends of a seam differ.
    pub taper: i16,
    /// By how much cuts vary.
    pub cut_spread: i16,
    /// What a fold takes.
    pub fold: i16,
    /// By how much that varies.
    pub fold_spread: i16,
}

/// The usual ones of the simulation, which a test holds these to.
impl Default for SewingErrors {
    fn default() -> Self {
        Self { seam_mean: 0, seam_spread: 2, taper: 2, cut_spread: 2, fold: 2, fold_spread: 1 }
    }
}

impl SewingErrors {
    /// Parts of an inch that errors are counted in.
    pub const PER_INCH: u32 = 128;

    /// The largest error: a quarter of an inch.
    pub const MOST: i16 = 32;

    /// The same within bounds: only the mean of seams may be negative.
    #[must_use]
    pub fn bounded(self) -> Self {
        let spread = |error: i16| error.clamp(0, Self::MOST);
        Self {
            seam_mean: self.seam_mean.clamp(-Self::MOST, Self::MOST),
            seam_spread: spread(self.seam_spread),
            taper: spread(self.taper),
            cut_spread: spread(self.cut_spread),
            fold: spread(self.fold),
            fold_spread: spread(self.fold_spread),
        }
    }

    /// As the simulation takes them.
    #[must_use]
    pub fn inches(self) -> Errors {
        let inches = |error: i16| Inches::fraction(error.into(), Self::PER_INCH);
        Errors {
            seam_mean: inches(self.seam_mean),
            seam_spread: inches(self.seam_spread),
            taper_spread: inches(self.taper),
            cut_spread: inches(self.cut_spread),
            pressing_loss_mean: inches(self.fold),
            pressing_loss_spread: inches(self.fold_spread),
        }
    }
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            dark: false,
            text_percent: 100,
            totals_width: 320,
            left_handed: false,
            errors: SewingErrors::default(),
            paper: None,
            minutes: WorkMinutes::default(),
            bed: String::new(),
            recent: Vec::new(),
        }
    }
}

impl Settings {
    /// Where they are kept, if the system has such a place.
    #[must_use]
    pub fn path() -> Option<PathBuf> {
        let strategy = etcetera::choose_base_strategy().ok()?;
        Some(strategy.config_dir().join("lozenge").join("settings.json"))
    }

    /// Reads them; a file that is missing or damaged gives the usual ones.
    #[must_use]
    pub fn read(path: &Path) -> Self {
        let small = std::fs::metadata(path).is_ok_and(|data| data.len() <= MAX_BYTES);
        let text = if small { std::fs::read(path).unwrap_or_default() } else { Vec::new() };
        let mut settings: Self = serde_json::from_slice(&text).unwrap_or_default();
        settings.text_percent = settings.text_percent.clamp(*TEXT_SCALES.start(), *TEXT_SCALES.end());
        settings.totals_width = settings.totals_width.clamp(240, 600);
        settings.recent.truncate(MAX_RECENT);
        settings.errors = settings.errors.bounded();
        settings
    }

    /// The hand that cuts.
    #[must_use]
    pub const fn hand(&self) -> CuttingHand {
        if self.left_handed { CuttingHand::Left } else { CuttingHand::Right }
    }

    /// What sewing is worked out by.
    #[must_use]
    pub(crate) const fn habits(&self) -> Habits {
        Habits { hand: self.hand(), errors: self.errors }
    }

    /// Writes them.
    ///
    /// # Errors
    /// In words, when they cannot be saved.
    pub fn write(&self, path: &Path) -> Result<(), String> {
        let text = serde_json::to_vec_pretty(self).map_err(|e| e.to_string())?;
        if let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder).map_err(|e| e.to_string())?;
        }
        layout::save(path, &text, Overwrite::Replace).map_err(|e| e.to_string())
    }

    /// Makes text larger or smaller by a step.
    pub fn scale_text(&mut self, larger: bool) {
        let next = if larger { self.text_percent + 10 } else { self.text_percent.saturating_sub(10) };
        self.text_percent = next.clamp(*TEXT_SCALES.start(), *TEXT_SCALES.end());
    }

    /// Puts a file at the head of the recent ones.
    pub fn remember(&mut self, path: &Path) {
        self.recent.retain(|p| p != path);
        self.recent.insert(0, path.to_path_buf());
        self.recent.truncate(MAX_RECENT);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_errors_are_those_of_the_simulation() {
        assert_eq!(SewingErrors::default().inches(), Errors::default());
        let wild = SewingErrors { seam_mean: -900, seam_spread: -3, taper: 900, ..SewingErrors::default() };
        let bounded = wild.bounded();
        assert_eq!((bounded.seam_mean, bounded.seam_spread, bounded.taper), (-32, 0, 32));
        assert!(bounded.inches().check().is_ok());
    }
}

//! What a user sets once for all quilts: look, text size, panel widths, recent files.

use std::path::{Path, PathBuf};

use etcetera::BaseStrategy as _;
use layout::Overwrite;
use piecing::CuttingHand;
use serde::{Deserialize, Serialize};

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
    /// Files opened or saved lately, newest first.
    pub recent: Vec<PathBuf>,
}

impl Default for Settings {
    fn default() -> Self {
        Self { dark: false, text_percent: 100, totals_width: 320, left_handed: false, recent: Vec::new() }
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
        settings
    }

    /// The hand that cuts.
    #[must_use]
    pub const fn hand(&self) -> CuttingHand {
        if self.left_handed { CuttingHand::Left } else { CuttingHand::Right }
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

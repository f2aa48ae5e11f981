//! How long each kind of work takes: figures for the teacher to edit.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::class::ClassFault;

/// A length of time in hundredths of a minute, so that sums are exact.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Minutes(pub u64);

impl Minutes {
    /// Whole minutes.
    #[must_use]
    pub const fn whole(minutes: u64) -> Self {
        Self(minutes * 100)
    }

    /// As many times as long.
    #[must_use]
    pub const fn times(self, count: u64) -> Self {
        Self(self.0.saturating_mul(count))
    }

    /// One after the other.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }

    /// To the nearest whole minute.
    #[must_use]
    pub const fn rounded(self) -> u64 {
        (self.0 + 50) / 100
    }

    /// In minutes; exact to the hundredth.
    #[must_use]
    pub fn in_minutes(self) -> f64 {
        // A time of work is far below 2⁵³ hundredths.
        self.0 as f64 / 100.0
    }
}

/// Writes `0:05`, `2:30`: hours and minutes, to the nearest minute.
impl fmt::Display for Minutes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let minutes = self.rounded();
        write!(f, "{}:{:02}", minutes / 60, minutes % 60)
    }
}

impl Serialize for Minutes {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64(self.in_minutes())
    }
}

/// The most that a field may say, in minutes.
pub const MOST_MINUTES: f64 = 720.0;

/// A number of minutes with at most two decimals, 0 to [`MOST_MINUTES`].
impl<'de> Deserialize<'de> for Minutes {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let minutes = f64::deserialize(deserializer)?;
        let hundredths = (minutes * 100.0).round();
        let exact = (minutes * 100.0 - hundredths).abs() < 1e-6;
        if !(0.0..=MOST_MINUTES).contains(&minutes) || !exact {
            let told =
                format!("{minutes} is no time of work; give 0 to {MOST_MINUTES} minutes with at most two decimals");
            return Err(serde::de::Error::custom(told));
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "within the range just checked")]
        Ok(Self(hundredths as u64))
    }
}

/// Minutes for each kind of work, and for the class. What is left out of a file has its usual value (common practice, no
/// source).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct WorkMinutes {
    /// One strip cut across the fabric, squared up and put into its bag.
    pub cut_strip: Minutes,
    /// One more cut that takes a piece from a strip.
    pub cut_piece: Minutes,
    /// One seam of a unit, pieces matched and sewn.
    pub sew_seam: Minutes,
    /// One turn about the needle where a seam is set in, beyond the seam.
    pub set_in: Minutes,
    /// One seam pressed.
    pub press_seam: Minutes,
    /// One unit trimmed on all its edges.
    pub trim_unit: Minutes,
    /// One seam that joins blocks, rows or borders, pinned and sewn.
    pub join_seam: Minutes,
    /// A session of the class.
    pub session: Minutes,
    /// What the first session begins with: welcome, tools, safety, fabrics.
    pub welcome: Minutes,
    /// Work without a break.
    pub break_after: Minutes,
    /// A break.
    #[serde(rename = "break")]
    pub pause: Minutes,
}

impl Default for WorkMinutes {
    fn default() -> Self {
        Self {
            cut_strip: Minutes::whole(1),
            cut_piece: Minutes(25),
            sew_seam: Minutes::whole(1),
            set_in: Minutes::whole(3),
            press_seam: Minutes(50),
            trim_unit: Minutes(75),
            join_seam: Minutes::whole(4),
            session: Minutes::whole(180),
            welcome: Minutes::whole(15),
            break_after: Minutes::whole(80),
            pause: Minutes::whole(15),
        }
    }
}

impl WorkMinutes {
    /// Checks that a class can be held like this.
    ///
    /// # Errors
    /// [`ClassFault::Minutes`]: a session shorter than half an hour, a welcome that fills it, or breaks without work between
    /// them.
    pub fn checked(self) -> Result<Self, ClassFault> {
        let fault = |name, why: &str| Err(ClassFault::Minutes { name, why: why.to_owned() });
        if self.session < Minutes::whole(30) {
            return fault("session", "a session of a class has at least 30 minutes; give more");
        }
        if self.welcome.and(Minutes::whole(10)) > self.session {
            return fault("welcome", "the welcome fills the first session; leave at least 10 minutes for work");
        }
        if self.break_after < Minutes::whole(10) {
            return fault("break_after", "leave at least 10 minutes of work between breaks");
        }
        Ok(self)
    }

    /// What each field is about, in words, with its minutes; the times of work, then those of the class.
    #[must_use]
    pub fn told(&self) -> [(&'static str, Minutes); 11] {
        [
            ("cutting a strip across the fabric (ahead of the class)", self.cut_strip),
            ("each further cut, pieces from strips", self.cut_piece),
            ("sewing a seam of a unit", self.sew_seam),
            ("each turn about the needle in a set-in seam, more", self.set_in),
            ("pressing a seam", self.press_seam),
            ("trimming a unit", self.trim_unit),
            ("a seam between blocks, rows or borders, pinned and sewn", self.join_seam),
            ("a session", self.session),
            ("welcome, tools and safety", self.welcome),
            ("work before a break", self.break_after),
            ("a break", self.pause),
        ]
    }
}

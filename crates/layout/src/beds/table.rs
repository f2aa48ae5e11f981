//! Beds and where their sizes come from. Mattresses differ from maker to maker: whoever has the bed measures it.

use geometry::Exact;

use super::target::{Drops, Target};
use crate::finishing::Units;

/// Where a size comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// Published there.
    Published(&'static str),
    /// What the trade does; no source.
    CommonPractice,
}

impl Origin {
    /// The words for it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Published(source) => source,
            Self::CommonPractice => "common practice, no source",
        }
    }
}

/// What must be said beside a size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Caution {
    /// Where a baby may sleep.
    SafeSleep,
}

impl Caution {
    /// The words for it. The advice is that of the U.S. Consumer Product Safety Commission, the American Academy of
    /// Pediatrics and the National Institute of Child Health and Human Development, release of 8 April 1999.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::SafeSleep => {
                "Safe sleep: no quilt, pillow or other soft bedding in a crib where a baby under 12 months sleeps (advice \
                 of the U.S. Consumer Product Safety Commission); follow local advice."
            }
        }
    }
}

/// A bed, or a size without one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bed {
    /// What it is asked for by, such as `twin-xl`.
    pub id: &'static str,
    /// Its name.
    pub name: &'static str,
    /// Units in which its size is given.
    pub units: Units,
    /// Width of the mattress, in 64ths of an inch or in millimetres.
    width: i64,
    /// Length of the mattress, likewise.
    length: i64,
    /// Whether it is a mattress, from which a quilt hangs down.
    pub mattress: bool,
    /// Where its size comes from.
    pub origin: Origin,
    /// What must be said beside it.
    pub caution: Option<Caution>,
}

impl Bed {
    /// Width and length in inches.
    #[must_use]
    pub fn size(&self) -> (Exact, Exact) {
        let (num, den) = match self.units {
            Units::Inches => (1, 64),
            Units::Centimetres => (5, 127),
        };
        let inches = |n: i64| Exact::ratio(n * num, den).unwrap_or_default();
        (inches(self.width), inches(self.length))
    }

    /// The bed with usual drops: 14 in (35 cm) at the sides and the foot, none at the head, and 10 in (25 cm) tucked
    /// under the pillows (common practice, no source); a crib, and what is no mattress, as it is.
    #[must_use]
    pub fn target(&self) -> Target {
        let (width, length) = self.size();
        let plain = Target::plain(width, length);
        if !self.mattress || self.caution.is_some() {
            return plain;
        }
        let (drop, tuck) = match self.units {
            Units::Inches => (Exact::int(14), Exact::int(10)),
            Units::Centimetres => {
                (Exact::ratio(350 * 5, 127).unwrap_or_default(), Exact::ratio(250 * 5, 127).unwrap_or_default())
            }
        };
        let drops = Drops { left: drop.clone(), right: drop.clone(), foot: drop, head: Exact::ZERO };
        Target { drops, tuck, ..plain }
    }
}

/// The bed that is asked for by `id`.
#[must_use]
pub fn bed(id: &str) -> Option<&'static Bed> {
    BEDS.iter().find(|bed| bed.id == id)
}

const CRIB: Origin = Origin::Published(
    "16 CFR 1217 by ASTM F1821: a full-size crib mattress is at least 27 1/4 × 51 5/8 in (690 × 1310 mm)",
);

const US: Origin = Origin::Published("sleep.org, \"Mattress Sizes\", table of the National Sleep Foundation");

/// The same page for each: it names these sizes, or widths of 80 to 200 cm and lengths of 190 to 220 cm.
const METRIC: Origin = Origin::Published(
    "hausjournal.net, \"Bettlaken-Größen\": mattresses are 80 to 200 cm wide and 190 to 220 cm long, sold by their size",
);

const SOUTHERN: Origin = Origin::Published("bedsizes.biz, \"European Bed Sizes\": single beds");

/// All beds, then sizes without one.
pub const BEDS: &[Bed] = &[
    crib("crib", "Crib"),
    crib("toddler", "Toddler bed"),
    inches("twin", "Twin", 38, 75, US),
    inches("twin-xl", "Twin XL", 38, 80, US),
    inches("full", "Full", 54, 75, US),
    inches("queen", "Queen", 60, 80, US),
    inches("king", "King", 76, 80, US),
    inches("california-king", "California king", 72, 84, US),
    centimetres("80x200", "80 × 200 cm", 80, 200, SOUTHERN),
    centimetres("90x190", "90 × 190 cm", 90, 190, SOUTHERN),
    centimetres("90x200", "90 × 200 cm", 90, 200, METRIC),
    centimetres("100x200", "100 × 200 cm", 100, 200, METRIC),
    centimetres("120x200", "120 × 200 cm", 120, 200, METRIC),
    centimetres("140x200", "140 × 200 cm", 140, 200, METRIC),
    centimetres("160x200", "160 × 200 cm", 160, 200, METRIC),
    centimetres("180x200", "180 × 200 cm", 180, 200, METRIC),
    centimetres("200x200", "200 × 200 cm", 200, 200, METRIC),
    plain("wall", "Wall hanging", 40, 40),
    plain("lap", "Lap quilt", 48, 60),
    plain("throw", "Throw", 60, 72),
];

const fn crib(id: &'static str, name: &'static str) -> Bed {
    // 27¼ × 51⅝ in.
    let (width, length) = (27 * 64 + 16, 51 * 64 + 40);
    let caution = Some(Caution::SafeSleep);
    Bed { id, name, units: Units::Inches, width, length, mattress: true, origin: CRIB, caution }
}

const fn inches(id: &'static str, name: &'static str, width: i64, length: i64, origin: Origin) -> Bed {
    let (width, length) = (width * 64, length * 64);
    Bed { id, name, units: Units::Inches, width, length, mattress: true, origin, caution: None }
}

const fn centimetres(id: &'static str, name: &'static str, width: i64, length: i64, origin: Origin) -> Bed {
    let (width, length) = (width * 10, length * 10);
    Bed { id, name, units: Units::Centimetres, width, length, mattress: true, origin, caution: None }
}

const fn plain(id: &'static str, name: &'static str, width: i64, length: i64) -> Bed {
    Bed { mattress: false, ..inches(id, name, width, length, Origin::CommonPractice) }
}

//! Kits for a class: what every student gets, what to cut ahead and buy, labels for the bags, times, and a handout.
//!
//! Everything follows from the cutting plans and plans of sewing of the variants that are taken, the same that `cut` and
//! `sew` tell, times the kits. [`ClassKit`] is all of it as figures; [`teacher_pages`], [`label_pages`] and
//! [`handout_pages`] set the pages.

mod bundles;
mod class;
mod handout;
mod labels;
mod minutes;
mod purchases;
mod teacher;
mod timetable;
mod timing;

use piecing::QuiltPlan;

use crate::hatch::Hatching;
use crate::lengths::about_size;
use crate::{Offered, PublishError};

pub use self::bundles::{Bundle, Owner, strips_words};
pub use self::class::{ClassFault, ClassOrder, MAX_SPARE_KITS, MAX_SPARE_PERCENT, MAX_STUDENTS, Reserve, Share};
pub use self::handout::{HANDOUT_POINTS, handout_pages};
pub use self::labels::{MAX_LABELS, label_pages};
pub use self::minutes::{MOST_MINUTES, Minutes, WorkMinutes};
pub use self::purchases::{ClassFabric, Taker, without_what_is_at_hand};
pub use self::teacher::teacher_pages;
pub use self::timetable::{Entry, MAX_SESSIONS, Session, Timetable};
pub use self::timing::{Task, Timing};

/// A variant that students take, planned.
#[derive(Debug, Clone, Copy)]
pub struct Taken<'a> {
    /// The variant with its cutting plans; its design has nothing at hand, see [`without_what_is_at_hand`].
    pub offered: Offered<'a>,
    /// How it is sewn.
    pub sewing: &'a QuiltPlan,
    /// How many take it.
    pub share: Share,
}

/// Kits of one variant.
#[derive(Debug, Clone)]
pub struct ClassQuilt<'a> {
    /// The variant with its plans.
    pub taken: Taken<'a>,
    /// Whose the kits are.
    pub owners: Vec<Owner>,
    /// What one kit holds.
    pub bundles: Vec<Bundle>,
    /// How long the quilt takes.
    pub timing: Timing,
    /// The hatches of its fabrics.
    hatching: Hatching,
}

impl ClassQuilt<'_> {
    /// Kits in all.
    #[must_use]
    pub const fn kits(&self) -> u64 {
        self.taken.share.kits()
    }

    /// "43″ × 52″".
    fn size(&self) -> String {
        let (width, height) = self.taken.offered.design.finished_size();
        about_size(&width, &height, self.taken.offered.design.units())
    }
}

/// Everything about the kits of a class.
#[derive(Debug, Clone)]
pub struct ClassKit<'a> {
    /// The variants that are taken.
    pub quilts: Vec<ClassQuilt<'a>>,
    /// What to buy.
    pub fabrics: Vec<ClassFabric>,
    /// The minutes of each kind of work.
    pub minutes: WorkMinutes,
    /// The timetable, for the variant that takes longest.
    pub timetable: Timetable,
}

impl<'a> ClassKit<'a> {
    /// The kits of a class. Students and spare kits are numbered through all variants.
    ///
    /// # Errors
    /// A fabric that cannot be cut ([`PublishError::Uncut`]), or minutes that cannot be ([`PublishError::Class`]).
    pub fn new(taken: &[Taken<'a>], minutes: WorkMinutes) -> Result<Self, PublishError> {
        let minutes = minutes.checked()?;
        let (mut students, mut spares) = (0, 0);
        let mut quilts = Vec::new();
        for taken in taken {
            let share = taken.share;
            let of_students = (1..=u64::from(share.students)).map(|number| Owner::Student(students + number));
            let of_reserve = (1..=u64::from(share.spare)).map(|number| Owner::Spare(spares + number));
            let offered = &taken.offered;
            quilts.push(ClassQuilt {
                taken: *taken,
                owners: of_students.chain(of_reserve).collect(),
                bundles: bundles::bundles(offered)?,
                timing: Timing::new(offered.design, &offered.made()?, taken.sewing, &minutes)?,
                hatching: Hatching::new(offered.design),
            });
            students += u64::from(share.students);
            spares += u64::from(share.spare);
        }
        let kits: Vec<(Offered<'_>, u64)> = taken.iter().map(|t| (t.offered, t.share.kits())).collect();
        let slowest = quilts.iter().map(|quilt| &quilt.timing).max_by_key(|timing| timing.total);
        let timetable = Timetable::new(slowest.map_or(&[], |timing| &timing.tasks), &minutes);
        Ok(Self { fabrics: purchases::purchases(&kits)?, quilts, minutes, timetable })
    }

    /// Students in all.
    #[must_use]
    pub fn students(&self) -> u64 {
        self.quilts.iter().map(|quilt| u64::from(quilt.taken.share.students)).sum()
    }

    /// Kits in all.
    #[must_use]
    pub fn kits(&self) -> u64 {
        self.quilts.iter().map(ClassQuilt::kits).sum()
    }

    /// Bags in all, and so labels.
    #[must_use]
    pub fn bags(&self) -> u64 {
        self.quilts.iter().map(|quilt| quilt.kits() * quilt.bundles.len() as u64).sum()
    }

    /// Whether several variants are taken, so that each is to be named.
    const fn is_mixed(&self) -> bool {
        self.quilts.len() > 1
    }
}

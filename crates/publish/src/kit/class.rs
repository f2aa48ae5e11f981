//! Who takes what in a class: students, the variants they take, and the reserve.

use thiserror::Error;

/// The most students of a class.
pub const MAX_STUDENTS: u16 = 200;
/// The most spare kits of each variant.
pub const MAX_SPARE_KITS: u16 = 50;
/// The most spare kits in hundredths of the students.
pub const MAX_SPARE_PERCENT: u16 = 100;

/// Spare kits for what goes wrong in class, for each variant that is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reserve {
    /// So many kits of each variant.
    Kits(u16),
    /// So many hundredths of the students who take a variant, rounded up to whole kits.
    Percent(u16),
}

/// What a class needs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClassOrder {
    /// How many students, 1 to [`MAX_STUDENTS`].
    pub students: u16,
    /// How many of them take which variant, by its label; all take the first variant when it is empty.
    pub takes: Vec<(String, u16)>,
    /// Spare kits.
    pub reserve: Reserve,
}

/// A variant of the quilt that someone takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Share {
    /// Which variant, from 0.
    pub variant: usize,
    /// How many students take it.
    pub students: u16,
    /// Spare kits of it.
    pub spare: u16,
}

impl Share {
    /// Kits in all.
    #[must_use]
    pub const fn kits(&self) -> u64 {
        self.students as u64 + self.spare as u64
    }
}

/// Why no kits can be made up for a class.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum ClassFault {
    /// No students, or more than a class has.
    #[error("a class has 1 to {MAX_STUDENTS} students, not {0}; give that number, or split the class")]
    Students(u16),
    /// A variant that is not in the file.
    #[error("there is no variant \"{wanted}\" to take; the file has: {has}")]
    UnknownVariant {
        /// The label asked for.
        wanted: String,
        /// The labels there are.
        has: String,
    },
    /// A variant named twice.
    #[error("the variant \"{0}\" is taken twice; give its number once")]
    TakenTwice(String),
    /// The numbers do not add up.
    #[error("{taken} kits are taken, and the class has {students} students; let the numbers add up")]
    Sum {
        /// How many students the class has.
        students: u16,
        /// How many take a variant.
        taken: u32,
    },
    /// More reserve than is sensible.
    #[error("the reserve is 0 to {MAX_SPARE_KITS} kits of each variant, or 0 to {MAX_SPARE_PERCENT} %; give less")]
    Reserve,
    /// Minutes that cannot be.
    #[error("\"{name}\": {why}")]
    Minutes {
        /// Which field.
        name: &'static str,
        /// What is wrong and what to do.
        why: String,
    },
    /// More labels than anyone cuts apart.
    #[error("the bags would take {labels} labels, more than {limit}; make them for fewer students at a time")]
    Labels {
        /// How many.
        labels: u64,
        /// The most.
        limit: u64,
    },
}

impl ClassOrder {
    /// Who takes which of the variants with these labels, in their order; variants that nobody takes are left out.
    ///
    /// # Errors
    /// [`ClassFault`]: too few or too many students, a label that is not there or named twice, numbers that do not add up
    /// to the students, or too large a reserve.
    pub fn shares(&self, labels: &[&str]) -> Result<Vec<Share>, ClassFault> {
        if !(1..=MAX_STUDENTS).contains(&self.students) {
            return Err(ClassFault::Students(self.students));
        }
        let taken = self.taken(labels)?;
        let shared = taken.iter().map(|students| u32::from(*students)).sum();
        if shared != u32::from(self.students) {
            return Err(ClassFault::Sum { students: self.students, taken: shared });
        }
        let shares = taken.into_iter().enumerate().filter(|(_, students)| *students > 0);
        shares.map(|(variant, students)| Ok(Share { variant, students, spare: self.reserve.kits(students)? })).collect()
    }

    /// How many students take each variant.
    fn taken(&self, labels: &[&str]) -> Result<Vec<u16>, ClassFault> {
        let mut taken: Vec<Option<u16>> = vec![None; labels.len()];
        for (label, students) in &self.takes {
            let place = labels.iter().position(|known| known == label).and_then(|index| taken.get_mut(index));
            let Some(place) = place else {
                return Err(ClassFault::UnknownVariant { wanted: label.clone(), has: labels.join(", ") });
            };
            if place.replace(*students).is_some() {
                return Err(ClassFault::TakenTwice(label.clone()));
            }
        }
        if self.takes.is_empty()
            && let Some(first) = taken.first_mut()
        {
            *first = Some(self.students);
        }
        Ok(taken.into_iter().map(Option::unwrap_or_default).collect())
    }
}

impl Reserve {
    /// Spare kits for so many students.
    fn kits(self, students: u16) -> Result<u16, ClassFault> {
        match self {
            Self::Kits(kits) if kits <= MAX_SPARE_KITS => Ok(kits),
            Self::Percent(percent) if percent <= MAX_SPARE_PERCENT => Ok((students * percent).div_ceil(100)),
            Self::Kits(_) | Self::Percent(_) => Err(ClassFault::Reserve),
        }
    }
}

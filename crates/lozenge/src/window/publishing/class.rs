//! A class that makes the quilt: who takes which variant, and the spare kits.

use std::collections::BTreeMap;

use publish::kit::{ClassFault, ClassOrder, Reserve, Share};

/// A class.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Class {
    /// How many students, as long as nobody said who takes what: all take the variant that is open.
    pub students: u16,
    /// How many students take which variant, by its label. Labels that the quilt does not have count for nothing.
    pub takes: BTreeMap<String, u16>,
    /// Spare kits of each variant that is taken.
    pub reserve: Reserve,
}

/// A small class, and a kit for what goes wrong.
impl Default for Class {
    fn default() -> Self {
        Self { students: 8, takes: BTreeMap::new(), reserve: Reserve::Kits(1) }
    }
}

impl Class {
    /// How many students take each of the variants with these labels, of which the one with this number is open.
    #[must_use]
    pub fn taken(&self, labels: &[&str], open: usize) -> Vec<u16> {
        if labels.iter().any(|label| self.takes.contains_key(*label)) {
            return labels.iter().map(|label| self.takes.get(*label).copied().unwrap_or(0)).collect();
        }
        (0..labels.len()).map(|number| if number == open { self.students } else { 0 }).collect()
    }

    /// The same class with so many students for the variant of this number.
    #[must_use]
    pub fn with(&self, labels: &[&str], open: usize, number: usize, students: u16) -> Self {
        if labels.len() == 1 {
            return Self { students, takes: BTreeMap::new(), reserve: self.reserve };
        }
        let mut taken = self.taken(labels, open);
        if let Some(of_variant) = taken.get_mut(number) {
            *of_variant = students;
        }
        let takes = labels.iter().map(|label| (*label).to_owned()).zip(taken).collect();
        Self { takes, ..self.clone() }
    }

    /// Who takes which of the variants, with the spare kits.
    ///
    /// # Errors
    /// [`ClassFault`]: too few or too many students, or too large a reserve.
    pub fn shares(&self, labels: &[&str], open: usize) -> Result<Vec<Share>, ClassFault> {
        let taken = self.taken(labels, open);
        let sum = taken.iter().fold(0_u16, |sum, students| sum.saturating_add(*students));
        let takes = labels.iter().map(|label| (*label).to_owned()).zip(taken).collect();
        ClassOrder { students: sum, takes, reserve: self.reserve }.shares(labels)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LABELS: [&str; 3] = ["Dusk", "Noon", "Dawn"];

    #[test]
    fn all_take_the_open_variant_until_it_is_said_who_takes_what() {
        let class = Class::default();
        assert_eq!(class.taken(&LABELS, 1), [0, 8, 0]);
        let mixed = class.with(&LABELS, 1, 0, 3);
        assert_eq!(mixed.taken(&LABELS, 1), [3, 8, 0]);
        assert_eq!(mixed.taken(&LABELS, 2), [3, 8, 0], "whichever is open");
        let shares = mixed.shares(&LABELS, 1).unwrap();
        let told: Vec<_> = shares.iter().map(|share| (share.variant, share.students, share.spare)).collect();
        assert_eq!(told, [(0, 3, 1), (1, 8, 1)]);
        assert_eq!(mixed.taken(&["Other"], 0), [8], "another quilt has other variants");
        assert_eq!(class.with(&["Only"], 0, 0, 12).taken(&["Renamed"], 0), [12]);
    }

    #[test]
    fn a_class_without_students_is_refused() {
        let none = Class::default().with(&LABELS, 0, 0, 0);
        assert_eq!(none.shares(&LABELS, 0), Err(ClassFault::Students(0)));
        let many = none.with(&LABELS, 0, 1, u16::MAX).with(&LABELS, 0, 2, u16::MAX);
        assert_eq!(many.shares(&LABELS, 0), Err(ClassFault::Students(u16::MAX)));
    }
}

//! Operators, by value and by reference.

use super::{Exact, Repr};
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, MulAssign, Neg, Sub, SubAssign};

impl Neg for &Exact {
    type Output = Exact;

    fn neg(self) -> Exact {
        Exact(match &self.0 {
            Repr::Small(small) => Repr::Small(small.neg()),
            Repr::Big(big) => Repr::Big(Box::new(big.neg())),
        })
    }
}

impl Neg for Exact {
    type Output = Self;

    fn neg(self) -> Self {
        -&self
    }
}

impl Add for &Exact {
    type Output = Exact;

    fn add(self, other: &Exact) -> Exact {
        match (&self.0, &other.0) {
            (Repr::Small(a), Repr::Small(b)) => a.add(b),
            _ => self.widen().add(&other.widen()),
        }
    }
}

impl Sub for &Exact {
    type Output = Exact;

    fn sub(self, other: &Exact) -> Exact {
        match (&self.0, &other.0) {
            (Repr::Small(a), Repr::Small(b)) => a.add(&b.neg()),
            _ => self.widen().add(&other.widen().neg()),
        }
    }
}

impl Mul for &Exact {
    type Output = Exact;

    fn mul(self, other: &Exact) -> Exact {
        match (&self.0, &other.0) {
            (Repr::Small(a), Repr::Small(b)) => a.mul(b),
            _ => self.widen().mul(&other.widen()),
        }
    }
}

/// The remaining mixes of value and reference, and the assigning form.
macro_rules! by_value {
    ($op:ident $method:ident, $assign:ident $assign_method:ident) => {
        impl $op for Exact {
            type Output = Exact;

            fn $method(self, other: Exact) -> Exact {
                $op::$method(&self, &other)
            }
        }

        impl $op<&Exact> for Exact {
            type Output = Exact;

            fn $method(self, other: &Exact) -> Exact {
                $op::$method(&self, other)
            }
        }

        impl $op<Exact> for &Exact {
            type Output = Exact;

            fn $method(self, other: Exact) -> Exact {
                $op::$method(self, &other)
            }
        }

        impl $assign<&Exact> for Exact {
            fn $assign_method(&mut self, other: &Exact) {
                *self = $op::$method(&*self, other);
            }
        }

        impl $assign for Exact {
            fn $assign_method(&mut self, other: Exact) {
                *self = $op::$method(&*self, &other);
            }
        }
    };
}

by_value!(Add add, AddAssign add_assign);
by_value!(Sub sub, SubAssign sub_assign);
by_value!(Mul mul, MulAssign mul_assign);

impl Sum for Exact {
    fn sum<I: Iterator<Item = Self>>(terms: I) -> Self {
        terms.fold(Self::ZERO, |total, term| total + term)
    }
}

impl<'a> Sum<&'a Exact> for Exact {
    fn sum<I: Iterator<Item = &'a Exact>>(terms: I) -> Self {
        terms.fold(Self::ZERO, |total, term| total + term)
    }
}

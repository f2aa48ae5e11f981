//! Lozenge.

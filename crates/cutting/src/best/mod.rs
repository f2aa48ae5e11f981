//! Optimised plans: strips chosen and filled so that the fabric is nearly the least possible.

//! Cosines and sines of multiples of 15°.

use super::small::Small;
use super::{Exact, Repr};

/// cos(steps · 15°), exactly.
#[must_use]
pub fn cos15(steps: i32) -> Exact {
    // cos is even and symmetric about 180°: fold into 0..=12 steps, then into 0..=6 with a sign.
    let turn = steps.rem_euclid(24);
    let half_turn = turn.min(24 - turn);
    let (num, den) = match half_turn.min(12 - half_turn) {
        0 => ([1, 0, 0, 0], 1),
        1 => ([0, 1, 0, 1], 4),
        2 => ([0, 0, 1, 0], 2),
        3 => ([0, 1, 0, 0], 2),
        4 => ([1, 0, 0, 0], 2),
        5 => ([0, -1, 0, 1], 4),
        _ => ([0, 0, 0, 0], 1),
    };
    let sign = if half_turn > 6 { -1 } else { 1 };
    Exact(Repr::Small(Small { num: num.map(|n: i64| sign * n), den }))
}

/// sin(steps · 15°), exactly.
#[must_use]
pub fn sin15(steps: i32) -> Exact {
    // sin α = cos(α − 90°), taken modulo a full turn first so that no step count overflows.
    cos15(steps.rem_euclid(24) - 6)
}

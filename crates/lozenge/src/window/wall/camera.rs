//! Which part of the wall is in view.
//!
//! The wall has the quilt's inches, y up, origin at its lower left corner; the screen has points, y down.

/// The least and the greatest scale, in screen points an inch.
const SCALES: std::ops::RangeInclusive<f64> = 0.05..=2000.0;

/// Screen points an inch at "100 %": the size that a print at 72 points an inch has.
const ACTUAL_SIZE: f64 = 72.0;

/// Room left round the quilt when it is fitted, as a share of the view.
const MARGIN: f64 = 0.06;

/// A view of the wall: what is in the middle, and how large.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Camera {
    /// The wall's point in the middle of the view, in inches.
    pub centre: [f64; 2],
    /// Screen points an inch.
    pub scale: f64,
}

impl Camera {
    /// The whole of a quilt of `size` inches in a view of `view` points.
    #[must_use]
    pub fn fit(size: [f64; 2], view: [f64; 2]) -> Self {
        let room = 1.0 - 2.0 * MARGIN;
        let scale = (view[0] * room / size[0].max(1e-6)).min(view[1] * room / size[1].max(1e-6));
        Self { centre: [size[0] / 2.0, size[1] / 2.0], scale: scale.clamp(*SCALES.start(), *SCALES.end()) }
    }

    /// The same middle at actual size.
    #[must_use]
    pub const fn actual_size(self) -> Self {
        Self { scale: ACTUAL_SIZE, ..self }
    }

    /// How large it is shown, 1 for actual size.
    #[must_use]
    pub fn zoom(&self) -> f64 {
        self.scale / ACTUAL_SIZE
    }

    /// Screen point of a wall point, in a view with this middle.
    #[must_use]
    pub fn to_screen(&self, p: [f64; 2], middle: [f64; 2]) -> [f64; 2] {
        [middle[0] + (p[0] - self.centre[0]) * self.scale, middle[1] - (p[1] - self.centre[1]) * self.scale]
    }

    /// Wall point of a screen point, in a view with this middle.
    #[must_use]
    pub fn to_wall(&self, p: [f64; 2], middle: [f64; 2]) -> [f64; 2] {
        [self.centre[0] + (p[0] - middle[0]) / self.scale, self.centre[1] - (p[1] - middle[1]) / self.scale]
    }

    /// Moved so that the wall follows a drag of `delta` points.
    #[must_use]
    pub fn panned(self, delta: [f64; 2]) -> Self {
        Self { centre: [self.centre[0] - delta[0] / self.scale, self.centre[1] + delta[1] / self.scale], ..self }
    }

    /// Moved no farther than that the middle of the view is on a quilt of `size` inches: it can never be lost.
    #[must_use]
    pub fn held_on(self, size: [f64; 2]) -> Self {
        let held = [0, 1].map(|k| self.centre[k].clamp(0.0, size[k].max(0.0)));
        Self { centre: held, ..self }
    }

    /// Magnified by `factor` with the wall point under screen point `at` staying where it is.
    #[must_use]
    pub fn zoomed(self, factor: f64, at: [f64; 2], middle: [f64; 2]) -> Self {
        let held = self.to_wall(at, middle);
        let scale = (self.scale * factor).clamp(*SCALES.start(), *SCALES.end());
        let next = Self { scale, ..self };
        let now = next.to_wall(at, middle);
        Self { centre: [next.centre[0] + held[0] - now[0], next.centre[1] + held[1] - now[1]], ..next }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn zoom_holds_the_point_under_the_pointer() {
        let camera = Camera::fit([60.0, 80.0], [900.0, 700.0]);
        let middle = [450.0, 350.0];
        for at in [[450.0, 350.0], [10.0, 690.0], [880.0, 20.0]] {
            let before = camera.to_wall(at, middle);
            let after = camera.zoomed(1.7, at, middle).to_wall(at, middle);
            assert!((before[0] - after[0]).abs() < 1e-9 && (before[1] - after[1]).abs() < 1e-9, "{at:?}");
        }
    }

    #[test]
    fn fit_shows_all_of_it() {
        for (size, view) in [([60.0, 80.0], [900.0, 700.0]), ([120.0, 10.0], [300.0, 900.0])] {
            let camera = Camera::fit(size, view);
            let middle = view.map(|v| v / 2.0);
            for corner in [[0.0, 0.0], size] {
                let p = camera.to_screen(corner, middle);
                assert!((0..2).all(|k| p[k] > 0.0 && p[k] < view[k]), "{corner:?} is at {p:?}");
            }
        }
    }

    #[test]
    fn the_quilt_cannot_be_lost() {
        let camera = Camera::fit([60.0, 80.0], [900.0, 700.0]);
        let far = camera.panned([1e6, -1e6]).held_on([60.0, 80.0]);
        assert!(far.centre.iter().all(|v| v.abs() < 1e-9), "{:?}", far.centre);
        assert_eq!(camera.held_on([60.0, 80.0]), camera);
    }

    #[test]
    fn screen_and_wall_are_inverse() {
        let camera = Camera { centre: [3.0, -4.0], scale: 17.0 };
        let p = camera.to_wall(camera.to_screen([1.25, 2.5], [100.0, 50.0]), [100.0, 50.0]);
        assert!((p[0] - 1.25).abs() < 1e-9 && (p[1] - 2.5).abs() < 1e-9);
    }
}

//! The cut outline of a piece, measured anew from its corners.

/// A cut outline as `cut` prints it.
pub struct CutOutline(pub Vec<[f64; 2]>);

impl CutOutline {
    /// Half a hundredth of an inch or centimetre and a little more.
    const NEAR: f64 = 0.006;

    fn edges(&self) -> Vec<[f64; 2]> {
        let n = self.0.len();
        (0..n).map(|i| [0, 1].map(|k| self.0[(i + 1) % n][k] - self.0[i][k])).collect()
    }

    fn extent(&self, along: [f64; 2]) -> f64 {
        let on = self.0.iter().map(|p| (p[0] * along[0] + p[1] * along[1]) / along[0].hypot(along[1]));
        on.clone().fold(f64::MIN, f64::max) - on.fold(f64::MAX, f64::min)
    }

    pub fn is_upright_rectangle(&self) -> bool {
        self.0.len() == 4 && self.edges().iter().all(|[x, y]| x.abs().min(y.abs()) < 1e-3)
    }

    pub fn extends(&self, size: [f64; 2]) -> bool {
        (size[0] - self.extent([1.0, 0.0])).abs() < Self::NEAR && (size[1] - self.extent([0.0, 1.0])).abs() < Self::NEAR
    }

    /// Whether each length is a side, a height on a side or the longest reach, and each angle one between two sides or
    /// between a side and the grain; at least one length is told.
    pub fn has(&self, (lengths, angles): &(Vec<f64>, Vec<f64>)) -> bool {
        let edges = self.edges();
        let sides = edges.iter().map(|[x, y]| x.hypot(*y));
        let heights = edges.iter().map(|[x, y]| self.extent([-y, *x]));
        let reach = self.0.iter().flat_map(|p| self.0.iter().map(move |q| (p[0] - q[0]).hypot(p[1] - q[1])));
        let own: Vec<f64> = sides.chain(heights).chain([reach.fold(0.0, f64::max)]).collect();
        let directions: Vec<f64> = edges.iter().map(|[x, y]| y.atan2(*x).to_degrees()).chain([0.0, 90.0]).collect();
        let between = |told: f64| {
            let turns = directions.iter().flat_map(|a| directions.iter().map(move |b| (a - b).rem_euclid(180.0)));
            turns.into_iter().any(|turn| (turn - told).abs() < 0.06)
        };
        !lengths.is_empty()
            && lengths.iter().all(|told| own.iter().any(|own| (own - told).abs() < Self::NEAR))
            && angles.iter().all(|told| between(*told))
    }
}

//! Carries out what the views of Cut ask for.

use std::path::PathBuf;

use cutting::FabricPlan;
use eframe::egui::Context;
use layout::{FabricId, Overwrite};
use publish::{LayPicture, lay_picture};

use super::app::Window;
use super::carry::safe_name;
use super::command::Command;
use super::cut_session::CutAction;
use super::paint::fabrics_by_value;
use super::panels::PathUse;
use super::studio::Studio;
use super::wall::Camera;

impl Window {
    /// Carries out one action of Cut.
    pub(crate) fn cut_action(&mut self, ctx: &Context, action: CutAction) {
        match action {
            CutAction::Show(fabric) => self.studio.session.cut.show(fabric),
            CutAction::Tick { fabric, run, cut } => {
                let Some(plan) = self.studio.plan_to_cut(fabric).cloned() else { return };
                self.studio.session.cut.tick(&plan, run, cut);
            }
            CutAction::Point(pointed) => self.studio.session.cut.pointed = pointed,
            CutAction::Keep(piece) => self.studio.session.cut.kept = piece,
            CutAction::Look(camera) => {
                let held = shown_plan(&self.studio).map(|plan| camera.held_on(lay_size(plan)));
                self.studio.session.cut.camera = held;
            }
            CutAction::Fit => self.studio.session.cut.camera = None,
            CutAction::Planning(on) => self.studio.stop_planning(!on),
            CutAction::SaveLay => {
                let name = self.shown_fabric_name().map(|name| safe_name(&name)).unwrap_or_default();
                let quilt = safe_name(self.studio.design().name());
                self.jobs.ask(ctx, PathUse::Lay, format!("{quilt}-{name}.svg"));
            }
        }
    }

    /// Saves the drawing of the fabric that is shown.
    pub(crate) fn save_lay(&mut self, ctx: &Context, path: PathBuf, overwrite: Overwrite) {
        let design = self.studio.design();
        let Some(plan) = shown_plan(&self.studio).cloned() else {
            self.studio.complain("This fabric has no plan to draw".to_owned());
            return;
        };
        let (Ok(fabric), units) = (design.fabric(plan.fabric).cloned(), design.units()) else { return };
        let draw = move || lay_picture(&LayPicture::new(&plan, &fabric, units)?);
        self.jobs.drawing(ctx, draw, path, overwrite);
    }

    /// Carries out what changes the view, on the lay. False for every other command.
    pub(crate) fn lay_command(&mut self, command: Command) -> bool {
        let camera = self.lay_camera();
        let magnified = |factor| Some(camera.zoomed(factor, [0.0; 2], [0.0; 2]));
        self.studio.session.cut.camera = match command {
            Command::Fit => None,
            Command::ActualSize => Some(camera.actual_size()),
            Command::ZoomIn => magnified(1.25),
            Command::ZoomOut => magnified(0.8),
            _ => return false,
        };
        true
    }

    /// The camera of the lay that is shown, also when it is fitted.
    pub(crate) fn lay_camera(&self) -> Camera {
        let fitted = || {
            let size = shown_plan(&self.studio).map_or([1.0; 2], lay_size);
            Camera::fit(size, self.lay_view)
        };
        self.studio.session.cut.camera.unwrap_or_else(fitted)
    }

    fn shown_fabric_name(&self) -> Option<String> {
        let plan = shown_plan(&self.studio)?;
        Some(self.studio.design().fabric(plan.fabric).ok()?.name.clone())
    }
}

/// The fabric that is shown in Cut: the chosen one while it has a plan, else the first.
#[must_use]
pub(crate) fn shown_in_cut(studio: &Studio) -> Option<FabricId> {
    let plans = studio.derived().ledger().ok()?.plans();
    let chosen = studio.session.cut.fabric.filter(|id| plans.contains_key(id));
    chosen.or_else(|| fabrics_by_value(studio.design()).into_iter().find(|id| plans.contains_key(id)))
}

fn shown_plan(studio: &Studio) -> Option<&FabricPlan> {
    studio.plan_to_cut(shown_in_cut(studio)?)
}

/// Where the cloths of a plan lie on screen: sheets row by row, the length below them. Inches, y up from the lowest edge.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct LayPlaces {
    /// Width and height of all together.
    pub(crate) size: [f64; 2],
    /// Upper left corner of each cloth, in the order of work.
    pub(crate) corners: Vec<[f64; 2]>,
}

impl LayPlaces {
    /// As many sheets stand side by side as let all of them be shown largest.
    pub(crate) fn new(plan: &FabricPlan) -> Self {
        /// More in a row leave too little room for what is written between them.
        const MOST_COLUMNS: usize = 5;
        let cloths: Vec<[f64; 2]> = plan.cloths().iter().map(|c| [c.width, c.length].map(lay_inches)).collect();
        let columns = 1..=plan.sheets.len().clamp(1, MOST_COLUMNS);
        let sides = columns.map(|columns| Self::in_columns(&cloths, plan.sheets.len(), columns));
        let smaller = |best: Self, next: Self| if next.side() < best.side() { next } else { best };
        // A plan without strips has a size none the less: the camera needs something to fit.
        sides.reduce(smaller).unwrap_or(Self { size: [1.0; 2], corners: Vec::new() })
    }

    fn side(&self) -> f64 {
        self.size[0].max(self.size[1])
    }

    /// The first `sheets` of the cloths in so many columns. Room is left between the cloths for names and letters that
    /// can be read when all of them are in view.
    fn in_columns(cloths: &[[f64; 2]], sheets: usize, columns: usize) -> Self {
        /// Shares of a view that shows everything: a name above a cloth, letters beside it.
        const NAME: f64 = 0.065;
        const LETTERS: f64 = 0.14;
        let (sheets, length) = cloths.split_at(sheets.min(cloths.len()));
        let most = |k: usize, of: &[[f64; 2]]| of.iter().map(|cloth| cloth[k]).fold(0.0, f64::max);
        let column = most(0, sheets);
        let rows: Vec<&[[f64; 2]]> = sheets.chunks(columns).chain(length.chunks(1)).collect();
        let [across, down] = [columns, rows.len()].map(|n| f64::from(u16::try_from(n).unwrap_or(u16::MAX)));
        let (width, height) = (column * across, rows.iter().map(|row| most(1, row)).sum::<f64>());
        // Shares of what is shown in the end, gaps included; of many rows, half at most.
        let of_width = width / (1.0 - LETTERS * (across - 1.0));
        let of_height = height / (1.0 - (NAME * (down - 1.0)).min(0.5));
        let side = of_width.max(of_height).max(most(0, length));
        let (beside, above) = (side * LETTERS, side * NAME);
        let mut corners = Vec::with_capacity(cloths.len());
        let all = height + above * (down - 1.0).max(0.0);
        let mut top = all;
        for row in rows {
            let mut left = 0.0;
            for _ in row {
                corners.push([left, top]);
                left += column + beside;
            }
            top -= most(1, row) + above;
        }
        let width = (width + beside * (across - 1.0)).max(most(0, length));
        Self { size: [width.max(1.0), all.max(1.0)], corners }
    }
}

/// Width and height of a plan's lay in inches.
#[must_use]
pub(crate) fn lay_size(plan: &FabricPlan) -> [f64; 2] {
    LayPlaces::new(plan).size
}

/// Lay units as inches.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "a place on screen, not a decision")]
pub(crate) fn lay_inches(units: i64) -> f64 {
    units as f64 / geometry::lay::UNITS_PER_INCH as f64
}

#[cfg(test)]
mod tests {
    use std::time::{Duration, Instant};

    use super::*;

    /// The drawing is saved as what its ending says, and nothing that is there is replaced unasked.
    #[test]
    fn the_lay_that_is_shown_is_saved() {
        let ctx = Context::default();
        let folder = tempfile::tempdir().unwrap();
        let mut window = Window::with_settings(&ctx, None, None).unwrap();
        let name = window.shown_fabric_name().unwrap();
        let mut save = |file: &str| {
            let file = folder.path().join(file);
            window.save_lay(&ctx, file.clone(), Overwrite::Refuse);
            let began = Instant::now();
            while window.jobs.busy() && began.elapsed() < Duration::from_secs(60) {
                std::thread::sleep(Duration::from_millis(5));
                window.take_answers();
            }
            (std::fs::read(&file).unwrap_or_default(), window.studio.notices().last().cloned().unwrap())
        };
        let (svg, _) = save("lay.svg");
        assert!(String::from_utf8(svg.clone()).unwrap().contains(&format!(">{name}</text>")));
        let (png, _) = save("lay.png");
        assert_eq!(png.get(1..4), Some(&b"PNG"[..]));
        let (again, told) = save("lay.svg");
        assert!(told.problem && again == svg, "{told:?}");
    }
}

//! The fabric that pieces lie on: grounds and edges of cloths, cuts between strips, and what stands beside them.

use eframe::egui::text::{LayoutJob, TextWrapping};
use eframe::egui::{self, Align2, Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, Ui, pos2, vec2};
use layout::Units;
use publish::{LayCloth, LayStrip};

use super::Room;
use super::lay_pieces::LayPieces;
use crate::window::carry_cut::lay_inches;
use crate::window::theme::{BODY, SMALL, Tokens, blend, bold_family};
use crate::window::wall::Camera;
use crate::words::ruler;

/// Room for letters and heights left of the fabric, in points.
pub(super) const GUTTER: f32 = 66.0;
/// Distance of hatching lines in points.
const HATCH: f32 = 9.0;

/// The camera with the part of the screen it fills.
pub(super) struct Frame {
    pub(super) camera: Camera,
    pub(super) rect: Rect,
}

impl Frame {
    pub(super) fn middle(&self) -> [f64; 2] {
        let c = self.rect.center();
        [f64::from(c.x), f64::from(c.y)]
    }

    #[expect(clippy::cast_possible_truncation, reason = "screen points")]
    pub(super) fn screen(&self, p: [f64; 2]) -> Pos2 {
        let [x, y] = self.camera.to_screen(p, self.middle());
        pos2(x as f32, y as f32)
    }

    pub(super) fn fabric(&self, p: Pos2) -> [f64; 2] {
        self.camera.to_wall([f64::from(p.x), f64::from(p.y)], self.middle())
    }

    pub(super) fn span(&self, low: [f64; 2], high: [f64; 2]) -> Rect {
        Rect::from_two_pos(self.screen(low), self.screen(high))
    }
}

/// Cuts between the strips.
pub(super) fn strips(painter: &Painter, tokens: &Tokens, lay: &LayPieces, frame: &Frame) {
    let ink = tokens.text.gamma_multiply(0.8);
    for (run, strip) in lay.runs.iter().zip(lay.picture.strips()) {
        let one = (run.high[1] - run.low[1]) / strip_count(strip.repeat);
        let across = frame.span(run.low, run.high);
        // The cut below the last strip as well: of a sheet, something may be left under it.
        for k in 0..=strip.repeat {
            let y = frame.screen([0.0, run.high[1] - one * strip_count(k)]).y;
            let width = if k == 0 || k == strip.repeat { 1.5 } else { 0.75 };
            painter.hline(across.x_range(), y, Stroke::new(width, ink));
        }
        if let Some(fold) = strip.fold {
            let x = frame.screen([run.low[0] + lay_inches(fold), 0.0]).x;
            let ends = [pos2(x, across.top()), pos2(x, across.bottom())];
            painter.extend(Shape::dashed_line(&ends, Stroke::new(1.5, tokens.text), 6.0, 4.0));
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "a million at most")]
const fn strip_count(count: u64) -> f64 {
    count as f64
}

/// The ground of a cloth: paler than its pieces, and hatched.
pub(super) fn ground(painter: &Painter, tokens: &Tokens, cloth: Rect, colour: Color32) {
    painter.rect_filled(cloth.translate(vec2(0.0, 2.0)).expand(1.0), 0.0, tokens.shadow);
    painter.rect_filled(cloth, 0.0, blend(colour, tokens.panel, 0.78));
    hatch(painter, tokens, cloth.intersect(painter.clip_rect()));
}

/// Slanting lines over the fabric: what no piece covers is left over.
fn hatch(painter: &Painter, tokens: &Tokens, rect: Rect) {
    if !rect.is_positive() {
        return;
    }
    let painter = painter.with_clip_rect(rect);
    let stroke = Stroke::new(0.75, tokens.text.gamma_multiply(0.3));
    let mut x = rect.left() - rect.height();
    x -= x.rem_euclid(HATCH);
    while x < rect.right() {
        painter.line_segment([pos2(x, rect.bottom()), pos2(x + rect.height(), rect.top())], stroke);
        x += HATCH;
    }
}

/// The selvages, heavy, with their name; the ends of the fabric; the four sides of a sheet, and which it is.
pub(super) fn edges(painter: &Painter, tokens: &Tokens, cloth: Rect, shown: &LayCloth) {
    let thin = Stroke::new(1.0, tokens.text);
    if shown.is_sheet {
        painter.rect_stroke(cloth, 0.0, thin, egui::StrokeKind::Outside);
    } else {
        let selvage = Stroke::new(3.0, tokens.text);
        painter.vline(cloth.left() - 1.5, cloth.y_range(), selvage);
        painter.vline(cloth.right() + 1.5, cloth.y_range(), selvage);
        painter.hline(cloth.x_range(), cloth.bottom(), thin);
    }
    let font = FontId::proportional(SMALL);
    if let Some(name) = &shown.name {
        // As far as the letters of a neighbour, and no farther than is seen.
        let seen = (painter.clip_rect().right() - cloth.left() - 2.0).max(0.0);
        let mut job = LayoutJob::simple_singleline(name.clone(), font, tokens.text);
        job.wrap = TextWrapping::truncate_at_width((cloth.width() + GUTTER * 0.6).min(seen));
        let galley = painter.layout_job(job);
        painter.galley(cloth.left_top() - vec2(0.0, galley.size().y + 2.0), galley, tokens.text);
    } else if cloth.width() > 120.0 {
        let word = |at: Pos2, align| painter.text(at - vec2(0.0, 3.0), align, "selvage", font.clone(), tokens.quiet);
        word(cloth.left_top(), Align2::LEFT_BOTTOM);
        word(cloth.right_top(), Align2::RIGHT_BOTTOM);
    }
}

/// Letters and heights of the strips, beside as much of them as is in view, close to the fabric; strips that are cut
/// say so.
pub(super) fn margin(ui: &Ui, room: &Room<'_>, lay: &LayPieces, frame: &Frame, below: Rect) {
    let painter = ui.painter_at(below);
    let mut last: Option<(f32, f32)> = None;
    let view = frame.rect.y_range();
    let strips = lay.picture.cloths.iter().flat_map(|cloth| cloth.strips.iter().map(|strip| (strip, cloth.is_sheet)));
    for (number, (run, (strip, on_sheet))) in lay.runs.iter().zip(strips).enumerate() {
        let strips = frame.span(run.low, run.high);
        let (top, bottom) = (strips.top().max(view.min), strips.bottom().min(view.max));
        // Letters stay in view as long as some of the strip does.
        let right = (strips.left() - 7.0).max(below.left() + GUTTER - 6.0);
        if bottom - top < 1.0 || strips.right() < right || strips.left() > below.right() {
            continue;
        }
        let free = last.filter(|(x, _)| (x - right).abs() < 1.0).map_or(f32::NEG_INFINITY, |(_, free)| free);
        let line = Stroke::new(1.5, room.tokens.quiet);
        painter.vline(right - 3.0, egui::Rangef::new(top + 1.0, bottom - 1.0), line);
        let y = f32::midpoint(top, bottom).max(free + 8.0);
        if y > bottom + 12.0 {
            continue;
        }
        let cut = room.plan().is_some_and(|plan| room.session.is_cut(plan, number));
        let height = if cut { "cut".to_owned() } else { ruler(strip.height, lay.picture.units) };
        let place = Place { at: pos2(right - 9.0, y), high: bottom - top, on_sheet };
        last = Some((right, strip_words(&painter, room.tokens, place, strip, height)));
    }
}

/// Where the words of a strip stand: the middle of their right end, beside so much of the strip.
#[derive(Debug, Clone, Copy)]
struct Place {
    at: Pos2,
    high: f32,
    /// Between sheets there is less room: a letter above the height, or a letter alone.
    on_sheet: bool,
}

/// Letter and height of strips, and how many there are; gives the lower end of the words.
fn strip_words(painter: &Painter, tokens: &Tokens, place: Place, strip: &LayStrip, height: String) -> f32 {
    const LINE: f32 = 15.0;
    let bold = |at: Pos2, align| {
        painter.text(at, align, &strip.letter, FontId::new(BODY, bold_family()), tokens.text);
    };
    let mut lines = vec![height];
    if strip.repeat > 1 {
        lines.push(format!("× {}", strip.repeat));
    }
    let at = place.at;
    let (first, shown) = if place.on_sheet {
        // As many lines under the letter as the strip is high.
        let shown = (1..=lines.len()).rev().find(|n| place.high >= LINE * f32::from(u8::try_from(n + 1).unwrap_or(9)));
        let shown = shown.unwrap_or(0);
        let up = LINE / 2.0 * f32::from(u8::try_from(shown).unwrap_or(0));
        bold(at - vec2(0.0, up), Align2::RIGHT_CENTER);
        (at.y - up + LINE, shown)
    } else {
        bold(at - vec2(GUTTER - 23.0, 0.0), Align2::LEFT_CENTER);
        (at.y, if place.high > 34.0 { lines.len() } else { 1 })
    };
    let mut y = first;
    for line in lines.into_iter().take(shown) {
        painter.text(pos2(at.x, y), Align2::RIGHT_CENTER, line, FontId::proportional(SMALL), tokens.quiet);
        y += LINE;
    }
    y - LINE / 2.0
}

/// A bar of a round length at the lower right.
#[expect(clippy::cast_possible_truncation, reason = "screen points")]
pub(super) fn scale_bar(painter: &Painter, tokens: &Tokens, frame: &Frame, units: Units) {
    let (unit, name) = match units {
        Units::Inches => (1.0, "″"),
        Units::Centimetres => (1.0 / 2.54, " cm"),
    };
    let on_screen = |length: f64| (length * unit * frame.camera.scale) as f32;
    let fits = |length: &f64| on_screen(*length) <= 130.0;
    let Some(length) = [100.0, 50.0, 20.0, 10.0, 5.0, 2.0, 1.0, 0.5].into_iter().find(fits) else { return };
    let end = frame.rect.right_bottom() - vec2(4.0, 6.0);
    let ground = Rect::from_min_max(end - vec2(on_screen(length) + 10.0, 22.0), end + vec2(8.0, 4.0));
    painter.rect_filled(ground, 4.0, tokens.panel.gamma_multiply(0.9));
    let stroke = Stroke::new(2.0, tokens.text);
    let start = end - vec2(on_screen(length), 0.0);
    painter.line_segment([start, end], stroke);
    for p in [start, end] {
        painter.line_segment([p, p - vec2(0.0, 5.0)], stroke);
    }
    let at = pos2(f32::midpoint(start.x, end.x), end.y - 4.0);
    painter.text(at, Align2::CENTER_BOTTOM, format!("{length}{name}"), FontId::proportional(SMALL), tokens.text);
}

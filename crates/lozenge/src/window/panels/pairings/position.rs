//! Where in the list one is: a bar as long as the list, to be dragged.

use eframe::egui::{CornerRadius, Rect, Role, Sense, Ui, WidgetInfo, pos2, vec2};

use super::View;
use crate::window::action::Action;
use crate::window::pairings::{List, PairingsAction, WHOLE};
use crate::window::panels::widgets::focus_ring;
use crate::window::theme::blend;

/// Width of the bar, and height of its handle, in points.
pub(super) const BAR_WIDTH: f32 = 14.0;
const HANDLE: f32 = 40.0;

/// Draws the bar.
pub(super) fn position_ui(ui: &mut Ui, view: &View<'_>, list: &List, bar: Rect, out: &mut Vec<Action>) {
    if list.is_at_start() && !list.goes_on() {
        return;
    }
    let response = ui.interact(bar, ui.scope_id().with("position"), Sense::CLICK | Sense::DRAG);
    let share = list.share();
    response.widget_info(|| {
        let mut info = WidgetInfo::labeled(Role::ScrollBar, ui.is_enabled(), "Position in the list, bar");
        info.value = Some(f64::from(share) * 100.0 / f64::from(WHOLE));
        info
    });
    let way = (bar.height() - HANDLE).max(1.0);
    #[expect(clippy::cast_precision_loss, reason = "a million at most")]
    let part = share as f32 / WHOLE as f32;
    let handle = Rect::from_min_size(pos2(bar.left(), bar.top() + part * way), vec2(bar.width(), HANDLE));
    let (tokens, round) = (view.tokens, CornerRadius::same(5));
    ui.painter().rect_filled(bar, round, blend(tokens.panel, tokens.text, 0.06));
    let strong = if response.dragged() || response.hovered() { 0.6 } else { 0.35 };
    ui.painter().rect_filled(handle.shrink2(vec2(2.0, 0.0)), round, blend(tokens.panel, tokens.text, strong));
    focus_ring(ui, tokens, &response);
    if let Some(at) = response.interact_pointer_pos().filter(|_| response.dragged() || response.clicked()) {
        let part = ((at.y - bar.top() - HANDLE / 2.0) / way).clamp(0.0, 1.0);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a million at most")]
        #[expect(clippy::cast_precision_loss, reason = "a million at most")]
        let millionths = (part * WHOLE as f32) as u32;
        out.push(Action::Pairings(PairingsAction::Jump(millionths)));
    }
}

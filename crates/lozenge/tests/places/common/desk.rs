//! The window in a test: no display, driven by label and by key.

use std::path::Path;

use eframe::egui::accessibility::is_input;
use eframe::egui::accesskit::Role;
use eframe::egui::{
    Context, Event, Key, Modifiers, Pos2, Rect, UiBuilder, Vec2, ViewportCommand, ViewportEvent, ViewportId,
};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use egui_kittest::{Harness, HarnessBuilder, Node};
use layout::FabricId;
use lozenge::window::Window;
use lozenge::window::publishing::Stage;
use lozenge::window::session::Spot;
use lozenge::window::wall::Camera;

use super::{document, sample};

/// The window under test.
pub type Desk = Harness<'static, Window>;

/// The usual size of the window here, in points.
pub const SIZE: Vec2 = Vec2::new(1280.0, 800.0);

/// Ctrl, or ⌘ on a Mac, and Shift.
pub const COMMAND_SHIFT: Modifiers = Modifiers { alt: false, ctrl: false, shift: true, mac_cmd: false, command: true };

/// A window with a sample open, or with the choice of a new quilt.
pub fn desk(name: Option<&str>) -> Desk {
    desk_with(Harness::builder().with_size(SIZE), name, None)
}

/// The same, with a builder of one's own and with settings in a file.
pub fn desk_with(builder: HarnessBuilder<Window>, name: Option<&str>, settings: Option<&Path>) -> Desk {
    let open = || name.map(|name| (document(name), sample(name)));
    let window = Window::with_settings(&Context::default(), open(), settings.map(Path::to_path_buf)).unwrap();
    // Fonts and style belong to a context, and the harness makes its own: give it what a window gives.
    let builder = builder.with_max_steps(12).with_context_setup(|ctx| {
        Window::with_settings(ctx, None, None).unwrap();
    });
    builder.build_ui_state(
        |ui, window| {
            // The harness leaves a rim round its ui; the window fills the screen.
            let screen = ui.ctx().content_rect();
            let mut root = ui.new_child(UiBuilder::new().max_rect(screen));
            root.set_clip_rect(screen);
            window.think(root.ctx());
            window.show(&mut root);
        },
        window,
    )
}

/// Waits in Cut until the best plans of the quilt as it is now are there, however long the machine takes for them.
pub fn best_planned(desk: &mut Desk) {
    for _ in 0..12_000 {
        desk.run();
        if desk.query_by_label("The best plan").is_some() {
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    panic!("no best plan among {:?}", texts(desk));
}

/// Waits in Sew until the steps of the quilt as it is now are there, however long the machine takes for them.
pub fn sewn(desk: &mut Desk) {
    for _ in 0..12_000 {
        desk.run();
        if desk.state().studio.is_sewing_current() {
            desk.run();
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    panic!("no steps among {:?}", texts(desk));
}

/// Waits in Sew until also what stands beside the steps of the block that is shown is that of the quilt as it is now.
pub fn sewn_with_asides(desk: &mut Desk) {
    sewn(desk);
    for _ in 0..12_000 {
        desk.run();
        let studio = &desk.state().studio;
        let block = studio.session.sew.shown(studio.sewing()).unwrap().0.id;
        if studio.beside_steps(block).is_some_and(|(_, current)| current) {
            desk.run();
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    panic!("nothing beside the steps among {:?}", texts(desk));
}

/// Waits in Publish until the document of the quilt as it is now is made and its page is drawn, however long the machine
/// takes for them.
pub fn published(desk: &mut Desk) {
    for _ in 0..24_000 {
        desk.run();
        let made = desk.state().studio.publish_stage() == Stage::Done;
        let shown = format!("{}, page ", desk.state().studio.session.publish.document.entry().name);
        if made && reads(desk, &shown) && !reads(desk, "is being drawn") {
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    panic!("no pages among {:?}", texts(desk));
}

/// Clicks a fabric in the list of Cut.
pub fn show(desk: &mut Desk, fabric: FabricId) {
    let name = desk.state().studio.design().fabric(fabric).unwrap().name.clone();
    let start = format!("Cut {name}:");
    let labels: Vec<String> =
        desk.query_all_by_role(Role::RadioButton).map(|n| n.accesskit_node().label().unwrap()).collect();
    let label = labels.into_iter().find(|label| label.starts_with(&start));
    let label = label.unwrap_or_else(|| panic!("no {start:?} among {:?}", texts(desk)));
    // The list is longer than its room, and may have been scrolled.
    desk.get_by_role_and_label(Role::RadioButton, &label).scroll_to_me();
    desk.run();
    desk.get_by_role_and_label(Role::RadioButton, &label).click();
    desk.run();
}

/// Everything that can be read on screen.
pub fn texts(desk: &Desk) -> Vec<String> {
    let nodes = desk.root().children_recursive().map(|node| node.accesskit_node());
    nodes.filter_map(|node| node.label().or_else(|| node.value())).collect()
}

/// Whether some text on screen contains `part`.
pub fn reads(desk: &Desk, part: &str) -> bool {
    texts(desk).iter().any(|text| text.contains(part))
}

/// Clicks what has this role and name, and lets the window settle.
pub fn click(desk: &mut Desk, role: Role, label: &str) {
    let found = desk.query_all_by_role_and_label(role, label).last();
    found.unwrap_or_else(|| panic!("no {role:?} {label:?} among {:?}", texts(desk))).click();
    desk.run();
}

/// Clicks the control with this name, whatever its role, and lets the window settle.
pub fn choose(desk: &mut Desk, label: &str) {
    let found = desk.query_all_by_label(label).rfind(|node| is_input(node.accesskit_node().role()));
    found.unwrap_or_else(|| panic!("no {label:?} among {:?}", texts(desk))).click();
    desk.run();
}

/// Presses keys as one types them, and lets the window settle.
pub fn press(desk: &mut Desk, modifiers: Modifiers, key: Key) {
    desk.key_press_modifiers(modifiers, key);
    desk.run();
}

/// Types text into the field with this label, in place of what stands there.
pub fn fill(desk: &mut Desk, label: &str, text: &str) {
    desk.get_by_role_and_label(Role::TextInput, label).focus();
    desk.run();
    press(desk, Modifiers::COMMAND, Key::A);
    desk.event(Event::Text(text.to_owned()));
    desk.run();
}

/// Where the wall is on screen.
pub fn wall(desk: &Desk) -> Rect {
    desk.get_by_role(Role::Canvas).rect()
}

/// The screen point in the middle of a patch.
#[expect(clippy::cast_possible_truncation, clippy::cast_precision_loss, reason = "screen points")]
pub fn point(desk: &Desk, spot: Spot) -> Pos2 {
    let studio = &desk.state().studio;
    let rect = wall(desk);
    let scene = studio.derived().scene();
    let view = [f64::from(rect.width()), f64::from(rect.height())];
    let camera = studio.session.camera.unwrap_or_else(|| Camera::fit(scene.size(), view));
    let outline = scene.outline(spot).unwrap();
    let middle = [0, 1].map(|k| outline.iter().map(|p| p[k]).sum::<f64>() / outline.len() as f64);
    let [x, y] = camera.to_screen(middle, [f64::from(rect.center().x), f64::from(rect.center().y)]);
    Pos2::new(x as f32, y as f32)
}

/// Clicks a patch on the wall, and lets the window settle.
pub fn click_patch(desk: &mut Desk, spot: Spot) {
    drag_over(desk, &[spot]);
}

/// Presses at the first patch, passes over the others, and lets go over the last.
pub fn drag_over(desk: &mut Desk, spots: &[Spot]) {
    drag_with(desk, Modifiers::NONE, spots);
}

/// The same with keys held down.
pub fn drag_with(desk: &mut Desk, held: Modifiers, spots: &[Spot]) {
    take_up(desk, held, spots);
    desk.drop_at(point(desk, spots[spots.len() - 1]));
    desk.event(Event::ModifiersChanged(Modifiers::NONE));
    desk.run();
}

/// Presses at the first patch and passes over the others, without letting go.
pub fn take_up(desk: &mut Desk, held: Modifiers, spots: &[Spot]) {
    let points: Vec<Pos2> = spots.iter().map(|spot| point(desk, *spot)).collect();
    desk.event(Event::ModifiersChanged(held));
    desk.hover_at(points[0]);
    desk.drag_at(points[0]);
    for point in &points {
        desk.hover_at(*point);
    }
}

/// What the window asks of the system in this step.
pub fn asks(desk: &Desk) -> Vec<ViewportCommand> {
    desk.output().viewport_output[&ViewportId::ROOT].commands.clone()
}

/// Asks the window to close, as the system does, and gives its answer.
pub fn close(desk: &mut Desk) -> Vec<ViewportCommand> {
    desk.input_mut().viewports.get_mut(&ViewportId::ROOT).unwrap().events.push(ViewportEvent::Close);
    desk.step();
    let asked = asks(desk);
    desk.run();
    asked
}

/// A name for a widget in messages.
pub fn named(node: &Node<'_>) -> (String, String) {
    let node = node.accesskit_node();
    (format!("{:?}", node.role()), node.label().unwrap_or_default())
}

//! The class that kits are for: who takes which variant, the spare kits, and how long each kind of work takes.

use eframe::egui::{CollapsingHeader, DragValue, Grid, RichText, Ui};
use publish::kit::{MAX_SPARE_KITS, MAX_SPARE_PERCENT, MAX_STUDENTS, MOST_MINUTES, Minutes, Reserve, WorkMinutes};
use publish::lengths::counted;

use super::Room;
use crate::window::action::Action;
use crate::window::panels::widgets::{drafted, heading, quiet, whole};
use crate::window::publishing::{Class, PublishAction};
use crate::window::theme::SMALL_GAP;

/// How many students take which variant, and how many spare kits there are.
pub(super) fn class_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    heading(ui, "Class");
    let mut class = room.session.class.clone();
    Grid::new("class").num_columns(2).show(ui, |ui| {
        students_ui(ui, room, &mut class);
        spare_ui(ui, &mut class.reserve);
    });
    reserve_ui(ui, room, &mut class.reserve);
    if class != room.session.class {
        out.push(Action::Publish(PublishAction::Class(class)));
    }
}

/// One number of students, or one for each variant where the file has several.
fn students_ui(ui: &mut Ui, room: &Room<'_>, class: &mut Class) {
    let variants: Vec<(&str, bool)> = room.studio.variants().collect();
    let labels: Vec<&str> = variants.iter().map(|(label, _)| *label).collect();
    let open = variants.iter().position(|(_, open)| *open).unwrap_or(0);
    let taken = class.taken(&labels, open);
    for (number, label) in labels.iter().enumerate() {
        let mut students = taken.get(number).copied().unwrap_or(0);
        let before = students;
        let name = if labels.len() > 1 { format!("Students, {label}") } else { "Students".to_owned() };
        number_ui(ui, &name, &mut students, MAX_STUDENTS);
        if students != before {
            *class = class.with(&labels, open, number, students);
        }
    }
    if labels.len() > 1 {
        let all = taken.iter().map(|students| u64::from(*students)).sum();
        ui.label("In all");
        ui.label(RichText::new(counted(all, "student", "students")).color(room.tokens.quiet));
        ui.end_row();
    }
}

/// A name and a number; one drag is one change.
fn number_ui(ui: &mut Ui, name: &str, number: &mut u16, most: u16) {
    let label = ui.label(name);
    drafted(ui, number, |ui, number| whole(ui, DragValue::new(number).range(0..=most), 0.1)).labelled_by(label.id);
    ui.end_row();
}

fn spare_ui(ui: &mut Ui, reserve: &mut Reserve) {
    match reserve {
        Reserve::Kits(kits) => number_ui(ui, "Spare kits", kits, MAX_SPARE_KITS),
        Reserve::Percent(percent) => number_ui(ui, "Spare kits, per cent", percent, MAX_SPARE_PERCENT),
    }
}

/// Whether the reserve is so many kits of each variant, or so many per cent of the students who take it.
fn reserve_ui(ui: &mut Ui, room: &Room<'_>, reserve: &mut Reserve) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = SMALL_GAP;
        let (number, is_percent) = match *reserve {
            Reserve::Kits(kits) => (kits, false),
            Reserve::Percent(percent) => (percent, true),
        };
        if ui.selectable_label(!is_percent, "Number of kits").clicked() && is_percent {
            // Ten per cent would be ten kits: nobody means that.
            *reserve = Reserve::Kits(1);
        }
        if ui.selectable_label(is_percent, "Per cent").clicked() && !is_percent {
            *reserve = Reserve::Percent((number * 10).min(MAX_SPARE_PERCENT));
        }
    });
    let told = match reserve {
        Reserve::Kits(_) => "of each variant that is taken",
        Reserve::Percent(_) => "of the students who take a variant, rounded up to whole kits",
    };
    quiet(ui, room.tokens, told);
}

/// The minutes of each kind of work, folded away until they are wanted.
pub(super) fn minutes_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    let mut minutes = room.studio.settings.minutes;
    CollapsingHeader::new("Minutes of each kind of work").id_salt("minutes").show(ui, |ui| {
        Grid::new("minutes").num_columns(2).show(ui, |ui| {
            for (name, of) in fields(&mut minutes) {
                minute_ui(ui, name, of);
            }
        });
        quiet(ui, room.tokens, "Usual times are common practice; put in those of your own classes.");
        let usual = WorkMinutes::default();
        if ui.add_enabled(minutes != usual, eframe::egui::Button::new("Usual minutes")).clicked() {
            minutes = usual;
        }
    });
    if minutes != room.studio.settings.minutes {
        out.push(Action::Publish(PublishAction::Minutes(minutes)));
    }
}

/// The fields with their names: the times of work, then those of the class.
fn fields(minutes: &mut WorkMinutes) -> [(&'static str, &mut Minutes); 11] {
    [
        ("Cut a strip, ahead", &mut minutes.cut_strip),
        ("Each further cut", &mut minutes.cut_piece),
        ("Sew a seam of a unit", &mut minutes.sew_seam),
        ("Turn in a set-in seam", &mut minutes.set_in),
        ("Press a seam", &mut minutes.press_seam),
        ("Trim a unit", &mut minutes.trim_unit),
        ("Join blocks or rows", &mut minutes.join_seam),
        ("A session", &mut minutes.session),
        ("Welcome and safety", &mut minutes.welcome),
        ("Work before a break", &mut minutes.break_after),
        ("A break", &mut minutes.pause),
    ]
}

/// Minutes with two decimals: kept in hundredths, so that what is typed is what is kept.
fn minute_ui(ui: &mut Ui, name: &str, minutes: &mut Minutes) {
    let label = ui.label(name);
    drafted(ui, minutes, |ui, minutes| {
        let mut shown = minutes.in_minutes();
        let field = DragValue::new(&mut shown).range(0.0..=MOST_MINUTES).speed(0.25).suffix(" min");
        let field = field.custom_formatter(|minutes, _| shortest(minutes));
        let response = ui.add(field.update_while_editing(false));
        if let Some(read) = hundredths(shown).filter(|_| response.changed()) {
            *minutes = read;
        }
        response
    })
    .labelled_by(label.id);
    ui.end_row();
}

/// At most two decimals, and no more than say something: "180", "0.5", "0.75".
fn shortest(minutes: f64) -> String {
    let told = format!("{minutes:.2}");
    told.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// To the nearest hundredth; none beyond what a field may say.
fn hundredths(minutes: f64) -> Option<Minutes> {
    if !(0.0..=MOST_MINUTES).contains(&minutes) {
        return None;
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "within the range just checked")]
    let whole = (minutes * 100.0).round() as u64;
    Some(Minutes(whole))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_of_work_has_a_field_of_its_own() {
        let mut minutes = WorkMinutes::default();
        for (n, (_, field)) in fields(&mut minutes).into_iter().enumerate() {
            *field = Minutes::whole(n as u64 + 1);
        }
        let told: Vec<u64> = minutes.told().into_iter().map(|(_, minutes)| minutes.rounded()).collect();
        assert_eq!(told, (1..=11).collect::<Vec<_>>());
    }

    #[test]
    fn minutes_are_kept_in_hundredths() {
        assert_eq!([180.0, 0.5, 0.75, 0.0, 10.0].map(shortest), ["180", "0.5", "0.75", "0", "10"]);
        assert_eq!(hundredths(0.25), Some(Minutes(25)));
        assert_eq!(hundredths(1.005), Some(Minutes(100)));
        assert_eq!(hundredths(MOST_MINUTES), Some(Minutes(72_000)));
        for beyond in [-0.01, MOST_MINUTES + 0.01, f64::NAN, f64::INFINITY] {
            assert_eq!(hundredths(beyond), None);
        }
    }
}

//! Bed: what a quilt must cover, and proposals how to make it so large.

use eframe::egui::{self, Button, DragValue, FontId, RichText, TextEdit, Ui};
use geometry::{Exact, Length, inches_to_mm};
use layout::beds::{BEDS, MAX_ADDED, MAX_DROP_INCHES, Proposal, Target, Wishes};
use layout::{Design, Units};

use super::length_ui::length_ui;
use super::widgets::{drafted, quiet, whole};
use crate::bed_words::{change, made_of, miss};
use crate::window::action::Action;
use crate::window::beds::{BedSession, Fit, set_to_ruler};
use crate::window::studio::Studio;
use crate::window::theme::{GAP, Tokens, bold_family};
use crate::words::{about_size, finished, parse_length};

/// The largest mattress that can be typed, in inches.
const MOST_MATTRESS: i64 = 200;

/// Draws the section, closed or open.
pub(super) fn beds_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, out: &mut Vec<Action>) {
    let (session, design) = (&studio.session.bed, studio.design());
    let mut next = session.clone();
    let title = RichText::new("Fit a bed").font(FontId::new(13.0, bold_family()));
    let header = egui::CollapsingHeader::new(title).id_salt("bed").open(Some(session.open));
    let shown = header.show(ui, |ui| {
        bed_ui(ui, tokens, design.units(), &mut next);
        wishes_ui(ui, design, &mut next);
        let (wanted, size) = (session.target.wanted(), design.finished_size());
        let over = (&size.0 - &wanted.0, &size.1 - &wanted.1);
        ui.label(format!("Wanted: {}", about_size(&wanted.0, &wanted.1, design.units())));
        let now = about_size(&size.0, &size.1, design.units());
        ui.label(format!("The quilt now: {now}, {}", miss(&over, design.units())));
        proposals_ui(ui, tokens, studio, out);
    });
    next.open ^= shown.header_response.clicked();
    if next != *session {
        out.push(Action::Bed(Box::new(next)));
    }
    ui.separator();
}

/// The bed, its drops, and where its size comes from.
fn bed_ui(ui: &mut Ui, tokens: &Tokens, units: Units, session: &mut BedSession) {
    egui::Grid::new("bed fields").num_columns(2).spacing([GAP, 6.0]).show(ui, |ui| {
        let label = ui.label("Bed");
        let mut chosen = session.bed;
        let combo = egui::ComboBox::from_id_salt("bed").selected_text(chosen.name).width(150.0).height(560.0).show_ui(
            ui,
            |ui| {
                for bed in BEDS {
                    ui.selectable_value(&mut chosen, bed, bed.name);
                }
            },
        );
        combo.response.labelled_by(label.id);
        ui.end_row();
        if chosen != session.bed {
            *session = session.choose(chosen);
        }
        let names = if session.bed.mattress { ["Mattress width", "Mattress length"] } else { ["Width", "Length"] };
        let mattress = [&mut session.target.width, &mut session.target.length];
        for (name, side) in names.into_iter().zip(mattress) {
            inches_ui(ui, units, name, side, true);
        }
        if session.bed.mattress {
            drops_ui(ui, units, &mut session.target);
        }
    });
    quiet(ui, tokens, session.bed.origin.words());
    if let Some(caution) = session.bed.caution {
        ui.strong(caution.words());
    }
}

fn drops_ui(ui: &mut Ui, units: Units, target: &mut Target) {
    let Target { drops, tuck, .. } = target;
    for (name, drop) in [
        ("Drop at the left", &mut drops.left),
        ("Drop at the right", &mut drops.right),
        ("Drop at the foot", &mut drops.foot),
        ("Drop at the head", &mut drops.head),
        ("Pillow tuck", tuck),
    ] {
        inches_ui(ui, units, name, drop, false);
    }
}

/// A field for inches that may be 0, unless they are of a mattress.
fn inches_ui(ui: &mut Ui, units: Units, name: &str, inches: &mut Exact, mattress: bool) {
    let label = ui.label(name);
    let in_units = |inches: &Exact| match units {
        Units::Inches => inches.to_f64(),
        Units::Centimetres => inches_to_mm(inches).to_f64() / 10.0,
    };
    let (mut shown, step) = (in_units(inches), if units == Units::Inches { 0.125 } else { 0.1 });
    let least = if mattress { step } else { 0.0 };
    let most = in_units(&Exact::int(if mattress { MOST_MATTRESS } else { MAX_DROP_INCHES }));
    // What is there is shown as it is; only a new value is set to the ruler.
    let (there, text) = (shown, finished(inches, units));
    drafted(ui, &mut shown, |ui, shown| {
        let field = DragValue::new(shown).range(least..=most).speed(step);
        let field = field.custom_formatter(move |v, _| {
            if (v - there).abs() > 1e-9 { finished(&set_to_ruler(v, units), units) } else { text.clone() }
        });
        let parse = |text: &str| if text.trim() == "0" { Some(0.0) } else { parse_length(text) };
        ui.add(field.custom_parser(parse).update_while_editing(false)).labelled_by(label.id)
    });
    ui.end_row();
    if (shown - there).abs() > 1e-9 {
        *inches = set_to_ruler(shown, units);
    }
}

/// What may be changed: block sizes, widths and number of borders.
fn wishes_ui(ui: &mut Ui, design: &Design, session: &mut BedSession) {
    let usual = Wishes::usual(design);
    ui.collapsing("What may change", |ui| {
        let label = ui.label("Block sizes to try");
        let field = TextEdit::singleline(&mut session.sizes).hint_text("about as now").desired_width(f32::INFINITY);
        ui.add(field).labelled_by(label.id).on_hover_text("With commas between them; one size alone is kept");
        let Ok(usual) = usual else { return };
        egui::Grid::new("bed wishes").num_columns(2).spacing([GAP, 6.0]).show(ui, |ui| {
            for (name, own, usual) in [
                ("Narrowest border", &mut session.least, usual.least),
                ("Widest border", &mut session.most, usual.most),
            ] {
                let label = ui.label(name);
                let before: Length = own.clone().unwrap_or(usual);
                let mut now = before.clone();
                length_ui(ui, design.units(), &mut now, label.id);
                ui.end_row();
                if now != before {
                    *own = Some(now);
                }
            }
            let label = ui.label("Borders to add, at most");
            whole(ui, DragValue::new(&mut session.added).range(0..=MAX_ADDED), 0.25).labelled_by(label.id);
            ui.end_row();
        });
    });
}

fn proposals_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, out: &mut Vec<Action>) {
    let units = studio.design().units();
    match studio.fit() {
        Fit::Looking => {
            quiet(ui, tokens, "Looking for sizes that fit… (closing this section stops it)");
        }
        Fit::Refused(why) => {
            ui.label(why);
        }
        Fit::Found([]) => {
            ui.label("Nothing comes near; allow other block sizes or wider borders.");
        }
        Fit::Found(proposals) => {
            quiet(ui, tokens, "Click one to make the quilt so; Undo takes it back.");
            for proposal in proposals {
                if proposal_ui(ui, proposal, units) {
                    out.push(Action::Edits("Fit a bed", proposal.edits()));
                }
            }
        }
    }
}

/// One proposal; true when it was clicked.
fn proposal_ui(ui: &mut Ui, proposal: &Proposal, units: Units) -> bool {
    let size = about_size(&proposal.size.0, &proposal.size.1, units);
    let text = format!("{size}: {}\n{}", miss(&proposal.over, units), made_of(proposal, units));
    let changes: Vec<String> = proposal.changes.iter().map(|one| change(one, units)).collect();
    let button = Button::new(text).wrap().min_size(egui::vec2(ui.available_width(), 0.0));
    ui.add(button).on_hover_text(format!("Changes: {}", changes.join("; "))).clicked()
}

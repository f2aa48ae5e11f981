//! Colours, type and spacing of the window. No other file names a colour, fabrics apart.

use std::sync::Arc;

use eframe::egui::{
    self, Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, FontTweak, Stroke, TextStyle, Theme,
};

/// The spacing scale, in points.
pub(crate) const GAP: f32 = 8.0;

/// Half a gap.
pub(crate) const SMALL_GAP: f32 = 4.0;

/// Space round the contents of panels.
pub(crate) const MARGIN: i8 = 12;

/// Size of body text in points.
pub(crate) const BODY: f32 = 14.0;

/// Size of small text in points.
pub(crate) const SMALL: f32 = 12.0;

/// Size of headings in points.
pub(crate) const HEADING: f32 = 17.0;

/// Colours that egui's own style has no name for.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Tokens {
    /// Ground of the design wall.
    pub(crate) wall: Color32,
    /// Shadow under the quilt.
    pub(crate) shadow: Color32,
    /// Seam lines.
    pub(crate) seam: Color32,
    /// The one accent.
    pub(crate) accent: Color32,
    /// Text and icons on the accent.
    pub(crate) on_accent: Color32,
    /// Round an accent line, so that it shows on any fabric.
    pub(crate) halo: Color32,
    /// Inside a rubber band.
    pub(crate) band: Color32,
    /// Text.
    pub(crate) text: Color32,
    /// Quiet text.
    pub(crate) quiet: Color32,
    /// Lines between panels.
    pub(crate) line: Color32,
    /// Ground of panels.
    pub(crate) panel: Color32,
    /// Ground of fields and cards.
    pub(crate) field: Color32,
    /// Ground of what is drawn as on paper, in both looks.
    pub(crate) paper: Color32,
    /// Trouble.
    pub(crate) problem: Color32,
}

impl Tokens {
    /// The tokens of a look.
    #[must_use]
    pub(crate) const fn of(dark: bool) -> Self {
        if dark { Self::DARK } else { Self::LIGHT }
    }

    const LIGHT: Self = Self {
        wall: Color32::from_rgb(0xd9, 0xd8, 0xd5),
        shadow: Color32::from_rgba_premultiplied(0, 0, 0, 40),
        seam: Color32::from_rgba_premultiplied(20, 20, 20, 120),
        accent: Color32::from_rgb(0x1f, 0x6f, 0x78),
        on_accent: Color32::from_rgb(0xff, 0xff, 0xff),
        halo: Color32::from_rgba_premultiplied(230, 230, 230, 230),
        band: Color32::from_rgba_premultiplied(8, 28, 30, 60),
        text: Color32::from_rgb(0x24, 0x26, 0x2a),
        quiet: Color32::from_rgb(0x5c, 0x60, 0x68),
        line: Color32::from_rgb(0xd6, 0xd4, 0xcf),
        panel: Color32::from_rgb(0xf6, 0xf5, 0xf2),
        field: Color32::from_rgb(0xff, 0xff, 0xff),
        paper: Color32::WHITE,
        problem: Color32::from_rgb(0xa8, 0x32, 0x2a),
    };

    const DARK: Self = Self {
        wall: Color32::from_rgb(0x3a, 0x3b, 0x3d),
        shadow: Color32::from_rgba_premultiplied(0, 0, 0, 90),
        seam: Color32::from_rgba_premultiplied(10, 10, 10, 120),
        accent: Color32::from_rgb(0x5c, 0xb8, 0xc2),
        on_accent: Color32::from_rgb(0x10, 0x1e, 0x20),
        halo: Color32::from_rgba_premultiplied(24, 26, 28, 230),
        band: Color32::from_rgba_premultiplied(20, 46, 50, 70),
        text: Color32::from_rgb(0xec, 0xec, 0xea),
        quiet: Color32::from_rgb(0xa9, 0xac, 0xb2),
        line: Color32::from_rgb(0x45, 0x47, 0x4b),
        panel: Color32::from_rgb(0x26, 0x27, 0x2a),
        field: Color32::from_rgb(0x1c, 0x1d, 0x20),
        paper: Color32::WHITE,
        problem: Color32::from_rgb(0xf0, 0x8a, 0x7e),
    };
}

/// A fabric's colour on screen.
#[must_use]
pub(crate) const fn fabric_colour(colour: layout::Colour) -> Color32 {
    Color32::from_rgb(colour.red, colour.green, colour.blue)
}

/// Installs type and both looks.
pub(crate) fn install(ctx: &egui::Context) {
    ctx.set_fonts(fonts());
    for (theme, tokens) in [(Theme::Light, Tokens::LIGHT), (Theme::Dark, Tokens::DARK)] {
        ctx.style_mut_of(theme, |style| dress(style, &tokens));
    }
}

fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::empty();
    let regular: &[u8] = include_bytes!("../../../../assets/fonts/Lato-Regular.ttf");
    let bold: &[u8] = include_bytes!("../../../../assets/fonts/Lato-Bold.ttf");
    // Lato leaves more room below its letters than above: a little down, and it stands in the middle of a button.
    let tweak = FontTweak { y_offset_factor: 0.08, ..FontTweak::default() };
    let data = |bytes| Arc::new(FontData::from_static(bytes).tweak(tweak.clone()));
    fonts.font_data.insert("Lato".to_owned(), data(regular));
    fonts.font_data.insert("Lato Bold".to_owned(), data(bold));
    fonts.families.insert(FontFamily::Proportional, vec!["Lato".to_owned()]);
    fonts.families.insert(FontFamily::Monospace, vec!["Lato".to_owned()]);
    fonts.families.insert(bold_family(), vec!["Lato Bold".to_owned()]);
    fonts
}

/// The family of bold text.
#[must_use]
pub(crate) fn bold_family() -> FontFamily {
    FontFamily::Name("bold".into())
}

fn dress(style: &mut egui::Style, tokens: &Tokens) {
    let size = |size, family| FontId { size, family };
    style.text_styles = [
        (TextStyle::Body, size(BODY, FontFamily::Proportional)),
        (TextStyle::Button, size(BODY, FontFamily::Proportional)),
        (TextStyle::Small, size(SMALL, FontFamily::Proportional)),
        (TextStyle::Monospace, size(BODY, FontFamily::Proportional)),
        (TextStyle::Heading, size(HEADING, bold_family())),
    ]
    .into();
    style.spacing.item_spacing = egui::vec2(GAP, GAP);
    style.spacing.button_padding = egui::vec2(10.0, 5.0);
    style.spacing.interact_size.y = 28.0;
    style.spacing.menu_margin = egui::Margin::same(6);
    let visuals = &mut style.visuals;
    visuals.override_text_color = None;
    visuals.weak_text_color = Some(tokens.quiet);
    visuals.panel_fill = tokens.panel;
    visuals.window_fill = tokens.panel;
    visuals.extreme_bg_color = tokens.field;
    visuals.faint_bg_color = tokens.field;
    visuals.hyperlink_color = tokens.accent;
    visuals.error_fg_color = tokens.problem;
    visuals.window_stroke = Stroke::new(1.0, tokens.line);
    visuals.window_corner_radius = CornerRadius::same(8);
    visuals.menu_corner_radius = CornerRadius::same(6);
    visuals.selection.bg_fill = tokens.accent;
    visuals.selection.stroke = Stroke::new(1.0, tokens.on_accent);
    let widgets = &mut visuals.widgets;
    widgets.noninteractive.bg_stroke = Stroke::new(1.0, tokens.line);
    widgets.noninteractive.fg_stroke = Stroke::new(1.0, tokens.text);
    for (state, fill) in [
        (&mut widgets.inactive, tokens.field),
        (&mut widgets.hovered, blend(tokens.field, tokens.accent, 0.12)),
        (&mut widgets.active, blend(tokens.field, tokens.accent, 0.25)),
        (&mut widgets.open, blend(tokens.field, tokens.accent, 0.12)),
    ] {
        state.bg_fill = fill;
        state.weak_bg_fill = fill;
        state.bg_stroke = Stroke::new(1.0, tokens.line);
        state.fg_stroke = Stroke::new(1.5, tokens.text);
        state.corner_radius = CornerRadius::same(5);
        state.expansion = 0.0;
    }
    widgets.hovered.bg_stroke = Stroke::new(1.0, tokens.accent);
}

/// `share` of the way from one colour to another.
#[must_use]
pub(crate) fn blend(from: Color32, to: Color32, share: f32) -> Color32 {
    from.lerp_to_gamma(to, share)
}

//! The window's own icons: a few strokes each on a grid of 24 × 24, drawn in the colour of the text.

use eframe::egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, pos2};

use super::session::{Room, Tool};

/// An icon.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Icon {
    /// A place of the window.
    Room(Room),
    /// A tool.
    Tool(Tool),
    /// A step back.
    Undo,
    /// A step forward.
    Redo,
    /// Turn to the left.
    TurnLeft,
    /// Turn to the right.
    TurnRight,
    /// Mirror.
    Mirror,
    /// Show all.
    Fit,
    /// Take away.
    Remove,
    /// To the one before.
    Back,
    /// To the next one.
    On,
    /// Smaller.
    Smaller,
    /// Larger.
    Larger,
}

/// A polyline on the grid, closed or open.
type Line = (&'static [(f32, f32)], bool);

impl Icon {
    #[expect(clippy::too_many_lines, reason = "the drawings themselves, one after the other")]
    const fn lines(self) -> &'static [Line] {
        match self {
            // A diamond on a construction line.
            Self::Room(Room::Draft) => &[
                (&[(4.0, 12.0), (9.0, 5.0), (20.0, 5.0), (15.0, 12.0)], true),
                (&[(3.0, 19.0), (21.0, 19.0)], false),
                (&[(6.0, 17.0), (6.0, 21.0)], false),
                (&[(12.0, 17.0), (12.0, 21.0)], false),
                (&[(18.0, 17.0), (18.0, 21.0)], false),
            ],
            // Four blocks, one on point.
            Self::Room(Room::Set) => &[
                (&[(4.0, 4.0), (11.0, 4.0), (11.0, 11.0), (4.0, 11.0)], true),
                (&[(13.0, 13.0), (20.0, 13.0), (20.0, 20.0), (13.0, 20.0)], true),
                (&[(4.0, 13.0), (11.0, 13.0), (11.0, 20.0), (4.0, 20.0)], true),
                (&[(16.5, 3.5), (20.5, 7.5), (16.5, 11.5), (12.5, 7.5)], true),
            ],
            // Three overlapping swatches.
            Self::Room(Room::Colour) => &[
                (&[(3.0, 8.0), (10.0, 8.0), (10.0, 15.0), (3.0, 15.0)], true),
                (&[(10.0, 4.0), (17.0, 4.0), (17.0, 11.0), (10.0, 11.0)], true),
                (&[(13.0, 13.0), (21.0, 13.0), (21.0, 21.0), (13.0, 21.0)], true),
                (&[(13.0, 21.0), (21.0, 13.0)], false),
            ],
            // A strip with subcuts at 45°.
            Self::Room(Room::Cut) => &[
                (&[(2.0, 8.0), (22.0, 8.0)], false),
                (&[(2.0, 16.0), (22.0, 16.0)], false),
                (&[(3.0, 16.0), (11.0, 8.0)], false),
                (&[(9.0, 16.0), (17.0, 8.0)], false),
                (&[(15.0, 16.0), (21.0, 10.0)], false),
            ],
            // Two patches and a row of stitches.
            Self::Room(Room::Sew) => &[
                (&[(3.0, 5.0), (21.0, 5.0), (21.0, 19.0), (3.0, 19.0)], true),
                (&[(12.0, 5.0), (12.0, 7.5)], false),
                (&[(12.0, 9.5), (12.0, 12.0)], false),
                (&[(12.0, 14.0), (12.0, 16.5)], false),
                (&[(15.0, 12.0), (19.0, 12.0)], false),
                (&[(17.0, 10.0), (19.0, 12.0), (17.0, 14.0)], false),
            ],
            // A page with a block on it.
            Self::Room(Room::Publish) => &[
                (&[(5.0, 3.0), (15.0, 3.0), (19.0, 7.0), (19.0, 21.0), (5.0, 21.0)], true),
                (&[(9.0, 8.0), (13.0, 8.0), (13.0, 12.0), (9.0, 12.0)], true),
                (&[(8.0, 15.0), (16.0, 15.0)], false),
                (&[(8.0, 18.0), (13.0, 18.0)], false),
            ],
            Self::Tool(Tool::Select) => &[(
                &[(7.0, 4.0), (7.0, 18.5), (10.6, 15.0), (13.2, 20.5), (15.6, 19.4), (13.0, 14.0), (18.0, 14.0)],
                true,
            )],
            Self::Tool(Tool::Paint) => &[
                (&[(20.0, 4.0), (11.0, 13.0), (9.0, 11.0), (18.0, 2.5)], true),
                (&[(11.0, 13.0), (10.0, 18.0), (4.0, 20.0), (6.0, 14.0), (9.0, 11.0)], false),
            ],
            Self::Tool(Tool::Pick) => &[
                (&[(13.0, 6.0), (18.0, 11.0)], false),
                (&[(15.0, 8.0), (18.5, 4.0), (20.5, 6.0), (17.0, 9.5)], true),
                (&[(14.0, 7.5), (5.0, 16.5), (4.0, 20.0), (7.5, 19.0), (16.5, 10.0)], false),
            ],
            Self::Undo => &[
                (&[(9.0, 5.0), (4.0, 10.0), (9.0, 15.0)], false),
                (
                    &[(4.0, 10.0), (15.0, 10.0), (19.0, 12.0), (20.0, 15.0), (19.0, 18.0), (15.0, 20.0), (11.0, 20.0)],
                    false,
                ),
            ],
            Self::Redo => &[
                (&[(15.0, 5.0), (20.0, 10.0), (15.0, 15.0)], false),
                (&[(20.0, 10.0), (9.0, 10.0), (5.0, 12.0), (4.0, 15.0), (5.0, 18.0), (9.0, 20.0), (13.0, 20.0)], false),
            ],
            // A block, and the quarter turn it makes.
            Self::TurnLeft => &[
                (&[(9.0, 10.0), (20.0, 10.0), (20.0, 21.0), (9.0, 21.0)], true),
                (&[(9.0, 21.0), (20.0, 10.0)], false),
                (&[(17.0, 4.0), (10.0, 4.0), (6.0, 6.0), (4.0, 10.0), (4.0, 15.0)], false),
                (&[(1.5, 12.0), (4.0, 15.0), (6.5, 12.0)], false),
            ],
            Self::TurnRight => &[
                (&[(4.0, 10.0), (15.0, 10.0), (15.0, 21.0), (4.0, 21.0)], true),
                (&[(4.0, 10.0), (15.0, 21.0)], false),
                (&[(7.0, 4.0), (14.0, 4.0), (18.0, 6.0), (20.0, 10.0), (20.0, 15.0)], false),
                (&[(17.5, 12.0), (20.0, 15.0), (22.5, 12.0)], false),
            ],
            Self::Mirror => &[
                (&[(12.0, 3.0), (12.0, 6.0)], false),
                (&[(12.0, 9.0), (12.0, 15.0)], false),
                (&[(12.0, 18.0), (12.0, 21.0)], false),
                (&[(9.0, 6.0), (9.0, 18.0), (3.0, 18.0)], true),
                (&[(15.0, 6.0), (15.0, 18.0), (21.0, 18.0)], true),
            ],
            Self::Remove => &[(&[(6.0, 6.0), (18.0, 18.0)], false), (&[(18.0, 6.0), (6.0, 18.0)], false)],
            Self::Back => &[(&[(15.0, 5.0), (8.0, 12.0), (15.0, 19.0)], false)],
            Self::On => &[(&[(9.0, 5.0), (16.0, 12.0), (9.0, 19.0)], false)],
            Self::Smaller => &[(&[(6.0, 12.0), (18.0, 12.0)], false)],
            Self::Larger => &[(&[(6.0, 12.0), (18.0, 12.0)], false), (&[(12.0, 6.0), (12.0, 18.0)], false)],
            Self::Fit => &[
                (&[(4.0, 9.0), (4.0, 4.0), (9.0, 4.0)], false),
                (&[(15.0, 4.0), (20.0, 4.0), (20.0, 9.0)], false),
                (&[(20.0, 15.0), (20.0, 20.0), (15.0, 20.0)], false),
                (&[(9.0, 20.0), (4.0, 20.0), (4.0, 15.0)], false),
            ],
        }
    }

    /// Draws the icon in `rect`.
    pub(crate) fn draw(self, painter: &Painter, rect: Rect, colour: Color32) {
        let side = rect.width().min(rect.height());
        let corner = rect.center() - eframe::egui::Vec2::splat(side / 2.0);
        let stroke = Stroke::new((side / 24.0 * 1.6).max(1.2), colour);
        for (line, closed) in self.lines() {
            let points: Vec<Pos2> =
                line.iter().map(|(x, y)| pos2(corner.x + x * side / 24.0, corner.y + y * side / 24.0)).collect();
            painter.add(if *closed { Shape::closed_line(points, stroke) } else { Shape::line(points, stroke) });
        }
    }
}

//! How a border becomes another kind, and what a pieced one needs.

use geometry::{Exact, Length, Recipe};
use layout::{BlockId, Border, BorderKind, ColourScheme, Design, Edit, FabricId, PiecedBorder, colour_table};

use super::paint::fabrics_by_value;
use crate::words::counted;

/// How the corners of a border are made, which tells its kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Corners {
    /// Top and bottom run over the ends of the sides.
    Butted,
    /// Seams at 45°.
    Mitred,
    /// Squares of another fabric.
    Squares,
    /// The whole border is pieced, with a block in each corner.
    Pieced,
}

impl Corners {
    /// All.
    pub const ALL: [Self; 4] = [Self::Butted, Self::Mitred, Self::Squares, Self::Pieced];

    /// Those of a kind of border.
    #[must_use]
    pub const fn of(kind: BorderKind) -> Self {
        match kind {
            BorderKind::Butted => Self::Butted,
            BorderKind::Mitred => Self::Mitred,
            BorderKind::CornerSquares(_) => Self::Squares,
            BorderKind::Pieced(_) => Self::Pieced,
        }
    }

    /// What they are called.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Butted => "butted",
            Self::Mitred => "mitred",
            Self::Squares => "corner squares",
            Self::Pieced => "pieced of blocks",
        }
    }
}

/// A plain border to begin with: 4 in or 10 cm of the darkest fabric (common practice, no source).
#[must_use]
pub fn another(design: &Design) -> Option<Border> {
    let fabric = fabrics_by_value(design).first().copied()?;
    let width = match design.units() {
        layout::Units::Inches => Length::whole_inches(4),
        layout::Units::Centimetres => Length::millimetres(100),
    };
    Some(Border::plain(width.ok()?, fabric))
}

/// The border with corners of another kind, with what it needs for them.
#[must_use]
pub fn of_corners(design: &Design, border: &Border, corners: Corners) -> Border {
    let kind = match corners {
        Corners::Butted => BorderKind::Butted,
        Corners::Mitred => BorderKind::Mitred,
        Corners::Squares => {
            let other = fabrics_by_value(design).into_iter().rev().find(|id| *id != border.fabric);
            BorderKind::CornerSquares(other.unwrap_or(border.fabric))
        }
        Corners::Pieced => {
            let Some(block) = design.blocks().map(|(id, _)| id).find(|id| is_rectangle(design, *id)) else {
                return border.clone();
            };
            let pieced = PiecedBorder { block, turn: 0, mirrored: false, corner: block };
            return with_pieces(design, border, pieced);
        }
    };
    Border { kind, level_width: border.level_width.clone().filter(|_| kind == BorderKind::Butted), ..border.clone() }
}

/// The border pieced of these blocks: as wide as they are deep, and with corners that are as wide, if there are any.
#[must_use]
pub fn with_pieces(design: &Design, border: &Border, pieced: PiecedBorder) -> Border {
    let depth = design.block(pieced.block).map(|def| pieced.extent(def.block()).1);
    let Some((depth, width)) = depth.ok().and_then(|depth| Some((depth.clone(), Length::new(depth).ok()?))) else {
        return border.clone();
    };
    let before = border.pieced().map(|before| before.block);
    let chosen = before == Some(pieced.block) || is_square(design, pieced.corner, &depth);
    let fitting = || design.blocks().map(|(id, _)| id).find(|id| is_square(design, *id, &depth));
    let corner = if chosen { pieced.corner } else { fitting().unwrap_or(pieced.corner) };
    Border { width, level_width: None, kind: BorderKind::Pieced(PiecedBorder { corner, ..pieced }), ..border.clone() }
}

fn is_rectangle(design: &Design, id: BlockId) -> bool {
    design.block(id).is_ok_and(|def| {
        let (width, height) = def.block().base().extent();
        def.block().base().area() == &width * &height
    })
}

fn is_square(design: &Design, id: BlockId, side: &Exact) -> bool {
    is_rectangle(design, id)
        && design.block(id).is_ok_and(|def| def.block().base().extent() == (side.clone(), side.clone()))
}

/// The first pieced border for whose corners the quilt has no square, and how large these are.
#[must_use]
pub fn corner_square(design: &Design, borders: &[Border]) -> Option<(usize, Exact)> {
    borders.iter().enumerate().find_map(|(number, border)| {
        let pieced = border.pieced()?;
        let (_, depth) = pieced.extent(design.block(pieced.block).ok()?.block());
        let none = !design.blocks().any(|(id, _)| is_square(design, id, &depth));
        none.then_some((number, depth))
    })
}

/// The edit that adds a plain square of a fabric.
pub(crate) fn add_square(design: &Design, side: &Exact, fabric: FabricId) -> Option<Edit> {
    let side = Length::new(side.clone()).ok()?;
    let recipe = Recipe::Plain { width: side.clone(), height: side };
    add_plain(design, recipe, fabric)
}

/// The edit that adds a block of one fabric, named after it.
pub(crate) fn add_plain(design: &Design, recipe: Recipe, fabric: FabricId) -> Option<Edit> {
    let block = recipe.draft().ok()?;
    let name = format!("Plain block of {}", design.fabric(fabric).ok()?.name);
    let name = name.chars().take(layout::MAX_NAME_CHARS).collect();
    let table = colour_table(&block, ColourScheme::Two { dark: fabric, light: fabric });
    Some(Edit::AddBlock { name, recipe, table })
}

/// The borders that the quilt has, in short.
pub(crate) fn named(design: &Design) -> String {
    format!("The quilt has {} now", counted(design.borders().len() as u64, "border", "borders"))
}

//! King: three kinds of 9 in blocks on point with sashing and cornerstones, inside a border of half-square triangles.

use geometry::{Exact, Length, Recipe, Value};
use layout::file::Document;
use layout::{
    BlockId, Border, BorderKind, ColourScheme, Edit, EditError, FabricId, PiecedBorder, Sashing, Setting, Starter,
    Units,
};

use super::making::{Made, Making, blocks, cells, fabrics, side};

const NIGHT: FabricId = FabricId(1);
const OATMEAL: FabricId = FabricId(2);
const APRICOT: FabricId = FabricId(3);
const OLIVE: FabricId = FabricId(4);
const LANTERN: FabricId = FabricId(5);
const BARK: FabricId = FabricId(6);

const STAR: BlockId = BlockId(1);
const HALF: BlockId = BlockId(2);
const NINE: BlockId = BlockId(3);
const TEETH: BlockId = BlockId(4);
const CORNER: BlockId = BlockId(5);

/// Rows and columns of blocks that reach the edges.
const SIZE: (u16, u16) = (6, 5);

/// Depth of the pieced border in inches.
const TEETH_INCHES: i64 = 6;

/// Stars and diagonal half blocks in turn, nine-patches in the rows between.
pub(super) fn lantern_orchard() -> Made<Document> {
    let (rows, columns) = SIZE;
    let setting = Setting::OnPoint { rows, columns, sides: OLIVE, corners: LANTERN };
    let mut quilt = Making::begin(&Starter {
        name: "Lantern Orchard".to_owned(),
        units: Units::Inches,
        fabrics: fabrics(&[
            ("Night", "#1f2a44", Value::Dark),
            ("Oatmeal", "#efe5d0", Value::Light),
            ("Apricot", "#e08e4f", Value::Medium),
            ("Olive", "#6f7f3f", Value::Medium),
            ("Lantern", "#f3c969", Value::Light),
            ("Bark", "#4a2f23", Value::Dark),
        ])?,
        blocks: blocks([
            ("Star", Recipe::TiltedStar(side(9)?)),
            ("Day and night", Recipe::DiagonalHalf { size: side(9)?, band: None }),
            ("Nine-patch", Recipe::NinePatch(side(9)?)),
            ("Border teeth", Recipe::HalfSquare(side(TEETH_INCHES)?)),
            ("Border corner", Recipe::FourPatch(side(TEETH_INCHES)?)),
        ]),
        scheme: ColourScheme::Four { dark: NIGHT, light: OATMEAL, on_dark: APRICOT, on_light: OLIVE },
        setting,
        borders: Vec::new(),
        binding: BARK,
    })?;
    let star = [("background square", Value::Light, OATMEAL), ("background triangle", Value::Light, OATMEAL)];
    quilt
        .table(STAR, &[&[("diamond", Value::Dark, NIGHT), ("diamond", Value::Medium, APRICOT)], &star[..]].concat())?;
    quilt.table(NINE, &[("square", Value::Dark, BARK), ("square", Value::Light, LANTERN)])?;
    quilt.table(CORNER, &[("square", Value::Dark, BARK), ("square", Value::Light, LANTERN)])?;
    for at in cells(setting.cell_rows(), columns).filter(|(row, column)| setting.has_cell(*row, *column)) {
        let (block, turn) = standing(at);
        quilt.place(at, block, turn)?;
    }
    let width = Length::inch_fraction(3, 2)?;
    let sashing = Sashing { width, fabric: BARK, cornerstones: Some(APRICOT), outer: true };
    quilt.edit(&Edit::SetSashing(Some(sashing)))?;
    framed(&mut quilt)?;
    Ok(Document::new(quilt.design()))
}

/// The block in a cell; half blocks turn their dark halves outwards.
const fn standing((row, column): (u16, u16)) -> (BlockId, u8) {
    let lower = row >= SIZE.0;
    match (row % 2, column % 2) {
        (1, _) => (NINE, 0),
        (_, 0) => (STAR, 0),
        _ => (HALF, if lower { 3 } else { 1 }),
    }
}

/// A spacer that the border of blocks asks for, half a block wider at the left and right; the blocks; a plain border.
fn framed(quilt: &mut Making) -> Made<()> {
    let own = PiecedBorder { block: TEETH, turn: 0, mirrored: false, corner: CORNER };
    let depth = Length::whole_inches(TEETH_INCHES)?;
    let teeth = Border { width: depth, level_width: None, fabric: NIGHT, kind: BorderKind::Pieced(own) };
    let Err(refusal) = quilt.edit(&Edit::SetBorders(vec![teeth.clone()])) else {
        return Err("the border fits without a spacer".into());
    };
    let spacer = match refusal.downcast_ref::<EditError>() {
        Some(EditError::BorderMisfit(fit)) => fit.spacer(OATMEAL).ok_or("no spacer makes the border fit")?,
        _ => return Err(refusal),
    };
    let wider = Length::new(spacer.width.inches() + &Exact::ratio(TEETH_INCHES, 2).ok_or("half a block")?)?;
    let spacer = Border { width: wider, ..spacer };
    let edge = Border::plain(Length::whole_inches(3)?, NIGHT);
    quilt.edit(&Edit::SetBorders(vec![spacer, teeth, edge]))
}

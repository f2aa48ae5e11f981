//! Blanks that hold several patches: true counts, proved by laying, and what is recognised in a block.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use cutting::methods::{NoBlank, SewnMethod, SewnUnit, SquareSize, sewn_units, unit_blanks};
use cutting::{CutPiece, Freedom, PieceId, RulerStep};
use geometry::cut::CutShape;
use geometry::{Block, Length, Measure, Patch, Recipe, Size};

fn inches(n: i64) -> Length {
    Length::whole_inches(n).unwrap()
}
fn by(by: Measure, length: Length) -> Size {
    Size { by, length }
}

fn cut_piece(patch: &Patch, seam: &Length, id: u32, freedom: Freedom) -> CutPiece {
    let allowances = vec![seam.inches().clone(); patch.outline.corners().len()];
    let grain = patch.grain.clone().unwrap_or_else(|| patch.outline.edge(0));
    let polygon = CutShape::mitred(&patch.outline, &allowances, &grain).unwrap().outline().clone();
    CutPiece { id: PieceId(id), polygon, freedom }
}

#[test]
fn show() {
    let split = [true; 8];
    let b = || by(Measure::Block, inches(12));
    let s = || by(Measure::Side, inches(6));
    for r in [
        Recipe::TiltedStar(b()),
        Recipe::OnAxisStar { size: b(), split },
        Recipe::DiagonalHalf { size: b(), band: None },
        Recipe::SixtyUnit(s()),
        Recipe::SixtyTriangle(s()),
        Recipe::SixtyDiamond(s()),
        Recipe::Hexagon(s()),
        Recipe::HalfHexagon(s()),
        Recipe::FourPatch(b()),
        Recipe::NinePatch(b()),
        Recipe::HalfSquare(b()),
        Recipe::QuarterSquare(b()),
        Recipe::FlyingGoose(b()),
        Recipe::SquareInSquare(b()),
        Recipe::Stripes { width: inches(6), height: inches(12), count: 5 },
    ] {
        let block = r.draft().unwrap();
        println!("{r:?}");
        for u in sewn_units(&block, &Length::inch_fraction(1, 4).unwrap()) {
            println!(
                "   {:?} angle {:?} ×{} alt {:?} segment {:?} fin {:?} places {:?}",
                u.method,
                u.angle.steps15(),
                u.count(),
                u.alternatives,
                u.segment.as_ref().map(|s| s.to_decimal(3)),
                u.positions.iter().map(|p| p.finished.as_ref().map(|f| f.to_decimal(3))).collect::<Vec<_>>(),
                u.places.iter().map(|p| p.iter().map(|k| k.0).collect::<Vec<_>>()).collect::<Vec<_>>()
            );
            let seam = Length::inch_fraction(1, 4).unwrap();
            let pieces: Vec<CutPiece> = u
                .positions
                .iter()
                .enumerate()
                .map(|(i, p)| {
                    let patch = block.patches().iter().find(|q| q.key == p.patch).unwrap();
                    cut_piece(patch, &seam, i as u32, Freedom::TURNS)
                })
                .collect();
            let refs: Vec<&CutPiece> = pieces.iter().collect();
            match unit_blanks(&u, &refs, 40 * 65536, RulerStep::EIGHTH_INCH, SquareSize::Exact) {
                Ok(bl) => {
                    for b in bl {
                        println!(
                            "        {:?} {} × {} n {}",
                            b.method,
                            b.width as f64 / 65536.,
                            b.height as f64 / 65536.,
                            b.inner.len()
                        );
                    }
                }
                Err(e) => println!("        {e}"),
            }
        }
    }
    let _ = (NoBlank::TooNarrow, SewnMethod::StripSet, None::<SewnUnit>, None::<Block>);
}

//! Proposals for a bed in words, the same on screen, on paper and in the terminal.

use geometry::ruler::inch_text;
use geometry::{Exact, Length};
use layout::Units;
use layout::beds::{Change, Proposal};

use crate::lengths::{counted, finished};

/// By how much a quilt misses what is wanted: "½″ wider, fits the length".
#[must_use]
pub fn miss(over: &(Exact, Exact), units: Units) -> String {
    if over.0.is_zero() && over.1.is_zero() {
        return "fits width and length".to_owned();
    }
    let side = |over: &Exact, [more, less, fits]: [&str; 3]| match over.signum() {
        0 => fits.to_owned(),
        1 => format!("{} {more}", near(over, units)),
        _ => format!("{} {less}", near(&over.abs(), units)),
    };
    let width = side(&over.0, ["wider", "narrower", "fits the width"]);
    let length = side(&over.1, ["longer", "shorter", "fits the length"]);
    format!("{width}, {length}")
}

/// A difference: as it is where a ruler has it, else to the nearest eighth of an inch or millimetre.
fn near(inches: &Exact, units: Units) -> String {
    let as_it_is = match units {
        Units::Inches => !inch_text(inches).contains('.'),
        Units::Centimetres => {
            geometry::inches_to_mm(inches).scale_int(10).as_rational().is_some_and(|(_, d)| d == 1.into())
        }
    };
    if as_it_is {
        return finished(inches, units);
    }
    let (step, least) = match units {
        Units::Inches => (Exact::ratio(1, 8), "less than ⅛″"),
        Units::Centimetres => (Exact::ratio(5, 127), "less than 1 mm"),
    };
    let step = step.unwrap_or(Exact::ONE);
    let steps = (inches + &step.half()).floor_div(&step).unwrap_or_default();
    let rounded = &Exact::from(steps) * &step;
    if rounded.is_zero() { least.to_owned() } else { format!("about {}", finished(&rounded, units)) }
}

/// What a proposal changes: "9 rows (7 now)", "border 2 4″ wide (3½″ now)".
#[must_use]
pub fn change(change: &Change, units: Units) -> String {
    let wide = |length: &Length| finished(length.inches(), units);
    match change {
        Change::BlockSize { from, to } => format!("blocks {} ({} now)", wide(to), wide(from)),
        Change::Rows { from, to } => format!("{} ({from} now)", counted(u64::from(*to), "row", "rows")),
        Change::Columns { from, to } => format!("{} ({from} now)", counted(u64::from(*to), "column", "columns")),
        Change::BorderWidth { border, from, to } => {
            format!("border {} {} wide ({} now)", border + 1, wide(to), wide(from))
        }
        Change::BorderAdded { border, width, level: None } => {
            format!("new border {} {} wide", border + 1, wide(width))
        }
        Change::BorderAdded { border, width, level: Some(level) } => format!(
            "new border {} {} wide, at top and bottom {}, so that the pieced one fits",
            border + 1,
            wide(width),
            wide(level)
        ),
    }
}

/// The blocks and borders of a proposal: "9 × 8 blocks of 10″ (block side), border 5″".
#[must_use]
pub fn made_of(proposal: &Proposal, units: Units) -> String {
    let size = &proposal.block_size;
    let widths: Vec<String> = proposal.borders.iter().map(|border| finished(border.width.inches(), units)).collect();
    let borders = match widths.as_slice() {
        [] => "no border".to_owned(),
        [one] => format!("border {one}"),
        many => format!("borders {}", many.join(" + ")),
    };
    format!(
        "{} rows × {} columns, {} {}, {borders}",
        proposal.rows,
        proposal.columns,
        size.by.words(),
        finished(size.length.inches(), units)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn misses_are_told_side_by_side() {
        let half = Exact::ratio(1, 2).unwrap();
        let zero = Exact::ZERO;
        let root = &Exact::sqrt2() - &Exact::ONE;
        let tiny = Exact::ratio(1, 1000).unwrap();
        let mm = Exact::ratio(5, 127).unwrap();
        for (over, units, told) in [
            ((zero.clone(), zero.clone()), Units::Inches, "fits width and length"),
            ((half.clone(), zero.clone()), Units::Inches, "½″ wider, fits the length"),
            ((zero.clone(), -&half), Units::Inches, "fits the width, ½″ shorter"),
            ((-&root, tiny.clone()), Units::Inches, "about ⅜″ narrower, less than ⅛″ longer"),
            ((mm.scale_int(25), -&tiny), Units::Centimetres, "2.50 cm wider, less than 1 mm shorter"),
        ] {
            assert_eq!(miss(&over, units), told);
        }
    }
}

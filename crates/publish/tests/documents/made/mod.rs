//! Small quilts of one block, in two fabrics of our own invention.

use geometry::{Length, Measure, Recipe, Size, Value};
use layout::{Colour, ColourScheme, CuttingWishes, Design, Edit, FabricId, Setting, Starter, Units, apply};

/// A size of so many whole inches.
pub(crate) fn sized(by: Measure, inches: i64) -> Size {
    Size { by, length: Length::whole_inches(inches).unwrap() }
}

/// A quilt of this block with plain borders of these widths.
pub(crate) fn quilt_in(recipe: Recipe, setting: Setting, borders: &[Length]) -> Design {
    let fabric = |name: &str, colour: &str, value| (name.to_owned(), Colour::parse(colour).unwrap(), value);
    let starter = Starter {
        name: "Lantern walk".to_owned(),
        units: Units::Inches,
        fabrics: vec![fabric("Plum", "#4b1d3f", Value::Dark), fabric("Oat", "#efe6d2", Value::Light)],
        blocks: vec![("Block".to_owned(), recipe)],
        scheme: ColourScheme::Two { dark: FabricId(1), light: FabricId(2) },
        setting,
        borders: borders.iter().map(|width| (width.clone(), FabricId(1))).collect(),
        binding: FabricId(1),
    };
    starter.design().unwrap()
}

/// Six of these blocks with a border of two inches.
pub(crate) fn quilt(recipe: Recipe) -> Design {
    quilt_in(recipe, Setting::Straight { rows: 2, columns: 3 }, &[Length::whole_inches(2).unwrap()])
}

/// The same quilt, its outer pieces cut half an inch wider.
pub(crate) fn with_margin(design: &Design) -> Design {
    let wishes = CuttingWishes { oversize: Length::inch_fraction(1, 2).ok(), ..design.cutting().clone() };
    apply(design, &Edit::SetCutting(wishes)).unwrap().0
}

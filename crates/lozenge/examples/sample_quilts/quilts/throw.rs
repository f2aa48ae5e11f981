//! Throw: a block of the maker's own, given patch by patch, in two colourings in one file.

use geometry::{Exact, Length, Patch, PatchKey, Point, Polygon, Recipe, Role, Tone, Value, Vector};
use layout::file::{Document, Variant};
use layout::{ColourScheme, Edit, Fabric, FabricId, Look, Setting, Starter, Units};

use super::making::{Made, Making, blocks, cells, fabrics};

const DEEP: FabricId = FabricId(1);
const PALE: FabricId = FabricId(2);
const WARM: FabricId = FabricId(3);
const COOL: FabricId = FabricId(4);

/// 5 × 5 blocks of 12 in; the second variant has other fabrics and, with them, another look.
pub(super) fn two_windows() -> Made<Document> {
    let (rows, columns) = (5, 5);
    let mut quilt = Making::begin(&Starter {
        name: "Two Windows".to_owned(),
        units: Units::Inches,
        fabrics: fabrics(&[
            ("Aubergine", "#3a2440", Value::Dark),
            ("Cream", "#f5ecdc", Value::Light),
            ("Apricot", "#e08e45", Value::Medium),
            ("Heather", "#9a84ad", Value::Medium),
        ])?,
        blocks: blocks([("Window", window(12)?)]),
        scheme: ColourScheme::Four { dark: DEEP, light: PALE, on_dark: WARM, on_light: PALE },
        setting: Setting::Straight { rows, columns },
        borders: vec![(Length::inch_fraction(3, 2)?, WARM), (Length::whole_inches(4)?, DEEP)],
        binding: DEEP,
    })?;
    for at in cells(rows, columns) {
        if (at.0 + at.1) % 2 == 1 {
            quilt.role_here(at, "pane", COOL)?;
        }
    }
    let dusk = quilt.design();
    let mut again = Making::of(dusk.clone());
    for (id, name, colour, value) in [
        (DEEP, "Harbour", "#1f4e5f", Value::Dark),
        (PALE, "Salt", "#f7f4ea", Value::Light),
        (WARM, "Coral", "#e2725b", Value::Medium),
        (COOL, "Shallows", "#8fc1bd", Value::Medium),
    ] {
        let old = dusk.fabric(id)?;
        let colour = layout::Colour::parse(colour).ok_or("no colour")?;
        let fabric = Fabric { name: name.to_owned(), look: Look::Plain(colour), value, ..old.clone() };
        again.edit(&Edit::ChangeFabric { id, fabric })?;
    }
    let variant = |label: &str, design| Variant { label: label.to_owned(), design };
    Ok(Document::with_variants(vec![variant("Dusk", dusk), variant("Noon", again.design())])?)
}

/// Corners by their two coordinates.
type Corners<'a> = Vec<(&'a Exact, &'a Exact)>;

/// A window of side `inches`: panes around a square on point, star points between them, corners cut off at
/// s = S/(2+√2), so that the corners of the inner patches lie on a regular octagon.
fn window(inches: i64) -> Made<Recipe> {
    let size = Exact::int(inches);
    let near = &size * &(&Exact::ONE - &Exact::sqrt2().half());
    let (zero, middle, far) = (Exact::ZERO, size.half(), &size - &near);
    let mut patches: Vec<(&str, Tone, Corners)> = vec![(
        "pane",
        Tone::Own(Value::Medium),
        vec![(&middle, &near), (&far, &middle), (&middle, &far), (&near, &middle)],
    )];
    let light = Tone::Own(Value::Light);
    let dark = Tone::Own(Value::Dark);
    patches.push(("pane corner", light, vec![(&near, &near), (&middle, &near), (&near, &middle)]));
    patches.push(("star point", dark, vec![(&near, &zero), (&middle, &near), (&near, &near)]));
    patches.push(("star point", dark, vec![(&far, &zero), (&far, &near), (&middle, &near)]));
    patches.push(("sill", light, vec![(&near, &zero), (&far, &zero), (&middle, &near)]));
    patches.push(("inner corner", dark, vec![(&near, &zero), (&near, &near), (&zero, &near)]));
    patches.push(("outer corner", light, vec![(&zero, &zero), (&near, &zero), (&zero, &near)]));
    let centre = Point::new(middle.clone(), middle.clone());
    let mut turned = Vec::new();
    for (role, tone, corners) in &patches {
        // The pane stands once in the middle, all others four times around it.
        for quarter in 0..if *role == "pane" { 1 } else { 4 } {
            let around = |(x, y): &(&Exact, &Exact)| {
                let from_centre = &Point::new((*x).clone(), (*y).clone()) - &centre;
                &centre + &from_centre.turned15(6 * quarter)
            };
            let outline = Polygon::new(corners.iter().map(around).collect())?;
            let key = PatchKey(u32::try_from(turned.len())?);
            // The pane stands on point: with its grain along its own sides none of its edges is on the bias.
            let up = if *role == "pane" { Exact::ONE } else { Exact::ZERO };
            let grain = Vector::new(Exact::ONE, up);
            turned.push(Patch { key, outline, role: Role::new(role)?, tone: *tone, grain: Some(grain) });
        }
    }
    let corners = [(&zero, &zero), (&size, &zero), (&size, &size), (&zero, &size)];
    let base = Polygon::new(corners.iter().map(|(x, y)| Point::new((*x).clone(), (*y).clone())).collect())?;
    Ok(Recipe::Own { base, patches: turned })
}

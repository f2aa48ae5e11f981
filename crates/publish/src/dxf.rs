//! A drawing as a DXF file: plain lines and text on layers, units stated in the header.
//!
//! The file is of the release of 2000 (AC1015), the first whose header has `$INSUNITS`; its entities are only those that
//! the release 12 format has too (`POLYLINE`, `TEXT`), since machines for cutting read little more. Areas are written as
//! their outlines. Source of names and codes: Autodesk, DXF Reference, header section and entities section.

use dxf::entities::{Entity, EntityType, Polyline as DxfPolyline, Text as DxfText, Vertex};
use dxf::enums::{AcadVersion, DrawingUnits, HorizontalTextJustification, Units as DxfUnits};
use dxf::tables::Layer;
use dxf::{Color, Drawing as DxfDrawing, Point as DxfPoint};
use layout::Units;

use crate::templates::is_ground;
use crate::typeface::DIGIT_HEIGHT;
use crate::{Anchor, Colour, Drawing, Item, Point, PublishError};

/// Longest name of a layer in the release 12 format.
pub const MAX_LAYER_CHARS: usize = 31;

/// The layer of seam lines of a quilt.
const SEAMS: &str = "SEAM";

/// The first seven colours of the format, by number from 1, which have the same look everywhere.
const COLOURS: [Colour; 7] = [
    Colour::rgb(255, 0, 0),
    Colour::rgb(255, 255, 0),
    Colour::rgb(0, 255, 0),
    Colour::rgb(0, 255, 255),
    Colour::rgb(0, 0, 255),
    Colour::rgb(255, 0, 255),
    Colour::rgb(0, 0, 0),
];

/// What lies on one layer.
#[derive(Debug, Clone, PartialEq)]
pub struct DxfLayer<'a> {
    /// Its name; other characters than A to Z, digits, `-` and `_` become `_`, and it is cut off after
    /// [`MAX_LAYER_CHARS`].
    pub name: String,
    /// Its colour, written as the nearest of the seven that every program shows alike.
    pub colour: Colour,
    /// Its lines, outlines and texts.
    pub items: Vec<&'a Item>,
}

/// Writes layers as a DXF file, in inches or, for centimetres, in millimetres. Drawings count y downward from `height_in`,
/// the file counts it upward from 0.
///
/// # Errors
/// [`PublishError::Dxf`].
pub fn dxf(layers: &[DxfLayer<'_>], height_in: f64, units: Units) -> Result<Vec<u8>, PublishError> {
    let mut file = DxfDrawing::new();
    state_header(&mut file, units);
    let scale = match units {
        Units::Inches => 1.0,
        Units::Centimetres => 25.4,
    };
    for layer in layers {
        let name = layer_name(&layer.name);
        let color = Color::from_index(nearest(layer.colour));
        file.add_layer(Layer { name: name.clone(), color, ..Layer::default() });
        let pen = Pen { layer: name, scale, height_in };
        layer.items.iter().for_each(|item| pen.put(&mut file, item));
    }
    let mut bytes = Vec::new();
    file.save(&mut bytes).map_err(|error| PublishError::Dxf { cause: error.to_string() })?;
    Ok(bytes)
}

/// A picture of a quilt as a DXF file: a layer for each fabric, named by its area's label, and one for seam lines.
///
/// # Errors
/// [`PublishError::Dxf`].
pub fn drawing_dxf(drawing: &Drawing, units: Units) -> Result<Vec<u8>, PublishError> {
    let mut layers: Vec<DxfLayer<'_>> = Vec::new();
    for (number, item) in (1..).zip(drawing.items()) {
        let (name, colour) = match item {
            // The number keeps layers apart whose names are alike as far as they can be written.
            Item::Area(area) => (format!("{number}-{}", area.label), area.fill),
            Item::Lines(lines) => (SEAMS.to_owned(), lines.stroke),
            Item::Text(text) => ("TEXT".to_owned(), text.fill),
        };
        match layers.iter_mut().find(|layer| layer.name == name) {
            Some(layer) => layer.items.push(item),
            None => layers.push(DxfLayer { name, colour, items: vec![item] }),
        }
    }
    dxf(&layers, drawing.page().height_in, units)
}

/// Units and version; times and marks of origin are the same in every file, so that the same drawing gives the same bytes.
fn state_header(file: &mut DxfDrawing, units: Units) {
    let header = &mut file.header;
    header.version = AcadVersion::R2000;
    (header.default_drawing_units, header.drawing_units) = match units {
        Units::Inches => (DxfUnits::Inches, DrawingUnits::English),
        Units::Centimetres => (DxfUnits::Millimeters, DrawingUnits::Metric),
    };
    header.creation_date_universal = Default::default();
    header.update_date_universal = Default::default();
    header.fingerprint_guid = Default::default();
    header.version_guid = Default::default();
    // A local time is written as it stands on the clock; taking the offset off makes it the same everywhere.
    header.creation_date = Default::default();
    header.creation_date -= header.creation_date.naive_local() - header.creation_date.naive_utc();
    header.update_date = header.creation_date;
}

/// Puts items on one layer.
struct Pen {
    layer: String,
    scale: f64,
    height_in: f64,
}

impl Pen {
    fn at(&self, [x, y]: Point) -> DxfPoint {
        DxfPoint::new(x * self.scale, (self.height_in - y) * self.scale, 0.0)
    }

    fn put(&self, file: &mut DxfDrawing, item: &Item) {
        match item {
            // The ground under words is only there for the eye.
            Item::Area(_) if is_ground(item) => {}
            Item::Area(area) => area.polygons.iter().for_each(|corners| self.put_line(file, corners, true)),
            Item::Lines(lines) => {
                lines.polylines.iter().for_each(|line| self.put_line(file, &line.points, line.closed));
            }
            Item::Text(text) => {
                let at = self.at(text.at);
                let entity = DxfText {
                    location: at.clone(),
                    text_height: text.size_in * DIGIT_HEIGHT * self.scale,
                    value: text.text.clone(),
                    // Drawings turn clockwise, the file counter-clockwise.
                    rotation: -text.turned,
                    horizontal_text_justification: match text.anchor {
                        Anchor::Start => HorizontalTextJustification::Left,
                        Anchor::Middle => HorizontalTextJustification::Center,
                        Anchor::End => HorizontalTextJustification::Right,
                    },
                    second_alignment_point: if text.anchor == Anchor::Start { DxfPoint::origin() } else { at },
                    ..DxfText::default()
                };
                self.add(file, EntityType::Text(entity));
            }
        }
    }

    fn put_line(&self, file: &mut DxfDrawing, points: &[Point], closed: bool) {
        let mut line = DxfPolyline::default();
        line.set_is_closed(closed);
        for point in points {
            line.add_vertex(file, Vertex::new(self.at(*point)));
        }
        self.add(file, EntityType::Polyline(line));
    }

    fn add(&self, file: &mut DxfDrawing, entity: EntityType) {
        let mut entity = Entity::new(entity);
        entity.common.layer.clone_from(&self.layer);
        file.add_entity(entity);
    }
}

/// The name as a layer may have it.
fn layer_name(name: &str) -> String {
    let plain = |c: char| if c.is_ascii_alphanumeric() || c == '-' { c.to_ascii_uppercase() } else { '_' };
    name.chars().map(plain).take(MAX_LAYER_CHARS).collect()
}

/// The number of the nearest colour.
fn nearest(colour: Colour) -> u8 {
    let away = |a: u8, b: u8| u32::from(a.abs_diff(b)).pow(2);
    let far =
        |other: &Colour| away(colour.red, other.red) + away(colour.green, other.green) + away(colour.blue, other.blue);
    let found = (1..).zip(&COLOURS).min_by_key(|(_, other)| far(other));
    found.map_or(7, |(number, _)| number)
}

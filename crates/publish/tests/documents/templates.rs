//! Templates and trim sheets: measured in the PDF, joined over sheets, and the same in every kind of file.

use crate::made::{quilt, sized, with_margin};
use crate::pdf_lines;

use std::collections::BTreeMap;

use cutting::Ledger;
use geometry::lay::{LayPolygon, UNITS_PER_INCH};
use geometry::{Measure, Recipe};
use layout::{Colour, Design, Tally, Units};
use pdf_lines::{Stroked, stroked};
use piecing::QuiltPlan;
use publish::templates::{
    LineClass, MAX_LINE_IN, PlacedFigure, SheetOptions, Template, Templates, TrimSheets, TrueSheets, templates,
    trim_sheets,
};
use publish::{About, Item, Paper, PublishError, svg};

/// What a length in the PDF may be off, in points.
const POINT: f64 = 0.01;

fn about(design: &Design, paper: Paper) -> About {
    About::quilt(design, paper)
}

fn made_with(design: &Design, paper: Paper, options: &SheetOptions) -> Templates {
    let tally = Tally::count(design).unwrap();
    let ledger = Ledger::new(design, &tally).unwrap();
    let sewing = QuiltPlan::new(design, &BTreeMap::new()).unwrap();
    templates(design, &tally, &ledger, Some(&sewing), &about(design, paper), options).unwrap()
}

fn made(design: &Design, paper: Paper) -> Templates {
    made_with(design, paper, &SheetOptions::default())
}

fn trims(design: &Design, paper: Paper) -> TrimSheets {
    let plan = QuiltPlan::new(design, &BTreeMap::new()).unwrap();
    trim_sheets(design, &plan, &about(design, paper), &SheetOptions::default()).unwrap()
}

/// A star with four kinds of pieces, a block in both hands, and one of a single patch too large for a sheet.
fn quilts() -> Vec<Design> {
    let half = Recipe::DiagonalHalf { size: sized(Measure::Block, 9), band: None };
    [Recipe::TiltedStar(sized(Measure::Block, 12)), half, Recipe::HalfSquare(sized(Measure::Block, 20))]
        .into_iter()
        .map(quilt)
        .collect()
}

fn pages(document: &TrueSheets) -> Vec<Vec<Stroked>> {
    stroked(&document.pages().unwrap().pdf().unwrap())
}

fn inches(units: i64) -> f64 {
    units as f64 / UNITS_PER_INCH as f64
}

/// Where the cut line of a template should be on its figure, worked out from the piece alone, in inches, y downward.
fn on_figure(polygon: &LayPolygon) -> (Vec<[f64; 2]>, [f64; 2]) {
    let bounds = polygon.bounds();
    let place = |x: i64, y: i64| [inches(x - bounds.min.x), inches(bounds.max.y - y)];
    let points = polygon.corners().iter().map(|p| place(p.x, p.y)).collect();
    (points, [inches(bounds.width()), inches(bounds.height())])
}

/// From a figure to the page of the PDF, in points.
fn on_page([x, y]: [f64; 2], [width, _]: [f64; 2], placed: &PlacedFigure, paper: Paper) -> [f64; 2] {
    let [x, y] = if placed.turned { [y, width - x] } else { [x, y] };
    let corner = placed.window.map_or([0.0; 2], |window| window.at);
    let [across, down] = [placed.at[0] + x - corner[0], placed.at[1] + y - corner[1]];
    [across * 72.0, (paper.size_in()[1] - down) * 72.0]
}

fn farthest(a: &[[f64; 2]], b: &[[f64; 2]]) -> f64 {
    if a.len() != b.len() {
        return f64::INFINITY;
    }
    a.iter().zip(b).map(|(p, q)| (p[0] - q[0]).hypot(p[1] - q[1])).fold(0.0, f64::max)
}

/// The sides of a closed path if it is a rectangle along the page.
fn sides(path: &Stroked) -> Option<[f64; 2]> {
    let [a, b, c, _]: [[f64; 2]; 4] = path.points.as_slice().try_into().ok()?;
    path.closed.then(|| [(b[0] - a[0]).hypot(b[1] - a[1]), (c[0] - b[0]).hypot(c[1] - b[1])])
}

#[test]
fn proof_squares_are_an_inch_and_five_centimetres() {
    for paper in Paper::ALL {
        for document in [made(&quilts()[0], paper).document, trims(&with_margin(&quilts()[1]), paper).document] {
            let first = &pages(&document)[0];
            for side in [72.0, 50.0 / 25.4 * 72.0] {
                let is_proof = |path: &&Stroked| {
                    sides(path).is_some_and(|sides| sides.iter().all(|length| (length - side).abs() <= POINT))
                };
                assert_eq!(first.iter().filter(is_proof).count(), 1, "one square of {side} pt");
            }
        }
    }
}

#[test]
fn every_template_is_the_cut_shape_to_a_hundredth_of_a_point() {
    for paper in Paper::ALL {
        for design in quilts() {
            let made = made(&design, paper);
            let drawn = pages(&made.document);
            let whole: Vec<&PlacedFigure> = made.document.placed.iter().filter(|p| p.window.is_none()).collect();
            for placed in &whole {
                let (cut, size) = on_figure(&made.templates[placed.figure].trimmed);
                let wanted: Vec<[f64; 2]> = cut.iter().map(|p| on_page(*p, size, placed, paper)).collect();
                let near = drawn[placed.sheet].iter().filter(|path| path.closed);
                let off = near.map(|path| farthest(&path.points, &wanted)).fold(f64::INFINITY, f64::min);
                assert!(off <= POINT, "template {} is off by {off} pt", made.templates[placed.figure].letter);
            }
            let tiled = made.document.placed.iter().filter(|p| p.window.is_some()).map(|p| p.figure);
            let mut shown: Vec<usize> = whole.iter().map(|p| p.figure).chain(tiled).collect();
            shown.dedup();
            shown.sort_unstable();
            assert_eq!(shown, (0..made.templates.len()).collect::<Vec<_>>(), "every template is on paper once");
        }
    }
}

/// Every edge of the mitred cut shape is there, and the corners that are not are dog ears.
#[test]
fn a_template_is_the_cut_shape_of_the_plan_but_for_its_tips() {
    for design in quilts() {
        let tally = Tally::count(&design).unwrap();
        let ledger = Ledger::new(&design, &tally).unwrap();
        for template in made(&design, Paper::A4).templates {
            let class = ledger.book().class(template.piece).unwrap();
            assert_eq!(class.shape.outline(), template.shape.outline());
            let (mitred, trimmed) = (class.shape.outline().corners(), template.trimmed.corners());
            let missing = mitred.iter().filter(|corner| !trimmed.contains(corner)).count();
            assert_eq!(missing, template.trims, "{}", template.name);
            assert_eq!(trimmed.len(), mitred.len() + template.trims, "each tip gives two corners for one");
            assert!(template.trimmed.double_area() <= class.shape.outline().double_area());
        }
    }
}

#[test]
fn counts_are_those_of_the_quilt() {
    for design in quilts() {
        let tally = Tally::count(&design).unwrap();
        let ledger = Ledger::new(&design, &tally).unwrap();
        let made = made(&design, Paper::Letter);
        for (fabric, used) in ledger.uses() {
            let of = |t: &Template| t.counts.get(fabric).map_or(0, |count| count.as_drawn + count.turned_over);
            let on_templates: u64 = made.templates.iter().map(of).sum();
            let strips: u64 = used
                .classes
                .iter()
                .filter(|(id, _)| ledger.book().class(**id).unwrap().of_border)
                .map(|(_, n)| n)
                .sum();
            assert_eq!(on_templates + strips, used.patches, "{fabric:?}");
        }
    }
}

#[test]
fn templates_of_one_page_do_not_overlap() {
    for design in quilts() {
        let made = made(&design, Paper::A4);
        let boxes: Vec<(usize, [f64; 2], [f64; 2])> = made
            .document
            .placed
            .iter()
            .filter(|p| p.window.is_none())
            .map(|p| {
                let (_, size) = on_figure(&made.templates[p.figure].trimmed);
                let size = if p.turned { [size[1], size[0]] } else { size };
                (p.sheet, p.at, [p.at[0] + size[0], p.at[1] + size[1]])
            })
            .collect();
        assert!(boxes.len() > 1 || made.templates.len() == 1);
        for (i, (page, low, high)) in boxes.iter().enumerate() {
            assert!(low.iter().all(|v| *v >= 0.49) && high[0] <= Paper::A4.size_in()[0] - 0.49, "on the paper");
            for (other, other_low, other_high) in &boxes[..i] {
                let apart = (0..2).any(|k| high[k] < other_low[k] || other_high[k] < low[k]);
                assert!(page != other || apart);
            }
        }
    }
}

/// The sheets of a large template, each moved to where its window lies on the figure: their lines lie on the template's
/// edges, cover all of them, and neighbours show the same in their overlap.
#[test]
fn sheets_of_a_large_template_join() {
    for paper in Paper::ALL {
        let mut colours = SheetOptions::default().colours;
        colours.set(LineClass::Cut, Colour::rgb(255, 0, 0));
        let options = SheetOptions { colours, ..SheetOptions::default() };
        let made = made_with(&quilt(Recipe::HalfSquare(sized(Measure::Block, 20))), paper, &options);
        let drawn = pages(&made.document);
        let sheets: Vec<&PlacedFigure> = made.document.placed.iter().filter(|p| p.window.is_some()).collect();
        assert!(sheets.len() > 3, "{} sheets", sheets.len());
        let (cut, size) = on_figure(&made.templates[0].trimmed);
        let mut covered: Vec<Vec<[f64; 2]>> = vec![Vec::new(); cut.len()];
        for placed in &sheets {
            let wanted: Vec<[f64; 2]> = cut.iter().map(|p| on_page(*p, size, placed, paper)).collect();
            let n = wanted.len();
            for path in drawn[placed.sheet].iter().filter(|path| path.colour == [1.0, 0.0, 0.0]) {
                for ends in path.points.windows(2) {
                    let along = |i: usize, p: [f64; 2]| {
                        let (a, b) = (wanted[i], wanted[(i + 1) % n]);
                        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
                        let length = dx.hypot(dy);
                        let (t, off) = (
                            ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / length,
                            ((p[0] - a[0]) * dy - (p[1] - a[1]) * dx).abs() / length,
                        );
                        (off <= POINT && t >= -POINT && t <= length + POINT).then_some(t)
                    };
                    let edge = (0..n).find_map(|i| Some((i, along(i, ends[0])?, along(i, ends[1])?)));
                    let (edge, from, to) = edge.expect("a cut line lies on an edge of the template");
                    covered[edge].push([from.min(to), from.max(to)]);
                }
            }
        }
        for (i, parts) in covered.iter_mut().enumerate() {
            let (a, b) = (cut[i], cut[(i + 1) % cut.len()]);
            let length = (b[0] - a[0]).hypot(b[1] - a[1]) * 72.0;
            parts.sort_by(|a, b| a[0].total_cmp(&b[0]));
            let mut reached = 0.0_f64;
            for [from, to] in parts {
                assert!(*from <= reached + POINT, "edge {i} has a gap of {} pt", *from - reached);
                reached = reached.max(*to);
            }
            assert!((reached - length).abs() <= POINT, "edge {i} is drawn for {reached} of {length} pt");
        }
    }
}

#[test]
fn tiles_are_named_by_row_and_column() {
    let made = made(&quilt(Recipe::HalfSquare(sized(Measure::Block, 20))), Paper::Letter);
    let sheets: Vec<&PlacedFigure> = made.document.placed.iter().filter(|p| p.window.is_some()).collect();
    for (number, placed) in (1..).zip(&sheets) {
        let window = placed.window.unwrap();
        let (row, column, count) = (window.row, window.column, sheets.len());
        let name = format!("Template A, sheet {number} of {count}: row {row}, column {column}");
        let texts = made.document.sheets[placed.sheet].items().iter();
        assert!(texts.into_iter().any(|item| matches!(item, Item::Text(text) if text.text == name)), "{name}");
    }
}

/// Polygons of cut lines in an SVG of ours: the path in the colour of cut lines.
fn svg_cut(text: &str, options: &SheetOptions) -> Vec<[f64; 2]> {
    let stroke = format!("stroke=\"{}\"", options.colours.cut);
    let line = text.lines().find(|line| line.contains(&stroke) && line.contains('Z')).unwrap();
    let path = line.split(" d=\"").nth(1).unwrap().split('Z').next().unwrap();
    let numbers: Vec<f64> =
        path.split(|c: char| c.is_whitespace() || c == 'M' || c == 'L').filter_map(|n| n.parse().ok()).collect();
    numbers.chunks(2).map(|pair| [pair[0], pair[1]]).collect()
}

fn dxf_cut(file: &dxf::Drawing) -> Vec<[f64; 2]> {
    let on_layer = file.entities().filter(|entity| entity.common.layer == "CUT");
    let mut polygons = on_layer.filter_map(|entity| match &entity.specific {
        dxf::entities::EntityType::Polyline(line) if line.is_closed() => {
            Some(line.vertices().map(|vertex| [vertex.location.x, vertex.location.y]).collect())
        }
        _ => None,
    });
    polygons.next().unwrap()
}

/// Moved so that the least coordinates are 0.
fn at_origin(points: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let least = [0, 1].map(|k| points.iter().map(|p| p[k]).fold(f64::INFINITY, f64::min));
    points.iter().map(|p| [p[0] - least[0], p[1] - least[1]]).collect()
}

#[test]
fn svg_and_dxf_have_the_same_polygons() {
    let options = SheetOptions::default();
    for design in quilts() {
        for template in made(&design, Paper::A4).templates {
            let corners = template.trimmed.corners();
            let wanted = at_origin(&corners.iter().map(|p| [inches(p.x), inches(p.y)]).collect::<Vec<_>>());
            let (down, _) = on_figure(&template.trimmed);
            let in_svg = at_origin(&svg_cut(&svg(&template.drawing(&options).unwrap()), &options));
            assert!(farthest(&in_svg, &down) <= POINT / 72.0);
            for (units, scale, stated) in [
                (Units::Inches, 1.0, dxf::enums::Units::Inches),
                (Units::Centimetres, 25.4, dxf::enums::Units::Millimeters),
            ] {
                let bytes = template.dxf(units, &options).unwrap();
                assert_eq!(bytes, template.dxf(units, &options).unwrap(), "the same bytes");
                let file = dxf::Drawing::load(&mut bytes.as_slice()).unwrap();
                assert_eq!(file.header.default_drawing_units, stated);
                let layers: Vec<&str> = file.layers().map(|layer| layer.name.as_str()).collect();
                for layer in ["CUT", "SEAM", "GRAIN", "TEXT"] {
                    assert!(layers.contains(&layer), "{layer} of {layers:?}");
                }
                let in_dxf: Vec<[f64; 2]> = dxf_cut(&file).iter().map(|p| p.map(|v| v / scale)).collect();
                assert!(farthest(&at_origin(&in_dxf), &wanted) <= 1e-9);
            }
        }
    }
}

#[test]
fn kerf_moves_the_cut_line_out_by_half() {
    let design = quilt(Recipe::FourPatch(sized(Measure::Block, 8)));
    let plain = made(&design, Paper::A4);
    let options = SheetOptions { kerf_in: 0.02, ..SheetOptions::default() };
    let wide = made_with(&design, Paper::A4, &options);
    let cut = |templates: &Templates, options: &SheetOptions| {
        svg_cut(&svg(&templates.templates[0].drawing(options).unwrap()), options)
    };
    let (before, after) = (cut(&plain, &SheetOptions::default()), cut(&wide, &options));
    let side = |points: &[[f64; 2]]| (points[0][0] - points[1][0]).hypot(points[0][1] - points[1][1]);
    assert!((side(&after) - side(&before) - 0.02).abs() < 1e-4, "{before:?} {after:?}");
    assert_eq!(plain.templates[0].trimmed, wide.templates[0].trimmed, "the piece stays");
}

#[test]
fn mirror_images_share_a_template() {
    let made = made(&quilt(Recipe::DiagonalHalf { size: sized(Measure::Block, 9), band: None }), Paper::A4);
    let diamonds: Vec<&Template> = made.templates.iter().filter(|t| t.name.starts_with("diamond, leaning ")).collect();
    assert_eq!(diamonds.len(), 1, "{:?}", made.templates.iter().map(|t| &t.name).collect::<Vec<_>>());
    let [drawn, over] = diamonds[0].hands.unwrap();
    assert!(diamonds[0].name.ends_with(drawn) && drawn != over && diamonds[0].like_words().is_empty());
    let counts: Vec<_> = diamonds[0].counts.values().collect();
    assert!(counts.iter().all(|count| count.as_drawn == count.turned_over && count.as_drawn > 0), "{counts:?}");
}

#[test]
fn a_trim_sheet_has_the_trimmed_size_and_its_seams() {
    // 12 in and twice ¼ in of seam allowance: 12½ in, 900 pt.
    let design = with_margin(&quilt(Recipe::FourPatch(sized(Measure::Block, 12))));
    let made = trims(&design, Paper::A4);
    let sheet = made.trim_sheets.last().unwrap();
    assert!(sheet.is_block && sheet.count == 6);
    let extent = |k: usize| {
        let values: Vec<f64> = sheet.trimmed.iter().map(|p| p[k]).collect();
        values.iter().copied().fold(f64::NEG_INFINITY, f64::max) - values.iter().copied().fold(f64::INFINITY, f64::min)
    };
    assert!((extent(0) - 12.5).abs() < 1e-9 && (extent(1) - 12.5).abs() < 1e-9);
    // Both seams cross in the middle, 6¼ in from every trimmed edge.
    let middle = [0, 1].map(|k| sheet.trimmed.iter().map(|p| p[k]).sum::<f64>() / 4.0);
    let through =
        |ends: &[[f64; 2]; 2]| ends.iter().any(|p| (p[0] - middle[0]).abs() + (p[1] - middle[1]).abs() < 1e-9);
    assert!(sheet.seams.len() == 4 && sheet.seams.iter().all(through), "{:?}", sheet.seams);
    let texts = |drawing: &publish::Drawing| {
        let texts = drawing
            .items()
            .iter()
            .filter_map(|item| if let Item::Text(t) = item { Some(t.text.clone()) } else { None });
        texts.collect::<Vec<_>>()
    };
    let alone = sheet.drawing(&SheetOptions::default()).unwrap();
    assert_eq!(texts(&alone).iter().filter(|text| *text == "6¼″").count(), 4, "{:?}", texts(&alone));
    // Tiled, every measure still stands whole on one of the sheets.
    let on_sheets = made.document.placed.iter().filter(|p| p.figure + 1 == sheet.number).map(|p| p.sheet);
    let told: Vec<String> = on_sheets.flat_map(|i| texts(&made.document.sheets[i])).collect();
    assert!(told.iter().filter(|text| *text == "6¼″").count() >= 4, "{told:?}");
}

#[test]
fn nothing_is_trimmed_without_a_margin() {
    assert!(trims(&quilts()[0], Paper::A4).trim_sheets.is_empty());
}

#[test]
fn widths_that_cannot_be_drawn_are_refused() {
    let design = quilt(Recipe::FourPatch(sized(Measure::Block, 8)));
    let (tally, plan) = (Tally::count(&design).unwrap(), None);
    let ledger = Ledger::new(&design, &tally).unwrap();
    for (line_in, kerf_in) in
        [(0.0, 0.0), (f64::NAN, 0.0), (MAX_LINE_IN * 2.0, 0.0), (0.01, -0.1), (0.01, f64::INFINITY)]
    {
        let options = SheetOptions { line_in, kerf_in, ..SheetOptions::default() };
        let refused = templates(&design, &tally, &ledger, plan, &about(&design, Paper::A4), &options);
        assert!(matches!(refused, Err(PublishError::LineOrKerf { .. })), "{line_in} {kerf_in}");
    }
}

//! A stranger's reading of `cut --json`: decimal digits to integers, and every piece laid again. Nothing here uses
//! Lozenge's own geometry or cutting; the only floats are those of finished shapes, which are printed rounded.

use serde::{Deserialize, Deserializer, Serialize, Serializer};
use serde_json::value::RawValue;

/// Decimals that are kept: a unit of the lay grid in centimetres has 17, and 18 leave one to spare.
const PLACES: usize = 18;

/// A decimal number as an integer of 10⁻¹⁸.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fixed(pub i128);

impl Fixed {
    /// Reads plain digits; no exponent, at most 18 decimals.
    pub fn parse(text: &str) -> Result<Self, String> {
        let (sign, digits) = text.strip_prefix('-').map_or((1, text), |rest| (-1, rest));
        let (whole, decimals) = digits.split_once('.').unwrap_or((digits, ""));
        let plain = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
        if whole.is_empty() || decimals.len() > PLACES || !plain(whole) || !plain(decimals) {
            return Err(format!("{text} is no plain decimal of at most {PLACES} places"));
        }
        let all = format!("{whole}{decimals:0<PLACES$}");
        all.parse::<i128>().map(|value| Self(sign * value)).map_err(|e| format!("{text}: {e}"))
    }

    fn text(self) -> String {
        let digits = format!("{:0>width$}", self.0.unsigned_abs(), width = PLACES + 1);
        let (whole, decimals) = digits.split_at(digits.len() - PLACES);
        format!("{}{whole}.{decimals}", if self.0 < 0 { "-" } else { "" })
    }

    #[allow(clippy::cast_precision_loss, reason = "only for finished shapes, which have a tolerance")]
    pub fn approx(self) -> f64 {
        self.0 as f64 / 1e18
    }
}

impl<'de> Deserialize<'de> for Fixed {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Self::parse(Box::<RawValue>::deserialize(deserializer)?.get()).map_err(serde::de::Error::custom)
    }
}

impl Serialize for Fixed {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        RawValue::from_string(self.text()).map_err(serde::ser::Error::custom)?.serialize(serializer)
    }
}

pub type Corners = Vec<[Fixed; 2]>;

#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Plan {
    pub unit: String,
    pub grid: Fixed,
    pub fabrics: Vec<Fabric>,
}

#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Fabric {
    pub id: u32,
    pub usable_width: Fixed,
    pub required_length: Fixed,
    pub buy_length: Fixed,
    pub lower_bound_length: Fixed,
    pub pieces: Vec<Piece>,
    pub lays: Vec<Lay>,
}

#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Piece {
    pub id: u32,
    pub count: usize,
    pub turn_over: bool,
    pub finished: Option<Corners>,
    pub cut: Corners,
}

#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Lay {
    pub width: Fixed,
    pub length: Fixed,
    pub placements: Vec<Placement>,
}

#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Placement {
    pub piece: u32,
    pub polygon: Corners,
}

/// Tolerance for finished shapes, which are printed rounded.
const FINISHED_TOLERANCE: f64 = 1e-9;

/// What the stranger knows beside the plan: the seam allowance in the plan's unit, and finished area by fabric.
pub struct Known {
    pub seam: f64,
    pub areas: Vec<(u32, f64)>,
}

/// Lays everything again; the first thing that is wrong, in words.
pub fn re_lay(text: &str, known: &Known) -> Result<usize, String> {
    let plan: Plan = serde_json::from_str(text).map_err(|e| e.to_string())?;
    let mut laid = 0;
    let ids: Vec<u32> = plan.fabrics.iter().map(|f| f.id).collect();
    if ids != known.areas.iter().map(|(id, _)| *id).collect::<Vec<_>>() {
        return Err(format!("fabrics {ids:?} are not those of the totals"));
    }
    for (fabric, (_, area)) in plan.fabrics.iter().zip(&known.areas) {
        let wrong = |why: String| format!("fabric {}: {why}", fabric.id);
        laid += lays(fabric, plan.grid).map_err(wrong)?;
        lengths(fabric).map_err(wrong)?;
        finished(fabric, plan.grid, known.seam, *area).map_err(wrong)?;
    }
    Ok(laid)
}

fn lengths(fabric: &Fabric) -> Result<(), String> {
    let laid = fabric.lays.iter().map(|l| l.length.0).sum::<i128>();
    if fabric.required_length.0 < laid {
        return Err("required is shorter than the lays".to_owned());
    }
    if fabric.required_length < fabric.lower_bound_length {
        return Err("required is below the lower bound".to_owned());
    }
    if fabric.buy_length < fabric.required_length {
        return Err("less is bought than required".to_owned());
    }
    Ok(())
}

type Grid = Vec<[i128; 2]>;

/// Corners in whole grid units.
fn on_grid(corners: &Corners, grid: Fixed) -> Result<Grid, String> {
    let whole = |v: Fixed| {
        if v.0 % grid.0 == 0 { Ok(v.0 / grid.0) } else { Err(format!("{} is not on the grid", v.text())) }
    };
    corners.iter().map(|[x, y]| Ok([whole(*x)?, whole(*y)?])).collect()
}

fn lays(fabric: &Fabric, grid: Fixed) -> Result<usize, String> {
    let shapes: Vec<Grid> = fabric.pieces.iter().map(|p| on_grid(&p.cut, grid)).collect::<Result<_, _>>()?;
    if let Some(shape) = shapes.iter().find(|shape| !is_convex(shape)) {
        return Err(format!("the stranger lays convex pieces only: {shape:?}"));
    }
    let mut counts = vec![0; shapes.len()];
    for lay in &fabric.lays {
        if lay.width > fabric.usable_width {
            return Err("a lay is wider than the fabric".to_owned());
        }
        let mut down: Vec<Grid> = Vec::with_capacity(lay.placements.len());
        for placement in &lay.placements {
            let index = fabric.pieces.iter().position(|p| p.id == placement.piece).ok_or("no such piece")?;
            counts[index] += 1;
            let polygon = on_grid(&placement.polygon, grid)?;
            if !is_moved(&shapes[index], &polygon, fabric.pieces[index].turn_over) {
                return Err(format!("a placement has not the shape of piece {}", placement.piece));
            }
            let inside = |[x, y]: &[Fixed; 2]| x.0 >= 0 && y.0 >= 0 && *x <= lay.width && *y <= lay.length;
            if !placement.polygon.iter().all(inside) {
                return Err(format!("a placement of piece {} leaves the fabric", placement.piece));
            }
            if let Some(under) = down.iter().position(|other| overlap(other, &polygon)) {
                let other = lay.placements[under].piece;
                return Err(format!("pieces {} and {other} overlap", placement.piece));
            }
            down.push(polygon);
        }
    }
    for (piece, count) in fabric.pieces.iter().zip(&counts) {
        if piece.count != *count {
            return Err(format!("piece {}: {} wanted, {count} laid", piece.id, piece.count));
        }
    }
    Ok(counts.iter().sum())
}

fn edges(polygon: &Grid) -> Grid {
    let next = polygon.iter().cycle().skip(1);
    polygon.iter().zip(next).map(|([ax, ay], [bx, by])| [bx - ax, by - ay]).collect()
}

const fn cross([ax, ay]: [i128; 2], [bx, by]: [i128; 2]) -> i128 {
    ax * by - ay * bx
}

/// Counter-clockwise and never turning right.
fn is_convex(polygon: &Grid) -> bool {
    let edges = edges(polygon);
    let next = edges.iter().cycle().skip(1);
    let turns_left = edges.iter().zip(next).all(|(a, b)| cross(*a, *b) > 0);
    // Once around: with left turns only, the edges' directions change half-plane exactly twice.
    let upper = |[x, y]: &[i128; 2]| *y > 0 || (*y == 0 && *x > 0);
    let changes = edges.iter().zip(edges.iter().cycle().skip(1)).filter(|(a, b)| upper(a) != upper(b)).count();
    polygon.len() >= 3 && turns_left && changes == 2
}

/// Whether `placed` is `shape` shifted and turned by quarters, or also turned over where that is allowed.
fn is_moved(shape: &Grid, placed: &Grid, turn_over: bool) -> bool {
    let over: Grid = shape.iter().rev().map(|[x, y]| [-x, *y]).collect();
    let mut wanted = edges(shape);
    let mut wanted_over = edges(&over);
    let placed = edges(placed);
    for _ in 0..4 {
        if same_round(&wanted, &placed) || (turn_over && same_round(&wanted_over, &placed)) {
            return true;
        }
        for edge in wanted.iter_mut().chain(&mut wanted_over) {
            *edge = [-edge[1], edge[0]];
        }
    }
    false
}

/// Whether two rounds of edges are the same from some start on.
fn same_round(a: &Grid, b: &Grid) -> bool {
    a.len() == b.len() && (0..a.len()).any(|k| a[k..].iter().chain(&a[..k]).eq(b))
}

/// Whether the interiors of two convex polygons meet: they do unless an edge of one has all of the other on its
/// right side or on its line.
fn overlap(a: &Grid, b: &Grid) -> bool {
    let parts = |a: &Grid, b: &Grid| {
        edges(a).iter().zip(a).any(|(edge, [ax, ay])| b.iter().all(|[bx, by]| cross(*edge, [bx - ax, by - ay]) <= 0))
    };
    !parts(a, b) && !parts(b, a)
}

fn finished(fabric: &Fabric, grid: Fixed, seam: f64, wanted: f64) -> Result<(), String> {
    let mut sum = 0.0;
    for piece in &fabric.pieces {
        let Some(inner) = &piece.finished else { continue };
        let inner: Vec<[f64; 2]> = inner.iter().map(|p| p.map(Fixed::approx)).collect();
        on_grid(&piece.cut, grid)?;
        let cut: Vec<[f64; 2]> = piece.cut.iter().map(|p| p.map(Fixed::approx)).collect();
        for (a, b) in cut.iter().zip(cut.iter().cycle().skip(1)) {
            let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
            let from_edge = |p: &[f64; 2]| (dx * (p[1] - a[1]) - dy * (p[0] - a[0])) / dx.hypot(dy);
            let least = inner.iter().map(from_edge).fold(f64::MAX, f64::min);
            if least < seam - FINISHED_TOLERANCE {
                return Err(format!("piece {} has only {least} of seam allowance {seam}", piece.id));
            }
        }
        sum += area(&inner) * f64::from(u32::try_from(piece.count).map_err(|e| e.to_string())?);
    }
    if (sum - wanted).abs() > FINISHED_TOLERANCE * wanted.max(1.0) {
        return Err(format!("the pieces' finished area is {sum}, the totals say {wanted}"));
    }
    Ok(())
}

fn area(polygon: &[[f64; 2]]) -> f64 {
    let next = polygon.iter().cycle().skip(1);
    polygon.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum::<f64>() / 2.0
}

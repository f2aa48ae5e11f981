//! The kits of a class as JSON: every bundle, every length, every minute, so that a stranger can add them up.

use layout::FabricId;
use publish::kit::{Bundle, ClassFabric, ClassKit, ClassQuilt, Timetable, Timing, WorkMinutes};
use serde::Serialize;

use crate::decimal::{Decimal, lay, length, unit_name};

/// What is printed.
#[derive(Serialize)]
pub(super) struct KitJson<'a> {
    unit: &'static str,
    plan: &'static str,
    name: String,
    students: u64,
    kits: u64,
    /// Bags of all kits, a label to each.
    bags: u64,
    /// Strips of all kits of a fabric lie on one length; rounding comes once, on the sum.
    bought: &'static str,
    fabrics: Vec<FabricJson>,
    quilts: Vec<QuiltJson<'a>>,
    minutes: &'a WorkMinutes,
    timetable: &'a Timetable,
}

#[derive(Serialize)]
struct FabricJson {
    name: String,
    value: &'static str,
    takers: Vec<TakerJson>,
    /// So many different fabrics; strips and lengths are those of all of them.
    parts: u16,
    strips: u64,
    required_length: Decimal,
    squaring_up: Decimal,
    shrinkage: Decimal,
    rounding: Decimal,
    buy_length: Decimal,
    buy_label: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    precuts: Option<u64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cost: Option<String>,
}

#[derive(Serialize)]
struct TakerJson {
    variant: String,
    /// The fabric in the variant.
    fabric: u32,
    kits: u64,
    one_kit_label: String,
}

#[derive(Serialize)]
struct QuiltJson<'a> {
    variant: &'a str,
    unit: &'static str,
    finished_width: Decimal,
    finished_height: Decimal,
    students: u16,
    spare: u16,
    kits: u64,
    owners: Vec<String>,
    bags: Vec<BagJson<'a>>,
    timing: &'a Timing,
}

#[derive(Serialize)]
struct BagJson<'a> {
    number: usize,
    of: usize,
    fabric: u32,
    name: &'a str,
    value: &'static str,
    strip: &'a str,
    width: Decimal,
    length: Decimal,
    strips: u64,
    strips_in_all: u64,
    #[serde(skip_serializing_if = "Option::is_none")]
    from: Option<&'a str>,
    cut: &'a [String],
}

/// Everything about the kits of a class.
pub(super) fn kit<'a>(kit: &'a ClassKit<'_>) -> KitJson<'a> {
    let first = kit.quilts.first().map(|quilt| &quilt.taken.offered);
    KitJson {
        unit: first.map_or("in", |offered| unit_name(offered.design.units())),
        plan: first.map_or("", |offered| offered.planner.name()),
        name: first.map_or_else(String::new, |offered| offered.design.name().to_owned()),
        students: kit.students(),
        kits: kit.kits(),
        bags: kit.bags(),
        bought: "for the class together",
        fabrics: kit.fabrics.iter().map(fabric_json).collect(),
        quilts: kit.quilts.iter().map(quilt_json).collect(),
        minutes: &kit.minutes,
        timetable: &kit.timetable,
    }
}

fn fabric_json(fabric: &ClassFabric) -> FabricJson {
    let of_all = |inches: &geometry::Exact| length(&inches.scale_int(fabric.parts.into()), fabric.units);
    let takers = fabric.takers.iter().zip(fabric.members()).map(|(taker, (_, FabricId(id)))| TakerJson {
        variant: taker.label.clone(),
        fabric: id,
        kits: taker.kits,
        one_kit_label: taker.one_kit.clone(),
    });
    FabricJson {
        name: fabric.fabric.name.clone(),
        value: fabric.fabric.value.word(),
        takers: takers.collect(),
        parts: fabric.parts,
        strips: fabric.strips * u64::from(fabric.parts),
        required_length: length(&fabric.all_parts().required(), fabric.units),
        squaring_up: of_all(&fabric.purchase.squaring_up),
        shrinkage: of_all(&fabric.purchase.shrinkage),
        rounding: of_all(&fabric.purchase.rounding),
        buy_length: length(&fabric.all_parts().to_buy(), fabric.units),
        buy_label: fabric.buy.clone(),
        precuts: fabric.precuts.as_ref().map(|precuts| precuts.buy),
        cost: fabric.all_parts().cost().map(|cost| cost.to_string()),
    }
}

fn quilt_json<'a>(quilt: &'a ClassQuilt<'_>) -> QuiltJson<'a> {
    let offered = &quilt.taken.offered;
    let units = offered.design.units();
    let (width, height) = offered.design.finished_size();
    QuiltJson {
        variant: offered.label,
        unit: unit_name(units),
        finished_width: length(&width, units),
        finished_height: length(&height, units),
        students: quilt.taken.share.students,
        spare: quilt.taken.share.spare,
        kits: quilt.kits(),
        owners: quilt.owners.iter().map(ToString::to_string).collect(),
        bags: quilt.bundles.iter().map(|bundle| bag_json(quilt, bundle)).collect(),
        timing: &quilt.timing,
    }
}

fn bag_json<'a>(quilt: &ClassQuilt<'_>, bundle: &'a Bundle) -> BagJson<'a> {
    let units = quilt.taken.offered.design.units();
    BagJson {
        number: bundle.number,
        of: quilt.bundles.len(),
        fabric: bundle.fabric.0,
        name: &bundle.name,
        value: bundle.value.word(),
        strip: &bundle.letter,
        width: lay(bundle.height, units),
        length: lay(bundle.length, units),
        strips: bundle.strips,
        strips_in_all: bundle.strips * quilt.kits(),
        from: bundle.sheet.as_deref(),
        cut: &bundle.rows,
    }
}

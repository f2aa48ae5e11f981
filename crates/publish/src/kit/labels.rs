//! Labels for the bags: one for every bundle of every kit, to be cut apart.

use serde::Serialize;

use super::class::ClassFault;
use super::{Bundle, ClassKit, ClassQuilt, Owner, strips_words};
use crate::{About, Figures, Pages, PublishError, typeset};

/// The most labels of a document.
pub const MAX_LABELS: u64 = 12_000;

/// All labels.
#[derive(Serialize)]
struct Labels<'a> {
    about: &'a About,
    labels: Vec<Label>,
}

/// One label.
#[derive(Serialize)]
struct Label {
    /// Whose kit.
    owner: String,
    /// Which bag of the kit: "6 of 10".
    bag: String,
    /// "strip A, 2¾″".
    strip: String,
    /// How many, and how long.
    told: String,
    colour: String,
    hatch: String,
    fabric: String,
    value: String,
    /// The quilt, and the variant where several are taken.
    quilt: String,
}

/// Pages of labels, kit by kit.
///
/// # Errors
/// [`ClassFault::Labels`] beyond [`MAX_LABELS`].
pub fn label_pages(kit: &ClassKit<'_>, about: &About) -> Result<Pages, PublishError> {
    if kit.bags() > MAX_LABELS {
        return Err(ClassFault::Labels { labels: kit.bags(), limit: MAX_LABELS }.into());
    }
    let mut figures = Figures::default();
    let mut labels = Vec::new();
    for quilt in &kit.quilts {
        let swatch = |bundle: &Bundle| Ok(figures.add(&quilt.hatching.swatch(bundle.fabric)?));
        let hatches: Vec<String> = quilt.bundles.iter().map(swatch).collect::<Result<_, PublishError>>()?;
        for owner in &quilt.owners {
            let of_kit = quilt.bundles.iter().zip(&hatches);
            labels.extend(of_kit.map(|(bundle, hatch)| label(kit, quilt, *owner, bundle, hatch)));
        }
    }
    typeset("labels.typ", &Labels { about, labels }, &figures)
}

/// "3 strips, 40″ long". What is higher than the fabric is wide is cut lengthwise, and is said to be.
fn told(bundle: &Bundle) -> String {
    let strips = strips_words(bundle.strips, bundle.parts);
    let from = bundle.sheet.as_ref().map_or_else(String::new, |sheet| format!(", from {sheet}"));
    if bundle.height > bundle.length {
        return format!("{strips}, {} along the selvage, {} across{from}", bundle.wide, bundle.long);
    }
    format!("{strips}, {} long{from}", bundle.long)
}

fn label(kit: &ClassKit<'_>, quilt: &ClassQuilt<'_>, owner: Owner, bundle: &Bundle, hatch: &str) -> Label {
    let offered = &quilt.taken.offered;
    let name = offered.design.name();
    Label {
        owner: owner.to_string(),
        bag: format!("{} of {}", bundle.number, quilt.bundles.len()),
        strip: format!("strip {}, {}", bundle.letter, bundle.wide),
        told: told(bundle),
        colour: bundle.colour.to_string(),
        hatch: hatch.to_owned(),
        fabric: bundle.name.clone(),
        value: bundle.value.word().to_owned(),
        quilt: if kit.is_mixed() { format!("{name} · {}", offered.label) } else { name.to_owned() },
    }
}

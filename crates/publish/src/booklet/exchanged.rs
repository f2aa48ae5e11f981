//! How the other variants of a quilt are made after a booklet that cuts and sews the first: which fabric stands for which.

use std::collections::{BTreeMap, BTreeSet};

use geometry::PatchKey;
use layout::{Design, FabricId, Source, Tally};

use crate::names::listed;
use crate::{Offered, PublishError};

/// What to take in `other` for the fabrics of `first`, which the booklet cuts and sews: a sentence.
///
/// # Errors
/// A fabric that is not there.
pub(super) fn exchanged_words(first: &Offered<'_>, other: &Offered<'_>) -> Result<String, PublishError> {
    let pairs = exchanged(first.design, other.design)?;
    let names = |(one, other_id): &(FabricId, FabricId)| {
        Ok(format!("{} for {}", other.design.fabric(*other_id)?.name, first.design.fabric(*one)?.name))
    };
    let named = pairs.iter().map(names).collect::<Result<Vec<_>, PublishError>>()?;
    Ok(if named.is_empty() {
        format!("Cutting, steps and pictures of this booklet are those of {}.", first.label)
    } else {
        format!(
            "Cutting, steps and pictures of this booklet are those of {}: for {} take {}.",
            first.label,
            other.label,
            listed(&named)
        )
    })
}

/// The fabrics of one design with those that have all of their places in another; none where the two are not the same quilt in
/// other fabrics, or it cannot be told which fabric is which.
fn exchanged(first: &Design, other: &Design) -> Result<Vec<(FabricId, FabricId)>, PublishError> {
    let [ones, others] = [places_of(first)?, places_of(other)?];
    let pair = |(one, places): (&FabricId, &Places)| {
        let mut alike = others.iter().filter(|(_, other)| *other == places);
        match (alike.next(), alike.next()) {
            (Some((other, _)), None) => Some((*one, *other)),
            _ => None,
        }
    };
    let pairs: Option<Vec<_>> = ones.iter().map(pair).collect();
    Ok(pairs.filter(|pairs| pairs.len() == others.len()).unwrap_or_default())
}

/// Where a fabric stands, and how often; whether it binds.
type Places = (BTreeSet<(Source, PatchKey, bool, i64)>, bool);

fn places_of(design: &Design) -> Result<BTreeMap<FabricId, Places>, PublishError> {
    let mut places: BTreeMap<FabricId, Places> = BTreeMap::new();
    for count in Tally::count(design)?.counts() {
        let of_fabric = &mut places.entry(count.fabric).or_default().0;
        of_fabric.insert((count.source, count.patch, count.mirrored, count.change));
    }
    places.entry(design.binding().fabric).or_default().1 = true;
    Ok(places)
}

//! How the other variants of a quilt are made after a booklet that cuts and sews the first: which fabric stands for which.

use std::collections::BTreeMap;

use layout::{Design, FabricId};

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

/// Which fabric of `other` stands wherever one of `first` stands, the same ones left out; none where the two are not the same
/// quilt in other fabrics.
fn exchanged(first: &Design, other: &Design) -> Result<Vec<(FabricId, FabricId)>, PublishError> {
    let [one, two] = [first.top()?, other.top()?];
    if one.placed.len() != two.placed.len() {
        return Ok(Vec::new());
    }
    let mut pairs = BTreeMap::from([(first.binding().fabric, other.binding().fabric)]);
    for (a, b) in one.placed.iter().zip(&two.placed) {
        if (a.place, a.source, &a.motion, &a.block) != (b.place, b.source, &b.motion, &b.block) {
            return Ok(Vec::new());
        }
        for index in 0..a.block.patches().len() {
            let fabric = first.paint(a.place, a.source, &a.block, index)?;
            let instead = other.paint(b.place, b.source, &b.block, index)?;
            if *pairs.entry(fabric).or_insert(instead) != instead {
                return Ok(Vec::new());
            }
        }
    }
    let mut named = Vec::new();
    for (fabric, instead) in pairs {
        if first.fabric(fabric)?.name != other.fabric(instead)?.name {
            named.push((fabric, instead));
        }
    }
    Ok(named)
}

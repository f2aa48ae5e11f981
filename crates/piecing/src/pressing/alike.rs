//! Copies of a unit pressed alike, as far as the meetings of seams leave it open.

use std::collections::BTreeMap;

use geometry::Value;

use crate::patch_set::PatchSet;
use crate::pressing::parity::Parity;
use crate::pressing::segments::Segments;
use crate::tree::{SeamTree, UnitId};
use crate::unit_class::ClassBook;

/// Binds each unit to the first unit of its kind that it can be pressed like, and tells which one that is. With values,
/// units in other values are of another kind. `offset`
/// is the direction of the first segment.
pub(crate) fn press_alike(
    tree: &SeamTree,
    segments: &Segments,
    value: &dyn Fn(usize) -> Option<Value>,
    (parity, offset): (&mut Parity, usize),
) -> Vec<UnitId> {
    let mut own: Vec<Vec<usize>> = vec![Vec::new(); tree.units().len()];
    for (i, segment) in segments.list.iter().enumerate() {
        own[segment.unit.0].push(i);
    }
    let mut model: Vec<UnitId> = (0..tree.units().len()).map(UnitId).collect();
    let mut book = ClassBook::new(tree.graph());
    for step in tree.steps().iter().filter(|step| step.units.len() > 1) {
        let mut models: Vec<(UnitId, Vec<usize>)> = Vec::new();
        for &copy in &step.units {
            let orders = book.orders(&tree.unit(copy).patches);
            let bound = models.iter().find(|(first, patches)| {
                orders.iter().any(|order| {
                    let place: BTreeMap<usize, usize> = patches.iter().copied().zip(order.iter().copied()).collect();
                    let same_values = place.iter().all(|(a, b)| value(*a) == value(*b));
                    same_values && tie(segments, &own[first.0], &own[copy.0], &place, (&mut *parity, offset))
                })
            });
            match bound {
                Some((first, _)) => model[copy.0] = *first,
                None => models.extend(orders.into_iter().next().map(|order| (copy, order))),
            }
        }
    }
    model
}

/// Binds the segments of a copy to those of its model; false, and nothing done, if they cannot be pressed alike.
fn tie(
    segments: &Segments,
    model: &[usize],
    copy: &[usize],
    place: &BTreeMap<usize, usize>,
    (parity, offset): (&mut Parity, usize),
) -> bool {
    let carried = |set: &PatchSet| set.iter().filter_map(|p| place.get(&p).copied()).collect::<PatchSet>();
    let mut tied = parity.clone();
    let all = model.len() == copy.len()
        && model.iter().all(|&m| {
            let (left, right) = (carried(&segments.list[m].left), carried(&segments.list[m].right));
            copy.iter().any(|&c| {
                let other = &segments.list[c];
                let same = other.left == left && other.right == right;
                let turned = other.left == right && other.right == left;
                (same || turned) && tied.join(offset + m, offset + c, turned)
            })
        });
    if all {
        *parity = tied;
    }
    all
}

//! What is read about fabrics, buying and cutting; every refusal names the field.

use std::collections::BTreeSet;

use super::number::FileNumber;
use super::read::{content, length};
use super::{FileError, v1};
use crate::error::EditError;
use crate::fabric::checked_name;
use crate::{
    Buying, Colour, CuttingWishes, Fabric, FabricId, InHand, Look, MethodKind, Precut, Price, Sold, stock, wishes,
};

pub(super) fn buying(path: &str, file: &v1::Buying) -> Result<Buying, FileError> {
    let squaring_up = optional_length(&format!("{path}.squaring_up"), file.squaring_up.as_ref())?;
    Buying::new(file.shrinkage_permille, squaring_up, file.step.into())
        .map_err(|e| content(&format!("{path}.shrinkage_permille"), e))
}

pub(super) fn cutting(path: &str, file: &v1::Cutting) -> Result<CuttingWishes, FileError> {
    check(path, "cut_worth", wishes::check_cut_worth(file.cut_worth))?;
    check(path, "spare_permille", wishes::check_spare(file.spare_permille))?;
    check(path, "squaring_every", wishes::check_squaring_every(file.squaring_every))?;
    let oversize = optional_length(&format!("{path}.oversize"), file.oversize.as_ref())?;
    check(path, "oversize", oversize.as_ref().map_or(Ok(()), wishes::check_oversize))?;
    let avoid = match &file.avoid {
        Some(list) => methods(&format!("{path}.avoid"), list)?,
        None => CuttingWishes::default().avoid,
    };
    Ok(CuttingWishes {
        cut_worth: file.cut_worth,
        oversize,
        spare_permille: file.spare_permille,
        squaring_every: file.squaring_every,
        ruler: file.ruler.into(),
        avoid,
    })
}

fn methods(path: &str, list: &[v1::MethodKind]) -> Result<BTreeSet<MethodKind>, FileError> {
    let mut found = BTreeSet::new();
    for (i, kind) in list.iter().enumerate() {
        if !found.insert((*kind).into()) {
            return Err(content(&format!("{path}[{i}]"), "this stands twice; leave one of them out"));
        }
    }
    Ok(found)
}

pub(super) fn fabric(path: &str, file: &v1::Fabric) -> Result<(FabricId, Fabric), FileError> {
    let field = |name: &str| format!("{path}.{name}");
    let colour = Colour::parse(&file.colour)
        .ok_or_else(|| content(&field("colour"), "a colour is written #rrggbb, six hexadecimal digits"))?;
    let usable_width = length(&field("usable_width"), &file.usable_width)?;
    let bolt_width = optional_length(&field("bolt_width"), file.bolt_width.as_ref())?;
    check(path, "bolt_width", bolt_width.as_ref().map_or(Ok(()), |b| stock::check_bolt(b, &usable_width)))?;
    check(path, "mixed_from", stock::check_mixed(file.mixed_from))?;
    let fabric = Fabric {
        name: checked_name(&file.name).map_err(|e| content(&field("name"), e))?,
        look: Look::Plain(colour),
        value: file.value.into(),
        usable_width,
        print: file.print.into(),
        sold: sold(&field("precut"), file.precut.as_ref())?,
        in_hand: in_hand(&field("in_hand"), &file.in_hand)?,
        bolt_width,
        price: file.price.map(Price::new).transpose().map_err(|e| content(&field("price"), e))?,
        mixed_from: file.mixed_from,
    };
    Ok((FabricId(file.id), fabric))
}

fn sold(path: &str, precut: Option<&v1::Precut>) -> Result<Sold, FileError> {
    let Some(piece) = precut else { return Ok(Sold::ByLength) };
    Ok(Sold::Precut(Precut {
        width: length(&format!("{path}.width"), &piece.width)?,
        length: length(&format!("{path}.length"), &piece.length)?,
    }))
}

fn in_hand(path: &str, list: &[v1::InHand]) -> Result<Vec<InHand>, FileError> {
    stock::check_in_hand_kinds(list.len()).map_err(|e| content(path, e))?;
    let read = |(i, piece): (usize, &v1::InHand)| {
        let path = format!("{path}[{i}]");
        check(&path, "count", InHand::check_count(piece.count))?;
        Ok(InHand {
            width: length(&format!("{path}.width"), &piece.width)?,
            length: length(&format!("{path}.length"), &piece.length)?,
            count: piece.count,
        })
    };
    list.iter().enumerate().map(read).collect()
}

fn optional_length(path: &str, file: Option<&FileNumber>) -> Result<Option<geometry::Length>, FileError> {
    file.map(|number| length(path, number)).transpose()
}

fn check(path: &str, name: &str, checked: Result<(), EditError>) -> Result<(), FileError> {
    checked.map_err(|e| content(&format!("{path}.{name}"), e))
}

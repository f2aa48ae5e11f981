//! Borders that come into question round a centre: those that are there in other widths, and some more.

use geometry::{Exact, Length};

use super::centres::Sized;
use super::wishes::Wishes;
use crate::border::{Border, BorderKind};
use crate::design::{Design, MAX_BORDERS};
use crate::ids::FabricId;

/// Borders round a centre.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Frame {
    /// All borders, from the inside.
    pub(super) borders: Vec<Border>,
    /// For each border which of the present ones it was; none for an added one.
    pub(super) was: Vec<Option<usize>>,
    /// Width and height of the whole quilt.
    pub(super) size: (Exact, Exact),
}

/// What is done to the borders.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    /// Nothing.
    Kept,
    /// The outermost plain border gets another width.
    Outermost,
    /// All plain borders get other widths, as wide beside each other as now.
    All,
    /// So many are put outside.
    Added(u8),
}

/// The frames of `design` round a centre of these extents.
pub(super) fn frames<'a>(
    design: &'a Design,
    sized: &'a Sized,
    centre: &'a (Exact, Exact),
    wanted: &'a (Exact, Exact),
    wishes: &'a Wishes,
) -> impl Iterator<Item = Frame> + 'a {
    let added = (1..=wishes.added).map(Way::Added);
    let ways = [Way::Kept, Way::Outermost, Way::All].into_iter().chain(added);
    ways.filter_map(move |way| {
        let frame = Framing { design, sized, centre, wishes };
        let (borders, was) = frame.borders(way, wanted)?;
        frame.close(borders, was)
    })
}

/// Borders with which of the present ones they were.
type Borders = (Vec<Border>, Vec<Option<usize>>);

struct Framing<'a> {
    design: &'a Design,
    sized: &'a Sized,
    centre: &'a (Exact, Exact),
    wishes: &'a Wishes,
}

impl Framing<'_> {
    /// The borders as `way` makes them, to come as near to `wanted` as the steps let them.
    fn borders(&self, way: Way, wanted: &(Exact, Exact)) -> Option<Borders> {
        let present = self.present()?;
        let was: Vec<Option<usize>> = (0..present.len()).map(Some).collect();
        let plain: Vec<usize> = (0..present.len()).filter(|i| is_plain(&present[*i])).collect();
        let outermost = plain.last().copied();
        let others = |without: &[usize]| {
            let kept = present.iter().enumerate().filter(|(i, _)| !without.contains(i));
            kept.fold((Exact::ZERO, Exact::ZERO), |(x, y), (_, b)| (&x + b.across(false), &y + b.across(true)))
        };
        let mut borders = present.clone();
        match way {
            Way::Kept => return Some((borders, was)),
            Way::Outermost => {
                let i = outermost?;
                borders[i].width = self.width(&self.missing(wanted, &others(&[i])))?;
            }
            Way::All => {
                if plain.len() < 2 {
                    return None;
                }
                let whole = self.missing(wanted, &others(&plain));
                let widths: Vec<&Exact> = plain.iter().map(|i| present[*i].width.inches()).collect();
                for (i, width) in plain.iter().zip(self.shared(&whole, &widths)?) {
                    borders[*i].width = width;
                }
            }
            Way::Added(count) => {
                let whole = self.missing(wanted, &others(&[]));
                // A narrow one inside a wide one, as most quilts have them (common practice, no source).
                let [narrow, wide] = [1, 3].map(Exact::int);
                let both = || self.shared(&whole, &[&narrow, &wide]);
                for width in if count == 1 { vec![self.width(&whole)?] } else { both()? } {
                    let fabric = self.beside(borders.last());
                    borders.push(Border::plain(width, fabric));
                }
            }
        }
        let was = was.into_iter().chain(std::iter::repeat(None)).take(borders.len()).collect();
        (borders.len() <= MAX_BORDERS && borders != present).then_some((borders, was))
    }

    /// The present borders, pieced ones as deep as their blocks are then.
    fn present(&self) -> Option<Vec<Border>> {
        let now = |border: &Border| {
            let Some(pieced) = border.pieced() else { return Some(border.clone()) };
            let depth = pieced.extent(self.sized.block(self.design, pieced.block)?.as_ref()).1;
            Some(Border { width: Length::new(depth).ok()?, ..border.clone() })
        };
        self.design.borders().iter().map(now).collect()
    }

    /// The width all round that would miss `wanted` by as much in width as in height; it can be below 0.
    fn missing(&self, wanted: &(Exact, Exact), others: &(Exact, Exact)) -> Exact {
        let across = &(&wanted.0 - &self.centre.0) - &others.0.scale_int(2);
        let down = &(&wanted.1 - &self.centre.1) - &others.1.scale_int(2);
        (&across + &down).half().half()
    }

    /// The nearest width that a border may have.
    fn width(&self, inches: &Exact) -> Option<Length> {
        let nearest = self.nearest(inches);
        let bounded = nearest.max(self.wishes.least.inches().clone()).min(self.wishes.most.inches().clone());
        Length::new(bounded).ok()
    }

    fn nearest(&self, inches: &Exact) -> Exact {
        let step = self.wishes.step.inches();
        (inches + &step.half()).floor_div(step).map_or(Exact::ZERO, |steps| &Exact::from(steps) * step)
    }

    /// `whole` shared out like `shares`, the last taking what steps leave over; none where a border would be too narrow
    /// or too wide.
    fn shared(&self, whole: &Exact, shares: &[&Exact]) -> Option<Vec<Length>> {
        let sum = shares.iter().fold(Exact::ZERO, |sum, share| &sum + *share);
        let mut left = self.nearest(whole);
        let mut widths = Vec::new();
        for (i, share) in shares.iter().enumerate() {
            let own = if i + 1 == shares.len() {
                left.clone()
            } else {
                let part = &(whole * *share) * &sum.recip()?;
                self.width(&part)?.inches().clone()
            };
            left = &left - &own;
            if own < *self.wishes.least.inches() || own > *self.wishes.most.inches() {
                return None;
            }
            widths.push(Length::new(own).ok()?);
        }
        Some(widths)
    }

    /// A fabric for a border outside `inner`: that of the binding, or where `inner` has it another.
    fn beside(&self, inner: Option<&Border>) -> FabricId {
        let binding = self.design.binding().fabric;
        let taken = inner.map(|border| border.fabric);
        let mut others = self.design.fabrics().map(|(id, _)| id).filter(|id| Some(*id) != taken);
        if taken == Some(binding) { others.next().unwrap_or(binding) } else { binding }
    }

    /// Checks that pieced borders fit, and puts spacers inside those that do not, if that is wished; none where a
    /// border cannot be made.
    fn close(&self, borders: Vec<Border>, was: Vec<Option<usize>>) -> Option<Frame> {
        let mut size = self.centre.clone();
        let mut frame = Frame { borders: Vec::new(), was: Vec::new(), size: size.clone() };
        for (border, was) in borders.into_iter().zip(was) {
            if let Some(pieced) = border.pieced() {
                let block = self.sized.block(self.design, pieced.block)?;
                let corner = self.sized.block(self.design, pieced.corner)?.base().extent();
                let depth = border.width.inches();
                if corner != (depth.clone(), depth.clone()) {
                    return None;
                }
                let fit = pieced.fit(0, &block, &size);
                if !fit.upright.fits() || !fit.level.fits() {
                    let spacer = self.spacer(&fit, border.fabric)?;
                    frame.push(&mut size, spacer, None);
                }
            }
            frame.push(&mut size, border, was);
        }
        frame.size = size;
        (frame.borders.len() <= MAX_BORDERS).then_some(frame)
    }

    /// The spacer that makes a pieced border fit, if it may be so wide.
    fn spacer(&self, misfit: &crate::border::BorderMisfit, fabric: FabricId) -> Option<Border> {
        let spacer = misfit.spacer(fabric).filter(|_| self.wishes.spacers)?;
        let most = self.wishes.most.inches();
        [false, true].iter().all(|level| spacer.across(*level) <= most).then_some(spacer)
    }
}

impl Frame {
    fn push(&mut self, size: &mut (Exact, Exact), border: Border, was: Option<usize>) {
        let [across, up] = [false, true].map(|level| border.across(level).scale_int(2));
        *size = (&size.0 + &across, &size.1 + &up);
        self.borders.push(border);
        self.was.push(was);
    }
}

/// Whether a border's width can be chosen: a plain one, as wide all round.
fn is_plain(border: &Border) -> bool {
    border.level_width.is_none() && !matches!(border.kind, BorderKind::Pieced(_))
}

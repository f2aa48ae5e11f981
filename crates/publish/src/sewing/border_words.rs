//! How the borders are sewn on, from the inside.

use std::collections::BTreeMap;

use geometry::Exact;
use geometry::lay::UNITS_PER_INCH;
use geometry::ruler::{Figure, Rounding};
use layout::{Border, BorderKind, Design, EditError, PiecedBorder};
use piecing::Distance;

use crate::PublishError;
use crate::lengths::{at_least, distance_words, finished, marked};
use crate::trim_words::hair_of;

/// What a border begins with whose pieces are all cut before one of them is sewn on.
const MEASURE: &str =
    "measure height and width of the top, as it is now, through its middle before cutting; as planned";

/// The borders, from the inside, and how large the top is with them.
///
/// # Errors
/// A block or fabric that is not there.
pub fn border_words(design: &Design) -> Result<Vec<String>, PublishError> {
    border_words_joined(design, &BTreeMap::new())
}

/// The same, with the lines for each border, by its number from 0, that say how its pieces are joined: they come before it is
/// sewn on.
pub(crate) fn border_words_joined(
    design: &Design,
    joined: &BTreeMap<u16, Vec<String>>,
) -> Result<Vec<String>, PublishError> {
    let (mut width, mut height) = design.setting_extent();
    let mut lines = Vec::new();
    let mut has_joins = false;
    for (number, border) in (0..).zip(design.borders()) {
        let inner = (width.clone(), height.clone());
        width = &width + &border.across(false).scale_int(2);
        height = &height + &border.across(true).scale_int(2);
        let ring = Ring { design, number, border, inner, outer: (width.clone(), height.clone()) };
        lines.extend(joined.get(&number).into_iter().flatten().cloned());
        lines.extend(ring.room_words());
        let (set_wider, told) = (ring.set_wider()?, ring.told()?);
        // What is trimmed before it is sewn is told before it is sewn.
        let planned = if ring.needed_outside().is_some() { "if the top measures as planned, " } else { "" };
        let told = if set_wider.is_empty() { told } else { format!("{planned}{set_wider} Then {told}") };
        lines.push(format!("Border {}: {told}", number + 1));
        has_joins = has_joins || ring.is_longer_than_fabric()?;
    }
    if has_joins {
        lines.insert(0, JOINS.to_owned());
    }
    if !lines.is_empty() {
        let ring = |inches: &Exact| raw(design, inches);
        lines.push(format!("The top measures {} × {} with its borders.", ring(&width), ring(&height)));
    }
    Ok(lines)
}

/// What is done with pieces that the cutting plan gives in sections.
const JOINS: &str = "A border that comes in sections is joined first: sew its sections end to end with straight seams, press \
                     the seams open, and cut it to length after measuring. Where a section was left as \
                     long as its strip, let what is too much lie at one end of the joined piece.";

/// A length from raw edge to raw edge.
fn raw(design: &Design, inches: &Exact) -> String {
    distance_words(&Distance::of(inches + &design.seam().inches().scale_int(2)), design.units())
}

/// Whether a border, counted from 0, is a plain one inside a pieced one, and so makes the top as large as that one needs.
pub(crate) fn makes_room(design: &Design, number: u16) -> bool {
    let border = |number: usize| design.borders().get(number).map(|border| border.pieced().is_some());
    (border(number.into()), border(usize::from(number) + 1)) == (Some(false), Some(true))
}

/// One border with the finished sizes inside and outside it.
struct Ring<'a> {
    design: &'a Design,
    /// Counted from 0.
    number: u16,
    border: &'a Border,
    inner: (Exact, Exact),
    outer: (Exact, Exact),
}

impl Ring<'_> {
    fn told(&self) -> Result<String, EditError> {
        let raw = |inches: &Exact| raw(self.design, inches);
        let wide = raw(self.border.across(false));
        Ok(match &self.border.kind {
            // Top and bottom reach over the sides, so they are measured when these are on.
            BorderKind::Butted => format!(
                "measure the height of the top, as it is now, through its middle and cut the side pieces to it; as planned \
                 they are {wide} × {}. Sew them on and press outward. Then measure the width through the middle, sides \
                 included, and cut top and bottom to it; as planned they are {} × {}. Sew them on and press outward.",
                raw(&self.inner.1),
                raw(self.border.across(true)),
                raw(&self.outer.0)
            ),
            BorderKind::Mitred => self.mitred(&wide),
            BorderKind::CornerSquares(fabric) => format!(
                "{MEASURE} the side pieces are {wide} × {}, top and bottom {wide} × {}. Sew a corner square of {}, {wide} each \
                 way, to either end of top and bottom. Sew the sides on first, press outward, then top and bottom.",
                raw(&self.inner.1),
                raw(&self.inner.0),
                self.design.fabric(*fabric)?.name
            ),
            BorderKind::Pieced(own) => self.pieced(own, &wide)?,
        })
    }

    /// Outer edges of a mitred piece reach past the finished corner by the seam allowance over tan 22.5°, which is 1 + √2
    /// seam allowances.
    fn mitred(&self, wide: &str) -> String {
        let seam = self.design.seam().inches();
        let beyond = &(&Exact::ONE + &Exact::sqrt2()) * seam;
        let long =
            |finished: &Exact| distance_words(&Distance::of(finished + &beyond.scale_int(2)), self.design.units());
        let (upright, level) = (long(&self.outer.1), long(&self.outer.0));
        // From the raw edge of the top to where the outer edge ends, at both ends.
        let more = |level: bool| {
            let one = &(self.border.across(level) + &beyond) - seam;
            at_least(&one.scale_int(2), self.design.units())
        };
        let more = match [more(true), more(false)] {
            // What is outside does not change with what is measured.
            _ if self.needed_outside().is_some() => "whatever is measured".to_owned(),
            [upright, level] if upright == level => format!("what is measured and {upright} more"),
            [upright, level] => {
                format!("what is measured and {upright} more at the sides, {level} more at top and bottom")
            }
        };
        let lengths = if upright == level {
            format!("{upright} along their outer edge")
        } else {
            format!("{upright} along their outer edge at the sides, {level} at top and bottom")
        };
        format!(
            "{MEASURE} the four pieces are {wide} wide and {lengths}, {more}. Match middle to middle \
             and sew each on from seam line to seam line of the corners; then sew the corners at 45° and trim what is left \
             over. Press the seams outward and the corners open."
        )
    }

    fn pieced(&self, own: &PiecedBorder, wide: &str) -> Result<String, EditError> {
        let def = self.design.block(own.block)?;
        let fit = own.fit(self.number, def.block(), &self.inner);
        let corner = self.design.block(own.corner)?.name();
        let (sides, level) = (fit.upright.blocks, fit.level.blocks);
        let blocks = if sides == level {
            format!("sew {sides} × {} together for each of the four sides", def.name())
        } else {
            format!("sew {sides} × {0} together for either side, {level} × {0} for top and bottom", def.name())
        };
        Ok(format!(
            "{blocks}, turned as the picture shows; the sides measure {wide} × {}. Sew a {corner} to either end of top and \
             bottom; they measure {wide} × {} then. Press the seams between its blocks to one side. Sew the sides on first, then \
             top and bottom, and press these seams away from the pieced border, where fewer layers lie.",
            raw(self.design, &self.inner.1),
            raw(self.design, &self.outer.0)
        ))
    }

    /// How wide the pieces of a plain border are cut that makes the top as large as a pieced one outside it needs, whatever was
    /// measured; none for others.
    fn room_words(&self) -> Option<String> {
        let needed = self.needed_outside()?;
        let both = distance_words(&Distance::of(self.design.seam().inches().scale_int(2)), self.design.units());
        let begin = format!(
            "Border {0}: measure the top before you cut the strips of border {0}; the border outside it is pieced and needs a \
             top of {needed}. If yours measures otherwise than planned,",
            self.number + 1
        );
        // Mitres need the same width all round.
        Some(if self.border.kind == BorderKind::Mitred {
            format!(
                "{begin} cut all four pieces as wide as half of what the width is short of that, and {both} more; where the \
                 height wants another width, correct the top first."
            )
        } else {
            format!(
                "{begin} cut the sides as wide as half of what the width is short of that, and {both} more; top and bottom by \
                 the height in the same way."
            )
        })
    }

    /// How large a pieced border outside a plain one needs the top to be; none for other borders.
    fn needed_outside(&self) -> Option<String> {
        makes_room(self.design, self.number)
            .then(|| format!("{} × {}", raw(self.design, &self.outer.0), raw(self.design, &self.outer.1)))
    }

    /// What is trimmed of strips that the ruler sets wider than the border is; empty where it sets them exactly.
    fn set_wider(&self) -> Result<String, EditError> {
        if self.border.pieced().is_some() {
            return Ok(String::new());
        }
        let (sides, level) = (self.strip(self.border.across(false)), self.strip(self.border.across(true)));
        let units = self.design.units();
        let told = |(set, exact): &(Exact, Exact)| {
            // What is less is sewn as it is cut, as the cutting table says.
            let hair = Exact::ratio(hair_of(units), UNITS_PER_INCH).unwrap_or_default();
            (set - exact >= hair)
                .then(|| format!("set at {} on the ruler: trim them to {}", finished(set, units), marked(exact, units)))
        };
        let told = match (told(&sides), told(&level)) {
            (Some(all), _) if sides == level => format!("its strips are {all}"),
            (Some(sides), Some(level)) => {
                format!("the strips of the sides are {sides}; those of top and bottom are {level}")
            }
            (Some(sides), None) => format!("the strips of the sides are {sides}"),
            (None, Some(level)) => format!("the strips of top and bottom are {level}"),
            (None, None) => return Ok(String::new()),
        };
        Ok(format!("{told} before you sew, or the border does not fit."))
    }

    /// The width of a strip that is `across` inches wide when finished: as it is set on the ruler, and exact.
    fn strip(&self, across: &Exact) -> (Exact, Exact) {
        let exact = across + &self.design.seam().inches().scale_int(2);
        let set = Figure::new(exact.clone(), self.design.ruler_step(), Rounding::Up).ruler;
        (set, exact)
    }

    /// Whether one of its pieces is longer than its fabric is wide.
    fn is_longer_than_fabric(&self) -> Result<bool, EditError> {
        if self.border.pieced().is_some() {
            return Ok(false);
        }
        let fabric = self.design.fabric(self.border.fabric)?;
        let seams = self.design.seam().inches().scale_int(2);
        let long = (&self.outer.0 + &seams).max(&self.inner.1 + &seams);
        Ok(&long > fabric.usable_width.inches())
    }
}

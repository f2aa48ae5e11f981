//! Backing, batting and binding.

use cutting::{BackingCut, BindingCut, Purchase};
use layout::{BindingGrain, Design, Join};
use serde::Serialize;

use super::backing_picture::backing_picture;
use super::fabrics_part::direction_words;
use super::{Picture, picture};
use crate::cut_words::binding_words;
use crate::exports::materials::backing_size;
use crate::lengths::{at_least, at_most, counted, finished};
use crate::{Figures, Offered, PublishError};

/// What finishes the quilt.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Finishing {
    /// How the backing is made and layered.
    pub backing: Vec<String>,
    /// The backing, drawn.
    pub picture: Picture,
    /// How the binding is made and sewn on.
    pub binding: Vec<String>,
}

/// What finishes a quilt.
pub(super) fn finishing(quilt: &Offered<'_>, figures: &mut Figures) -> Result<Finishing, PublishError> {
    let design = quilt.design;
    let backing = quilt.ledger.backing()?;
    let drawing = backing_picture(design, backing)?;
    Ok(Finishing {
        backing: backing_words(design, backing),
        picture: picture(figures, &drawing, "The panels of the backing, and the quilt top on it"),
        binding: binding_lines(design, quilt.ledger.binding()?)?,
    })
}

fn backing_words(design: &Design, backing: &BackingCut) -> Vec<String> {
    let units = design.units();
    let told = |inches| finished(inches, units);
    let size = backing_size(backing, units);
    let (usable, seam) = (told(design.backing().usable_width.inches()), told(design.seam().inches()));
    let buy = Purchase::new(backing.required.clone(), design.buying()).label;
    let length = at_least(&backing.panel_length, units);
    let mut lines = vec![if backing.panels == 1 {
        format!("Buy {buy} of backing with {usable} usable width, and cut one panel {length} long.")
    } else {
        format!(
            "Buy {buy} of backing with {usable} usable width. Cut {} {length} long, trim off the selvages, and sew the \
             panels together along their long sides with {seam} seams that run {}. Press the seams open.",
            counted(backing.panels, "panel", "panels"),
            direction_words(backing.direction)
        )
    }];
    // The backing is reckoned from the finished quilt; the top that lies on it still has its seam allowance.
    let overhang = design.backing().overhang.inches();
    let beyond = (told(overhang), told(&(overhang - design.seam().inches())));
    lines.push(format!(
        "Trim the backing to {size}, and cut the batting as large: {} beyond the finished quilt on every side, {} beyond the raw \
         edges of the top.",
        beyond.0, beyond.1
    ));
    lines.push(
        "Lay the backing smooth with its wrong side up, the batting on it, and the pressed top in the middle with its right \
         side up. Baste the three layers together from the middle outwards, and quilt by hand or machine."
            .to_owned(),
    );
    lines.push("Trim batting and backing even with the edges of the top, corners square.".to_owned());
    lines
}

fn binding_lines(design: &Design, binding: &BindingCut) -> Result<Vec<String>, PublishError> {
    let units = design.units();
    let fabric = &design.fabric(design.binding().fabric)?.name;
    let strips = counted(binding.strips, "strip", "strips");
    let (width, how) = (finished(&binding.strip_width, units), binding_words(binding, units));
    let mut lines = vec![format!("Take the {strips} {width} wide{how} of {fabric}; they are in its cutting plan.")];
    let diagonal = binding.grain == BindingGrain::Bias || design.binding().join == Join::Diagonal;
    let (joined, needed) = (at_most(&binding.joined, units), at_least(&binding.needed, units));
    if binding.strips > 1 {
        let join = if diagonal { "diagonal seams" } else { "straight seams" };
        lines.push(format!(
            "Join them end to end with {join} and press the seams open. They are {joined} long then; {needed} are needed, \
             corners and the last join included."
        ));
    }
    let seam = finished(design.seam().inches(), units);
    lines.extend([
        "Fold the binding in half along its length, wrong sides together, and press.".to_owned(),
        format!(
            "Begin in the middle of a side and leave a tail. Sew the raw edges of the binding to the edge of the front with a \
             {seam} seam; stop {seam} before each corner, fold the binding up and then down along the next side, and go on \
             from the edge: the corner becomes a mitre."
        ),
        "Join the two tails, sew the rest down, fold the binding to the back and sew it on by hand or machine.".to_owned(),
    ]);
    Ok(lines)
}

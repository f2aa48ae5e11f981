//! What the ruler makes of the blocks, and edges that stretch, in words.

use cutting::methods::{bias_by_role, outside_grain};
use cutting::{BlockFit, ClassBook};
use geometry::Role;
use layout::Design;

use crate::lengths::finished;

/// For every block whose strips the ruler cannot set exactly: a heading, what each strip does to the finished size, and
/// sizes nearby that fit better. Then the outside edges that lie on the bias.
#[must_use]
pub fn ruler_words(design: &Design, book: &ClassBook) -> Vec<(String, Vec<String>)> {
    let fits = BlockFit::of_design(design, book);
    let mut found: Vec<(String, Vec<String>)> = Vec::new();
    for (name, lines) in fits.iter().filter_map(|fit| fit_words(design, fit)) {
        // Blocks of one draft in other fabrics have the same to say.
        match found.iter_mut().find(|(_, told)| *told == lines) {
            Some((names, _)) => *names = format!("{names}, {name}"),
            None => found.push((name, lines)),
        }
    }
    for (heading, _) in &mut found {
        heading.push_str(" on the ruler");
    }
    for (_, def) in design.blocks() {
        let edges = bias_by_role(&outside_grain(def.block()));
        let line = |(role, count): (Role, usize)| {
            format!("{count} outside edges of the {role} lie on the bias and stretch; handle them with care")
        };
        let lines: Vec<String> = edges.into_iter().map(line).collect();
        if !lines.is_empty() {
            found.push((def.name().to_owned(), lines));
        }
    }
    found
}

fn fit_words(design: &Design, fit: &BlockFit) -> Option<(String, Vec<String>)> {
    let units = design.units();
    let off = fit.strips.iter().filter(|strip| !strip.strip.error().is_zero());
    let mut lines: Vec<String> = off
        .map(|strip| {
            let roles: Vec<&str> = strip.roles.iter().map(Role::name).collect();
            let [exact, ruler, size] = [&strip.strip.exact, &strip.strip.ruler, &strip.finishes];
            let [exact, ruler, size] = [exact, ruler, size].map(|length| finished(length, units));
            format!("{}: strips of {exact} exactly; at {ruler} the block finishes {size}", roles.join(", "))
        })
        .collect();
    if lines.is_empty() {
        return None;
    }
    lines.push("sizes that fit:".to_owned());
    lines.extend(fit.sizes.iter().map(|s| {
        let [size, strip, worst] = [&s.size, &s.strip, &s.worst].map(|length| finished(length, units));
        format!("{size} from strips of {strip}, others within {worst}")
    }));
    Some((design.block(fit.block).ok()?.name().to_owned(), lines))
}

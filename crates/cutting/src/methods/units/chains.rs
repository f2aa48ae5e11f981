//! Chains for strip sets: parallelograms between two parallel lines, neighbours sharing whole edges.

use super::neighbours::{ClassNumber, Neighbours};
use super::{Find, SewnMethod};

/// A parallelogram in a chain, entered across its edge `entry` (0 to 3) and left across the opposite one.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Link {
    patch: usize,
    entry: usize,
}

impl Link {
    const fn exit(self) -> usize {
        (self.entry + 2) % 4
    }

    const fn reversed(self) -> Self {
        Self { patch: self.patch, entry: self.exit() }
    }
}

/// All chains of two patches or more, each once, in the order of their first patch.
pub(super) fn find(neighbours: &Neighbours<'_>) -> Vec<Find> {
    let mut seen = vec![[false; 2]; neighbours.len()];
    let mut chains = Vec::new();
    for patch in 0..neighbours.len() {
        for entry in 0..2 {
            let link = Link { patch, entry };
            if seen[patch][entry] || !is_link(neighbours, link) {
                continue;
            }
            let back = walk(neighbours, link.reversed());
            let forth = walk(neighbours, link);
            let links: Vec<Link> =
                back.iter().rev().map(|l| l.reversed()).chain(forth.iter().skip(1).copied()).collect();
            for link in &links {
                seen[link.patch][link.entry % 2] = true;
            }
            if links.len() > 1 {
                chains.push(chain(neighbours, links));
            }
        }
    }
    chains
}

/// Whether the patch can be cut from a strip along the edge by which it is entered.
fn is_link(neighbours: &Neighbours<'_>, link: Link) -> bool {
    neighbours.is_parallelogram(link.patch)
        && neighbours.is_on_grain(link.patch, &neighbours.outline(link.patch).edge(link.entry))
}

/// The chain from `link` on, itself first.
fn walk(neighbours: &Neighbours<'_>, link: Link) -> Vec<Link> {
    let mut links = vec![link];
    let mut last = link;
    while let Some((patch, entry)) = neighbours.across((last.patch, last.exit())) {
        let next = Link { patch, entry: entry % 4 };
        // The sides go on in one straight line.
        let straight = is_link(neighbours, next) && {
            let side = |l: Link| neighbours.outline(l.patch).edge(l.entry + 1);
            side(last).cross(&side(next)).is_zero()
        };
        if !straight {
            break;
        }
        links.push(next);
        last = next;
    }
    links
}

/// The chain in the order in which its marks come first; seen from the other end it is the same chain.
fn chain(neighbours: &Neighbours<'_>, links: Vec<Link>) -> Find {
    let mark = |links: &[Link]| -> Vec<ClassNumber> {
        links.iter().map(|l| neighbours.class(l.patch, &[(l.entry, 1), (l.exit(), 2)])).collect()
    };
    let back: Vec<Link> = links.iter().rev().map(|l| l.reversed()).collect();
    let (forth_mark, back_mark) = (mark(&links), mark(&back));
    let patches = |links: &[Link]| links.iter().map(|l| l.patch).collect::<Vec<_>>();
    let forward = (&forth_mark, patches(&links)) <= (&back_mark, patches(&back));
    let (links, mark) = if forward { (links, forth_mark) } else { (back, back_mark) };
    let strip = links.iter().map(|l| neighbours.outline(l.patch).edge(l.entry)).collect();
    let cut = neighbours.outline(links[0].patch).edge(links[0].entry + 1);
    Find { method: SewnMethod::StripSet, mark, patches: patches(&links), strip, cut }
}

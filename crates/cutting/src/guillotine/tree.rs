//! Which rectangles are joined with which: a binary tree with a rectangle at each leaf.
//!
//! Whether two parts lie side by side or one above the other, and how each rectangle is turned, is left to the shape
//! curves, so a tree stands for all patterns with the same grouping.

use super::curve::{Rules, Scratch, Shape, join, parted};
use super::pattern::{Content, Slice};

/// No node.
const NONE: usize = usize::MAX;

/// A node: leaves come first, then joins; the last is the root.
#[derive(Debug, Clone)]
struct Node {
    parent: usize,
    children: [usize; 2],
    area: i64,
    curve: Vec<Shape>,
}

/// A tree of joins with the shape curve of each.
#[derive(Debug, Clone)]
pub(super) struct Tree {
    nodes: Vec<Node>,
    leaves: usize,
}

/// A change of grouping.
#[derive(Debug, Clone, Copy)]
pub(super) enum Move {
    /// Two parts change places.
    Swap(usize, usize),
    /// The first part is taken out and joined with the second.
    Graft(usize, usize),
}

/// How to take a move back.
#[derive(Debug, Clone, Copy)]
enum Back {
    Swap(usize, usize),
    /// Part, its join, the sibling it had, the grandparent it had.
    Graft(usize, usize, usize, usize),
}

/// Nodes as they were before a move.
#[derive(Debug, Default)]
pub(super) struct Undo {
    back: Option<Back>,
    nodes: Vec<(usize, i64, Vec<Shape>)>,
    pool: Vec<Vec<Shape>>,
    path: Vec<usize>,
    scratch: Scratch,
}

impl Tree {
    /// A tree from the curves of its leaves and the pairs that are joined, in order; the pairs name leaves by place and
    /// earlier joins by the number of leaves plus place. `None` unless it is a tree of at least one leaf.
    pub(super) fn new(leaves: Vec<Vec<Shape>>, joins: &[[usize; 2]]) -> Option<Self> {
        let count = leaves.len();
        let leaf = |curve: Vec<Shape>| {
            let area = curve.first().map_or(0, |s| s.width * s.height);
            Node { parent: NONE, children: [NONE; 2], area, curve }
        };
        let mut nodes: Vec<Node> = leaves.into_iter().map(leaf).collect();
        for &children in joins {
            let place = nodes.len();
            let mut area = 0;
            for child in children {
                let node = nodes.get_mut(child)?;
                node.parent = place;
                area += node.area;
            }
            nodes.push(Node { parent: NONE, children, area, curve: Vec::new() });
        }
        (count > 0 && nodes.len() == 2 * count - 1).then_some(Self { nodes, leaves: count })
    }

    /// Reckons all curves anew. Returns the steps taken.
    pub(super) fn refresh(&mut self, rules: &Rules) -> u64 {
        let mut scratch = Scratch::default();
        let mut steps = 0;
        let mut order = vec![self.root()];
        let mut at = 0;
        while let Some(&place) = order.get(at) {
            order.extend(self.nodes[place].children.iter().filter(|child| **child != NONE));
            at += 1;
        }
        for &place in order.iter().rev().filter(|place| **place >= self.leaves) {
            let mut out = Vec::new();
            steps += self.reckon(place, rules, &mut scratch, &mut out);
            self.nodes[place].curve = out;
        }
        steps
    }

    pub(super) const fn root(&self) -> usize {
        self.nodes.len() - 1
    }

    /// The least height of the whole, if a shape is left.
    pub(super) fn height(&self) -> Option<i64> {
        self.nodes.last()?.curve.last().map(|shape| shape.height)
    }

    pub(super) const fn size(&self) -> usize {
        self.nodes.len()
    }

    fn reckon(&self, place: usize, rules: &Rules, scratch: &mut Scratch, out: &mut Vec<Shape>) -> u64 {
        let node = &self.nodes[place];
        let [first, second] = node.children.map(|child| self.nodes[child].curve.as_slice());
        join(first, second, &rules.limits(node.area, place == self.root()), scratch, out)
    }

    fn holds(&self, outer: usize, mut inner: usize) -> bool {
        while inner != outer && inner != NONE {
            inner = self.nodes[inner].parent;
        }
        inner == outer
    }

    fn replace(&mut self, parent: usize, old: usize, new: usize) {
        let children = &mut self.nodes[parent].children;
        children[usize::from(children[0] != old)] = new;
        self.nodes[new].parent = parent;
    }

    fn sibling(&self, place: usize) -> usize {
        let children = self.nodes[self.nodes[place].parent].children;
        children[usize::from(children[0] == place)]
    }

    /// Whether a move can be made and changes anything.
    pub(super) fn allows(&self, change: Move) -> bool {
        let (Move::Swap(u, v) | Move::Graft(u, v)) = change;
        if u == v || u >= self.root() || v >= self.root() || self.holds(u, v) {
            return false;
        }
        let (over, beside) = (self.nodes[u].parent, self.nodes[v].parent);
        match change {
            Move::Swap(..) => over != beside && !self.holds(v, u) && self.nodes[u].curve != self.nodes[v].curve,
            Move::Graft(..) => over != beside && over != v && over != self.root(),
        }
    }

    /// Makes a move that is allowed. Returns the steps taken, and whether a shape is left.
    pub(super) fn apply(&mut self, change: Move, rules: &Rules, undo: &mut Undo) -> (u64, bool) {
        let (Move::Swap(u, v) | Move::Graft(u, v)) = change;
        let over = self.nodes[u].parent;
        let starts = match change {
            Move::Swap(..) => {
                let beside = self.nodes[v].parent;
                self.replace(over, u, v);
                self.replace(beside, v, u);
                undo.back = Some(Back::Swap(u, v));
                [over, beside]
            }
            Move::Graft(..) => {
                let (sibling, above) = (self.sibling(u), self.nodes[over].parent);
                self.replace(above, over, sibling);
                self.replace(self.nodes[v].parent, v, over);
                self.nodes[over].children = [u, v];
                self.nodes[v].parent = over;
                undo.back = Some(Back::Graft(u, over, sibling, above));
                [above, over]
            }
        };
        self.update(starts, rules, undo)
    }

    /// Reckons the joins above two places, lower ones first.
    fn update(&mut self, starts: [usize; 2], rules: &Rules, undo: &mut Undo) -> (u64, bool) {
        let mut path = std::mem::take(&mut undo.path);
        self.paths(starts, &mut path);
        let mut steps = 0;
        let mut left = true;
        for &place in &path {
            let children = self.nodes[place].children;
            let mut out = undo.pool.pop().unwrap_or_default();
            let area = children.iter().map(|child| self.nodes[*child].area).sum();
            let old = std::mem::replace(&mut self.nodes[place].area, area);
            steps += self.reckon(place, rules, &mut undo.scratch, &mut out);
            left = !out.is_empty();
            undo.nodes.push((place, old, std::mem::replace(&mut self.nodes[place].curve, out)));
            if !left {
                break;
            }
        }
        undo.path = path;
        (steps, left)
    }

    /// The ways from two places up to where they meet, then from there to the root.
    fn paths(&self, [first, second]: [usize; 2], path: &mut Vec<usize>) {
        path.clear();
        let up = |mut place: usize, path: &mut Vec<usize>| {
            while place != NONE {
                path.push(place);
                place = self.nodes[place].parent;
            }
        };
        up(first, path);
        let middle = path.len();
        up(second, path);
        let shared = path[..middle].iter().rev().zip(path[middle..].iter().rev()).take_while(|(a, b)| a == b).count();
        path.drain(middle - shared..middle);
    }

    /// Takes the last move back.
    pub(super) fn revert(&mut self, undo: &mut Undo) {
        while let Some((place, area, curve)) = undo.nodes.pop() {
            let node = &mut self.nodes[place];
            node.area = area;
            undo.pool.push(std::mem::replace(&mut node.curve, curve));
        }
        match undo.back.take() {
            Some(Back::Swap(u, v)) => {
                let (over, beside) = (self.nodes[v].parent, self.nodes[u].parent);
                self.replace(over, v, u);
                self.replace(beside, u, v);
            }
            Some(Back::Graft(u, over, sibling, above)) => {
                let beside = self.sibling(u);
                self.replace(self.nodes[over].parent, over, beside);
                self.replace(above, sibling, over);
                self.nodes[over].children = [u, sibling];
                self.nodes[sibling].parent = over;
                self.nodes[u].parent = over;
            }
            None => {}
        }
    }

    /// Lets the last move stand.
    pub(super) fn keep(undo: &mut Undo) {
        undo.back = None;
        while let Some((_, _, curve)) = undo.nodes.pop() {
            undo.pool.push(curve);
        }
    }

    /// The pattern of least height, its root first. Leaves are pieces of the kind with their place, to be named by the
    /// caller; one is turned if its shape is not `given`.
    pub(super) fn slices(&self, given: &dyn Fn(usize) -> (usize, Shape)) -> Option<Vec<Slice>> {
        let whole = *self.nodes.last()?.curve.last()?;
        let mut slices = vec![Slice { width: 0, height: 0, content: Content::Waste }];
        let mut waiting = vec![(0, self.root(), whole)];
        while let Some((slot, place, shape)) = waiting.pop() {
            let Shape { width, height } = shape;
            let content = if place < self.leaves {
                let (kind, as_given) = given(place);
                Content::Piece { kind, turned: shape != as_given }
            } else {
                let [first, second] = self.nodes[place].children;
                let (a, b) = (&self.nodes[first].curve, &self.nodes[second].curve);
                let (i, j, beside) = parted(a, b, shape)?;
                let part = slices.len();
                slices.extend([slices[0], slices[0]]);
                waiting.extend([(part, first, a[i]), (part + 1, second, b[j])]);
                if beside { Content::Beside(part, part + 1) } else { Content::Above(part, part + 1) }
            };
            slices[slot] = Slice { width, height, content };
        }
        Some(slices)
    }
}

//! Triangles of a block's patches, made once for each source by lyon.

use geometry::{Block, Polygon};
use lyon::math::point;
use lyon::path::Path;
use lyon::tessellation::{BuffersBuilder, FillOptions, FillTessellator, FillVertex, VertexBuffers};

/// One patch in the block's frame, in inches.
#[derive(Debug, Clone, PartialEq)]
pub struct PatchMesh {
    /// Corners of the finished outline.
    pub outline: Vec<[f64; 2]>,
    /// Corners of its triangles.
    pub points: Vec<[f32; 2]>,
    /// Three to a triangle.
    pub indices: Vec<u32>,
}

/// All patches of a source.
#[derive(Debug, Clone, PartialEq)]
pub struct SourceMesh {
    outline: Vec<[f64; 2]>,
    patches: Vec<PatchMesh>,
}

impl SourceMesh {
    /// The triangles of a block.
    #[must_use]
    pub fn new(block: &Block) -> Self {
        let patches = block.patches().iter().map(|p| PatchMesh::new(&p.outline)).collect();
        Self { outline: corners(block.base()), patches }
    }

    /// The outline of the block.
    #[must_use]
    pub fn outline(&self) -> &[[f64; 2]] {
        &self.outline
    }

    /// The patches, in the block's order.
    #[must_use]
    pub fn patches(&self) -> &[PatchMesh] {
        &self.patches
    }

    /// The index of the patch at a point of the block.
    #[must_use]
    pub fn patch_at(&self, p: [f64; 2]) -> Option<usize> {
        self.patches.iter().position(|patch| patch.contains(p))
    }
}

impl PatchMesh {
    fn new(polygon: &Polygon) -> Self {
        let outline = corners(polygon);
        let (points, indices) = triangles(&outline);
        Self { outline, points, indices }
    }

    /// Even-odd rule; good enough for a pointer, which is never exactly on a seam for long.
    fn contains(&self, p: [f64; 2]) -> bool {
        let n = self.outline.len();
        let mut inside = false;
        for i in 0..n {
            let (a, b) = (self.outline[i], self.outline[(i + 1) % n]);
            if (a[1] > p[1]) != (b[1] > p[1]) {
                let x = a[0] + (p[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0]);
                inside ^= p[0] < x;
            }
        }
        inside
    }
}

fn corners(polygon: &Polygon) -> Vec<[f64; 2]> {
    polygon.corners().iter().map(geometry::Point::to_f64).collect()
}

/// The triangles of an outline; none if lyon cannot make them, which leaves a hole that shows on the wall.
#[expect(clippy::cast_possible_truncation, reason = "the screen has far fewer points than f32 has numbers")]
pub(crate) fn triangles(outline: &[[f64; 2]]) -> (Vec<[f32; 2]>, Vec<u32>) {
    let mut builder = Path::builder();
    let mut rest = outline.iter().map(|p| point(p[0] as f32, p[1] as f32));
    let Some(first) = rest.next() else { return (Vec::new(), Vec::new()) };
    builder.begin(first);
    for p in rest {
        builder.line_to(p);
    }
    builder.end(true);
    let mut buffers: VertexBuffers<[f32; 2], u32> = VertexBuffers::new();
    let mut output = BuffersBuilder::new(&mut buffers, |v: FillVertex<'_>| v.position().to_array());
    match FillTessellator::new().tessellate_path(&builder.build(), &FillOptions::default(), &mut output) {
        Ok(()) => (buffers.vertices, buffers.indices),
        Err(_) => (Vec::new(), Vec::new()),
    }
}

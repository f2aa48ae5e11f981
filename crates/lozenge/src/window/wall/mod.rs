//! The design wall: the quilt top as floats, the part of it in view, its meshes, and what is under the pointer.

mod bed;
mod camera;
mod changes;
mod grid;
mod keys;
mod mesh;
mod raster;
mod scene;
mod select;
mod view;

pub use camera::Camera;
pub(crate) use mesh::triangles;
pub use mesh::{PatchMesh, SourceMesh};
pub(crate) use raster::{Palette, Part, raster};
pub use scene::{Scene, Standing};
pub use view::MAX_DRAWN;
pub(crate) use view::{WallInput, WallState, wall_ui};

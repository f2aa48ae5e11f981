//! The design wall: the quilt top as floats, the part of it in view, its meshes, and what is under the pointer.

mod camera;
mod mesh;
mod scene;
mod view;

pub use camera::Camera;
pub use mesh::{PatchMesh, SourceMesh};
pub use scene::{Scene, Standing};
pub use view::MAX_DRAWN;
pub(crate) use view::{WallInput, WallState, wall_ui};

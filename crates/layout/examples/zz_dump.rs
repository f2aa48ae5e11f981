#[path = "../tests/common/mod.rs"]
mod common;
fn main() {
    for (name, r) in common::families() { let d = common::quilt_of(name, &r); std::fs::write(format!("/tmp/h/{}.quilt", name.replace(' ', "_")), common::file_text(&d)).unwrap(); }
}

//! The quilt document: fabrics, blocks, setting, edits and undo, the file format.

//! Rectangles by straight cuts: the best content of one sheet, and the least length of a strip of fabric.

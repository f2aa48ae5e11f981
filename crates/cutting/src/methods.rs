//! Methods that cut several patches from one blank: squares cut on the diagonal, strip sets, strips to sew onto.

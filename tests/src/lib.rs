//! Published checks and end-to-end journeys; everything lives in `tests/`.

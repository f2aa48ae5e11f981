//! Fabric as it is bought or at hand: lengths, precuts, measured pieces.

//! The append-only log of one wing.

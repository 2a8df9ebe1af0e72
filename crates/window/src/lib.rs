//! The window of jigtrue.

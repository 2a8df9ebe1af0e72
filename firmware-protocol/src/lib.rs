//! Framed text lines between a small measuring board and jigtrue.

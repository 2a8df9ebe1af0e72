//! The inspection sheet and the profile plot as PDF and SVG.

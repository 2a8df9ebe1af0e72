//! Lengths, angles, torques and temperatures, and what people type for them.

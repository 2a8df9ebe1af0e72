//! Bytes from inclinometers and calipers to samples, and settling.

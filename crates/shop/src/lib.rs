//! Ports, clock, files and the working session both faces share.

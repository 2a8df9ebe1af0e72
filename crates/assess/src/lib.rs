//! From plan and entries to verdicts, fits, moves and the closing gate.

//! Extended-precision least squares, distributions and conic programmes on plain numbers.

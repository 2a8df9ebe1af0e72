//! Shared helpers of the stories.

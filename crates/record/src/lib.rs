//! Plan, stages, entries and readings: the nouns of the job.

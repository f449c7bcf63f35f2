//! Findings, dressed: for people, for scripts, for screen readers, as JSON.

//! Slips, their words and what survives them.

//! The page of a sheet that was written for these tests, and what a browser makes of it.

mod browser;
mod sample;
mod structure;

#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| ringwright_fuzz::parse::target(bytes));

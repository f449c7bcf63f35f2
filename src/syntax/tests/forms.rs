//! Every form of the language, as written and as read.

use super::{SAMPLE, tree};

#[test]
fn debug_sample() {
    println!("{}", tree(SAMPLE));
}

//! Inputs that are a few slips away from a seed, the same ones each time.

/// A generator that needs no crate (`SplitMix64`, by Sebastiano Vigna, in the public domain).
pub struct Dice(pub u64);

impl Dice {
    /// From 0, less than `end`.
    pub fn below(&mut self, end: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut turn = self.0;
        turn = (turn ^ (turn >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        turn = (turn ^ (turn >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        let turn = turn ^ (turn >> 31);
        usize::try_from(turn % (end.max(1) as u64)).unwrap_or(0)
    }
}

/// A seed with one to four slips: stretches lost, doubled, moved, or replaced by a word or a stretch of another seed.
pub fn mutated(seeds: &[(String, Vec<u8>)], words: &[String], dice: &mut Dice) -> Vec<u8> {
    let mut bytes = seeds[dice.below(seeds.len())].1.clone();
    for _ in 0..=dice.below(4) {
        let start = dice.below(bytes.len() + 1);
        let end = (start + dice.below(12)).min(bytes.len());
        let new = match dice.below(6) {
            0 => Vec::new(),
            1 => bytes[start..end].repeat(2),
            2 => vec![u8::try_from(dice.below(256)).unwrap_or(0)],
            3 => {
                let other = &seeds[dice.below(seeds.len())].1;
                let from = dice.below(other.len() + 1);
                other[from..(from + dice.below(80)).min(other.len())].to_vec()
            }
            _ => words[dice.below(words.len())].as_bytes().to_vec(),
        };
        bytes.splice(start..end, new);
    }
    bytes
}

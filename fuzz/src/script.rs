//! Bytes as a series of choices, for a target that does several things one after another.

/// What is left of the bytes; behind their end every choice is the first.
pub struct Script<'a>(&'a [u8]);

impl<'a> Script<'a> {
    pub fn new(bytes: &'a [u8]) -> Self {
        Self(bytes)
    }

    pub fn is_over(&self) -> bool {
        self.0.is_empty()
    }

    pub fn byte(&mut self) -> u8 {
        let Some((first, rest)) = self.0.split_first() else { return 0 };
        self.0 = rest;
        *first
    }

    /// From 0, less than `end`.
    pub fn below(&mut self, end: usize) -> usize {
        let wide = if end > 256 { usize::from(self.byte()) << 8 } else { 0 };
        (wide + usize::from(self.byte())) % end.max(1)
    }

    pub fn one_of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len())]
    }

    /// A few bytes as text.
    pub fn text(&mut self) -> String {
        let length = usize::from(self.byte() % 48).min(self.0.len());
        let (text, rest) = self.0.split_at(length);
        self.0 = rest;
        String::from_utf8_lossy(text).into_owned()
    }
}

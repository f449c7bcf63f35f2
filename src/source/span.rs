//! A place in a text.

/// Which text of a [`World`](super::World).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub u32);

/// A stretch of one file: byte offsets, half-open, always on character boundaries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The text it lies in.
    pub file: FileId,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// The stretch `start..end` of `file`.
    #[must_use]
    pub fn new(file: FileId, start: u32, end: u32) -> Self {
        Self { file, start, end }
    }

    /// From the start of `self` to the end of `other`, which lies in the same file and not before it.
    #[must_use]
    pub fn to(self, other: Self) -> Self {
        Self { file: self.file, start: self.start.min(other.start), end: self.end.max(other.end) }
    }

    /// The empty place just behind `self`.
    #[must_use]
    pub fn after(self) -> Self {
        Self { start: self.end, ..self }
    }

    /// Whether all of `other` lies in it.
    #[must_use]
    pub fn contains(self, other: Self) -> bool {
        self.file == other.file && self.start <= other.start && other.end <= self.end
    }

    /// The byte range, for slicing the text.
    #[must_use]
    pub fn range(self) -> std::ops::Range<usize> {
        self.start as usize..self.end as usize
    }
}

/// A value and the place where it was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spanned<T> {
    /// What was written.
    pub value: T,
    /// Where.
    pub span: Span,
}

impl<T> Spanned<T> {
    /// `value`, written at `span`.
    pub fn new(value: T, span: Span) -> Self {
        Self { value, span }
    }
}

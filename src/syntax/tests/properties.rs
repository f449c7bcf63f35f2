//! What holds for any text.

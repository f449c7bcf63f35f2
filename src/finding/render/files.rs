//! The world's texts as codespan-reporting and miette look at them.

use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;

use codespan_reporting::files::{Error, Files};

use crate::finding::Finding;
use crate::source::{FileId, LineIndex, SourceFile, World};

/// The texts that some findings point into, each with its lines.
pub(super) struct Texts {
    texts: BTreeMap<FileId, (Arc<SourceFile>, LineIndex)>,
}

impl Texts {
    pub(super) fn of(findings: &[Finding], world: &dyn World) -> Self {
        let mut texts = BTreeMap::new();
        let places = findings.iter().flat_map(|finding| std::iter::once(&finding.place).chain(&finding.related));
        for label in places {
            texts.entry(label.span.file).or_insert_with(|| {
                let file = world.file(label.span.file);
                let lines = LineIndex::new(&file.text);
                (file, lines)
            });
        }
        Self { texts }
    }

    fn get(&self, id: FileId) -> Result<&(Arc<SourceFile>, LineIndex), Error> {
        self.texts.get(&id).ok_or(Error::FileMissing)
    }
}

impl<'a> Files<'a> for Texts {
    type FileId = FileId;
    type Name = &'a str;
    type Source = &'a str;

    fn name(&'a self, id: FileId) -> Result<&'a str, Error> {
        Ok(&self.get(id)?.0.name)
    }

    fn source(&'a self, id: FileId) -> Result<&'a str, Error> {
        Ok(&self.get(id)?.0.text)
    }

    fn line_index(&'a self, id: FileId, byte_index: usize) -> Result<usize, Error> {
        let offset = u32::try_from(byte_index).unwrap_or(u32::MAX);
        Ok(self.get(id)?.1.line(offset))
    }

    fn line_range(&'a self, id: FileId, line_index: usize) -> Result<Range<usize>, Error> {
        let (file, lines) = self.get(id)?;
        let start = lines.start(line_index) as usize;
        let next = lines.start(line_index + 1) as usize;
        let end = if next > start { next } else { file.text.len() };
        Ok(start..end)
    }
}

//! What a server at rest has to show: the findings of every recipe, compiled from scratch.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use ringwright::compile::compile;
use ringwright::finding::{Finding, Severity};
use ringwright::server::{Buffers, Disk, Placed};
use ringwright::source::{Columns, LineIndex, Span};
use serde_json::{Value, json};

use super::memory::{Memory, WORKSHOP_PATH};

/// Diagnostics by the editor's name of their file, in no order that means anything.
pub fn wanted(
    texts: &BTreeMap<&'static str, String>,
    columns: Columns,
    has_related: bool,
    has_folder: bool,
) -> BTreeMap<String, Vec<Value>> {
    let names: BTreeMap<PathBuf, &str> = texts.keys().map(|uri| (path(uri), *uri)).collect();
    let buffers: Buffers = Arc::new(texts.iter().map(|(uri, text)| (path(uri), Arc::from(text.as_str()))).collect());
    let mut roots: BTreeSet<PathBuf> = names.keys().cloned().collect();
    if has_folder {
        roots.insert(PathBuf::from(WORKSHOP_PATH));
    }
    let mut all: BTreeMap<String, Vec<Value>> = BTreeMap::new();
    for root in roots {
        let Some((world, id)) = Memory.open(&root, &buffers) else { continue };
        let shown = Shown { world: &*world, names: &names, columns, has_related };
        let mut of_this: BTreeMap<String, Vec<Value>> = BTreeMap::new();
        for finding in &compile(&*world, id).findings {
            of_this.entry(shown.uri(finding.place.span)).or_default().push(shown.diagnostic(finding));
        }
        // What another recipe has said of a file is not said again.
        for (uri, told) in of_this {
            let known = all.entry(uri).or_default();
            let new: Vec<Value> = told.into_iter().filter(|diagnostic| !known.contains(diagnostic)).collect();
            known.extend(new);
        }
    }
    for told in all.values_mut() {
        told.sort_by_key(Value::to_string);
    }
    all
}

/// The editor's names are plain but for one.
fn path(uri: &str) -> PathBuf {
    PathBuf::from(uri.strip_prefix("file://").unwrap_or(uri).replace("%C3%BC", "ü"))
}

struct Shown<'a> {
    world: &'a dyn Placed,
    names: &'a BTreeMap<PathBuf, &'a str>,
    columns: Columns,
    has_related: bool,
}

impl Shown<'_> {
    fn uri(&self, span: Span) -> String {
        let path = self.world.place(span.file).expect("a file that was opened");
        self.names.get(&path).map_or_else(|| unnamed(&path), |uri| (*uri).to_owned())
    }

    fn range(&self, span: Span) -> Value {
        let text = &self.world.file(span.file).text;
        let lines = LineIndex::of_editors(text);
        let [start, end] = [span.start, span.end].map(|at| {
            let (line, column) = lines.place(text, at, self.columns);
            json!({ "line": line, "character": column })
        });
        json!({ "start": start, "end": end })
    }

    fn diagnostic(&self, finding: &Finding) -> Value {
        let help = finding.help.as_ref().map_or(String::new(), |help| format!("\nhelp: {help}"));
        let mut diagnostic = json!({
            "range": self.range(finding.place.span),
            "severity": match finding.severity() {
                Severity::Error => 1,
                Severity::Warning => 2,
                Severity::Note => 3,
            },
            "code": finding.code.name,
            "source": "ringwright",
            "message": finding.message.clone() + &help,
        });
        let own = Some(&finding.place).filter(|place| !place.message.is_empty());
        let labels: Vec<Value> = own
            .into_iter()
            .chain(&finding.related)
            .map(|label| {
                let message = if label.message.is_empty() { "here" } else { &label.message };
                json!({ "location": { "uri": self.uri(label.span), "range": self.range(label.span) }, "message": message })
            })
            .collect();
        if self.has_related && !labels.is_empty() {
            diagnostic["relatedInformation"] = Value::Array(labels);
        }
        diagnostic
    }
}

/// Of a file that is not open.
fn unnamed(path: &Path) -> String {
    format!("file://{}", path.display())
}

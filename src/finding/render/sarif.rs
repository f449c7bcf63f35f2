//! Findings as a SARIF 2.1.0 log, the exchange form of CI systems and editors. Own structs, as with JSON.
//!
//! Source: OASIS, Static Analysis Results Interchange Format (SARIF) Version 2.1.0. Nothing in a log tells of the
//! clock, the host or where on it the files lie.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::io::{self, Write};
use std::sync::Arc;

use serde::Serialize;

use crate::finding::catalog::CODES;
use crate::finding::fingerprint::Fingerprints;
use crate::finding::{Code, Finding, Fix, Label, Severity, portable_name};
use crate::source::{FileId, LineIndex, SourceFile, Span, World};

const SCHEMA: &str = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

/// Under which name the fingerprint stands; another way of making it takes another number.
const FINGERPRINT: &str = "ringwrightFinding/v1";

/// Results of one run, recipe by recipe; the log is written at the end, as it begins with the rules in use.
#[derive(Debug, Default)]
pub struct SarifLog {
    results: Vec<SarifResult>,
    failures: Vec<Notification>,
}

#[derive(Debug, Serialize)]
struct Log<'a> {
    #[serde(rename = "$schema")]
    schema: &'static str,
    version: &'static str,
    runs: [Run<'a>; 1],
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Run<'a> {
    tool: Tool,
    /// Columns are counted in characters, as in all that the program says.
    column_kind: &'static str,
    /// Of a run that did not do all it was asked: without one, no results mean that nothing was found.
    #[serde(skip_serializing_if = "Option::is_none")]
    invocations: Option<[Invocation<'a>; 1]>,
    results: &'a [SarifResult],
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Invocation<'a> {
    execution_successful: bool,
    tool_execution_notifications: &'a [Notification],
}

/// Why a recipe could not be looked at.
#[derive(Debug, Serialize)]
struct Notification {
    descriptor: Descriptor,
    level: &'static str,
    message: Text,
}

#[derive(Debug, Serialize)]
struct Descriptor {
    id: &'static str,
}

#[derive(Debug, Serialize)]
struct Tool {
    driver: Driver,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Driver {
    name: &'static str,
    semantic_version: &'static str,
    rules: Vec<Rule>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Rule {
    id: &'static str,
    short_description: Text,
    full_description: Text,
    help: Help,
    default_configuration: Configuration,
}

#[derive(Debug, Serialize)]
struct Configuration {
    level: &'static str,
}

/// The page of a code, as it is: its braces are those of recipes, which no reader of a page takes for a place to fill.
#[derive(Debug, Serialize)]
struct Help {
    text: &'static str,
    markdown: &'static str,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
struct Text {
    text: String,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct SarifResult {
    #[serde(rename = "ruleId")]
    code: &'static str,
    rule_index: usize,
    level: &'static str,
    message: Text,
    locations: [Location; 1],
    #[serde(skip_serializing_if = "Vec::is_empty")]
    related_locations: Vec<Location>,
    partial_fingerprints: BTreeMap<&'static str, String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    fixes: Vec<SarifFix>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Location {
    physical_location: PhysicalLocation,
    #[serde(skip_serializing_if = "Option::is_none")]
    message: Option<Text>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct PhysicalLocation {
    artifact_location: ArtifactLocation,
    region: Region,
}

#[derive(Debug, Serialize)]
struct ArtifactLocation {
    uri: String,
}

/// A stretch of text twice: by lines and columns from 1, the end column one past the last character; and by bytes
/// of the file. A byte order mark counts as bytes but is no character of the first line.
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Region {
    start_line: usize,
    start_column: usize,
    end_line: usize,
    end_column: usize,
    byte_offset: usize,
    byte_length: usize,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct SarifFix {
    description: Text,
    artifact_changes: Vec<ArtifactChange>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct ArtifactChange {
    artifact_location: ArtifactLocation,
    replacements: Vec<Replacement>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Replacement {
    deleted_region: Region,
    #[serde(skip_serializing_if = "Option::is_none")]
    inserted_content: Option<Text>,
}

impl SarifLog {
    /// Adds one finding. `fingerprint` as [`Fingerprints::of`] gives it, `here` as in [`portable_name`].
    pub fn add(&mut self, finding: &Finding, fingerprint: String, texts: &mut SarifTexts<'_>) {
        let label = |label: &Label, texts: &mut SarifTexts<'_>| Location {
            physical_location: PhysicalLocation {
                artifact_location: texts.artifact(label.span.file),
                region: texts.region(label.span),
            },
            message: (!label.message.is_empty()).then(|| Text { text: escaped(&label.message) }),
        };
        self.results.push(SarifResult {
            code: finding.code.name,
            rule_index: 0,
            level: level(finding.severity()),
            message: Text { text: sentences(finding) },
            locations: [label(&finding.place, texts)],
            related_locations: finding.related.iter().map(|related| label(related, texts)).collect(),
            partial_fingerprints: BTreeMap::from([(FINGERPRINT, fingerprint)]),
            fixes: finding.fix.iter().filter(|fix| !fix.edits.is_empty()).map(|fix| texts.fix(fix)).collect(),
        });
    }

    /// Adds that the program could not do a part of what it was asked.
    pub fn failed(&mut self, name: &'static str, message: &str) {
        let message = Text { text: escaped(&sentence(message)) };
        self.failures.push(Notification { descriptor: Descriptor { id: name }, level: "error", message });
    }

    /// Writes the log with a final line end.
    ///
    /// # Errors
    /// Those of `out`.
    pub fn write(mut self, out: &mut dyn Write) -> io::Result<()> {
        let used: Vec<&Code> =
            CODES.iter().copied().filter(|code| self.results.iter().any(|result| result.code == code.name)).collect();
        for result in &mut self.results {
            result.rule_index = used.iter().position(|code| code.name == result.code).unwrap_or(0);
        }
        let driver = Driver {
            name: env!("CARGO_PKG_NAME"),
            semantic_version: env!("CARGO_PKG_VERSION"),
            rules: used.into_iter().map(rule).collect(),
        };
        let invocations = (!self.failures.is_empty())
            .then_some([Invocation { execution_successful: false, tool_execution_notifications: &self.failures }]);
        let run = Run { tool: Tool { driver }, column_kind: "unicodeCodePoints", invocations, results: &self.results };
        let log = Log { schema: SCHEMA, version: "2.1.0", runs: [run] };
        serde_json::to_writer_pretty(&mut *out, &log)?;
        writeln!(out)
    }
}

/// The log of one recipe's findings, files named as seen from the folder `here`.
#[must_use]
pub fn sarif(findings: &[Finding], world: &dyn World, here: &str) -> Vec<u8> {
    let mut log = SarifLog::default();
    let mut texts = SarifTexts::new(world, here);
    let mut fingerprints = Fingerprints::default();
    for finding in findings {
        log.add(finding, fingerprints.of(finding, world, here), &mut texts);
    }
    let mut bytes = Vec::new();
    // A `Vec` takes all that is written to it.
    let _ = log.write(&mut bytes);
    bytes
}

/// The texts that places are looked up in, each indexed once.
pub struct SarifTexts<'a> {
    world: &'a dyn World,
    here: &'a str,
    files: BTreeMap<FileId, (Arc<SourceFile>, LineIndex)>,
}

impl<'a> SarifTexts<'a> {
    /// Those of `world`, named as seen from the folder `here`.
    #[must_use]
    pub fn new(world: &'a dyn World, here: &'a str) -> Self {
        Self { world, here, files: BTreeMap::new() }
    }

    fn file(&mut self, id: FileId) -> &(Arc<SourceFile>, LineIndex) {
        self.files.entry(id).or_insert_with(|| {
            let file = self.world.file(id);
            let index = LineIndex::new(&file.text);
            (file, index)
        })
    }

    fn artifact(&mut self, id: FileId) -> ArtifactLocation {
        let here = self.here;
        ArtifactLocation { uri: uri(&portable_name(&self.file(id).0.name, here)) }
    }

    fn region(&mut self, span: Span) -> Region {
        let (file, index) = self.file(span.file);
        let text = file.text.as_str();
        let mark = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
        let start = text.floor_char_boundary(span.range().start.clamp(mark, text.len()));
        let end = text.ceil_char_boundary(span.range().end.clamp(start, text.len()));
        let place = |offset: usize| {
            let (line, column) = index.line_column(text, u32::try_from(offset).unwrap_or(u32::MAX));
            (line, if line == 1 && mark > 0 { column - 1 } else { column })
        };
        let ((start_line, start_column), (end_line, end_column)) = (place(start), place(end));
        Region { start_line, start_column, end_line, end_column, byte_offset: start, byte_length: end - start }
    }

    /// A fix with its edits file by file.
    fn fix(&mut self, fix: &Fix) -> SarifFix {
        let mut files: Vec<FileId> = fix.edits.iter().map(|edit| edit.span.file).collect();
        files.sort_unstable();
        files.dedup();
        let change = |id: FileId, texts: &mut Self| ArtifactChange {
            artifact_location: texts.artifact(id),
            replacements: fix
                .edits
                .iter()
                .filter(|edit| edit.span.file == id)
                .map(|edit| Replacement {
                    deleted_region: texts.region(edit.span),
                    inserted_content: (!edit.text.is_empty()).then(|| Text { text: edit.text.clone() }),
                })
                .collect(),
        };
        SarifFix {
            description: Text { text: escaped(&fix.title) },
            artifact_changes: files.into_iter().map(|id| change(id, self)).collect(),
        }
    }
}

impl std::fmt::Debug for SarifTexts<'_> {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.debug_tuple("SarifTexts").field(&self.here).finish()
    }
}

fn rule(code: &Code) -> Rule {
    let first = code.page.split("\n\n").next().unwrap_or("");
    Rule {
        id: code.name,
        short_description: Text { text: sentence(code.summary) },
        full_description: Text { text: first.split_whitespace().collect::<Vec<_>>().join(" ") },
        help: Help { text: code.page, markdown: code.page },
        default_configuration: Configuration { level: level(code.severity) },
    }
}

/// The standard has the same three words.
fn level(severity: Severity) -> &'static str {
    severity.word()
}

/// What is, and what to do about it.
fn sentences(finding: &Finding) -> String {
    let mut text = sentence(&finding.message);
    if let Some(help) = &finding.help {
        let _ = write!(text, "\nHelp: {}", sentence(help));
    }
    escaped(&text)
}

/// With a full stop, unless it has an end of its own.
fn sentence(text: &str) -> String {
    let stop = if text.ends_with(['.', '!', '?', ':']) { "" } else { "." };
    format!("{text}{stop}")
}

/// In a message of SARIF a brace begins a place to be filled (§3.11.5), `](` a link (§3.11.6).
fn escaped(message: &str) -> String {
    message.replace('{', "{{").replace('}', "}}").replace("](", "\\](")
}

/// A relative name as a URI reference (RFC 3986): all but the unreserved characters and the slash is encoded, so
/// that no step can be taken for a scheme, a query or a fragment.
fn uri(name: &str) -> String {
    let mut uri = String::with_capacity(name.len());
    for byte in name.bytes() {
        if byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'.' | b'_' | b'~' | b'/') {
            uri.push(char::from(byte));
        } else {
            let _ = write!(uri, "%{byte:02X}");
        }
    }
    uri
}

#[cfg(test)]
mod tests {
    use serde_json::Value;

    use super::{SarifTexts, sarif, uri};
    use crate::finding::{Finding, Fix, Severity, catalog};
    use crate::source::{FileId, MapWorld, Span, World};

    /// Start line and column, end line and column, offset and length of the piece `at..at + length`.
    fn region(text: &str, at: usize, length: usize) -> [usize; 6] {
        let (world, root) = MapWorld::of("x.vessel", text);
        let [start, end] = [at, at + length].map(|offset| u32::try_from(offset).unwrap());
        let region = SarifTexts::new(&world, "").region(Span::new(root, start, end));
        [
            region.start_line,
            region.start_column,
            region.end_line,
            region.end_column,
            region.byte_offset,
            region.byte_length,
        ]
    }

    #[test]
    fn columns_are_characters_whatever_they_are_made_of() {
        // A musical sign of four bytes and two UTF-16 units; an e with an accent of its own; a tab is one.
        assert_eq!(region("𝄞 ab", 5, 2), [1, 3, 1, 5, 5, 2]);
        assert_eq!(region("e\u{301} ab", 4, 2), [1, 4, 1, 6, 4, 2]);
        assert_eq!(region("\t\tab", 2, 2), [1, 3, 1, 5, 2, 2]);
        assert_eq!(region("a\r\nb½c\r\n", 3, 4), [2, 1, 2, 4, 3, 4]);
        assert_eq!(region("a\r\nb", 0, 3), [1, 1, 2, 1, 0, 3], "a line end belongs to its line");
        assert_eq!(region("a\r\nb", 1, 1), [1, 2, 1, 3, 1, 1]);
    }

    #[test]
    fn a_byte_order_mark_is_bytes_but_no_column() {
        assert_eq!(region("\u{feff}ab\nc", 3, 2), [1, 1, 1, 3, 3, 2]);
        assert_eq!(region("\u{feff}ab\nc", 0, 0), [1, 1, 1, 1, 3, 0], "what is before all is behind the mark");
        assert_eq!(region("\u{feff}ab\nc", 6, 1), [2, 1, 2, 2, 6, 1]);
    }

    #[test]
    fn a_place_is_brought_inside_the_text() {
        assert_eq!(region("", 0, 0), [1, 1, 1, 1, 0, 0]);
        assert_eq!(region("½", 1, 0), [1, 1, 1, 2, 0, 2], "widened to whole characters");
        assert_eq!(region("a\n", 90, 9), [2, 1, 2, 1, 2, 0]);
    }

    #[test]
    fn names_become_uris() {
        assert_eq!(uri("boxes/my bowl 100%.vessel"), "boxes/my%20bowl%20100%25.vessel");
        assert_eq!(uri("schüssel#1?.vessel"), "sch%C3%BCssel%231%3F.vessel");
        assert_eq!(uri("a:b\\c.vessel"), "a%3Ab%5Cc.vessel", "no scheme");
    }

    #[test]
    fn severity_is_the_findings_own_and_rules_are_those_in_use() {
        let (mut world, root) = MapWorld::of("a b.vessel", "ring { x }\n");
        world.add("shop.vessel", "shop");
        let shop = world.open(root, "shop.vessel").unwrap();
        let place = Span::new(root, 5, 6);
        let mut weighed = Finding::new(&catalog::WALL_THIN, place, "`{` is [thin](no link)").help("write `{ … }`");
        weighed.severity = Severity::Error;
        let findings = [
            Finding::new(&catalog::WOOD_UNKNOWN, place, "no wood").also(Span::new(shop, 0, 4), "in the shop"),
            weighed.fix(Fix::ask("write }", Span::new(shop, 0, 4), "")),
            Finding::new(&catalog::JOINT_RATTLES, place, "rattles!"),
        ];
        let log: Value = serde_json::from_slice(&sarif(&findings, &world, "")).unwrap();
        let run = &log["runs"][0];
        let rules: Vec<&str> = run["tool"]["driver"]["rules"]
            .as_array()
            .unwrap()
            .iter()
            .map(|rule| rule["id"].as_str().unwrap())
            .collect();
        assert_eq!(rules, ["wood/unknown", "wall/thin", "joint/rattles"]);
        let results = run["results"].as_array().unwrap();
        for result in results {
            let index = usize::try_from(result["ruleIndex"].as_u64().unwrap()).unwrap();
            assert_eq!(result["ruleId"], rules[index]);
        }
        assert_eq!([0, 1, 2].map(|at| results[at]["level"].as_str().unwrap()), ["error", "error", "note"]);
        assert_eq!(run["tool"]["driver"]["rules"][1]["defaultConfiguration"]["level"], "warning");
        assert_eq!(results[1]["message"]["text"], "`{{` is [thin\\](no link).\nHelp: write `{{ … }}`.");
        assert_eq!(results[2]["message"]["text"], "rattles!");
        let related = &results[0]["relatedLocations"][0];
        assert_eq!(related["message"]["text"], "in the shop");
        assert_eq!(related["physicalLocation"]["artifactLocation"]["uri"], "shop.vessel");
        let change = &results[1]["fixes"][0]["artifactChanges"][0];
        assert_eq!(change["artifactLocation"]["uri"], "shop.vessel");
        assert!(change["replacements"][0].get("insertedContent").is_none(), "nothing comes there");
        let uri = &results[0]["locations"][0]["physicalLocation"]["artifactLocation"]["uri"];
        assert_eq!(uri, "a%20b.vessel");
    }

    #[test]
    fn standard_input_and_absolute_names_tell_nothing_of_the_machine() {
        for (name, here, uri) in
            [("<stdin>", "", "stdin"), ("/home/me/a.vessel", "/home/me", "a.vessel"), ("/x/a.vessel", "", "a.vessel")]
        {
            // A world of tests opens no absolute name: the file is known by its place alone.
            let world = One(name);
            let finding = [Finding::new(&catalog::WALL_THIN, Span::new(FileId(0), 0, 1), "thin")];
            let log: Value = serde_json::from_slice(&sarif(&finding, &world, here)).unwrap();
            let place = &log["runs"][0]["results"][0]["locations"][0]["physicalLocation"];
            assert_eq!(place["artifactLocation"]["uri"], uri);
        }
    }

    struct One(&'static str);

    impl World for One {
        fn open(&self, _: FileId, _: &str) -> Result<FileId, crate::source::UseError> {
            Err(crate::source::UseError::NotFound)
        }

        fn file(&self, id: FileId) -> std::sync::Arc<crate::source::SourceFile> {
            std::sync::Arc::new(crate::source::SourceFile { id, name: self.0.to_owned(), text: "a".to_owned() })
        }
    }
}

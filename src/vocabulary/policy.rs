//! How much findings weigh, and which are known and wanted.

use super::{BlockKind, Clause, ClauseId, Head, HeadId, Param, Shape, Without};

/// At file level and in a vessel.
pub(super) static SEVERITY: Head = Head {
    word: "severity",
    id: HeadId::Severity,
    help: "how much findings of a code, or of a whole family, weigh; an error of its own cannot be lowered",
    params: &[Param::required("CODE", Shape::Code), Param::required("LEVEL", Shape::Choice(LEVELS))],
    clauses: &[],
    block: BlockKind::None,
};

/// What a finding can weigh.
pub const LEVELS: &[&str] = &["error", "warning", "note", "off"];

const ACCEPTED: &[Param] = &[
    Param::required("CODE", Shape::Code),
    Param::required("because", Shape::Choice(&["because"])),
    Param::required("\"REASON\"", Shape::Text),
];

/// In whatever has braces of its own and can give findings that are wanted.
pub(super) static ACCEPT: Head = Head {
    word: "accept",
    id: HeadId::Accept,
    help: "that findings of a code, or of a family, are known and wanted here, and why; errors cannot be accepted",
    params: ACCEPTED,
    clauses: &[],
    block: BlockKind::None,
};

/// Behind what has no statements in its braces; as often as there are codes.
pub(super) static ACCEPT_HERE: Clause = Clause {
    word: "accept",
    id: ClauseId::Accept,
    help: "that findings of a code, or of a family, are known and wanted of this, and why",
    params: ACCEPTED,
    without: Without::Absent,
};

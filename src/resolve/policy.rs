//! `severity` and `accept`: how much findings weigh, and which are known and wanted.

use crate::finding::policy::{Accept, Codes, Level, Levels};
use crate::source::Span;
use crate::syntax::{Item, Tree};
use crate::vocabulary::{ClauseId, HeadId, LEVELS};

use super::scope::Scope;
use super::split::{Call, word_of};
use super::{Resolver, findings, policy_findings, read};

/// The `severity` lines of one place.
#[derive(Debug, Default)]
pub(super) struct Severities {
    pub(super) levels: Levels,
    said: Vec<(Codes, Span)>,
}

impl Resolver<'_> {
    /// `severity ring/joints-line-up note`
    pub(super) fn severity(&mut self, scope: &Scope, call: &Call<'_>, into: &mut Severities) {
        let item = |at: usize| call.argument(at).and_then(<[_]>::first);
        let codes = item(0).and_then(|item| self.codes(&scope.tree, item, "severity"));
        let Some(word) = item(1).and_then(|item| self.told(read::choice(scope, item, "severity", LEVELS))) else {
            return;
        };
        let (Some(codes), Some(level)) = (codes, Level::find(word)) else { return };
        if let Some((_, first)) = into.said.iter().find(|(said, _)| *said == codes) {
            self.say(findings::twice(call.span, &format!("severity {}", codes.name()), *first));
            return;
        }
        into.said.push((codes, call.span));
        if into.levels.set(codes, level).is_err() {
            self.say(policy_findings::not_lowered(call.span, codes, word));
        }
    }

    /// Notes every `accept` of a line: a statement holds within `within`, for the whole design when that is nothing; one
    /// behind another statement holds within that.
    pub(super) fn note_accepts(&mut self, tree: &Tree, calls: &[Call<'_>], within: Option<Span>) {
        for call in calls {
            if call.head.id == HeadId::Accept {
                let arguments: Vec<&Item> = call.arguments.iter().filter_map(|items| items.first()).collect();
                self.accept(tree, &arguments, call.span, within);
            }
            for clause in call.clauses.iter().filter(|clause| clause.clause.id == ClauseId::Accept) {
                let arguments: Vec<&Item> = clause.argument.iter().collect();
                self.accept(tree, &arguments, clause.span, Some(call.span));
            }
        }
    }

    /// What is missing of it has been told.
    fn accept(&mut self, tree: &Tree, arguments: &[&Item], span: Span, within: Option<Span>) {
        let &[codes, because, reason] = arguments else { return };
        match word_of(tree, because) {
            Some("because") => {}
            Some(word) => return self.say(findings::no_such_choice(because.span, "accept", word, &["because"])),
            None => return self.say(findings::wrong_kind(because, "accept", "`because` and a reason")),
        }
        let codes = self.codes(tree, codes, "accept");
        let reason = self.told(read::text(reason, "because").map(|text| (text.trim().to_owned(), reason.span)));
        let (Some(codes), Some((reason, reason_span))) = (codes, reason) else { return };
        if reason.is_empty() {
            self.say(policy_findings::no_reason(reason_span));
        }
        if !codes.may_yield() {
            self.say(policy_findings::not_acceptable(span, codes));
            return;
        }
        // Each turn of a `repeat` comes by.
        if self.accepted.insert(span) {
            let removal = removal(&tree.source.text, span);
            self.accepts.push(Accept { codes, reason, within, span, removal });
        }
    }

    fn codes(&mut self, tree: &Tree, item: &Item, word: &str) -> Option<Codes> {
        let name = tree.text(item.span);
        if !policy_findings::may_be_code(item) {
            self.say(findings::wrong_kind(
                item,
                word,
                "a code such as `ring/joints-line-up`, or a family such as `ring`",
            ));
            return None;
        }
        let codes = Codes::find(name);
        if codes.is_none() {
            self.say(policy_findings::unknown_code(item.span, name));
        }
        codes
    }
}

/// What goes with an `accept` that is taken out: its whole line when nothing else stands on it, else the blanks before
/// it, or those behind it when it stands first.
fn removal(text: &str, span: Span) -> Span {
    let blanks = [' ', '\t'];
    let (before, behind) = (text.get(..span.start as usize).unwrap_or(""), text.get(span.end as usize..).unwrap_or(""));
    let bytes = |length: usize| u32::try_from(length).unwrap_or(0);
    let start = span.start - bytes(before.len() - before.trim_end_matches(blanks).len());
    let end = span.end + bytes(behind.len() - behind.trim_start_matches(blanks).len());
    let is_first = matches!(before.trim_end_matches(blanks).chars().next_back(), None | Some('\n'));
    let rest = behind.trim_start_matches(blanks);
    let line_end = ["\r\n", "\n"].into_iter().find(|end| rest.starts_with(end));
    match (is_first, line_end) {
        (true, Some(line_end)) => Span { start, end: end + bytes(line_end.len()), ..span },
        (true, None) if rest.is_empty() => Span { start, end, ..span },
        (true, None) => Span { end, ..span },
        (false, _) => Span { start, ..span },
    }
}

#[cfg(test)]
mod tests {
    use super::removal;
    use crate::source::{FileId, Span};

    #[test]
    fn an_accept_goes_with_its_line_and_with_its_blanks() {
        let without = |text: &str| {
            let (start, end) = (text.find('<').unwrap(), text.find('>').unwrap() + 1);
            let span = Span::new(FileId(0), u32::try_from(start).unwrap(), u32::try_from(end).unwrap());
            let mut text = text.to_owned();
            text.replace_range(removal(&text, span).range(), "");
            text
        };
        assert_eq!(without("wall 8\n  <accept>\n  floor 10\n"), "wall 8\n  floor 10\n");
        assert_eq!(without("wall 8\r\n  <accept> \r\nfloor 10"), "wall 8\r\nfloor 10");
        assert_eq!(without("ring maple  <accept>\n"), "ring maple\n");
        assert_eq!(without("ring maple  <accept> thick 3\n"), "ring maple thick 3\n");
        assert_eq!(without("  <accept>  wall 8\n"), "  wall 8\n");
        assert_eq!(without("  <accept> # why\n"), "  # why\n");
        assert_eq!(without("joint tenon { <accept> }"), "joint tenon { }");
        assert_eq!(without("<accept>"), "");
    }
}

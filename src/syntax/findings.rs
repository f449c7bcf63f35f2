//! Everything that reading a text may have to say.

use crate::finding::{Edit, Finding, Fix, Grade, catalog};
use crate::quantity::NumberError;
use crate::source::Span;

use super::look_alike::StandIn;

/// A stretch that cannot be read, for the reason given.
pub(super) fn unreadable(place: Span, message: impl Into<String>) -> Finding {
    Finding::new(&catalog::SYNTAX_UNREADABLE, place, message)
}

/// A number that has no value or no bounds.
pub(super) fn number(text: &str, error: NumberError, place: Span) -> Finding {
    let text = shortened(text);
    match error {
        NumberError::ZeroDenominator => {
            Finding::new(&catalog::QUANTITY_NOT_A_NUMBER, place, format!("`{text}` divides by zero"))
                .help("write a fraction with another number under its line")
        }
        NumberError::TooLarge => Finding::new(
            &catalog::QUANTITY_OUT_OF_RANGE,
            place,
            format!("`{text}` has more digits than any vessel needs"),
        )
        .help("write at most nine digits over and under a fraction's line, and no number beyond 10^12"),
        NumberError::Unreadable => {
            Finding::new(&catalog::QUANTITY_NOT_A_NUMBER, place, format!("`{text}` is not a number"))
        }
    }
}

/// More operators in one expression than any recipe needs.
pub(super) fn too_many_operators(place: Span, most: usize) -> Finding {
    let message = format!("more than {most} operators in one expression");
    Finding::new(&catalog::SYNTAX_TOO_DEEP, place, message).help("give a part of it a name with `let`")
}

/// Brackets that nest too deep; the whole file is refused.
pub(super) fn too_deep(place: Span, most: usize) -> Finding {
    let message = format!("more than {most} brackets stand open here");
    Finding::new(&catalog::SYNTAX_TOO_DEEP, place, message)
        .here("nothing of the file is read")
        .help("close the brackets before this one, or nest them less deep")
}

/// A file that is too long for its places to be counted.
pub(super) fn too_long(place: Span) -> Finding {
    unreadable(place, "the file is longer than 4 GiB")
}

/// Blocks that the file ends in; the outermost is named. `ends_line` says that the last line of the
/// file has a line end.
pub(super) fn unclosed_block(head: &str, brace: Span, n_inner: usize, end: Span, ends_line: bool) -> Finding {
    let message = match n_inner {
        0 => format!("the block of `{}` is not closed", shortened(head)),
        n => format!("the block of `{}` is not closed, nor {n} within it", shortened(head)),
    };
    let closers = vec!["}"; n_inner + 1].join("\n") + "\n";
    let closers = if ends_line { closers } else { format!("\n{closers}") };
    Finding::new(&catalog::SYNTAX_UNCLOSED_BLOCK, brace, message)
        .here("opened here")
        .also(end, "the file ends here")
        .help("add a `}` where each block ends; what is in it is looked at after that")
        .fix(Fix::ask("close it at the end of the file", end, closers))
}

/// A closing brace for which nothing is open.
pub(super) fn stray_brace(place: Span) -> Finding {
    Finding::new(&catalog::SYNTAX_STRAY_BRACE, place, "this `}` closes nothing")
        .help("remove it, or open its block with `{` behind a head")
        .fix(Fix::ask("remove the `}`", place, ""))
}

/// An opening brace on the line below its head; `between` is the text from the head's line to it.
pub(super) fn brace_on_its_own(brace: Span, head: Span, between: &str) -> Finding {
    let title = "put the `{` behind its head";
    let fix = if between.trim().is_empty() {
        Fix::safe(title, head.after().to(brace), " {")
    } else {
        let edits = vec![Edit { span: head.after(), text: " {".to_owned() }, Edit { span: brace, text: String::new() }];
        Fix { title: title.to_owned(), grade: Grade::Safe, edits }
    };
    unreadable(brace, "`{` stands on a line of its own")
        .also(head, "its block belongs to this")
        .help("put the `{` behind its head, on the same line")
        .fix(fix)
}

/// An opening brace that no statement can be found for.
pub(super) fn brace_without_head(brace: Span) -> Finding {
    unreadable(brace, "`{` has no head before it").help("write what the block is for before the `{`, on the same line")
}

/// A text that its line does not close; `place` is all of it.
pub(super) fn unclosed_text(place: Span) -> Finding {
    Finding::new(&catalog::SYNTAX_UNCLOSED_TEXT, place, "the text that begins here has no closing quote")
        .help("close it with `\"` on the same line")
        .fix(Fix::ask("close the text", place.after(), "\""))
}

/// A quote apart from the number before it, with nothing behind it.
pub(super) fn mark_apart(mark: char, place: Span, blanks: Span) -> Finding {
    let what = if mark == '"' { "an inch mark" } else { "a foot mark" };
    unreadable(place, format!("{what} stands apart from its number"))
        .help(format!("write the `{mark}` directly behind the number"))
        .fix(Fix::safe(format!("move the `{mark}` up"), blanks, ""))
}

/// Characters that no editor shows; `count` of them in a row, the first one given. `instead` is the
/// plain white space that they stand for, if any.
pub(super) fn hidden(first: char, count: usize, place: Span, instead: &str) -> Finding {
    let code = u32::from(first);
    let message = match count {
        1 => format!("a character that no editor shows (U+{code:04X}) stands here"),
        n => format!("{n} characters that no editor shows stand here, the first is U+{code:04X}"),
    };
    Finding::new(&catalog::SYNTAX_CONTROL_CHARACTER, place, message).help("remove what cannot be seen").fix(Fix::safe(
        if instead.is_empty() { "remove it" } else { "write plain white space" },
        place,
        instead,
    ))
}

/// A character that looks like one of the language; `edits` mend all of its line.
pub(super) fn look_alike(found: char, stand_in: StandIn, place: Span, edits: Vec<Edit>) -> Finding {
    let StandIn { plain, name } = stand_in;
    let code = u32::from(found);
    let (message, help) = if plain == ' ' {
        (format!("{name} (U+{code:04X}) stands where a plain space belongs"), "write a plain space".to_owned())
    } else {
        (format!("`{found}` is {name} (U+{code:04X}), not `{plain}`"), format!("write `{plain}`"))
    };
    let title = if edits.len() == 1 { "write the plain sign" } else { "write plain signs" };
    let fix = Fix { title: title.to_owned(), grade: Grade::Safe, edits };
    Finding::new(&catalog::SYNTAX_LOOK_ALIKE, place, message).help(help).fix(fix)
}

/// `1,5`; `comma` is the place of its comma. Three digits behind it may be thousands.
pub(super) fn decimal_comma(text: &str, place: Span, comma: Span) -> Finding {
    let finding = |help: String| {
        let message = format!("`{}` has a comma where a decimal point belongs", shortened(text));
        Finding::new(&catalog::SYNTAX_DECIMAL_COMMA, place, message).help(help)
    };
    let with_point = text.replace(',', ".");
    let is_thousands = text.len() > 4 && text.split_once(',').is_some_and(|(_, behind)| behind.len() == 3);
    if is_thousands && !text.starts_with('0') {
        let without = text.replace(',', "");
        return finding(format!("write `{}`, or `{}` for thousands", shortened(&with_point), shortened(&without)));
    }
    finding(format!("write `{}`", shortened(&with_point))).fix(Fix::safe("write a point", comma, "."))
}

/// A comma between arguments or between the elements of a list; `edits` take all of them away.
pub(super) fn comma(in_list: bool, place: Span, edits: Vec<Edit>) -> Finding {
    let message = if in_list { "a list has no commas" } else { "arguments have no commas between them" };
    let fix = Fix { title: "write spaces".to_owned(), grade: Grade::Safe, edits };
    unreadable(place, message).help("write a space instead of the comma").fix(fix)
}

/// `;` of other languages; `edits` take away all of the line's.
pub(super) fn semicolon(place: Span, edits: Vec<Edit>) -> Finding {
    let fix = Fix { title: "end statements with the line".to_owned(), grade: Grade::Safe, edits };
    unreadable(place, "`;` does not exist here").help("end a statement with its line").fix(fix)
}

/// `thick: 3/4`
pub(super) fn colon(word: &str, place: Span, removal: Edit) -> Finding {
    let message = format!("`{}` takes what follows without `:`", shortened(word));
    unreadable(place, message).help("remove the `:`").fix(Fix::safe("remove the `:`", removal.span, removal.text))
}

/// `thick = 3/4`, in a block or behind other arguments.
pub(super) fn equals_in_clause(word: &str, place: Span, removal: Edit) -> Finding {
    let word = shortened(word);
    unreadable(place, format!("`{word}` takes what follows without `=`"))
        .help(format!("remove the `=`, or write `==` to compare; only a named value has one, as in `let {word} = …`"))
        .fix(Fix::ask("remove the `=`", removal.span, removal.text))
}

/// `rim = 3/4` at file level; `head` is the name's place.
pub(super) fn equals_without_let(word: &str, place: Span, head: Span) -> Finding {
    let word = shortened(word);
    unreadable(place, format!("a value is given to `{word}` without `let`"))
        .help(format!("write `let {word} = …`"))
        .fix(Fix::ask("write `let`", Span { end: head.start, ..head }, "let "))
}

/// `let rim 3/4`; `replaced` is empty or a sign of another language in the place of `=`, and `sign` the
/// `=` with the blanks it needs.
pub(super) fn let_without_equals(name: &str, place: Span, replaced: Span, sign: impl Into<String>) -> Finding {
    let name = shortened(name);
    unreadable(place, format!("`let {name}` lacks its `=`")).help(format!("write `let {name} = …`")).fix(Fix::safe(
        "write the `=`",
        replaced,
        sign,
    ))
}

/// `let rim` and nothing more, or `let rim =`.
pub(super) fn let_without_value(name: &str, place: Span) -> Finding {
    let name = shortened(name);
    unreadable(place, format!("`let {name}` has no value")).help(format!("write `let {name} = …` with a value"))
}

/// `// note`; `place` is the mark.
pub(super) fn foreign_comment(mark: &str, place: Span, is_line: bool) -> Finding {
    let finding = unreadable(place, format!("`{mark}` begins no comment here")).help("begin a comment with `#`");
    if is_line { finding.fix(Fix::safe("write `#`", place, "#")) } else { finding }
}

/// `'Crock'`; the places of both quotes, or of the first alone.
pub(super) fn foreign_quote(quote: char, place: Span, quotes: &[Span]) -> Finding {
    let found = if quote == '\'' { "`'`" } else { "backticks" };
    let finding = unreadable(place, format!("a text stands in double quotes, not in {found}")).help("write `\"`");
    if quotes.len() < 2 {
        return finding;
    }
    let edits = quotes.iter().map(|span| Edit { span: *span, text: "\"".to_owned() }).collect();
    finding.fix(Fix { title: "write double quotes".to_owned(), grade: Grade::Safe, edits })
}

/// A backslash in a text before something other than a quote or a backslash.
pub(super) fn escape(escaped: &str, place: Span) -> Finding {
    unreadable(place, format!("`{escaped}` means nothing in a text"))
        .help("write `\\\\` for a backslash; only `\\\"` and `\\\\` are known")
        .fix(Fix::ask("write `\\\\`", Span { end: place.start + 1, ..place }, "\\\\"))
}

/// A word with capital letters, underscores or hyphens that join nothing; `better` is empty when
/// nothing can be made of it.
pub(super) fn word_form(word: &str, better: &str, place: Span) -> Finding {
    let shown = shortened(word);
    let message = if word.chars().any(char::is_uppercase) {
        format!("`{shown}` has capital letters; words are lower-case")
    } else if word.contains('_') {
        format!("`{shown}` has an underscore; words are joined by hyphens")
    } else if word.is_ascii() {
        format!("`{shown}` has a hyphen that joins nothing")
    } else {
        format!("`{shown}` has letters beyond a to z, of which words are made")
    };
    let finding = unreadable(place, message);
    if better.is_empty() {
        return finding.help("write a word of a to z, 0 to 9 and hyphens, or a text in double quotes");
    }
    let better = shortened(better);
    let help = format!("write `{better}`, or `\"{shown}\"` where a text is wanted");
    finding.help(help).fix(Fix::ask(format!("write `{better}`"), place, better))
}

/// `12x`, `3mmm`: `near` are the spellings of units that may have been meant, the likeliest first.
pub(super) fn unknown_unit(text: &str, unit: &str, near: &[&str], place: Span, unit_place: Span) -> Finding {
    let (text, unit) = (shortened(text), shortened(unit));
    let message =
        if text == unit { format!("`{unit}` is not a unit") } else { format!("`{unit}` in `{text}` is not a unit") };
    let finding = unreadable(place, message);
    let known = "`in`, `ft`, `mm`, `cm`, `m`, `deg`, `%`, `%rh`, `min`, `ml`, `g`";
    match near {
        [] => finding.help(format!("write a unit such as {known}, or a space before a word")),
        [one] => {
            finding.help(format!("did you mean `{one}`?")).fix(Fix::ask(format!("write `{one}`"), unit_place, *one))
        }
        _ => finding.help(format!("did you mean {}?", crate::finding::or_list(near))),
    }
}

/// `3in-1/8in`: a subtraction that must have spaces.
pub(super) fn tight_subtraction(text: &str, place: Span) -> Finding {
    unreadable(place, format!("`{}` runs a subtraction together", shortened(text)))
        .help("put spaces round the `-`, and the subtraction in parentheses")
}

/// `2'6"`: two numbers with nothing between them.
pub(super) fn glued_numbers(text: &str, place: Span) -> Finding {
    unreadable(place, format!("`{}` runs two numbers together", shortened(text)))
        .help("put a space between them, or write one quantity such as `2 1/2 ft` or `30 in`")
}

/// `use"file"`
pub(super) fn glued_text(word: &str, place: Span, quote: Span) -> Finding {
    unreadable(place, format!("a space belongs between `{}` and its text", shortened(word)))
        .help("put a space before the `\"`")
        .fix(Fix::safe("add the space", quote, " "))
}

/// A bracket that is not closed; `closers` belong at `end`.
pub(super) fn unclosed_bracket(bracket: char, place: Span, end: Span, closers: String) -> Finding {
    let closer = closer_of(bracket);
    unreadable(place, format!("`{bracket}` is not closed")).help(format!("add the `{closer}`")).fix(Fix::ask(
        format!("add `{closers}`"),
        end,
        closers,
    ))
}

/// What closes `bracket`.
pub(super) fn closer_of(bracket: char) -> char {
    if bracket == '(' { ')' } else { ']' }
}

/// A closing bracket for which nothing is open.
pub(super) fn stray_bracket(bracket: char, place: Span) -> Finding {
    unreadable(place, format!("this `{bracket}` closes nothing"))
        .help("remove it, or open the list or the parentheses before it")
        .fix(Fix::ask(format!("remove the `{bracket}`"), place, ""))
}

/// A list directly within a list.
pub(super) fn list_in_list(place: Span) -> Finding {
    unreadable(place, "a list stands within a list")
        .help("write a group in parentheses, as in `[(maple walnut)*2 cherry]`")
}

/// An operator between arguments.
pub(super) fn bare_arithmetic(sign: char, place: Span) -> Finding {
    let help = match sign {
        '*' => {
            "put arithmetic in parentheses, as in `at (rim * 2)`, and repeated segments in brackets, as in `[maple*3]`"
        }
        _ => "put arithmetic in parentheses, as in `at (rim - 1/2)`",
    };
    unreadable(place, format!("`{sign}` stands outside of parentheses")).help(help)
}

/// `at min(a, b)`
pub(super) fn bare_call(name: &str, place: Span) -> Finding {
    let name = shortened(name);
    unreadable(place, format!("`{name}` is called outside of parentheses"))
        .help(format!("put it in parentheses, as in `at ({name}(…))`"))
}

/// `[maple*x]`
pub(super) fn times_without_count(place: Span) -> Finding {
    unreadable(place, "`*` wants a whole number behind it").help("write how many times it stands, as in `[maple*3]`")
}

/// `1.2.3`
pub(super) fn not_a_number(text: &str, place: Span) -> Finding {
    unreadable(place, format!("`{}` is not a number", shortened(text)))
        .help("write digits with at most one point, or a fraction such as `3/4` or `1 1/2`")
}

/// `[maple] .. 3`
pub(super) fn range_without_start(place: Span) -> Finding {
    unreadable(place, "`..` does not stand between two quantities").help("write a range as in `35%rh .. 60%rh`")
}

/// `=>` for `>=`
pub(super) fn swapped_comparison(found: &str, better: &str, place: Span) -> Finding {
    unreadable(place, format!("`{found}` is no comparison")).help(format!("write `{better}`")).fix(Fix::safe(
        format!("write `{better}`"),
        place,
        better,
    ))
}

/// A line that does not begin with a word.
pub(super) fn no_head(found: &str, place: Span) -> Finding {
    unreadable(place, format!("a statement begins with a word, not with `{}`", shortened(found)))
        .help("begin the line with a lower-case word such as `ring` or `wall`")
}

/// Something where an argument or the line's end belongs.
pub(super) fn unexpected_argument(found: &str, place: Span) -> Finding {
    unreadable(place, format!("`{}` cannot stand here", shortened(found)))
        .help("write a word, a number, a text in double quotes, a list in `[ ]` or arithmetic in `( )`")
}

/// Something where `expected` belongs.
pub(super) fn unexpected(found: &str, expected: &str, place: Span) -> Finding {
    let found = if found.is_empty() { "the line ends".to_owned() } else { format!("`{}` stands", shortened(found)) };
    if expected.is_empty() {
        return unreadable(place, format!("{found} where something else belongs"));
    }
    unreadable(place, format!("{found} where {expected} belongs"))
}

/// A piece of the recipe that is not too long for a sentence, and on one line.
pub(super) fn shortened(text: &str) -> String {
    const MOST: usize = 32;
    let text = text.split(['\n', '\r']).next().unwrap_or("");
    match text.char_indices().nth(MOST) {
        Some((end, _)) => format!("{}…", &text[..end]),
        None => text.to_owned(),
    }
}

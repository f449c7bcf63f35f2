//! What resolving has to say, each sentence once.

use crate::finding::{Finding, Fix, catalog, nearest, or_list};
use crate::quantity::{System, UNITS};
use crate::source::{SourceFile, Span};
use crate::syntax::{Item, ItemKind};
use crate::vocabulary::{Context, Head, Param, Shape, manual};

fn did_you_mean(near: &[&str]) -> Option<String> {
    (!near.is_empty()).then(|| format!("did you mean {}?", or_list(near)))
}

/// With the edit, when there is exactly one near word.
pub(super) fn meant(finding: Finding, span: Span, near: &[&str]) -> Finding {
    let finding = finding.help_maybe(did_you_mean(near));
    match near {
        [only] => finding.fix(Fix::ask(format!("write `{only}`"), span, *only)),
        _ => finding,
    }
}

pub(super) fn unknown_head(span: Span, word: &str, context: &Context) -> Finding {
    let near = nearest(word, context.heads.iter().map(|head| head.word));
    let finding =
        Finding::new(&catalog::WORD_UNKNOWN, span, format!("no statement {} begins with `{word}`", context.place));
    if !near.is_empty() {
        return meant(finding, span, &near);
    }
    let elsewhere = crate::vocabulary::CONTEXTS.iter().find(|other| other.head(word).is_some());
    let words: Vec<&str> = context.heads.iter().map(|head| head.word).collect();
    match elsewhere {
        Some(other) => finding.help(format!("`{word}` stands {}", other.place)),
        None => finding.help(format!("{} stand {}", or_list(&words), context.place)),
    }
}

pub(super) fn unknown_clause(span: Span, word: &str, head: &Head, context: &Context) -> Finding {
    let clauses = head.clauses.iter().map(|clause| clause.word);
    let near = nearest(word, clauses.chain(context.heads.iter().map(|head| head.word)));
    let finding = Finding::new(&catalog::WORD_UNKNOWN, span, format!("`{}` has no `{word}`", head.word));
    if !near.is_empty() {
        return meant(finding, span, &near);
    }
    let all: Vec<&str> = head.clauses.iter().filter(|clause| !clause.may_repeat()).map(|clause| clause.word).collect();
    if all.is_empty() {
        finding.help(format!("write it as `{}`", manual::usage(head)))
    } else {
        finding.help(format!("it takes {}", or_list(&all)))
    }
}

/// A setting of an `every` that this kind of layer does not have.
pub(super) fn not_of_layer(span: Span, layer: &str, word: &str, others: &[&str]) -> Finding {
    let a = if matches!(layer, "wedges" | "staves") { "" } else { "a " };
    let have = if a.is_empty() { "have" } else { "has" };
    let others: Vec<String> = others.iter().map(|other| format!("`every {other}`")).collect();
    Finding::new(&catalog::WORD_UNKNOWN, span, format!("{a}{layer} {have} no `{word}`"))
        .help(format!("`{word}` stands in {}", others.join(", ")))
}

pub(super) fn extra(span: Span, head: &Head) -> Finding {
    Finding::new(&catalog::WORD_EXTRA, span, format!("`{}` does not know what to do with this", head.word))
        .help(format!("write it as `{}`", manual::usage(head)))
}

pub(super) fn twice(span: Span, word: &str, first: Span) -> Finding {
    Finding::new(&catalog::WORD_TWICE, span, format!("`{word}` is said twice"))
        .here("here again")
        .also(first, "said here first")
        .help("keep one of the two")
}

/// `param` is missing behind `word`, which takes all of `params`.
pub(super) fn missing_argument(span: Span, word: &str, param: &Param, params: &[Param]) -> Finding {
    let wants = if let Shape::Choice(words) = param.shape { or_list(words) } else { param.shape.words().to_owned() };
    let needed = params.iter().filter(|param| !param.is_optional).map(|param| example(param.shape));
    let example = needed.fold(word.to_owned(), |line, argument| line + " " + argument);
    let why = if word == "accept" { "say why it is right here: " } else { "" };
    Finding::new(&catalog::WORD_MISSING, span, format!("`{word}` wants {wants}"))
        .here("nothing behind it")
        .help(format!("{why}for example `{example}`"))
}

fn example(shape: Shape) -> &'static str {
    match shape {
        Shape::Length(_) | Shape::Taper => "3/4",
        Shape::Place => "at 3/4",
        Shape::Lengths => "[1/4 3/8 1/2]",
        Shape::Angle => "15deg",
        Shape::Count => "12",
        Shape::Choice(words) => words.first().copied().unwrap_or(""),
        Shape::Name => "some-name",
        Shape::Text => "\"…\"",
        Shape::Wood => "maple",
        Shape::Glue => "pva-d2",
        Shape::Pattern => "[maple walnut]",
        Shape::Chart => "waves",
        Shape::Gap => "3°",
        Shape::Stagger => "half",
        Shape::Fit => "slip",
        Shape::Pitch => "16 tpi",
        Shape::Number => "1.5",
        Shape::HumidityRange => "35%rh .. 60%rh",
        Shape::SpeedRange => "250 rpm .. 3000 rpm",
        Shape::Span => "50 mm .. 180 mm",
        Shape::HourRange => "9 .. 18",
        Shape::Days => "[sat sun]",
        Shape::Temperature => "20 degC",
        Shape::Moisture => "8%mc",
        Shape::Finish => "walnut-oil",
        Shape::Layer => "3",
        Shape::Comparison => ">= 600 ml",
        Shape::Assignment => "= 3/4",
        Shape::Code => "ring/joints-line-up",
    }
}

/// `=` where not even a word stands before it.
pub(super) fn extra_sign(span: Span) -> Finding {
    Finding::new(&catalog::WORD_EXTRA, span, "nothing before this `=` can take it").help("remove it")
}

/// A clause that this layer calls by another word.
pub(super) fn said_otherwise(span: Span, word: &str, head: &str, right: &str) -> Finding {
    let why = if right == "tall" {
        "staves stand on end, so what they add to the stack is how tall they are"
    } else {
        "what a layer adds to the stack is how thick it is"
    };
    Finding::new(&catalog::WORD_UNKNOWN, span, format!("`{head}` has no `{word}` but `{right}`"))
        .help(format!("write `{right}`: {why}"))
        .fix(Fix::ask(format!("write `{right}`"), span, right))
}

pub(super) fn missing_clause(span: Span, word: &str, clause: &str, why: &str, example: &str) -> Finding {
    Finding::new(&catalog::WORD_MISSING, span, format!("`{word}` lacks `{clause}`: {why}"))
        .help(format!("add `{clause}`, for example `{example}`"))
}

/// A layer without the clause that says its height in the vessel; `every` is the kind that could say it.
pub(super) fn missing_thick(span: Span, word: &str, clause: &str, every: &str) -> Finding {
    let why = "the stack's height is made of the layers' thicknesses, so none can be assumed";
    let example = if clause == "tall" { "tall 4" } else { "thick 3/4" };
    missing_clause(span, word, clause, why, example)
        .help(format!("add `{example}` here, or `every {every} {{ {example} }}` before it for all that follow"))
}

pub(super) fn missing_statement(vessel: Span, word: &str, why: &str, example: &str) -> Finding {
    Finding::new(&catalog::WORD_MISSING, vessel, format!("the vessel lacks `{word}`: {why}"))
        .help(format!("add a line such as `{example}`"))
}

pub(super) fn empty_stack(span: Span, word: &str) -> Finding {
    Finding::new(&catalog::WORD_MISSING, span, format!("`{word}` has no layer"))
        .help("add the layers from the bench upward, for example `ring maple thick 3/4`")
}

pub(super) fn block_missing(span: Span, head: &Head) -> Finding {
    Finding::new(&catalog::WORD_MISSING, span, format!("`{}` wants a block in braces", head.word))
        .help(format!("write it as `{}`, with `{{` on the same line", manual::usage(head)))
}

pub(super) fn no_block(open: Span, word: &str) -> Finding {
    Finding::new(&catalog::WORD_EXTRA, open, format!("`{word}` takes no block in braces"))
        .help("close the statement at the line's end")
}

pub(super) fn wrong_kind(item: &Item, word: &str, wants: &str) -> Finding {
    let is = match &item.kind {
        ItemKind::Word => "a word",
        ItemKind::Code => "the code of a finding",
        ItemKind::Text(_) => "a text",
        ItemKind::Quantity(_) => "a number",
        ItemKind::List(_) => "a list",
        ItemKind::Group(_) => "a group of a list",
        ItemKind::Range(..) => "a range",
        ItemKind::Comparison(..) => "a comparison",
        ItemKind::Expression(_) => "an expression",
        ItemKind::Assign(_) => "an assignment",
    };
    Finding::new(&catalog::WORD_WRONG_KIND, item.span, format!("`{word}` wants {wants}; this is {is}"))
}

pub(super) fn no_such_choice(span: Span, word: &str, written: &str, words: &[&str]) -> Finding {
    let near = nearest(written, words.iter().copied());
    let finding =
        Finding::new(&catalog::WORD_UNKNOWN, span, format!("`{word}` wants {}; this is `{written}`", or_list(words)));
    meant(finding, span, &near)
}

pub(super) fn wrong_dimension(span: Span, word: &str, wants: &str, text: &str, is: &str) -> Finding {
    let finding =
        Finding::new(&catalog::QUANTITY_WRONG_DIMENSION, span, format!("`{word}` wants {wants}; `{text}` is {is}"));
    if wants == "a length" {
        let lengths: Vec<&str> = UNITS
            .iter()
            .filter(|unit| unit.dimension == crate::quantity::Dimension::LENGTH)
            .filter_map(|unit| unit.spellings.first().copied())
            .collect();
        return finding.help(format!("units of length are {}", or_list(&lengths)));
    }
    finding.fix_maybe(unit_meant(span, wants, text))
}

/// The unit that a number lacks where only one can stand.
fn unit_meant(span: Span, wants: &str, text: &str) -> Option<Fix> {
    let units = [("an angle", "°"), ("a speed", " rpm"), ("a relative humidity", "%rh"), ("a moisture content", "%mc")];
    let (_, unit) =
        units.into_iter().find(|(what, _)| wants == *what || wants.starts_with(&format!("{what}, such")))?;
    let number = text.strip_suffix('%').filter(|_| unit.starts_with('%')).unwrap_or(text).trim_end();
    let is_number = number.starts_with(|c: char| c.is_ascii_digit())
        && number.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '/' | ' '));
    let right = format!("{number}{unit}");
    is_number.then(|| Fix::ask(format!("write `{right}`"), span, right))
}

/// `meant` is the system that the file's other numbers leave no doubt of.
pub(super) fn units_missing(span: Span, word: &str, text: &str, meant: Option<System>) -> Finding {
    let start = Span { start: 0, end: 0, ..span };
    Finding::new(
        &catalog::UNITS_MISSING,
        span,
        format!("`{word}` wants a length, and this file does not say what a bare `{text}` is"),
    )
    .help("add `units in` or `units mm` as the first line, or write the unit behind every number")
    .fix_maybe(
        meant
            .map(System::word)
            .map(|unit| Fix::ask(format!("add `units {unit}` as the first line"), start, format!("units {unit}\n"))),
    )
}

pub(super) fn mixed_units(span: Span, word: &str, text: &str) -> Finding {
    Finding::new(
        &catalog::UNITS_MISSING,
        span,
        format!(
            "`{word}` wants a length, and `{text}` is made of bare numbers of an inch file and of a millimeter file"
        ),
    )
    .help("write the unit behind the numbers of the `let` lines it is made of")
}

pub(super) fn too_large(span: Span, word: &str, text: &str) -> Finding {
    Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, span, format!("`{word}` of `{text}` is more than a thousand meters"))
        .help("check the unit")
}

pub(super) fn too_small(span: Span, word: &str, text: &str) -> Finding {
    Finding::new(
        &catalog::QUANTITY_OUT_OF_RANGE,
        span,
        format!("`{word}` wants more than zero; `{text}` is less than 0.01 mm, the least that can be made"),
    )
}

pub(super) fn negative(span: Span, word: &str, text: &str) -> Finding {
    Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, span, format!("`{word}` wants zero or more; `{text}` is negative"))
}

pub(super) fn at_least_one(span: Span, word: &str, text: &str) -> Finding {
    Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, span, format!("`{word}` wants one or more; this is `{text}`"))
}

pub(super) fn stagger_too_large(span: Span, text: &str) -> Finding {
    Finding::new(
        &catalog::QUANTITY_OUT_OF_RANGE,
        span,
        format!("`stagger` wants a share of a segment up to 1 or an angle up to 360°; this is `{text}`"),
    )
    .help("write an angle with its sign, for example `stagger 15°`, or a share such as `stagger 1/4`")
}

pub(super) fn not_whole(span: Span, word: &str, text: &str) -> Finding {
    Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, span, format!("`{word}` wants a whole number; this is `{text}`"))
}

pub(super) fn no_number(span: Span, why: &str) -> Finding {
    Finding::new(&catalog::QUANTITY_NOT_A_NUMBER, span, format!("this has no value: {why}"))
}

pub(super) fn no_root(span: Span, is: &str) -> Finding {
    Finding::new(
        &catalog::QUANTITY_WRONG_DIMENSION,
        span,
        format!("`sqrt` wants an area or a bare number; this is {is}"),
    )
}

pub(super) fn wants_angle(span: Span, function: &str, is: &str) -> Finding {
    Finding::new(&catalog::QUANTITY_WRONG_DIMENSION, span, format!("`{function}` wants an angle; this is {is}"))
        .help("write the angle with its sign, for example `15°` or `15deg`")
}

pub(super) fn unlike_kinds(at: Span, verb: &str, left: (Span, &str), right: (Span, &str)) -> Finding {
    Finding::new(&catalog::QUANTITY_WRONG_DIMENSION, at, format!("{} and {} cannot be {verb}", left.1, right.1))
        .also(left.0, format!("this is {}", left.1))
        .also(right.0, format!("this is {}", right.1))
}

pub(super) fn comparison_is_no_value(at: Span, sign: &str) -> Finding {
    Finding::new(&catalog::WORD_WRONG_KIND, at, format!("a comparison with `{sign}` is no quantity"))
        .help("only `expect` compares, as in `expect capacity >= 600 ml`")
}

pub(super) fn unknown_function<'a>(span: Span, word: &str, known: impl Iterator<Item = &'a str>) -> Finding {
    let known: Vec<&str> = known.collect();
    let near = nearest(word, known.iter().copied());
    let finding = Finding::new(&catalog::NAME_UNKNOWN, span, format!("there is no function `{word}`"));
    if near.is_empty() {
        finding.help(format!("there are {}", or_list(&known).replace(" or ", " and ")))
    } else {
        meant(finding, span, &near)
    }
}

pub(super) fn argument_count(span: Span, word: &str, wants: usize, has: usize) -> Finding {
    Finding::new(&catalog::WORD_MISSING, span, format!("`{word}` wants {wants} values; it has {has}"))
}

pub(super) fn unknown_name<'a>(span: Span, name: &str, known: impl Iterator<Item = &'a str>) -> Finding {
    let known: Vec<&str> = known.collect();
    let near = nearest(name, known.iter().copied());
    let finding = Finding::new(&catalog::NAME_UNKNOWN, span, format!("nothing before this line names `{name}`"));
    if near.is_empty()
        && let Some((left, right)) = name.split_once('-')
        && known.contains(&left)
    {
        return finding.help(format!("a subtraction has spaces: `{left} - {right}`"));
    }
    meant(finding, span, &near)
}

pub(super) fn name_twice(span: Span, name: &str, first: Span) -> Finding {
    Finding::new(&catalog::NAME_TWICE, span, format!("`{name}` is defined twice"))
        .here("here again")
        .also(first, "defined here first")
        .help("give one of the two another name")
}

pub(super) fn layer_name_repeated(span: Span, name: &str) -> Finding {
    Finding::new(&catalog::NAME_TWICE, span, format!("every turn of the block names its layer `{name}`"))
        .help("name a layer outside of `repeat` and `fill`, or leave the name away")
}

pub(super) fn use_not_found(span: Span, path: &str) -> Finding {
    let help = if path.contains('\\') {
        "write `/` between folders, as every system understands it"
    } else {
        "the path is taken from the folder of the file that holds this line"
    };
    Finding::new(&catalog::USE_NOT_FOUND, span, format!("there is no file \"{path}\"")).help(help)
}

pub(super) fn use_outside(span: Span, path: &str, folder: &str) -> Finding {
    Finding::new(&catalog::USE_OUTSIDE_PROJECT, span, format!("\"{path}\" lies outside the project folder, {folder}"))
        .help("keep shared files below the folder that holds `.git`, or beside the recipe")
}

pub(super) fn use_unreadable(span: Span, path: &str, reason: &str) -> Finding {
    Finding::new(&catalog::USE_UNREADABLE, span, format!("\"{path}\" cannot be read as a recipe: {reason}"))
}

pub(super) fn use_cycle(span: Span, circle: &[Span]) -> Finding {
    let mut finding = Finding::new(&catalog::USE_CYCLE, span, "these files use each other in a circle")
        .here("this closes the circle")
        .help("move what both need into a third file that uses neither");
    for step in circle {
        finding = finding.also(*step, "used here on the way");
    }
    finding
}

pub(super) fn vessel_missing(file: &SourceFile, is_empty: bool) -> Finding {
    let message = if is_empty { "the file is empty" } else { "the file has no `vessel`" };
    // A comment at the top then goes on to the end of the file.
    let help = if file.text.contains('\r') && !file.text.contains('\n') {
        "its lines end as on very old Macs, with a carriage return alone: save it with line feeds"
    } else {
        "add `vessel \"Name\" { … }`; `ringwright new NAME` writes a recipe to start from"
    };
    Finding::new(&catalog::VESSEL_MISSING, Span::new(file.id, 0, 0), message).help(help)
}

pub(super) fn vessel_twice(span: Span, first: Span) -> Finding {
    Finding::new(&catalog::VESSEL_TWICE, span, "a recipe has one vessel; this is the second")
        .also(first, "the first one")
        .help("move it to a file of its own; what both need comes in by `use`")
}

pub(super) fn vessel_unnamed(span: Span) -> Finding {
    Finding::new(&catalog::VESSEL_UNNAMED, span, "the vessel has no name, and its sheets have no heading")
        .help("name it as one would speak of it: `vessel \"Sugar bowl\"`")
}

pub(super) fn repeat_never(span: Span) -> Finding {
    Finding::new(&catalog::REPEAT_NEVER, span, "this is repeated 0 times: nothing in the block is made, or looked at")
        .help("write how often, or take the block out; `#` before a line makes it a comment")
}

pub(super) fn repeat_too_many(span: Span, limit: u32) -> Finding {
    Finding::new(&catalog::REPEAT_TOO_MANY, span, format!("the repeats of this recipe make more than {limit} turns"))
        .help("no stack is that tall; check the count")
}

pub(super) fn unknown_wood<'a>(span: Span, name: &str, known: impl Iterator<Item = &'a str>) -> Finding {
    let near = nearest(name, known);
    let finding = Finding::new(&catalog::WOOD_UNKNOWN, span, format!("no wood is known as `{name}`"));
    if near.is_empty() {
        return finding.help(format!(
            "name it after the wood of the table that is most like it, at file level: `wood {name} {{ like hard-maple }}`"
        ));
    }
    meant(finding, span, &near)
}

pub(super) fn ambiguous_wood(span: Span, name: &str, candidates: &[&str]) -> Finding {
    Finding::new(&catalog::WOOD_AMBIGUOUS, span, format!("several woods are called `{name}`"))
        .help(format!("write {}", or_list(candidates)))
}

pub(super) fn unknown_glue<'a>(span: Span, name: &str, known: impl Iterator<Item = &'a str>) -> Finding {
    let known: Vec<&str> = known.collect();
    let near = nearest(name, known.iter().copied());
    let finding = Finding::new(&catalog::GLUE_UNKNOWN, span, format!("no glue is known as `{name}`"));
    if near.is_empty() { finding.help(format!("known are {}", or_list(&known))) } else { meant(finding, span, &near) }
}

pub(super) fn empty_pattern(span: Span) -> Finding {
    Finding::new(&catalog::WORD_MISSING, span, "the list names no wood").help("for example `[maple*2 walnut]`")
}

pub(super) fn pattern_too_long(span: Span, limit: usize) -> Finding {
    Finding::new(&catalog::PATTERN_TOO_LONG, span, format!("the pattern is more than {limit} segments long"))
        .help("no ring has so many; check the counts behind `*`")
}

pub(super) fn no_times(span: Span) -> Finding {
    Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, span, "a count of zero leaves nothing of it")
        .help("take it out of the list")
}

pub(super) fn not_a_wood(item: &Item) -> Finding {
    wrong_kind(item, "[ … ]", "names of woods, or groups of them in `( … )`")
}

/// `line` is all of the statement, where it could be read.
pub(super) fn top_without_lid(span: Span, line: Option<Span>) -> Finding {
    Finding::new(
        &catalog::SHAPE_TOP_WITHOUT_LID,
        span,
        "`top` says how thick the lid is over the cavity, and there is no `lid`",
    )
    .help("add `lid { … }`, or take the line away")
    .fix_maybe(line.map(|line| Fix::ask("take `top` away", line, "")))
}

pub(super) fn nothing_to_turn(span: Span, word: &str) -> Finding {
    Finding::new(&catalog::WORD_MISSING, span, format!("`{word}` wants a pattern behind it"))
        .help("for example `mirror [maple walnut cherry]` or `rotate 2 [maple walnut cherry]`")
}

pub(super) fn too_few_segments(span: Span, segments: u32) -> Finding {
    let count = if segments == 1 { "1 segment".to_owned() } else { format!("{segments} segments") };
    Finding::new(
        &catalog::RING_TOO_FEW_SEGMENTS,
        span,
        format!("a ring of {count} cannot close; three segments are the least"),
    )
    .help("use a `disc`, or 6, 8 or 12 segments")
}

pub(super) fn too_many_segments(span: Span, segments: u32, most: u32) -> Finding {
    Finding::new(
        &catalog::RING_TOO_MANY_SEGMENTS,
        span,
        format!("a ring of {segments} segments is more than the {most} that can be planned"),
    )
    .help("check the count; rings in use have 6 to 48")
}

pub(super) fn too_many_segments_of_all(span: Span, most: u32) -> Finding {
    let message = format!("the rings of this recipe have more than {most} segments together");
    Finding::new(&catalog::RING_TOO_MANY_SEGMENTS, span, message)
        .help("check the counts of segments and of turns; the largest vessels have some ten thousand pieces")
}

pub(super) fn wood_of_the_table(span: Span, name: &str) -> Finding {
    Finding::new(&catalog::NAME_TWICE, span, format!("`{name}` names a wood of the table already"))
        .help("give your wood a name of its own")
}

pub(super) fn reserved(span: Span, name: &str) -> Finding {
    Finding::new(&catalog::NAME_TWICE, span, format!("`{name}` is a word of the language")).help("choose another name")
}

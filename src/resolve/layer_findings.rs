//! What resolving has to say of layers, patterns, boards and charts.

use crate::finding::{Finding, Fix, catalog, nearest, or_list};
use crate::source::Span;
use crate::vocabulary::{PATTERN_WORDS, ROWS, SHARE};

use super::findings::meant;
use super::recipe::Gap;

pub(super) fn share_of_nothing(span: Span) -> Finding {
    Finding::new(&catalog::PATTERN_SHARE, span, "`share` has no wood before it")
        .help("write it behind the wood it belongs to, as in `[maple share 2  walnut]`")
}

pub(super) fn share_without_number(span: Span) -> Finding {
    Finding::new(&catalog::PATTERN_SHARE, span, "`share` wants a number behind it")
        .here("no number behind it")
        .help("for example `[maple share 2  walnut]`: the maple is twice as wide as the walnut")
}

pub(super) fn share_out_of_range(span: Span, text: &str) -> Finding {
    Finding::new(
        &catalog::PATTERN_SHARE,
        span,
        format!("a share lies between 1/1000 and 1000 times that of the others; this is `{text}`"),
    )
    .help("a segment without `share` has 1")
}

pub(super) fn unknown_pattern(span: Span, word: &str) -> Finding {
    let words: Vec<&str> = PATTERN_WORDS.iter().copied().filter(|word| *word != SHARE).collect();
    let near = nearest(word, words.iter().copied());
    let message = format!("before a list stands {}; this is `{word}`", or_list(&words));
    let finding = Finding::new(&catalog::WORD_UNKNOWN, span, message);
    if near.is_empty() {
        finding.help("take the word away, or put it into the list")
    } else {
        meant(finding, span, &near)
    }
}

pub(super) fn scatter_form(span: Span) -> Finding {
    Finding::new(&catalog::PATTERN_SCATTER, span, "`scatter` wants one list behind it and nothing before it")
        .help("for example `scatter [maple 70%  walnut 30%] seed 7`; chance has turned and mirrored it already")
}

pub(super) fn not_scatterable(span: Span) -> Finding {
    Finding::new(&catalog::PATTERN_SCATTER, span, "the list of a `scatter` holds woods and a percentage behind each")
        .help("for example `scatter [maple 70%  walnut 30%]`, or `scatter [maple walnut]` for as many of each")
}

pub(super) fn not_percent(span: Span, text: &str) -> Finding {
    Finding::new(&catalog::PATTERN_SCATTER, span, format!("`scatter` wants a percentage above zero; this is `{text}`"))
        .help("write its sign, as in `maple 70%`, and no `*` beside it")
}

pub(super) fn some_percent(span: Span, written: usize, all: usize) -> Finding {
    let message = format!("{written} of the {all} woods of this `scatter` {} a percentage", have(written));
    Finding::new(&catalog::PATTERN_SCATTER, span, message)
        .help("write one behind every wood, or behind none for as many of each")
}

pub(super) fn percent_sum(span: Span, sum: f64) -> Finding {
    let sum = (sum * 100.0).round() / 100.0;
    let (what, rest) = if sum < 100.0 { ("missing", 100.0 - sum) } else { ("too much", sum - 100.0) };
    let rest = (rest * 100.0).round() / 100.0;
    Finding::new(
        &catalog::PATTERN_SCATTER,
        span,
        format!("the percentages of this `scatter` add to {sum} %, not to 100 %"),
    )
    .here(format!("{rest} % {what}"))
    .help("make them add to 100 %, or write none for as many of each")
}

fn have(count: usize) -> &'static str {
    if count == 1 { "has" } else { "have" }
}

pub(super) fn not_scattered(span: Span, word: &str) -> Finding {
    Finding::new(
        &catalog::WORD_EXTRA,
        span,
        format!("`{word}` belongs to a `scatter`, and this pattern is laid by hand"),
    )
    .help(format!("write `scatter [ … ]`, or take the `{word}` away"))
}

pub(super) fn cannot_be_apart(span: Span, wood: &str, count: usize, of: usize, touching: usize) -> Finding {
    let joints = if touching == 1 { "1 joint has".to_owned() } else { format!("{touching} joints have") };
    Finding::new(
        &catalog::PATTERN_STILL_TOGETHER,
        span,
        format!("{count} of the {of} segments are `{wood}`: {joints} it on both sides"),
    )
    .help("no wood can have more than half of the segments and be kept apart; give the others more")
}

pub(super) fn board_in_board(span: Span, name: &str, first: Span) -> Finding {
    Finding::new(&catalog::BOARD_IN_BOARD, span, format!("`{name}` is a board itself, and a ply is plain wood"))
        .also(first, "the board is made here")
        .help("write its plies out in their place; they are all glued at once")
}

pub(super) fn too_few_plies(span: Span, plies: usize) -> Finding {
    let has = if plies == 0 { "none" } else { "one" };
    Finding::new(&catalog::BOARD_TOO_FEW_PLIES, span, format!("a board wants two plies or more; this has {has}"))
        .help("for example `{ walnut 1/4  maple 1/8  walnut 1/4 }`; one ply alone is a wood")
}

pub(super) fn ply_without_thickness(span: Span, wood: &str) -> Finding {
    Finding::new(&catalog::WORD_MISSING, span, format!("the ply `{wood}` wants its thickness"))
        .here("no length behind it")
        .help(format!("for example `{wood} 1/4`"))
}

pub(super) fn glue_without_name(span: Span) -> Finding {
    Finding::new(&catalog::WORD_MISSING, span, "`glue` wants a glue").help("for example `glue pva-d2`")
}

pub(super) fn board_not_here(span: Span, name: &str, word: &str, first: Span) -> Finding {
    let why = match word {
        "spacer" => "a spacer is one thin strip",
        "sheet" => "a sheet is one leaf of veneer",
        "cone" => "its rings would show the glue lines as steps",
        _ => "its figures are those of one wood",
    };
    Finding::new(&catalog::BOARD_NOT_HERE, span, format!("`{word}` wants plain wood, and `{name}` is a board: {why}"))
        .also(first, "the board is made here")
        .help("name one of its woods; a board stands in patterns, discs and plugs")
}

pub(super) fn unknown_chart<'a>(span: Span, name: &str, known: impl Iterator<Item = &'a str>) -> Finding {
    let known: Vec<&str> = known.collect();
    let near = nearest(name, known.iter().copied());
    let finding =
        Finding::new(&catalog::CHART_UNKNOWN, span, format!("nothing before this line draws the chart `{name}`"));
    if !near.is_empty() {
        meant(finding, span, &near)
    } else if known.is_empty() {
        finding.help(format!("draw it with `chart {name} {{ m = maple  w = walnut  rows {{ … }} }}`"))
    } else {
        finding.help(format!("there are {}", or_list(&known).replace(" or ", " and ")))
    }
}

pub(super) fn empty_chart(span: Span) -> Finding {
    Finding::new(&catalog::CHART_EMPTY, span, "the chart has no row")
        .help("draw the rows in `rows { … }`, one line each, the top one first")
}

/// A line of a chart that gives no key its wood and begins no rows.
pub(super) fn not_of_chart(span: Span, word: &str, is_rows: bool) -> Finding {
    let near = nearest(word, [ROWS]);
    let message = format!("a chart has keys such as `m = maple` and `rows {{ … }}`; this is `{word}`");
    let finding = Finding::new(&catalog::WORD_UNKNOWN, span, message);
    match near.as_slice() {
        [_] if word != ROWS => meant(finding, span, &near),
        _ if is_rows => finding.help("begin the rows on a line of their own or behind the keys: `rows {`"),
        _ => finding.help(format!("write `{word} = …` with a wood, or put the row into `rows {{ … }}`")),
    }
}

pub(super) fn unknown_key<'a>(span: Span, name: &str, known: impl Iterator<Item = &'a str>) -> Finding {
    let known: Vec<&str> = known.collect();
    let finding = Finding::new(&catalog::CHART_UNKNOWN_KEY, span, format!("no key of the chart is `{name}`"));
    let near = nearest(name, known.iter().copied());
    if !near.is_empty() {
        meant(finding, span, &near)
    } else if known.is_empty() {
        finding.help(format!("write `{name} = maple`, or what it stands for, before `rows`"))
    } else {
        finding.help(format!("its keys are {}; or add `{name} = …`", or_list(&known).replace(" or ", " and ")))
    }
}

/// `whole` is the key with what it stands for.
pub(super) fn unused_key(span: Span, name: &str, whole: Span) -> Finding {
    Finding::new(&catalog::CHART_UNUSED_KEY, span, format!("no row of the chart uses `{name}`"))
        .help("take the key away, or check the rows")
        .fix(Fix::ask(format!("take `{name}` away"), whole, ""))
}

/// Row `number` counts from the lowest, as the rings do; so does the first.
pub(super) fn uneven_row(span: Span, number: usize, lengths: (usize, usize), first: Span) -> Finding {
    let (long, first_long) = lengths;
    Finding::new(
        &catalog::CHART_UNEVEN_ROWS,
        span,
        format!("row {number} from the bottom has {long} segments, and the lowest row has {first_long}"),
    )
    .also(first, "the lowest row")
    .help("draw all rows equally long: each goes round the vessel as often as the others")
}

pub(super) fn fill_without_rest(span: Span, to: &str, at: &str) -> Finding {
    Finding::new(&catalog::FILL_NO_ROOM, span, format!("the stack stands at {at} already, so nothing fills it to {to}"))
        .help("the height counts from the bench; write a greater one, or take layers below away")
}

pub(super) fn fill_before_body(span: Span) -> Finding {
    Finding::new(&catalog::FILL_NO_ROOM, span, "how high the lid begins is not known: its body is not read yet")
        .help("write `body { … }` before `lid { … }`")
}

pub(super) fn fill_without_layers(span: Span) -> Finding {
    Finding::new(&catalog::FILL_CANNOT_CLOSE, span, "`fill` has no layer to fill with")
        .help("for example `fill to 6 { ring maple thick 3/4 }`")
}

pub(super) fn fill_cannot_close(span: Span, rest: &str, fixed: &str, turns: f64) -> Finding {
    let times = if turns < 1.5 { "one turn".to_owned() } else { format!("{turns} turns") };
    Finding::new(
        &catalog::FILL_CANNOT_CLOSE,
        span,
        format!(
            "{times} of this block fill {rest}, and the sheets and cones of each, {fixed}, cannot be made thinner to end there"
        ),
    )
    .help("put a ring or a disc that may become thinner into the block, or use `repeat`")
}

pub(super) fn gap_and_spacer(gap: Span, spacer: Span, layer: &str) -> Finding {
    Finding::new(
        &catalog::RING_GAP_AND_SPACER,
        gap,
        format!("the joints of this {layer} cannot be both open and filled with strips"),
    )
    .here("left open")
    .also(spacer, "filled")
    .help("keep `gap` for open segments, or `spacer` for strips between them")
}

pub(super) fn no_gap(span: Span, text: &str) -> Finding {
    Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, span, format!("`gap` wants more than zero; this is `{text}`"))
        .help("take it away for closed joints")
}

pub(super) fn gap_too_wide(span: Span, gap: Gap, segments: u32, pitch: f64) -> Finding {
    let pitch = (pitch * 100.0).round() / 100.0;
    let is = match gap {
        Gap::Angle(angle) => format!("{}°", (angle.degrees() * 100.0).round() / 100.0),
        Gap::Share(share) => format!("{} of it", share.value()),
    };
    Finding::new(
        &catalog::RING_GAP_TOO_WIDE,
        span,
        format!(
            "with {segments} segments there are {pitch}° from one to the next; a gap of {is} leaves nothing of them"
        ),
    )
    .help(format!("write less than {pitch}°, or a share less than 1, such as `gap 1/4`"))
}

pub(super) fn cone_rings(span: Span, rings: u32, most: u32) -> Finding {
    Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, span, format!("a cone has 1 to {most} rings; this is {rings}"))
        .help("one board gives as many rings as their walls fit between its edge and its middle")
}

//! Every code there is: its name, its weight, its line and its page. A new finding starts here.

use super::Severity;

/// A kind of finding. Its name is stable: recipes, scripts and people refer to it.
#[derive(PartialEq, Eq)]
pub struct Code {
    /// In words: `ring/does-not-cover`.
    pub name: &'static str,
    /// How much such a finding weighs.
    pub severity: Severity,
    /// What it is about, in one line.
    pub summary: &'static str,
    /// What `explain` prints: what, why it hurts, how it is computed, the way out, two examples.
    pub page: &'static str,
}

impl std::fmt::Debug for Code {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str(self.name)
    }
}

macro_rules! codes {
    ($($ident:ident $name:literal $severity:ident $summary:literal;)+) => {
        $(
            #[doc = $summary]
            pub static $ident: Code = Code {
                name: $name,
                severity: Severity::$severity,
                summary: $summary,
                page: include_str!(concat!("pages/", $name, ".md")),
            };
        )+

        /// All codes, family by family.
        pub static CODES: &[&Code] = &[$(&$ident),+];
    };
}

codes! {
    SYNTAX_UNREADABLE "syntax/unreadable" Error "a stretch of text that cannot be read";
    SYNTAX_UNCLOSED_BLOCK "syntax/unclosed-block" Error "a block whose closing brace is missing";
    SYNTAX_STRAY_BRACE "syntax/stray-brace" Error "a closing brace that closes nothing";
    SYNTAX_TOO_DEEP "syntax/too-deep" Error "brackets nested deeper than any recipe needs";
    SYNTAX_UNCLOSED_TEXT "syntax/unclosed-text" Error "a text whose closing quote is missing";
    SYNTAX_LOOK_ALIKE "syntax/look-alike" Error "a character that looks like another one";
    SYNTAX_DECIMAL_COMMA "syntax/decimal-comma" Error "a comma where a decimal point belongs";
    SYNTAX_CONTROL_CHARACTER "syntax/control-character" Error "a character that no editor shows";

    VESSEL_MISSING "vessel/missing" Error "a recipe without a vessel";
    VESSEL_TWICE "vessel/twice" Error "more than one vessel in a recipe";

    UNITS_MISSING "units/missing" Error "a length without a unit in a file without `units`";

    QUANTITY_WRONG_DIMENSION "quantity/wrong-dimension" Error "a quantity of one kind where another is wanted";
    QUANTITY_OUT_OF_RANGE "quantity/out-of-range" Error "a quantity that is too small or too large for its place";
    QUANTITY_NOT_A_NUMBER "quantity/not-a-number" Error "an expression with no value";

    WORD_UNKNOWN "word/unknown" Error "a word that the language does not know there";
    WORD_NOT_YET "word/not-yet" Error "a word of the language that this version does not support yet";
    WORD_MISSING "word/missing" Error "a statement that lacks something it needs";
    WORD_EXTRA "word/extra" Error "an argument that nothing asked for";
    WORD_TWICE "word/twice" Error "something said twice that can be said once";
    WORD_WRONG_KIND "word/wrong-kind" Error "an argument of the wrong kind";

    NAME_UNKNOWN "name/unknown" Error "a name that nothing defines";
    NAME_TWICE "name/twice" Error "a name defined twice";

    USE_NOT_FOUND "use/not-found" Error "a `use` of a file that is not there";
    USE_CYCLE "use/cycle" Error "files that use each other in a circle";
    USE_OUTSIDE_PROJECT "use/outside-project" Error "a `use` that leaves the recipe's project folder";
    USE_UNREADABLE "use/unreadable" Error "a `use` of a file that cannot be read as a recipe";

    REPEAT_TOO_MANY "repeat/too-many" Error "a `repeat` that makes more than any vessel needs";

    WOOD_UNKNOWN "wood/unknown" Error "a wood that is in no table";
    WOOD_AMBIGUOUS "wood/ambiguous" Error "a wood's name that several woods share";

    GLUE_UNKNOWN "glue/unknown" Error "a glue that is in no table";

    PATTERN_DOES_NOT_CLOSE "pattern/does-not-close" Warning "a pattern whose length does not divide the ring";
    PATTERN_TOO_LONG "pattern/too-long" Error "a pattern longer than any ring";

    PATTERN_SHARE "pattern/share" Error "a share of a pattern that gives a segment no width";
    PATTERN_SCATTER "pattern/scatter" Error "a `scatter` whose list does not make a whole ring";
    PATTERN_STILL_TOGETHER "pattern/still-together" Note "like segments that cannot be kept apart";

    BOARD_TOO_FEW_PLIES "board/too-few-plies" Error "a board of fewer than two plies";
    BOARD_IN_BOARD "board/in-board" Error "a board as a ply of another";
    BOARD_NOT_HERE "board/not-here" Error "a board where only plain wood can be";

    CHART_UNKNOWN "chart/unknown" Error "a chart that nothing draws";
    CHART_EMPTY "chart/empty" Error "a chart without a row";
    CHART_UNEVEN_ROWS "chart/uneven-rows" Error "rows of a chart that are not equally long";
    CHART_UNKNOWN_KEY "chart/unknown-key" Error "a letter of a row that stands for nothing";
    CHART_UNUSED_KEY "chart/unused-key" Note "a key of a chart that no row uses";

    FILL_NO_ROOM "fill/no-room" Error "a `fill` up to a height that the stack has reached";
    FILL_CANNOT_CLOSE "fill/cannot-close" Error "a `fill` whose layers cannot be made to end at its height";

    SHAPE_HEIGHTS_NOT_RISING "shape/heights-not-rising" Error "an outside whose points do not go upward";
    SHAPE_BASE_NOT_AT_ZERO "shape/base-not-at-zero" Error "an outside that does not start on the bench";
    SHAPE_TOO_FEW_POINTS "shape/too-few-points" Error "an outside with fewer than two points";
    SHAPE_TOP_WITHOUT_LID "shape/top-without-lid" Warning "a `top` on a vessel that has no lid";

    WALL_THICKER_THAN_RADIUS "wall/thicker-than-radius" Error "a wall that leaves no cavity";
    WALL_THIN "wall/thin" Warning "a wall thinner than the shop's least";

    STACK_TOO_SHORT "stack/too-short" Error "layers that end below the shape";
    STACK_TOO_TALL "stack/too-tall" Warning "layers that end above the shape";
    STACK_LAYER_BEYOND_SHAPE "stack/layer-beyond-shape" Error "a layer that lies wholly above the shape";

    RING_DOES_NOT_COVER "ring/does-not-cover" Error "a ring that does not cover the wall";
    RING_ALLOWANCE_SHORT "ring/allowance-short" Warning "a ring that covers the wall but not the turning allowance";
    RING_TOO_FEW_SEGMENTS "ring/too-few-segments" Error "a ring of fewer than three segments";
    RING_TOO_MANY_SEGMENTS "ring/too-many-segments" Error "a ring of more segments than can be handled";
    RING_GAP_AND_SPACER "ring/gap-and-spacer" Error "joints that are to be open and filled at once";
    RING_GAP_TOO_WIDE "ring/gap-too-wide" Error "a gap that leaves nothing of the segments";
    RING_STRIP_PAST_CENTER "ring/strip-past-center" Error "a strip wider than the ring's radius";
    RING_MUST_BE_SOLID "ring/must-be-solid" Error "a ring where the vessel is solid";
    RING_NARROW_OVERLAP "ring/narrow-overlap" Warning "two layers that share too narrow a glue face";
    RING_APART "ring/apart" Error "two layers that do not touch";
    RING_JOINTS_LINE_UP "ring/joints-line-up" Warning "joints of two layers that lie over each other";

    SAW_POINTED_SEGMENT "saw/pointed-segment" Warning "a segment that ends nearly in a point";
    SAW_SHORT_SEGMENT "saw/short-segment" Warning "a segment shorter than is safe to saw";

    GLUE_OPEN_TIME "glue/open-time" Note "more joints at once than the glue's open time allows";

    EXPECT_BROKEN "expect/broken" Error "a promise of the design that does not hold";
}

/// The code of that name.
#[must_use]
pub fn find(name: &str) -> Option<&'static Code> {
    CODES.iter().copied().find(|code| code.name == name)
}

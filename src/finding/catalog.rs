//! Every code there is: its name, its weight, its line and its page. A new finding starts here.

use super::limits::{self, Told};
use super::{Severity, nearest};

/// A kind of finding. Its name is stable: recipes, scripts and people refer to it.
pub struct Code {
    /// In words: `ring/does-not-cover`.
    pub name: &'static str,
    /// How much such a finding weighs.
    pub severity: Severity,
    /// What it is about, in one line.
    pub summary: &'static str,
    /// The figures that it compares with, each with its source.
    pub limits: &'static [&'static dyn Told],
    /// What `explain` prints: what, why it hurts, how it is computed, the way out, two examples.
    pub page: &'static str,
}

impl Code {
    /// The first half of its name: `ring`.
    #[must_use]
    pub fn family(&self) -> &'static str {
        self.name.split_once('/').map_or(self.name, |(family, _)| family)
    }
}

/// There is one of each.
impl PartialEq for Code {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
    }
}

impl Eq for Code {}

impl std::fmt::Debug for Code {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str(self.name)
    }
}

macro_rules! codes {
    ($($ident:ident $name:literal $severity:ident $summary:literal $([$($limit:ident),+])?;)+) => {
        $(
            #[doc = $summary]
            pub static $ident: Code = Code {
                name: $name,
                severity: Severity::$severity,
                summary: $summary,
                limits: &[$($(&limits::$limit),+)?],
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
    SYNTAX_TOO_DEEP "syntax/too-deep" Error "brackets nested deeper than any recipe needs" [DEEPEST_BRACKETS];
    SYNTAX_UNCLOSED_TEXT "syntax/unclosed-text" Error "a text whose closing quote is missing";
    SYNTAX_LOOK_ALIKE "syntax/look-alike" Error "a character that looks like another one";
    SYNTAX_DECIMAL_COMMA "syntax/decimal-comma" Error "a comma where a decimal point belongs";
    SYNTAX_CONTROL_CHARACTER "syntax/control-character" Error "a character that no editor shows";

    VESSEL_MISSING "vessel/missing" Error "a recipe without a vessel";
    VESSEL_TWICE "vessel/twice" Error "more than one vessel in a recipe";
    VESSEL_UNNAMED "vessel/unnamed" Warning "a vessel whose name is empty";

    LANGUAGE_UNKNOWN_EDITION "language/unknown-edition" Error "an edition of the language that ringwright does not know";
    LANGUAGE_NOT_FIRST "language/not-first" Error "a `language` that is not the first statement of its file";

    UNITS_MISSING "units/missing" Error "a length without a unit in a file without `units`";

    QUANTITY_WRONG_DIMENSION "quantity/wrong-dimension" Error "a quantity of one kind where another is wanted";
    QUANTITY_OUT_OF_RANGE "quantity/out-of-range" Error "a quantity that is too small or too large for its place";
    QUANTITY_NOT_A_NUMBER "quantity/not-a-number" Error "an expression with no value";

    WORD_UNKNOWN "word/unknown" Error "a word that the language does not know there";
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

    REPEAT_NEVER "repeat/never" Warning "a `repeat` of no rounds";
    REPEAT_TOO_MANY "repeat/too-many" Error "a `repeat` that makes more than any vessel needs" [MOST_TURNS];

    WOOD_UNKNOWN "wood/unknown" Error "a wood that is in no table";
    WOOD_AMBIGUOUS "wood/ambiguous" Error "a wood's name that several woods share";

    GLUE_UNKNOWN "glue/unknown" Error "a glue that is in no table";

    FINISH_UNKNOWN "finish/unknown" Error "a finish that is in no table";

    PATTERN_DOES_NOT_CLOSE "pattern/does-not-close" Warning "a pattern whose length does not divide the ring";
    PATTERN_SHARE_TOO_WIDE "pattern/share-too-wide" Error "a share that makes a segment span half the circle or more";
    PATTERN_TOO_LONG "pattern/too-long" Error "a pattern longer than any ring" [LONGEST_MOTIF];

    PATTERN_SHARE "pattern/share" Error "a share of a pattern that gives a segment no width";
    PATTERN_SCATTER "pattern/scatter" Error "a `scatter` whose list does not make a whole ring";
    PATTERN_STILL_TOGETHER "pattern/still-together" Note "like segments that cannot be kept apart";

    BOARD_TOO_FEW_PLIES "board/too-few-plies" Error "a board of fewer than two plies" [FEWEST_PLIES];
    BOARD_IN_BOARD "board/in-board" Error "a board as a ply of another";
    BOARD_TOO_THIN "board/too-thin" Error "a laminated board thinner than a layer that is sawn from it" [FINEST_SETTING];
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
    SHAPE_PATH_UNREADABLE "shape/path-unreadable" Error "path data that cannot be read as an outline";
    SHAPE_OVERHANG "shape/overhang" Error "an outline that leans back over itself";
    SHAPE_ROUND_DOES_NOT_FIT "shape/round-does-not-fit" Error "a fillet that has no room at its point";
    SHAPE_DETAIL_DOES_NOT_FIT "shape/detail-does-not-fit" Error "a bead, cove or foot that has no room";
    SHAPE_INSIDE_ENDS "shape/inside-ends" Error "an inside that does not go from the floor to the rim";
    SHAPE_INSIDE_CROSSES "shape/inside-crosses" Error "an inside that reaches the outside";
    SHAPE_TOP_WITHOUT_LID "shape/top-without-lid" Warning "a `top` on a vessel that has no lid";
    SHAPE_OUT_OF_SCALE "shape/out-of-scale" Warning "a vessel larger or smaller than anybody turns" [LARGEST_TURNED, SMALLEST_TURNED];
    SHAPE_TIPS "shape/tips" Warning "a vessel that goes over at a nudge" [TIPPING];
    SHAPE_UNDERCUT "shape/undercut" Warning "an inside that no tool reaches through the mouth" [HOLLOWING_SHAFT, BENT_TOOL, SHAFT_IN_MOUTH, FINEST_SETTING];
    SHAPE_DEEP "shape/deep" Note "an inside so deep that the tool hangs far over its rest" [DEEPEST_HOLLOW];

    WALL_THICKER_THAN_RADIUS "wall/thicker-than-radius" Error "a wall that leaves no cavity";
    WALL_THIN "wall/thin" Warning "a wall thinner than the shop's least" [LEAST_WALL];

    STACK_TOO_SHORT "stack/too-short" Error "layers that end below the shape" [FINEST_SETTING];
    STACK_TOO_TALL "stack/too-tall" Warning "layers that end above the shape" [FINEST_SETTING];
    STACK_LAYER_BEYOND_SHAPE "stack/layer-beyond-shape" Error "a layer that lies wholly above the shape" [FINEST_SETTING];

    RING_DOES_NOT_COVER "ring/does-not-cover" Error "a ring that does not cover the wall";
    RING_ALLOWANCE_SHORT "ring/allowance-short" Warning "a ring that covers the wall but not the turning allowance" [FINEST_SETTING];
    RING_TOO_FEW_SEGMENTS "ring/too-few-segments" Error "a ring of fewer than three segments" [FEWEST_SEGMENTS];
    RING_TOO_MANY_SEGMENTS "ring/too-many-segments" Error "a ring of more segments than can be handled" [MOST_SEGMENTS, MOST_SEGMENTS_OF_ALL];
    RING_GAP_AND_SPACER "ring/gap-and-spacer" Error "joints that are to be open and filled at once";
    RING_GAP_TOO_WIDE "ring/gap-too-wide" Error "a gap that leaves nothing of the segments";
    RING_STRIP_PAST_CENTER "ring/strip-past-center" Error "a strip wider than the ring's radius";
    RING_MUST_BE_SOLID "ring/must-be-solid" Error "a ring where the vessel is solid";
    RING_NARROW_OVERLAP "ring/narrow-overlap" Warning "two layers that share too narrow a glue face" [LEAST_GLUE];
    RING_APART "ring/apart" Error "two layers that do not touch";
    RING_SPACERS_COLLIDE "ring/spacers-collide" Error "spacers that run into each other";
    RING_UNEVEN_GAPS "ring/uneven-gaps" Error "open joints between segments of unlike shares";
    RING_UNSUPPORTED "ring/unsupported" Error "open segments with nothing under or over them";
    RING_THIN_BEARING "ring/thin-bearing" Warning "open segments that bear on too little" [BEARING_SHARE];
    RING_POINTS_MEET "ring/points-meet" Note "wedges without a plug over their points";
    RING_PLUG_TOO_WIDE "ring/plug-too-wide" Error "a plug as wide as its wedges";
    RING_JOINTS_LINE_UP "ring/joints-line-up" Warning "joints of two layers that lie over each other" [JOINT_OVER_JOINT];

    STAVE_LEANS_TOO_FAR "stave/leans-too-far" Error "staves that lie rather than stand" [STEEPEST_STAVE];

    CONE_TOO_THIN "cone/too-thin" Error "rings of a cone that are too narrow for the wall";
    CONE_PAST_CENTER "cone/past-center" Error "rings of a cone that would reach past the axis";
    JOINT_WITHOUT_LID "joint/without-lid" Error "a lid joint on a vessel that has no lid";
    JOINT_NO_ROOM "joint/no-room" Error "a lid joint for which there is no wood" [LEAST_WALL, JOINT_WALL, JOINT_LEDGE];
    JOINT_THIN_WALL "joint/thin-wall" Warning "a lid joint that leaves a thin wall" [LEAST_WALL, JOINT_WALL];
    JOINT_NARROW_SHOULDER "joint/narrow-shoulder" Warning "a lid that bears on a narrow shoulder or ledge" [JOINT_LEDGE];
    JOINT_NEAR_GLUE_LINE "joint/near-glue-line" Warning "a face of a lid joint on a glue line or close to one" [JOINT_GLUE_MARGIN];
    JOINT_INSET_OVERHANG "joint/inset-overhang" Warning "an inset lid that is drawn wider than what it drops into";
    JOINT_THREAD_ENGAGEMENT "joint/thread-engagement" Warning "a thread with too few turns to hold, or more than any lid needs" [FEWEST_THREADS, MOST_TURNS_OF_LID];
    JOINT_THREAD_WOOD "joint/thread-wood" Warning "a thread in wood that is too soft to hold it" [THREAD_GRAVITY];
    JOINT_BINDS "joint/binds" Warning "a lid that sticks in one season" [CALIPER];
    JOINT_RATTLES "joint/rattles" Note "a lid that is loose in one season" [LOOSE_SHARE, CALIPER];
    JOINT_OPEN_RING "joint/open-ring" Warning "a lid joint that is turned in a ring with gaps";

    PARTED_WITH_LID "parted/with-lid" Error "a vessel that is parted and has a lid of its own";
    PARTED_NO_PART "parted/no-part" Error "a parting that leaves nothing on one side";
    PARTED_PATTERN_BREAK "parted/pattern-break" Note "a pattern that breaks where lid and body are parted";

    MADE_UNKNOWN "made/unknown" Error "a measurement of something that the vessel does not have";
    MADE_HEIGHTS_DISAGREE "made/heights-disagree" Warning "a measured height that its measured layers do not add up to" [FINEST_SETTING];
    MADE_STACK_OFF "made/stack-off" Warning "measured layers that make the stack too short or too tall" [FINEST_SETTING];
    MADE_TOO_SMALL "made/too-small" Error "a glued layer that came out too small for the shape";

    SAW_POINTED_SEGMENT "saw/pointed-segment" Warning "a segment that ends nearly in a point" [POINTED_EDGE];
    SAW_SHORT_SEGMENT "saw/short-segment" Warning "a segment shorter than is safe to saw" [SAFE_PIECE];
    SAW_TILT "saw/tilt" Warning "a cut that slants more than the blade tilts" [TILT];
    SAW_NARROW_RIP "saw/narrow-rip" Warning "a strip too narrow to rip without a jig" [NARROW_RIP];
    SAW_KERF_ODD "saw/kerf-odd" Note "a kerf that no usual blade cuts" [THIN_KERF, WIDE_KERF];
    SAW_TOO_THICK "saw/too-thick" Warning "stock thicker than the blade cuts" [CUT_DEPTH];
    SAW_THIN_STOCK "saw/thin-stock" Warning "a strip so thin that it shatters when it is crosscut" [THIN_STOCK];
    SAW_CLOSING_GAP "saw/closing-gap" Warning "a ring whose joints the saw's error likely leaves open" [OPEN_JOINT];
    SAW_ALLOWANCE_SHORT "saw/allowance-short" Warning "a turning allowance that the saw's error uses up" [SAW_ERROR];

    MOVEMENT_SOLID_FLOOR "movement/solid-floor" Warning "solid wood glued to a ring that does not move with it" [GLUED_MISMATCH, MOVEMENT_HOLDS_FROM, MOVEMENT_HOLDS_TO];
    MOVEMENT_STAVES_ON_RING "movement/staves-on-ring" Warning "staves glued to what does not move with them" [GLUED_MISMATCH, MOVEMENT_HOLDS_FROM, MOVEMENT_HOLDS_TO];
    MOVEMENT_MITERS_OPEN "movement/miters-open" Warning "joints of a ring that another season strains" [JOINT_OPENS, MOVEMENT_HOLDS_FROM, MOVEMENT_HOLDS_TO];
    MOVEMENT_UNLIKE_WOODS "movement/unlike-woods" Note "woods side by side that another season makes a step between" [STEP_FELT, MOVEMENT_HOLDS_FROM, MOVEMENT_HOLDS_TO];
    MOVEMENT_LAMINATE_CUPS "movement/laminate-cups" Warning "a board whose plies make it cup" [FLAT_TO_GLUE, MOVEMENT_HOLDS_FROM, MOVEMENT_HOLDS_TO];
    MOVEMENT_UNKNOWN "movement/unknown" Note "a wood whose movement nobody has measured" [MOVEMENT_HOLDS_FROM, MOVEMENT_HOLDS_TO];

    STRENGTH_SLENDER_STEM "strength/slender-stem" Warning "a stem or neck that a knock breaks" [KNOCK, ACROSS_GRAIN, STEM_SAFETY];
    STRENGTH_THIN_GLUE_FACE "strength/thin-glue-face" Warning "a glue face that turning leaves too narrow" [LEAST_WALL, LEAST_GLUE];
    STRENGTH_THIN_SKIN "strength/thin-skin" Warning "a skin of a layer so thin that it flakes" [LEAST_SKIN];
    STRENGTH_FEATHER_EDGE "strength/feather-edge" Note "a layer that ends in a feather edge" [FEATHER_ANGLE, FEATHER_DEPTH];

    SPEED_BEYOND_SWING "speed/beyond-swing" Error "a blank that does not fit over the lathe's bed" [SWING];
    SPEED_LATHE_TOO_FAST "speed/lathe-too-fast" Warning "a lathe that does not turn slowly enough for a blank" [ROUGHING_RULE, TRUED_RULE];
    SPEED_UNBALANCED "speed/unbalanced" Warning "a blank whose heavier woods lie on one side" [OFF_CENTER, PULL_OF_UNBALANCE];

    GLUE_OPEN_TIME "glue/open-time" Note "more joints at once than the glue's open time allows" [OPEN_TIME];
    GLUE_BRITTLE "glue/brittle" Warning "instant glue in the joints of rings";
    GLUE_HOT_MELT "glue/hot-melt" Error "hot-melt in a joint that is to stay";
    GLUE_NO_BAND "glue/no-band" Warning "a ring that no band clamp of the shop goes round" [BANDS];
    GLUE_NOT_WATERPROOF "glue/not-waterproof" Warning "a glue that does not stand the wetting that the vessel gets";
    GLUE_OILY_WOOD "glue/oily-wood" Warning "a glue that does not wet an oily or resinous wood";
    GLUE_TOO_COLD "glue/too-cold" Warning "a shop too cold for the glue" [GLUE_COLD];

    HEALTH_POISONOUS_WOOD "health/poisonous-wood" Warning "a wood whose dust is poisonous";
    HEALTH_SENSITIZER "health/sensitizer" Note "a wood that sets off allergies in many who work it";
    HEALTH_WOOD_AND_FOOD "health/wood-and-food" Warning "a wood that food should not touch";
    HEALTH_WOOD_AND_FOOD_CARE "health/wood-and-food-care" Note "a wood that goes with food only with care";
    HEALTH_OPEN_PORES "health/open-pores" Note "open pores where food or drink is washed out";
    HEALTH_GLUE_AND_FOOD "health/glue-and-food" Warning "a glue that is not for ware that food touches";
    HEALTH_FINISH_AND_FOOD "health/finish-and-food" Note "a finish that touches food only by its maker's word";
    HEALTH_NUT_OIL "health/nut-oil" Note "an oil of nuts where food lies";
    HEALTH_STANDS_WET "health/stands-wet" Warning "liquid that stands in glued segments";

    STOCK_TOO_DAMP "stock/too-damp" Warning "wood damper than where the vessel will live" [STOCK_MOISTURE_OFF, HOUSE_MOISTURE];
    STOCK_TOO_DRY "stock/too-dry" Warning "wood drier than where the vessel will live" [STOCK_MOISTURE_OFF, HOUSE_MOISTURE];
    STOCK_NOT_SO_THICK "stock/not-so-thick" Note "a layer thicker than any board that is usually sold" [SOLD_THICK];
    STOCK_TOO_THIN "stock/too-thin" Warning "boards at hand that are too thin for a layer" [FINEST_SETTING];
    STOCK_TOO_NARROW "stock/too-narrow" Warning "boards at hand that are too narrow for a layer" [FINEST_SETTING];
    STOCK_TOO_SHORT "stock/too-short" Warning "boards at hand that cannot give all that is sawn from them" [FINEST_SETTING];

    ECONOMY_WASTE "economy/waste" Note "a layer of which hardly anything stays" [CHIPS];
    ECONOMY_NEXT_THICKNESS "economy/next-thickness" Note "a layer a hair thicker than the next thinner board gives" [NEAR_THICKNESS, FINEST_SETTING];
    ECONOMY_LONE_SETTING "economy/lone-setting" Note "a saw setting for one ring beside one that several share" [SHARED_EDGE, SHARED_RADIUS];

    INSERT_NO_SEAT "insert/no-seat" Error "an insert into a place that the vessel does not have";
    INSERT_TOO_WIDE "insert/too-wide" Error "a hole wider than what it is made in";
    INSERT_THROUGH "insert/through" Error "a hole that goes through";
    INSERT_THIN_LEFT "insert/thin-left" Warning "a hole that leaves little wood under it" [LEAST_LEFT];
    INSERT_HOLE_TOO_SMALL "insert/hole-too-small" Error "a hole that does not take what goes in" [NEAR_BIT];
    INSERT_NO_BIT "insert/no-bit" Warning "a tenon for which the shop has no bit" [BITS, NEAR_BIT];
    INSERT_OVERLAP "insert/overlap" Error "two holes that run into each other";
    INSERT_NEAR_GLUE_LINE "insert/near-glue-line" Warning "a hole that ends or lies close to a glue line" [HOLE_GLUE_MARGIN];
    INSERT_ON_A_JOINT "insert/on-a-joint" Warning "a side hole on a joint between segments" [HOLE_GLUE_MARGIN];
    INSERT_BLANK_SMALL "insert/blank-small" Warning "a blank smaller than the insert takes" [FINEST_SETTING];
    INSERT_NO_SHOULDER "insert/no-shoulder" Warning "an insert hardly wider than its hole" [LEAST_SHOULDER];
    INSERT_WIDE_ROUND "insert/wide-round" Warning "a solid plug or medallion too wide to glue in" [WIDE_PLUG];
    INSERT_LINER_TIGHT "insert/liner-tight" Error "a liner without room round it" [LINER_GAP];
    INSERT_IN_OPEN_RING "insert/in-open-ring" Warning "a hole for an insert in a ring with gaps";
    INSERT_LINER_TOO_TALL "insert/liner-too-tall" Error "a liner that the lid does not close over";

    MOUNT_NO_PART "mount/no-part" Error "a mount for a part that the vessel does not have";
    MOUNT_SCREWS_REACH_WORK "mount/screws-reach-work" Error "screws that go through the waste block into the work";
    MOUNT_TOOL_NEAR_SCREWS "mount/tool-near-screws" Warning "screws that end too near to where a tool cuts" [METAL_CLEARANCE];
    MOUNT_FACEPLATE_WIDE "mount/faceplate-wide" Warning "a faceplate as wide as its waste block" [METAL_CLEARANCE];
    MOUNT_BLOCK_WIDE "mount/block-wide" Warning "a waste block that keeps the tool from the foot" [BLOCK_OVER_FOOT, NARROWEST_BLOCK, BLOCK_WIDER];
    MOUNT_BLOCK_THIN "mount/block-thin" Warning "a waste block too thin for screws and tools" [LEAST_BLOCK];

    EXPECT_BROKEN "expect/broken" Error "a promise of the design that does not hold";

    CODE_UNKNOWN "code/unknown" Error "a code that no finding has";
    SEVERITY_NOT_LOWERED "severity/not-lowered" Error "a `severity` that would lower an error";
    ACCEPT_NOT_ACCEPTABLE "accept/not-acceptable" Error "an `accept` of what cannot be made";
    ACCEPT_UNUSED "accept/unused" Warning "an `accept` of what is not found";
}

/// The code of that name.
#[must_use]
pub fn find(name: &str) -> Option<&'static Code> {
    CODES.iter().copied().find(|code| code.name == name)
}

/// Known codes like the one asked for: spelled nearly so, or with the right half.
#[must_use]
pub fn near(asked: &str) -> Vec<&'static str> {
    let near = nearest(asked, CODES.iter().flat_map(|code| [code.name, code.family()]));
    if !near.is_empty() {
        return near;
    }
    let (_, asked_name) = halves(asked);
    let like = |is_like: &dyn Fn(&str) -> bool| -> Vec<&'static str> {
        CODES.iter().map(|code| code.name).filter(|code| is_like(halves(code).1)).take(5).collect()
    };
    let near = like(&|name| name == asked_name);
    if near.is_empty() { like(&|name| !nearest(asked_name, [name]).is_empty()) } else { near }
}

/// Family and name; a word without a family is all name.
fn halves(code: &str) -> (&str, &str) {
    code.split_once('/').unwrap_or(("", code))
}
